//! The last good forecast of a site and how fetching went.

use chrono::{DateTime, Utc};
use hibernacle_engine::climate::hourly::WeatherReport;
use rusqlite::{OptionalExtension, named_params};

use crate::column::Json;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 17,
    sql: "CREATE TABLE forecast (
        site_id TEXT PRIMARY KEY NOT NULL REFERENCES site (id),
        source TEXT NOT NULL,
        place TEXT NOT NULL,
        hours TEXT NOT NULL,
        issued_at_utc TEXT,
        fetched_at_utc TEXT,
        next_fetch_utc TEXT,
        failures INTEGER NOT NULL,
        problem TEXT,
        address TEXT,
        last_modified TEXT
    ) STRICT, WITHOUT ROWID;",
}];

/// The last good forecast of a site and how fetching went.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StoredForecast {
    /// The source by its word.
    pub source: String,
    /// The place it is for, as the source was asked for it.
    pub place: String,
    /// Its hours in order; none before the first good forecast.
    pub hours: Vec<WeatherReport>,
    /// When the source made it.
    pub issued_at_utc: Option<DateTime<Utc>>,
    /// When it was last fetched or found unchanged.
    pub fetched_at_utc: Option<DateTime<Utc>>,
    /// Before this instant nothing is fetched.
    pub next_fetch_utc: Option<DateTime<Utc>>,
    /// Failures in a row.
    pub failures: u32,
    /// What the last of them was.
    pub problem: Option<String>,
    /// The address that the source gave for the place's hours.
    pub address: Option<String>,
    /// When the source changed it last, as it said so itself.
    pub last_modified: Option<String>,
}

impl Reader<'_> {
    /// The forecast of a site; absent where none was ever asked for.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn forecast(&self, site_id: &str) -> Result<Option<StoredForecast>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT * FROM forecast WHERE site_id = ?1")?
            .query_row([site_id], |row| {
                let Json(hours) = row.get("hours")?;
                Ok(StoredForecast {
                    source: row.get("source")?,
                    place: row.get("place")?,
                    hours,
                    issued_at_utc: row.get("issued_at_utc")?,
                    fetched_at_utc: row.get("fetched_at_utc")?,
                    next_fetch_utc: row.get("next_fetch_utc")?,
                    failures: row.get("failures")?,
                    problem: row.get("problem")?,
                    address: row.get("address")?,
                    last_modified: row.get("last_modified")?,
                })
            })
            .optional()?)
    }
}

impl Writer<'_> {
    /// Keeps a site's forecast; a former one makes way.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_forecast(&self, site_id: &str, forecast: &StoredForecast) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT OR REPLACE INTO forecast (site_id, source, place, hours, issued_at_utc, fetched_at_utc,
                     next_fetch_utc, failures, problem, address, last_modified)
                 VALUES (:site_id, :source, :place, :hours, :issued_at_utc, :fetched_at_utc, :next_fetch_utc,
                     :failures, :problem, :address, :last_modified)",
            )?
            .execute(named_params! {
                ":site_id": site_id,
                ":source": forecast.source,
                ":place": forecast.place,
                ":hours": Json(&forecast.hours),
                ":issued_at_utc": forecast.issued_at_utc,
                ":fetched_at_utc": forecast.fetched_at_utc,
                ":next_fetch_utc": forecast.next_fetch_utc,
                ":failures": forecast.failures,
                ":problem": forecast.problem,
                ":address": forecast.address,
                ":last_modified": forecast.last_modified,
            })?;
        Ok(())
    }
}
