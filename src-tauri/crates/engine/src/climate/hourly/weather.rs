//! Weather by the hour, complete, with the problems met on the way.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use ts_rs::TS;

/// Weather at one full hour, complete.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Weather {
    /// Air temperature in °C at screen height.
    pub temp_c: f64,
    /// Dew point over water in °C, as weather services give it, at most `temp_c`.
    pub dew_point_c: f64,
    /// Mean wind in m/s at 10 m over open ground.
    pub wind_m_per_s: f64,
    /// Share of the sky under cloud, 0 to 1.
    pub cloud_fraction: f64,
    /// Global horizontal irradiance in W/m².
    pub ghi_w_per_m2: f64,
}

/// Weather as a station, forecast or file gives it at an instant; what is absent is estimated.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct WeatherReport {
    /// When.
    pub at: DateTime<Utc>,
    /// Air temperature in °C.
    pub temp_c: Option<f64>,
    /// Dew point over water in °C.
    pub dew_point_c: Option<f64>,
    /// Relative humidity over water, 0 to 1; used where the dew point is absent.
    pub relative_humidity: Option<f64>,
    /// Mean wind in m/s.
    pub wind_m_per_s: Option<f64>,
    /// Share of the sky under cloud, 0 to 1.
    pub cloud_fraction: Option<f64>,
    /// Global horizontal irradiance in W/m².
    pub ghi_w_per_m2: Option<f64>,
}

impl WeatherReport {
    /// A report of temperature alone.
    pub fn of_temperature(at: DateTime<Utc>, temp_c: f64) -> Self {
        Self {
            at,
            temp_c: Some(temp_c),
            dew_point_c: None,
            relative_humidity: None,
            wind_m_per_s: None,
            cloud_fraction: None,
            ghi_w_per_m2: None,
        }
    }
}

/// Something in the weather that was left out, filled or estimated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum WeatherProblem {
    /// Hours without a temperature, filled from the days around them.
    HoursFilled {
        /// First hour filled.
        from: DateTime<Utc>,
        /// How many hours.
        hours: u32,
    },
    /// Days without a minimum or maximum, filled from the days around them.
    DaysFilled {
        /// First day filled, as its midnight UTC.
        from: DateTime<Utc>,
        /// How many days.
        days: u32,
    },
    /// A value outside what the earth's weather can be, left out.
    Implausible {
        /// When.
        at: DateTime<Utc>,
        /// Which quantity.
        quantity: Quantity,
        /// The value found.
        value: f64,
    },
    /// A quantity that was not in the source and was estimated.
    Estimated {
        /// Which quantity.
        quantity: Quantity,
        /// Hours concerned.
        hours: u32,
    },
}

/// A quantity of the weather.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    /// Air temperature.
    Temperature,
    /// Dew point or relative humidity.
    Moisture,
    /// Wind.
    Wind,
    /// Cloud.
    Cloud,
    /// Solar radiation.
    Sun,
}

/// Hours in a row with what is known about their doubts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WeatherSeries {
    /// Instant of the first hour.
    pub start: DateTime<Utc>,
    /// One entry per hour, none missing.
    pub hours: Vec<Weather>,
    /// What was left out, filled or estimated.
    pub problems: Vec<WeatherProblem>,
}

/// Why no weather could be made.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum WeatherError {
    /// Fewer than two temperatures.
    #[error(
        "the weather holds {found} temperatures; at least a day of hours or three days of extremes are needed"
    )]
    TooShort {
        /// Usable temperatures found.
        found: usize,
    },
    /// A gap too long to fill.
    #[error(
        "the weather has no temperatures for {days:.1} days from {from}; choose a stretch without that gap"
    )]
    Gap {
        /// First missing hour.
        from: DateTime<Utc>,
        /// Its length in days.
        days: f64,
    },
}
