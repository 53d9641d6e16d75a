//! Fit and carry: pots laid out on floors, benches and shelves, and the order in which to carry them in.

mod bin;
mod carry;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

pub use carry::{CarryStep, TWO_PEOPLE_KG, carrying_order};

use crate::field::{FieldError, filled, within};
use crate::plant::water::{Leaves, RoundPot};
use crate::shelter::Light;
use bin::Bin;

/// Room that leafless and leafy plants take over their pot's top: values from memory (crowns may touch and interlace).
const LEAFLESS_OVER_POT: f64 = 1.05;
const LEAFY_OVER_POT: f64 = 1.5;

/// What pots stand on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum SurfaceKind {
    /// The floor, also below a bench.
    Floor,
    /// A bench or table.
    Bench,
    /// A shelf.
    Shelf,
}

/// A rectangle of a zone on which pots stand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Surface {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The zone it is in.
    pub zone_id: String,
    /// The grower's name for it.
    pub name: String,
    /// What it is.
    pub kind: SurfaceKind,
    /// Length in m.
    pub length_m: f64,
    /// Width in m, from the back to where one stands.
    pub width_m: f64,
    /// Height in m that is free above it.
    pub clear_m: f64,
    /// Winter daylight on it.
    pub light: Light,
    /// Way from the door in m.
    pub from_door_m: f64,
}

impl Surface {
    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        filled("zone_id", &self.zone_id, "choose the zone it is in")?;
        filled("name", &self.name, "give it a name")?;
        within("length_m", self.length_m, 0.05, 100.0, "measure its length")?;
        within("width_m", self.width_m, 0.05, 100.0, "measure its width")?;
        within("clear_m", self.clear_m, 0.05, 20.0, "measure the height above it")?;
        within("from_door_m", self.from_door_m, 0.0, 500.0, "pace the way from the door")
    }
}

/// Plants of one planting that are to be placed.
#[derive(Debug, Clone, PartialEq)]
pub struct ToPlace<'a> {
    /// The planting.
    pub planting_id: &'a str,
    /// How many.
    pub count: u32,
    /// Zone in which the grower means to keep it; absent while undecided.
    pub zone_id: Option<&'a str>,
    /// Diameter in m that one takes up.
    pub diameter_m: f64,
    /// Height in m of one with its pot.
    pub height_m: f64,
    /// Weight of one in kg, watered.
    pub mass_kg: f64,
    /// Least daylight.
    pub light: Light,
    /// Coldest that it stands, °C.
    pub limit_c: f64,
    /// Whether they may stand on each other: crates of tubers, leafless pots in racks.
    pub may_stack: bool,
}

/// Diameter in m that a plant in a pot takes up where it was not measured.
///
/// * `volume_l` — of the pot
/// * `leaves` — what it carries
/// * `footprint_m2` — floor area of one, where measured
pub fn usual_diameter_m(volume_l: f64, leaves: Leaves, footprint_m2: Option<f64>) -> f64 {
    if let Some(area) = footprint_m2 {
        return 2.0 * (area / std::f64::consts::PI).sqrt();
    }
    RoundPot::of_volume(volume_l).top_m
        * if leaves == Leaves::Leafy { LEAFY_OVER_POT } else { LEAFLESS_OVER_POT }
}

/// A zone with what decides who may stand there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneFor<'a> {
    /// The zone.
    pub zone_id: &'a str,
    /// Coldest night expected in it, °C; absent when not known, then the limit is not asked.
    pub coldest_c: Option<f64>,
}

/// A plant, or a stack, with its place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Placed {
    /// The planting.
    pub planting_id: String,
    /// Place of the surface among those given.
    pub surface: usize,
    /// Centre along the length, m.
    pub x_m: f64,
    /// Centre from the back, m.
    pub y_m: f64,
    /// Diameter, m.
    pub diameter_m: f64,
    /// Plants standing on each other here; 1 for most.
    pub stacked: u32,
}

/// Why plants did not find a place in their zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum WhyNot {
    /// No zone was chosen.
    NoZone,
    /// The zone gets colder than they stand.
    TooCold,
    /// No surface has the light they need.
    TooDark,
    /// No surface with enough light is high enough.
    TooTall,
    /// All that would suit is full.
    Full,
}

/// Another zone that suits, and how many of them have room there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Elsewhere {
    /// The zone.
    pub zone_id: String,
    /// How many fit beside what stands there already.
    pub room_for: u32,
}

/// Plants without a place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct LeftOver {
    /// The planting.
    pub planting_id: String,
    /// How many of it.
    pub count: u32,
    /// Why.
    pub why: WhyNot,
    /// Where else some could go, most room first.
    pub elsewhere: Vec<Elsewhere>,
}

/// The layout of all surfaces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Layout {
    /// Everything that has a place.
    pub placed: Vec<Placed>,
    /// Everything that has none.
    pub left_over: Vec<LeftOver>,
    /// Share of each surface's area that is taken, 0 to 1, in the order given.
    pub used_share: Vec<f64>,
}

