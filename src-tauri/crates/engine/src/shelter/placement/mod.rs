//! The floor plan to scale: zones, where a heater blows and what must keep clear of it, and where the sensor belongs.
//!
//! These are rules for a first arrangement, not a flow computation: the reach of a fan heater is that of a free jet, the
//! coldest spot is guessed from walls, sun and heater. A sensor moved from spot to spot tells it for the shelter at hand.

mod blast;
mod coldest;
mod layout;
mod shape;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::circuit::CLEARANCE_M;
use super::{Heater, Materials, Outline, Sensor, Shelter, ShelterBuild, Spot, Zone};
use crate::plant::Planting;

/// Share of a zone from which its plants are said to stand in the blast.
const WORTH_SAYING: f64 = 0.02;
/// Distance in m from a heater within which a sensor feels it rather than the air (common practice, no source).
const SENSOR_CLEAR_M: f64 = 0.5;
/// Distance in m from the likely coldest spot within which a sensor watches it (common practice, no source).
const WATCHED_M: f64 = 1.0;

/// A shelter seen from above.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FloorPlan {
    /// Extent along the length in metres, drawn to the right.
    pub length_m: f64,
    /// Extent across in metres, drawn downwards.
    pub width_m: f64,
    /// Direction of north in degrees clockwise from along the length.
    pub north_deg: f64,
    /// Every zone.
    pub zones: Vec<ZoneOnPlan>,
    /// Every heater.
    pub heaters: Vec<HeaterOnPlan>,
    /// Likely the coldest spot at night: where a sensor belongs.
    pub coldest: Spot,
    /// What is wrong with the placement, the most serious first.
    pub findings: Vec<PlacementFinding>,
}

/// A zone on the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneOnPlan {
    /// Its identifier.
    pub zone_id: String,
    /// Where it lies.
    pub outline: Outline,
    /// Whether the grower drew it; otherwise it was laid out by its area.
    pub is_drawn: bool,
}

/// A heater on the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HeaterOnPlan {
    /// Its identifier.
    pub heater_id: String,
    /// Where it stands.
    pub spot: Spot,
    /// Whether the grower placed it; otherwise it was put in the middle of its zone.
    pub is_placed: bool,
    /// Corners of the area in which its air or radiation dries plants out; empty where there is none.
    pub blast: Vec<Spot>,
    /// Distance from its middle to which its warmth is felt directly, in metres.
    pub reach_m: f64,
    /// Distance to keep from anything that can burn, in metres.
    pub clearance_m: f64,
}

/// Something wrong with the placement.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum PlacementFinding {
    /// Plantings stand where the heater's air dries them out.
    InBlast {
        /// The heater.
        heater_id: String,
        /// The zone.
        zone_id: String,
        /// Share of the zone that lies in the blast.
        share: f64,
        /// The plantings of the zone.
        planting_ids: Vec<String>,
    },
    /// A side of the shelter or the plants of a zone are closer than they may be without a shield.
    TooClose {
        /// The heater.
        heater_id: String,
        /// The zone, as drawn; absent for a side of the shelter.
        zone_id: Option<String>,
        /// Distance from the heater in metres.
        distance_m: f64,
        /// Distance to keep in metres.
        needed_m: f64,
    },
    /// There is no shield of something that cannot burn.
    NoShield {
        /// The heater.
        heater_id: String,
    },
    /// The thermostat's sensor hangs in the blast or close to the heater, and turns it off too early.
    SensorInBlast {
        /// The heater.
        heater_id: String,
        /// The sensor.
        sensor_id: String,
    },
    /// No sensor hangs within a metre of the likely coldest spot.
    ColdestUnwatched {
        /// Distance from the nearest sensor of the shelter in metres; absent without one.
        nearest_m: Option<f64>,
    },
}

/// The floor plan of a shelter.
///
/// * `shelter`, `build` — its size and how it stands
/// * `zones` — its zones; one that was not drawn is laid out by its area
/// * `plantings` — of which those in its zones count
/// * `heaters`, `sensors` — its own; one that was not placed stands in the middle of its zone
/// * `materials` — the table of heaters
pub fn floor_plan(
    shelter: &Shelter,
    build: &ShelterBuild,
    zones: &[Zone],
    plantings: &[Planting],
    heaters: &[Heater],
    sensors: &[Sensor],
    materials: &Materials,
) -> FloorPlan {
    let zones_on_plan = layout::zones(shelter, zones);
    let heaters_on_plan: Vec<HeaterOnPlan> = heaters
        .iter()
        .map(|heater| {
            let spot = heater.spot.unwrap_or_else(|| middle_of(&zones_on_plan, heater.zone_id.as_deref()));
            blast::of(heater, spot, shelter, materials)
        })
        .collect();
    let coldest = coldest::spot(shelter, build, zones, &zones_on_plan, &heaters_on_plan);
    let mut plan = FloorPlan {
        length_m: shelter.length_m,
        width_m: shelter.width_m,
        north_deg: (360.0 - build.length_azimuth_deg).rem_euclid(360.0),
        zones: zones_on_plan,
        heaters: heaters_on_plan,
        coldest,
        findings: Vec::new(),
    };
    plan.findings = findings(&plan, heaters, sensors, plantings);
    plan
}

