//! Readings that deserve no trust: flagged, kept, and left out of every fit.

use super::{Flag, Quantity, Reading};

/// Least jump that makes a spike, in the unit of the quantity: common practice, no source. A door that is opened for
/// some minutes in frost makes several readings, not one.
fn least_jump(quantity: Quantity) -> Option<f64> {
    match quantity {
        Quantity::Temperature => Some(6.0),
        Quantity::Humidity => Some(0.35),
        // A heater switches on and off.
        Quantity::Power => None,
    }
}

/// A jump must also be this many times the usual change from one reading to the next.
const TIMES_USUAL: f64 = 8.0;
/// Neighbours of a spike lie at most this far away.
const NEIGHBOUR_S: i64 = 3600;
/// A value that stands for less than this is never called stuck.
const STUCK_S: i64 = 24 * 3600;
/// Nor one of fewer readings.
const STUCK_READINGS: usize = 12;
/// Nor one that stands less than this many times longer than values usually do in the same series.
const TIMES_RUN: i64 = 6;

/// What is missing between two readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// Last reading before it, in seconds since 1970.
    pub from_s: i64,
    /// First reading after it.
    pub to_s: i64,
}

/// The usual time between readings in seconds: the median of the steps. Absent for fewer than two readings.
///
/// * `readings` — in order of time
pub fn usual_step_s(readings: &[Reading]) -> Option<i64> {
    let stride = (readings.len() / 4096).max(1);
    let mut steps: Vec<i64> =
        readings.windows(2).step_by(stride).map(|pair| pair[1].utc_s - pair[0].utc_s).collect();
    let middle = steps.len().checked_sub(1)? / 2;
    Some(*steps.select_nth_unstable(middle).1)
}

/// Spans without readings: longer than three usual steps and than half an hour.
///
/// * `readings` — in order of time
pub fn gaps(readings: &[Reading]) -> Vec<Gap> {
    let Some(step_s) = usual_step_s(readings) else { return Vec::new() };
    let most = (3 * step_s).max(1800);
    readings
        .windows(2)
        .filter(|pair| pair[1].utc_s - pair[0].utc_s > most)
        .map(|pair| Gap { from_s: pair[0].utc_s, to_s: pair[1].utc_s })
        .collect()
}

/// Flags what cannot be, what jumps and what stands still. A reading whose time is in doubt stays flagged as that.
///
/// * `readings` — of one sensor and quantity, in order of time
pub fn flag(quantity: Quantity, readings: &mut [Reading]) {
    let possible = quantity.possible();
    for reading in readings.iter_mut() {
        if !possible.contains(&reading.value) {
            reading.flag = Flag::Impossible;
        }
    }
    flag_spikes(quantity, readings);
    flag_stuck(quantity, readings);
}

/// A single reading that lies far from both neighbours on the same side, while these agree with each other.
fn flag_spikes(quantity: Quantity, readings: &mut [Reading]) {
    let Some(least) = least_jump(quantity) else { return };
    let threshold = least.max(TIMES_USUAL * usual_change(readings));
    for place in 1..readings.len().saturating_sub(1) {
        let [before, middle, after] = [readings[place - 1], readings[place], readings[place + 1]];
        let (up, down) = (middle.value - before.value, middle.value - after.value);
        if up.abs() < threshold || down.abs() < threshold || (up > 0.0) != (down > 0.0) {
            continue;
        }
        let are_near = after.utc_s - before.utc_s <= 2 * NEIGHBOUR_S;
        let are_good = before.flag != Flag::Impossible && after.flag != Flag::Impossible;
        let agree = (before.value - after.value).abs() <= threshold / 2.0;
        if middle.flag == Flag::Good && are_near && are_good && agree {
            readings[place].flag = Flag::Spike;
        }
    }
}

/// Median change from one reading to the next.
fn usual_change(readings: &[Reading]) -> f64 {
    let stride = (readings.len() / 4096).max(1);
    let mut changes: Vec<f64> =
        readings.windows(2).step_by(stride).map(|pair| (pair[1].value - pair[0].value).abs()).collect();
    let Some(middle) = changes.len().checked_sub(1).map(|last| last / 2) else { return 0.0 };
    *changes.select_nth_unstable_by(middle, f64::total_cmp).1
}

