//! From the rows of a table to the series of its sensors.

use chrono::DateTime;

use super::header::{self, Heading, Scale};
use super::layout::{Layout, ValueColumn};
use super::raw::{Group, Raw};
use super::read::NO_INSTANT;
use super::unit::{Spread, Verdict};
use super::when::Doubtful;
use super::{
    Flag, Flagged, KnownFrom, LogNote, LogOptions, LogQuestion, LogSeries, LogSetting, LogUnit, Quantity,
    Reading, SeriesFigures, UnitChoice, flags, is_outdoor,
};

/// Rows of each group in the order of the file.
pub(super) fn rows_by_group(raw: &Raw) -> Vec<Vec<u32>> {
    let rows = raw.seconds.len() as u32;
    if raw.group_of.is_empty() {
        return vec![(0..rows).collect()];
    }
    let mut groups = vec![Vec::new(); raw.groups.len()];
    for (row, group) in (0..rows).zip(&raw.group_of) {
        if let Some(rows) = groups.get_mut(*group as usize) {
            rows.push(row);
        }
    }
    groups
}

/// One quantity of one sensor before its unit is settled.
struct Draft {
    sensor: String,
    quantity: Quantity,
    column: String,
    told: Option<(LogUnit, KnownFrom)>,
    scale: Option<Scale>,
    /// Instant and value as it is written.
    written: Vec<(i64, f64)>,
    /// Whether `written` runs forward without a repeated instant.
    is_sorted: bool,
    rejected: u32,
    missing: u32,
}

/// Makes the series; asks about units where the values speak against what is told.
#[expect(clippy::too_many_arguments, reason = "the last step of reading gathers what the others found")]
pub(super) fn series(
    file_name: &str,
    layout: &Layout,
    raw: &mut Raw,
    doubtful: &Doubtful,
    options: &LogOptions,
    setting: &LogSetting,
    questions: &mut Vec<LogQuestion>,
    notes: &mut Vec<LogNote>,
) -> Vec<LogSeries> {
    let is_single = raw.group_of.is_empty();
    let groups = if is_single { vec![Vec::new()] } else { rows_by_group(raw) };
    let mut drafts = Vec::new();
    for (number, column) in layout.values.iter().enumerate() {
        for (group_number, rows) in groups.iter().enumerate() {
            let none = Group::default();
            let group = raw.groups.get(group_number).unwrap_or(&none);
            let Some(mut draft) = draft(file_name, layout, column, group, options) else { continue };
            let values = &raw.values[number];
            if is_single {
                draft.take(raw.seconds.iter().copied().zip(values.iter().copied()));
                draft.rejected = raw.bad[number];
            } else {
                draft.take(rows.iter().map(|row| (raw.seconds[*row as usize], values[*row as usize])));
            }
            // Refused cells were counted apart.
            draft.missing = draft.missing.saturating_sub(draft.rejected);
            if !draft.written.is_empty() {
                drafts.push(draft);
            }
        }
    }
    let mut doubtful_s: Vec<i64> = doubtful
        .skipped
        .iter()
        .chain(&doubtful.repeated)
        .filter_map(|row| raw.seconds.get(*row).copied())
        .collect();
    doubtful_s.sort_unstable();
    let units = settle_units(&drafts, options, setting, questions);
    let mut same_instant = 0u32;
    let series = drafts
        .into_iter()
        .zip(units)
        .map(|(draft, unit)| draft.finish(unit, &doubtful_s, &mut same_instant))
        .collect();
    if same_instant > 0 {
        notes.push(LogNote::SameInstant { readings: same_instant });
    }
    series
}

