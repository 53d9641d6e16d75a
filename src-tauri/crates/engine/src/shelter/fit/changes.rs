//! When the loss changed, by the nights' own estimates of it.
//!
//! One step in a series of independent (or weakly following) nights is sought by least squares; how large a step would
//! turn up by chance is found by seeded simulation of the same search on series without a step, with the spread and
//! the memory from night to night of the series itself. The interval for the date inverts the likelihood ratio.
//!
//! References: D. W. K. Andrews, Econometrica 61 (1993) 821–856 (largest statistic over unknown dates); B. E. Hansen,
//! Econometrica 68 (2000) 575–603 (interval by the likelihood ratio, 7.35 at 95 %).

use rand_pcg::Pcg32;
use rand_pcg::rand_core::Rng;

use super::nights::{median, robust_sd};

/// Nights on either side of a step at least.
const EDGE: usize = 4;
/// Simulated series.
const DRAWS: usize = 999;
/// Chance of a false alarm that is accepted for one search.
pub(super) const ALARM: f64 = 0.005;
/// Drop of the statistic that bounds the date's interval.
const DATE_DROP: f64 = 7.35;
/// Steps in one series at most.
const MOST_STEPS: usize = 4;
/// Smallest step in the logarithm of the loss that is worth telling.
pub(super) const SMALLEST: f64 = 0.08;

/// A night's logarithm of loss with the variance of its estimate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Nightly {
    pub(super) night: usize,
    pub(super) log_loss: f64,
    pub(super) variance: f64,
}

/// A step in the series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct StepFound {
    /// First night after it.
    pub(super) since: usize,
    pub(super) earliest: usize,
    pub(super) latest: usize,
    /// Chance of a false alarm.
    pub(super) chance: f64,
}

/// The best split of a series.
struct Split {
    at: usize,
    statistic: f64,
    step: f64,
    memory: f64,
    /// Statistic of every split.
    profile: Vec<f64>,
}

/// Spread between nights beyond what the estimates' variances say, from neighbours, which a step hardly touches.
fn extra_variance(values: &[f64], variances: &[f64]) -> f64 {
    let steps: Vec<f64> = values.windows(2).map(|w| w[1] - w[0]).collect();
    let spread = robust_sd(&steps, 0.0);
    (spread * spread / 2.0 - median(variances).unwrap_or(0.0)).max(0.0)
}

fn best_split(values: &[f64], weights: &[f64]) -> Option<Split> {
    let n = values.len();
    if n < 2 * EDGE {
        return None;
    }
    let all_w: f64 = weights.iter().sum();
    let all: f64 = values.iter().zip(weights).map(|(v, w)| v * w).sum();
    let (mut w1, mut s1) = (0.0, 0.0);
    let mut profile = vec![f64::NEG_INFINITY; n];
    for k in 1..n {
        w1 += weights[k - 1];
        s1 += values[k - 1] * weights[k - 1];
        if k >= EDGE && n - k >= EDGE {
            let w2 = all_w - w1;
            let step = (all - s1) / w2 - s1 / w1;
            profile[k] = step * step / (1.0 / w1 + 1.0 / w2);
        }
    }
    let at = (EDGE..=n - EDGE).max_by(|a, b| profile[*a].total_cmp(&profile[*b]))?;
    let mean = |range: std::ops::Range<usize>| {
        let w: f64 = weights[range.clone()].iter().sum();
        values[range.clone()].iter().zip(&weights[range]).map(|(v, w)| v * w).sum::<f64>() / w
    };
    let (before, after) = (mean(0..at), mean(at..n));
    let left: Vec<f64> = values
        .iter()
        .zip(weights)
        .enumerate()
        .map(|(i, (v, w))| (v - if i < at { before } else { after }) * w.sqrt())
        .collect();
    let square: f64 = left.iter().map(|r| r * r).sum();
    let lagged: f64 = left.windows(2).map(|w| w[0] * w[1]).sum();
    let memory = (lagged / square).clamp(0.0, 0.8);
    let scale = square / (n as f64 - 2.0) * (1.0 + memory) / (1.0 - memory);
    for p in &mut profile {
        *p /= scale;
    }
    Some(Split { at, statistic: profile[at], step: after - before, memory, profile })
}

