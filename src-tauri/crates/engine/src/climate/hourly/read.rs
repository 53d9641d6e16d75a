//! Files of hourly weather.

use chrono::{DateTime, NaiveDateTime, Utc};
use thiserror::Error;

use super::WeatherReport;
use crate::climate::ClimateFileError;
use crate::climate::read::plain::{Cell, normal, number};
use crate::climate::read::{csv_rows, delimiter_of};

/// A file of hourly weather that cannot be used: what was found where, and the mend.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum HourlyFileError {
    /// Nothing in it.
    #[error("“{file}” is empty; choose the file again, or download it anew")]
    Empty {
        /// Name of the file.
        file: String,
    },
    /// Quoting or text that the CSV rules do not allow.
    #[error(transparent)]
    Table(#[from] ClimateFileError),
    /// A column that is needed is absent.
    #[error("“{file}”, line {line}: there is no column “{field}”; {}", HEADER)]
    ColumnMissing {
        /// Name of the file.
        file: String,
        /// 1-based line of the header.
        line: u32,
        /// Name of the column.
        field: String,
    },
    /// A column whose unit is not known.
    #[error("“{file}”, line {line}, column “{field}”: its unit is not given; name it {expected}")]
    UnitMissing {
        /// Name of the file.
        file: String,
        /// 1-based line of the header.
        line: u32,
        /// Name of the column.
        field: String,
        /// Names that would do.
        expected: &'static str,
    },
    /// Two columns of one quantity.
    #[error(
        "“{file}”, line {line}: the columns “{first}” and “{field}” give the same quantity; leave one out"
    )]
    Twice {
        /// Name of the file.
        file: String,
        /// 1-based line of the header.
        line: u32,
        /// Name of the first column.
        first: String,
        /// Name of the second column.
        field: String,
    },
    /// A cell that cannot be read.
    #[error("“{file}”, line {line}, column “{field}”: “{found}” {problem}")]
    Cell {
        /// Name of the file.
        file: String,
        /// 1-based line.
        line: u32,
        /// Name of the column.
        field: String,
        /// What stands there.
        found: String,
        /// What is wrong with it and the mend.
        problem: &'static str,
    },
    /// No temperature at all.
    #[error("“{file}” holds no temperature; choose a file with hourly temperatures")]
    NoTemperature {
        /// Name of the file.
        file: String,
    },
}

const HEADER: &str = "begin the table with a line such as time_utc,temp_c,humidity_pct,wind_m_per_s";
const NOT_A_NUMBER: &str = "is not a number; correct it, or leave the cell empty where the value is missing";
const NOT_A_TIME: &str =
    "is not a date with a time; write it as 2026-01-31 05:00 or with its offset, 2026-01-31T06:00+01:00";
const NO_OFFSET: &str =
    "has no offset from UTC; add one (06:00+01:00), or name the column time_utc if it is UTC";

impl HourlyFileError {
    /// 1-based line, where one line is to blame.
    pub fn line(&self) -> Option<u32> {
        match self {
            Self::Empty { .. } | Self::NoTemperature { .. } => None,
            Self::Table(error) => error.line(),
            Self::ColumnMissing { line, .. }
            | Self::UnitMissing { line, .. }
            | Self::Twice { line, .. }
            | Self::Cell { line, .. } => Some(*line),
        }
    }

    /// Name of the column, where one is to blame.
    pub fn field(&self) -> Option<&str> {
        match self {
            Self::Empty { .. } | Self::NoTemperature { .. } => None,
            Self::Table(error) => error.field(),
            Self::ColumnMissing { field, .. }
            | Self::UnitMissing { field, .. }
            | Self::Twice { field, .. }
            | Self::Cell { field, .. } => Some(field),
        }
    }
}

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Quantity {
    Time { is_utc: bool },
    Temp,
    DewPoint,
    Humidity,
    Wind,
    Cloud,
    Sun,
}

/// A column with the factor and offset that turn its figures into the report's unit.
#[derive(Debug, Clone)]
struct Column {
    at: usize,
    name: String,
    quantity: Quantity,
    scale: f64,
    offset: f64,
}

