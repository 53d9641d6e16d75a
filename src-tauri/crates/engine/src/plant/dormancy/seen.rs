//! What a grower saw of a planting's rest and waking.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled};

/// A sign of rest or waking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Sign {
    /// The leaves are off.
    LeafFall,
    /// Buds are tight: nothing moves.
    AtRest,
    /// Buds swell, or new shoots begin.
    Swelling,
    /// Leaves are out.
    InLeaf,
}

impl Sign {
    /// Place in the order of a winter; rest has no order within itself.
    fn rank(self) -> u8 {
        match self {
            Self::LeafFall | Self::AtRest => 0,
            Self::Swelling => 1,
            Self::InLeaf => 2,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::LeafFall => "leaf fall",
            Self::AtRest => "buds at rest",
            Self::Swelling => "buds swelling",
            Self::InLeaf => "leaves out",
        }
    }
}

/// A sign seen on a planting in one winter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct SignSeen {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The planting.
    pub planting_id: String,
    /// When it was seen.
    pub on: NaiveDate,
    /// What was seen.
    pub sign: Sign,
}

impl SignSeen {
    /// Checks the record.
    ///
    /// * `today` — signs of later days are refused
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self, today: NaiveDate) -> Result<(), FieldError> {
        filled("planting_id", &self.planting_id, "choose the planting")?;
        if self.on > today {
            return Err(FieldError::new(
                "on",
                format!("is {}, in the future", self.on),
                "enter the day it was seen",
            ));
        }
        Ok(())
    }
}

/// Refuses signs of one planting and winter that contradict each other: rest after waking, swelling after leaves.
///
/// # Errors
/// A [`FieldError`] that names both signs with their dates.
pub fn check_signs(signs: &[SignSeen]) -> Result<(), FieldError> {
    let mut ordered: Vec<(usize, &SignSeen)> = signs.iter().enumerate().collect();
    ordered.sort_by_key(|(_, seen)| (seen.on, seen.sign.rank()));
    for pair in ordered.windows(2) {
        let [(_, earlier), (index, later)] = [pair[0], pair[1]];
        if later.sign.rank() < earlier.sign.rank() {
            return Err(FieldError::new(
                format!("signs[{index}].sign"),
                format!(
                    "says “{}” on {}, after “{}” on {}",
                    later.sign.words(),
                    later.on,
                    earlier.sign.words(),
                    earlier.on
                ),
                "correct or remove one of the two: a plant that woke does not go back to rest in one winter",
            ));
        }
    }
    Ok(())
}
