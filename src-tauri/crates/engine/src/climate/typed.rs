//! A parametric year from the averages that a grower knows by heart.

use std::f64::consts::TAU;

use rand_pcg::Pcg32;
use statrs::distribution::{ContinuousCDF, Normal};

use super::draws::uniform;
use super::lows::tenths;
use super::{Basis, Climate, SeasonDay, SeasonLows, TypedClimate};
use crate::field::FieldError;
use crate::site::Hemisphere;

/// Seasons that are drawn.
const SEASONS: usize = 60;
/// Start year of the first of them; it only decides which have a 29 February.
const FIRST_YEAR: i32 = 2001;
/// Seed and stream of the draws: the same averages give the same climate.
const SEED: (u64, u64) = (0x0074_7970_6564, 2);
/// Correlation of the departure from the usual low with that of the night before.
const PERSISTENCE: f64 = 0.65;
/// How close the drawn seasons come to the typed averages: days and kelvin.
const TOLERANCE: [f64; 3] = [1.0, 1.0, 0.3];

/// Usual low over the year and how far single nights depart from it.
#[derive(Debug, Clone, Copy)]
struct Year {
    /// Yearly mean of the low in °C.
    mean_c: f64,
    /// Half the difference between the usual lows of midsummer and midwinter in K.
    amplitude_k: f64,
    /// Slot of the coldest time.
    coldest: f64,
}

impl Year {
    /// Low in °C of a night that departs from the usual by `departure` standard deviations.
    fn low_c(&self, slot: usize, departure: f64) -> f64 {
        let winter = (TAU * (slot as f64 - self.coldest) / SeasonDay::SLOTS as f64).cos();
        let spread = (1.35 + 0.40 * winter) * self.amplitude_k.max(0.0).sqrt();
        self.mean_c - self.amplitude_k * winter + spread * departure
    }
}

impl Climate {
    /// A climate of 60 drawn seasons whose averages are those typed: mean dates of the first and last night at
    /// or below 0 °C within a day, mean annual minimum within 0.3 K.
    ///
    /// The nightly low is a cosine over the year plus normally distributed departures that persist from night to
    /// night. The spread of the departures follows from the amplitude of the cosine (larger in continental
    /// climates and in winter); mean, amplitude and coldest day are solved for. Real winters differ more from
    /// each other than the drawn ones, so intervals are given as for ten winters.
    ///
    /// # Errors
    /// When the dates are in the wrong order for the hemisphere, lie oddly in the year, or do not fit the
    /// annual minimum.
    pub fn from_typed(typed: &TypedClimate, hemisphere: Hemisphere) -> Result<Self, FieldError> {
        typed.check()?;
        let target = target(typed, hemisphere)?;
        let departures = departures();
        let year = solve(&departures, target).ok_or_else(|| {
            FieldError::new(
                "annual_minimum_c",
                format!("{} °C does not fit a winter with these freeze dates", typed.annual_minimum_c),
                "check the three figures against each other; a long frost season has a low annual minimum",
            )
        })?;
        let seasons = departures
            .chunks(SeasonDay::SLOTS)
            .zip(FIRST_YEAR..)
            .map(|(departures, start_year)| draw(&year, departures, start_year, hemisphere))
            .collect();
        Ok(Self::new(Basis::Typed, hemisphere, seasons))
    }
}

/// First slot, last slot and annual minimum asked for.
fn target(typed: &TypedClimate, hemisphere: Hemisphere) -> Result<[f64; 3], FieldError> {
    let first = SeasonDay::of(typed.first_freeze, hemisphere).index() as f64;
    let last = SeasonDay::of(typed.last_freeze, hemisphere).index() as f64;
    let (day, half) = match hemisphere {
        Hemisphere::Northern => (200.0, "northern"),
        Hemisphere::Southern => (200.0 - 1.0, "southern"),
    };
    let spell = |date: chrono::NaiveDate| date.format("%-d %B").to_string();
    let (first_text, last_text) = (spell(typed.first_freeze), spell(typed.last_freeze));
    if first >= last {
        return Err(FieldError::new(
            "first_freeze",
            format!("{first_text} is not before the last freeze ({last_text}) in a {half} winter"),
            "enter the autumn date as the first and the spring date as the last freeze, and check the latitude",
        ));
    }
    if !(10.0..=320.0).contains(&(last - first)) {
        return Err(FieldError::new(
            "last_freeze",
            format!("{last_text} comes {} days after the first freeze ({first_text})", last - first),
            "enter average dates that are 10 to 320 days apart",
        ));
    }
    let middle = f64::midpoint(first, last);
    if (middle - day).abs() > 50.0 {
        return Err(FieldError::new(
            "first_freeze",
            format!("{first_text} and {last_text} do not lie around a {half} midwinter"),
            "check both dates and the latitude",
        ));
    }
    Ok([first, last, typed.annual_minimum_c])
}

