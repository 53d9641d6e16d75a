//! Forecasts: where they come from and what they say of the nights ahead.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Where a site's forecasts come from. Nothing is fetched while it is off.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct WeatherSettings {
    /// The site.
    pub site_id: String,
    /// The source.
    pub source: ForecastSource,
    /// Address by which the service may reach the grower, sent as part of the program's name (the services ask for
    /// it); absent for none.
    pub contact: Option<String>,
}

/// A source of forecasts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ForecastSource {
    /// None: the grower types the low.
    Off,
    /// Documents that the grower saved.
    File,
    /// Locationforecast of MET Norway, for the whole world.
    MetNorway,
    /// Hourly forecast of the US National Weather Service.
    UsNws,
}

/// A forecast document that the grower saved; its format is found out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ForecastFile {
    /// The site.
    pub site_id: String,
    /// Its name.
    pub file_name: String,
    /// Its text.
    pub text: String,
}

/// What is forecast for a site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ForecastView {
    /// Where it comes from.
    pub settings: WeatherSettings,
    /// When it was made by the service; absent while there is none.
    pub issued_at_utc: Option<DateTime<Utc>>,
    /// When it was fetched or read.
    pub fetched_at_utc: Option<DateTime<Utc>>,
    /// Before this instant nothing is fetched again.
    pub next_fetch_utc: Option<DateTime<Utc>>,
    /// The nights ahead.
    pub nights: Vec<ForecastNight>,
    /// Why there is no fresh forecast.
    pub problem: Option<String>,
}

/// A night of a forecast.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ForecastNight {
    /// The date on which it begins.
    pub night_of: NaiveDate,
    /// Days from today.
    pub lead_days: u32,
    /// Lowest temperature between noon and noon in °C.
    pub low_c: f64,
    /// When.
    pub low_at_utc: DateTime<Utc>,
    /// Highest temperature of the day after in °C; absent where the forecast ends before.
    pub next_high_c: Option<f64>,
    /// Mean share of the sky under clouds from dusk to dawn, 0 to 1; absent where it is not told.
    pub cloud_fraction: Option<f64>,
    /// Mean wind in m/s; absent where it is not told.
    pub wind_m_per_s: Option<f64>,
}
