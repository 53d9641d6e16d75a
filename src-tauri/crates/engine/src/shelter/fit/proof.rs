//! The proof night: one night after close-up that shows whether the shelter holds as it should, and if not, where to
//! look.
//!
//! The shelter as closed up and the same with one fault each (a part without its cover, gaps, all of it worse) are run
//! under the night's own outdoor readings. Which of them gives the night that was measured is weighed by Bayes' rule; the
//! model's error is an offset that stays for the night and a slant over it, and half-hourly noise.

use chrono::{DateTime, Duration, NaiveDate, Utc};
use nalgebra::{DMatrix, DVector};
use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, Normal};
use thiserror::Error;
use ts_rs::TS;

use super::log::Sample;
use super::points::binned;
use super::scale::scaled_envelope;
use crate::climate::hourly::WeatherSeries;
use crate::field::{FieldError, within};
use crate::shelter::build::{Beyond, Part};
use crate::shelter::dynamic::{Forcing, Phase, RunError, Scenario, simulate};
use crate::shelter::{Envelope, EnvelopeElement};
use crate::sun::Place;

/// Factor on the leakage of a house with gaps.
const GAPPY: f64 = 4.0;
/// Factor on the loss of a house that is worse all over.
const WORSE: f64 = 1.5;
/// Share of belief beforehand that nothing is wrong (common practice, no source).
const SOUND_BEFORE: f64 = 0.6;
/// Chance of so little hold in a sound house below which the night fails, and below which it does not pass.
const FAILS_BELOW: f64 = 0.03;
const PASSES_FROM: f64 = 0.15;
/// The slant's deviation over half a night and the half-hourly noise, against the model's error.
const SLANT: f64 = 0.4;
const NOISE: f64 = 0.25;
/// Half-hours of darkness with readings that a verdict takes at least.
const FEWEST_READINGS: usize = 10;
/// Faults must lower the hold by this many model errors, or the night proves nothing.
const TELLING: f64 = 0.7;
/// Hours before sunset from which the shelter stays shut.
const SHUT_BEFORE_H: i64 = 2;

/// What may be wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Culprit {
    /// Nothing: it holds as it should.
    None,
    /// The cover on a part is missing, torn or lies loose.
    Cover {
        /// The part.
        part: Part,
    },
    /// Gaps: tape, door seal, an open vent.
    Gaps,
    /// The envelope as a whole loses more than was thought.
    Envelope,
}

/// One suspect.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Suspect {
    /// What may be wrong.
    pub culprit: Culprit,
    /// How likely it is, all suspects together 1.
    pub probability: f64,
    /// The hold it would have given this night, in kelvin.
    pub hold_k: f64,
}

/// The verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// It holds as it should.
    Pass,
    /// It holds less than it should.
    Fail,
    /// In between: do it again.
    Unclear,
    /// Such a night tells nothing: too mild, or the store gave all the warmth.
    Untelling,
}

/// What a proof night showed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ProofResult {
    /// The verdict.
    pub verdict: Verdict,
    /// Measured hold in kelvin: low inside less low outdoors.
    pub hold_k: f64,
    /// Expected hold in kelvin.
    pub expected_k: f64,
    /// Lower end of the band in which a sound shelter lies in 95 of 100 nights.
    pub low_k: f64,
    /// Upper end of that band.
    pub high_k: f64,
    /// Chance that a sound shelter holds as little as measured.
    pub chance: f64,
    /// Suspects, the likeliest first.
    pub suspects: Vec<Suspect>,
}

/// What to do for a proof night.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ProofStep {
    /// Put the inside sensor where it always hangs, at plant height, out of draughts.
    HangSensor,
    /// Put the outdoor sensor in the shade, away from walls.
    ShadeOutdoorSensor,
    /// Shut door and vents, check tape and tie-downs.
    ShutAll,
    /// Turn the heater off at its switch; leave it ready.
    HeaterOff,
    /// Do not open the door until after sunrise.
    StayOut,
    /// Stop, and heat, when the inside gets near the limit of a plant: no test is worth a plant.
    StopAtLimit,
}

