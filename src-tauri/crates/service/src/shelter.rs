//! The heat a shelter loses in a design night, and the heater it calls for.

use hibernacle_contract::Failure;
use hibernacle_contract::shelter::{
    HeatLossRequest, HeatLossView, LossTotal, MaterialsList, MaterialsRequest, PathLoss, ShelterDetail,
    ShelterRef,
};
use hibernacle_engine::climate::annual_minimum;
use hibernacle_engine::field::within;
use hibernacle_engine::season::{Caution, Figure, Reason};
use hibernacle_engine::shelter::circuit::{Circuit, CircuitCheck, Finding, Load, check_circuit};
use hibernacle_engine::shelter::steady::{DesignNight, HeatLoss, SIZING_MARGIN};
use hibernacle_engine::shelter::{Envelope, Heater, Materials, Sensor, Shelter, ShelterBuild, Surroundings};
use hibernacle_engine::site::{Site, TemperatureUnit};

use crate::climate::{self, SiteClimate};
use crate::house::House;
use crate::problem::Problem;
use crate::{Context, lookup, plants};

/// Years in which the design low is undercut once.
const DESIGN_YEARS: u32 = 10;
/// Temperature in °C kept where no plant asks for one.
const FROST_FREE_C: f64 = 2.0;
/// Depth in m at which earth lies behind earth-side walls, in the middle.
const EARTH_DEPTH_M: f64 = 1.0;

/// The heat loss of a shelter, path by path, bare and under its cover, and the heater it calls for.
///
/// # Errors
/// Where a field cannot be used, the shelter does not exist, or no design low is given and none is known.
pub fn heat_loss(context: &Context, request: HeatLossRequest) -> Result<HeatLossView, Failure> {
    check(&request)?;
    let materials = context.materials()?;
    context.read(|data| {
        let shelter = data.shelter(&request.shelter_id)?.ok_or_else(|| Problem::not_found("this shelter"))?;
        let site = lookup::site(data, &shelter.site_id)?;
        let climate = climate::usable(context, data, &site)?;
        let (zones, plantings) = (data.zones_of_shelter(&shelter.id)?, data.plantings(&site.id)?);
        let house = House::of(&shelter, &zones, &plantings, &plants::catalogue(context, data)?);

        let (outside_c, outside_reason) = outside(&request, climate.as_deref(), &site)?;
        let (inside_c, inside_reason) = inside(&request, &house);
        let surroundings = Surroundings::of(
            site.latitude_deg,
            climate.as_ref().map(|known| &known.climate),
            climate.as_ref().map_or(&[], |known| &known.days),
            lookup::today_at(context, &site)?,
            outside_c,
        );
        let ground = surroundings.ground;
        let night = DesignNight {
            inside_c,
            outside_c,
            earth_c: ground.temp_c(EARTH_DEPTH_M, ground.coldest_day),
            elevation_m: site.elevation_m,
        };
        let bare = loss(&house, materials, &night, false)?;
        let covered =
            if house.cover().is_empty() { None } else { Some(loss(&house, materials, &night, true)?) };
        let circuit = circuit(&request, &site)?;
        let mut reasons = vec![outside_reason, inside_reason];
        reasons.extend(meaning(&bare, covered.as_ref()));
        if circuit.is_some() && request.circuit.is_none() {
            let outlet = usual_circuit(&site);
            reasons.push(
                Reason::new("loss-assumed-circuit")
                    .with("volts", Figure::Count(outlet.volts as u32))
                    .with("rated", Figure::CurrentA(outlet.breaker_a)),
            );
        }
        reasons.push(Reason::new("night-assumed-build"));
        Ok(HeatLossView {
            inside_c,
            outside_c,
            paths: paths(&bare, covered.as_ref()),
            circuit_findings: circuit
                .iter()
                .flat_map(|check| check.findings.iter().map(Finding::reason))
                .collect(),
            circuit,
            cautions: cautions(&shelter, &bare),
            bare: total(&bare),
            covered: covered.as_ref().map(total),
            reasons,
            site,
            shelter: shelter.clone(),
        })
    })
}

fn check(request: &HeatLossRequest) -> Result<(), Failure> {
    if let Some(low_c) = request.design_low_c {
        within("design_low_c", low_c, -60.0, 25.0, "enter the coldest night to reckon with, in °C")?;
    }
    if let Some(inside_c) = request.inside_c {
        within("inside_c", inside_c, -20.0, 35.0, "enter the temperature to hold inside, in °C")?;
    }
    if let Some(heater_w) = request.heater_w {
        within("heater_w", heater_w, 1.0, 100_000.0, "enter the watts on the heater’s plate")?;
    }
    Ok(())
}

/// The outdoor low to reckon with and what it rests on.
fn outside(
    request: &HeatLossRequest,
    climate: Option<&SiteClimate>,
    site: &Site,
) -> Result<(f64, Reason), Problem> {
    if let Some(low_c) = request.design_low_c {
        return Ok((low_c, Reason::new("loss-outside-typed").with("outside", Figure::TempC(low_c))));
    }
    let minimum = climate.and_then(|known| annual_minimum(&known.climate));
    let level = minimum.and_then(|found| found.returns.into_iter().find(|level| level.years == DESIGN_YEARS));
    let level = level.ok_or_else(|| {
        Problem::field(
            "design_low_c",
            format!("is missing, and the climate of {} does not tell it", site.name),
            "enter the coldest night to reckon with, or import a climate file",
        )
    })?;
    let reason = Reason::new("loss-outside-once")
        .with("outside", Figure::TempC(level.temp_c))
        .with("years", Figure::Count(DESIGN_YEARS));
    Ok((level.temp_c, reason))
}

