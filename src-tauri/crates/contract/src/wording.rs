//! The text catalogue: messages in [Fluent](https://projectfluent.org) syntax, one folder per language.
//!
//! The files in `messages/<language>/` are read by this module (command line, calendar, notifications) and by the
//! screens, so that one sentence has one home. Both sides follow the same rules:
//!
//! - The word for a value of a list is `<list>-<value>`, with `-` for `_` (see [`Listed`]).
//! - Figures of a [`Reason`] are put into the reader's units and handed to its message as text, except
//!   [`Figure::Count`] and [`Figure::Days`], which go in as numbers for the plural rules.
//!
//! ```
//! use hibernacle_contract::wording::Wording;
//! use hibernacle_engine::season::{Figure, Phase};
//! use hibernacle_engine::site::{LengthUnit, TemperatureUnit, Units, VolumeUnit};
//!
//! let american =
//!     Units { temperature: TemperatureUnit::Fahrenheit, length: LengthUnit::Foot, volume: VolumeUnit::UsGallon };
//! let wording = Wording::new("en", american);
//! assert_eq!(wording.figure(&Figure::TempC(-2.2)), "28\u{a0}°F");
//! assert_eq!(wording.figure(&Figure::DiffK(5.0)), "9\u{a0}°F");
//! assert_eq!(wording.word(Phase::CloseUp), "Close-up");
//! ```

mod listed;
mod quantities;
#[cfg(test)]
mod tests;

use chrono::{Datelike, NaiveDate};
use fluent_bundle::FluentResource;
use fluent_bundle::concurrent::FluentBundle;
use hibernacle_engine::climate::Basis;
use hibernacle_engine::plant::Container;
use hibernacle_engine::season::{Caution, ChoreState, Figure, Reason};
use hibernacle_engine::site::Units;
use unic_langid::LanguageIdentifier;

pub use fluent_bundle::FluentArgs;
pub use listed::Listed;

/// A language of the catalogue with its files.
struct Language {
    tag: &'static str,
    files: &'static [(&'static str, &'static str)],
}

/// All languages; the first is the one to fall back on.
const LANGUAGES: &[Language] = &[Language {
    tag: "en",
    files: &[
        ("messages/en/engine.ftl", include_str!("../messages/en/engine.ftl")),
        ("messages/en/cli.ftl", include_str!("../messages/en/cli.ftl")),
    ],
}];

/// The text catalogue in one language, with figures in a reader's units.
pub struct Wording {
    bundle: FluentBundle<FluentResource>,
    units: Units,
}

impl Wording {
    /// The catalogue in a language, given by its BCP 47 tag; English where it does not have that language.
    pub fn new(language: &str, units: Units) -> Self {
        let wanted = language.split(['-', '_']).next().unwrap_or_default();
        let language = LANGUAGES.iter().find(|known| known.tag == wanted).unwrap_or(&LANGUAGES[0]);
        let identifier: LanguageIdentifier = language.tag.parse().unwrap_or_default();
        let mut bundle = FluentBundle::new_concurrent(vec![identifier]);
        // Texts go to terminals and calendar files, where the invisible isolation marks would be in the way.
        bundle.set_use_isolating(false);
        for (_, text) in language.files {
            // A test holds that the files have no faults; what could be read of a faulty one is still of use.
            let resource =
                FluentResource::try_new((*text).to_owned()).unwrap_or_else(|(resource, _)| resource);
            bundle.add_resource_overriding(resource);
        }
        Self { bundle, units }
    }

    /// The units figures are shown in.
    pub fn units(&self) -> Units {
        self.units
    }

    /// A message without figures. A key that the catalogue lacks comes back as it is.
    pub fn text(&self, key: &str) -> String {
        self.message(key, &FluentArgs::new())
    }

    /// A message with figures. A key that the catalogue lacks comes back as it is.
    pub fn message(&self, key: &str, figures: &FluentArgs<'_>) -> String {
        self.lookup(key, figures).unwrap_or_else(|| key.to_owned())
    }

    fn lookup(&self, key: &str, figures: &FluentArgs<'_>) -> Option<String> {
        let pattern = self.bundle.get_message(key)?.value()?;
        let mut faults = Vec::new();
        Some(self.bundle.format_pattern(pattern, Some(figures), &mut faults).into_owned())
    }

    /// The word for a value of a list (`Phase::CloseUp` → “Close-up”).
    pub fn word<T: Listed>(&self, value: T) -> String {
        self.text(&value.message_key())
    }

    /// The words for several values, set off by commas.
    pub fn words<T: Listed>(&self, values: &[T]) -> String {
        values.iter().map(|value| self.word(*value)).collect::<Vec<_>>().join(", ")
    }

    /// The heading of a caution; [`Wording::word`] gives its whole text.
    pub fn caution_title(&self, caution: Caution) -> String {
        self.text(&format!("{}-title", caution.message_key()))
    }

