//! How often the data was changed: what was computed from one revision is valid until the next.

use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 1,
    sql: "CREATE TABLE revision (
        only INTEGER PRIMARY KEY CHECK (only = 1),
        changes INTEGER NOT NULL
    ) STRICT;
    INSERT INTO revision (only, changes) VALUES (1, 0);",
}];

impl Reader<'_> {
    /// Number of changes so far, by any program.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn revision(&self) -> Result<i64, StoreError> {
        Ok(self.connection.prepare_cached("SELECT changes FROM revision")?.query_row([], |row| row.get(0))?)
    }
}

impl Writer<'_> {
    pub(crate) fn count_change(&self) -> Result<(), StoreError> {
        self.connection.prepare_cached("UPDATE revision SET changes = changes + 1")?.execute([])?;
        Ok(())
    }
}
