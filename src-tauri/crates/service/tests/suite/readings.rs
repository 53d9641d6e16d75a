use chrono::{DateTime, Duration, Utc};
use hibernacle_contract::ErrorCode::{Conflict, Invalid, NotFound, Unreadable};
use hibernacle_contract::readings::{
    FileBytes, ReadingsFile, ReadingsUndo, SensorChoice, SensorPlace, SeriesRequest,
};
use hibernacle_contract::setup::SiteRef;
use hibernacle_engine::readings::{LogOptions, LogQuestion, LogUnit, Quantity};
use hibernacle_service::readings::{
    readings_import, readings_list, readings_preview, readings_series, readings_undo,
};
use hibernacle_service::{dispatch, setup};
use hibernacle_test_support::Garden;
use serde_json::json;

use crate::refused;

fn garden() -> Garden {
    Garden::at("2026-11-25T08:00:00Z")
}

fn file(name: &str, text: &str) -> ReadingsFile {
    ReadingsFile {
        site_id: None,
        file_name: name.to_owned(),
        bytes: FileBytes(text.as_bytes().to_vec()),
        options: LogOptions::default(),
        sensors: Vec::new(),
    }
}

/// Ten-minute readings in UTC from an instant, by number.
fn log(header: &str, from: &str, count: i64, cells: impl Fn(i64) -> String) -> String {
    let from: DateTime<Utc> = from.parse().unwrap();
    let rows = (0..count).map(|n| {
        format!("{},{}\n", (from + Duration::minutes(10 * n)).format("%Y-%m-%dT%H:%M:%SZ"), cells(n))
    });
    std::iter::once(format!("time,{header}\n")).chain(rows).collect()
}

fn wave(n: i64) -> f64 {
    (((n as f64) / 144.0 * std::f64::consts::TAU).sin() * 40.0).round() / 10.0
}

fn two_nights(name: &str) -> ReadingsFile {
    let text = log(
        "North corner temp (°C),North corner RH (%),Outdoor temp (°C)",
        "2026-11-20T00:00:00Z",
        288,
        |n| format!("{:.1},{},{:.1}", wave(n), 70 + n % 20, wave(n) - 6.0),
    );
    file(name, &text.replace("North corner", "corner"))
}

fn counts(garden: &Garden) -> Vec<(String, Quantity, u32)> {
    let list = readings_list(&garden.context, SiteRef::default()).unwrap();
    list.sensors
        .iter()
        .flat_map(|sensor| {
            sensor.series.iter().map(|series| (sensor.sensor.name.clone(), series.quantity, series.readings))
        })
        .collect()
}

#[test]
fn one_click_takes_in_a_file_whose_sensors_name_their_places() {
    let garden = garden();
    let corner = garden.corner.name.clone();
    let text = log(&format!("{corner} temp (°C),Outdoor temp (°C)"), "2026-11-20T00:00:00Z", 288, |n| {
        format!("{:.1},{:.1}", wave(n), wave(n) - 6.0)
    });
    let preview = readings_preview(&garden.context, file("november.csv", &text)).unwrap();
    assert!(preview.is_ready, "{preview:?}");
    assert_eq!(preview.sensors[0].place, SensorPlace::Zone { zone_id: garden.corner.id.clone() });
    assert_eq!(preview.sensors[1].place, SensorPlace::Outdoors);
    assert_eq!(counts(&garden), []);
    let report = readings_import(&garden.context, file("november.csv", &text)).unwrap();
    assert!(report.import_id.is_some());
    assert_eq!(
        report.series.iter().map(|one| (one.added, one.known)).collect::<Vec<_>>(),
        [(288, 0), (288, 0)]
    );
    assert_eq!(
        counts(&garden),
        [(corner, Quantity::Temperature, 288), ("Outdoor".to_owned(), Quantity::Temperature, 288),]
    );
    let list = readings_list(&garden.context, SiteRef::default()).unwrap();
    assert_eq!(list.sensors[0].zone_name.as_deref(), Some(garden.corner.name.as_str()));
    assert_eq!((list.sensors[1].zone_name.as_deref(), list.sensors[0].series[0].step_s), (None, Some(600)));
    // The last reading is from 23:50 on 21 November.
    let silent_h = list.sensors[0].silent_h.unwrap();
    assert!((silent_h - (80.0 + 1.0 / 6.0)).abs() < 1e-9, "{silent_h}");
}

