//! What a column's heading says: quantity, unit, sensor and clock.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::Quantity;
use super::stamp;

/// Unit of a column of temperatures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LogUnit {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
    /// Kelvin.
    Kelvin,
}

impl LogUnit {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Celsius, Self::Fahrenheit, Self::Kelvin];

    /// °C of a temperature in this unit.
    pub fn to_celsius(self, value: f64) -> f64 {
        match self {
            Self::Celsius => value,
            Self::Fahrenheit => (value - 32.0) / 1.8,
            Self::Kelvin => value - 273.15,
        }
    }
}

/// Multiples in which humidity and power are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Scale {
    /// Per cent.
    Percent,
    /// kW.
    Kilowatt,
}

/// What a heading says.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Heading {
    /// What is measured, where a word names it.
    pub(super) quantity: Option<Quantity>,
    /// Unit of a temperature, where one stands there.
    pub(super) unit: Option<LogUnit>,
    /// In what a power or a humidity is given, where that is not W or a share.
    pub(super) scale: Option<Scale>,
    /// What is left of the words: the name of the sensor.
    pub(super) sensor: String,
    /// Why the column is of no use here; absent for one that may be.
    pub(super) of_no_use: Option<&'static str>,
    /// Whether a word speaks of time.
    pub(super) is_time: bool,
    /// Whether a word speaks of sensors.
    pub(super) is_sensor: bool,
    /// Whether a word speaks of kinds of measurement.
    pub(super) is_kind: bool,
    /// Whether a word speaks of units.
    pub(super) is_unit: bool,
    /// Seconds east of UTC, where the heading of a time says so.
    pub(super) offset_s: Option<i32>,
}

const TIME: &[&str] = &[
    "time",
    "date",
    "datetime",
    "timestamp",
    "zeit",
    "uhrzeit",
    "datum",
    "zeitpunkt",
    "zeitstempel",
    "heure",
    "horodatage",
    "fecha",
    "hora",
    "data",
    "ora",
    "tijd",
    "tijdstip",
    "dato",
    "tid",
    "epoch",
    "unixtime",
    "ts",
    "datumzeit",
    "aika",
    "czas",
    "when",
];
const SENSOR: &[&str] = &[
    "sensor", "device", "probe", "station", "location", "channel", "logger", "node", "fühler", "ort",
    "gerät", "kanal", "capteur", "sonda", "sensore", "room", "raum", "zone", "place", "entity", "topic",
];
const KIND: &[&str] = &[
    "quantity",
    "measurement",
    "type",
    "kind",
    "parameter",
    "variable",
    "metric",
    "field",
    "property",
    "messgrösse",
    "messgröße",
    "grösse",
    "größe",
];
const UNIT: &[&str] = &["unit", "units", "einheit", "unité", "unidad", "uom"];
const HUMIDITY: &[&str] = &[
    "humidity",
    "hum",
    "rh",
    "rf",
    "feuchte",
    "luftfeuchte",
    "luftfeuchtigkeit",
    "feuchtigkeit",
    "humidité",
    "humidite",
    "humedad",
    "umidità",
    "umidita",
    "vochtigheid",
    "relhum",
    "%",
    "%rh",
    "%rf",
    "relative",
    "relativehumidity",
];
const POWER: &[&str] =
    &["power", "watt", "watts", "w", "kw", "leistung", "puissance", "potencia", "potenza", "vermogen"];
const OF_NO_USE: &[(&[&str], &str)] = &[
    (
        &[
            "dew",
            "dewpoint",
            "taupunkt",
            "rosée",
            "rocío",
            "wet",
            "wetbulb",
            "heatindex",
            "feels",
            "apparent",
            "vpd",
            "absolute",
            "setpoint",
            "target",
            "soll",
        ],
        "is worked out from other readings",
    ),
    (&["min", "max", "minimum", "maximum", "low", "high", "tief", "hoch"], "is an extreme of a span of time"),
    (
        &["battery", "batt", "batterie", "bat", "volt", "volts", "voltage", "v", "mv", "spannung"],
        "is the state of the logger’s battery",
    ),
    (
        &[
            "pressure",
            "druck",
            "luftdruck",
            "hpa",
            "mbar",
            "kpa",
            "lux",
            "light",
            "lumen",
            "co2",
            "ppm",
            "rssi",
            "snr",
            "signal",
            "lqi",
            "wind",
            "rain",
            "regen",
            "uv",
            "kwh",
            "wh",
            "energy",
            "energie",
            "voc",
            "pm25",
            "altitude",
        ],
        "is no temperature, humidity or power",
    ),
    (
        &["#", "no", "nr", "index", "record", "lfd", "row", "seq", "sequence", "count", "counter"],
        "counts the rows",
    ),
];

