//! Dates and times in cells, before it is known which of day and month comes first.

use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The order of day, month and year in a date of numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum DateOrder {
    /// `31.12.2026`
    DayMonthYear,
    /// `12/31/2026`
    MonthDayYear,
    /// `2026-12-31`
    YearMonthDay,
}

impl DateOrder {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::DayMonthYear, Self::MonthDayYear, Self::YearMonthDay];
}

/// How sure the order of a date is from the date alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    /// Year, month, day: the year has four digits and comes first, or the month is a word.
    Settled,
    /// Two numbers and a year behind; `dotted` where points stand between them.
    YearLast { dotted: bool },
    /// Three numbers of at most two digits.
    Short { dotted: bool },
}

/// A date as it is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Written {
    pub(super) parts: [u16; 3],
    pub(super) shape: Shape,
}

impl Written {
    /// Day number since 1970-01-01 under an order; absent where there is no such day.
    pub(super) fn day(self, order: DateOrder) -> Option<i32> {
        let [a, b, c] = self.parts;
        let (year, month, day) = match (self.shape, order) {
            (Shape::Settled, _) | (Shape::Short { .. }, DateOrder::YearMonthDay) => (a, b, c),
            (_, DateOrder::DayMonthYear) => (c, b, a),
            (_, DateOrder::MonthDayYear) => (c, a, b),
            (Shape::YearLast { .. }, DateOrder::YearMonthDay) => return None,
        };
        let year = if year < 100 { 2000 + i32::from(year) } else { i32::from(year) };
        let date = NaiveDate::from_ymd_opt(year, month.into(), day.into())?;
        Some(date.num_days_from_ce() - EPOCH_FROM_CE)
    }
}

/// 1970-01-01 counted from the first day of the common era (`NaiveDate::num_days_from_ce`).
pub(super) const EPOCH_FROM_CE: i32 = 719_163;

/// Time of day and, where the cell says, offset from UTC, both in seconds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Clock {
    pub(super) second: u32,
    pub(super) offset_s: Option<i32>,
    pub(super) is_twelve: bool,
}

/// A date and what follows it in the cell.
pub(super) fn date(cell: &[u8]) -> Option<(Written, &[u8])> {
    let cell = without_weekday(cell);
    let (first, digits, rest) = leading(cell);
    if digits == 8 {
        let parts = [(first / 10_000) as u16, (first / 100 % 100) as u16, (first % 100) as u16];
        return Some((Written { parts, shape: Shape::Settled }, rest));
    }
    if digits == 0 {
        return worded_first(cell);
    }
    if digits > 4 {
        return None;
    }
    let (mark, rest) = separator(rest)?;
    if rest.first().is_some_and(|byte| byte.is_ascii_alphabetic() || *byte >= 0x80) {
        return worded_second(first, digits, rest);
    }
    let (second, second_digits, rest) = leading(rest);
    let (_, rest) = separator(rest)?;
    let (third, third_digits, rest) = leading(rest);
    let parts = [first as u16, second as u16, third as u16];
    if !(1..=2).contains(&second_digits) {
        return None;
    }
    let dotted = mark == b'.';
    let shape = match (digits, third_digits) {
        (4, 1 | 2) => Shape::Settled,
        (1 | 2, 4) => Shape::YearLast { dotted },
        (1 | 2, 1 | 2) => Shape::Short { dotted },
        _ => return None,
    };
    Some((Written { parts, shape }, rest))
}

/// `5 Jan 2026`, `05-Jan-26`, `2026-Jan-05`.
fn worded_second(first: u32, digits: usize, rest: &[u8]) -> Option<(Written, &[u8])> {
    let (month, rest) = month(rest)?;
    let (_, rest) = separator(rest)?;
    let (third, third_digits, rest) = leading(rest);
    let (year, day) = if digits == 4 { (first, third) } else { (third, first) };
    (matches!(third_digits, 1 | 2 | 4))
        .then_some((Written { parts: [year as u16, month, day as u16], shape: Shape::Settled }, rest))
}

/// `Jan 5, 2026`.
fn worded_first(cell: &[u8]) -> Option<(Written, &[u8])> {
    let (month, rest) = month(cell)?;
    let (_, rest) = separator(rest)?;
    let (day, _, rest) = leading(rest);
    let rest = rest.strip_prefix(b",").unwrap_or(rest);
    let (_, rest) = separator(rest)?;
    let (year, digits, rest) = leading(rest);
    matches!(digits, 2 | 4)
        .then_some((Written { parts: [year as u16, month, day as u16], shape: Shape::Settled }, rest))
}

