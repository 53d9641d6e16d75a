//! The limit of a zone: that of its most tender planting tonight.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Limits, Part};

/// What a zone may not fall below tonight, and whose limit it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneTonight {
    /// Limit in °C.
    pub limit_c: f64,
    /// The coldest and the warmest that it may be, in °C: over all plantings, so the warm end may be another's.
    pub between_c: (f64, f64),
    /// The planting that sets it.
    pub planting_id: String,
    /// The part of it.
    pub part: Part,
    /// Limit of the next planting in °C, which would rule if this one stood elsewhere; absent for a single one.
    pub next_c: Option<f64>,
}

/// The limit of a zone from those of its plantings, by id; `None` for a zone without plantings.
///
/// Of plantings that stand the same the first in the order given rules.
pub fn zone_tonight<'a>(plantings: impl IntoIterator<Item = (&'a str, &'a Limits)>) -> Option<ZoneTonight> {
    let mut ordered: Vec<(&str, &Limits)> = plantings.into_iter().collect();
    ordered.sort_by(|a, b| b.1.limit_c.total_cmp(&a.1.limit_c));
    let (planting_id, limits) = *ordered.first()?;
    let warmest =
        |end: fn(&Limits) -> f64| ordered.iter().map(|(_, l)| end(l)).fold(f64::NEG_INFINITY, f64::max);
    Some(ZoneTonight {
        limit_c: limits.limit_c,
        between_c: (warmest(|l| l.between_c.0), warmest(|l| l.between_c.1)),
        planting_id: planting_id.to_owned(),
        part: limits.ruled_by,
        next_c: ordered.get(1).map(|(_, next)| next.limit_c),
    })
}
