//! Failures on their way out of a transaction.

use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::field::FieldError;
use hibernacle_store::StoreError;

/// A failure, made from whatever went wrong; lets `?` work on errors of the store and of the engine alike.
#[derive(Debug)]
pub(crate) struct Problem(pub(crate) Failure);

impl Problem {
    pub(crate) fn new(code: ErrorCode, message: impl Into<String>) -> Self {
        Self(Failure::new(code, message))
    }

    /// What was asked for is not there (any more).
    pub(crate) fn not_found(what: &str) -> Self {
        Self::new(ErrorCode::NotFound, format!("{what} does not exist any more; go back and choose another"))
    }

    /// A field of the request cannot be used.
    pub(crate) fn field(field: &str, problem: impl Into<String>, mend: impl Into<String>) -> Self {
        FieldError::new(field, problem, mend).into()
    }
}

impl From<StoreError> for Problem {
    fn from(error: StoreError) -> Self {
        let code = match &error {
            StoreError::TooNew { .. } => ErrorCode::TooNew,
            _ => ErrorCode::Storage,
        };
        let file = match &error {
            StoreError::TooNew { file, .. }
            | StoreError::NotOurs { file, .. }
            | StoreError::Unopened { file, .. } => Some(file.display().to_string()),
            _ => None,
        };
        Self(Failure { file, ..Failure::new(code, error.to_string()) })
    }
}

impl From<FieldError> for Problem {
    fn from(error: FieldError) -> Self {
        Self(error.into())
    }
}

impl From<Failure> for Problem {
    fn from(failure: Failure) -> Self {
        Self(failure)
    }
}

impl From<Problem> for Failure {
    fn from(problem: Problem) -> Self {
        problem.0
    }
}
