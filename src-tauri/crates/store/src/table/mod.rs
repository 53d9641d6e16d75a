//! The tables, one file each.

use crate::migration::Step;

pub(crate) mod chore_mark;
pub(crate) mod climate_day;
pub(crate) mod climate_record;
pub(crate) mod energy_price;
pub(crate) mod forecast;
pub(crate) mod heater;
pub(crate) mod log_import;
pub(crate) mod night_outcome;
pub(crate) mod night_prediction;
pub(crate) mod own_plant;
pub(crate) mod planting;
pub(crate) mod reading;
pub(crate) mod removal;
pub(crate) mod removal_link;
pub(crate) mod revision;
pub(crate) mod season;
pub(crate) mod sensor;
pub(crate) mod setting;
pub(crate) mod shelter;
pub(crate) mod shelter_build;
pub(crate) mod site;
pub(crate) mod typed_climate;
pub(crate) mod weather_choice;
pub(crate) mod zone;

/// The steps of every table.
pub(crate) const STEPS: &[&[Step]] = &[
    chore_mark::STEPS,
    climate_day::STEPS,
    climate_record::STEPS,
    forecast::STEPS,
    log_import::STEPS,
    night_outcome::STEPS,
    night_prediction::STEPS,
    energy_price::STEPS,
    heater::STEPS,
    own_plant::STEPS,
    planting::STEPS,
    reading::STEPS,
    removal::STEPS,
    removal_link::STEPS,
    revision::STEPS,
    season::STEPS,
    sensor::STEPS,
    setting::STEPS,
    shelter::STEPS,
    shelter_build::STEPS,
    site::STEPS,
    typed_climate::STEPS,
    weather_choice::STEPS,
    zone::STEPS,
];
