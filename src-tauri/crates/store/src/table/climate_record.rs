//! Climate records as they were imported: one per site.

use chrono::{DateTime, Utc};
use hibernacle_engine::climate::{ClimateRecord, RecordProblem, RecordSource, Station};
use rusqlite::{OptionalExtension, named_params};

use crate::column::{Json, Word};
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 12,
    sql: "CREATE TABLE climate_record (
        site_id TEXT PRIMARY KEY NOT NULL REFERENCES site (id),
        file_name TEXT NOT NULL,
        source TEXT NOT NULL,
        station_id TEXT NOT NULL,
        station_name TEXT NOT NULL,
        station_latitude_deg REAL,
        station_longitude_deg REAL,
        station_elevation_m REAL,
        problems TEXT NOT NULL,
        imported_at_utc TEXT NOT NULL,
        revision INTEGER NOT NULL
    ) STRICT, WITHOUT ROWID;",
}];

/// A climate record with its import.
#[derive(Debug, Clone, PartialEq)]
pub struct StoredRecord {
    /// Name of the file it came from.
    pub file_name: String,
    /// When it was imported.
    pub imported_at_utc: DateTime<Utc>,
    /// The record.
    pub record: ClimateRecord,
}

impl Reader<'_> {
    /// The revision of the data in which a site's record was imported; absent where it has none.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn climate_record_revision(&self, site_id: &str) -> Result<Option<i64>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT revision FROM climate_record WHERE site_id = ?1")?
            .query_row([site_id], |row| row.get(0))
            .optional()?)
    }

    /// The record of a site with its days.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn climate_record(&self, site_id: &str) -> Result<Option<StoredRecord>, StoreError> {
        let found = self
            .connection
            .prepare_cached("SELECT * FROM climate_record WHERE site_id = ?1")?
            .query_row([site_id], |row| {
                let Word(source): Word<RecordSource> = row.get("source")?;
                let Json(problems): Json<Vec<RecordProblem>> = row.get("problems")?;
                let station = Station {
                    id: row.get("station_id")?,
                    name: row.get("station_name")?,
                    latitude_deg: row.get("station_latitude_deg")?,
                    longitude_deg: row.get("station_longitude_deg")?,
                    elevation_m: row.get("station_elevation_m")?,
                };
                Ok(StoredRecord {
                    file_name: row.get("file_name")?,
                    imported_at_utc: row.get("imported_at_utc")?,
                    record: ClimateRecord { station, source, days: Vec::new(), problems },
                })
            })
            .optional()?;
        let Some(mut stored) = found else { return Ok(None) };
        stored.record.days = self.climate_days(site_id)?;
        Ok(Some(stored))
    }
}

impl Writer<'_> {
    /// Gives a site a record; a former one makes way.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_climate_record(&self, site_id: &str, stored: &StoredRecord) -> Result<(), StoreError> {
        let station = &stored.record.station;
        self.connection
            .prepare_cached(
                "INSERT OR REPLACE INTO climate_record (site_id, file_name, source, station_id, station_name,
                     station_latitude_deg, station_longitude_deg, station_elevation_m, problems, imported_at_utc,
                     revision)
                 VALUES (:site_id, :file_name, :source, :station_id, :station_name, :latitude_deg,
                     :longitude_deg, :elevation_m, :problems, :imported_at_utc, :revision)",
            )?
            .execute(named_params! {
                ":site_id": site_id,
                ":file_name": stored.file_name,
                ":source": Word(stored.record.source),
                ":station_id": station.id,
                ":station_name": station.name,
                ":latitude_deg": station.latitude_deg,
                ":longitude_deg": station.longitude_deg,
                ":elevation_m": station.elevation_m,
                ":problems": Json(&stored.record.problems),
                ":imported_at_utc": stored.imported_at_utc,
                ":revision": self.revision()? + 1,
            })?;
        self.replace_climate_days(site_id, &stored.record.days)
    }
}
