//! Temperatures that do not fit the rest of their record.
//!
//! Archives carry errors that stay inside the range of possible temperatures: a lost sign, a digit too many, a
//! Fahrenheit value among Celsius. Two checks after Durre et al. (2010), J. Appl. Meteor. Climatol. 49,
//! 1615–1633 (limits from memory), find the gross ones; real records pass with room to spare.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use super::draft::{DraftDay, Extreme};
use super::problems::ProblemLog;

/// A day that differs by more than this from both neighbours in the same direction is an error.
const SPIKE_K: f64 = 25.0;
/// Days on either side of a date whose values of all years tell what is usual.
const REACH_DAYS: usize = 15;
/// Fewest values that can tell it.
const ENOUGH: usize = 100;
/// Distance from the median, in robust standard deviations and at least in kelvin, that is an error.
const OUTLIER_SPREADS: f64 = 6.0;
const OUTLIER_K: f64 = 15.0;

type DraftDays = BTreeMap<NaiveDate, DraftDay>;

/// Drops and notes the values that fail a check.
pub(super) fn drop_doubtful(days: &mut DraftDays, log: &mut ProblemLog) {
    for extreme in [Extreme::Min, Extreme::Max] {
        for (date, what) in outliers(days, extreme) {
            drop_value(days, log, date, extreme, &what);
        }
        for (date, _) in spikes(days, extreme) {
            let Some(Jump { before_c, here_c, after_c, .. }) = jump(days, extreme, date) else { continue };
            let what = format!(
                "is {here_c:.1} °C between {before_c:.1} °C the day before and {after_c:.1} °C the day after"
            );
            drop_value(days, log, date, extreme, &what);
        }
    }
}

fn drop_value(days: &mut DraftDays, log: &mut ProblemLog, date: NaiveDate, extreme: Extreme, what: &str) {
    let Some(day) = days.get_mut(&date) else { return };
    *day.slot(extreme) = None;
    log.add(day.line, "temperatures that do not fit the rest of the record", || {
        format!("{} of {date} {what}: left out", extreme.word())
    });
}

/// Values far from what is usual around their date over all years.
fn outliers(days: &DraftDays, extreme: Extreme) -> Vec<(NaiveDate, String)> {
    let mut by_day: Vec<Vec<f64>> = vec![Vec::new(); 366];
    for (date, day) in days {
        by_day[date.ordinal0() as usize].extend(day.get(extreme));
    }
    let usual: Vec<Option<(f64, f64)>> = (0..366).map(|of| median_and_spread(&by_day, of)).collect();
    let mut found = Vec::new();
    for (date, day) in days {
        let (Some(temp_c), Some((median, spread))) = (day.get(extreme), usual[date.ordinal0() as usize])
        else {
            continue;
        };
        let off = temp_c - median;
        if off.abs() > (OUTLIER_SPREADS * spread).max(OUTLIER_K) {
            let side = if off < 0.0 { "below" } else { "above" };
            found.push((
                *date,
                format!("is {temp_c:.1} °C, {:.0} K {side} what is usual at that time of year", off.abs()),
            ));
        }
    }
    found
}

/// Median and 1.4826 times the median absolute deviation of the values around a day of the year.
fn median_and_spread(by_day: &[Vec<f64>], day: usize) -> Option<(f64, f64)> {
    let around = (0..=2 * REACH_DAYS).map(|step| (day + 366 + step - REACH_DAYS) % 366);
    let mut values: Vec<f64> = around.flat_map(|other| by_day[other].iter().copied()).collect();
    if values.len() < ENOUGH {
        return None;
    }
    let middle = values.len() / 2;
    let median = *values.select_nth_unstable_by(middle, f64::total_cmp).1;
    for value in &mut values {
        *value = (*value - median).abs();
    }
    Some((median, 1.4826 * *values.select_nth_unstable_by(middle, f64::total_cmp).1))
}

/// Values that jump away from both neighbours, the largest jump first: beside an error a good value may seem to
/// jump too, until the error is gone.
fn spikes(days: &DraftDays, extreme: Extreme) -> Vec<(NaiveDate, f64)> {
    let mut found: Vec<(NaiveDate, f64)> =
        days.keys().filter_map(|date| Some((*date, jump(days, extreme, *date)?.least_k))).collect();
    found.sort_by(|a, b| b.1.total_cmp(&a.1));
    found
}

/// A value between its neighbours.
struct Jump {
    before_c: f64,
    here_c: f64,
    after_c: f64,
    least_k: f64,
}

fn jump(days: &DraftDays, extreme: Extreme, date: NaiveDate) -> Option<Jump> {
    let at = |date: NaiveDate| days.get(&date).and_then(|day| day.get(extreme));
    let (before_c, here_c, after_c) = (at(date.pred_opt()?)?, at(date)?, at(date.succ_opt()?)?);
    let (from_before, from_after) = (here_c - before_c, here_c - after_c);
    let least_k = from_before.abs().min(from_after.abs());
    (least_k > SPIKE_K && from_before * from_after > 0.0).then_some(Jump {
        before_c,
        here_c,
        after_c,
        least_k,
    })
}
