//! The grower's working time, and what is planned for it.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use super::{Figure, PlanInput, PlanProblem, Reason};
use crate::site::WorkTime;

/// Minutes planned by day, against the minutes there are.
#[derive(Clone)]
pub(super) struct Ledger<'a> {
    work: &'a WorkTime,
    available: u32,
    /// Nothing is planned before the season, or before the grower began.
    pub(super) starts_on: NaiveDate,
    /// Nothing slips past the season.
    pub(super) ends_on: NaiveDate,
    planned: BTreeMap<NaiveDate, u32>,
    /// Days that took more than they have, with the chore that did it.
    overloaded: BTreeMap<NaiveDate, String>,
}

impl<'a> Ledger<'a> {
    pub(super) fn new(input: &PlanInput<'a>) -> Self {
        let PlanInput { site, season, began_on, .. } = input;
        let work = &site.work;
        let available = (work.hours_per_day * 60.0).round() as u32;
        Self {
            work,
            available,
            starts_on: began_on.map_or(season.starts_on, |began| began.max(season.starts_on)),
            ends_on: season.ends_on,
            planned: BTreeMap::new(),
            overloaded: BTreeMap::new(),
        }
    }

    pub(super) fn is_work_day(&self, date: NaiveDate) -> bool {
        self.work.days.is_empty() || self.work.days.contains(&date.weekday())
    }

    pub(super) fn load(&self, date: NaiveDate) -> u32 {
        self.planned.get(&date).copied().unwrap_or_default()
    }

    pub(super) fn book(&mut self, date: NaiveDate, minutes: u32) {
        let load = self.planned.entry(date).or_default();
        *load = load.saturating_add(minutes);
    }

    /// The free minutes, by day, that a chore begun on a day takes; `None` where it cannot be begun then or not
    /// be finished in time. A chore longer than a day begins on an empty one and goes on over the next work days.
    pub(super) fn slots(
        &self,
        date: NaiveDate,
        minutes: u32,
        finish_by: NaiveDate,
    ) -> Option<Vec<(NaiveDate, u32)>> {
        if !self.is_work_day(date) {
            return None;
        }
        if minutes <= self.available {
            return (self.load(date).saturating_add(minutes) <= self.available)
                .then(|| vec![(date, minutes)]);
        }
        let mut left = minutes;
        let mut slots = Vec::new();
        for day in date.iter_days().take_while(|day| *day <= finish_by).filter(|&day| self.is_work_day(day)) {
            let free = self.available.saturating_sub(self.load(day)).min(left);
            if day == date && free < self.available {
                return None;
            }
            if free > 0 {
                slots.push((day, free));
                left -= free;
            }
            if left == 0 {
                return Some(slots);
            }
        }
        None
    }

    /// Books more than a day has, and remembers for what.
    pub(super) fn overload(&mut self, date: NaiveDate, minutes: u32, title: &str) {
        self.book(date, minutes);
        self.overloaded.entry(date).or_insert_with(|| title.to_owned());
    }

    /// The days that were given more than they have.
    pub(super) fn problems(&self) -> impl Iterator<Item = PlanProblem> {
        self.overloaded.iter().map(|(&day, about)| PlanProblem {
            about: about.clone(),
            reason: Reason::new("problem-overload")
                .with("date", Figure::Date(day))
                .with("minutes", Figure::Count(self.load(day)))
                .with("available", Figure::Count(self.available)),
        })
    }
}
