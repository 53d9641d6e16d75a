//! One night ahead: how cold each zone gets without heat, below which outdoor low heat is needed, and what heating
//! costs.

mod call;
mod fade;
mod learn;
mod weather;

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, Normal};
use thiserror::Error;
use ts_rs::TS;

use super::dynamic::RunError;
use crate::climate::hourly::WeatherError;
use crate::field::{FieldError, within};
pub use call::night_call;
pub use fade::{hold_ahead, hold_fade};
pub use learn::{Learned, PRIOR_NIGHTS, learned};
pub use weather::{night_weather, spell_weather};

/// What is known or expected of a night.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct NightOutlook {
    /// The date on which the night begins.
    pub night_of: NaiveDate,
    /// Outdoor low in °C.
    pub low_c: f64,
    /// Highest temperature of the day after in °C; absent for that of the day before.
    pub next_high_c: Option<f64>,
    /// Share of the sky under cloud, 0 to 1.
    pub cloud_fraction: f64,
    /// Wind in m/s.
    pub wind_m_per_s: f64,
    /// Standard deviation in kelvin of the outdoor low around `low_c`: 1.3 for a forecast of the coming night (UK Met
    /// Office: 86.5 % of first-night minima within 2 °C), more for later ones.
    pub low_error_k: f64,
    /// Standard deviation in kelvin of what the model misses inside; 1.5 before any temperature log.
    pub model_error_k: f64,
}

impl NightOutlook {
    /// A forecast low for the coming night under a sky, with the usual errors.
    pub fn forecast(night_of: NaiveDate, low_c: f64, cloud_fraction: f64, wind_m_per_s: f64) -> Self {
        Self {
            night_of,
            low_c,
            next_high_c: None,
            cloud_fraction,
            wind_m_per_s,
            low_error_k: 1.3,
            model_error_k: 1.5,
        }
    }

    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        within("low_c", self.low_c, -60.0, 40.0, "enter the outdoor low of the night")?;
        if let Some(high) = self.next_high_c {
            within("next_high_c", high, self.low_c, 55.0, "enter a high above the low")?;
        }
        within("cloud_fraction", self.cloud_fraction, 0.0, 1.0, "enter 0 for clear, 1 for overcast")?;
        within("wind_m_per_s", self.wind_m_per_s, 0.0, 60.0, "enter the wind of the forecast")?;
        within("low_error_k", self.low_error_k, 0.0, 10.0, "enter the usual error of the forecast")?;
        within("model_error_k", self.model_error_k, 0.0, 10.0, "enter the usual error of the model")
    }
}

/// Why there is no answer for a night.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NightError {
    /// A field of the outlook cannot be used.
    #[error(transparent)]
    Field(#[from] FieldError),
    /// The days before cannot be used.
    #[error(transparent)]
    Weather(#[from] WeatherError),
    /// The shelter cannot be run.
    #[error(transparent)]
    Run(#[from] RunError),
}

/// A zone's figures for the call.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneLimit {
    /// Kelvin by which its thermometer differs from the model's air.
    pub offset_k: f64,
    /// Temperature in °C below which its most tender planting is at risk.
    pub limit_c: f64,
}

/// Price and efficiency of the heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatPrice {
    /// Money for a kWh of heat that reaches the air.
    pub per_kwh: f64,
}

/// One zone in a night without heat.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneNight {
    /// Median of its coldest temperature in °C.
    pub low_c: f64,
    /// One night in ten is colder than this, °C.
    pub low_10_c: f64,
    /// One night in ten is milder than this, °C.
    pub low_90_c: f64,
    /// Degrees above outdoors at the coldest hours, in kelvin.
    pub hold_k: f64,
    /// Its limit in °C.
    pub limit_c: f64,
    /// Probability that it passes its limit.
    pub risk: f64,
    /// Outdoor low in °C below which it needs heat; absent where it needs none within 24 K below the outlook.
    pub heat_below_c: Option<f64>,
    /// Kelvin by which its low follows one kelvin of the outdoor low, within 4 K of the outlook.
    pub low_slope: f64,
}

/// What heating through the night takes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HeatPlan {
    /// Thermostat setting in °C at the sensor.
    pub set_c: f64,
    /// Hours of full heat, mean over the draws.
    pub full_hours: f64,
    /// Heat in kWh, mean over the draws.
    pub heat_kwh: f64,
    /// Heat in kWh that one night in ten exceeds.
    pub heat_90_kwh: f64,
    /// Cost, mean over the draws.
    pub cost: f64,
    /// Coldest temperature of every zone in °C, median draw.
    pub zone_low_c: Vec<f64>,
    /// Probability that any zone passes its limit all the same.
    pub risk: f64,
}

/// Temperatures at a moment of the median night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct NightPoint {
    /// When.
    pub at: DateTime<Utc>,
    /// Outdoors in °C.
    pub outside_c: f64,
    /// Every zone without heat in °C.
    pub zone_c: Vec<f64>,
    /// Every zone with heat in °C; empty without a heater.
    pub heated_c: Vec<f64>,
    /// Heat in W.
    pub heat_w: f64,
}

/// The decision for one night in figures.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct NightCall {
    /// Outdoor low of the outlook in °C.
    pub outside_low_c: f64,
    /// Every zone without heat.
    pub zones: Vec<ZoneNight>,
    /// Index of the zone that is first in need.
    pub laggard: usize,
    /// Outdoor low in °C below which heat is needed for the first zone; absent where none needs it.
    pub heat_below_c: Option<f64>,
    /// With the heater; absent without one.
    pub heating: Option<HeatPlan>,
    /// The median night from noon to noon by the sun, every half hour.
    pub course: Vec<NightPoint>,
}

/// One night of a cold spell.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct NightHold {
    /// The date on which it begins.
    pub night_of: NaiveDate,
    /// Outdoor low in °C.
    pub outside_low_c: f64,
    /// Low of the coldest zone in °C.
    pub zone_low_c: f64,
    /// Index of that zone.
    pub coldest_zone: u32,
    /// Degrees above outdoors in kelvin.
    pub hold_k: f64,
    /// Share of ice in the coldest pots at the end, 0 to 1.
    pub pots_frozen: f64,
}

/// Quantile of the standard normal distribution.
pub(super) fn normal_quantile(p: f64) -> f64 {
    Normal::standard().inverse_cdf(p)
}
