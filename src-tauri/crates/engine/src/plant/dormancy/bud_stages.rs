//! How much frost buds and blossoms stand, stage by stage.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled, within};
use crate::plant::Evidence;
use crate::table::{self, Row, TableError};

/// A stage of buds with the temperatures that kill a share of them in half an hour.
///
/// The figures are kept in °F, as published, so that no rounding enters the table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct BudStage {
    /// Name of the stage.
    pub stage: String,
    /// Temperature in °F that kills one bud in ten.
    pub tenth_killed_f: f64,
    /// Temperature in °F that kills nine buds in ten; absent where it is not published.
    #[serde(default)]
    pub nine_tenths_killed_f: Option<f64>,
}

fn celsius(temp_f: f64) -> f64 {
    (temp_f - 32.0) / 1.8
}

impl BudStage {
    /// Temperature in °C that kills one bud in ten.
    pub fn tenth_killed_c(&self) -> f64 {
        celsius(self.tenth_killed_f)
    }

    /// Temperature in °C that kills nine buds in ten, where published.
    pub fn nine_tenths_killed_c(&self) -> Option<f64> {
        self.nine_tenths_killed_f.map(celsius)
    }

    /// Share of buds killed by half an hour at a temperature in °C, 0 to 1.
    ///
    /// A logistic curve through the two published points; `None` below the first where only that is published.
    pub fn share_killed(&self, temp_c: f64) -> Option<f64> {
        let tenth_c = self.tenth_killed_c();
        let Some(nine_tenths_c) = self.nine_tenths_killed_c() else {
            return (temp_c > tenth_c).then_some(0.0);
        };
        let scale = 2.0 * 9.0_f64.ln() / (tenth_c - nine_tenths_c);
        let half_c = f64::midpoint(tenth_c, nine_tenths_c);
        Some(1.0 / (1.0 + (scale * (temp_c - half_c)).exp()))
    }
}

/// The stages of a crop, in order of development.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct StagedCrop {
    /// Key of the crop.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Its stages.
    pub stages: Vec<BudStage>,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from.
    pub source: String,
}

impl StagedCrop {
    /// A stage by its name.
    pub fn stage(&self, name: &str) -> Option<&BudStage> {
        self.stages.iter().find(|stage| stage.stage == name)
    }
}

impl Row for StagedCrop {
    const TABLE: &'static str = "crop";

    fn key(&self) -> &str {
        &self.key
    }

    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }

    fn check_figures(&self) -> Result<(), FieldError> {
        filled("name", &self.name, "give the crop a name")?;
        if self.stages.is_empty() {
            return Err(FieldError::new("stages", "is empty", "list the stages in order"));
        }
        for (index, stage) in self.stages.iter().enumerate() {
            let tenth_f = stage.tenth_killed_f;
            within(
                &format!("stages[{index}].tenth_killed_f"),
                tenth_f,
                -20.0,
                32.0,
                "enter °F, as published",
            )?;
            if let Some(nine_tenths_f) = stage.nine_tenths_killed_f {
                let field = format!("stages[{index}].nine_tenths_killed_f");
                within(&field, nine_tenths_f, -40.0, tenth_f - 0.1, "enter °F, colder than tenth_killed_f")?;
            }
        }
        Ok(())
    }
}

/// Staged crops by key.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BudStages {
    rows: BTreeMap<String, StagedCrop>,
}

impl BudStages {
    /// The rows that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in table.
    pub fn built_in() -> Result<Self, TableError> {
        let text = include_str!("../../../catalogue/bud_stages.toml");
        Ok(Self { rows: table::read("catalogue/bud_stages.toml", text)? })
    }

    /// Adds a grower's own rows from a text of the same form; a row with a known key takes its place.
    ///
    /// # Errors
    /// [`TableError`] with file, line and field.
    pub fn extend(&mut self, file: &str, text: &str) -> Result<(), TableError> {
        self.rows.extend(table::read(file, text)?);
        Ok(())
    }

    /// The stages of a crop.
    pub fn get(&self, key: &str) -> Option<&StagedCrop> {
        self.rows.get(key)
    }

    /// All crops in the order of their keys.
    pub fn iter(&self) -> impl Iterator<Item = &StagedCrop> {
        self.rows.values()
    }
}
