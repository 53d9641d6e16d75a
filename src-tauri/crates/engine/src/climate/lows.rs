//! Distribution of the nightly low by date.

use super::{SeasonDay, SeasonLows};

/// Nights on either side of a date that count for it.
const REACH: usize = 10;

/// For each date, how low the night may get: the lows of all seasons within ten nights of the date, weighted by
/// closeness.
///
/// The distribution of a date is the weighted share of lows at or below a value, with the kernel of Epanechnikov
/// (1969): a night `d` nights away weighs `1 − (d / 11)²`. A symmetric kernel keeps a steady seasonal change
/// unbiased, and its soft ends let the chance glide from date to date, so that the date at which a limit is
/// crossed is well defined. Summed over a season the chances come to the mean number of nights at or below
/// the limit. Values are compared in tenths of a degree, the resolution of the records.
///
/// Where no season has a low within the reach (a station that reports only in winter), the reach grows until
/// one has. Nothing is extrapolated: below the lowest low around a date the chance is 0.
#[derive(Debug, Clone, PartialEq)]
pub struct DailyLows {
    slots: Vec<Distribution>,
}

/// Distinct lows in tenths of °C, ascending, each with the weighted share of lows up to and including it.
#[derive(Debug, Clone, PartialEq, Default)]
struct Distribution {
    steps: Vec<(i32, f64)>,
}

impl DailyLows {
    /// Collects the lows of all seasons.
    pub(super) fn new(seasons: &[SeasonLows]) -> Self {
        let pool = Pool {
            by_slot: (0..SeasonDay::SLOTS)
                .map(|slot| seasons.iter().filter_map(|season| season.lows_c[slot]).map(tenths).collect())
                .collect(),
        };
        let all = || pool.by_slot.iter().flatten().copied();
        let (Some(lowest), Some(highest)) = (all().min(), all().max()) else {
            return Self { slots: vec![Distribution::default(); SeasonDay::SLOTS] };
        };
        Self { slots: (0..SeasonDay::SLOTS).map(|slot| pool.around(slot, lowest, highest)).collect() }
    }

    /// Chance that the night of a date gets as cold as a limit, 0 to 1.
    ///
    /// # Parameters
    /// - `limit_c`: temperature in °C.
    pub fn chance_at_or_below(&self, day: SeasonDay, limit_c: f64) -> f64 {
        let steps = &self.slots[day.index()].steps;
        let upto = steps.partition_point(|&(low, _)| low <= tenths(limit_c));
        if upto == 0 { 0.0 } else { steps[upto - 1].1 }
    }

    /// The temperature in °C that the night of a date reaches or undercuts with a chance of `p`: the lowest
    /// recorded value whose [chance](Self::chance_at_or_below) is at least `p`.
    ///
    /// `None` where `p` is not above 0 and at most 1, or where the climate holds no night at all.
    pub fn quantile_c(&self, day: SeasonDay, p: f64) -> Option<f64> {
        if !(p > 0.0 && p <= 1.0) {
            return None;
        }
        let steps = &self.slots[day.index()].steps;
        let at = steps.partition_point(|&(_, share)| share < p);
        steps.get(at).or(steps.last()).map(|&(low, _)| f64::from(low) / 10.0)
    }
}

/// Lows of all seasons in tenths of °C by slot.
struct Pool {
    by_slot: Vec<Vec<i32>>,
}

impl Pool {
    /// The distribution of a slot, with the smallest reach that finds a low; there is at least one somewhere.
    fn around(&self, slot: usize, lowest: i32, highest: i32) -> Distribution {
        let mut reach = REACH;
        loop {
            let weights = self.weights(slot, reach, lowest, highest);
            let total: f64 = weights.iter().sum();
            if total > 0.0 {
                return Distribution::of(lowest, &weights, total);
            }
            reach *= 2;
        }
    }

    /// Weight of each tenth of a degree from the lowest to the highest.
    fn weights(&self, slot: usize, reach: usize, lowest: i32, highest: i32) -> Vec<f64> {
        let slots = SeasonDay::SLOTS;
        let mut weights = vec![0.0; (highest - lowest + 1) as usize];
        for step in 0..=2 * reach {
            let ratio = step.abs_diff(reach) as f64 / (reach + 1) as f64;
            for low in &self.by_slot[(slot + reach * slots + step - reach) % slots] {
                weights[(low - lowest) as usize] += 1.0 - ratio * ratio;
            }
        }
        weights
    }
}

impl Distribution {
    fn of(lowest: i32, weights: &[f64], total: f64) -> Self {
        let mut sum = 0.0;
        let mut steps = Vec::new();
        for (low, weight) in (lowest..).zip(weights).filter(|(_, weight)| **weight > 0.0) {
            sum += weight;
            steps.push((low, sum / total));
        }
        if let Some(last) = steps.last_mut() {
            last.1 = 1.0;
        }
        Self { steps }
    }
}

/// A temperature in whole tenths of a degree, the resolution in which records are kept and compared: a limit of
/// 28 °F (−2.22 °C) catches the −2.2 °C that a network stores for it.
pub(super) fn tenths(temp_c: f64) -> i32 {
    (temp_c * 10.0).round() as i32
}
