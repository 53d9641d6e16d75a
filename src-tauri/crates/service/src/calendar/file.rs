//! The calendar as a whole, and the syntax of its lines.
//!
//! The library folds lines, ends them and nests components. Its builder is not used: it gives time zones and alarms
//! an identifier at random and the computer's own time, so that no two exports would be alike.

use hibernacle_contract::season::SeasonView;
use hibernacle_contract::wording::{FluentArgs, Wording};
use icalendar::parser::{Calendar, Component, Parameter, Property};

use super::entry::{self, Style};
use super::zone;

/// Who writes the file (RFC 5545, section 3.7.3).
const PRODUCT: &str = concat!("-//Hibernacle//Hibernacle ", env!("CARGO_PKG_VERSION"), "//EN");

/// The text of the calendar file.
pub(super) fn text(view: &SeasonView, style: &Style, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("site", view.site.name.as_str());
    figures.set("season", view.plan.season.name.as_str());
    let name = wording.message("calendar-name", &figures);
    let about = wording.message("calendar-about", &figures);
    let mut components = Vec::new();
    if style.at_hour.is_some() {
        components.push(zone::component_for(style.time_zone, view.plan.season.start_year));
    }
    components.extend(view.plan.chores.iter().map(|chore| entry::event(chore, view, style, wording)));
    Calendar {
        properties: vec![
            plain("VERSION", "2.0"),
            words("PRODID", PRODUCT),
            plain("CALSCALE", "GREGORIAN"),
            plain("METHOD", "PUBLISH"),
            words("NAME", &name),
            words("X-WR-CALNAME", &name),
            words("DESCRIPTION", &about),
            words("X-WR-CALDESC", &about),
            plain("X-WR-TIMEZONE", style.time_zone.name()),
        ],
        components,
    }
    .to_string()
}

/// A component with its lines and the components inside it.
pub(super) fn component(
    name: &'static str,
    properties: Vec<Property<'static>>,
    components: Vec<Component<'static>>,
) -> Component<'static> {
    Component { name: name.into(), properties, components }
}

/// A line whose value is no free text: a date, a number, a keyword.
pub(super) fn plain(name: &'static str, value: impl Into<String>) -> Property<'static> {
    Property { name: name.into(), val: value.into().into(), params: Vec::new() }
}

/// A line whose value is no free text, with a parameter.
pub(super) fn with_parameter(
    name: &'static str,
    (key, parameter): (&'static str, &str),
    value: impl Into<String>,
) -> Property<'static> {
    let parameter = Parameter { key: key.into(), val: Some(parameter.to_owned().into()) };
    Property { name: name.into(), val: value.into().into(), params: vec![parameter] }
}

/// A line of free text, escaped as RFC 5545 section 3.3.11 asks. Control characters other than the line break,
/// which no calendar may hold, become spaces.
pub(super) fn words(name: &'static str, value: &str) -> Property<'static> {
    let mut escaped = String::with_capacity(value.len() + 16);
    for letter in value.replace("\r\n", "\n").chars() {
        match letter {
            '\\' | ';' | ',' => escaped.extend(['\\', letter]),
            '\n' => escaped.push_str("\\n"),
            control if control.is_control() => escaped.push(' '),
            other => escaped.push(other),
        }
    }
    plain(name, escaped)
}
