//! Hourly reports made complete: gaps filled, absent quantities estimated, nonsense left out.

use chrono::{DateTime, Datelike, Duration, Utc};

use super::{
    DailyAssumptions, Quantity, Weather, WeatherError, WeatherProblem, WeatherReport, WeatherSeries,
};
use crate::air::{dew_point_over_water_c, saturation_over_water_pa};
use crate::sun::{Place, daily, irradiance};

/// Hours in a row without a temperature that are filled; more is a gap.
const LONGEST_FILLED_H: usize = 72;
/// Hours in a row that a straight line may cross; longer fills take the shape of the day before.
const LONGEST_LINE_H: usize = 2;

/// Complete hourly weather from reports that may have gaps, odd minutes, absent quantities and nonsense.
///
/// * `place` — where
/// * `reports` — in any order; each counts for the nearest full hour, the closest wins
/// * `assumptions` — what stands in for absent quantities
///
/// Temperatures absent for up to two hours are drawn as a straight line, for up to three days with the shape of the
/// day before laid between the ends (a straight line would lose nights). Dew point comes from relative humidity, else
/// from the day's minimum; cloud from radiation over clear-sky radiation, else from the day's temperature range; sun
/// from cloud and clear sky. Clear sky: [`irradiance::clear_sky_w_per_m2`].
///
/// # Errors
/// [`WeatherError`] for fewer than two temperatures or a gap of over three days.
pub fn complete(
    place: Place,
    reports: &[WeatherReport],
    assumptions: DailyAssumptions,
) -> Result<WeatherSeries, WeatherError> {
    let mut problems = Vec::new();
    let (start, mut grid) = on_full_hours(reports, &mut problems)?;
    let temps_c = fill_temperatures(start, &grid, &mut problems)?;
    let clear_w_per_m2 = clear_sky(place, start, grid.len());
    let days = solar_days(place, start, grid.len());

    estimate_moisture(&mut grid, &temps_c, &days, assumptions, &mut problems);
    fill_wind(&mut grid, assumptions, &mut problems);
    let frame = Frame { place, start, temps_c: &temps_c, clear_w_per_m2: &clear_w_per_m2, assumptions };
    estimate_cloud(&frame, &mut grid, &days, &mut problems);

    let mut without_sun = 0;
    let hours = grid
        .iter()
        .zip(&temps_c)
        .zip(&clear_w_per_m2)
        .map(|((report, &temp_c), &clear)| {
            let cloud_fraction = report.cloud_fraction.unwrap_or(0.5);
            let ghi_w_per_m2 = report.ghi_w_per_m2.unwrap_or_else(|| {
                without_sun += 1;
                clear * daily::radiation_share_under_cloud(cloud_fraction)
            });
            Weather {
                temp_c,
                dew_point_c: report.dew_point_c.unwrap_or(temp_c).min(temp_c),
                wind_m_per_s: report.wind_m_per_s.unwrap_or(assumptions.wind_m_per_s),
                cloud_fraction,
                ghi_w_per_m2: ghi_w_per_m2.max(0.0),
            }
        })
        .collect();
    note_estimate(Quantity::Sun, without_sun, &mut problems);
    Ok(WeatherSeries { start, hours, problems })
}

fn note_estimate(quantity: Quantity, hours: usize, problems: &mut Vec<WeatherProblem>) {
    if hours > 0 {
        problems.push(WeatherProblem::Estimated { quantity, hours: hours as u32 });
    }
}

/// Keeps a value inside what the earth's weather can be, else notes it and drops it.
fn plausible(
    value: Option<f64>,
    range: std::ops::RangeInclusive<f64>,
    at: DateTime<Utc>,
    quantity: Quantity,
    problems: &mut Vec<WeatherProblem>,
) -> Option<f64> {
    let value = value?;
    if range.contains(&value) {
        return Some(value);
    }
    problems.push(WeatherProblem::Implausible { at, quantity, value });
    None
}

fn nearest_hour(at: DateTime<Utc>) -> i64 {
    (at.timestamp() + 1800).div_euclid(3600)
}

