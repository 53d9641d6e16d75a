//! Reasons in numbers, worded only at the edges.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A figure with its quantity, so that the edge can show it in the grower's units.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case", tag = "quantity", content = "value")]
pub enum Figure {
    /// A temperature in °C.
    TempC(f64),
    /// A difference of temperatures in K.
    DiffK(f64),
    /// A calendar date.
    Date(NaiveDate),
    /// A probability or share, 0 to 1.
    Share(f64),
    /// A count of things.
    Count(u32),
    /// A span in days.
    Days(i32),
    /// A volume in litres.
    VolumeL(f64),
    /// An area in square metres.
    AreaM2(f64),
    /// A proper name or another text that is shown as it is.
    Text(String),
}

/// One reason for a recommendation: a message of the text catalogue and the figures that fill it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Reason {
    /// Key in the text catalogue (`reason-freeze-first`).
    pub message: String,
    /// Figures by the name the message gives them.
    pub figures: BTreeMap<String, Figure>,
}

impl Reason {
    /// A reason without figures; add them with [`Reason::with`].
    pub fn new(message: &str) -> Self {
        Self { message: message.to_owned(), figures: BTreeMap::new() }
    }

    /// Adds a figure.
    #[must_use]
    pub fn with(mut self, name: &str, figure: Figure) -> Self {
        self.figures.insert(name.to_owned(), figure);
        self
    }
}
