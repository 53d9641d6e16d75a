//! The air: moisture, density, the sky's long-wave radiation and leakage.

mod leakage;
mod moist;
mod sky;

pub use leakage::*;
pub use moist::*;
pub use sky::*;
