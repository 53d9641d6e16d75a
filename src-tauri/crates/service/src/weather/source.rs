//! What a source of forecasts is asked and what it gives.

use chrono::{DateTime, TimeDelta, Utc};
use hibernacle_engine::climate::hourly::WeatherReport;
use thiserror::Error;

use super::document::DocumentError;

/// Weather by the hour as a source expects it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Forecast {
    /// When the source made it; absent where it does not say.
    pub(crate) issued_at_utc: Option<DateTime<Utc>>,
    /// Its hours in order, each with a temperature.
    pub(crate) hours: Vec<WeatherReport>,
}

/// What a source is asked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ask<'a> {
    /// The place.
    pub(super) spot: Spot,
    /// The address that the source gave earlier for the hours of this place.
    pub(super) address: Option<&'a str>,
    /// What the source said of the forecast at hand: when it was changed last.
    pub(super) last_modified: Option<&'a str>,
}

/// A place as the services want it: no closer than four decimals of a degree (11 m) and whole metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    /// Degrees north in ten-thousandths, cut off towards zero.
    latitude: i64,
    /// Degrees east in ten-thousandths, cut off towards zero.
    longitude: i64,
    /// Metres above sea level.
    pub(super) elevation_m: i64,
}

impl Spot {
    pub(super) fn of(latitude_deg: f64, longitude_deg: f64, elevation_m: f64) -> Self {
        let cut = |deg: f64| (deg * 1e4 + 1e-6_f64.copysign(deg)).trunc() as i64;
        Self {
            latitude: cut(latitude_deg),
            longitude: cut(longitude_deg),
            elevation_m: elevation_m.round() as i64,
        }
    }

    pub(super) fn latitude_deg(self) -> String {
        plain(self.latitude)
    }

    pub(super) fn longitude_deg(self) -> String {
        plain(self.longitude)
    }

    /// The whole place in one text.
    pub(super) fn key(self) -> String {
        format!("{},{},{}", self.latitude_deg(), self.longitude_deg(), self.elevation_m)
    }
}

/// Ten-thousandths of a degree with no zero at the end: one of the services sends askers of any other form elsewhere.
fn plain(ten_thousandths: i64) -> String {
    format!("{}", ten_thousandths as f64 / 1e4)
}

/// What a source gives.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Answer {
    /// A forecast.
    Fresh {
        /// The forecast.
        forecast: Forecast,
        /// The address of this place's hours, where the source has one for each place.
        address: Option<String>,
        /// When the source says it changed it last.
        last_modified: Option<String>,
        /// For how long the source wants not to be asked again.
        fresh_for: Option<TimeDelta>,
    },
    /// The forecast at hand still stands.
    Unchanged {
        /// For how long the source wants not to be asked again.
        fresh_for: Option<TimeDelta>,
    },
}

/// Why a source gives no forecast.
#[derive(Debug, Clone, PartialEq, Error)]
pub(crate) enum SourceError {
    /// No connection.
    #[error("{host} cannot be reached ({what}); check the connection to the internet")]
    Unreachable {
        /// The service.
        host: String,
        /// What the system says.
        what: String,
    },
    /// No answer in time.
    #[error("{host} did not answer within {seconds} seconds")]
    Slow {
        /// The service.
        host: String,
        /// How long it was waited for.
        seconds: u64,
    },
    /// It has too much to do or is being mended.
    #[error("{host} is overloaded or down for now (status {status})")]
    Busy {
        /// The service.
        host: String,
        /// Status of HTTP.
        status: u16,
        /// For how long it wants not to be asked again.
        retry_after: Option<TimeDelta>,
    },
    /// It has nothing for the place.
    #[error(
        "{host} has no forecast for this place (status 404); check the site’s coordinates, or choose another source"
    )]
    NotThere {
        /// The service.
        host: String,
    },
    /// It does not want to be asked by this program.
    #[error(
        "{host} refuses to answer (status {status}); add an address by which it may reach you, or choose another source"
    )]
    Barred {
        /// The service.
        host: String,
        /// Status of HTTP.
        status: u16,
    },
    /// Another status than those above.
    #[error("{host} answered with status {status} in place of a forecast")]
    Status {
        /// The service.
        host: String,
        /// Status of HTTP.
        status: u16,
    },
    /// It sends from one address to the next, or to a foreign one.
    #[error("{host} sends to other addresses in place of an answer")]
    Elsewhere {
        /// The service.
        host: String,
    },
    /// The answer is longer than any forecast.
    #[error("the answer of {host} is longer than any forecast ({limit_mb} MB)")]
    TooLong {
        /// The service.
        host: String,
        /// Most that is read, in MB.
        limit_mb: u64,
    },
    /// The answer ends in the middle or is garbled.
    #[error("the answer of {host} is broken off or garbled ({what})")]
    Broken {
        /// The service.
        host: String,
        /// What was wrong.
        what: String,
    },
    /// The answer is no forecast.
    #[error(transparent)]
    Document(#[from] DocumentError),
}

impl SourceError {
    /// For how long the source wants not to be asked again.
    pub(super) fn retry_after(&self) -> Option<TimeDelta> {
        match self {
            Self::Busy { retry_after, .. } => *retry_after,
            _ => None,
        }
    }

    /// Whether asking again soon is of no use.
    pub(super) fn is_lasting(&self) -> bool {
        matches!(self, Self::NotThere { .. } | Self::Barred { .. })
    }
}

/// A source of forecasts.
pub(super) trait WeatherSource: Send + Sync {
    /// The forecast of a place.
    ///
    /// # Errors
    /// [`SourceError`] where there is none, in words for the grower.
    fn read(&self, ask: Ask<'_>) -> Result<Answer, SourceError>;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_cut_to_four_decimals_without_zeros_at_the_end() {
        let key = |lat, lon, m| Spot::of(lat, lon, m).key();
        assert_eq!(key(47.712_39, 13.100_0, 470.4), "47.7123,13.1,470");
        assert_eq!(key(-45.000_09, -169.123_456, -3.0), "-45,-169.1234,-3");
        assert_eq!(key(0.0, 180.0, 0.0), "0,180,0");
        // A value with four decimals stays itself, whatever its binary fraction.
        assert_eq!(key(59.9137, 10.7523, 12.0), "59.9137,10.7523,12");
        assert_eq!(key(0.1234, -0.0007, 0.0), "0.1234,-0.0007,0");
    }
}
