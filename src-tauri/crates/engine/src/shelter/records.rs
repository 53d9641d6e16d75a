//! Records of shelters and zones.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::Outline;
use crate::field::{FieldError, filled, within};

/// What a shelter is; decides which chores apply and what it is likely to hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ShelterKind {
    /// A glazed house one can stand in.
    Greenhouse,
    /// A low glazed box over soil.
    ColdFrame,
    /// A garage or shed.
    Garage,
    /// A room below ground.
    Cellar,
    /// A glazed or open porch on a house.
    Porch,
    /// A room of a heated house.
    Room,
    /// Plants in the ground, wrapped or boxed where they stand.
    WrappedBed,
}

impl ShelterKind {
    /// Degrees by which an unheated shelter of this kind stays above outdoors at the coldest hour of a clear
    /// winter night, bare and with a winter cover, in kelvin: common practice, no source. Used only until the
    /// shelter's own heat balance or temperature log gives a better figure.
    pub fn usual_hold_k(self, covered: bool) -> f64 {
        match (self, covered) {
            (Self::Greenhouse, false) => 2.0,
            (Self::Greenhouse, true) => 5.0,
            (Self::ColdFrame, false) => 2.5,
            (Self::ColdFrame, true) => 5.5,
            (Self::Garage, _) => 7.0,
            (Self::Cellar, _) => 14.0,
            (Self::Porch, false) => 3.0,
            (Self::Porch, true) => 5.0,
            (Self::Room, _) => 25.0,
            (Self::WrappedBed, false) => 0.0,
            (Self::WrappedBed, true) => 4.0,
        }
    }

    /// Whether a winter cover (bubble film, tarp, fleece) is put on this kind in autumn and off in spring.
    pub fn takes_cover(self) -> bool {
        matches!(self, Self::Greenhouse | Self::ColdFrame | Self::Porch | Self::WrappedBed)
    }
}

/// A place that gives protection.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Shelter {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The site it stands on.
    pub site_id: String,
    /// The grower's name for it.
    pub name: String,
    /// What it is.
    pub kind: ShelterKind,
    /// Inside length in metres.
    pub length_m: f64,
    /// Inside width in metres.
    pub width_m: f64,
    /// Inside height at the highest point in metres.
    pub height_m: f64,
    /// Whether a winter cover goes on it.
    pub has_cover: bool,
    /// Whether a heater stands ready in it.
    pub has_heater: bool,
}

impl Shelter {
    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        filled("site_id", &self.site_id, "save the site first")?;
        filled("name", &self.name, "give the shelter a name")?;
        within("length_m", self.length_m, 0.2, 100.0, "measure the inside length")?;
        within("width_m", self.width_m, 0.2, 100.0, "measure the inside width")?;
        within("height_m", self.height_m, 0.1, 20.0, "measure the inside height at the highest point")?;
        if self.has_cover && !self.kind.takes_cover() {
            return Err(FieldError::new(
                "has_cover",
                "is set on a room inside a building",
                "leave it off: covers belong on glass, frames and wrapped beds",
            ));
        }
        Ok(())
    }

    /// Degrees above outdoors at the coldest hour of an unheated clear night, in kelvin, before any measurement.
    pub fn usual_hold_k(&self, covered: bool) -> f64 {
        self.kind.usual_hold_k(covered && self.has_cover)
    }
}

/// How much daylight a zone gets in winter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Light {
    /// No daylight to speak of.
    Dark,
    /// A window or a shaded side.
    Dim,
    /// Glass or open sky towards the sun.
    Bright,
}

/// Part of a shelter with its own temperature, checklist and plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Zone {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The shelter it is part of.
    pub shelter_id: String,
    /// The grower's name for it.
    pub name: String,
    /// Floor or bench area for plants in square metres.
    pub area_m2: f64,
    /// Winter daylight.
    pub light: Light,
    /// Degrees by which the zone differs from the shelter's hold on a cold night, in kelvin; negative is colder.
    pub offset_k: f64,
    /// Temperature in °C that the grower means to keep with heat; absent where no heat is used.
    pub kept_above_c: Option<f64>,
    /// Where it lies on the floor plan; absent before it is drawn.
    #[serde(default)]
    pub outline: Option<Outline>,
    /// Litres of water that stand in it in barrels or cans and give off heat on a cold night.
    #[serde(default)]
    pub water_l: f64,
}

impl Zone {
    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        filled("shelter_id", &self.shelter_id, "choose the shelter this zone is part of")?;
        filled("name", &self.name, "give the zone a name")?;
        within("area_m2", self.area_m2, 0.01, 10_000.0, "enter the area on which plants stand")?;
        within(
            "offset_k",
            self.offset_k,
            -15.0,
            15.0,
            "enter degrees warmer (+) or colder (−) than the shelter",
        )?;
        if let Some(kept) = self.kept_above_c {
            within("kept_above_c", kept, -15.0, 30.0, "enter the temperature the heater is set to hold")?;
        }
        within("water_l", self.water_l, 0.0, 100_000.0, "enter the litres in its barrels and cans")
    }
}
