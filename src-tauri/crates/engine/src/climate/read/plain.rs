//! Plain tables: a date, a minimum and perhaps a maximum per row.

use super::super::{ClimateRecord, RecordSource};
use super::draft::{Draft, Extreme, POSSIBLE_C};
use super::error::ClimateFileError;
use super::{celsius, csv_rows, ymd};
use crate::site::TemperatureUnit;

/// Where the columns are and what the header says of them.
#[derive(Debug)]
pub(super) struct Columns {
    line: u32,
    /// Whether the first row names the columns.
    headed: bool,
    date: usize,
    min: Column,
    max: Option<Column>,
}

#[derive(Debug, Clone)]
struct Column {
    at: usize,
    name: String,
    unit: Option<TemperatureUnit>,
}

/// Numbers that stand for a missing value in public tables.
const MISSING: [f64; 7] = [-9999.0, -999.9, -999.0, -99.9, 999.0, 999.9, 9999.0];
/// Words that do.
const MISSING_WORDS: [&str; 8] = ["", "na", "n/a", "nan", "null", "m", "-", "--"];
/// Share and number of impossible values that make the unit doubtful rather than the values.
const WRONG_UNIT_SHARE: f64 = 0.05;
const WRONG_UNIT_LEAST: usize = 3;

/// The columns by the first row; `None` when it is neither a header with a date nor a row of values.
pub(super) fn columns_of(file: &str, line: u32, row: &[&str]) -> Result<Option<Columns>, ClimateFileError> {
    if row.len() >= 2 && ymd(row[0]).is_some() {
        let column = |at: usize, name: &str| Column { at, name: name.to_string(), unit: None };
        let max = (row.len() > 2).then(|| column(2, "tmax"));
        return Ok(Some(Columns { line, headed: false, date: 0, min: column(1, "tmin"), max }));
    }
    let names: Vec<String> = row.iter().map(|name| normal(name)).collect();
    let find = |starts: &[&str]| {
        let at = names.iter().position(|name| {
            name.split('_').any(|word| starts.iter().any(|start| word.starts_with(start)))
        })?;
        Some(Column { at, name: row[at].to_string(), unit: unit_in(&names[at]) })
    };
    let min = find(&["tmin", "min", "low"]);
    let max = find(&["tmax", "max", "high"]);
    let missing = |field: &str| {
        let (file, field) = (file.to_string(), field.to_string());
        Err(ClimateFileError::ColumnMissing { file, line, field })
    };
    match (find(&["date", "datum", "day"]), min, max) {
        (None, None, _) => Ok(None),
        (None, Some(_), _) => missing("date"),
        (Some(_), None, _) => missing("tmin"),
        (Some(date), Some(mut min), mut max) => {
            // One of the two names the unit for both.
            let either = min.unit.or(max.as_ref().and_then(|max| max.unit));
            min.unit = min.unit.or(either);
            if let Some(max) = &mut max {
                max.unit = max.unit.or(either);
            }
            Ok(Some(Columns { line, headed: true, date: date.at, min, max }))
        }
    }
}

/// Lower case with one underscore for every run of other characters.
pub(in crate::climate) fn normal(name: &str) -> String {
    let words: Vec<String> = name
        .split(|c: char| !c.is_ascii_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_ascii_lowercase)
        .collect();
    words.join("_")
}

fn unit_in(name: &str) -> Option<TemperatureUnit> {
    match name.split('_').next_back()? {
        "c" | "degc" | "celsius" => Some(TemperatureUnit::Celsius),
        "f" | "degf" | "fahrenheit" => Some(TemperatureUnit::Fahrenheit),
        _ => None,
    }
}

