//! The season on the command line: picture, list, today, checklists, ticks and the calendar file.

mod support;

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::process::{Command, Stdio};

use serde_json::Value;
use support::{Desk, YEAR};

/// Short names of the chores that a list shows.
fn names(list: &str) -> Vec<String> {
    let lines =
        list.lines().filter(|line| line.contains("[ ]") || line.contains("[x]") || line.contains("[-]"));
    let name = |line: &str| line.split(']').nth(1)?.split_whitespace().next().map(str::to_owned);
    lines.filter_map(name).filter(|name| name.contains('/')).collect()
}

#[test]
fn the_demo_is_loaded_once() {
    let desk = Desk::new();
    assert!(desk.done(&["demo", "load"]).contains("Larch Bank is loaded"));
    let said = desk.refused(1, &["demo", "load"]);
    assert!(said.contains("Larch Bank is loaded already"), "{said}");
    let setup = desk.done(&["setup", "show"]);
    for part in
        ["Larch Bank", "greenhouse (greenhouse, 4.2 m × 3 m)", "north corner", "Kumquat", "pot of 26 L"]
    {
        assert!(setup.contains(part), "“{part}” is missing in {setup}");
    }
}

#[test]
fn the_season_is_a_picture_and_a_list() {
    let desk = Desk::with_demo();
    let picture = desk.done(&["season", "--year", YEAR]);
    for part in [
        "Larch Bank, season 2030–31",
        "First autumn night −2.2 °C",
        "Close-up",
        "Moving out",
        "■",
        "┃",
        "Jan",
    ] {
        assert!(picture.contains(part), "“{part}” is missing in {picture}");
    }
    let list = desk.done(&["season", "--list", "--year", YEAR]);
    let names = names(&list);
    let chores = desk.json(&["season", "--year", YEAR])["plan"]["chores"].as_array().unwrap().len();
    assert_eq!(names.len(), chores, "one line per chore");
    assert_eq!(names.iter().collect::<BTreeSet<_>>().len(), chores, "each with a name of its own");
}

#[test]
fn today_says_what_is_due_with_reasons_proof_and_cautions() {
    let desk = Desk::with_demo();
    let text = desk.done(&["today", "--on", "2030-11-02"]);
    for part in ["Larch Bank, 2 November 2030", "Sunset at 16:48", "of daylight", "· ", "Proof: ", "! Ladder"]
    {
        assert!(text.contains(part), "“{part}” is missing in {text}");
    }
    let text = desk.done(&["today", "--on", "2030-07-02"]);
    assert!(text.contains("Nothing is due. Next, on "), "{text}");
}

#[test]
fn the_checklists_number_their_steps() {
    let desk = Desk::with_demo();
    let text = desk.done(&["close-up", "--year", YEAR]);
    assert!(text.contains("greenhouse, north corner: close-up 2030–31"), "{text}");
    assert!(text.contains("  1. [ ]* "), "{text}");
    assert!(text.contains("required steps (*) are open"), "{text}");
    assert!(text.contains("0.9 m") && text.contains("(3 ft)"), "the heater's clearance is named: {text}");
}

#[test]
fn chores_are_named_by_as_much_of_their_name_as_is_needed() {
    let desk = Desk::with_demo();
    let said = desk.refused(1, &["chore", "history", "close-up", "--year", YEAR]);
    assert!(said.contains("“close-up” fits several chores: close-up-"), "{said}");
    let said = desk.refused(1, &["chore", "history", "paint-the-shed", "--year", YEAR]);
    assert!(said.contains("There is no chore “paint-the-shed”"), "{said}");
    let text = desk.done(&["chore", "history", "close-up-cover-on/green", "--year", YEAR]);
    assert!(text.contains("Nothing was done with it yet."), "{text}");
    let said = desk.refused(1, &["chore", "done", "close-up-cover-on/green", "--year", YEAR]);
    assert!(said.contains("before the season"), "{said}");
}

/// In the last days of a season nothing of it may be left for a demo that begins only then.
fn first_open(desk: &Desk) -> Option<(String, Value)> {
    let view = desk.json(&["season"]);
    let chore = view["plan"]["chores"].as_array()?.first()?.clone();
    Some((chore["key"].as_str()?.to_owned(), view["plan"]["season"].clone()))
}

