//! The winter's bill, run as a real process.

mod support;

use std::fmt::Write as _;

use support::Desk;

#[test]
fn set_ups_stand_side_by_side_with_what_they_save() {
    let desk = Desk::with_demo();
    let text = desk.done(&["winter", "--winters", "2", "--draws", "2"]);
    for part in [
        "greenhouse: 2 winters, 2024–25 – 2025–26",
        "heated nights",
        "bubble film + dark tarp",
        "against “bare”",
        "of your climate record, 2024 to 2026.",
        "A winter is reckoned from October to April.",
        "! Heater: fire",
        "! Flame: carbon monoxide",
    ] {
        assert!(text.contains(part), "“{part}” is missing in {text}");
    }
    let row = text.lines().find(|line| line.starts_with("bubble film  ")).unwrap();
    assert!(row.contains(" kWh"), "{row}");
    let cellar = desk.done(&["winter", "--shelter", "stone cellar", "--winters", "2", "--draws", "2"]);
    assert!(cellar.contains("No heater: what is said of risk is the shelter alone."), "{cellar}");
}

#[test]
fn a_file_of_hours_can_be_given() {
    let desk = Desk::with_demo();
    let mut hours = String::from("time_utc,temp_c\n");
    for hour in 0..24 * 31 {
        let temp_c = -3.0 + 4.0 * (f64::from(hour % 24) / 24.0 * std::f64::consts::TAU).sin();
        writeln!(hours, "2025-01-{:02} {:02}:00,{temp_c:.1}", hour / 24 + 1, hour % 24).unwrap();
    }
    let file = desk.file("january.csv", &hours);
    let text = desk.done(&["winter", "--weather", &file, "--draws", "1"]);
    assert!(text.contains("the hours in “january.csv”, 1 January 2025 to 31 January 2025"), "{text}");
    let broken = desk.file("broken.csv", "time_utc,temp\n2025-01-01 00:00,3\n");
    let said = desk.refused(1, &["winter", "--weather", &broken]);
    assert!(
        said.contains("broken.csv") && said.contains("line 1") && said.contains("temp_c or temp_f"),
        "{said}"
    );
}

#[test]
fn mistakes_are_named() {
    assert!(Desk::with_station().refused(1, &["winter"]).contains("No shelter is set up yet"));
    let desk = Desk::with_demo();
    assert!(desk.refused(1, &["winter", "--winters", "0"]).contains("winters: is 0"));
    assert!(desk.refused(1, &["winter", "--draws", "500"]).contains("draws: is 500"));
    assert!(desk.refused(1, &["winter", "--weather", "gone.csv"]).contains("gone.csv"));
    assert!(desk.refused(1, &["winter", "--shelter", "ballroom"]).contains("There is no shelter “ballroom”"));
}
