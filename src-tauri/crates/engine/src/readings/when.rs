//! From dates and times as they are written to instants: order of day and month, time zone, clock changes.

use chrono::{DateTime, MappedLocalTime, NaiveDateTime, Offset, TimeZone};
use chrono_tz::Tz;

use super::DateOrder;
use super::stamp::{self, Shape, Written};

/// Rows that follow on one another with one date.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run {
    pub(super) written: Written,
    /// Its first row.
    pub(super) row: usize,
    /// Time of day of its first and last row in seconds.
    pub(super) begin_s: u32,
    pub(super) end_s: u32,
}

pub(super) const DAY_S: i64 = 86_400;

/// How many of a file's days follow on each other under an order that leads from one row to the next in the usual step.
struct Trial {
    order: DateOrder,
    invalid: usize,
    joined: usize,
    future: usize,
}

/// The orders that a file's dates can have, the likeliest first: one where it is clear, several where it is not.
///
/// An order is ruled out by a date that does not exist under it (the whole file is looked at), by dates that lie in
/// the future, and by days that do not follow on each other where they do under another one: from the last reading of
/// 3 February to the first of 4 February it is one step, from 2 March to 2 April it is not. Where all this leaves
/// several, points between the numbers stand for day first: common practice, no source.
pub(super) fn orders(runs: &[Run], step_s: Option<i64>, now_s: i64) -> Vec<DateOrder> {
    let Some(undecided) = runs.iter().find(|run| run.written.shape != Shape::Settled) else {
        return vec![DateOrder::YearMonthDay];
    };
    let candidates: &[DateOrder] = match undecided.written.shape {
        Shape::Short { .. } => &DateOrder::ALL,
        _ => &[DateOrder::DayMonthYear, DateOrder::MonthDayYear],
    };
    let mut trials: Vec<Trial> = candidates.iter().map(|order| trial(*order, runs, step_s, now_s)).collect();
    let fewest =
        |trials: &[Trial], count: fn(&Trial) -> usize| trials.iter().map(count).min().unwrap_or_default();
    let invalid = fewest(&trials, |trial| trial.invalid);
    trials.retain(|trial| trial.invalid == invalid);
    let future = fewest(&trials, |trial| trial.future);
    trials.retain(|trial| trial.future == future);
    let joined = trials.iter().map(|trial| trial.joined).max().unwrap_or_default();
    trials.retain(|trial| trial.joined == joined || joined == 0);
    let same_days = |one: &Trial, other: &Trial| {
        runs.iter().all(|run| run.written.day(one.order) == run.written.day(other.order))
    };
    if let [first, others @ ..] = trials.as_slice()
        && others.iter().all(|other| same_days(first, other))
    {
        trials.truncate(1);
    }
    let is_dotted =
        matches!(undecided.written.shape, Shape::YearLast { dotted: true } | Shape::Short { dotted: true });
    if is_dotted && trials.iter().any(|trial| trial.order == DateOrder::DayMonthYear) {
        return vec![DateOrder::DayMonthYear];
    }
    trials.into_iter().map(|trial| trial.order).collect()
}

fn trial(order: DateOrder, runs: &[Run], step_s: Option<i64>, now_s: i64) -> Trial {
    let mut trial = Trial { order, invalid: 0, joined: 0, future: 0 };
    let mut before: Option<(i64, u32)> = None;
    for run in runs {
        let Some(day) = run.written.day(order) else {
            trial.invalid += 1;
            before = None;
            continue;
        };
        let midnight_s = i64::from(day) * DAY_S;
        trial.future += usize::from(midnight_s > now_s + DAY_S);
        if let (Some((last_s, _)), Some(step_s)) = (before, step_s) {
            let forward = midnight_s + i64::from(run.begin_s) - last_s;
            trial.joined += usize::from(forward.abs() <= 2 * step_s && forward != 0);
        }
        before = Some((midnight_s + i64::from(run.end_s), run.end_s));
    }
    trial
}

/// What a clock shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum LogZone {
    /// The time of a place, with its clock changes.
    Named(Tz),
    /// Always as many seconds east of UTC.
    Fixed(i32),
}

impl LogZone {
    /// Reads a name of the IANA database or an offset.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        stamp::offset(text.as_bytes()).map(Self::Fixed).or_else(|| text.parse().ok().map(Self::Named))
    }

    /// Its name: that of the IANA database, or the offset (`+01:00`).
    pub(super) fn name(self) -> String {
        match self {
            Self::Named(tz) => tz.name().to_owned(),
            Self::Fixed(0) => "UTC".to_owned(),
            Self::Fixed(offset_s) => offset_name(offset_s),
        }
    }
}

/// An offset in seconds as `+01:00`.
fn offset_name(offset_s: i32) -> String {
    let minutes = offset_s.abs() / 60;
    format!("{}{:02}:{:02}", if offset_s < 0 { '-' } else { '+' }, minutes / 60, minutes % 60)
}

fn naive(local_s: i64) -> Option<NaiveDateTime> {
    DateTime::from_timestamp(local_s, 0).map(|instant| instant.naive_utc())
}

fn mapped(tz: Tz, local_s: i64) -> MappedLocalTime<i64> {
    match naive(local_s) {
        None => MappedLocalTime::None,
        Some(local) => {
            tz.offset_from_local_datetime(&local).map(|offset| i64::from(offset.fix().local_minus_utc()))
        }
    }
}

/// Seconds east of UTC at a local time that exists once.
fn only(tz: Tz, local_s: i64) -> Option<i64> {
    match mapped(tz, local_s) {
        MappedLocalTime::Single(offset_s) => Some(offset_s),
        _ => None,
    }
}

