//! First autumn and last spring nights at or below a threshold.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use statrs::distribution::{Continuous, ContinuousCDF, Normal, StudentsT};
use ts_rs::TS;

use super::gaps::can_be_judged;
use super::lows::tenths;
use super::ranks::{mixed_chance, mixed_quantile};
use super::{Climate, SeasonDay, SeasonLows};
use crate::season::Event;
use crate::site::Hemisphere;

/// Dates of one freeze event over the seasons of a climate.
///
/// Chances mean what they mean in the freeze probability tables of NOAA (Climatography of the United States
/// No. 20): in autumn the chance that the event comes **on or before** a date, in spring the chance that it
/// comes **later**. So the 10 % date of spring is the late one, and that of autumn the early one.
#[derive(Debug, Clone, PartialEq)]
pub struct FreezeDates {
    /// Threshold in °C.
    pub threshold_c: f64,
    /// First in autumn or last in spring.
    pub event: Event,
    /// Seasons that could be judged, with the event or without.
    pub seasons: usize,
    /// Of these, seasons with the event.
    pub seasons_with: usize,
    /// Its dates, ascending.
    pub days: Vec<SeasonDay>,
    /// Winters that the estimate is worth.
    worth: usize,
}

/// A date of the season with the interval in which it lies in 90 of 100 cases.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DayInterval {
    /// Estimate.
    pub day: SeasonDay,
    /// Early end.
    pub from: SeasonDay,
    /// Late end.
    pub to: SeasonDay,
}

/// A date with the interval in which it lies in 90 of 100 cases, given so many years.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct DateInterval {
    /// Estimate.
    pub date: NaiveDate,
    /// Early end.
    pub from: NaiveDate,
    /// Late end.
    pub to: NaiveDate,
}

/// First night of each season at or below a threshold in °C.
///
/// A season counts when the nights missing before the event (or, without one, in the whole season) hardly hid
/// an earlier one.
pub fn first_autumn(climate: &Climate, threshold_c: f64) -> FreezeDates {
    collect(climate, threshold_c, Event::FirstAutumn)
}

/// Last night of each season at or below a threshold in °C; seasons count as in [`first_autumn`].
pub fn last_spring(climate: &Climate, threshold_c: f64) -> FreezeDates {
    collect(climate, threshold_c, Event::LastSpring)
}

fn collect(climate: &Climate, threshold_c: f64, event: Event) -> FreezeDates {
    let judged: Vec<Option<SeasonDay>> =
        climate.seasons().iter().filter_map(|season| judge(climate, season, threshold_c, event)).collect();
    let mut days: Vec<SeasonDay> = judged.iter().copied().flatten().collect();
    days.sort_unstable();
    FreezeDates {
        threshold_c,
        event,
        seasons: judged.len(),
        seasons_with: days.len(),
        days,
        worth: climate.worth(judged.len()),
    }
}

/// The event of one season: `None` when it cannot be judged, `Some(None)` when it did not occur.
pub(super) fn judge(
    climate: &Climate,
    season: &SeasonLows,
    threshold_c: f64,
    event: Event,
) -> Option<Option<SeasonDay>> {
    let reaches = |low: &Option<f64>| low.is_some_and(|low_c| tenths(low_c) <= tenths(threshold_c));
    let found = match event {
        Event::FirstAutumn => season.lows_c.iter().position(reaches),
        Event::LastSpring => season.lows_c.iter().rposition(reaches),
    };
    let unseen = match (event, found) {
        (_, None) => 0..SeasonDay::SLOTS,
        (Event::FirstAutumn, Some(slot)) => 0..slot,
        (Event::LastSpring, Some(slot)) => slot + 1..SeasonDay::SLOTS,
    };
    can_be_judged(climate, season, unseen, threshold_c).then(|| found.map(SeasonDay::from_index))
}

impl FreezeDates {
    /// Share of seasons with the event, 0 to 1.
    pub fn share_with(&self) -> f64 {
        if self.seasons == 0 { 0.0 } else { self.seasons_with as f64 / self.seasons as f64 }
    }

