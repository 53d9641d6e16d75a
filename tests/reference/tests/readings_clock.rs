//! Clock changes of loggers that show local time, against the rules of the IANA time-zone database (2026 release):
//! instants of the changes and offsets before and after, as `zdump -v` lists them.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use chrono::{DateTime, Duration, Utc};
use hibernacle_engine::readings::{LogFile, LogNote, LogOptions, LogQuestion, LogSetting, read_log};
use hibernacle_engine::site::TemperatureUnit;

/// Zone, instant of the change, minutes east of UTC before and after.
const CHANGES: &[(&str, &str, i64, i64)] = &[
    ("Europe/Vienna", "2026-03-29T01:00:00Z", 60, 120),
    ("Europe/Vienna", "2026-10-25T01:00:00Z", 120, 60),
    ("America/New_York", "2026-03-08T07:00:00Z", -300, -240),
    ("America/New_York", "2026-11-01T06:00:00Z", -240, -300),
    ("Australia/Lord_Howe", "2026-04-04T15:00:00Z", 660, 630),
    ("Australia/Lord_Howe", "2026-10-03T15:30:00Z", 630, 660),
];

fn setting(zone: &str) -> LogSetting {
    LogSetting {
        time_zone: zone.parse().unwrap(),
        now_utc: "2026-11-25T12:00:00Z".parse().unwrap(),
        usual_unit: TemperatureUnit::Celsius,
        latitude_deg: 47.7,
    }
}

/// Instants around a change with what a clock there shows, every `step` minutes over two days.
fn shown((_, change, before, after): (&str, &str, i64, i64), step: i64) -> Vec<(i64, String)> {
    let change: DateTime<Utc> = change.parse().unwrap();
    (0..2880 / step)
        .map(|n| change + Duration::minutes(n * step - 1440))
        .map(|instant| {
            let offset = if instant < change { before } else { after };
            let local = instant + Duration::minutes(offset);
            (instant.timestamp(), local.format("%Y-%m-%d %H:%M").to_string())
        })
        .collect()
}

fn read(zone: &str, rows: &[(i64, String)], options: &LogOptions) -> LogFile {
    let mut text = "time,temp °C\n".to_owned();
    for (n, (_, local)) in rows.iter().enumerate() {
        text += &format!("{local},{:.1}\n", (n % 50) as f64 / 10.0);
    }
    read_log("clock.csv", text.as_bytes(), options, &setting(zone)).unwrap()
}

fn instants(file: &LogFile) -> Vec<i64> {
    file.series[0].readings.iter().map(|reading| reading.utc_s).collect()
}

#[test]
fn every_reading_around_a_change_gets_its_own_instant() {
    for change in CHANGES {
        for step in [1, 10, 15, 30] {
            let mut rows = shown(*change, step);
            let expected: Vec<i64> = rows.iter().map(|(instant, _)| *instant).collect();
            for direction in ["forward", "backward"] {
                let file = read(change.0, &rows, &LogOptions::default());
                assert_eq!(instants(&file), expected, "{change:?} {step} {direction}");
                assert_eq!((file.questions.len(), file.notes.len()), (0, 0), "{change:?} {step} {direction}");
                assert!(file.series[0].readings.iter().all(|reading| reading.flag.is_good()));
                rows.reverse();
            }
        }
    }
}

#[test]
fn hourly_readings_in_the_repeated_hour_are_told_apart() {
    for change in CHANGES.iter().filter(|(_, _, before, after)| before - after == 60) {
        let rows = shown(*change, 60);
        let file = read(change.0, &rows, &LogOptions::default());
        assert_eq!(
            instants(&file),
            rows.iter().map(|(instant, _)| *instant).collect::<Vec<_>>(),
            "{change:?}"
        );
    }
}

#[test]
fn sensors_that_share_a_file_are_resolved_one_by_one() {
    let change = CHANGES[1];
    let rows = shown(change, 10);
    let mut text = "time,sensor,temp °C\n".to_owned();
    for (n, (_, local)) in rows.iter().enumerate() {
        for sensor in ["bench", "yard"] {
            text += &format!("{local},{sensor},{:.1}\n", (n % 50) as f64 / 10.0);
        }
    }
    let file = read_log("clock.csv", text.as_bytes(), &LogOptions::default(), &setting(change.0)).unwrap();
    let expected: Vec<i64> = rows.iter().map(|(instant, _)| *instant).collect();
    for series in &file.series {
        let found: Vec<i64> = series.readings.iter().map(|reading| reading.utc_s).collect();
        assert_eq!(found, expected, "{}", series.figures.sensor);
    }
}

/// A gap next to the repeated hour tells which round is there.
#[test]
fn one_round_of_the_repeated_hour_joins_the_side_it_touches() {
    let rows = shown(CHANGES[1], 10);
    let change: DateTime<Utc> = CHANGES[1].1.parse().unwrap();
    for missing in [-3600..0, 0..3600] {
        let kept: Vec<(i64, String)> = rows
            .iter()
            .filter(|(instant, _)| !missing.contains(&(instant - change.timestamp())))
            .cloned()
            .collect();
        // Without its twin the round is joined on both sides of the clock: only a told zone lets it pass.
        let told = LogOptions { zone: Some("Europe/Vienna".to_owned()), ..LogOptions::default() };
        let file = read("Europe/Vienna", &kept, &told);
        let [LogNote::RepeatedHour { rows: 6, .. }] = file.notes.as_slice() else {
            panic!("{:?}", file.notes)
        };
        assert_eq!(file.series[0].figures.flagged.doubtful_time, 6);
        let asked = read("Europe/Vienna", &kept, &LogOptions::default());
        assert!(
            matches!(asked.questions.as_slice(), [LogQuestion::Zone { rows: 6, .. }]),
            "{:?}",
            asked.questions
        );
    }
    for (missing, name) in [(-3600..1800, "second"), (-1800..3600, "first")] {
        let kept: Vec<(i64, String)> = rows
            .iter()
            .filter(|(instant, _)| !missing.contains(&(instant - change.timestamp())))
            .cloned()
            .collect();
        let file = read("Europe/Vienna", &kept, &LogOptions::default());
        let expected: Vec<i64> = kept.iter().map(|(instant, _)| *instant).collect();
        assert_eq!(instants(&file), expected, "{name} round");
        assert_eq!((file.questions.len(), file.notes.len()), (0, 0), "{name} round");
    }
}

#[test]
fn offsets_in_cells_and_counts_since_1970_need_no_rules() {
    let change = CHANGES[1];
    let rows = shown(change, 10);
    let expected: Vec<i64> = rows.iter().map(|(instant, _)| *instant).collect();
    let with = |cell: &dyn Fn(i64, &str) -> String| {
        let mut text = "time,temp °C\n".to_owned();
        for (instant, local) in &rows {
            text += &format!("{},2.5\n", cell(*instant, local));
        }
        let options = LogOptions::default();
        instants(&read_log("clock.csv", text.as_bytes(), &options, &setting(change.0)).unwrap())
    };
    let change_s = change.1.parse::<DateTime<Utc>>().unwrap().timestamp();
    let offset = |instant: i64| if instant < change_s { "+02:00" } else { "+01:00" };
    assert_eq!(with(&|instant, local| format!("{}{}", local.replace(' ', "T"), offset(instant))), expected);
    assert_eq!(with(&|instant, _| instant.to_string()), expected);
    assert_eq!(with(&|instant, _| format!("{instant}000")), expected);
}
