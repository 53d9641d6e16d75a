//! The shelter through time: zones, pots, soil and skin under the weather.

pub mod kernel;
