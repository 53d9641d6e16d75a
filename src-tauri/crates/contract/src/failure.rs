//! Failures as a user interface sees them.

use serde::{Deserialize, Serialize};
use thiserror::Error;
use ts_rs::TS;

use hibernacle_engine::field::FieldError;

/// Kind of failure; the only thing a user interface decides on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ErrorCode {
    /// A field of the request cannot be used; `field` names it.
    Invalid,
    /// A file could not be understood; `file` and `line` say where.
    Unreadable,
    /// The thing asked for does not exist (any more).
    NotFound,
    /// The request contradicts something that stands; the message says what.
    Conflict,
    /// The database was written by a newer program and was left untouched.
    TooNew,
    /// The data could not be read or written.
    Storage,
    /// No such command.
    UnknownCommand,
    /// The host refuses the caller.
    Refused,
    /// A fault of the program.
    Internal,
}

/// A failed command: a code for the program, a sentence for people.
#[derive(Debug, Clone, PartialEq, Eq, Error, Serialize, Deserialize, TS)]
#[error("{message}")]
pub struct Failure {
    /// Kind of failure.
    pub code: ErrorCode,
    /// What was wrong, where, and what to do.
    pub message: String,
    /// Path of the field concerned.
    pub field: Option<String>,
    /// File concerned.
    pub file: Option<String>,
    /// 1-based line concerned.
    pub line: Option<u32>,
}

impl Failure {
    /// A failure with a code and a sentence.
    pub fn new(code: ErrorCode, message: impl Into<String>) -> Self {
        Self { code, message: message.into(), field: None, file: None, line: None }
    }

    /// Names the file and line concerned.
    #[must_use]
    pub fn at(mut self, file: impl Into<String>, line: Option<u32>) -> Self {
        self.file = Some(file.into());
        self.line = line;
        self
    }
}

impl From<FieldError> for Failure {
    fn from(error: FieldError) -> Self {
        Self { field: Some(error.field.clone()), ..Self::new(ErrorCode::Invalid, error.to_string()) }
    }
}