/// What a column holds for a group; absent where it holds nothing that is used.
fn draft(
    file_name: &str,
    layout: &Layout,
    column: &ValueColumn,
    group: &Group,
    options: &LogOptions,
) -> Option<Draft> {
    let kind = header::of_word(&group.kind);
    let unit_cell = header::of_word(&group.unit);
    let quantity = match column.quantity.or(kind.quantity) {
        Some(quantity) => quantity,
        None if layout.kind.is_some() && kind.of_no_use.is_none() => unit_cell.quantity?,
        None => return None,
    };
    let headings: [&Heading; 3] = [&unit_cell, &kind, &column.heading];
    let told = match options.unit {
        Some(unit) => Some((unit, KnownFrom::Asked)),
        None => headings
            .iter()
            .find_map(|heading| heading.unit)
            .or(layout.preamble_unit)
            .map(|unit| (unit, KnownFrom::File)),
    };
    let mut names: Vec<&str> = vec![group.sensor.trim(), column.heading.sensor.trim()];
    names.retain(|name| !name.is_empty());
    let sensor = match (names.as_slice(), &options.sensor, &layout.preamble_name) {
        ([], Some(name), _) | ([], None, Some(name)) => name.clone(),
        ([], None, None) => stem(file_name),
        (names, ..) => names.join(" "),
    };
    Some(Draft {
        sensor: rows_name(&sensor),
        quantity,
        column: column.name.clone(),
        told: told.filter(|_| quantity == Quantity::Temperature),
        scale: headings.iter().find_map(|heading| heading.scale),
        written: Vec::new(),
        is_sorted: true,
        rejected: 0,
        missing: 0,
    })
}

/// A name without what no name needs, cut to a length that fits a screen.
fn rows_name(name: &str) -> String {
    name.chars().map(|c| if c.is_control() { ' ' } else { c }).take(80).collect::<String>().trim().to_owned()
}

/// Name of a file without folder and ending.
fn stem(file_name: &str) -> String {
    let name = file_name.rsplit(['/', '\\']).next().unwrap_or(file_name);
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let words = stem.replace('_', " ");
    let words = words.trim();
    if words.is_empty() { "sensor".to_owned() } else { words.to_owned() }
}

/// The unit of each draft, and the question about those that are in doubt.
fn settle_units(
    drafts: &[Draft],
    options: &LogOptions,
    setting: &LogSetting,
    questions: &mut Vec<LogQuestion>,
) -> Vec<Option<(LogUnit, KnownFrom)>> {
    let mut asked: Vec<(Option<LogUnit>, LogUnit, LogUnit, Vec<usize>)> = Vec::new();
    let units = drafts
        .iter()
        .enumerate()
        .map(|(number, draft)| {
            if draft.quantity != Quantity::Temperature {
                return None;
            }
            if options.unit.is_some() {
                return draft.told;
            }
            let told = draft.told.map(|(unit, _)| unit);
            let verdict = Spread::of(&draft.written, setting.latitude_deg)?.unit(told, setting.usual_unit);
            let unit = match verdict {
                Verdict::Take(unit) => unit,
                Verdict::Ask(unit, other) => {
                    match asked.iter_mut().find(|(t, u, o, _)| (*t, *u, *o) == (told, unit, other)) {
                        Some((.., numbers)) => numbers.push(number),
                        None => asked.push((told, unit, other, vec![number])),
                    }
                    unit
                }
            };
            let assumed = if unit == usual(setting) { KnownFrom::Site } else { KnownFrom::Values };
            Some(draft.told.unwrap_or((unit, assumed)))
        })
        .collect();
    for (told, unit, other, numbers) in asked {
        let concerned: Vec<&Draft> = numbers.iter().filter_map(|number| drafts.get(*number)).collect();
        let all: Vec<(i64, f64)> = concerned.iter().flat_map(|draft| draft.written.iter().copied()).collect();
        let Some(spread) = Spread::of(&all, setting.latitude_deg) else { continue };
        let choice = |unit: LogUnit| UnitChoice {
            unit,
            low_c: unit.to_celsius(spread.low),
            middle_c: unit.to_celsius(spread.middle),
            high_c: unit.to_celsius(spread.high),
        };
        questions.push(LogQuestion::Unit {
            columns: concerned.iter().map(|draft| draft.sensor.clone()).collect(),
            told,
            choices: vec![choice(unit), choice(other)],
        });
    }
    units
}

fn usual(setting: &LogSetting) -> LogUnit {
    match setting.usual_unit {
        crate::site::TemperatureUnit::Celsius => LogUnit::Celsius,
        crate::site::TemperatureUnit::Fahrenheit => LogUnit::Fahrenheit,
    }
}

impl Draft {
    fn take(&mut self, rows: impl ExactSizeIterator<Item = (i64, f64)>) {
        self.written.reserve(rows.len());
        let mut last = NO_INSTANT;
        for (utc_s, value) in rows {
            if utc_s == NO_INSTANT {
                continue;
            }
            if value.is_nan() {
                self.missing += 1;
                continue;
            }
            self.is_sorted &= utc_s > last;
            last = utc_s;
            self.written.push((utc_s, value));
        }
    }

