//! Ticking, skipping and moving chores.

use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;

/// chore_done.
///
/// # Errors
/// Until the data can be stored.
pub fn chore_done(
    _context: &Context,
    _request: hibernacle_contract::chores::ChoreDone,
) -> Result<hibernacle_contract::chores::ChoreChanged, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// chore_skip.
///
/// # Errors
/// Until the data can be stored.
pub fn chore_skip(
    _context: &Context,
    _request: hibernacle_contract::chores::ChoreSkip,
) -> Result<hibernacle_contract::chores::ChoreChanged, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// chore_move.
///
/// # Errors
/// Until the data can be stored.
pub fn chore_move(
    _context: &Context,
    _request: hibernacle_contract::chores::ChoreMove,
) -> Result<hibernacle_contract::chores::ChoreChanged, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// chore_undo.
///
/// # Errors
/// Until the data can be stored.
pub fn chore_undo(
    _context: &Context,
    _request: hibernacle_contract::chores::ChoreRef,
) -> Result<hibernacle_contract::chores::ChoreChanged, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// chore_history.
///
/// # Errors
/// Until the data can be stored.
pub fn chore_history(
    _context: &Context,
    _request: hibernacle_contract::chores::ChoreRef,
) -> Result<hibernacle_contract::chores::ChoreHistory, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}
