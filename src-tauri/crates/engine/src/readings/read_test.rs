use chrono::{DateTime, Utc};

use super::*;
use crate::site::TemperatureUnit;

fn setting() -> LogSetting {
    LogSetting {
        time_zone: chrono_tz::Europe::Vienna,
        now_utc: "2026-11-25T12:00:00Z".parse().unwrap(),
        usual_unit: TemperatureUnit::Celsius,
        latitude_deg: 47.7,
    }
}

fn read_with(text: &str, options: &LogOptions) -> LogFile {
    read_log("bench.csv", text.as_bytes(), options, &setting()).unwrap()
}

fn read(text: &str) -> LogFile {
    read_with(text, &LogOptions::default())
}

fn refused(text: &str) -> LogFileError {
    read_log("bench.csv", text.as_bytes(), &LogOptions::default(), &setting()).unwrap_err()
}

fn utc(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

/// Instants and values of a series, for comparing.
fn told(series: &LogSeries) -> Vec<(String, f64)> {
    let instant = |reading: &Reading| reading.at_utc().unwrap().format("%m-%d %H:%M:%S").to_string();
    series.readings.iter().map(|reading| (instant(reading), reading.value)).collect()
}

fn only(file: &LogFile) -> &LogSeries {
    assert_eq!(file.series.len(), 1, "{file:?}");
    &file.series[0]
}

fn named(file: &LogFile) -> Vec<(&str, Quantity)> {
    file.series.iter().map(|series| (series.figures.sensor.as_str(), series.figures.quantity)).collect()
}

/// The same three readings: 5 January 2026, 10:00, 10:10 and 10:20 in Vienna, −3.5, −3.2 and 0 °C.
const DIALECTS: &[&str] = &[
    "time,temp_c\n2026-01-05 10:00:00,-3.5\n2026-01-05 10:10:00,-3.2\n2026-01-05 10:20:00,0\n",
    "Datum;Uhrzeit;Temperatur [°C]\n05.01.2026;10:00;-3,5\n05.01.2026;10:10;-3,2\n05.01.2026;10:20;0,0\n",
    "Timestamp (UTC)\tTemperature (°C)\n2026-01-05T09:00:00\t-3.5\n2026-01-05T09:10:00\t-3.2\n2026-01-05T09:20:00\t0\n",
    "2026-01-05T10:00:00+01:00,-3.5\n2026-01-05T10:10:00+01:00,-3.2\n2026-01-05T10:20:00+01:00,0\n",
    "ts,t\n1767603600,-3.5\n1767604200,-3.2\n1767604800,0\n",
    "ts,t\n1767603600000,-3.5\n1767604200000,-3.2\n1767604800000,0\n",
    "#,Date Time,Temp °C\n1,5 Jan 2026 10:00:00 AM,-3.5\n2,5 Jan 2026 10:10:00 AM,-3.2\n3,5 Jan 2026 10:20:00 AM,0\n",
    "No;Time;Temp °C\n3;2026/01/05 10:20;0\n2;2026/01/05 10:10;-3.2\n1;2026/01/05 10:00;-3.5\n",
    "2026-01-05 10:00   -3.5\n2026-01-05 10:10   -3.2\n2026-01-05 10:20   0.0\n",
    "Logger 7\nSerial;4711\n\nTime|Temp (K)\n2026-01-05 10:00|269.65\n2026-01-05 10:10|269.95\n2026-01-05 10:20|273.15\n",
    "Date,Time,Temp (°F)\n05-Jan-26,10:00 AM,25.7\n05-Jan-26,10:10 AM,26.24\n05-Jan-26,10:20 AM,32\n",
    "when,\"temp, °C\"\r\n\"2026-01-05 10:00\",\"-3,5\"\r\n\"2026-01-05 10:10\",\"-3,2\"\r\n\"2026-01-05 10:20\",\"0,0\"\r\n",
    "Time;Temp\n;°C\n2026-01-05 10:00;-3.5 °C\n2026-01-05 10:10;-3.2 °C\n2026-01-05 10:20;0.0 °C\n",
    "Time,Temp °C\n2026-01-05 10:00,-3.5\n2026-01-05 10:00,-3.5\n2026-01-05 10:10,-3.2\n2026-01-05 10:20,0\n\n",
    "Time,Temp °C\n20260105T1000,-3.5\n20260105T1010,-3.2\n20260105T1020,0\n",
];

#[test]
fn one_log_reads_the_same_in_every_dialect() {
    for text in DIALECTS {
        let file = read(text);
        assert_eq!(file.questions, [], "{text}");
        let found = told(only(&file));
        let expected = [("01-05 09:00:00", -3.5), ("01-05 09:10:00", -3.2), ("01-05 09:20:00", 0.0)];
        assert_eq!(found.len(), expected.len(), "{text}\n{found:?}");
        for ((instant, value), (wanted, wanted_value)) in found.iter().zip(expected) {
            assert_eq!(instant, wanted, "{text}");
            assert!((value - wanted_value).abs() < 1e-9, "{text}: {value}");
        }
        assert_eq!(file.rejections.count, 0, "{text}");
    }
}

/// Every tenth minute from a local instant.
fn stamps(start: &str, count: i64, layout: &str) -> Vec<String> {
    let start = chrono::NaiveDateTime::parse_from_str(start, "%Y-%m-%d %H:%M").unwrap();
    (0..count).map(|n| (start + chrono::Duration::minutes(10 * n)).format(layout).to_string()).collect()
}

fn table(header: &str, stamps: &[String], value: impl Fn(usize) -> String) -> String {
    let rows = stamps.iter().enumerate().map(|(n, stamp)| format!("{stamp},{}\n", value(n)));
    std::iter::once(format!("{header}\n")).chain(rows).collect()
}

#[test]
fn the_order_of_dates_is_told_by_the_whole_file() {
    // The 13th comes only at the end.
    let text = table("time,temp °C", &stamps("2026-02-10 00:00", 500, "%m/%d/%Y %H:%M"), |_| "1.5".into());
    let file = read(&text);
    assert_eq!(
        (file.understood.order, file.understood.order_from),
        (Some(DateOrder::MonthDayYear), KnownFrom::Values)
    );
    assert_eq!(only(&file).figures.first_utc, utc("2026-02-09T23:00:00Z"));
    // No day above twelve: the days follow on each other in one order only.
    for (layout, order) in [
        ("%m/%d/%Y %H:%M", DateOrder::MonthDayYear),
        ("%d/%m/%y %H:%M", DateOrder::DayMonthYear),
        ("%y-%m-%d %H:%M", DateOrder::YearMonthDay),
    ] {
        let text = table("time,temp °C", &stamps("2026-02-03 00:00", 400, layout), |_| "1.5".into());
        let file = read(&text);
        assert_eq!((file.understood.order, file.questions.len()), (Some(order), 0), "{layout}");
        assert_eq!(only(&file).figures.first_utc, utc("2026-02-02T23:00:00Z"));
    }
    // Month first would lie in the future.
    let file = read("time,temp °C\n07/11/2026 10:00,1.5\n08/11/2026 10:00,1.6\n12/11/2026 10:00,2\n");
    assert_eq!(file.understood.order, Some(DateOrder::DayMonthYear));
}

#[test]
fn a_file_of_ambiguous_dates_asks_and_obeys() {
    let text = "time,temp °C\n03/02/2026 10:00,1.5\n03/02/2026 11:00,1.6\n05/02/2026 10:00,2\n";
    let file = read(text);
    let [LogQuestion::Order { written, line, choices }] = file.questions.as_slice() else {
        panic!("{:?}", file.questions)
    };
    assert_eq!((written.as_str(), *line), ("03/02/2026", 2));
    let spans: Vec<_> = choices.iter().map(|choice| (choice.order, choice.first.to_string())).collect();
    assert_eq!(
        spans,
        [
            (DateOrder::DayMonthYear, "2026-02-03 10:00:00".to_owned()),
            (DateOrder::MonthDayYear, "2026-03-02 10:00:00".to_owned()),
        ]
    );
    for (order, first) in
        [(DateOrder::DayMonthYear, "2026-02-03T09:00:00Z"), (DateOrder::MonthDayYear, "2026-03-02T09:00:00Z")]
    {
        let file = read_with(text, &LogOptions { order: Some(order), ..LogOptions::default() });
        assert_eq!(file.questions, []);
        assert_eq!(file.understood.order_from, KnownFrom::Asked);
        assert_eq!(only(&file).figures.first_utc, utc(first));
    }
}

#[test]
fn several_sensors_in_columns_are_told_apart() {
    let text = "Date,Greenhouse Temp (°C),Greenhouse Humidity (%),Outdoor Temp (°C),Dew point (°C),Heater kW,Battery (V)\n\
        2026-01-05 10:00,4.5,81,-3.5,1.2,1.5,3.01\n2026-01-05 10:10,4.4,82,-3.6,1.2,0,3.01\n";
    let file = read(text);
    assert_eq!(
        named(&file),
        [
            ("Greenhouse", Quantity::Temperature),
            ("Greenhouse", Quantity::Humidity),
            ("Outdoor", Quantity::Temperature),
            ("Heater", Quantity::Power),
        ]
    );
    let values: Vec<f64> = file.series.iter().map(|series| series.readings[0].value).collect();
    assert_eq!(values, [4.5, 0.81, -3.5, 1500.0]);
    assert_eq!(file.series[0].figures.is_outdoor, Some(false));
    assert_eq!(file.series[2].figures.is_outdoor, Some(true));
    let unused: Vec<&str> = file.understood.unused.iter().map(|one| one.column.as_str()).collect();
    assert_eq!(unused, ["Dew point (°C)", "Battery (V)"]);
}

#[test]
fn several_sensors_in_a_column_are_told_apart() {
    let long = "time;sensor;quantity;value;unit\n\
        2026-01-05 10:00;bench;temperature;4,5;°C\n2026-01-05 10:00;bench;humidity;81;%\n\
        2026-01-05 10:00;yard;temperature;25,7;°F\n2026-01-05 10:10;bench;temperature;4,4;°C\n\
        2026-01-05 10:10;bench;humidity;82;%\n2026-01-05 10:10;yard;temperature;25,7;°F\n";
    let file = read(long);
    assert_eq!(
        named(&file),
        [("bench", Quantity::Temperature), ("bench", Quantity::Humidity), ("yard", Quantity::Temperature),]
    );
    let values: Vec<Vec<f64>> = file
        .series
        .iter()
        .map(|series| series.readings.iter().map(|reading| reading.value).collect())
        .collect();
    assert_eq!(values[..2], [vec![4.5, 4.4], vec![0.81, 0.82]]);
    assert!((values[2][0] + 3.5).abs() < 1e-9 && file.series[2].figures.unit == Some(LogUnit::Fahrenheit));
    let numbered =
        "channel,time,temp\n1,2026-01-05 10:00,4.5\n2,2026-01-05 10:00,-3\n1,2026-01-05 10:10,4.4\n";
    assert_eq!(named(&read(numbered)), [("1", Quantity::Temperature), ("2", Quantity::Temperature)]);
}

#[test]
fn a_sensor_without_a_name_is_called_after_the_logger_or_the_file() {
    let rows = "Time,Temp °C\n2026-01-05 10:00,4.5\n";
    assert_eq!(only(&read(rows)).figures.sensor, "bench");
    assert_eq!(
        only(&read(&format!("Device name: North corner\nInterval: 10\n{rows}"))).figures.sensor,
        "North corner"
    );
    let options = LogOptions { sensor: Some("South floor".into()), ..LogOptions::default() };
    assert_eq!(only(&read_with(rows, &options)).figures.sensor, "South floor");
}

#[test]
fn options_go_before_what_is_supposed() {
    let text = "Time,A,B\n2026-01-05 10:00,4.5,50\n2026-01-05 10:10,4.6,51\n";
    let column = |column: &str, quantity, sensor: Option<&str>| ColumnUse {
        column: column.into(),
        quantity,
        sensor: sensor.map(str::to_owned),
    };
    let options = LogOptions {
        columns: vec![column("a", None, None), column("3", Some(Quantity::Humidity), Some("cellar"))],
        zone: Some("+02:00".into()),
        ..LogOptions::default()
    };
    let file = read_with(text, &options);
    assert_eq!(named(&file), [("cellar", Quantity::Humidity)]);
    assert_eq!(told(only(&file))[0], ("01-05 08:00:00".to_owned(), 0.5));
    assert_eq!((file.understood.zone.as_str(), file.understood.zone_from), ("+02:00", KnownFrom::Asked));
    let options = LogOptions { zone: Some("Middle/Earth".into()), ..LogOptions::default() };
    let error = read_log("bench.csv", text.as_bytes(), &options, &setting()).unwrap_err();
    assert_eq!(error.field(), Some("zone"));
    let options = LogOptions { columns: vec![column("Z", None, None)], ..LogOptions::default() };
    assert!(
        read_log("bench.csv", text.as_bytes(), &options, &setting())
            .unwrap_err()
            .to_string()
            .contains("A, B")
    );
}

#[test]
fn fahrenheit_read_as_celsius_is_noticed() {
    let nights = stamps("2026-01-05 00:00", 300, "%Y-%m-%d %H:%M");
    let value = |n: usize| format!("{:.1}", 36.0 + 9.0 * (n as f64 / 20.0).sin());
    for header in ["time,temp", "time,temp °C"] {
        let file = read(&table(header, &nights, value));
        let [LogQuestion::Unit { columns, choices, .. }] = file.questions.as_slice() else {
            panic!("{header}: {:?}", file.questions)
        };
        assert_eq!(columns, &["bench"]);
        assert_eq!([choices[0].unit, choices[1].unit], [LogUnit::Celsius, LogUnit::Fahrenheit]);
        assert!((choices[1].middle_c - 2.2).abs() < 2.0, "{choices:?}");
    }
    let options = LogOptions { unit: Some(LogUnit::Fahrenheit), ..LogOptions::default() };
    let file = read_with(&table("time,temp °C", &nights, value), &options);
    assert_eq!(file.questions, []);
    assert!(only(&file).figures.max.unwrap() < 7.3);
}

#[test]
fn bad_rows_are_listed_with_line_and_reason() {
    let text = "Time,Temp °C,RH %\n2026-01-05 10:00,4.5,50\nbreakfast,4.5,50\n2026-02-30 10:00,4.5,50\n\
        2027-03-01 10:00,4,50\n1999-12-31 10:00,4,50\n2026-01-05 10:10,warm,51\n2026-01-05 10:20,,\n2026-01-05 10:3";
    let file = read(text);
    let rows: Vec<(u32, Option<&str>)> =
        file.rejections.rows.iter().map(|row| (row.line, row.column.as_deref())).collect();
    assert_eq!(rows, [(3, None), (4, None), (5, None), (6, None), (7, Some("Temp °C")), (9, None)]);
    assert_eq!(file.rejections.count, 6);
    assert!(file.rejections.rows[4].what.contains("warm"));
    let counts: Vec<(u32, u32, u32)> = file
        .series
        .iter()
        .map(|series| (series.figures.accepted, series.figures.rejected, series.figures.missing))
        .collect();
    assert_eq!(counts, [(1, 1, 1), (2, 0, 1)]);
    assert_eq!(file.understood.rows, 8);
}

#[test]
fn different_readings_of_one_instant_are_noted() {
    let file = read(
        "Time,Temp °C\n2026-01-05 10:00,4.5\n2026-01-05 10:00,4.6\n2026-01-05 10:00,4.5\n2026-01-05 10:01,4.5\n",
    );
    assert_eq!(file.notes, [LogNote::SameInstant { readings: 1 }]);
    assert_eq!((only(&file).figures.accepted, only(&file).figures.duplicates), (2, 2));
}

#[test]
fn files_of_no_use_are_named_with_the_mend() {
    for (text, words) in [
        ("", "empty"),
        ("a recipe for marmalade\nwith lemons\n", "no table"),
        ("Time,Temp °C\n2026-01-05 10:00,NaN\n2026-01-05 10:10,NaN\n", "no reading"),
        ("Time,Temp,Temp\n2026-01-05 10:00,1,2\n2026-01-05 10:10,1,2\n", "both named"),
        ("Time,Dew point\n2026-01-05 10:00,1\n2026-01-05 10:10,1\n", "humidity or power"),
        ("Time,Temp °C\n2031-01-05 10:00,1\n2031-01-05 10:10,1\n", "future"),
        ("Time,Temp °C\n45/45/2025 10:00,1\n46/45/2025 10:10,1\n", "no such day"),
    ] {
        let error = refused(text);
        assert_eq!(error.file(), "bench.csv");
        assert!(error.to_string().contains(words), "{text}: {error}");
    }
    let duplicated = refused("Logger\nTime,Temp,Temp\n2026-01-05 10:00,1,2\n");
    assert_eq!((duplicated.line(), duplicated.field()), (Some(2), Some("Temp")));
}

#[test]
fn a_clock_that_runs_straight_through_a_change_is_asked_about() {
    // 29 March 2026 has no 02:00 to 02:59 in Vienna, 25 October has it twice.
    for (start, line) in [("2026-03-28 22:00", 26), ("2026-10-24 22:00", 26)] {
        let text = table("time,temp °C", &stamps(start, 60, "%Y-%m-%d %H:%M"), |n| {
            format!("{:.1}", n as f64 / 10.0)
        });
        let file = read(&text);
        let [LogQuestion::Zone { line: at, rows, choices }] = file.questions.as_slice() else {
            panic!("{:?}", file.questions)
        };
        assert_eq!(
            (*at, *rows, choices.as_slice()),
            (line, 6, &["+01:00".to_owned(), "Europe/Vienna".to_owned()][..])
        );
        let answered =
            |zone: &str| read_with(&text, &LogOptions { zone: Some(zone.into()), ..LogOptions::default() });
        let steady = answered("+01:00");
        assert_eq!((steady.questions.len(), steady.notes.len()), (0, 0));
        assert_eq!(only(&steady).figures.flagged, Flagged::default());
        let changed = answered("Europe/Vienna");
        assert_eq!(changed.questions, []);
        assert_eq!(only(&changed).figures.flagged.doubtful_time, 6);
        assert!(matches!(
            changed.notes[0],
            LogNote::SkippedHour { rows: 6, .. } | LogNote::RepeatedHour { rows: 6, .. }
        ));
    }
}