/// When and how to do a proof night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ProofPlan {
    /// From when it stays shut.
    pub from: DateTime<Utc>,
    /// Until when.
    pub to: DateTime<Utc>,
    /// What to do, in order.
    pub steps: Vec<ProofStep>,
    /// Temperature inside in °C at which to stop and heat: the tenderest plant's limit with 1.5 K to spare.
    pub stop_at_c: f64,
}

/// A proof night as it was.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProofNight<'a> {
    /// Where.
    pub place: Place,
    /// Date on which it began.
    pub night_of: NaiveDate,
    /// The shelter as closed up, from the handbook or measured; heat is left out.
    pub scenario: &'a Scenario,
    /// The same shelter's envelope without covers; absent where it has none.
    pub bare: Option<&'a Envelope>,
    /// Index of the zone in which the inside sensor hung.
    pub zone: usize,
    /// Outdoors through the days before and the night, by the hour, from the outdoor sensor.
    pub weather: &'a WeatherSeries,
    /// Readings inside in °C.
    pub indoor_c: &'a [Sample],
    /// Standard deviation in K of what the model misses: that of a measured shelter, or 1.5 before any log.
    pub model_error_k: f64,
}

/// Why there is no verdict.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum ProofError {
    /// Too few readings in the dark.
    #[error(
        "the night of {night_of} has {found} half-hours with readings inside between sunset and sunrise; at least \
         10 are needed: repeat the night and check the sensor first"
    )]
    TooFewReadings {
        /// The night.
        night_of: NaiveDate,
        /// Half-hours with readings.
        found: usize,
    },
    /// The outdoor weather does not cover the night and two days before it.
    #[error(
        "the outdoor readings do not reach from two days before {night_of} to the morning after; import them first"
    )]
    NoWeather {
        /// The night.
        night_of: NaiveDate,
    },
    /// The sun neither rises nor sets.
    #[error("the sun does not set or rise around {night_of} at this place; choose another date")]
    NoNight {
        /// The night.
        night_of: NaiveDate,
    },
    /// A figure cannot be used.
    #[error(transparent)]
    Field(#[from] FieldError),
    /// The shelter cannot be run.
    #[error(transparent)]
    Run(#[from] RunError),
}

/// When and how to do a proof night.
///
/// * `place`, `night_of` — where and on which date it begins
/// * `limit_c` — the limit of the tenderest plant inside in °C
///
/// # Errors
/// [`ProofError::NoNight`] near the poles, and a limit that cannot be used.
pub fn proof_plan(place: Place, night_of: NaiveDate, limit_c: f64) -> Result<ProofPlan, ProofError> {
    within("limit_c", limit_c, -40.0, 30.0, "enter the limit of the tenderest plant")?;
    let (sunset, sunrise) = dusk_and_dawn(place, night_of)?;
    Ok(ProofPlan {
        from: sunset - Duration::hours(SHUT_BEFORE_H),
        to: sunrise + Duration::hours(1),
        steps: vec![
            ProofStep::HangSensor,
            ProofStep::ShadeOutdoorSensor,
            ProofStep::ShutAll,
            ProofStep::HeaterOff,
            ProofStep::StayOut,
            ProofStep::StopAtLimit,
        ],
        stop_at_c: limit_c + 1.5,
    })
}

fn dusk_and_dawn(place: Place, night_of: NaiveDate) -> Result<(DateTime<Utc>, DateTime<Utc>), ProofError> {
    let no_night = ProofError::NoNight { night_of };
    let day = |date: NaiveDate| place.day(date).map_err(|_| no_night.clone());
    let sunset = day(night_of)?.sunset_utc;
    let sunrise = day(night_of + Duration::days(1))?.sunrise_utc;
    match (sunset, sunrise) {
        (Some(sunset), Some(sunrise)) if sunset < sunrise => Ok((sunset, sunrise)),
        _ => Err(no_night),
    }
}

/// The verdict on a proof night.
///
/// # Errors
/// [`ProofError`] for too few readings, missing weather or a shelter that cannot be run.
pub fn judge_proof_night(night: &ProofNight<'_>) -> Result<ProofResult, ProofError> {
    within("model_error_k", night.model_error_k, 0.05, 10.0, "enter the usual error of the model")?;
    let (sunset, sunrise) = dusk_and_dawn(night.place, night.night_of)?;
    // The last hours before dark settle what sun is left.
    let half_hours = half_hours(night, sunset + Duration::minutes(30), sunrise + Duration::minutes(45));
    if half_hours.len() < FEWEST_READINGS {
        return Err(ProofError::TooFewReadings { night_of: night.night_of, found: half_hours.len() });
    }
    let reaches_s = night.weather.start.timestamp() + 3600 * (night.weather.hours.len() as i64 - 1);
    if night.weather.start > sunset - Duration::hours(40) || reaches_s < sunrise.timestamp() {
        return Err(ProofError::NoWeather { night_of: night.night_of });
    }
    let faults = faults(night)?;
    let measured: Vec<f64> = half_hours.iter().map(|h| h.1).collect();
    let traces: Vec<Trace> =
        faults.iter().map(|(_, scenario)| trace(night, scenario, &half_hours)).collect::<Result<_, _>>()?;
    Ok(weigh(night, &faults, &traces, &measured))
}

/// Half-hour means of the inside readings between two instants: begin in seconds and mean.
fn half_hours(night: &ProofNight<'_>, from: DateTime<Utc>, to: DateTime<Utc>) -> Vec<(i64, f64)> {
    let mut means: Vec<(i64, f64, f64)> = Vec::new();
    for (at_s, value) in binned(night.indoor_c) {
        if at_s < from.timestamp() || at_s > to.timestamp() {
            continue;
        }
        let half = at_s.div_euclid(1800) * 1800;
        match means.last_mut().filter(|m| m.0 == half) {
            Some(mean) => (mean.1, mean.2) = (mean.1 + value, mean.2 + 1.0),
            None => means.push((half, value, 1.0)),
        }
    }
    means.into_iter().map(|(at_s, sum, count)| (at_s, sum / count)).collect()
}

/// The shelter as it should be, then with one fault each.
fn faults(night: &ProofNight<'_>) -> Result<Vec<(Culprit, Scenario)>, ProofError> {
    let sound = Scenario { heating: None, ..night.scenario.clone() };
    let envelope = sound.phases.last().ok_or(RunError::Envelope)?.envelope.clone();
    let with = |envelope: Envelope| Scenario {
        phases: vec![Phase { from: DateTime::<Utc>::MIN_UTC, envelope }],
        ..sound.clone()
    };
    let mut all = vec![(Culprit::None, with(envelope.clone()))];
    if let Some(bare) = night.bare.filter(|b| b.elements.len() == envelope.elements.len()) {
        let mut parts: Vec<Part> = envelope
            .elements
            .iter()
            .zip(&bare.elements)
            .filter(|(on, off)| is_covered(on, off))
            .map(|(on, _)| on.part)
            .collect();
        parts.sort_unstable();
        parts.dedup();
        for part in parts {
            all.push((Culprit::Cover { part }, with(uncovered(&envelope, bare, part))));
        }
    }
    let gaps = Envelope {
        leakage_cm2: envelope.leakage_cm2 * GAPPY,
        air_changes_per_h: envelope.air_changes_per_h * GAPPY,
        ..envelope.clone()
    };
    all.push((Culprit::Gaps, with(gaps)));
    all.push((Culprit::Envelope, with(scaled_envelope(&envelope, WORSE, 1.0))));
    Ok(all)
}

fn is_covered(on: &EnvelopeElement, off: &EnvelopeElement) -> bool {
    on.beyond == Beyond::Outdoors && on.resistance_m2_k_per_w > 1.05 * off.resistance_m2_k_per_w
}

/// An envelope with the cover off one part; it leaks there as it did bare.
fn uncovered(envelope: &Envelope, bare: &Envelope, part: Part) -> Envelope {
    let (mut open_m2, mut all_m2) = (0.0, 0.0);
    let elements = envelope
        .elements
        .iter()
        .zip(&bare.elements)
        .map(|(on, off)| {
            let outdoors_m2 = if on.beyond == Beyond::Outdoors { on.area_m2 } else { 0.0 };
            all_m2 += outdoors_m2;
            if on.part != part {
                return *on;
            }
            open_m2 += outdoors_m2;
            *off
        })
        .collect();
    let share = open_m2 / f64::max(all_m2, 1e-9);
    let mix = |on: f64, off: f64| on + (off - on).max(0.0) * share;
    Envelope {
        elements,
        leakage_cm2: mix(envelope.leakage_cm2, bare.leakage_cm2),
        air_changes_per_h: mix(envelope.air_changes_per_h, bare.air_changes_per_h),
        ..envelope.clone()
    }
}

/// A simulated night at the measured half-hours.
struct Trace {
    inside_c: Vec<f64>,
    outside_low_c: f64,
}

fn trace(night: &ProofNight<'_>, scenario: &Scenario, half_hours: &[(i64, f64)]) -> Result<Trace, RunError> {
    let facings: Vec<_> = scenario.phases[0].envelope.elements.iter().map(|e| e.facing).collect();
    let forcing = Forcing::new(night.place, night.weather, &facings);
    if night.zone >= scenario.zones.len() {
        return Err(RunError::Zones { found: scenario.zones.len() });
    }
    let mut sums = vec![(0.0, 0.0); half_hours.len()];
    let mut outside_low_c = f64::INFINITY;
    let (first, last) = (half_hours[0].0, half_hours[half_hours.len() - 1].0 + 1800);
    simulate(scenario, &forcing, &[], |m| {
        let at_s = forcing.start.timestamp() + (m.hour * 3600 + (m.step + 1) * 600) as i64;
        if at_s < first || at_s >= last {
            return;
        }
        outside_low_c = outside_low_c.min(m.outside_c);
        let half = at_s.div_euclid(1800) * 1800;
        if let Ok(index) = half_hours.binary_search_by_key(&half, |h| h.0) {
            sums[index].0 += m.zone_c[night.zone];
            sums[index].1 += 1.0;
        }
    })?;
    let inside_c = sums.iter().map(|(sum, count)| sum / f64::max(*count, 1.0)).collect();
    Ok(Trace { inside_c, outside_low_c })
}

fn low(values: &[f64]) -> f64 {
    values.iter().copied().fold(f64::INFINITY, f64::min)
}

fn weigh(
    night: &ProofNight<'_>,
    faults: &[(Culprit, Scenario)],
    traces: &[Trace],
    measured: &[f64],
) -> ProofResult {
    let n = measured.len();
    let error = night.model_error_k;
    let slant = |i: usize| (i as f64 / (n as f64 - 1.0) - 0.5) * 2.0 * SLANT;
    let covariance = DMatrix::from_fn(n, n, |i, j| {
        let noise = if i == j { NOISE * NOISE } else { 0.0 };
        error * error * (1.0 + slant(i) * slant(j) + noise)
    });
    let before = |index: usize| {
        if index == 0 { SOUND_BEFORE } else { (1.0 - SOUND_BEFORE) / (faults.len() as f64 - 1.0) }
    };
    let solved = covariance.cholesky();
    let logs: Vec<f64> = traces
        .iter()
        .enumerate()
        .map(|(index, trace)| {
            let off = DVector::from_iterator(n, measured.iter().zip(&trace.inside_c).map(|(m, t)| m - t));
            let square = solved.as_ref().map_or(0.0, |c| off.dot(&c.solve(&off)));
            before(index).ln() - square / 2.0
        })
        .collect();
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let all: f64 = logs.iter().map(|l| (l - top).exp()).sum();
    let hold = |t: &Trace| low(&t.inside_c) - t.outside_low_c;
    let mut suspects: Vec<Suspect> = faults
        .iter()
        .zip(traces)
        .zip(&logs)
        .map(|(((culprit, _), trace), log)| Suspect {
            culprit: *culprit,
            probability: (log - top).exp() / all,
            hold_k: hold(trace),
        })
        .collect();
    let expected_k = hold(&traces[0]);
    let hold_k = low(measured) - traces[0].outside_low_c;
    let chance = Normal::standard().cdf((hold_k - expected_k) / error);
    let worst_k = suspects.iter().map(|s| s.hold_k).fold(f64::INFINITY, f64::min);
    let verdict = match chance {
        c if c < FAILS_BELOW => Verdict::Fail,
        _ if expected_k - worst_k < TELLING * error => Verdict::Untelling,
        c if c >= PASSES_FROM => Verdict::Pass,
        _ => Verdict::Unclear,
    };
    suspects.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    let half = 1.96 * error;
    ProofResult {
        verdict,
        hold_k,
        expected_k,
        low_k: expected_k - half,
        high_k: expected_k + half,
        chance,
        suspects,
    }
}
