//! Forecast documents: their format is found out, their values are checked.

use chrono::{DateTime, TimeDelta, Utc};
use hibernacle_engine::climate::hourly::WeatherReport;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use thiserror::Error;

use super::source::Forecast;
use super::{met_norway, us_nws};

/// Longest step between two hours of a forecast, in hours: services widen theirs to six hours after some days.
const LONGEST_STEP_H: i64 = 6;
/// Fewest hours that a forecast has.
const FEWEST_HOURS: usize = 4;

/// Why a document is no forecast.
#[derive(Debug, Clone, PartialEq, Error)]
pub(crate) enum DocumentError {
    /// A web page.
    #[error(
        "this is a web page, not a forecast; a network that wants you to sign in first answers like this"
    )]
    WebPage,
    /// Not JSON.
    #[error("this is not JSON: {what}")]
    NotJson {
        /// What was found.
        what: String,
        /// 1-based line.
        line: u32,
    },
    /// JSON of another kind.
    #[error(
        "this is no forecast that can be read; take the compact Locationforecast of MET Norway or the hourly forecast \
         of the US National Weather Service, both as JSON"
    )]
    Unknown,
    /// A part is missing or has another form than published.
    #[error("the forecast is not as published: {what}")]
    Shape {
        /// What and where.
        what: String,
    },
    /// A unit that is not known.
    #[error("the forecast gives {field} in “{unit}”, which is not known here")]
    Unit {
        /// The quantity.
        field: &'static str,
        /// The unit.
        unit: String,
    },
    /// A value that cannot be.
    #[error("the forecast says {field} {value} for {at}, which cannot be")]
    Value {
        /// The quantity.
        field: &'static str,
        /// The value, in the unit of this program.
        value: f64,
        /// For when.
        at: DateTime<Utc>,
    },
    /// Hours out of order or twice.
    #[error("the forecast’s hours are out of order or double at {at}")]
    Order {
        /// The hour that does not follow.
        at: DateTime<Utc>,
    },
    /// Hours are missing.
    #[error("the forecast leaves out the hours from {from} to {to}")]
    Gap {
        /// The last hour before.
        from: DateTime<Utc>,
        /// The first hour after.
        to: DateTime<Utc>,
    },
    /// Too few hours.
    #[error("the forecast has only {hours} hours")]
    Short {
        /// Their number.
        hours: usize,
    },
    /// Nothing in it is still to come.
    #[error("the forecast ends on {until}, which is past; get a newer one")]
    Over {
        /// Its last hour.
        until: DateTime<Utc>,
    },
}

/// Reads a document whose format is not known.
pub(super) fn read(text: &str) -> Result<Forecast, DocumentError> {
    #[derive(Deserialize)]
    struct Probe {
        properties: Option<Inner>,
        periods: Option<serde::de::IgnoredAny>,
    }
    #[derive(Deserialize)]
    struct Inner {
        timeseries: Option<serde::de::IgnoredAny>,
        periods: Option<serde::de::IgnoredAny>,
    }
    syntax(text)?;
    let probe: Probe = serde_json::from_str(text).map_err(|_| DocumentError::Unknown)?;
    let inner = probe.properties.as_ref();
    if inner.is_some_and(|inner| inner.timeseries.is_some()) {
        met_norway::forecast(text)
    } else if probe.periods.is_some() || inner.is_some_and(|inner| inner.periods.is_some()) {
        us_nws::forecast(text)
    } else {
        Err(DocumentError::Unknown)
    }
}

/// Refuses what is not JSON, web pages by their name.
fn syntax(text: &str) -> Result<(), DocumentError> {
    if text.trim_start().starts_with('<') {
        return Err(DocumentError::WebPage);
    }
    match serde_json::from_str::<serde::de::IgnoredAny>(text) {
        Ok(_) => Ok(()),
        Err(error) => Err(DocumentError::NotJson {
            what: error.to_string(),
            line: u32::try_from(error.line()).unwrap_or(u32::MAX),
        }),
    }
}

