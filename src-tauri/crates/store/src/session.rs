//! The open data: many readers, one writer.

use std::ops::Deref;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use rusqlite::{Connection, TransactionBehavior};

use crate::{StoreError, migration, opening};

/// The grower's data. Shared by all threads of a program.
pub struct Store {
    writer: Mutex<Connection>,
    readers: Option<Readers>,
}

/// Connections that only read, kept for the next read. Data in memory has none: it is read through the writer.
struct Readers {
    file: PathBuf,
    idle: Mutex<Vec<Connection>>,
}

/// A consistent view of the data; the queries stand in the files of the tables.
pub struct Reader<'a> {
    pub(crate) connection: &'a Connection,
}

/// A change in progress: everything done through it becomes visible at once, or nothing does.
pub struct Writer<'a>(Reader<'a>);

impl<'a> Deref for Writer<'a> {
    type Target = Reader<'a>;

    fn deref(&self) -> &Reader<'a> {
        &self.0
    }
}

impl Store {
    /// Opens a data file, makes it where it is missing and brings its tables up to date.
    ///
    /// # Errors
    /// [`StoreError::TooNew`] and [`StoreError::NotOurs`] for files that are left untouched, and others where
    /// the file cannot be used.
    pub fn open(file: &Path) -> Result<Self, StoreError> {
        opening::inspect(file)?;
        let mut connection = opening::writer(file)?;
        migration::bring_up_to_date(&mut connection)?;
        let readers = Readers { file: file.to_owned(), idle: Mutex::default() };
        Ok(Self { writer: Mutex::new(connection), readers: Some(readers) })
    }

    /// Data that is gone when the store is.
    ///
    /// # Errors
    /// When memory does not suffice.
    pub fn in_memory() -> Result<Self, StoreError> {
        let mut connection = opening::in_memory()?;
        migration::bring_up_to_date(&mut connection)?;
        Ok(Self { writer: Mutex::new(connection), readers: None })
    }

    /// Reads: everything seen inside `work` belongs to one moment.
    ///
    /// # Errors
    /// Those of `work`, and [`StoreError`] where the data cannot be read.
    pub fn read<T, E: From<StoreError>>(
        &self,
        work: impl FnOnce(&Reader<'_>) -> Result<T, E>,
    ) -> Result<T, E> {
        match &self.readers {
            None => view(&mut lock(&self.writer), work),
            Some(readers) => {
                let idle = lock(&readers.idle).pop();
                let mut connection = match idle {
                    Some(connection) => connection,
                    None => opening::reader(&readers.file)?,
                };
                let result = view(&mut connection, work);
                lock(&readers.idle).push(connection);
                result
            }
        }
    }

    /// Changes data in one transaction: an error inside `work` leaves everything as it was.
    ///
    /// # Errors
    /// Those of `work`, and [`StoreError`] where the data cannot be written.
    pub fn write<T, E: From<StoreError>>(
        &self,
        work: impl FnOnce(&Writer<'_>) -> Result<T, E>,
    ) -> Result<T, E> {
        let mut connection = lock(&self.writer);
        let transaction =
            connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(StoreError::from)?;
        let writer = Writer(Reader { connection: &transaction });
        let result = work(&writer)?;
        writer.count_change()?;
        transaction.commit().map_err(StoreError::from)?;
        Ok(result)
    }
}

fn view<T, E: From<StoreError>>(
    connection: &mut Connection,
    work: impl FnOnce(&Reader<'_>) -> Result<T, E>,
) -> Result<T, E> {
    let transaction =
        connection.transaction_with_behavior(TransactionBehavior::Deferred).map_err(StoreError::from)?;
    work(&Reader { connection: &transaction })
}

/// A thread that panicked inside a transaction rolled it back: the connection is sound.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
