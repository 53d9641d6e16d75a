//! Winters added up, in a space that does not grow with their number.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::WinterOutcome;

/// A figure over many winters.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct Spread {
    /// Mean.
    pub mean: f64,
    /// One winter in ten is below.
    pub low: f64,
    /// Median.
    pub median: f64,
    /// One winter in ten is above.
    pub high: f64,
}

impl Spread {
    /// The spread of the figure times a factor of 0 or more: heat as fuel or as money.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self {
            mean: self.mean * factor,
            low: self.low * factor,
            median: self.median * factor,
            high: self.high * factor,
        }
    }
}

/// A set-up over many winters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WinterBill {
    /// Winters and draws counted.
    pub winters: u32,
    /// Nights heated per winter.
    pub nights_heated: Spread,
    /// Heat in kWh per winter.
    pub heat_kwh: Spread,
    /// Coldest temperature of every zone in °C.
    pub zone_min_c: Vec<Spread>,
    /// Share of winters in which each zone passes its limit at least once.
    pub zone_risk: Vec<f64>,
    /// Nights per winter, in the mean, in which each zone passes its limit.
    pub zone_nights_below: Vec<f64>,
    /// Share of winters in which any zone does.
    pub risk: f64,
}

impl WinterBill {
    /// A bill of no winters.
    pub fn empty(zones: usize) -> Self {
        Self {
            winters: 0,
            nights_heated: Spread::default(),
            heat_kwh: Spread::default(),
            zone_min_c: vec![Spread::default(); zones],
            zone_risk: vec![0.0; zones],
            zone_nights_below: vec![0.0; zones],
            risk: 0.0,
        }
    }

    /// Adds up the winters of one set-up; absent when there are none.
    pub fn of(outcomes: &[WinterOutcome]) -> Option<Self> {
        let mut tally = WinterTally::new(outcomes.first()?.zone_min_c.len());
        outcomes.iter().for_each(|outcome| tally.add(outcome));
        tally.bill()
    }
}

/// How finely a figure is counted.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Scale {
    /// Whole numbers from 0.
    Whole { most: usize },
    /// Steps of 0.01 from −90 to 60: temperatures in °C.
    Hundredths,
    /// Steps of 0.1 %, finer than 0.01 near zero: heat in kWh up to ten million.
    Thousandth,
}

const COLDEST_C: f64 = -90.0;
const WARMEST_C: f64 = 60.0;
/// Near zero a step of [`Scale::Thousandth`] is a thousandth of this.
const KNEE_KWH: f64 = 0.01;
const RELATIVE_STEP: f64 = 0.001;
const MOST_KWH: f64 = 1e7;

impl Scale {
    fn bins(self) -> usize {
        1 + match self {
            Self::Whole { most } => most,
            Self::Hundredths => self.bin(WARMEST_C),
            Self::Thousandth => self.bin(MOST_KWH),
        }
    }

    fn bin(self, value: f64) -> usize {
        let steps = match self {
            Self::Whole { .. } => value,
            Self::Hundredths => (value - COLDEST_C) * 100.0,
            Self::Thousandth => (value.clamp(0.0, MOST_KWH) / KNEE_KWH).ln_1p() / RELATIVE_STEP,
        };
        steps.round().max(0.0) as usize
    }

    fn value(self, bin: usize) -> f64 {
        match self {
            Self::Whole { .. } => bin as f64,
            Self::Hundredths => bin as f64 / 100.0 + COLDEST_C,
            Self::Thousandth => KNEE_KWH * (bin as f64 * RELATIVE_STEP).exp_m1(),
        }
    }
}

/// Values counted by bins, with their exact mean.
#[derive(Debug, Clone, PartialEq)]
struct Counts {
    scale: Scale,
    bins: Vec<u32>,
    /// In billionths, as a whole number: sums come out the same in any order.
    sum: i128,
    count: u64,
}

impl Counts {
    fn new(scale: Scale) -> Self {
        Self { scale, bins: vec![0; scale.bins()], sum: 0, count: 0 }
    }

