//! A field of a record that cannot be used as it stands, and how to mend it.

use serde::{Deserialize, Serialize};
use thiserror::Error;
use ts_rs::TS;

/// What is wrong with one field of a record, and the mend.
#[derive(Debug, Clone, PartialEq, Eq, Error, Serialize, Deserialize, TS)]
#[error("{field}: {problem}; {mend}")]
pub struct FieldError {
    /// Path of the field, as the record spells it (`latitude_deg`, `zones[2].name`).
    pub field: String,
    /// What was found, as a phrase (`is 147, outside −90 to 90`).
    pub problem: String,
    /// What to do, as a phrase (`enter degrees north as a positive number`).
    pub mend: String,
}

impl FieldError {
    /// Names a field, what is wrong with it and what to do.
    pub fn new(field: impl Into<String>, problem: impl Into<String>, mend: impl Into<String>) -> Self {
        Self { field: field.into(), problem: problem.into(), mend: mend.into() }
    }
}

/// Refuses a number that is not finite or lies outside `low..=high`.
///
/// # Errors
/// A [`FieldError`] that names the value and the range.
pub fn within(field: &str, value: f64, low: f64, high: f64, mend: &str) -> Result<(), FieldError> {
    if value.is_finite() && (low..=high).contains(&value) {
        Ok(())
    } else {
        Err(FieldError::new(field, format!("is {value}, outside {low} to {high}"), mend))
    }
}

/// Refuses a text that is empty after trimming.
///
/// # Errors
/// A [`FieldError`] that names the field.
pub fn filled(field: &str, value: &str, mend: &str) -> Result<(), FieldError> {
    if value.trim().is_empty() { Err(FieldError::new(field, "is empty", mend)) } else { Ok(()) }
}
