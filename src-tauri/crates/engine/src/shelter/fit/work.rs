//! A check under way: nights, periods, and the fit that belongs to them.

use std::ops::Range;

use super::changes::{Nightly, SMALLEST, StepFound, steps};
use super::estimate::{Estimate, Sequence, climb, covariances};
use super::heated::{Lows, pinned, restless, suspects};
use super::layout::{Coordinate, Layout};
use super::log::{FEWEST_NIGHTS, FitError, Log};
use super::model::Model;
use super::nights::{Night, against, lowest};
use super::points::{Course, Point};
use super::records::NightUse;

/// Usable nights of a time between changes that it takes to be fitted.
const FEWEST_IN_PERIOD: usize = 3;
/// Mean difference in the dark in K below which inside is outdoors.
const LEAST_CONTRAST_K: f64 = 0.3;
/// Steps in hours of the first searches.
const SPARSE_H: f64 = 1.0;
const COARSE_H: f64 = 0.5;
/// Logarithm by which the first search starts with more noise than usual.
const FIRST_NOISE: f64 = 3.0;
/// Losses over capacity in 1/h from which the first search starts: glass, twin-wall, masonry.
const STARTS: [f64; 3] = [0.3, 0.06, 0.01];
/// Sun in kW/m² from which a log shows what it brings.
const SUNLIT: f64 = 0.03;
/// Temperature inside in °C from which the store may freeze.
const NEAR_FREEZING_C: f64 = -0.5;
/// Rounds of leaving out heated nights.
const HEATED_ROUNDS: usize = 3;
/// Rounds of looking for changes.
const CHANGE_ROUNDS: usize = 3;

/// A fit under way.
pub(super) struct Work {
    pub(super) course: Course,
    pub(super) sequence: Sequence,
    /// Nights of every period that is fitted, in order.
    pub(super) periods: Vec<Range<usize>>,
    /// First nights of changes that were told.
    pub(super) told: Vec<usize>,
    /// Changes that were found.
    pub(super) found: Vec<StepFound>,
    pub(super) uses: Vec<NightUse>,
    pub(super) fit: Option<(Layout, Vec<f64>)>,
}

impl Work {
    /// Sets a log up for fitting.
    ///
    /// # Errors
    /// [`FitError`] for too few nights or series without contrast.
    pub(super) fn new(course: Course, log: &Log<'_>) -> Result<Self, FitError> {
        let mut uses: Vec<NightUse> = course
            .complete
            .iter()
            .map(|complete| if *complete { NightUse::Used } else { NightUse::Incomplete })
            .collect();
        for night in pinned(&lows(&course)).into_iter().chain(restless(&unrest_k(&course))) {
            if !course.heat_told[night] {
                uses[night] = NightUse::UnknownHeat;
            }
        }
        let told = course.told_changes(log.covers);
        let sequence = Sequence { points: course.points.clone(), period_of: Vec::new(), used: Vec::new() };
        let mut work =
            Self { course, sequence, periods: Vec::new(), told, found: Vec::new(), uses, fit: None };
        work.arrange()?;
        work.check_contrast()?;
        Ok(work)
    }

