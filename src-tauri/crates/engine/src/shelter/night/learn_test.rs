use super::*;

const NIGHTS: [f64; 9] = [0.8, 1.9, -0.4, 1.2, 2.3, 0.1, 1.6, 0.9, 1.4];

/// The posterior by brute force on a grid of mean and standard deviation: mean of the means, and the scale σₙ of the
/// variance, from E[1/σ²] = 1/σₙ² of the scaled inverse χ² distribution (Gelman et al., table A.1).
fn by_grid(residuals: &[f64], usual: f64, prior: f64) -> (f64, f64) {
    let prior_variance = usual * usual / (1.0 + 1.0 / prior);
    let (mut sum, mut sum_mean, mut sum_precision) = (0.0, 0.0, 0.0);
    for i in 0..1200 {
        let mean = -6.0 + 0.01 * f64::from(i);
        for j in 0..800 {
            let log_sd = -2.5 + 0.006 * f64::from(j);
            let variance = (2.0 * log_sd).exp();
            let squares: f64 = residuals.iter().map(|r| (r - mean).powi(2)).sum();
            // Density over mean and log of the standard deviation.
            let log_density = -prior * log_sd
                - prior * prior_variance / (2.0 * variance)
                - log_sd
                - prior * mean * mean / (2.0 * variance)
                - residuals.len() as f64 * log_sd
                - squares / (2.0 * variance);
            let density = log_density.exp();
            sum += density;
            sum_mean += density * mean;
            sum_precision += density / variance;
        }
    }
    (sum_mean / sum, (sum / sum_precision).sqrt())
}

#[test]
fn bias_and_error_are_the_posterior_found_by_brute_force() {
    for (residuals, prior) in [(&NIGHTS[..], 7.0), (&NIGHTS[..3], 7.0), (&NIGHTS[..], 3.0)] {
        let found = learned(residuals, 1.5, prior);
        let (bias, scale) = by_grid(residuals, 1.5, prior);
        let error = scale * (1.0 + 1.0 / (prior + residuals.len() as f64)).sqrt();
        assert!((found.bias_k - bias).abs() < 1e-3, "{found:?} {bias}");
        assert!((found.error_k - error).abs() < 1e-3, "{found:?} {error}");
    }
}

#[test]
fn without_nights_the_usual_error_stands() {
    assert_eq!(learned(&[], 1.3, PRIOR_NIGHTS), Learned { bias_k: 0.0, error_k: 1.3, nights: 0 });
    assert_eq!(learned(&[f64::NAN], 1.3, PRIOR_NIGHTS).nights, 0);
}

#[test]
fn many_nights_speak_for_themselves() {
    let many: Vec<f64> = (0..4000).map(|night| 2.0 + if night % 2 == 0 { 0.5 } else { -0.5 }).collect();
    let found = learned(&many, 1.5, PRIOR_NIGHTS);
    assert!((found.bias_k - 2.0).abs() < 0.01 && (found.error_k - 0.5).abs() < 0.02, "{found:?}");
}

#[test]
fn one_odd_night_moves_little_and_widens_the_doubt() {
    let odd = learned(&[6.0], 1.5, PRIOR_NIGHTS);
    assert!((odd.bias_k - 0.75).abs() < 1e-12 && odd.error_k > 1.5, "{odd:?}");
    let usual = learned(&[0.3], 1.5, PRIOR_NIGHTS);
    assert!(usual.error_k < 1.5, "{usual:?}");
}