/// Words of an outdoor place.
const OUTDOOR: &[&str] = &[
    "out",
    "outside",
    "outdoor",
    "outdoors",
    "outer",
    "external",
    "ext",
    "exterior",
    "extérieur",
    "exterieur",
    "aussen",
    "außen",
    "draussen",
    "draußen",
    "garden",
    "garten",
    "yard",
    "ambient",
    "weather",
    "esterno",
    "buiten",
    "ute",
];
/// Words of an indoor place.
const INDOOR: &[&str] = &[
    "in",
    "inside",
    "indoor",
    "indoors",
    "inner",
    "internal",
    "int",
    "interior",
    "intérieur",
    "interieur",
    "innen",
    "drinnen",
    "greenhouse",
    "glasshouse",
    "house",
    "cellar",
    "garage",
    "porch",
    "shed",
    "room",
    "bench",
    "tunnel",
    "gewächshaus",
    "keller",
    "glashaus",
    "serre",
    "interno",
    "binnen",
    "cold",
    "frame",
];

/// Whether the name of a sensor speaks of outdoors; absent where it does not say.
pub fn is_outdoor(sensor: &str) -> Option<bool> {
    let words = words(sensor);
    let has = |known: &[&str]| words.iter().any(|word| known.contains(&letters(word)));
    match (has(OUTDOOR), has(INDOOR)) {
        (true, false) => Some(true),
        (false, true) => Some(false),
        _ => None,
    }
}

/// A word without the digits behind it (`out2`).
fn letters(word: &str) -> &str {
    let bare = word.trim_end_matches(|c: char| c.is_ascii_digit());
    if bare.is_empty() { word } else { bare }
}

fn words(text: &str) -> Vec<String> {
    split(text).into_iter().map(|word| word.to_lowercase()).collect()
}

/// Words as they are written: letters and digits, with degree and per cent signs; a capital inside a word begins the
/// next (`outdoorTemp`).
fn split(text: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let mut word = String::new();
    let mut before = ' ';
    for c in text.chars() {
        let c = match c {
            'º' | '˚' | '\u{fffd}' => '°',
            '℃' | '℉' => {
                found.extend([std::mem::take(&mut word), if c == '℃' { "°C" } else { "°F" }.to_owned()]);
                before = ' ';
                continue;
            }
            other => other,
        };
        let is_part = c.is_alphanumeric() || matches!(c, '°' | '%' | '#');
        let begins = matches!(c, '°' | '%' | '#')
            || (before.is_lowercase() && c.is_uppercase() && word.chars().count() > 1);
        if !is_part || begins {
            found.push(std::mem::take(&mut word));
        }
        if is_part {
            word.push(c);
        }
        before = c;
    }
    found.push(word);
    found.retain(|word| !word.is_empty());
    found
}

/// Unit of a temperature that a word is.
pub(super) fn temperature_unit(word: &str) -> Option<LogUnit> {
    match word {
        "°c" | "c" | "celsius" | "degc" | "cel" | "centigrade" => Some(LogUnit::Celsius),
        "°f" | "f" | "fahrenheit" | "degf" => Some(LogUnit::Fahrenheit),
        "k" | "kelvin" | "degk" => Some(LogUnit::Kelvin),
        _ => None,
    }
}

fn is_temperature(word: &str) -> bool {
    matches!(word, "t" | "tmp" | "temps")
        || (word.starts_with("temp") && !word.starts_with("temps"))
        || word.starts_with("tempé")
        || word.starts_with("lämpö")
}

/// What one cell of a unit or kind column, or of a line of units, says.
pub(super) fn of_word(text: &str) -> Heading {
    of(text)
}

/// Whether a cell holds a unit and nothing else.
pub(super) fn is_unit_only(text: &str) -> bool {
    let found = words(text);
    !found.is_empty()
        && found.iter().all(|word| {
            temperature_unit(word).is_some()
                || matches!(
                    word.as_str(),
                    "°" | "%" | "deg" | "rh" | "%rh" | "w" | "kw" | "v" | "hpa" | "lux" | "mv"
                )
        })
}

