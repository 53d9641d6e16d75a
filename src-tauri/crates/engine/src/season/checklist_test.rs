use super::super::fixture::{Garden, chore, date};
use super::super::{MarkKind, Plan};
use super::*;

fn garden() -> Garden {
    let rules = chore("water", "planting", "11-01", "required = true")
        + &chore("cover", "shelter", "11-05", "required = true\nafter = [\"water\"]")
        + &chore("sensor", "zone", "11-05", "required = true\nafter = [\"cover\"]")
        + &chore("tidy", "zone", "11-05", "")
        + &chore("rounds", "zone", "11-20", "").replace("close_up", "winter_round")
        + &chore("orders", "site", "11-05", "");
    Garden::with_rules(&rules)
}

fn keys<'a>(checklist: &Checklist<'a>) -> Vec<&'a str> {
    checklist.steps.iter().map(|step| step.key.as_str()).collect()
}

#[test]
fn a_zone_has_its_own_steps_and_those_of_its_shelter_in_order() {
    let garden = garden();
    let plan: Plan = garden.plan();
    let list = checklist(&plan, &garden.zones[0]);
    assert_eq!(keys(&list), ["water/lemon", "tidy/bench", "cover/house", "sensor/bench"]);
    assert_eq!(list.open_required, 3);
    assert_eq!(list.closed_up_on, None);
}

#[test]
fn a_zone_is_closed_up_on_the_day_of_its_last_required_step() {
    let mut garden = garden();
    for (key, on) in
        [("water/lemon", "2026-11-02"), ("sensor/bench", "2026-11-09"), ("cover/house", "2026-11-07")]
    {
        assert_eq!(checklist(&garden.plan(), &garden.zones[0]).closed_up_on, None);
        garden.done(key, on);
    }
    let plan = garden.plan();
    let list = checklist(&plan, &garden.zones[0]);
    assert_eq!((list.open_required, list.closed_up_on), (0, Some(date("2026-11-09"))));
    let other = checklist(&plan, &garden.zones[1]);
    assert_eq!(other.closed_up_on, None, "the other zone of the shelter has steps of its own");
}

#[test]
fn a_required_step_left_out_on_purpose_does_not_keep_a_zone_open() {
    let mut garden = garden();
    garden.done("water/lemon", "2026-11-02");
    garden.done("cover/house", "2026-11-07");
    garden.mark("sensor/bench", MarkKind::Skipped { on: date("2026-11-08"), reason: "has one".into() });
    assert_eq!(checklist(&garden.plan(), &garden.zones[0]).closed_up_on, Some(date("2026-11-08")));
}

#[test]
fn a_zone_without_required_steps_is_never_stamped() {
    let garden = Garden::with_rules(&chore("tidy", "zone", "11-05", ""));
    let list = garden.plan();
    assert_eq!(checklist(&list, &garden.zones[0]).closed_up_on, None);
}