/// The temperature to hold and what it rests on.
fn inside(request: &HeatLossRequest, house: &House<'_>) -> (f64, Reason) {
    let said = |message: &str, inside_c: f64| {
        (inside_c, Reason::new(message).with("inside", Figure::TempC(inside_c)))
    };
    if let Some(inside_c) = request.inside_c {
        return said("loss-inside-typed", inside_c);
    }
    if let Some(set) = house.meant() {
        let (inside_c, reason) = said("loss-inside-kept", set.air_c);
        let zone = Figure::Text(house.zones[set.zone].name.clone());
        return (inside_c, reason.with("zone", zone).with("kept", Figure::TempC(set.set_c)));
    }
    let needed = house.needed().and_then(|set| Some((set, house.limits[set.zone].as_ref()?)));
    let Some((set, limit)) = needed else { return said("loss-inside-frost-free", FROST_FREE_C) };
    let (inside_c, reason) = said("loss-inside-limit", set.air_c);
    let reason = reason
        .with("zone", Figure::Text(house.zones[set.zone].name.clone()))
        .with("plant", Figure::Text(limit.label.clone()))
        .with("limit", Figure::TempC(limit.limit_c));
    (inside_c, reason)
}

fn loss(
    house: &House<'_>,
    materials: &Materials,
    night: &DesignNight,
    covered: bool,
) -> Result<HeatLoss, Problem> {
    let covers = if covered { house.cover() } else { Vec::new() };
    let envelope = Envelope::of(house.shelter, &house.build(false), materials, &covers)?;
    Ok(HeatLoss::of(&envelope, night)?)
}

fn total(loss: &HeatLoss) -> LossTotal {
    LossTotal {
        to_outdoors_w_per_k: loss.to_outdoors_w_per_k,
        loss_w: loss.heat_w,
        heater_w: loss.heater_size().output_w,
    }
}

/// Paths with both losses, without those of no size; a cover changes coefficients, never the paths.
fn paths(bare: &HeatLoss, covered: Option<&HeatLoss>) -> Vec<PathLoss> {
    bare.paths
        .iter()
        .enumerate()
        .filter(|(_, path)| path.size > 0.0)
        .map(|(index, path)| {
            let under = covered.and_then(|covered| covered.paths.get(index));
            PathLoss {
                path: path.path,
                size: path.size,
                bare_w_per_k: path.ua_w_per_k,
                bare_w: path.heat_w,
                covered_w_per_k: under.map(|under| under.ua_w_per_k),
                covered_w: under.map(|under| under.heat_w),
            }
        })
        .collect()
}

/// What the losses mean.
fn meaning(bare: &HeatLoss, covered: Option<&HeatLoss>) -> Vec<Reason> {
    if bare.heat_w <= 0.0 {
        return vec![Reason::new("loss-neighbours")];
    }
    let mut reasons = Vec::new();
    if let Some(covered) = covered {
        let share = 1.0 - covered.heat_w.max(0.0) / bare.heat_w;
        reasons.push(Reason::new("loss-cover-saves").with("share", Figure::Share(share)));
    }
    reasons.push(Reason::new("loss-margin").with("share", Figure::Share(SIZING_MARGIN - 1.0)));
    reasons.push(Reason::new("loss-average-night"));
    reasons
}

/// The outlet circuit that is usual where a site's units are.
fn usual_circuit(site: &Site) -> Circuit {
    let (volts, breaker_a) = match site.units.temperature {
        TemperatureUnit::Fahrenheit => (120.0, 15.0),
        TemperatureUnit::Celsius => (230.0, 16.0),
    };
    Circuit { volts, breaker_a, other_load_w: 0.0, has_residual_current_device: false, cord: None }
}

/// The heater on its circuit; absent where its rating is not known.
fn circuit(request: &HeatLossRequest, site: &Site) -> Result<Option<CircuitCheck>, Problem> {
    let Some(power_w) = request.heater_w else { return Ok(None) };
    let circuit = request.circuit.unwrap_or_else(|| usual_circuit(site));
    // Whether it is fixed is not recorded: the caution for portable heaters is said too often rather than too seldom.
    let load = Load { power_w, is_heater: true, is_portable: true, clearance_m: None };
    Ok(Some(check_circuit(&load, &circuit)?))
}

fn cautions(shelter: &Shelter, bare: &HeatLoss) -> Vec<Caution> {
    let wants_heat = shelter.has_heater || bare.heat_w > 0.0;
    if wants_heat { vec![Caution::Heater, Caution::Electricity, Caution::FuelGas] } else { Vec::new() }
}

fn missing() -> Failure {
    Failure::new(hibernacle_contract::ErrorCode::Internal, "this record is being written")
}

pub fn shelter_detail(_context: &Context, _request: ShelterRef) -> Result<ShelterDetail, Failure> {
    Err(missing())
}

pub fn shelter_build(_context: &Context, _build: ShelterBuild) -> Result<ShelterDetail, Failure> {
    Err(missing())
}

pub fn build_usual(_context: &Context, _request: ShelterRef) -> Result<ShelterDetail, Failure> {
    Err(missing())
}

pub fn heater_save(_context: &Context, _heater: Heater) -> Result<Heater, Failure> {
    Err(missing())
}

pub fn sensor_save(_context: &Context, _sensor: Sensor) -> Result<Sensor, Failure> {
    Err(missing())
}

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