/// Months by the first letters of their names in languages that loggers are sold in.
const MONTHS: [&[&str]; 12] = [
    &["jan", "jän", "ene", "gen"],
    &["feb", "fév", "fev"],
    &["mar", "mär", "maa", "mrz"],
    &["apr", "avr", "abr"],
    &["may", "mai", "mag", "mei"],
    &["jun", "giu", "juin"],
    &["jul", "lug", "juil"],
    &["aug", "aoû", "aou", "ago"],
    &["sep", "set"],
    &["oct", "okt", "ott", "out"],
    &["nov"],
    &["dec", "dez", "déc", "dic"],
];

fn month(text: &[u8]) -> Option<(u16, &[u8])> {
    let end =
        text.iter().position(|byte| byte.is_ascii() && !byte.is_ascii_alphabetic()).unwrap_or(text.len());
    let (word, rest) = text.split_at(end);
    let word = std::str::from_utf8(word).ok()?.to_lowercase();
    // “juin” and “juil” share their first letters with each other: four letters go before three.
    let found = [4, 3].into_iter().find_map(|letters| {
        let start: String = word.chars().take(letters).collect();
        MONTHS.iter().position(|names| names.contains(&start.as_str()))
    })?;
    Some((found as u16 + 1, rest.strip_prefix(b".").unwrap_or(rest)))
}

/// A date without the day of the week in front (`Mon, 5 Jan 2026`).
fn without_weekday(cell: &[u8]) -> &[u8] {
    let end = cell.iter().position(|byte| byte.is_ascii() && !byte.is_ascii_alphabetic()).unwrap_or(0);
    if end == 0 || month(cell).is_some() {
        return cell;
    }
    let rest = &cell[end..];
    let start = rest.iter().position(|byte| !matches!(byte, b' ' | b',' | b'.')).unwrap_or(rest.len());
    &rest[start..]
}

/// Leading digits: their value, how many, and what follows. Nine digits at most are taken.
#[inline]
fn leading(text: &[u8]) -> (u32, usize, &[u8]) {
    let mut value = 0u32;
    let mut count = 0;
    for byte in text.iter().take(9) {
        if !byte.is_ascii_digit() {
            break;
        }
        value = value * 10 + u32::from(byte - b'0');
        count += 1;
    }
    (value, count, &text[count..])
}

fn separator(text: &[u8]) -> Option<(u8, &[u8])> {
    match text {
        [mark @ (b'-' | b'/' | b'.' | b' '), rest @ ..] => Some((*mark, rest.trim_ascii_start())),
        _ => None,
    }
}

/// A time of day: `7:05`, `07:05:30.250`, `7:05 PM`, `0705`, each perhaps with an offset from UTC behind.
pub(super) fn time(cell: &[u8]) -> Option<Clock> {
    let (mut hour, digits, rest) = leading(cell);
    let (minute, second, rest) = match digits {
        1 | 2 => {
            let rest = rest
                .strip_prefix(b":")
                .or_else(|| rest.strip_prefix(b"h"))
                .or_else(|| rest.strip_prefix(b"."))?;
            let (minute, minute_digits, rest) = leading(rest);
            if minute_digits != 2 {
                return None;
            }
            match rest {
                [b':' | b'.', rest @ ..] => {
                    let (second, second_digits, rest) = leading(rest);
                    if second_digits != 2 {
                        return None;
                    }
                    (minute, second, without_fraction(rest))
                }
                _ => (minute, 0, rest),
            }
        }
        4 => {
            let minute = hour % 100;
            hour /= 100;
            (minute, 0, rest)
        }
        6 => {
            let (minute, second) = (hour / 100 % 100, hour % 100);
            hour /= 10_000;
            (minute, second, without_fraction(rest))
        }
        _ => return None,
    };
    let mut rest = rest.trim_ascii();
    let mut is_twelve = false;
    if let Some((is_afternoon, behind)) = half_of_day(rest) {
        if !(1..=12).contains(&hour) {
            return None;
        }
        is_twelve = true;
        hour = hour % 12 + if is_afternoon { 12 } else { 0 };
        rest = behind;
    }
    let is_midnight = hour == 24 && minute == 0 && second == 0;
    if (hour > 23 && !is_midnight) || minute > 59 || second > 60 {
        return None;
    }
    let offset_s = if rest.is_empty() { None } else { Some(offset(rest)?) };
    Some(Clock { second: hour * 3600 + minute * 60 + second.min(59), offset_s, is_twelve })
}

