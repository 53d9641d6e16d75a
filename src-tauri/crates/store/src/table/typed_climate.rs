//! Averages that growers typed in place of a record: one set per site.

use chrono::{DateTime, Utc};
use hibernacle_engine::climate::TypedClimate;
use rusqlite::OptionalExtension;

use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 14,
    sql: "CREATE TABLE typed_climate (
        site_id TEXT PRIMARY KEY NOT NULL REFERENCES site (id),
        first_freeze TEXT NOT NULL,
        last_freeze TEXT NOT NULL,
        annual_minimum_c REAL NOT NULL,
        typed_at_utc TEXT NOT NULL,
        revision INTEGER NOT NULL
    ) STRICT, WITHOUT ROWID;",
}];

/// Averages with the moment they were typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StoredTyped {
    /// When.
    pub typed_at_utc: DateTime<Utc>,
    /// The averages.
    pub typed: TypedClimate,
}

impl Reader<'_> {
    /// The revision of the data in which a site's averages were typed; absent where it has none.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn typed_climate_revision(&self, site_id: &str) -> Result<Option<i64>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT revision FROM typed_climate WHERE site_id = ?1")?
            .query_row([site_id], |row| row.get(0))
            .optional()?)
    }

    /// The averages of a site; absent where none were typed.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn typed_climate(&self, site_id: &str) -> Result<Option<StoredTyped>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT * FROM typed_climate WHERE site_id = ?1")?
            .query_row([site_id], |row| {
                Ok(StoredTyped {
                    typed_at_utc: row.get("typed_at_utc")?,
                    typed: TypedClimate {
                        first_freeze: row.get("first_freeze")?,
                        last_freeze: row.get("last_freeze")?,
                        annual_minimum_c: row.get("annual_minimum_c")?,
                    },
                })
            })
            .optional()?)
    }
}

impl Writer<'_> {
    /// Gives a site averages; former ones make way.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_typed_climate(&self, site_id: &str, stored: &StoredTyped) -> Result<(), StoreError> {
        let typed = &stored.typed;
        self.connection
            .prepare_cached(
                "INSERT OR REPLACE INTO typed_climate
                     (site_id, first_freeze, last_freeze, annual_minimum_c, typed_at_utc, revision)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            )?
            .execute((
                site_id,
                typed.first_freeze,
                typed.last_freeze,
                typed.annual_minimum_c,
                stored.typed_at_utc,
                self.revision()? + 1,
            ))?;
        Ok(())
    }
}
