//! What growers did with chores: entries are added and undone, never changed or deleted.

use chrono::{DateTime, NaiveDate, Utc};
use hibernacle_engine::season::{Mark, MarkKind};
use rusqlite::{Row, named_params};

use crate::column::Word;
use crate::migration::Step;
use crate::{Reader, StoreError, Writer};

pub(crate) const STEPS: &[Step] = &[Step {
    number: 11,
    sql: "CREATE TABLE chore_mark (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        site_id TEXT NOT NULL,
        start_year INTEGER NOT NULL,
        chore_key TEXT NOT NULL,
        kind TEXT NOT NULL,
        day TEXT NOT NULL,
        reason TEXT,
        at_utc TEXT NOT NULL,
        undone_at_utc TEXT,
        FOREIGN KEY (site_id, start_year) REFERENCES season (site_id, start_year),
        CHECK ((kind = 'skipped') = (reason IS NOT NULL))
    ) STRICT;
    CREATE INDEX chore_mark_of_season ON chore_mark (site_id, start_year, chore_key);",
}];

/// An entry of a chore's history.
#[derive(Debug, Clone, PartialEq)]
pub struct StoredMark {
    /// Place in the order of all entries.
    pub number: i64,
    /// The entry.
    pub mark: Mark,
    /// When it was undone; absent where it stands.
    pub undone_at_utc: Option<DateTime<Utc>>,
}

/// The kind without its day and reason, which have columns of their own.
#[derive(Clone, Copy, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
enum KindWord {
    Done,
    Skipped,
    Moved,
}

fn stored_mark(row: &Row<'_>) -> rusqlite::Result<StoredMark> {
    let day: NaiveDate = row.get("day")?;
    let kind = match row.get("kind")? {
        Word(KindWord::Done) => MarkKind::Done { on: day },
        Word(KindWord::Skipped) => MarkKind::Skipped { on: day, reason: row.get("reason")? },
        Word(KindWord::Moved) => MarkKind::Moved { to: day },
    };
    Ok(StoredMark {
        number: row.get("number")?,
        mark: Mark { chore_key: row.get("chore_key")?, kind, at_utc: row.get("at_utc")? },
        undone_at_utc: row.get("undone_at_utc")?,
    })
}

impl Reader<'_> {
    /// Entries of a season that stand, in the order they were made.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn standing_marks(&self, site_id: &str, start_year: i32) -> Result<Vec<Mark>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT * FROM chore_mark WHERE site_id = ?1 AND start_year = ?2 AND undone_at_utc IS NULL
             ORDER BY number",
        )?;
        let marks =
            statement.query_map((site_id, start_year), |row| stored_mark(row).map(|stored| stored.mark))?;
        Ok(marks.collect::<Result<_, _>>()?)
    }

    /// All entries of a chore in the order they were made.
    ///
    /// # Errors
    /// When the data cannot be read.
    pub fn chore_history(
        &self,
        site_id: &str,
        start_year: i32,
        chore_key: &str,
    ) -> Result<Vec<StoredMark>, StoreError> {
        let mut statement = self.connection.prepare_cached(
            "SELECT * FROM chore_mark WHERE site_id = ?1 AND start_year = ?2 AND chore_key = ?3
             ORDER BY number",
        )?;
        let marks = statement.query_map((site_id, start_year, chore_key), stored_mark)?;
        Ok(marks.collect::<Result<_, _>>()?)
    }
}

impl Writer<'_> {
    /// Adds an entry to the history of a chore. The season must have begun.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn add_mark(&self, site_id: &str, start_year: i32, mark: &Mark) -> Result<(), StoreError> {
        let (kind, day, reason) = match &mark.kind {
            MarkKind::Done { on } => (KindWord::Done, *on, None),
            MarkKind::Skipped { on, reason } => (KindWord::Skipped, *on, Some(reason)),
            MarkKind::Moved { to } => (KindWord::Moved, *to, None),
        };
        self.connection
            .prepare_cached(
                "INSERT INTO chore_mark (site_id, start_year, chore_key, kind, day, reason, at_utc)
                 VALUES (:site_id, :start_year, :chore_key, :kind, :day, :reason, :at_utc)",
            )?
            .execute(named_params! {
                ":site_id": site_id,
                ":start_year": start_year,
                ":chore_key": mark.chore_key,
                ":kind": Word(kind),
                ":day": day,
                ":reason": reason,
                ":at_utc": mark.at_utc,
            })?;
        Ok(())
    }

    /// Notes that an entry was undone.
    ///
    /// # Errors
    /// When the data cannot be written.
    pub fn undo_mark(&self, number: i64, at_utc: DateTime<Utc>) -> Result<(), StoreError> {
        self.connection
            .prepare_cached("UPDATE chore_mark SET undone_at_utc = ?2 WHERE number = ?1")?
            .execute((number, at_utc))?;
        Ok(())
    }
}
