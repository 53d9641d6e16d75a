use chrono::Days;
use hibernacle_engine::climate::{ClimateRecord, DailyTemps, RecordProblem, RecordSource, Station};
use hibernacle_store::StoredRecord;

use crate::sample::{date, garden, instant, site, write};

fn record(days: u64) -> StoredRecord {
    let day = |number: u64| DailyTemps {
        date: date("1989-07-01") + Days::new(number),
        min_c: (number % 7 != 3).then_some(number as f64 * 0.1 - 20.3),
        max_c: Some(12.7),
    };
    let station = Station {
        id: "XX000000001".to_owned(),
        name: "Larch Bank valley".to_owned(),
        latitude_deg: Some(47.71),
        longitude_deg: None,
        elevation_m: Some(466.0),
    };
    let problems =
        vec![RecordProblem { line: 12, what: "a minimum above the maximum was left out".to_owned() }];
    StoredRecord {
        file_name: "valley.csv".to_owned(),
        imported_at_utc: instant("2026-08-20T06:00:00Z"),
        record: ClimateRecord {
            station,
            source: RecordSource::GhcnCsv,
            days: (0..days).map(day).collect(),
            problems,
        },
    }
}

#[test]
fn a_record_comes_back_day_by_day_and_makes_way_for_the_next() {
    let store = garden();
    write(&store, |data| data.put_climate_record("s", &record(800)));
    assert_eq!(store.read(|data| data.climate_record("s")).unwrap(), Some(record(800)));
    write(&store, |data| data.put_climate_record("s", &record(300)));
    assert_eq!(store.read(|data| data.climate_record("s")).unwrap(), Some(record(300)));
    let imported = store.read(|data| data.climate_record_revision("s")).unwrap();
    assert_eq!(imported, Some(store.read(|data| data.revision()).unwrap()));
}

#[test]
fn records_of_two_sites_are_kept_apart() {
    let store = garden();
    write(&store, |data| data.put_site(&site("t")));
    write(&store, |data| data.put_climate_record("s", &record(5)));
    write(&store, |data| data.put_climate_record("t", &record(9)));
    assert_eq!(store.read(|data| data.climate_record("s")).unwrap(), Some(record(5)));
    assert_eq!(store.read(|data| data.climate_record("t")).unwrap(), Some(record(9)));
}
