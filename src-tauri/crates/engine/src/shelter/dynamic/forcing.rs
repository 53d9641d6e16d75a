//! The weather as a shelter meets it, hour by hour.

use chrono::{DateTime, Datelike, Duration, NaiveDate, Timelike, Utc};

use crate::air;
use crate::climate::hourly::WeatherSeries;
use crate::sun::Place;
use crate::sun::irradiance::{self, Facing};

/// Share of the sun that bare winter ground throws back.
const GROUND_ALBEDO: f64 = 0.2;

/// Outdoors at one full hour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outdoors {
    /// Air temperature in °C.
    pub temp_c: f64,
    /// Temperature in °C of a black sky with the sky's radiation.
    pub sky_c: f64,
    /// Wind in m/s at 10 m.
    pub wind_m_per_s: f64,
    /// Humidity ratio in kg/kg.
    pub humidity_ratio: f64,
    /// Days after the start of 1 January.
    pub day: f64,
}

/// Weather prepared for the envelope of one shelter; shared by every run over it.
#[derive(Debug, Clone, PartialEq)]
pub struct Forcing {
    /// Instant of the first hour.
    pub start: DateTime<Utc>,
    /// Outdoors at every hour.
    pub hours: Vec<Outdoors>,
    /// Irradiance on the outer side of every facing in W/m², hour by hour.
    sun_w_per_m2: Vec<f64>,
    facings: usize,
    /// Seconds by which the mean sun of the place is ahead of UTC.
    ahead_s: i64,
}

impl Forcing {
    /// Prepares a weather series for surfaces of the given facings.
    ///
    /// * `place` — where; the pressure is the standard one of its elevation
    /// * `series` — weather by the hour
    /// * `facings` — of the envelope's elements, in their order
    ///
    /// Sky by Clark–Allen with Walton's cloud factor; beam and diffuse by Erbs; tilted surfaces under an isotropic sky.
    pub fn new(place: Place, series: &WeatherSeries, facings: &[Facing]) -> Self {
        let pressure_pa = air::pressure_at_elevation_pa(place.elevation_m);
        let mut hours = Vec::with_capacity(series.hours.len());
        let mut sun_w_per_m2 = vec![0.0; series.hours.len() * facings.len()];
        for (index, weather) in series.hours.iter().enumerate() {
            let at = series.start + Duration::hours(index as i64);
            let long_wave =
                air::sky_long_wave_w_per_m2(weather.temp_c, weather.dew_point_c, weather.cloud_fraction);
            hours.push(Outdoors {
                temp_c: weather.temp_c,
                sky_c: air::sky_temp_c(long_wave),
                wind_m_per_s: weather.wind_m_per_s,
                humidity_ratio: air::humidity_ratio(
                    air::saturation_over_water_pa(weather.dew_point_c),
                    pressure_pa,
                ),
                day: f64::from(at.ordinal0()) + f64::from(at.hour()) / 24.0,
            });
            if weather.ghi_w_per_m2 > 0.0 {
                let sun = place.quick_position(at);
                let split = irradiance::split(weather.ghi_w_per_m2, sun.zenith_deg, at.ordinal());
                for (slot, facing) in sun_w_per_m2[index * facings.len()..].iter_mut().zip(facings) {
                    *slot = irradiance::tilted_w_per_m2(*facing, sun, split, GROUND_ALBEDO);
                }
            }
        }
        let ahead_s = (place.longitude_deg * 240.0) as i64;
        Self { start: series.start, hours, sun_w_per_m2, facings: facings.len(), ahead_s }
    }

    /// Irradiance on every facing at an hour in W/m².
    pub fn sun(&self, hour: usize) -> &[f64] {
        &self.sun_w_per_m2[hour * self.facings..(hour + 1) * self.facings]
    }

    /// Leaves out the hours from an index on.
    pub fn truncate(&mut self, hours: usize) {
        self.hours.truncate(hours);
        self.sun_w_per_m2.truncate(hours * self.facings);
    }

    /// Date on which the first night begins, a night running from noon to noon by the mean sun.
    pub fn first_night(&self) -> NaiveDate {
        (self.start + Duration::seconds(self.ahead_s - 43_200)).date_naive()
    }

    /// Which night an hour belongs to, counted from [`Self::first_night`].
    pub fn night_of_hour(&self, hour: usize) -> usize {
        let since_noon_s = (self.start.timestamp() + self.ahead_s - 43_200).rem_euclid(86_400);
        (since_noon_s as usize + hour * 3600) / 86_400
    }

    /// Index of the hour at or before an instant; absent outside the series.
    pub fn hour_of(&self, instant: DateTime<Utc>) -> Option<usize> {
        let hour = usize::try_from((instant - self.start).num_hours()).ok()?;
        (instant >= self.start && hour < self.hours.len()).then_some(hour)
    }
}