#[test]
fn ticks_skips_and_moves_can_be_taken_back() {
    let desk = Desk::with_demo();
    let Some((key, season)) = first_open(&desk) else { return };
    let state = |desk: &Desk| desk.json(&["season"])["plan"]["chores"][0]["state"]["state"].clone();
    assert!(desk.done(&["chore", "done", &key]).contains("done on "));
    let history = desk.json(&["chore", "history", &key]);
    assert_eq!(history["entries"][0]["kind"]["kind"], "done");
    let open = desk.done(&["chore", "undo", &key]);
    assert!(open.contains("planned for "), "{open}");
    assert!(desk.done(&["chore", "history", &key]).contains("taken back "));

    desk.refused(2, &["chore", "skip", &key]);
    assert!(desk.done(&["chore", "skip", &key, "--reason", "not needed"]).contains(": not needed"));
    desk.done(&["chore", "undo", &key]);
    assert_eq!(state(&desk), "open");

    let last_day = season["ends_on"].as_str().unwrap();
    let moved = desk.json(&["chore", "move", &key, "--to", last_day]);
    assert_eq!((&moved["chore"]["due_on"], &moved["chore"]["moved"]), (&last_day.into(), &true.into()));
    let said = desk.refused(1, &["chore", "move", &key, "--to", "2020-01-01"]);
    assert!(said.contains("2020-01-01 is past"), "{said}");
}

#[test]
fn the_calendar_is_written_in_one_step() {
    let desk = Desk::with_demo();
    let text = desk.done(&["calendar", "export", "--year", YEAR]);
    assert!(text.contains("entries written to larch-bank-2030-31.ics"), "{text}");
    let written = std::fs::read_to_string(desk.path("larch-bank-2030-31.ics")).unwrap();
    assert!(written.starts_with("BEGIN:VCALENDAR\r\n") && written.ends_with("END:VCALENDAR\r\n"));
    assert!(!desk.path("larch-bank-2030-31.ics.part").exists());

    let chosen = desk.path("chores.ics").display().to_string();
    desk.done(&["calendar", "export", "--year", YEAR, "--hour", "9", "--alarm", "30", "--out", &chosen]);
    let timed = std::fs::read_to_string(&chosen).unwrap();
    assert!(timed.contains("DTSTART;TZID=Europe/Vienna:2030") && timed.contains("TRIGGER:-PT30M"));

    let printed = desk.done(&["calendar", "export", "--year", YEAR, "--out", "-"]);
    assert!(printed.starts_with("BEGIN:VCALENDAR"));
    let said = desk.refused(1, &["calendar", "export", "--year", YEAR, "--hour", "24"]);
    assert!(said.contains("at_hour"), "{said}");
    let said = desk.refused(1, &["calendar", "export", "--year", YEAR, "--out", "no/such/folder/a.ics"]);
    assert!(said.contains("a.ics: the calendar cannot be written"), "{said}");
}

#[test]
fn the_screens_are_served_to_this_machine() {
    let desk = Desk::with_demo();
    let said = desk.refused(1, &["serve", "--ui", "nowhere"]);
    assert!(said.contains("nowhere: There is no index.html here"), "{said}");

    std::fs::create_dir(desk.path("screens")).unwrap();
    desk.file("screens/index.html", "<!doctype html><title>Hibernacle</title>");
    let mut server = Command::new(assert_cmd::cargo::cargo_bin("hibernacle"))
        .env("HIBERNACLE_DATA_DIR", desk.path("data"))
        .args(["serve", "--port", "0", "--ui"])
        .arg(desk.path("screens"))
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut first_line = String::new();
    BufReader::new(server.stdout.take().unwrap()).read_line(&mut first_line).unwrap();
    let address = first_line.trim().trim_start_matches("http://").trim_end_matches('/').to_owned();
    let answer = get(&address);
    server.kill().unwrap();
    server.wait().unwrap();
    let answer = answer.unwrap();
    assert!(answer.starts_with("HTTP/1.1 200") && answer.contains("<title>Hibernacle</title>"), "{answer}");
}

fn get(address: &str) -> std::io::Result<String> {
    let mut stream = TcpStream::connect(address)?;
    write!(stream, "GET / HTTP/1.1\r\nHost: {address}\r\nConnection: close\r\n\r\n")?;
    let mut answer = String::new();
    stream.read_to_string(&mut answer)?;
    Ok(answer)
}
