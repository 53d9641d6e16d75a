//! Readings of sensors, and the files in which loggers hand them out.
//!
//! [`read_log`] takes the bytes of any table of times and values and says what it understood: characters, delimiter,
//! decimal mark, where the table begins, what each column holds, in which order dates are written, what the clock shows
//! and in which unit temperatures are. What a file leaves open becomes a [`LogQuestion`]; what is said in
//! [`LogOptions`] goes before everything supposed. Single bad rows are listed in [`Rejections`]; [`LogFileError`] is for
//! files of which nothing can be used.
//!
//! Readings that deserve no trust are kept and [flagged](Flag); a fit or a statistic leaves them out.

mod assemble;
mod error;
mod flags;
mod header;
mod layout;
mod number;
mod options;
mod raw;
mod read;
#[cfg(test)]
mod read_test;
mod record;
mod rows;
mod stamp;
mod text;
mod understood;
mod unit;
mod when;

pub use error::LogFileError;
pub use flags::{Gap, flag, gaps, usual_step_s};
pub use header::{LogUnit, is_outdoor};
pub use layout::UnusedColumn;
pub use number::DecimalMark;
pub use options::{ColumnUse, LogOptions, LogSetting};
pub use read::read_log;
pub use record::{Flag, Quantity, Reading};
pub use rows::Delimiter;
pub use stamp::DateOrder;
pub use text::{MOST_BYTES, TextEncoding, too_large};
pub use understood::{
    Flagged, KnownFrom, LogFile, LogNote, LogQuestion, LogSeries, OrderChoice, RejectCount, RejectReason,
    RejectedRow, Rejections, SeriesFigures, TimeKind, Understood, UnitChoice,
};
