//! The days of a zone as plants feel them: means, chill so far, heat.

use chrono::NaiveDate;

use super::temps::ZoneTemps;
use crate::plant::chill::{Chill, ChillTotal};
use crate::plant::heat_sum::HeatCurve;

/// A day's figures that do not depend on the plant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct DayFigures {
    pub(super) date: NaiveDate,
    pub(super) mean_c: f64,
    pub(super) min_c: f64,
    pub(super) max_c: f64,
    pub(super) doubt_k: f64,
    pub(super) root_mean_c: f64,
    /// Chill since the first day, this one included.
    pub(super) chill: Chill,
}

/// A zone's season, worked out once for all plantings in it.
#[derive(Debug, Clone)]
pub struct ZoneSeason<'a> {
    pub(super) temps: &'a ZoneTemps,
    pub(super) days: Vec<DayFigures>,
    pub(super) roots_measured: bool,
}

impl<'a> ZoneSeason<'a> {
    /// Works out chill and means.
    ///
    /// * `temps` — air of the zone
    /// * `roots` — temperatures inside the pots, where they are measured or simulated; else the daily mean of the air
    ///   stands for them, and so it does on days that they do not cover
    pub fn new(temps: &'a ZoneTemps, roots: Option<&ZoneTemps>) -> Self {
        let mut total = ChillTotal::default();
        let root_means: std::collections::BTreeMap<NaiveDate, f64> =
            roots.into_iter().flat_map(ZoneTemps::days).map(|day| (day.date, day.mean_c())).collect();
        let days = temps
            .days()
            .map(|day| {
                day.hours_c.iter().for_each(|&temp_c| total.add(temp_c));
                let mean_c = day.mean_c();
                DayFigures {
                    date: day.date,
                    mean_c,
                    min_c: day.min_c(),
                    max_c: day.max_c(),
                    doubt_k: day.doubt_k,
                    root_mean_c: root_means.get(&day.date).copied().unwrap_or(mean_c),
                    chill: total.chill(),
                }
            })
            .collect();
        Self { temps, days, roots_measured: roots.is_some() }
    }

    /// Growing degree hours of each day over a base in °C: as read, and shifted up and down by the day's doubt.
    pub(super) fn heat_gdh(&self, base_c: f64) -> Vec<[f64; 3]> {
        let curve = HeatCurve::with_base(base_c);
        let sum = |hours_c: &[f64], shift_k: f64| {
            hours_c.iter().map(|temp_c| curve.degree_hours(temp_c + shift_k)).sum::<f64>()
        };
        self.temps
            .days()
            .map(|day| {
                let middle = sum(day.hours_c, 0.0);
                if day.doubt_k == 0.0 {
                    [middle; 3]
                } else {
                    [sum(day.hours_c, day.doubt_k), middle, sum(day.hours_c, -day.doubt_k)]
                }
            })
            .collect()
    }
}
