//! The nights of a forecast, each from noon to noon at the site.

use chrono::{DateTime, Days, NaiveDate, NaiveTime, TimeDelta, TimeZone, Utc};
use chrono_tz::Tz;
use hibernacle_contract::weather::ForecastNight;
use hibernacle_engine::climate::hourly::WeatherReport;
use hibernacle_engine::sun::Place;

/// Elevation of the sun's centre in degrees at which it sets.
const SUNSET_DEG: f64 = -50.0 / 60.0;
/// Hours before the second noon up to which a night must be told: its low comes around sunrise.
const MUST_REACH_H: i64 = 3;
/// Hour of the local clock before which what is left of a night still holds its low.
const BEFORE_DAWN_H: u32 = 5;
/// Most nights that are looked for.
const MOST_NIGHTS: u64 = 16;

/// The nights from one on that a forecast tells whole; of the first, which may be under way, the hours before dawn do.
///
/// * `tz`, `place` — of the site
/// * `tonight` — the date on which the first night begins there
/// * `hours` — of the forecast, in order
///
/// Low: the coldest hour from noon to noon. Clouds and wind: the mean of the hours with the sun down. Where a forecast
/// steps by six hours, the coldest moment may fall between two of them.
pub(super) fn nights(
    tz: Tz,
    place: Place,
    tonight: NaiveDate,
    hours: &[WeatherReport],
) -> Vec<ForecastNight> {
    (0..MOST_NIGHTS)
        .filter_map(|lead| {
            let night_of = tonight.checked_add_days(Days::new(lead))?;
            night(tz, place, night_of, lead as u32, hours)
        })
        .collect()
}

fn night(
    tz: Tz,
    place: Place,
    night_of: NaiveDate,
    lead_days: u32,
    hours: &[WeatherReport],
) -> Option<ForecastNight> {
    let next = night_of.succ_opt()?;
    let (from, to) = (local(tz, night_of, 12)?, local(tz, next, 12)?);
    let (first, last) = (hours.first()?.at, hours.last()?.at);
    let must_begin = if lead_days == 0 { BEFORE_DAWN_H } else { 0 };
    if first > local(tz, next, must_begin)? || last < to - TimeDelta::hours(MUST_REACH_H) {
        return None;
    }
    let within = |from: DateTime<Utc>, to: DateTime<Utc>| {
        hours.iter().filter(move |hour| hour.at >= from && hour.at < to)
    };
    let temps = |from, to| within(from, to).filter_map(|hour| Some((hour.at, hour.temp_c?)));
    let (low_at_utc, low_c) = temps(from, to).min_by(|a, b| a.1.total_cmp(&b.1))?;
    let high_c = temps(local(tz, next, 6)?, local(tz, next, 20)?).map(|(_, temp_c)| temp_c).reduce(f64::max);
    let is_dark = |hour: &&WeatherReport| place.quick_position(hour.at).elevation_deg < SUNSET_DEG;
    let mut dark: Vec<&WeatherReport> = within(from, to).filter(is_dark).collect();
    if dark.is_empty() {
        dark = within(from, to).collect();
    }
    Some(ForecastNight {
        night_of,
        lead_days,
        low_c,
        low_at_utc,
        next_high_c: high_c
            .filter(|_| last >= to + TimeDelta::hours(MUST_REACH_H))
            .map(|high| high.max(low_c)),
        cloud_fraction: mean(dark.iter().filter_map(|hour| hour.cloud_fraction)),
        wind_m_per_s: mean(dark.iter().filter_map(|hour| hour.wind_m_per_s)),
    })
}

/// A full hour of a date at the site; where the clock jumps over it, the first instant after.
fn local(tz: Tz, date: NaiveDate, hour: u32) -> Option<DateTime<Utc>> {
    let wall = date.and_time(NaiveTime::from_hms_opt(hour, 0, 0)?);
    let found = tz.from_local_datetime(&wall).earliest();
    found.or_else(|| tz.from_local_datetime(&(wall + TimeDelta::hours(1))).earliest()).map(|at| at.to_utc())
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (sum, count) = values.fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
    (count > 0.0).then(|| sum / count)
}

#[cfg(test)]
mod tests {
    use super::*;

    const VIENNA: Tz = chrono_tz::Europe::Vienna;
    const PLACE: Place = Place { latitude_deg: 47.7, longitude_deg: 13.1, elevation_m: 470.0 };

