//! One pass over the rows of a table: cells become numbers, dates stay as they are written.

use std::collections::HashMap;

use super::layout::{Layout, TimeAt};
use super::number::{self, Cell};
use super::rows::{self, Lines};
use super::stamp::{self, Clock, Written};
use super::when::Run;
use super::{DecimalMark, RejectReason, Rejections};

/// Stands for “no offset in the cell”.
pub(super) const NO_OFFSET: i32 = i32::MIN;

/// What tells the sensors of a long table apart: the texts of its sensor, kind and unit column.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub(super) struct Group {
    pub(super) sensor: String,
    pub(super) kind: String,
    pub(super) unit: String,
}

/// Sensors that one file may name.
const MOST_GROUPS: usize = 1000;

/// The rows of a table.
#[derive(Debug, Default)]
pub(super) struct Raw {
    /// Line of each row.
    pub(super) lines: Vec<u32>,
    pub(super) runs: Vec<Run>,
    /// Time of day of each row; instants for counts since 1970.
    pub(super) seconds: Vec<i64>,
    /// Offset of each row from UTC; empty where no cell has one.
    pub(super) offsets: Vec<i32>,
    /// Values by column; NaN where there is none.
    pub(super) values: Vec<Vec<f64>>,
    pub(super) groups: Vec<Group>,
    /// Group of each row; empty for a table without such columns.
    pub(super) group_of: Vec<u32>,
    /// Cells by column that hold no number.
    pub(super) bad: Vec<u32>,
    /// Rows, refused ones too.
    pub(super) rows: u32,
    pub(super) is_twelve_hour: bool,
    /// Whether the sensors' column names more than a garden can have.
    pub(super) has_too_many_groups: bool,
    pub(super) rejections: Rejections,
    /// Last date as it is written.
    pub(super) first_date: String,
}

/// The mark that a file's numbers have: that of the first hundred cells with exactly one.
pub(super) fn decimal_mark(text: &str, layout: &Layout) -> Option<DecimalMark> {
    let mut cells = Vec::new();
    let (mut points, mut commas, mut seen) = (0, 0, 0);
    for (line, row) in Lines::of(text) {
        if line < layout.first_line || row.is_empty() {
            continue;
        }
        rows::split(row, layout.delimiter, &mut cells);
        for column in &layout.values {
            let Some(cell) = cells.get(column.place) else { continue };
            let has = |mark| cell.contains(&mark);
            match (has(b'.'), has(b',')) {
                (true, false) => points += 1,
                (false, true) => commas += 1,
                _ => {}
            }
        }
        seen += 1;
        if points + commas >= 100 || seen > 5000 {
            break;
        }
    }
    match (points, commas) {
        (0, 0) => None,
        _ if commas > points => Some(DecimalMark::Comma),
        _ => Some(DecimalMark::Point),
    }
}

/// Reads all rows.
pub(super) fn read(text: &str, layout: &Layout, mark: Option<DecimalMark>) -> Raw {
    let mut lines = Lines::of(text);
    let mut reader = Reader::new(text, layout, mark);
    let mut cells: Vec<&[u8]> = Vec::with_capacity(layout.width);
    while let Some((line, row)) = lines.next() {
        if line < layout.first_line || row.is_empty() {
            continue;
        }
        rows::split(row, layout.delimiter, &mut cells);
        if cells.iter().all(|cell| cell.is_empty()) {
            continue;
        }
        let is_cut = lines.is_at_end() && !text.ends_with(['\n', '\r']) && cells.len() < layout.width;
        reader.row(line, &cells, is_cut);
    }
    reader.raw
}

struct Reader<'a> {
    layout: &'a Layout,
    mark: Option<DecimalMark>,
    raw: Raw,
    /// The date of the row before, as it is written: most rows have the same.
    date: &'a [u8],
    known: HashMap<Group, u32>,
    group: [&'a [u8]; 3],
    group_number: Option<u32>,
}

impl<'a> Reader<'a> {
    fn new(text: &'a str, layout: &'a Layout, mark: Option<DecimalMark>) -> Self {
        let columns = layout.values.len();
        // Some forty bytes a row, unless it is longer: room is made once.
        let rows = text.len() / 40 + 1;
        let mut raw = Raw { bad: vec![0; columns], ..Raw::default() };
        raw.values = (0..columns).map(|_| Vec::with_capacity(rows)).collect();
        raw.seconds.reserve(rows);
        raw.lines.reserve(rows);
        Self { layout, mark, raw, date: b"", known: HashMap::new(), group: [b""; 3], group_number: None }
    }

