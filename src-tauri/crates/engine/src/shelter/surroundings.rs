//! What a night depends on besides its own low: the days before it and the ground.

use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::GroundWave;
use crate::climate::{Climate, DailyTemps, SeasonDay};
use crate::site::Hemisphere;

/// Days before a night that settle soil and pots.
const DAYS_BEFORE: u64 = 14;
/// Kelvin between the low and the high of a day where no record tells (common practice, no source).
const USUAL_RANGE_K: f64 = 8.0;
/// Days of a month in a record from which its mean range is taken.
const FEWEST_DAYS: usize = 20;
/// Most kelvin from a day's high down to the low of the night after it (common practice, no source).
const MOST_FALL_K: f64 = 14.0;

/// What the days before a night are known from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum KnownFrom {
    /// The record's own days, most of them.
    Measured,
    /// What is usual at the date by the site's climate.
    Climate,
    /// What is usual at the date for the latitude.
    Latitude,
}

/// The days before a night and the ground.
#[derive(Debug, Clone, PartialEq)]
pub struct Surroundings {
    /// Yearly wave of the ground.
    pub ground: GroundWave,
    /// Daily extremes in order, ending with the day on which the night begins.
    pub recent: Vec<DailyTemps>,
    /// What most of these days are known from.
    pub known_from: KnownFrom,
    /// High of the day after the night in °C.
    pub next_high_c: f64,
}

impl Surroundings {
    /// The surroundings of a night: recorded days where the record reaches up to it, else the median low of the date
    /// with the mean daily range of the month.
    ///
    /// * `latitude_deg` — degrees north
    /// * `climate` — nightly lows of the site; absent where nothing is known
    /// * `record` — the days of its record in order of date; empty without one
    /// * `night_of`, `low_c` — the date on which the night begins and its outdoor low in °C
    ///
    /// The days on either side of the night are not taken more than 14 K warmer than its low.
    pub fn of(
        latitude_deg: f64,
        climate: Option<&Climate>,
        record: &[DailyTemps],
        night_of: NaiveDate,
        low_c: f64,
    ) -> Self {
        let hemisphere = Hemisphere::of_latitude(latitude_deg);
        let range_k = monthly_range_k(record, night_of.month()).unwrap_or(USUAL_RANGE_K);
        let ground = GroundWave::from_days(record, hemisphere)
            .or_else(|| climate.and_then(|climate| from_lows(climate, range_k, hemisphere)))
            .unwrap_or_else(|| GroundWave::by_latitude(latitude_deg));
        let usual = |date: NaiveDate| {
            let by_climate = climate.and_then(|c| c.lows().quantile_c(SeasonDay::of(date, hemisphere), 0.5));
            let min_c = by_climate
                .unwrap_or_else(|| ground.temp_c(0.0, f64::from(date.ordinal0()) + 0.5) - range_k / 2.0);
            DailyTemps { date, min_c: Some(min_c), max_c: Some(min_c + range_k) }
        };
        let mut measured = 0;
        let mut recent: Vec<DailyTemps> = (0..=DAYS_BEFORE)
            .rev()
            .filter_map(|back| night_of.checked_sub_days(Days::new(back)))
            .map(|date| match whole_day(record, date) {
                Some(day) => {
                    measured += 1;
                    day
                }
                None => usual(date),
            })
            .collect();
        let usual_high_c = recent.last().and_then(|day| day.max_c).unwrap_or(low_c);
        let high_c = usual_high_c.min(low_c + MOST_FALL_K);
        if let Some(last) = recent.last_mut() {
            last.max_c = Some(high_c);
            last.min_c = last.min_c.map(|min| min.min(high_c));
        }
        let known_from = match climate {
            _ if measured > recent.len() / 2 => KnownFrom::Measured,
            Some(_) => KnownFrom::Climate,
            None => KnownFrom::Latitude,
        };
        Self { ground, recent, known_from, next_high_c: high_c.max(low_c) }
    }
}

/// The recorded extremes of a date, when both are there.
fn whole_day(record: &[DailyTemps], date: NaiveDate) -> Option<DailyTemps> {
    let index = record.binary_search_by_key(&date, |day| day.date).ok()?;
    let day = record[index];
    (day.min_c.is_some() && day.max_c.is_some()).then_some(day)
}

/// Mean daily range of a month in kelvin; absent with too few days.
fn monthly_range_k(record: &[DailyTemps], month: u32) -> Option<f64> {
    let ranges: Vec<f64> = record
        .iter()
        .filter(|day| day.date.month() == month)
        .filter_map(|day| Some(day.max_c? - day.min_c?))
        .collect();
    (ranges.len() >= FEWEST_DAYS).then(|| ranges.iter().sum::<f64>() / ranges.len() as f64)
}

/// The ground's wave from median lows by month; absent for a climate without nights.
fn from_lows(climate: &Climate, range_k: f64, hemisphere: Hemisphere) -> Option<GroundWave> {
    let means: Vec<f64> = (1..=12)
        .filter_map(|month| NaiveDate::from_ymd_opt(2001, month, 15))
        .filter_map(|date| climate.lows().quantile_c(SeasonDay::of(date, hemisphere), 0.5))
        .map(|low_c| low_c + range_k / 2.0)
        .collect();
    let low = means.iter().copied().min_by(f64::total_cmp)?;
    let high = means.iter().copied().max_by(f64::total_cmp)?;
    let mean = means.iter().sum::<f64>() / means.len() as f64;
    Some(GroundWave::from_air(mean, (high - low) / 2.0, hemisphere))
}

#[cfg(test)]
#[path = "surroundings_test.rs"]
mod tests;
