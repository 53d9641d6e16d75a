//! What must hold for every plan, whatever garden, chores and marks it is made from.

use std::collections::BTreeMap;

use chrono::{Days, NaiveDate, Weekday};
use proptest::prelude::*;
use proptest::sample::{Index, select, subsequence};

use super::fixture::{Garden, chore, date, on, planting};
use super::{ChoreCatalogue, ChoreState, MarkKind, Plan};
use crate::plant::Container;

/// A hundred plans for each property keep the suite fast; failures shrink to a small garden.
fn config() -> ProptestConfig {
    ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() }
}

prop_compose! {
    /// Chores on calendar dates that wait for earlier ones, some of them killing.
    fn rules()(
        parts in prop::collection::vec(
            (
                select(vec!["site", "shelter", "zone", "planting"]),
                0u64..120,
                1u32..300,
                prop::option::of((0u64..25, any::<bool>())),
                prop::option::of(0u64..15),
                prop::collection::vec(any::<Index>(), 0..3),
                prop::option::of(5u32..40),
            ),
            1..12,
        )
    ) -> String {
        let day = |offset: u64| (date("2026-08-15") + Days::new(offset)).format("%m-%d").to_string();
        parts
            .iter()
            .enumerate()
            .map(|(number, (scope, best, minutes, latest, earliest, after, every))| {
                let mut lines = format!("minutes = {minutes}\n");
                if let Some((grace, killing)) = latest {
                    lines += &format!("when.latest = [{}]\nwhen.killing = {killing}\n", on(&day(best + grace)));
                }
                if let Some(lead) = earliest {
                    lines += &format!("when.earliest = [{}]\n", on(&day(best.saturating_sub(*lead))));
                }
                if number > 0 {
                    let mut keys: Vec<String> =
                        after.iter().map(|index| format!("\"job-{}\"", index.index(number))).collect();
                    keys.sort_unstable();
                    keys.dedup();
                    lines += &format!("after = [{}]\n", keys.join(", "));
                }
                if let Some(every) = every {
                    lines += &format!("repeat = {{ every_days = {every}, until = {} }}\n", on("12-24"));
                }
                chore(&format!("job-{number}"), scope, &day(*best), &lines)
            })
            .collect()
    }
}

prop_compose! {
    /// The fixture's shelters with other plants and another week.
    fn garden(rules: BoxedStrategy<Option<String>>)(
        rules in rules,
        plants in prop::collection::vec(
            (
                select(vec!["citrus-limon", "olea-europaea", "dahlia", "acer-palmatum", "pelargonium-zonal"]),
                prop::option::of(select(vec!["bench", "corner", "shelf"])),
                1u32..5,
                prop::option::of(-10.0f64..8.0),
            ),
            0..6,
        ),
        days in subsequence(
            vec![Weekday::Mon, Weekday::Tue, Weekday::Wed, Weekday::Thu, Weekday::Fri, Weekday::Sat, Weekday::Sun],
            0..7,
        ),
        hours in 0.5f64..8.0,
        began in prop::option::of(0u64..300),
    ) -> Garden {
        let mut garden = rules.map_or_else(Garden::new, |rules| Garden::with_rules(&rules));
        garden.plantings = plants
            .into_iter()
            .enumerate()
            .map(|(number, (plant, zone, count, own_limit_c))| {
                let pot = Container::Pot { volume_l: 20.0 };
                let mut planting = planting(&format!("p{number}"), plant, zone, pot);
                planting.count = count;
                planting.own_limit_c = own_limit_c;
                planting
            })
            .collect();
        garden.site.work.days = days;
        garden.site.work.hours_per_day = hours;
        garden.began_on = began.map(|days| date("2026-07-15") + Days::new(days));
        garden
    }
}

fn any_garden() -> impl Strategy<Value = Garden> {
    garden(prop_oneof![4 => rules().prop_map(Some), 1 => Just(None)].boxed())
}

prop_compose! {
    /// A garden in which something was done, skipped and moved.
    fn marked_garden()(
        mut garden in any_garden(),
        marks in prop::collection::vec((any::<Index>(), 0u8..3, -20i64..20), 0..12),
    ) -> Garden {
        let plan = garden.plan();
        if plan.chores.is_empty() {
            return garden;
        }
        for (index, kind, shift) in marks {
            let chore = index.get(&plan.chores);
            let on = chore.due_on + chrono::TimeDelta::days(shift);
            let kind = match kind {
                0 => MarkKind::Done { on },
                1 => MarkKind::Skipped { on, reason: "no need".into() },
                _ => MarkKind::Moved { to: on },
            };
            garden.mark(&chore.key, kind);
        }
        garden
    }
}

