//! The shape of what `--json` prints: names and kinds of all fields, pinned in `shapes/`.
//!
//! A change here is a change for every script that reads the output: fields may be added, none is renamed or changes
//! its meaning. After an addition, `HIBERNACLE_WRITE_SHAPES=1 cargo test -p hibernacle-cli --test shapes` writes the
//! files anew.

#![expect(clippy::unwrap_used, reason = "a test")]

mod support;

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use serde_json::Value;
use support::{Desk, YEAR};

/// Paths of all values with the kinds they have; entries of a list count as one, and so do the figures of a reason,
/// whose names belong to its message.
fn collect(value: &Value, path: &str, kinds: &mut BTreeMap<String, BTreeSet<&'static str>>) {
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "yes or no",
        Value::Number(_) => "number",
        Value::String(_) => "text",
        Value::Array(entries) => {
            entries.iter().for_each(|entry| collect(entry, &format!("{path}[]"), kinds));
            "list"
        }
        Value::Object(fields) => {
            for (name, field) in fields {
                let name = if path.ends_with("figures") { "*" } else { name };
                let dot = if path.is_empty() { "" } else { "." };
                collect(field, &format!("{path}{dot}{name}"), kinds);
            }
            "object"
        }
    };
    kinds.entry(path.to_owned()).or_default().insert(kind);
}

fn pinned(name: &str, reply: &Value) {
    let mut kinds = BTreeMap::new();
    collect(reply, "", &mut kinds);
    kinds.remove("");
    let shape: String = kinds
        .iter()
        .map(|(path, kinds)| format!("{path}: {}\n", kinds.iter().copied().collect::<Vec<_>>().join(", ")))
        .collect();
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/shapes").join(format!("{name}.txt"));
    if std::env::var_os("HIBERNACLE_WRITE_SHAPES").is_some() {
        std::fs::create_dir_all(file.parent().unwrap()).unwrap();
        std::fs::write(&file, &shape).unwrap();
    }
    let known = std::fs::read_to_string(&file).unwrap();
    let differences: Vec<String> = known
        .lines()
        .filter(|line| !shape.lines().any(|now| now == *line))
        .map(|line| format!("- {line}"))
        .chain(
            shape
                .lines()
                .filter(|line| !known.lines().any(|was| was == *line))
                .map(|line| format!("+ {line}")),
        )
        .collect();
    assert!(differences.is_empty(), "{name} changed its shape:\n{}", differences.join("\n"));
}

#[test]
fn replies_keep_their_shape() {
    let desk = Desk::with_demo();
    pinned("setup-show", &desk.json(&["setup", "show"]));
    pinned("season", &desk.json(&["season", "--year", YEAR]));
    pinned("today", &desk.json(&["today", "--on", "2030-11-02"]));
    pinned("close-up", &desk.json(&["close-up", "--year", YEAR]));
    pinned("climate-freeze", &desk.json(&["climate", "freeze"]));
    pinned("calendar-export", &desk.json(&["calendar", "export", "--year", YEAR]));
    pinned(
        "chore-history",
        &desk.json(&["chore", "history", "close-up-cover-on/greenhouse", "--year", YEAR]),
    );
    pinned("tonight", &desk.json(&["tonight", "--low", "-14", "--bare"]));
    pinned("heat-loss", &desk.json(&["heat-loss", "--low", "-16", "--heater", "2000"]));
    pinned("winter", &desk.json(&["winter", "--winters", "1", "--draws", "2"]));
    pinned("hold", &desk.json(&["hold", "greenhouse", "--low", "-12", "--bare"]));
    pinned("forecast", &desk.json(&["forecast"]));
    pinned("night-result", &desk.json(&["night-result", "--outside", "-3", "--zone", "north corner=-1"]));
    pinned("night-result-list", &desk.json(&["night-result"]));
    let log = "time;Outdoor °C;Outdoor %\n2025-11-17 10:00;3,5;80\n2025-11-17 10:10;warm;81\n2025-11-17 10:20;3,7;81\n";
    let log = desk.file("log.csv", log);
    pinned("readings-import", &desk.json(&["readings", "import", &log]));
    pinned("readings-list", &desk.json(&["readings", "list"]));
    pinned("readings-undo", &desk.json(&["readings", "undo"]));
    let open = desk.file("open.csv", "time,probe °C\n03/02/2025 10:00,1.5\n05/02/2025 10:00,60\n");
    pinned("readings-preview", &desk.json(&["readings", "import", "--preview", &open]));
    let file = desk.file("station.csv", &support::station(2010..=2025));
    pinned("climate-import", &desk.json(&["climate", "import", &file]));
}

/// A figure with a unit says it in its name.
#[test]
fn numbers_name_their_units() {
    let desk = Desk::with_demo();
    let mut kinds = BTreeMap::new();
    for command in [
        &["season", "--year", YEAR][..],
        &["setup", "show"],
        &["climate", "freeze"],
        &["today", "--on", "2030-11-02"],
    ] {
        collect(&desk.json(command), "", &mut kinds);
    }
    // Counts, years and shares have no unit; nights and summers are counted.
    let plain = [
        "count", "minutes", "seasons", "summers", "year", "years", "value", "mean", "low", "high", "season",
        "with",
    ];
    let units = ["c", "k", "m", "m2", "l", "h", "deg", "days", "utc", "day"];
    for (path, kind) in kinds.iter().filter(|(_, kind)| kind.contains("number")) {
        let name = path.rsplit('.').next().unwrap().trim_end_matches("[]");
        let last = name.rsplit('_').next().unwrap();
        assert!(units.contains(&last) || plain.contains(&last), "{path} ({kind:?}) names no unit");
    }
}
