//! The calendar file.

use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;

/// calendar_export.
///
/// # Errors
/// Until the data can be stored.
pub fn calendar_export(
    _context: &Context,
    _request: hibernacle_contract::calendar::CalendarRequest,
) -> Result<hibernacle_contract::calendar::CalendarFile, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}
