//! Reasons in numbers, worded only at the edges.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A figure with its quantity, so that the edge can show it in the grower's units.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case", tag = "quantity", content = "value")]
pub enum Figure {
    /// A temperature in °C.
    TempC(f64),
    /// A difference of temperatures in K.
    DiffK(f64),
    /// A calendar date.
    Date(NaiveDate),
    /// A probability or share, 0 to 1.
    Share(f64),
    /// A count of things.
    Count(u32),
    /// A span in days.
    Days(i32),
    /// A volume in litres.
    VolumeL(f64),
    /// An area in square metres.
    AreaM2(f64),
    /// A length in metres.
    LengthM(f64),
    /// Energy in kWh.
    EnergyKwh(f64),
    /// Power in W.
    PowerW(f64),
    /// A current in A.
    CurrentA(f64),
    /// A span in hours.
    Hours(f64),
    /// A proper name or another text that is shown as it is.
    Text(String),
}

/// One reason for a recommendation: a message of the text catalogue and the figures that fill it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Reason {
    /// Key in the text catalogue (`reason-freeze-first`).
    pub message: String,
    /// Figures by the name the message gives them.
    pub figures: BTreeMap<String, Figure>,
}

impl Reason {
    /// A reason without figures; add them with [`Reason::with`].
    pub fn new(message: &str) -> Self {
        Self { message: message.to_owned(), figures: BTreeMap::new() }
    }

    /// Adds a figure.
    #[must_use]
    pub fn with(mut self, name: &str, figure: Figure) -> Self {
        self.figures.insert(name.to_owned(), figure);
        self
    }
}

