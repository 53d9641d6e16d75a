//! Numbers in cells: decimal comma or point, grouped thousands, units behind, and the words for “no reading”.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The mark between whole and part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum DecimalMark {
    /// `12.5`.
    Point,
    /// `12,5`.
    Comma,
}

/// What stands in a cell of a column of numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Cell {
    /// A number.
    Number(f64),
    /// Nothing, or a word for it.
    Missing,
    /// Something else.
    Bad,
}

/// Powers of ten by which a mantissa of up to 15 digits is divided without a second rounding.
const TENS: [f64; 16] =
    [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];

/// Words that loggers write where there is no reading.
const NO_READING: &[&str] = &[
    "nan",
    "na",
    "n/a",
    "#n/a",
    "null",
    "none",
    "nil",
    "err",
    "error",
    "fault",
    "fail",
    "open",
    "ol",
    "inf",
    "-inf",
    "unknown",
    "unavailable",
    "missing",
    "no data",
    "---",
    "--",
    "-",
    "?",
    "*",
    ".",
];

/// Reads a cell.
///
/// A single mark is the decimal mark, except where the file is known to use the other one and exactly three digits
/// follow; of two different marks the last one is.
pub(super) fn cell(text: &[u8], mark: Option<DecimalMark>) -> Cell {
    plain(text, mark).map_or_else(|| unusual(text, mark), Cell::Number)
}

/// The frequent case: sign, digits, at most one mark.
///
/// A whole number below 2⁵³ and a power of ten up to 10²² are exact in binary, so that their quotient is the nearest
/// `f64` (W. D. Clinger, How to read floating point numbers accurately, PLDI 1990, DOI 10.1145/93542.93557).
fn plain(text: &[u8], mark: Option<DecimalMark>) -> Option<f64> {
    let (negative, digits) = match text {
        [b'-', rest @ ..] => (true, rest),
        [b'+', rest @ ..] => (false, rest),
        _ => (false, text),
    };
    if digits.is_empty() || digits.len() > 16 {
        return None;
    }
    let mut mantissa = 0u64;
    let mut seen = 0usize;
    let mut behind = None;
    for byte in digits {
        match byte {
            b'0'..=b'9' => {
                mantissa = mantissa * 10 + u64::from(byte - b'0');
                seen += 1;
            }
            b'.' | b',' if behind.is_none() => behind = Some((seen, *byte)),
            _ => return None,
        }
    }
    let decimals = match behind {
        None => 0,
        Some((before, found)) => {
            let decimals = seen - before;
            let other = match mark {
                None => false,
                Some(DecimalMark::Point) => found == b',',
                Some(DecimalMark::Comma) => found == b'.',
            };
            if seen == 0 || (other && decimals == 3) {
                return None;
            }
            decimals
        }
    };
    if seen > 15 {
        return None;
    }
    let value = mantissa as f64 / TENS.get(decimals)?;
    Some(if negative { -value } else { value })
}

fn unusual(text: &[u8], mark: Option<DecimalMark>) -> Cell {
    let Ok(text) = std::str::from_utf8(text) else { return Cell::Bad };
    let text = text.trim_matches(|c: char| c.is_whitespace() || c == '"' || c == '\'');
    if text.is_empty() {
        return Cell::Missing;
    }
    let lower = text.to_lowercase();
    if NO_READING.contains(&lower.as_str()) {
        return Cell::Missing;
    }
    let mut number = String::with_capacity(text.len());
    let body = lower.trim_end_matches(|c: char| !c.is_ascii_digit() && c != '.' && c != ',');
    let unit = lower[body.len()..].trim();
    if !unit.is_empty() && !is_unit(unit) {
        return Cell::Bad;
    }
    for c in body.chars() {
        match c {
            '−' | '–' => number.push('-'),
            ' ' | '\u{a0}' | '\u{202f}' | '\'' | '’' => {}
            _ => number.push(c),
        }
    }
    let points = number.matches('.').count();
    let commas = number.matches(',').count();
    let decimal = match (points, commas) {
        (0, 0) => None,
        (1, 0) if mark == Some(DecimalMark::Comma) && groups(&number, '.') => None,
        (0, 1) if mark == Some(DecimalMark::Point) && groups(&number, ',') => None,
        (1, 0) => Some('.'),
        (0, 1) => Some(','),
        (_, 0) if groups(&number, '.') => None,
        (0, _) if groups(&number, ',') => None,
        (_, 1) if number.rfind(',') > number.rfind('.') => Some(','),
        (1, _) if number.rfind('.') > number.rfind(',') => Some('.'),
        _ => return Cell::Bad,
    };
    let plain: String = number
        .chars()
        .filter(|c| !matches!(c, '.' | ',') || Some(*c) == decimal)
        .map(|c| if c == ',' { '.' } else { c })
        .collect();
    match plain.parse::<f64>() {
        Ok(value) if value.is_finite() => Cell::Number(value),
        _ => Cell::Bad,
    }
}

/// Whether every mark is followed by exactly three digits, as between thousands.
fn groups(number: &str, mark: char) -> bool {
    let mut parts = number.split(mark);
    let first = parts.next().unwrap_or_default().trim_start_matches(['-', '+']);
    (1..=3).contains(&first.len()) && parts.all(|part| part.len() == 3)
}

fn is_unit(text: &str) -> bool {
    matches!(
        text,
        "°c" | "c"
            | "°f"
            | "f"
            | "k"
            | "%"
            | "%rh"
            | "% rh"
            | "%rf"
            | "% rf"
            | "rh"
            | "w"
            | "kw"
            | "º c"
            | "ºc"
            | "ºf"
            | "° c"
            | "° f"
            | "deg c"
            | "deg f"
            | "degc"
            | "degf"
            | "℃"
            | "℉"
            | "kw."
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_numbers_are_the_nearest_floats() {
        for text in ["0", "-0.1", "12.34", "+7", "0.30000001", "123456789012.345", ".5", "5."] {
            let expected: f64 = text.trim_start_matches('+').parse().unwrap();
            assert_eq!(cell(text.as_bytes(), None), Cell::Number(expected), "{text}");
        }
    }

    #[test]
    fn marks_and_groups_are_told_apart() {
        let comma = Some(DecimalMark::Comma);
        let point = Some(DecimalMark::Point);
        for (text, mark, expected) in [
            ("12,5", None, 12.5),
            ("12,5", point, 12.5),
            ("1.234", comma, 1234.0),
            ("1,234", point, 1234.0),
            ("1.234", point, 1.234),
            ("1,234", comma, 1.234),
            ("1.234,5", None, 1234.5),
            ("1,234.5", None, 1234.5),
            ("1'234.5", None, 1234.5),
            ("1.234.567", None, 1_234_567.0),
            ("−3,5", None, -3.5),
            ("21.5 °C", None, 21.5),
            ("45%", None, 45.0),
            ("1.2e1", None, 12.0),
            ("1.23456789012345678", None, 1.234_567_890_123_456_7),
        ] {
            assert_eq!(cell(text.as_bytes(), mark), Cell::Number(expected), "{text} {mark:?}");
        }
    }

    #[test]
    fn no_reading_is_not_a_bad_one() {
        for text in ["", " ", "NaN", "-", "---", "n/a", "\"\"", "Error"] {
            assert_eq!(cell(text.as_bytes(), None), Cell::Missing, "{text}");
        }
        for text in ["warm", "1.2.3", "12:30", "1,2,3", "5 apples", "\u{fffd}"] {
            assert_eq!(cell(text.as_bytes(), None), Cell::Bad, "{text}");
        }
        assert_eq!(cell(b"\xff1", None), Cell::Bad);
    }
}
