//! The three layouts in which GHCN-Daily is handed out.
//!
//! Columns and flags: NOAA NCEI, Global Historical Climatology Network - Daily (GHCN-Daily), README FILE FOR
//! DAILY GLOBAL HISTORICAL CLIMATOLOGY NETWORK, section III (format of the `.dly` files); README for
//! `by_year`/`by_station` (headerless CSV); GHCND documentation of the access CSV. Temperatures are whole tenths
//! of °C, −9999 is missing, and any character in the quality flag means that the value failed a check.
//! Measurement and source flags do not matter here.

use chrono::NaiveDate;

use super::super::{ClimateRecord, RecordSource};
use super::draft::{Draft, Extreme};
use super::error::ClimateFileError;
use super::{csv_rows, ymd};
use crate::site::TemperatureUnit;

const MISSING: i32 = -9999;

/// Whether a line looks like one of a `.dly` file.
pub(super) fn is_fixed_width(line: &str) -> bool {
    let Some(head) = line.as_bytes().get(..21) else { return false };
    head[..11].iter().all(|b| b.is_ascii_alphanumeric() || matches!(b, b'_' | b'-'))
        && head[11..17].iter().all(u8::is_ascii_digit)
        && head[17..].iter().all(u8::is_ascii_alphanumeric)
}

/// Whether the first row looks like one of the by-station CSV, `ID,YYYYMMDD,ELEMENT,VALUE,M,Q,S,TIME`, or like the
/// header that some copies of it carry.
pub(super) fn is_by_station(row: &[&str]) -> bool {
    let is_header = row.len() >= 6 && row[0] == "ID" && row[1] == "DATE" && row[2] == "ELEMENT";
    is_header
        || row.len() >= 6
            && row[0].len() == 11
            && row[1].len() == 8
            && row[1].bytes().all(|b| b.is_ascii_digit())
            && row[2].len() == 4
}

/// Whether a row is the header of the access CSV.
pub(super) fn is_access_header(row: &[&str]) -> bool {
    let has = |name| row.contains(&name);
    has("STATION") && has("DATE") && (has("TMIN") || has("TMAX"))
}

/// Reads a `.dly` file: one line per station, month and element with 31 groups of value and three flags.
pub(super) fn read_fixed_width(file: &str, text: &str) -> Result<ClimateRecord, ClimateFileError> {
    let mut draft = Draft::new(file, RecordSource::GhcnFixedWidth);
    for (at, line) in text.lines().enumerate() {
        let number = at as u32 + 1;
        if line.trim().is_empty() {
            continue;
        }
        if !is_fixed_width(line) {
            draft.log.add(number, "lines that are not GHCN-Daily", || {
                "the line is not in the GHCN-Daily layout (station, year, month, element, 31 values): left out"
                    .into()
            });
            continue;
        }
        one_station(&mut draft, file, number, "ID", &line[..11])?;
        let Some(extreme) = Extreme::of_element(&line[17..21]) else { continue };
        let (year, month) = (line[11..15].parse().unwrap_or(0), line[15..17].parse().unwrap_or(0));
        for day in 1..=31 {
            let Some(group) = day_group(line.as_bytes(), day) else { break };
            let value =
                std::str::from_utf8(&group[..5]).ok().and_then(|text| text.trim().parse::<i32>().ok());
            let quality = char::from(*group.get(6).unwrap_or(&b' '));
            match value {
                Some(MISSING) => {}
                Some(tenths) => {
                    if let Some(date) = draft.date(number, year, month, day) {
                        take(&mut draft, number, date, extreme, f64::from(tenths) / 10.0, quality);
                    }
                }
                None => draft.log.add(number, "values that are not numbers", || {
                    format!("the {} of day {day} is not a whole number: left out", extreme.word())
                }),
            }
        }
    }
    draft.finish()
}

/// Value and flags of a day, from column 22 on in groups of eight; flags cut off at the end of a line are blank.
fn day_group(line: &[u8], day: u32) -> Option<&[u8]> {
    let from = 21 + 8 * (day as usize - 1);
    let group = line.get(from..line.len().min(from + 8))?;
    (group.len() >= 5).then_some(group)
}

/// Reads the by-station CSV; a header names no element that is read and so falls away.
pub(super) fn read_by_station(file: &str, text: &str) -> Result<ClimateRecord, ClimateFileError> {
    let mut draft = Draft::new(file, RecordSource::GhcnCsv);
    for row in csv_rows(file, text, b',') {
        let (number, row) = row?;
        let cell = |at: usize| row.get(at).unwrap_or_default();
        let Some(extreme) = Extreme::of_element(cell(2)) else { continue };
        one_station(&mut draft, file, number, "ID", cell(0))?;
        let Some(date) = ymd(cell(1)).and_then(|(year, month, day)| draft.date(number, year, month, day))
        else {
            if ymd(cell(1)).is_none() {
                draft.impossible_date(number, cell(1));
            }
            continue;
        };
        match cell(3).parse::<i32>() {
            Ok(MISSING) => {}
            Ok(tenths) => {
                let quality = cell(5).chars().next().unwrap_or(' ');
                take(&mut draft, number, date, extreme, f64::from(tenths) / 10.0, quality);
            }
            Err(_) => not_a_number(&mut draft, number, date, extreme, cell(3)),
        }
    }
    draft.finish()
}