fn due(plan: &Plan) -> BTreeMap<&str, NaiveDate> {
    plan.chores.iter().map(|chore| (chore.key.as_str(), chore.due_on)).collect()
}

fn states(plan: &Plan) -> BTreeMap<&str, &ChoreState> {
    plan.chores.iter().map(|chore| (chore.key.as_str(), &chore.state)).collect()
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn nothing_is_planned_before_what_must_come_first(garden in any_garden()) {
        let plan = garden.plan();
        let due = due(&plan);
        for (place, chore) in plan.chores.iter().enumerate() {
            for before in &chore.after {
                prop_assert!(due[before.as_str()] <= chore.due_on, "{before} before {}", chore.key);
                prop_assert!(plan.chores[..place].iter().any(|other| other.key == *before));
            }
        }
    }

    #[test]
    fn a_killing_date_is_passed_only_by_a_hand_move_and_then_reported(garden in marked_garden()) {
        let plan = garden.plan();
        for chore in plan.chores.iter().filter(|chore| chore.killing && chore.state == ChoreState::Open) {
            let reported = || plan.problems.iter().any(|problem| {
                problem.about == chore.title && problem.reason.message == "problem-moved-past-killing"
            });
            prop_assert!(
                chore.due_on <= chore.window.latest || (chore.moved && reported()),
                "{} on {} after {}", chore.key, chore.due_on, chore.window.latest
            );
        }
    }

    #[test]
    fn windows_are_in_order_and_nothing_open_lies_before_the_beginning(garden in any_garden()) {
        let plan = garden.plan();
        let begins = garden.began_on.unwrap_or(plan.season.starts_on);
        for chore in &plan.chores {
            let window = chore.window;
            prop_assert!(window.earliest <= window.best && window.best <= window.latest, "{}", chore.key);
            prop_assert!(chore.due_on >= begins && chore.due_on <= plan.season.ends_on, "{}", chore.key);
        }
    }

    #[test]
    fn work_days_are_kept_or_the_reason_is_given(garden in any_garden()) {
        let plan = garden.plan();
        let days = &garden.site.work.days;
        for chore in plan.chores.iter().filter(|chore| {
            !days.is_empty() && !days.contains(&chrono::Datelike::weekday(&chore.due_on))
        }) {
            let due_now = chore.reasons.iter().any(|reason| reason.message == "reason-due-now");
            let reported = plan.problems.iter().any(|problem| {
                problem.about == chore.title && problem.reason.message == "problem-no-work-day"
            });
            prop_assert!(due_now || reported, "{} on {}", chore.key, chore.due_on);
        }
    }

    #[test]
    fn the_order_of_the_records_does_not_matter(garden in marked_garden()) {
        let mut shuffled = garden.clone();
        shuffled.plantings.reverse();
        shuffled.zones.rotate_left(1);
        shuffled.shelters.reverse();
        shuffled.marks.reverse();
        prop_assert_eq!(garden.plan(), shuffled.plan());
    }

    #[test]
    fn what_was_done_survives_any_change(garden in marked_garden(), keep in 0usize..6, other in rules()) {
        let settled: BTreeMap<String, ChoreState> = states(&garden.plan())
            .into_iter()
            .filter(|(_, state)| **state != ChoreState::Open)
            .map(|(key, state)| (key.to_owned(), state.clone()))
            .collect();
        let mut changed = garden.clone();
        changed.plantings.truncate(keep);
        changed.zones.truncate(1);
        changed.site.work.hours_per_day = 1.0;
        changed.began_on = Some(date("2026-12-24"));
        changed.rules = ChoreCatalogue::parse("other.toml", &other).expect("rules");
        let plan = changed.plan();
        let states = states(&plan);
        for (key, state) in settled {
            prop_assert_eq!(states.get(key.as_str()), Some(&&state), "{}", key);
        }
    }

    #[test]
    fn planning_again_with_the_same_day_for_all_that_is_done_moves_little(garden in any_garden(), upto in 0u64..150) {
        // Nothing that waited for a chore comes before the day on which it was done.
        let before = garden.plan();
        let today = date("2026-08-15") + Days::new(upto);
        let mut later = garden.clone();
        for chore in before.chores.iter().filter(|chore| chore.due_on <= today) {
            later.done(&chore.key, &chore.due_on.to_string());
        }
        let after = later.plan();
        let due = due(&after);
        for chore in after.chores.iter().filter(|chore| chore.state == ChoreState::Open && !chore.killing) {
            for other in &chore.after {
                prop_assert!(due[other.as_str()] <= chore.due_on, "{} before {}", chore.key, other);
            }
        }
    }
}
