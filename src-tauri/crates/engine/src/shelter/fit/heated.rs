//! Nights in which a heater of unknown watts ran.

use super::nights::{Night, median, robust_sd};

/// Jumps of the air in the dark that give a heater away.
const JUMPS: usize = 2;
/// Robust deviations by which a night holds better than the rest.
const FAR: f64 = 4.5;
/// Least kelvin of such a surplus.
const LEAST_K: f64 = 1.0;
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

/// Nights whose inside lows stand at one level whatever the cold, while milder nights follow outdoors: a thermostat.
pub(super) fn pinned(lows: &[Lows]) -> Vec<usize> {
    let mut best: Vec<usize> = Vec::new();
    for level in lows {
        let held: Vec<&Lows> =
            lows.iter().filter(|l| (l.inside_c - level.inside_c).abs() <= PINNED_WITHIN_K / 2.0).collect();
        let coldest = held.iter().map(|l| l.outside_c).fold(f64::INFINITY, f64::min);
        let mildest = held.iter().map(|l| l.outside_c).fold(f64::NEG_INFINITY, f64::max);
        // Nobody colder inside than the level, or it is no thermostat's.
        let below = lows.iter().filter(|l| l.inside_c < level.inside_c - PINNED_WITHIN_K).count();
        let rest: Vec<&Lows> =
            lows.iter().filter(|l| l.inside_c > level.inside_c + PINNED_WITHIN_K).collect();
        let follows = slope(&rest).is_some_and(|s| s > 0.4);
        let expected = held.iter().filter(|l| l.outside_c < mildest - PINNED_OVER_K / 2.0).count();
        if held.len() >= PINNED
            && mildest - coldest >= PINNED_OVER_K
            && expected >= 2
            && below * 10 <= held.len()
            && follows
            && held.len() > best.len()
        {
            best = held.iter().map(|l| l.night).collect();
        }
    }
    best
}

/// Slope of inside lows over outdoor lows; absent with fewer than four nights or too little range.
fn slope(lows: &[&Lows]) -> Option<f64> {
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
