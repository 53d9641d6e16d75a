//! The catalogue of what shelters are made of, covered and heated with.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::fuel::Fuel;
use crate::field::{FieldError, within};
use crate::plant::Evidence;
use crate::table::{self, Row, TableError};

/// Resistance in m² K/W of the two surface films inside a published U-value (ISO 6946: 0.13 + 0.04).
pub const FILMS_M2_K_PER_W: f64 = 0.17;
/// Least resistance in m² K/W of a sheet whose published U-value leaves none beside its films (3 mm of glass).
const THIN_SHEET_M2_K_PER_W: f64 = 0.003;

/// A sheet that lets light through.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Glazing {
    /// Key other records use.
    pub key: String,
    /// Trade name, without brands.
    pub name: String,
    /// Overall heat transfer with surface films in W/(m² K).
    pub u_w_per_m2_k: f64,
    /// Share of solar radiation let through, perpendicular, clean.
    pub solar_transmittance: f64,
    /// Long-wave emissivity of either face.
    pub long_wave_emissivity: f64,
    /// Share of long-wave radiation let through while dry.
    pub long_wave_transmittance: f64,
    /// Heat capacity in J/(m² K).
    pub heat_capacity_j_per_m2_k: f64,
    /// Air changes per hour of a closed house of this construction.
    pub air_changes_per_h: f64,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from; empty for a value from memory.
    pub source: String,
}

/// An opaque wall, board, ceiling or floor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Wall {
    /// Key other records use.
    pub key: String,
    /// Trade name, without brands.
    pub name: String,
    /// Overall heat transfer with surface films in W/(m² K).
    pub u_w_per_m2_k: f64,
    /// Heat capacity of the whole thickness in J/(m² K).
    pub heat_capacity_j_per_m2_k: f64,
    /// Share of solar radiation taken up outside.
    pub solar_absorptance: f64,
    /// Air changes per hour of a closed room of this construction.
    pub air_changes_per_h: f64,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from; empty for a value from memory.
    pub source: String,
}

/// Where a cover hangs, from the plants outwards.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Hangs {
    /// Under the sheet.
    Inside,
    /// Outside, on the sheet.
    Outside,
    /// Over everything else.
    Outermost,
}

/// A layer put on for winter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Cover {
    /// Key other records use.
    pub key: String,
    /// Trade name, without brands.
    pub name: String,
    /// Where it hangs.
    pub hangs: Hangs,
    /// Resistance of the layer alone in m² K/W.
    pub resistance_m2_k_per_w: f64,
    /// Whether it hangs clear of the sheet with an air gap.
    pub has_gap: bool,
    /// Share of a tight air gap's resistance that remains, 0 to 1.
    pub gap_tightness: f64,
    /// Share of solar radiation let through.
    pub solar_transmittance: f64,
    /// Share of solar radiation taken up.
    pub solar_absorptance: f64,
    /// Long-wave emissivity of either face.
    pub long_wave_emissivity: f64,
    /// Share of long-wave radiation let through.
    pub long_wave_transmittance: f64,
    /// Factor on the leakage area of what it covers, 0 to 1.
    pub leakage_factor: f64,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from; empty for a value from memory.
    pub source: String,
}

/// A kind of heater.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct HeaterKind {
    /// Key other records use.
    pub key: String,
    /// Trade name, without brands.
    pub name: String,
    /// What it burns.
    pub fuel: Fuel,
    /// Usual heat output in W.
    pub usual_rating_w: f64,
    /// Share of the fuel's higher heating value that reaches the air inside.
    pub efficiency: f64,
    /// Whether its fumes leave by a flue.
    pub vented: bool,
    /// Water that its flame adds to the air in kg per kWh of heat.
    pub water_kg_per_kwh: f64,
    /// Whether its fan stirs the air of the house.
    pub stirs_air: bool,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from; empty for a value from memory.
    pub source: String,
}

/// Resistance in m² K/W of a sheet without its surface films.
fn bare_resistance(u_w_per_m2_k: f64) -> f64 {
    (1.0 / u_w_per_m2_k - FILMS_M2_K_PER_W).max(THIN_SHEET_M2_K_PER_W)
}

impl Glazing {
    /// Resistance in m² K/W without surface films.
    pub fn resistance_m2_k_per_w(&self) -> f64 {
        bare_resistance(self.u_w_per_m2_k)
    }
}

impl Wall {
    /// Resistance in m² K/W without surface films.
    pub fn resistance_m2_k_per_w(&self) -> f64 {
        bare_resistance(self.u_w_per_m2_k)
    }
}

fn share(field: &str, value: f64) -> Result<(), FieldError> {
    within(field, value, 0.0, 1.0, "enter a share from 0 to 1")
}

fn u_value(value: f64) -> Result<(), FieldError> {
    within("u_w_per_m2_k", value, 0.05, 8.0, "enter W/(m² K); a sheet with no resistance at all is about 6.8")
}

fn shares_of_one(field: &str, parts: f64) -> Result<(), FieldError> {
    if parts > 1.0 + 1e-9 {
        let problem = format!("makes {parts:.2} together with its partner");
        return Err(FieldError::new(field, problem, "what is let through and taken up is at most 1"));
    }
    Ok(())
}