/// Reads a plain table.
pub(super) fn read(
    file: &str,
    text: &str,
    delimiter: u8,
    columns: &Columns,
    plain_unit: Option<TemperatureUnit>,
) -> Result<ClimateRecord, ClimateFileError> {
    let skipped = usize::from(columns.headed);
    let rows: Vec<(u32, csv::StringRecord)> =
        csv_rows(file, text, delimiter).skip(skipped).collect::<Result<_, _>>()?;
    let mut draft = Draft::new(file, RecordSource::PlainCsv);
    let mut elements = Vec::new();
    for (extreme, column) in [(Extreme::Min, Some(&columns.min)), (Extreme::Max, columns.max.as_ref())] {
        if let Some(column) = column {
            elements.push((extreme, settle(file, columns.line, (extreme, column), plain_unit, &rows)?));
        }
    }
    for (line, row) in &rows {
        let text = row.get(columns.date).unwrap_or_default();
        let Some((year, month, day)) = ymd(text) else {
            draft.impossible_date(*line, text);
            continue;
        };
        let Some(date) = draft.date(*line, year, month, day) else { continue };
        if draft.has(date) {
            draft.given_twice(*line, date);
            continue;
        }
        if draft.latest().is_some_and(|latest| date < latest) {
            draft
                .log
                .add(*line, "days out of order", || format!("{date} comes after a later day: put in order"));
        }
        draft.touch(*line, date);
        for (extreme, (at, unit)) in &elements {
            match number(row.get(*at).unwrap_or_default()) {
                Cell::Value(value) => draft.put(*line, date, *extreme, celsius(value, *unit)),
                Cell::Missing => {}
                Cell::Text(found) => draft.log.add(*line, "values that are not numbers", || {
                    format!("{} of {date} is “{found}”, not a number: left out", extreme.word())
                }),
            }
        }
    }
    draft.finish()
}

/// What a cell of a table of figures holds.
pub(in crate::climate) enum Cell {
    Value(f64),
    Missing,
    Text(String),
}

/// Reads a cell, knowing what stands for a missing value.
pub(in crate::climate) fn number(cell: &str) -> Cell {
    if MISSING_WORDS.contains(&cell.to_ascii_lowercase().as_str()) {
        return Cell::Missing;
    }
    // A decimal comma can only arrive here where another character separates the columns; − is a typeset minus.
    match cell.replace(',', ".").replace('−', "-").parse::<f64>() {
        Ok(value) if MISSING.contains(&value) => Cell::Missing,
        Ok(value) if value.is_finite() => Cell::Value(value),
        _ => Cell::Text(cell.to_string()),
    }
}

/// Position and unit of a column; refuses a unit that is not known or that the values contradict.
fn settle(
    file: &str,
    header_line: u32,
    (extreme, column): (Extreme, &Column),
    plain_unit: Option<TemperatureUnit>,
    rows: &[(u32, csv::StringRecord)],
) -> Result<(usize, TemperatureUnit), ClimateFileError> {
    let values: Vec<(u32, f64)> = rows
        .iter()
        .filter_map(|(line, row)| match number(row.get(column.at)?) {
            Cell::Value(value) => Some((*line, value)),
            Cell::Missing | Cell::Text(_) => None,
        })
        .collect();
    let impossible = |unit: TemperatureUnit| {
        let mut outside = values.iter().filter(|(_, value)| !POSSIBLE_C.contains(&celsius(*value, unit)));
        let first = *outside.next()?;
        let count = 1 + outside.count();
        let many = count >= WRONG_UNIT_LEAST && count as f64 > WRONG_UNIT_SHARE * values.len() as f64;
        (many || count == values.len()).then_some(first)
    };
    let (file, field) = (file.to_string(), column.name.clone());
    let Some(unit) = column.unit.or(plain_unit) else {
        let found = match impossible(TemperatureUnit::Celsius) {
            Some((line, value)) => format!("{value} in line {line} cannot be °C, so this looks like °F"),
            None => "the unit of the temperatures is not given".to_string(),
        };
        return Err(ClimateFileError::UnitMissing { file, line: header_line, field, found });
    };
    if let Some((line, value)) = impossible(unit) {
        let found = format!("{value} and other values cannot be {}", symbol(unit));
        return Err(ClimateFileError::UnitImpossible { file, line, field, unit, found });
    }
    if column.unit.is_none() && unit == TemperatureUnit::Fahrenheit && values.len() >= 360 {
        // A year of Celsius taken for Fahrenheit: no place with a growing season has all days below 50 °F
        // (10 °C) or all nights below 36 °F (2 °C).
        let needed = if extreme == Extreme::Max { 50.0 } else { 36.0 };
        let highest = values.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((line, value)) = highest.filter(|(_, value)| *value < needed) {
            let found = format!("nothing in a year is above {value} °F, so this looks like °C");
            return Err(ClimateFileError::UnitImpossible { file, line, field, unit, found });
        }
    }
    Ok((column.at, unit))
}

fn symbol(unit: TemperatureUnit) -> &'static str {
    match unit {
        TemperatureUnit::Celsius => "°C",
        TemperatureUnit::Fahrenheit => "°F",
    }
}
