//! Settings of the program that are no site's own.

use rusqlite::OptionalExtension;

use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 2,
    sql: "CREATE TABLE setting (
        key TEXT PRIMARY KEY NOT NULL,
        value TEXT NOT NULL
    ) STRICT, WITHOUT ROWID;",
}];

impl Reader<'_> {
    /// A setting; absent where it was never made.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn setting(&self, key: &str) -> Result<Option<String>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT value FROM setting WHERE key = ?1")?
            .query_row([key], |row| row.get(0))
            .optional()?)
    }
}

impl Writer<'_> {
    /// Makes or changes a setting.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_setting(&self, key: &str, value: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO setting (key, value) VALUES (?1, ?2)
                 ON CONFLICT (key) DO UPDATE SET value = excluded.value",
            )?
            .execute([key, value])?;
        Ok(())
    }
}