fn without_fraction(text: &[u8]) -> &[u8] {
    match text {
        [b'.' | b',' | b':', rest @ ..] => {
            let end = rest.iter().position(|byte| !byte.is_ascii_digit()).unwrap_or(rest.len());
            &rest[end..]
        }
        _ => text,
    }
}

fn half_of_day(text: &[u8]) -> Option<(bool, &[u8])> {
    let is_afternoon = match text.first()?.to_ascii_lowercase() {
        b'a' => false,
        b'p' => true,
        _ => return None,
    };
    let rest = &text[1..];
    let rest = rest.strip_prefix(b".").unwrap_or(rest).trim_ascii_start();
    let rest = match rest {
        [b'm' | b'M', rest @ ..] => rest,
        _ => return None,
    };
    Some((is_afternoon, rest.strip_prefix(b".").unwrap_or(rest).trim_ascii()))
}

/// Seconds east of UTC of `Z`, `UTC`, `GMT`, `+01:00`, `-0530`, `+2`, `UTC+2`.
pub(super) fn offset(text: &[u8]) -> Option<i32> {
    let mut text = text.trim_ascii();
    if matches!(text, b"Z" | b"z") {
        return Some(0);
    }
    if let Some(start) = text.get(..3)
        && (start.eq_ignore_ascii_case(b"utc") || start.eq_ignore_ascii_case(b"gmt"))
    {
        text = text[3..].trim_ascii_start();
        if text.is_empty() {
            return Some(0);
        }
    }
    let (sign, rest) = match text {
        [b'+', rest @ ..] => (1, rest),
        [b'-', rest @ ..] => (-1, rest),
        [0xE2, 0x88, 0x92, rest @ ..] => (-1, rest),
        _ => return None,
    };
    let (value, digits, rest) = leading(rest);
    let (hours, minutes) = match (digits, rest) {
        (1 | 2, []) => (value, 0),
        (1 | 2, [b':', rest @ ..]) => match leading(rest) {
            (minutes, 2, []) => (value, minutes),
            _ => return None,
        },
        (4, []) => (value / 100, value % 100),
        _ => return None,
    };
    (hours <= 15 && minutes < 60).then_some(sign * (hours * 3600 + minutes * 60) as i32)
}

/// A date with its time of day; a date alone is its midnight.
pub(super) fn stamp(cell: &[u8]) -> Option<(Written, Clock)> {
    let (written, rest) = date(cell)?;
    Some((written, time_behind(rest)?))
}

/// The time that follows a date in its cell.
#[inline]
pub(super) fn time_behind(rest: &[u8]) -> Option<Clock> {
    match rest {
        [] => Some(Clock::default()),
        [b' ' | b'T' | b't' | b',' | b'_' | b'-', rest @ ..] => {
            let rest = rest.trim_ascii_start();
            time(rest.strip_prefix(b"-").unwrap_or(rest).trim_ascii_start())
        }
        [0xE2, ..] => time(rest.trim_ascii_start()),
        _ => None,
    }
}