    /// A reason as a sentence. A reason that the catalogue lacks comes back as its key with its figures.
    pub fn reason(&self, reason: &Reason) -> String {
        let mut figures = FluentArgs::with_capacity(reason.figures.len());
        for (name, figure) in &reason.figures {
            match figure {
                Figure::Count(count) => figures.set(name.as_str(), *count),
                Figure::Days(days) => figures.set(name.as_str(), *days),
                worded => figures.set(name.as_str(), self.figure(worded)),
            }
        }
        self.lookup(&reason.message, &figures).unwrap_or_else(|| {
            let figures: Vec<String> = reason
                .figures
                .iter()
                .map(|(name, figure)| format!("{name} {}", self.figure(figure)))
                .collect();
            format!("{} ({})", reason.message, figures.join(", "))
        })
    }

    /// Several reasons as sentences. A sentence is not said twice, unless the next one (so many days earlier or
    /// later) speaks of it.
    pub fn reasons<'a>(&self, reasons: impl IntoIterator<Item = &'a Reason>) -> Vec<String> {
        let is_offset = |reason: &&Reason| reason.message.starts_with("reason-days-");
        let mut sentences: Vec<String> = Vec::new();
        let mut reasons = reasons.into_iter().peekable();
        while let Some(reason) = reasons.next() {
            let sentence = self.reason(reason);
            let is_spoken_of = is_offset(&reason) || reasons.peek().is_some_and(is_offset);
            if is_spoken_of || !sentences.contains(&sentence) {
                sentences.push(sentence);
            }
        }
        sentences
    }

    /// Whether a reason speaks of the plan as a whole or of what would change it, not of this chore's day: a short
    /// text leaves it out.
    pub fn is_background(reason: &Reason) -> bool {
        reason.message.starts_with("reason-basis-") || reason.message.starts_with("reason-change-")
    }

    /// A figure on its own, in the reader's units.
    pub fn figure(&self, figure: &Figure) -> String {
        match figure {
            Figure::TempC(temp_c) => self.temperature(*temp_c),
            Figure::DiffK(diff_k) => self.temperature_difference(*diff_k),
            Figure::Date(date) => self.date(*date),
            Figure::Share(share) => self.share(*share),
            Figure::Count(count) => count.to_string(),
            Figure::Days(days) => self.days(*days),
            Figure::VolumeL(volume_l) => self.volume(*volume_l),
            Figure::AreaM2(area_m2) => self.area(*area_m2),
            Figure::LengthM(length_m) => self.length(*length_m),
            Figure::EnergyKwh(energy_kwh) => self.energy(*energy_kwh),
            Figure::PowerW(power_w) => self.power(*power_w),
            Figure::CurrentA(current_a) => self.current(*current_a),
            Figure::Hours(hours) => self.hours(*hours),
            Figure::Text(text) => text.clone(),
        }
    }

    /// A date in long form (`28 October 2026`).
    pub fn date(&self, date: NaiveDate) -> String {
        self.dated("figure-date", date)
    }

    /// A date in short form with its day of the week (`Wed 28 Oct`).
    pub fn date_short(&self, date: NaiveDate) -> String {
        self.dated("figure-date-short", date)
    }

    /// A date in short form with its year (`28 Oct 2026`).
    pub fn date_short_year(&self, date: NaiveDate) -> String {
        self.dated("figure-date-short-year", date)
    }

    /// A day and month in short form, for tables within one season (`28 Oct`).
    pub fn day_and_month(&self, date: NaiveDate) -> String {
        self.dated("figure-day-and-month", date)
    }

    fn dated(&self, form: &str, date: NaiveDate) -> String {
        let short = if form == "figure-date" { "" } else { "short-" };
        let mut figures = FluentArgs::new();
        figures.set("day", date.day().to_string());
        figures.set("month", self.text(&format!("month-{short}{}", date.month())));
        figures.set("year", date.year().to_string());
        figures.set("weekday", self.text(&format!("weekday-{short}{}", date.weekday().number_from_monday())));
        self.message(form, &figures)
    }

    /// What the roots of a planting are in.
    pub fn container(&self, container: Container) -> String {
        match container {
            Container::Pot { volume_l } => {
                let mut figures = FluentArgs::new();
                figures.set("volume", self.volume(volume_l));
                self.message("container-pot", &figures)
            }
            Container::Ground => self.text("container-ground"),
            Container::Lifted => self.text("container-lifted"),
        }
    }

    /// Where a chore stands.
    pub fn state(&self, state: &ChoreState) -> String {
        let mut figures = FluentArgs::new();
        match state {
            ChoreState::Open => self.text("state-open"),
            ChoreState::Done { on } => {
                figures.set("date", self.date(*on));
                self.message("state-done", &figures)
            }
            ChoreState::Skipped { on, reason } => {
                figures.set("date", self.date(*on));
                figures.set("reason", reason.as_str());
                self.message("state-skipped", &figures)
            }
        }
    }

    /// What a climate rests on.
    pub fn basis(&self, basis: &Basis) -> String {
        match basis {
            Basis::Measured { first_season, last_season, seasons } => {
                let mut figures = FluentArgs::new();
                figures.set("seasons", *seasons);
                figures.set("first", first_season.to_string());
                figures.set("last", last_season.to_string());
                self.message("basis-measured", &figures)
            }
            Basis::Typed => self.text("basis-typed"),
        }
    }
}
