//! How often a service is asked.

use std::hash::{DefaultHasher, Hash, Hasher};

use chrono::{DateTime, TimeDelta, Utc};

/// Shortest time between two good answers.
const SHORTEST: TimeDelta = TimeDelta::minutes(10);
/// Time between two good answers where the service names none.
const USUAL: TimeDelta = TimeDelta::minutes(30);
/// Longest time between two good answers, whatever the service says.
const LONGEST: TimeDelta = TimeDelta::hours(6);
/// Time after the first failure; it doubles with each further one.
const FIRST_WAIT: TimeDelta = TimeDelta::minutes(5);
/// Longest time after a failure, and that after one that lasts.
const LONGEST_WAIT: TimeDelta = TimeDelta::hours(6);
/// Longest time that a service can ask for.
const LONGEST_ASKED: TimeDelta = TimeDelta::hours(24);
/// Share of a time by which it is drawn out, so that not all programs ask at once.
const JITTER: f64 = 0.25;

/// When to ask again after a good answer that is fresh for a time. `who` names the asker.
pub(super) fn after_success(now: DateTime<Utc>, fresh_for: Option<TimeDelta>, who: &str) -> DateTime<Utc> {
    let wait = fresh_for.unwrap_or(USUAL).clamp(SHORTEST, LONGEST);
    now + wait + drawn(SHORTEST, now, who)
}

/// When to ask again after failures in a row, the last of which asked to be left alone for a time.
pub(super) fn after_failure(
    now: DateTime<Utc>,
    failures: u32,
    lasting: bool,
    retry_after: Option<TimeDelta>,
    who: &str,
) -> DateTime<Utc> {
    let doublings = failures.saturating_sub(1).min(10);
    let grown = (FIRST_WAIT * (1 << doublings)).min(LONGEST_WAIT);
    let wait = if lasting { LONGEST_WAIT } else { grown };
    let asked = retry_after.unwrap_or_default().min(LONGEST_ASKED);
    now + wait.max(asked) + drawn(wait, now, who)
}

/// Up to a quarter of a time, by a draw that asker and instant alone decide.
fn drawn(span: TimeDelta, now: DateTime<Utc>, who: &str) -> TimeDelta {
    let mut hasher = DefaultHasher::new();
    (who, now.timestamp()).hash(&mut hasher);
    let share = hasher.finish() as f64 / u64::MAX as f64;
    TimeDelta::seconds((span.num_seconds() as f64 * JITTER * share) as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn now() -> DateTime<Utc> {
        "2026-11-25T18:00:00Z".parse().unwrap()
    }

    #[test]
    fn waits_double_up_to_six_hours() {
        let waits: Vec<i64> = (1..=12)
            .map(|failures| (after_failure(now(), failures, false, None, "a") - now()).num_minutes())
            .collect();
        for (failures, wait) in waits.iter().enumerate() {
            let least = (5 << failures.min(10)).min(360);
            assert!((least..=least + least / 4).contains(wait), "{failures}: {waits:?}");
        }
    }

    #[test]
    fn the_service_is_left_alone_for_as_long_as_it_asks() {
        let asked = |minutes| after_failure(now(), 1, false, Some(TimeDelta::minutes(minutes)), "a") - now();
        assert!(asked(90) >= TimeDelta::minutes(90) && asked(90) < TimeDelta::minutes(92));
        assert!(asked(0) >= FIRST_WAIT);
        // An absurd wish is cut.
        assert!(asked(60 * 24 * 365) <= TimeDelta::hours(25));
    }

    #[test]
    fn what_lasts_is_not_asked_again_for_hours() {
        assert!(after_failure(now(), 1, true, None, "a") - now() >= TimeDelta::hours(6));
    }

    #[test]
    fn a_good_answer_stands_as_long_as_it_says() {
        let stands = |fresh_for| after_success(now(), fresh_for, "a") - now();
        let within =
            |span: TimeDelta, least: TimeDelta| span >= least && span <= least + TimeDelta::minutes(3);
        assert!(within(stands(None), USUAL));
        assert!(within(stands(Some(TimeDelta::hours(1))), TimeDelta::hours(1)));
        assert!(within(stands(Some(TimeDelta::seconds(-30))), SHORTEST));
        assert!(within(stands(Some(TimeDelta::days(30))), LONGEST));
    }

    #[test]
    fn askers_do_not_come_at_once() {
        let waits: std::collections::BTreeSet<_> =
            (0..20).map(|who| after_success(now(), None, &who.to_string())).collect();
        assert!(waits.len() > 15, "{waits:?}");
    }
}
