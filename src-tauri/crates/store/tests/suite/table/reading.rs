use hibernacle_engine::readings::{Flag, Quantity, Reading};
use hibernacle_store::{Bucket, ImportedSensor, NewImport, Span, Store};

use crate::sample::{garden, instant, sensor, write};

fn reading(utc_s: i64, value: f64, flag: Flag) -> Reading {
    Reading { utc_s, value, flag }
}

fn begin(store: &Store, id: &str) {
    let sensors = [ImportedSensor {
        name: "bench".to_owned(),
        sensor_id: "a".to_owned(),
        is_new: true,
        quantities: vec![Quantity::Temperature],
    }];
    let import = NewImport {
        id,
        site_id: "s",
        file_name: "bench.csv",
        sha256: "00ff",
        at_utc: instant("2026-11-25T08:00:00Z"),
        sensors: &sensors,
    };
    write(store, |data| data.put_import(&import));
}

fn store() -> Store {
    let store = garden();
    write(&store, |data| data.put_sensor(&sensor("a", "s", None)));
    begin(&store, "i");
    store
}

fn put(store: &Store, import: &str, readings: &[Reading]) -> u32 {
    write(store, |data| data.put_readings(import, "a", Quantity::Temperature, readings))
}

#[test]
fn readings_come_back_in_order_and_only_once() {
    let store = store();
    let first = [reading(600, 2.0, Flag::Good), reading(0, 1.5, Flag::Spike)];
    assert_eq!(put(&store, "i", &first), 2);
    begin(&store, "j");
    assert_eq!(put(&store, "j", &[reading(600, 9.0, Flag::Good), reading(1200, 2.5, Flag::Good)]), 1);
    let all = store.read(|data| data.readings("a", Quantity::Temperature, Span::ALL)).unwrap();
    assert_eq!(all, [first[1], first[0], reading(1200, 2.5, Flag::Good)]);
    let part = Span { from_s: 600, to_s: 1200 };
    assert_eq!(store.read(|data| data.readings("a", Quantity::Temperature, part)).unwrap(), [first[0]]);
    assert_eq!(store.read(|data| data.readings("a", Quantity::Humidity, Span::ALL)).unwrap(), []);
    let [last, former] = store.read(|data| data.imports("s")).unwrap().try_into().unwrap();
    assert_eq!((last.added, last.known, former.added, former.known), (1, 1, 2, 0));
    let series = store.read(|data| data.series_of_site("s")).unwrap();
    assert_eq!((series[0].readings, series[0].flagged, series[0].last_value), (3, 1, 2.5));
    assert_eq!(series[0].range, Some([2.0, 2.5]));
}

#[test]
fn an_undone_import_leaves_the_others() {
    let store = store();
    put(&store, "i", &[reading(0, 1.0, Flag::Good), reading(600, 2.0, Flag::Good)]);
    begin(&store, "j");
    put(&store, "j", &[reading(600, 9.0, Flag::Good), reading(1200, 3.0, Flag::Good)]);
    let import = store.read(|data| data.import("j")).unwrap().unwrap();
    let at_utc = instant("2026-11-25T09:00:00Z");
    assert_eq!(write(&store, |data| data.undo_import(&import, at_utc)), 1);
    let left = store.read(|data| data.readings("a", Quantity::Temperature, Span::ALL)).unwrap();
    assert_eq!(left.iter().map(|reading| reading.value).collect::<Vec<_>>(), [1.0, 2.0]);
    assert_eq!(store.read(|data| data.import("j")).unwrap().unwrap().undone_at_utc, Some(at_utc));
}

#[test]
fn buckets_hold_every_extreme_and_leave_out_what_is_flagged() {
    let store = store();
    put(
        &store,
        "i",
        &[
            reading(0, 3.0, Flag::Good),
            reading(600, -7.5, Flag::Good),
            reading(1200, -40.0, Flag::Spike),
            reading(3600, 85.0, Flag::Impossible),
        ],
    );
    let buckets = store.read(|data| data.buckets("a", Quantity::Temperature, Span::ALL, 1800)).unwrap();
    assert_eq!(
        buckets,
        [
            Bucket { from_s: 0, readings: 3, flagged: 1, figures: Some([-7.5, -2.25, 3.0]) },
            Bucket { from_s: 3600, readings: 1, flagged: 1, figures: None },
        ]
    );
}