/// An instant as seconds since 1970 from a count of seconds, milliseconds or microseconds between 2000 and 2100.
pub(super) fn epoch(cell: &[u8]) -> Option<i64> {
    let whole = cell.split(|byte| *byte == b'.').next()?;
    if !(9..=17).contains(&whole.len()) || !whole.iter().all(u8::is_ascii_digit) {
        return None;
    }
    let behind = cell.get(whole.len() + 1..).unwrap_or_default();
    if !behind.iter().all(u8::is_ascii_digit) {
        return None;
    }
    let count =
        whole.iter().try_fold(0i64, |sum, byte| sum.checked_mul(10)?.checked_add(i64::from(byte - b'0')))?;
    [1, 1000, 1_000_000]
        .into_iter()
        .map(|per_second| count / per_second)
        .find(|second| (946_684_800..4_102_444_800).contains(second))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, order: DateOrder) -> Option<String> {
        let (written, clock) = stamp(text.as_bytes())?;
        let date = NaiveDate::from_num_days_from_ce_opt(written.day(order)? + EPOCH_FROM_CE)?;
        let (hour, minute, second) = (clock.second / 3600, clock.second / 60 % 60, clock.second % 60);
        let offset = clock.offset_s.map_or(String::new(), |offset| format!(" {offset:+}"));
        Some(format!("{date} {hour:02}:{minute:02}:{second:02}{offset}"))
    }

    #[test]
    fn dates_are_read_in_every_dialect() {
        use DateOrder::{DayMonthYear, MonthDayYear, YearMonthDay};
        for (text, order, expected) in [
            ("2026-01-05 07:08:09", DayMonthYear, "2026-01-05 07:08:09"),
            ("2026-01-05T07:08:09.250Z", DayMonthYear, "2026-01-05 07:08:09 +0"),
            ("2026-01-05T07:08+01:00", DayMonthYear, "2026-01-05 07:08:00 +3600"),
            ("2026-01-05 07:08:09-0530", DayMonthYear, "2026-01-05 07:08:09 -19800"),
            ("2026/1/5 7:08", DayMonthYear, "2026-01-05 07:08:00"),
            ("20260105T070809", DayMonthYear, "2026-01-05 07:08:09"),
            ("20260105 0708", DayMonthYear, "2026-01-05 07:08:00"),
            ("05.01.2026 07:08", DayMonthYear, "2026-01-05 07:08:00"),
            ("5.1.26 07:08:09", DayMonthYear, "2026-01-05 07:08:09"),
            ("01/05/2026 7:08 AM", MonthDayYear, "2026-01-05 07:08:00"),
            ("01/05/2026 12:08:09 AM", MonthDayYear, "2026-01-05 00:08:09"),
            ("01/05/26 12:08:09 p.m.", MonthDayYear, "2026-01-05 12:08:09"),
            ("1/5/2026, 7:08:09 PM", MonthDayYear, "2026-01-05 19:08:09"),
            ("26-01-05 07:08", YearMonthDay, "2026-01-05 07:08:00"),
            ("05-Jan-2026 07:08", DayMonthYear, "2026-01-05 07:08:00"),
            ("5 März 2026 07:08", DayMonthYear, "2026-03-05 07:08:00"),
            ("Jan 5, 2026 7:08 PM", DayMonthYear, "2026-01-05 19:08:00"),
            ("Mon 05.01.2026 07:08", DayMonthYear, "2026-01-05 07:08:00"),
            ("Monday, January 5, 2026 7:08 PM", DayMonthYear, "2026-01-05 19:08:00"),
            ("Mon, 05 Jan 2026 07:08:09 GMT", DayMonthYear, "2026-01-05 07:08:09 +0"),
            ("14 juil. 2026 07:08", DayMonthYear, "2026-07-14 07:08:00"),
            ("05.01.2026 24:00", DayMonthYear, "2026-01-05 24:00:00"),
            ("05.01.2026", DayMonthYear, "2026-01-05 00:00:00"),
        ] {
            assert_eq!(read(text, order).as_deref(), Some(expected), "{text}");
        }
    }

    #[test]
    fn what_is_no_time_is_not_read() {
        for text in [
            "",
            "12.5",
            "31.02.2026 10:00",
            "2026-01-05 25:00",
            "2026-01-05 10:60",
            "10:00",
            "13:00 PM",
            "2026-01-05 10:00 XYZ",
            "1-2",
            "-",
            "é",
            "2026-13-05",
            "99999999999999999999",
            "Jan",
            "Mon",
        ] {
            assert_eq!(read(text, DateOrder::DayMonthYear), None, "{text}");
        }
        assert_eq!(time(b"13:00 PM"), None);
    }

    #[test]
    fn epochs_are_told_by_their_size() {
        for text in ["1767600489", "1767600489000", "1767600489000000", "1767600489.25"] {
            assert_eq!(epoch(text.as_bytes()), Some(1_767_600_489), "{text}");
        }
        for text in ["20260105", "12.5", "202601051015", "20260105101500", "", "17676004891"] {
            assert_eq!(epoch(text.as_bytes()), None, "{text}");
        }
    }
}
