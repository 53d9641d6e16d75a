//! Quantiles of small samples by plotting position.
//!
//! The `m`-th of `n` sorted values has the cumulative chance `m / (n + 1)` (Weibull 1939; Makkonen 2006,
//! J. Appl. Meteor. Climatol. 45, 334–340), linear between ranks. Beyond the outermost values, the outermost
//! value is given: nothing is extrapolated.

/// Quantile of an ascending sample; `None` for an empty one.
pub(crate) fn quantile(sorted: &[f64], p: f64) -> Option<f64> {
    at_rank(sorted, p * (sorted.len() + 1) as f64)
}

/// Quantile of a mixed distribution: of `all` cases, those in `sorted` have a value and the others have none,
/// which counts as later (greater) than every value.
///
/// `F(x) = k/all · m/(k + 1)`, with `k` values (the mixed form of Thom 1959, Mon. Wea. Rev. 87, 136–144, here
/// with plotting positions in place of a fitted curve). `None` for a chance that the share of cases with a
/// value cannot reach.
pub(super) fn mixed_quantile(sorted: &[f64], all: usize, p: f64) -> Option<f64> {
    let within = p * all as f64 / sorted.len() as f64;
    // A share such as 28/30 reached exactly must not fail for a rounding error.
    if !(within > 0.0 && within <= 1.0 + 1e-12) {
        return None;
    }
    at_rank(sorted, within * (sorted.len() + 1) as f64)
}

/// The inverse of [`mixed_quantile`]: chance of a value up to and including `x`.
pub(super) fn mixed_chance(sorted: &[f64], all: usize, x: f64) -> f64 {
    let upto = sorted.partition_point(|&value| value <= x);
    if upto == 0 {
        return 0.0;
    }
    let mut rank = upto as f64;
    if let Some(next) = sorted.get(upto) {
        rank += (x - sorted[upto - 1]) / (next - sorted[upto - 1]);
    }
    sorted.len() as f64 / all as f64 * rank / (sorted.len() + 1) as f64
}

/// Value at a 1-based fractional rank.
fn at_rank(sorted: &[f64], rank: f64) -> Option<f64> {
    let last = *sorted.last()?;
    if rank <= 1.0 {
        return sorted.first().copied();
    }
    let below = rank.floor() as usize;
    let low = sorted.get(below - 1).copied().unwrap_or(last);
    let high = sorted.get(below).copied().unwrap_or(last);
    Some(low + (high - low) * rank.fract())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rank_between_two_values_is_linear() {
        let sorted = [10.0, 20.0, 40.0];
        assert_eq!(quantile(&sorted, 0.5), Some(20.0));
        assert_eq!(quantile(&sorted, 0.375), Some(15.0));
        assert_eq!(quantile(&sorted, 0.01), Some(10.0), "nothing is extrapolated");
        assert_eq!(quantile(&sorted, 0.99), Some(40.0));
        assert_eq!(quantile(&[], 0.5), None);
    }

    #[test]
    fn cases_without_a_value_count_as_later_than_all() {
        let sorted = [10.0, 20.0, 40.0];
        assert_eq!(mixed_quantile(&sorted, 6, 0.25), Some(20.0));
        assert_eq!(mixed_quantile(&sorted, 6, 0.5), Some(40.0));
        assert_eq!(mixed_quantile(&sorted, 6, 0.51), None);
        assert_eq!(mixed_quantile(&[], 6, 0.1), None);
        assert_eq!(mixed_chance(&sorted, 6, 15.0), 0.5 * 1.5 / 4.0);
        assert_eq!(mixed_chance(&sorted, 6, 9.0), 0.0);
    }
}
