//! Winter chill: chill hours, Utah chill units and portions of the Dynamic model, hour by hour.
//!
//! Three counts because growers' tables use all three and they disagree: under 16 h at 6 °C and 8 h at a warmer
//! temperature, chill hours see no difference up to 24 °C, Utah units fall with the warm hours, and portions
//! already completed are never lost. All take hourly temperatures without gaps.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Highest temperature in °C of a chill hour (45 °F).
pub const CHILL_HOUR_HIGH_C: f64 = 7.2;

/// Whether an hour counts as a chill hour: 0 to 7.2 °C, both ends included.
///
/// * `temp_c` — temperature in °C
///
/// The variant without a floor, also in use, counts hours of frost as well; this one does not.
///
/// Reference: J. H. Weinberger, Proc. Am. Soc. Hort. Sci. 56 (1950) 122–128, in the form of the R package chillR.
pub fn is_chill_hour(temp_c: f64) -> bool {
    (0.0..=CHILL_HOUR_HIGH_C).contains(&temp_c)
}

/// Upper ends in °C of the classes of the Utah model with their weights; above the last the weight is −1.
const UTAH: [(f64, f64); 6] = [(1.4, 0.0), (2.4, 0.5), (9.1, 1.0), (12.4, 0.5), (15.9, 0.0), (18.0, -0.5)];

/// Utah chill units of an hour, −1 to 1.
///
/// * `temp_c` — temperature in °C
///
/// The edges in °C are those of phenology libraries; the edges published in °F differ by up to 0.3 K.
///
/// Reference: E. A. Richardson, S. D. Seeley, D. R. Walker, HortScience 9 (1974) 331–332, in the form of the R
/// package chillR.
pub fn utah_units(temp_c: f64) -> f64 {
    UTAH.iter().find(|(upper_c, _)| temp_c <= *upper_c).map_or(-1.0, |&(_, weight)| weight)
}

/// Utah chill units of an hour with negative ones left out.
///
/// Reference: G. C. Linsley-Noakes, P. Allan, Scientia Hort. 58 (1994) 195–202.
pub fn positive_utah_units(temp_c: f64) -> f64 {
    utah_units(temp_c).max(0.0)
}

/// Running total of Utah chill units, counted from its lowest point: warm hours of autumn do not burden winter.
///
/// Starting after the most negative running total is the rule of the authors (value from memory).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct UtahTotal {
    sum: f64,
    lowest: f64,
}

impl UtahTotal {
    /// Adds an hour at a temperature in °C.
    pub fn add(&mut self, temp_c: f64) {
        self.sum += utah_units(temp_c);
        self.lowest = self.lowest.min(self.sum);
    }

    /// Units since the first hour.
    pub fn since_first(&self) -> f64 {
        self.sum
    }

    /// Units since the lowest point.
    pub fn units(&self) -> f64 {
        self.sum - self.lowest
    }
}

/// The Dynamic model of chill, advanced hour by hour.
///
/// An intermediate is built up and destroyed at rates that depend on temperature; when there is enough of it, a
/// portion is fixed for good. With `T` in K:
///
/// ```text
/// xs  = (A0/A1) exp((E1 − E0)/T)          level towards which the intermediate E tends
/// k   = A1 exp(−E1/T)                     rate per hour
/// E   = xs − (xs − S) exp(−k)             S: what the hour before left over
/// xi  = s / (1 + s), s = exp(1.6 · 277 (T − 277)/T)
/// E ≥ 1: a portion E·xi is fixed, and the next hour begins with E (1 − xi)
/// ```
///
/// | constant | value |
/// |---|---|
/// | E0 | 4153.5 K |
/// | E1 | 12888.8 K |
/// | A0 | 139 500 /h |
/// | A1 | 2.567e18 /h |
/// | 0 °C | 273 K, as in the authors' sheet; 273.15 lowers a season by 1 to 4 % |
///
/// Between portions nothing counts: a span has the difference of the totals at its ends, and restarting loses up
/// to one portion. No portion is ever fixed at or above 13 °C.
///
/// Reference: S. Fishman, A. Erez, G. A. Couvillon, J. Theor. Biol. 124 (1987) 473–483 and 126 (1987) 309–321; A.
/// Erez, S. Fishman, G. C. Linsley-Noakes, P. Allan, Acta Hort. 276 (1990) 165–174; constants of the authors'
/// spreadsheet dynamic-model.xls (Volcani Center).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DynamicChill {
    intermediate: f64,
    carried: f64,
    portions: f64,
}

