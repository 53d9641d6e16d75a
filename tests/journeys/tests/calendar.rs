//! Exported calendars, read by ical.js: a parser for the browser that knows nothing of Hibernacle.
//!
//! `cargo xtask test` installs it and runs these; by hand: `npm ci` in `tests/journeys/calendar`, then
//! `cargo test -p hibernacle-journeys --test calendar -- --ignored`.

#![expect(clippy::unwrap_used, clippy::expect_used, reason = "a test")]

use std::collections::BTreeMap;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use chrono::{DateTime, NaiveDate, TimeDelta, TimeZone};
use chrono_tz::Tz;
use hibernacle_contract::calendar::CalendarRequest;
use hibernacle_contract::wording::Wording;
use hibernacle_engine::season::{ChoreState, PlannedChore};
use hibernacle_engine::site::Site;
use hibernacle_journeys::{CLIMATE_FILE, Grower, date, larch_bank};
use hibernacle_service::calendar::calendar_export;
use hibernacle_service::setup::site_save;
use serde_json::Value;

const SEASON: i32 = 2026;

/// A gardener of Larch Bank whose clocks follow a zone.
fn gardener(time_zone: &str) -> Grower {
    let grower = Grower::begins(Site { time_zone: time_zone.to_owned(), ..larch_bank() }, "2026-08-15");
    grower.imports("larch-bank-climate.csv", CLIMATE_FILE);
    grower.enter_shelters();
    grower.enter_plants();
    grower
}

fn export(grower: &Grower, at_hour: Option<u32>) -> String {
    let request = CalendarRequest {
        site_id: grower.site.id.clone(),
        start_year: Some(SEASON),
        at_hour,
        alarm_minutes_before: Some(45),
    };
    calendar_export(&grower.context, request).unwrap().text
}

/// What ical.js understands of a calendar.
fn read(calendar: &str) -> Value {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("calendar");
    let mut reader = Command::new("node")
        .arg("read.mjs")
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("node is installed");
    let mut input = reader.stdin.take().unwrap();
    let text = calendar.to_owned();
    let writer = std::thread::spawn(move || input.write_all(text.as_bytes()));
    let output = reader.wait_with_output().unwrap();
    writer.join().unwrap().unwrap();
    assert!(output.status.success(), "ical.js refused the calendar");
    serde_json::from_slice(&output.stdout).unwrap()
}

/// Entries by what identifies them.
fn entries(read: &Value) -> BTreeMap<String, Value> {
    let list = read["entries"].as_array().unwrap();
    let by_uid: BTreeMap<String, Value> =
        list.iter().map(|entry| (entry["uid"].as_str().unwrap().to_owned(), entry.clone())).collect();
    assert_eq!(by_uid.len(), list.len(), "no two entries share an identity");
    by_uid
}

fn uid(grower: &Grower, chore: &PlannedChore) -> String {
    format!("{SEASON}/{}@{}.hibernacle", chore.key, grower.site.id)
}

#[test]
#[ignore = "needs ical.js: cargo xtask test installs it"]
fn every_chore_arrives_whole() {
    let grower = gardener("Europe/Vienna");
    let read = read(&export(&grower, None));
    assert_eq!(read["version"], "2.0");
    assert_eq!(read["name"], "Larch Bank: winter care 2026–27");
    assert!(read["product"].as_str().unwrap().contains("Hibernacle"));
    let entries = entries(&read);
    let plan = grower.plan(SEASON);
    assert_eq!(entries.len(), plan.chores.len());
    let wording = Wording::new("en", grower.site.units);
    for chore in &plan.chores {
        let entry = &entries[&uid(&grower, chore)];
        assert_eq!(entry["summary"], chore.title.as_str());
        assert_eq!(entry["start"]["date"], chore.due_on.to_string());
        assert_eq!(entry["end"]["date"], chore.due_on.succ_opt().unwrap().to_string());
        assert_eq!(entry["categories"][0], wording.word(chore.phase).as_str());
        assert_eq!(entry["status"], "CONFIRMED");
        assert_eq!(entry["alarms"][0]["seconds_after_start"], -45 * 60);
        let description = entry["description"].as_str().unwrap();
        assert!(description.starts_with(&chore.why), "{description}");
        assert!(chore.proof.as_ref().is_none_or(|proof| description.contains(proof)), "{description}");
        for caution in &chore.cautions {
            assert!(description.contains(&wording.word(*caution)), "{description}");
        }
    }
}

