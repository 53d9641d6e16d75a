//! What can go wrong with the data file.

use std::path::PathBuf;

use rusqlite::ErrorCode;
use thiserror::Error;

/// Why data could not be read or written. Nothing was changed.
#[derive(Debug, Error)]
pub enum StoreError {
    /// The file was written by a newer program.
    #[error(
        "{}: written by a newer Hibernacle (data format {found}, this program knows {known}); \
         nothing was changed. Install the newer program, or set another data folder",
        file.display()
    )]
    TooNew {
        /// The file.
        file: PathBuf,
        /// Its data format.
        found: u32,
        /// The newest format that this program knows.
        known: u32,
    },
    /// The file is something else.
    #[error(
        "{}: {what}; nothing was changed. Move the file away, or set another data folder",
        file.display()
    )]
    NotOurs {
        /// The file.
        file: PathBuf,
        /// What it seems to be.
        what: &'static str,
    },
    /// The file cannot be opened.
    #[error("{}: cannot be opened ({why}); check that the folder exists and may be written", file.display())]
    Unopened {
        /// The file.
        file: PathBuf,
        /// What the system said.
        why: String,
    },
    /// Another program holds the file.
    #[error("another program is writing to the data; nothing was changed, try again in a moment")]
    Busy,
    /// No room is left.
    #[error("the disk is full; nothing was changed. Make room and try again")]
    Full,
    /// The file or its folder may not be written.
    #[error("the data may not be written; nothing was changed. Check the rights of the data folder")]
    ReadOnly,
    /// Part of the file cannot be understood.
    #[error("the data file is damaged ({what}); put back a copy of it from a backup")]
    Damaged {
        /// Where and how.
        what: String,
    },
    /// The tables could not be brought up to date.
    #[error("the tables could not be brought up to date ({what}); nothing was changed")]
    Migration {
        /// What failed.
        what: String,
    },
    /// Anything else that the database reports.
    #[error("the database refused ({0}); nothing was changed")]
    Database(rusqlite::Error),
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        match error.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => return Self::Busy,
            Some(ErrorCode::DiskFull) => return Self::Full,
            Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied) => return Self::ReadOnly,
            Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
                return Self::Damaged { what: error.to_string() };
            }
            _ => {}
        }
        match error {
            rusqlite::Error::FromSqlConversionFailure(..)
            | rusqlite::Error::InvalidColumnType(..)
            | rusqlite::Error::IntegralValueOutOfRange(..) => Self::Damaged { what: error.to_string() },
            other => Self::Database(other),
        }
    }
}
