//! The heat a shelter loses in a design night, and the heater it calls for.

use hibernacle_contract::Failure;
use hibernacle_contract::shelter::{HeatLossRequest, HeatLossView, LossTotal, PathLoss};
use hibernacle_engine::field::within;
use hibernacle_engine::season::{Caution, Figure, Reason};
use hibernacle_engine::shelter::steady::{DesignNight, HeatLoss, SIZING_MARGIN};
use hibernacle_engine::shelter::{CoverOn, Envelope, Materials, Surroundings};
use hibernacle_engine::site::Site;

use crate::climate::{self, DESIGN_YEARS, SiteClimate};
use crate::house::{House, SiteRecords};
use crate::problem::Problem;
use crate::{Context, lookup};

use super::check;

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
        let records = SiteRecords::read(context, data, &site.id)?;
        let house = records.house_of(&shelter.id, materials)?;

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
        let covers = house.covers();
        let bare = loss(&house, materials, &night, &[])?;
        let covered = if covers.is_empty() { None } else { Some(loss(&house, materials, &night, &covers)?) };
        let hung = check::hung(&request, &house, &site, materials)?;
        let mut reasons = vec![outside_reason, inside_reason];
        reasons.extend(meaning(&bare, covered.as_ref()));
        let power_w = request.heater_w.or(house.heat.as_ref().map(|heat| heat.rating_w));
        reasons.extend(power_w.and_then(|power_w| stands_ready(power_w, outside_c, &bare, covered.as_ref())));
        reasons.extend(hung.assumed);
        reasons.extend(assumed(&house, materials, request.heater_w.is_some()));
        Ok(HeatLossView {
            inside_c,
            outside_c,
            paths: paths(&bare, covered.as_ref()),
            circuit_findings: hung.findings,
            circuit: hung.check,
            cautions: cautions(&house, &bare),
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
    let outside_c = climate.and_then(SiteClimate::design_low_c).ok_or_else(|| {
        Problem::field(
            "design_low_c",
            format!("is missing, and the climate of {} does not tell it", site.name),
            "enter the coldest night to reckon with, or import a climate file",
        )
    })?;
    let reason = Reason::new("loss-outside-once")
        .with("outside", Figure::TempC(outside_c))
        .with("years", Figure::Count(DESIGN_YEARS));
    Ok((outside_c, reason))
}

/// The temperature to hold and what it rests on.
fn inside(request: &HeatLossRequest, house: &House<'_>) -> (f64, Reason) {
    let said = |message: &str, inside_c: f64| {
        (inside_c, Reason::new(message).with("inside", Figure::TempC(inside_c)))
    };
    if let Some(inside_c) = request.inside_c {
        return said("loss-inside-typed", inside_c);
    }
    if let Some(set) = house.meant_most() {
        let (inside_c, reason) = said("loss-inside-kept", set.air_c);
        let zone = Figure::Text(house.zones[set.zone].name.clone());
        return (inside_c, reason.with("zone", zone).with("kept", Figure::TempC(set.set_c)));
    }
    let needed = house.needed_most().and_then(|set| Some((set, house.limits[set.zone].as_ref()?)));
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
    covers: &[CoverOn],
) -> Result<HeatLoss, Problem> {
    let envelope = Envelope::of(house.shelter, house.recorded(), materials, covers)?;
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

/// Whether the heat that stands ready is enough, and down to which outdoor low where it is not; nothing is said where
/// none is needed.
fn stands_ready(power_w: f64, outside_c: f64, bare: &HeatLoss, covered: Option<&HeatLoss>) -> Option<Reason> {
    let bare_w = bare.heater_size().output_w;
    let best = covered.filter(|covered| covered.heat_w < bare.heat_w).unwrap_or(bare);
    let least_w = best.heater_size().output_w;
    let (message, needed_w) = match power_w {
        _ if least_w <= 0.0 => return None,
        _ if power_w >= bare_w => ("loss-heaters-enough", bare_w),
        _ if power_w >= least_w => ("loss-heaters-enough-covered", least_w),
        _ => ("loss-heaters-short", least_w),
    };
    let reason =
        Reason::new(message).with("power", Figure::PowerW(power_w)).with("needed", Figure::PowerW(needed_w));
    if power_w >= least_w {
        return Some(reason);
    }
    let missing_k = (best.heat_w - power_w / SIZING_MARGIN) / best.to_outdoors_w_per_k;
    Some(reason.with("low", Figure::TempC(outside_c + missing_k)))
}

/// What was taken for what is not recorded.
///
/// * `is_typed` — whether the heater was given with the request
fn assumed(house: &House<'_>, materials: &Materials, is_typed: bool) -> Vec<Reason> {
    let place = || Figure::Text(house.shelter.name.clone());
    let mut assumed = Vec::new();
    if let Some(heat) = house.heat.as_ref().filter(|heat| heat.is_assumed() && !is_typed) {
        let reason = Reason::new("night-assumed-heater").with("place", place());
        assumed.push(reason.with("power", Figure::PowerW(heat.rating_w)));
    }
    assumed.extend(house.cover_assumed(materials));
    if house.is_usual_build {
        assumed.push(Reason::new("night-assumed-build").with("place", place()));
    }
    assumed
}

fn cautions(house: &House<'_>, bare: &HeatLoss) -> Vec<Caution> {
    match &house.heat {
        Some(heat) => heat.cautions(),
        // Which heater it will be is open.
        None if bare.heat_w > 0.0 => vec![Caution::Heater, Caution::Electricity, Caution::FuelGas],
        None => Vec::new(),
    }
}
