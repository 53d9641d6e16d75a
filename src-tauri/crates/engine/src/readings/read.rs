//! From the bytes of a file to readings.

use chrono::DateTime;

use super::assemble;
use super::layout::{self, Layout, TimeAt};
use super::raw::{self, NO_OFFSET, Raw};
use super::text;
use super::when::{self, DAY_S, Doubtful, LogZone};
use super::{
    DateOrder, KnownFrom, LogFile, LogFileError, LogNote, LogOptions, LogQuestion, LogSetting, OrderChoice,
    RejectReason, TimeKind, Understood,
};

/// 2000-01-01T00:00:00Z: what is earlier was written by a clock that nobody had set.
const CLOCK_SET_S: i64 = 946_684_800;

/// Stands for a row without an instant.
pub(super) const NO_INSTANT: i64 = i64::MIN;

/// Reads a logger's file.
///
/// The text is gone through three times (sample, order of dates, rows) and held once; what is made of it takes
/// about as much memory again.
///
/// # Parameters
/// - `file_name`: for messages, and for the name of a sensor that the file does not name.
///
/// # Errors
/// When nothing of the file can be used; single bad rows are counted in [`LogFile::rejections`], and what it leaves
/// open stands in [`LogFile::questions`].
pub fn read_log(
    file_name: &str,
    bytes: &[u8],
    options: &LogOptions,
    setting: &LogSetting,
) -> Result<LogFile, LogFileError> {
    let (text, encoding) = text::decode(file_name, bytes, options.encoding)?;
    let layout = layout::find(file_name, &text, options)?;
    let zone = zone(file_name, &layout, options, setting)?;
    let decimal = options.decimal.or_else(|| raw::decimal_mark(&text, &layout));
    let mut raw = raw::read(&text, &layout, decimal);
    if raw.has_too_many_groups {
        let field = layout.sensor.map_or_else(String::new, |place| format!("column {}", place + 1));
        let line = layout.first_line;
        return Err(LogFileError::TooManySensors { file: file_name.to_owned(), line, field });
    }
    if raw.lines.is_empty() {
        return Err(times(file_name, &layout, &raw, "no cell of it is a date and time"));
    }
    let mut questions = Vec::new();
    let step_s = step_within_days(&raw, &layout);
    let orders = match (layout.time, options.order) {
        (TimeAt::Epoch(_), _) => Vec::new(),
        (_, Some(order)) => vec![order],
        _ => when::orders(&raw.runs, step_s, setting.now_utc.timestamp()),
    };
    if orders.len() > 1 {
        questions.push(ask_order(&orders, &raw));
    }
    let doubtful = instants(&mut raw, &layout, orders.first().copied(), zone.0, step_s, setting);
    if raw.seconds.iter().all(|instant| *instant == NO_INSTANT) {
        return Err(times(file_name, &layout, &raw, "no cell of it is an instant at which readings can be"));
    }
    let settled = raw.runs.iter().all(|run| run.written.shape == super::stamp::Shape::Settled);
    let understood = Understood {
        encoding,
        delimiter: layout.delimiter,
        decimal,
        header_line: layout.header_line,
        first_line: layout.first_line,
        rows: raw.rows,
        time: match layout.time {
            TimeAt::Stamp(_) => TimeKind::Stamp,
            TimeAt::DateAndTime(..) => TimeKind::DateAndTime,
            TimeAt::Epoch(_) => TimeKind::Epoch,
        },
        time_columns: layout.time_names.clone(),
        order: orders.first().copied(),
        order_from: match options.order {
            Some(_) => KnownFrom::Asked,
            None if settled => KnownFrom::File,
            None => KnownFrom::Values,
        },
        is_twelve_hour: raw.is_twelve_hour,
        zone: match (layout.time, raw.offsets.first()) {
            (TimeAt::Epoch(_), _) => "UTC".to_owned(),
            (_, Some(offset_s)) if *offset_s != NO_OFFSET => LogZone::Fixed(*offset_s).name(),
            _ => zone.0.name(),
        },
        zone_from: match (layout.time, raw.offsets.first()) {
            (TimeAt::Epoch(_), _) => KnownFrom::File,
            (_, Some(offset_s)) if *offset_s != NO_OFFSET => KnownFrom::File,
            _ => zone.1,
        },
        unused: layout.unused.clone(),
    };
    let mut notes = clock_changes(&doubtful, &raw, zone, &mut questions);
    let series = assemble::series(
        file_name,
        &layout,
        &mut raw,
        &doubtful,
        options,
        setting,
        &mut questions,
        &mut notes,
    );
    raw.rejections.finish();
    if series.is_empty() {
        return Err(LogFileError::NoReadings {
            file: file_name.to_owned(),
            line: layout.first_line,
            rows: raw.rows as usize,
            example: raw.rejections.rows.first().map_or_else(
                || "all cells are empty".to_owned(),
                |row| format!("line {}: {}", row.line, row.what),
            ),
        });
    }
    Ok(LogFile { understood, series, rejections: raw.rejections, questions, notes })
}

