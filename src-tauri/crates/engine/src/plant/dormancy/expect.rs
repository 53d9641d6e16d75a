//! When a planting will wake, over several possible futures.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A date that is expected, with its interval.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Expected {
    /// Earliest of nine futures in ten, with the model's doubt on the early side.
    pub early: NaiveDate,
    /// Median of the futures.
    pub median: NaiveDate,
    /// Latest of nine futures in ten, with the model's doubt on the late side; absent when more futures than that do not
    /// get there within their temperatures.
    pub late: Option<NaiveDate>,
    /// Share of futures that get there within their temperatures, as expected.
    pub share: f64,
}

/// The date of an event from its earliest, expected and latest day in each of several futures, such as the winters of a
/// climate record carried on from today ([`super::Course::swell_on`], [`super::Course::leaf_on`]).
///
/// `None` when the event comes in less than half of the futures.
pub fn expected(futures: &[[Option<NaiveDate>; 3]]) -> Option<Expected> {
    let dates = |index: usize| {
        let mut dates: Vec<Option<NaiveDate>> = futures.iter().map(|future| future[index]).collect();
        // A future that does not get there comes last.
        dates.sort_by_key(|date| date.unwrap_or(NaiveDate::MAX));
        dates
    };
    let at = |dates: &[Option<NaiveDate>], share: f64| {
        let rank = (share * dates.len() as f64).ceil().max(1.0) as usize - 1;
        dates.get(rank).copied().flatten()
    };
    let middle = dates(1);
    let median = at(&middle, 0.5)?;
    Some(Expected {
        early: at(&dates(0), 0.05).unwrap_or(median),
        median,
        late: at(&dates(2), 0.95),
        share: middle.iter().flatten().count() as f64 / middle.len() as f64,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn april(day: u32) -> Option<NaiveDate> {
        NaiveDate::from_ymd_opt(2027, 4, day)
    }

    #[test]
    fn the_interval_spans_nine_futures_in_ten_with_the_doubt() {
        let futures: Vec<_> = (1..=20).map(|day| [april(day), april(day + 5), april(day + 8)]).collect();
        let found = expected(&futures).unwrap();
        assert_eq!((Some(found.early), Some(found.median), found.late), (april(1), april(15), april(27)));
        assert_eq!(found.share, 1.0);
    }

    #[test]
    fn futures_that_do_not_get_there_count() {
        let mut futures = vec![[april(1), april(2), None]; 3];
        futures.push([None; 3]);
        let found = expected(&futures).unwrap();
        assert_eq!((found.share, found.late), (0.75, None));
        futures.extend([[None; 3]; 4]);
        assert_eq!(expected(&futures), None, "less than half");
        assert_eq!(expected(&[]), None);
    }
}
