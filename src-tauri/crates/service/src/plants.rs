//! The plant catalogue.

use hibernacle_contract::plants::{PlantKey, PlantList, PlantListRequest};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::plant::{Plant, PlantCatalogue};
use hibernacle_store::Reader;

use crate::Context;
use crate::problem::Problem;

/// The catalogue in use: built-in entries, with the grower's own added or in their place.
pub(crate) fn catalogue(context: &Context, data: &Reader<'_>) -> Result<PlantCatalogue, Problem> {
    Ok(context.built_in_plants()?.clone().extended_with(data.own_plants()?))
}

/// Whether a key stands for a plant in use.
pub(crate) fn is_known(context: &Context, data: &Reader<'_>, key: &str) -> Result<bool, Problem> {
    Ok(context.built_in_plants()?.get(key).is_some()
        || data.own_plants()?.iter().any(|plant| plant.key == key))
}

/// All plants in use.
///
/// # Errors
/// Where the data cannot be read.
pub fn plant_list(context: &Context, _request: PlantListRequest) -> Result<PlantList, Failure> {
    context.read(|data| {
        Ok(PlantList {
            plants: catalogue(context, data)?.iter().cloned().collect(),
            own_keys: data.own_plants()?.into_iter().map(|plant| plant.key).collect(),
        })
    })
}

/// Enters a plant of the grower's own or changes one; with the key of a built-in entry it takes its place.
///
/// # Errors
/// Where a field cannot be used.
pub fn plant_save(context: &Context, plant: Plant) -> Result<Plant, Failure> {
    plant.check()?;
    context.write(|data| {
        data.put_own_plant(&plant)?;
        Ok(plant)
    })
}

/// Deletes an entry of the grower's own; a built-in entry with its key counts again.
///
/// # Errors
/// [`ErrorCode::NotFound`] where it is not the grower's own, [`ErrorCode::Conflict`] where plantings need it.
pub fn plant_remove(context: &Context, plant: PlantKey) -> Result<PlantKey, Failure> {
    let has_built_in = context.built_in_plants()?.get(&plant.key).is_some();
    context.write(|data| {
        if !data.delete_own_plant(&plant.key)? {
            return Err(Problem::new(
                ErrorCode::NotFound,
                format!("“{}” is none of your own plants; plants of the catalogue stay", plant.key),
            ));
        }
        let labels = data.labels_of_plant(&plant.key)?;
        if let Some(first) = labels.first()
            && !has_built_in
        {
            let others = match labels.len() - 1 {
                0 => String::new(),
                1 => " and one other planting".to_owned(),
                more => format!(" and {more} other plantings"),
            };
            return Err(Problem::new(
                ErrorCode::Conflict,
                format!(
                    "“{first}”{others} still need this plant; give them another plant or remove them first"
                ),
            ));
        }
        Ok(plant)
    })
}
