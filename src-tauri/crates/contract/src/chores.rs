//! Ticking, skipping and moving chores.

use chrono::{DateTime, NaiveDate, Utc};
use hibernacle_engine::season::{MarkKind, PlannedChore, Reason};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Names a chore of a season.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ChoreRef {
    /// The site.
    pub site_id: String,
    /// Year in which the season starts.
    pub start_year: i32,
    /// Key of the chore.
    pub chore_key: String,
}

/// A chore was done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ChoreDone {
    /// The chore.
    pub chore: ChoreRef,
    /// The day; absent for today.
    pub on: Option<NaiveDate>,
}

/// A chore is left out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ChoreSkip {
    /// The chore.
    pub chore: ChoreRef,
    /// Why.
    pub reason: String,
}

/// A chore gets another day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ChoreMove {
    /// The chore.
    pub chore: ChoreRef,
    /// The day.
    pub to: NaiveDate,
}

/// A chore as it stands after a change.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ChoreChanged {
    /// The chore.
    pub chore: PlannedChore,
    /// A warning, for instance that its day is past the killing date or that something else must come first.
    pub warning: Option<Reason>,
    /// Names of zones that this change closed up.
    pub closed_up: Vec<String>,
}

/// Everything that was done with a chore.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ChoreHistory {
    /// In the order of time.
    pub entries: Vec<HistoryEntry>,
}

/// One entry of a chore's history.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HistoryEntry {
    /// When.
    pub at_utc: DateTime<Utc>,
    /// What was done.
    pub kind: MarkKind,
    /// When it was undone; absent where it stands.
    pub undone_at_utc: Option<DateTime<Utc>>,
}
