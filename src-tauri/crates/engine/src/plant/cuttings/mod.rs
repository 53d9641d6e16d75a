//! Cuttings and divisions: when to take them, when they root, how many succeed, and the record of a batch.

mod record;
mod rooting;
mod success;

pub use record::{BatchCount, BatchStep, CuttingsBatch};
pub use rooting::{BatchDates, CuttingKind, Rooting, Rootings, Take, TakeDates};
pub use success::{Success, success};

#[cfg(test)]
#[path = "cuttings_test.rs"]
mod tests;
