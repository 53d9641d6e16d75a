use std::sync::Arc;

use std::collections::BTreeSet;

use chrono::{DateTime, NaiveDate, Utc};
use hibernacle_contract::season::SeasonView;
use hibernacle_contract::wording::Wording;
use hibernacle_engine::climate::Basis;
use hibernacle_engine::season::{
    Caution, ChoreState, DayWindow, Figure, Phase, Plan, PlannedChore, Reason, Season, Target, TargetKind,
    Weather,
};
use hibernacle_engine::site::{Hemisphere, LengthUnit, Site, TemperatureUnit, Units, VolumeUnit, WorkTime};
use icalendar::parser::{Component, read_calendar, unfold};

use super::entry::Style;
use super::{file, file_name, zone};

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

fn instant(text: &str) -> DateTime<Utc> {
    text.parse().expect("an instant")
}

fn larch_bank() -> Site {
    Site {
        id: "site-1".into(),
        name: "Larch Bank".into(),
        latitude_deg: 47.7,
        longitude_deg: 13.1,
        elevation_m: 470.0,
        time_zone: "Europe/Vienna".into(),
        currency: "EUR".into(),
        units: Units {
            temperature: TemperatureUnit::Celsius,
            length: LengthUnit::Metre,
            volume: VolumeUnit::Litre,
        },
        work: WorkTime { days: Vec::new(), hours_per_day: 2.0 },
    }
}

fn chore(key: &str, due_on: &str, state: ChoreState) -> PlannedChore {
    let due_on = day(due_on);
    PlannedChore {
        key: key.into(),
        rule: key.split('/').next().unwrap_or_default().into(),
        title: "Put the cover on: glasshouse; north, “corner”".into(),
        phase: Phase::CloseUp,
        target: Target {
            kind: TargetKind::Zone,
            id: "zone-1".into(),
            name: "north corner".into(),
            shelter_id: Some("shelter-1".into()),
            zone_id: Some("zone-1".into()),
        },
        window: DayWindow { earliest: due_on, best: due_on, latest: due_on },
        killing: true,
        due_on,
        moved: false,
        minutes: 90,
        weather: vec![Weather::Dry, Weather::LowWind],
        why: "A back\\slash, a comma; a semicolon\nand a line break: ".to_owned() + &"wärme ".repeat(40),
        reasons: vec![Reason::new("unworded").with("limit", Figure::TempC(-2.2))],
        proof: Some("No flap moves when you shake the frame.".into()),
        cautions: vec![Caution::Ladder],
        after: Vec::new(),
        required: true,
        source: "common practice, no source".into(),
        state,
    }
}

fn view(chores: Vec<PlannedChore>) -> SeasonView {
    SeasonView {
        site: larch_bank(),
        plan: Arc::new(Plan {
            season: Season::starting(2026, Hemisphere::Northern),
            chores,
            bands: Vec::new(),
            stages: Vec::new(),
            problems: Vec::new(),
        }),
        basis: Basis::Typed,
        today: day("2026-09-01"),
    }
}

fn written(chores: Vec<PlannedChore>, at_hour: Option<u32>, now_utc: &str) -> String {
    let view = view(chores);
    let style = Style {
        time_zone: view.site.tz().expect("a zone"),
        at_hour,
        alarm_minutes_before: Some(30),
        now_utc: instant(now_utc),
    };
    file::text(&view, &style, &Wording::new("en", view.site.units))
}

fn events(text: &str) -> Vec<Component<'static>> {
    let unfolded = unfold(text);
    let calendar = read_calendar(&unfolded).expect("a calendar");
    calendar
        .components
        .iter()
        .filter(|component| component.name == "VEVENT")
        .map(|component| Component {
            name: component.name.clone().into_owned(),
            properties: component
                .properties
                .iter()
                .map(|line| icalendar::parser::Property {
                    name: line.name.clone().into_owned(),
                    val: line.val.clone().into_owned(),
                    params: Vec::new(),
                })
                .collect(),
            components: Vec::new(),
        })
        .collect()
}

fn value(event: &Component<'_>, name: &str) -> String {
    event.find_prop(name).map(|line| line.val.as_str().to_owned()).unwrap_or_default()
}

