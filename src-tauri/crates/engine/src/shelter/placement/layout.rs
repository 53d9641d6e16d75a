//! Laying zones out on the floor by their areas.

use super::super::{Outline, Shelter, Zone};
use super::ZoneOnPlan;

/// Every zone where it was drawn, else where it would lie if all of them shared the floor by their areas.
pub(super) fn zones(shelter: &Shelter, zones: &[Zone]) -> Vec<ZoneOnPlan> {
    let floor = Outline { x_m: 0.0, y_m: 0.0, length_m: shelter.length_m, width_m: shelter.width_m };
    let mut shared = Vec::with_capacity(zones.len());
    share(floor, &zones.iter().map(|zone| zone.area_m2).collect::<Vec<_>>(), &mut shared);
    zones
        .iter()
        .zip(shared)
        .map(|(zone, shared)| ZoneOnPlan {
            zone_id: zone.id.clone(),
            outline: zone.outline.unwrap_or(shared),
            is_drawn: zone.outline.is_some(),
        })
        .collect()
}

/// Cuts a rectangle across its longer side into two parts of areas as equal as the order allows, and each part again.
fn share(outline: Outline, areas_m2: &[f64], shared: &mut Vec<Outline>) {
    if areas_m2.len() < 2 {
        shared.extend(areas_m2.iter().map(|_| outline));
        return;
    }
    let total_m2: f64 = areas_m2.iter().sum();
    let first_m2 = |cut: usize| areas_m2[..cut].iter().sum::<f64>();
    let unevenness = |cut: &usize| (2.0 * first_m2(*cut) - total_m2).abs();
    let cut = (1..areas_m2.len()).min_by(|a, b| unevenness(a).total_cmp(&unevenness(b))).unwrap_or(1);
    let part = first_m2(cut) / total_m2;
    let (mut first, mut second) = (outline, outline);
    if outline.length_m >= outline.width_m {
        first.length_m *= part;
        second.length_m -= first.length_m;
        second.x_m += first.length_m;
    } else {
        first.width_m *= part;
        second.width_m -= first.width_m;
        second.y_m += first.width_m;
    }
    share(first, &areas_m2[..cut], shared);
    share(second, &areas_m2[cut..], shared);
}
