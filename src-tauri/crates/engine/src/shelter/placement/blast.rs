//! Where a heater dries plants out, and how far its warmth reaches.

use std::f64::consts::TAU;

use super::super::circuit::CLEARANCE_M;
use super::super::{Heater, Materials, Outline, Shelter, Spot};
use super::{HeaterOnPlan, shape};

/// Kelvin by which the air leaves a fan heater warmer than it entered (value from memory).
const OUTLET_EXCESS_K: f64 = 50.0;
/// Air speed at the outlet in m/s (value from memory).
const OUTLET_M_PER_S: f64 = 3.0;
/// Heat capacity of air in J/(m³ K) at 10 °C and sea level.
const AIR_J_PER_M3_K: f64 = 1250.0;
/// Centreline constants of a free jet from a round opening for speed and excess temperature (ASHRAE Handbook,
/// Fundamentals, "Space air diffusion": 5 to 6 for speed at such speeds, temperature decaying about 0.8 times as far;
/// value from memory).
const JET_SPEED: f64 = 5.0;
const JET_EXCESS: f64 = 0.8 * JET_SPEED;
/// Half of the angle by which a free jet spreads (same source: 20 to 24° in all).
const JET_HALF_ANGLE_DEG: f64 = 11.0;
/// Excess temperature in kelvin from which the jet is dry enough to harm leaves and dry out pots: air at 5 °C and 80 %
/// warmed by 10 K has a vapour-pressure deficit of 1.0 kPa against 0.17 (our reckoning by the saturation curve).
const DRYING_K: f64 = 10.0;
/// Speed in m/s at which moving air is still felt.
const FELT_M_PER_S: f64 = 0.25;
/// Share of the heat of a heater without a fan that it radiates, over a half-space (value from memory).
const RADIANT_SHARE: f64 = 0.3;
/// Radiation in W/m² from which leaves lose water as on a sunny winter day (common practice, no source).
const DRYING_W_PER_M2: f64 = 150.0;
/// Radiation in W/m² that is still felt.
const FELT_W_PER_M2: f64 = 20.0;
/// Corners of a round area.
const ROUND_CORNERS: u32 = 24;

/// A heater with its blast, cut off at the sides of the shelter.
pub(super) fn of(heater: &Heater, spot: Spot, shelter: &Shelter, materials: &Materials) -> HeaterOnPlan {
    let has_fan = materials.heaters.get(&heater.key).is_some_and(|kind| kind.stirs_air);
    let (harm_m, reach_m) = if has_fan { jet_m(heater.rating_w) } else { radiant_m(heater.rating_w) };
    let corners = match heater.faces_deg {
        Some(faces_deg) if has_fan => cone(spot, faces_deg, harm_m),
        _ => round(spot, harm_m),
    };
    let floor = Outline { x_m: 0.0, y_m: 0.0, length_m: shelter.length_m, width_m: shelter.width_m };
    HeaterOnPlan {
        heater_id: heater.id.clone(),
        spot,
        is_placed: heater.spot.is_some(),
        blast: shape::clipped(&corners, &floor),
        reach_m,
        clearance_m: CLEARANCE_M,
    }
}

/// Lengths in m over which the jet of a fan heater harms and is felt: speed and excess temperature on its axis fall
/// with `K √A / x` from the values at an outlet of area `A`.
///
/// * `rating_w` — heat output
fn jet_m(rating_w: f64) -> (f64, f64) {
    let outlet_m2 = rating_w / (AIR_J_PER_M3_K * OUTLET_EXCESS_K * OUTLET_M_PER_S);
    let harm_m = JET_EXCESS * outlet_m2.sqrt() * OUTLET_EXCESS_K / DRYING_K;
    (harm_m, JET_SPEED * outlet_m2.sqrt() * OUTLET_M_PER_S / FELT_M_PER_S)
}

/// Distances in m at which a heater without a fan harms and is felt by its radiation, `q = s P / (2 π r²)`.
fn radiant_m(rating_w: f64) -> (f64, f64) {
    let at = |flux: f64| (RADIANT_SHARE * rating_w / (TAU * flux)).sqrt();
    (at(DRYING_W_PER_M2), at(FELT_W_PER_M2))
}

fn cone(spot: Spot, faces_deg: f64, length_m: f64) -> Vec<Spot> {
    let edge = |turn_deg: f64| along(spot, faces_deg + turn_deg, length_m);
    vec![spot, edge(-JET_HALF_ANGLE_DEG), along(spot, faces_deg, length_m), edge(JET_HALF_ANGLE_DEG)]
}

fn round(spot: Spot, radius_m: f64) -> Vec<Spot> {
    (0..ROUND_CORNERS)
        .map(|i| along(spot, 360.0 * f64::from(i) / f64::from(ROUND_CORNERS), radius_m))
        .collect()
}

/// The point at a distance in a direction, clockwise from along the length.
fn along(spot: Spot, direction_deg: f64, distance_m: f64) -> Spot {
    let (sin, cos) = direction_deg.to_radians().sin_cos();
    Spot { x_m: spot.x_m + distance_m * cos, y_m: spot.y_m + distance_m * sin }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::air::{saturation_pa, vapour_pressure_deficit_pa, vapour_pressure_pa};

    #[test]
    fn a_usual_fan_heater_harms_over_two_metres_and_is_felt_twice_as_far() {
        let (harm_m, reach_m) = jet_m(2000.0);
        assert!((1.5..3.0).contains(&harm_m), "{harm_m}");
        assert!(reach_m > 1.5 * harm_m, "{reach_m}");
        assert!(jet_m(1000.0).0 < harm_m);
    }

    #[test]
    fn ten_kelvin_make_the_air_several_times_as_dry() {
        let before_pa = vapour_pressure_deficit_pa(5.0, 0.8);
        let after_pa = saturation_pa(15.0) - vapour_pressure_pa(5.0, 0.8);
        assert!((150.0..200.0).contains(&before_pa), "{before_pa}");
        assert!((950.0..1050.0).contains(&after_pa), "{after_pa}");
    }

    #[test]
    fn a_tube_heater_is_no_danger_beyond_arm_length() {
        assert!(radiant_m(240.0).0 < 0.4);
        assert!(radiant_m(1500.0).0 < CLEARANCE_M);
    }
}