#[test]
fn lines_are_short_and_end_as_the_standard_asks() {
    let text = written(
        vec![chore("cover-on/zone-1", "2026-11-10", ChoreState::Open)],
        Some(9),
        "2026-09-01T10:00:00Z",
    );
    // RFC 5545, section 3.1: at most 75 octets without the line break, which is CR LF.
    for line in text.split("\r\n") {
        assert!(line.len() <= 75, "{} octets: {line}", line.len());
        assert!(!line.contains(['\r', '\n']), "a bare line break in {line:?}");
    }
    assert!(text.ends_with("END:VCALENDAR\r\n"));
    assert!(text.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"));
}

#[test]
fn free_text_survives_the_way_there_and_back() {
    let written_chore = chore("cover-on/zone-1", "2026-11-10", ChoreState::Open);
    let events = events(&written(vec![written_chore.clone()], None, "2026-09-01T10:00:00Z"));
    assert_eq!(value(&events[0], "SUMMARY"), written_chore.title);
    let description = value(&events[0], "DESCRIPTION");
    assert!(description.starts_with(&written_chore.why), "{description}");
    assert!(description.contains("Proof: No flap moves"), "{description}");
    assert!(description.contains("three points of contact"), "{description}");
}

#[test]
fn an_entry_keeps_its_identity_and_rises_in_revision() {
    let key = "cover-on/zone-1";
    let first =
        events(&written(vec![chore(key, "2026-11-10", ChoreState::Open)], Some(9), "2026-09-01T10:00:00Z"));
    let later =
        events(&written(vec![chore(key, "2026-11-21", ChoreState::Open)], None, "2026-10-01T10:00:00Z"));
    assert_eq!(value(&first[0], "UID"), value(&later[0], "UID"));
    assert_ne!(value(&first[0], "DTSTART"), value(&later[0], "DTSTART"));
    let revision = |event| value(event, "SEQUENCE").parse::<i32>().expect("a number within 32 bits");
    assert!(revision(&later[0]) > revision(&first[0]));
    assert!(value(&later[0], "DTSTAMP") > value(&first[0], "DTSTAMP"));
}

#[test]
fn entries_of_one_file_differ_in_identity() {
    let chores: Vec<PlannedChore> = ["water/zone-1#1", "water/zone-1#2", "water/zone-2#1"]
        .iter()
        .map(|key| chore(key, "2027-01-10", ChoreState::Open))
        .collect();
    let text = written(chores, None, "2026-09-01T10:00:00Z");
    let identities: BTreeSet<String> = events(&text).iter().map(|event| value(event, "UID")).collect();
    assert_eq!(identities.len(), 3);
}

#[test]
fn done_and_skipped_chores_say_so_and_do_not_ring() {
    let done = ChoreState::Done { on: day("2026-11-08") };
    let skipped = ChoreState::Skipped { on: day("2026-11-09"), reason: "cover is torn".into() };
    let text = written(
        vec![
            chore("a/zone-1", "2026-11-10", done),
            chore("b/zone-1", "2026-11-10", skipped),
            chore("c/zone-1", "2026-11-10", ChoreState::Open),
        ],
        None,
        "2026-11-09T10:00:00Z",
    );
    let events = events(&text);
    assert_eq!(value(&events[0], "STATUS"), "CONFIRMED");
    assert_eq!(value(&events[0], "DTSTART"), "20261108", "a chore stands on the day it was done");
    assert!(value(&events[0], "SUMMARY").starts_with("Done: "));
    assert_eq!(value(&events[1], "STATUS"), "CANCELLED");
    assert!(value(&events[1], "DESCRIPTION").contains("cover is torn"));
    assert_eq!(text.matches("BEGIN:VALARM").count(), 1);
    assert!(text.contains("TRIGGER:-PT30M\r\n"));
}

#[test]
fn whole_days_end_on_the_next_and_need_no_zone() {
    let text = written(vec![chore("a/zone-1", "2026-12-31", ChoreState::Open)], None, "2026-09-01T10:00:00Z");
    assert!(text.contains("DTSTART;VALUE=DATE:20261231\r\n"));
    assert!(text.contains("DTEND;VALUE=DATE:20270101\r\n"));
    assert!(!text.contains("VTIMEZONE"));
}

#[test]
fn the_hour_is_local_on_both_sides_of_a_change_of_the_clocks() {
    let chores = vec![
        chore("a/zone-1", "2026-10-24", ChoreState::Open),
        chore("b/zone-1", "2026-10-26", ChoreState::Open),
    ];
    let text = written(chores, Some(9), "2026-09-01T10:00:00Z");
    assert!(text.contains("DTSTART;TZID=Europe/Vienna:20261024T090000\r\n"));
    assert!(text.contains("DTSTART;TZID=Europe/Vienna:20261026T090000\r\n"));
    assert!(text.contains("DTEND;TZID=Europe/Vienna:20261026T103000\r\n"));
}

#[test]
fn an_hour_that_the_clocks_skip_becomes_the_next_and_work_keeps_its_length() {
    // On 28 March 2027 clocks in Vienna go from 02:00 to 03:00, on 25 October 2026 from 03:00 back to 02:00.
    let text =
        written(vec![chore("a/zone-1", "2027-03-28", ChoreState::Open)], Some(2), "2026-09-01T10:00:00Z");
    assert!(text.contains("DTSTART;TZID=Europe/Vienna:20270328T030000\r\n"), "{text}");
    let text =
        written(vec![chore("a/zone-1", "2026-10-25", ChoreState::Open)], Some(1), "2026-09-01T10:00:00Z");
    assert!(text.contains("DTSTART;TZID=Europe/Vienna:20261025T010000\r\n"), "{text}");
    assert!(text.contains("DTEND;TZID=Europe/Vienna:20261025T023000\r\n"), "{text}");
}

fn zone_text(name: &str, start_year: i32) -> String {
    let zone = zone::component_for(name.parse().expect("a zone"), start_year);
    icalendar::parser::Calendar { properties: Vec::new(), components: vec![zone] }.to_string()
}

#[test]
fn the_zone_of_new_york_is_that_of_the_standard() {
    // RFC 5545, section 3.6.5: the example of New York with the rules of the U.S. from 2007 on.
    let text = zone_text("America/New_York", 2008);
    let daylight = "BEGIN:DAYLIGHT\r\nDTSTART:20070311T020000\r\nTZOFFSETFROM:-0500\r\nTZOFFSETTO:-0400\r\n\
        TZNAME:EDT\r\nRRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=2SU\r\nEND:DAYLIGHT\r\n";
    let standard = "BEGIN:STANDARD\r\nDTSTART:20071104T020000\r\nTZOFFSETFROM:-0400\r\nTZOFFSETTO:-0500\r\n\
        TZNAME:EST\r\nRRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=1SU\r\nEND:STANDARD\r\n";
    assert!(text.contains(daylight), "{text}");
    assert!(text.contains(standard), "{text}");
    assert_eq!(text.matches("BEGIN:STANDARD").count() + text.matches("BEGIN:DAYLIGHT").count(), 2);
}

#[test]
fn the_zone_of_vienna_changes_on_last_sundays() {
    // Directive 2000/84/EC: last Sunday of March and of October at 01:00 UTC.
    let text = zone_text("Europe/Vienna", 2026);
    assert!(text.contains("DTSTART:20250330T020000\r\n"), "{text}");
    assert!(text.contains("RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=-1SU\r\n"), "{text}");
    assert!(text.contains("DTSTART:20251026T030000\r\n"), "{text}");
    assert!(text.contains("RRULE:FREQ=YEARLY;BYMONTH=10;BYDAY=-1SU\r\n"), "{text}");
}

#[test]
fn a_zone_that_never_changes_has_one_offset() {
    let text = zone_text("Asia/Tokyo", 2026);
    assert!(text.contains("TZOFFSETFROM:+0900\r\nTZOFFSETTO:+0900\r\nTZNAME:JST\r\n"), "{text}");
    assert_eq!(text.matches("BEGIN:STANDARD").count(), 1);
    assert!(!text.contains("RRULE"));
}

#[test]
fn a_zone_without_a_weekday_rule_lists_its_changes() {
    // Clocks in Morocco follow the lunar month of fasting.
    let text = zone_text("Africa/Casablanca", 2026);
    assert!(text.contains("RDATE:"), "{text}");
    assert!(!text.contains("RRULE"), "{text}");
}

#[test]
fn file_names_hold_no_signs() {
    assert_eq!(file_name("Larch Bank / Süd", "2026–27"), "larch-bank-süd-2026-27.ics");
}
