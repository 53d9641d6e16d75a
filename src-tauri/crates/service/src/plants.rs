//! The plant catalogue.

use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;

/// plant_list.
///
/// # Errors
/// Until the data can be stored.
pub fn plant_list(
    _context: &Context,
    _request: hibernacle_contract::plants::PlantListRequest,
) -> Result<hibernacle_contract::plants::PlantList, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// plant_save.
///
/// # Errors
/// Until the data can be stored.
pub fn plant_save(
    _context: &Context,
    _request: hibernacle_engine::plant::Plant,
) -> Result<hibernacle_engine::plant::Plant, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}

/// plant_remove.
///
/// # Errors
/// Until the data can be stored.
pub fn plant_remove(
    _context: &Context,
    _request: hibernacle_contract::plants::PlantKey,
) -> Result<hibernacle_contract::plants::PlantKey, Failure> {
    Err(Failure::new(ErrorCode::Internal, "the data cannot be stored yet"))
}
