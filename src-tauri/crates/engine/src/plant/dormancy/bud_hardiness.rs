//! Cold hardiness of buds from daily mean temperatures, for cultivars with published figures.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled, within};
use crate::plant::Evidence;
use crate::table::{self, Row, TableError};

/// Base of the chilling sum that ends deep rest, °C.
const CHILLING_BASE_C: f64 = 10.0;

/// Rates of one kind of rest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct RestRates {
    /// Above it hardiness is lost, below it gained, °C.
    pub threshold_c: f64,
    /// Kelvin gained per kelvin-day below the threshold.
    pub gain_per_k: f64,
    /// Kelvin lost per kelvin-day above it.
    pub loss_per_k: f64,
}

/// Figures of one cultivar.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Cultivar {
    /// Key of the row.
    pub key: String,
    /// Name of the cultivar.
    pub name: String,
    /// Key of the plant in the catalogue.
    pub plant_key: String,
    /// Deep rest (endodormancy): only chill ends it.
    pub deep: RestRates,
    /// Light rest (ecodormancy): only cold holds the buds.
    pub light: RestRates,
    /// Hardiness at the beginning of autumn, °C.
    pub starts_at_c: f64,
    /// The most a bud reaches, °C.
    pub hardiest_c: f64,
    /// Hardiness of a bud about to open, °C.
    pub tenderest_c: f64,
    /// Exponent that bends the loss in light rest.
    pub theta: f64,
    /// Sum of kelvin-days below 10 °C, negative, after which rest is light.
    pub light_rest_after: f64,
    /// Buds swell when their hardiness passes this, °C.
    pub swells_above_c: f64,
    /// Buds open when their hardiness passes this, °C.
    pub opens_above_c: f64,
    /// Error of the fit in K.
    pub rmse_k: f64,
    /// How well the row is supported.
    pub evidence: Evidence,
    /// Where it comes from.
    pub source: String,
}

impl Row for Cultivar {
    const TABLE: &'static str = "cultivar";

    fn key(&self) -> &str {
        &self.key
    }

    fn support(&self) -> (Evidence, &str) {
        (self.evidence, &self.source)
    }

    fn check_figures(&self) -> Result<(), FieldError> {
        filled("name", &self.name, "give the cultivar a name")?;
        filled("plant_key", &self.plant_key, "name the plant of the catalogue")?;
        for (field, rates) in [("deep", self.deep), ("light", self.light)] {
            within(&format!("{field}.threshold_c"), rates.threshold_c, -5.0, 25.0, "enter °C")?;
            within(
                &format!("{field}.gain_per_k"),
                rates.gain_per_k,
                0.0,
                1.0,
                "enter kelvin per kelvin-day",
            )?;
            within(
                &format!("{field}.loss_per_k"),
                rates.loss_per_k,
                0.0,
                1.0,
                "enter kelvin per kelvin-day",
            )?;
        }
        within("hardiest_c", self.hardiest_c, -60.0, -3.0, "enter the hardiest a bud gets")?;
        within("tenderest_c", self.tenderest_c, self.hardiest_c + 1.0, 0.0, "enter a bud about to open")?;
        let between = "enter a temperature between hardiest_c and tenderest_c";
        within("starts_at_c", self.starts_at_c, self.hardiest_c, self.tenderest_c, between)?;
        within("swells_above_c", self.swells_above_c, self.hardiest_c, self.opens_above_c, between)?;
        within("opens_above_c", self.opens_above_c, self.hardiest_c, self.tenderest_c, between)?;
        within("theta", self.theta, 0.1, 20.0, "enter an exponent, 1 for none")?;
        within("light_rest_after", self.light_rest_after, -3000.0, 0.0, "enter kelvin-days, negative")?;
        within("rmse_k", self.rmse_k, 0.0, 10.0, "enter the error of the fit")
    }
}

/// Cultivars by key.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cultivars {
    rows: BTreeMap<String, Cultivar>,
}

