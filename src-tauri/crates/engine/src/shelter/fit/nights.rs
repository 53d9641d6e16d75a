//! Night by night: how it deviates from the fitted box, and how far it held.

use super::estimate::{BODY_START_SD_K, REACH, Sequence};
use super::model::{Belief, Model};
use super::points::{Course, Point};
use crate::climate::quantile;

/// Relative step of the twin that shows what a stronger loss does.
const NUDGE: f64 = 1e-4;
/// The low often comes with the first light: seconds after dark that still belong to the night.
const FIRST_LIGHT_S: i64 = 5400;
/// Standard deviation in K by which the body's doubt grows at noon.
const FORGET_K: f64 = 1.0;
/// Kelvin above its prediction from which a reading in the dark counts as a jump.
const LEAST_JUMP_K: f64 = 0.8;
/// Points of the hold's running mean on either side, in hours.
const SMOOTH_H: f64 = 0.5;

/// An estimate with its variance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Effect {
    pub(super) value: f64,
    pub(super) variance: f64,
}

/// One night against a model.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Night {
    pub(super) night: usize,
    /// Logarithm of the night's loss over the model's.
    pub(super) loss: Option<Effect>,
    /// Jumps upwards in the dark that nothing but heat explains.
    pub(super) jumps: usize,
    /// Outdoor low in °C, mean over an hour.
    pub(super) outside_low_c: f64,
    /// Low inside in °C, mean over an hour.
    pub(super) inside_low_c: f64,
    /// The low to expect from the state at dusk.
    pub(super) expected_low_c: f64,
    /// Variance of that low.
    pub(super) expected_k2: f64,
    /// Derivative of the expected low by the logarithm of the loss.
    pub(super) low_by_loss_k: f64,
}

impl Night {
    pub(super) fn hold_k(&self) -> f64 {
        self.inside_low_c - self.outside_low_c
    }

    /// Kelvin by which it held better than expected.
    pub(super) fn surplus_k(&self) -> f64 {
        self.inside_low_c - self.expected_low_c
    }
}

/// Every complete night of a sequence against a model. At every noon the body's doubt grows by [`FORGET_K`], so that a
/// night speaks for itself and not for those before it.
///
/// * `period_of` — which period's loss to expect in each night
pub(super) fn against(
    course: &Course,
    sequence: &Sequence,
    model: &Model,
    period_of: &[usize],
) -> Vec<Option<Night>> {
    let stronger = stronger(model);
    let mut nights = vec![None; course.nights];
    let mut belief: Option<Belief> = None;
    let mut begin = 0;
    while begin < sequence.points.len() {
        let night = sequence.points[begin].night;
        let length = sequence.points[begin..].iter().take_while(|p| p.night == night).count();
        // From the last point of the night before, where the stretch goes on.
        let from = if sequence.points[begin].step_h > 0.0 { begin.saturating_sub(1) } else { begin };
        let points = &sequence.points[from..begin + length];
        let walk = walk(points, night, model, &stronger, period_of[night], belief);
        if course.complete[night] {
            nights[night] = night_of(points, night, &walk, (model, &stronger), period_of[night]);
        }
        belief = walk.last.filter(|_| sequence.used[night]);
        begin += length;
    }
    nights
}

fn stronger(model: &Model) -> Model {
    let mut twin = model.clone();
    for period in &mut twin.periods {
        period.loss *= 1.0 + NUDGE;
    }
    twin
}

/// What a walk through a night's readings leaves.
struct Walk {
    last: Option<Belief>,
    dusk: Option<(usize, Belief)>,
    loss: Option<Effect>,
    jumps: usize,
}

/// Filters a night from what was believed before it, with a twin of a stronger loss beside.
fn walk(
    points: &[Point],
    night: usize,
    model: &Model,
    stronger: &Model,
    period: usize,
    before: Option<Belief>,
) -> Walk {
    let mut left = Walk { last: None, dusk: None, loss: None, jumps: 0 };
    let mut belief = before.map(|b| {
        let b = Belief { bb: b.bb + FORGET_K * FORGET_K, ..b };
        (b, b.state)
    });
    let (mut weighted, mut weight) = (0.0, 0.0);
    for (i, to) in points.iter().enumerate() {
        if to.night != night {
            continue;
        }
        if to.step_h == 0.0 {
            belief = None;
        }
        if let Some((now, twin)) = belief.as_mut() {
            *twin = stronger.follow(*twin, now.bb, &points[i - 1], to, period);
            *now = model.predict(now, &points[i - 1], to, period);
            if to.inside_c.is_finite() {
                let variance = now.aa + model.reading_k2;
                let error = to.inside_c - now.state.air_c;
                // The twin meets the same gains; how far it comes off shows what the loss does.
                let slope = (twin.air_c - now.state.air_c) / NUDGE;
                let share = (REACH * variance.sqrt() / error.abs().max(1e-300)).min(1.0);
                weighted += slope * error * share / variance;
                weight += slope * slope * share / variance;
                if to.dark && share < 1.0 && error > LEAST_JUMP_K {
                    left.jumps += 1;
                }
                let twin_error = to.inside_c - twin.air_c;
                let gain = now.take(error, variance);
                twin.shift(gain, twin_error);
            }
        } else if to.inside_c.is_finite() {
            let start = model.start(to.inside_c, BODY_START_SD_K);
            belief = Some((start, start.state));
        }
        if left.dusk.is_none() && to.dark {
            left.dusk = belief.map(|(now, _)| (i, now));
        }
    }
    left.last = belief.map(|(now, _)| now);
    left.loss = (weight > 0.0).then(|| Effect { value: weighted / weight, variance: 1.0 / weight });
    left
}

