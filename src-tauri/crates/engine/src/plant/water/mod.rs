//! Water of pots in winter: what they lose, when to look again, how much to give.
//!
//! | part | method |
//! |---|---|
//! | store | pot volume × filled share × available water of the medium |
//! | pot surface | wet-surface evaporation by vapour-pressure deficit and air movement, drying by FAO-56 eq. 74 |
//! | sun | radiation term of the Penman–Monteith equation |
//! | leaves | Penman–Monteith with the resistance of the leaves, rising as it gets cold; none leafless |
//! | frozen root ball | gives no water: what leaves ask for is counted as refused |
//! | heater's stream | warmer air with the same vapour, fast, for the hours the heater runs |
//! | cover | part of the evaporated water drips back in saturated air |
//! | own factor | learnt from the log, see [`drying_factor`] |
//!
//! The computation says when to look, not to water blindly: every advice asks for the weight or the finger first. With
//! nothing logged it may be off by a factor of two, and says so.

mod advice;
mod balance;
mod day;
mod evaporation;
mod learn;
mod pot;
mod record;
mod round;

pub use advice::{
    AdviceError, AdviceInput, HARD_FREEZE_C, Hold, WaterAdvice, WaterProblem, WaterWarning, advise,
    before_close_up_l,
};
pub use day::{AirDay, UsualAir, air_days};
pub use evaporation::{
    Surface, deficit_kpa, drying_share, psychrometric_kpa_per_k, saturation_kpa, slope_kpa_per_k,
    wet_surface_mm_per_day,
};
pub use learn::{DryingFactor, drying_factor};
pub use pot::{
    FILLED_SHARE, IMPERIAL_GALLON_L, NurserySize, PotMedium, PotSize, PotTables, RoundPot, US_GALLON_L,
    pot_mass_kg,
};
pub use record::{Felt, Watering};
pub use round::{Due, Round, rounds};

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::dormancy::Phase;
use super::{Container, Habit, Plant, Planting, WaterClass};
use crate::field::FieldError;

/// What of a plant gives off water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Leaves {
    /// No leaves.
    None,
    /// Leaves.
    Leafy,
    /// Succulent leaves or stems.
    Succulent,
}

impl Leaves {
    /// What a plant carries in a phase.
    pub fn of(habit: Habit, phase: Phase) -> Self {
        match habit {
            Habit::Evergreen | Habit::SemiEvergreen => Self::Leafy,
            Habit::Succulent => Self::Succulent,
            Habit::Deciduous | Habit::Tuber | Habit::Herbaceous => match phase {
                Phase::Growing | Phase::InLeaf => Self::Leafy,
                Phase::Hardening | Phase::DeepRest | Phase::LightRest | Phase::Swelling => Self::None,
            },
        }
    }
}

/// A planting in pots, as its water sees it; all for one of its plants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PottedPlant<'a> {
    /// How much water the plant wants.
    pub wants: WaterClass,
    /// What gives off water.
    pub leaves: Leaves,
    /// Volume of the pot in litres.
    pub volume_l: f64,
    /// What fills it.
    pub medium: &'a PotMedium,
    /// Whether the wall breathes.
    pub is_clay: bool,
    /// Area of the crown from above in m²; absent: a usual one for the pot.
    pub crown_m2: Option<f64>,
    /// Whether fleece or film lies over the plants.
    pub is_covered: bool,
    /// Whether it stands in the heater's stream.
    pub in_heater_blast: bool,
}

impl<'a> PottedPlant<'a> {
    /// A planting in plastic pots, uncovered, out of the heater's stream.
    ///
    /// # Errors
    /// When the planting is not in pots, or the pot has no size.
    pub fn of(
        plant: &Plant,
        planting: &Planting,
        phase: Phase,
        medium: &'a PotMedium,
    ) -> Result<Self, FieldError> {
        let Container::Pot { volume_l } = planting.container else {
            return Err(FieldError::new(
                "container",
                "is not a pot",
                "water of beds and of stored tubers is not computed: look at them once a month",
            ));
        };
        crate::field::within("container.volume_l", volume_l, 0.01, 2000.0, "enter the pot's volume")?;
        Ok(Self {
            wants: plant.winter_water,
            leaves: Leaves::of(plant.habit, phase),
            volume_l,
            medium,
            is_clay: false,
            crown_m2: planting.footprint_m2.map(|area| area / f64::from(planting.count.max(1))),
            is_covered: false,
            in_heater_blast: false,
        })
    }
}

#[cfg(test)]
#[path = "water_test.rs"]
mod tests;
