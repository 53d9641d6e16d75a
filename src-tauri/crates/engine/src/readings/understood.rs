//! What was understood of a file, for a preview.

use chrono::{DateTime, NaiveDateTime, Utc};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::layout::UnusedColumn;
use super::{DateOrder, DecimalMark, Delimiter, LogUnit, Quantity, Reading, TextEncoding};

/// On what something rests.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum KnownFrom {
    /// An option says so.
    Asked,
    /// The file says so: in a heading, in its cells, or above its table.
    File,
    /// It follows from the values of the whole file.
    Values,
    /// Nothing says otherwise at this site.
    Site,
}

/// How the instants of a file are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum TimeKind {
    /// Date and time in one column.
    Stamp,
    /// A column of dates and one of times.
    DateAndTime,
    /// A count since 1970.
    Epoch,
}

/// What was understood of a file as a whole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Understood {
    /// How its characters are written.
    pub encoding: TextEncoding,
    /// What stands between cells.
    pub delimiter: Delimiter,
    /// Mark between whole and part of its numbers; absent where all are whole.
    pub decimal: Option<DecimalMark>,
    /// 1-based line of the headings; absent where it has none.
    pub header_line: Option<u32>,
    /// 1-based line of the first row.
    pub first_line: u32,
    /// Rows of the table, refused ones too.
    pub rows: u32,
    /// How instants are written.
    pub time: TimeKind,
    /// Names of the columns with the instants.
    pub time_columns: Vec<String>,
    /// Order of day, month and year; absent for counts since 1970.
    pub order: Option<DateOrder>,
    /// On what the order rests.
    pub order_from: KnownFrom,
    /// Whether hours run to twelve, with a.m. and p.m.
    pub is_twelve_hour: bool,
    /// What its clock shows: a name of the IANA database, `UTC`, or an offset such as `+01:00`.
    pub zone: String,
    /// On what that rests.
    pub zone_from: KnownFrom,
    /// Columns that are left out.
    pub unused: Vec<UnusedColumn>,
}

/// Numbers of readings by flag.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct Flagged {
    /// Outside everything the sensor can have met.
    pub impossible: u32,
    /// Far from their neighbours.
    pub spike: u32,
    /// Equal for far too long.
    pub stuck: u32,
    /// At an instant that the clock change leaves open.
    pub doubtful_time: u32,
}

/// What was understood of one quantity of one sensor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SeriesFigures {
    /// Name of the sensor in the file.
    pub sensor: String,
    /// What is measured.
    pub quantity: Quantity,
    /// Heading of the column.
    pub column: String,
    /// Unit in the file; absent for other quantities than temperature.
    pub unit: Option<LogUnit>,
    /// On what the unit rests.
    pub unit_from: KnownFrom,
    /// Whether the name speaks of outdoors; absent where it does not say.
    pub is_outdoor: Option<bool>,
    /// Readings that can be taken in.
    pub accepted: u32,
    /// Cells that hold no number.
    pub rejected: u32,
    /// Cells without a reading.
    pub missing: u32,
    /// Readings that stand in the file more than once at one instant; the first counts.
    pub duplicates: u32,
    /// Readings that are kept but left out of fits.
    pub flagged: Flagged,
    /// First instant.
    pub first_utc: DateTime<Utc>,
    /// Last instant.
    pub last_utc: DateTime<Utc>,
    /// Usual seconds between readings; absent for a single one.
    #[ts(type = "number | null")]
    pub step_s: Option<i64>,
    /// Spans without readings.
    pub gaps: u32,
    /// The longest of them in hours.
    pub longest_gap_h: Option<f64>,
    /// Smallest good value in the unit of the quantity (°C, share, W); absent where none is good.
    pub min: Option<f64>,
    /// Largest good value.
    pub max: Option<f64>,
}

/// The readings of one quantity of one sensor.
#[derive(Debug, Clone, PartialEq)]
pub struct LogSeries {
    /// What was understood of them.
    pub figures: SeriesFigures,
    /// The readings in order of time, at most one for an instant.
    pub readings: Vec<Reading>,
}

/// A row or a cell that is not taken in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct RejectedRow {
    /// 1-based line.
    pub line: u32,
    /// Column, where only its cell is refused.
    pub column: Option<String>,
    /// Why, as a sentence.
    pub what: String,
}

