//! What the caller says about a file, and about the place it is from.

use chrono::{DateTime, Utc};
use chrono_tz::Tz;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{DateOrder, DecimalMark, Delimiter, LogUnit, Quantity, TextEncoding};
use crate::site::TemperatureUnit;

/// What is said about a file; each thing that is said goes before what the file lets suppose.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct LogOptions {
    /// How its characters are written.
    pub encoding: Option<TextEncoding>,
    /// What stands between cells.
    pub delimiter: Option<Delimiter>,
    /// Mark between whole and part of a number.
    pub decimal: Option<DecimalMark>,
    /// Order of day, month and year.
    pub order: Option<DateOrder>,
    /// Unit of all temperatures.
    pub unit: Option<LogUnit>,
    /// What its clock shows: a name of the IANA time-zone database, `UTC`, or an offset such as `+01:00` that it keeps
    /// all year. It does not change times that carry their own offset.
    pub zone: Option<String>,
    /// 1-based line of the headings.
    pub header_line: Option<u32>,
    /// What single columns hold.
    pub columns: Vec<ColumnUse>,
    /// Name of the sensor of columns that do not name one.
    pub sensor: Option<String>,
}

/// What a column holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ColumnUse {
    /// Its heading, or its number from 1.
    pub column: String,
    /// What is measured; absent for a column to leave out.
    pub quantity: Option<Quantity>,
    /// Name of its sensor, where the heading does not give the right one.
    #[serde(default)]
    pub sensor: Option<String>,
}

/// Where and when a file is read.
#[derive(Debug, Clone, PartialEq)]
pub struct LogSetting {
    /// Time zone of the site, which a clock shows where nothing says otherwise.
    pub time_zone: Tz,
    /// The present instant: later readings cannot be.
    pub now_utc: DateTime<Utc>,
    /// Unit in which the grower reads temperatures.
    pub usual_unit: TemperatureUnit,
    /// Latitude of the site in degrees north, for what is plausible in its winter.
    pub latitude_deg: f64,
}
