//! Climate files.

mod doubtful;
mod draft;
mod error;
mod ghcn;
pub(super) mod plain;
mod problems;

pub use error::ClimateFileError;

use super::ClimateRecord;
use crate::site::TemperatureUnit;

/// Reads a daily record of one station and checks it.
///
/// Understood are the GHCN-Daily layouts (fixed width `.dly`; CSV with a header as the archive hands it out per
/// station; CSV with one value per row as in its by-station and by-year folders) and a plain table
/// `date,tmin,tmax` separated by commas, semicolons or tabs, with `#` before lines of remarks. The layout is told
/// from the content, not from the name.
///
/// Values are kept in tenths of °C, in which networks store them and thresholds are compared, so that 28 °F
/// read from a table and −2.2 °C from an archive are the same night.
///
/// # Parameters
/// - `file_name`: for messages.
/// - `plain_unit`: unit of a plain table whose header does not name one (`tmin_c`, `tmin_f`).
///
/// # Errors
/// When no record can be made of the file; single bad lines are reported in [`ClimateRecord::problems`].
pub fn read_climate_file(
    file_name: &str,
    text: &str,
    plain_unit: Option<TemperatureUnit>,
) -> Result<ClimateRecord, ClimateFileError> {
    let text = text.trim_start_matches('\u{feff}');
    let mut lines =
        text.lines().zip(1..).filter(|(line, _)| !line.trim().is_empty() && !line.starts_with('#'));
    let Some((first, number)) = lines.next() else {
        return Err(ClimateFileError::Empty { file: file_name.to_string() });
    };
    if ghcn::is_fixed_width(first) {
        return ghcn::read_fixed_width(file_name, text);
    }
    let delimiter = delimiter_of(first);
    let cells: Vec<&str> =
        first.split(char::from(delimiter)).map(|cell| cell.trim().trim_matches('"').trim()).collect();
    if ghcn::is_by_station(&cells) {
        ghcn::read_by_station(file_name, text)
    } else if ghcn::is_access_header(&cells) {
        ghcn::read_access(file_name, text, plain_unit)
    } else if let Some(columns) = plain::columns_of(file_name, number, &cells)? {
        plain::read(file_name, text, delimiter, &columns, plain_unit)
    } else {
        Err(ClimateFileError::UnknownLayout {
            file: file_name.to_string(),
            line: number,
            found: first.trim().chars().take(40).collect(),
        })
    }
}

pub(super) fn delimiter_of(line: &str) -> u8 {
    *[b';', b'\t'].iter().find(|&&delimiter| line.contains(char::from(delimiter))).unwrap_or(&b',')
}

/// The rows of a table with their line numbers; cells are trimmed, lines that start with `#` left out.
pub(super) fn csv_rows<'a>(
    file: &'a str,
    text: &'a str,
    delimiter: u8,
) -> impl Iterator<Item = Result<(u32, csv::StringRecord), ClimateFileError>> + 'a {
    let reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .delimiter(delimiter)
        .from_reader(text.as_bytes());
    reader.into_records().map(move |row| {
        let row = row.map_err(|err| ClimateFileError::Unreadable {
            file: file.to_string(),
            line: err.position().map_or(1, |position| position.line() as u32),
            found: err.to_string(),
        })?;
        Ok((row.position().map_or(1, |position| position.line() as u32), row))
    })
}

/// Year, month and day of `YYYYMMDD`, `YYYY-MM-DD`, `YYYY/MM/DD`, `DD.MM.YYYY`, each perhaps followed by a time;
/// dates with the order of day and month in doubt are not read.
fn ymd(text: &str) -> Option<(i32, u32, u32)> {
    let date = text.split(['T', ' ']).next()?;
    if date.len() == 8 && date.bytes().all(|b| b.is_ascii_digit()) {
        return Some((date[..4].parse().ok()?, date[4..6].parse().ok()?, date[6..].parse().ok()?));
    }
    let separator = date.chars().find(|c| !c.is_ascii_digit())?;
    let parts: Vec<&str> = date.split(separator).collect();
    let [first, second, third] = parts[..] else { return None };
    let (year, month, day) = match separator {
        '-' | '/' if first.len() == 4 => (first, second, third),
        '.' if third.len() == 4 => (third, second, first),
        _ => return None,
    };
    Some((year.parse().ok()?, month.parse().ok()?, day.parse().ok()?))
}

/// °C of a temperature in a unit.
fn celsius(value: f64, unit: TemperatureUnit) -> f64 {
    match unit {
        TemperatureUnit::Celsius => value,
        TemperatureUnit::Fahrenheit => (value - 32.0) / 1.8,
    }
}
