//! Weather by the hour: from hourly reports with gaps, or from daily extremes through an hourly curve.

mod complete;
mod curve;
mod from_daily;
mod weather;

pub use complete::complete;
pub use curve::{DayExtremes, Night, temp_at_c};
pub use from_daily::{DailyAssumptions, from_daily};
pub use weather::{Quantity, Weather, WeatherError, WeatherProblem, WeatherReport, WeatherSeries};