/// Every message that the planner gives, with the names of its figures: what the text catalogue must word.
///
/// The reasons of a chore come in the order in which they are read: what its best date rests on, then what its
/// earliest and latest dates rest on, then what moved its day, what the climate figures rest on, and last what
/// would change it. Each message is one sentence of its own.
///
/// | figure | quantity | meaning |
/// |---|---|---|
/// | `date`, `best`, `earliest`, `latest`, `until`, `began`, `from` | date | |
/// | `limit` | temperature | night low outdoors |
/// | `inside` | temperature | limit of the plant where it stands |
/// | `hold` | difference | degrees the place stays above outdoors at the coldest hour |
/// | `chance` | share | of years for a freeze date, of single nights for a nightly low |
/// | `days` | days | always positive |
/// | `seasons`, `count`, `number`, `minutes`, `available` | count | |
/// | `plant`, `place`, `chore`, `first`, `last`, `key` | text | |
pub const MESSAGES: &[(&str, &[&str])] = &[
    // What a date rests on.
    // By `date`, the first autumn night at or below `limit` has come in `chance` of the years.
    ("reason-freeze-first", &["date", "limit", "chance"]),
    // After `date`, a night at or below `limit` still comes in `chance` of the springs.
    ("reason-freeze-last", &["date", "limit", "chance"]),
    // From `date` on (autumn), a single night reaches `limit` with more than this chance.
    ("reason-low-falls", &["date", "limit", "chance"]),
    // From `date` on (spring), a single night reaches `limit` with no more than this chance.
    ("reason-low-rises", &["date", "limit", "chance"]),
    // Counted from another chore, planned for or (`-done`) done on `date`.
    ("reason-after-chore", &["chore", "date"]),
    ("reason-after-chore-done", &["chore", "date"]),
    // `plant` is expected to reach the stage on `date`.
    ("reason-stage-growing", &["plant", "date"]),
    ("reason-stage-hardening", &["plant", "date"]),
    ("reason-stage-dormant", &["plant", "date"]),
    ("reason-stage-waking", &["plant", "date"]),
    ("reason-stage-out", &["plant", "date"]),
    // A calendar date: no better one is known.
    ("reason-calendar", &["date"]),
    // Follows one of the messages above: the chore is set this many days later or earlier than that date.
    ("reason-days-after", &["days"]),
    ("reason-days-before", &["days"]),
    // The earliest or latest date of the chore; the message after it says what it rests on.
    ("reason-earliest", &["earliest"]),
    ("reason-latest", &["latest"]),
    // The same, and after it plants die.
    ("reason-latest-killing", &["latest"]),
    // Why the limit is what it is; follows the message that names the limit.
    // `plant` is damaged at or below `limit` in winter; `-own`: by the grower's own figure.
    ("reason-limit-planting", &["plant", "limit"]),
    ("reason-limit-own", &["plant", "limit"]),
    // `plant` is damaged at or below `limit` while in leaf.
    ("reason-limit-in-leaf", &["plant", "limit"]),
    // `plant` is brought in when nights get to `limit`; may go out when they stay above it.
    ("reason-limit-move-in", &["plant", "limit"]),
    ("reason-limit-move-out", &["plant", "limit"]),
    // `place` usually stays `hold` above outdoors without or with its cover, so `plant`, which stands `inside`,
    // is in danger there when it is `limit` outdoors.
    ("reason-hold-bare", &["place", "hold", "plant", "inside", "limit"]),
    ("reason-hold-covered", &["place", "hold", "plant", "inside", "limit"]),
    // The plant of the limit is the tenderest of `count` plantings in `place`.
    ("reason-tenderest", &["plant", "place", "count"]),
    // The `number`th of a chore that comes every `days` until `until`; `-done`: counted from the day it was
    // last done.
    ("reason-repeat", &["number", "days", "until"]),
    ("reason-repeat-done", &["number", "days", "date"]),
    // What moved the day.
    // Not on its best date: the work days around it are full, or it is no work day.
    ("reason-levelled", &["best"]),
    // Must be done before another chore, which cannot come later than `date`.
    ("reason-before-chore", &["chore", "date"]),
    // Takes `minutes`, more than one day has: spread over `count` days.
    ("reason-several-days", &["minutes", "count"]),
    // Waits for another chore, which is planned for `date`.
    ("reason-waits-for", &["chore", "date"]),
    // The day was chosen by hand.
    ("reason-moved", &["date"]),
    // Its latest date was past when the grower began, but it still matters: due at once.
    ("reason-due-now", &["latest", "began"]),
    // It was settled, and the rule or what it was done for is no longer there.
    ("reason-settled-gone", &[]),
    // What the climate figures rest on.
    ("reason-basis-measured", &["seasons", "first", "last"]),
    ("reason-basis-typed", &[]),
    // What would change the date.
    // A station's daily record in place of the typed averages.
    ("reason-change-record", &[]),
    // An own limit of `plant`.
    ("reason-change-limit", &["plant"]),
    // A measured hold of `place` in place of the usual one.
    ("reason-change-hold", &["place"]),
    // Doing or moving the chore it is counted from.
    ("reason-change-chore", &["chore"]),
    // Problems of the plan; each is about a thing that is named beside it.
    // A planting has no winter place.
    ("problem-no-zone", &[]),
    // The plant of a planting (`key`) is not in the catalogue; it is left out.
    ("problem-unknown-plant", &["key"]),
    // A zone or planting names a shelter or zone (`key`) that does not exist.
    ("problem-no-place", &["key"]),
    // Nothing is known of the nights: only calendar dates can be given.
    ("problem-no-climate", &[]),
    // No night of the record comes to `limit` often enough: the chore is left out for `count` targets.
    ("problem-never-reached", &["limit", "chance", "count"]),
    // No way to date the chore gives a date: it is left out for `count` targets.
    ("problem-no-date", &["count"]),
    // The earliest date is after the latest; planned for the latest where that kills, else for the earliest.
    ("problem-window-empty", &["earliest", "latest"]),
    // `chore` must come first but cannot before `earliest`, after this chore's `latest`.
    ("problem-order", &["chore", "earliest", "latest"]),
    // The work of `date` takes `minutes`, of which the grower has `available`; no other day is free for it in time.
    ("problem-overload", &["date", "minutes", "available"]),
    // There is no work day left between `from` and `latest`; planned for a day off.
    ("problem-no-work-day", &["from", "latest"]),
    // No free work day by `latest`; planned for `date`, which nothing kills.
    ("problem-late", &["latest", "date"]),
    // Moved by hand past the killing date, past the latest date, or before the earliest.
    ("problem-moved-past-killing", &["date", "latest"]),
    ("problem-moved-past-latest", &["date", "latest"]),
    ("problem-moved-too-early", &["date", "earliest"]),
    // Moved by hand before `chore`, which must come first and is planned for `date`.
    ("problem-moved-before", &["chore", "date"]),
    // Done while `chore`, which must come first, is open.
    ("problem-done-before", &["chore"]),
    // `count` chores were over before the grower began and are left out.
    ("problem-began-late", &["count", "began"]),
];

#[cfg(test)]
#[path = "reason_test.rs"]
mod tests;
