//! Hourly temperatures from daily extremes, and weather with gaps.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use chrono::{DateTime, Duration, NaiveDate, Utc};
use hibernacle_engine::climate::DailyTemps;
use hibernacle_engine::climate::hourly::{
    DailyAssumptions, DayExtremes, Night, Quantity, WeatherError, WeatherProblem, WeatherReport, complete,
    from_daily, temp_at_c,
};
use hibernacle_engine::sun::{Place, daily::day_length_h};

const LARCH_BANK: Place = Place { latitude_deg: 47.7, longitude_deg: 13.1, elevation_m: 470.0 };

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

fn day(latitude_deg: f64, day_of_year: u32, min_c: f64, max_c: f64) -> DayExtremes {
    let half_h = day_length_h(latitude_deg, day_of_year) / 2.0;
    DayExtremes { min_c, max_c, sunrise_h: 12.0 - half_h, sunset_h: 12.0 + half_h }
}

/// Vignette “hourly_temperatures” of the R package chillR (2025-12-10): day length at 50.5° N on days 1 to 6, sunrise
/// on day 1, and day length at 50.4° N on day 15.
#[test]
fn published_day_lengths() {
    let printed = [8.074373, 8.091618, 8.110474, 8.130920, 8.152932, 8.176486];
    for (day_of_year, expected) in (1..).zip(printed) {
        close(day_length_h(50.5, day_of_year), expected, 1e-6, &format!("day {day_of_year}"));
    }
    close(day(50.5, 1, 0.0, 1.0).sunrise_h, 7.962814, 1e-6, "sunrise");
    close(day_length_h(50.4, 15), 8.467149, 1e-6, "day 15");
}

/// Same vignette: 50.4° N, 1 January 1998 (5.1 to 8.2 °C) and the 2nd (5.0 to 9.1 °C), eleven hours of the night.
#[test]
fn published_hours() {
    let first = day(50.4, 1, 5.1, 8.2);
    let second = day(50.4, 2, 5.0, 9.1);
    for (hour, printed) in (19..).zip([6.424223, 6.203183, 6.022917, 5.870701, 5.738969]) {
        let found = temp_at_c(&first, &first, &second, f64::from(hour), Night::AsPublished);
        close(found, printed, 6e-7, &format!("{hour} h"));
    }
    for (hour, printed) in (0..).zip([5.574983, 5.468975, 5.373123, 5.285650, 5.205208, 5.130750]) {
        let found = temp_at_c(&first, &second, &second, f64::from(hour), Night::AsPublished);
        close(found, printed, 6e-7, &format!("{hour} h of the next day"));
    }
}

/// The formula of Linvill (HortScience 25, 1990) worked separately for equal days of −4 to 6 °C, sun from 7:30 to
/// 16:30: 13.55 h at or below 0 °C.
#[test]
fn continuous_night() {
    let same = DayExtremes { min_c: -4.0, max_c: 6.0, sunrise_h: 7.5, sunset_h: 16.5 };
    let at = |hour: f64| temp_at_c(&same, &same, &same, hour, Night::Continuous);
    for (hour, expected) in [
        (17.0, 3.026),
        (20.0, -0.235),
        (23.0, -1.751),
        (0.0, -2.122),
        (4.0, -3.267),
        (7.0, -3.906),
        (8.0, -2.795),
        (12.0, 4.855),
        (14.0, 6.0),
    ] {
        close(at(hour), expected, 6e-4, &format!("{hour} h"));
    }
    close(at(24.0), at(0.0), 1e-12, "midnight");
    close(at(7.499_999), -4.0, 1e-5, "sunrise");
    let frost_minutes = (0..1440).filter(|m| at(f64::from(*m) / 60.0) <= 0.0).count();
    close(frost_minutes as f64 / 60.0, 13.55, 0.03, "hours of frost");
}

fn daily(pairs: &[(f64, f64)]) -> Vec<DailyTemps> {
    let first = NaiveDate::from_ymd_opt(2025, 12, 1).unwrap();
    pairs
        .iter()
        .zip(0..)
        .map(|(&(min, max), day)| DailyTemps {
            date: first + Duration::days(day),
            min_c: Some(min),
            max_c: Some(max),
        })
        .collect()
}

#[test]
fn daily_extremes_come_back_from_the_hours() {
    let days = daily(&[(-4.0, 3.0), (-8.0, -1.0), (-11.0, 0.5), (-3.0, 2.0), (0.0, 1.5)]);
    let series = from_daily(LARCH_BANK, &days, DailyAssumptions::default()).unwrap();
    assert_eq!(series.hours.len(), 5 * 24);
    for (index, day) in days.iter().enumerate().skip(1).take(3) {
        let hours = &series.hours[index * 24..(index + 1) * 24];
        // The evening already falls towards the next day's minimum.
        let low = hours[..12].iter().map(|h| h.temp_c).fold(f64::INFINITY, f64::min);
        let high = hours.iter().map(|h| h.temp_c).fold(f64::NEG_INFINITY, f64::max);
        close(high, day.max_c.unwrap(), 0.2, "maximum");
        assert!(low >= day.min_c.unwrap() - 1e-9, "below the minimum of day {index}");
        assert!(
            hours.iter().all(|h| h.dew_point_c <= h.temp_c + 1e-9 && (0.0..=1.0).contains(&h.cloud_fraction))
        );
    }
    let sun_kwh: f64 = series.hours[24..48].iter().map(|h| h.ghi_w_per_m2 / 1000.0).sum();
    assert!((0.4..2.0).contains(&sun_kwh), "a December day brings {sun_kwh} kWh/m²");
    let estimated: Vec<Quantity> = series
        .problems
        .iter()
        .filter_map(|p| match p {
            WeatherProblem::Estimated { quantity, .. } => Some(*quantity),
            _ => None,
        })
        .collect();
    assert_eq!(estimated, [Quantity::Wind, Quantity::Cloud, Quantity::Sun]);
}

