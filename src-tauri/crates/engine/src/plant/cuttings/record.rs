//! A batch of cuttings and its counts on the way.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::CuttingKind;
use crate::field::{FieldError, filled, within};

/// A step on the way of a batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum BatchStep {
    /// Callus at the base.
    Callused,
    /// Roots, or shoots for tubers.
    Rooted,
    /// In a pot of its own.
    PottedUp,
    /// Given away, sold or planted.
    Gone,
}

/// How many were counted at a step on a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct BatchCount {
    /// The day.
    pub on: NaiveDate,
    /// The step.
    pub step: BatchStep,
    /// Cuttings that have come so far as this step, those of earlier days included.
    pub count: u32,
    /// Where they went, for those gone; may be empty.
    #[serde(default)]
    pub to: String,
}

/// Cuttings taken together from one planting.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CuttingsBatch {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The site.
    pub site_id: String,
    /// Key of the plant in the catalogue.
    pub plant_key: String,
    /// The planting they come from; absent for wood from elsewhere.
    pub planting_id: Option<String>,
    /// The grower's label, as it stands on the tray.
    pub label: String,
    /// Kind of cutting.
    pub kind: CuttingKind,
    /// The day they were taken.
    pub taken_on: NaiveDate,
    /// How many.
    pub taken: u32,
    /// Zone in which they stand; absent while undecided.
    pub zone_id: Option<String>,
    /// Temperature kept at the base with bottom heat, °C; absent without.
    pub bottom_heat_c: Option<f64>,
    /// Counts on the way, in any order.
    #[serde(default)]
    pub counts: Vec<BatchCount>,
}

impl CuttingsBatch {
    /// Checks every field, and that the counts agree with each other.
    ///
    /// * `today` — later days are refused
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self, today: NaiveDate) -> Result<(), FieldError> {
        filled("site_id", &self.site_id, "save the site first")?;
        filled("plant_key", &self.plant_key, "choose the plant")?;
        filled("label", &self.label, "give the batch a label")?;
        within("taken", f64::from(self.taken), 1.0, 100_000.0, "enter how many were taken")?;
        if let Some(heat) = self.bottom_heat_c {
            within("bottom_heat_c", heat, 5.0, 35.0, "enter the temperature at the base")?;
        }
        if self.taken_on > today {
            let problem = format!("is {}, in the future", self.taken_on);
            return Err(FieldError::new("taken_on", problem, "enter the day they were taken"));
        }
        for (index, count) in self.counts.iter().enumerate() {
            let field = |name: &str| format!("counts[{index}].{name}");
            if count.on > today || count.on < self.taken_on {
                let problem = format!("is {}, outside {} to {today}", count.on, self.taken_on);
                return Err(FieldError::new(field("on"), problem, "enter the day of the count"));
            }
            if count.count > self.taken {
                let problem = format!("is {}, more than the {} taken", count.count, self.taken);
                return Err(FieldError::new(field("count"), problem, "count again"));
            }
            // No later step can have more than an earlier one counted on the same day or after.
            let fewer = self
                .counts
                .iter()
                .find(|other| other.step < count.step && other.on >= count.on && other.count < count.count);
            if let Some(other) = fewer {
                let problem = format!(
                    "is {}, more than the {} of an earlier step on {}",
                    count.count, other.count, other.on
                );
                return Err(FieldError::new(field("count"), problem, "correct one of the two counts"));
            }
        }
        Ok(())
    }

    /// Latest count of a step.
    pub fn latest(&self, step: BatchStep) -> Option<&BatchCount> {
        self.counts.iter().filter(|count| count.step == step).max_by_key(|count| count.on)
    }

    /// Cuttings rooted of those taken, once the batch is finished: counted as rooted, and potted up or gone since, so that no
    /// more will come.
    pub fn outcome(&self) -> Option<(u32, u32)> {
        let finished =
            [BatchStep::PottedUp, BatchStep::Gone].into_iter().find_map(|step| self.latest(step))?;
        let rooted =
            self.latest(BatchStep::Rooted).map_or(finished.count, |count| count.count.max(finished.count));
        Some((rooted, self.taken))
    }
}
