//! When cuttings are taken and how long they need, by species and kind.

use std::collections::BTreeMap;

use chrono::{Datelike, Days, Duration, NaiveDate};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled, within};
use crate::plant::Evidence;
use crate::site::Hemisphere;
use crate::table::{self, Row, TableError};

/// Kind of propagation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum CuttingKind {
    /// Leafless ripe wood in winter.
    Hardwood,
    /// Half-ripe shoots of late summer.
    SemiRipe,
    /// Soft tips.
    Softwood,
    /// Pieces of a tuber, each with an eye.
    TuberDivision,
}

/// When a kind of cutting is taken.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Take {
    /// Days after the leaves are off.
    AfterLeafFall {
        /// First day.
        from_days: u32,
        /// Last day.
        to_days: u32,
    },
    /// Days before the first autumn frost.
    BeforeFirstFrost {
        /// First day, the larger number.
        from_days: u32,
        /// Last day.
        to_days: u32,
    },
    /// Months of the northern half of the globe, 1 to 12; half a year later on the southern.
    Months {
        /// First month.
        from: u32,
        /// Last month, at or after the first.
        to: u32,
    },
}

/// Dates of one winter that taking cuttings hangs on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TakeDates {
    /// Calendar year in which the season's autumn begins.
    pub autumn_year: i32,
    /// Half of the globe.
    pub hemisphere: Hemisphere,
    /// Leaf fall, seen or expected.
    pub leaf_fall: Option<NaiveDate>,
    /// First autumn frost, expected.
    pub first_frost: Option<NaiveDate>,
}

impl Take {
    /// First and last day to take cuttings in a season.
    ///
    /// # Errors
    /// When the date it hangs on is not known.
    pub fn window(self, dates: &TakeDates) -> Result<(NaiveDate, NaiveDate), FieldError> {
        let known = |date: Option<NaiveDate>, field: &str, what: &str| {
            date.ok_or_else(|| FieldError::new(field, "is not known", format!("enter the day of {what}")))
        };
        match self {
            Self::AfterLeafFall { from_days, to_days } => {
                let fall = known(dates.leaf_fall, "leaf_fall", "leaf fall")?;
                Ok((fall + Days::new(from_days.into()), fall + Days::new(to_days.into())))
            }
            Self::BeforeFirstFrost { from_days, to_days } => {
                let frost = known(dates.first_frost, "first_frost", "the first frost")?;
                Ok((frost - Days::new(from_days.into()), frost - Days::new(to_days.into())))
            }
            Self::Months { from, to } => {
                let shift = if dates.hemisphere == Hemisphere::Southern { 6 } else { 0 };
                // The season runs from July of its year to June of the next (January to December in the south).
                let first = |month: u32| {
                    let shifted = (month - 1 + shift) % 12 + 1;
                    let next = shift == 0 && shifted < 7;
                    NaiveDate::from_ymd_opt(dates.autumn_year + i32::from(next), shifted, 1)
                };
                let outside =
                    || FieldError::new("autumn_year", "is out of range", "enter the year of the autumn");
                let begins = first(from).ok_or_else(outside)?;
                let last = first(to).ok_or_else(outside)?;
                let ends = last.with_day(28).ok_or_else(outside)? + Duration::days(4);
                Ok((begins, ends - Duration::days(ends.day().into())))
            }
        }
    }

    fn check(self) -> Result<(), FieldError> {
        let order = |from: u32, to: u32| {
            if from > to {
                return Err(FieldError::new("take", "ends before it begins", "swap the two figures"));
            }
            Ok(())
        };
        match self {
            Self::AfterLeafFall { from_days, to_days } => order(from_days, to_days),
            Self::BeforeFirstFrost { from_days, to_days } => order(to_days, from_days),
            Self::Months { from, to } => {
                within("take.months.from", f64::from(from), 1.0, 12.0, "enter a month from 1 to 12")?;
                within("take.months.to", f64::from(to), 1.0, 12.0, "enter a month from 1 to 12")?;
                order(from, to)
            }
        }
    }
}

/// How a kind of cutting of a plant does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Rooting {
    /// Key of the row.
    pub key: String,
    /// Key of the plant in the catalogue.
    pub plant_key: String,
    /// Kind of cutting.
    pub kind: CuttingKind,
    /// When it is taken.
    pub take: Take,
    /// Temperature in °C at the base for which the days hold.
    pub at_c: f64,
    /// Temperature in °C at which nothing happens.
    pub base_c: f64,
    /// Days to callus, quick and slow; absent where not known.
    #[serde(default)]
    pub callus_days: Option<(f64, f64)>,
    /// Days to roots, or to shoots for tubers: quick and slow.
    pub root_days: (f64, f64),
    /// Share that succeeds: poor and good.
    pub success: (f64, f64),
    /// What a grower should know; may be empty.
    #[serde(default)]
    pub note: String,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from; empty for values from memory.
    pub source: String,
}

