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

/// Length of the database header (SQLite database file format, section 1.3).
const HEADER_BYTES: usize = 100;

/// Refuses a file that is not ours or is too new, without touching it. A missing or empty file is fine.
pub(crate) fn inspect(file: &Path) -> Result<(), StoreError> {
    let unopened =
        |error: std::io::Error| StoreError::Unopened { file: file.to_owned(), why: error.to_string() };
    let not_ours = |what| StoreError::NotOurs { file: file.to_owned(), what };

    let mut header = Vec::new();
    match File::open(file) {
        Ok(opened) => opened.take(HEADER_BYTES as u64).read_to_end(&mut header).map_err(unopened)?,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(unopened(error)),
    };
    if header.is_empty() {
        return Ok(());
    }
    if header.len() < HEADER_BYTES || !header.starts_with(MAGIC) {
        return Err(not_ours("is not a database"));
    }
    // Reading through SQLite would put files beside this one: the header says enough, unless a program that
    // was killed left newer pages in the write-ahead log.
    let (application, found) = if has_log(file) {
        let connection = reader(file)?;
        (application_id(&connection)?, format_of(&connection)?)
    } else {
        (header_field(&header, 68), header_field(&header, 60))
    };
    if application != APPLICATION_ID {
        return Err(not_ours("is a database of another program"));
    }
    let known = newest_format();
    if found > known {
        return Err(StoreError::TooNew { file: file.to_owned(), found, known });
    }
    Ok(())
}

fn has_log(file: &Path) -> bool {
    let mut log = file.as_os_str().to_owned();
    log.push("-wal");
    std::fs::metadata(log).is_ok_and(|log| log.len() > 0)
}

/// A big-endian number of the database header.
fn header_field(header: &[u8], offset: usize) -> u32 {
    header[offset..].iter().take(4).fold(0, |number, byte| number << 8 | u32::from(*byte))
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
