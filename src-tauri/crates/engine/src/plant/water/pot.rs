//! Pots: sizes, shape, what they are filled with, what they weigh.

use std::collections::BTreeMap;
use std::f64::consts::PI;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled, within};
use crate::plant::Evidence;
use crate::table::{self, Row, TableError};

/// Litres of a US gallon.
pub const US_GALLON_L: f64 = 3.785_411_784;
/// Litres of an imperial gallon.
pub const IMPERIAL_GALLON_L: f64 = 4.546_09;
/// Share of a pot that is filled: 85 to 90 % (value from memory).
pub const FILLED_SHARE: f64 = 0.87;
/// Height of a round pot over its top diameter, and base over top diameter: usual shapes (value from memory).
const HEIGHT_OVER_TOP: f64 = 0.9;
const BASE_OVER_TOP: f64 = 0.72;
/// Kilograms of an empty plastic pot per litre, and of a clay pot: values from memory.
const PLASTIC_KG_PER_L: f64 = 0.03;
const CLAY_KG_PER_L: f64 = 0.35;

/// A medium that pots are filled with, as a store of water; shares are of its volume.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct PotMedium {
    /// Key other records use.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Water held after watering through and draining.
    pub capacity: f64,
    /// Water still held when plants wilt.
    pub unavailable: f64,
    /// Air at that capacity.
    pub air: f64,
    /// Density dry in kg/L.
    pub dry_kg_per_l: f64,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from; empty for a value from memory.
    pub source: String,
}

impl PotMedium {
    /// Water that plants can use, as a share of the volume.
    pub fn available(&self) -> f64 {
        self.capacity - self.unavailable
    }
}

impl Row for PotMedium {
    const TABLE: &'static str = "medium";

    fn key(&self) -> &str {
        &self.key
    }

    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }

    fn check_figures(&self) -> Result<(), FieldError> {
        filled("name", &self.name, "give the mix a name")?;
        within("capacity", self.capacity, 0.05, 0.95, "enter the share of water after draining")?;
        let below = "enter a share below the capacity";
        within("unavailable", self.unavailable, 0.0, self.capacity - 0.02, below)?;
        within("air", self.air, 0.0, 1.0 - self.capacity, "enter a share that leaves room for the solids")?;
        within("dry_kg_per_l", self.dry_kg_per_l, 0.02, 2.0, "enter kilograms per litre")
    }
}

/// A nursery pot size: a class with a number, not a volume in gallons.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct NurserySize {
    /// Its number.
    pub key: String,
    /// What such a pot usually holds, in litres.
    pub volume_l: f64,
    /// Least of the class in litres.
    pub low_l: f64,
    /// Most of the class in litres.
    pub high_l: f64,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from.
    pub source: String,
}

impl Row for NurserySize {
    const TABLE: &'static str = "size";

    fn key(&self) -> &str {
        &self.key
    }

    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }

    fn check_figures(&self) -> Result<(), FieldError> {
        within("low_l", self.low_l, 0.05, 2000.0, "enter litres")?;
        within("high_l", self.high_l, self.low_l, 2000.0, "enter litres, at least low_l")?;
        within("volume_l", self.volume_l, self.low_l, self.high_l, "enter litres within the class")
    }
}

/// How a grower gives the size of a pot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum PotSize {
    /// Litres.
    Litres {
        /// How many.
        volume_l: f64,
    },
    /// The number of a nursery pot (`#5`).
    Nursery {
        /// The number.
        size: String,
    },
    /// US gallons by volume.
    UsGallons {
        /// How many.
        gallons: f64,
    },
    /// Imperial gallons by volume.
    ImperialGallons {
        /// How many.
        gallons: f64,
    },
    /// A round pot of the usual shape by its top diameter.
    TopDiameter {
        /// Metres.
        top_m: f64,
    },
}

/// Media and pot sizes by key.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PotTables {
    /// Media.
    pub media: BTreeMap<String, PotMedium>,
    /// Nursery sizes.
    pub sizes: BTreeMap<String, NurserySize>,
}

