//! Looking at a file before anything is written to it, and the settings of a connection.

use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::time::Duration;

use rusqlite::{Connection, OpenFlags, TransactionBehavior};

use crate::StoreError;
use crate::migration::{format_of, newest_format};

/// Marks the file as ours in the header of the database (`HBNC`).
const APPLICATION_ID: u32 = 0x4842_4e43;

/// First bytes of every SQLite database (SQLite database file format, section 1.3).
const MAGIC: &[u8; 16] = b"SQLite format 3\0";

/// How long a writer waits for another program's write to end.
const BUSY_WAIT: Duration = Duration::from_secs(5);

/// Refuses a file that is not ours or is too new, without touching it. A missing or empty file is fine.
pub(crate) fn inspect(file: &Path) -> Result<(), StoreError> {
    let unopened = |why: String| StoreError::Unopened { file: file.to_owned(), why };
    let not_ours = |what| StoreError::NotOurs { file: file.to_owned(), what };

    let mut head = Vec::new();
    match File::open(file) {
        Ok(opened) => opened.take(16).read_to_end(&mut head).map_err(|error| unopened(error.to_string()))?,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(unopened(error.to_string())),
    };
    if head.is_empty() {
        return Ok(());
    }
    if head != MAGIC {
        return Err(not_ours("is not a database"));
    }

    let connection = Connection::open_with_flags(
        file,
        OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX,
    )?;
    connection.busy_timeout(BUSY_WAIT)?;
    let tables: u32 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if application_id(&connection)? != APPLICATION_ID && tables > 0 {
        return Err(not_ours("is a database of another program"));
    }
    let found = format_of(&connection)?;
    let known = newest_format();
    if found > known {
        return Err(StoreError::TooNew { file: file.to_owned(), found, known });
    }
    Ok(())
}

fn application_id(connection: &Connection) -> rusqlite::Result<u32> {
    connection.pragma_query_value(None, "application_id", |row| row.get(0))
}

/// Opens the one connection that writes.
pub(crate) fn writer(file: &Path) -> Result<Connection, StoreError> {
    let connection = Connection::open(file)
        .map_err(|error| StoreError::Unopened { file: file.to_owned(), why: error.to_string() })?;
    connection.busy_timeout(BUSY_WAIT)?;
    if application_id(&connection)? != APPLICATION_ID {
        connection.pragma_update(None, "application_id", APPLICATION_ID)?;
    }
    connection.pragma_update(None, "journal_mode", "WAL")?;
    // In WAL mode only FULL makes sure that an acknowledged write survives a power cut.
    connection.pragma_update(None, "synchronous", "FULL")?;
    prepare_writer(connection)
}

/// Opens a database that lives in memory only.
pub(crate) fn in_memory() -> Result<Connection, StoreError> {
    prepare_writer(Connection::open_in_memory()?)
}

fn prepare_writer(mut connection: Connection) -> Result<Connection, StoreError> {
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.set_prepared_statement_cache_capacity(64);
    // A write that starts by reading must not find the file taken half-way.
    connection.set_transaction_behavior(TransactionBehavior::Immediate);
    Ok(connection)
}

/// Opens a connection that only reads.
pub(crate) fn reader(file: &Path) -> Result<Connection, StoreError> {
    let connection = Connection::open_with_flags(
        file,
        OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX,
    )?;
    connection.busy_timeout(BUSY_WAIT)?;
    connection.set_prepared_statement_cache_capacity(64);
    Ok(connection)
}
