//! Locationforecast 2.0 (compact) of the Norwegian Meteorological Institute.
//!
//! The document is a GeoJSON feature: `properties.meta` gives `updated_at` and the unit of every quantity,
//! `properties.timeseries` an entry for every hour, after two to three days for every sixth, each with its values at
//! that instant. Data under CC BY 4.0 and NLOD.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use hibernacle_engine::climate::hourly::WeatherReport;
use serde::Deserialize;

use super::document::{DocumentError, celsius, checked, metres_per_second, parsed, share};
use super::source::{Answer, Ask, Forecast, SourceError, WeatherSource};
use super::web::{Web, WebAnswer};

/// The service.
pub(super) struct MetNorway<'a> {
    pub(super) base: &'a str,
    pub(super) web: &'a Web,
}

impl WeatherSource for MetNorway<'_> {
    fn read(&self, ask: Ask<'_>) -> Result<Answer, SourceError> {
        let spot = ask.spot;
        let address = format!(
            "{}/weatherapi/locationforecast/2.0/compact?lat={}&lon={}&altitude={}",
            self.base,
            spot.latitude_deg(),
            spot.longitude_deg(),
            spot.elevation_m
        );
        Ok(match self.web.get(&address, ask.last_modified)? {
            WebAnswer::Unchanged { fresh_for } => Answer::Unchanged { fresh_for },
            WebAnswer::Text { text, last_modified, fresh_for } => {
                Answer::Fresh { forecast: forecast(&text)?, address: None, last_modified, fresh_for }
            }
        })
    }
}

#[derive(Deserialize)]
struct Document {
    properties: Properties,
}

#[derive(Deserialize)]
struct Properties {
    meta: Meta,
    timeseries: Vec<Entry>,
}

#[derive(Deserialize)]
struct Meta {
    updated_at: Option<DateTime<Utc>>,
    units: BTreeMap<String, String>,
}

#[derive(Deserialize)]
struct Entry {
    time: DateTime<Utc>,
    data: Data,
}

#[derive(Deserialize)]
struct Data {
    instant: Instant,
}

#[derive(Deserialize)]
struct Instant {
    details: Details,
}

#[derive(Deserialize)]
struct Details {
    air_temperature: f64,
    dew_point_temperature: Option<f64>,
    relative_humidity: Option<f64>,
    wind_speed: Option<f64>,
    cloud_area_fraction: Option<f64>,
}

/// Reads a document.
pub(super) fn forecast(text: &str) -> Result<Forecast, DocumentError> {
    let Properties { meta, timeseries } = parsed::<Document>(text)?.properties;
    let unit = |field: &'static str| meta.units.get(field).map_or("", String::as_str);
    let hours = timeseries.iter().map(|entry| hour(entry, unit)).collect::<Result<_, _>>()?;
    checked(meta.updated_at, hours)
}

fn hour<'a>(entry: &Entry, unit: impl Fn(&'static str) -> &'a str) -> Result<WeatherReport, DocumentError> {
    type Convert = fn(&'static str, f64, &str) -> Result<f64, DocumentError>;
    let details = &entry.data.instant.details;
    let read = |field, value: Option<f64>, convert: Convert| {
        value.map(|value| convert(field, value, unit(field))).transpose()
    };
    Ok(WeatherReport {
        at: entry.time,
        temp_c: read("air_temperature", Some(details.air_temperature), celsius)?,
        dew_point_c: read("dew_point_temperature", details.dew_point_temperature, celsius)?,
        relative_humidity: read("relative_humidity", details.relative_humidity, share)?,
        wind_m_per_s: read("wind_speed", details.wind_speed, metres_per_second)?,
        cloud_fraction: read("cloud_area_fraction", details.cloud_area_fraction, share)?,
        ghi_w_per_m2: None,
    })
}