impl PotTables {
    /// The tables that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in tables.
    pub fn built_in() -> Result<Self, TableError> {
        let media = include_str!("../../../catalogue/pot_media.toml");
        let sizes = include_str!("../../../catalogue/pot_sizes.toml");
        Ok(Self {
            media: table::read("catalogue/pot_media.toml", media)?,
            sizes: table::read("catalogue/pot_sizes.toml", sizes)?,
        })
    }

    /// Adds a grower's own media from a text of the same form; a row with a known key takes its place.
    ///
    /// # Errors
    /// [`TableError`] with file, line and field.
    pub fn extend_media(&mut self, file: &str, text: &str) -> Result<(), TableError> {
        self.media.extend(table::read(file, text)?);
        Ok(())
    }

    /// Litres of a pot.
    ///
    /// # Errors
    /// A size that cannot be, or a nursery size that the table lacks.
    pub fn volume_l(&self, size: &PotSize) -> Result<f64, FieldError> {
        let (field, volume_l) = match size {
            PotSize::Litres { volume_l } => ("volume_l", *volume_l),
            PotSize::UsGallons { gallons } => ("gallons", gallons * US_GALLON_L),
            PotSize::ImperialGallons { gallons } => ("gallons", gallons * IMPERIAL_GALLON_L),
            PotSize::TopDiameter { top_m } => ("top_m", RoundPot::of_top(*top_m).volume_l()),
            PotSize::Nursery { size } => match self.sizes.get(size.trim_start_matches('#').trim()) {
                Some(row) => ("size", row.volume_l),
                None => {
                    let known: Vec<&str> = self.sizes.keys().map(String::as_str).collect();
                    let mend = format!("enter litres, or one of the nursery sizes {}", known.join(", "));
                    return Err(FieldError::new("size", format!("“{size}” is not a nursery size"), mend));
                }
            },
        };
        within(field, volume_l, 0.01, 2000.0, "enter the size of the pot")?;
        Ok(volume_l)
    }
}

/// A round pot, wider at the top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundPot {
    /// Diameter at the top in m.
    pub top_m: f64,
    /// Diameter at the base in m.
    pub base_m: f64,
    /// Height in m.
    pub height_m: f64,
}

impl RoundPot {
    /// A pot of the usual shape by its top diameter in m.
    pub fn of_top(top_m: f64) -> Self {
        Self { top_m, base_m: BASE_OVER_TOP * top_m, height_m: HEIGHT_OVER_TOP * top_m }
    }

    /// A pot of the usual shape by its volume in litres.
    pub fn of_volume(volume_l: f64) -> Self {
        let unit = Self::of_top(1.0).volume_l();
        Self::of_top((volume_l / unit).cbrt())
    }

    /// Volume in litres: `π h / 12 (D² + D d + d²)`.
    pub fn volume_l(&self) -> f64 {
        let (top, base) = (self.top_m, self.base_m);
        PI * self.height_m / 12.0 * (top * top + top * base + base * base) * 1000.0
    }

    /// Area of the top in m².
    pub fn top_m2(&self) -> f64 {
        PI / 4.0 * self.top_m * self.top_m
    }

    /// Area of the wall in m².
    pub fn wall_m2(&self) -> f64 {
        let (top, base) = (self.top_m / 2.0, self.base_m / 2.0);
        PI * (top + base) * self.height_m.hypot(top - base)
    }
}

/// Mass in kg of a planted pot.
///
/// * `volume_l` — volume of the pot
/// * `medium` — what fills it
/// * `water_share` — water it holds, as a share of the medium's volume
/// * `is_clay` — clay instead of plastic
///
/// The plant itself is left out: 5 to 20 % more for a woody one (value from memory).
pub fn pot_mass_kg(volume_l: f64, medium: &PotMedium, water_share: f64, is_clay: bool) -> f64 {
    let pot_kg = volume_l * if is_clay { CLAY_KG_PER_L } else { PLASTIC_KG_PER_L };
    pot_kg + volume_l * FILLED_SHARE * (medium.dry_kg_per_l + water_share)
}
