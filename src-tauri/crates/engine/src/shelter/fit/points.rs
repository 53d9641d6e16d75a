//! A log brought onto one sequence of points in time.

use chrono::{DateTime, Datelike, Duration, NaiveDate, Timelike, Utc};

use super::log::{Covers, FitError, Heat, Log, Sample};
use crate::air;
use crate::sun::daily::radiation_share_under_cloud;
use crate::sun::irradiance::{clear_sky_w_per_m2, split, tilted_w_per_m2};

/// Readings closer together than this are averaged, in seconds.
const BIN_S: i64 = 600;
/// Longest stretch without readings inside that is bridged, in seconds.
const BRIDGE_S: i64 = 6 * 3600;
/// Step inside a bridged stretch in seconds.
const BRIDGE_STEP_S: i64 = 1200;
/// Longest stretch without outdoor readings that is filled by a straight line, in seconds.
const OUTDOOR_GAP_S: i64 = 2 * 3600;
/// The same for wind, cloud, dew point and sun.
const WEATHER_GAP_S: i64 = 3 * 3600;
/// Depth in m of the ground that a floor leans on.
const GROUND_DEPTH_M: f64 = 1.0;
/// Share of the points that a series must reach to count as known.
const KNOWN_SHARE: f64 = 0.6;
/// Share of the ground's reflection.
const ALBEDO: f64 = 0.2;

/// A moment of the log.
#[derive(Debug, Clone, Copy)]
pub(super) struct Point {
    /// Seconds of the epoch.
    pub(super) at_s: i64,
    /// Hours since the point before; 0 where a stretch begins.
    pub(super) step_h: f64,
    /// Air inside in °C; not a number where there is no reading.
    pub(super) inside_c: f64,
    /// Air outdoors in °C.
    pub(super) outside_c: f64,
    /// Wind less its mean over the nights in m/s; 0 where not known.
    pub(super) wind: f64,
    /// Sky temperature less outdoors in K, that of a half-clouded sky where cloud is not known.
    pub(super) sky_k: f64,
    /// Sun on the shelter in kW/m².
    pub(super) sun: f64,
    /// Mean heat in kW over the step that ends here.
    pub(super) heat_kw: f64,
    /// Ground in °C.
    pub(super) ground_c: f64,
    /// Index of the night, which runs from noon to noon by the mean sun.
    pub(super) night: usize,
    /// Whether the sun is down.
    pub(super) dark: bool,
}

/// What is known beside the temperatures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Known {
    pub(super) wind: bool,
    pub(super) sky: bool,
    /// Sun measured, not reckoned from the place.
    pub(super) sun: bool,
    /// Some heat was given and it ran.
    pub(super) heat: bool,
}

/// A log as the fit sees it.
#[derive(Debug, Clone)]
pub(super) struct Course {
    pub(super) points: Vec<Point>,
    /// Number of nights touched.
    pub(super) nights: usize,
    /// Date on which the first begins.
    pub(super) first_night: NaiveDate,
    /// Whether a night has readings throughout its dark hours.
    pub(super) complete: Vec<bool>,
    /// Whether heat is given throughout a night.
    pub(super) heat_told: Vec<bool>,
    pub(super) known: Known,
    /// Mean wind in the dark in m/s.
    pub(super) mean_wind_m_per_s: f64,
    /// Readings left out because they were doubtful.
    pub(super) flagged: usize,
    ahead_s: i64,
}

/// A series that is read between its samples along a rising time.
struct Line {
    samples: Vec<(i64, f64)>,
    longest_gap_s: i64,
    next: usize,
}

impl Line {
    fn new(samples: &[Sample], longest_gap_s: i64) -> Self {
        let samples = usable(samples).collect();
        Self { samples, longest_gap_s, next: 0 }
    }

    /// Value on the straight line between the samples around an instant.
    fn at(&mut self, at_s: i64) -> Option<f64> {
        while self.next < self.samples.len() && self.samples[self.next].0 < at_s {
            self.next += 1;
        }
        let after = self.samples.get(self.next)?;
        if after.0 == at_s {
            return Some(after.1);
        }
        let before = self.samples.get(self.next.checked_sub(1)?)?;
        let gap_s = after.0 - before.0;
        let share = (at_s - before.0) as f64 / gap_s as f64;
        (gap_s <= self.longest_gap_s).then_some(before.1 + (after.1 - before.1) * share)
    }
}

