//! Climate records and freeze statistics.

use chrono::NaiveDate;
use hibernacle_engine::climate::{
    Basis, FreezeReport, RecordFigures, RecordProblem, RecordSource, Station, TypedClimate,
};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A climate file to look at or to import.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ClimateFile {
    /// The site it is for; empty for a look at the file before there is a site.
    pub site_id: String,
    /// Name of the file, for messages.
    pub file_name: String,
    /// Its text.
    pub text: String,
    /// Unit of a plain file's temperatures where its header does not say.
    pub plain_unit: Option<hibernacle_engine::site::TemperatureUnit>,
}

/// What was understood of a climate file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ClimatePreview {
    /// Kind of file.
    pub source: RecordSource,
    /// The station, as far as the file tells.
    pub station: Station,
    /// What it covers.
    #[serde(flatten)]
    pub figures: RecordFigures,
    /// What was left out or is doubtful, at most the first hundred.
    pub problems: Vec<RecordProblem>,
    /// How many problems there are in all.
    pub problem_count: u32,
}

/// Averages typed in place of a record.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TypedClimateRequest {
    /// The site.
    pub site_id: String,
    /// The averages.
    pub typed: TypedClimate,
}

/// The climate a site's plan rests on, in a few figures.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ClimateSummary {
    /// What it rests on.
    pub basis: Basis,
    /// Name of the station or of what was typed.
    pub name: String,
    /// Median first autumn night at or below 0 °C, in the season asked for; absent where most years have none.
    pub first_freeze: Option<NaiveDate>,
    /// Median last spring night at or below 0 °C.
    pub last_freeze: Option<NaiveDate>,
    /// Mean of the lowest temperature of each season in °C; absent with fewer than two seasons.
    pub annual_minimum_c: Option<f64>,
    /// The averages, where they were typed.
    pub typed: Option<TypedClimate>,
}

/// Asks for freeze statistics.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FreezeRequest {
    /// The site.
    pub site_id: String,
    /// Thresholds in °C; empty for 0, −2.2, −4.4 and −6.7.
    pub thresholds_c: Vec<f64>,
}

/// Freeze statistics of a site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SiteFreezes {
    /// Name of the station, or of what was typed.
    pub station: String,
    /// The statistics.
    #[serde(flatten)]
    pub report: FreezeReport,
}
