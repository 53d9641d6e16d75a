//! A parametric year from the averages that a grower knows by heart.

use std::f64::consts::TAU;

use rand_pcg::Pcg32;

use super::draws::normal;
use super::lows::tenths;
use super::{Basis, Climate, SeasonDay, SeasonLows, TypedClimate};
use crate::field::FieldError;
use crate::site::Hemisphere;

/// Seasons that are drawn.
const SEASONS: usize = 200;
/// Start year of the first of them; it only decides which have a 29 February.
const FIRST_YEAR: i32 = 2001;
/// Seed and stream of the draws: the same averages give the same climate.
const SEED: (u64, u64) = (0x0074_7970_6564, 2);
/// Correlation of the departure from the usual low with that of the night before.
const PERSISTENCE: f64 = 0.65;
/// How far departures are bent towards cold in midwinter; six times this is their skewness.
const WINTER_SKEW: f64 = 0.09;
/// How close the drawn seasons come to the typed averages.
const TOLERANCE_DAYS: f64 = 1.0;
const TOLERANCE_K: f64 = 0.1;
/// Range in which the amplitude of the usual low is searched: tropical coast to the interior of Siberia.
const AMPLITUDES_K: (f64, f64) = (1.0, 35.0);

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
    /// How the low of a date is distributed.
    fn night(&self, slot: usize) -> Night {
        let winter = (TAU * (slot as f64 - self.coldest) / SeasonDay::SLOTS as f64).cos();
        Night {
            mean_c: self.mean_c - self.amplitude_k * winter,
            spread_k: (1.22 + 0.42 * winter) * self.amplitude_k.sqrt(),
            skew: WINTER_SKEW * winter.max(0.0),
        }
    }
}

/// Distribution of the low of one date.
#[derive(Debug, Clone, Copy)]
struct Night {
    mean_c: f64,
    spread_k: f64,
    skew: f64,
}

impl Night {
    /// Low in °C for a standard normal departure: bent downwards, since cold spells go further than mild ones.
    fn low_c(&self, departure: f64) -> f64 {
        self.mean_c + self.spread_k * (departure - self.skew * (departure * departure - 1.0))
    }
}

