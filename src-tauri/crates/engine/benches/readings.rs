//! Reads logs of a million rows, flags included, on one thread, and holds the time against its bar.
//!
//! With `HIBERNACLE_LOG` the file of that name is read instead, and only its best time in seconds is printed:
//! `tests/reference/scripts/readings_speed.py` compares it with a general-purpose table reader.

use std::fmt::Write as _;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use chrono::DateTime;
use hibernacle_engine::readings::{LogOptions, LogSetting, read_log};
use hibernacle_engine::site::TemperatureUnit;

const BAR: Duration = Duration::from_secs(3);
const ROWS: i64 = 1_000_000;
const RUNS: usize = 5;

fn setting() -> LogSetting {
    LogSetting {
        time_zone: chrono_tz::Europe::Vienna,
        now_utc: DateTime::from_timestamp(1_795_000_000, 0).unwrap_or_default(),
        usual_unit: TemperatureUnit::Celsius,
        latitude_deg: 47.7,
    }
}

/// A row a minute of two thermometers in a dialect.
fn log(header: &str, layout: &str, comma: bool) -> String {
    let mut text = format!("{header}\n");
    let delimiter = if comma { ';' } else { ',' };
    for row in 0..ROWS {
        let local = DateTime::from_timestamp(1_700_000_000 + row * 60, 0).unwrap_or_default();
        let phase = row as f64 / 1440.0 * std::f64::consts::TAU;
        let values =
            format!("{delimiter}{:.2}{delimiter}{:.1}", 4.0 * phase.sin() + 2.0, 7.0 * phase.sin() - 3.0);
        let values = if comma { values.replace('.', ",") } else { values };
        // A string never fails to be written to.
        let _ = writeln!(text, "{}{values}", local.format(layout));
    }
    text
}

fn best(bytes: &[u8], options: &LogOptions) -> Option<(Duration, usize)> {
    (0..RUNS)
        .filter_map(|_| {
            let start = Instant::now();
            let file = read_log("log.csv", bytes, options, &setting()).ok()?;
            let readings = file.series.iter().map(|series| series.readings.len()).sum();
            Some((start.elapsed(), readings))
        })
        .min()
}

fn main() -> ExitCode {
    let options = LogOptions { zone: Some("Europe/Vienna".to_owned()), ..LogOptions::default() };
    if let Some(path) = std::env::var_os("HIBERNACLE_LOG") {
        let time = std::fs::read(path).ok().and_then(|bytes| best(&bytes, &options));
        return match time {
            Some((time, readings)) => {
                println!("{} {readings}", time.as_secs_f64());
                ExitCode::SUCCESS
            }
            None => ExitCode::FAILURE,
        };
    }
    let mut is_slow = false;
    for (name, text) in [
        ("ISO 8601", log("time,bench temp °C,yard temp °C", "%Y-%m-%d %H:%M:%S", false)),
        ("day first, decimal comma", log("Zeit;Bank °C;Garten °C", "%d.%m.%Y %H:%M", true)),
        ("12 hours", log("time,bench temp °C,yard temp °C", "%m/%d/%Y %I:%M:%S %p", false)),
    ] {
        let Some((time, readings)) = best(text.as_bytes(), &options) else { return ExitCode::FAILURE };
        assert!(readings > 1_990_000, "{readings} readings of {name}");
        println!("a million rows of two sensors, {name}: {time:.1?} (bar {BAR:?})");
        is_slow |= time > BAR;
    }
    if is_slow { ExitCode::FAILURE } else { ExitCode::SUCCESS }
}
