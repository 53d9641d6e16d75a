//! What a fit is made from: a temperature log and what else is known of its days.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use ts_rs::TS;

use crate::shelter::GroundWave;
use crate::sun::Place;
use crate::sun::irradiance::Facing;

/// Nights without gaps and unknown heat that a fit takes at least.
pub const FEWEST_NIGHTS: usize = 5;

/// A reading at an instant.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Sample {
    /// When.
    pub at: DateTime<Utc>,
    /// Its value in the unit of its series.
    pub value: f64,
    /// Whether it is doubtful and stays out of the fit.
    pub flagged: bool,
}

impl Sample {
    /// A reading that is not doubtful.
    pub fn new(at: DateTime<Utc>, value: f64) -> Self {
        Self { at, value, flagged: false }
    }
}

/// What is known of heat in the shelter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Heat<'a> {
    /// It may have run or not, nobody knows; nights that show it are left out.
    Unknown,
    /// Mean heat in W from each reading's instant until the next one's; nights beyond the readings are treated as
    /// [`Heat::Unknown`].
    Known(&'a [Sample]),
}

/// What is known of covers over the log.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Covers<'a> {
    /// Nothing: changes are looked for.
    NotTold,
    /// Every instant at which a cover came on or off, in order; none means that nothing changed.
    Told(&'a [DateTime<Utc>]),
}

/// A store of heat known by its contents, which makes watts per kelvin out of ratios.
///
/// It must be (nearly) all that keeps the shelter warm overnight: barrels and wet pots on a floor that stores little.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct KnownStore {
    /// Heat capacity in J/K.
    pub heat_capacity_j_per_k: f64,
    /// Relative standard deviation of that figure, other stores considered: 0.1 for barrels on slabs of foam, 0.4
    /// for pots on bare soil (common practice, no source).
    pub doubt: f64,
}

impl KnownStore {
    /// Litres of water, standing free.
    pub fn of_water(litres: f64, doubt: f64) -> Self {
        Self { heat_capacity_j_per_k: 4180.0 * litres, doubt }
    }
}

/// A temperature log with all that is known beside it. Every series is in order of time, at any step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Log<'a> {
    /// Where.
    pub place: Place,
    /// Air inside in °C.
    pub indoor_c: &'a [Sample],
    /// Air outdoors in °C.
    pub outdoor_c: &'a [Sample],
    /// Wind in m/s; empty where it is not known.
    pub wind_m_per_s: &'a [Sample],
    /// Share of the sky under cloud, 0 to 1; empty where it is not known.
    pub cloud_fraction: &'a [Sample],
    /// Dew point in °C; empty for 3 K below the air.
    pub dew_point_c: &'a [Sample],
    /// Global horizontal irradiance in W/m²; empty for the clear sky of the place under the cloud known.
    pub sun_w_per_m2: &'a [Sample],
    /// What is known of heat.
    pub heat: Heat<'a>,
    /// Facings that take sun, with weights that sum to one; empty for a level one.
    pub facings: &'a [(Facing, f64)],
    /// Temperature of the ground.
    pub ground: GroundWave,
    /// What is known of covers.
    pub covers: Covers<'a>,
    /// A store known by its contents.
    pub store: Option<KnownStore>,
}

impl<'a> Log<'a> {
    /// A log of two thermometers and nothing else.
    pub fn of_temperatures(place: Place, indoor_c: &'a [Sample], outdoor_c: &'a [Sample]) -> Self {
        Self {
            place,
            indoor_c,
            outdoor_c,
            wind_m_per_s: &[],
            cloud_fraction: &[],
            dew_point_c: &[],
            sun_w_per_m2: &[],
            heat: Heat::Unknown,
            facings: &[],
            ground: GroundWave::by_latitude(place.latitude_deg),
            covers: Covers::NotTold,
            store: None,
        }
    }
}

/// Why nothing can be told from a log.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum FitError {
    /// No usable reading of a series.
    #[error("the log has no usable readings {place}; import them or choose another sensor")]
    Empty {
        /// `inside` or `outdoors`.
        place: &'static str,
    },
    /// Both series have readings, but never at the same time.
    #[error(
        "the readings inside ({inside_from} to {inside_to}) and outdoors share no stretch of time; import the outdoor \
         readings of the same days, and check the time zone of both"
    )]
    NoOverlap {
        /// First reading inside.
        inside_from: DateTime<Utc>,
        /// Last reading inside.
        inside_to: DateTime<Utc>,
    },
    /// Too few nights.
    #[error(
        "the log holds {usable} usable nights{left_out}; the insulation check needs at least {needed}, and two weeks \
         or more for a narrow answer: keep logging"
    )]
    TooFewNights {
        /// Nights that can be used.
        usable: usize,
        /// Nights needed.
        needed: usize,
        /// Clause about nights left out, empty where there are none.
        left_out: String,
    },
    /// Readings are not in order of time.
    #[error("the readings {place} go back in time at {at}; sort them by time")]
    Unsorted {
        /// `inside` or `outdoors`.
        place: &'static str,
        /// The first that is too early.
        at: DateTime<Utc>,
    },
    /// Inside follows outdoors as closely as if both sensors hung side by side, or not at all.
    #[error(
        "inside and outdoors differ by {difference_k:.1} K on average at night; the readings cannot tell how the \
         shelter holds heat: check that one sensor is in the shelter and the other outside"
    )]
    NoContrast {
        /// Mean absolute difference in the dark in kelvin.
        difference_k: f64,
    },
    /// The readings fit no shelter.
    #[error(
        "no shelter explains these readings; check that inside and outdoors are not swapped and that both clocks agree"
    )]
    Unexplained,
    /// A figure given beside the log cannot be used.
    #[error(transparent)]
    Field(#[from] crate::field::FieldError),
}
