//! What a grower records about watering.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled, within};

/// How the root ball felt before watering, at finger depth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Felt {
    /// Wet: nothing needed.
    Wet,
    /// Moist.
    Moist,
    /// Barely moist.
    BarelyMoist,
    /// Dry.
    Dry,
}

/// A look at a planting's water, with or without watering.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Watering {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The planting.
    pub planting_id: String,
    /// The day.
    pub on: NaiveDate,
    /// Litres given to each plant; 0 when it was only checked.
    pub amount_l: f64,
    /// Whether water ran out at the bottom, so that the pot was full afterwards.
    pub ran_through: bool,
    /// How the root ball felt before.
    pub felt: Option<Felt>,
    /// Weight of one pot before in kg.
    pub before_kg: Option<f64>,
    /// Weight of the same pot after in kg.
    pub after_kg: Option<f64>,
    /// A note; may be empty.
    #[serde(default)]
    pub note: String,
}

impl Watering {
    /// Checks every field.
    ///
    /// * `today` — later days are refused
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self, today: NaiveDate) -> Result<(), FieldError> {
        filled("planting_id", &self.planting_id, "choose the planting")?;
        if self.on > today {
            let mend = "enter the day on which it was watered; a plan belongs into the calendar";
            return Err(FieldError::new("on", format!("is {}, in the future", self.on), mend));
        }
        within("amount_l", self.amount_l, 0.0, 500.0, "enter litres per plant, 0 for a look only")?;
        if self.ran_through && self.amount_l == 0.0 {
            return Err(FieldError::new(
                "ran_through",
                "is set without an amount",
                "enter how much was given",
            ));
        }
        for (field, weight) in [("before_kg", self.before_kg), ("after_kg", self.after_kg)] {
            if let Some(weight) = weight {
                within(field, weight, 0.01, 3000.0, "enter the weight of one pot in kilograms")?;
            }
        }
        if let (Some(before), Some(after)) = (self.before_kg, self.after_kg)
            && after > before + self.amount_l + 0.05 * before.max(1.0)
        {
            let problem = format!("is {after} kg, more than {before} kg and the {} L given", self.amount_l);
            return Err(FieldError::new("after_kg", problem, "weigh again or correct the amount"));
        }
        Ok(())
    }
}