/// A standard normal number (polar method of Marsaglia and Bray).
pub(super) fn normal(random: &mut Pcg32) -> f64 {
    loop {
        let mut uniform = || f64::from(random.next_u32()) / f64::from(u32::MAX) * 2.0 - 1.0;
        let (a, b) = (uniform(), uniform());
        let s = a * a + b * b;
        if s > 0.0 && s < 1.0 {
            return a * (-2.0 * s.ln() / s).sqrt();
        }
    }
}

fn chance(statistic: f64, weights: &[f64], memory: f64) -> f64 {
    let n = weights.len();
    let mut random = Pcg32::new(20_011_121, 0x0a02_bdbf_7bb3_c0a7);
    // An estimated memory is on the low side in short series.
    let memory = (memory + (1.0 + 3.0 * memory) / n as f64).min(0.9);
    let fresh = (1.0 - memory * memory).sqrt();
    let mut as_large = 1;
    let mut values = vec![0.0; n];
    for _ in 0..DRAWS {
        let mut state = normal(&mut random);
        for (value, weight) in values.iter_mut().zip(weights) {
            *value = state / weight.sqrt();
            state = memory * state + fresh * normal(&mut random);
        }
        if best_split(&values, weights).is_some_and(|s| s.statistic >= statistic) {
            as_large += 1;
        }
    }
    f64::from(as_large) / (DRAWS as f64 + 1.0)
}

/// All steps of a series, in order of time.
pub(super) fn steps(series: &[Nightly]) -> Vec<StepFound> {
    let mut found = Vec::new();
    search(series, &mut found);
    found.sort_by_key(|s: &StepFound| s.since);
    found
}

fn search(series: &[Nightly], found: &mut Vec<StepFound>) {
    if series.len() < 2 * EDGE || found.len() >= MOST_STEPS {
        return;
    }
    let variances: Vec<f64> = series.iter().map(|s| s.variance).collect();
    let values = tamed(series);
    let extra = extra_variance(&values, &variances);
    let weights: Vec<f64> = variances.iter().map(|v| 1.0 / (v + extra + 1e-6)).collect();
    let Some(split) = best_split(&values, &weights) else { return };
    if split.step.abs() < SMALLEST {
        return;
    }
    let chance = chance(split.statistic, &weights, split.memory);
    if chance > ALARM {
        return;
    }
    let inside: Vec<usize> =
        (0..series.len()).filter(|k| split.profile[*k] >= split.statistic - DATE_DROP).collect();
    found.push(StepFound {
        since: series[split.at].night,
        earliest: series[*inside.first().unwrap_or(&split.at)].night,
        latest: series[*inside.last().unwrap_or(&split.at)].night,
        chance,
    });
    search(&series[..split.at], found);
    search(&series[split.at..], found);
}

/// The series with single wild nights drawn in to four deviations from the median of their neighbours.
fn tamed(series: &[Nightly]) -> Vec<f64> {
    let raw: Vec<f64> = series.iter().map(|s| s.log_loss).collect();
    let around: Vec<f64> = (0..raw.len())
        .map(|i| {
            let (from, to) = (i.saturating_sub(3), (i + 4).min(raw.len()));
            median(&raw[from..to]).unwrap_or(raw[i])
        })
        .collect();
    let off: Vec<f64> = raw.iter().zip(&around).map(|(r, a)| r - a).collect();
    let reach = 4.0 * robust_sd(&off, 0.0).max(0.01);
    raw.iter().zip(&around).map(|(r, a)| r.clamp(a - reach, a + reach)).collect()
}
