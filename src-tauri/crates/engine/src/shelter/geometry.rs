//! Areas, volume and perimeter of a shelter's form.

use std::f64::consts::PI;

use super::Shelter;
use super::build::{Beyond, Form, Part, Sheet, ShelterBuild};
use crate::field::FieldError;
use crate::sun::irradiance::Facing;

/// Facets that stand in for half of a curved arch.
const FACETS_PER_HALF: usize = 3;

/// A flat piece of the envelope.
#[derive(Debug, Clone, PartialEq)]
pub struct Element {
    /// Which part it belongs to.
    pub part: Part,
    /// Which way its outer side faces.
    pub facing: Facing,
    /// Area in m².
    pub area_m2: f64,
    /// What lies beyond it.
    pub beyond: Beyond,
    /// What it is made of.
    pub sheet: Sheet,
}

/// Size of the space inside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Space {
    /// Volume in m³.
    pub volume_m3: f64,
    /// Floor in m².
    pub floor_m2: f64,
    /// Edge of the floor that borders on outdoor ground, in m.
    pub outer_edge_m: f64,
    /// Area of a cut across the length in m².
    pub cross_section_m2: f64,
}

/// Volume, floor and edge of a shelter.
pub fn space(shelter: &Shelter, build: &ShelterBuild) -> Space {
    let Shelter { length_m: l, width_m: w, height_m: h, .. } = *shelter;
    let (cross_section_m2, floor_m2, outer_edge_m) = match build.form {
        Form::Gable { eave_m } => (w * (eave_m + h) / 2.0, l * w, 2.0 * (l + w)),
        Form::LeanTo { low_side_m, .. } => (w * (low_side_m + h) / 2.0, l * w, l + 2.0 * w),
        Form::Frame { front_m } => (w * (front_m + h) / 2.0, l * w, 2.0 * (l + w)),
        Form::Hoop | Form::Wrap => (PI / 4.0 * w * h, l * w, 2.0 * (l + w)),
        Form::Dome => {
            let radius = w / 2.0;
            let volume = PI * h * (3.0 * radius * radius + h * h) / 6.0;
            return Space {
                volume_m3: volume,
                floor_m2: PI * radius * radius,
                outer_edge_m: PI * w,
                cross_section_m2: volume / w,
            };
        }
        Form::Room { beyond } => {
            let edge = |side: Beyond, length: f64| if side == Beyond::Outdoors { length } else { 0.0 };
            let outer =
                edge(beyond.right, l) + edge(beyond.left, l) + edge(beyond.ahead, w) + edge(beyond.behind, w);
            (w * h, l * w, outer)
        }
    };
    Space { volume_m3: cross_section_m2 * l, floor_m2, outer_edge_m, cross_section_m2 }
}

/// The elements of a shelter's envelope above the ground, openings cut out of the parts they are set into.
///
/// # Errors
/// An opening larger than the part it is set into.
pub fn elements(shelter: &Shelter, build: &ShelterBuild) -> Result<Vec<Element>, FieldError> {
    let mut parts = whole_parts(shelter, build);
    for (index, opening) in build.openings.iter().enumerate() {
        let host = parts
            .iter_mut()
            .filter(|e| e.part == opening.within)
            .max_by(|a, b| a.area_m2.total_cmp(&b.area_m2));
        let Some(host) = host.filter(|h| h.area_m2 >= opening.area_m2) else {
            return Err(FieldError::new(
                format!("openings[{index}].area_m2"),
                format!("is {} m², more than the part it is set into", opening.area_m2),
                "measure again or choose another part",
            ));
        };
        host.area_m2 -= opening.area_m2;
        let piece = Element {
            part: opening.kind,
            area_m2: opening.area_m2,
            sheet: opening.sheet.clone(),
            ..host.clone()
        };
        parts.push(piece);
    }
    parts.retain(|e| e.area_m2 > 1e-9);
    Ok(parts)
}

/// Builds elements with their outward directions.
struct Draft<'a> {
    build: &'a ShelterBuild,
    elements: Vec<Element>,
}