/// Units that may end a column's name, with the factor to the report's unit.
type Units = &'static [(&'static [&'static str], f64)];

const WIND_UNITS: Units = &[
    (&["m_per_s", "m_s", "mps", "ms"], 1.0),
    (&["km_per_h", "km_h", "kmh", "kph"], 1.0 / 3.6),
    (&["mph", "mi_per_h"], 0.447_04),
    (&["kn", "kt", "kts", "knots"], 1852.0 / 3600.0),
];
const HUMIDITY_UNITS: Units = &[(&["pct", "percent"], 0.01), (&["share", "fraction"], 1.0)];
const CLOUD_UNITS: Units =
    &[(&["pct", "percent"], 0.01), (&["share", "fraction"], 1.0), (&["okta", "oktas"], 0.125)];
const SUN_UNITS: Units = &[(&["w_per_m2", "w_m2", "wm2"], 1.0)];

/// What a column holds, with the factor and offset to the report's unit or the names that would tell its unit.
type Meaning = (Quantity, Result<(f64, f64), &'static str>);

/// What a column holds and in which unit, by its normal name; `None` for one that is not needed.
fn meaning(name: &str) -> Option<Meaning> {
    let starts =
        |words: &[&str]| words.iter().any(|word| name == *word || name.starts_with(&format!("{word}_")));
    let unit = |units: Units, expected| {
        let found = units.iter().find(|(ends, _)| ends.iter().any(|end| name.ends_with(&format!("_{end}"))));
        found.map(|(_, factor)| (*factor, 0.0)).ok_or(expected)
    };
    let temperature = |expected| match name.rsplit('_').next() {
        Some("c" | "degc" | "celsius") => Ok((1.0, 0.0)),
        Some("f" | "degf" | "fahrenheit") => Ok((1.0 / 1.8, -32.0 / 1.8)),
        _ => Err(expected),
    };
    Some(if starts(&["time", "date_time", "datetime", "timestamp", "date", "valid"]) {
        (Quantity::Time { is_utc: name.split('_').any(|word| word == "utc") }, Ok((1.0, 0.0)))
    } else if starts(&["temp", "temperature", "air_temp", "air_temperature", "dry_bulb"]) {
        (Quantity::Temp, temperature("temp_c or temp_f"))
    } else if starts(&["dew_point", "dewpoint", "dew"]) {
        (Quantity::DewPoint, temperature("dew_point_c or dew_point_f"))
    } else if starts(&["humidity", "relative_humidity", "rel_humidity", "rh"]) {
        (Quantity::Humidity, unit(HUMIDITY_UNITS, "humidity_pct or humidity_share"))
    } else if starts(&["wind", "wind_speed", "windspeed"])
        && !starts(&["wind_dir", "wind_direction", "wind_gust", "wind_from"])
    {
        (Quantity::Wind, unit(WIND_UNITS, "wind_m_per_s, wind_km_per_h, wind_mph or wind_kn"))
    } else if starts(&["cloud", "clouds", "cloud_cover", "cloudcover"]) {
        (Quantity::Cloud, unit(CLOUD_UNITS, "cloud_pct, cloud_share or cloud_okta"))
    } else if starts(&["ghi", "sun", "solar", "radiation", "global_radiation", "irradiance"]) {
        (Quantity::Sun, unit(SUN_UNITS, "solar_w_per_m2"))
    } else {
        return None;
    })
}

/// Reads a table of hourly weather, one report per row in any order.
///
/// The first line names the columns, each by its quantity with the unit at its end: `time_utc` (or `time` with offsets
/// in its cells), `temp_c` or `temp_f`, and where known `dew_point_c`, `humidity_pct`, `wind_m_per_s` (also `_km_per_h`,
/// `_mph`, `_kn`), `cloud_pct` (also `_okta`) and `solar_w_per_m2`, the global horizontal irradiance. Other columns are
/// passed over. Cells may be empty; commas, semicolons or tabs separate them; lines that start with `#` are remarks.
/// Temperatures in °F are rounded to tenths of °C, in which stations report.
///
/// * `file_name` — for messages
/// * `text` — the file
///
/// # Errors
/// [`HourlyFileError`] with the line and the column.
pub fn read_hourly_file(file_name: &str, text: &str) -> Result<Vec<WeatherReport>, HourlyFileError> {
    let text = text.trim_start_matches('\u{feff}');
    let file = || file_name.to_owned();
    let first = text.lines().find(|line| !line.trim().is_empty() && !line.starts_with('#'));
    let Some(first) = first else { return Err(HourlyFileError::Empty { file: file() }) };
    let mut rows = csv_rows(file_name, text, delimiter_of(first));
    let Some(header) = rows.next() else { return Err(HourlyFileError::Empty { file: file() }) };
    let (line, header) = header?;
    let columns = columns_of(file_name, line, &header)?;
    let mut reports = Vec::new();
    for row in rows {
        let (line, row) = row?;
        reports.push(report(file_name, line, &row, &columns)?);
    }
    if reports.iter().all(|report| report.temp_c.is_none()) {
        return Err(HourlyFileError::NoTemperature { file: file() });
    }
    Ok(reports)
}

fn columns_of(file: &str, line: u32, header: &csv::StringRecord) -> Result<Vec<Column>, HourlyFileError> {
    let file = || file.to_owned();
    let mut columns: Vec<Column> = Vec::new();
    for (at, name) in header.iter().enumerate() {
        let Some((quantity, unit)) = meaning(&normal(name)) else { continue };
        let field = name.to_owned();
        let (scale, offset) = unit.map_err(|expected| HourlyFileError::UnitMissing {
            file: file(),
            line,
            field: field.clone(),
            expected,
        })?;
        let same =
            |column: &&Column| std::mem::discriminant(&column.quantity) == std::mem::discriminant(&quantity);
        if let Some(known) = columns.iter().find(same) {
            return Err(HourlyFileError::Twice { file: file(), line, first: known.name.clone(), field });
        }
        columns.push(Column { at, name: field, quantity, scale, offset });
    }
    let has = |wanted: fn(Quantity) -> bool| columns.iter().any(|column| wanted(column.quantity));
    let missing =
        |field: &str| HourlyFileError::ColumnMissing { file: file(), line, field: field.to_owned() };
    if !has(|quantity| matches!(quantity, Quantity::Time { .. })) {
        return Err(missing("time_utc"));
    }
    if !has(|quantity| quantity == Quantity::Temp) {
        return Err(missing("temp_c"));
    }
    Ok(columns)
}

fn report(
    file: &str,
    line: u32,
    row: &csv::StringRecord,
    columns: &[Column],
) -> Result<WeatherReport, HourlyFileError> {
    let mut report =
        WeatherReport { temp_c: None, ..WeatherReport::of_temperature(DateTime::UNIX_EPOCH, 0.0) };
    for column in columns {
        let cell = row.get(column.at).unwrap_or_default();
        let fault = |problem| HourlyFileError::Cell {
            file: file.to_owned(),
            line,
            field: column.name.clone(),
            found: cell.to_owned(),
            problem,
        };
        if let Quantity::Time { is_utc } = column.quantity {
            report.at = instant(cell, is_utc).map_err(fault)?;
            continue;
        }
        let value = match number(cell) {
            Cell::Missing => continue,
            Cell::Value(value) => column.scale * value + column.offset,
            Cell::Text(_) => return Err(fault(NOT_A_NUMBER)),
        };
        // Adding 0 turns −0 into 0.
        let tenths = || if column.scale == 1.0 { value } else { (value * 10.0).round() / 10.0 + 0.0 };
        match column.quantity {
            Quantity::Time { .. } => {}
            Quantity::Temp => report.temp_c = Some(tenths()),
            Quantity::DewPoint => report.dew_point_c = Some(tenths()),
            Quantity::Humidity => report.relative_humidity = Some(value),
            Quantity::Wind => report.wind_m_per_s = Some(value),
            Quantity::Cloud => report.cloud_fraction = Some(value),
            Quantity::Sun => report.ghi_w_per_m2 = Some(value),
        }
    }
    Ok(report)
}

/// The instant of a cell: with an offset, or in UTC where the column says so.
fn instant(cell: &str, is_utc: bool) -> Result<DateTime<Utc>, &'static str> {
    let text = cell.trim();
    let with_offset =
        ["%Y-%m-%dT%H:%M:%S%.f%#z", "%Y-%m-%dT%H:%M%#z", "%Y-%m-%d %H:%M:%S%.f%#z", "%Y-%m-%d %H:%M%#z"];
    // `%#z` wants an offset; Z stands for none.
    let spelt = text.strip_suffix(['Z', 'z']).map_or_else(|| text.to_owned(), |bare| format!("{bare}+00:00"));
    if let Some(at) = with_offset.iter().find_map(|form| DateTime::parse_from_str(&spelt, form).ok()) {
        return Ok(at.to_utc());
    }
    let without = ["%Y-%m-%dT%H:%M:%S%.f", "%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M:%S%.f", "%Y-%m-%d %H:%M"];
    match without.iter().find_map(|form| NaiveDateTime::parse_from_str(text, form).ok()) {
        Some(at) if is_utc => Ok(at.and_utc()),
        Some(_) => Err(NO_OFFSET),
        None => Err(NOT_A_TIME),
    }
}

#[cfg(test)]
#[path = "read_test.rs"]
mod tests;
