//! Twins of the files in `src/table`.

mod chore_mark;
mod climate_record;
mod own_plant;
mod planting;
mod removal;
mod season;
mod setting;
mod shelter;
mod site;
mod typed_climate;
mod weather;
mod zone;
