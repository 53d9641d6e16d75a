//! Weather by the hour: from a file, from hourly reports with gaps, or from daily extremes through an hourly curve.

mod complete;
mod curve;
mod from_daily;
mod read;
mod weather;

pub use complete::complete;
pub use curve::{DayExtremes, Night, temp_at_c};
pub(crate) use from_daily::LONGEST_FILLED_DAYS;
pub use from_daily::{DailyAssumptions, from_daily};
pub use read::{HourlyFileError, read_hourly_file};
pub use weather::{Quantity, Weather, WeatherError, WeatherProblem, WeatherReport, WeatherSeries};
