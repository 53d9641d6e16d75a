//! Readings of sensors: one row for an instant of a quantity, ordered so that a series lies together.

use chrono::{DateTime, Utc};
use hibernacle_engine::readings::{Flag, Quantity, Reading};
use rusqlite::named_params;

use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 25,
    sql: "CREATE TABLE reading (
        sensor INTEGER NOT NULL REFERENCES sensor (number),
        quantity INTEGER NOT NULL,
        utc_s INTEGER NOT NULL,
        value REAL NOT NULL,
        flag INTEGER NOT NULL,
        import INTEGER REFERENCES log_import (number),
        PRIMARY KEY (sensor, quantity, utc_s)
    ) STRICT, WITHOUT ROWID;",
}];

/// A span of instants, the end not included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// First instant in seconds since 1970.
    pub from_s: i64,
    /// End in seconds since 1970.
    pub to_s: i64,
}

impl Span {
    /// Everything.
    pub const ALL: Self = Self { from_s: i64::MIN, to_s: i64::MAX };
}

/// What a bucket of equal length in time holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bucket {
    /// Begin in seconds since 1970: a multiple of the length.
    pub from_s: i64,
    /// Readings in it.
    pub readings: u32,
    /// Readings that are flagged: they count in none of the figures.
    pub flagged: u32,
    /// Smallest, mean and largest good value; absent where none is good.
    pub figures: Option<[f64; 3]>,
}

/// A series that is stored.
#[derive(Debug, Clone, PartialEq)]
pub struct StoredSeries {
    /// The sensor.
    pub sensor_id: String,
    /// What is measured.
    pub quantity: Quantity,
    /// Readings.
    pub readings: u32,
    /// Readings that are flagged.
    pub flagged: u32,
    /// First instant.
    pub first_utc: DateTime<Utc>,
    /// Last instant.
    pub last_utc: DateTime<Utc>,
    /// Value at the last instant.
    pub last_value: f64,
    /// Smallest and largest good value; absent where none is good.
    pub range: Option<[f64; 2]>,
}

fn out_of_range(column: usize, value: u8) -> rusqlite::Error {
    rusqlite::Error::IntegralValueOutOfRange(column, value.into())
}

