//! The invented season of Larch Bank.

use hibernacle_contract::setup::DemoRequest;
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::site::Site;

use crate::Context;

/// Loads the demo.
///
/// # Errors
/// Until its files are there.
pub fn demo_load(_context: &Context, _request: DemoRequest) -> Result<Site, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the demo is not there yet"))
}
