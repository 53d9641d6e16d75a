//! Gain and loss of hardiness for plants without figures of their own: a declared, simple form with its doubt.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, within};
use crate::plant::{Evidence, Habit, Plant};
use crate::table::{self, Row, TableError};

/// How a kind of plant gains and loses hardiness; `catalogue/acclimation.toml` says what each figure rests on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Acclimation {
    /// Key of the row.
    pub key: String,
    /// Plants by key that the row is for.
    #[serde(default)]
    pub plants: Vec<String>,
    /// Habits that the row is for.
    #[serde(default)]
    pub habits: Vec<Habit>,
    /// Daily mean in °C below which hardiness is gained.
    pub hardens_below_c: f64,
    /// Share of what is still missing, gained per kelvin-day.
    pub gain_per_k_day: f64,
    /// Daily mean in °C above which a rested plant softens; absent: its base temperature of growth.
    #[serde(default)]
    pub softens_above_c: Option<f64>,
    /// Share of the whole, lost per kelvin-day, once the chill need is met.
    pub loss_per_k_day: f64,
    /// The same before that, times the hardiness present.
    pub rest_loss_per_k_day: f64,
    /// Share of a lost part that can be gained again.
    pub regains: f64,
    /// Kelvin-days below 10 °C before which warmth neither softens nor wakes: early and late end.
    #[serde(default)]
    pub deep_rest_k_days: Option<(f64, f64)>,
    /// Base of the growing degree hours in °C; absent: the plant's base temperature of growth.
    #[serde(default)]
    pub heat_base_c: Option<f64>,
    /// Growing degree hours from rest to bud break or new shoots: low and high end.
    pub heat_gdh: (f64, f64),
    /// Share of that heat at which buds swell.
    pub swell_share: f64,
    /// Factor by which the rates may be off either way.
    pub doubt: f64,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from; empty for values from memory.
    pub source: String,
}

/// Base temperature of growth where the catalogue has none, °C: value from memory.
const USUAL_GROWTH_BASE_C: f64 = 8.0;

impl Acclimation {
    /// Daily mean in °C above which the plant softens.
    pub fn softens_above_c(&self, plant: &Plant) -> f64 {
        self.softens_above_c.or(plant.growth_base_c).unwrap_or(USUAL_GROWTH_BASE_C)
    }

    /// Base in °C of the growing degree hours that count for the plant.
    pub fn heat_base_c(&self, plant: &Plant) -> f64 {
        self.heat_base_c.or(plant.growth_base_c).unwrap_or(USUAL_GROWTH_BASE_C)
    }
}

impl Row for Acclimation {
    const TABLE: &'static str = "form";

    fn key(&self) -> &str {
        &self.key
    }

    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }

    fn check_figures(&self) -> Result<(), FieldError> {
        if self.plants.is_empty() && self.habits.is_empty() {
            return Err(FieldError::new("plants", "is empty, as is habits", "name what the row is for"));
        }
        within("hardens_below_c", self.hardens_below_c, 0.0, 25.0, "enter a daily mean")?;
        for (field, value) in [
            ("gain_per_k_day", self.gain_per_k_day),
            ("loss_per_k_day", self.loss_per_k_day),
            ("rest_loss_per_k_day", self.rest_loss_per_k_day),
        ] {
            within(field, value, 0.0, 0.5, "enter a share per kelvin-day")?;
        }
        for (field, value) in [("softens_above_c", self.softens_above_c), ("heat_base_c", self.heat_base_c)] {
            if let Some(value) = value {
                within(field, value, -5.0, 20.0, "enter a temperature in °C")?;
            }
        }
        within("regains", self.regains, 0.0, 1.0, "enter a share from 0 to 1")?;
        if let Some((low, high)) = self.deep_rest_k_days {
            within("deep_rest_k_days[0]", low, 0.0, 3000.0, "enter kelvin-days below 10 °C")?;
            within("deep_rest_k_days[1]", high, low, 3000.0, "enter at least the low end")?;
        }
        within("heat_gdh[0]", self.heat_gdh.0, 100.0, 50_000.0, "enter growing degree hours")?;
        within("heat_gdh[1]", self.heat_gdh.1, self.heat_gdh.0, 50_000.0, "enter at least the low end")?;
        within("swell_share", self.swell_share, 0.1, 1.0, "enter a share from 0.1 to 1")?;
        within("doubt", self.doubt, 1.0, 5.0, "enter a factor, 1 for none")
    }
}

