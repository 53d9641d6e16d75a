//! What the missing nights of a season may hide.

use std::ops::Range;

use super::{Climate, SeasonDay, SeasonLows};

/// Highest chance that missing nights hid an event, for a season to be judged all the same.
///
/// One night missing in high summer costs nothing, one night missing just before a first freeze costs its full
/// chance. One in five keeps seasons with a stray missing night and drops those with a gap of several days in
/// the weeks that matter.
const TOLERATED: f64 = 0.2;

/// Slots of a season for which there is a date but no low.
fn missing<'a>(
    climate: &'a Climate,
    season: &'a SeasonLows,
    slots: Range<usize>,
) -> impl Iterator<Item = SeasonDay> + 'a {
    slots
        .filter(|&slot| season.lows_c[slot].is_none())
        .map(SeasonDay::from_index)
        .filter(|day| day.is_in(season.start_year, climate.hemisphere()))
}

/// Whether the missing nights of a span leave it likely enough that none of them was at or below a threshold.
///
/// The chance that at least one was is `1 − Π(1 − q)` over the missing nights, with `q` the chance of a night at
/// or below the threshold on that date over all seasons. Nights are taken as independent, which overstates
/// the chance and so errs towards leaving a season out.
pub(super) fn can_be_judged(
    climate: &Climate,
    season: &SeasonLows,
    slots: Range<usize>,
    threshold_c: f64,
) -> bool {
    let none_hidden: f64 = missing(climate, season, slots)
        .map(|day| 1.0 - climate.lows().chance_at_or_below(day, threshold_c))
        .product();
    1.0 - none_hidden <= TOLERATED
}

/// Number of nights at or below a threshold to be expected among the missing nights of a season.
pub(super) fn expected_hidden(climate: &Climate, season: &SeasonLows, threshold_c: f64) -> f64 {
    missing(climate, season, 0..SeasonDay::SLOTS)
        .map(|day| climate.lows().chance_at_or_below(day, threshold_c))
        .sum()
}
