//! Temperature of undisturbed ground.

use std::f64::consts::{PI, TAU};

use chrono::Datelike;

use crate::climate::DailyTemps;
use crate::site::Hemisphere;

/// Yearly wave of ground temperature at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroundWave {
    /// Mean over the year in °C, close to the mean air temperature.
    pub mean_c: f64,
    /// Half the range of the surface over the year in kelvin (not the full range).
    pub amplitude_k: f64,
    /// Days after the start of 1 January at which the surface is coldest.
    pub coldest_day: f64,
    /// Thermal diffusivity in m² per day (moist loam 0.04 to 0.065).
    pub diffusivity_m2_per_day: f64,
}

impl GroundWave {
    /// The wave at a place whose daily mean air temperature follows the year.
    ///
    /// * `mean_c` — yearly mean air temperature in °C
    /// * `amplitude_k` — half the difference between the warmest and the coldest monthly mean in kelvin
    /// * `hemisphere` — the coldest surface is 34.9 days after 1 January (0.6 rad) in the north, half a year later
    ///   in the south
    ///
    /// Diffusivity 0.05 m²/d, between the moist loam values of textbooks. Snow and plant cover narrow the wave.
    pub fn from_air(mean_c: f64, amplitude_k: f64, hemisphere: Hemisphere) -> Self {
        let coldest_day = match hemisphere {
            Hemisphere::Northern => 34.9,
            Hemisphere::Southern => 34.9 + 182.5,
        };
        Self { mean_c, amplitude_k, coldest_day, diffusivity_m2_per_day: 0.05 }
    }

    /// The wave from daily extremes of at least a year: means of the months, each from twenty days or more.
    ///
    /// * `days` — daily extremes in any order
    /// * `hemisphere` — decides the coldest day as in [`Self::from_air`]
    ///
    /// Absent when a month is missing.
    pub fn from_days(days: &[DailyTemps], hemisphere: Hemisphere) -> Option<Self> {
        let mut months = [(0.0, 0_u32); 12];
        for day in days {
            if let (Some(min_c), Some(max_c)) = (day.min_c, day.max_c) {
                let month = &mut months[day.date.month0() as usize];
                *month = (month.0 + (min_c + max_c) / 2.0, month.1 + 1);
            }
        }
        if months.iter().any(|(_, count)| *count < 20) {
            return None;
        }
        let means = months.map(|(sum, count)| sum / f64::from(count));
        let (low, high) =
            means.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), m| (l.min(*m), h.max(*m)));
        Some(Self::from_air(means.iter().sum::<f64>() / 12.0, (high - low) / 2.0, hemisphere))
    }

    /// A wave for a latitude where nothing is known of the climate: mean `27 − 0.0083 φ²` °C, half range `0.2 φ` K
    /// (estimate; coasts are narrower, the inside of continents wider).
    pub fn by_latitude(latitude_deg: f64) -> Self {
        let mean_c = 27.0 - 0.0083 * latitude_deg * latitude_deg;
        Self::from_air(mean_c, 0.2 * latitude_deg.abs(), Hemisphere::of_latitude(latitude_deg))
    }

    /// Temperature in °C at a depth and day.
    ///
    /// * `depth_m` — below the surface, 0 or more
    /// * `day` — days after the start of 1 January, fractions allowed
    ///
    /// `Tm − A e^(−z√(π/365α)) cos(2π/365 (d − d0 − z/2 √(365/πα)))`.
    ///
    /// Reference: T. Kusuda, P. R. Achenbach, Earth temperature and thermal diffusivity at selected stations in the
    /// United States, ASHRAE Trans. 71 (1965) 61–74.
    pub fn temp_c(&self, depth_m: f64, day: f64) -> f64 {
        let alpha = self.diffusivity_m2_per_day;
        let damping = (-depth_m * (PI / (365.0 * alpha)).sqrt()).exp();
        let lag_days = depth_m / 2.0 * (365.0 / (PI * alpha)).sqrt();
        self.mean_c - self.amplitude_k * damping * (TAU / 365.0 * (day - self.coldest_day - lag_days)).cos()
    }
}
