//! Shared helpers for the test crates: a clock to set, and a small garden to test with.

mod clock;
mod garden;

pub use clock::SimulatedClock;
pub use garden::{Garden, draft};
