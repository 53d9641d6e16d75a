//! Shared helpers for the test crates.
