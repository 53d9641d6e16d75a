//! The calendar file.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks for the chores of a season as a calendar.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct CalendarRequest {
    /// The site.
    pub site_id: String,
    /// Year in which the season starts; absent for the one that today falls in.
    pub start_year: Option<i32>,
    /// Hour of the day at which chores stand in the calendar, 0 to 23; absent for chores of the whole day.
    pub at_hour: Option<u32>,
    /// Minutes before that at which the calendar rings; absent for no alarm.
    pub alarm_minutes_before: Option<u32>,
}

/// A calendar file (RFC 5545).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct CalendarFile {
    /// Suggested name.
    pub file_name: String,
    /// Its text.
    pub text: String,
    /// Number of entries.
    pub entries: u32,
}
