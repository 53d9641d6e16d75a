//! Temperature of undisturbed ground.

use std::f64::consts::{PI, TAU};

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