/// The parts of the Dynamic model that depend on temperature alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DynamicRates {
    /// Level towards which the intermediate tends.
    pub level: f64,
    /// Rate of the approach per hour.
    pub rate_per_h: f64,
    /// Share of a full intermediate that becomes a portion.
    pub fixed_share: f64,
}

impl DynamicRates {
    /// Rates at a temperature in °C.
    pub fn at(temp_c: f64) -> Self {
        let temp_k = temp_c + 273.0;
        let s = (1.6 * 277.0 * (temp_k - 277.0) / temp_k).exp();
        Self {
            level: 139_500.0 / 2.567e18 * ((12_888.8 - 4_153.5) / temp_k).exp(),
            rate_per_h: 2.567e18 * (-12_888.8 / temp_k).exp(),
            fixed_share: s / (1.0 + s),
        }
    }
}

impl DynamicChill {
    /// Adds an hour at a temperature in °C.
    pub fn add(&mut self, temp_c: f64) {
        let rates = DynamicRates::at(temp_c);
        self.intermediate = rates.level - (rates.level - self.carried) * (-rates.rate_per_h).exp();
        self.carried = self.intermediate;
        if self.intermediate >= 1.0 {
            let portion = self.intermediate * rates.fixed_share;
            self.portions += portion;
            self.carried = self.intermediate - portion;
        }
    }

    /// Portions fixed since the first hour.
    pub fn portions(&self) -> f64 {
        self.portions
    }

    /// The intermediate at the end of the last hour, before a portion is taken off.
    pub fn intermediate(&self) -> f64 {
        self.intermediate
    }
}

/// Hours at a constant 6 °C that give one portion of the Dynamic model: 720 h give 24.433 portions.
const HOURS_PER_PORTION: f64 = 720.0 / 24.433;

/// Chill by all three counts.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Chill {
    /// Hours from 0 to 7.2 °C.
    pub hours: f64,
    /// Utah chill units since the lowest running total.
    pub utah_units: f64,
    /// Portions of the Dynamic model.
    pub portions: f64,
}

impl Chill {
    /// Chill after an earlier total, none of the counts below 0.
    #[must_use]
    pub fn since(self, earlier: Self) -> Self {
        Self {
            hours: (self.hours - earlier.hours).max(0.0),
            utah_units: (self.utah_units - earlier.utah_units).max(0.0),
            portions: (self.portions - earlier.portions).max(0.0),
        }
    }

    /// The least and the most of the three counts, all as hours at the best temperature.
    ///
    /// A Utah unit is such an hour by definition, and 29.5 h at 6 °C make a portion (computed from the Dynamic model).
    /// The three disagree where hours are spent off that temperature: the span is the doubt.
    pub fn equivalent_hours(&self) -> (f64, f64) {
        let from_portions = self.portions * HOURS_PER_PORTION;
        let counts = [self.hours, self.utah_units, from_portions];
        (counts.iter().copied().fold(f64::INFINITY, f64::min), counts.iter().copied().fold(0.0, f64::max))
    }
}

/// All three counts, kept up hour by hour.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ChillTotal {
    hours: u32,
    utah: UtahTotal,
    dynamic: DynamicChill,
}

impl ChillTotal {
    /// Adds an hour at a temperature in °C.
    pub fn add(&mut self, temp_c: f64) {
        self.hours += u32::from(is_chill_hour(temp_c));
        self.utah.add(temp_c);
        self.dynamic.add(temp_c);
    }

    /// The counts so far.
    pub fn chill(&self) -> Chill {
        Chill {
            hours: f64::from(self.hours),
            utah_units: self.utah.units(),
            portions: self.dynamic.portions(),
        }
    }
}

/// Chill of hourly temperatures in °C.
///
/// ```
/// use hibernacle_engine::plant::chill::chill_of;
///
/// let month_at_6_c = chill_of(&[6.0; 720]);
/// assert_eq!(month_at_6_c.hours, 720.0);
/// assert!((month_at_6_c.portions - 24.433).abs() < 0.001);
/// ```
pub fn chill_of(temps_c: &[f64]) -> Chill {
    let mut total = ChillTotal::default();
    temps_c.iter().for_each(|&temp_c| total.add(temp_c));
    total.chill()
}
