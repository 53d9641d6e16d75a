//! The site's time zone as a VTIMEZONE (RFC 5545, section 3.6.5), from the IANA database.

use chrono::{DateTime, Datelike, Days, NaiveDateTime, NaiveTime, Offset, TimeDelta, TimeZone, Utc};
use chrono_tz::{OffsetName, Tz};
use icalendar::parser::{Component, Property};

use super::file::{component, plain, words};

/// Years after the start of the season for which changes of the clocks are looked up: enough to tell a yearly rule
/// from a coincidence.
const YEARS_AHEAD: i32 = 9;

/// A change of the clocks.
struct Change {
    /// Local time by the clocks before the change.
    local: NaiveDateTime,
    from: TimeDelta,
    to: TimeDelta,
    name: String,
}

/// The time zone, right from the year before the season on. A change that follows a yearly rule is given as that
/// rule; others are listed up to nine years ahead.
pub(super) fn component_for(time_zone: Tz, start_year: i32) -> Component<'static> {
    let years = (start_year - 1)..=(start_year + YEARS_AHEAD);
    let changes = changes(time_zone, *years.start(), *years.end());
    let mut kinds: Vec<Vec<Change>> = Vec::new();
    let first_change = changes.first().map(|change| change.local.year());
    let mut observances = Vec::new();
    if first_change.is_none_or(|year| year >= start_year) {
        observances.push(before_any_change(time_zone, *years.start()));
    }
    for change in changes {
        let same = |kind: &&mut Vec<Change>| {
            kind.first().is_some_and(|known| {
                (known.from, known.to, &known.name) == (change.from, change.to, &change.name)
            })
        };
        match kinds.iter_mut().find(same) {
            Some(kind) => kind.push(change),
            None => kinds.push(vec![change]),
        }
    }
    observances.extend(kinds.iter().filter_map(|kind| observance(kind, years.clone().count())));
    component("VTIMEZONE", vec![words("TZID", time_zone.name())], observances)
}

/// All changes of the clocks from the start of one year to the end of another.
fn changes(time_zone: Tz, first_year: i32, last_year: i32) -> Vec<Change> {
    let start_of = |year| {
        chrono::NaiveDate::from_ymd_opt(year, 1, 1).unwrap_or_default().and_time(NaiveTime::MIN).and_utc()
    };
    let end = start_of(last_year + 1);
    let mut day = start_of(first_year);
    let mut changes = Vec::new();
    while day < end {
        let next = day + Days::new(1);
        if offset(time_zone, day) != offset(time_zone, next) {
            changes.push(change_between(time_zone, day, next));
        }
        day = next;
    }
    changes
}

/// The change of the clocks in a day that is known to hold one, to the second.
fn change_between(time_zone: Tz, mut before: DateTime<Utc>, mut after: DateTime<Utc>) -> Change {
    let from = offset(time_zone, before);
    while after - before > TimeDelta::seconds(1) {
        let middle = before + (after - before) / 2;
        let middle = DateTime::from_timestamp(middle.timestamp(), 0).unwrap_or(middle);
        if offset(time_zone, middle) == from { before = middle } else { after = middle }
    }
    Change {
        local: after.naive_utc() + from,
        from,
        to: offset(time_zone, after),
        name: name(time_zone, after),
    }
}

fn offset(time_zone: Tz, at: DateTime<Utc>) -> TimeDelta {
    let offset = time_zone.offset_from_utc_datetime(&at.naive_utc());
    TimeDelta::seconds(offset.fix().local_minus_utc().into())
}

fn name(time_zone: Tz, at: DateTime<Utc>) -> String {
    time_zone.offset_from_utc_datetime(&at.naive_utc()).abbreviation().unwrap_or_default().to_owned()
}

/// What the clocks show from the start of a year, for zones without a change before the season.
fn before_any_change(time_zone: Tz, year: i32) -> Component<'static> {
    let start = chrono::NaiveDate::from_ymd_opt(year, 1, 1).unwrap_or_default().and_time(NaiveTime::MIN);
    let shown = offset(time_zone, start.and_utc());
    let change = Change { local: start, from: shown, to: shown, name: name(time_zone, start.and_utc()) };
    component("STANDARD", lines(&change), Vec::new())
}

/// Changes of one kind: by a yearly rule where they follow one, else as a list.
fn observance(kind: &[Change], years: usize) -> Option<Component<'static>> {
    let first = kind.first()?;
    let mut lines = lines(first);
    match yearly_rule(kind, years) {
        Some(rule) => lines.push(plain("RRULE", rule)),
        None => lines.extend(kind[1..].iter().map(|change| plain("RDATE", local(change.local)))),
    }
    let forward = first.to > first.from;
    Some(component(if forward { "DAYLIGHT" } else { "STANDARD" }, lines, Vec::new()))
}

fn lines(change: &Change) -> Vec<Property<'static>> {
    vec![
        plain("DTSTART", local(change.local)),
        plain("TZOFFSETFROM", hours(change.from)),
        plain("TZOFFSETTO", hours(change.to)),
        words("TZNAME", &change.name),
    ]
}

/// The rule “same weekday of the same month at the same time”, counted from the end of the month or from its start,
/// where every year has one such change and all of them agree.
fn yearly_rule(kind: &[Change], years: usize) -> Option<String> {
    let first = kind.first()?.local;
    let alike = kind.len() == years
        && kind.iter().zip(first.year()..).all(|(change, year)| {
            let at = change.local;
            at.year() == year
                && at.month() == first.month()
                && at.weekday() == first.weekday()
                && at.time() == first.time()
        });
    if !alike {
        return None;
    }
    let is_last = |at: NaiveDateTime| (at + Days::new(7)).month() != at.month();
    let week = |at: NaiveDateTime| at.day().div_ceil(7);
    let count = if kind.iter().all(|change| is_last(change.local)) {
        "-1".to_owned()
    } else if kind.iter().all(|change| week(change.local) == week(first)) {
        week(first).to_string()
    } else {
        return None;
    };
    let weekday = first.weekday().to_string().to_uppercase();
    Some(format!("FREQ=YEARLY;BYMONTH={};BYDAY={count}{}", first.month(), &weekday[..2]))
}

fn local(at: NaiveDateTime) -> String {
    at.format("%Y%m%dT%H%M%S").to_string()
}

/// An offset from UTC as `+HHMM`, with seconds where it has any.
fn hours(offset: TimeDelta) -> String {
    let seconds = offset.num_seconds();
    let sign = if seconds < 0 { '-' } else { '+' };
    let seconds = seconds.abs();
    let text = format!("{sign}{:02}{:02}", seconds / 3600, seconds / 60 % 60);
    if seconds % 60 == 0 { text } else { format!("{text}{:02}", seconds % 60) }
}
