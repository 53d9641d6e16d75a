//! Plants that the catalogue lacks: first figures from a public hardiness class.
//!
//! The classes are those of the Royal Horticultural Society's hardiness rating of 2013, which gives each a range
//! of winter minima. Following the catalogue's rule, the warm end of the range is the alarm and the cold end the
//! likely loss. From H3 down the rating warns that plants in pots fare worse: roots in a pot are taken one class
//! warmer (value from memory). Everything that the rating does not say (store range, light, water, moving) is
//! derived from the class and the habit and marked as memory, for the grower to correct.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Evidence, Habit, MoveInPass, Plant, Temperature, WaterClass};
use crate::shelter::Light;

/// The publication behind the classes.
const RATING: &str = "Royal Horticultural Society 2013, hardiness rating";

/// Soft growth of hardy plants is hurt at or below this, in °C: value from memory.
const SOFT_GROWTH_C: f64 = -2.0;

/// Hardiness class: the winter minimum that a plant stands, coldest of the usual winters of a place.
///
/// Source: Royal Horticultural Society 2013, hardiness rating.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Hardiness {
    /// Above 15 °C.
    H1a,
    /// 10 to 15 °C.
    H1b,
    /// 5 to 10 °C.
    H1c,
    /// 1 to 5 °C: cool, never frozen.
    H2,
    /// −5 to 1 °C.
    H3,
    /// −10 to −5 °C.
    H4,
    /// −15 to −10 °C.
    H5,
    /// −20 to −15 °C.
    H6,
    /// Below −20 °C.
    H7,
}

impl Hardiness {
    /// All classes, tenderest first.
    pub const ALL: [Self; 9] =
        [Self::H1a, Self::H1b, Self::H1c, Self::H2, Self::H3, Self::H4, Self::H5, Self::H6, Self::H7];

    /// Winter minima of the class in °C: warm end and cold end; an end that the rating leaves open is absent.
    pub fn minimum_c(self) -> (Option<f64>, Option<f64>) {
        match self {
            Self::H1a => (None, Some(15.0)),
            Self::H1b => (Some(15.0), Some(10.0)),
            Self::H1c => (Some(10.0), Some(5.0)),
            Self::H2 => (Some(5.0), Some(1.0)),
            Self::H3 => (Some(1.0), Some(-5.0)),
            Self::H4 => (Some(-5.0), Some(-10.0)),
            Self::H5 => (Some(-10.0), Some(-15.0)),
            Self::H6 => (Some(-15.0), Some(-20.0)),
            Self::H7 => (Some(-20.0), None),
        }
    }

    /// The class that counts for roots in a pot: one class warmer from H3 down (value from memory).
    #[must_use]
    pub fn in_a_pot(self) -> Self {
        match self {
            Self::H1a | Self::H1b | Self::H1c | Self::H2 => self,
            Self::H3 => Self::H2,
            Self::H4 => Self::H3,
            Self::H5 => Self::H4,
            Self::H6 => Self::H5,
            Self::H7 => Self::H6,
        }
    }

    /// Alarm and, where the class has a colder end, likely loss, in °C.
    fn limits_c(self) -> (f64, Option<f64>) {
        match self.minimum_c() {
            (Some(warm), cold) => (warm, cold),
            (None, cold) => (cold.unwrap_or_default(), None),
        }
    }

    fn pass(self) -> MoveInPass {
        match self {
            Self::H1a | Self::H1b | Self::H1c => MoveInPass::Early,
            Self::H2 => MoveInPass::BeforeFrost,
            Self::H3 => MoveInPass::LightFrost,
            Self::H4 | Self::H5 | Self::H6 | Self::H7 => MoveInPass::LastIn,
        }
    }

    /// Range to keep it at in winter, °C.
    fn store_c(self) -> (f64, f64) {
        match self {
            Self::H1a | Self::H1b => (15.0, 20.0),
            Self::H1c => (10.0, 15.0),
            Self::H2 | Self::H3 => (5.0, 10.0),
            Self::H4 => (1.0, 8.0),
            Self::H5 | Self::H6 | Self::H7 => (-2.0, 5.0),
        }
    }
}

/// A key for a plant of the grower's own, made from its name: `own-` and the name's letters and digits.
///
/// ```
/// assert_eq!(hibernacle_engine::plant::own::key_for("Blue Puya (seedling)"), "own-blue-puya-seedling");
/// ```
pub fn key_for(name: &str) -> String {
    let words: Vec<String> = name
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_ascii_lowercase)
        .collect();
    if words.is_empty() { "own-plant".to_owned() } else { format!("own-{}", words.join("-")) }
}

/// A first entry for a plant that the catalogue lacks, from its hardiness class and habit.
///
/// The entry passes [`Plant::check`] for every class and habit when `name` is not empty. The rating says nothing
/// about poison, so the note asks the grower to look it up.
///
/// ```
/// use hibernacle_engine::plant::{Habit, own::{Hardiness, from_hardiness}};
///
/// let plant = from_hardiness("Tree fern", "Dicksonia antarctica", Hardiness::H3, Habit::Evergreen);
/// assert_eq!(plant.shoot_dormant.temp_c, 1.0);
/// assert_eq!(plant.shoot_dormant.likely_loss_c, Some(-5.0));
/// assert_eq!(plant.root_in_pot.temp_c, 5.0);
/// ```
pub fn from_hardiness(name: &str, botanical_name: &str, class: Hardiness, habit: Habit) -> Plant {
    let (alarm_c, loss_c) = class.limits_c();
    let (pot_alarm_c, pot_loss_c) = class.in_a_pot().limits_c();
    let (store_low_c, store_high_c) = class.store_c();
    let soft_c = alarm_c.max(SOFT_GROWTH_C);
    let from_memory = |temp_c: f64, likely_loss_c: Option<f64>| Temperature {
        temp_c,
        likely_loss_c,
        likely_loss_evidence: None,
        evidence: Evidence::Memory,
        source: String::new(),
    };
    Plant {
        key: key_for(name),
        name: name.trim().to_owned(),
        botanical_name: botanical_name.trim().to_owned(),
        habit,
        shoot_dormant: Temperature {
            evidence: Evidence::Published,
            source: format!("{RATING}, class {class:?}"),
            ..from_memory(alarm_c, loss_c)
        },
        shoot_in_leaf: from_memory(soft_c, None),
        root_in_pot: from_memory(pot_alarm_c, pot_loss_c),
        store_low_c,
        store_high_c,
        winter_light: light_for(habit),
        winter_water: water_for(habit),
        move_in_pass: class.pass(),
        move_in_at_c: pot_alarm_c,
        move_out_above_c: soft_c,
        chill_hours: None,
        growth_base_c: None,
        toxicity: String::new(),
        note: "First figures from a hardiness class: correct them when you know better, and look up whether the \
               plant is poisonous."
            .to_owned(),
        support: Vec::new(),
        evidence: Evidence::Memory,
        source: String::new(),
    }
}

fn light_for(habit: Habit) -> Light {
    match habit {
        Habit::Evergreen | Habit::Succulent => Light::Bright,
        Habit::SemiEvergreen | Habit::Herbaceous => Light::Dim,
        Habit::Deciduous | Habit::Tuber => Light::Dark,
    }
}

fn water_for(habit: Habit) -> WaterClass {
    match habit {
        Habit::Evergreen => WaterClass::Moderate,
        Habit::Deciduous | Habit::SemiEvergreen | Habit::Herbaceous => WaterClass::Sparing,
        Habit::Tuber | Habit::Succulent => WaterClass::Dry,
    }
}

#[cfg(test)]
#[path = "own_test.rs"]
mod tests;
