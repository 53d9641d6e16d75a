//! Where the table of a file begins, and what its columns hold.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::header::{self, Heading};
use super::number::{self, Cell};
use super::rows::{self, Lines};
use super::stamp;
use super::{Delimiter, LogFileError, LogOptions, LogUnit, Quantity};

/// Lines in which the table is looked for.
const SAMPLE_LINES: usize = 1000;
/// Rows that decide what a column holds.
const SAMPLE_ROWS: usize = 300;
/// Rows that must follow in the same shape on the first one of a table.
const FOLLOWING: usize = 5;

/// Where the instant of a row stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum TimeAt {
    /// Date and time in one cell.
    Stamp(usize),
    /// A cell with the date, one with the time.
    DateAndTime(usize, usize),
    /// A count of seconds or fractions of them since 1970.
    Epoch(usize),
}

/// A column of readings.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ValueColumn {
    pub(super) place: usize,
    pub(super) name: String,
    pub(super) heading: Heading,
    /// What is measured; absent where a column beside it says so.
    pub(super) quantity: Option<Quantity>,
}

/// A column that is left out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct UnusedColumn {
    /// Its heading.
    pub column: String,
    /// Why, as a phrase (`is the state of the logger’s battery`).
    pub why: String,
}

/// The table of a file.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Layout {
    pub(super) delimiter: Delimiter,
    pub(super) header_line: Option<u32>,
    pub(super) first_line: u32,
    pub(super) width: usize,
    pub(super) time: TimeAt,
    /// Names of the time columns.
    pub(super) time_names: Vec<String>,
    /// Offset that the heading of the time names.
    pub(super) offset_s: Option<i32>,
    pub(super) sensor: Option<usize>,
    pub(super) kind: Option<usize>,
    pub(super) unit: Option<usize>,
    pub(super) values: Vec<ValueColumn>,
    pub(super) unused: Vec<UnusedColumn>,
    /// Unit that the lines above the table name.
    pub(super) preamble_unit: Option<LogUnit>,
    /// Name of the logger that the lines above the table give.
    pub(super) preamble_name: Option<String>,
}

struct Sample<'a> {
    lines: Vec<(u32, &'a [u8])>,
    delimiter: Delimiter,
    /// Place of the first row in `lines`.
    first: usize,
    rows: Vec<Vec<&'a [u8]>>,
}

