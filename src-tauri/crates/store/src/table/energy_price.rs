//! What fuels cost at a site.

use hibernacle_engine::shelter::EnergyPrice;

use crate::column::Word;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 23,
    sql: "CREATE TABLE energy_price (
        number INTEGER PRIMARY KEY,
        site_id TEXT NOT NULL REFERENCES site (id),
        fuel TEXT NOT NULL,
        per_unit REAL NOT NULL,
        UNIQUE (site_id, fuel)
    ) STRICT;",
}];

impl Reader<'_> {
    /// Prices of the fuels that have one at a site, in the order they were entered.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn prices(&self, site_id: &str) -> Result<Vec<EnergyPrice>, StoreError> {
        let mut statement = self
            .connection
            .prepare_cached("SELECT fuel, per_unit FROM energy_price WHERE site_id = ?1 ORDER BY number")?;
        let prices = statement.query_map([site_id], |row| {
            let Word(fuel) = row.get("fuel")?;
            Ok(EnergyPrice { fuel, per_unit: row.get("per_unit")? })
        })?;
        Ok(prices.collect::<Result<_, _>>()?)
    }
}

impl Writer<'_> {
    /// Enters the prices of a site in place of those it had.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn put_prices(&self, site_id: &str, prices: &[EnergyPrice]) -> Result<(), StoreError> {
        self.connection.prepare_cached("DELETE FROM energy_price WHERE site_id = ?1")?.execute([site_id])?;
        let mut enter = self
            .connection
            .prepare_cached("INSERT INTO energy_price (site_id, fuel, per_unit) VALUES (?1, ?2, ?3)")?;
        for price in prices {
            enter.execute((site_id, Word(price.fuel), price.per_unit))?;
        }
        Ok(())
    }
}
