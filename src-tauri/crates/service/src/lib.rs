//! What a person can do: one module per feature, one function per command.
//!
//! Every host (desktop shell, gateway, command line) owns a [`Context`] and calls the functions here, by name
//! through [`dispatch`] or directly. Local time exists only here and at the hosts; what is stored is UTC.

#![expect(clippy::needless_pass_by_value, reason = "a command owns its request: one signature for all")]

mod clock;
mod context;
mod dispatch;
mod heat;
mod house;
mod ids;
mod lookup;
mod planned;
mod problem;

pub mod calendar;
pub mod chores;
pub mod climate;
pub mod night;
pub mod plants;
pub mod readings;
pub mod season;
pub mod setup;
pub mod shelter;
pub mod today;
pub mod weather;
pub mod winter;

pub use clock::{Clock, HostClock, SystemClock};
pub use context::{Context, DATA_FILE, data_dir};
pub use dispatch::{dispatch, dispatch_text};
pub use ids::{CountedIds, IdSource, RandomIds};
pub use weather::WeatherServices;
