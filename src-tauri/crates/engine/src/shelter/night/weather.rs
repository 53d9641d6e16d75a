//! The weather of a night that is still to come.

use chrono::{Duration, NaiveDate};

use super::{NightError, NightOutlook};
use crate::climate::DailyTemps;
use crate::climate::hourly::{DailyAssumptions, WeatherSeries, from_daily};
use crate::field::FieldError;
use crate::sun::Place;

/// Weather up to and through a night: the recent days, the night as expected, and the day after.
///
/// * `place` — where
/// * `recent` — daily extremes in order, ending with the day on which the night begins; ten or more let the soil settle
/// * `outlook` — the night
/// * `nights` — how many nights like it follow one another, at least 1
///
/// # Errors
/// [`NightError`] when the outlook or the days cannot be used.
pub fn night_weather(
    place: Place,
    recent: &[DailyTemps],
    outlook: &NightOutlook,
    nights: usize,
) -> Result<WeatherSeries, NightError> {
    spell_weather(place, recent, &repeated(outlook, nights))
}

/// A night and so many more like it, on the dates that follow.
pub(super) fn repeated(outlook: &NightOutlook, nights: usize) -> Vec<NightOutlook> {
    (0..nights.max(1) as i64)
        .map(|night| NightOutlook { night_of: outlook.night_of + Duration::days(night), ..*outlook })
        .collect()
}

/// Weather up to and through a row of nights that differ.
///
/// * `place`, `recent` — as for [`night_weather`], `recent` ending with the day on which the first night begins
/// * `nights` — the nights in order, one for every date; clouds are each night's own from its noon to the next, the wind
///   is their mean
///
/// # Errors
/// [`NightError`] without nights, with a date left out, and when a night or the days cannot be used.
pub fn spell_weather(
    place: Place,
    recent: &[DailyTemps],
    nights: &[NightOutlook],
) -> Result<WeatherSeries, NightError> {
    let (Some(first), Some(last)) = (nights.first(), nights.last()) else {
        return Err(FieldError::new("nights", "has no night", "give at least one night").into());
    };
    for (number, night) in nights.iter().enumerate() {
        night.check()?;
        if night.night_of != first.night_of + Duration::days(number as i64) {
            return Err(FieldError::new("nights", "leaves out a date", "give every night in turn").into());
        }
    }
    let mut days: Vec<DailyTemps> = recent.iter().copied().filter(|d| d.date <= first.night_of).collect();
    let last_high_c = days.iter().rev().find_map(|d| d.max_c).unwrap_or(first.low_c + 6.0);
    if days.last().is_none_or(|d| d.date < first.night_of) {
        let evening = DailyTemps {
            date: first.night_of,
            min_c: days.iter().rev().find_map(|d| d.min_c),
            max_c: Some(last_high_c),
        };
        days.push(evening);
    }
    // One day more than nights, so that the last night has its noon.
    let after = NightOutlook { night_of: last.night_of + Duration::days(1), ..*last };
    for night in nights.iter().chain([&after]) {
        days.push(DailyTemps {
            date: night.night_of + Duration::days(1),
            min_c: Some(night.low_c),
            max_c: Some(night.next_high_c.unwrap_or(last_high_c).max(night.low_c)),
        });
    }
    let wind_m_per_s = nights.iter().map(|night| night.wind_m_per_s).sum::<f64>() / nights.len() as f64;
    let assumptions = DailyAssumptions { wind_m_per_s, ..DailyAssumptions::default() };
    let mut series = from_daily(place, &days, assumptions)?;
    let from = night_start(place, first.night_of, &series);
    for (index, hour) in series.hours[from..].iter_mut().enumerate() {
        hour.cloud_fraction = nights.get(index / 24).unwrap_or(last).cloud_fraction;
    }
    Ok(series)
}

/// Index of the first hour after noon by the sun on a date.
pub(super) fn night_start(place: Place, date: NaiveDate, series: &WeatherSeries) -> usize {
    let noon = date.and_time(chrono::NaiveTime::MIN).and_utc() + Duration::hours(12)
        - Duration::seconds((place.longitude_deg * 240.0) as i64);
    let hours = (noon - series.start).num_seconds().max(0) as usize;
    hours.div_ceil(3600).min(series.hours.len())
}
