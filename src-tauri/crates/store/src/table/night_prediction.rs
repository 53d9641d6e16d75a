//! What was predicted for a night, the latest word before its dawn.

use chrono::{DateTime, NaiveDate, Utc};
use rusqlite::{OptionalExtension, Row, named_params};
use serde::{Deserialize, Serialize};

use crate::column::Json;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 18,
    sql: "CREATE TABLE night_prediction (
        site_id TEXT NOT NULL REFERENCES site (id),
        night_of TEXT NOT NULL,
        made_at_utc TEXT NOT NULL,
        low_c REAL NOT NULL,
        low_from TEXT NOT NULL,
        low_bias_k REAL NOT NULL,
        zones TEXT NOT NULL,
        PRIMARY KEY (site_id, night_of)
    ) STRICT, WITHOUT ROWID;",
}];

/// What was predicted for a night.
#[derive(Debug, Clone, PartialEq)]
pub struct StoredPrediction {
    /// The date on which it begins.
    pub night_of: NaiveDate,
    /// When it was predicted.
    pub made_at_utc: DateTime<Utc>,
    /// Outdoor low that was reckoned with, °C.
    pub low_c: f64,
    /// Where that low comes from, by its word.
    pub low_from: String,
    /// Kelvin of it that were added for what earlier nights had shown.
    pub low_bias_k: f64,
    /// Its zones without heat.
    pub zones: Vec<PredictedZone>,
}

/// A zone in the prediction of a night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PredictedZone {
    /// The zone.
    pub zone_id: String,
    /// Median of its low in °C.
    pub low_c: f64,
    /// Kelvin by which its low follows one kelvin of the outdoor low.
    pub slope: f64,
    /// Kelvin of its low that were added for what earlier nights had shown.
    pub bias_k: f64,
}

fn prediction(row: &Row<'_>) -> rusqlite::Result<StoredPrediction> {
    let Json(zones) = row.get("zones")?;
    Ok(StoredPrediction {
        night_of: row.get("night_of")?,
        made_at_utc: row.get("made_at_utc")?,
        low_c: row.get("low_c")?,
        low_from: row.get("low_from")?,
        low_bias_k: row.get("low_bias_k")?,
        zones,
    })
}

impl Reader<'_> {
    /// The prediction of a night; absent where none was made.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn night_prediction(
        &self,
        site_id: &str,
        night_of: NaiveDate,
    ) -> Result<Option<StoredPrediction>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT * FROM night_prediction WHERE site_id = ?1 AND night_of = ?2")?
            .query_row((site_id, night_of), prediction)
            .optional()?)
    }

    /// The predictions of a site from a date on, the latest night first.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn night_predictions(
        &self,
        site_id: &str,
        from: NaiveDate,
    ) -> Result<Vec<StoredPrediction>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT * FROM night_prediction WHERE site_id = ?1 AND night_of >= ?2 ORDER BY night_of DESC",
        )?;
        let rows = statement.query_map((site_id, from), prediction)?;
        Ok(rows.collect::<rusqlite::Result<_>>()?)
    }
}

impl Writer<'_> {
    /// Keeps the prediction of a night; a former one makes way.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_night_prediction(
        &self,
        site_id: &str,
        prediction: &StoredPrediction,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT OR REPLACE INTO night_prediction (site_id, night_of, made_at_utc, low_c, low_from,
                     low_bias_k, zones)
                 VALUES (:site_id, :night_of, :made_at_utc, :low_c, :low_from, :low_bias_k, :zones)",
            )?
            .execute(named_params! {
                ":site_id": site_id,
                ":night_of": prediction.night_of,
                ":made_at_utc": prediction.made_at_utc,
                ":low_c": prediction.low_c,
                ":low_from": prediction.low_from,
                ":low_bias_k": prediction.low_bias_k,
                ":zones": Json(&prediction.zones),
            })?;
        Ok(())
    }
}
