//! Nights in which a heater of unknown watts ran.

use super::nights::{Night, median, robust_sd};
use crate::climate::quantile;

/// Jumps of the air in the dark that give a heater away.
const JUMPS: usize = 2;
/// Robust deviations by which a night holds better than the rest.
const FAR: f64 = 4.5;
/// Least kelvin of such a surplus.
const LEAST_K: f64 = 1.0;
/// Unrest against the quieter nights' from which a heater is suspected, and its least in K.
const RESTLESS: f64 = 1.8;
const LEAST_UNREST_K: f64 = 0.4;
/// Nights held at one level before a thermostat is suspected.
const PINNED: usize = 3;
/// Kelvin within which their lows lie, and by which their outdoor lows differ at least.
const PINNED_WITHIN_K: f64 = 0.7;
const PINNED_OVER_K: f64 = 3.0;

/// A night's lows before any fit: index, outdoors and inside in °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lows {
    pub(super) night: usize,
    pub(super) outside_c: f64,
    pub(super) inside_c: f64,
}

/// Nights whose inside lows stand at one level whatever the cold, while the other nights follow outdoors: a thermostat.
/// Either all nights as cold as these, or a spell of nights in a row.
pub(super) fn pinned(lows: &[Lows]) -> Vec<usize> {
    let mut best: Vec<usize> = Vec::new();
    let mut offer = |held: &[Lows], rest: &[Lows]| {
        if held.len() > best.len() && is_pinned(held, rest) {
            best = held.iter().map(|l| l.night).collect();
        }
    };
    for level in lows {
        let is_held = |l: &Lows| (l.inside_c - level.inside_c).abs() <= PINNED_WITHIN_K / 2.0;
        let held: Vec<Lows> = lows.iter().copied().filter(is_held).collect();
        // Hardly a night colder inside than the level, or it is no thermostat's.
        let below = lows.iter().filter(|l| l.inside_c < level.inside_c - PINNED_WITHIN_K).count();
        let rest: Vec<Lows> =
            lows.iter().copied().filter(|l| l.inside_c > level.inside_c + PINNED_WITHIN_K).collect();
        if below * 10 <= held.len() {
            offer(&held, &rest);
        }
    }
    for begin in 0..lows.len() {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let length = lows[begin..]
            .iter()
            .take_while(|l| {
                (low, high) = (low.min(l.inside_c), high.max(l.inside_c));
                high - low <= PINNED_WITHIN_K
            })
            .count();
        let rest: Vec<Lows> = lows[..begin].iter().chain(&lows[begin + length..]).copied().collect();
        offer(&lows[begin..begin + length], &rest);
    }
    best
}

/// Whether nights lie at one level although the others' lows would have them far apart.
fn is_pinned(held: &[Lows], rest: &[Lows]) -> bool {
    let coldest_c = held.iter().map(|l| l.outside_c).fold(f64::INFINITY, f64::min);
    let mildest_c = held.iter().map(|l| l.outside_c).fold(f64::NEG_INFINITY, f64::max);
    let colder = held.iter().filter(|l| l.outside_c < mildest_c - PINNED_OVER_K / 2.0).count();
    held.len() >= PINNED
        && colder >= 2
        && slope(rest).is_some_and(|s| s > 0.4 && s * (mildest_c - coldest_c) > 2.0 * PINNED_WITHIN_K)
        && mildest_c - coldest_c >= PINNED_OVER_K
}

/// Nights whose air goes up and down in the dark far more than in the quieter nights: a heater that switches.
///
/// * `unrest_k` — for every night the root mean square of the second differences of its dark readings, 0 for none
pub(super) fn restless(unrest_k: &[f64]) -> Vec<usize> {
    let mut sorted: Vec<f64> = unrest_k.iter().copied().filter(|u| *u > 0.0).collect();
    sorted.sort_by(f64::total_cmp);
    let Some(quiet_k) = quantile(&sorted, 0.25) else { return Vec::new() };
    let most_k = (RESTLESS * quiet_k).max(LEAST_UNREST_K);
    (0..unrest_k.len()).filter(|night| unrest_k[*night] > most_k).collect()
}

/// Slope of inside lows over outdoor lows; absent with fewer than four nights or too little range.
fn slope(lows: &[Lows]) -> Option<f64> {
    let n = lows.len() as f64;
    if lows.len() < 4 {
        return None;
    }
    let (x, y) = lows.iter().fold((0.0, 0.0), |(x, y), l| (x + l.outside_c / n, y + l.inside_c / n));
    let (xx, xy) = lows.iter().fold((0.0, 0.0), |(xx, xy), l| {
        (xx + (l.outside_c - x).powi(2), xy + (l.outside_c - x) * (l.inside_c - y))
    });
    (xx > n).then(|| xy / xx)
}

/// Nights that a fit shows to be heated: jumps, or a surplus far beyond their neighbours'.
///
/// `told` — nights whose heat is known, which are left alone.
pub(super) fn suspects(nights: &[Option<Night>], used: &[bool], told: &[bool]) -> Vec<usize> {
    let sound: Vec<&Night> = nights.iter().flatten().filter(|n| used[n.night] && !told[n.night]).collect();
    let surplus: Vec<f64> = sound.iter().map(|n| n.surplus_k()).collect();
    let off: Vec<f64> = (0..sound.len())
        .map(|i| {
            let (from, to) = (i.saturating_sub(5), (i + 6).min(sound.len()));
            surplus[i] - median(&surplus[from..to]).unwrap_or(0.0)
        })
        .collect();
    let spread = robust_sd(&off, 0.0).max(0.1);
    sound
        .iter()
        .zip(&off)
        .filter(|(n, off)| n.jumps >= JUMPS || **off > (FAR * spread).max(LEAST_K))
        .map(|(n, _)| n.night)
        .collect()
}
