//! What is due today.

use chrono::{DateTime, NaiveDate, Utc};
use hibernacle_engine::season::{PlannedChore, Season};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks for what is due.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct TodayRequest {
    /// The site; absent for the one used last.
    pub site_id: Option<String>,
    /// Another day than today.
    pub on: Option<NaiveDate>,
}

/// What is due on a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Today {
    /// The day.
    pub date: NaiveDate,
    /// The date on which the night to call begins: the night under way until the sun rises, then the coming one.
    pub night_of: NaiveDate,
    /// The season of these chores, for naming them in a change.
    pub season: Season,
    /// Sunset; absent where the sun does not set that day.
    pub sunset_utc: Option<DateTime<Utc>>,
    /// Daylight in hours.
    pub day_length_h: f64,
    /// Chores by the place they belong to, places with late chores first.
    pub groups: Vec<TodayGroup>,
    /// Chores done or skipped on the day, for undoing.
    pub settled: Vec<PlannedChore>,
    /// The next chore after today, where nothing is due.
    pub next: Option<PlannedChore>,
}

/// Chores of one place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TodayGroup {
    /// Shelter and zone, or the site.
    pub place: String,
    /// Zone or shelter identifier; absent for the site.
    pub place_id: Option<String>,
    /// Chores past their latest date.
    pub late: Vec<PlannedChore>,
    /// Chores planned for today or earlier.
    pub due: Vec<PlannedChore>,
    /// Chores of the next seven days.
    pub soon: Vec<PlannedChore>,
}