    /// First nights of all changes, told and found, in order.
    fn changes(&self) -> Vec<usize> {
        let mut all: Vec<usize> =
            self.told.iter().copied().chain(self.found.iter().map(|f| f.since)).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Spreads the periods over the nights; those with too few nights are left out.
    fn arrange(&mut self) -> Result<(), FitError> {
        let nights = self.course.nights;
        let mut edges = vec![0];
        edges.extend(self.changes());
        edges.push(nights);
        for used in self.uses.iter_mut().filter(|u| **u == NightUse::ShortPeriod) {
            *used = NightUse::Used;
        }
        let mut period_of = vec![0; nights];
        self.periods.clear();
        for pair in edges.windows(2) {
            let range = pair[0]..pair[1];
            let usable = self.uses[range.clone()].iter().filter(|u| **u == NightUse::Used).count();
            period_of[range.clone()].fill(self.periods.len());
            if usable >= FEWEST_IN_PERIOD || edges.len() == 2 {
                self.periods.push(range);
            } else {
                for used in self.uses[range].iter_mut().filter(|u| **u == NightUse::Used) {
                    *used = NightUse::ShortPeriod;
                }
            }
        }
        let last = self.periods.len().saturating_sub(1);
        for period in &mut period_of {
            *period = (*period).min(last);
        }
        self.sequence.period_of = period_of;
        self.sequence.used = self.uses.iter().map(|u| *u == NightUse::Used).collect();
        let usable = self.sequence.used.iter().filter(|u| **u).count();
        if usable < FEWEST_NIGHTS {
            return Err(FitError::TooFewNights { usable, needed: FEWEST_NIGHTS, left_out: self.left_out() });
        }
        Ok(())
    }

    fn left_out(&self) -> String {
        let count = |what: NightUse| self.uses.iter().filter(|u| **u == what).count();
        match (count(NightUse::UnknownHeat), count(NightUse::Incomplete)) {
            (0, 0) => String::new(),
            (0, torn) => format!(" ({torn} more have gaps)"),
            (heated, 0) => format!(" ({heated} more show heat of unknown watts)"),
            (heated, torn) => format!(" ({heated} more show heat of unknown watts, {torn} have gaps)"),
        }
    }

    fn check_contrast(&self) -> Result<(), FitError> {
        let (mut sum, mut count) = (0.0, 0.0);
        for p in self.course.points.iter().filter(|p| p.dark && p.inside_c.is_finite()) {
            sum += (p.inside_c - p.outside_c).abs();
            count += 1.0;
        }
        let difference_k: f64 = sum / f64::max(count, 1.0);
        if difference_k < LEAST_CONTRAST_K { Err(FitError::NoContrast { difference_k }) } else { Ok(()) }
    }

    fn layout(&self) -> Layout {
        let used = |p: &&Point| self.sequence.used[p.night];
        let coldest_c = self
            .sequence
            .points
            .iter()
            .filter(used)
            .filter(|p| p.inside_c.is_finite())
            .map(|p| p.inside_c)
            .fold(f64::INFINITY, f64::min);
        let sun = self.sequence.points.iter().filter(used).map(|p| p.sun).fold(0.0, f64::max);
        Layout::new(&self.course, self.periods.len(), coldest_c < NEAR_FREEZING_C, sun > SUNLIT)
    }

    /// The first fit, from several starts on few points, then on all.
    ///
    /// # Errors
    /// [`FitError::Unexplained`] where no start leads anywhere.
    pub(super) fn first_fit(&mut self) -> Result<(), FitError> {
        let layout = self.layout();
        let begin = |loss: f64| -> Vec<f64> {
            let mut theta = layout.middle();
            for (t, c) in theta.iter_mut().zip(&layout.coordinates) {
                match c {
                    Coordinate::Loss(_) | Coordinate::Exchange => *t = loss.ln(),
                    Coordinate::Aperture => *t = (30.0 * loss).ln(),
                    // Much noise first: the search then finds its way by the course of each night alone.
                    Coordinate::Reading | Coordinate::AirNoise | Coordinate::BodyNoise => *t += FIRST_NOISE,
                    _ => {}
                }
            }
            theta
        };
        let sparse = self.sequence.thinned(SPARSE_H);
        let best = STARTS
            .iter()
            .filter_map(|loss| climb(&sparse, &layout, &begin(*loss), 6, 5.0))
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .ok_or(FitError::Unexplained)?;
        let (theta, _) = climb(&sparse, &layout, &best.0, 15, 1.0).ok_or(FitError::Unexplained)?;
        self.settle(layout, &theta)
    }

    /// Climbs to the top on some and then on all points.
    fn settle(&mut self, layout: Layout, theta: &[f64]) -> Result<(), FitError> {
        let coarse = self.sequence.thinned(COARSE_H);
        let (theta, _) = climb(&coarse, &layout, theta, 15, 0.3).ok_or(FitError::Unexplained)?;
        let (theta, _) = climb(&self.sequence, &layout, &theta, 12, 0.02).ok_or(FitError::Unexplained)?;
        self.fit = Some((layout, theta));
        Ok(())
    }

    /// A fit after nights or periods changed, from the last one.
    fn refit(&mut self, log_losses: &[f64]) -> Result<(), FitError> {
        self.arrange()?;
        let Some((old, old_theta)) = self.fit.take() else { return self.first_fit() };
        let layout = self.layout();
        let theta: Vec<f64> = layout
            .coordinates
            .iter()
            .map(|c| match c {
                Coordinate::Loss(k) => log_losses.get(*k).copied().unwrap_or(c.prior().0),
                Coordinate::Wind(_) => old.index(Coordinate::Wind(0)).map_or(c.prior().0, |i| old_theta[i]),
                _ => old.index(*c).map_or(c.prior().0, |i| old_theta[i]),
            })
            .collect();
        self.settle(layout, &theta)
    }

    pub(super) fn model(&self) -> Option<Model> {
        self.fit.as_ref().map(|(layout, theta)| layout.model(theta))
    }

    /// Leaves out nights that show heat nobody told of, and fits again until none is left.
    ///
    /// # Errors
    /// [`FitError`] where too few nights remain.
    pub(super) fn leave_out_heated(&mut self) -> Result<(), FitError> {
        for _ in 0..HEATED_ROUNDS {
            let Some(model) = self.model() else { return Ok(()) };
            let nights = against(&self.course, &self.sequence, &model, &self.sequence.period_of);
            let heated = suspects(&nights, &self.sequence.used, &self.course.heat_told);
            if heated.is_empty() {
                return Ok(());
            }
            for night in heated {
                self.uses[night] = NightUse::UnknownHeat;
            }
            let losses: Vec<f64> = model.periods.iter().map(|p| p.loss.ln()).collect();
            self.refit(&losses)?;
        }
        Ok(())
    }

    /// Every usable night's own logarithm of loss.
    pub(super) fn nightly(&self, model: &Model) -> Vec<Nightly> {
        against(&self.course, &self.sequence, model, &self.sequence.period_of)
            .into_iter()
            .flatten()
            .filter(|n| self.sequence.used[n.night])
            .filter_map(|n: Night| {
                let loss = n.loss?;
                let base = model.periods[self.sequence.period_of[n.night]].loss.ln();
                Some(Nightly { night: n.night, log_loss: base + loss.value, variance: loss.variance })
            })
            .collect()
    }

    /// Looks for changes of the loss within told periods, fits with them, and looks again until they stand still.
    ///
    /// # Errors
    /// [`FitError`] where a fit fails.
    pub(super) fn find_changes(&mut self) -> Result<(), FitError> {
        for _ in 0..CHANGE_ROUNDS {
            let Some(model) = self.model() else { return Ok(()) };
            let series = self.nightly(&model);
            let found = self.steps_in(&series);
            let same = found.iter().map(|f| f.since).eq(self.found.iter().map(|f| f.since));
            // A step that goes away once it is fitted was none.
            let fewer = found.len() < self.found.len();
            self.found = found;
            if same {
                break;
            }
            let losses = self.mean_losses(&series);
            self.refit(&losses)?;
            if fewer {
                break;
            }
        }
        self.drop_doubtful()
    }

    /// Steps of a series between told changes.
    fn steps_in(&self, series: &[Nightly]) -> Vec<StepFound> {
        let mut edges = vec![0];
        edges.extend(&self.told);
        edges.push(self.course.nights);
        edges
            .windows(2)
            .flat_map(|pair| {
                let part: Vec<Nightly> =
                    series.iter().filter(|n| (pair[0]..pair[1]).contains(&n.night)).copied().collect();
                steps(&part)
            })
            .collect()
    }

    /// Mean log loss of the nights between changes, for the periods that will be fitted.
    fn mean_losses(&mut self, series: &[Nightly]) -> Vec<f64> {
        // The arrangement tells which periods remain.
        if self.arrange().is_err() {
            return Vec::new();
        }
        self.periods
            .iter()
            .map(|range| {
                let (sum, weight) = series
                    .iter()
                    .filter(|n| range.contains(&n.night))
                    .fold((0.0, 0.0), |(s, w), n| (s + n.log_loss / n.variance, w + 1.0 / n.variance));
                if weight > 0.0 { sum / weight } else { Coordinate::Loss(0).prior().0 }
            })
            .collect()
    }

    /// Drops found changes that the fit itself does not confirm.
    fn drop_doubtful(&mut self) -> Result<(), FitError> {
        loop {
            if self.found.is_empty() {
                return Ok(());
            }
            let Some(estimate) = self.estimate() else { return Err(FitError::Unexplained) };
            let weak = self.found.iter().position(|found| {
                let Some(after) = self.periods.iter().position(|p| p.start == found.since) else {
                    return true;
                };
                let Some(before) = after.checked_sub(1) else { return true };
                let (step, error) =
                    estimate.figure(|m| (m.periods[after].loss / m.periods[before].loss).ln());
                step.abs() < SMALLEST || step.abs() < 2.6 * error
            });
            let Some(weak) = weak else { return Ok(()) };
            self.found.remove(weak);
            let Some(model) = self.model() else { return Ok(()) };
            let series = self.nightly(&model);
            let losses = self.mean_losses(&series);
            self.refit(&losses)?;
        }
    }

    /// The fit with its covariance.
    pub(super) fn estimate(&self) -> Option<Estimate> {
        let (layout, theta) = self.fit.clone()?;
        covariances(&self.sequence, &layout, theta)
    }
}

/// Root mean square of the second differences of every night's dark readings.
fn unrest_k(course: &Course) -> Vec<f64> {
    let mut sums = vec![(0.0, 0.0); course.nights];
    for w in course.points.windows(3) {
        let bend_k = w[0].inside_c - 2.0 * w[1].inside_c + w[2].inside_c;
        if w.iter().all(|p| p.dark) && w[1].step_h > 0.0 && w[2].step_h > 0.0 && bend_k.is_finite() {
            sums[w[1].night].0 += bend_k * bend_k;
            sums[w[1].night].1 += 1.0;
        }
    }
    sums.into_iter().map(|(sum, count): (f64, f64)| (sum / count.max(1.0)).sqrt()).collect()
}

/// Lows of complete nights.
fn lows(course: &Course) -> Vec<Lows> {
    let mut found = Vec::new();
    let mut begin = 0;
    while begin < course.points.len() {
        let night = course.points[begin].night;
        let length = course.points[begin..].iter().take_while(|p| p.night == night).count();
        let points = &course.points[begin..begin + length];
        begin += length;
        if !course.complete[night] {
            continue;
        }
        let inside: Vec<f64> = points.iter().map(|p| if p.dark { p.inside_c } else { f64::NAN }).collect();
        let outside: Vec<f64> = points.iter().map(|p| if p.dark { p.outside_c } else { f64::NAN }).collect();
        if let (Some((_, inside_c)), Some((_, outside_c))) =
            (lowest(points, &inside), lowest(points, &outside))
        {
            found.push(Lows { night, outside_c, inside_c });
        }
    }
    found
}