/// Departures from the usual low in standard deviations, night after night over all seasons.
fn departures() -> Vec<f64> {
    let mut rng = Pcg32::new(SEED.0, SEED.1);
    let normal = Normal::standard();
    let fresh = (1.0 - PERSISTENCE * PERSISTENCE).sqrt();
    let mut departure = normal.inverse_cdf(uniform(&mut rng));
    (0..SEASONS * SeasonDay::SLOTS)
        .map(|_| {
            departure = PERSISTENCE * departure + fresh * normal.inverse_cdf(uniform(&mut rng));
            departure
        })
        .collect()
}

fn draw(year: &Year, departures: &[f64], start_year: i32, hemisphere: Hemisphere) -> SeasonLows {
    let mut season = SeasonLows::empty(start_year);
    for (slot, (low, departure)) in season.lows_c.iter_mut().zip(departures).enumerate() {
        if SeasonDay::from_index(slot).is_in(start_year, hemisphere) {
            *low = Some(f64::from(tenths(year.low_c(slot, *departure))) / 10.0);
        }
    }
    season
}

/// Mean first slot, mean last slot and mean minimum of the seasons of a year; `None` where hardly any freezes.
fn averages(year: &Year, departures: &[f64]) -> Option<[f64; 3]> {
    let (mut first_sum, mut last_sum, mut frozen, mut minimum_sum) = (0.0, 0.0, 0, 0.0);
    for season in departures.chunks(SeasonDay::SLOTS) {
        let (mut first, mut last, mut minimum) = (None, 0, f64::INFINITY);
        for (slot, departure) in season.iter().enumerate() {
            let low_c = year.low_c(slot, *departure);
            minimum = minimum.min(low_c);
            if tenths(low_c) <= 0 {
                first.get_or_insert(slot);
                last = slot;
            }
        }
        minimum_sum += minimum;
        if let Some(first) = first {
            first_sum += first as f64;
            last_sum += last as f64;
            frozen += 1;
        }
    }
    let seasons = (departures.len() / SeasonDay::SLOTS) as f64;
    (frozen * 4 > SEASONS).then(|| {
        [first_sum / f64::from(frozen as u32), last_sum / f64::from(frozen as u32), minimum_sum / seasons]
    })
}

/// Finds the year with the given averages by Newton's method with numeric derivatives and halved steps.
fn solve(departures: &[f64], target: [f64; 3]) -> Option<Year> {
    let start = Year {
        mean_c: 7.0 + 0.25 * target[2],
        amplitude_k: (-0.6 * target[2]).clamp(3.0, 20.0),
        coldest: f64::midpoint(target[0], target[1]),
    };
    let misses = |year: &Year| -> Option<[f64; 3]> {
        let found = averages(year, departures)?;
        Some([0, 1, 2].map(|i| (found[i] - target[i]) / TOLERANCE[i]))
    };
    let badness = |miss: &[f64; 3]| miss.iter().map(|m| m * m).sum::<f64>();
    let mut year = start;
    // A start without frost cannot be steered: cool it until most seasons freeze.
    let mut miss = loop {
        match misses(&year) {
            Some(miss) => break miss,
            None if year.mean_c > -10.0 => year.mean_c -= 1.0,
            None => return None,
        }
    };
    for _ in 0..60 {
        if miss.iter().all(|m| m.abs() < 0.25) {
            break;
        }
        let steps = [0.5, 0.5, 3.0];
        let mut columns = [[0.0; 3]; 3];
        for (axis, step) in steps.iter().enumerate() {
            let moved = misses(&year.moved(axis, *step))?;
            columns[axis] = [0, 1, 2].map(|i| (moved[i] - miss[i]) / step);
        }
        let full = solve_three(columns, miss.map(|m| -m))?;
        let mut better = None;
        for halving in 0..8 {
            let scale = 0.5_f64.powi(halving);
            let next = (0..3).fold(year, |moved, axis| moved.moved(axis, scale * full[axis]));
            if let Some(found) = misses(&next).filter(|found| badness(found) < badness(&miss)) {
                better = Some((next, found));
                break;
            }
        }
        let Some((next, found)) = better else { break };
        (year, miss) = (next, found);
    }
    let sensible = (1.0..=35.0).contains(&year.amplitude_k);
    (sensible && miss.iter().all(|m| m.abs() <= 1.0)).then_some(year)
}

impl Year {
    fn moved(mut self, axis: usize, by: f64) -> Self {
        match axis {
            0 => self.mean_c += by,
            1 => self.amplitude_k += by,
            _ => self.coldest += by,
        }
        self
    }
}

