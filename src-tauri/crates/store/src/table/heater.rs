//! Heaters in shelters.
//!
//! A heater whose zone is removed, or has become part of another shelter, stays without a zone; it is back in it when
//! the zone is.

use hibernacle_engine::shelter::{Heater, Spot};
use rusqlite::{OptionalExtension, Row, named_params};

use crate::column::Json;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 21,
    sql: "CREATE TABLE heater (
        number INTEGER PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        removal_id TEXT REFERENCES removal (id),
        shelter_id TEXT NOT NULL REFERENCES shelter (id),
        name TEXT NOT NULL,
        key TEXT NOT NULL,
        rating_w REAL NOT NULL,
        set_c REAL,
        band_k REAL NOT NULL,
        zone_id TEXT REFERENCES zone (id),
        sensor_zone_id TEXT REFERENCES zone (id),
        is_portable INTEGER NOT NULL,
        has_shield INTEGER NOT NULL,
        spot_x_m REAL,
        spot_y_m REAL,
        faces_deg REAL,
        circuit TEXT,
        CHECK ((spot_x_m IS NULL) = (spot_y_m IS NULL))
    ) STRICT;
    CREATE INDEX heater_of_shelter ON heater (shelter_id);",
}];

/// The heaters that are there, each with those of its zones that are.
const PRESENT: &str = "SELECT heater.*, own.id AS own_zone_id, sensor.id AS own_sensor_zone_id
    FROM heater JOIN shelter ON shelter.id = heater.shelter_id
    LEFT JOIN zone own ON own.id = heater.zone_id
        AND own.removal_id IS NULL AND own.shelter_id = heater.shelter_id
    LEFT JOIN zone sensor ON sensor.id = heater.sensor_zone_id
        AND sensor.removal_id IS NULL AND sensor.shelter_id = heater.shelter_id
    WHERE heater.removal_id IS NULL";

fn heater(row: &Row<'_>) -> rusqlite::Result<Heater> {
    let circuit: Option<Json<_>> = row.get("circuit")?;
    let spot: (Option<f64>, Option<f64>) = (row.get("spot_x_m")?, row.get("spot_y_m")?);
    Ok(Heater {
        id: row.get("id")?,
        shelter_id: row.get("shelter_id")?,
        name: row.get("name")?,
        key: row.get("key")?,
        rating_w: row.get("rating_w")?,
        set_c: row.get("set_c")?,
        band_k: row.get("band_k")?,
        zone_id: row.get("own_zone_id")?,
        sensor_zone_id: row.get("own_sensor_zone_id")?,
        is_portable: row.get("is_portable")?,
        has_shield: row.get("has_shield")?,
        spot: spot.0.zip(spot.1).map(|(x_m, y_m)| Spot { x_m, y_m }),
        faces_deg: row.get("faces_deg")?,
        circuit: circuit.map(|Json(circuit)| circuit),
    })
}

impl Reader<'_> {
    /// Heaters in the shelters of a site, by shelter, in the order they were entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn heaters(&self, site_id: &str) -> Result<Vec<Heater>, StoreError> {
        let mut statement = self.connection.prepare_cached(&format!(
            "{PRESENT} AND shelter.site_id = ?1 AND shelter.removal_id IS NULL
             ORDER BY shelter.number, heater.number"
        ))?;
        Ok(statement.query_map([site_id], heater)?.collect::<Result<_, _>>()?)
    }

    /// Heaters in a shelter in the order they were entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn heaters_of_shelter(&self, shelter_id: &str) -> Result<Vec<Heater>, StoreError> {
        let mut statement = self
            .connection
            .prepare_cached(&format!("{PRESENT} AND heater.shelter_id = ?1 ORDER BY heater.number"))?;
        Ok(statement.query_map([shelter_id], heater)?.collect::<Result<_, _>>()?)
    }

    /// A heater by its identifier.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn heater(&self, id: &str) -> Result<Option<Heater>, StoreError> {
        Ok(self
            .connection
            .prepare_cached(&format!("{PRESENT} AND heater.id = ?1"))?
            .query_row([id], heater)
            .optional()?)
    }
}

impl Writer<'_> {
    /// Enters a heater or changes it.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_heater(&self, heater: &Heater) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO heater (id, shelter_id, name, key, rating_w, set_c, band_k, zone_id, sensor_zone_id,
                     is_portable, has_shield, spot_x_m, spot_y_m, faces_deg, circuit)
                 VALUES (:id, :shelter_id, :name, :key, :rating_w, :set_c, :band_k, :zone_id, :sensor_zone_id,
                     :is_portable, :has_shield, :spot_x_m, :spot_y_m, :faces_deg, :circuit)
                 ON CONFLICT (id) DO UPDATE SET
                     shelter_id = excluded.shelter_id, name = excluded.name, key = excluded.key,
                     rating_w = excluded.rating_w, set_c = excluded.set_c, band_k = excluded.band_k,
                     zone_id = excluded.zone_id, sensor_zone_id = excluded.sensor_zone_id,
                     is_portable = excluded.is_portable, has_shield = excluded.has_shield,
                     spot_x_m = excluded.spot_x_m, spot_y_m = excluded.spot_y_m,
                     faces_deg = excluded.faces_deg, circuit = excluded.circuit",
            )?
            .execute(named_params! {
                ":id": heater.id,
                ":shelter_id": heater.shelter_id,
                ":name": heater.name,
                ":key": heater.key,
                ":rating_w": heater.rating_w,
                ":set_c": heater.set_c,
                ":band_k": heater.band_k,
                ":zone_id": heater.zone_id,
                ":sensor_zone_id": heater.sensor_zone_id,
                ":is_portable": heater.is_portable,
                ":has_shield": heater.has_shield,
                ":spot_x_m": heater.spot.map(|spot| spot.x_m),
                ":spot_y_m": heater.spot.map(|spot| spot.y_m),
                ":faces_deg": heater.faces_deg,
                ":circuit": heater.circuit.map(Json),
            })?;
        Ok(())
    }

    pub(super) fn mark_heater_removed(&self, id: &str, removal_id: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE heater SET removal_id = ?2 WHERE id = ?1")?
            .execute([id, removal_id])?;
        Ok(())
    }

    pub(super) fn mark_heaters_of_shelter_removed(
        &self,
        shelter_id: &str,
        removal_id: &str,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE heater SET removal_id = ?2 WHERE shelter_id = ?1 AND removal_id IS NULL")?
            .execute([shelter_id, removal_id])?;
        Ok(())
    }

    pub(super) fn mark_heaters_of_site_removed(
        &self,
        site_id: &str,
        removal_id: &str,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "UPDATE heater SET removal_id = ?2 WHERE removal_id IS NULL
                   AND shelter_id IN (SELECT id FROM shelter WHERE site_id = ?1)",
            )?
            .execute([site_id, removal_id])?;
        Ok(())
    }
}
