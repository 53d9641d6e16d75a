//! The plant catalogue.

use hibernacle_engine::plant::Plant;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks for the catalogue.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct PlantListRequest {}

/// The catalogue with the grower's own entries.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PlantList {
    /// All entries in use, by key.
    pub plants: Vec<Plant>,
    /// Keys of the grower's own entries.
    pub own_keys: Vec<String>,
}

/// Names one of the grower's own entries.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct PlantKey {
    /// Its key.
    pub key: String,
}
