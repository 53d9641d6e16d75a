//! What a record covers, in a few figures.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Climate, ClimateRecord};
use crate::site::Hemisphere;

/// What a record covers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct RecordFigures {
    /// First day with a minimum.
    pub first_day: NaiveDate,
    /// Last day with a minimum.
    pub last_day: NaiveDate,
    /// Days with a minimum.
    pub days_with_min: u32,
    /// Share of days without a minimum between the first and the last, 0 to 1.
    pub missing_share: f64,
    /// Lowest minimum in °C and its day.
    pub lowest: (f64, NaiveDate),
    /// Seasons with at least nine nights in ten.
    pub seasons: u32,
}

impl RecordFigures {
    /// Figures of a record; `None` for one without any minimum.
    pub fn of(record: &ClimateRecord, hemisphere: Hemisphere) -> Option<Self> {
        let lows = || record.days.iter().filter_map(|day| Some((day.min_c?, day.date)));
        let (_, first_day) = lows().next()?;
        let (_, last_day) = lows().next_back()?;
        let lowest = lows().min_by(|a, b| a.0.total_cmp(&b.0))?;
        let days_with_min = lows().count() as u32;
        let span = (last_day - first_day).num_days() + 1;
        let climate = Climate::from_record(record, hemisphere);
        Some(Self {
            first_day,
            last_day,
            days_with_min,
            missing_share: 1.0 - f64::from(days_with_min) / span as f64,
            lowest,
            seasons: climate.seasons().iter().filter(|season| season.is_observed()).count() as u32,
        })
    }
}
