//! The shelter through time: zones, pots, soil and skin under the weather.

mod balance;
mod forcing;
mod house;
pub mod kernel;
mod run;

pub use forcing::{Forcing, Outdoors};
pub use house::ZoneLoad;
pub use kernel::Vent;
pub use run::{
    EnergyReport, Heating, MOST_ZONES, Moment, Phase, RunError, STEPS_PER_HOUR, Scenario, pots_frozen_share,
    simulate,
};
