//! How many of a batch will succeed, from the table and the grower's own batches.

use serde::{Deserialize, Serialize};
use statrs::distribution::{Beta, ContinuousCDF};
use statrs::function::beta::ln_beta;
use statrs::function::factorial::ln_binomial;
use ts_rs::TS;

/// Ends of the intervals: nine times in ten.
const ENDS: (f64, f64) = (0.05, 0.95);
/// Batches that a table range may weigh at most and at least: values from memory.
const WEIGHT: (f64, f64) = (2.0, 40.0);
/// Standard deviations between the ends of a range taken to hold eight batches in ten.
const EIGHT_IN_TEN: f64 = 2.0 * 1.2816;

/// What to expect of a batch.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Success {
    /// Share that succeeds, expected.
    pub share: f64,
    /// Ends of the interval that holds the share nine times in ten.
    pub share_between: (f64, f64),
    /// Cuttings that succeed, expected.
    pub count: f64,
    /// Ends of the interval that holds the count nine times in ten: wider than that of the share, as chance comes on top.
    pub count_between: (u32, u32),
    /// Own cuttings of which the outcome is known.
    pub own: u32,
}

/// What to expect of a batch of cuttings.
///
/// * `range` — poor and good share of the table, taken to hold eight batches in ten
/// * `own` — cuttings rooted and taken in each of the grower's finished batches of this kind
/// * `count` — cuttings in the new batch
///
/// The range becomes a beta distribution with its mean and spread, own results are added to it (conjugate), and the
/// count of the new batch is beta-binomial.
///
/// Reference: A. Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), sections 2.4 and 5.3.
pub fn success(range: (f64, f64), own: &[(u32, u32)], count: u32) -> Success {
    let mean = f64::midpoint(range.0, range.1).clamp(0.02, 0.98);
    let sd = ((range.1 - range.0) / EIGHT_IN_TEN).max(0.01);
    let weight = (mean * (1.0 - mean) / (sd * sd) - 1.0).clamp(WEIGHT.0, WEIGHT.1);
    let rooted: u32 = own.iter().map(|(rooted, taken)| (*rooted).min(*taken)).sum();
    let taken: u32 = own.iter().map(|(_, taken)| taken).sum();
    let a = mean * weight + f64::from(rooted);
    let b = (1.0 - mean) * weight + f64::from(taken - rooted);
    let share = a / (a + b);
    let share_between =
        Beta::new(a, b).map_or((0.0, 1.0), |beta| (beta.inverse_cdf(ENDS.0), beta.inverse_cdf(ENDS.1)));
    Success {
        share,
        share_between,
        count: share * f64::from(count),
        count_between: (quantile(a, b, count, ENDS.0), quantile(a, b, count, ENDS.1)),
        own: taken,
    }
}

/// Smallest count whose cumulative beta-binomial chance reaches `chance`.
fn quantile(a: f64, b: f64, count: u32, chance: f64) -> u32 {
    let n = u64::from(count);
    let mut sum = 0.0;
    for k in 0..count {
        let (hits, misses) = (f64::from(k), f64::from(count - k));
        sum += (ln_binomial(n, u64::from(k)) + ln_beta(hits + a, misses + b) - ln_beta(a, b)).exp();
        if sum >= chance {
            return k;
        }
    }
    count
}
