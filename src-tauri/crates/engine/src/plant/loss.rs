//! Losses and damage as a grower records them.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled, within};

/// What a grower holds to be the cause.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LossCause {
    /// Cold on shoots, buds or leaves.
    ColdShoots,
    /// Cold on roots in the pot.
    ColdRoots,
    /// Dried out.
    DriedOut,
    /// Stood in the heater's stream.
    HeaterBlast,
    /// Rot or mould.
    Rot,
    /// Mice, voles or other rodents.
    Rodents,
    /// Woke too early and froze.
    WokeEarly,
    /// Too little light, or burnt by sun at moving out.
    Light,
    /// Not known.
    Unknown,
}

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LossExtent {
    /// Damaged, and lives.
    Damaged,
    /// Died back to the base, and may come again.
    DiedBack,
    /// Dead.
    Dead,
}

/// Plants of a planting that died or were damaged.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Loss {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The planting.
    pub planting_id: String,
    /// The day it was found.
    pub found_on: NaiveDate,
    /// How many plants.
    pub count: u32,
    /// How bad.
    pub extent: LossExtent,
    /// The cause, as far as the grower can tell.
    pub cause: LossCause,
    /// A note; may be empty.
    #[serde(default)]
    pub note: String,
}

impl Loss {
    /// Checks every field.
    ///
    /// * `today` — later days are refused
    /// * `planted` — plants of the planting, living and lost
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self, today: NaiveDate, planted: u32) -> Result<(), FieldError> {
        filled("planting_id", &self.planting_id, "choose the planting")?;
        if self.found_on > today {
            let problem = format!("is {}, in the future", self.found_on);
            return Err(FieldError::new("found_on", problem, "enter the day it was found"));
        }
        within(
            "count",
            f64::from(self.count),
            1.0,
            f64::from(planted),
            "enter how many plants of the planting",
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_loss_of_more_plants_than_there_are_or_of_tomorrow_is_refused() {
        let today = NaiveDate::from_ymd_opt(2027, 2, 1).unwrap();
        let loss = Loss {
            id: String::new(),
            planting_id: "p".to_owned(),
            found_on: today,
            count: 2,
            extent: LossExtent::Dead,
            cause: LossCause::HeaterBlast,
            note: String::new(),
        };
        loss.check(today, 2).unwrap();
        assert_eq!(loss.check(today, 1).unwrap_err().field, "count");
        let tomorrow = Loss { found_on: today.succ_opt().unwrap(), ..loss };
        assert_eq!(tomorrow.check(today, 2).unwrap_err().field, "found_on");
    }
}