/// Days after rooting until a cutting is potted up: quick and slow, values from memory.
const POT_UP_DAYS: (f64, f64) = (7.0, 21.0);

/// Dates of a batch: each the earliest and the latest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct BatchDates {
    /// Callus; absent where not known.
    pub callus: Option<(NaiveDate, NaiveDate)>,
    /// Roots, or shoots for tubers.
    pub rooted: (NaiveDate, NaiveDate),
    /// Potting up.
    pub pot_up: (NaiveDate, NaiveDate),
}

impl Rooting {
    /// Factor on the days at a temperature of the base in °C; `None` at or below the one at which nothing happens.
    ///
    /// `(at − base)/(T − base)`, as for any development that goes with the temperature above a base; no quicker than at
    /// 3 K above the temperature of the figures, because beyond that cuttings rot rather than hurry (value from memory).
    pub fn days_factor(&self, base_temp_c: f64) -> Option<f64> {
        let above_k = (base_temp_c - self.base_c).min(self.at_c + 3.0 - self.base_c);
        (above_k > 0.5).then(|| (self.at_c - self.base_c) / above_k)
    }

    /// Dates of a batch taken on a day and kept at a temperature of the base in °C.
    ///
    /// # Errors
    /// When nothing would happen at that temperature.
    pub fn dates(&self, taken_on: NaiveDate, base_temp_c: f64) -> Result<BatchDates, FieldError> {
        let factor = self.days_factor(base_temp_c).ok_or_else(|| {
            let problem = format!("is {base_temp_c} °C, at which nothing happens");
            let mend = format!("give bottom heat up to {} °C, or wait for warmth", self.at_c);
            FieldError::new("base_temp_c", problem, mend)
        })?;
        let after = |days: f64| taken_on + Duration::days(days.round() as i64);
        let span = |(quick, slow): (f64, f64)| (after(quick * factor), after(slow * factor));
        let (quick, slow) = self.root_days;
        Ok(BatchDates {
            callus: self.callus_days.map(span),
            rooted: span(self.root_days),
            pot_up: (after(quick * factor + POT_UP_DAYS.0), after(slow * factor + POT_UP_DAYS.1)),
        })
    }
}

impl Row for Rooting {
    const TABLE: &'static str = "cutting";

    fn key(&self) -> &str {
        &self.key
    }

    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }

    fn check_figures(&self) -> Result<(), FieldError> {
        filled("plant_key", &self.plant_key, "name the plant of the catalogue")?;
        self.take.check()?;
        within("at_c", self.at_c, 0.0, 40.0, "enter the temperature of the figures")?;
        within("base_c", self.base_c, -5.0, self.at_c - 1.0, "enter a temperature below at_c")?;
        for (field, span) in [("callus_days", self.callus_days), ("root_days", Some(self.root_days))] {
            if let Some((quick, slow)) = span {
                within(&format!("{field}[0]"), quick, 1.0, 700.0, "enter days")?;
                within(&format!("{field}[1]"), slow, quick, 700.0, "enter days, at least the first")?;
            }
        }
        within("success[0]", self.success.0, 0.0, 1.0, "enter a share from 0 to 1")?;
        within("success[1]", self.success.1, self.success.0, 1.0, "enter at least the first")
    }
}

/// Rows by key.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rootings {
    rows: BTreeMap<String, Rooting>,
}

impl Rootings {
    /// The rows that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in table.
    pub fn built_in() -> Result<Self, TableError> {
        let text = include_str!("../../../catalogue/cuttings.toml");
        Ok(Self { rows: table::read("catalogue/cuttings.toml", text)? })
    }

    /// Adds a grower's own rows from a text of the same form; a row with a known key takes its place.
    ///
    /// # Errors
    /// [`TableError`] with file, line and field.
    pub fn extend(&mut self, file: &str, text: &str) -> Result<(), TableError> {
        self.rows.extend(table::read(file, text)?);
        Ok(())
    }

    /// The row of a plant and kind.
    pub fn of(&self, plant_key: &str, kind: CuttingKind) -> Option<&Rooting> {
        self.rows.values().find(|row| row.plant_key == plant_key && row.kind == kind)
    }

    /// All rows in the order of their keys.
    pub fn iter(&self) -> impl Iterator<Item = &Rooting> {
        self.rows.values()
    }
}
