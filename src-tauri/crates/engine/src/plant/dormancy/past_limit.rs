//! Nights on which a planting was colder than it stood: what a loss points back to.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Course, Part, PartLimit};

/// A day on which a part was at or below its limit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct PastLimit {
    /// The day.
    pub date: NaiveDate,
    /// The part.
    pub part: Part,
    /// How cold it was, °C: the zone's lowest for shoots, the mean of the root ball for roots.
    pub temp_c: f64,
    /// What the part stood that day, °C.
    pub limit_c: f64,
    /// Whether it was cold enough for a likely loss.
    pub likely_loss: bool,
    /// Whether it was past the limit even at the cold end of the doubt.
    pub beyond_doubt: bool,
}

impl PastLimit {
    /// Kelvin below the limit.
    pub fn below_k(&self) -> f64 {
        self.limit_c - self.temp_c
    }
}

impl Course<'_> {
    /// Days from one to another on which shoots or roots were at or below what they stood then, deepest below first.
    ///
    /// * `from` — day on which the planting was last known to be well
    /// * `to` — day on which the loss was found
    ///
    /// A day within the temperatures alone does not prove a cause: it is where to look.
    pub fn nights_past_limit(&self, from: NaiveDate, to: NaiveDate) -> Vec<PastLimit> {
        let mut found: Vec<PastLimit> = self
            .days
            .iter()
            .filter(|day| (from..=to).contains(&day.date))
            .filter_map(|day| Some((day, self.limits_on(day.date)?)))
            .flat_map(|(day, limits)| {
                let past = |part: Part, limit: Option<PartLimit>, temp_c: f64| {
                    let limit = limit.filter(|limit| temp_c <= limit.limit_c)?;
                    Some(PastLimit {
                        date: day.date,
                        part,
                        temp_c,
                        limit_c: limit.limit_c,
                        likely_loss: limit.likely_loss_c.is_some_and(|loss_c| temp_c <= loss_c),
                        beyond_doubt: temp_c <= limit.between_c.0,
                    })
                };
                [
                    past(Part::Shoots, limits.shoots, day.zone_min_c),
                    past(Part::Roots, limits.roots, day.root_mean_c),
                ]
            })
            .flatten()
            .collect();
        found.sort_by(|a, b| b.below_k().total_cmp(&a.below_k()).then(a.date.cmp(&b.date)));
        found
    }
}