/// Heat as energy summed from the first reading on.
struct Energy {
    at_s: Vec<i64>,
    sum_kwh: Vec<f64>,
    next: usize,
}

impl Energy {
    fn new(samples: &[Sample]) -> Self {
        let known: Vec<(i64, f64)> = usable(samples).collect();
        let mut sum = 0.0;
        let sum_kwh = (0..known.len())
            .map(|i| {
                if i > 0 {
                    sum += known[i - 1].1 * (known[i].0 - known[i - 1].0) as f64 / 3.6e6;
                }
                sum
            })
            .collect();
        Self { at_s: known.iter().map(|k| k.0).collect(), sum_kwh, next: 0 }
    }

    /// Energy up to an instant; absent outside the readings and in gaps.
    fn at(&mut self, at_s: i64) -> Option<f64> {
        while self.next < self.at_s.len() && self.at_s[self.next] < at_s {
            self.next += 1;
        }
        let i = self.next;
        if *self.at_s.get(i)? == at_s {
            return Some(self.sum_kwh[i]);
        }
        let before = i.checked_sub(1)?;
        let gap_s = self.at_s[i] - self.at_s[before];
        let share = (at_s - self.at_s[before]) as f64 / gap_s as f64;
        (gap_s <= WEATHER_GAP_S)
            .then(|| self.sum_kwh[before] + (self.sum_kwh[i] - self.sum_kwh[before]) * share)
    }
}

fn usable(samples: &[Sample]) -> impl Iterator<Item = (i64, f64)> {
    samples.iter().filter(|s| !s.flagged && s.value.is_finite()).map(|s| (s.at.timestamp(), s.value))
}

/// Readings averaged over ten minutes where they are closer together.
pub(super) fn binned(samples: &[Sample]) -> Vec<(i64, f64)> {
    let mut bins: Vec<(i64, f64)> = Vec::with_capacity(samples.len());
    let mut bin = (i64::MIN, 0_i64, 0.0, 0_i64);
    let mut close = |bin: (i64, i64, f64, i64)| {
        if bin.3 > 0 {
            bins.push((bin.1 / bin.3, bin.2 / bin.3 as f64));
        }
    };
    for (at_s, value) in usable(samples) {
        let key = at_s.div_euclid(BIN_S);
        if key != bin.0 {
            close(bin);
            bin = (key, 0, 0.0, 0);
        }
        bin = (key, bin.1 + at_s, bin.2 + value, bin.3 + 1);
    }
    close(bin);
    bins
}

fn in_order(samples: &[Sample], place: &'static str) -> Result<(), FitError> {
    match samples.windows(2).find(|pair| pair[1].at < pair[0].at) {
        Some(pair) => Err(FitError::Unsorted { place, at: pair[1].at }),
        None => Ok(()),
    }
}

/// Index of a night counted from 1970.
pub(super) fn night_number(at_s: i64, ahead_s: i64) -> i64 {
    (at_s + ahead_s - 43_200).div_euclid(86_400)
}

/// Sky temperature less air temperature in K.
fn sky_below_air_k(outside_c: f64, dew_point_c: f64, cloud: f64) -> f64 {
    air::sky_temp_c(air::sky_long_wave_w_per_m2(outside_c, dew_point_c, cloud)) - outside_c
}

/// Sun on the facings of a log in kW/m².
fn on_facings(log: &Log<'_>, at: DateTime<Utc>, global_w_per_m2: f64) -> f64 {
    if log.facings.is_empty() || global_w_per_m2 <= 0.0 {
        return global_w_per_m2.max(0.0) / 1000.0;
    }
    let sun = log.place.quick_position(at);
    let parts = split(global_w_per_m2, sun.zenith_deg, at.ordinal());
    let sum: f64 = log
        .facings
        .iter()
        .map(|(facing, weight)| weight * tilted_w_per_m2(*facing, sun, parts, ALBEDO))
        .sum();
    sum / 1000.0
}

