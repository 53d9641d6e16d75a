//! Bringing the tables up to date, all or nothing.

use rusqlite::Connection;
use rusqlite_migration::{M, Migrations};

use crate::StoreError;
use crate::table;

/// One change of the tables. A step that was ever released is never edited; a later one changes it.
pub(crate) struct Step {
    /// Place in the order of all steps, from 1; the data format after it.
    pub(crate) number: u32,
    /// What to run.
    pub(crate) sql: &'static str,
}

/// All steps in order.
pub(crate) fn steps() -> Vec<&'static Step> {
    let mut steps: Vec<&Step> = table::STEPS.iter().copied().flatten().collect();
    steps.sort_by_key(|step| step.number);
    steps
}

/// The data format that this program writes.
pub(crate) fn newest_format() -> u32 {
    steps().last().map_or(0, |step| step.number)
}

/// The data format of an open database.
pub(crate) fn format_of(connection: &Connection) -> rusqlite::Result<u32> {
    connection.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// Runs the steps that are missing in one transaction.
pub(crate) fn bring_up_to_date(connection: &mut Connection) -> Result<(), StoreError> {
    let migrations = Migrations::new(steps().into_iter().map(|step| M::up(step.sql)).collect());
    match migrations.to_latest(connection) {
        Ok(()) => Ok(()),
        // Two programs may open a new file at once: then the other one did the work.
        Err(_) if format_of(connection).is_ok_and(|format| format == newest_format()) => Ok(()),
        Err(error) => Err(StoreError::Migration { what: error.to_string() }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_numbered_from_one_without_a_gap() {
        let numbers: Vec<u32> = steps().iter().map(|step| step.number).collect();
        let expected: Vec<u32> = (1..=numbers.len() as u32).collect();
        assert_eq!(numbers, expected);
    }

    #[test]
    fn a_failing_step_leaves_nothing_behind() {
        let mut connection = Connection::open_in_memory().unwrap();
        let migrations = Migrations::new(vec![
            M::up("CREATE TABLE first (a INTEGER) STRICT"),
            M::up("CREATE TABLE second (a NOTYPE) STRICT"),
        ]);
        assert!(migrations.to_latest(&mut connection).is_err());
        let tables: u32 =
            connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0)).unwrap();
        assert_eq!((tables, format_of(&connection).unwrap()), (0, 0));
    }
}
