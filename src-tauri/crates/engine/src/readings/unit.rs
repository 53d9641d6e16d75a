//! In which unit temperatures can be.

use chrono::{DateTime, Datelike};

use super::LogUnit;
use crate::site::TemperatureUnit;

/// Values that are looked at.
const SAMPLE: usize = 2000;

/// What a series of temperatures looks like as it is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spread {
    pub(super) low: f64,
    pub(super) middle: f64,
    pub(super) high: f64,
    /// Whether most of it is from the cold half of the year.
    pub(super) is_winter: bool,
}

/// How well a unit suits a spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Suits {
    Odd,
    Possible,
    Ordinary,
}

/// What is to be done about a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Verdict {
    /// It is this one.
    Take(LogUnit),
    /// It is taken to be the first, but the second is to be asked about.
    Ask(LogUnit, LogUnit),
}

impl Spread {
    /// The 5th, 50th and 95th percentile (nearest rank) of written values with their instants.
    pub(super) fn of(values: &[(i64, f64)], latitude_deg: f64) -> Option<Self> {
        let stride = (values.len() / SAMPLE).max(1);
        let mut sample: Vec<f64> = values.iter().step_by(stride).map(|(_, value)| *value).collect();
        sample.sort_unstable_by(f64::total_cmp);
        let rank =
            |share: f64| sample.get(((sample.len() as f64 * share).ceil() as usize).max(1) - 1).copied();
        let winter =
            values.iter().step_by(stride).filter(|(utc_s, _)| is_winter(*utc_s, latitude_deg)).count();
        Some(Self {
            low: rank(0.05)?,
            middle: rank(0.5)?,
            high: rank(0.95)?,
            is_winter: winter * 2 > sample.len(),
        })
    }

    /// Whether a thermometer of a garden, a shelter or a room shows such temperatures: common practice, no source.
    fn suits(self, unit: LogUnit) -> Suits {
        let [low, middle, high] = [self.low, self.middle, self.high].map(|value| unit.to_celsius(value));
        let (most, hottest) = if self.is_winter { (24.0, 40.0) } else { (34.0, 50.0) };
        if !(-30.0..=most).contains(&middle) || high > hottest || low < -45.0 {
            return Suits::Odd;
        }
        let (ordinary, warm) = if self.is_winter { (-12.0..=14.0, 28.0) } else { (-5.0..=28.0, 42.0) };
        if ordinary.contains(&middle) && high < warm { Suits::Ordinary } else { Suits::Possible }
    }

    /// The unit, given what the file says and what the grower uses.
    ///
    /// A file that names its unit is believed unless its values cannot be and another unit fits. One that names none
    /// is taken to be in the grower's unit where that gives ordinary temperatures and the other one does not;
    /// otherwise the other unit is asked about, since a night misread by a unit costs plants.
    pub(super) fn unit(self, told: Option<LogUnit>, usual: TemperatureUnit) -> Verdict {
        let (first, other) = match (told, usual) {
            (Some(told), _) => {
                (told, if told == LogUnit::Fahrenheit { LogUnit::Celsius } else { LogUnit::Fahrenheit })
            }
            (None, TemperatureUnit::Celsius) => (LogUnit::Celsius, LogUnit::Fahrenheit),
            (None, TemperatureUnit::Fahrenheit) => (LogUnit::Fahrenheit, LogUnit::Celsius),
        };
        let (here, there) = (self.suits(first), self.suits(other));
        if here == Suits::Odd
            && there == Suits::Odd
            && first != LogUnit::Kelvin
            && self.suits(LogUnit::Kelvin) > Suits::Odd
        {
            return match told {
                None => Verdict::Take(LogUnit::Kelvin),
                Some(told) => Verdict::Ask(told, LogUnit::Kelvin),
            };
        }
        let is_doubtful = match told {
            Some(_) => here == Suits::Odd && there > Suits::Odd,
            None if here == Suits::Ordinary => there == Suits::Ordinary,
            None => there > Suits::Odd,
        };
        if is_doubtful { Verdict::Ask(first, other) } else { Verdict::Take(first) }
    }
}

/// Whether an instant lies in the cold half of the year, where there is one: November to March in the north.
fn is_winter(utc_s: i64, latitude_deg: f64) -> bool {
    let Some(instant) = DateTime::from_timestamp(utc_s, 0) else { return false };
    let north = matches!(instant.month(), 11 | 12 | 1..=3);
    let south = matches!(instant.month(), 5..=9);
    latitude_deg.abs() >= 25.0 && if latitude_deg > 0.0 { north } else { south }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn january(values: impl IntoIterator<Item = f64>) -> Spread {
        let values: Vec<(i64, f64)> =
            (0..).zip(values).map(|(n, value)| (1_767_600_000 + n * 600, value)).collect();
        Spread::of(&values, 47.7).unwrap()
    }

    fn swing(mean: f64, half: f64) -> Spread {
        january((0..1000).map(|n| mean + half * f64::from(n).sin()))
    }

    #[test]
    fn percentiles_are_nearest_ranks() {
        // numpy.percentile(range(1, 1001), [5, 50, 95], method="inverted_cdf") gives 50, 500, 950 (NumPy 2.4.6).
        let spread = january((1..=1000).map(f64::from));
        assert_eq!((spread.low, spread.middle, spread.high), (50.0, 500.0, 950.0));
        assert!(spread.is_winter);
    }

    #[test]
    fn fahrenheit_read_as_celsius_is_asked_about() {
        use LogUnit::{Celsius, Fahrenheit, Kelvin};
        let metric = TemperatureUnit::Celsius;
        // A greenhouse from 20 to 50 °F, a cold spell from 10 to 25 °F and a cellar near 45 °F.
        for written in [swing(35.0, 15.0), swing(17.5, 7.5), swing(45.0, 2.0)] {
            assert_eq!(written.unit(None, metric), Verdict::Ask(Celsius, Fahrenheit), "{written:?}");
        }
        assert_eq!(swing(45.0, 2.0).unit(Some(Celsius), metric), Verdict::Ask(Celsius, Fahrenheit));
        assert_eq!(swing(17.5, 7.5).unit(Some(Celsius), metric), Verdict::Take(Celsius));
        assert_eq!(swing(3.0, 8.0).unit(None, metric), Verdict::Take(Celsius));
        assert_eq!(
            swing(3.0, 8.0).unit(None, TemperatureUnit::Fahrenheit),
            Verdict::Ask(Fahrenheit, Celsius)
        );
        assert_eq!(swing(30.0, 12.0).unit(None, TemperatureUnit::Fahrenheit), Verdict::Take(Fahrenheit));
        assert_eq!(swing(275.0, 8.0).unit(None, metric), Verdict::Take(Kelvin));
        assert_eq!(swing(275.0, 8.0).unit(Some(Celsius), metric), Verdict::Ask(Celsius, Kelvin));
    }
}
