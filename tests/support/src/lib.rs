//! Shared helpers for the test crates.

mod clock;

pub use clock::SimulatedClock;