/// What the clock shows: what an option says, else the heading, else the time of the site.
fn zone(
    file: &str,
    layout: &Layout,
    options: &LogOptions,
    setting: &LogSetting,
) -> Result<(LogZone, KnownFrom), LogFileError> {
    match (&options.zone, layout.offset_s) {
        (Some(asked), _) => {
            LogZone::parse(asked).map(|zone| (zone, KnownFrom::Asked)).ok_or_else(|| LogFileError::Option {
                file: file.to_owned(),
                field: "zone".to_owned(),
                value: asked.clone(),
                problem: "which is no time zone".to_owned(),
                mend: "give a name such as Europe/Vienna, UTC, or an offset such as +01:00".to_owned(),
            })
        }
        (None, Some(offset_s)) => Ok((LogZone::Fixed(offset_s), KnownFrom::File)),
        (None, None) => Ok((LogZone::Named(setting.time_zone), KnownFrom::Site)),
    }
}

fn times(file: &str, layout: &Layout, raw: &Raw, found: &str) -> LogFileError {
    let example = raw.rejections.rows.first();
    LogFileError::Times {
        file: file.to_owned(),
        line: example.map_or(layout.first_line, |row| row.line),
        field: layout.time_names.join(" + "),
        found: example.map_or_else(|| found.to_owned(), |row| format!("{found}: {}", row.what)),
        mend: "check the logger’s clock, or say with the options how dates are ordered".to_owned(),
    }
}

/// The usual step between rows of one day in seconds; zero steps, as between sensors at one instant, do not count.
fn step_within_days(raw: &Raw, layout: &Layout) -> Option<i64> {
    if matches!(layout.time, TimeAt::Epoch(_)) {
        return None;
    }
    let stride = (raw.seconds.len() / 4096).max(1);
    let mut steps: Vec<i64> = raw
        .seconds
        .windows(2)
        .step_by(stride)
        .map(|pair| (pair[1] - pair[0]).abs())
        .filter(|step| (1..DAY_S / 2).contains(step))
        .collect();
    let middle = steps.len().checked_sub(1)? / 2;
    Some(*steps.select_nth_unstable(middle).1)
}

fn ask_order(orders: &[DateOrder], raw: &Raw) -> LogQuestion {
    let choices = orders
        .iter()
        .filter_map(|order| {
            let locals = raw.runs.iter().filter_map(|run| {
                let midnight_s = i64::from(run.written.day(*order)?) * DAY_S;
                Some((
                    midnight_s + i64::from(run.begin_s.min(run.end_s)),
                    midnight_s + i64::from(run.begin_s.max(run.end_s)),
                ))
            });
            let (first_s, last_s) = locals.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)))?;
            let local = |second| DateTime::from_timestamp(second, 0).map(|instant| instant.naive_utc());
            Some(OrderChoice { order: *order, first: local(first_s)?, last: local(last_s)? })
        })
        .collect();
    let line = raw.lines.first().copied().unwrap_or(1);
    LogQuestion::Order { written: raw.first_date.clone(), line, choices }
}

