//! The winter's bill.

use hibernacle_contract::winter::{WinterProgress, WinterRequest, WinterRun};
use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;

fn missing() -> Failure {
    Failure::new(ErrorCode::Internal, "the winter's bill is being written")
}

pub fn winter_start(_context: &Context, _request: WinterRequest) -> Result<WinterRun, Failure> {
    Err(missing())
}

pub fn winter_look(_context: &Context, _run: WinterRun) -> Result<WinterProgress, Failure> {
    Err(missing())
}

pub fn winter_cancel(_context: &Context, _run: WinterRun) -> Result<WinterProgress, Failure> {
    Err(missing())
}
