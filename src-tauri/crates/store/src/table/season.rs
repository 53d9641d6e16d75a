//! Seasons that were planned.

use chrono::NaiveDate;
use rusqlite::OptionalExtension;

use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 10,
    sql: "CREATE TABLE season (
        site_id TEXT NOT NULL REFERENCES site (id),
        start_year INTEGER NOT NULL,
        began_on TEXT NOT NULL,
        PRIMARY KEY (site_id, start_year)
    ) STRICT, WITHOUT ROWID;",
}];

/// A season that was planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StoredSeason {
    /// Year in which it starts.
    pub start_year: i32,
    /// Local date on which it was first planned.
    pub began_on: NaiveDate,
}

impl Reader<'_> {
    /// A season of a site; absent where it was never planned.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn season(&self, site_id: &str, start_year: i32) -> Result<Option<StoredSeason>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT start_year, began_on FROM season WHERE site_id = ?1 AND start_year = ?2")?
            .query_row((site_id, start_year), |row| {
                Ok(StoredSeason { start_year: row.get("start_year")?, began_on: row.get("began_on")? })
            })
            .optional()?)
    }
}

impl Writer<'_> {
    /// Remembers when a season was first planned; a season that is known keeps its date.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn begin_season(
        &self,
        site_id: &str,
        start_year: i32,
        began_on: NaiveDate,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO season (site_id, start_year, began_on) VALUES (?1, ?2, ?3)
                 ON CONFLICT (site_id, start_year) DO NOTHING",
            )?
            .execute((site_id, start_year, began_on))?;
        Ok(())
    }
}
