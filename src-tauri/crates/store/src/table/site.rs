//! Sites.

use hibernacle_engine::site::{Site, Units, WorkTime};
use rusqlite::{OptionalExtension, Row, named_params};

use crate::column::{Json, Word};
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 5,
    sql: "CREATE TABLE site (
        number INTEGER PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        removal_id TEXT REFERENCES removal (id),
        name TEXT NOT NULL,
        latitude_deg REAL NOT NULL,
        longitude_deg REAL NOT NULL,
        elevation_m REAL NOT NULL,
        time_zone TEXT NOT NULL,
        currency TEXT NOT NULL,
        temperature_unit TEXT NOT NULL,
        length_unit TEXT NOT NULL,
        volume_unit TEXT NOT NULL,
        work_days TEXT NOT NULL,
        work_hours_per_day REAL NOT NULL
    ) STRICT;",
}];

fn site(row: &Row<'_>) -> rusqlite::Result<Site> {
    let Word(temperature) = row.get("temperature_unit")?;
    let Word(length) = row.get("length_unit")?;
    let Word(volume) = row.get("volume_unit")?;
    let Json(days) = row.get("work_days")?;
    Ok(Site {
        id: row.get("id")?,
        name: row.get("name")?,
        latitude_deg: row.get("latitude_deg")?,
        longitude_deg: row.get("longitude_deg")?,
        elevation_m: row.get("elevation_m")?,
        time_zone: row.get("time_zone")?,
        currency: row.get("currency")?,
        units: Units { temperature, length, volume },
        work: WorkTime { days, hours_per_day: row.get("work_hours_per_day")? },
    })
}

impl Reader<'_> {
    /// All sites in the order they were entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn sites(&self) -> Result<Vec<Site>, StoreError> {
        let mut statement =
            self.connection.prepare_cached("SELECT * FROM site WHERE removal_id IS NULL ORDER BY number")?;
        Ok(statement.query_map([], site)?.collect::<Result<_, _>>()?)
    }

    /// A site by its identifier.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn site(&self, id: &str) -> Result<Option<Site>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT * FROM site WHERE id = ?1 AND removal_id IS NULL")?
            .query_row([id], site)
            .optional()?)
    }
}

impl Writer<'_> {
    /// Enters a site or changes it.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_site(&self, site: &Site) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO site (id, name, latitude_deg, longitude_deg, elevation_m, time_zone, currency,
                     temperature_unit, length_unit, volume_unit, work_days, work_hours_per_day)
                 VALUES (:id, :name, :latitude_deg, :longitude_deg, :elevation_m, :time_zone, :currency,
                     :temperature_unit, :length_unit, :volume_unit, :work_days, :work_hours_per_day)
                 ON CONFLICT (id) DO UPDATE SET
                     name = excluded.name, latitude_deg = excluded.latitude_deg,
                     longitude_deg = excluded.longitude_deg, elevation_m = excluded.elevation_m,
                     time_zone = excluded.time_zone, currency = excluded.currency,
                     temperature_unit = excluded.temperature_unit, length_unit = excluded.length_unit,
                     volume_unit = excluded.volume_unit, work_days = excluded.work_days,
                     work_hours_per_day = excluded.work_hours_per_day",
            )?
            .execute(named_params! {
                ":id": site.id,
                ":name": site.name,
                ":latitude_deg": site.latitude_deg,
                ":longitude_deg": site.longitude_deg,
                ":elevation_m": site.elevation_m,
                ":time_zone": site.time_zone,
                ":currency": site.currency,
                ":temperature_unit": Word(site.units.temperature),
                ":length_unit": Word(site.units.length),
                ":volume_unit": Word(site.units.volume),
                ":work_days": Json(&site.work.days),
                ":work_hours_per_day": site.work.hours_per_day,
            })?;
        Ok(())
    }

    pub(super) fn mark_site_removed(&self, id: &str, removal_id: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE site SET removal_id = ?2 WHERE id = ?1")?
            .execute([id, removal_id])?;
        Ok(())
    }
}
