//! The plan of one season.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Caution, Phase, Reason, Stage, Weather};
use crate::site::Hemisphere;

/// One winter at a site.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Season {
    /// Year in which it starts.
    pub start_year: i32,
    /// Name by its years (`2026–27`; in the south `2026`).
    pub name: String,
    /// First day.
    pub starts_on: NaiveDate,
    /// Last day.
    pub ends_on: NaiveDate,
}

impl Season {
    /// The season that starts in a year.
    pub fn starting(start_year: i32, hemisphere: Hemisphere) -> Self {
        let (name, month) = match hemisphere {
            Hemisphere::Northern => (format!("{start_year}–{:02}", (start_year + 1).rem_euclid(100)), 7),
            Hemisphere::Southern => (start_year.to_string(), 1),
        };
        let first = |year| NaiveDate::from_ymd_opt(year, month, 1).unwrap_or_default();
        Self {
            start_year,
            name,
            starts_on: first(start_year),
            ends_on: first(start_year + 1).pred_opt().unwrap_or_default(),
        }
    }

    /// The season that a date falls in.
    pub fn containing(date: NaiveDate, hemisphere: Hemisphere) -> Self {
        Self::starting(hemisphere.season_year(date), hemisphere)
    }
}

/// Kind of thing a chore is done for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum TargetKind {
    /// The whole site.
    Site,
    /// A shelter.
    Shelter,
    /// A zone.
    Zone,
    /// A planting.
    Planting,
}

/// What a chore is done for.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
pub struct Target {
    /// Kind of thing.
    pub kind: TargetKind,
    /// Its identifier.
    pub id: String,
    /// Its name, for reading.
    pub name: String,
    /// The shelter it is or is in, where it has one.
    pub shelter_id: Option<String>,
    /// The zone it is or is in, where it has one.
    pub zone_id: Option<String>,
}

/// From when to when a chore can be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct DayWindow {
    /// Not before this.
    pub earliest: NaiveDate,
    /// The date to aim at.
    pub best: NaiveDate,
    /// Not after this.
    pub latest: NaiveDate,
}

/// Where a chore stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case", tag = "state")]
pub enum ChoreState {
    /// Still to do.
    Open,
    /// Done.
    Done {
        /// Local date on which it was done.
        on: NaiveDate,
    },
    /// Left out on purpose.
    Skipped {
        /// Local date of the decision.
        on: NaiveDate,
        /// Why.
        reason: String,
    },
}

/// A chore of the plan, with everything a grower needs to do it and to understand why.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PlannedChore {
    /// Stable key within the season: rule, target and, for a chore that comes again, its number
    /// (`winter-water/zone-id#3`). Re-planning keeps it.
    pub key: String,
    /// Key of the rule.
    pub rule: String,
    /// What to do.
    pub title: String,
    /// Part of the year's work.
    pub phase: Phase,
    /// What it is done for.
    pub target: Target,
    /// From when to when.
    pub window: DayWindow,
    /// Whether the latest date is a killing date.
    pub killing: bool,
    /// The day it is planned for, after levelling and moves by hand.
    pub due_on: NaiveDate,
    /// Whether the day was chosen by hand.
    pub moved: bool,
    /// Minutes it takes.
    pub minutes: u32,
    /// Weather it needs.
    pub weather: Vec<Weather>,
    /// Why, without figures.
    pub why: String,
    /// Why, with the figures.
    pub reasons: Vec<Reason>,
    /// How to prove that it is done well.
    pub proof: Option<String>,
    /// Dangers.
    pub cautions: Vec<Caution>,
    /// Keys of chores of this plan that come first.
    pub after: Vec<String>,
    /// Whether a zone counts as closed up only after it.
    pub required: bool,
    /// Where the rule comes from.
    pub source: String,
    /// Where it stands.
    pub state: ChoreState,
}

/// What a grower did with a chore; the newest mark of each kind counts, marks that were undone are gone.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Mark {
    /// Key of the chore.
    pub chore_key: String,
    /// What was done with it.
    pub kind: MarkKind,
    /// When.
    pub at_utc: DateTime<Utc>,
}

/// What can be done with a chore.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum MarkKind {
    /// It was done.
    Done {
        /// Local date.
        on: NaiveDate,
    },
    /// It was left out.
    Skipped {
        /// Local date of the decision.
        on: NaiveDate,
        /// Why.
        reason: String,
    },
    /// Its day was chosen by hand.
    Moved {
        /// The chosen day.
        to: NaiveDate,
    },
}

/// Something about the plan that the grower should know or mend.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PlanProblem {
    /// Chore, rule, zone or planting concerned, by name.
    pub about: String,
    /// What it is, as a message with figures (`problem-window-empty`, `problem-no-zone`, …).
    pub reason: Reason,
}

/// What a band of the season picture shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum BandKind {
    /// First autumn night at or below the threshold: from its 10 % to its 90 % date.
    FirstAutumn,
    /// Last spring night at or below the threshold: from its 90 % to its 10 % date.
    LastSpring,
}

/// A span of dates in which a freeze event falls in eight years of ten.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Band {
    /// First or last.
    pub kind: BandKind,
    /// Threshold in °C.
    pub threshold_c: f64,
    /// Start of the band.
    pub from: NaiveDate,
    /// Median.
    pub median: NaiveDate,
    /// End of the band.
    pub to: NaiveDate,
}

/// A stage of a planting as the climate lets expect it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct StageSpan {
    /// The planting.
    pub planting_id: String,
    /// The stage.
    pub stage: Stage,
    /// First day.
    pub from: NaiveDate,
    /// Last day.
    pub to: NaiveDate,
}

/// The plan of one season.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Plan {
    /// The season.
    pub season: Season,
    /// Chores in the order of their days, then of what must come first.
    pub chores: Vec<PlannedChore>,
    /// Freeze-date bands for the picture.
    pub bands: Vec<Band>,
    /// Expected stages of the plantings.
    pub stages: Vec<StageSpan>,
    /// What the grower should know or mend.
    pub problems: Vec<PlanProblem>,
}
