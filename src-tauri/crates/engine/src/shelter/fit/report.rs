//! From a finished fit to records.

use chrono::{DateTime, Utc};
use statrs::distribution::{ContinuousCDF, StudentsT};

use super::estimate::Estimate;
use super::layout::Coordinate;
use super::log::Log;
use super::model::Model;
use super::nights::{Night, against, median, robust_sd};
use super::records::{
    Estimated, HoldNight, InsulationCheck, LooksLike, LossChange, Missing, NightUse, PeriodFit, StoreFit,
    Told,
};
use super::work::Work;

/// Share of the prior's deviation above which a log tells little.
const LITTLE: f64 = 0.6;
/// Seconds in an hour times watts in a kilowatt.
const J_PER_KWH: f64 = 3.6e6;

/// Watts per kelvin out of ratios: heat capacity in J/K, and the relative variance it adds.
#[derive(Debug, Clone, Copy)]
enum Anchor {
    None,
    Heat,
    Store { heat_capacity_j_per_k: f64, doubt: f64 },
}

struct Reporter<'a> {
    work: &'a Work,
    estimate: Estimate,
    anchor: Anchor,
    /// Deviations to the ends of a 95 % interval.
    reach: f64,
}

/// The records of a fit; absent where its covariance cannot be had.
pub(super) fn of(work: &Work, log: &Log<'_>) -> Option<InsulationCheck> {
    let estimate = work.estimate()?;
    let anchor = match log.store {
        _ if work.course.known.heat => Anchor::Heat,
        Some(store) => {
            Anchor::Store { heat_capacity_j_per_k: store.heat_capacity_j_per_k, doubt: store.doubt }
        }
        None => Anchor::None,
    };
    let degrees = (estimate.days as f64 - 1.0).max(3.0);
    let reach = StudentsT::new(0.0, 1.0, degrees).ok()?.inverse_cdf(0.975);
    Reporter { work, estimate, anchor, reach }.check()
}