    /// Settles unit, order and flags.
    ///
    /// * `doubtful_s` — instants that the clock change leaves open, in order
    fn finish(
        mut self,
        unit: Option<(LogUnit, KnownFrom)>,
        doubtful_s: &[i64],
        same_instant: &mut u32,
    ) -> LogSeries {
        let duplicates = self.put_in_order(same_instant);
        let convert = self.conversion(unit.map(|(unit, _)| unit));
        let mut readings: Vec<Reading> = self
            .written
            .iter()
            .map(|(utc_s, value)| Reading { utc_s: *utc_s, value: convert(*value), flag: Flag::Good })
            .collect();
        if !doubtful_s.is_empty() {
            for reading in &mut readings {
                if doubtful_s.binary_search(&reading.utc_s).is_ok() {
                    reading.flag = Flag::DoubtfulTime;
                }
            }
        }
        flags::flag(self.quantity, &mut readings);
        let figures = self.figures(unit, duplicates, &readings);
        LogSeries { figures, readings }
    }

    /// Sorts by time and keeps the first reading of each instant; gives how many were left out.
    fn put_in_order(&mut self, same_instant: &mut u32) -> u32 {
        if self.is_sorted {
            return 0;
        }
        // A stable sort leaves the first of the file first; a file that runs backwards is a single run to it.
        self.written.sort_by_key(|(utc_s, _)| *utc_s);
        let before = self.written.len();
        self.written.dedup_by(|next, first| {
            let is_same = next.0 == first.0;
            *same_instant += u32::from(is_same && next.1 != first.1);
            is_same
        });
        count(before - self.written.len())
    }

    fn conversion(&self, unit: Option<LogUnit>) -> impl Fn(f64) -> f64 + use<> {
        // A share is never above one and a half, and per cent are seldom all below.
        let scale = self.scale.or_else(|| {
            let is_percent =
                self.quantity == Quantity::Humidity && self.written.iter().any(|(_, value)| *value > 1.5);
            is_percent.then_some(Scale::Percent)
        });
        move |value| match (unit, scale) {
            (Some(unit), _) => unit.to_celsius(value),
            (None, Some(Scale::Percent)) => value / 100.0,
            (None, Some(Scale::Kilowatt)) => value * 1000.0,
            (None, None) => value,
        }
    }

    fn figures(
        &self,
        unit: Option<(LogUnit, KnownFrom)>,
        duplicates: u32,
        readings: &[Reading],
    ) -> SeriesFigures {
        let mut flagged = Flagged::default();
        let (mut min, mut max) = (f64::INFINITY, f64::NEG_INFINITY);
        for reading in readings {
            match reading.flag {
                Flag::Good => {
                    min = min.min(reading.value);
                    max = max.max(reading.value);
                }
                Flag::Impossible => flagged.impossible += 1,
                Flag::Spike => flagged.spike += 1,
                Flag::Stuck => flagged.stuck += 1,
                Flag::DoubtfulTime => flagged.doubtful_time += 1,
            }
        }
        let instant =
            |reading: Option<&Reading>| reading.and_then(Reading::at_utc).unwrap_or(DateTime::UNIX_EPOCH);
        let gaps = flags::gaps(readings);
        SeriesFigures {
            sensor: self.sensor.clone(),
            quantity: self.quantity,
            column: self.column.clone(),
            unit: unit.map(|(unit, _)| unit),
            unit_from: unit.map_or(KnownFrom::File, |(_, from)| from),
            is_outdoor: is_outdoor(&self.sensor),
            accepted: count(readings.len()),
            rejected: self.rejected,
            missing: self.missing,
            duplicates,
            flagged,
            first_utc: instant(readings.first()),
            last_utc: instant(readings.last()),
            step_s: flags::usual_step_s(readings),
            gaps: count(gaps.len()),
            longest_gap_h: gaps
                .iter()
                .map(|gap| gap.to_s - gap.from_s)
                .max()
                .map(|span| span as f64 / 3600.0),
            min: min.is_finite().then_some(min),
            max: max.is_finite().then_some(max),
        }
    }
}

fn count(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}
