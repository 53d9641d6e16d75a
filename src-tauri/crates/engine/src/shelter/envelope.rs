//! The envelope of a shelter with its covers, ready for heat balances.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::build::{Beyond, CoverOn, Part, Sheet, ShelterBuild};
use super::geometry::{self, Space};
use super::{Cover, Materials, Shelter};
use crate::air::{WindShelter, leakage_area_cm2};
use crate::field::FieldError;
use crate::sun::irradiance::Facing;

/// A flat piece of the envelope with the layers on it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct EnvelopeElement {
    /// Which part it belongs to.
    pub part: Part,
    /// Which way its outer side faces.
    pub facing: Facing,
    /// Area in m².
    pub area_m2: f64,
    /// What lies beyond it.
    pub beyond: Beyond,
    /// Overall heat transfer with handbook films and all covers in W/(m² K).
    pub u_w_per_m2_k: f64,
    /// Resistance without surface films, covers included, in m² K/W.
    pub resistance_m2_k_per_w: f64,
    /// Share of solar radiation let through.
    pub solar_transmittance: f64,
    /// Share of solar radiation taken up by the outermost layer.
    pub solar_absorptance: f64,
    /// Long-wave emissivity inside.
    pub inner_emissivity: f64,
    /// Long-wave emissivity outside.
    pub outer_emissivity: f64,
    /// Share of long-wave radiation let through while dry.
    pub long_wave_transmittance: f64,
    /// Heat capacity in J/(m² K).
    pub heat_capacity_j_per_m2_k: f64,
}

/// The envelope of a shelter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Envelope {
    /// Its pieces.
    pub elements: Vec<EnvelopeElement>,
    /// Volume inside in m³.
    pub volume_m3: f64,
    /// Floor in m².
    pub floor_m2: f64,
    /// Edge of the floor that borders on outdoor ground, in m.
    pub outer_edge_m: f64,
    /// Whether that edge is insulated.
    pub edge_insulated: bool,
    /// Area of a cut across the length in m².
    pub cross_section_m2: f64,
    /// Highest point in m.
    pub height_m: f64,
    /// Handbook air changes per hour, covers and tightness included.
    pub air_changes_per_h: f64,
    /// Effective leakage area at 4 Pa in cm².
    pub leakage_cm2: f64,
    /// What keeps the wind off.
    pub wind_shelter: WindShelter,
}

/// Resistance in m² K/W of an unventilated air gap of 25 mm or more, by the direction of heat (ISO 6946: 0.16 up, 0.18
/// sideways).
fn gap_resistance(tilt_deg: f64) -> f64 {
    if tilt_deg < 60.0 { 0.16 } else { 0.18 }
}

impl Envelope {
    /// The envelope of a shelter with the given covers on.
    ///
    /// * `shelter`, `build` — size and build
    /// * `materials` — catalogue
    /// * `covers` — layers that are on; the record's own are in [`ShelterBuild::covers`]
    ///
    /// Covers apply to parts that face outdoors. They lie over one another as they hang in the catalogue, those that
    /// hang alike by their keys, in whatever order they are given.
    ///
    /// # Errors
    /// A field of the build that cannot be used.
    pub fn of(
        shelter: &Shelter,
        build: &ShelterBuild,
        materials: &Materials,
        covers: &[CoverOn],
    ) -> Result<Self, FieldError> {
        build.check(shelter, materials)?;
        let covers = from_inside_out(covers, materials)?;
        let space = geometry::space(shelter, build);
        let mut elements = Vec::new();
        let (mut rate_by_area, mut outer_m2) = (0.0, 0.0);
        for piece in geometry::elements(shelter, build)? {
            let (mut element, air_changes) = bare(&piece, materials)?;
            let mut leakage = 1.0;
            if element.beyond == Beyond::Outdoors {
                let on_it = |on: &CoverOn| on.parts.is_empty() || on.parts.contains(&piece.part);
                for (cover, _) in covers.iter().filter(|(_, on)| on_it(on)) {
                    leakage *= put_on(&mut element, cover);
                }
                rate_by_area += element.area_m2 * air_changes * leakage;
                outer_m2 += element.area_m2;
            }
            elements.push(element);
        }
        // A room without an outer wall still trades air by its door.
        let rate = if outer_m2 > 0.0 { rate_by_area / outer_m2 } else { 0.2 } * build.leakage_factor;
        Ok(Self::assemble(elements, space, shelter.height_m, build, rate))
    }

