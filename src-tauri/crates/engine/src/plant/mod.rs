//! Plants: the catalogue of what species stand and need, and the grower's plantings.

mod catalogue;
pub mod chill;
pub mod cuttings;
pub mod dormancy;
pub mod heat_sum;
pub mod loss;
pub mod own;
pub mod packing;
mod planting;
pub mod seeds;
mod species;
pub mod water;

pub use catalogue::{CatalogueError, PlantCatalogue};
pub use planting::{Container, Planting};
pub use species::{Evidence, Habit, MoveInPass, Plant, PlantFigure, Support, Temperature, WaterClass};