impl Draft<'_> {
    /// Adds a piece that faces `turn_deg` away from the length.
    fn add(&mut self, part: Part, tilt_deg: f64, turn_deg: f64, area_m2: f64, beyond: Beyond) {
        let azimuth_deg = (self.build.length_azimuth_deg + turn_deg).rem_euclid(360.0);
        let sheet = match part {
            Part::Roof => &self.build.roof,
            Part::End => &self.build.ends,
            Part::HouseWall => &self.build.house_wall,
            _ => &self.build.sides,
        };
        self.elements.push(Element {
            part,
            facing: Facing { tilt_deg, azimuth_deg },
            area_m2,
            beyond,
            sheet: sheet.clone(),
        });
    }

    /// A wall with what lies beyond it.
    fn wall(&mut self, part: Part, turn_deg: f64, area_m2: f64, beyond: Beyond) {
        let part = if matches!(beyond, Beyond::Heated { .. }) { Part::HouseWall } else { part };
        self.add(part, 90.0, turn_deg, area_m2, beyond);
    }

    /// An arch of half an ellipse with its two ends.
    fn arch(&mut self, length_m: f64, width_m: f64, height_m: f64) {
        let (a, b) = (width_m / 2.0, height_m);
        let shrink = ((a - b) / (a + b)).powi(2);
        let arc_m = PI / 2.0 * (a + b) * (1.0 + 3.0 * shrink / (10.0 + (4.0 - 3.0 * shrink).sqrt()));
        let point = |step: usize| {
            let angle = PI / 2.0 * step as f64 / FACETS_PER_HALF as f64;
            (a * angle.cos(), b * angle.sin())
        };
        let chords: Vec<(f64, f64)> = (0..FACETS_PER_HALF)
            .map(|step| {
                let ((x0, y0), (x1, y1)) = (point(step), point(step + 1));
                ((x0 - x1).hypot(y1 - y0), (y1 - y0).atan2(x0 - x1).to_degrees())
            })
            .collect();
        let scale = arc_m / 2.0 / chords.iter().map(|(chord, _)| chord).sum::<f64>();
        for (chord, tilt_deg) in chords {
            for turn_deg in [90.0, 270.0] {
                self.add(Part::Roof, tilt_deg, turn_deg, chord * scale * length_m, Beyond::Outdoors);
            }
        }
        for turn_deg in [0.0, 180.0] {
            self.add(Part::End, 90.0, turn_deg, PI / 4.0 * width_m * height_m, Beyond::Outdoors);
        }
    }
}

fn whole_parts(shelter: &Shelter, build: &ShelterBuild) -> Vec<Element> {
    let Shelter { length_m: l, width_m: w, height_m: h, .. } = *shelter;
    let mut draft = Draft { build, elements: Vec::new() };
    let outdoors = Beyond::Outdoors;
    match build.form {
        Form::Gable { eave_m } => {
            let slope = (w / 2.0).hypot(h - eave_m);
            let tilt = (h - eave_m).atan2(w / 2.0).to_degrees();
            for (side, end) in [(90.0, 0.0), (270.0, 180.0)] {
                draft.add(Part::Roof, tilt, side, slope * l, outdoors);
                draft.add(Part::Side, 90.0, side, eave_m * l, outdoors);
                draft.add(Part::End, 90.0, end, w * (eave_m + h) / 2.0, outdoors);
            }
        }
        Form::LeanTo { low_side_m, house_c } => {
            let tilt = (h - low_side_m).atan2(w).to_degrees();
            draft.add(Part::Roof, tilt, 90.0, w.hypot(h - low_side_m) * l, outdoors);
            draft.add(Part::Side, 90.0, 90.0, low_side_m * l, outdoors);
            draft.add(Part::End, 90.0, 0.0, w * (low_side_m + h) / 2.0, outdoors);
            draft.add(Part::End, 90.0, 180.0, w * (low_side_m + h) / 2.0, outdoors);
            draft.wall(Part::HouseWall, 270.0, h * l, Beyond::Heated { temp_c: house_c });
        }
        Form::Frame { front_m } => {
            let tilt = (h - front_m).atan2(w).to_degrees();
            draft.add(Part::Roof, tilt, 90.0, w.hypot(h - front_m) * l, outdoors);
            draft.add(Part::Side, 90.0, 90.0, front_m * l, outdoors);
            draft.add(Part::Side, 90.0, 270.0, h * l, outdoors);
            draft.add(Part::End, 90.0, 0.0, w * (front_m + h) / 2.0, outdoors);
            draft.add(Part::End, 90.0, 180.0, w * (front_m + h) / 2.0, outdoors);
        }
        Form::Hoop | Form::Wrap => draft.arch(l, w, h),
        Form::Dome => {
            let total = PI * ((w / 2.0).powi(2) + h * h);
            draft.add(Part::Roof, 0.0, 0.0, 0.3 * total, outdoors);
            for turn in [0.0, 90.0, 180.0, 270.0] {
                draft.add(Part::Roof, 60.0, turn, 0.175 * total, outdoors);
            }
        }
        Form::Room { beyond } => {
            draft.wall(Part::Side, 90.0, l * h, beyond.right);
            draft.wall(Part::Side, 270.0, l * h, beyond.left);
            draft.wall(Part::End, 0.0, w * h, beyond.ahead);
            draft.wall(Part::End, 180.0, w * h, beyond.behind);
            draft.add(Part::Roof, 0.0, 0.0, l * w, beyond.above);
        }
    }
    draft.elements
}
