//! Nights per season at or below a threshold.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::gaps::expected_hidden;
use super::lows::tenths;
use super::ranks::quantile;
use super::{Climate, SeasonDay};

/// Nights per season at or below a threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FreezeNights {
    /// Threshold in °C.
    pub threshold_c: f64,
    /// Seasons that could be judged.
    pub seasons: u32,
    /// Mean.
    pub mean: f64,
    /// 10 % quantile over seasons.
    pub low: f64,
    /// 90 % quantile over seasons.
    pub high: f64,
}

/// Largest part of the nights expected in a whole season that may fall on missing nights.
const HIDDEN_SHARE: f64 = 0.05;

/// Counts the nights at or below a threshold in °C in each season that is complete enough.
///
/// Missing nights add their chance of being at or below the threshold. A season counts when that addition is at
/// most a twentieth of what is expected of a whole season. `None` when no season counts.
pub fn freeze_nights(climate: &Climate, threshold_c: f64) -> Option<FreezeNights> {
    let whole: f64 = (0..SeasonDay::SLOTS)
        .map(|slot| climate.lows().chance_at_or_below(SeasonDay::from_index(slot), threshold_c))
        .sum();
    let mut counts: Vec<f64> = climate
        .seasons()
        .iter()
        .filter_map(|season| {
            let counted =
                season.lows_c.iter().flatten().filter(|&&low_c| tenths(low_c) <= tenths(threshold_c)).count()
                    as f64;
            let hidden = expected_hidden(climate, season, threshold_c);
            (hidden <= HIDDEN_SHARE * whole).then_some(counted + hidden)
        })
        .collect();
    counts.sort_unstable_by(f64::total_cmp);
    Some(FreezeNights {
        threshold_c,
        seasons: counts.len() as u32,
        mean: counts.iter().sum::<f64>() / counts.len() as f64,
        low: quantile(&counts, 0.1)?,
        high: quantile(&counts, 0.9)?,
    })
}
