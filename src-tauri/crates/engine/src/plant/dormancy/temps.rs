//! Temperatures of a zone hour by hour, complete, with what had to be assumed.

use chrono::{Datelike, Days, NaiveDate};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use ts_rs::TS;

use crate::climate::hourly::{DayExtremes, Night, temp_at_c};
use crate::sun::daily::day_length_h;

/// Missing hours in a row that a straight line may cross.
const LONGEST_LINE_H: usize = 3;
/// Missing hours in a row up to which the days around are trusted.
const LONGEST_TRUSTED_H: usize = 72;
/// Days on either side of a gap that give its daily cycle.
const CYCLE_DAYS: usize = 5;
/// Kelvin by which a day assumed from days further off may be wrong: value from memory.
const ASSUMED_DOUBT_K: f64 = 3.0;
/// Kelvin by which a day taken from a simulation may be wrong: value from memory.
const SIMULATED_DOUBT_K: f64 = 1.5;
/// Hours a record must hold at least.
const LEAST_H: usize = 24;

/// How missing temperatures were filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum FilledFrom {
    /// The days before and after.
    Neighbours,
    /// A simulation of the zone.
    Simulation,
}

/// Something in a zone's temperatures that was left out or assumed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum TempsProblem {
    /// Hours without a reading that were filled.
    Assumed {
        /// Day on which they begin.
        from: NaiveDate,
        /// How many hours.
        hours: u32,
        /// From what.
        filled_from: FilledFrom,
        /// Kelvin by which the days may be wrong; 0 for short gaps.
        doubt_k: f64,
    },
    /// A value that cannot be a temperature of a shelter, left out.
    Implausible {
        /// Its day.
        date: NaiveDate,
        /// The value in °C.
        value_c: f64,
    },
    /// A day whose lowest is above its highest, left out.
    UpsideDown {
        /// The day.
        date: NaiveDate,
    },
}

/// Why no temperatures could be made.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum TempsError {
    /// Hardly any readings.
    #[error(
        "the zone has {found} hours with a temperature; at least a day is needed: import the log or simulate the zone"
    )]
    TooFew {
        /// Hours found.
        found: usize,
    },
    /// The last day lies before the first.
    #[error("the temperatures begin on {first_day}, after {until}; ask for a later day")]
    EndsBeforeStart {
        /// First day.
        first_day: NaiveDate,
        /// Last day asked for.
        until: NaiveDate,
    },
}

/// A day of a zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneDay<'a> {
    /// Its date.
    pub date: NaiveDate,
    /// Its 24 temperatures in °C.
    pub hours_c: &'a [f64],
    /// Kelvin by which they may be wrong.
    pub doubt_k: f64,
}

impl ZoneDay<'_> {
    /// Mean in °C.
    pub fn mean_c(&self) -> f64 {
        self.hours_c.iter().sum::<f64>() / self.hours_c.len() as f64
    }

    /// Lowest in °C.
    pub fn min_c(&self) -> f64 {
        self.hours_c.iter().copied().fold(f64::INFINITY, f64::min)
    }

    /// Highest in °C.
    pub fn max_c(&self) -> f64 {
        self.hours_c.iter().copied().fold(f64::NEG_INFINITY, f64::max)
    }
}

/// Temperatures of a zone for whole days of its local standard time, none missing.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneTemps {
    first_day: NaiveDate,
    hours_c: Vec<f64>,
    doubt_k: Vec<f64>,
    problems: Vec<TempsProblem>,
}

impl ZoneTemps {
    /// From hourly readings that may have gaps.
    ///
    /// * `first_day` — day of the first reading, which is that of its midnight (local standard time)
    /// * `readings_c` — one per hour in °C, absent where there is none
    /// * `until` — last day wanted; hours after the last reading are assumed
    /// * `simulated_c` — a simulation of the same hours to fill gaps from, where there is one
    ///
    /// Up to three missing hours are drawn as a line. Longer gaps take the simulation, else the mean daily cycle of five
    /// days on either side on a level that moves from one side to the other; beyond three days the days carry a
    /// doubt. Every filled hour is reported.
    ///
    /// # Errors
    /// [`TempsError`] for less than a day of readings or a last day before the first.
    pub fn from_hourly(
        first_day: NaiveDate,
        readings_c: &[Option<f64>],
        until: NaiveDate,
        simulated_c: Option<&[f64]>,
    ) -> Result<Self, TempsError> {
        let days = (until - first_day).num_days() + 1;
        if days < 1 {
            return Err(TempsError::EndsBeforeStart { first_day, until });
        }
        let mut problems = Vec::new();
        let day_of = |index: usize| first_day + Days::new((index / 24) as u64);
        let mut known: Vec<Option<f64>> = readings_c
            .iter()
            .enumerate()
            .map(|(index, reading)| {
                let value_c = (*reading)?;
                if (-60.0..=70.0).contains(&value_c) {
                    return Some(value_c);
                }
                problems.push(TempsProblem::Implausible { date: day_of(index), value_c });
                None
            })
            .collect();
        known.resize(days as usize * 24, None);
        let found = known.iter().flatten().count();
        if found < LEAST_H {
            return Err(TempsError::TooFew { found });
        }
        let mut doubt_k = vec![0.0; days as usize];
        let mut hours_c = Vec::with_capacity(known.len());
        while hours_c.len() < known.len() {
            let from = hours_c.len();
            if let Some(value_c) = known[from] {
                hours_c.push(value_c);
                continue;
            }
            let count = known[from..].iter().take_while(|value| value.is_none()).count();
            let simulated = simulated_c.and_then(|all| all.get(from..from + count));
            let simulated = simulated.filter(|_| count > LONGEST_LINE_H);
            let doubt = match simulated {
                _ if count <= LONGEST_TRUSTED_H => 0.0,
                Some(_) => SIMULATED_DOUBT_K,
                None => ASSUMED_DOUBT_K,
            };
            match simulated {
                Some(values) => hours_c.extend_from_slice(values),
                None => hours_c.extend(bridge(&known, from, count)),
            }
            doubt_k[from / 24..=(from + count - 1) / 24].iter_mut().for_each(|day| *day = doubt.max(*day));
            problems.push(TempsProblem::Assumed {
                from: day_of(from),
                hours: count as u32,
                filled_from: simulated.map_or(FilledFrom::Neighbours, |_| FilledFrom::Simulation),
                doubt_k: doubt,
            });
        }
        Ok(Self { first_day, hours_c, doubt_k, problems })
    }

