//! Any log, written in any dialect, reads back as the same readings; and no bytes bring the reader down.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on fails")]

use chrono::{DateTime, Duration, TimeZone, Utc};
use hibernacle_engine::readings::{
    ColumnUse, DateOrder, DecimalMark, Delimiter, LogOptions, LogSetting, LogUnit, Quantity, TextEncoding,
    read_log,
};
use hibernacle_engine::site::TemperatureUnit;
use proptest::prelude::*;

fn setting() -> LogSetting {
    LogSetting {
        time_zone: chrono_tz::Europe::Vienna,
        now_utc: "2026-11-25T12:00:00Z".parse().unwrap(),
        usual_unit: TemperatureUnit::Celsius,
        latitude_deg: 47.7,
    }
}

#[derive(Debug, Clone, Copy)]
enum Time {
    Iso,
    IsoOffset,
    Order(DateOrder, char, bool),
    Split(DateOrder, char),
    Twelve(DateOrder),
    Named,
    Epoch(i64),
}

#[derive(Debug, Clone)]
struct Dialect {
    time: Time,
    delimiter: Delimiter,
    comma: bool,
    unit: LogUnit,
    encoding: TextEncoding,
    mark: bool,
    crlf: bool,
    junk: Vec<String>,
    backwards: bool,
    quoted: bool,
    index: bool,
}

#[derive(Debug, Clone)]
struct Log {
    start: DateTime<Utc>,
    step_min: i64,
    /// Tenths of °C of two sensors; the first may be missing.
    rows: Vec<(Option<i32>, i32)>,
}

fn logs() -> impl Strategy<Value = Log> {
    let start = (0i64..300, 0i64..1440).prop_map(|(day, minute)| {
        Utc.with_ymd_and_hms(2025, 1, 1, 0, 0, 0).unwrap() + Duration::minutes(day * 1440 + minute)
    });
    let row = (prop::option::weighted(0.95, -150i32..100), -200i32..120);
    (start, prop::sample::select(vec![1i64, 5, 10, 15, 30]), prop::collection::vec(row, 30..400)).prop_map(
        |(start, step_min, mut rows)| {
            rows[0].0 = Some(12);
            Log { start, step_min, rows }
        },
    )
}

fn dialects() -> impl Strategy<Value = Dialect> {
    let order = prop::sample::select(DateOrder::ALL.to_vec());
    let time = prop_oneof![
        Just(Time::Iso),
        Just(Time::IsoOffset),
        (order.clone(), prop::sample::select(vec!['-', '/', '.']), any::<bool>())
            .prop_map(|(order, mark, short)| Time::Order(order, mark, short)),
        (order.clone(), prop::sample::select(vec!['-', '/', '.']))
            .prop_map(|(order, mark)| Time::Split(order, mark)),
        order.prop_map(Time::Twelve),
        Just(Time::Named),
        prop::sample::select(vec![1i64, 1000]).prop_map(Time::Epoch),
    ];
    let delimiter =
        prop::sample::select(vec![Delimiter::Comma, Delimiter::Semicolon, Delimiter::Tab, Delimiter::Bar]);
    let encoding = prop::sample::select(vec![
        TextEncoding::Utf8,
        TextEncoding::Utf16Le,
        TextEncoding::Utf16Be,
        TextEncoding::Windows1252,
    ]);
    let unit = prop::sample::select(LogUnit::ALL.to_vec());
    let junk = prop::collection::vec("[A-Za-z ]{1,20}(: [0-9]{1,5})?", 0..6);
    (
        (time, delimiter, any::<bool>(), unit, encoding, any::<bool>()),
        (any::<bool>(), junk, any::<bool>(), any::<bool>(), any::<bool>()),
    )
        .prop_map(
            |((time, delimiter, comma, unit, encoding, mark), (crlf, junk, backwards, quoted, index))| {
                Dialect {
                    time,
                    delimiter,
                    comma,
                    unit,
                    encoding,
                    mark,
                    crlf,
                    junk,
                    backwards,
                    // A comma inside a cell needs quotes where commas stand between cells.
                    quoted: quoted || (comma && delimiter == Delimiter::Comma),
                    index,
                }
            },
        )
}

