//! Sensors, in zones and outdoors.

use hibernacle_engine::shelter::{Sensor, Spot};
use rusqlite::{OptionalExtension, Row, named_params};

use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 22,
    sql: "CREATE TABLE sensor (
        number INTEGER PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        removal_id TEXT REFERENCES removal (id),
        site_id TEXT NOT NULL REFERENCES site (id),
        name TEXT NOT NULL,
        zone_id TEXT REFERENCES zone (id),
        spot_x_m REAL,
        spot_y_m REAL,
        height_m REAL,
        CHECK ((spot_x_m IS NULL) = (spot_y_m IS NULL))
    ) STRICT;
    CREATE INDEX sensor_of_site ON sensor (site_id);
    CREATE INDEX sensor_in_zone ON sensor (zone_id);",
}];

fn sensor(row: &Row<'_>) -> rusqlite::Result<Sensor> {
    let spot: (Option<f64>, Option<f64>) = (row.get("spot_x_m")?, row.get("spot_y_m")?);
    Ok(Sensor {
        id: row.get("id")?,
        site_id: row.get("site_id")?,
        name: row.get("name")?,
        zone_id: row.get("zone_id")?,
        spot: spot.0.zip(spot.1).map(|(x_m, y_m)| Spot { x_m, y_m }),
        height_m: row.get("height_m")?,
    })
}

impl Reader<'_> {
    /// Sensors of a site in the order they were entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn sensors(&self, site_id: &str) -> Result<Vec<Sensor>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT * FROM sensor WHERE site_id = ?1 AND removal_id IS NULL ORDER BY number",
        )?;
        Ok(statement.query_map([site_id], sensor)?.collect::<Result<_, _>>()?)
    }

    /// A sensor by its identifier.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn sensor(&self, id: &str) -> Result<Option<Sensor>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT * FROM sensor WHERE id = ?1 AND removal_id IS NULL")?
            .query_row([id], sensor)
            .optional()?)
    }
}

impl Writer<'_> {
    /// Enters a sensor or changes it.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_sensor(&self, sensor: &Sensor) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO sensor (id, site_id, name, zone_id, spot_x_m, spot_y_m, height_m)
                 VALUES (:id, :site_id, :name, :zone_id, :spot_x_m, :spot_y_m, :height_m)
                 ON CONFLICT (id) DO UPDATE SET
                     name = excluded.name, zone_id = excluded.zone_id, spot_x_m = excluded.spot_x_m,
                     spot_y_m = excluded.spot_y_m, height_m = excluded.height_m",
            )?
            .execute(named_params! {
                ":id": sensor.id,
                ":site_id": sensor.site_id,
                ":name": sensor.name,
                ":zone_id": sensor.zone_id,
                ":spot_x_m": sensor.spot.map(|spot| spot.x_m),
                ":spot_y_m": sensor.spot.map(|spot| spot.y_m),
                ":height_m": sensor.height_m,
            })?;
        Ok(())
    }

    pub(super) fn mark_sensor_removed(&self, id: &str, removal_id: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE sensor SET removal_id = ?2 WHERE id = ?1")?
            .execute([id, removal_id])?;
        Ok(())
    }

    pub(super) fn mark_sensors_of_zone_removed(
        &self,
        zone_id: &str,
        removal_id: &str,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE sensor SET removal_id = ?2 WHERE zone_id = ?1 AND removal_id IS NULL")?
            .execute([zone_id, removal_id])?;
        Ok(())
    }

    pub(super) fn mark_sensors_of_site_removed(
        &self,
        site_id: &str,
        removal_id: &str,
    ) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE sensor SET removal_id = ?2 WHERE site_id = ?1 AND removal_id IS NULL")?
            .execute([site_id, removal_id])?;
        Ok(())
    }
}
