//! The catalogue of what shelters are made of, covered and heated with.

use std::collections::BTreeMap;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use thiserror::Error;
use toml::Spanned;
use ts_rs::TS;

use super::fuel::Fuel;
use crate::field::{FieldError, filled, within};
use crate::plant::Evidence;

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

/// A layer put on for winter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Cover {
    /// Key other records use.
    pub key: String,
    /// Trade name, without brands.
    pub name: String,
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

/// A row of one of the tables.
trait Row: DeserializeOwned {
    /// Name of the table's array in its file.
    const TABLE: &'static str;
    fn key(&self) -> &str;
    fn support(&self) -> (Evidence, &str);
    fn check_figures(&self) -> Result<(), FieldError>;

    fn check(&self) -> Result<(), FieldError> {
        filled("key", self.key(), "give the row a key")?;
        self.check_figures()?;
        let (evidence, source) = self.support();
        match evidence {
            Evidence::Published | Evidence::Trade => {
                filled("source", source, "name where the figures come from")
            }
            Evidence::Memory | Evidence::Own => Ok(()),
        }
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

/// Why a table of materials could not be read.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum MaterialError {
    /// The text is not such a table.
    #[error("{file}: {message}")]
    Syntax {
        /// File the text came from.
        file: String,
        /// What the reader said, with line and column.
        message: String,
    },
    /// A row has a field that cannot be used.
    #[error("{file}, line {line}, “{key}”: {source}")]
    Row {
        /// File the text came from.
        file: String,
        /// 1-based line on which the row begins.
        line: usize,
        /// Key of the row.
        key: String,
        /// The field and the mend.
        source: Box<FieldError>,
    },
    /// Two rows have one key.
    #[error("{file}, line {line}: the key “{key}” stands twice; rename one of the two rows")]
    Twice {
        /// File the text came from.
        file: String,
        /// 1-based line on which the second row begins.
        line: usize,
        /// The key.
        key: String,
    },
}

fn read<R: Row>(file: &str, text: &str) -> Result<BTreeMap<String, R>, MaterialError> {
    let syntax = |e: toml::de::Error| MaterialError::Syntax { file: file.to_owned(), message: e.to_string() };
    let parsed: BTreeMap<String, Vec<Spanned<R>>> = toml::from_str(text).map_err(syntax)?;
    let mut rows = BTreeMap::new();
    for (table, entries) in parsed {
        if table != R::TABLE {
            let message = format!("“[[{table}]]” is not known here; write [[{}]]", R::TABLE);
            return Err(MaterialError::Syntax { file: file.to_owned(), message });
        }
        for entry in entries {
            let line = 1 + text.bytes().take(entry.span().start).filter(|&byte| byte == b'\n').count();
            let row = entry.into_inner();
            let key = row.key().to_owned();
            row.check().map_err(|source| MaterialError::Row {
                file: file.to_owned(),
                line,
                key: key.clone(),
                source: Box::new(source),
            })?;
            if rows.insert(key.clone(), row).is_some() {
                return Err(MaterialError::Twice { file: file.to_owned(), line, key });
            }
        }
    }
    Ok(rows)
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
    pub fn built_in() -> Result<Self, MaterialError> {
        Ok(Self {
            glazing: read("catalogue/glazing.toml", include_str!("../../catalogue/glazing.toml"))?,
            walls: read("catalogue/walls.toml", include_str!("../../catalogue/walls.toml"))?,
            covers: read("catalogue/covers.toml", include_str!("../../catalogue/covers.toml"))?,
            heaters: read("catalogue/heaters.toml", include_str!("../../catalogue/heaters.toml"))?,
        })
    }

    /// Adds a grower's own rows from texts of the same form; a row with a known key takes its place.
    ///
    /// # Errors
    /// [`MaterialError`] with file, line and field.
    pub fn extend_glazing(&mut self, file: &str, text: &str) -> Result<(), MaterialError> {
        self.glazing.extend(read(file, text)?);
        Ok(())
    }

    /// As [`Self::extend_glazing`], for walls.
    ///
    /// # Errors
    /// [`MaterialError`] with file, line and field.
    pub fn extend_walls(&mut self, file: &str, text: &str) -> Result<(), MaterialError> {
        self.walls.extend(read(file, text)?);
        Ok(())
    }

    /// As [`Self::extend_glazing`], for covers.
    ///
    /// # Errors
    /// [`MaterialError`] with file, line and field.
    pub fn extend_covers(&mut self, file: &str, text: &str) -> Result<(), MaterialError> {
        self.covers.extend(read(file, text)?);
        Ok(())
    }
}

#[cfg(test)]
#[path = "materials_test.rs"]
mod tests;
