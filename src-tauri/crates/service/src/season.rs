//! The season plan and the close-up checklist.

use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;

/// season_plan.
///
/// # Errors
/// Until the data can be stored.
pub fn season_plan(
    _context: &Context,
    _request: hibernacle_contract::season::SeasonRequest,
) -> Result<hibernacle_contract::season::SeasonView, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// close_up.
///
/// # Errors
/// Until the data can be stored.
pub fn close_up(
    _context: &Context,
    _request: hibernacle_contract::season::SeasonRequest,
) -> Result<hibernacle_contract::season::CloseUp, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}
