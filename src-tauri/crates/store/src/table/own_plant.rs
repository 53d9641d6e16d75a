//! The grower's own entries of the plant catalogue.

use hibernacle_engine::plant::Plant;

use crate::column::Json;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 9,
    sql: "CREATE TABLE own_plant (
        key TEXT PRIMARY KEY NOT NULL,
        entry TEXT NOT NULL
    ) STRICT, WITHOUT ROWID;",
}];

impl Reader<'_> {
    /// The grower's own entries by key.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn own_plants(&self) -> Result<Vec<Plant>, StoreError> {
        let mut statement = self.connection.prepare_cached("SELECT entry FROM own_plant ORDER BY key")?;
        let plants = statement.query_map([], |row| row.get("entry").map(|Json(plant)| plant))?;
        Ok(plants.collect::<Result<_, _>>()?)
    }
}

impl Writer<'_> {
    /// Enters a plant or changes it.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_own_plant(&self, plant: &Plant) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO own_plant (key, entry) VALUES (?1, ?2)
                 ON CONFLICT (key) DO UPDATE SET entry = excluded.entry",
            )?
            .execute((&plant.key, Json(plant)))?;
        Ok(())
    }

    /// Deletes an entry; false where there was none.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn delete_own_plant(&self, key: &str) -> Result<bool, StoreError> {
        Ok(self.connection.prepare_cached("DELETE FROM own_plant WHERE key = ?1")?.execute([key])? > 0)
    }
}
