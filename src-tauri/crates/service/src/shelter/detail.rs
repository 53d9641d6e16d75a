//! Everything that is recorded about a shelter.

use hibernacle_contract::Failure;
use hibernacle_contract::shelter::{ShelterDetail, ShelterRef};
use hibernacle_engine::shelter::Sensor;
use hibernacle_engine::shelter::placement::floor_plan;
use hibernacle_store::Reader;

use crate::heat::Heat;
use crate::house::SiteRecords;
use crate::problem::Problem;
use crate::{Context, lookup};

use super::check;
use super::placement::Names;

/// Everything that is recorded about a shelter, its floor plan, and what is wrong with its heaters.
///
/// # Errors
/// Where the shelter does not exist.
pub fn shelter_detail(context: &Context, request: ShelterRef) -> Result<ShelterDetail, Failure> {
    context.read(|data| detail(context, data, &request.shelter_id))
}

pub(super) fn detail(
    context: &Context,
    data: &Reader<'_>,
    shelter_id: &str,
) -> Result<ShelterDetail, Problem> {
    let materials = context.materials()?;
    let shelter = data.shelter(shelter_id)?.ok_or_else(|| Problem::not_found("this shelter"))?;
    let site = lookup::site(data, &shelter.site_id)?;
    let records = SiteRecords::read(context, data, &site.id)?;
    let house = records.house_of(shelter_id, materials)?;
    let is_here = |zone_id: &Option<String>| {
        zone_id.as_ref().is_some_and(|id| house.zones.iter().any(|zone| zone.id == *id))
    };
    let plantings = records.plantings.iter().filter(|planting| is_here(&planting.zone_id));
    let plantings: Vec<_> = plantings.cloned().collect();
    let sensors: Vec<Sensor> =
        data.sensors(&site.id)?.into_iter().filter(|sensor| is_here(&sensor.zone_id)).collect();
    let heaters = house.heat.as_ref().map_or_else(Vec::new, |heat| heat.recorded.clone());
    let build = house.recorded().clone();
    let plan = floor_plan(&shelter, &build, &house.zones, &plantings, &heaters, &sensors, materials);
    let names = Names { house: &house, heaters: &heaters, sensors: &sensors };
    Ok(ShelterDetail {
        placement: plan.findings.iter().map(|finding| names.reason(finding)).collect(),
        heater_checks: check::heaters(&house, materials)?,
        cautions: house.heat.as_ref().map_or_else(Vec::new, Heat::cautions),
        floor_plan: plan,
        is_usual_build: house.is_usual_build,
        zones: house.zones.clone(),
        prices: data.prices(&site.id)?,
        build,
        plantings,
        heaters,
        sensors,
        shelter,
        site,
    })
}
