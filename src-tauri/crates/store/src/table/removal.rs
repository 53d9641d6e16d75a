//! Removals that can be undone.

use chrono::{DateTime, Utc};
use rusqlite::{OptionalExtension, named_params};
use serde::{Deserialize, Serialize};

use crate::column::Word;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 3,
    sql: "CREATE TABLE removal (
        id TEXT PRIMARY KEY NOT NULL,
        kind TEXT NOT NULL,
        item_id TEXT NOT NULL,
        name TEXT NOT NULL,
        removed_at_utc TEXT NOT NULL,
        restored_at_utc TEXT
    ) STRICT, WITHOUT ROWID;",
}];

/// Kind of thing that can be removed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RemovedKind {
    /// A site with all that is on it.
    Site,
    /// A shelter with its zones, heaters and sensors.
    Shelter,
    /// A zone with its sensors.
    Zone,
    /// A planting.
    Planting,
    /// A heater.
    Heater,
    /// A sensor.
    Sensor,
}

/// A removal to be made.
#[derive(Debug, Clone)]
pub struct NewRemoval<'a> {
    /// Identifier of the removal.
    pub id: &'a str,
    /// Kind of thing.
    pub kind: RemovedKind,
    /// The thing.
    pub item_id: &'a str,
    /// Its name.
    pub name: &'a str,
    /// When.
    pub at_utc: DateTime<Utc>,
}

/// A removal that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Removal {
    /// Identifier of the removal.
    pub id: String,
    /// Kind of thing.
    pub kind: RemovedKind,
    /// The thing.
    pub item_id: String,
    /// Its name.
    pub name: String,
    /// When it was undone; absent while it stands.
    pub restored_at_utc: Option<DateTime<Utc>>,
}

impl Reader<'_> {
    /// A removal by its identifier.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn removal(&self, id: &str) -> Result<Option<Removal>, StoreError> {
        Ok(self
            .connection
            .prepare_cached("SELECT id, kind, item_id, name, restored_at_utc FROM removal WHERE id = ?1")?
            .query_row([id], |row| {
                let Word(kind) = row.get("kind")?;
                Ok(Removal {
                    id: row.get("id")?,
                    kind,
                    item_id: row.get("item_id")?,
                    name: row.get("name")?,
                    restored_at_utc: row.get("restored_at_utc")?,
                })
            })
            .optional()?)
    }
}

impl Writer<'_> {
    /// Takes a thing and what belongs to it out of sight, and remembers which plantings lost their place.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn remove(&self, removal: &NewRemoval<'_>) -> Result<(), StoreError> {
        self.connection
            .prepare_cached(
                "INSERT INTO removal (id, kind, item_id, name, removed_at_utc)
                 VALUES (:id, :kind, :item_id, :name, :at_utc)",
            )?
            .execute(named_params! {
                ":id": removal.id,
                ":kind": Word(removal.kind),
                ":item_id": removal.item_id,
                ":name": removal.name,
                ":at_utc": removal.at_utc,
            })?;
        let (id, item) = (removal.id, removal.item_id);
        match removal.kind {
            RemovedKind::Site => {
                self.mark_site_removed(item, id)?;
                self.mark_shelters_of_site_removed(item, id)?;
                self.mark_zones_of_site_removed(item, id)?;
                self.mark_heaters_of_site_removed(item, id)?;
                self.mark_sensors_of_site_removed(item, id)?;
                self.mark_plantings_of_site_removed(item, id)
            }
            RemovedKind::Shelter => {
                for zone in self.zones_of_shelter(item)? {
                    self.unlink_zone(&zone.id, id)?;
                    self.mark_sensors_of_zone_removed(&zone.id, id)?;
                }
                self.mark_heaters_of_shelter_removed(item, id)?;
                self.mark_zones_of_shelter_removed(item, id)?;
                self.mark_shelter_removed(item, id)
            }
            RemovedKind::Zone => {
                self.unlink_zone(item, id)?;
                self.mark_sensors_of_zone_removed(item, id)?;
                self.mark_zone_removed(item, id)
            }
            RemovedKind::Planting => self.mark_planting_removed(item, id),
            RemovedKind::Heater => self.mark_heater_removed(item, id),
            RemovedKind::Sensor => self.mark_sensor_removed(item, id),
        }
    }

    /// Brings back everything that a removal took. Plantings get their place back unless the grower has given
    /// them another one since.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn restore(&self, removal_id: &str, at_utc: DateTime<Utc>) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE removal SET restored_at_utc = ?2 WHERE id = ?1")?
            .execute((removal_id, at_utc))?;
        for table in ["site", "shelter", "zone", "planting", "heater", "sensor"] {
            self.connection.execute(
                &format!("UPDATE {table} SET removal_id = NULL WHERE removal_id = ?1"),
                [removal_id],
            )?;
        }
        self.relink(removal_id)
    }
}
