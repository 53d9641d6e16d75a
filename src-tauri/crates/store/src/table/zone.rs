//! Zones of shelters.

use hibernacle_engine::shelter::{Outline, Zone};
use rusqlite::{OptionalExtension, Row, named_params};

use crate::column::Word;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[
    Step {
        number: 7,
        sql: "CREATE TABLE zone (
        number INTEGER PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        removal_id TEXT REFERENCES removal (id),
        shelter_id TEXT NOT NULL REFERENCES shelter (id),
        name TEXT NOT NULL,
        area_m2 REAL NOT NULL,
        light TEXT NOT NULL,
        offset_k REAL NOT NULL,
        kept_above_c REAL
    ) STRICT;
    CREATE INDEX zone_of_shelter ON zone (shelter_id);",
    },
    Step {
        number: 15,
        sql: "ALTER TABLE zone ADD COLUMN outline_x_m REAL;
    ALTER TABLE zone ADD COLUMN outline_y_m REAL;
    ALTER TABLE zone ADD COLUMN outline_length_m REAL;
    ALTER TABLE zone ADD COLUMN outline_width_m REAL;
    ALTER TABLE zone ADD COLUMN water_l REAL NOT NULL DEFAULT 0;",
    },
];

fn zone(row: &Row<'_>) -> rusqlite::Result<Zone> {
    let Word(light) = row.get("light")?;
    Ok(Zone {
        id: row.get("id")?,
        shelter_id: row.get("shelter_id")?,
        name: row.get("name")?,
        area_m2: row.get("area_m2")?,
        light,
        offset_k: row.get("offset_k")?,
        kept_above_c: row.get("kept_above_c")?,
        outline: outline(row)?,
        water_l: row.get("water_l")?,
    })
}

fn outline(row: &Row<'_>) -> rusqlite::Result<Option<Outline>> {
    let Some(x_m) = row.get("outline_x_m")? else { return Ok(None) };
    Ok(Some(Outline {
        x_m,
        y_m: row.get("outline_y_m")?,
        length_m: row.get("outline_length_m")?,
        width_m: row.get("outline_width_m")?,
    }))
}

impl Reader<'_> {
    /// Zones of all shelters of a site, by shelter, in the order they were entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn zones(&self, site_id: &str) -> Result<Vec<Zone>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT zone.* FROM zone JOIN shelter ON shelter.id = zone.shelter_id
             WHERE shelter.site_id = ?1 AND zone.removal_id IS NULL AND shelter.removal_id IS NULL
             ORDER BY shelter.number, zone.number",
        )?;
        Ok(statement.query_map([site_id], zone)?.collect::<Result<_, _>>()?)
    }

    /// Zones of a shelter in the order they were entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn zones_of_shelter(&self, shelter_id: &str) -> Result<Vec<Zone>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT * FROM zone WHERE shelter_id = ?1 AND removal_id IS NULL ORDER BY number",
        )?;
        Ok(statement.query_map([shelter_id], zone)?.collect::<Result<_, _>>()?)
    }

    /// A zone by its identifier.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn zone(&self, id: &str) -> Result<Option<Zone>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT * FROM zone WHERE id = ?1 AND removal_id IS NULL")?
            .query_row([id], zone)
            .optional()?)
    }
}

impl Writer<'_> {
    /// Enters a zone or changes it.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_zone(&self, zone: &Zone) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO zone (id, shelter_id, name, area_m2, light, offset_k, kept_above_c,
                     outline_x_m, outline_y_m, outline_length_m, outline_width_m, water_l)
                 VALUES (:id, :shelter_id, :name, :area_m2, :light, :offset_k, :kept_above_c,
                     :outline_x_m, :outline_y_m, :outline_length_m, :outline_width_m, :water_l)
                 ON CONFLICT (id) DO UPDATE SET
                     shelter_id = excluded.shelter_id, name = excluded.name, area_m2 = excluded.area_m2,
                     light = excluded.light, offset_k = excluded.offset_k,
                     kept_above_c = excluded.kept_above_c,
                     outline_x_m = excluded.outline_x_m, outline_y_m = excluded.outline_y_m,
                     outline_length_m = excluded.outline_length_m, outline_width_m = excluded.outline_width_m,
                     water_l = excluded.water_l",
            )?
            .execute(named_params! {
                ":id": zone.id,
                ":shelter_id": zone.shelter_id,
                ":name": zone.name,
                ":area_m2": zone.area_m2,
                ":light": Word(zone.light),
                ":offset_k": zone.offset_k,
                ":kept_above_c": zone.kept_above_c,
                ":outline_x_m": zone.outline.map(|outline| outline.x_m),
                ":outline_y_m": zone.outline.map(|outline| outline.y_m),
                ":outline_length_m": zone.outline.map(|outline| outline.length_m),
                ":outline_width_m": zone.outline.map(|outline| outline.width_m),
                ":water_l": zone.water_l,
            })?;
        Ok(())
    }

    pub(super) fn mark_zone_removed(&self, id: &str, removal_id: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE zone SET removal_id = ?2 WHERE id = ?1")?
            .execute([id, removal_id])?;
        Ok(())
    }

    pub(super) fn mark_zones_of_shelter_removed(
        &self,
        shelter_id: &str,
        removal_id: &str,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE zone SET removal_id = ?2 WHERE shelter_id = ?1 AND removal_id IS NULL")?
            .execute([shelter_id, removal_id])?;
        Ok(())
    }

    pub(super) fn mark_zones_of_site_removed(
        &self,
        site_id: &str,
        removal_id: &str,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "UPDATE zone SET removal_id = ?2 WHERE removal_id IS NULL
                   AND shelter_id IN (SELECT id FROM shelter WHERE site_id = ?1)",
            )?
            .execute([site_id, removal_id])?;
        Ok(())
    }
}
