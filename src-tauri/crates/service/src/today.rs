//! What is due today.

use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;

/// today.
///
/// # Errors
/// Until the data can be stored.
pub fn today(
    _context: &Context,
    _request: hibernacle_contract::today::TodayRequest,
) -> Result<hibernacle_contract::today::Today, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}
