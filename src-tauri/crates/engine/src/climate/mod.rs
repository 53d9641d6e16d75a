//! Climate: daily records of a station, and what they say about freezes and nightly lows.
//!
//! [`read_climate_file`] turns a file into a [`ClimateRecord`]; [`Climate::from_record`] arranges it by season,
//! and [`Climate::from_typed`] builds a parametric stand-in from a grower's averages. Statistics are computed
//! from a [`Climate`] alone:
//! - [`freeze::first_autumn`] and [`freeze::last_spring`]: dates of a threshold, with chances in NOAA's sense;
//! - [`Climate::lows`]: the chance of a low by date, computed once per climate and cheap to ask;
//! - [`freeze_report`]: dates, nights, freeze-free season and annual minimum for several thresholds.
//!
//! Each statistic decides by itself which seasons are complete enough for it: a season counts when the nights that
//! are missing from it are unlikely (at most one chance in five) to have changed the result. So a gap in autumn
//! never becomes a late first freeze, and a night missing in summer costs nothing.
//!
//! Seasons run from midsummer to midsummer, so that one winter lies whole inside one season. The first event is the
//! first since midsummer, the last the last before it: at thresholds that summer nights reach, both fall in
//! summer, and [`Climate::lows`] is the better guide.

mod annual_minimum;
mod draws;
pub mod extreme;
mod figures;
pub mod freeze;
mod freeze_free;
mod gaps;
pub mod hourly;
mod lows;
mod nights;
mod ranks;
mod read;
mod record;
mod report;
mod season_day;
mod seasons;
mod typed;

pub use annual_minimum::{AnnualMinimum, ReturnLevel, annual_minimum, season_minima_c};
pub use figures::RecordFigures;
pub use freeze::{DateInterval, DayInterval, FreezeDates};
pub use freeze_free::{FreezeFreeSeason, freeze_free_season};
pub use lows::DailyLows;
pub use nights::{FreezeNights, freeze_nights};
pub(crate) use ranks::quantile;
pub use read::{ClimateFileError, read_climate_file};
pub use record::{ClimateRecord, DailyTemps, RecordProblem, RecordSource, Station, TypedClimate};
pub use report::{FreezeEvent, FreezeReport, THRESHOLDS_C, freeze_report};
pub use season_day::SeasonDay;
pub use seasons::{Basis, Climate, SeasonLows};
