//! Days of climate records.

use hibernacle_engine::climate::DailyTemps;

use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 13,
    sql: "CREATE TABLE climate_day (
        site_id TEXT NOT NULL REFERENCES site (id),
        date TEXT NOT NULL,
        min_c REAL,
        max_c REAL,
        PRIMARY KEY (site_id, date)
    ) STRICT, WITHOUT ROWID;",
}];

impl Reader<'_> {
    pub(super) fn climate_days(&self, site_id: &str) -> Result<Vec<DailyTemps>, StoreError> {
        let mut statement = self
            .connection
            .prepare_cached("SELECT date, min_c, max_c FROM climate_day WHERE site_id = ?1 ORDER BY date")?;
        let days = statement.query_map([site_id], |row| {
            Ok(DailyTemps { date: row.get(0)?, min_c: row.get(1)?, max_c: row.get(2)? })
        })?;
        Ok(days.collect::<Result<_, _>>()?)
    }
}

impl Writer<'_> {
    pub(super) fn replace_climate_days(&self, site_id: &str, days: &[DailyTemps]) -> Result<(), StoreError> {
        self.connection.execute("DELETE FROM climate_day WHERE site_id = ?1", [site_id])?;
        let mut insert = self.connection.prepare_cached(
            "INSERT INTO climate_day (site_id, date, min_c, max_c) VALUES (?1, ?2, ?3, ?4)",
        )?;
        for day in days {
            insert.execute((site_id, day.date, day.min_c, day.max_c))?;
        }
        Ok(())
    }
}
