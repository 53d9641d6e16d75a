//! The weather of a night that is still to come.

use chrono::{Duration, NaiveDate};

use super::{NightError, NightOutlook};
use crate::climate::DailyTemps;
use crate::climate::hourly::{DailyAssumptions, WeatherSeries, from_daily};
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
    outlook.check()?;
    let mut days: Vec<DailyTemps> = recent.iter().copied().filter(|d| d.date <= outlook.night_of).collect();
    let last_high_c = days.iter().rev().find_map(|d| d.max_c).unwrap_or(outlook.low_c + 6.0);
    let high_c = outlook.next_high_c.unwrap_or(last_high_c).max(outlook.low_c);
    if days.last().is_none_or(|d| d.date < outlook.night_of) {
        let evening = DailyTemps {
            date: outlook.night_of,
            min_c: days.iter().rev().find_map(|d| d.min_c),
            max_c: Some(last_high_c),
        };
        days.push(evening);
    }
    // One day more than nights, so that the last night has its noon.
    for night in 1..=nights.max(1) as i64 + 1 {
        days.push(DailyTemps {
            date: outlook.night_of + Duration::days(night),
            min_c: Some(outlook.low_c),
            max_c: Some(high_c),
        });
    }
    let assumptions = DailyAssumptions { wind_m_per_s: outlook.wind_m_per_s, ..DailyAssumptions::default() };
    let mut series = from_daily(place, &days, assumptions)?;
    let from = night_start(place, outlook.night_of, &series);
    for hour in &mut series.hours[from..] {
        hour.cloud_fraction = outlook.cloud_fraction;
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
