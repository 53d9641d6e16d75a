//! Figures as people type them.

use hibernacle_contract::records::TemperatureUnit;
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_contract::{ErrorCode, Failure};

/// A temperature in °C from a text: a number in the reader's unit, or with its unit. Records are kept in tenths of a
/// degree, so 28 °F means −2.2 °C, as in the U.S. Climate Normals.
pub(crate) fn temp_c(field: &str, text: &str, wording: &Wording) -> Result<f64, Failure> {
    read(text, wording.units().temperature).ok_or_else(|| {
        let mut figures = FluentArgs::new();
        figures.set("field", field);
        figures.set("text", text);
        Failure {
            field: Some(field.to_owned()),
            ..Failure::new(ErrorCode::Invalid, wording.message("cli-no-temperature", &figures))
        }
    })
}

fn read(text: &str, unit: TemperatureUnit) -> Option<f64> {
    let text = text.trim().replace(['\u{2212}', '°'], "-").replace("--", "-");
    let bare = text.trim_end_matches(['C', 'c', 'F', 'f', ' ', '-']);
    let unit = match text.chars().last() {
        Some('C' | 'c') => TemperatureUnit::Celsius,
        Some('F' | 'f') => TemperatureUnit::Fahrenheit,
        _ => unit,
    };
    let number: f64 = bare.parse().ok().filter(|number: &f64| number.is_finite())?;
    Some(match unit {
        TemperatureUnit::Celsius => number,
        TemperatureUnit::Fahrenheit => ((number - 32.0) / 1.8 * 10.0).round() / 10.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_threshold_takes_its_unit_from_itself_or_from_the_site() {
        use TemperatureUnit::{Celsius, Fahrenheit};
        for (text, unit, temp_c) in [
            ("-2.2", Celsius, -2.2),
            ("28", Fahrenheit, -2.2),
            ("28F", Celsius, -2.2),
            ("28 °F", Celsius, -2.2),
            ("-2.2C", Fahrenheit, -2.2),
            ("−4.4 °C", Fahrenheit, -4.4),
            ("0", Celsius, 0.0),
            ("24f", Celsius, -4.4),
            ("20", Fahrenheit, -6.7),
        ] {
            assert_eq!(read(text, unit), Some(temp_c), "{text}");
        }
        for text in ["", "cold", "nan", "F", "2.2.2"] {
            assert_eq!(read(text, Celsius), None, "{text}");
        }
    }
}
