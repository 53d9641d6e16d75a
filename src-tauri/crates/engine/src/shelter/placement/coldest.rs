//! The likely coldest spot of a shelter at night.

use super::super::{Beyond, Form, Outline, Shelter, ShelterBuild, Spot, Zone};
use super::{HeaterOnPlan, ZoneOnPlan, shape};

/// Steps of the search along each side of the floor.
const STEPS: u32 = 40;
/// Distance in m over which the chill of a side fades into the house (common practice, no source).
const CHILL_M: f64 = 0.4;
/// Weight of a side that the winter sun never reaches against one that it warms (common practice, no source).
const SHADE: f64 = 0.3;
/// Weight of the distance from heaters, full at 3 m.
const FAR_FROM_HEAT: f64 = 0.5;
const FAR_M: f64 = 3.0;
/// Weight per kelvin by which a zone is known to be colder.
const PER_KELVIN: f64 = 0.5;
/// Distance in m that a sensor keeps from the sides.
const MARGIN_M: f64 = 0.15;

/// The spot nearest to cold sides and shade, far from heaters, in the zone known to be coldest.
pub(super) fn spot(
    shelter: &Shelter,
    build: &ShelterBuild,
    zones: &[Zone],
    on_plan: &[ZoneOnPlan],
    heaters: &[HeaterOnPlan],
) -> Spot {
    let sides = sides(shelter, build);
    let score = |spot: Spot| {
        let chill: f64 =
            sides.iter().map(|side| side.weight * (-(side.distance_m)(spot) / CHILL_M).exp()).sum();
        let heat_m = heaters.iter().map(|heater| shape::distance_m(heater.spot, spot)).min_by(f64::total_cmp);
        let far = heat_m.map_or(0.0, |heat_m| FAR_FROM_HEAT * (heat_m / FAR_M).min(1.0));
        let offset_k = zones
            .iter()
            .zip(on_plan)
            .find(|(_, placed)| shape::distance_to_m(&placed.outline, spot) <= 0.0)
            .map_or(0.0, |(zone, _)| zone.offset_k);
        chill + far - PER_KELVIN * offset_k
    };
    let at = |extent_m: f64, step: u32| {
        let margin_m = MARGIN_M.min(extent_m / 4.0);
        margin_m + (extent_m - 2.0 * margin_m) * f64::from(step) / f64::from(STEPS)
    };
    let candidates = (0..=STEPS).flat_map(|i| {
        (0..=STEPS).map(move |j| Spot { x_m: at(shelter.length_m, i), y_m: at(shelter.width_m, j) })
    });
    let middle =
        shape::middle(&Outline { x_m: 0.0, y_m: 0.0, length_m: shelter.length_m, width_m: shelter.width_m });
    candidates.max_by(|a, b| score(*a).total_cmp(&score(*b))).unwrap_or(middle)
}

/// A side of the shelter: how much it chills, and the distance of a spot from it.
struct Side {
    weight: f64,
    distance_m: Box<dyn Fn(Spot) -> f64>,
}

fn sides(shelter: &Shelter, build: &ShelterBuild) -> Vec<Side> {
    let beyond = match build.form {
        Form::Room { beyond } => [beyond.right, beyond.left, beyond.ahead, beyond.behind],
        // The high side is the wall of the house, which lies on the left.
        Form::LeanTo { house_c, .. } => {
            [Beyond::Outdoors, Beyond::Heated { temp_c: house_c }, Beyond::Outdoors, Beyond::Outdoors]
        }
        Form::Gable { .. } | Form::Hoop | Form::Dome | Form::Frame { .. } | Form::Wrap => {
            [Beyond::Outdoors; 4]
        }
    };
    let (length_m, width_m) = (shelter.length_m, shelter.width_m);
    let distances: [Box<dyn Fn(Spot) -> f64>; 4] = [
        Box::new(move |s| width_m - s.y_m),
        Box::new(|s| s.y_m),
        Box::new(move |s| length_m - s.x_m),
        Box::new(|s| s.x_m),
    ];
    beyond
        .into_iter()
        .zip([90.0, 270.0, 0.0, 180.0])
        .zip(distances)
        .map(|((beyond, turn_deg), distance_m)| {
            let northness = (build.length_azimuth_deg + turn_deg).to_radians().cos();
            let weight = match beyond {
                Beyond::Outdoors => 1.0 + SHADE * northness,
                Beyond::Unheated => 0.7,
                Beyond::Earth => 0.1,
                Beyond::Heated { .. } => -0.5,
            };
            Side { weight, distance_m }
        })
        .collect()
}