/// Reads JSON of a published form.
pub(super) fn parsed<T: DeserializeOwned>(text: &str) -> Result<T, DocumentError> {
    syntax(text)?;
    let mut reader = serde_json::Deserializer::from_str(text);
    serde_path_to_error::deserialize(&mut reader)
        .map_err(|error| DocumentError::Shape { what: format!("{}: {}", error.path(), error.inner()) })
}

/// Checks the hours of a forecast: in order, without a gap, every value one that weather can have.
pub(super) fn checked(
    issued_at_utc: Option<DateTime<Utc>>,
    hours: Vec<WeatherReport>,
) -> Result<Forecast, DocumentError> {
    if hours.len() < FEWEST_HOURS {
        return Err(DocumentError::Short { hours: hours.len() });
    }
    for pair in hours.windows(2) {
        let (from, to) = (pair[0].at, pair[1].at);
        if to <= from {
            return Err(DocumentError::Order { at: to });
        }
        if to - from > TimeDelta::hours(LONGEST_STEP_H) {
            return Err(DocumentError::Gap { from, to });
        }
    }
    for hour in &hours {
        let values = [
            ("a temperature in °C of", hour.temp_c, -90.0, 60.0),
            ("a dew point in °C of", hour.dew_point_c, -100.0, 40.0),
            ("a relative humidity of", hour.relative_humidity, 0.0, 1.05),
            ("a wind in m/s of", hour.wind_m_per_s, 0.0, 115.0),
            ("a share of clouds of", hour.cloud_fraction, 0.0, 1.0),
        ];
        for (field, value, low, high) in values {
            if let Some(value) = value.filter(|value| !(low..=high).contains(value)) {
                return Err(DocumentError::Value { field, value, at: hour.at });
            }
        }
    }
    Ok(Forecast { issued_at_utc, hours })
}

/// Refuses a forecast of which nothing is still to come.
pub(super) fn still_ahead(forecast: Forecast, now: DateTime<Utc>) -> Result<Forecast, DocumentError> {
    match forecast.hours.last() {
        Some(last) if last.at <= now => Err(DocumentError::Over { until: last.at }),
        _ => Ok(forecast),
    }
}

/// A temperature in °C from a value in a unit by one of its published names.
pub(super) fn celsius(field: &'static str, value: f64, unit: &str) -> Result<f64, DocumentError> {
    match unit {
        "celsius" | "C" | "wmoUnit:degC" | "unit:degC" => Ok(value),
        "F" | "wmoUnit:degF" | "unit:degF" => Ok((value - 32.0) / 1.8),
        _ => Err(unknown(field, unit)),
    }
}

/// A wind in m/s from a value in a unit by one of its published names.
pub(super) fn metres_per_second(field: &'static str, value: f64, unit: &str) -> Result<f64, DocumentError> {
    match unit {
        "m/s" | "wmoUnit:m_s-1" | "unit:m_s-1" => Ok(value),
        "km/h" | "wmoUnit:km_h-1" | "unit:km_h-1" => Ok(value / 3.6),
        // International mile of 1609.344 m, international nautical mile of 1852 m.
        "mph" => Ok(value * 0.447_04),
        "kt" | "wmoUnit:kt" | "unit:kt" => Ok(value * 1852.0 / 3600.0),
        _ => Err(unknown(field, unit)),
    }
}

/// A share, 0 to 1, from a value in a unit by one of its published names.
pub(super) fn share(field: &'static str, value: f64, unit: &str) -> Result<f64, DocumentError> {
    match unit {
        "%" | "wmoUnit:percent" | "unit:percent" => Ok(value / 100.0),
        "1" => Ok(value),
        _ => Err(unknown(field, unit)),
    }
}

fn unknown(field: &'static str, unit: &str) -> DocumentError {
    DocumentError::Unit { field, unit: unit.to_owned() }
}
