//! Climate records and freeze statistics.

use chrono::NaiveDate;
use hibernacle_engine::climate::{Basis, RecordProblem, RecordSource, Station, TypedClimate};
use hibernacle_engine::season::Event;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A climate file to look at or to import.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ClimateFile {
    /// The site it is for.
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
    /// First day.
    pub first_day: NaiveDate,
    /// Last day.
    pub last_day: NaiveDate,
    /// Days with a minimum.
    pub days_with_min: u32,
    /// Share of days without a minimum between the first and the last, 0 to 1.
    pub missing_share: f64,
    /// Lowest minimum in °C and its day.
    pub lowest: (f64, NaiveDate),
    /// Seasons with enough days.
    pub seasons: u32,
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
    /// Mean of the lowest temperature of each season in °C.
    pub annual_minimum_c: f64,
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
pub struct FreezeReport {
    /// What they rest on.
    pub basis: Basis,
    /// Name of the station.
    pub station: String,
    /// Start year of the season in which dates are given.
    pub season_start_year: i32,
    /// One entry per threshold and event.
    pub events: Vec<FreezeEvent>,
    /// Nights at or below each threshold, per season.
    pub nights: Vec<FreezeNights>,
    /// Length of the freeze-free season, per threshold.
    pub seasons: Vec<FreezeFreeSeason>,
    /// The coldest night of a season.
    pub annual_minimum: AnnualMinimum,
}

/// First autumn or last spring occurrence of a threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FreezeEvent {
    /// Threshold in °C.
    pub threshold_c: f64,
    /// First or last.
    pub event: Event,
    /// Seasons that could be judged.
    pub seasons: u32,
    /// Of these, seasons in which it occurred.
    pub seasons_with: u32,
    /// Date with a 10 % chance: of coming earlier (autumn) or later (spring). Absent where fewer years have any.
    pub p10: Option<DateInterval>,
    /// Median date.
    pub p50: Option<DateInterval>,
    /// Date with a 90 % chance.
    pub p90: Option<DateInterval>,
}

/// A date with the interval in which it lies in 90 of 100 cases, given so many years.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct DateInterval {
    /// Estimate.
    pub date: NaiveDate,
    /// Early end.
    pub from: NaiveDate,
    /// Late end.
    pub to: NaiveDate,
}

/// Nights per season at or below a threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FreezeNights {
    /// Threshold in °C.
    pub threshold_c: f64,
    /// Mean.
    pub mean: f64,
    /// 10 % quantile over seasons.
    pub low: f64,
    /// 90 % quantile over seasons.
    pub high: f64,
}

/// Days from the last spring to the first autumn occurrence of a threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FreezeFreeSeason {
    /// Threshold in °C.
    pub threshold_c: f64,
    /// Summers that could be judged.
    pub summers: u32,
    /// Days that one summer in ten exceeds.
    pub p10_days: Option<f64>,
    /// Median in days.
    pub p50_days: Option<f64>,
    /// Days that nine summers in ten exceed.
    pub p90_days: Option<f64>,
}

/// The coldest temperature of a season.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct AnnualMinimum {
    /// Mean over seasons in °C.
    pub mean_c: f64,
    /// Lower and upper end of the 90 % interval of that mean.
    pub mean_interval_c: (f64, f64),
    /// Lowest in the record in °C.
    pub lowest_c: f64,
    /// Levels that are undercut once in so many years.
    pub returns: Vec<ReturnLevel>,
}

/// A low that is reached or undercut once in so many years on average.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ReturnLevel {
    /// Years.
    pub years: u32,
    /// Temperature in °C.
    pub temp_c: f64,
    /// 90 % interval in °C.
    pub interval_c: (f64, f64),
}
