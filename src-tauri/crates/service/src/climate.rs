//! Climate records.

use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;

/// climate_preview.
///
/// # Errors
/// Until the data can be stored.
pub fn climate_preview(
    _context: &Context,
    _request: hibernacle_contract::climate::ClimateFile,
) -> Result<hibernacle_contract::climate::ClimatePreview, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// climate_import.
///
/// # Errors
/// Until the data can be stored.
pub fn climate_import(
    _context: &Context,
    _request: hibernacle_contract::climate::ClimateFile,
) -> Result<hibernacle_contract::climate::ClimateSummary, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// climate_type.
///
/// # Errors
/// Until the data can be stored.
pub fn climate_type(
    _context: &Context,
    _request: hibernacle_contract::climate::TypedClimateRequest,
) -> Result<hibernacle_contract::climate::ClimateSummary, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// climate_freeze.
///
/// # Errors
/// Until the data can be stored.
pub fn climate_freeze(
    _context: &Context,
    _request: hibernacle_contract::climate::FreezeRequest,
) -> Result<hibernacle_contract::climate::SiteFreezes, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

pub(crate) fn summary(
    _context: &Context,
    _data: &hibernacle_store::Reader<'_>,
    _site: &hibernacle_engine::site::Site,
) -> Result<Option<hibernacle_contract::climate::ClimateSummary>, crate::problem::Problem> {
    Ok(None)
}
