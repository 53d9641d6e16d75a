//! One entry of the plant catalogue.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled, within};
use crate::shelter::Light;

/// How well a figure is supported.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Evidence {
    /// A publication that was read; named in the entry's source.
    Published,
    /// A trade or hobby page; named in the entry's source.
    Trade,
    /// Value from memory, not confirmed on any page.
    Memory,
    /// Entered by the grower.
    Own,
}

/// A figure of [`Plant`] that is not a [`Temperature`] with its own support.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum PlantFigure {
    /// The range to keep it at in winter.
    Store,
    /// Winter light.
    Light,
    /// Water in its winter place.
    Water,
    /// Night low that brings it in.
    MoveIn,
    /// Night low for going out again.
    MoveOut,
    /// Chill requirement.
    Chill,
    /// Base temperature of growth.
    Growth,
    /// Danger to people or animals.
    Toxicity,
}

/// What a figure rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Support {
    /// The figure.
    pub figure: PlantFigure,
    /// How well it is supported.
    pub evidence: Evidence,
    /// Where it comes from.
    pub source: String,
}

/// A temperature of the catalogue with the support it has.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Temperature {
    /// The warm end of the range found: the figure that alarms use.
    pub temp_c: f64,
    /// The cold end of the range found, where sources disagree: likely loss below it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub likely_loss_c: Option<f64>,
    /// How well the cold end is supported, where that differs from `evidence`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub likely_loss_evidence: Option<Evidence>,
    /// How well the warm end is supported.
    pub evidence: Evidence,
    /// Where it comes from; empty for values from memory.
    #[serde(default)]
    pub source: String,
}

/// Growth habit that decides on light and winter work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Habit {
    /// Keeps its leaves through winter.
    Evergreen,
    /// Drops its leaves.
    Deciduous,
    /// Evergreen that drops its leaves when kept cold or dark.
    SemiEvergreen,
    /// Tuber, rhizome or corm, stored without tops.
    Tuber,
    /// Herbaceous plant or sub-shrub.
    Herbaceous,
    /// Succulent.
    Succulent,
}

/// How much water a plant wants in its winter place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum WaterClass {
    /// None while cold.
    Dry,
    /// Barely moist: a little, rarely.
    Sparing,
    /// Never dry out, never wet.
    Moderate,
    /// Root ball moist throughout.
    Moist,
}

/// The round of moving in that a plant belongs to, tenderest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum MoveInPass {
    /// Chill-sensitive: in while nights are still mild.
    Early,
    /// In before the first frost.
    BeforeFrost,
    /// In at the first light frosts.
    LightFrost,
    /// In only when frost persists.
    LastIn,
}

/// What a species or group stands and needs, as the catalogue knows it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Plant {
    /// Stable key, lower case with hyphens (`citrus-limon`).
    pub key: String,
    /// Common name.
    pub name: String,
    /// Botanical name.
    pub botanical_name: String,
    /// Growth habit.
    pub habit: Habit,
    /// Damage to dormant or hardened shoots at or below this.
    pub shoot_dormant: Temperature,
    /// Damage to shoots in leaf or soft growth at or below this.
    pub shoot_in_leaf: Temperature,
    /// Damage to roots in a pot, or to a stored tuber, at or below this.
    pub root_in_pot: Temperature,
    /// Lower end of the range to keep it at in winter, °C.
    pub store_low_c: f64,
    /// Upper end of the range to keep it at in winter, °C.
    pub store_high_c: f64,
    /// Least daylight it needs in that range.
    pub winter_light: Light,
    /// Water in its winter place.
    pub winter_water: WaterClass,
    /// Round of moving in.
    pub move_in_pass: MoveInPass,
    /// Night low in °C at which it is brought in.
    pub move_in_at_c: f64,
    /// Night low in °C above which it may go out again for good.
    pub move_out_above_c: f64,
    /// Chill requirement in chill hours, where known: low end, high end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub chill_hours: Option<(f64, f64)>,
    /// Base temperature of spring growth in °C, where known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub growth_base_c: Option<f64>,
    /// Danger to people or animals in plain words; empty where none is known.
    #[serde(default)]
    pub toxicity: String,
    /// What a grower should know besides; may be empty.
    #[serde(default)]
    pub note: String,
    /// What single figures rest on; the others rest on `evidence` and `source`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[ts(as = "Option<Vec<Support>>", optional)]
    pub support: Vec<Support>,
    /// How well the figures are supported that carry no support of their own.
    pub evidence: Evidence,
    /// Source of those figures; empty for values from memory.
    #[serde(default)]
    pub source: String,
}

impl Plant {
    /// How well a figure is supported, and by which source (empty for values from memory).
    pub fn support_of(&self, figure: PlantFigure) -> (Evidence, &str) {
        self.support
            .iter()
            .find(|support| support.figure == figure)
            .map_or((self.evidence, self.source.as_str()), |support| {
                (support.evidence, support.source.as_str())
            })
    }

