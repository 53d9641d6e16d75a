//! The calendar file: the chores of a season as RFC 5545 events.
//!
//! An entry keeps its `UID` for as long as the chore keeps its key, and every export carries a higher `SEQUENCE`,
//! so that importing a file again brings entries up to date and doubles none.

mod entry;
mod file;
#[cfg(test)]
mod tests;
mod zone;

use hibernacle_contract::Failure;
use hibernacle_contract::calendar::{CalendarFile, CalendarRequest};
use hibernacle_contract::season::SeasonRequest;
use hibernacle_contract::wording::Wording;
use hibernacle_engine::field::within;

use crate::{Context, season};

/// Four weeks: the longest lead of an alarm.
const LONGEST_LEAD_MINUTES: f64 = 28.0 * 24.0 * 60.0;

/// The chores of a season as a calendar file.
///
/// # Errors
/// Where the site does not exist, has no plan, or an hour or lead lies outside its range.
pub fn calendar_export(context: &Context, request: CalendarRequest) -> Result<CalendarFile, Failure> {
    if let Some(hour) = request.at_hour {
        within("at_hour", hour.into(), 0.0, 23.0, "enter the hour of the day, 0 to 23")?;
    }
    if let Some(lead) = request.alarm_minutes_before {
        within("alarm_minutes_before", lead.into(), 0.0, LONGEST_LEAD_MINUTES, "enter at most four weeks")?;
    }
    let view = season::season_plan(
        context,
        SeasonRequest { site_id: request.site_id, start_year: request.start_year },
    )?;
    let style = entry::Style {
        time_zone: view.site.tz()?,
        at_hour: request.at_hour,
        alarm_minutes_before: request.alarm_minutes_before,
        now_utc: context.now_utc(),
    };
    let wording = Wording::new("en", view.site.units);
    Ok(CalendarFile {
        file_name: file_name(&view.site.name, &view.plan.season.name),
        text: file::text(&view, &style, &wording),
        entries: u32::try_from(view.plan.chores.len()).unwrap_or(u32::MAX),
    })
}

/// A name that every file system takes: letters and digits, the rest as hyphens.
fn file_name(site: &str, season: &str) -> String {
    let mut name = String::new();
    for letter in format!("{site} {season}").to_lowercase().chars() {
        if letter.is_alphanumeric() {
            name.push(letter);
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    format!("{}.ics", name.trim_end_matches('-'))
}
