//! Days to emergence and share of normal seedlings by soil temperature.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled, within};
use crate::plant::Evidence;
use crate::table::{self, Row, TableError};

/// What a test at one temperature found.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Emerged {
    /// Soil temperature in °C.
    pub temp_c: f64,
    /// Share of normal seedlings, 0 to 1; absent where not tested.
    #[serde(default)]
    pub normal_share: Option<f64>,
    /// Days to emerge; absent where none came or it was not tested.
    #[serde(default)]
    pub days: Option<f64>,
}

/// A crop that is raised from seed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct SeedCrop {
    /// Key other records use.
    pub key: String,
    /// Its name.
    pub name: String,
    /// Tests in order of temperature.
    pub emergence: Vec<Emerged>,
    /// Weeks from emergence to planting out, hardening off included: least and most; absent for what is sown in place.
    #[serde(default)]
    pub weeks_inside: Option<(f64, f64)>,
    /// Weeks after the last frost at which it goes out; negative before.
    #[serde(default)]
    pub out_weeks: Option<f64>,
    /// How well those two are supported.
    #[serde(default)]
    pub inside_evidence: Option<Evidence>,
    /// How well the emergence is supported.
    pub evidence: Evidence,
    /// Where it comes from.
    pub source: String,
}

/// What to expect of a sowing at a temperature.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Emergence {
    /// Seedlings come.
    Comes {
        /// Days to emerge.
        days: f64,
        /// Share of normal seedlings, 0 to 1; absent where it was not tested.
        normal_share: Option<f64>,
    },
    /// Tested, and hardly anything came.
    DoesNotCome {
        /// The nearest temperature in °C at which it does.
        comes_at_c: f64,
    },
    /// Outside what was tested.
    NotTested {
        /// The nearest temperature in °C with a figure.
        tested_at_c: f64,
    },
}

impl SeedCrop {
    /// What to expect at a soil temperature in °C.
    ///
    /// Between tests, days are interpolated on the rate `1/days`, as development is, and shares along a line. Where one
    /// neighbour has no days the other one's range ends: seedlings are promised only between temperatures at which they
    /// came.
    ///
    /// Reference of the figures: J. F. Harrington, P. A. Minges 1954, in Knott's Handbook for Vegetable Growers (1997).
    pub fn emergence_at(&self, temp_c: f64) -> Emergence {
        let timed: Vec<(&Emerged, f64)> =
            self.emergence.iter().filter_map(|test| Some((test, test.days?))).collect();
        let nearest_c = timed
            .iter()
            .map(|(test, _)| test.temp_c)
            .min_by(|a, b| (a - temp_c).abs().total_cmp(&(b - temp_c).abs()))
            .unwrap_or(f64::NAN);
        let above = timed.partition_point(|(test, _)| test.temp_c < temp_c);
        if let Some((test, days)) = timed.get(above)
            && test.temp_c == temp_c
        {
            return Emergence::Comes { days: *days, normal_share: test.normal_share };
        }
        if let (Some((low, low_days)), Some((high, high_days))) =
            (above.checked_sub(1).and_then(|index| timed.get(index)), timed.get(above))
        {
            let share = (temp_c - low.temp_c) / (high.temp_c - low.temp_c);
            let along = |low: f64, high: f64| low + (high - low) * share;
            return Emergence::Comes {
                days: 1.0 / along(1.0 / low_days, 1.0 / high_days),
                normal_share: low.normal_share.zip(high.normal_share).map(|(low, high)| along(low, high)),
            };
        }
        // The tests on either side, or the one at this very temperature.
        let after = self.emergence.partition_point(|test| test.temp_c < temp_c);
        let beside = [after.checked_sub(1), Some(after)];
        let was_tested = beside
            .into_iter()
            .filter_map(|index| self.emergence.get(index?))
            .any(|test| test.days.is_none() && test.normal_share.is_some_and(|share| share < 0.5));
        if was_tested {
            Emergence::DoesNotCome { comes_at_c: nearest_c }
        } else {
            Emergence::NotTested { tested_at_c: nearest_c }
        }
    }
}

impl Row for SeedCrop {
    const TABLE: &'static str = "crop";

    fn key(&self) -> &str {
        &self.key
    }

    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }

    fn check_figures(&self) -> Result<(), FieldError> {
        filled("name", &self.name, "give the crop a name")?;
        if !self.emergence.iter().any(|test| test.days.is_some()) {
            return Err(FieldError::new(
                "emergence",
                "has no days",
                "list at least one temperature with days",
            ));
        }
        for (index, test) in self.emergence.iter().enumerate() {
            within(&format!("emergence[{index}].temp_c"), test.temp_c, -5.0, 50.0, "enter °C")?;
            if let Some(share) = test.normal_share {
                within(&format!("emergence[{index}].normal_share"), share, 0.0, 1.0, "enter 0 to 1")?;
            }
            if let Some(days) = test.days {
                within(&format!("emergence[{index}].days"), days, 0.5, 400.0, "enter days")?;
            }
            if index > 0 && self.emergence[index - 1].temp_c >= test.temp_c {
                let field = format!("emergence[{index}].temp_c");
                return Err(FieldError::new(field, "is out of order", "list temperatures from cold to warm"));
            }
        }
        if let Some((least, most)) = self.weeks_inside {
            within("weeks_inside[0]", least, 0.0, 60.0, "enter weeks")?;
            within("weeks_inside[1]", most, least, 60.0, "enter weeks, at least the first")?;
        }
        within(
            "out_weeks",
            self.out_weeks.unwrap_or_default(),
            -20.0,
            20.0,
            "enter weeks after the last frost",
        )
    }
}

/// Seed crops by key.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SeedCrops {
    rows: BTreeMap<String, SeedCrop>,
}

impl SeedCrops {
    /// The rows that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in table.
    pub fn built_in() -> Result<Self, TableError> {
        let text = include_str!("../../../catalogue/germination.toml");
        Ok(Self { rows: table::read("catalogue/germination.toml", text)? })
    }

    /// Adds a grower's own rows from a text of the same form; a row with a known key takes its place.
    ///
    /// # Errors
    /// [`TableError`] with file, line and field.
    pub fn extend(&mut self, file: &str, text: &str) -> Result<(), TableError> {
        self.rows.extend(table::read(file, text)?);
        Ok(())
    }

    /// The row of a key.
    pub fn get(&self, key: &str) -> Option<&SeedCrop> {
        self.rows.get(key)
    }

    /// All rows in the order of their keys.
    pub fn iter(&self) -> impl Iterator<Item = &SeedCrop> {
        self.rows.values()
    }
}