/// Equal readings for a day or more, and far longer than values stand in the rest of the series: a cellar read to
/// half a degree stands still for hours, but then it always does.
fn flag_stuck(quantity: Quantity, readings: &mut [Reading]) {
    if quantity == Quantity::Power {
        return;
    }
    let mut runs: Vec<(usize, usize)> = Vec::new();
    let mut start = 0;
    for place in 1..=readings.len() {
        let goes_on = readings.get(place).is_some_and(|next| next.value == readings[start].value);
        if !goes_on {
            if place - start > 1 {
                runs.push((start, place));
            }
            start = place;
        }
    }
    let span_s = |run: &(usize, usize)| readings[run.1 - 1].utc_s - readings[run.0].utc_s;
    let long: Vec<(usize, usize)> = runs
        .iter()
        .filter(|run| span_s(run) >= STUCK_S && run.1 - run.0 >= STUCK_READINGS)
        .copied()
        .collect();
    if long.is_empty() {
        return;
    }
    let mut spans: Vec<i64> = runs.iter().map(span_s).collect();
    let high = (spans.len() - 1) * 9 / 10;
    let usual_s = *spans.select_nth_unstable(high).1;
    // With few runs the long one is itself the usual one.
    let least_s = if runs.len() < 10 { 2 * STUCK_S } else { STUCK_S.max(TIMES_RUN * usual_s) };
    for (from, to) in long {
        let is_saturated = quantity == Quantity::Humidity && readings[from].value >= 0.99;
        if readings[to - 1].utc_s - readings[from].utc_s >= least_s && !is_saturated {
            for reading in &mut readings[from..to] {
                if reading.flag == Flag::Good {
                    reading.flag = Flag::Stuck;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn series(values: impl IntoIterator<Item = f64>) -> Vec<Reading> {
        (0..).zip(values).map(|(n, value)| Reading { utc_s: n * 600, value, flag: Flag::Good }).collect()
    }

    fn wave(n: usize) -> f64 {
        ((n as f64 / 144.0 * std::f64::consts::TAU).sin() * 40.0).round() / 10.0
    }

    fn flagged(readings: &[Reading], flag: Flag) -> Vec<usize> {
        readings
            .iter()
            .enumerate()
            .filter(|(_, reading)| reading.flag == flag)
            .map(|(place, _)| place)
            .collect()
    }

    #[test]
    fn a_quiet_winter_is_all_good() {
        let mut readings = series((0..5000).map(wave));
        flag(Quantity::Temperature, &mut readings);
        assert!(readings.iter().all(|reading| reading.flag.is_good()));
        assert_eq!(gaps(&readings), []);
        assert_eq!(usual_step_s(&readings), Some(600));
    }

    #[test]
    fn spikes_faults_and_a_stuck_sensor_are_found_where_they_are() {
        let mut values: Vec<f64> = (0..5000).map(wave).collect();
        values[700] = 21.0;
        values[900] = 85.0;
        values[901] = -127.0;
        for value in &mut values[2000..2200] {
            *value = 1.5;
        }
        // A door that stands open: several readings, no spike.
        for value in &mut values[3000..3005] {
            *value -= 9.0;
        }
        let mut readings = series(values);
        flag(Quantity::Temperature, &mut readings);
        assert_eq!(flagged(&readings, Flag::Spike), [700]);
        assert_eq!(flagged(&readings, Flag::Impossible), [900, 901]);
        let stuck = flagged(&readings, Flag::Stuck);
        assert!(stuck.len() >= 200 && stuck.iter().all(|place| (1998..2202).contains(place)), "{stuck:?}");
    }

    #[test]
    fn a_slow_cellar_is_not_stuck_but_a_dead_probe_is() {
        let mut cellar = series(
            (0..8640).map(|n| (6.0 + 3.0 * (n as f64 / 4000.0).cos()).mul_add(2.0, 0.0).round() / 2.0),
        );
        flag(Quantity::Temperature, &mut cellar);
        assert!(cellar.iter().all(|reading| reading.flag.is_good()));
        let mut dead = series(std::iter::repeat_n(21.3, 1000));
        flag(Quantity::Temperature, &mut dead);
        assert_eq!(flagged(&dead, Flag::Stuck).len(), 1000);
    }

    #[test]
    fn saturated_air_and_an_idle_heater_are_no_faults() {
        let mut humid = series(std::iter::repeat_n(1.0, 1000));
        flag(Quantity::Humidity, &mut humid);
        let mut idle = series((0..1000).map(|n| if n % 300 == 7 { 2000.0 } else { 0.0 }));
        flag(Quantity::Power, &mut idle);
        assert!(humid.iter().chain(&idle).all(|reading| reading.flag.is_good()));
    }

    #[test]
    fn gaps_lie_between_their_neighbours() {
        let mut readings = series((0..100).map(wave));
        readings.drain(40..50);
        assert_eq!(gaps(&readings), [Gap { from_s: 39 * 600, to_s: 50 * 600 }]);
        assert_eq!(gaps(&readings[..1]), []);
    }
}
