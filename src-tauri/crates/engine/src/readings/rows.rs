//! Lines and their cells.

use memchr::memchr;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What stands between the cells of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Delimiter {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
    /// `|`
    Bar,
    /// One or more blanks.
    Blanks,
}

impl Delimiter {
    /// All of them, in the order in which they are tried.
    pub const ALL: [Self; 5] = [Self::Semicolon, Self::Tab, Self::Comma, Self::Bar, Self::Blanks];

    fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
            Self::Bar => b'|',
            Self::Blanks => b' ',
        }
    }
}

/// The lines of a text with their numbers.
pub(super) struct Lines<'a> {
    rest: &'a [u8],
    number: u32,
    end: u8,
}

impl<'a> Lines<'a> {
    pub(super) fn of(text: &'a str) -> Self {
        let bytes = text.as_bytes();
        let end = if memchr(b'\n', bytes).is_none() { b'\r' } else { b'\n' };
        Self { rest: bytes, number: 0, end }
    }

    /// Whether the last line that was given ends with the text instead of with a line end.
    pub(super) fn is_at_end(&self) -> bool {
        self.rest.is_empty()
    }
}

impl<'a> Iterator for Lines<'a> {
    type Item = (u32, &'a [u8]);

    #[inline]
    fn next(&mut self) -> Option<Self::Item> {
        if self.rest.is_empty() {
            return None;
        }
        let (line, rest) = match memchr(self.end, self.rest) {
            Some(at) => (&self.rest[..at], &self.rest[at + 1..]),
            None => (self.rest, &self.rest[self.rest.len()..]),
        };
        self.rest = rest;
        self.number = self.number.saturating_add(1);
        Some((self.number, line.strip_suffix(b"\r").unwrap_or(line)))
    }
}

/// Splits a line into cells without the blanks and quotes around them.
///
/// A quoted cell ends with its line: one quote that is not closed must not swallow the rest of the readings.
#[inline]
pub(super) fn split<'a>(line: &'a [u8], delimiter: Delimiter, cells: &mut Vec<&'a [u8]>) {
    cells.clear();
    if delimiter == Delimiter::Blanks {
        cells.extend(
            line.split(|byte| matches!(byte, b' ' | b'\t')).filter(|cell| !cell.is_empty()).map(unquoted),
        );
        return;
    }
    let mark = delimiter.byte();
    let mut start = 0;
    let mut quoted = false;
    for (at, byte) in line.iter().enumerate() {
        if *byte == mark && !quoted {
            cells.push(trimmed(&line[start..at]));
            start = at + 1;
        } else if *byte == b'"' {
            quoted = !quoted;
        }
    }
    cells.push(trimmed(&line[start..]));
}

#[inline]
fn trimmed(cell: &[u8]) -> &[u8] {
    match cell {
        [first, .., last] if *first > b'"' && *last > b'"' => cell,
        _ => unquoted(cell.trim_ascii()),
    }
}

fn unquoted(cell: &[u8]) -> &[u8] {
    match cell {
        [b'"', inner @ .., b'"'] => inner.trim_ascii(),
        [b'"', inner @ ..] => inner.trim_ascii(),
        _ => cell,
    }
}

/// A cell as a text for people, cut to a length that fits a sentence.
pub(super) fn shown(cell: &[u8]) -> String {
    let text = String::from_utf8_lossy(cell);
    let clean: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).take(40).collect();
    clean.trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(line: &str, delimiter: Delimiter) -> Vec<&str> {
        let mut found = Vec::new();
        split(line.as_bytes(), delimiter, &mut found);
        found.into_iter().map(|cell| std::str::from_utf8(cell).unwrap()).collect()
    }

    #[test]
    fn cells_lose_blanks_and_quotes() {
        assert_eq!(cells("a; \"b;c\" ;;d ", Delimiter::Semicolon), ["a", "b;c", "", "d"]);
        assert_eq!(cells("1,\"2,5\",\"open", Delimiter::Comma), ["1", "2,5", "open"]);
        assert_eq!(cells("  2026-01-05 10:00\t 3.5 ", Delimiter::Blanks), ["2026-01-05", "10:00", "3.5"]);
        assert_eq!(cells("", Delimiter::Comma), [""]);
    }

    #[test]
    fn every_kind_of_line_end_is_one() {
        for text in ["a\nb\nc", "a\r\nb\r\nc\r\n", "a\rb\rc\r"] {
            let lines: Vec<_> = Lines::of(text).collect();
            assert_eq!(lines, [(1, &b"a"[..]), (2, b"b"), (3, b"c")], "{text:?}");
        }
    }
}
