//! How shelters are built.

use hibernacle_engine::shelter::ShelterBuild;
use rusqlite::{OptionalExtension, Row, named_params};

use crate::column::Json;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 20,
    sql: "CREATE TABLE shelter_build (
        shelter_id TEXT PRIMARY KEY NOT NULL REFERENCES shelter (id),
        version INTEGER NOT NULL,
        build TEXT NOT NULL
    ) STRICT, WITHOUT ROWID;",
}];

fn build(row: &Row<'_>) -> rusqlite::Result<ShelterBuild> {
    let Json(build) = row.get("build")?;
    Ok(build)
}

impl Reader<'_> {
    /// Builds of the shelters of a site; a shelter of which nothing was entered has none.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn builds(&self, site_id: &str) -> Result<Vec<ShelterBuild>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT shelter_build.build FROM shelter_build JOIN shelter ON shelter.id = shelter_build.shelter_id
             WHERE shelter.site_id = ?1 AND shelter.removal_id IS NULL ORDER BY shelter.number",
        )?;
        Ok(statement.query_map([site_id], build)?.collect::<Result<_, _>>()?)
    }

    /// The build of a shelter; absent where nothing was entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn build(&self, shelter_id: &str) -> Result<Option<ShelterBuild>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT build FROM shelter_build WHERE shelter_id = ?1")?
            .query_row([shelter_id], build)
            .optional()?)
    }
}

impl Writer<'_> {
    /// Enters or changes how a shelter is built.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_build(&self, build: &ShelterBuild) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO shelter_build (shelter_id, version, build) VALUES (:shelter_id, :version, :build)
                 ON CONFLICT (shelter_id) DO UPDATE SET version = excluded.version, build = excluded.build",
            )?
            .execute(named_params! {
                ":shelter_id": build.shelter_id,
                ":version": build.version,
                ":build": Json(build),
            })?;
        Ok(())
    }

    /// Forgets how a shelter is built, so that it counts as built as usual.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn forget_build(&self, shelter_id: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("DELETE FROM shelter_build WHERE shelter_id = ?1")?
            .execute([shelter_id])?;
        Ok(())
    }
}
