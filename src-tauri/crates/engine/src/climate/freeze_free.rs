//! Length of the freeze-free season.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::Climate;
use super::freeze::judge;
use super::ranks::mixed_quantile;
use crate::season::Event;

/// Days from the last spring to the first autumn occurrence of a threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FreezeFreeSeason {
    /// Threshold in °C.
    pub threshold_c: f64,
    /// Summers that could be judged.
    pub summers: u32,
    /// Days that one summer in ten exceeds.
    pub p10_days: Option<f64>,
    /// Median in days.
    pub p50_days: Option<f64>,
    /// Days that nine summers in ten exceed.
    pub p90_days: Option<f64>,
}

/// Measures each summer from the last event of one season to the first of the next.
///
/// A summer without an event on one of its sides has no end and counts as longer than all others. The median is
/// that of the lengths, which is not the difference of the median dates.
pub fn freeze_free_season(climate: &Climate, threshold_c: f64) -> FreezeFreeSeason {
    let summers: Vec<Option<i64>> = climate
        .seasons()
        .windows(2)
        .filter(|pair| pair[0].start_year + 1 == pair[1].start_year)
        .filter_map(|pair| {
            let last = judge(climate, &pair[0], threshold_c, Event::LastSpring)?;
            let first = judge(climate, &pair[1], threshold_c, Event::FirstAutumn)?;
            Some(last.zip(first).map(|(last, first)| {
                let from = last.date(pair[0].start_year, climate.hemisphere());
                (first.date(pair[1].start_year, climate.hemisphere()) - from).num_days()
            }))
        })
        .collect();
    let mut lengths: Vec<f64> = summers.iter().flatten().map(|&days| days as f64).collect();
    lengths.sort_unstable_by(f64::total_cmp);
    let exceeded_by = |p: f64| mixed_quantile(&lengths, summers.len(), 1.0 - p);
    FreezeFreeSeason {
        threshold_c,
        summers: summers.len() as u32,
        p10_days: exceeded_by(0.1),
        p50_days: exceeded_by(0.5),
        p90_days: exceeded_by(0.9),
    }
}