/// Turns the seconds of all rows into instants; rows without one get [`NO_INSTANT`].
fn instants(
    raw: &mut Raw,
    layout: &Layout,
    order: Option<DateOrder>,
    zone: LogZone,
    step_s: Option<i64>,
    setting: &LogSetting,
) -> Doubtful {
    let rows = raw.seconds.len();
    let mut doubtful = Doubtful::default();
    let mut nowhere: Vec<std::ops::Range<usize>> = Vec::new();
    if let (false, Some(order)) = (matches!(layout.time, TimeAt::Epoch(_)), order) {
        let mut days = Vec::with_capacity(raw.runs.len());
        for (number, run) in raw.runs.iter().enumerate() {
            let end = raw.runs.get(number + 1).map_or(rows, |next| next.row);
            match run.written.day(order) {
                Some(day) => {
                    for second in &mut raw.seconds[run.row..end] {
                        *second += i64::from(day) * DAY_S;
                    }
                    days.push((i64::from(day), run.row..end));
                }
                None => nowhere.push(run.row..end),
            }
        }
        let has_offsets = !raw.offsets.is_empty();
        let local = has_offsets.then(|| raw.seconds.clone());
        match zone {
            LogZone::Fixed(offset_s) => {
                for second in &mut raw.seconds {
                    *second -= i64::from(offset_s);
                }
            }
            LogZone::Named(tz) => {
                let groups = assemble::rows_by_group(raw);
                let step_s = step_s.or(Some(3600));
                doubtful = when::to_utc(tz, &mut raw.seconds, &days, &groups, step_s);
            }
        }
        if let Some(local) = local {
            raw.offsets.resize(rows, NO_OFFSET);
            let own = |row: &usize| raw.offsets.get(*row).is_none_or(|offset_s| *offset_s == NO_OFFSET);
            doubtful.skipped.retain(own);
            doubtful.repeated.retain(own);
            doubtful.straight.retain(|(row, _)| own(row));
            for ((second, local), offset_s) in raw.seconds.iter_mut().zip(&local).zip(&raw.offsets) {
                if *offset_s != NO_OFFSET {
                    *second = local - i64::from(*offset_s);
                }
            }
        }
    }
    for range in nowhere {
        for row in range {
            let line = raw.lines[row];
            raw.seconds[row] = NO_INSTANT;
            raw.rejections.add(RejectReason::NoSuchDay, line, None, || "there is no such day".to_owned());
        }
    }
    refuse_out_of_time(raw, setting);
    doubtful
}

/// Refuses rows from the future and from before the logger's clock was set.
fn refuse_out_of_time(raw: &mut Raw, setting: &LogSetting) {
    let latest = setting.now_utc.timestamp() + DAY_S;
    for (row, second) in raw.seconds.iter_mut().enumerate() {
        if (CLOCK_SET_S..=latest).contains(second) || *second == NO_INSTANT {
            continue;
        }
        let shown = DateTime::from_timestamp(*second, 0)
            .map_or_else(|| "its date".to_owned(), |instant| instant.format("%Y-%m-%d").to_string());
        let (reason, what) = if *second > latest {
            (RejectReason::Future, format!("{shown} lies in the future; check the logger’s clock"))
        } else {
            (RejectReason::ClockNotSet, format!("{shown} is before 2000: the logger’s clock was not set"))
        };
        let line = raw.lines.get(row).copied().unwrap_or(1);
        raw.rejections.add(reason, line, None, || what);
        *second = NO_INSTANT;
    }
}

/// Notes of rows whose instants the clock change leaves open; asks about the clock where nothing was said about it and
/// its times run straight through a change.
fn clock_changes(
    doubtful: &Doubtful,
    raw: &Raw,
    zone: (LogZone, KnownFrom),
    questions: &mut Vec<LogQuestion>,
) -> Vec<LogNote> {
    let line = |row: Option<&usize>| row.and_then(|row| raw.lines.get(*row)).copied().unwrap_or(1);
    let count = |rows: usize| u32::try_from(rows).unwrap_or(u32::MAX);
    if let (Some((row, offset_s)), KnownFrom::Site) = (doubtful.straight.iter().min(), zone.1) {
        let kept = LogZone::Fixed(i32::try_from(*offset_s).unwrap_or_default());
        questions.push(LogQuestion::Zone {
            line: line(Some(row)),
            rows: count(doubtful.straight.len()),
            choices: vec![kept.name(), zone.0.name()],
        });
    }
    let mut notes = Vec::new();
    if let [first, ..] = doubtful.skipped.as_slice() {
        notes.push(LogNote::SkippedHour { rows: count(doubtful.skipped.len()), line: line(Some(first)) });
    }
    if let [first, ..] = doubtful.repeated.as_slice() {
        notes.push(LogNote::RepeatedHour { rows: count(doubtful.repeated.len()), line: line(Some(first)) });
    }
    notes
}
