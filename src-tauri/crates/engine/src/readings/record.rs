//! Timed values of a sensor.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What a sensor measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
pub enum Quantity {
    /// Temperature in °C.
    #[serde(rename = "temp_c")]
    Temperature,
    /// Relative humidity over water as a share, 0 to 1.
    #[serde(rename = "humidity_share")]
    Humidity,
    /// Electric power in W.
    #[serde(rename = "power_w")]
    Power,
}

impl Quantity {
    /// All of them, by [`code`](Self::code).
    pub const ALL: [Self; 3] = [Self::Temperature, Self::Humidity, Self::Power];

    /// Small number that stands for it in a table.
    pub fn code(self) -> u8 {
        match self {
            Self::Temperature => 0,
            Self::Humidity => 1,
            Self::Power => 2,
        }
    }

    /// The quantity of a number; absent for one that none has.
    pub fn from_code(code: u8) -> Option<Self> {
        Self::ALL.get(usize::from(code)).copied()
    }

    /// Values that a sensor in a garden can have met: outside lies a fault of the sensor or its wire.
    ///
    /// Temperature: common practice, no source; wide enough for glass in the sun and for the coldest valleys, and
    /// narrow enough to leave out what digital probes send when they are restarted (85 °C) or torn off (−127 °C).
    /// Humidity: a capacitive sensor in drips reads somewhat above saturation.
    pub fn possible(self) -> std::ops::RangeInclusive<f64> {
        match self {
            Self::Temperature => -60.0..=80.0,
            Self::Humidity => 0.0..=1.1,
            Self::Power => -50.0..=100_000.0,
        }
    }
}

/// What is to be thought of a reading. Every reading is kept; a fit uses the good ones.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Flag {
    /// Nothing speaks against it.
    Good,
    /// Outside everything the sensor can have met.
    Impossible,
    /// Far from the readings just before and just after, which agree with each other.
    Spike,
    /// One of a row of equal readings that is far too long.
    Stuck,
    /// In an hour that the clocks repeat or leave out, and nothing tells which instant is meant.
    DoubtfulTime,
}

impl Flag {
    /// All of them, by [`code`](Self::code).
    pub const ALL: [Self; 5] = [Self::Good, Self::Impossible, Self::Spike, Self::Stuck, Self::DoubtfulTime];

    /// Whether a fit or a statistic may rest on it.
    pub fn is_good(self) -> bool {
        self == Self::Good
    }

    /// Small number that stands for it in a table.
    pub fn code(self) -> u8 {
        match self {
            Self::Good => 0,
            Self::Impossible => 1,
            Self::Spike => 2,
            Self::Stuck => 3,
            Self::DoubtfulTime => 4,
        }
    }

    /// The flag of a number; absent for one that none has.
    pub fn from_code(code: u8) -> Option<Self> {
        Self::ALL.get(usize::from(code)).copied()
    }
}

/// A timed value of one quantity of one sensor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Seconds since 1970-01-01T00:00:00Z.
    pub utc_s: i64,
    /// The value in the unit of its [`Quantity`].
    pub value: f64,
    /// What is to be thought of it.
    pub flag: Flag,
}

impl Reading {
    /// Its instant; absent for seconds outside the calendar.
    pub fn at_utc(&self) -> Option<DateTime<Utc>> {
        DateTime::from_timestamp(self.utc_s, 0)
    }
}