impl Row for Glazing {
    const TABLE: &'static str = "glazing";
    fn key(&self) -> &str {
        &self.key
    }
    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }
    fn check_figures(&self) -> Result<(), FieldError> {
        u_value(self.u_w_per_m2_k)?;
        share("solar_transmittance", self.solar_transmittance)?;
        share("long_wave_emissivity", self.long_wave_emissivity)?;
        share("long_wave_transmittance", self.long_wave_transmittance)?;
        shares_of_one("long_wave_transmittance", self.long_wave_emissivity + self.long_wave_transmittance)?;
        within("heat_capacity_j_per_m2_k", self.heat_capacity_j_per_m2_k, 1.0, 1e6, "enter J/(m² K)")?;
        within("air_changes_per_h", self.air_changes_per_h, 0.05, 100.0, "enter the rate of a closed house")
    }
}

impl Row for Wall {
    const TABLE: &'static str = "wall";
    fn key(&self) -> &str {
        &self.key
    }
    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }
    fn check_figures(&self) -> Result<(), FieldError> {
        u_value(self.u_w_per_m2_k)?;
        share("solar_absorptance", self.solar_absorptance)?;
        within("heat_capacity_j_per_m2_k", self.heat_capacity_j_per_m2_k, 1.0, 5e6, "enter J/(m² K)")?;
        within("air_changes_per_h", self.air_changes_per_h, 0.05, 30.0, "enter the rate of a closed room")
    }
}

impl Row for Cover {
    const TABLE: &'static str = "cover";
    fn key(&self) -> &str {
        &self.key
    }
    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }
    fn check_figures(&self) -> Result<(), FieldError> {
        within("resistance_m2_k_per_w", self.resistance_m2_k_per_w, 0.0005, 10.0, "enter m² K/W")?;
        share("gap_tightness", self.gap_tightness)?;
        share("solar_transmittance", self.solar_transmittance)?;
        share("solar_absorptance", self.solar_absorptance)?;
        shares_of_one("solar_absorptance", self.solar_transmittance + self.solar_absorptance)?;
        share("long_wave_emissivity", self.long_wave_emissivity)?;
        share("long_wave_transmittance", self.long_wave_transmittance)?;
        shares_of_one("long_wave_transmittance", self.long_wave_emissivity + self.long_wave_transmittance)?;
        within("leakage_factor", self.leakage_factor, 0.05, 1.0, "enter the share of leaks that remains")
    }
}

impl Row for HeaterKind {
    const TABLE: &'static str = "heater";
    fn key(&self) -> &str {
        &self.key
    }
    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }
    fn check_figures(&self) -> Result<(), FieldError> {
        within("usual_rating_w", self.usual_rating_w, 10.0, 100_000.0, "enter the heat output in watts")?;
        within("efficiency", self.efficiency, 0.2, 1.0, "enter the share of the fuel that heats the inside")?;
        within("water_kg_per_kwh", self.water_kg_per_kwh, 0.0, 0.3, "enter kg of water per kWh of heat")
    }
}

/// Glazing, walls, covers and heaters by key.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Materials {
    /// Sheets that let light through.
    pub glazing: BTreeMap<String, Glazing>,
    /// Opaque walls and boards.
    pub walls: BTreeMap<String, Wall>,
    /// Winter layers.
    pub covers: BTreeMap<String, Cover>,
    /// Kinds of heater.
    pub heaters: BTreeMap<String, HeaterKind>,
}

impl Materials {
    /// The tables that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in tables.
    pub fn built_in() -> Result<Self, TableError> {
        Ok(Self {
            glazing: table::read("catalogue/glazing.toml", include_str!("../../catalogue/glazing.toml"))?,
            walls: table::read("catalogue/walls.toml", include_str!("../../catalogue/walls.toml"))?,
            covers: table::read("catalogue/covers.toml", include_str!("../../catalogue/covers.toml"))?,
            heaters: table::read("catalogue/heaters.toml", include_str!("../../catalogue/heaters.toml"))?,
        })
    }

    /// Adds a grower's own rows from texts of the same form; a row with a known key takes its place.
    ///
    /// # Errors
    /// [`TableError`] with file, line and field.
    pub fn extend_glazing(&mut self, file: &str, text: &str) -> Result<(), TableError> {
        self.glazing.extend(table::read(file, text)?);
        Ok(())
    }

    /// As [`Self::extend_glazing`], for walls.
    ///
    /// # Errors
    /// [`TableError`] with file, line and field.
    pub fn extend_walls(&mut self, file: &str, text: &str) -> Result<(), TableError> {
        self.walls.extend(table::read(file, text)?);
        Ok(())
    }

    /// As [`Self::extend_glazing`], for covers.
    ///
    /// # Errors
    /// [`TableError`] with file, line and field.
    pub fn extend_covers(&mut self, file: &str, text: &str) -> Result<(), TableError> {
        self.covers.extend(table::read(file, text)?);
        Ok(())
    }
}

#[cfg(test)]
#[path = "materials_test.rs"]
mod tests;
