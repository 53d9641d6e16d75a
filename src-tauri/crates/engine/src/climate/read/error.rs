//! Why a climate file cannot be used.

use thiserror::Error;

use crate::site::TemperatureUnit;

/// A climate file that cannot be used: what was found where, and the mend.
///
/// Single bad lines are no error: they become [`RecordProblem`](crate::climate::RecordProblem)s of the record.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ClimateFileError {
    /// Nothing in it.
    #[error("“{file}” is empty; {}", mend::EMPTY)]
    Empty {
        /// Name of the file.
        file: String,
    },
    /// No layout that is understood.
    #[error(
        "“{file}”, line {line}: “{found}” is not a daily climate record that is understood; {}",
        mend::UNKNOWN
    )]
    UnknownLayout {
        /// Name of the file.
        file: String,
        /// 1-based line.
        line: u32,
        /// Beginning of the line.
        found: String,
    },
    /// Quoting or text that the CSV rules do not allow.
    #[error("“{file}”, line {line}: {found}; {}", mend::UNREADABLE)]
    Unreadable {
        /// Name of the file.
        file: String,
        /// 1-based line.
        line: u32,
        /// What was found.
        found: String,
    },
    /// A column that is needed is absent.
    #[error("“{file}”, line {line}: there is no column “{field}”; {}", mend::COLUMN)]
    ColumnMissing {
        /// Name of the file.
        file: String,
        /// 1-based line of the header.
        line: u32,
        /// Name of the column.
        field: String,
    },
    /// Neither the header nor the caller says in which unit the temperatures are.
    #[error("“{file}”, line {line}, column “{field}”: {found}; {}", mend::UNIT)]
    UnitMissing {
        /// Name of the file.
        file: String,
        /// 1-based line of the header, or of the first row.
        line: u32,
        /// Name of the column.
        field: String,
        /// What the values let suppose.
        found: String,
    },
    /// The values cannot be in the unit that was given.
    #[error("“{file}”, line {line}, column “{field}”: {found}; {}", mend::OTHER_UNIT)]
    UnitImpossible {
        /// Name of the file.
        file: String,
        /// 1-based line of an impossible value.
        line: u32,
        /// Name of the column.
        field: String,
        /// The unit that was assumed.
        unit: TemperatureUnit,
        /// What was found.
        found: String,
    },
    /// Minima above the maxima on most days.
    #[error("“{file}”, line {line}: the minimum is above the maximum on {days} days; {}", mend::SWAPPED)]
    Swapped {
        /// Name of the file.
        file: String,
        /// 1-based line of the first such day.
        line: u32,
        /// Number of days.
        days: u32,
    },
    /// More than one station.
    #[error(
        "“{file}”, line {line}, column “{field}”: station {second} follows on {first}; {}",
        mend::STATIONS
    )]
    SeveralStations {
        /// Name of the file.
        file: String,
        /// 1-based line of the second station.
        line: u32,
        /// Name of the column.
        field: String,
        /// The station of the lines before.
        first: String,
        /// The other station.
        second: String,
    },
    /// No day with a minimum is left.
    #[error("“{file}”: no day has a minimum temperature that can be used{reason}; {}", mend::NO_DAYS)]
    NoUsableDays {
        /// Name of the file.
        file: String,
        /// 1-based line of the first problem, where there was one.
        line: Option<u32>,
        /// The first problem, with its line, as an addition in brackets; empty where there was none.
        reason: String,
    },
}

mod mend {
    pub(super) const EMPTY: &str = "choose the file again, or download it anew";
    pub(super) const UNKNOWN: &str = "use a GHCN-Daily file of one station (.dly or .csv), or a table with the \
                                      header date,tmin_c,tmax_c";
    pub(super) const UNREADABLE: &str = "save the table anew as comma-separated text (UTF-8)";
    pub(super) const COLUMN: &str = "name the columns date, tmin_c and tmax_c (or tmin_f and tmax_f)";
    pub(super) const UNIT: &str = "say whether the file is in °C or °F, or name the columns tmin_c, tmax_c or \
                                   tmin_f, tmax_f";
    pub(super) const OTHER_UNIT: &str = "choose the other unit; if the unit is right, name it in the header \
                                         (tmin_c or tmin_f) and mend the values";
    pub(super) const SWAPPED: &str = "check which column is which: date, minimum, maximum";
    pub(super) const STATIONS: &str = "use a file of one station only";
    pub(super) const NO_DAYS: &str = "choose a file with daily minimum temperatures (TMIN)";
}

impl ClimateFileError {
    /// Name of the file.
    pub fn file(&self) -> &str {
        match self {
            Self::Empty { file }
            | Self::UnknownLayout { file, .. }
            | Self::Unreadable { file, .. }
            | Self::ColumnMissing { file, .. }
            | Self::UnitMissing { file, .. }
            | Self::UnitImpossible { file, .. }
            | Self::Swapped { file, .. }
            | Self::SeveralStations { file, .. }
            | Self::NoUsableDays { file, .. } => file,
        }
    }

    /// 1-based line, where one line is to blame.
    pub fn line(&self) -> Option<u32> {
        match self {
            Self::Empty { .. } => None,
            Self::NoUsableDays { line, .. } => *line,
            Self::UnknownLayout { line, .. }
            | Self::Unreadable { line, .. }
            | Self::ColumnMissing { line, .. }
            | Self::UnitMissing { line, .. }
            | Self::UnitImpossible { line, .. }
            | Self::Swapped { line, .. }
            | Self::SeveralStations { line, .. } => Some(*line),
        }
    }

    /// Name of the column, where one is to blame.
    pub fn field(&self) -> Option<&str> {
        match self {
            Self::ColumnMissing { field, .. }
            | Self::UnitMissing { field, .. }
            | Self::UnitImpossible { field, .. }
            | Self::SeveralStations { field, .. } => Some(field),
            Self::Empty { .. }
            | Self::UnknownLayout { .. }
            | Self::Unreadable { .. }
            | Self::Swapped { .. }
            | Self::NoUsableDays { .. } => None,
        }
    }

    /// What to do, as a phrase.
    pub fn mend(&self) -> &'static str {
        match self {
            Self::Empty { .. } => mend::EMPTY,
            Self::UnknownLayout { .. } => mend::UNKNOWN,
            Self::Unreadable { .. } => mend::UNREADABLE,
            Self::ColumnMissing { .. } => mend::COLUMN,
            Self::UnitMissing { .. } => mend::UNIT,
            Self::UnitImpossible { .. } => mend::OTHER_UNIT,
            Self::Swapped { .. } => mend::SWAPPED,
            Self::SeveralStations { .. } => mend::STATIONS,
            Self::NoUsableDays { .. } => mend::NO_DAYS,
        }
    }
}
