//! `hibernacle readings` from outside.

#![expect(clippy::unwrap_used, reason = "a test")]

mod support;

use std::fmt::Write as _;

use support::Desk;

/// A day of ten-minute readings of a logger with decimal commas, in local time of Vienna.
fn day(header: &str, date: &str, warmer: f64) -> String {
    let mut text = format!("Datum;Uhrzeit;{header}\n");
    for n in 0..144 {
        let value = 2.0 + warmer + 3.0 * (f64::from(n) / 144.0 * std::f64::consts::TAU).sin();
        writeln!(text, "{date};{:02}:{:02};{}", n / 6, n % 6 * 10, format!("{value:.1}").replace('.', ","))
            .unwrap();
    }
    text
}

#[test]
fn a_file_is_looked_at_imported_listed_and_taken_back() {
    let desk = Desk::with_demo();
    let before = desk.json(&["readings", "list"])["imports"].as_array().unwrap().len();
    let file = desk.file("yard.csv", &day("Garden temp (°C)", "17.11.2025", -4.0));
    let seen = desk.done(&["readings", "import", &file, "--preview"]);
    for words in
        ["a look, nothing is imported", "decimal comma", "day, month, year", "Europe/Vienna", "outdoors"]
    {
        assert!(seen.contains(words), "{words}: {seen}");
    }
    assert_eq!(desk.json(&["readings", "list"])["imports"].as_array().unwrap().len(), before);
    let reply = desk.json(&["readings", "import", &file]);
    let series = &reply["files"][0]["series"][0];
    assert_eq!((series["added"].as_u64(), series["known"].as_u64()), (Some(144), Some(0)));
    assert_eq!(series["first_utc"], "2025-11-16T23:00:00Z");
    assert_eq!((series["min"].as_f64(), series["max"].as_f64()), (Some(-5.0), Some(1.0)));
    let again = desk.json(&["readings", "import", &file]);
    assert_eq!(again["files"][0]["series"][0]["added"], 0);
    let listed = desk.done(&["readings", "list"]);
    assert!(listed.contains("Garden") && listed.contains("144"), "{listed}");
    desk.done(&["readings", "undo"]);
    let undone = desk.done(&["readings", "undo"]);
    assert!(undone.contains("144 readings") && undone.contains("Garden"), "{undone}");
}

#[test]
fn what_is_open_is_asked_and_can_be_told() {
    let desk = Desk::with_demo();
    let file = desk.file("probe.csv", &day("Temp", "17.11.2025", 35.0));
    let seen = desk.done(&["readings", "import", &file, "--preview"]);
    assert!(seen.contains("--unit f") && seen.contains("Where does probe hang?"), "{seen}");
    let refused = desk.refused(1, &["readings", "import", &file]);
    assert!(refused.contains("choose the unit"), "{refused}");
    let refused = desk.refused(1, &["readings", "import", &file, "--unit", "f"]);
    assert!(refused.contains("probe"), "{refused}");
    let refused = desk.refused(1, &["readings", "import", &file, "--at", "probe=attic"]);
    assert!(refused.contains("attic") && refused.contains("north corner"), "{refused}");
    let good = desk.file("good.csv", &day("Outdoor °C", "18.11.2025", 0.0));
    desk.refused(1, &["readings", "import", &good, &file]);
    let kept = desk.json(&["readings", "list"]);
    assert!(!kept["imports"].as_array().unwrap().iter().any(|import| import["file_name"] == "good.csv"));
    let done = desk.json(&["readings", "import", &good, &file, "--unit", "f", "--at", "probe=north corner"]);
    assert_eq!(done["files"].as_array().unwrap().len(), 2);
    let refused = desk.refused(1, &["readings", "import", &desk.file("x.csv", "milk\neggs\n")]);
    assert!(refused.contains("x.csv") && refused.contains("line 1"), "{refused}");
    desk.refused(1, &["readings", "import", "nowhere.csv"]);
    desk.refused(2, &["readings", "import", &file, "--order", "yesterday"]);
}