impl Reader<'_> {
    /// Readings of a span in order of time.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn readings(
        &self,
        sensor_id: &str,
        quantity: Quantity,
        span: Span,
    ) -> Result<Vec<Reading>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT utc_s, value, flag FROM reading
             WHERE sensor = (SELECT number FROM sensor WHERE id = ?1) AND quantity = ?2
               AND utc_s >= ?3 AND utc_s < ?4 ORDER BY utc_s",
        )?;
        let rows = statement.query_map((sensor_id, quantity.code(), span.from_s, span.to_s), |row| {
            let code: u8 = row.get(2)?;
            let flag = Flag::from_code(code).ok_or_else(|| out_of_range(2, code))?;
            Ok(Reading { utc_s: row.get(0)?, value: row.get(1)?, flag })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Readings of a span gathered into buckets of equal length: the figures of a bucket are those of all its good
    /// readings, so that no minimum is lost however far a chart is drawn apart. Empty buckets are left out.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn buckets(
        &self,
        sensor_id: &str,
        quantity: Quantity,
        span: Span,
        length_s: i64,
    ) -> Result<Vec<Bucket>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT utc_s / :length AS bucket, count(*), sum(flag <> 0),
                 min(value) FILTER (WHERE flag = 0), avg(value) FILTER (WHERE flag = 0),
                 max(value) FILTER (WHERE flag = 0)
             FROM reading
             WHERE sensor = (SELECT number FROM sensor WHERE id = :sensor) AND quantity = :quantity
               AND utc_s >= :from AND utc_s < :to
             GROUP BY bucket ORDER BY bucket",
        )?;
        let length_s = length_s.max(1);
        let rows = statement.query_map(
            named_params! {
                ":sensor": sensor_id,
                ":quantity": quantity.code(),
                ":from": span.from_s.max(0),
                ":to": span.to_s,
                ":length": length_s,
            },
            |row| {
                let bucket: i64 = row.get(0)?;
                let (min, mean, max): (Option<f64>, Option<f64>, Option<f64>) =
                    (row.get(3)?, row.get(4)?, row.get(5)?);
                Ok(Bucket {
                    from_s: bucket * length_s,
                    readings: row.get(1)?,
                    flagged: row.get(2)?,
                    figures: min.zip(mean).zip(max).map(|((min, mean), max)| [min, mean, max]),
                })
            },
        )?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Every series of a site's sensors, in the order of the sensors.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn series_of_site(&self, site_id: &str) -> Result<Vec<StoredSeries>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT sensor.id, reading.quantity, count(*), sum(flag <> 0), min(utc_s), max(utc_s),
                 min(value) FILTER (WHERE flag = 0), max(value) FILTER (WHERE flag = 0),
                 (SELECT value FROM reading AS last WHERE last.sensor = sensor.number
                  AND last.quantity = reading.quantity ORDER BY utc_s DESC LIMIT 1)
             FROM sensor JOIN reading ON reading.sensor = sensor.number
             WHERE sensor.site_id = ?1 AND sensor.removal_id IS NULL
             GROUP BY sensor.number, reading.quantity ORDER BY sensor.number, reading.quantity",
        )?;
        let rows = statement.query_map([site_id], |row| {
            let code: u8 = row.get(1)?;
            let instant = |column: usize| -> rusqlite::Result<DateTime<Utc>> {
                let second: i64 = row.get(column)?;
                DateTime::from_timestamp(second, 0)
                    .ok_or(rusqlite::Error::IntegralValueOutOfRange(column, second))
            };
            let (min, max): (Option<f64>, Option<f64>) = (row.get(6)?, row.get(7)?);
            Ok(StoredSeries {
                sensor_id: row.get(0)?,
                quantity: Quantity::from_code(code).ok_or_else(|| out_of_range(1, code))?,
                readings: row.get(2)?,
                flagged: row.get(3)?,
                first_utc: instant(4)?,
                last_utc: instant(5)?,
                last_value: row.get(8)?,
                range: min.zip(max).map(|(min, max)| [min, max]),
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}

impl Writer<'_> {
    /// Adds the readings of an import; those of instants that have one already are left out. Gives how many were added.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_readings(
        &self,
        import_id: &str,
        sensor_id: &str,
        quantity: Quantity,
        readings: &[Reading],
    ) -> Result<u32, StoreError> {
        let import = self.import_number(import_id)?;
        let sensor: i64 = self
            .connection
            .prepare_cached("SELECT number FROM sensor WHERE id = ?1")?
            .query_row([sensor_id], |row| row.get(0))?;
        let mut insert = self.connection.prepare_cached(
            "INSERT INTO reading (sensor, quantity, utc_s, value, flag, import) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
             ON CONFLICT DO NOTHING",
        )?;
        let mut added = 0usize;
        for reading in readings {
            added += insert.execute((
                sensor,
                quantity.code(),
                reading.utc_s,
                reading.value,
                reading.flag.code(),
                import,
            ))?;
        }
        let count = |number: usize| u32::try_from(number).unwrap_or(u32::MAX);
        self.count_imported(import, count(added), count(readings.len() - added))?;
        Ok(count(added))
    }

    /// Takes away the readings of one series that came with an import.
    pub(super) fn remove_imported(
        &self,
        sensor_id: &str,
        quantity: Quantity,
        import: i64,
    ) -> Result<u32, StoreError> {
        let removed = self
            .connection
            .prepare_cached(
                "DELETE FROM reading WHERE sensor = (SELECT number FROM sensor WHERE id = ?1) AND quantity = ?2
                   AND import = ?3",
            )?
            .execute((sensor_id, quantity.code(), import))?;
        Ok(u32::try_from(removed).unwrap_or(u32::MAX))
    }
}
