//! Places that plantings lost when a zone was removed.

use crate::migration::Step;
use crate::{StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 4,
    sql: "CREATE TABLE removal_link (
        removal_id TEXT NOT NULL REFERENCES removal (id),
        planting_id TEXT NOT NULL REFERENCES planting (id),
        zone_id TEXT NOT NULL REFERENCES zone (id),
        PRIMARY KEY (removal_id, planting_id)
    ) STRICT, WITHOUT ROWID;",
}];

impl Writer<'_> {
    /// Takes every planting, removed ones too, out of a zone and remembers it.
    pub(super) fn unlink_zone(&self, zone_id: &str, removal_id: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO removal_link (removal_id, planting_id, zone_id)
                 SELECT ?2, id, zone_id FROM planting WHERE zone_id = ?1",
            )?
            .execute([zone_id, removal_id])?;
        self.connection
            .prepare_cached("UPDATE planting SET zone_id = NULL WHERE zone_id = ?1")?
            .execute([zone_id])?;
        Ok(())
    }

    /// Puts plantings without a place back into the zones that a removal took them out of.
    pub(super) fn relink(&self, removal_id: &str) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "UPDATE planting SET zone_id = removal_link.zone_id FROM removal_link
                 WHERE removal_link.removal_id = ?1 AND removal_link.planting_id = planting.id
                   AND planting.zone_id IS NULL",
            )?
            .execute([removal_id])?;
        Ok(())
    }
}
