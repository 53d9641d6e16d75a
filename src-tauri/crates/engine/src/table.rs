//! Tables of the catalogue: rows of one kind by key, read from TOML, each with its support.

use std::collections::BTreeMap;

use serde::de::DeserializeOwned;
use thiserror::Error;
use toml::Spanned;

use crate::field::{FieldError, filled};
use crate::lines::Lines;
use crate::plant::Evidence;

/// A row of a table.
pub(crate) trait Row: DeserializeOwned {
    /// Name of the table's array in its file.
    const TABLE: &'static str;
    /// What other records call the row by.
    fn key(&self) -> &str;
    /// How well the row is supported, and by what.
    fn support(&self) -> (Evidence, &str);
    /// Checks the figures of the row.
    ///
    /// # Errors
    /// The first field that cannot be used.
    fn check_figures(&self) -> Result<(), FieldError>;

    /// Checks the whole row.
    ///
    /// # Errors
    /// The first field that cannot be used.
    fn check(&self) -> Result<(), FieldError> {
        filled("key", self.key(), "give the row a key")?;
        self.check_figures()?;
        let (evidence, source) = self.support();
        if evidence.needs_source() {
            filled("source", source, "name where the figures come from")?;
        }
        Ok(())
    }
}

/// Why a table could not be read.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum TableError {
    /// The text is not such a table.
    #[error("{file}: {message}")]
    Syntax {
        /// File the text came from.
        file: String,
        /// What the reader said, with line and column.
        message: String,
    },
    /// A row has a field that cannot be used.
    #[error("{file}, line {line}, “{key}”: {source}")]
    Row {
        /// File the text came from.
        file: String,
        /// 1-based line on which the row begins.
        line: usize,
        /// Key of the row.
        key: String,
        /// The field and the mend.
        source: Box<FieldError>,
    },
    /// Two rows have one key.
    #[error("{file}, line {line}: the key “{key}” stands twice; rename one of the two rows")]
    Twice {
        /// File the text came from.
        file: String,
        /// 1-based line on which the second row begins.
        line: usize,
        /// The key.
        key: String,
    },
}

/// Reads a file that holds one table, rows by key.
///
/// # Errors
/// [`TableError`] with file, line and field.
pub(crate) fn read<R: Row>(file: &str, text: &str) -> Result<BTreeMap<String, R>, TableError> {
    let syntax = |e: toml::de::Error| TableError::Syntax { file: file.to_owned(), message: e.to_string() };
    let parsed: BTreeMap<String, Vec<Spanned<R>>> = toml::from_str(text).map_err(syntax)?;
    let lines = Lines::of(text);
    let mut rows = BTreeMap::new();
    for (table, entries) in parsed {
        if table != R::TABLE {
            let message = format!("“[[{table}]]” is not known here; write [[{}]]", R::TABLE);
            return Err(TableError::Syntax { file: file.to_owned(), message });
        }
        for entry in entries {
            let line = lines.number(entry.span().start);
            let row = entry.into_inner();
            let key = row.key().to_owned();
            row.check().map_err(|source| TableError::Row {
                file: file.to_owned(),
                line,
                key: key.clone(),
                source: Box::new(source),
            })?;
            if rows.insert(key.clone(), row).is_some() {
                return Err(TableError::Twice { file: file.to_owned(), line, key });
            }
        }
    }
    Ok(rows)
}
