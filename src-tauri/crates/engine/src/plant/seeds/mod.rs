//! Plants from seed: emergence by temperature, sowings counted back from planting out.

mod germination;
mod sowing;

pub use germination::{Emerged, Emergence, SeedCrop, SeedCrops};
pub use sowing::{HARDENING_DAYS, Sowing, SowingError, SowingPlan, Wanted, WeekNeed, sowing_plan, week_need};

#[cfg(test)]
#[path = "seeds_test.rs"]
mod tests;
