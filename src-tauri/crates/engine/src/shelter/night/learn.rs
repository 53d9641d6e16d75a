//! What nights on record say of an error: the usual one first, then more and more the nights themselves.

/// Nights that the usual error weighs as much as (common practice, no source): after a week of nights half of what is
/// said comes from them.
pub const PRIOR_NIGHTS: f64 = 7.0;

/// The error of nights to come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learned {
    /// What is missed on average in kelvin: to be added to a prediction.
    pub bias_k: f64,
    /// Standard deviation in kelvin of a coming night around the prediction with its bias added.
    pub error_k: f64,
    /// Nights on record.
    pub nights: usize,
}

/// The error of a coming night from the errors of earlier ones, shrunk towards the usual error.
///
/// * `residuals_k` — what came less what was predicted, in kelvin, one for each night; values that are no numbers are
///   left out
/// * `usual_error_k` — standard deviation in kelvin before any night is on record, above 0
/// * `prior_nights` — how many nights that usual error weighs as much as, above 0; see [`PRIOR_NIGHTS`]
///
/// Errors are taken as normal with unknown mean and variance under the conjugate prior of mean 0, κ₀ = ν₀ =
/// `prior_nights` and σ₀² = s₀²/(1 + 1/κ₀), s₀ being the usual error. With n residuals of mean r̄ and sum of squares S
/// around it: κₙ = κ₀ + n; bias = n r̄/κₙ; κₙ σₙ² = κ₀ σ₀² + S + κ₀ n r̄²/κₙ; the error of a coming night is
/// σₙ √(1 + 1/κₙ), the scale of the posterior predictive distribution (a Student t, here used as a normal). Without
/// nights this is the usual error exactly; with many it is the mean and standard deviation of the residuals.
///
/// Validity: nights that do not depend on one another and a shelter that stays as it is. Errors of successive nights do
/// depend a little on one another, so the error comes out somewhat small.
///
/// Reference: A. Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), section 3.3.
///
/// ```
/// use hibernacle_engine::shelter::night::{PRIOR_NIGHTS, learned};
///
/// let before = learned(&[], 1.5, PRIOR_NIGHTS);
/// assert_eq!((before.bias_k, before.error_k), (0.0, 1.5));
/// let after = learned(&[1.0, 1.4, 0.9, 1.1, 1.3, 0.8, 1.2], 1.5, PRIOR_NIGHTS);
/// assert!((after.bias_k - 0.55).abs() < 1e-12 && after.error_k < 1.4);
/// ```
pub fn learned(residuals_k: &[f64], usual_error_k: f64, prior_nights: f64) -> Learned {
    let residuals: Vec<f64> = residuals_k.iter().copied().filter(|k| k.is_finite()).collect();
    if residuals.is_empty() {
        return Learned { bias_k: 0.0, error_k: usual_error_k, nights: 0 };
    }
    let nights = residuals.len() as f64;
    let mean = residuals.iter().sum::<f64>() / nights;
    let around: f64 = residuals.iter().map(|k| (k - mean).powi(2)).sum();
    let prior_variance = usual_error_k.powi(2) / (1.0 + 1.0 / prior_nights);
    let weight = prior_nights + nights;
    let variance =
        (prior_nights * prior_variance + around + prior_nights * nights * mean.powi(2) / weight) / weight;
    Learned {
        bias_k: nights * mean / weight,
        error_k: (variance * (1.0 + 1.0 / weight)).sqrt(),
        nights: residuals.len(),
    }
}

#[cfg(test)]
#[path = "learn_test.rs"]
mod tests;