impl Course {
    /// Brings a log onto points.
    ///
    /// # Errors
    /// [`FitError`] for series that are empty, not in order or not of the same days.
    pub(super) fn new(log: &Log<'_>) -> Result<Self, FitError> {
        in_order(log.indoor_c, "inside")?;
        in_order(log.outdoor_c, "outdoors")?;
        let inside = binned(log.indoor_c);
        let (Some(first), Some(last)) = (inside.first(), inside.last()) else {
            return Err(FitError::Empty { place: "inside" });
        };
        if usable(log.outdoor_c).next().is_none() {
            return Err(FitError::Empty { place: "outdoors" });
        }
        let ahead_s = (log.place.longitude_deg * 240.0) as i64;
        let zero = night_number(first.0, ahead_s);
        let mut course = Self {
            points: Vec::with_capacity(inside.len()),
            nights: (night_number(last.0, ahead_s) - zero + 1) as usize,
            first_night: night_date(zero),
            complete: Vec::new(),
            heat_told: Vec::new(),
            known: Known { wind: false, sky: false, sun: false, heat: false },
            mean_wind_m_per_s: 0.0,
            flagged: [log.indoor_c, log.outdoor_c]
                .iter()
                .flat_map(|s| s.iter())
                .filter(|s| s.flagged)
                .count(),
            ahead_s,
        };
        course.lay(log, &inside, zero);
        if course.points.is_empty() {
            let utc = |at_s| DateTime::from_timestamp(at_s, 0).unwrap_or_default();
            return Err(FitError::NoOverlap { inside_from: utc(first.0), inside_to: utc(last.0) });
        }
        course.weather(log);
        course.heat(log);
        course.mark_complete();
        Ok(course)
    }

    /// Points with the temperatures.
    fn lay(&mut self, log: &Log<'_>, inside: &[(i64, f64)], zero: i64) {
        let mut outdoors = Line::new(log.outdoor_c, OUTDOOR_GAP_S);
        let mut before: Option<i64> = None;
        let mut put = |at_s: i64, inside_c: f64, before: &mut Option<i64>| {
            let Some(outside_c) = outdoors.at(at_s) else {
                *before = None;
                return;
            };
            let at = DateTime::from_timestamp(at_s, 0).unwrap_or_default();
            let day = f64::from(at.ordinal0()) + f64::from(at.hour()) / 24.0;
            self.points.push(Point {
                at_s,
                step_h: before.map_or(0.0, |before_s| (at_s - before_s) as f64 / 3600.0),
                inside_c,
                outside_c,
                wind: 0.0,
                sky_k: 0.0,
                sun: 0.0,
                heat_kw: 0.0,
                ground_c: log.ground.temp_c(GROUND_DEPTH_M, day),
                night: (night_number(at_s, self.ahead_s) - zero) as usize,
                dark: false,
            });
            *before = Some(at_s);
        };
        for (at_s, inside_c) in inside {
            if let Some(before_s) = before {
                if at_s - before_s > BRIDGE_S {
                    before = None;
                } else if at_s - before_s > 3600 {
                    let mut bridge_s = before_s + BRIDGE_STEP_S;
                    while bridge_s < *at_s && before.is_some() {
                        put(bridge_s, f64::NAN, &mut before);
                        bridge_s += BRIDGE_STEP_S;
                    }
                }
            }
            put(*at_s, *inside_c, &mut before);
        }
    }