/// Finds the table of a text.
pub(super) fn find(file: &str, text: &str, options: &LogOptions) -> Result<Layout, LogFileError> {
    let lines: Vec<(u32, &[u8])> =
        Lines::of(text).filter(|(_, line)| !line.trim_ascii().is_empty()).take(SAMPLE_LINES).collect();
    let tried: &[Delimiter] = options.delimiter.as_ref().map_or(&Delimiter::ALL, std::slice::from_ref);
    let mut best: Option<(usize, usize, Sample<'_>)> = None;
    for delimiter in tried {
        let Some((rows, numbers, sample)) = sample(&lines, *delimiter, options) else { continue };
        if best.as_ref().is_none_or(|(most, most_numbers, _)| (rows, numbers) > (*most, *most_numbers)) {
            best = Some((rows, numbers, sample));
        }
    }
    let Some((.., sample)) = best else {
        let (line, found) =
            lines.first().map_or((1, String::new()), |(line, text)| (*line, rows::shown(text)));
        return Err(LogFileError::NoTable { file: file.to_owned(), line, found });
    };
    Columns::of(file, &sample, options)?.layout(file, &sample, options)
}

/// Whether a row has a time and a number, and how many numbers.
fn numbers_of_row(cells: &[&[u8]]) -> Option<usize> {
    let mut has_date = false;
    let mut numbers = 0;
    let mut epochs = 0;
    let mut missing = 0;
    for cell in cells {
        if stamp::epoch(cell).is_some() {
            epochs += 1;
        } else if stamp::stamp(cell).is_some() {
            has_date = true;
        } else {
            match number::cell(cell, None) {
                Cell::Number(_) => numbers += 1,
                Cell::Missing => missing += 1,
                Cell::Bad => {}
            }
        }
    }
    ((has_date || epochs > 0) && numbers + missing > 0).then_some(numbers)
}

fn sample<'a>(
    lines: &[(u32, &'a [u8])],
    delimiter: Delimiter,
    options: &LogOptions,
) -> Option<(usize, usize, Sample<'a>)> {
    let mut cells = Vec::new();
    let found: Vec<Option<(usize, usize)>> = lines
        .iter()
        .map(|(_, line)| {
            rows::split(line, delimiter, &mut cells);
            numbers_of_row(&cells).map(|numbers| (cells.len(), numbers))
        })
        .collect();
    let after_header = |place: usize| {
        options.header_line.is_none_or(|line| lines.get(place).is_some_and(|(at, _)| *at > line))
    };
    let begins = |place: &usize| {
        let Some(Some((width, _))) = found.get(*place) else { return false };
        let next = found.get(place + 1..(place + 1 + FOLLOWING).min(found.len())).unwrap_or_default();
        let alike = next.iter().flatten().filter(|(other, _)| other.abs_diff(*width) <= 1).count();
        alike * 2 >= next.len() && after_header(*place)
    };
    let first = (0..found.len()).find(begins)?;
    let rows: Vec<Vec<&[u8]>> = lines
        .iter()
        .zip(&found)
        .skip(first)
        .filter(|(_, found)| found.is_some())
        .take(SAMPLE_ROWS)
        .map(|((_, line), _)| {
            let mut cells = Vec::new();
            rows::split(line, delimiter, &mut cells);
            cells
        })
        .collect();
    let count = found.iter().skip(first).flatten().count();
    let numbers = found.iter().skip(first).flatten().map(|(_, numbers)| *numbers).sum();
    Some((count, numbers, Sample { lines: lines.to_vec(), delimiter, first, rows }))
}

/// What the cells of a column look like.
#[derive(Debug, Clone, Copy, Default)]
struct Looks {
    filled: usize,
    stamps: usize,
    dates: usize,
    times: usize,
    epochs: usize,
    numbers: usize,
}

impl Looks {
    fn of<'a>(cells: impl Iterator<Item = &'a [u8]>) -> Self {
        let mut looks = Self::default();
        for cell in cells {
            let is_number = match number::cell(cell, None) {
                Cell::Missing => continue,
                Cell::Number(_) => true,
                Cell::Bad => false,
            };
            looks.filled += 1;
            let date = stamp::date(cell);
            looks.dates += usize::from(date.is_some_and(|(_, rest)| rest.is_empty()));
            looks.stamps += usize::from(
                date.is_some_and(|(_, rest)| !rest.is_empty() && stamp::time_behind(rest).is_some()),
            );
            looks.epochs += usize::from(stamp::epoch(cell).is_some());
            looks.times += usize::from(!is_number && stamp::time(cell).is_some());
            looks.numbers += usize::from(is_number);
        }
        looks
    }

    fn mostly(self, count: usize) -> bool {
        self.filled > 0 && count * 5 >= self.filled * 4
    }
}

struct Columns {
    names: Vec<String>,
    headings: Vec<Heading>,
    looks: Vec<Looks>,
    header_line: Option<u32>,
}

impl Columns {
    fn of(file: &str, sample: &Sample<'_>, options: &LogOptions) -> Result<Self, LogFileError> {
        let width = sample.rows.iter().map(Vec::len).max().unwrap_or_default();
        let (header_line, cells) = Self::header(file, sample, options, width)?;
        let names: Vec<String> = (0..width)
            .map(|place| match cells.get(place) {
                Some(name) if !name.is_empty() => name.clone(),
                _ => format!("column {}", place + 1),
            })
            .collect();
        let headings =
            (0..width).map(|place| header::of(cells.get(place).map_or("", String::as_str))).collect();
        let looks = (0..width)
            .map(|place| Looks::of(sample.rows.iter().filter_map(|row| row.get(place).copied())))
            .collect();
        Ok(Self { names, headings, looks, header_line })
    }

    /// The line of headings; a line of units under it is read together with it.
    fn header(
        file: &str,
        sample: &Sample<'_>,
        options: &LogOptions,
        width: usize,
    ) -> Result<(Option<u32>, Vec<String>), LogFileError> {
        let cells_of = |place: usize| -> Vec<String> {
            let mut cells = Vec::new();
            let line = sample.lines.get(place).map_or(&b""[..], |(_, line)| *line);
            rows::split(line, sample.delimiter, &mut cells);
            cells
                .iter()
                .map(|cell| String::from_utf8_lossy(cell).trim_start_matches('#').trim().to_owned())
                .collect()
        };
        if let Some(asked) = options.header_line {
            let Some(place) = sample.lines.iter().position(|(line, _)| *line == asked) else {
                return Err(LogFileError::Option {
                    file: file.to_owned(),
                    field: "header_line".to_owned(),
                    value: asked.to_string(),
                    problem: "where the file has no headings above its readings".to_owned(),
                    mend: "give the number of the line that names the columns".to_owned(),
                });
            };
            return Ok((Some(asked), cells_of(place)));
        }
        let is_header = |cells: &[String]| {
            let filled = cells.iter().filter(|cell| !cell.is_empty()).count();
            filled * 2 >= width
                && cells.iter().all(|cell| {
                    stamp::stamp(cell.as_bytes()).is_none()
                        && !matches!(number::cell(cell.as_bytes(), None), Cell::Number(_))
                })
        };
        let Some(above) = sample.first.checked_sub(1) else { return Ok((None, Vec::new())) };
        let cells = cells_of(above);
        let filled: Vec<&String> = cells.iter().filter(|cell| !cell.is_empty()).collect();
        let units_only = !filled.is_empty() && filled.iter().all(|cell| header::is_unit_only(cell));
        if units_only && let Some(higher) = above.checked_sub(1) {
            let names = cells_of(higher);
            if is_header(&names) {
                let joined = names
                    .iter()
                    .enumerate()
                    .map(|(place, name)| match cells.get(place) {
                        Some(unit) if !unit.is_empty() => format!("{name} {unit}"),
                        _ => name.clone(),
                    })
                    .collect();
                return Ok((sample.lines.get(higher).map(|(line, _)| *line), joined));
            }
        }
        if is_header(&cells) {
            return Ok((sample.lines.get(above).map(|(line, _)| *line), cells));
        }
        Ok((None, Vec::new()))
    }

    fn all(&self, test: impl Fn(&Looks) -> bool) -> impl Iterator<Item = usize> {
        self.looks.iter().enumerate().filter(move |(_, looks)| test(looks)).map(|(place, _)| place)
    }

    /// Where the instant stands. Of several, one in UTC goes before one whose heading speaks of time, and that before
    /// the first.
    fn time(&self) -> Option<TimeAt> {
        let best = |places: Vec<usize>| {
            places.iter().copied().max_by_key(|place| {
                let heading = self.headings.get(*place);
                let says = |test: fn(&Heading) -> bool| heading.is_some_and(test);
                (says(|h| h.offset_s.is_some()), says(|h| h.is_time), usize::MAX - place)
            })
        };
        if let Some(place) = best(self.all(|looks| looks.mostly(looks.stamps)).collect()) {
            return Some(TimeAt::Stamp(place));
        }
        let dates: Vec<usize> = self.all(|looks| looks.mostly(looks.dates)).collect();
        if let Some(date) = best(dates) {
            let times: Vec<usize> =
                self.all(|looks| looks.mostly(looks.times)).filter(|place| *place != date).collect();
            return Some(match times.iter().find(|place| **place > date).or(times.first()) {
                Some(time) => TimeAt::DateAndTime(date, *time),
                None => TimeAt::Stamp(date),
            });
        }
        best(self.all(|looks| looks.mostly(looks.epochs)).collect()).map(TimeAt::Epoch)
    }

    fn layout(
        mut self,
        file: &str,
        sample: &Sample<'_>,
        options: &LogOptions,
    ) -> Result<Layout, LogFileError> {
        let first_line = sample.lines.get(sample.first).map_or(1, |(line, _)| *line);
        let Some(time) = self.time() else {
            let found = sample.lines.get(sample.first).map_or(String::new(), |(_, line)| rows::shown(line));
            return Err(LogFileError::NoTable { file: file.to_owned(), line: first_line, found });
        };
        let taken = match time {
            TimeAt::Stamp(place) | TimeAt::Epoch(place) => vec![place],
            TimeAt::DateAndTime(date, clock) => vec![date, clock],
        };
        let offset_s = taken.iter().filter_map(|place| self.headings.get(*place)?.offset_s).next();
        let mut layout = Layout {
            delimiter: sample.delimiter,
            header_line: self.header_line,
            first_line,
            width: self.names.len(),
            time,
            time_names: taken.iter().filter_map(|place| self.names.get(*place).cloned()).collect(),
            offset_s,
            sensor: None,
            kind: None,
            unit: None,
            values: Vec::new(),
            unused: Vec::new(),
            preamble_unit: None,
            preamble_name: None,
        };
        self.preamble(sample, &mut layout);
        let asked = self.asked(file, options)?;
        for place in (0..self.names.len()).filter(|place| !taken.contains(place)) {
            self.column(place, asked.get(place).copied().flatten(), sample, &mut layout);
        }
        self.check(file, layout)
    }

    /// The options that are meant for each column.
    fn asked<'a>(
        &self,
        file: &str,
        options: &'a LogOptions,
    ) -> Result<Vec<Option<&'a super::ColumnUse>>, LogFileError> {
        let mut asked = vec![None; self.names.len()];
        for one in &options.columns {
            let wanted = one.column.trim().to_lowercase();
            let place = self.names.iter().position(|name| name.to_lowercase() == wanted).or_else(|| {
                wanted.parse::<usize>().ok()?.checked_sub(1).filter(|place| *place < self.names.len())
            });
            let Some(slot) = place.and_then(|place| asked.get_mut(place)) else {
                return Err(LogFileError::Option {
                    file: file.to_owned(),
                    field: "columns".to_owned(),
                    value: one.column.clone(),
                    problem: "which is no column of the file".to_owned(),
                    mend: format!("choose one of {}", self.names.join(", ")),
                });
            };
            *slot = Some(one);
        }
        Ok(asked)
    }

    fn column(
        &mut self,
        place: usize,
        asked: Option<&super::ColumnUse>,
        sample: &Sample<'_>,
        layout: &mut Layout,
    ) {
        let (Some(name), Some(heading), Some(looks)) =
            (self.names.get(place), self.headings.get_mut(place), self.looks.get(place))
        else {
            return;
        };
        let mut unused =
            |why: &str| layout.unused.push(UnusedColumn { column: name.clone(), why: why.to_owned() });
        if let Some(asked) = asked {
            let Some(quantity) = asked.quantity else { return unused("is left out, as you asked") };
            if let Some(sensor) = &asked.sensor {
                heading.sensor.clone_from(sensor);
            }
            heading.quantity = Some(quantity);
            let column =
                ValueColumn { place, name: name.clone(), heading: heading.clone(), quantity: Some(quantity) };
            return layout.values.push(column);
        }
        let is_number = looks.mostly(looks.numbers);
        let cells =
            || sample.rows.iter().filter_map(|row| row.get(place)).map(|cell| String::from_utf8_lossy(cell));
        if looks.filled > 0 && !is_number {
            let kinds = cells().filter(|cell| header::of_word(cell).quantity.is_some()).count();
            if heading.is_unit || cells().all(|cell| cell.is_empty() || header::is_unit_only(&cell)) {
                layout.unit.get_or_insert(place);
            } else if kinds * 2 > looks.filled && layout.kind.is_none() {
                layout.kind = Some(place);
            } else if heading.quantity.is_none()
                && heading.of_no_use.is_none()
                && layout.sensor.is_none()
                && !heading.is_time
                && looks.stamps * 2 < looks.filled
            {
                layout.sensor = Some(place);
            } else {
                unused("holds words, not numbers");
            }
            return;
        }
        if heading.is_sensor
            && heading.quantity.is_none()
            && is_number
            && layout.sensor.is_none()
            && cells().all(|cell| cell.bytes().all(|byte| byte.is_ascii_digit()))
        {
            layout.sensor = Some(place);
            return;
        }
        if let Some(why) = heading.of_no_use {
            return unused(why);
        }
        if heading.is_time || looks.mostly(looks.stamps + looks.epochs) {
            return unused("is a second time");
        }
        if looks.filled == 0 && heading.quantity.is_none() {
            return unused("is empty");
        }
        let column =
            ValueColumn { place, name: name.clone(), heading: heading.clone(), quantity: heading.quantity };
        layout.values.push(column);
    }

    /// Settles what is measured in columns that do not say so, and refuses what cannot be told apart.
    fn check(&self, file: &str, mut layout: Layout) -> Result<Layout, LogFileError> {
        let is_headed = layout.header_line.is_some();
        let mut has_temperature =
            layout.values.iter().any(|column| column.quantity == Some(Quantity::Temperature));
        let kind = layout.kind;
        let mut unused = Vec::new();
        layout.values.retain_mut(|column| {
            if column.quantity.is_some() || kind.is_some() {
                return true;
            }
            // A column with a name of its own is a thermometer; of columns without a name the first one is.
            let is_named = is_headed && !column.heading.sensor.is_empty();
            if is_named || !has_temperature {
                has_temperature = true;
                column.quantity = Some(Quantity::Temperature);
                return true;
            }
            unused.push(UnusedColumn {
                column: column.name.clone(),
                why: "has no heading that says what it holds".to_owned(),
            });
            false
        });
        layout.unused.extend(unused);
        let line = layout.header_line.unwrap_or(layout.first_line);
        if layout.values.is_empty() {
            let found = self.names.join(", ");
            return Err(LogFileError::NoValues { file: file.to_owned(), line, found });
        }
        Self::prefer_celsius(&mut layout);
        for (at, column) in layout.values.iter().enumerate() {
            let key = |column: &ValueColumn| (column.heading.sensor.to_lowercase(), column.quantity);
            if let Some(other) = layout.values.iter().take(at).find(|other| key(other) == key(column)) {
                return Err(LogFileError::DuplicateColumn {
                    file: file.to_owned(),
                    line,
                    field: column.name.clone(),
                    first: other.place + 1,
                    second: column.place + 1,
                });
            }
        }
        Ok(layout)
    }

    /// Of one sensor's temperature in two units the one in °C is read.
    fn prefer_celsius(layout: &mut Layout) {
        let units: Vec<(String, Option<LogUnit>)> = layout
            .values
            .iter()
            .filter(|column| column.quantity == Some(Quantity::Temperature))
            .map(|column| (column.heading.sensor.to_lowercase(), column.heading.unit))
            .collect();
        let mut unused = Vec::new();
        layout.values.retain(|column| {
            let sensor = column.heading.sensor.to_lowercase();
            let twin = units.iter().any(|(other, unit)| *other == sensor && *unit == Some(LogUnit::Celsius));
            let other_unit = column.heading.unit.is_some_and(|unit| unit != LogUnit::Celsius);
            let is_twin = column.quantity == Some(Quantity::Temperature) && twin && other_unit;
            if is_twin {
                let why = "is the same temperature in another unit".to_owned();
                unused.push(UnusedColumn { column: column.name.clone(), why });
            }
            !is_twin
        });
        layout.unused.extend(unused);
    }

    /// What the lines above the table say.
    fn preamble(&self, sample: &Sample<'_>, layout: &mut Layout) {
        let end = self.header_line.unwrap_or(layout.first_line);
        for (_, line) in sample.lines.iter().take_while(|(line, _)| *line < end) {
            let text = String::from_utf8_lossy(line);
            for (sign, unit) in [
                ("°C", LogUnit::Celsius),
                ("℃", LogUnit::Celsius),
                ("°F", LogUnit::Fahrenheit),
                ("℉", LogUnit::Fahrenheit),
            ] {
                if text.contains(sign) {
                    layout.preamble_unit.get_or_insert(unit);
                }
            }
            let Some((key, value)) = text.split_once([':', ';', ',', '\t', '=']) else { continue };
            let key = key.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase();
            let value = value.trim_matches(|c: char| c.is_whitespace() || ";,\"'\t".contains(c));
            let names = [
                "name",
                "device",
                "device name",
                "logger",
                "logger name",
                "sensor",
                "sensor name",
                "title",
                "plot title",
                "description",
                "gerät",
                "gerätename",
                "location",
                "standort",
            ];
            if names.contains(&key.as_str()) && !value.is_empty() && value.chars().count() <= 60 {
                layout.preamble_name.get_or_insert_with(|| value.to_owned());
            }
        }
    }
}
