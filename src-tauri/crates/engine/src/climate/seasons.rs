//! Nightly lows arranged by season: what every climate statistic is computed from.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{ClimateRecord, DailyLows, SeasonDay};
use crate::site::Hemisphere;

/// What the lows rest on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum Basis {
    /// A station's record.
    Measured {
        /// Start year of the first season with any night.
        first_season: i32,
        /// Start year of the last season with any night.
        last_season: i32,
        /// Seasons with at least nine nights in ten. Each statistic says by itself how many it could judge.
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

/// Share of the nights that a season needs to count as observed.
const OBSERVED_SHARE: f64 = 0.9;

impl SeasonLows {
    /// A season without any night yet.
    pub fn empty(start_year: i32) -> Self {
        Self { start_year, lows_c: vec![None; SeasonDay::SLOTS] }
    }

    /// Number of nights with a low.
    pub fn nights(&self) -> usize {
        self.lows_c.iter().flatten().count()
    }

    /// Whether at least nine nights in ten have a low.
    pub fn is_observed(&self) -> bool {
        self.nights() as f64 >= OBSERVED_SHARE * 365.0
    }
}

/// Seasons of daily lows at one place, with what they rest on.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    basis: Basis,
    hemisphere: Hemisphere,
    seasons: Vec<SeasonLows>,
    lows: DailyLows,
}

impl Climate {
    /// Seasons in order of their start year, incomplete ones included.
    pub fn new(basis: Basis, hemisphere: Hemisphere, seasons: Vec<SeasonLows>) -> Self {
        let lows = DailyLows::new(&seasons);
        Self { basis, hemisphere, seasons, lows }
    }

    /// Arranges a station's record by season.
    pub fn from_record(record: &ClimateRecord, hemisphere: Hemisphere) -> Self {
        let mut seasons: Vec<SeasonLows> = Vec::new();
        for day in &record.days {
            let Some(low_c) = day.min_c else { continue };
            let start_year = hemisphere.season_year(day.date);
            if seasons.last().is_none_or(|season| season.start_year != start_year) {
                seasons.push(SeasonLows::empty(start_year));
            }
            if let Some(season) = seasons.last_mut() {
                season.lows_c[SeasonDay::of(day.date, hemisphere).index()] = Some(low_c);
            }
        }
        let basis = Basis::Measured {
            first_season: seasons.first().map_or(0, |season| season.start_year),
            last_season: seasons.last().map_or(0, |season| season.start_year),
            seasons: seasons.iter().filter(|season| season.is_observed()).count() as u32,
        };
        Self::new(basis, hemisphere, seasons)
    }

    /// What the lows rest on.
    pub fn basis(&self) -> &Basis {
        &self.basis
    }

    /// Which half of the year holds the winter.
    pub fn hemisphere(&self) -> Hemisphere {
        self.hemisphere
    }

    /// The seasons in order; incomplete ones are kept, since their nights count for [`Climate::lows`].
    pub fn seasons(&self) -> &[SeasonLows] {
        &self.seasons
    }

    /// Distribution of the nightly low by date.
    pub fn lows(&self) -> &DailyLows {
        &self.lows
    }

    /// Winters that an estimate from `judged` seasons is worth.
    ///
    /// Seasons drawn from typed averages hold no more knowledge than the averages: they count as ten winters at
    /// most (common practice, no source), so that intervals do not shrink with the number of draws.
    pub(super) fn worth(&self, judged: usize) -> usize {
        match self.basis {
            Basis::Measured { .. } => judged,
            Basis::Typed => judged.min(10),
        }
    }
}