    #[inline]
    fn row(&mut self, line: u32, cells: &[&'a [u8]], is_cut: bool) {
        self.raw.rows += 1;
        if is_cut {
            let (has, wants) = (cells.len(), self.layout.width);
            let what = || format!("the file ends in this row, which has {has} cells of {wants}");
            return self.raw.rejections.add(RejectReason::CutOff, line, None, what);
        }
        let is_read = match self.layout.time {
            TimeAt::Stamp(place) => self.stamp(line, cells.get(place).copied()),
            TimeAt::DateAndTime(date, time) => {
                self.date_and_time(line, cells.get(date).copied(), cells.get(time).copied())
            }
            TimeAt::Epoch(place) => self.epoch(line, cells.get(place).copied()),
        };
        if !is_read {
            return;
        }
        self.raw.lines.push(line);
        let layout = self.layout;
        for (number, column) in layout.values.iter().enumerate() {
            let value = match cells.get(column.place).map(|cell| number::cell(cell, self.mark)) {
                Some(Cell::Number(value)) => value,
                Some(Cell::Bad) => {
                    let cell = cells.get(column.place).copied().unwrap_or_default();
                    self.raw.bad[number] += 1;
                    let what = || format!("“{}” is not a number", rows::shown(cell));
                    self.raw.rejections.add(RejectReason::NoNumber, line, Some(&column.name), what);
                    f64::NAN
                }
                Some(Cell::Missing) | None => f64::NAN,
            };
            self.raw.values[number].push(value);
        }
        if layout.sensor.is_some() || layout.kind.is_some() || layout.unit.is_some() {
            self.group(cells);
        }
    }

    fn refuse_time(&mut self, line: u32, cell: Option<&[u8]>) -> bool {
        match cell {
            None => self.raw.rejections.add(RejectReason::Short, line, None, || {
                "the row is too short: it has no cell for the time".to_owned()
            }),
            Some(cell) => self.raw.rejections.add(RejectReason::NoTime, line, None, || {
                format!("“{}” is not a date and time", rows::shown(cell))
            }),
        }
        false
    }

    #[inline]
    fn stamp(&mut self, line: u32, cell: Option<&'a [u8]>) -> bool {
        let Some(text) = cell else { return self.refuse_time(line, None) };
        // Most rows have the date of the row before.
        if let Some(rest) = text.strip_prefix(self.date)
            && !self.date.is_empty()
            && !rest.first().is_some_and(u8::is_ascii_digit)
            && let Some(clock) = stamp::time_behind(rest)
        {
            return self.same_date(clock);
        }
        let Some((written, rest)) = stamp::date(text) else { return self.refuse_time(line, cell) };
        let Some(clock) = stamp::time_behind(rest) else { return self.refuse_time(line, cell) };
        self.date = &text[..text.len() - rest.len()];
        self.dated(written, clock)
    }

    fn date_and_time(&mut self, line: u32, date: Option<&'a [u8]>, time: Option<&'a [u8]>) -> bool {
        let (Some(date), Some(time)) = (date, time) else { return self.refuse_time(line, None) };
        let Some(clock) = stamp::time(time) else { return self.refuse_time(line, Some(time)) };
        if date == self.date && !date.is_empty() {
            return self.same_date(clock);
        }
        let Some((written, rest)) = stamp::date(date) else { return self.refuse_time(line, Some(date)) };
        // Some write a midnight behind each date.
        if !rest.is_empty() && stamp::time_behind(rest).is_none() {
            return self.refuse_time(line, Some(date));
        }
        self.date = date;
        self.dated(written, clock)
    }

    #[inline]
    fn epoch(&mut self, line: u32, cell: Option<&'a [u8]>) -> bool {
        match cell.and_then(stamp::epoch) {
            Some(instant) => {
                self.raw.seconds.push(instant);
                true
            }
            None => self.refuse_time(line, cell),
        }
    }

    #[inline]
    fn same_date(&mut self, clock: Clock) -> bool {
        if let Some(run) = self.raw.runs.last_mut() {
            run.end_s = clock.second;
        }
        self.clock(clock)
    }

    fn dated(&mut self, written: Written, clock: Clock) -> bool {
        if self.raw.runs.is_empty() {
            self.raw.first_date = rows::shown(self.date);
        }
        let row = self.raw.seconds.len();
        self.raw.runs.push(Run { written, row, begin_s: clock.second, end_s: clock.second });
        self.clock(clock)
    }

    #[inline]
    fn clock(&mut self, clock: Clock) -> bool {
        if let Some(offset_s) = clock.offset_s {
            let row = self.raw.seconds.len();
            self.raw.offsets.resize(row, NO_OFFSET);
            self.raw.offsets.push(offset_s);
        }
        self.raw.is_twelve_hour |= clock.is_twelve;
        self.raw.seconds.push(i64::from(clock.second));
        true
    }

    fn group(&mut self, cells: &[&'a [u8]]) {
        let cell =
            |place: Option<usize>| place.and_then(|place| cells.get(place)).copied().unwrap_or_default();
        let texts = [cell(self.layout.sensor), cell(self.layout.kind), cell(self.layout.unit)];
        let number = match self.group_number {
            Some(number) if texts == self.group => number,
            _ => self.number_of(texts),
        };
        self.group = texts;
        self.group_number = Some(number);
        self.raw.group_of.push(number);
    }

    fn number_of(&mut self, texts: [&[u8]; 3]) -> u32 {
        let [sensor, kind, unit] = texts.map(|text| String::from_utf8_lossy(text).into_owned());
        let group = Group { sensor, kind, unit };
        if let Some(number) = self.known.get(&group) {
            return *number;
        }
        // A column of free text is no column of sensors.
        if self.raw.groups.len() >= MOST_GROUPS {
            self.raw.has_too_many_groups = true;
            return 0;
        }
        let number = self.raw.groups.len() as u32;
        self.raw.groups.push(group.clone());
        self.known.insert(group, number);
        number
    }
}
