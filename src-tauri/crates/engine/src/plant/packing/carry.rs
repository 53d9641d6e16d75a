//! The order in which plants are carried in.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Layout, Surface, SurfaceKind, ToPlace};

/// Weight in kg above which two people or a trolley are wanted: value from memory; local rules for work may ask for less.
pub const TWO_PEOPLE_KG: f64 = 25.0;

/// One thing to carry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CarryStep {
    /// The planting.
    pub planting_id: String,
    /// How many go to this surface.
    pub count: u32,
    /// Place of the surface among those given.
    pub surface: usize,
    /// Weight of one in kg, watered.
    pub mass_kg: f64,
    /// Whether two people or a trolley are wanted.
    pub two_people: bool,
}

/// The placed plants in the order to carry them: what stands furthest from the door first, so that nothing is in the way;
/// there the floor before benches and shelves, the back before the front, and the heavy while arms are fresh.
///
/// * `urgent` — plantings by id that must come in first whatever their place, most urgent first
pub fn carrying_order(
    layout: &Layout,
    surfaces: &[Surface],
    plants: &[ToPlace<'_>],
    urgent: &[&str],
) -> Vec<CarryStep> {
    struct Group<'a> {
        step: CarryStep,
        urgency: usize,
        surface: &'a Surface,
        back_m: f64,
    }
    let mut groups: Vec<Group<'_>> = Vec::new();
    for placed in &layout.placed {
        let known = groups
            .iter_mut()
            .find(|g| g.step.surface == placed.surface && g.step.planting_id == placed.planting_id);
        if let Some(group) = known {
            group.step.count += placed.stacked;
            group.back_m = group.back_m.min(placed.y_m);
            continue;
        }
        let Some(plant) = plants.iter().find(|plant| plant.planting_id == placed.planting_id) else {
            continue;
        };
        groups.push(Group {
            step: CarryStep {
                planting_id: placed.planting_id.clone(),
                count: placed.stacked,
                surface: placed.surface,
                mass_kg: plant.mass_kg,
                two_people: plant.mass_kg > TWO_PEOPLE_KG,
            },
            urgency: urgent.iter().position(|id| *id == placed.planting_id).unwrap_or(urgent.len()),
            surface: &surfaces[placed.surface],
            back_m: placed.y_m,
        });
    }
    let off_floor = |group: &Group<'_>| group.surface.kind != SurfaceKind::Floor;
    groups.sort_by(|a, b| {
        a.urgency
            .cmp(&b.urgency)
            .then(b.surface.from_door_m.total_cmp(&a.surface.from_door_m))
            .then(off_floor(a).cmp(&off_floor(b)))
            .then(a.step.surface.cmp(&b.step.surface))
            .then(a.back_m.total_cmp(&b.back_m))
            .then(b.step.mass_kg.total_cmp(&a.step.mass_kg))
            .then(a.step.planting_id.cmp(&b.step.planting_id))
    });
    groups.into_iter().map(|group| group.step).collect()
}