/// Lays the reports on full hours, from the first to the last hour with a temperature.
fn on_full_hours(
    reports: &[WeatherReport],
    problems: &mut Vec<WeatherProblem>,
) -> Result<(DateTime<Utc>, Vec<WeatherReport>), WeatherError> {
    let mut cleaned: Vec<WeatherReport> = reports
        .iter()
        .map(|r| {
            let mut keep = |value, range, quantity| plausible(value, range, r.at, quantity, problems);
            WeatherReport {
                at: r.at,
                temp_c: keep(r.temp_c, -90.0..=60.0, Quantity::Temperature),
                dew_point_c: keep(r.dew_point_c, -99.0..=40.0, Quantity::Moisture),
                relative_humidity: keep(r.relative_humidity, 0.005..=1.05, Quantity::Moisture),
                wind_m_per_s: keep(r.wind_m_per_s, 0.0..=75.0, Quantity::Wind),
                cloud_fraction: keep(r.cloud_fraction, 0.0..=1.0, Quantity::Cloud),
                ghi_w_per_m2: keep(r.ghi_w_per_m2, -20.0..=1500.0, Quantity::Sun),
            }
        })
        .collect();
    cleaned.sort_by_key(|r| {
        let hour = nearest_hour(r.at);
        (hour, (r.at.timestamp() - hour * 3600).abs())
    });
    let with_temp: Vec<i64> =
        cleaned.iter().filter(|r| r.temp_c.is_some()).map(|r| nearest_hour(r.at)).collect();
    let [first, .., last] = with_temp[..] else {
        return Err(WeatherError::TooShort { found: with_temp.len() });
    };
    if first == last {
        return Err(WeatherError::TooShort { found: 1 });
    }
    let at_hour = |hour: i64| DateTime::from_timestamp(hour * 3600, 0).unwrap_or_default();
    let mut grid: Vec<WeatherReport> = (first..=last)
        .map(|hour| WeatherReport { temp_c: None, ..WeatherReport::of_temperature(at_hour(hour), 0.0) })
        .collect();
    for report in cleaned.iter().filter(|r| (first..=last).contains(&nearest_hour(r.at))) {
        let slot = &mut grid[(nearest_hour(report.at) - first) as usize];
        slot.temp_c = slot.temp_c.or(report.temp_c);
        slot.dew_point_c = slot.dew_point_c.or(report.dew_point_c);
        slot.relative_humidity = slot.relative_humidity.or(report.relative_humidity);
        slot.wind_m_per_s = slot.wind_m_per_s.or(report.wind_m_per_s);
        slot.cloud_fraction = slot.cloud_fraction.or(report.cloud_fraction);
        slot.ghi_w_per_m2 = slot.ghi_w_per_m2.or(report.ghi_w_per_m2);
    }
    Ok((at_hour(first), grid))
}

fn fill_temperatures(
    start: DateTime<Utc>,
    grid: &[WeatherReport],
    problems: &mut Vec<WeatherProblem>,
) -> Result<Vec<f64>, WeatherError> {
    let mut temps: Vec<Option<f64>> = grid.iter().map(|r| r.temp_c).collect();
    for (first, count) in gaps(&temps) {
        let from = start + Duration::hours(first as i64);
        if count > LONGEST_FILLED_H {
            return Err(WeatherError::Gap { from, days: count as f64 / 24.0 });
        }
        problems.push(WeatherProblem::HoursFilled { from, hours: count as u32 });
        let shape = if count > LONGEST_LINE_H { shape_around(&temps, first, count) } else { None };
        let line = line_across(&temps, first, count);
        for step in 0..count {
            let bend = shape.as_ref().map_or(0.0, |s| s[step]);
            temps[first + step] = Some(line(step) + bend);
        }
    }
    Ok(temps.into_iter().flatten().collect())
}

/// Runs of absent values between present ones: first index and count.
fn gaps(values: &[Option<f64>]) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut index = 0;
    while index < values.len() {
        let count = values[index..].iter().take_while(|v| v.is_none()).count();
        if count > 0 {
            found.push((index, count));
        }
        index += count + 1;
    }
    found
}

/// Straight line across a gap; flat where the gap touches an end.
fn line_across(values: &[Option<f64>], first: usize, count: usize) -> impl Fn(usize) -> f64 + use<> {
    let before = first.checked_sub(1).and_then(|i| values[i]);
    let after = values.get(first + count).copied().flatten();
    let left = before.or(after).unwrap_or_default();
    let right = after.or(before).unwrap_or_default();
    move |step| left + (right - left) * (step + 1) as f64 / (count + 1) as f64
}

/// How the day before (or else the day after), repeated over the gap, bends away from the straight line.
fn shape_around(values: &[Option<f64>], first: usize, count: usize) -> Option<Vec<f64>> {
    let repeated = |earlier: bool| -> Option<Vec<f64>> {
        let model = |step: usize| {
            let index = if earlier {
                (first + step).checked_sub(24 * step.div_ceil(24))?.checked_sub(1)?
            } else {
                first + step + 24 * (count + 1 - step).div_ceil(24) - 1
            };
            values.get(index).copied().flatten()
        };
        (0..count + 2).map(model).collect()
    };
    let model = repeated(true).or_else(|| repeated(false))?;
    let (left, right) = (model[0], model[count + 1]);
    let line = |step: usize| left + (right - left) * (step + 1) as f64 / (count + 1) as f64;
    Some((0..count).map(|step| model[step + 1] - line(step)).collect())
}