impl Cultivars {
    /// The rows that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in table.
    pub fn built_in() -> Result<Self, TableError> {
        let text = include_str!("../../../catalogue/bud_hardiness.toml");
        Ok(Self { rows: table::read("catalogue/bud_hardiness.toml", text)? })
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
    pub fn get(&self, key: &str) -> Option<&Cultivar> {
        self.rows.get(key)
    }

    /// The cultivars that a planting may be: the one whose name stands in its label, else all of its species.
    pub fn of_planting(&self, plant_key: &str, label: &str) -> Vec<&Cultivar> {
        let label = label.to_lowercase();
        let of_plant: Vec<&Cultivar> = self.rows.values().filter(|row| row.plant_key == plant_key).collect();
        match of_plant.iter().find(|row| label.contains(&row.name.to_lowercase())) {
            Some(named) => vec![*named],
            None => of_plant,
        }
    }
}

/// Hardiness of the buds of a cultivar, advanced day by day from the beginning of autumn.
///
/// With `T` the day's mean, `th` the threshold and the rates of the rest that holds:
///
/// ```text
/// gain  = min(0, T − th) · gain_per_k · (1 − (Hmin − H)/(Hmin − Hmax))
/// loss  = max(0, T − th) · loss_per_k · (1 − ((H − Hmax)/(Hmin − Hmax))^θ)
/// H    += gain + loss, kept within Hmax (hardiest) and Hmin (tenderest)
/// ```
///
/// θ is 1 in deep rest and the cultivar's own in light rest: the paper gives it without a phase, the authors'
/// spreadsheet uses it so. Nothing is lost before the first day below the threshold. Deep rest ends when the sum of
/// `min(0, T − 10)` reaches the cultivar's boundary.
///
/// Reference: J. C. Ferguson, M. M. Moyer, L. J. Mills, G. Hoogenboom, M. Keller, Am. J. Enol. Vitic. 65 (2014) 59–71,
/// doi 10.5344/ajev.2013.13098; equations of Ferguson et al., Ann. Bot. 107 (2011) 389–396.
#[derive(Debug, Clone, PartialEq)]
pub struct BudHardiness<'a> {
    cultivar: &'a Cultivar,
    hardiness_c: f64,
    chilling_sum: f64,
    has_chilled: bool,
}

impl<'a> BudHardiness<'a> {
    /// The buds at the beginning of autumn.
    pub fn new(cultivar: &'a Cultivar) -> Self {
        Self { cultivar, hardiness_c: cultivar.starts_at_c, chilling_sum: 0.0, has_chilled: false }
    }

    /// The same with another hardiness in °C, deep rest over or not: for a record that begins in winter.
    pub fn starting_at(cultivar: &'a Cultivar, hardiness_c: f64, rests_lightly: bool) -> Self {
        Self {
            cultivar,
            hardiness_c: hardiness_c.clamp(cultivar.hardiest_c, cultivar.tenderest_c),
            chilling_sum: if rests_lightly { cultivar.light_rest_after } else { 0.0 },
            has_chilled: true,
        }
    }

    /// Adds a day with its mean temperature in °C.
    pub fn add(&mut self, mean_c: f64) {
        let cultivar = self.cultivar;
        let light = self.rests_lightly();
        let rates = if light { cultivar.light } else { cultivar.deep };
        let theta = if light { cultivar.theta } else { 1.0 };
        let span_k = cultivar.tenderest_c - cultivar.hardiest_c;
        let below_k = (mean_c - rates.threshold_c).min(0.0);
        let above_k = (mean_c - rates.threshold_c).max(0.0);
        self.has_chilled |= below_k < 0.0;
        let above_hardiest = (self.hardiness_c - cultivar.hardiest_c) / span_k;
        let gain_k = below_k * rates.gain_per_k * above_hardiest;
        let loss_k = if self.has_chilled {
            above_k * rates.loss_per_k * (1.0 - above_hardiest.powf(theta))
        } else {
            0.0
        };
        self.hardiness_c =
            (self.hardiness_c + gain_k + loss_k).clamp(cultivar.hardiest_c, cultivar.tenderest_c);
        self.chilling_sum += (mean_c - CHILLING_BASE_C).min(0.0);
    }

    /// Temperature in °C that kills half of the buds.
    pub fn hardiness_c(&self) -> f64 {
        self.hardiness_c
    }

    /// Share of the cultivar's span reached, 0 about to open to 1 hardiest.
    pub fn share(&self) -> f64 {
        let cultivar = self.cultivar;
        (cultivar.tenderest_c - self.hardiness_c) / (cultivar.tenderest_c - cultivar.hardiest_c)
    }

    /// Whether deep rest is over.
    pub fn rests_lightly(&self) -> bool {
        self.chilling_sum <= self.cultivar.light_rest_after
    }

    /// Whether the buds have swollen (woolly bud).
    pub fn has_swollen(&self) -> bool {
        self.rests_lightly() && self.hardiness_c > self.cultivar.swells_above_c
    }

    /// Whether the buds have opened.
    pub fn has_opened(&self) -> bool {
        self.rests_lightly() && self.hardiness_c > self.cultivar.opens_above_c
    }
}
