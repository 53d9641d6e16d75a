//! One chore as a calendar event.

use chrono::{DateTime, NaiveDate, NaiveDateTime, TimeDelta, TimeZone, Utc};
use chrono_tz::Tz;
use hibernacle_contract::season::SeasonView;
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_engine::season::{ChoreState, PlannedChore, TargetKind};
use icalendar::parser::{Component, Property};

use super::file::{component, plain, with_parameter, words};

/// How chores stand in the calendar.
pub(super) struct Style {
    /// The site's time zone.
    pub(super) time_zone: Tz,
    /// Local hour at which chores start; absent for the whole day.
    pub(super) at_hour: Option<u32>,
    /// Minutes before the start at which the calendar rings.
    pub(super) alarm_minutes_before: Option<u32>,
    /// When the file is written.
    pub(super) now_utc: DateTime<Utc>,
}

/// A chore as an event. A chore that was done stands on the day it was done, one left out is cancelled.
pub(super) fn event(
    chore: &PlannedChore,
    view: &SeasonView,
    style: &Style,
    wording: &Wording,
) -> Component<'static> {
    let now = utc(style.now_utc);
    let day = match chore.state {
        ChoreState::Done { on } => on,
        ChoreState::Open | ChoreState::Skipped { .. } => chore.due_on,
    };
    let mut lines = vec![
        words("UID", &uid(chore, view)),
        plain("DTSTAMP", now.clone()),
        plain("LAST-MODIFIED", now),
        plain("SEQUENCE", sequence(style.now_utc).to_string()),
    ];
    lines.extend(span(day, chore.minutes, style));
    lines.extend([
        words("SUMMARY", &summary(chore, wording)),
        words("DESCRIPTION", &description(chore, wording)),
        words("CATEGORIES", &wording.word(chore.phase)),
        plain("PRIORITY", if chore.killing { "1" } else { "5" }),
        plain("STATUS", status(&chore.state)),
        // A chore is no appointment: it leaves the grower free for others.
        plain("TRANSP", "TRANSPARENT"),
    ]);
    if matches!(chore.target.kind, TargetKind::Shelter | TargetKind::Zone) {
        lines.push(words("LOCATION", &chore.target.name));
    }
    let alarms = match (style.alarm_minutes_before, &chore.state) {
        (Some(lead), ChoreState::Open) => vec![alarm(lead, chore)],
        _ => Vec::new(),
    };
    component("VEVENT", lines, alarms)
}

/// The same for every export of this chore of this season of this site.
fn uid(chore: &PlannedChore, view: &SeasonView) -> String {
    format!("{}/{}@{}.hibernacle", view.plan.season.start_year, chore.key, view.site.id)
}

/// Minutes since the start of the year 2000: higher with each export, as a client expects of a revision
/// (RFC 5545, section 3.8.7.4), without a count of exports that would have to be kept.
fn sequence(now_utc: DateTime<Utc>) -> i64 {
    const START_OF_2000: i64 = 946_684_800;
    ((now_utc.timestamp() - START_OF_2000) / 60).max(0)
}

fn status(state: &ChoreState) -> &'static str {
    match state {
        ChoreState::Open | ChoreState::Done { .. } => "CONFIRMED",
        ChoreState::Skipped { .. } => "CANCELLED",
    }
}

/// Start and end: whole days, or from the hour chosen for as long as the work takes.
fn span(day: NaiveDate, minutes: u32, style: &Style) -> [Property<'static>; 2] {
    let Some(hour) = style.at_hour else {
        let date =
            |name, day: NaiveDate| with_parameter(name, ("VALUE", "DATE"), day.format("%Y%m%d").to_string());
        return [date("DTSTART", day), date("DTEND", day.succ_opt().unwrap_or(day))];
    };
    let start = local_start(day, hour, style.time_zone);
    let end = start + TimeDelta::minutes(minutes.max(1).into());
    let time = |name, at: DateTime<Tz>| {
        let local = at.naive_local().format("%Y%m%dT%H%M%S").to_string();
        with_parameter(name, ("TZID", style.time_zone.name()), local)
    };
    [time("DTSTART", start), time("DTEND", end)]
}

/// The hour on a day in the zone. An hour that the clocks skip becomes the next that exists; of an hour that comes
/// twice the first counts, as in RFC 5545 section 3.3.5.
fn local_start(day: NaiveDate, hour: u32, time_zone: Tz) -> DateTime<Tz> {
    let wanted: NaiveDateTime = day.and_time(chrono::NaiveTime::MIN) + TimeDelta::hours(hour.into());
    (0..=24)
        .find_map(|later| {
            time_zone.from_local_datetime(&(wanted + TimeDelta::minutes(later * 15))).earliest()
        })
        .unwrap_or_else(|| time_zone.from_utc_datetime(&wanted))
}

fn summary(chore: &PlannedChore, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("title", chore.title.as_str());
    match chore.state {
        ChoreState::Open => chore.title.clone(),
        ChoreState::Done { .. } => wording.message("calendar-done", &figures),
        ChoreState::Skipped { .. } => wording.message("calendar-skipped", &figures),
    }
}

/// Why, the figures of its day, window, needs, proof and cautions, as paragraphs. What the plan as a whole rests on
/// stands in the app: repeated in each entry it would swell the file past what calendars take in.
fn description(chore: &PlannedChore, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("earliest", wording.date(chore.window.earliest));
    figures.set("best", wording.date(chore.window.best));
    figures.set("latest", wording.date(chore.window.latest));
    figures.set("time", wording.minutes(chore.minutes));
    figures.set("weather", wording.words(&chore.weather));
    let mut paragraphs = Vec::new();
    if let ChoreState::Skipped { on, reason } = &chore.state {
        figures.set("date", wording.date(*on));
        figures.set("reason", reason.as_str());
        paragraphs.push(wording.message("calendar-why-skipped", &figures));
    }
    paragraphs.push(chore.why.clone());
    paragraphs.extend(wording.reasons(chore.reasons.iter().filter(|reason| !Wording::is_background(reason))));
    paragraphs.push(wording.message("calendar-window", &figures));
    if chore.killing {
        paragraphs.push(wording.message("calendar-killing", &figures));
    }
    if !chore.weather.is_empty() {
        paragraphs.push(wording.message("calendar-weather", &figures));
    }
    paragraphs.push(wording.message("calendar-time", &figures));
    if let Some(proof) = &chore.proof {
        figures.set("proof", proof.as_str());
        paragraphs.push(wording.message("calendar-proof", &figures));
    }
    for caution in &chore.cautions {
        figures.set("title", wording.caution_title(*caution));
        figures.set("text", wording.word(*caution));
        paragraphs.push(wording.message("calendar-caution", &figures));
    }
    paragraphs.join("\n")
}

fn alarm(minutes_before: u32, chore: &PlannedChore) -> Component<'static> {
    component(
        "VALARM",
        vec![
            plain("ACTION", "DISPLAY"),
            words("DESCRIPTION", &chore.title),
            plain("TRIGGER", format!("-PT{minutes_before}M")),
        ],
        Vec::new(),
    )
}

/// An instant as RFC 5545 writes it.
fn utc(at: DateTime<Utc>) -> String {
    at.format("%Y%m%dT%H%M%SZ").to_string()
}