#[test]
fn importing_again_adds_nothing_and_a_longer_file_only_what_is_new() {
    let garden = garden();
    let wave_file = |count| {
        let text = log("Outdoor temp (°C)", "2026-11-20T00:00:00Z", count, |n| format!("{:.1}", wave(n)));
        file("yard.csv", &text)
    };
    readings_import(&garden.context, wave_file(100)).unwrap();
    let again = readings_preview(&garden.context, wave_file(100)).unwrap();
    assert_eq!((again.series[0].added, again.series[0].known), (0, 100));
    assert_eq!(again.imported_before_utc, Some("2026-11-25T08:00:00Z".parse().unwrap()));
    let again = readings_import(&garden.context, wave_file(100)).unwrap();
    assert_eq!((again.series[0].added, again.series[0].known), (0, 100));
    let longer = readings_import(&garden.context, wave_file(150)).unwrap();
    assert_eq!((longer.series[0].added, longer.series[0].known), (50, 100));
    assert_eq!(counts(&garden), [("Outdoor".to_owned(), Quantity::Temperature, 150)]);
}

#[test]
fn what_a_file_leaves_open_is_asked_and_nothing_is_stored_before() {
    let garden = garden();
    let preview = readings_preview(&garden.context, two_nights("n.csv")).unwrap();
    assert_eq!(preview.sensors[0].place, SensorPlace::Unknown);
    assert!(!preview.is_ready);
    refused(readings_import(&garden.context, two_nights("n.csv")), Conflict, Some("sensors"));
    let mut placed = two_nights("n.csv");
    placed.sensors = vec![SensorChoice {
        name: "corner".into(),
        place: SensorPlace::Zone { zone_id: garden.corner.id.clone() },
    }];
    assert_eq!(counts(&garden), []);
    readings_import(&garden.context, placed).unwrap();
    assert_eq!(counts(&garden).len(), 3);
    // What a name stood for is remembered.
    assert!(readings_preview(&garden.context, two_nights("next.csv")).unwrap().is_ready);

    let fahrenheit =
        log("Outdoor temp", "2026-11-20T00:00:00Z", 200, |n| format!("{:.1}", 36.0 + 2.0 * wave(n)));
    let asked = readings_preview(&garden.context, file("f.csv", &fahrenheit)).unwrap();
    assert!(matches!(asked.questions.as_slice(), [LogQuestion::Unit { .. }]), "{:?}", asked.questions);
    refused(readings_import(&garden.context, file("f.csv", &fahrenheit)), Conflict, Some("options.unit"));
    let mut told = file("f.csv", &fahrenheit);
    told.options.unit = Some(LogUnit::Fahrenheit);
    assert!(readings_preview(&garden.context, told).unwrap().is_ready);
    let days = file("d.csv", "time,Outdoor °C\n03/02/2026 10:00,1.5\n05/02/2026 10:00,2\n");
    refused(readings_import(&garden.context, days), Conflict, Some("options.order"));
    let straight =
        log("Outdoor °C", "2026-03-28T22:00:00Z", 60, |n| format!("{:.1}", wave(n))).replace('Z', "");
    refused(readings_import(&garden.context, file("s.csv", &straight)), Conflict, Some("options.zone"));
}

#[test]
fn an_undo_takes_back_one_import_and_its_sensors() {
    let garden = garden();
    let yard = |name: &str, from: &str| {
        file(name, &log("Outdoor temp (°C)", from, 100, |n| format!("{:.1}", wave(n))))
    };
    readings_import(&garden.context, yard("a.csv", "2026-11-20T00:00:00Z")).unwrap();
    readings_import(&garden.context, yard("b.csv", "2026-11-20T10:00:00Z")).unwrap();
    assert_eq!(counts(&garden), [("Outdoor".to_owned(), Quantity::Temperature, 160)]);
    let undone = readings_undo(&garden.context, ReadingsUndo::default()).unwrap();
    assert_eq!(
        (undone.import.file_name.as_str(), undone.removed, undone.removed_sensors.len()),
        ("b.csv", 60, 0)
    );
    assert_eq!(counts(&garden), [("Outdoor".to_owned(), Quantity::Temperature, 100)]);
    let again = ReadingsUndo { import_id: Some(undone.import.import_id), ..ReadingsUndo::default() };
    refused(readings_undo(&garden.context, again), Conflict, None);
    let undone = readings_undo(&garden.context, ReadingsUndo::default()).unwrap();
    assert_eq!((undone.removed, undone.removed_sensors.as_slice()), (100, &["Outdoor".to_owned()][..]));
    assert_eq!(counts(&garden), []);
    refused(readings_undo(&garden.context, ReadingsUndo::default()), NotFound, None);
    readings_import(&garden.context, yard("a.csv", "2026-11-20T00:00:00Z")).unwrap();
    assert_eq!(counts(&garden), [("Outdoor".to_owned(), Quantity::Temperature, 100)]);
    assert_eq!(readings_list(&garden.context, SiteRef::default()).unwrap().imports.len(), 3);
}

