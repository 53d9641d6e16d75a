//! Hourly weather from daily extremes.

use chrono::{DateTime, Datelike, Duration, NaiveDate, NaiveTime, Utc};

use super::{
    DayExtremes, Night, WeatherError, WeatherProblem, WeatherReport, WeatherSeries, complete, temp_at_c,
};
use crate::climate::DailyTemps;
use crate::sun::{Place, daily::day_length_h};

/// Days in a row without extremes that are filled from their neighbours; more is a gap.
pub(crate) const LONGEST_FILLED_DAYS: usize = 5;

/// What is taken for quantities that a source does not hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DailyAssumptions {
    /// Mean wind in m/s; 2 is the mean of over 2000 stations (FAO-56).
    pub wind_m_per_s: f64,
    /// Kelvin by which the dew point lies below the daily minimum: 0 in humid, 2 in dry climates (FAO-56 eq. 48).
    pub dew_below_minimum_k: f64,
    /// Coefficient of radiation from the temperature range: 0.16 inland, 0.19 on coasts (FAO-56 eq. 50).
    pub radiation_coefficient: f64,
}

impl Default for DailyAssumptions {
    fn default() -> Self {
        Self { wind_m_per_s: 2.0, dew_below_minimum_k: 0.0, radiation_coefficient: 0.16 }
    }
}

/// Hourly weather from daily extremes: temperature by [`temp_at_c`] with one night curve, dew point from the minimum,
/// cloud and sun from the daily range, wind as assumed.
///
/// * `place` — where
/// * `days` — extremes in order of date; dates and values may be missing
/// * `assumptions` — what stands in for what a daily record does not hold
///
/// # Errors
/// [`WeatherError`] when fewer than three days are usable, or a gap is longer than five days.
pub fn from_daily(
    place: Place,
    days: &[DailyTemps],
    assumptions: DailyAssumptions,
) -> Result<WeatherSeries, WeatherError> {
    let (first, extremes, mut problems) = filled_days(place, days)?;
    let midnight = solar_midnight(place, first);
    let mut reports = Vec::with_capacity(extremes.len() * 24);
    for (index, today) in extremes.iter().enumerate() {
        let yesterday = &extremes[index.saturating_sub(1)];
        let tomorrow = &extremes[(index + 1).min(extremes.len() - 1)];
        let day_start = midnight + Duration::days(index as i64);
        let mut at = next_full_hour(day_start);
        while at < day_start + Duration::days(1) {
            let hour = (at - day_start).num_seconds() as f64 / 3600.0;
            let temp_c = temp_at_c(yesterday, today, tomorrow, hour, Night::Continuous);
            let mut report = WeatherReport::of_temperature(at, temp_c);
            report.dew_point_c = Some(today.min_c - assumptions.dew_below_minimum_k);
            reports.push(report);
            at += Duration::hours(1);
        }
    }
    let mut series = complete(place, &reports, assumptions)?;
    problems.append(&mut series.problems);
    series.problems = problems;
    Ok(series)
}

/// Midnight of a date by the mean sun of the place.
fn solar_midnight(place: Place, date: NaiveDate) -> DateTime<Utc> {
    date.and_time(NaiveTime::MIN).and_utc() - Duration::seconds((place.longitude_deg * 240.0) as i64)
}

fn next_full_hour(at: DateTime<Utc>) -> DateTime<Utc> {
    let past_s = at.timestamp().rem_euclid(3600);
    if past_s == 0 { at } else { at + Duration::seconds(3600 - past_s) }
}

/// Every day from the first to the last usable one, short gaps filled along a straight line.
fn filled_days(
    place: Place,
    days: &[DailyTemps],
) -> Result<(NaiveDate, Vec<DayExtremes>, Vec<WeatherProblem>), WeatherError> {
    let known: Vec<(NaiveDate, f64, f64)> = days
        .iter()
        .filter_map(|d| Some((d.date, d.min_c?, d.max_c?)))
        .filter(|(_, min, max)| min.is_finite() && max.is_finite() && min <= max)
        .collect();
    let [(first, ..), .., (last, ..)] = known[..] else {
        return Err(WeatherError::TooShort { found: known.len() });
    };
    if (last - first).num_days() < 2 {
        return Err(WeatherError::TooShort { found: known.len() });
    }
    let mut extremes = vec![day_of(place, first, known[0].1, known[0].2)];
    let mut problems = Vec::new();
    for pair in known.windows(2) {
        let [(from, from_min, from_max), (to, to_min, to_max)] = [pair[0], pair[1]];
        let step_days = (to - from).num_days();
        let missing = (step_days - 1).max(0) as usize;
        let gap_start = solar_midnight(place, from + Duration::days(1));
        if missing > LONGEST_FILLED_DAYS {
            return Err(WeatherError::Gap { from: gap_start, days: missing as f64 });
        }
        if missing > 0 {
            problems.push(WeatherProblem::DaysFilled { from: gap_start, days: missing as u32 });
        }
        for step in 1..=step_days {
            let share = step as f64 / step_days as f64;
            let min_c = from_min + (to_min - from_min) * share;
            let max_c = from_max + (to_max - from_max) * share;
            extremes.push(day_of(place, from + Duration::days(step), min_c, max_c));
        }
    }
    Ok((first, extremes, problems))
}

fn day_of(place: Place, date: NaiveDate, min_c: f64, max_c: f64) -> DayExtremes {
    let half_h = day_length_h(place.latitude_deg, date.ordinal()) / 2.0;
    DayExtremes { min_c, max_c, sunrise_h: 12.0 - half_h, sunset_h: 12.0 + half_h }
}