/// Reads a heading.
pub(super) fn of(text: &str) -> Heading {
    let mut heading = Heading::default();
    let written = split(text);
    let lower: Vec<String> = written.iter().map(|word| word.to_lowercase()).collect();
    let mut left: Vec<&str> = Vec::new();
    let mut has_unit_word = false;
    for (place, word) in lower.iter().enumerate() {
        let word = word.as_str();
        // A single letter is a unit only behind something else: `temp_c`, `Greenhouse (F)`.
        let unit =
            temperature_unit(word).filter(|_| word.chars().count() > 1 || place > 0 || lower.len() == 1);
        if TIME.contains(&word) {
            heading.is_time = true;
        } else if SENSOR.contains(&letters(word)) {
            heading.is_sensor = true;
            left.push(&written[place]);
        } else if KIND.contains(&word) {
            heading.is_kind = true;
        } else if UNIT.contains(&word) {
            heading.is_unit = true;
        } else if let Some(unit) = unit {
            heading.unit.get_or_insert(unit);
            has_unit_word = true;
        } else if HUMIDITY.contains(&word) {
            heading.quantity.get_or_insert(Quantity::Humidity);
            if word.starts_with('%') {
                heading.scale = Some(Scale::Percent);
            }
        } else if POWER.contains(&word) && (word.len() > 2 || place > 0 || lower.len() == 1) {
            heading.quantity.get_or_insert(Quantity::Power);
            if word == "kw" {
                heading.scale = Some(Scale::Kilowatt);
            }
        } else if is_temperature(word) {
            heading.quantity = Some(Quantity::Temperature);
        } else if let Some((_, reason)) = OF_NO_USE.iter().find(|(known, _)| known.contains(&word)) {
            heading.of_no_use.get_or_insert(reason);
        } else if !matches!(
            word,
            "°" | "deg"
                | "degree"
                | "degrees"
                | "value"
                | "reading"
                | "wert"
                | "messwert"
                | "point"
                | "air"
                | "luft"
                | "avg"
                | "mean"
                | "average"
        ) {
            left.push(&written[place]);
        }
    }
    if has_unit_word && heading.quantity.is_none() {
        heading.quantity = Some(Quantity::Temperature);
    }
    heading.offset_s = offset_in(text);
    heading.sensor = left.join(" ");
    heading
}

/// Seconds east of UTC that a heading names (`Time (UTC+01:00)`, `timestamp_utc`).
fn offset_in(text: &str) -> Option<i32> {
    let lower = text.to_lowercase();
    let start = ["utc", "gmt"].into_iter().filter_map(|word| lower.find(word)).min()?;
    let behind = lower.get(start..)?;
    let end = behind
        .char_indices()
        .skip(3)
        .find(|(_, c)| !matches!(c, '+' | '-' | '−' | ':' | ' ') && !c.is_ascii_digit())
        .map_or(behind.len(), |(at, _)| at);
    stamp::offset(behind.get(..end)?.trim().as_bytes()).or(Some(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_give_quantity_unit_and_sensor() {
        use LogUnit::{Celsius, Fahrenheit, Kelvin};
        use Quantity::{Humidity, Power, Temperature};
        for (text, quantity, unit, sensor) in [
            ("Temperature (°C)", Some(Temperature), Some(Celsius), ""),
            ("Greenhouse Temp [°F]", Some(Temperature), Some(Fahrenheit), "Greenhouse"),
            ("outside_temp_c", Some(Temperature), Some(Celsius), "outside"),
            ("Temperature_Celsius(℃)", Some(Temperature), Some(Celsius), ""),
            ("Außen ºC", Some(Temperature), Some(Celsius), "Außen"),
            ("Air temp, K", Some(Temperature), Some(Kelvin), ""),
            ("indoorTemp", Some(Temperature), None, "indoor"),
            ("T_out", Some(Temperature), None, "out"),
            ("North corner", None, None, "North corner"),
            ("Humidity(%RH)", Some(Humidity), None, ""),
            ("Innen Luftfeuchte %", Some(Humidity), None, "Innen"),
            ("Heater power (W)", Some(Power), None, "Heater"),
            ("Heater kW", Some(Power), None, "Heater"),
        ] {
            let found = of(text);
            assert_eq!(
                (found.quantity, found.unit, found.sensor.as_str()),
                (quantity, unit, sensor),
                "{text}"
            );
            assert_eq!(found.of_no_use, None, "{text}");
        }
        assert_eq!(of("Heater kW").scale, Some(Scale::Kilowatt));
        for text in ["Dew point (°C)", "Temp max °C", "Battery (V)", "Pressure hPa", "#"] {
            assert!(of(text).of_no_use.is_some(), "{text}");
        }
    }

    #[test]
    fn headings_of_times_may_name_the_clock() {
        for (text, offset_s) in [
            ("Date Time, GMT+01:00", Some(3600)),
            ("timestamp_utc", Some(0)),
            ("Time (UTC-5)", Some(-18_000)),
            ("Time (UTC)", Some(0)),
            ("Zeit", None),
        ] {
            let found = of(text);
            assert!(found.is_time, "{text}");
            assert_eq!(found.offset_s, offset_s, "{text}");
        }
    }

    #[test]
    fn names_tell_outdoors_from_indoors_where_they_can() {
        for (name, expected) in [
            ("Außen", Some(true)),
            ("outdoor 2", Some(true)),
            ("T_out1", Some(true)),
            ("greenhouse", Some(false)),
            ("Innen", Some(false)),
            ("probe 1", None),
            ("inside out", None),
        ] {
            assert_eq!(is_outdoor(name), expected, "{name}");
        }
    }
}
