//! The likeliest grey box of a log and how far it can be trusted.
//!
//! Prediction errors of a Kalman filter (extended over the freezing body) give the likelihood; wide priors keep what the
//! log cannot tell at its usual value. Maximised by Fisher scoring with Levenberg's damping, derivatives by finite
//! differences. Covariance: inverse of the expected information, and a sandwich over days whose scores may be
//! correlated within; of both the larger deviation counts.
//!
//! References: N. R. Kristensen, H. Madsen, S. B. Jørgensen, Automatica 40 (2004) 225–237 (grey boxes by prediction
//! errors); H. White, Econometrica 50 (1982) 1–25, and K.-Y. Liang, S. L. Zeger, Biometrika 73 (1986) 13–22 (sandwich
//! over groups).

use nalgebra::{DMatrix, DVector};

use super::layout::Layout;
use super::model::{Belief, Model};
use super::points::Point;

/// Standard deviation in K of the body against the air where a stretch begins.
pub(super) const BODY_START_SD_K: f64 = 5.0;
/// Standard deviations from its prediction beyond which a reading counts for no more (P. J. Huber, Ann. Math. Stat. 35
/// (1964) 73–101).
pub(super) const REACH: f64 = 4.0;
/// Relative step of the finite differences.
const NUDGE: f64 = 1e-5;

/// Which points a fit runs over.
#[derive(Debug, Clone)]
pub(super) struct Sequence {
    pub(super) points: Vec<Point>,
    /// Period of every night.
    pub(super) period_of: Vec<usize>,
    /// Whether a night counts.
    pub(super) used: Vec<bool>,
}

impl Sequence {
    /// Every few points, for a quick first search.
    pub(super) fn thinned(&self, least_step_h: f64) -> Self {
        let mut points: Vec<Point> = Vec::with_capacity(self.points.len() / 2);
        let (mut step_h, mut heat) = (0.0, 0.0);
        for point in &self.points {
            if point.step_h == 0.0 {
                (step_h, heat) = (0.0, 0.0);
                points.push(*point);
                continue;
            }
            step_h += point.step_h;
            heat += point.step_h * point.heat_kw;
            if step_h >= least_step_h - 1e-6 {
                points.push(Point { step_h, heat_kw: heat / step_h, ..*point });
                (step_h, heat) = (0.0, 0.0);
            }
        }
        Self { points, ..self.clone() }
    }

    /// Runs the filter and hands over each prediction error with its variance.
    pub(super) fn filter(&self, model: &Model, mut each: impl FnMut(usize, f64, f64)) {
        let mut belief: Option<Belief> = None;
        for (index, to) in self.points.iter().enumerate() {
            if !self.used[to.night] || to.step_h == 0.0 {
                belief = None;
            }
            if !self.used[to.night] {
                continue;
            }
            let Some(now) = belief.as_mut() else {
                if to.inside_c.is_finite() {
                    belief = Some(model.start(to.inside_c, BODY_START_SD_K));
                }
                continue;
            };
            *now = model.predict(now, &self.points[index - 1], to, self.period_of[to.night]);
            if to.inside_c.is_finite() {
                let error_k = to.inside_c - now.state.air_c;
                let variance_k2 = now.aa + model.reading_k2;
                now.take(error_k, variance_k2);
                each(index, error_k, variance_k2);
            }
        }
    }

    /// Minus twice the log-likelihood up to a constant, far outliers counted by their distance instead of its square.
    fn deviance(&self, model: &Model) -> f64 {
        let mut sum = 0.0;
        self.filter(model, |_, e, s| {
            let z = e.abs() / s.sqrt();
            sum += s.ln() + if z <= REACH { z * z } else { REACH * (2.0 * z - REACH) };
        });
        sum
    }
}

/// Derivatives of all prediction errors and variances.
struct Slopes {
    /// Score of every day, by rows.
    scores: DMatrix<f64>,
    /// Expected information.
    information: DMatrix<f64>,
}

/// A maximum with its covariance.
#[derive(Debug, Clone)]
pub(super) struct Estimate {
    pub(super) layout: Layout,
    pub(super) theta: Vec<f64>,
    /// By the information.
    pub(super) model_based: DMatrix<f64>,
    /// By the scores of days.
    pub(super) robust: DMatrix<f64>,
    /// Days that count.
    pub(super) days: usize,
}

fn objective(sequence: &Sequence, layout: &Layout, theta: &[f64]) -> f64 {
    let deviance = sequence.deviance(&layout.model(theta)) + layout.prior_deviance(theta);
    if deviance.is_finite() { deviance } else { f64::INFINITY }
}

