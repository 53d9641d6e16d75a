//! The air: moisture, density, the sky's long-wave radiation and leakage.

mod moist;

pub use moist::*;