/// Rows whose instants the clock change leaves open.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Doubtful {
    /// In the hour that the clocks leave out.
    pub(super) skipped: Vec<usize>,
    /// In the hour that they repeat, and the order of the rows does not tell which time is meant.
    pub(super) repeated: Vec<usize>,
    /// Rows that run straight through such an hour in the usual step, with the offset in seconds of the time before
    /// (spring) or after (autumn) the change: that of a clock that keeps winter time.
    pub(super) straight: Vec<(usize, i64)>,
}

/// Turns local seconds since 1970 into instants, in place.
///
/// The hour that clocks repeat in autumn is resolved by order where the file tells: where the times run back once,
/// the second round begins there; where the readings follow without a break on those before the hour but not on
/// those after it, they are the first round, and the other way about the second. Otherwise the first is taken and
/// the rows are doubtful. A time in the hour that is left out in spring is read as if the clock had not been changed
/// yet, and is doubtful.
///
/// * `days` — rows of each day, in order: day number since 1970 with the rows
/// * `groups` — rows of each sensor in the order of the file; a file of one sensor is one group
pub(super) fn to_utc(
    tz: Tz,
    local_s: &mut [i64],
    days: &[(i64, std::ops::Range<usize>)],
    groups: &[Vec<u32>],
    step_s: Option<i64>,
) -> Doubtful {
    let mut doubtful = Doubtful::default();
    let mut folded: Vec<(usize, i64, i64)> = Vec::new();
    let written = if days.iter().any(|(day, _)| changes(tz, *day)) { local_s.to_vec() } else { Vec::new() };
    for (day, rows) in days {
        let midnight_s = day * DAY_S;
        if !changes(tz, *day) {
            let offset_s = only(tz, midnight_s).unwrap_or_default();
            for local in local_s.get_mut(rows.clone()).into_iter().flatten() {
                *local -= offset_s;
            }
            continue;
        }
        for row in rows.clone() {
            let Some(local) = local_s.get_mut(row) else { continue };
            match mapped(tz, *local) {
                MappedLocalTime::Single(offset_s) => *local -= offset_s,
                MappedLocalTime::Ambiguous(first_s, second_s) => folded.push((row, first_s, second_s)),
                MappedLocalTime::None => {
                    let before = [3, 6, 24].into_iter().find_map(|hours| only(tz, *local - hours * 3600));
                    let offset_s = before.unwrap_or_default();
                    *local -= offset_s;
                    doubtful.skipped.push(row);
                    doubtful.straight.push((row, offset_s));
                }
            }
        }
    }
    if !folded.is_empty() {
        let offsets: std::collections::HashMap<usize, (i64, i64)> =
            folded.iter().map(|(row, first_s, second_s)| (*row, (*first_s, *second_s))).collect();
        for group in groups {
            unfold(group, &written, local_s, &offsets, step_s, &mut doubtful);
        }
        doubtful.repeated.sort_unstable();
    }
    doubtful
}

/// Whether the clocks change on a local day, or so near to it that a time of it may be meant.
fn changes(tz: Tz, day: i64) -> bool {
    let (start, end) = (only(tz, day * DAY_S), only(tz, (day + 1) * DAY_S));
    start.is_none() || start != end
}

fn unfold(
    group: &[u32],
    written: &[i64],
    utc_s: &mut [i64],
    offsets: &std::collections::HashMap<usize, (i64, i64)>,
    step_s: Option<i64>,
    doubtful: &mut Doubtful,
) {
    let at = |place: usize| group.get(place).and_then(|row| written.get(*row as usize)).copied();
    let is_descending =
        matches!((at(0), group.len().checked_sub(1).and_then(at)), (Some(first), Some(last)) if first > last);
    let rows: Vec<usize> = if is_descending {
        group.iter().rev().map(|row| *row as usize).collect()
    } else {
        group.iter().map(|row| *row as usize).collect()
    };
    let local = |place: usize| rows.get(place).and_then(|row| written.get(*row)).copied();
    let mut place = 0;
    while place < rows.len() {
        if !rows.get(place).is_some_and(|row| offsets.contains_key(row)) {
            place += 1;
            continue;
        }
        let start = place;
        while rows.get(place).is_some_and(|row| offsets.contains_key(row))
            && local(place).zip(local(start)).is_some_and(|(one, other)| (one - other).abs() < 2 * DAY_S)
        {
            place += 1;
        }
        let end = place;
        let turns: Vec<usize> = (start + 1..end).filter(|place| local(*place) <= local(place - 1)).collect();
        let is_next = |before: usize, after: usize| match (local(before), local(after), step_s) {
            (Some(before), Some(after), Some(step_s)) => (0..=step_s * 3 / 2).contains(&(after - before)),
            _ => false,
        };
        let follows = start > 0 && is_next(start - 1, start);
        let leads = is_next(end - 1, end);
        let (second_from, is_sure) = match (turns.as_slice(), follows, leads) {
            ([turn], ..) => (*turn, true),
            ([], true, false) => (end, true),
            ([], false, true) => (start, true),
            _ => (end, false),
        };
        for (place, row) in rows.iter().enumerate().take(end).skip(start) {
            let Some((first_s, second_s)) = offsets.get(row) else { continue };
            if let Some(utc) = utc_s.get_mut(*row) {
                *utc -= if place < second_from { *first_s } else { *second_s };
            }
            if !is_sure {
                doubtful.repeated.push(*row);
            }
            if turns.is_empty() && follows && leads {
                doubtful.straight.push((*row, *second_s));
            }
        }
    }
}
