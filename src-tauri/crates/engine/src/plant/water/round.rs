//! Looks at single plantings gathered into as few rounds as harm none.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A planting that wants to be looked at within a span.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Due {
    /// The planting.
    pub planting_id: String,
    /// The zone it stands in.
    pub zone_id: String,
    /// First day on which a look is of use.
    pub earliest: NaiveDate,
    /// Last day on which a look does no harm.
    pub latest: NaiveDate,
}

/// A round through the zones on one day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Round {
    /// The day.
    pub on: NaiveDate,
    /// Plantings to look at, by zone.
    pub zones: BTreeMap<String, Vec<String>>,
}

/// The fewest rounds that reach every planting within its span.
///
/// Each round falls on the earliest of the last days not yet served and takes in every planting whose span has begun: the
/// greedy cover of intervals by points, which is the smallest there is. A span upside down counts as its last day.
pub fn rounds(due: &[Due]) -> Vec<Round> {
    let mut waiting: Vec<&Due> = due.iter().collect();
    waiting
        .sort_by(|a, b| (a.latest, &a.zone_id, &a.planting_id).cmp(&(b.latest, &b.zone_id, &b.planting_id)));
    let mut found: Vec<Round> = Vec::new();
    for due in waiting {
        let begins = due.earliest.min(due.latest);
        if found.last().is_none_or(|round| round.on < begins) {
            found.push(Round { on: due.latest, zones: BTreeMap::new() });
        }
        if let Some(round) = found.last_mut() {
            round.zones.entry(due.zone_id.clone()).or_default().push(due.planting_id.clone());
        }
    }
    found
}