/// The local hour is right in any client, on every day of the year and in zones of every kind: the reader computes
/// the instant from the rules in the file alone, and it is the one that the IANA database gives.
#[test]
#[ignore = "needs ical.js: cargo xtask test installs it"]
fn hours_are_right_in_zones_of_every_kind() {
    for name in [
        "Europe/Vienna",
        "America/Denver",
        // No changes of the clocks.
        "Asia/Tokyo",
        "Etc/UTC",
        // Half an hour of summer time; offsets of odd minutes; changes on no fixed weekday of the month; winter time
        // that the database has as the exception.
        "Australia/Lord_Howe",
        "Asia/Kathmandu",
        "America/St_Johns",
        "America/Santiago",
        "Africa/Casablanca",
        "Europe/Dublin",
    ] {
        let zone: Tz = name.parse().unwrap();
        let grower = gardener(name);
        let plan = grower.plan(SEASON);
        for hour in [2, 9] {
            let read = read(&export(&grower, Some(hour)));
            let entries = entries(&read);
            assert_eq!(read["zones"], serde_json::json!([name]));
            for chore in &plan.chores {
                let entry = &entries[&uid(&grower, chore)];
                let starts = start(zone, chore.due_on, hour);
                assert_is(&entry["start"], zone, starts);
                assert_is(&entry["end"], zone, starts + TimeDelta::minutes(chore.minutes.into()));
            }
        }
    }
}

/// An hour of a day; the next that exists where the clocks skip it.
fn start(zone: Tz, day: NaiveDate, hour: u32) -> DateTime<Tz> {
    (hour..24).find_map(|hour| zone.from_local_datetime(&day.and_hms_opt(hour, 0, 0)?).earliest()).unwrap()
}

/// Of an hour that comes twice RFC 5545 (section 3.3.5) means the first; the reader takes the second.
fn assert_is(read: &Value, zone: Tz, expected: DateTime<Tz>) {
    let either = zone.from_local_datetime(&expected.naive_local());
    let instants =
        [either.earliest(), either.latest()].map(|instant| instant.map(|instant| instant.timestamp()));
    assert!(instants.contains(&read["unix"].as_i64()), "{read} should be {expected}");
}

/// A client keeps the higher revision of an identity. After ticks, a skip, a move and another time zone, importing
/// again leaves it with the same entries, brought up to date.
#[test]
#[ignore = "needs ical.js: cargo xtask test installs it"]
fn importing_again_updates_and_doubles_nothing() {
    let grower = gardener("Europe/Vienna");
    let before = entries(&read(&export(&grower, Some(9))));
    let mut chores = grower.plan(SEASON).chores.into_iter();
    let (first, second) = (chores.next().unwrap(), chores.next().unwrap());
    let moved = chores.find(|chore| chore.rule == "winter-tubers").unwrap();
    grower.goes_to(date("2026-08-16"));
    grower.ticks(SEASON, &first);
    grower.skips(SEASON, &second, "done by; a neighbour, last week");
    grower.moves(SEASON, &moved, date("2027-01-09")).unwrap();
    site_save(&grower.context, Site { time_zone: "Europe/London".to_owned(), ..grower.site.clone() })
        .unwrap();

    let after = entries(&read(&export(&grower, Some(9))));
    let mut client = before.clone();
    for (uid, entry) in &after {
        let known = client.insert(uid.clone(), entry.clone());
        let revision =
            |entry: &Value| (entry["sequence"].as_i64().unwrap(), entry["stamp_unix"].as_i64().unwrap());
        assert!(known.is_none_or(|known| revision(entry) > revision(&known)), "{uid} would not be updated");
    }
    assert_eq!(client.len(), before.len(), "no entry is doubled");
    let done = &client[&uid(&grower, &first)];
    assert_eq!((&done["status"], &done["alarms"]), (&"CONFIRMED".into(), &serde_json::json!([])));
    assert!(done["start"]["local"].as_str().unwrap().starts_with("2026-08-16T09:00"), "{done}");
    let skipped = &client[&uid(&grower, &second)];
    assert_eq!(skipped["status"], "CANCELLED");
    assert!(
        skipped["description"].as_str().unwrap().contains("done by; a neighbour, last week"),
        "{skipped}"
    );
    assert!(client[&uid(&grower, &moved)]["start"]["local"].as_str().unwrap().starts_with("2027-01-09"));
    let open = grower.plan(SEASON).chores.into_iter().filter(|chore| chore.state == ChoreState::Open).count();
    let ringing = client.values().filter(|entry| entry["alarms"] != serde_json::json!([])).count();
    assert_eq!(ringing, open);
}
