//! Twins of the files in `src/table`.

mod chore_mark;
mod climate_record;
mod energy_price;
mod heater;
mod own_plant;
mod planting;
mod reading;
mod removal;
mod season;
mod sensor;
mod setting;
mod shelter;
mod shelter_build;
mod site;
mod typed_climate;
mod weather;
mod zone;