impl Climate {
    /// A climate of 200 drawn seasons whose averages are those typed: mean dates of the first and last night at
    /// or below 0 °C within a day (more where some winters have no frost), mean annual minimum within 0.1 K.
    ///
    /// The nightly low is a cosine over the year plus departures that persist from night to night. Their standard
    /// deviation is `(1.22 + 0.42 w) √a` K, with `a` the amplitude of the cosine in K and `w` from 1 in midwinter
    /// to −1 in midsummer, their skewness −0.5 in midwinter and 0 from the equinoxes on, and their correlation
    /// from night to night 0.65. These are rounded means over the open daily records of Champion (Nebraska,
    /// `a` = 13), Clemson (South Carolina, 10), Brussels (7) and Lincolnshire (6). Mean, amplitude and coldest day
    /// are solved for. What is not in the averages is not known: intervals are given as for ten winters.
    ///
    /// # Errors
    /// When the dates are in the wrong order for the hemisphere, lie oddly in the year, or do not fit the
    /// annual minimum.
    pub fn from_typed(typed: &TypedClimate, hemisphere: Hemisphere) -> Result<Self, FieldError> {
        typed.check()?;
        let target = target(typed, hemisphere)?;
        let departures = departures();
        let year = solve(&departures, &target).ok_or_else(|| {
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

/// Averages asked for: first and last slot with frost, annual minimum.
#[derive(Debug, Clone, Copy)]
struct Target {
    first: f64,
    last: f64,
    minimum_c: f64,
}

fn target(typed: &TypedClimate, hemisphere: Hemisphere) -> Result<Target, FieldError> {
    let first = SeasonDay::of(typed.first_freeze, hemisphere).index() as f64;
    let last = SeasonDay::of(typed.last_freeze, hemisphere).index() as f64;
    let half = match hemisphere {
        Hemisphere::Northern => "northern",
        Hemisphere::Southern => "southern",
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
    // Slot 200 is mid-January in the north and mid-July in the south.
    if (middle - 200.0).abs() > 50.0 {
        return Err(FieldError::new(
            "first_freeze",
            format!("{first_text} and {last_text} do not lie around a {half} midwinter"),
            "check both dates and the latitude",
        ));
    }
    Ok(Target { first, last, minimum_c: typed.annual_minimum_c })
}

/// Departures from the usual low in standard deviations, night after night over all seasons.
fn departures() -> Vec<f64> {
    let mut rng = Pcg32::new(SEED.0, SEED.1);
    let fresh = (1.0 - PERSISTENCE * PERSISTENCE).sqrt();
    let mut departure = normal(&mut rng);
    (0..SEASONS * SeasonDay::SLOTS)
        .map(|_| {
            departure = PERSISTENCE * departure + fresh * normal(&mut rng);
            departure
        })
        .collect()
}

fn draw(year: &Year, departures: &[f64], start_year: i32, hemisphere: Hemisphere) -> SeasonLows {
    let mut season = SeasonLows::empty(start_year);
    for (slot, (low, departure)) in season.lows_c.iter_mut().zip(departures).enumerate() {
        if SeasonDay::from_index(slot).is_in(start_year, hemisphere) {
            *low = Some(f64::from(tenths(year.night(slot).low_c(*departure))) / 10.0);
        }
    }
    season
}

/// Mean first slot, mean last slot and mean minimum of the seasons of a year.
#[derive(Debug, Clone, Copy)]
struct Averages {
    first: f64,
    last: f64,
    minimum_c: f64,
    /// Share of seasons with frost.
    frozen: f64,
}

impl Averages {
    fn of(year: &Year, departures: &[f64]) -> Self {
        let nights: Vec<Night> = (0..SeasonDay::SLOTS).map(|slot| year.night(slot)).collect();
        let (mut first_sum, mut last_sum, mut frozen, mut minimum_sum) = (0, 0, 0.0, 0.0);
        for season in departures.chunks(SeasonDay::SLOTS) {
            let (mut first, mut last, mut minimum_c) = (None, 0, f64::INFINITY);
            for (slot, (departure, night)) in season.iter().zip(&nights).enumerate() {
                let low_c = night.low_c(*departure);
                minimum_c = minimum_c.min(low_c);
                if low_c < 0.05 {
                    first.get_or_insert(slot);
                    last = slot;
                }
            }
            minimum_sum += minimum_c;
            if let Some(first) = first {
                first_sum += first;
                last_sum += last;
                frozen += 1.0;
            }
        }
        let seasons = (departures.len() / SeasonDay::SLOTS) as f64;
        Self {
            first: first_sum as f64 / frozen,
            last: last_sum as f64 / frozen,
            minimum_c: minimum_sum / seasons,
            frozen: frozen / seasons,
        }
    }

    /// Days from the first to the last; 0 where no season freezes.
    fn length(&self) -> f64 {
        if self.frozen > 0.0 { self.last - self.first } else { 0.0 }
    }

    fn meets(&self, target: &Target) -> bool {
        // With fewer winters that freeze, the average dates of the draws jump about more.
        let days = TOLERANCE_DAYS / self.frozen.powi(2);
        (self.first - target.first).abs() <= days
            && (self.last - target.last).abs() <= days
            && (self.minimum_c - target.minimum_c).abs() <= TOLERANCE_K
    }
}

/// Finds the year with the given averages; `None` where there is none.
///
/// The minimum of a season is the yearly mean plus something that depends on the amplitude alone, so each
/// amplitude has one mean that gives the annual minimum asked for. Of these pairs, the one with a larger
/// amplitude has the shorter frost season: the amplitude is found by bisection. The coldest day is then moved
/// until the frost season lies right.
fn solve(departures: &[f64], target: &Target) -> Option<Year> {
    let with_minimum = |amplitude_k: f64, coldest: f64| {
        let year = Year { mean_c: 0.0, amplitude_k, coldest };
        Year { mean_c: target.minimum_c - Averages::of(&year, departures).minimum_c, ..year }
    };
    let mut coldest = f64::midpoint(target.first, target.last);
    let (mut low, mut high) = AMPLITUDES_K;
    for round in 0..8 {
        if round > 0 {
            // Moving the coldest day by a few days hardly changes the amplitude.
            (low, high) = ((low * 0.9).max(AMPLITUDES_K.0), (high * 1.1).min(AMPLITUDES_K.1));
        }
        while high - low > 0.002 * high {
            let amplitude_k = f64::midpoint(low, high);
            let found = Averages::of(&with_minimum(amplitude_k, coldest), departures);
            if found.length() > target.last - target.first { low = amplitude_k } else { high = amplitude_k }
        }
        let year = with_minimum(f64::midpoint(low, high), coldest);
        let found = Averages::of(&year, departures);
        if found.meets(target) {
            return Some(year);
        }
        let off = f64::midpoint(target.first, target.last) - f64::midpoint(found.first, found.last);
        if !off.is_finite() {
            return None;
        }
        coldest += off;
    }
    None
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
    const PLACES: [Place; 8] = [
        ((10, 10), (4, 30), -16.5),
        ((11, 3), (4, 15), -17.0),
        ((9, 27), (5, 3), -26.0),
        ((11, 14), (3, 28), -8.0),
        ((12, 5), (3, 1), -5.0),
        ((12, 20), (2, 5), -3.0),
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
                let most = 1.0 / autumn.share_with().powi(2) + 0.05;
                assert!(off.abs() < most, "{asked:?}: first off by {off}");
                let off = mean(spring.days.iter().map(|d| d.index() as f64)) - index(asked.last_freeze);
                assert!(off.abs() < most, "{asked:?}: last off by {off}");
                let off = mean(season_minima_c(&climate).into_iter()) - minimum;
                assert!(off.abs() < 0.12, "{asked:?}: minimum off by {off}");
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
