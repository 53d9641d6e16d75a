//! Daily extremes as a station reports them.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, within};

/// Lowest and highest temperature of one day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct DailyTemps {
    /// The station's observation day.
    pub date: NaiveDate,
    /// Daily minimum in °C; absent where missing or flagged.
    pub min_c: Option<f64>,
    /// Daily maximum in °C; absent where missing or flagged.
    pub max_c: Option<f64>,
}

/// Where a record comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum RecordSource {
    /// GHCN-Daily, fixed-width file of a station.
    GhcnFixedWidth,
    /// GHCN-Daily, comma-separated file of a station.
    GhcnCsv,
    /// Plain `date,tmin,tmax` file.
    PlainCsv,
}

/// The station of a record, as far as the file tells.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Station {
    /// Identifier in its network; empty when unknown.
    pub id: String,
    /// Name; empty when unknown.
    pub name: String,
    /// Degrees north.
    pub latitude_deg: Option<f64>,
    /// Degrees east.
    pub longitude_deg: Option<f64>,
    /// Metres above sea level.
    pub elevation_m: Option<f64>,
}

/// Something in a climate file that was left out or is doubtful.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct RecordProblem {
    /// 1-based line in the file.
    pub line: u32,
    /// What was found and what was done about it.
    pub what: String,
}

/// Daily extremes of one station in order of date, each date once.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ClimateRecord {
    /// The station.
    pub station: Station,
    /// Kind of file it was read from.
    pub source: RecordSource,
    /// The days, ascending.
    pub days: Vec<DailyTemps>,
    /// What was left out or is doubtful, in file order; long runs are summed up in one entry.
    pub problems: Vec<RecordProblem>,
}

/// What a grower knows by heart where no record is at hand.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct TypedClimate {
    /// Average date of the first night at or below 0 °C in autumn (the year is ignored).
    pub first_freeze: NaiveDate,
    /// Average date of the last night at or below 0 °C in spring (the year is ignored).
    pub last_freeze: NaiveDate,
    /// Average of the coldest night of each winter in °C.
    pub annual_minimum_c: f64,
}

impl TypedClimate {
    /// Checks the annual minimum; the two dates are checked against each other when the year is built.
    ///
    /// # Errors
    /// When the minimum is outside −60 to −0.5 °C.
    pub fn check(&self) -> Result<(), FieldError> {
        within(
            "annual_minimum_c",
            self.annual_minimum_c,
            -60.0,
            -0.5,
            "enter the usual coldest night of a winter; a place without frost needs no winter plan",
        )
    }
}