    /// Checks every field and that the figures agree with each other.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        self.check_names()?;
        for (field, temperature) in [
            ("shoot_dormant", &self.shoot_dormant),
            ("shoot_in_leaf", &self.shoot_in_leaf),
            ("root_in_pot", &self.root_in_pot),
        ] {
            temperature.check(field)?;
        }
        if self.shoot_in_leaf.temp_c < self.shoot_dormant.temp_c {
            return Err(FieldError::new(
                "shoot_in_leaf.temp_c",
                format!("is {}, colder than the dormant limit", self.shoot_in_leaf.temp_c),
                "soft growth never stands more cold than dormant wood: swap the figures or correct one",
            ));
        }
        self.check_ranges()?;
        self.check_support()
    }

    fn check_names(&self) -> Result<(), FieldError> {
        let good_key = !self.key.is_empty()
            && self.key.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
        if !good_key {
            return Err(FieldError::new(
                "key",
                format!("“{}” is not a key", self.key),
                "use lower-case letters, digits and hyphens",
            ));
        }
        filled("name", &self.name, "give the plant a name")
    }

    fn check_ranges(&self) -> Result<(), FieldError> {
        within("store_low_c", self.store_low_c, -10.0, 30.0, "enter the coolest winter temperature")?;
        within(
            "store_high_c",
            self.store_high_c,
            self.store_low_c,
            35.0,
            "enter the warmest winter temperature, at or above the coolest",
        )?;
        if self.store_low_c < self.shoot_dormant.temp_c {
            return Err(FieldError::new(
                "store_low_c",
                format!("is {}, colder than the dormant shoots stand", self.store_low_c),
                "enter a winter temperature that does no damage",
            ));
        }
        within("move_in_at_c", self.move_in_at_c, -20.0, 20.0, "enter the night low that brings it in")?;
        within(
            "move_out_above_c",
            self.move_out_above_c,
            -20.0,
            20.0,
            "enter the night low it stands outdoors",
        )?;
        if let Some((low, high)) = self.chill_hours {
            within("chill_hours[0]", low, 0.0, 3000.0, "enter hours")?;
            within("chill_hours[1]", high, low, 3000.0, "enter hours, at least the low end")?;
        }
        if let Some(base) = self.growth_base_c {
            within("growth_base_c", base, -5.0, 25.0, "enter the base temperature of growth")?;
        }
        Ok(())
    }

    fn check_support(&self) -> Result<(), FieldError> {
        check_source("source", self.evidence, &self.source)?;
        for (index, support) in self.support.iter().enumerate() {
            check_source(&format!("support[{index}].source"), support.evidence, &support.source)?;
            if self.support[..index].iter().any(|earlier| earlier.figure == support.figure) {
                return Err(FieldError::new(
                    format!("support[{index}].figure"),
                    "stands twice",
                    "name each figure once and put all its sources into one text",
                ));
            }
        }
        Ok(())
    }
}

impl Temperature {
    fn check(&self, field: &str) -> Result<(), FieldError> {
        within(&format!("{field}.temp_c"), self.temp_c, -45.0, 20.0, "enter a temperature in °C")?;
        if let Some(loss) = self.likely_loss_c {
            within(
                &format!("{field}.likely_loss_c"),
                loss,
                -60.0,
                self.temp_c,
                "enter the colder end of the range, at or below temp_c",
            )?;
        } else if self.likely_loss_evidence.is_some() {
            return Err(FieldError::new(
                format!("{field}.likely_loss_evidence"),
                "stands without a figure",
                "add likely_loss_c or leave it out",
            ));
        }
        let named = [Some(self.evidence), self.likely_loss_evidence]
            .into_iter()
            .flatten()
            .find(|evidence| evidence.needs_source());
        check_source(&format!("{field}.source"), named.unwrap_or(self.evidence), &self.source)
    }
}

impl Evidence {
    /// Whether a figure with this mark names where it comes from.
    pub fn needs_source(self) -> bool {
        matches!(self, Self::Published | Self::Trade)
    }
}

/// A figure from a page names the page; a value from memory must not look as if it had one.
fn check_source(field: &str, evidence: Evidence, source: &str) -> Result<(), FieldError> {
    if evidence.needs_source() {
        filled(field, source, "name the publication, or mark the figure as memory")
    } else if evidence == Evidence::Memory && !source.is_empty() {
        Err(FieldError::new(
            field,
            "names a source for a value from memory",
            "mark the figure as published or trade, or leave the source out",
        ))
    } else {
        Ok(())
    }
}

#[cfg(test)]
#[path = "species_test.rs"]
mod tests;
