//! Runs the real program on data of its own.

#![allow(dead_code, clippy::expect_used, reason = "helpers of tests, of which each file uses a part")]

use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::Output;

use assert_cmd::Command;
use chrono::{Datelike, Days, NaiveDate};
use tempfile::TempDir;

/// A folder for the data of one test, with the program that uses it.
pub(crate) struct Desk {
    folder: TempDir,
}

impl Desk {
    pub(crate) fn new() -> Self {
        Self { folder: tempfile::tempdir().expect("a folder for the test") }
    }

    /// A desk at which a place is set up from a station's file.
    pub(crate) fn with_station() -> Self {
        let desk = Self::new();
        let file = desk.file("station.csv", &station(1996..=2025));
        desk.done(&["climate", "import", &file, "--new-site", "Larch Bank", "--time-zone", "Europe/Vienna"]);
        desk
    }

    /// A desk with the invented season.
    pub(crate) fn with_demo() -> Self {
        let desk = Self::new();
        desk.done(&["demo", "load"]);
        desk
    }

    /// Writes a file and gives its path.
    pub(crate) fn file(&self, name: &str, text: &str) -> String {
        let path = self.path(name);
        std::fs::write(&path, text).expect("a file for the test");
        path.display().to_string()
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn run(&self, arguments: &[&str]) -> Output {
        Command::cargo_bin("hibernacle")
            .expect("the program")
            .env("HIBERNACLE_DATA_DIR", self.path("data"))
            .env("NO_COLOR", "1")
            .current_dir(self.folder.path())
            .args(arguments)
            .output()
            .expect("the program runs")
    }

    /// Runs a command that must succeed; gives what it printed, with ordinary spaces.
    pub(crate) fn done(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", error_of(&output));
        text_of(&output)
    }

    /// Runs a command that must fail with a code; gives what it said on the error output.
    pub(crate) fn refused(&self, code: i32, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert_eq!(
            output.status.code(),
            Some(code),
            "{arguments:?}: {}{}",
            text_of(&output),
            error_of(&output)
        );
        assert!(output.stdout.is_empty(), "{arguments:?} printed: {}", text_of(&output));
        error_of(&output)
    }

    /// Runs a command with `--json`; gives its reply.
    pub(crate) fn json(&self, arguments: &[&str]) -> serde_json::Value {
        let arguments: Vec<&str> = arguments.iter().copied().chain(["--json"]).collect();
        let output = self.run(&arguments);
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", error_of(&output));
        serde_json::from_slice(&output.stdout).expect("JSON")
    }
}

fn text_of(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).replace('\u{a0}', " ")
}

fn error_of(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).replace('\u{a0}', " ")
}

/// A station's file in the comma-separated layout of GHCN-Daily (per-station access files of NOAA NCEI): a cold-winter
/// year with spells of a week and a half, the same in every run.
pub(crate) fn station(years: std::ops::RangeInclusive<i32>) -> String {
    let mut text = String::from(
        "\"STATION\",\"DATE\",\"LATITUDE\",\"LONGITUDE\",\"ELEVATION\",\"NAME\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_ATTRIBUTES\"\n",
    );
    let mut date = NaiveDate::from_ymd_opt(*years.start(), 1, 1).expect("a date");
    while date.year() <= *years.end() {
        let year = (f64::from(date.ordinal()) - 20.0) / 365.25 * std::f64::consts::TAU;
        let day = f64::from(date.num_days_from_ce());
        let spell = 4.0 * (day / 1.7).sin() + 3.0 * (day / 5.3).cos();
        let low = 4.0 - 9.0 * year.cos() + spell;
        writeln!(
            text,
            "\"XX000000001\",\"{date}\",\"47.7\",\"13.1\",\"470.0\",\"VALLEY STATION\",\"{:.0}\",\",,E\",\"{:.0}\",\",,E\"",
            (low + 9.0) * 10.0,
            low * 10.0,
        )
        .expect("a line");
        date = date + Days::new(1);
    }
    text
}

/// A season that is planned whole on whatever day the tests run.
pub(crate) const YEAR: &str = "2030";