    fn instant(text: &str) -> DateTime<Utc> {
        text.parse().unwrap()
    }

    fn date(text: &str) -> NaiveDate {
        text.parse().unwrap()
    }

    /// Hours of a step with temperatures that fall to a low at 06:00 UTC each day, a degree lower day by day.
    fn hours(from: &str, count: i64, step_h: i64) -> Vec<WeatherReport> {
        let from = instant(from);
        (0..count)
            .map(|number| from + TimeDelta::hours(number * step_h))
            .map(|at| {
                let day = (at - instant("2026-11-25T06:00:00Z")).num_minutes() as f64 / 1440.0;
                let temp_c = -3.0 - day.round() + 8.0 * (day - day.round()).abs();
                let is_evening = chrono::Timelike::hour(&at) >= 15;
                WeatherReport {
                    cloud_fraction: Some(if is_evening { 1.0 } else { 0.0 }),
                    wind_m_per_s: Some(2.0),
                    ..WeatherReport::of_temperature(at, temp_c)
                }
            })
            .collect()
    }

    #[test]
    fn a_night_reaches_from_noon_to_noon_at_the_site() {
        let hours = hours("2026-11-25T10:00:00Z", 72, 1);
        let found = nights(VIENNA, PLACE, date("2026-11-25"), &hours);
        let dates: Vec<_> = found.iter().map(|night| (night.night_of, night.lead_days)).collect();
        let expected = [(date("2026-11-25"), 0), (date("2026-11-26"), 1)];
        // The third would reach to 11:00 UTC on the 28th; the forecast ends at 09:00, which is late enough.
        assert_eq!(dates[..2], expected);
        assert_eq!(dates.len(), 3);
        assert_eq!((found[0].low_c, found[0].low_at_utc), (-4.0, instant("2026-11-26T06:00:00Z")));
        assert_eq!(found[1].low_c, -5.0);
        // 17:00 and 18:00 UTC on the 26th lie half a day from the lows: −4 − 1/24 ... the warmest hour of the day.
        let high = found[0].next_high_c.unwrap();
        assert!((high - -0.5).abs() < 0.6, "{high}");
        assert_eq!(found[2].next_high_c, None);
        // Sunset 15:17 UTC, sunrise 06:27 UTC: dark hours 16 to 23 under clouds, 0 to 6 clear.
        assert!((found[0].cloud_fraction.unwrap() - 8.0 / 15.0).abs() < 1e-12, "{:?}", found[0]);
        assert_eq!(found[0].wind_m_per_s, Some(2.0));
    }

    #[test]
    fn a_night_that_has_begun_is_told_from_what_is_left() {
        let found = nights(VIENNA, PLACE, date("2026-11-25"), &hours("2026-11-25T22:00:00Z", 20, 1));
        assert_eq!((found.len(), found[0].low_c), (1, -4.0));
        // The night under way at two in the morning still has its low before it; at six it may be over.
        let late = nights(VIENNA, PLACE, date("2026-11-25"), &hours("2026-11-26T01:00:00Z", 20, 1));
        assert_eq!((late.len(), late[0].low_c), (1, -4.0));
        let over = nights(VIENNA, PLACE, date("2026-11-25"), &hours("2026-11-26T05:00:00Z", 20, 1));
        assert!(over.is_empty(), "{over:?}");
    }

    #[test]
    fn wide_steps_still_give_nights() {
        let found = nights(VIENNA, PLACE, date("2026-11-25"), &hours("2026-11-25T06:00:00Z", 16, 6));
        assert_eq!(found.iter().map(|night| night.low_c).collect::<Vec<_>>(), [-4.0, -5.0, -6.0]);
    }

    #[test]
    fn clouds_that_nobody_told_stay_unknown() {
        let mut hours = hours("2026-11-25T10:00:00Z", 30, 1);
        hours.iter_mut().for_each(|hour| hour.cloud_fraction = None);
        assert_eq!(nights(VIENNA, PLACE, date("2026-11-25"), &hours)[0].cloud_fraction, None);
    }

    #[test]
    fn the_midnight_sun_leaves_the_whole_night() {
        let place = Place { latitude_deg: 78.0, ..PLACE };
        let found = nights(VIENNA, place, date("2026-06-20"), &hours("2026-06-20T08:00:00Z", 40, 1));
        assert!(found[0].cloud_fraction.is_some());
    }
}
