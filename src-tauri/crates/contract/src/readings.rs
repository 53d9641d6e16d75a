//! Readings of sensors: import of loggers' files, what is stored, and series for charts.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use chrono::{DateTime, Utc};
use hibernacle_engine::readings::{
    LogNote, LogOptions, LogQuestion, Quantity, Rejections, SeriesFigures, Understood,
};
use hibernacle_engine::shelter::Sensor;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use ts_rs::TS;

/// The bytes of a file; base64 (RFC 4648, section 4) in JSON.
#[derive(Clone, PartialEq, Eq, TS)]
#[ts(type = "string")]
pub struct FileBytes(pub Vec<u8>);

impl std::fmt::Debug for FileBytes {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} bytes", self.0.len())
    }
}

impl Serialize for FileBytes {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&STANDARD.encode(&self.0))
    }
}

impl<'de> Deserialize<'de> for FileBytes {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        STANDARD.decode(text).map(Self).map_err(|error| {
            serde::de::Error::custom(format!(
                "the bytes of the file must come in base64, and these do not: {error}"
            ))
        })
    }
}

/// A logger's file to look at or to import.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ReadingsFile {
    /// The site; absent for the one used last.
    pub site_id: Option<String>,
    /// Name of the file, for messages.
    pub file_name: String,
    /// Its bytes.
    pub bytes: FileBytes,
    /// What is said about it; all may be left out.
    #[serde(default)]
    pub options: LogOptions,
    /// Where its sensors belong, for those of which it is not clear or wrong.
    #[serde(default)]
    pub sensors: Vec<SensorChoice>,
}

/// Where a sensor of a file belongs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct SensorChoice {
    /// Its name in the file.
    pub name: String,
    /// Where it belongs.
    pub place: SensorPlace,
}

/// Where a sensor of a file belongs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum SensorPlace {
    /// It is a sensor that is set up.
    Sensor {
        /// The sensor.
        sensor_id: String,
    },
    /// It is a new one in a zone.
    Zone {
        /// The zone.
        zone_id: String,
    },
    /// It is a new one outdoors.
    Outdoors,
    /// Its readings are not wanted.
    LeftOut,
    /// Nothing tells: it must be said.
    Unknown,
}

/// A sensor of a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct FileSensor {
    /// Its name in the file.
    pub name: String,
    /// Where it belongs.
    pub place: SensorPlace,
    /// Name of the sensor or zone of that; absent outdoors and where it is not known.
    pub place_name: Option<String>,
}

/// A series of a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FileSeries {
    /// What was understood of it.
    #[serde(flatten)]
    pub figures: SeriesFigures,
    /// Readings that an import adds, or has added.
    pub added: u32,
    /// Readings of instants that have one already: they stay as they are.
    pub known: u32,
}

/// What was understood of a file, and what came or would come of its import.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ReadingsReport {
    /// The import; absent for a preview.
    pub import_id: Option<String>,
    /// Name of the file.
    pub file_name: String,
    /// What was understood of it as a whole.
    pub understood: Understood,
    /// Its sensors.
    pub sensors: Vec<FileSensor>,
    /// Its readings by sensor and quantity.
    pub series: Vec<FileSeries>,
    /// Rows and cells that are not taken in.
    pub rejections: Rejections,
    /// What must be said first, besides the places of sensors.
    pub questions: Vec<LogQuestion>,
    /// What is good to know.
    pub notes: Vec<LogNote>,
    /// When the very same file was imported before.
    pub imported_before_utc: Option<DateTime<Utc>>,
    /// Whether it can be imported as it stands.
    pub is_ready: bool,
}

/// Names an import to undo.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct ReadingsUndo {
    /// The site; absent for the one used last.
    pub site_id: Option<String>,
    /// The import; absent for the last one.
    pub import_id: Option<String>,
}

/// An import that was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ImportEntry {
    /// Identifier of the import.
    pub import_id: String,
    /// Name of the file.
    pub file_name: String,
    /// When.
    pub imported_at_utc: DateTime<Utc>,
    /// Readings that it added.
    pub added: u32,
    /// Readings that were there before.
    pub known: u32,
    /// When it was undone; absent while it stands.
    pub undone_at_utc: Option<DateTime<Utc>>,
}

/// What an undo took away.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ReadingsUndone {
    /// The import.
    pub import: ImportEntry,
    /// Readings taken away.
    pub removed: u32,
    /// Sensors that the import had entered and that have no readings left: they are removed too.
    pub removed_sensors: Vec<String>,
}

/// Sensors with their health, and the imports.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ReadingsList {
    /// The site.
    pub site_id: String,
    /// Its sensors, those without readings too.
    pub sensors: Vec<SensorHealth>,
    /// Imports, the last one first.
    pub imports: Vec<ImportEntry>,
}

/// A sensor with what is stored of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SensorHealth {
    /// The sensor.
    pub sensor: Sensor,
    /// Name of its zone; absent outdoors.
    pub zone_name: Option<String>,
    /// Name of its shelter; absent outdoors.
    pub shelter_name: Option<String>,
    /// Hours since its last reading; absent where it has none.
    pub silent_h: Option<f64>,
    /// What is stored by quantity.
    pub series: Vec<SeriesHealth>,
}

/// What is stored of one quantity of a sensor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SeriesHealth {
    /// What is measured; it names the unit of the values.
    pub quantity: Quantity,
    /// Readings.
    pub readings: u32,
    /// Readings that are flagged and left out of fits.
    pub flagged: u32,
    /// First instant.
    pub first_utc: DateTime<Utc>,
    /// Last instant.
    pub last_utc: DateTime<Utc>,
    /// Value at the last instant.
    pub last_value: f64,
    /// Smallest good value.
    pub min: Option<f64>,
    /// Largest good value.
    pub max: Option<f64>,
    /// Usual seconds between readings in the last 400 days.
    #[ts(type = "number | null")]
    pub step_s: Option<i64>,
    /// Spans without readings in the last 400 days.
    pub gaps: u32,
    /// The longest of them in hours.
    pub longest_gap_h: Option<f64>,
}

/// Asks for a series for a chart.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SeriesRequest {
    /// The sensor.
    pub sensor_id: String,
    /// What is measured.
    pub quantity: Quantity,
    /// Begin; absent for the first reading.
    #[serde(default)]
    pub from_utc: Option<DateTime<Utc>>,
    /// End; absent for the last reading.
    #[serde(default)]
    pub to_utc: Option<DateTime<Utc>>,
    /// Most points that are wanted, 3 to 10 000; absent for 1000.
    #[serde(default)]
    pub points: Option<u32>,
}

/// A series for a chart.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SeriesView {
    /// The sensor.
    pub sensor_id: String,
    /// What is measured; it names the unit of the values.
    pub quantity: Quantity,
    /// Seconds that a point stands for.
    #[ts(type = "number")]
    pub bucket_s: i64,
    /// Points in order of time; spans without readings have none.
    pub points: Vec<SeriesPoint>,
}

/// What a span of equal length holds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct SeriesPoint {
    /// Its begin.
    pub at_utc: DateTime<Utc>,
    /// Smallest good value; absent where none is good.
    pub min: Option<f64>,
    /// Mean of the good values.
    pub mean: Option<f64>,
    /// Largest good value.
    pub max: Option<f64>,
    /// Readings in it.
    pub readings: u32,
    /// Those that are flagged; they count in none of the values.
    pub flagged: u32,
}