fn slopes(sequence: &Sequence, layout: &Layout, theta: &[f64]) -> Slopes {
    let count = layout.len();
    let (mut errors, mut variances, mut days) = (Vec::new(), Vec::new(), Vec::new());
    sequence.filter(&layout.model(theta), |i, e, s| {
        errors.push(e);
        variances.push(s);
        days.push(sequence.points[i].night);
    });
    let rows = errors.len();
    let mut by_error = DMatrix::<f64>::zeros(rows, count);
    let mut by_variance = DMatrix::<f64>::zeros(rows, count);
    let mut moved = theta.to_vec();
    for j in 0..count {
        moved[j] = theta[j] + NUDGE;
        let (mut row, mut column_e, mut column_s) = (0, by_error.column_mut(j), by_variance.column_mut(j));
        sequence.filter(&layout.model(&moved), |_, e, s| {
            let root = variances[row].sqrt();
            column_e[row] = (e - errors[row]) / NUDGE / root;
            column_s[row] = (s - variances[row]) / NUDGE / variances[row] / std::f64::consts::SQRT_2;
            row += 1;
        });
        moved[j] = theta[j];
    }
    let mut scores = DMatrix::<f64>::zeros(sequence.used.len(), count);
    for (row, (e, s)) in errors.iter().zip(&variances).enumerate() {
        let z = e / s.sqrt();
        let pull = z.clamp(-REACH, REACH);
        let spread = (z * pull - 1.0) / std::f64::consts::SQRT_2;
        for j in 0..count {
            scores[(days[row], j)] += spread * by_variance[(row, j)] - pull * by_error[(row, j)];
        }
        if z.abs() > REACH {
            let weight = (REACH / z.abs()).sqrt();
            by_error.row_mut(row).scale_mut(weight);
            by_variance.row_mut(row).scale_mut(weight);
        }
    }
    let information = by_error.tr_mul(&by_error) + by_variance.tr_mul(&by_variance);
    Slopes { scores, information }
}

/// Adds the prior to the information.
fn with_prior(information: &DMatrix<f64>, layout: &Layout) -> DMatrix<f64> {
    let mut all = information.clone();
    for (j, c) in layout.coordinates.iter().enumerate() {
        all[(j, j)] += c.prior().1.powi(-2);
    }
    all
}

/// Climbs from a point.
///
/// * `rounds` — at most so many
/// * `done` — gain in deviance at which it ends
pub(super) fn climb(
    sequence: &Sequence,
    layout: &Layout,
    start: &[f64],
    rounds: usize,
    done: f64,
) -> Option<(Vec<f64>, f64)> {
    let mut theta = start.to_vec();
    let mut best = objective(sequence, layout, &theta);
    let mut damping = 1e-2;
    for _ in 0..rounds {
        let slopes = slopes(sequence, layout, &theta);
        let mut gradient = DVector::from_iterator(layout.len(), slopes.scores.row_sum().iter().copied());
        for (j, c) in layout.coordinates.iter().enumerate() {
            let (mean, sd) = c.prior();
            gradient[j] += (mean - theta[j]) / (sd * sd);
        }
        let information = with_prior(&slopes.information, layout);
        let mut improved = false;
        for _ in 0..8 {
            let mut damped = information.clone();
            for j in 0..layout.len() {
                damped[(j, j)] *= 1.0 + damping;
            }
            let step = damped.cholesky()?.solve(&gradient);
            let gain = gradient.dot(&step);
            let longest = step.amax();
            let shorten = if longest > 1.5 { 1.5 / longest } else { 1.0 };
            let next: Vec<f64> = theta.iter().zip(step.iter()).map(|(t, s)| t + shorten * s).collect();
            let found = objective(sequence, layout, &next);
            if found < best {
                damping = (damping / 8.0).max(1e-9);
                let won = best - found;
                (theta, best) = (next, found);
                if won < done {
                    return Some((theta, best));
                }
                improved = true;
                break;
            }
            if gain < done {
                return Some((theta, best));
            }
            damping *= 10.0;
        }
        if !improved {
            break;
        }
    }
    best.is_finite().then_some((theta, best))
}

/// Covariances at a maximum.
pub(super) fn covariances(sequence: &Sequence, layout: &Layout, theta: Vec<f64>) -> Option<Estimate> {
    let slopes = slopes(sequence, layout, &theta);
    let model_based = with_prior(&slopes.information, layout).cholesky()?.inverse();
    let days = sequence.used.iter().filter(|u| **u).count();
    let spread = slopes.scores.tr_mul(&slopes.scores);
    let small = days as f64 / (days as f64 - 1.0).max(1.0);
    // The prior's own score has the variance of its information.
    let meat = with_prior(&(spread * small), layout);
    let robust = &model_based * meat * &model_based;
    Some(Estimate { layout: layout.clone(), theta, model_based, robust, days })
}

impl Estimate {
    pub(super) fn model(&self) -> Model {
        self.layout.model(&self.theta)
    }

    /// A figure of the model with the larger of its standard errors, by the delta method.
    pub(super) fn figure(&self, of: impl Fn(&Model) -> f64) -> (f64, f64) {
        let value = of(&self.model());
        let mut moved = self.theta.clone();
        let gradient = DVector::from_iterator(
            self.theta.len(),
            (0..self.theta.len()).map(|j| {
                moved[j] = self.theta[j] + NUDGE;
                let high = of(&self.layout.model(&moved));
                moved[j] = self.theta[j];
                (high - value) / NUDGE
            }),
        );
        let by = |v: &DMatrix<f64>| gradient.dot(&(v * &gradient)).max(0.0);
        (value, by(&self.model_based).max(by(&self.robust)).sqrt())
    }
}