    fn add(&mut self, value: f64) {
        let last = self.bins.len() - 1;
        self.bins[self.scale.bin(value).min(last)] += 1;
        self.sum += (value * 1e9).round() as i128;
        self.count += 1;
    }

    fn mean(&self) -> f64 {
        self.sum as f64 / 1e9 / self.count as f64
    }

    /// The value of a rank from 0 in rising order.
    fn ranked(&self, rank: u64) -> f64 {
        let mut below = 0;
        let bin = self.bins.iter().position(|count| {
            below += u64::from(*count);
            below > rank
        });
        self.scale.value(bin.unwrap_or_default())
    }

    /// Quantile by plotting position, as all statistics of the climate have it (see `climate::quantile`).
    fn quantile(&self, share: f64) -> f64 {
        let position = (share * (self.count + 1) as f64 - 1.0).clamp(0.0, (self.count - 1) as f64);
        let (rank, part) = (position.floor() as u64, position.fract());
        let at = self.ranked(rank);
        if part > 0.0 { at + part * (self.ranked(rank + 1) - at) } else { at }
    }

    fn spread(&self) -> Spread {
        Spread {
            mean: self.mean(),
            low: self.quantile(0.1),
            median: self.quantile(0.5),
            high: self.quantile(0.9),
        }
    }
}

/// Adds up the winters of one set-up in a fixed space.
///
/// Means and shares are exact. Quantiles are those of values rounded to 0.01 K and 0.1 %: half a step is the largest
/// error. The order in which winters come makes no difference, not even in the last bit.
#[derive(Debug, Clone, PartialEq)]
pub struct WinterTally {
    nights_heated: Counts,
    heat_kwh: Counts,
    zone_min_c: Vec<Counts>,
    zones_passed: Vec<u32>,
    nights_below: Vec<u64>,
    passed: u32,
}

/// Nights of the longest run that can be told apart.
const MOST_NIGHTS: usize = 800;

impl WinterTally {
    /// A tally of no winters.
    ///
    /// * `zones` — zones of every outcome that will be added
    pub fn new(zones: usize) -> Self {
        Self {
            nights_heated: Counts::new(Scale::Whole { most: MOST_NIGHTS }),
            heat_kwh: Counts::new(Scale::Thousandth),
            zone_min_c: vec![Counts::new(Scale::Hundredths); zones],
            zones_passed: vec![0; zones],
            nights_below: vec![0; zones],
            passed: 0,
        }
    }

    /// Adds a winter.
    pub fn add(&mut self, outcome: &WinterOutcome) {
        self.nights_heated.add(f64::from(outcome.nights_heated));
        self.heat_kwh.add(outcome.heat_kwh);
        for (counts, min_c) in self.zone_min_c.iter_mut().zip(&outcome.zone_min_c) {
            counts.add(*min_c);
        }
        for (zone, nights) in outcome.nights_below.iter().enumerate().take(self.zones_passed.len()) {
            self.zones_passed[zone] += u32::from(*nights > 0);
            self.nights_below[zone] += u64::from(*nights);
        }
        self.passed += u32::from(outcome.nights_below.iter().any(|nights| *nights > 0));
    }

    /// The bill; absent before the first winter.
    pub fn bill(&self) -> Option<WinterBill> {
        let count = self.heat_kwh.count;
        if count == 0 {
            return None;
        }
        let share = |passed: &u32| f64::from(*passed) / count as f64;
        Some(WinterBill {
            winters: count as u32,
            nights_heated: self.nights_heated.spread(),
            heat_kwh: self.heat_kwh.spread(),
            zone_min_c: self.zone_min_c.iter().map(Counts::spread).collect(),
            zone_risk: self.zones_passed.iter().map(share).collect(),
            zone_nights_below: self.nights_below.iter().map(|nights| *nights as f64 / count as f64).collect(),
            risk: share(&self.passed),
        })
    }
}

#[cfg(test)]
#[path = "tally_test.rs"]
mod tests;
