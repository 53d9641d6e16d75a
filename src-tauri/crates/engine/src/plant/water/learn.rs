//! How fast a planting dries against the computation, learnt from what the grower logged.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::balance::{Balance, PotStore};
use super::day::{AirDay, UsualAir};
use super::{Felt, PottedPlant, Watering};

/// Doubt of the computed drying before anything was logged, as a standard deviation of its logarithm: crown, pot and
/// spot make a factor of two either way likely (value from memory).
const PRIOR_SD: f64 = 0.6;
/// The same for a drying found by weighing, by watering until it ran through, and by an amount the grower chose.
const WEIGHED_SD: f64 = 0.1;
const RAN_THROUGH_SD: f64 = 0.25;
const CHOSEN_SD: f64 = 0.8;
/// Least litres, as a share of the available water, that tell anything.
const LEAST_SHARE: f64 = 0.03;
/// Ends of an interval that holds eight times in ten, in standard deviations.
const EIGHT_IN_TEN: f64 = 1.2816;

impl Felt {
    /// Share of the available water gone, and how far off a finger may be: values from memory.
    pub(super) fn used_share(self) -> (f64, f64) {
        match self {
            Self::Wet => (0.05, 0.05),
            Self::Moist => (0.3, 0.12),
            Self::BarelyMoist => (0.6, 0.15),
            Self::Dry => (0.9, 0.15),
        }
    }
}

/// A planting's own drying over the computed one.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct DryingFactor {
    /// Most likely factor.
    pub factor: f64,
    /// Ends of the interval that holds it eight times in ten.
    pub between: (f64, f64),
    /// Spans between two entries that it rests on; 0 before anything was learnt.
    pub spans: u32,
}

impl DryingFactor {
    /// Before anything was learnt: 1, give or take a factor of two.
    pub fn unknown() -> Self {
        Self::of(0.0, PRIOR_SD, 0)
    }

    fn of(mean_ln: f64, sd: f64, spans: u32) -> Self {
        let reach = EIGHT_IN_TEN * sd;
        Self { factor: mean_ln.exp(), between: ((mean_ln - reach).exp(), (mean_ln + reach).exp()), spans }
    }
}

/// Learns the drying factor of a planting from the entries of its log.
///
/// * `plant` — the planting
/// * `days` — air of its zone over the time of the log, in order
/// * `usual` — what stands in for humidity and light not measured
/// * `log` — entries in any order
///
/// Each span from a known state (weighed, or run through) to the next sign of dryness gives a factor: litres that
/// were really lost over litres computed. Signs in order of weight: the scales, the amount until water ran through, the
/// finger, an amount chosen by the grower. The logarithm of the factor is updated as a normal value with known error
/// (conjugate prior); a span in which a pot could hardly dry tells nothing and is left out.
pub fn drying_factor(
    plant: &PottedPlant<'_>,
    days: &[AirDay],
    usual: UsualAir,
    log: &[Watering],
) -> DryingFactor {
    let store = PotStore::of(plant);
    let mut log: Vec<&Watering> = log.iter().collect();
    log.sort_by_key(|entry| entry.on);
    let (mut mean_ln, mut precision, mut spans) = (0.0, PRIOR_SD.powi(-2), 0);
    // Litres the pot lacked after the last entry, where that is known.
    let mut lacked: Option<(&Watering, f64)> = None;
    for entry in log {
        if let Some((before, lacked_l)) = lacked {
            let factor_now = f64::exp(mean_ln);
            let computed_l = dried_l(plant, &store, days, usual, (before, lacked_l), entry, factor_now);
            let found = found_l(&store, before, lacked_l, entry);
            if let Some((found_l, sd)) = found
                && computed_l > LEAST_SHARE * store.available_l
            {
                let observed_ln = mean_ln + (found_l.max(0.1 * computed_l) / computed_l).ln();
                let weight = sd.powi(-2);
                mean_ln = (mean_ln * precision + observed_ln * weight) / (precision + weight);
                precision += weight;
                spans += 1;
            }
        }
        lacked =
            after(plant, &store, days, usual, lacked, entry, mean_ln.exp()).map(|lacked_l| (entry, lacked_l));
    }
    DryingFactor::of(mean_ln, precision.powf(-0.5), spans)
}

/// Litres that the computation lets the pot lose between two entries.
fn dried_l(
    plant: &PottedPlant<'_>,
    store: &PotStore,
    days: &[AirDay],
    usual: UsualAir,
    (before, lacked_l): (&Watering, f64),
    entry: &Watering,
    factor: f64,
) -> f64 {
    let mut balance = Balance::lacking(lacked_l, store);
    days.iter()
        .filter(|day| day.date >= before.on && day.date < entry.on)
        .map(|day| balance.dry(plant, store, day, usual, factor).lost_l())
        .sum()
}

/// Litres really lost since the last entry, with the error of their logarithm.
fn found_l(store: &PotStore, before: &Watering, lacked_l: f64, entry: &Watering) -> Option<(f64, f64)> {
    if let (Some(then_kg), Some(now_kg)) = (before.after_kg, entry.before_kg) {
        return Some((then_kg - now_kg, WEIGHED_SD));
    }
    if entry.ran_through {
        return Some((entry.amount_l - lacked_l, RAN_THROUGH_SD));
    }
    if let Some(felt) = entry.felt {
        let (share, error) = felt.used_share();
        let lost_l = share * store.available_l - lacked_l;
        return (lost_l > 0.0).then(|| (lost_l, (error * store.available_l / lost_l).max(RAN_THROUGH_SD)));
    }
    (entry.amount_l > 0.0).then_some((entry.amount_l, CHOSEN_SD))
}

/// Litres the pot lacks after an entry; `None` while nothing is known.
fn after(
    plant: &PottedPlant<'_>,
    store: &PotStore,
    days: &[AirDay],
    usual: UsualAir,
    lacked: Option<(&Watering, f64)>,
    entry: &Watering,
    factor: f64,
) -> Option<f64> {
    if entry.ran_through {
        return Some(0.0);
    }
    let felt_l = entry.felt.map(|felt| felt.used_share().0 * store.available_l);
    let computed_l = lacked.map(|(before, lacked_l)| {
        lacked_l + dried_l(plant, store, days, usual, (before, lacked_l), entry, factor)
    });
    felt_l.or(computed_l).map(|lacks_l| (lacks_l - entry.amount_l).max(0.0))
}
