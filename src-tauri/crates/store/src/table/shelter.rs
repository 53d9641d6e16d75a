//! Shelters.

use hibernacle_engine::shelter::Shelter;
use rusqlite::{OptionalExtension, Row, named_params};

use crate::column::Word;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 6,
    sql: "CREATE TABLE shelter (
        number INTEGER PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        removal_id TEXT REFERENCES removal (id),
        site_id TEXT NOT NULL REFERENCES site (id),
        name TEXT NOT NULL,
        kind TEXT NOT NULL,
        length_m REAL NOT NULL,
        width_m REAL NOT NULL,
        height_m REAL NOT NULL,
        has_cover INTEGER NOT NULL,
        has_heater INTEGER NOT NULL
    ) STRICT;
    CREATE INDEX shelter_of_site ON shelter (site_id);",
}];

fn shelter(row: &Row<'_>) -> rusqlite::Result<Shelter> {
    let Word(kind) = row.get("kind")?;
    Ok(Shelter {
        id: row.get("id")?,
        site_id: row.get("site_id")?,
        name: row.get("name")?,
        kind,
        length_m: row.get("length_m")?,
        width_m: row.get("width_m")?,
        height_m: row.get("height_m")?,
        has_cover: row.get("has_cover")?,
        has_heater: row.get("has_heater")?,
    })
}

impl Reader<'_> {
    /// Shelters of a site in the order they were entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn shelters(&self, site_id: &str) -> Result<Vec<Shelter>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT * FROM shelter WHERE site_id = ?1 AND removal_id IS NULL ORDER BY number",
        )?;
        Ok(statement.query_map([site_id], shelter)?.collect::<Result<_, _>>()?)
    }

    /// A shelter by its identifier.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn shelter(&self, id: &str) -> Result<Option<Shelter>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT * FROM shelter WHERE id = ?1 AND removal_id IS NULL")?
            .query_row([id], shelter)
            .optional()?)
    }
}

impl Writer<'_> {
    /// Enters a shelter or changes it.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_shelter(&self, shelter: &Shelter) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO shelter (id, site_id, name, kind, length_m, width_m, height_m, has_cover, has_heater)
                 VALUES (:id, :site_id, :name, :kind, :length_m, :width_m, :height_m, :has_cover, :has_heater)
                 ON CONFLICT (id) DO UPDATE SET
                     name = excluded.name, kind = excluded.kind, length_m = excluded.length_m,
                     width_m = excluded.width_m, height_m = excluded.height_m,
                     has_cover = excluded.has_cover, has_heater = excluded.has_heater",
            )?
            .execute(named_params! {
                ":id": shelter.id,
                ":site_id": shelter.site_id,
                ":name": shelter.name,
                ":kind": Word(shelter.kind),
                ":length_m": shelter.length_m,
                ":width_m": shelter.width_m,
                ":height_m": shelter.height_m,
                ":has_cover": shelter.has_cover,
                ":has_heater": shelter.has_heater,
            })?;
        Ok(())
    }

    pub(super) fn mark_shelter_removed(&self, id: &str, removal_id: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE shelter SET removal_id = ?2 WHERE id = ?1")?
            .execute([id, removal_id])?;
        Ok(())
    }

    pub(super) fn mark_shelters_of_site_removed(
        &self,
        site_id: &str,
        removal_id: &str,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE shelter SET removal_id = ?2 WHERE site_id = ?1 AND removal_id IS NULL")?
            .execute([site_id, removal_id])?;
        Ok(())
    }
}
