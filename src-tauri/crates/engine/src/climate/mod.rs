//! Climate: daily records of a station, and what they say about freezes and nightly lows.

pub mod hourly;
mod normals;
mod record;
mod season_day;

pub use normals::{Basis, Climate, SeasonLows};
pub use record::{ClimateRecord, DailyTemps, RecordProblem, RecordSource, Station, TypedClimate};
pub use season_day::SeasonDay;
