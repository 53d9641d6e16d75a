//! Where a site's forecasts come from.

use rusqlite::OptionalExtension;

use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 16,
    sql: "CREATE TABLE weather_choice (
        site_id TEXT PRIMARY KEY NOT NULL REFERENCES site (id),
        source TEXT NOT NULL,
        contact TEXT
    ) STRICT, WITHOUT ROWID;",
}];

/// Where a site's forecasts come from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredWeatherChoice {
    /// The source by its word.
    pub source: String,
    /// Address by which the service may reach the grower.
    pub contact: Option<String>,
}

impl Reader<'_> {
    /// The choice of a site; absent where none was made.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn weather_choice(&self, site_id: &str) -> Result<Option<StoredWeatherChoice>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT source, contact FROM weather_choice WHERE site_id = ?1")?
            .query_row([site_id], |row| {
                Ok(StoredWeatherChoice { source: row.get("source")?, contact: row.get("contact")? })
            })
            .optional()?)
    }
}

impl Writer<'_> {
    /// Makes or changes the choice of a site.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_weather_choice(&self, site_id: &str, choice: &StoredWeatherChoice) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO weather_choice (site_id, source, contact) VALUES (?1, ?2, ?3)
                 ON CONFLICT (site_id) DO UPDATE SET source = excluded.source, contact = excluded.contact",
            )?
            .execute((site_id, &choice.source, &choice.contact))?;
        Ok(())
    }
}
