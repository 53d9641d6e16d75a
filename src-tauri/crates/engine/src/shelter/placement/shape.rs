//! Small plane geometry: rectangles and convex areas on the floor.

use super::super::{Outline, Spot};

pub(super) fn middle(outline: &Outline) -> Spot {
    Spot { x_m: outline.x_m + outline.length_m / 2.0, y_m: outline.y_m + outline.width_m / 2.0 }
}

pub(super) fn distance_m(a: Spot, b: Spot) -> f64 {
    (a.x_m - b.x_m).hypot(a.y_m - b.y_m)
}

/// Distance from a point to a rectangle; 0 inside.
pub(super) fn distance_to_m(outline: &Outline, spot: Spot) -> f64 {
    let beyond = |at: f64, from: f64, extent: f64| (from - at).max(at - from - extent).max(0.0);
    beyond(spot.x_m, outline.x_m, outline.length_m).hypot(beyond(spot.y_m, outline.y_m, outline.width_m))
}

/// Area inside corners by the shoelace formula.
pub(super) fn area_m2(corners: &[Spot]) -> f64 {
    pairs(corners).map(|(a, b)| a.x_m * b.y_m - b.x_m * a.y_m).sum::<f64>().abs() / 2.0
}

/// Whether a point lies in a convex area, its edge counting as inside.
pub(super) fn contains(corners: &[Spot], spot: Spot) -> bool {
    let sides: Vec<f64> = pairs(corners)
        .map(|(a, b)| (b.x_m - a.x_m) * (spot.y_m - a.y_m) - (b.y_m - a.y_m) * (spot.x_m - a.x_m))
        .collect();
    !sides.is_empty() && (sides.iter().all(|side| *side >= 0.0) || sides.iter().all(|side| *side <= 0.0))
}

/// The part of a convex area inside a rectangle (Sutherland and Hodgman 1974: cut by one side after the other).
pub(super) fn clipped(corners: &[Spot], outline: &Outline) -> Vec<Spot> {
    let (right_m, far_m) = (outline.x_m + outline.length_m, outline.y_m + outline.width_m);
    let inside: [&dyn Fn(Spot) -> f64; 4] =
        [&|s| s.x_m - outline.x_m, &|s| right_m - s.x_m, &|s| s.y_m - outline.y_m, &|s| far_m - s.y_m];
    inside.iter().fold(corners.to_vec(), |corners, inside| {
        pairs(&corners)
            .flat_map(|(a, b)| {
                let (from, to) = (inside(a), inside(b));
                let crossing = ((from < 0.0) != (to < 0.0)).then(|| {
                    let part = from / (from - to);
                    Spot { x_m: a.x_m + part * (b.x_m - a.x_m), y_m: a.y_m + part * (b.y_m - a.y_m) }
                });
                crossing.into_iter().chain((to >= 0.0).then_some(b))
            })
            .collect()
    })
}

fn pairs(corners: &[Spot]) -> impl Iterator<Item = (Spot, Spot)> {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}