/// Why rows were refused.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum RejectReason {
    /// Fewer cells than the table has columns up to the one needed.
    Short,
    /// The file ends in the middle of the row.
    CutOff,
    /// No date and time.
    NoTime,
    /// A day that does not exist.
    NoSuchDay,
    /// Later than now.
    Future,
    /// Before 2000: the logger's clock was not set.
    ClockNotSet,
    /// A cell that is no number.
    NoNumber,
}

/// How many rows or cells were refused for a reason.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct RejectCount {
    /// The reason.
    pub reason: RejectReason,
    /// How many.
    pub count: u32,
}

/// Rows and cells that are not taken in.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct Rejections {
    /// How many.
    pub count: u32,
    /// How many by reason.
    pub reasons: Vec<RejectCount>,
    /// The first hundred in the order of the file.
    pub rows: Vec<RejectedRow>,
}

/// Refused rows that are listed one by one.
const LISTED: usize = 100;

impl Rejections {
    pub(super) fn add(
        &mut self,
        reason: RejectReason,
        line: u32,
        column: Option<&str>,
        what: impl FnOnce() -> String,
    ) {
        self.count = self.count.saturating_add(1);
        match self.reasons.iter_mut().find(|known| known.reason == reason) {
            Some(known) => known.count = known.count.saturating_add(1),
            None => self.reasons.push(RejectCount { reason, count: 1 }),
        }
        // Reasons are found in more than one pass: the list is put in order at the end.
        if self.rows.len() < 4 * LISTED {
            self.rows.push(RejectedRow { line, column: column.map(str::to_owned), what: what() });
        }
    }

    pub(super) fn finish(&mut self) {
        self.rows.sort_by_key(|row| row.line);
        self.rows.truncate(LISTED);
        self.reasons.sort_by_key(|known| std::cmp::Reverse(known.count));
    }
}

/// What must be said before a file can be taken in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "ask", rename_all = "snake_case")]
pub enum LogQuestion {
    /// Day or month first: no date of the file tells.
    Order {
        /// A date as it is written.
        written: String,
        /// 1-based line of it.
        line: u32,
        /// What the file would cover under each order.
        choices: Vec<OrderChoice>,
    },
    /// The unit of temperatures.
    Unit {
        /// Columns or sensors concerned.
        columns: Vec<String>,
        /// The unit that the file names; absent where it names none.
        told: Option<LogUnit>,
        /// What the values would be in each unit.
        choices: Vec<UnitChoice>,
    },
    /// Whether the logger's clock follows the changes between winter and summer time: its times run straight through
    /// a change.
    Zone {
        /// 1-based line of the first row in the hour that was left out or repeated.
        line: u32,
        /// Rows in such hours.
        rows: u32,
        /// Zones to choose from: the offset that it seems to keep all year, and the zone of the site.
        choices: Vec<String>,
    },
}

/// What a file would cover under an order of day and month.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct OrderChoice {
    /// The order.
    pub order: DateOrder,
    /// Earliest date and time as the logger's clock shows it.
    pub first: NaiveDateTime,
    /// Latest.
    pub last: NaiveDateTime,
}

/// What temperatures would be in a unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct UnitChoice {
    /// The unit.
    pub unit: LogUnit,
    /// 5 % of the readings are colder, in °C.
    pub low_c: f64,
    /// The middle one in °C.
    pub middle_c: f64,
    /// 5 % are warmer, in °C.
    pub high_c: f64,
}

/// Something to know that hinders nothing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(tag = "note", rename_all = "snake_case")]
pub enum LogNote {
    /// Readings at times that the clocks left out; they are flagged.
    SkippedHour {
        /// Rows.
        rows: u32,
        /// 1-based line of the first.
        line: u32,
    },
    /// Readings in the hour that the clocks repeated, of which nothing tells which round they belong to.
    RepeatedHour {
        /// Rows.
        rows: u32,
        /// 1-based line of the first.
        line: u32,
    },
    /// Different readings of one sensor at one instant: its clock shows no seconds, or two files were joined.
    SameInstant {
        /// Readings that were left out.
        readings: u32,
    },
}

/// A file as it was read.
#[derive(Debug, Clone, PartialEq)]
pub struct LogFile {
    /// What was understood.
    pub understood: Understood,
    /// The readings by sensor and quantity.
    pub series: Vec<LogSeries>,
    /// What is not taken in.
    pub rejections: Rejections,
    /// What must be said first; empty for a file that can be taken in.
    pub questions: Vec<LogQuestion>,
    /// What is good to know.
    pub notes: Vec<LogNote>,
}