/// The forms by key.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Acclimations {
    rows: BTreeMap<String, Acclimation>,
}

impl Acclimations {
    /// The rows that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in table.
    pub fn built_in() -> Result<Self, TableError> {
        let text = include_str!("../../../catalogue/acclimation.toml");
        Ok(Self { rows: table::read("catalogue/acclimation.toml", text)? })
    }

    /// Adds a grower's own rows from a text of the same form; a row with a known key takes its place.
    ///
    /// # Errors
    /// [`TableError`] with file, line and field.
    pub fn extend(&mut self, file: &str, text: &str) -> Result<(), TableError> {
        self.rows.extend(table::read(file, text)?);
        Ok(())
    }

    /// The form of a plant: a row that names it, else one of its habit.
    pub fn of(&self, plant: &Plant) -> Option<&Acclimation> {
        let named = self.rows.values().find(|row| row.plants.contains(&plant.key));
        named.or_else(|| self.rows.values().find(|row| row.habits.contains(&plant.habit)))
    }
}

/// Hardiness of a plant between soft growth (0) and fully hardened (1), advanced day by day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Hardiness {
    share: f64,
    ceiling: f64,
}

/// Rates of one run of the form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rates {
    pub(super) hardens_below_c: f64,
    pub(super) softens_above_c: f64,
    pub(super) gain_per_k_day: f64,
    pub(super) loss_per_k_day: f64,
    pub(super) rest_loss_per_k_day: f64,
    pub(super) regains: f64,
}

impl Rates {
    /// The rates of a form for a plant, gains times `gain` and losses times `loss`.
    pub(super) fn of(form: &Acclimation, plant: &Plant, gain: f64, loss: f64) -> Self {
        Self {
            hardens_below_c: form.hardens_below_c,
            softens_above_c: form.softens_above_c(plant),
            gain_per_k_day: form.gain_per_k_day * gain,
            loss_per_k_day: form.loss_per_k_day * loss,
            rest_loss_per_k_day: form.rest_loss_per_k_day * loss,
            regains: form.regains,
        }
    }
}

impl Hardiness {
    pub(super) fn new(share: f64) -> Self {
        Self { share, ceiling: 1.0 }
    }

    pub(super) fn share(self) -> f64 {
        self.share
    }

    /// Adds a day with its mean in °C; `rested` once the chill need is met.
    pub(super) fn add(&mut self, rates: &Rates, mean_c: f64, rested: bool) {
        let from = self.share;
        // Before the chill need is met a plant hardens and softens about one threshold; afterwards it softens
        // already at the lower one.
        let threshold_c = if rested { rates.softens_above_c } else { rates.hardens_below_c };
        let below_k = (threshold_c.min(rates.hardens_below_c) - mean_c).max(0.0);
        let above_k = (mean_c - threshold_c).max(0.0);
        let gain = (1.0 - (-rates.gain_per_k_day * below_k).exp()) * (self.ceiling - from).max(0.0);
        let loss = if rested {
            rates.loss_per_k_day * above_k
        } else {
            from * (1.0 - (-rates.rest_loss_per_k_day * above_k).exp())
        };
        self.share = (from + gain - loss).clamp(0.0, 1.0);
        let lost = (from - self.share).max(0.0);
        self.ceiling = (self.ceiling - lost * (1.0 - rates.regains)).max(self.share);
    }
}