/// Solves a linear system of three equations, given by its columns, with Cramer's rule.
fn solve_three(columns: [[f64; 3]; 3], right: [f64; 3]) -> Option<[f64; 3]> {
    let determinant = |[a, b, c]: [[f64; 3]; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
    };
    let whole = determinant(columns);
    (whole.abs() > 1e-9).then(|| {
        [0, 1, 2].map(|axis| {
            let mut replaced = columns;
            replaced[axis] = right;
            determinant(replaced) / whole
        })
    })
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;

    use super::*;
    use crate::climate::freeze::{first_autumn, last_spring};
    use crate::climate::season_minima_c;

    fn typed(first: (u32, u32), last: (u32, u32), annual_minimum_c: f64) -> TypedClimate {
        let date = |(month, day)| NaiveDate::from_ymd_opt(2001, month, day).unwrap();
        TypedClimate { first_freeze: date(first), last_freeze: date(last), annual_minimum_c }
    }

    fn mean(values: impl Iterator<Item = f64>) -> f64 {
        let values: Vec<f64> = values.collect();
        values.iter().sum::<f64>() / values.len() as f64
    }

    /// First freeze, last freeze and annual minimum.
    type Place = ((u32, u32), (u32, u32), f64);
    /// Places from mild coast to continental.
    const PLACES: [Place; 7] = [
        ((10, 10), (4, 30), -16.5),
        ((11, 3), (4, 15), -17.0),
        ((9, 27), (5, 3), -26.0),
        ((11, 14), (3, 28), -8.0),
        ((12, 5), (3, 1), -5.0),
        ((9, 1), (6, 5), -35.0),
        ((10, 20), (5, 5), -8.0),
    ];

    #[test]
    fn drawn_seasons_have_the_typed_averages() {
        for hemisphere in [Hemisphere::Northern, Hemisphere::Southern] {
            for (first, last, minimum) in PLACES {
                let shift = |(month, day): (u32, u32)| match hemisphere {
                    Hemisphere::Northern => (month, day),
                    Hemisphere::Southern => ((month + 5) % 12 + 1, day.min(30)),
                };
                let asked = typed(shift(first), shift(last), minimum);
                let climate =
                    Climate::from_typed(&asked, hemisphere).unwrap_or_else(|err| panic!("{asked:?} {err}"));
                let autumn = first_autumn(&climate, 0.0);
                let spring = last_spring(&climate, 0.0);
                let index = |date| SeasonDay::of(date, hemisphere).index() as f64;
                let off = mean(autumn.days.iter().map(|d| d.index() as f64)) - index(asked.first_freeze);
                assert!(off.abs() < 1.1, "{asked:?}: first off by {off}");
                let off = mean(spring.days.iter().map(|d| d.index() as f64)) - index(asked.last_freeze);
                assert!(off.abs() < 1.1, "{asked:?}: last off by {off}");
                let off = mean(season_minima_c(&climate).into_iter()) - minimum;
                assert!(off.abs() < 0.35, "{asked:?}: minimum off by {off}");
                assert_eq!(climate.seasons().len(), SEASONS);
            }
        }
    }

    #[test]
    fn the_same_averages_give_the_same_climate() {
        let asked = typed((10, 10), (4, 30), -16.5);
        let first = Climate::from_typed(&asked, Hemisphere::Northern).unwrap();
        assert_eq!(first, Climate::from_typed(&asked, Hemisphere::Northern).unwrap());
    }

    #[test]
    fn what_does_not_fit_is_refused_by_field() {
        let refused = |first, last, minimum, hemisphere| {
            Climate::from_typed(&typed(first, last, minimum), hemisphere).unwrap_err()
        };
        let swapped = refused((4, 30), (10, 10), -16.5, Hemisphere::Northern);
        assert_eq!(swapped.field, "first_freeze");
        assert!(
            swapped.to_string().contains("30 April is not before the last freeze (10 October)"),
            "{swapped}"
        );
        let other_half = refused((10, 10), (4, 30), -16.5, Hemisphere::Southern);
        assert_eq!(other_half.field, "first_freeze");
        assert!(other_half.to_string().contains("latitude"), "{other_half}");
        assert_eq!(refused((10, 10), (10, 14), -16.5, Hemisphere::Northern).field, "last_freeze");
        assert_eq!(refused((8, 1), (11, 20), -16.5, Hemisphere::Northern).field, "first_freeze");
        assert_eq!(refused((10, 10), (4, 30), 4.0, Hemisphere::Northern).field, "annual_minimum_c");
        assert_eq!(refused((9, 10), (5, 30), -1.0, Hemisphere::Northern).field, "annual_minimum_c");
        assert_eq!(refused((12, 30), (1, 20), -45.0, Hemisphere::Northern).field, "annual_minimum_c");
    }
}