/// A night's record out of its walk.
fn night_of(
    points: &[Point],
    night: usize,
    walk: &Walk,
    models: (&Model, &Model),
    period: usize,
) -> Option<Night> {
    let (dusk, belief) = walk.dusk?;
    let last_dark = points.iter().rposition(|p| p.dark)?;
    let till_s = points[last_dark].at_s + FIRST_LIGHT_S;
    let end = points.partition_point(|p| p.at_s <= till_s);
    let ahead = forecast(&points[dusk..end], models.0, models.1, belief, period)?;
    Some(Night { night, loss: walk.loss, jumps: walk.jumps, ..ahead })
}

/// The low to expect from dusk, and the low that was.
fn forecast(points: &[Point], model: &Model, stronger: &Model, dusk: Belief, period: usize) -> Option<Night> {
    let mut now = dusk;
    let mut twin = dusk.state;
    let mut path = vec![(now.state.air_c, now.aa, twin.air_c)];
    for pair in points.windows(2) {
        if pair[1].step_h == 0.0 {
            return None;
        }
        twin = stronger.follow(twin, now.bb, &pair[0], &pair[1], period);
        now = model.predict(&now, &pair[0], &pair[1], period);
        path.push((now.state.air_c, now.aa, twin.air_c));
    }
    let inside: Vec<f64> = points.iter().map(|p| p.inside_c).collect();
    let outside: Vec<f64> = points.iter().map(|p| p.outside_c).collect();
    let (_, inside_low_c) = lowest(points, &inside)?;
    let (_, outside_low_c) = lowest(points, &outside)?;
    let expected: Vec<f64> = path.iter().map(|p| p.0).collect();
    let (at, expected_low_c) = lowest(points, &expected)?;
    let twins: Vec<f64> = path.iter().map(|p| p.2).collect();
    let (_, twin_low_c) = lowest(points, &twins)?;
    Some(Night {
        night: 0,
        loss: None,
        jumps: 0,
        outside_low_c,
        inside_low_c,
        expected_low_c,
        expected_k2: path[at].1 + model.reading_k2 / 6.0,
        low_by_loss_k: (twin_low_c - expected_low_c) / NUDGE,
    })
}

/// Lowest mean over an hour: index of its middle and the mean.
pub(super) fn lowest(points: &[Point], values: &[f64]) -> Option<(usize, f64)> {
    let (mut begin, mut end) = (0, 0);
    let mut best: Option<(usize, f64)> = None;
    let half_s = (SMOOTH_H * 3600.0) as i64;
    for (i, point) in points.iter().enumerate() {
        while points[begin].at_s < point.at_s - half_s {
            begin += 1;
        }
        while end < points.len() && points[end].at_s <= point.at_s + half_s {
            end += 1;
        }
        let (sum, count) = values[begin..end]
            .iter()
            .filter(|v| v.is_finite())
            .fold((0.0, 0.0), |(sum, count), v| (sum + v, count + 1.0));
        if count > 0.0 && best.is_none_or(|(_, low)| sum / count < low) {
            best = Some((i, sum / count));
        }
    }
    best
}

/// Median of finite values.
pub(super) fn median(values: &[f64]) -> Option<f64> {
    let mut sorted: Vec<f64> = values.iter().copied().filter(|v| v.is_finite()).collect();
    sorted.sort_by(f64::total_cmp);
    quantile(&sorted, 0.5)
}

/// Robust standard deviation: median absolute deviation times 1.4826.
pub(super) fn robust_sd(values: &[f64], centre: f64) -> f64 {
    let off: Vec<f64> = values.iter().map(|v| (v - centre).abs()).collect();
    1.4826 * median(&off).unwrap_or(0.0)
}