fn middle_of(zones: &[ZoneOnPlan], zone_id: Option<&str>) -> Spot {
    let zone = zones.iter().find(|zone| zone_id == Some(&zone.zone_id)).or(zones.first());
    zone.map_or(Spot { x_m: 0.0, y_m: 0.0 }, |zone| shape::middle(&zone.outline))
}

fn findings(
    plan: &FloorPlan,
    heaters: &[Heater],
    sensors: &[Sensor],
    plantings: &[Planting],
) -> Vec<PlacementFinding> {
    let pairs = || heaters.iter().zip(&plan.heaters);
    let mut findings: Vec<PlacementFinding> = pairs()
        .filter(|(heater, _)| !heater.has_shield)
        .flat_map(|(_, on_plan)| too_close(plan, on_plan))
        .collect();
    findings.extend(
        heaters
            .iter()
            .filter(|heater| !heater.has_shield)
            .map(|heater| PlacementFinding::NoShield { heater_id: heater.id.clone() }),
    );
    findings.extend(plan.heaters.iter().flat_map(|on_plan| in_blast(plan, on_plan, plantings)));
    let placed = |sensor: &Sensor| {
        let zone = plan.zones.iter().find(|zone| sensor.zone_id.as_ref() == Some(&zone.zone_id))?;
        Some(sensor.spot.unwrap_or_else(|| shape::middle(&zone.outline)))
    };
    for (heater, on_plan) in pairs() {
        let guides = |sensor: &&Sensor| {
            let zone = heater.sensor_zone_id.as_ref().or(heater.zone_id.as_ref());
            sensor.spot.is_some() && sensor.zone_id.as_ref() == zone
        };
        findings.extend(sensors.iter().filter(guides).filter_map(|sensor| {
            let spot = placed(sensor)?;
            let is_close = shape::distance_m(spot, on_plan.spot) < SENSOR_CLEAR_M;
            (is_close || shape::contains(&on_plan.blast, spot)).then(|| PlacementFinding::SensorInBlast {
                heater_id: on_plan.heater_id.clone(),
                sensor_id: sensor.id.clone(),
            })
        }));
    }
    let nearest_m = sensors
        .iter()
        .filter_map(placed)
        .map(|spot| shape::distance_m(spot, plan.coldest))
        .min_by(f64::total_cmp);
    if nearest_m.is_none_or(|nearest_m| nearest_m > WATCHED_M) {
        findings.push(PlacementFinding::ColdestUnwatched { nearest_m });
    }
    findings
}

/// The nearest side and every drawn zone within the clearance; a zone around the heater tells nothing of its plants.
fn too_close(plan: &FloorPlan, heater: &HeaterOnPlan) -> Vec<PlacementFinding> {
    let Spot { x_m, y_m } = heater.spot;
    let side_m =
        [x_m, plan.length_m - x_m, y_m, plan.width_m - y_m].into_iter().fold(f64::INFINITY, f64::min);
    let zones = plan.zones.iter().filter(|zone| zone.is_drawn).filter_map(|zone| {
        let distance_m = shape::distance_to_m(&zone.outline, heater.spot);
        (distance_m > 0.0).then(|| (Some(zone.zone_id.clone()), distance_m))
    });
    std::iter::once((None, side_m))
        .chain(zones)
        .filter(|(_, distance_m)| *distance_m < CLEARANCE_M)
        .map(|(zone_id, distance_m)| PlacementFinding::TooClose {
            heater_id: heater.heater_id.clone(),
            zone_id,
            distance_m,
            needed_m: CLEARANCE_M,
        })
        .collect()
}

fn in_blast(plan: &FloorPlan, heater: &HeaterOnPlan, plantings: &[Planting]) -> Vec<PlacementFinding> {
    plan.zones
        .iter()
        .filter_map(|zone| {
            let share = shape::area_m2(&shape::clipped(&heater.blast, &zone.outline))
                / (zone.outline.length_m * zone.outline.width_m);
            let planting_ids: Vec<String> = plantings
                .iter()
                .filter(|planting| planting.zone_id.as_ref() == Some(&zone.zone_id))
                .map(|planting| planting.id.clone())
                .collect();
            (share > WORTH_SAYING && !planting_ids.is_empty()).then(|| PlacementFinding::InBlast {
                heater_id: heater.heater_id.clone(),
                zone_id: zone.zone_id.clone(),
                share,
                planting_ids,
            })
        })
        .collect()
}

#[cfg(test)]
#[path = "placement_test.rs"]
mod tests;