    /// From daily lowest and highest temperatures, with hours by the curve of [`temp_at_c`].
    ///
    /// * `latitude_deg` — degrees north, for the length of the days
    /// * `first_day` — day of the first pair
    /// * `days_c` — lowest and highest per day in °C, absent where there is none
    /// * `until` — last day wanted
    ///
    /// # Errors
    /// As [`Self::from_hourly`].
    pub fn from_daily(
        latitude_deg: f64,
        first_day: NaiveDate,
        days_c: &[Option<(f64, f64)>],
        until: NaiveDate,
    ) -> Result<Self, TempsError> {
        let mut upside_down = Vec::new();
        let days: Vec<Option<DayExtremes>> = days_c
            .iter()
            .zip(first_day.iter_days())
            .map(|(day, date)| {
                let (min_c, max_c) = (*day)?;
                if min_c > max_c {
                    upside_down.push(TempsProblem::UpsideDown { date });
                    return None;
                }
                let half_h = day_length_h(latitude_deg, date.ordinal()) / 2.0;
                Some(DayExtremes { min_c, max_c, sunrise_h: 12.0 - half_h, sunset_h: 12.0 + half_h })
            })
            .collect();
        let at = |index: Option<usize>| index.and_then(|index| days.get(index).copied().flatten());
        let readings_c: Vec<Option<f64>> = (0..days.len() * 24)
            .map(|hour| {
                let index = hour / 24;
                let today = at(Some(index))?;
                let yesterday = at(index.checked_sub(1)).unwrap_or(today);
                let tomorrow = at(Some(index + 1)).unwrap_or(today);
                Some(temp_at_c(&yesterday, &today, &tomorrow, (hour % 24) as f64, Night::Continuous))
            })
            .collect();
        let mut temps = Self::from_hourly(first_day, &readings_c, until, None)?;
        temps.problems.extend(upside_down);
        Ok(temps)
    }

    /// First day.
    pub fn first_day(&self) -> NaiveDate {
        self.first_day
    }

    /// Last day.
    pub fn last_day(&self) -> NaiveDate {
        self.first_day + Days::new(self.doubt_k.len() as u64 - 1)
    }

    /// What was left out or assumed.
    pub fn problems(&self) -> &[TempsProblem] {
        &self.problems
    }

    /// The days in order.
    pub fn days(&self) -> impl ExactSizeIterator<Item = ZoneDay<'_>> {
        self.hours_c.chunks_exact(24).zip(&self.doubt_k).enumerate().map(|(index, (hours_c, &doubt_k))| {
            ZoneDay { date: self.first_day + Days::new(index as u64), hours_c, doubt_k }
        })
    }
}

/// Values for a gap from what is known around it.
fn bridge(known: &[Option<f64>], from: usize, count: usize) -> Vec<f64> {
    let before = from.checked_sub(1).and_then(|index| known[index]);
    let after = known.get(from + count).copied().flatten();
    let step = |index: usize| (index + 1) as f64 / (count + 1) as f64;
    if let (Some(before), Some(after)) = (before, after)
        && count <= LONGEST_LINE_H
    {
        return (0..count).map(|index| before + (after - before) * step(index)).collect();
    }
    let reach = CYCLE_DAYS * 24;
    let left = cycle(known, from.saturating_sub(reach)..from);
    let right = cycle(known, from + count..(from + count + reach).min(known.len()));
    let Some(any) = left.or(right).or_else(|| cycle(known, 0..known.len())) else { return vec![0.0; count] };
    let (left, right) = (left.or(right).unwrap_or(any), right.or(left).unwrap_or(any));
    (0..count)
        .map(|index| {
            let hour = (from + index) % 24;
            left[hour] + (right[hour] - left[hour]) * step(index)
        })
        .collect()
}

/// Mean of each hour of the day over a stretch; absent where an hour of the day is never known.
fn cycle(known: &[Option<f64>], range: std::ops::Range<usize>) -> Option<[f64; 24]> {
    let mut sums = [(0.0, 0_u32); 24];
    for index in range {
        if let Some(value) = known[index] {
            let slot = &mut sums[index % 24];
            *slot = (slot.0 + value, slot.1 + 1);
        }
    }
    let total = sums.iter().fold((0.0, 0), |all, slot| (all.0 + slot.0, all.1 + slot.1));
    if total.1 == 0 {
        return None;
    }
    // An hour of the day that was never read takes the mean of the rest.
    let mean = total.0 / f64::from(total.1);
    Some(sums.map(|(sum, count)| if count == 0 { mean } else { sum / f64::from(count) }))
}

#[cfg(test)]
#[path = "temps_test.rs"]
mod tests;
