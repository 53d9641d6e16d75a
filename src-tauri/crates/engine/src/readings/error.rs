//! Why a logger's file cannot be used.

use thiserror::Error;

/// A logger's file of which nothing can be used: what was found where, and the mend.
///
/// Single bad rows are no error: they are listed in [`Rejections`](super::Rejections).
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LogFileError {
    /// Nothing in it.
    #[error("“{file}” is empty; export the readings from the logger once more")]
    Empty {
        /// Name of the file.
        file: String,
    },
    /// Not a text at all.
    #[error("“{file}” is {what}, not a table of text; {mend}")]
    NotText {
        /// Name of the file.
        file: String,
        /// What it seems to be.
        what: &'static str,
        /// What to do.
        mend: &'static str,
    },
    /// More than is taken in at once.
    #[error(
        "“{file}” has {megabytes} MB, and at most {most} MB are read at once; export it in parts, such as one \
         season or one sensor each"
    )]
    TooLarge {
        /// Name of the file.
        file: String,
        /// Its size.
        megabytes: u64,
        /// The limit.
        most: u64,
    },
    /// No row with a time and a number.
    #[error(
        "“{file}”, line {line}: no table with times and numbers was found (this line reads “{found}”); export the \
         readings as CSV, with a column of times and one of values"
    )]
    NoTable {
        /// Name of the file.
        file: String,
        /// 1-based line at which the search began.
        line: u32,
        /// Beginning of that line.
        found: String,
    },
    /// Times that no layout fits.
    #[error("“{file}”, line {line}, column “{field}”: {found}; {mend}")]
    Times {
        /// Name of the file.
        file: String,
        /// 1-based line of the first of them.
        line: u32,
        /// Name of the column.
        field: String,
        /// What is wrong, with an example.
        found: String,
        /// What to do.
        mend: String,
    },
    /// Two columns with one name.
    #[error(
        "“{file}”, line {line}: the columns {first} and {second} are both named “{field}”, so their readings cannot \
         be told apart; give one of them another name in the file, or leave one out"
    )]
    DuplicateColumn {
        /// Name of the file.
        file: String,
        /// 1-based line of the header.
        line: u32,
        /// The name.
        field: String,
        /// Number of the first of the two, from 1.
        first: usize,
        /// Number of the second.
        second: usize,
    },
    /// No column that holds a temperature, a humidity or a power.
    #[error(
        "“{file}”, line {line}: no column with temperatures, humidity or power was found among {found}; say with \
         the options what a column holds"
    )]
    NoValues {
        /// Name of the file.
        file: String,
        /// 1-based line of the header, or of the first row.
        line: u32,
        /// The columns.
        found: String,
    },
    /// A column of names that are no sensors.
    #[error(
        "“{file}”, line {line}, {field}: it holds more than 1000 different words, so these are no sensors; say with the \
         options what it holds, or leave it out"
    )]
    TooManySensors {
        /// Name of the file.
        file: String,
        /// 1-based line of the first row.
        line: u32,
        /// The column.
        field: String,
    },
    /// Columns of values without a value.
    #[error(
        "“{file}”, line {line}: the table has {rows} rows, but no reading could be taken from them ({example}); \
         check that the probe was connected, and the options for decimal mark and delimiter"
    )]
    NoReadings {
        /// Name of the file.
        file: String,
        /// 1-based line of the first row.
        line: u32,
        /// Number of rows.
        rows: usize,
        /// The most frequent reason.
        example: String,
    },
    /// An option that does not fit the file.
    #[error("“{file}”: the option {field} is “{value}”, {problem}; {mend}")]
    Option {
        /// Name of the file.
        file: String,
        /// Name of the option.
        field: String,
        /// What was given.
        value: String,
        /// What is wrong with it.
        problem: String,
        /// What to do.
        mend: String,
    },
}

impl LogFileError {
    /// Name of the file.
    pub fn file(&self) -> &str {
        match self {
            Self::Empty { file }
            | Self::NotText { file, .. }
            | Self::TooLarge { file, .. }
            | Self::NoTable { file, .. }
            | Self::Times { file, .. }
            | Self::DuplicateColumn { file, .. }
            | Self::NoValues { file, .. }
            | Self::TooManySensors { file, .. }
            | Self::NoReadings { file, .. }
            | Self::Option { file, .. } => file,
        }
    }

    /// 1-based line concerned.
    pub fn line(&self) -> Option<u32> {
        match self {
            Self::NoTable { line, .. }
            | Self::Times { line, .. }
            | Self::DuplicateColumn { line, .. }
            | Self::NoValues { line, .. }
            | Self::TooManySensors { line, .. }
            | Self::NoReadings { line, .. } => Some(*line),
            Self::Empty { .. } | Self::NotText { .. } | Self::TooLarge { .. } | Self::Option { .. } => None,
        }
    }

    /// Column or option concerned.
    pub fn field(&self) -> Option<&str> {
        match self {
            Self::Times { field, .. }
            | Self::TooManySensors { field, .. }
            | Self::DuplicateColumn { field, .. }
            | Self::Option { field, .. } => Some(field),
            _ => None,
        }
    }
}