fn date_layout(order: DateOrder, mark: char, short: bool) -> String {
    let year = if short { "%y" } else { "%Y" };
    match order {
        DateOrder::DayMonthYear => format!("%d{mark}%m{mark}{year}"),
        DateOrder::MonthDayYear => format!("%m{mark}%d{mark}{year}"),
        DateOrder::YearMonthDay => format!("{year}{mark}%m{mark}%d"),
    }
}

impl Dialect {
    fn order(&self) -> Option<DateOrder> {
        match self.time {
            Time::Order(order, ..) | Time::Split(order, _) | Time::Twelve(order) => Some(order),
            _ => None,
        }
    }

    /// Points stand for day first wherever a file leaves it open: another order with points must be told.
    fn must_be_told(&self) -> bool {
        match self.time {
            Time::Order(order, '.', _) | Time::Split(order, '.') => order != DateOrder::DayMonthYear,
            _ => false,
        }
    }

    fn time_cells(&self, instant: DateTime<Utc>) -> Vec<String> {
        let local = instant.with_timezone(&chrono_tz::Europe::Vienna);
        let of = |layout: &str| local.format(layout).to_string();
        match self.time {
            Time::Iso => vec![of("%Y-%m-%d %H:%M:%S")],
            Time::IsoOffset => vec![of("%Y-%m-%dT%H:%M:%S%:z")],
            Time::Order(order, mark, short) => {
                vec![of(&format!("{} %H:%M", date_layout(order, mark, short)))]
            }
            Time::Split(order, mark) => vec![of(&date_layout(order, mark, false)), of("%H:%M:%S")],
            Time::Twelve(order) => vec![of(&format!("{} %I:%M:%S %p", date_layout(order, '/', false)))],
            Time::Named => vec![of("%d %b %Y %H:%M")],
            Time::Epoch(per_second) => vec![(instant.timestamp() * per_second).to_string()],
        }
    }

    fn value(&self, tenths: i32) -> String {
        let celsius = f64::from(tenths) / 10.0;
        let written = match self.unit {
            LogUnit::Celsius => format!("{celsius:.1}"),
            LogUnit::Fahrenheit => format!("{:.2}", celsius * 1.8 + 32.0),
            LogUnit::Kelvin => format!("{:.2}", celsius + 273.15),
        };
        if self.comma { written.replace('.', ",") } else { written }
    }

    fn write(&self, log: &Log) -> Vec<u8> {
        let delimiter = match self.delimiter {
            Delimiter::Comma => ",",
            Delimiter::Semicolon => ";",
            Delimiter::Tab => "\t",
            Delimiter::Bar => "|",
            Delimiter::Blanks => " ",
        };
        let unit = match self.unit {
            LogUnit::Celsius => "°C",
            LogUnit::Fahrenheit => "°F",
            LogUnit::Kelvin => "K",
        };
        let line = |cells: Vec<String>| {
            let quote = |cell: String| if self.quoted { format!("\"{cell}\"") } else { cell };
            cells.into_iter().map(quote).collect::<Vec<_>>().join(delimiter)
        };
        let mut head = if matches!(self.time, Time::Split(..)) { vec!["Date", "Time"] } else { vec!["Time"] }
            .into_iter()
            .map(str::to_owned)
            .collect::<Vec<_>>();
        let bench = format!("Bench temp ({unit})");
        let outside = format!("Outside temp ({unit})");
        head.extend([bench, outside]);
        if self.index {
            head.insert(0, "#".to_owned());
        }
        let mut rows: Vec<String> = (0..)
            .zip(&log.rows)
            .map(|(n, (first, second))| {
                let mut cells = self.time_cells(log.start + Duration::minutes(n * log.step_min));
                cells.push(first.map_or(String::new(), |tenths| self.value(tenths)));
                cells.push(self.value(*second));
                if self.index {
                    cells.insert(0, (n + 1).to_string());
                }
                line(cells)
            })
            .collect();
        if self.backwards {
            rows.reverse();
        }
        let end = if self.crlf { "\r\n" } else { "\n" };
        let lines: Vec<String> = self.junk.iter().cloned().chain([line(head)]).chain(rows).collect();
        self.encode(&(lines.join(end) + end))
    }