#[test]
fn a_chart_of_a_season_loses_no_minimum_and_shows_what_is_flagged() {
    let garden = garden();
    let text = log("Outdoor temp (°C)", "2026-07-01T00:00:00Z", 20_000, |n| match n {
        7_777 => "-31.5".to_owned(),
        7_776 | 7_778 => "-29.0".to_owned(),
        9_000 => "85".to_owned(),
        _ => format!("{:.1}", wave(n)),
    });
    readings_import(&garden.context, file("yard.csv", &text)).unwrap();
    let list = readings_list(&garden.context, SiteRef::default()).unwrap();
    let sensor_id = list.sensors[0].sensor.id.clone();
    assert_eq!(list.sensors[0].series[0].flagged, 1);
    let request = |points, from_utc: Option<&str>| SeriesRequest {
        sensor_id: sensor_id.clone(),
        quantity: Quantity::Temperature,
        from_utc: from_utc.map(|text| text.parse().unwrap()),
        to_utc: None,
        points,
    };
    for points in [Some(3), Some(50), None, Some(10_000)] {
        let view = readings_series(&garden.context, request(points, None)).unwrap();
        assert!(view.points.len() <= points.unwrap_or(1000) as usize, "{points:?}: {}", view.points.len());
        let lowest = view.points.iter().filter_map(|point| point.min).fold(f64::INFINITY, f64::min);
        let highest = view.points.iter().filter_map(|point| point.max).fold(f64::NEG_INFINITY, f64::max);
        assert_eq!((lowest, highest), (-31.5, 4.0));
        assert_eq!(view.points.iter().map(|point| point.readings).sum::<u32>(), 20_000);
        assert_eq!(view.points.iter().map(|point| point.flagged).sum::<u32>(), 1);
        assert!(
            view.points
                .windows(2)
                .all(|pair| (pair[1].at_utc - pair[0].at_utc).num_seconds() >= view.bucket_s)
        );
    }
    let late = readings_series(&garden.context, request(Some(10_000), Some("2026-11-16T00:00:00Z"))).unwrap();
    assert_eq!((late.bucket_s, late.points.len()), (10, 20_000 - 138 * 144));
    let unknown = SeriesRequest { sensor_id: "gone".to_owned(), ..request(None, None) };
    refused(readings_series(&garden.context, unknown), NotFound, None);
}

#[test]
fn files_of_no_use_are_refused_by_name_and_line() {
    let garden = garden();
    for (bytes, line) in [(&b""[..], None), (b"a recipe\nwith lemons\n", Some(1)), (b"PK\x03\x04", None)] {
        let file = ReadingsFile { bytes: FileBytes(bytes.to_vec()), ..file("x.csv", "") };
        let failure = readings_import(&garden.context, file).unwrap_err();
        assert_eq!((failure.code, failure.file.as_deref(), failure.line), (Unreadable, Some("x.csv"), line));
    }
    let mut zone = two_nights("n.csv");
    zone.options.zone = Some("Nowhere/Else".into());
    refused(readings_preview(&garden.context, zone), Invalid, Some("zone"));
    let mut stray = two_nights("n.csv");
    stray.sensors = vec![SensorChoice { name: "moon".into(), place: SensorPlace::Outdoors }];
    refused(readings_preview(&garden.context, stray), Invalid, Some("sensors"));
    assert_eq!(counts(&garden), []);
}

#[test]
fn a_host_sends_the_bytes_in_base64() {
    let garden = garden();
    let text = "time,Outdoor °C\n2026-11-20 10:00,1.5\n";
    let request = json!({ "site_id": garden.site.id, "file_name": "a.csv",
        "bytes": serde_json::to_value(FileBytes(text.as_bytes().to_vec())).unwrap() });
    let reply = dispatch(&garden.context, "readings_import", request).unwrap();
    assert_eq!(reply["series"][0]["quantity"], "temp_c");
    assert_eq!(reply["series"][0]["first_utc"], "2026-11-20T09:00:00Z");
    let broken = json!({ "site_id": null, "file_name": "a.csv", "bytes": "not base64!" });
    refused(dispatch(&garden.context, "readings_import", broken), Invalid, Some("bytes"));
}

#[test]
fn a_sensor_that_is_set_up_keeps_its_place() {
    let garden = garden();
    let mut chosen = two_nights("n.csv");
    let zone = SensorPlace::Zone { zone_id: garden.shelf.id.clone() };
    chosen.sensors = vec![
        SensorChoice { name: "corner".into(), place: zone },
        SensorChoice { name: "outdoor".into(), place: SensorPlace::LeftOut },
    ];
    let report = readings_import(&garden.context, chosen).unwrap();
    assert_eq!(report.series.iter().map(|one| one.added).collect::<Vec<_>>(), [288, 288, 0]);
    let SensorPlace::Sensor { sensor_id } = &report.sensors[0].place else { panic!("{report:?}") };
    let shown =
        setup::overview(&garden.context, hibernacle_contract::setup::OverviewRequest::default()).unwrap();
    assert!(shown.zones.iter().any(|zone| zone.id == garden.shelf.id));
    let list = readings_list(&garden.context, SiteRef::default()).unwrap();
    assert_eq!((&list.sensors[0].sensor.id, list.sensors.len()), (sensor_id, 1));
}
