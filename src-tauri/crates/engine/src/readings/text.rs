//! From bytes to text: encodings, and what is no text.

use std::borrow::Cow;

use encoding_rs::{Encoding, UTF_16BE, UTF_16LE, WINDOWS_1252};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::LogFileError;

/// Bytes that are read at once: some five million rows.
pub const MOST_BYTES: u64 = 256 << 20;

/// How the characters of a file are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum TextEncoding {
    /// UTF-8, of which ASCII is a part.
    Utf8,
    /// UTF-16, least significant byte first.
    Utf16Le,
    /// UTF-16, most significant byte first.
    Utf16Be,
    /// Windows-1252, of which Latin-1 is a part.
    Windows1252,
}

/// The first bytes of things that are often given in place of a table.
const KNOWN: &[(&[u8], &str, &str)] = &[
    (b"PK\x03\x04", "a workbook or an archive", "open it and save the sheet as CSV, or unpack it"),
    (b"\xD0\xCF\x11\xE0", "an old workbook", "open it and save the sheet as CSV"),
    (b"\x1F\x8B", "a packed file", "unpack it"),
    (b"%PDF", "a PDF document", "export the readings as CSV"),
    (b"\x89PNG", "a picture", "export the readings as CSV"),
    (b"\xFF\xD8\xFF", "a picture", "export the readings as CSV"),
    (b"SQLite format 3", "a database", "export the readings as CSV"),
];

/// The text of a file without its byte-order mark.
///
/// UTF-16 without a mark is told by its zero bytes: a table consists mostly of digits and separators, every second
/// byte of which is then zero. What is neither that nor valid UTF-8 is read as Windows-1252, as the WHATWG Encoding
/// Standard does for a text that says nothing about itself.
pub(super) fn decode<'a>(
    file: &str,
    bytes: &'a [u8],
    asked: Option<TextEncoding>,
) -> Result<(Cow<'a, str>, TextEncoding), LogFileError> {
    if bytes.len() as u64 > MOST_BYTES {
        return Err(too_large(file, bytes.len() as u64));
    }
    let not_text = |what, mend| LogFileError::NotText { file: file.to_owned(), what, mend };
    if let Some((_, what, mend)) = KNOWN.iter().find(|(start, ..)| bytes.starts_with(start)) {
        return Err(not_text(what, mend));
    }
    let encoding = asked.unwrap_or_else(|| guess(bytes));
    let text = match encoding {
        TextEncoding::Utf8 => match std::str::from_utf8(bytes) {
            Ok(text) => Cow::Borrowed(text.trim_start_matches('\u{feff}')),
            Err(_) => String::from_utf8_lossy(bytes),
        },
        TextEncoding::Utf16Le => with(UTF_16LE, bytes),
        TextEncoding::Utf16Be => with(UTF_16BE, bytes),
        TextEncoding::Windows1252 => with(WINDOWS_1252, bytes),
    };
    if text.trim_matches(|c: char| c.is_whitespace() || c == '\0').is_empty() {
        return Err(LogFileError::Empty { file: file.to_owned() });
    }
    if is_binary(&text) {
        return Err(not_text("a binary file", "export the readings as CSV or text"));
    }
    Ok((text, encoding))
}

/// The refusal of a file by its size alone, so that it need not be read.
pub fn too_large(file: &str, bytes: u64) -> LogFileError {
    LogFileError::TooLarge {
        file: file.to_owned(),
        megabytes: bytes.div_ceil(1 << 20),
        most: MOST_BYTES >> 20,
    }
}

fn with<'a>(encoding: &'static Encoding, bytes: &'a [u8]) -> Cow<'a, str> {
    encoding.decode_with_bom_removal(bytes).0
}

fn guess(bytes: &[u8]) -> TextEncoding {
    if bytes.starts_with(b"\xFF\xFE") {
        return TextEncoding::Utf16Le;
    }
    if bytes.starts_with(b"\xFE\xFF") {
        return TextEncoding::Utf16Be;
    }
    let sample = &bytes[..bytes.len().min(4096)];
    let zeros = |start: usize| sample.iter().skip(start).step_by(2).filter(|byte| **byte == 0).count();
    let (even, odd, pairs) = (zeros(0), zeros(1), sample.len() / 2);
    if pairs > 0 && odd * 10 >= pairs * 7 && even * 10 <= pairs {
        return TextEncoding::Utf16Le;
    }
    if pairs > 0 && even * 10 >= pairs * 7 && odd * 10 <= pairs {
        return TextEncoding::Utf16Be;
    }
    match std::str::from_utf8(bytes) {
        Ok(_) => TextEncoding::Utf8,
        // A character that is cut off by the end of the file is no sign of another encoding.
        Err(error) if error.error_len().is_none() && error.valid_up_to() > 0 => TextEncoding::Utf8,
        Err(_) => TextEncoding::Windows1252,
    }
}

/// Whether a text has control characters that no table has.
fn is_binary(text: &str) -> bool {
    let sample = &text.as_bytes()[..text.len().min(64 << 10)];
    let control = sample
        .iter()
        .filter(|byte| **byte < 0x20 && !matches!(byte, b'\t' | b'\r' | b'\n' | 0x0c | 0x1a))
        .count();
    control * 200 > sample.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn utf16(text: &str, big: bool) -> Vec<u8> {
        text.encode_utf16()
            .flat_map(|unit| if big { unit.to_be_bytes() } else { unit.to_le_bytes() })
            .collect()
    }

    #[test]
    fn the_same_text_comes_out_of_every_encoding() {
        let text = "Zeit;Außen °C\n2026-01-05 10:00;−3,5\n";
        let latin = "Zeit;Außen °C\n2026-01-05 10:00;-3,5\n";
        let (latin_bytes, _, lost) = WINDOWS_1252.encode(latin);
        assert!(!lost);
        let mut marked = b"\xEF\xBB\xBF".to_vec();
        marked.extend(text.as_bytes());
        let mut little = b"\xFF\xFE".to_vec();
        little.extend(utf16(text, false));
        for (bytes, expected, encoding) in [
            (text.as_bytes().to_vec(), text, TextEncoding::Utf8),
            (marked, text, TextEncoding::Utf8),
            (little, text, TextEncoding::Utf16Le),
            (utf16(text, false), text, TextEncoding::Utf16Le),
            (utf16(text, true), text, TextEncoding::Utf16Be),
            (latin_bytes.into_owned(), latin, TextEncoding::Windows1252),
        ] {
            let (read, found) = decode("log.csv", &bytes, None).unwrap();
            assert_eq!((read.as_ref(), found), (expected, encoding));
        }
    }

    #[test]
    fn what_is_no_text_is_named() {
        let noise: Vec<u8> = (0..4000u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
        for (bytes, word) in [
            (&b""[..], "empty"),
            (b"\n\r\n  \n", "empty"),
            (b"PK\x03\x04rest", "workbook"),
            (b"\x1F\x8B\x08rest", "packed"),
            (&noise, "binary"),
        ] {
            let message = decode("log.csv", bytes, None).unwrap_err().to_string();
            assert!(message.contains(word) && message.contains("log.csv"), "{message}");
        }
        assert!(too_large("log.csv", 1 << 30).to_string().contains("1024 MB"));
    }
}
