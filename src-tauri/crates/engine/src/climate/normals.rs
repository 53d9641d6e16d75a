//! Nightly lows arranged by season: what every climate statistic is computed from.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{ClimateRecord, SeasonDay};
use crate::site::Hemisphere;

/// What the lows rest on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum Basis {
    /// A station's record.
    Measured {
        /// Start year of the first season used.
        first_season: i32,
        /// Start year of the last season used.
        last_season: i32,
        /// Seasons with enough days to be used.
        seasons: u32,
    },
    /// A parametric year built from averages that the grower typed.
    Typed,
}

/// Daily lows of one season by slot.
#[derive(Debug, Clone, PartialEq)]
pub struct SeasonLows {
    /// Year in which the season starts.
    pub start_year: i32,
    /// Daily minimum in °C by [`SeasonDay`] index; always [`SeasonDay::SLOTS`] long.
    pub lows_c: Vec<Option<f64>>,
}

/// Seasons of daily lows at one place, with what they rest on.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    /// What the lows rest on.
    pub basis: Basis,
    /// Which half of the year holds the winter.
    pub hemisphere: Hemisphere,
    /// The seasons in order.
    pub seasons: Vec<SeasonLows>,
}

impl Climate {
    /// Arranges a station's record by season.
    pub fn from_record(record: &ClimateRecord, hemisphere: Hemisphere) -> Self {
        let mut seasons: Vec<SeasonLows> = Vec::new();
        for day in &record.days {
            let start_year = hemisphere.season_year(day.date);
            if seasons.last().is_none_or(|season| season.start_year != start_year) {
                seasons.push(SeasonLows { start_year, lows_c: vec![None; SeasonDay::SLOTS] });
            }
            if let Some(season) = seasons.last_mut() {
                season.lows_c[SeasonDay::of(day.date, hemisphere).index()] = day.min_c;
            }
        }
        let basis = Basis::Measured {
            first_season: seasons.first().map_or(0, |season| season.start_year),
            last_season: seasons.last().map_or(0, |season| season.start_year),
            seasons: seasons.len() as u32,
        };
        Self { basis, hemisphere, seasons }
    }
}
