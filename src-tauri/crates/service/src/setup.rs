//! Set-up: the site, its shelters, zones and plantings.

use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;

/// overview.
///
/// # Errors
/// Until the data can be stored.
pub fn overview(
    _context: &Context,
    _request: hibernacle_contract::setup::OverviewRequest,
) -> Result<hibernacle_contract::setup::Overview, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// site_save.
///
/// # Errors
/// Until the data can be stored.
pub fn site_save(
    _context: &Context,
    _request: hibernacle_engine::site::Site,
) -> Result<hibernacle_engine::site::Site, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// shelter_save.
///
/// # Errors
/// Until the data can be stored.
pub fn shelter_save(
    _context: &Context,
    _request: hibernacle_engine::shelter::Shelter,
) -> Result<hibernacle_engine::shelter::Shelter, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// zone_save.
///
/// # Errors
/// Until the data can be stored.
pub fn zone_save(
    _context: &Context,
    _request: hibernacle_engine::shelter::Zone,
) -> Result<hibernacle_engine::shelter::Zone, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// planting_save.
///
/// # Errors
/// Until the data can be stored.
pub fn planting_save(
    _context: &Context,
    _request: hibernacle_engine::plant::Planting,
) -> Result<hibernacle_engine::plant::Planting, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// remove.
///
/// # Errors
/// Until the data can be stored.
pub fn remove(
    _context: &Context,
    _request: hibernacle_contract::setup::Item,
) -> Result<hibernacle_contract::setup::Removed, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// restore.
///
/// # Errors
/// Until the data can be stored.
pub fn restore(
    _context: &Context,
    _request: hibernacle_contract::setup::Removed,
) -> Result<hibernacle_contract::setup::Item, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// demo_load.
///
/// # Errors
/// Until the data can be stored.
pub fn demo_load(
    _context: &Context,
    _request: hibernacle_contract::setup::DemoRequest,
) -> Result<hibernacle_engine::site::Site, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}
