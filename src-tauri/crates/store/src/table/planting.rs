//! Plantings.

use hibernacle_engine::plant::{Container, Planting};
use rusqlite::{OptionalExtension, Row, named_params};

use crate::column::Word;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 8,
    sql: "CREATE TABLE planting (
        number INTEGER PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        removal_id TEXT REFERENCES removal (id),
        site_id TEXT NOT NULL REFERENCES site (id),
        plant_key TEXT NOT NULL,
        label TEXT NOT NULL,
        count INTEGER NOT NULL,
        container TEXT NOT NULL,
        pot_volume_l REAL,
        zone_id TEXT REFERENCES zone (id),
        own_limit_c REAL,
        footprint_m2 REAL,
        CHECK ((container = 'pot') = (pot_volume_l IS NOT NULL))
    ) STRICT;
    CREATE INDEX planting_of_site ON planting (site_id);
    CREATE INDEX planting_in_zone ON planting (zone_id);
    CREATE INDEX planting_of_plant ON planting (plant_key);",
}];

/// The container without its volume, which has a column of its own.
#[derive(Clone, Copy, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
enum ContainerWord {
    Pot,
    Ground,
    Lifted,
}

fn planting(row: &Row<'_>) -> rusqlite::Result<Planting> {
    let container = match row.get("container")? {
        Word(ContainerWord::Pot) => Container::Pot { volume_l: row.get("pot_volume_l")? },
        Word(ContainerWord::Ground) => Container::Ground,
        Word(ContainerWord::Lifted) => Container::Lifted,
    };
    Ok(Planting {
        id: row.get("id")?,
        site_id: row.get("site_id")?,
        plant_key: row.get("plant_key")?,
        label: row.get("label")?,
        count: row.get("count")?,
        container,
        zone_id: row.get("zone_id")?,
        own_limit_c: row.get("own_limit_c")?,
        footprint_m2: row.get("footprint_m2")?,
    })
}

impl Reader<'_> {
    /// Plantings of a site in the order they were entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn plantings(&self, site_id: &str) -> Result<Vec<Planting>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT * FROM planting WHERE site_id = ?1 AND removal_id IS NULL ORDER BY number",
        )?;
        Ok(statement.query_map([site_id], planting)?.collect::<Result<_, _>>()?)
    }

    /// A planting by its identifier.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn planting(&self, id: &str) -> Result<Option<Planting>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT * FROM planting WHERE id = ?1 AND removal_id IS NULL")?
            .query_row([id], planting)
            .optional()?)
    }

    /// Labels of all plantings of a plant, at any site.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn labels_of_plant(&self, plant_key: &str) -> Result<Vec<String>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT label FROM planting WHERE plant_key = ?1 AND removal_id IS NULL ORDER BY number",
        )?;
        Ok(statement.query_map([plant_key], |row| row.get(0))?.collect::<Result<_, _>>()?)
    }
}

impl Writer<'_> {
    /// Enters a planting or changes it.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_planting(&self, planting: &Planting) -> Result<(), StoreError> {
        let (container, pot_volume_l) = match planting.container {
            Container::Pot { volume_l } => (ContainerWord::Pot, Some(volume_l)),
            Container::Ground => (ContainerWord::Ground, None),
            Container::Lifted => (ContainerWord::Lifted, None),
        };
        self.connection
            .prepare_cached(
                "INSERT INTO planting (id, site_id, plant_key, label, count, container, pot_volume_l, zone_id,
                     own_limit_c, footprint_m2)
                 VALUES (:id, :site_id, :plant_key, :label, :count, :container, :pot_volume_l, :zone_id,
                     :own_limit_c, :footprint_m2)
                 ON CONFLICT (id) DO UPDATE SET
                     plant_key = excluded.plant_key, label = excluded.label, count = excluded.count,
                     container = excluded.container, pot_volume_l = excluded.pot_volume_l,
                     zone_id = excluded.zone_id, own_limit_c = excluded.own_limit_c,
                     footprint_m2 = excluded.footprint_m2",
            )?
            .execute(named_params! {
                ":id": planting.id,
                ":site_id": planting.site_id,
                ":plant_key": planting.plant_key,
                ":label": planting.label,
                ":count": planting.count,
                ":container": Word(container),
                ":pot_volume_l": pot_volume_l,
                ":zone_id": planting.zone_id,
                ":own_limit_c": planting.own_limit_c,
                ":footprint_m2": planting.footprint_m2,
            })?;
        Ok(())
    }

    pub(super) fn mark_planting_removed(&self, id: &str, removal_id: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE planting SET removal_id = ?2 WHERE id = ?1")?
            .execute([id, removal_id])?;
        Ok(())
    }

    pub(super) fn mark_plantings_of_site_removed(
        &self,
        site_id: &str,
        removal_id: &str,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE planting SET removal_id = ?2 WHERE site_id = ?1 AND removal_id IS NULL")?
            .execute([site_id, removal_id])?;
        Ok(())
    }
}