impl Reporter<'_> {
    /// A positive figure, its interval by the logarithm.
    fn positive(&self, informs: &[Coordinate], of: impl Fn(&Model) -> f64) -> Estimated {
        self.positive_with(informs, 0.0, of)
    }

    fn positive_with(&self, informs: &[Coordinate], doubt: f64, of: impl Fn(&Model) -> f64) -> Estimated {
        let (log, error) = self.estimate.figure(|m| of(m).max(1e-300).ln());
        let error = error.hypot(doubt);
        let (value, spread) = (log.exp(), (self.reach * error).exp());
        let told = self.told(informs, spread - 1.0);
        Estimated { value, standard_error: value * error, low: value / spread, high: value * spread, told }
    }

    /// A figure of any sign.
    fn plain(&self, informs: &[Coordinate], of: impl Fn(&Model) -> f64) -> Estimated {
        let (value, standard_error) = self.estimate.figure(of);
        let half = self.reach * standard_error;
        let told = self.told(informs, half / value.abs().max(1e-12));
        Estimated { value, standard_error, low: value - half, high: value + half, told }
    }

    /// How well a figure is told: not at all when a coordinate it rests on is hardly better known than before.
    fn told(&self, informs: &[Coordinate], half_width: f64) -> Told {
        let hardly =
            informs.iter().filter_map(|c| Some((c, self.estimate.layout.index(*c)?))).any(|(c, i)| {
                let error2 = self.estimate.model_based[(i, i)].max(self.estimate.robust[(i, i)]);
                error2.sqrt() > LITTLE * c.prior().1
            });
        if hardly {
            Told::Not
        } else if half_width > 0.5 {
            Told::Roughly
        } else {
            Told::Well
        }
    }

    /// A figure in watts or joules: `of` gives it per J/K of the body.
    fn absolute(&self, informs: &[Coordinate], of: impl Fn(&Model) -> f64) -> Option<Estimated> {
        match self.anchor {
            Anchor::None => None,
            Anchor::Heat => {
                let mut all = informs.to_vec();
                all.push(Coordinate::PerKw);
                Some(self.positive(&all, |m| of(m) * J_PER_KWH / m.per_kw))
            }
            Anchor::Store { heat_capacity_j_per_k, doubt } => {
                Some(self.positive_with(informs, doubt, |m| of(m) * heat_capacity_j_per_k))
            }
        }
    }

    fn check(&self) -> Option<InsulationCheck> {
        let (work, known) = (self.work, self.work.course.known);
        let model = self.estimate.model();
        let expected = self.expected_periods(&model);
        let nights = against(&work.course, &work.sequence, &model, &expected);
        let bands = self.bands(&nights, &expected);
        let utc = |s: i64| DateTime::<Utc>::from_timestamp(s, 0);
        let count = |what: NightUse| work.uses.iter().filter(|u| **u == what).count() as u32;
        Some(InsulationCheck {
            from: utc(work.course.points.first()?.at_s)?,
            to: utc(work.course.points.last()?.at_s)?,
            nights_used: count(NightUse::Used),
            nights_heated: count(NightUse::UnknownHeat),
            flagged: work.course.flagged as u32,
            usual_wind_m_per_s: known.wind.then_some(work.course.mean_wind_m_per_s),
            periods: (0..work.periods.len()).map(|k| self.period(k, &nights)).collect(),
            changes: (1..work.periods.len()).map(|k| self.change(k, &nights)).collect(),
            store: self.store(),
            nights: (0..work.course.nights).map(|n| self.hold_night(n, nights[n].as_ref(), &bands)).collect(),
            night_error_k: bands.error_k,
            missing: self.missing(),
        })
    }

    fn period(&self, k: usize, nights: &[Option<Night>]) -> PeriodFit {
        let range = self.work.periods[k].clone();
        let loss = [Coordinate::Loss(k)];
        let sunlit = self.estimate.layout.index(Coordinate::Aperture).is_some();
        let aperture = |m: &Model| m.aperture * m.periods[k].shade;
        PeriodFit {
            from: self.work.course.night_of(range.start),
            to: self.work.course.night_of(range.end - 1),
            nights: self.work.sequence.used[range.clone()].iter().filter(|u| **u).count() as u32,
            loss_per_h: self.positive(&loss, |m| m.periods[k].loss),
            loss_w_per_k: self.absolute(&loss, |m| m.periods[k].loss / 3600.0),
            wind_share_per_m_per_s: self
                .work
                .course
                .known
                .wind
                .then(|| self.plain(&[Coordinate::Wind(k)], |m| m.periods[k].wind)),
            time_constant_h: self
                .positive(&[Coordinate::Loss(k), Coordinate::Exchange], |m| m.time_constants_h(k).1),
            air_time_constant_h: self.positive(&[Coordinate::AirShare], |m| m.time_constants_h(k).0),
            sun_k_per_kw_m2: sunlit
                .then(|| self.positive(&[Coordinate::Aperture], |m| aperture(m) / m.periods[k].loss)),
            aperture_m2: if sunlit {
                self.absolute(&[Coordinate::Aperture], |m| aperture(m) / J_PER_KWH)
            } else {
                None
            },
            mean_hold_k: mean_hold_k(nights, range, &self.work.uses),
        }
    }

    fn change(&self, k: usize, nights: &[Option<Night>]) -> LossChange {
        let work = self.work;
        let since = work.periods[k].start;
        let found = work.found.iter().find(|f| f.since == since);
        let loss_ratio = self.positive(&[Coordinate::Loss(k), Coordinate::Loss(k - 1)], |m| {
            m.periods[k].loss / m.periods[k - 1].loss
        });
        let sun_ratio =
            self.estimate.layout.index(Coordinate::Shade(k)).map(|_| {
                self.positive(&[Coordinate::Shade(k)], |m| m.periods[k].shade / m.periods[k - 1].shade)
            });
        let hold = |k: usize| mean_hold_k(nights, work.periods[k].clone(), &work.uses);
        let darker = sun_ratio.is_some_and(|s| s.high < 1.0);
        let brighter = sun_ratio.is_some_and(|s| s.low > 1.0);
        let date = |night: usize| work.course.night_of(night);
        LossChange {
            since: date(since),
            earliest: date(found.map_or(since, |f| f.earliest)),
            latest: date(found.map_or(since, |f| f.latest)),
            told: found.is_none(),
            loss_ratio,
            sun_ratio,
            plain_ratio: hold(k - 1) / hold(k),
            chance_of_false_alarm: found.map_or(0.0, |f| f.chance),
            looks_like: match loss_ratio.value < 1.0 {
                true if darker => LooksLike::CoverOn,
                true => LooksLike::Better,
                false if brighter => LooksLike::CoverOff,
                false => LooksLike::Worse,
            },
        }
    }

    fn store(&self) -> StoreFit {
        let layout = &self.estimate.layout;
        let first = Coordinate::Loss(0);
        let latent = layout.index(Coordinate::Latent).is_some();
        let latent_of = |m: &Model| m.latent_k;
        StoreFit {
            exchange_over_loss: self
                .positive(&[Coordinate::Exchange, first], |m| m.exchange / m.periods[0].loss),
            ground_over_loss: self.positive(&[Coordinate::Ground, first], |m| m.ground / m.periods[0].loss),
            freezing_k: latent.then(|| self.positive(&[Coordinate::Latent], latent_of)),
            sky_share: self.work.course.known.sky.then(|| self.plain(&[Coordinate::Sky], |m| m.sky)),
            heat_capacity_j_per_k: self.absolute(&[], |_| 1.0),
            freezing_water_kg: if latent {
                self.absolute(&[Coordinate::Latent], |m| m.latent_k / crate::air::FUSION_J_PER_KG)
            } else {
                None
            },
        }
    }

    /// Which period's loss to expect in each night: between told changes, the best one there was so far.
    fn expected_periods(&self, model: &Model) -> Vec<usize> {
        let work = self.work;
        let mut expected = work.sequence.period_of.clone();
        let mut best: Option<usize> = None;
        for (k, range) in work.periods.iter().enumerate() {
            let told = k == 0 || !work.found.iter().any(|f| f.since == range.start);
            let better = best.is_none_or(|b| model.periods[k].loss < model.periods[b].loss);
            if told || better {
                best = Some(k);
            }
            expected[range.clone()].fill(best.unwrap_or(k));
        }
        expected
    }

    /// The spread of lows around what is expected, from nights that are like their period.
    fn bands(&self, nights: &[Option<Night>], expected: &[usize]) -> Bands {
        let work = self.work;
        let sound: Vec<&Night> = nights
            .iter()
            .flatten()
            .filter(|n| work.sequence.used[n.night] && expected[n.night] == work.sequence.period_of[n.night])
            .collect();
        let loss_error: Vec<f64> =
            (0..work.periods.len()).map(|k| self.estimate.figure(|m| m.periods[k].loss.ln()).1).collect();
        let variance = |n: &Night| n.expected_k2 + (n.low_by_loss_k * loss_error[expected[n.night]]).powi(2);
        let z: Vec<f64> = sound.iter().map(|n| n.surplus_k() / variance(n).sqrt()).collect();
        let centre = median(&z).unwrap_or(0.0);
        let widen = robust_sd(&z, 0.0).max(1.0);
        let off: Vec<f64> = sound.iter().map(|n| n.surplus_k()).collect();
        let error_k = (off.iter().map(|o| o * o).sum::<f64>() / off.len().max(1) as f64).sqrt();
        Bands { centre, widen, error_k, loss_error, expected: expected.to_vec() }
    }

    fn hold_night(&self, index: usize, night: Option<&Night>, bands: &Bands) -> HoldNight {
        let work = self.work;
        let night_of = work.course.night_of(index);
        let used = work.uses[index];
        let Some(n) = night else {
            return HoldNight {
                night_of,
                used,
                outside_low_c: None,
                hold_k: None,
                expected_k: None,
                low_k: None,
                high_k: None,
            };
        };
        let by_loss = n.low_by_loss_k * bands.loss_error[bands.expected[index]];
        let sd = (n.expected_k2 + by_loss * by_loss).sqrt();
        let expected_k = n.expected_low_c - n.outside_low_c + bands.centre * sd;
        let half = self.reach * sd * bands.widen;
        HoldNight {
            night_of,
            used,
            outside_low_c: Some(n.outside_low_c),
            hold_k: Some(n.hold_k()),
            expected_k: Some(expected_k),
            low_k: Some(expected_k - half),
            high_k: Some(expected_k + half),
        }
    }

    fn missing(&self) -> Vec<Missing> {
        let (work, known) = (self.work, self.work.course.known);
        let mut missing = Vec::new();
        if matches!(self.anchor, Anchor::None) {
            missing.push(Missing::KnownHeat);
        }
        if !known.wind {
            missing.push(Missing::Wind);
        }
        if !known.sky {
            missing.push(Missing::Cloud);
        }
        if !known.sun {
            missing.push(Missing::Sun);
        }
        if self.estimate.layout.index(Coordinate::Latent).is_none() {
            missing.push(Missing::Frost);
        }
        let mut index = 0;
        while index < work.uses.len() {
            let length = work.uses[index..].iter().take_while(|u| **u == NightUse::ShortPeriod).count();
            if length > 0 {
                let from = work.course.night_of(index);
                missing.push(Missing::ShortPeriod { from, nights: length as u32 });
            }
            index += length.max(1);
        }
        missing
    }
}

/// How lows spread around what is expected.
struct Bands {
    /// Median of the standardised surplus.
    centre: f64,
    /// Factor on the deviations that makes them fit.
    widen: f64,
    error_k: f64,
    loss_error: Vec<f64>,
    expected: Vec<usize>,
}

fn mean_hold_k(nights: &[Option<Night>], range: std::ops::Range<usize>, uses: &[NightUse]) -> f64 {
    let holds: Vec<f64> = nights[range]
        .iter()
        .flatten()
        .filter(|n| uses[n.night] == NightUse::Used)
        .map(Night::hold_k)
        .collect();
    holds.iter().sum::<f64>() / holds.len().max(1) as f64
}
