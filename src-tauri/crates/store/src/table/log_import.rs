//! Imports of loggers' files, which can be undone.

use chrono::{DateTime, Utc};
use hibernacle_engine::readings::Quantity;
use rusqlite::{OptionalExtension, Row, named_params};
use serde::{Deserialize, Serialize};

use crate::column::Json;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 24,
    sql: "CREATE TABLE log_import (
        number INTEGER PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        site_id TEXT NOT NULL REFERENCES site (id),
        file_name TEXT NOT NULL,
        sha256 TEXT NOT NULL,
        imported_at_utc TEXT NOT NULL,
        added INTEGER NOT NULL,
        known INTEGER NOT NULL,
        sensors TEXT NOT NULL,
        undone_at_utc TEXT
    ) STRICT;
    CREATE INDEX log_import_of_site ON log_import (site_id);",
}];

/// Which sensor the name in a file stood for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ImportedSensor {
    /// Name in the file.
    pub name: String,
    /// The sensor.
    pub sensor_id: String,
    /// Whether the import entered it.
    pub is_new: bool,
    /// What was measured.
    pub quantities: Vec<Quantity>,
}

/// An import to be made.
#[derive(Debug, Clone)]
pub struct NewImport<'a> {
    /// Identifier of the import.
    pub id: &'a str,
    /// The site.
    pub site_id: &'a str,
    /// Name of the file.
    pub file_name: &'a str,
    /// SHA-256 of its bytes in hexadecimal digits.
    pub sha256: &'a str,
    /// When.
    pub at_utc: DateTime<Utc>,
    /// Its sensors.
    pub sensors: &'a [ImportedSensor],
}

/// An import that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredImport {
    /// Identifier of the import.
    pub id: String,
    /// The site.
    pub site_id: String,
    /// Name of the file.
    pub file_name: String,
    /// SHA-256 of its bytes in hexadecimal digits.
    pub sha256: String,
    /// When.
    pub imported_at_utc: DateTime<Utc>,
    /// Readings that it added.
    pub added: u32,
    /// Readings that were there before.
    pub known: u32,
    /// Its sensors.
    pub sensors: Vec<ImportedSensor>,
    /// When it was undone; absent while it stands.
    pub undone_at_utc: Option<DateTime<Utc>>,
}

fn stored(row: &Row<'_>) -> rusqlite::Result<StoredImport> {
    let Json(sensors) = row.get("sensors")?;
    Ok(StoredImport {
        id: row.get("id")?,
        site_id: row.get("site_id")?,
        file_name: row.get("file_name")?,
        sha256: row.get("sha256")?,
        imported_at_utc: row.get("imported_at_utc")?,
        added: row.get("added")?,
        known: row.get("known")?,
        sensors,
        undone_at_utc: row.get("undone_at_utc")?,
    })
}

impl Reader<'_> {
    /// Imports of a site, the last one first; undone ones too.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn imports(&self, site_id: &str) -> Result<Vec<StoredImport>, StoreError> {
        let mut statement = self
            .connection
            .prepare_cached("SELECT * FROM log_import WHERE site_id = ?1 ORDER BY number DESC")?;
        Ok(statement.query_map([site_id], stored)?.collect::<Result<_, _>>()?)
    }

    /// An import by its identifier.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn import(&self, id: &str) -> Result<Option<StoredImport>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT * FROM log_import WHERE id = ?1")?
            .query_row([id], stored)
            .optional()?)
    }

    pub(super) fn import_number(&self, id: &str) -> Result<i64, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT number FROM log_import WHERE id = ?1")?
            .query_row([id], |row| row.get(0))?)
    }
}

impl Writer<'_> {
    /// Begins an import, to which readings are then added.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_import(&self, import: &NewImport<'_>) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO log_import (id, site_id, file_name, sha256, imported_at_utc, added, known, sensors)
                 VALUES (:id, :site_id, :file_name, :sha256, :at_utc, 0, 0, :sensors)",
            )?
            .execute(named_params! {
                ":id": import.id,
                ":site_id": import.site_id,
                ":file_name": import.file_name,
                ":sha256": import.sha256,
                ":at_utc": import.at_utc,
                ":sensors": Json(import.sensors),
            })?;
        Ok(())
    }

    pub(super) fn count_imported(&self, import: i64, added: u32, known: u32) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE log_import SET added = added + ?2, known = known + ?3 WHERE number = ?1")?
            .execute((import, added, known))?;
        Ok(())
    }

    /// Takes the readings of an import away; gives how many. The import stays on record as undone.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn undo_import(&self, import: &StoredImport, at_utc: DateTime<Utc>) -> Result<u32, StoreError> {
        let number = self.import_number(&import.id)?;
        let mut removed = 0;
        for sensor in &import.sensors {
            for quantity in &sensor.quantities {
                removed += self.remove_imported(&sensor.sensor_id, *quantity, number)?;
            }
        }
        self.connection
            .prepare_cached("UPDATE log_import SET undone_at_utc = ?2 WHERE number = ?1")?
            .execute((number, at_utc))?;
        Ok(removed)
    }
}
