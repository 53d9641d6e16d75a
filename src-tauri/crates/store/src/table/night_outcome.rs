//! What nights turned out to be, as read on the thermometers.

use chrono::{DateTime, NaiveDate, Utc};
use rusqlite::named_params;
use serde::{Deserialize, Serialize};

use crate::column::Json;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 19,
    sql: "CREATE TABLE night_outcome (
        site_id TEXT NOT NULL REFERENCES site (id),
        night_of TEXT NOT NULL,
        entered_at_utc TEXT NOT NULL,
        outside_low_c REAL,
        zones TEXT NOT NULL,
        heated_shelter_ids TEXT NOT NULL,
        PRIMARY KEY (site_id, night_of)
    ) STRICT, WITHOUT ROWID;",
}];

/// What a night turned out to be.
#[derive(Debug, Clone, PartialEq)]
pub struct StoredOutcome {
    /// The date on which it began.
    pub night_of: NaiveDate,
    /// When it was entered.
    pub entered_at_utc: DateTime<Utc>,
    /// Outdoor low in °C.
    pub outside_low_c: Option<f64>,
    /// Lows of zones.
    pub zones: Vec<ReadZone>,
    /// Shelters in which a heater ran.
    pub heated_shelter_ids: Vec<String>,
}

/// The low of a zone as it was read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ReadZone {
    /// The zone.
    pub zone_id: String,
    /// Its low in °C.
    pub low_c: f64,
}

impl Reader<'_> {
    /// The outcomes of a site from a date on, the latest night first.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn night_outcomes(&self, site_id: &str, from: NaiveDate) -> Result<Vec<StoredOutcome>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT * FROM night_outcome WHERE site_id = ?1 AND night_of >= ?2 ORDER BY night_of DESC",
        )?;
        let rows = statement.query_map((site_id, from), |row| {
            let Json(zones) = row.get("zones")?;
            let Json(heated_shelter_ids) = row.get("heated_shelter_ids")?;
            Ok(StoredOutcome {
                night_of: row.get("night_of")?,
                entered_at_utc: row.get("entered_at_utc")?,
                outside_low_c: row.get("outside_low_c")?,
                zones,
                heated_shelter_ids,
            })
        })?;
        Ok(rows.collect::<rusqlite::Result<_>>()?)
    }
}

impl Writer<'_> {
    /// Keeps what a night turned out to be; what was entered for it before makes way.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_night_outcome(&self, site_id: &str, outcome: &StoredOutcome) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT OR REPLACE INTO night_outcome (site_id, night_of, entered_at_utc, outside_low_c, zones,
                     heated_shelter_ids)
                 VALUES (:site_id, :night_of, :entered_at_utc, :outside_low_c, :zones, :heated_shelter_ids)",
            )?
            .execute(named_params! {
                ":site_id": site_id,
                ":night_of": outcome.night_of,
                ":entered_at_utc": outcome.entered_at_utc,
                ":outside_low_c": outcome.outside_low_c,
                ":zones": Json(&outcome.zones),
                ":heated_shelter_ids": Json(&outcome.heated_shelter_ids),
            })?;
        Ok(())
    }
}
