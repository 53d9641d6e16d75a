//! Days of a season, comparable between years.

use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::site::Hemisphere;

/// Slot 0 to 365 of a season: 1 July is 0 in the north, 1 January in the south.
///
/// Every calendar day has the same slot in each year; 29 February has a slot of its own that stays empty in
/// common years. Differences across the end of February are therefore one too large in common years.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
pub struct SeasonDay(u16);

/// A leap year, so that each month and day has a place.
const LEAP_YEAR: i32 = 2000;

impl SeasonDay {
    /// Number of slots.
    pub const SLOTS: usize = 366;

    /// The slot of a date.
    pub fn of(date: NaiveDate, hemisphere: Hemisphere) -> Self {
        let days_from_january = NaiveDate::from_ymd_opt(LEAP_YEAR, date.month(), date.day())
            .map_or(0, |in_leap_year| in_leap_year.ordinal0());
        let shift = Self::shift(hemisphere);
        Self(((days_from_january + 366 - shift) % 366) as u16)
    }

    /// A slot by its index; an index past the season wraps into it.
    pub fn from_index(index: usize) -> Self {
        Self((index % Self::SLOTS) as u16)
    }

    /// The slot's index, 0 to 365.
    pub fn index(self) -> usize {
        usize::from(self.0)
    }

    /// The date of this slot in the season that starts in `start_year`; the slot of 29 February becomes
    /// 1 March in common years.
    pub fn date(self, start_year: i32, hemisphere: Hemisphere) -> NaiveDate {
        let shift = Self::shift(hemisphere);
        let from_january = (u32::from(self.0) + shift) % 366;
        let year = start_year + i32::from(shift > 0 && from_january < shift);
        let in_leap_year =
            NaiveDate::from_ymd_opt(LEAP_YEAR, 1, 1).unwrap_or_default() + Days::new(from_january.into());
        NaiveDate::from_ymd_opt(year, in_leap_year.month(), in_leap_year.day())
            .or_else(|| NaiveDate::from_ymd_opt(year, 3, 1))
            .unwrap_or_default()
    }

    /// Days from 1 January to the start of the season, in a leap year.
    fn shift(hemisphere: Hemisphere) -> u32 {
        match hemisphere {
            Hemisphere::Northern => 182,
            Hemisphere::Southern => 0,
        }
    }
}
