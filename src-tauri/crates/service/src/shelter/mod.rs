//! Shelters in detail: how they are built, what stands in them, and the heat they lose.

mod check;
mod detail;
mod loss;
mod placement;
mod save;

use hibernacle_contract::Failure;
use hibernacle_contract::shelter::{MaterialsList, MaterialsRequest};

use crate::Context;

pub use detail::shelter_detail;
pub use loss::heat_loss;
pub(crate) use save::{build, fits, flag_follows_heaters, heater, sensor};
pub use save::{build_usual, heater_save, sensor_save, shelter_build};

/// Glazing, walls, covers and heaters to choose from.
///
/// # Errors
/// Where the program's own tables cannot be read.
pub fn materials_list(context: &Context, _request: MaterialsRequest) -> Result<MaterialsList, Failure> {
    let materials = context.materials()?;
    Ok(MaterialsList {
        glazing: materials.glazing.values().cloned().collect(),
        walls: materials.walls.values().cloned().collect(),
        covers: materials.covers.values().cloned().collect(),
        heaters: materials.heaters.values().cloned().collect(),
    })
}
