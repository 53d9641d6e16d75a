//! The climate on the command line: a newcomer's first file, freeze dates, and files that cannot be used.

mod support;

use support::{Desk, station};

#[test]
fn a_newcomer_makes_a_place_from_the_stations_own_coordinates() {
    let desk = Desk::new();
    let file = desk.file("station.csv", &station(1996..=2025));
    let text =
        desk.done(&["climate", "import", &file, "--new-site", "Larch Bank", "--time-zone", "Europe/Vienna"]);
    assert!(
        text.contains("Larch Bank is set up at 47.7° north, 13.1° east, time zone Europe/Vienna."),
        "{text}"
    );
    assert!(text.contains("VALLEY STATION"), "{text}");
    let setup = desk.json(&["setup", "show"]);
    assert_eq!(setup["site"]["latitude_deg"], 47.7);
    assert_eq!(setup["site"]["elevation_m"], 470.0);
    assert_eq!(setup["next_step"], "shelter");
    assert!(desk.done(&["setup", "show"]).contains("Next: Add the shelters"));
    let said = desk.refused(1, &["climate", "import", &file, "--new-site", "larch bank"]);
    assert!(said.contains("There is a place “larch bank” already"), "{said}");
}

#[test]
fn without_a_place_the_import_says_what_to_do() {
    let desk = Desk::new();
    let file = desk.file("station.csv", &station(2020..=2025));
    let said = desk.refused(1, &["climate", "import", &file]);
    assert!(said.contains("--new-site"), "{said}");
    assert!(said.contains("hibernacle demo load"), "{said}");
}

#[test]
fn a_file_without_coordinates_asks_for_them_and_leaves_no_place_behind() {
    let desk = Desk::new();
    let rows: String = station(2018..=2025)
        .lines()
        .skip(1)
        .map(|line| {
            let cells: Vec<&str> = line.split(",\"").map(|cell| cell.trim_matches('"')).collect();
            let tenths = |cell: &str| cell.parse::<f64>().expect("a figure") / 10.0;
            format!("{},{},{}\n", cells[1], tenths(cells[8]), tenths(cells[6]))
        })
        .collect();
    let file = desk.file("own.csv", &format!("date,tmin,tmax\n{rows}"));
    let said = desk.refused(1, &["climate", "import", &file, "--celsius", "--new-site", "Larch Bank"]);
    assert!(said.contains("own.csv") && said.contains("--lat"), "{said}");
    assert!(desk.json(&["setup", "show"])["site"].is_null());
    desk.done(&[
        "climate",
        "import",
        &file,
        "--celsius",
        "--new-site",
        "Larch Bank",
        "--lat",
        "-41.2",
        "--lon",
        "173.3",
        "--time-zone",
        "Pacific/Auckland",
    ]);
    assert_eq!(desk.json(&["setup", "show"])["site"]["latitude_deg"], -41.2);
}

#[test]
fn a_file_that_cannot_be_used_is_refused_with_file_and_line() {
    let desk = Desk::new();
    let broken = station(2020..=2021).replacen("\"2020-03-01\"", "\"2020-03-41\"", 1);
    let file = desk.file("broken.csv", &broken);
    let text = desk.done(&["climate", "import", &file, "--new-site", "Larch Bank"]);
    assert!(text.contains("One entry was left out"), "{text}");
    assert!(text.contains("line 62: “2020-03-41” is not a date"), "{text}");
    let file = desk.file("letter.txt", "Dear reader\n");
    let output = desk.run(&["climate", "import", &file, "--new-site", "Elsewhere", "--json"]);
    assert_eq!(output.status.code(), Some(1));
    let failure: serde_json::Value = serde_json::from_slice(&output.stderr).expect("JSON");
    assert_eq!((&failure["code"], &failure["line"]), (&"unreadable".into(), &1.into()), "{failure}");
    let picture = desk.path("photo.jpg");
    std::fs::write(&picture, [0xff, 0xd8, 0xff, 0xe0]).expect("a file");
    let said = desk.refused(1, &["climate", "import", "photo.jpg", "--new-site", "Elsewhere"]);
    assert!(said.contains("photo.jpg, line 1: The file is not text"), "{said}");
    let said = desk.refused(1, &["climate", "import", "absent.csv", "--new-site", "Elsewhere"]);
    assert!(said.contains("absent.csv: The file cannot be read"), "{said}");
}

#[test]
fn freeze_dates_come_in_noaas_order_with_sample_and_interval() {
    let desk = Desk::with_station();
    let report = desk.json(&["climate", "freeze", "--threshold", "0", "--threshold", "28F"]);
    let events = report["events"].as_array().expect("a list");
    assert_eq!(events.len(), 4);
    for event in events {
        let date = |level: &str| event[level]["date"].as_str().expect("a date").to_owned();
        let interval = |end: &str| event["p50"][end].as_str().expect("a date").to_owned();
        // U.S. Climate Normals: the 10 % date is the early one in autumn and the late one in spring.
        if event["event"] == "first_autumn" {
            assert!(date("p10") <= date("p50") && date("p50") <= date("p90"), "{event}");
        } else {
            assert!(date("p10") >= date("p50") && date("p50") >= date("p90"), "{event}");
        }
        assert!(interval("from") <= date("p50") && date("p50") <= interval("to"), "{event}");
        assert!(event["seasons"].as_u64() >= Some(28), "{event}");
    }
    assert_eq!(events[2]["threshold_c"], -2.2, "28 °F is −2.2 °C in the tenths that records are kept in");
}

#[test]
fn freeze_dates_are_shown_in_the_units_of_the_place() {
    let desk = Desk::new();
    let file = desk.file("station.csv", &station(1996..=2025));
    desk.done(&[
        "climate",
        "import",
        &file,
        "--new-site",
        "Larch Bank",
        "--us-units",
        "--time-zone",
        "Europe/Vienna",
    ]);
    let text = desk.done(&["climate", "freeze", "--threshold", "28"]);
    assert!(text.contains("28 °F"), "{text}");
    assert!(!text.contains("°C"), "{text}");
    assert!(
        text.contains("one year in ten still has such a night later") || text.contains("one year in\nten"),
        "{text}"
    );
}

#[test]
fn wrong_usage_is_told_from_wrong_data() {
    let desk = Desk::with_station();
    desk.refused(2, &["climate", "thaw"]);
    desk.refused(2, &["climate", "import"]);
    desk.refused(2, &["climate", "import", "a.csv", "--celsius", "--fahrenheit"]);
    desk.refused(2, &["today", "--on", "2026-02-30"]);
    let said = desk.refused(1, &["climate", "freeze", "--threshold", "cold"]);
    assert!(said.contains("threshold: “cold” is no temperature"), "{said}");
    let said = desk.refused(1, &["climate", "freeze", "--threshold", "-300"]);
    assert!(said.contains("thresholds_c[0]"), "{said}");
    let said = desk.refused(1, &["--site", "Elm Rise", "setup", "show"]);
    assert!(said.contains("There is no place “Elm Rise”; these are set up: Larch Bank."), "{said}");
}

#[test]
fn output_has_no_colour_codes() {
    let desk = Desk::with_station();
    for arguments in [&["climate", "freeze"][..], &["setup", "show"], &["--help"]] {
        assert!(!desk.done(arguments).contains('\u{1b}'), "{arguments:?}");
    }
}
