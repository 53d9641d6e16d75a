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
/// crossed is well defined. Summed over a season the chances equal the mean number of nights at or below the
/// limit. Values are compared in tenths of a degree, the resolution of the records.
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
        let by_slot: Vec<Vec<i32>> = (0..SeasonDay::SLOTS)
            .map(|slot| {
                seasons.iter().filter_map(|season| season.lows_c[slot]).map(tenths).collect::<Vec<_>>()
            })
            .collect();
        Self { slots: (0..SeasonDay::SLOTS).map(|slot| Distribution::around(slot, &by_slot)).collect() }
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

impl Distribution {
    fn around(slot: usize, by_slot: &[Vec<i32>]) -> Self {
        let mut reach = REACH;
        while reach < SeasonDay::SLOTS / 2 {
            let found = Self::within(slot, by_slot, reach);
            if !found.steps.is_empty() {
                return found;
            }
            reach *= 2;
        }
        Self::within(slot, by_slot, SeasonDay::SLOTS / 2 - 1)
    }

    fn within(slot: usize, by_slot: &[Vec<i32>], reach: usize) -> Self {
        let slots = SeasonDay::SLOTS;
        let near = || {
            (0..=2 * reach).map(move |step| {
                let ratio = step.abs_diff(reach) as f64 / (reach + 1) as f64;
                (&by_slot[(slot + slots + step - reach) % slots], 1.0 - ratio * ratio)
            })
        };
        let lows = || near().flat_map(|(lows, _)| lows);
        let (Some(&lowest), Some(&highest)) = (lows().min(), lows().max()) else { return Self::default() };
        let mut weights = vec![0.0; (highest - lowest + 1) as usize];
        for (lows, weight) in near() {
            for low in lows {
                weights[(low - lowest) as usize] += weight;
            }
        }
        let total: f64 = weights.iter().sum();
        let mut sum = 0.0;
        let mut steps = Vec::new();
        for (low, weight) in (lowest..).zip(weights) {
            if weight > 0.0 {
                sum += weight;
                steps.push((low, sum / total));
            }
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
