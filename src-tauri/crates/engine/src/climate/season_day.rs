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

    /// Whether this slot has a date in the season that starts in `start_year`: false for the slot of 29 February
    /// in common years.
    pub fn is_in(self, start_year: i32, hemisphere: Hemisphere) -> bool {
        Self::of(self.date(start_year, hemisphere), hemisphere) == self
    }

    /// Days from 1 January to the start of the season, in a leap year.
    fn shift(hemisphere: Hemisphere) -> u32 {
        match hemisphere {
            Hemisphere::Northern => 182,
            Hemisphere::Southern => 0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Hemisphere::{Northern, Southern};

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    #[test]
    fn seasons_start_in_midsummer() {
        assert_eq!(SeasonDay::of(date("2023-07-01"), Northern).index(), 0);
        assert_eq!(SeasonDay::of(date("2024-06-30"), Northern).index(), 365);
        assert_eq!(SeasonDay::of(date("2024-01-01"), Southern).index(), 0);
        assert_eq!(SeasonDay::of(date("2024-12-31"), Southern).index(), 365);
        assert_eq!(Northern.season_year(date("2024-06-30")), 2023);
        assert_eq!(Northern.season_year(date("2024-07-01")), 2024);
        assert_eq!(Southern.season_year(date("2024-12-31")), 2024);
    }

    #[test]
    fn every_date_comes_back_from_its_slot() {
        for hemisphere in [Northern, Southern] {
            for day in date("1999-06-01").iter_days().take(5 * 366) {
                let slot = SeasonDay::of(day, hemisphere);
                let season = hemisphere.season_year(day);
                assert_eq!(slot.date(season, hemisphere), day, "{hemisphere:?}");
                assert!(slot.is_in(season, hemisphere));
            }
        }
    }

    #[test]
    fn the_slot_of_29_february_is_only_in_leap_years() {
        for (hemisphere, leap, common) in [(Northern, 2023, 2024), (Southern, 2024, 2023)] {
            let slot = SeasonDay::of(date("2024-02-29"), hemisphere);
            assert!(slot.is_in(leap, hemisphere));
            assert!(!slot.is_in(common, hemisphere));
            assert_eq!(slot.date(leap, hemisphere), date("2024-02-29"));
            let absent = SeasonDay::SLOTS
                - (0..366).filter(|&s| SeasonDay::from_index(s).is_in(common, hemisphere)).count();
            assert_eq!(absent, 1);
        }
        let slot = SeasonDay::of(date("2024-02-29"), Northern);
        assert_eq!(slot.date(2024, Northern), date("2025-03-01"));
        let slot = SeasonDay::of(date("2024-02-29"), Southern);
        assert_eq!(slot.date(2023, Southern), date("2023-03-01"));
    }

    #[test]
    fn the_same_day_has_the_same_slot_in_every_year() {
        let slots: Vec<usize> = (1990..2000)
            .map(|year| SeasonDay::of(NaiveDate::from_ymd_opt(year, 10, 12).unwrap(), Northern).index())
            .collect();
        assert!(slots.iter().all(|&slot| slot == slots[0]));
    }
}