    /// The date with a chance `p`, 0 to 1: of coming on or before it in autumn, of coming later in spring.
    ///
    /// `None` where fewer seasons have the event, or none could be judged.
    pub fn date_with_chance(&self, p: f64) -> Option<SeasonDay> {
        self.position(p).map(nearest)
    }

    /// [`date_with_chance`](Self::date_with_chance) before rounding to a whole day, as a fractional index.
    ///
    /// Seasons without the event count as later than every date in autumn and as earlier in spring (mixed
    /// distribution); dates are ranked by plotting position `m / (n + 1)`.
    pub fn position(&self, p: f64) -> Option<f64> {
        let found = mixed_quantile(&self.ranked(), self.seasons, p)?;
        Some(self.sign() * found)
    }

    /// Chance, 0 to 1, that the event comes on or before a date in autumn, or later than it in spring: the
    /// inverse of [`date_with_chance`](Self::date_with_chance). Outside the observed dates it stays at the
    /// values of the outermost one and 0.
    pub fn chance_by(&self, day: SeasonDay) -> f64 {
        if self.seasons == 0 {
            return 0.0;
        }
        mixed_chance(&self.ranked(), self.seasons, self.sign() * day.index() as f64)
    }

    /// [`date_with_chance`](Self::date_with_chance) with its 90 % interval; `None` also where fewer than three
    /// seasons have the event.
    ///
    /// Half width `t · s/(π φ(z)) · √(p(1 − p)/n)`: the large-sample variance of a quantile (David & Nagaraja,
    /// Order Statistics, 3rd ed. 2003, §10.2) of `n` seasons with the density of a normal distribution of the
    /// event dates (spread `s`, share of seasons with the event `π`, `z` the normal quantile of `p/π`), and
    /// Student's t for the few years that the spread rests on.
    pub fn interval(&self, p: f64) -> Option<DayInterval> {
        if self.seasons_with < 3 {
            return None;
        }
        let centre = self.position(p)?;
        let share = self.share_with();
        let ends = 1.0 / (self.seasons_with + 1) as f64;
        let z_level = (p / share).clamp(ends, 1.0 - ends);
        let normal = Normal::standard();
        let density = share * normal.pdf(normal.inverse_cdf(z_level)) / self.spread_days();
        let freedom = (self.worth.min(self.seasons_with) - 1) as f64;
        let t = StudentsT::new(0.0, 1.0, freedom).map_or(f64::INFINITY, |student| student.inverse_cdf(0.95));
        let half = t * (p * (1.0 - p) / self.worth as f64).sqrt() / density;
        let last = (SeasonDay::SLOTS - 1) as f64;
        Some(DayInterval {
            day: nearest(centre),
            from: nearest((centre - half).max(0.0)),
            to: nearest((centre + half).min(last)),
        })
    }

    /// Standard deviation of the dates in days, at least the one that dates within one day have.
    fn spread_days(&self) -> f64 {
        let count = self.days.len() as f64;
        let mean = self.days.iter().map(|day| day.index() as f64).sum::<f64>() / count;
        let squares: f64 = self.days.iter().map(|day| (day.index() as f64 - mean).powi(2)).sum();
        (squares / (count - 1.0)).sqrt().max(1.0)
    }

    /// Ascending in the direction in which seasons without the event come last.
    fn ranked(&self) -> Vec<f64> {
        let index = |day: &SeasonDay| self.sign() * day.index() as f64;
        match self.event {
            Event::FirstAutumn => self.days.iter().map(index).collect(),
            Event::LastSpring => self.days.iter().rev().map(index).collect(),
        }
    }

    fn sign(&self) -> f64 {
        match self.event {
            Event::FirstAutumn => 1.0,
            Event::LastSpring => -1.0,
        }
    }
}

impl DayInterval {
    /// The dates in the season that starts in `start_year`.
    pub fn dates(self, start_year: i32, hemisphere: Hemisphere) -> DateInterval {
        DateInterval {
            date: self.day.date(start_year, hemisphere),
            from: self.from.date(start_year, hemisphere),
            to: self.to.date(start_year, hemisphere),
        }
    }
}

fn nearest(position: f64) -> SeasonDay {
    SeasonDay::from_index((position.round().max(0.0) as usize).min(SeasonDay::SLOTS - 1))
}