    /// Wind, sky and sun at every point.
    fn weather(&mut self, log: &Log<'_>) {
        let count = self.points.len() as f64;
        let read = |samples: &[Sample]| -> (Vec<Option<f64>>, bool, f64) {
            let mut line = Line::new(samples, WEATHER_GAP_S);
            let values: Vec<Option<f64>> = self.points.iter().map(|p| line.at(p.at_s)).collect();
            let there = values.iter().flatten().count() as f64;
            let mean = values.iter().flatten().sum::<f64>() / there.max(1.0);
            (values, there >= KNOWN_SHARE * count, mean)
        };
        let (wind, wind_known, _) = read(log.wind_m_per_s);
        let (cloud, cloud_known, mean_cloud) = read(log.cloud_fraction);
        let (dew, dew_known, _) = read(log.dew_point_c);
        let (sun, sun_known, _) = read(log.sun_w_per_m2);
        self.known = Known { wind: wind_known, sky: cloud_known, sun: sun_known, heat: false };
        let (mut wind_sum, mut wind_count) = (0.0, 0.0);
        for (i, point) in self.points.iter_mut().enumerate() {
            let at = DateTime::from_timestamp(point.at_s, 0).unwrap_or_default();
            let clear = clear_sky_w_per_m2(log.place.quick_position(at).zenith_deg);
            point.dark = clear <= 0.0;
            let clouded = if cloud_known { cloud[i].unwrap_or(mean_cloud) } else { 0.5 };
            let share = radiation_share_under_cloud(clouded);
            let global = if sun_known { sun[i].unwrap_or(clear * share) } else { clear * share };
            if global > 0.0 {
                point.sun = on_facings(log, at, global);
            }
            let dew_c = dew[i].filter(|_| dew_known).unwrap_or(point.outside_c - 3.0);
            point.sky_k = sky_below_air_k(point.outside_c, dew_c.min(point.outside_c), clouded);
            if point.dark
                && let Some(speed) = wind[i]
            {
                wind_sum += speed;
                wind_count += 1.0;
            }
        }
        if wind_known && wind_count > 0.0 {
            self.mean_wind_m_per_s = wind_sum / wind_count;
            for (point, speed) in self.points.iter_mut().zip(&wind) {
                point.wind = speed.map_or(0.0, |s| s - self.mean_wind_m_per_s);
            }
        }
        self.known.wind &= wind_count > 0.0;
    }

    fn heat(&mut self, log: &Log<'_>) {
        self.heat_told = vec![false; self.nights];
        let Heat::Known(samples) = log.heat else { return };
        let mut energy = Energy::new(samples);
        self.heat_told = vec![true; self.nights];
        let mut before: Option<f64> = None;
        for point in &mut self.points {
            let now = energy.at(point.at_s);
            if point.step_h > 0.0 {
                match (before, now) {
                    (Some(from), Some(to)) => {
                        point.heat_kw = (to - from) / point.step_h;
                        self.known.heat |= point.heat_kw > 0.001;
                    }
                    _ => self.heat_told[point.night] = false,
                }
            }
            before = now;
        }
    }

    /// A night is complete when no hour of darkness goes without a reading.
    fn mark_complete(&mut self) {
        let mut dark_h = vec![0.0; self.nights];
        let mut torn = vec![false; self.nights];
        let mut last_read_s: Option<i64> = None;
        for point in &self.points {
            if point.step_h == 0.0 {
                last_read_s = None;
            }
            if point.dark {
                dark_h[point.night] += point.step_h;
            }
            if point.inside_c.is_finite() {
                let gap = last_read_s.map(|last| point.at_s - last);
                torn[point.night] |= point.dark && gap.is_none_or(|gap| gap > 4500);
                last_read_s = Some(point.at_s);
            }
        }
        let longest = dark_h.iter().copied().fold(0.0, f64::max);
        self.complete = dark_h
            .iter()
            .zip(&torn)
            .map(|(hours, torn)| *hours >= 0.8 * longest && *hours > 1.0 && !torn)
            .collect();
    }

    /// Date on which a night begins.
    pub(super) fn night_of(&self, night: usize) -> NaiveDate {
        self.first_night + Duration::days(night as i64)
    }

    /// Index of the night in which an instant lies, clamped to the log.
    pub(super) fn night_at(&self, at: DateTime<Utc>) -> usize {
        let zero = self.first_night.signed_duration_since(NaiveDate::default()).num_days();
        let number = night_number(at.timestamp(), self.ahead_s);
        usize::try_from(number - zero).unwrap_or(0).min(self.nights)
    }

    /// The night from which each told change counts: the first that begins after it.
    pub(super) fn told_changes(&self, covers: Covers<'_>) -> Vec<usize> {
        let Covers::Told(instants) = covers else { return Vec::new() };
        let mut nights: Vec<usize> = instants
            .iter()
            // A cover put on in the afternoon is on that night.
            .map(|at| self.night_at(*at + Duration::hours(6)))
            .filter(|night| (1..self.nights).contains(night))
            .collect();
        nights.sort_unstable();
        nights.dedup();
        nights
    }
}

fn night_date(number: i64) -> NaiveDate {
    NaiveDate::default() + Duration::days(number)
}