fn clear_sky(place: Place, start: DateTime<Utc>, count: usize) -> Vec<f64> {
    (0..count)
        .map(|index| {
            let at = start + Duration::hours(index as i64);
            irradiance::clear_sky_w_per_m2(place.quick_position(at).zenith_deg)
        })
        .collect()
}

/// Ranges of indices that share a day of the mean sun.
fn solar_days(place: Place, start: DateTime<Utc>, count: usize) -> Vec<std::ops::Range<usize>> {
    let day_of = |index: usize| {
        (start.timestamp() + index as i64 * 3600 + (place.longitude_deg * 240.0) as i64).div_euclid(86_400)
    };
    let mut days: Vec<std::ops::Range<usize>> = Vec::new();
    for index in 0..count {
        match days.last_mut() {
            Some(day) if day_of(day.start) == day_of(index) => day.end = index + 1,
            _ => days.push(index..index + 1),
        }
    }
    days
}

fn extremes(values: &[f64]) -> (f64, f64) {
    values.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &v| (low.min(v), high.max(v)))
}

fn estimate_moisture(
    grid: &mut [WeatherReport],
    temps_c: &[f64],
    days: &[std::ops::Range<usize>],
    assumptions: DailyAssumptions,
    problems: &mut Vec<WeatherProblem>,
) {
    for (report, &temp_c) in grid.iter_mut().zip(temps_c) {
        let from_humidity = report
            .relative_humidity
            .map(|share| dew_point_over_water_c(share.min(1.0) * saturation_over_water_pa(temp_c)));
        report.dew_point_c = report.dew_point_c.or(from_humidity);
    }
    let mut estimated = 0;
    for day in days {
        let (low_c, _) = extremes(&temps_c[day.clone()]);
        for report in grid[day.clone()].iter_mut().filter(|r| r.dew_point_c.is_none()) {
            report.dew_point_c = Some(low_c - assumptions.dew_below_minimum_k);
            estimated += 1;
        }
    }
    note_estimate(Quantity::Moisture, estimated, problems);
}

fn fill_wind(grid: &mut [WeatherReport], assumptions: DailyAssumptions, problems: &mut Vec<WeatherProblem>) {
    let winds: Vec<Option<f64>> = grid.iter().map(|r| r.wind_m_per_s).collect();
    let mut estimated = 0;
    for (first, count) in gaps(&winds) {
        let line = line_across(&winds, first, count);
        let far = count > LONGEST_FILLED_H || count == winds.len();
        for step in 0..count {
            let wind = if far { assumptions.wind_m_per_s } else { line(step) };
            grid[first + step].wind_m_per_s = Some(wind);
        }
        estimated += count;
    }
    note_estimate(Quantity::Wind, estimated, problems);
}

/// What the day-wise estimates look at besides the reports.
struct Frame<'a> {
    place: Place,
    start: DateTime<Utc>,
    temps_c: &'a [f64],
    clear_w_per_m2: &'a [f64],
    assumptions: DailyAssumptions,
}

impl Frame<'_> {
    /// Cloud fraction of a day from measured radiation, else from its temperature range; a half for a piece of a day.
    fn cloud_of(&self, day: std::ops::Range<usize>, reports: &[WeatherReport]) -> f64 {
        let clear = &self.clear_w_per_m2[day.clone()];
        let clear_w_h: f64 = clear.iter().sum();
        if day.len() < 20 || clear_w_h <= 0.0 {
            return 0.5;
        }
        let daylight = reports.iter().zip(clear).filter(|(_, clear)| **clear > 0.0);
        let measured_w_h: Option<f64> = daylight.map(|(report, _)| report.ghi_w_per_m2).sum();
        let from_range_w_h = || {
            let ordinal = (self.start + Duration::hours(day.start as i64 + 12)).ordinal();
            let above = daily::extraterrestrial_mj_per_m2(self.place.latitude_deg, ordinal);
            let (low_c, high_c) = extremes(&self.temps_c[day.clone()]);
            let coefficient = self.assumptions.radiation_coefficient;
            daily::radiation_from_range_mj_per_m2(above, low_c, high_c, coefficient) / 3.6e-3
        };
        daily::cloud_fraction_from_radiation(measured_w_h.unwrap_or_else(from_range_w_h) / clear_w_h)
    }
}

fn estimate_cloud(
    frame: &Frame<'_>,
    grid: &mut [WeatherReport],
    days: &[std::ops::Range<usize>],
    problems: &mut Vec<WeatherProblem>,
) {
    let mut estimated = 0;
    for day in days {
        let reports = &mut grid[day.clone()];
        if reports.iter().all(|r| r.cloud_fraction.is_some()) {
            continue;
        }
        let cloud = frame.cloud_of(day.clone(), reports);
        for report in reports.iter_mut().filter(|r| r.cloud_fraction.is_none()) {
            report.cloud_fraction = Some(cloud);
            estimated += 1;
        }
    }
    note_estimate(Quantity::Cloud, estimated, problems);
}
