//! Documents as the services publish them, built here.
//!
//! MET Norway: Locationforecast 2.0, schema of the compact JSON (api.met.no, “Locationforecast data model”). US National
//! Weather Service: OpenAPI description of api.weather.gov, schemas `PointGeoJson`, `GridpointHourlyForecast` and
//! `GridpointHourlyForecastPeriod`.

use chrono::{DateTime, TimeDelta, Utc};
use serde_json::{Value, json};

/// Hours that fall to `low_c` at 05:00 UTC and rise to ten kelvin more twelve hours from it.
fn temp_c(at: DateTime<Utc>, low_c: f64) -> f64 {
    let hour = f64::from((at.timestamp().rem_euclid(86400) / 3600) as i32);
    let from_low = (hour - 5.0).abs().min(24.0 - (hour - 5.0).abs());
    low_c + from_low * 10.0 / 12.0
}

/// A compact document: `hours` hours from an instant.
pub(crate) fn met_norway(from: &str, hours: i64, low_c: f64) -> Value {
    let from: DateTime<Utc> = from.parse().unwrap();
    let series: Vec<Value> = (0..hours)
        .map(|hour| from + TimeDelta::hours(hour))
        .map(|at| {
            json!({
                "time": at.format("%Y-%m-%dT%H:%M:%SZ").to_string(),
                "data": {
                    "instant": { "details": {
                        "air_pressure_at_sea_level": 1021.4,
                        "air_temperature": (temp_c(at, low_c) * 10.0).round() / 10.0,
                        "cloud_area_fraction": 25.0,
                        "relative_humidity": 87.5,
                        "wind_from_direction": 190.0,
                        "wind_speed": 1.6
                    } },
                    "next_1_hours": {
                        "summary": { "symbol_code": "fair_night" },
                        "details": { "precipitation_amount": 0.0 }
                    }
                }
            })
        })
        .collect();
    json!({
        "type": "Feature",
        "geometry": { "type": "Point", "coordinates": [13.1, 47.7, 470] },
        "properties": {
            "meta": {
                "updated_at": from.format("%Y-%m-%dT%H:%M:%SZ").to_string(),
                "units": {
                    "air_pressure_at_sea_level": "hPa",
                    "air_temperature": "celsius",
                    "cloud_area_fraction": "%",
                    "precipitation_amount": "mm",
                    "relative_humidity": "%",
                    "wind_from_direction": "degrees",
                    "wind_speed": "m/s"
                }
            },
            "timeseries": series
        }
    })
}

/// The document of a point, which names the one of the hours.
pub(crate) fn us_point(base: &str) -> Value {
    json!({
        "type": "Feature",
        "properties": {
            "@type": "wx:Point",
            "gridId": "GRR", "gridX": 40, "gridY": 50,
            "forecast": format!("{base}/gridpoints/GRR/40,50/forecast"),
            "forecastHourly": format!("{base}/gridpoints/GRR/40,50/forecast/hourly"),
            "timeZone": "America/Detroit"
        }
    })
}

/// The document of the hours in °F and mph: `hours` hours from an instant.
pub(crate) fn us_hours(from: &str, hours: i64, low_f: f64) -> Value {
    let from: DateTime<Utc> = from.parse().unwrap();
    let low_c = (low_f - 32.0) / 1.8;
    let periods: Vec<Value> = (0..hours)
        .map(|hour| (hour, from + TimeDelta::hours(hour)))
        .map(|(number, at)| {
            let local = at - TimeDelta::hours(5);
            json!({
                "number": number + 1,
                "name": "",
                "startTime": format!("{}-05:00", local.format("%Y-%m-%dT%H:%M:%S")),
                "endTime": format!("{}-05:00", (local + TimeDelta::hours(1)).format("%Y-%m-%dT%H:%M:%S")),
                "isDaytime": false,
                "temperature": (temp_c(at, low_c) * 1.8 + 32.0).round() as i64,
                "temperatureUnit": "F",
                "temperatureTrend": null,
                "probabilityOfPrecipitation": { "unitCode": "wmoUnit:percent", "value": 10 },
                "dewpoint": { "unitCode": "wmoUnit:degC", "value": -9.4 },
                "relativeHumidity": { "unitCode": "wmoUnit:percent", "value": 80 },
                "windSpeed": "5 to 10 mph",
                "windDirection": "W",
                "shortForecast": "Mostly Clear"
            })
        })
        .collect();
    json!({
        "type": "Feature",
        "properties": {
            "units": "us",
            "generatedAt": "2026-11-25T17:30:00+00:00",
            "updateTime": "2026-11-25T17:10:00+00:00",
            "periods": periods
        }
    })
}