    fn encode(&self, text: &str) -> Vec<u8> {
        let units = text.encode_utf16();
        match self.encoding {
            TextEncoding::Utf8 if self.mark => [b"\xEF\xBB\xBF", text.as_bytes()].concat(),
            TextEncoding::Utf8 => text.as_bytes().to_vec(),
            TextEncoding::Utf16Le => {
                let mark = if self.mark { &b"\xFF\xFE"[..] } else { b"" };
                mark.iter().copied().chain(units.flat_map(u16::to_le_bytes)).collect()
            }
            TextEncoding::Utf16Be => {
                let mark = if self.mark { &b"\xFE\xFF"[..] } else { b"" };
                mark.iter().copied().chain(units.flat_map(u16::to_be_bytes)).collect()
            }
            // All characters used here are in Latin-1, whose numbers are those of Unicode.
            TextEncoding::Windows1252 => text.chars().map(|c| c as u8).collect(),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_log_reads_back_as_it_was_written(log in logs(), dialect in dialects()) {
        let bytes = dialect.write(&log);
        // A file whose dates fit two orders asks, as it must; the answer is what was written.
        let told = LogOptions { order: dialect.order(), ..LogOptions::default() };
        let own = read_log("log.csv", &bytes, &LogOptions::default(), &setting()).unwrap();
        let file = if own.questions.is_empty() && !dialect.must_be_told() { own } else {
            read_log("log.csv", &bytes, &told, &setting()).unwrap()
        };
        prop_assert!(file.rejections.rows.is_empty(), "{:?}", file.rejections.rows.first());
        prop_assert_eq!(file.series.len(), 2);
        let instant = |n: usize| log.start.timestamp() + n as i64 * log.step_min * 60;
        let first: Vec<(i64, i32)> =
            log.rows.iter().enumerate().filter_map(|(n, row)| Some((instant(n), row.0?))).collect();
        let second: Vec<(i64, i32)> = log.rows.iter().enumerate().map(|(n, row)| (instant(n), row.1)).collect();
        for (series, (name, expected)) in file.series.iter().zip([("Bench", first), ("Outside", second)]) {
            prop_assert_eq!(&series.figures.sensor, name);
            let found: Vec<(i64, i32)> =
                series.readings.iter().map(|reading| (reading.utc_s, (reading.value * 10.0).round() as i32)).collect();
            prop_assert_eq!(found, expected);
        }
    }

    #[test]
    fn no_bytes_bring_the_reader_down(bytes in prop::collection::vec(any::<u8>(), 0..2000)) {
        let _ = read_log("noise.bin", &bytes, &LogOptions::default(), &setting());
    }

    #[test]
    fn no_text_brings_the_reader_down(text in "([0-9]{1,5}[-/.:,; \tT+APM\"°CFK%]{0,2}|\n|time|temp|\u{fffd}|é|Jan ){0,200}") {
        let _ = read_log("noise.txt", text.as_bytes(), &LogOptions::default(), &setting());
    }

    #[test]
    fn a_broken_log_brings_nothing_down(
        log in logs(),
        dialect in dialects(),
        cuts in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..30),
        length in any::<prop::sample::Index>(),
    ) {
        let mut bytes = dialect.write(&log);
        for (place, byte) in cuts {
            let place = place.index(bytes.len());
            bytes[place] = byte;
        }
        bytes.truncate(length.index(bytes.len()));
        let options = LogOptions {
            decimal: Some(DecimalMark::Comma),
            columns: vec![ColumnUse { column: "2".to_owned(), quantity: Some(Quantity::Humidity), sensor: None }],
            ..LogOptions::default()
        };
        for options in [LogOptions::default(), options] {
            if let Ok(file) = read_log("log.csv", &bytes, &options, &setting()) {
                for series in &file.series {
                    prop_assert!(series.readings.windows(2).all(|pair| pair[0].utc_s < pair[1].utc_s));
                    prop_assert!(series.readings.iter().all(|reading| reading.value.is_finite()));
                }
            }
        }
    }
}
