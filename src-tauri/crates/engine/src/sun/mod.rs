//! The sun: where it stands, when it rises and sets, and what it brings on a surface.
//!
//! Positions come from the NREL solar position algorithm (Reda and Andreas 2004, NREL/TP-560-34302, uncertainty
//! 0.0003° for the years −2000 to 6000) as the crate `solar-positioning` computes it; irradiance is in
//! [`irradiance`], whole days in [`daily`].

use thiserror::Error;

pub mod daily;
pub mod irradiance;
mod position;

pub use position::{Place, SunDay, SunPosition, day, position};

/// Why the sun could not be computed.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SunError {
    /// A place, instant or state of the air outside the method's range.
    #[error("the sun cannot be computed: {0}; check latitude, longitude, elevation and date")]
    OutOfRange(String),
}

impl From<solar_positioning::Error> for SunError {
    fn from(error: solar_positioning::Error) -> Self {
        Self::OutOfRange(error.to_string())
    }
}