#[test]
fn a_dull_day_is_cloudier_than_one_with_a_wide_range() {
    let days = daily(&[(-6.0, 5.0), (-6.0, 5.0), (-6.0, 5.0), (0.0, 1.5), (0.0, 1.5), (0.0, 1.5)]);
    let series = from_daily(LARCH_BANK, &days, DailyAssumptions::default()).unwrap();
    let (bright, dull) = (series.hours[24 + 12], series.hours[4 * 24 + 12]);
    assert!(bright.cloud_fraction < 0.65 && dull.cloud_fraction > 0.8, "{bright:?} {dull:?}");
    assert!(bright.ghi_w_per_m2 > 2.0 * dull.ghi_w_per_m2);
}

#[test]
fn missing_days_are_filled_or_refused() {
    let mut days = daily(&[(-4.0, 3.0); 12]);
    days[4].min_c = None;
    days.remove(5);
    let series = from_daily(LARCH_BANK, &days, DailyAssumptions::default()).unwrap();
    assert!(
        matches!(series.problems[0], WeatherProblem::DaysFilled { days: 2, .. }),
        "{:?}",
        series.problems
    );
    assert_eq!(series.hours.len(), 12 * 24);
    days.drain(2..9);
    let error = from_daily(LARCH_BANK, &days, DailyAssumptions::default()).unwrap_err();
    assert!(matches!(error, WeatherError::Gap { days, .. } if days == 8.0), "{error}");
    let error = from_daily(LARCH_BANK, &days[..1], DailyAssumptions::default()).unwrap_err();
    assert!(error.to_string().contains("three days"), "{error}");
}

fn hourly(count: i64) -> Vec<WeatherReport> {
    let start: DateTime<Utc> = "2026-01-10T00:00:00Z".parse().unwrap();
    (0..count)
        .map(|h| {
            let warmth = (std::f64::consts::TAU * (h as f64 - 14.0) / 24.0).cos();
            WeatherReport::of_temperature(start + Duration::hours(h), 4.0 * warmth - 2.0)
        })
        .collect()
}

/// A straight line over a night's gap would lose the night; the shape of the day before keeps it.
#[test]
fn gaps_keep_their_nights() {
    let whole = hourly(96);
    let mut torn = whole.clone();
    torn.retain(|r| !(40..66).contains(&(r.at - whole[0].at).num_hours()));
    let series = complete(LARCH_BANK, &torn, DailyAssumptions::default()).unwrap();
    assert_eq!(series.hours.len(), 96);
    for (filled, original) in series.hours.iter().zip(&whole) {
        close(filled.temp_c, original.temp_c.unwrap(), 1e-9, "filled hour");
    }
    let filled = WeatherProblem::HoursFilled { from: whole[40].at, hours: 26 };
    assert!(series.problems.contains(&filled), "{:?}", series.problems);

    let mut far = hourly(200);
    far.drain(50..150);
    let error = complete(LARCH_BANK, &far, DailyAssumptions::default()).unwrap_err();
    assert!(matches!(error, WeatherError::Gap { .. }), "{error}");
}

#[test]
fn nonsense_is_left_out_and_named() {
    let mut reports = hourly(48);
    reports[5].temp_c = Some(f64::NAN);
    reports[6].wind_m_per_s = Some(468.0);
    reports[7].relative_humidity = Some(-0.2);
    reports[8].relative_humidity = Some(0.9);
    let series = complete(LARCH_BANK, &reports, DailyAssumptions::default()).unwrap();
    let named: Vec<Quantity> = series
        .problems
        .iter()
        .filter_map(|p| match p {
            WeatherProblem::Implausible { quantity, .. } => Some(*quantity),
            _ => None,
        })
        .collect();
    assert_eq!(named, [Quantity::Temperature, Quantity::Wind, Quantity::Moisture]);
    assert!(series.hours.iter().all(|h| h.temp_c.is_finite() && h.wind_m_per_s < 10.0));
    // 90 % over water is 1.45 K below the air there.
    close(series.hours[8].temp_c - series.hours[8].dew_point_c, 1.4, 0.1, "dew point from humidity");
    assert!(complete(LARCH_BANK, &reports[..1], DailyAssumptions::default()).is_err());
}

#[test]
fn measured_radiation_gives_the_cloud() {
    let mut reports = hourly(72);
    let clear = complete(LARCH_BANK, &reports, DailyAssumptions::default()).unwrap();
    for (report, hour) in reports.iter_mut().zip(&clear.hours) {
        report.ghi_w_per_m2 = Some(hour.ghi_w_per_m2);
    }
    let back = complete(LARCH_BANK, &reports, DailyAssumptions::default()).unwrap();
    close(back.hours[30].cloud_fraction, clear.hours[30].cloud_fraction, 1e-6, "cloud");
}
