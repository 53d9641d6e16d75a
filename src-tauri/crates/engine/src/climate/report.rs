//! Everything a climate says about freezes, in one report.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::annual_minimum::{AnnualMinimum, annual_minimum};
use super::freeze::{DateInterval, FreezeDates, first_autumn, last_spring};
use super::freeze_free::{FreezeFreeSeason, freeze_free_season};
use super::nights::{FreezeNights, freeze_nights};
use super::{Basis, Climate};
use crate::season::Event;

/// Thresholds in °C for which freeze statistics are usually given: 32, 28, 24 and 20 °F.
pub const THRESHOLDS_C: [f64; 4] = [0.0, -2.2, -4.4, -6.7];

/// Freeze statistics of a climate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FreezeReport {
    /// What they rest on.
    pub basis: Basis,
    /// Start year of the season in which dates are given.
    pub season_start_year: i32,
    /// One entry per threshold and event.
    pub events: Vec<FreezeEvent>,
    /// Nights at or below each threshold, per season; a threshold is absent when no season is complete enough.
    pub nights: Vec<FreezeNights>,
    /// Length of the freeze-free season, per threshold.
    pub seasons: Vec<FreezeFreeSeason>,
    /// The coldest night of a season; absent with fewer than two seasons that are complete enough.
    pub annual_minimum: Option<AnnualMinimum>,
}

/// First autumn or last spring occurrence of a threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FreezeEvent {
    /// Threshold in °C.
    pub threshold_c: f64,
    /// First or last.
    pub event: Event,
    /// Seasons that could be judged; for typed averages, those that were drawn.
    pub seasons: u32,
    /// Of these, seasons in which it occurred.
    pub seasons_with: u32,
    /// Date with a 10 % chance: of coming earlier (autumn) or later (spring). Absent where fewer years have any,
    /// or fewer than three.
    pub p10: Option<DateInterval>,
    /// Median date.
    pub p50: Option<DateInterval>,
    /// Date with a 90 % chance.
    pub p90: Option<DateInterval>,
}

/// Freeze statistics for the given thresholds in °C ([`THRESHOLDS_C`] for none), with dates in the season that
/// starts in `season_start_year`.
pub fn freeze_report(climate: &Climate, thresholds_c: &[f64], season_start_year: i32) -> FreezeReport {
    let thresholds_c = if thresholds_c.is_empty() { &THRESHOLDS_C } else { thresholds_c };
    let event = |dates: FreezeDates| {
        let at = |p| dates.interval(p).map(|found| found.dates(season_start_year, climate.hemisphere()));
        FreezeEvent {
            threshold_c: dates.threshold_c,
            event: dates.event,
            seasons: dates.seasons as u32,
            seasons_with: dates.seasons_with as u32,
            p10: at(0.1),
            p50: at(0.5),
            p90: at(0.9),
        }
    };
    FreezeReport {
        basis: climate.basis().clone(),
        season_start_year,
        events: thresholds_c
            .iter()
            .flat_map(|&limit_c| {
                [event(first_autumn(climate, limit_c)), event(last_spring(climate, limit_c))]
            })
            .collect(),
        nights: thresholds_c.iter().filter_map(|&limit_c| freeze_nights(climate, limit_c)).collect(),
        seasons: thresholds_c.iter().map(|&limit_c| freeze_free_season(climate, limit_c)).collect(),
        annual_minimum: annual_minimum(climate),
    }
}
