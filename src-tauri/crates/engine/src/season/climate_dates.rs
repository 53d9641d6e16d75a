//! Dates that a climate gives for a limit, each computed once.

use std::cell::RefCell;
use std::collections::HashMap;

use crate::climate::{Climate, SeasonDay, freeze};
use crate::season::{Event, Trend};

/// A question to the climate. Limits are in tenths of a degree, as records are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Asked {
    Freeze(Event, i32, u64),
    Low(Trend, i32, u64),
}

/// The climate's answers, remembered: many plantings share few limits.
pub(super) struct ClimateDates<'a> {
    climate: &'a Climate,
    coldest: Option<usize>,
    known: RefCell<HashMap<Asked, Option<SeasonDay>>>,
}

impl<'a> ClimateDates<'a> {
    pub(super) fn new(climate: &'a Climate) -> Self {
        Self { climate, coldest: coldest_night(climate), known: RefCell::default() }
    }

    /// Whether anything is known of the nights.
    pub(super) fn knows_nights(&self) -> bool {
        self.coldest.is_some()
    }

    /// The date by which a freeze event has come with this chance (autumn), or after which it still comes with
    /// this chance (spring).
    pub(super) fn freeze(&self, event: Event, limit_c: f64, chance: f64) -> Option<SeasonDay> {
        self.remembered(Asked::Freeze(event, tenths(limit_c), chance.to_bits()), || {
            let dates = match event {
                Event::FirstAutumn => freeze::first_autumn(self.climate, limit_c),
                Event::LastSpring => freeze::last_spring(self.climate, limit_c),
            };
            dates.date_with_chance(chance)
        })
    }

    /// The date from which (autumn) a single night gets as cold as a limit with at least a chance, or from which
    /// (spring) it does so with less.
    ///
    /// Autumn is searched from the mildest date before the coldest night of the year and spring up to the mildest
    /// date after it, so that a cool spell in early summer is not taken for autumn. Where the season begins with
    /// nights that cold, the autumn date is its first day; where spring never gets rid of them, or no night is
    /// ever that cold, there is none.
    pub(super) fn low(&self, trend: Trend, limit_c: f64, chance: f64) -> Option<SeasonDay> {
        self.remembered(Asked::Low(trend, tenths(limit_c), chance.to_bits()), || {
            let coldest = self.coldest?;
            let cold =
                |slot: usize| self.climate.lows().chance_at_or_below(SeasonDay::from_index(slot), limit_c);
            match trend {
                Trend::Falling => {
                    let mildest = (0..=coldest).min_by(|&a, &b| cold(a).total_cmp(&cold(b)))?;
                    if cold(mildest) >= chance {
                        return Some(SeasonDay::from_index(0));
                    }
                    (mildest..=coldest).find(|&slot| cold(slot) >= chance)
                }
                Trend::Rising => {
                    let mildest =
                        (coldest..SeasonDay::SLOTS).rev().min_by(|&a, &b| cold(a).total_cmp(&cold(b)))?;
                    if cold(mildest) >= chance {
                        return None;
                    }
                    (coldest..=mildest).rev().find(|&slot| cold(slot) >= chance).map(|slot| slot + 1)
                }
            }
            .map(SeasonDay::from_index)
        })
    }

    fn remembered(&self, asked: Asked, find: impl FnOnce() -> Option<SeasonDay>) -> Option<SeasonDay> {
        if let Some(&found) = self.known.borrow().get(&asked) {
            return found;
        }
        let found = find();
        self.known.borrow_mut().insert(asked, found);
        found
    }
}

fn tenths(limit_c: f64) -> i32 {
    (limit_c * 10.0).round() as i32
}

/// The slot with the lowest median low.
fn coldest_night(climate: &Climate) -> Option<usize> {
    let median = |slot| climate.lows().quantile_c(SeasonDay::from_index(slot), 0.5);
    (0..SeasonDay::SLOTS)
        .filter_map(|slot| median(slot).map(|low_c| (slot, low_c)))
        .min_by(|(_, a), (_, b)| a.total_cmp(b))
        .map(|(slot, _)| slot)
}