/// Lays plants out in their zones.
///
/// * `surfaces` — all surfaces
/// * `zones` — zones with their coldest night
/// * `plants` — what is to be placed
///
/// The most demanding go first: bright before dim before dark, tall before low, wide before narrow. Each takes the least
/// light that is enough, heavy ones the floor, low ones the lowest clearance. Other zones are offered, never filled
/// unasked. Same input, same layout.
pub fn lay_out(surfaces: &[Surface], zones: &[ZoneFor<'_>], plants: &[ToPlace<'_>]) -> Layout {
    let mut bins: Vec<Bin> = surfaces.iter().map(|s| Bin::new(s.length_m, s.width_m)).collect();
    let mut order: Vec<&ToPlace<'_>> = plants.iter().collect();
    order.sort_by(|a, b| {
        b.light
            .cmp(&a.light)
            .then(b.height_m.total_cmp(&a.height_m))
            .then(b.diameter_m.total_cmp(&a.diameter_m))
            .then(a.planting_id.cmp(b.planting_id))
    });
    let mut placed = Vec::new();
    let mut waiting = Vec::new();
    for plant in order {
        let mut left = plant.count;
        if let Some(zone_id) = plant.zone_id {
            for index in suitable(surfaces, zones, plant, zone_id) {
                place_on(&mut bins[index], &surfaces[index], index, plant, &mut left, &mut placed);
            }
        }
        if left > 0 {
            waiting.push((plant, left));
        }
    }
    let left_over = waiting
        .into_iter()
        .map(|(plant, count)| LeftOver {
            planting_id: plant.planting_id.to_owned(),
            count,
            why: why_not(surfaces, zones, plant),
            elsewhere: elsewhere(surfaces, zones, &bins, plant, count),
        })
        .collect();
    let used_share =
        bins.iter().zip(surfaces).map(|(bin, s)| bin.used_m2() / (s.length_m * s.width_m)).collect();
    Layout { placed, left_over, used_share }
}

/// Surfaces of a zone that a plant may stand on, best first.
fn suitable(surfaces: &[Surface], zones: &[ZoneFor<'_>], plant: &ToPlace<'_>, zone_id: &str) -> Vec<usize> {
    if is_too_cold(zones, plant, zone_id) {
        return Vec::new();
    }
    let mut found: Vec<usize> = (0..surfaces.len())
        .filter(|&index| {
            let surface = &surfaces[index];
            surface.zone_id == zone_id && surface.light >= plant.light && surface.clear_m >= plant.height_m
        })
        .collect();
    let heavy = plant.mass_kg > TWO_PEOPLE_KG;
    found.sort_by(|&a, &b| {
        let (a, b) = (&surfaces[a], &surfaces[b]);
        let off_floor = |surface: &Surface| heavy && surface.kind != SurfaceKind::Floor;
        off_floor(a)
            .cmp(&off_floor(b))
            .then(a.light.cmp(&b.light))
            .then(a.clear_m.total_cmp(&b.clear_m))
            .then(b.from_door_m.total_cmp(&a.from_door_m))
    });
    found
}

fn is_too_cold(zones: &[ZoneFor<'_>], plant: &ToPlace<'_>, zone_id: &str) -> bool {
    zones
        .iter()
        .find(|zone| zone.zone_id == zone_id)
        .and_then(|zone| zone.coldest_c)
        .is_some_and(|coldest_c| coldest_c <= plant.limit_c)
}

fn place_on(
    bin: &mut Bin,
    surface: &Surface,
    index: usize,
    plant: &ToPlace<'_>,
    left: &mut u32,
    placed: &mut Vec<Placed>,
) {
    let high = if plant.may_stack { (surface.clear_m / plant.height_m).floor().max(1.0) as u32 } else { 1 };
    while *left > 0 {
        let Some(circle) = bin.place(plant.diameter_m / 2.0) else { return };
        let stacked = high.min(*left);
        *left -= stacked;
        placed.push(Placed {
            planting_id: plant.planting_id.to_owned(),
            surface: index,
            x_m: circle.x_m,
            y_m: circle.y_m,
            diameter_m: plant.diameter_m,
            stacked,
        });
    }
}

fn why_not(surfaces: &[Surface], zones: &[ZoneFor<'_>], plant: &ToPlace<'_>) -> WhyNot {
    let Some(zone_id) = plant.zone_id else { return WhyNot::NoZone };
    let mut bright = surfaces.iter().filter(|s| s.zone_id == zone_id && s.light >= plant.light).peekable();
    if is_too_cold(zones, plant, zone_id) {
        WhyNot::TooCold
    } else if bright.peek().is_none() {
        WhyNot::TooDark
    } else if bright.all(|surface| surface.clear_m < plant.height_m) {
        WhyNot::TooTall
    } else {
        WhyNot::Full
    }
}

fn elsewhere(
    surfaces: &[Surface],
    zones: &[ZoneFor<'_>],
    bins: &[Bin],
    plant: &ToPlace<'_>,
    count: u32,
) -> Vec<Elsewhere> {
    let mut found: Vec<Elsewhere> = zones
        .iter()
        .filter(|zone| plant.zone_id != Some(zone.zone_id))
        .filter_map(|zone| {
            let mut left = count;
            for index in suitable(surfaces, zones, plant, zone.zone_id) {
                let mut bin = bins[index].clone();
                place_on(&mut bin, &surfaces[index], index, plant, &mut left, &mut Vec::new());
            }
            let room_for = count - left;
            (room_for > 0).then(|| Elsewhere { zone_id: zone.zone_id.to_owned(), room_for })
        })
        .collect();
    found.sort_by(|a, b| b.room_for.cmp(&a.room_for).then(a.zone_id.cmp(&b.zone_id)));
    found
}

#[cfg(test)]
#[path = "packing_test.rs"]
mod tests;