/// Reads the access CSV: a header, one row per day, each element followed by its `M,Q,S` attributes.
///
/// The archive's files are in tenths of °C; its search service hands out the same layout in whole or decimal
/// degrees, which `degrees` resolves.
pub(super) fn read_access(
    file: &str,
    text: &str,
    degrees: Option<TemperatureUnit>,
) -> Result<ClimateRecord, ClimateFileError> {
    let mut draft = Draft::new(file, RecordSource::GhcnCsv);
    let mut rows = csv_rows(file, text, b',');
    let Some((header_line, header)) = rows.next().transpose()? else {
        return Err(ClimateFileError::Empty { file: file.to_string() });
    };
    let column = |name: &str| header.iter().position(|cell| cell == name);
    let (station, date_at) = (column("STATION"), column("DATE"));
    let Some(min_at) = column("TMIN") else {
        let (file, field) = (file.to_string(), "TMIN".to_string());
        return Err(ClimateFileError::ColumnMissing { file, line: header_line, field });
    };
    let elements = [
        (Extreme::Min, Some(min_at), column("TMIN_ATTRIBUTES")),
        (Extreme::Max, column("TMAX"), column("TMAX_ATTRIBUTES")),
    ];
    let rows: Vec<(u32, csv::StringRecord)> = rows.collect::<Result<_, _>>()?;
    let cells =
        || elements.iter().flat_map(|&(_, at, _)| rows.iter().filter_map(move |(_, row)| row.get(at?)));
    let unit = unit_of_access(file, header_line, cells(), degrees)?;
    for (number, row) in &rows {
        let cell = |at: Option<usize>| at.and_then(|at| row.get(at)).unwrap_or_default();
        one_station(&mut draft, file, *number, "STATION", cell(station))?;
        if draft.station.name.is_empty() {
            draft.station.name = cell(column("NAME")).to_string();
            draft.station.latitude_deg = cell(column("LATITUDE")).parse().ok();
            draft.station.longitude_deg = cell(column("LONGITUDE")).parse().ok();
            draft.station.elevation_m = cell(column("ELEVATION")).parse().ok();
        }
        let Some((year, month, day)) = ymd(cell(date_at)) else {
            draft.impossible_date(*number, cell(date_at));
            continue;
        };
        let Some(date) = draft.date(*number, year, month, day) else { continue };
        for (extreme, at, attributes) in elements {
            let text = cell(at);
            let quality = cell(attributes).split(',').nth(1).and_then(|flag| flag.chars().next());
            match text.parse::<f64>() {
                _ if text.is_empty() => {}
                Ok(value) if value == f64::from(MISSING) => {}
                Ok(value) => {
                    take(&mut draft, *number, date, extreme, unit.celsius(value), quality.unwrap_or(' '));
                }
                Err(_) => not_a_number(&mut draft, *number, date, extreme, text),
            }
        }
    }
    draft.finish()
}

/// What the numbers of an access CSV are.
#[derive(Debug, Clone, Copy)]
enum AccessUnit {
    Tenths,
    Degrees(TemperatureUnit),
}

impl AccessUnit {
    fn celsius(self, value: f64) -> f64 {
        match self {
            Self::Tenths => value / 10.0,
            Self::Degrees(unit) => super::celsius(value, unit),
        }
    }
}

/// Tenths, unless there is a decimal point or a year of values stays within ±130: as tenths that would be
/// a place that never leaves ±13.0 °C.
fn unit_of_access<'a>(
    file: &str,
    line: u32,
    cells: impl Iterator<Item = &'a str>,
    degrees: Option<TemperatureUnit>,
) -> Result<AccessUnit, ClimateFileError> {
    let (mut count, mut largest, mut decimal) = (0_u32, 0.0_f64, false);
    for cell in cells {
        let Ok(value) = cell.parse::<f64>() else { continue };
        if value != f64::from(MISSING) {
            count += 1;
            largest = largest.max(value.abs());
            decimal |= cell.contains('.');
        }
    }
    let in_degrees = decimal || (count >= 360 && largest <= 130.0);
    match (in_degrees, degrees) {
        (false, _) => Ok(AccessUnit::Tenths),
        (true, Some(unit)) => Ok(AccessUnit::Degrees(unit)),
        (true, None) => Err(ClimateFileError::UnitMissing {
            file: file.to_string(),
            line,
            field: "TMIN".to_string(),
            found: "the values are in degrees and not in tenths of °C as the archive stores them".to_string(),
        }),
    }
}

fn take(draft: &mut Draft, line: u32, date: NaiveDate, extreme: Extreme, temp_c: f64, quality: char) {
    if quality == ' ' {
        draft.put(line, date, extreme, temp_c);
    } else {
        draft.flagged(line, date, extreme, quality);
    }
}

fn not_a_number(draft: &mut Draft, line: u32, date: NaiveDate, extreme: Extreme, found: &str) {
    draft.log.add(line, "values that are not numbers", || {
        format!("{} of {date} is “{found}”, not a number: left out", extreme.word())
    });
}

/// Keeps the station's identifier and refuses a second station.
fn one_station(
    draft: &mut Draft,
    file: &str,
    line: u32,
    field: &str,
    id: &str,
) -> Result<(), ClimateFileError> {
    if draft.station.id.is_empty() {
        draft.station.id = id.to_string();
    } else if draft.station.id != id && !id.is_empty() {
        return Err(ClimateFileError::SeveralStations {
            file: file.to_string(),
            line,
            field: field.to_string(),
            first: draft.station.id.clone(),
            second: id.to_string(),
        });
    }
    Ok(())
}
