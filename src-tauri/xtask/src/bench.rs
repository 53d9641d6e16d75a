//! Measures the work that has a speed bar.

use anyhow::Result;

use crate::work;

/// Runs the benchmarks of the engine in a release build; each compares itself with its bar.
///
/// # Errors
/// When one does not build or passes its bar.
pub(crate) fn run() -> Result<()> {
    work::step("benchmarks", work::cargo().args(["bench", "--quiet", "--package", "hibernacle-engine"]))
}