    fn assemble(
        elements: Vec<EnvelopeElement>,
        space: Space,
        height_m: f64,
        build: &ShelterBuild,
        air_changes_per_h: f64,
    ) -> Self {
        Self {
            elements,
            volume_m3: space.volume_m3,
            floor_m2: space.floor_m2,
            outer_edge_m: space.outer_edge_m,
            edge_insulated: build.edge_insulated,
            cross_section_m2: space.cross_section_m2,
            height_m,
            air_changes_per_h,
            leakage_cm2: leakage_area_cm2(air_changes_per_h, space.volume_m3),
            wind_shelter: build.wind_shelter,
        }
    }

    /// Area that faces outdoors in m².
    pub fn outer_m2(&self) -> f64 {
        self.elements.iter().filter(|e| e.beyond == Beyond::Outdoors).map(|e| e.area_m2).sum()
    }
}

fn unknown(field: &str, key: &str) -> FieldError {
    FieldError::new(field, format!("“{key}” is not in the catalogue"), "choose one of the listed entries")
}

fn bare(piece: &geometry::Element, materials: &Materials) -> Result<(EnvelopeElement, f64), FieldError> {
    let element = EnvelopeElement {
        part: piece.part,
        facing: piece.facing,
        area_m2: piece.area_m2,
        beyond: piece.beyond,
        u_w_per_m2_k: 0.0,
        resistance_m2_k_per_w: 0.0,
        solar_transmittance: 0.0,
        solar_absorptance: 0.1,
        inner_emissivity: 0.9,
        outer_emissivity: 0.9,
        long_wave_transmittance: 0.0,
        heat_capacity_j_per_m2_k: 0.0,
    };
    match &piece.sheet {
        Sheet::Glazing { key } => {
            let glazing = materials.glazing.get(key).ok_or_else(|| unknown("glazing", key))?;
            let filled = EnvelopeElement {
                u_w_per_m2_k: glazing.u_w_per_m2_k,
                resistance_m2_k_per_w: glazing.resistance_m2_k_per_w(),
                solar_transmittance: glazing.solar_transmittance,
                inner_emissivity: glazing.long_wave_emissivity,
                outer_emissivity: glazing.long_wave_emissivity,
                long_wave_transmittance: glazing.long_wave_transmittance,
                heat_capacity_j_per_m2_k: glazing.heat_capacity_j_per_m2_k,
                ..element
            };
            Ok((filled, glazing.air_changes_per_h))
        }
        Sheet::Wall { key } => {
            let wall = materials.walls.get(key).ok_or_else(|| unknown("walls", key))?;
            let filled = EnvelopeElement {
                u_w_per_m2_k: wall.u_w_per_m2_k,
                resistance_m2_k_per_w: wall.resistance_m2_k_per_w(),
                solar_absorptance: wall.solar_absorptance,
                heat_capacity_j_per_m2_k: wall.heat_capacity_j_per_m2_k,
                ..element
            };
            Ok((filled, wall.air_changes_per_h))
        }
    }
}

/// Covers with their rows in the catalogue, the innermost first.
fn from_inside_out<'a>(
    covers: &'a [CoverOn],
    materials: &'a Materials,
) -> Result<Vec<(&'a Cover, &'a CoverOn)>, FieldError> {
    let row = |on: &'a CoverOn| match materials.covers.get(&on.key) {
        Some(cover) => Ok((cover, on)),
        None => Err(unknown("covers", &on.key)),
    };
    let mut rows = covers.iter().map(row).collect::<Result<Vec<_>, _>>()?;
    rows.sort_by_key(|(cover, _)| (cover.hangs, &cover.key));
    Ok(rows)
}

/// Adds a layer outside those that are on; returns its factor on leakage.
fn put_on(element: &mut EnvelopeElement, cover: &Cover) -> f64 {
    let gap = if cover.has_gap { gap_resistance(element.facing.tilt_deg) * cover.gap_tightness } else { 0.0 };
    let added = cover.resistance_m2_k_per_w + gap;
    element.resistance_m2_k_per_w += added;
    element.u_w_per_m2_k = 1.0 / (1.0 / element.u_w_per_m2_k + added);
    element.solar_transmittance *= cover.solar_transmittance;
    element.solar_absorptance = cover.solar_absorptance;
    element.outer_emissivity = cover.long_wave_emissivity;
    element.long_wave_transmittance *= cover.long_wave_transmittance;
    cover.leakage_factor
}
