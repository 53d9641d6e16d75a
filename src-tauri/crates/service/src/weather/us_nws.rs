//! The hourly forecast of the US National Weather Service.
//!
//! Two documents: the one of a point names the address of its grid square's hourly forecast (`forecastHourly`), which has
//! a period for every hour. Both come as GeoJSON (everything in `properties`) or as plain JSON-LD. A temperature is a
//! number with `temperatureUnit`, or a quantity with its `unitCode`; a wind is a text such as “5 to 10 mph” or such a
//! quantity. Clouds are not told. Public domain.

use chrono::{DateTime, Utc};
use hibernacle_engine::climate::hourly::WeatherReport;
use serde::Deserialize;

use super::document::{DocumentError, celsius, checked, metres_per_second, parsed, share};
use super::source::{Answer, Ask, Forecast, SourceError, WeatherSource};
use super::web::{Web, WebAnswer};

/// The service.
pub(super) struct UsNws<'a> {
    pub(super) base: &'a str,
    pub(super) web: &'a Web,
}

impl WeatherSource for UsNws<'_> {
    fn read(&self, ask: Ask<'_>) -> Result<Answer, SourceError> {
        let address = match ask.address {
            Some(address) => address.to_owned(),
            None => self.address(ask)?,
        };
        match self.hours(&address, ask.last_modified) {
            // Grid squares are renumbered at times: then the point knows the new address.
            Err(SourceError::NotThere { .. }) if ask.address.is_some() => {
                let address = self.address(ask)?;
                self.hours(&address, None)
            }
            answer => answer,
        }
    }
}

impl UsNws<'_> {
    /// The address of the hourly forecast of a place.
    fn address(&self, ask: Ask<'_>) -> Result<String, SourceError> {
        #[derive(Deserialize)]
        struct Document {
            properties: Option<Point>,
            #[serde(rename = "forecastHourly")]
            hourly: Option<String>,
        }
        #[derive(Deserialize)]
        struct Point {
            #[serde(rename = "forecastHourly")]
            hourly: Option<String>,
        }
        let spot = ask.spot;
        let point = format!("{}/points/{},{}", self.base, spot.latitude_deg(), spot.longitude_deg());
        let WebAnswer::Text { text, .. } = self.web.get(&point, None)? else {
            return Err(self.web.elsewhere(&point));
        };
        let document: Document = parsed(&text)?;
        let address =
            document.properties.and_then(|point| point.hourly).or(document.hourly).ok_or_else(|| {
                DocumentError::Shape { what: "the point names no hourly forecast".to_owned() }
            })?;
        // The address is the service's own, or it is not followed.
        if address.strip_prefix(self.base).is_none_or(|rest| !rest.starts_with('/')) {
            return Err(self.web.elsewhere(&point));
        }
        Ok(address)
    }

    fn hours(&self, address: &str, last_modified: Option<&str>) -> Result<Answer, SourceError> {
        Ok(match self.web.get(address, last_modified)? {
            WebAnswer::Unchanged { fresh_for } => Answer::Unchanged { fresh_for },
            WebAnswer::Text { text, last_modified, fresh_for } => Answer::Fresh {
                forecast: forecast(&text)?,
                address: Some(address.to_owned()),
                last_modified,
                fresh_for,
            },
        })
    }
}

#[derive(Deserialize)]
struct Document {
    properties: Option<Hourly>,
    #[serde(flatten)]
    plain: Option<Hourly>,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct Hourly {
    update_time: Option<DateTime<Utc>>,
    generated_at: Option<DateTime<Utc>>,
    periods: Vec<Period>,
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct Period {
    start_time: DateTime<Utc>,
    temperature: Amount,
    temperature_unit: Option<String>,
    dewpoint: Option<Quantity>,
    relative_humidity: Option<Quantity>,
    wind_speed: Option<Wind>,
}

/// A number whose unit stands beside it, or a quantity with its own.
#[derive(Deserialize)]
#[serde(untagged)]
enum Amount {
    Number(f64),
    Quantity(Quantity),
}

/// A wind in words or as a quantity.
#[derive(Deserialize)]
#[serde(untagged)]
enum Wind {
    Words(String),
    Quantity(Quantity),
}

#[derive(Deserialize)]
#[serde(rename_all = "camelCase")]
struct Quantity {
    value: Option<f64>,
    min_value: Option<f64>,
    max_value: Option<f64>,
    unit_code: Option<String>,
}

impl Quantity {
    /// Its value in the unit of this program; of a range the middle.
    fn read(
        &self,
        field: &'static str,
        convert: impl Fn(&'static str, f64, &str) -> Result<f64, DocumentError>,
    ) -> Result<Option<f64>, DocumentError> {
        let middle = || Some(f64::midpoint(self.min_value?, self.max_value?));
        let Some(value) = self.value.or_else(middle) else { return Ok(None) };
        convert(field, value, self.unit_code.as_deref().unwrap_or_default()).map(Some)
    }
}

/// Reads the document of the hours.
pub(super) fn forecast(text: &str) -> Result<Forecast, DocumentError> {
    let document: Document = parsed(text)?;
    let hourly = document.properties.or(document.plain).ok_or(DocumentError::Unknown)?;
    let hours = hourly.periods.iter().map(hour).collect::<Result<_, _>>()?;
    checked(hourly.update_time.or(hourly.generated_at), hours)
}

fn hour(period: &Period) -> Result<WeatherReport, DocumentError> {
    let temp_c = match &period.temperature {
        Amount::Number(value) => {
            let unit = period.temperature_unit.as_deref().unwrap_or_default();
            Some(celsius("temperature", *value, unit)?)
        }
        Amount::Quantity(quantity) => quantity.read("temperature", celsius)?,
    };
    if temp_c.is_none() {
        let what = format!("the period from {} has no temperature", period.start_time);
        return Err(DocumentError::Shape { what });
    }
    let quantity = |field, quantity: &Option<Quantity>, convert: fn(&'static str, f64, &str) -> _| {
        quantity.as_ref().map_or(Ok(None), |quantity| quantity.read(field, convert))
    };
    Ok(WeatherReport {
        at: period.start_time,
        temp_c,
        dew_point_c: quantity("dewpoint", &period.dewpoint, celsius)?,
        relative_humidity: quantity("relativeHumidity", &period.relative_humidity, share)?,
        wind_m_per_s: match &period.wind_speed {
            None => None,
            Some(Wind::Words(words)) => wind_m_per_s(words)?,
            Some(Wind::Quantity(quantity)) => quantity.read("windSpeed", metres_per_second)?,
        },
        cloud_fraction: None,
        ghi_w_per_m2: None,
    })
}

/// A wind in words: “10 mph”, “5 to 10 mph” (the middle), “16 km/h”; nothing for an empty text.
fn wind_m_per_s(words: &str) -> Result<Option<f64>, DocumentError> {
    let parts: Vec<&str> = words.split_whitespace().collect();
    let shape = || DocumentError::Shape { what: format!("windSpeed: “{words}” is no wind") };
    let number = |text: &str| text.parse::<f64>().map_err(|_| shape());
    match parts[..] {
        [] => Ok(None),
        [value, unit] => metres_per_second("windSpeed", number(value)?, unit).map(Some),
        [low, "to", high, unit] => {
            metres_per_second("windSpeed", f64::midpoint(number(low)?, number(high)?), unit).map(Some)
        }
        _ => Err(shape()),
    }
}
