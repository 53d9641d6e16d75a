use std::sync::Arc;

use chrono::{Days, NaiveDate};
use hibernacle_contract::ErrorCode::{Conflict, Invalid, NotFound};
use hibernacle_contract::Failure;
use hibernacle_contract::chores::{ChoreChanged, ChoreDone, ChoreMove, ChoreRef, ChoreSkip, HistoryEntry};
use hibernacle_contract::season::{CloseUp, SeasonRequest};
use hibernacle_engine::season::{ChoreState, Figure, MarkKind, Plan, PlannedChore};
use hibernacle_service::chores::{chore_done, chore_history, chore_move, chore_skip, chore_undo};
use hibernacle_service::season::{close_up, season_plan};
use hibernacle_service::setup::{planting_save, remove};
use hibernacle_test_support::Garden;

use crate::refused;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

/// The garden on the morning of 5 November 2026, with a season that was planned in August.
fn garden() -> Garden {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    plan(&garden);
    garden.clock.set("2026-11-05T08:00:00Z");
    garden
}

fn request(garden: &Garden) -> SeasonRequest {
    SeasonRequest { site_id: garden.site.id.clone(), start_year: Some(2026) }
}

fn plan(garden: &Garden) -> Plan {
    Arc::unwrap_or_clone(season_plan(&garden.context, request(garden)).unwrap().plan)
}

fn checklists(garden: &Garden) -> CloseUp {
    close_up(&garden.context, request(garden)).unwrap()
}

/// An open chore of the plan for which a condition holds.
fn open(garden: &Garden, suits: impl Fn(&PlannedChore) -> bool) -> PlannedChore {
    let plan = plan(garden);
    plan.chores.iter().find(|chore| chore.state == ChoreState::Open && suits(chore)).unwrap().clone()
}

fn name(garden: &Garden, chore: &PlannedChore) -> ChoreRef {
    ChoreRef { site_id: garden.site.id.clone(), start_year: 2026, chore_key: chore.key.clone() }
}

fn tick(garden: &Garden, chore: &PlannedChore, on: Option<&str>) -> Result<ChoreChanged, Failure> {
    chore_done(&garden.context, ChoreDone { chore: name(garden, chore), on: on.map(date) })
}

fn skip(garden: &Garden, chore: &PlannedChore, reason: &str) -> Result<ChoreChanged, Failure> {
    chore_skip(&garden.context, ChoreSkip { chore: name(garden, chore), reason: reason.to_owned() })
}

fn shift(garden: &Garden, chore: &PlannedChore, to: NaiveDate) -> Result<ChoreChanged, Failure> {
    chore_move(&garden.context, ChoreMove { chore: name(garden, chore), to })
}

fn undo(garden: &Garden, chore: &PlannedChore) -> Result<ChoreChanged, Failure> {
    chore_undo(&garden.context, name(garden, chore))
}

fn history(garden: &Garden, chore: &PlannedChore) -> Vec<HistoryEntry> {
    chore_history(&garden.context, name(garden, chore)).unwrap().entries
}

#[test]
fn a_tick_counts_for_today_and_ticking_again_changes_nothing() {
    let garden = garden();
    let chore = open(&garden, |_| true);
    let done = ChoreState::Done { on: date("2026-11-05") };
    assert_eq!(tick(&garden, &chore, None).unwrap().chore.state, done);
    garden.clock.set("2026-11-06T08:00:00Z");
    assert_eq!(tick(&garden, &chore, None).unwrap().chore.state, done);
    assert_eq!(tick(&garden, &chore, Some("2026-11-05")).unwrap().chore.state, done);
    assert_eq!(history(&garden, &chore).len(), 1);
    let planned = plan(&garden);
    assert_eq!(planned.chores.iter().find(|other| other.key == chore.key).unwrap().state, done);
}

#[test]
fn a_tick_on_another_day_corrects_the_date_and_can_be_undone_step_by_step() {
    let garden = garden();
    let chore = open(&garden, |_| true);
    tick(&garden, &chore, None).unwrap();
    let corrected = tick(&garden, &chore, Some("2026-11-01")).unwrap();
    assert_eq!(corrected.chore.state, ChoreState::Done { on: date("2026-11-01") });
    assert_eq!(undo(&garden, &chore).unwrap().chore.state, ChoreState::Done { on: date("2026-11-05") });
    assert_eq!(undo(&garden, &chore).unwrap().chore.state, ChoreState::Open);
    refused(undo(&garden, &chore), Conflict, None);

    let entries = history(&garden, &chore);
    assert_eq!(entries.len(), 2);
    assert_eq!(entries[0].kind, MarkKind::Done { on: date("2026-11-05") });
    assert!(entries.iter().all(|entry| entry.undone_at_utc.is_some()));
}

#[test]
fn a_day_in_the_future_or_before_the_season_is_refused() {
    let garden = garden();
    let chore = open(&garden, |_| true);
    let message = refused(tick(&garden, &chore, Some("2026-11-06")), Invalid, Some("on"));
    assert_eq!(message, "on: 2026-11-06 is in the future; tick the chore on the day");
    refused(tick(&garden, &chore, Some("2026-06-30")), Invalid, Some("on"));
    assert!(history(&garden, &chore).is_empty());
}

#[test]
fn the_future_begins_at_midnight_of_the_site() {
    let garden = garden();
    let chore = open(&garden, |_| true);
    // 00:30 on 6 November in Vienna.
    garden.clock.set("2026-11-05T23:30:00Z");
    let changed = tick(&garden, &chore, Some("2026-11-06")).unwrap();
    assert_eq!(changed.chore.state, ChoreState::Done { on: date("2026-11-06") });
}

#[test]
fn a_skip_needs_a_reason_and_keeps_it() {
    let garden = garden();
    let chore = open(&garden, |_| true);
    refused(skip(&garden, &chore, "  "), Invalid, Some("reason"));
    let skipped = |reason: &str| ChoreState::Skipped { on: date("2026-11-05"), reason: reason.to_owned() };
    assert_eq!(skip(&garden, &chore, " no tape left ").unwrap().chore.state, skipped("no tape left"));
    garden.clock.set("2026-11-07T08:00:00Z");
    assert_eq!(skip(&garden, &chore, "no tape left").unwrap().chore.state, skipped("no tape left"));
    assert_eq!(history(&garden, &chore).len(), 1);
}

#[test]
fn the_newest_act_counts_even_when_the_clock_was_set_back() {
    let garden = garden();
    let chore = open(&garden, |_| true);
    tick(&garden, &chore, None).unwrap();
    garden.clock.set("2026-11-04T08:00:00Z");
    skip(&garden, &chore, "was a mistake").unwrap();
    let state = open_or_not(&garden, &chore);
    assert!(matches!(state, ChoreState::Skipped { .. }), "{state:?}");
    tick(&garden, &chore, None).unwrap();
    assert_eq!(open_or_not(&garden, &chore), ChoreState::Done { on: date("2026-11-04") });
}

fn open_or_not(garden: &Garden, chore: &PlannedChore) -> ChoreState {
    plan(garden).chores.iter().find(|other| other.key == chore.key).unwrap().state.clone()
}

#[test]
fn a_moved_chore_stands_on_its_new_day_until_that_is_undone() {
    let garden = garden();
    let chore = open(&garden, |chore| chore.window.latest > date("2026-11-20"));
    let to = chore.window.latest.pred_opt().unwrap();
    let moved = shift(&garden, &chore, to).unwrap();
    assert_eq!((moved.chore.due_on, moved.chore.moved, moved.warning), (to, true, None));
    shift(&garden, &chore, to).unwrap();
    assert_eq!(history(&garden, &chore).len(), 1);
    let back = undo(&garden, &chore).unwrap();
    assert_eq!((back.chore.due_on, back.chore.moved), (chore.due_on, false));
}

#[test]
fn a_move_past_the_killing_date_is_kept_with_a_warning() {
    let garden = garden();
    garden.clock.set("2026-09-01T08:00:00Z");
    let chore = open(&garden, |chore| chore.killing && chore.window.latest >= date("2026-09-01"));
    let to = chore.window.latest + Days::new(3);
    let moved = shift(&garden, &chore, to).unwrap();
    assert_eq!(moved.chore.due_on, to);
    assert_eq!(moved.warning.unwrap().message, "problem-moved-past-killing");
}

#[test]
fn a_move_to_an_impossible_day_or_of_a_settled_chore_is_refused() {
    let garden = garden();
    let chore = open(&garden, |_| true);
    refused(shift(&garden, &chore, date("2026-11-04")), Invalid, Some("to"));
    let message = refused(shift(&garden, &chore, date("2027-07-01")), Invalid, Some("to"));
    assert!(message.contains("after the season 2026–27 ends on 2027-06-30"), "{message}");
    tick(&garden, &chore, None).unwrap();
    refused(shift(&garden, &chore, date("2026-11-10")), Conflict, None);
}

#[test]
fn a_chore_that_is_not_in_the_plan_is_refused() {
    let garden = garden();
    let chore = PlannedChore { key: "polish-the-gnome/site".to_owned(), ..open(&garden, |_| true) };
    let message = refused(tick(&garden, &chore, None), NotFound, None);
    assert!(message.contains("“polish-the-gnome/site”"), "{message}");
    refused(skip(&garden, &chore, "no gnome"), NotFound, None);
    refused(shift(&garden, &chore, date("2026-11-10")), NotFound, None);
    refused(undo(&garden, &chore), NotFound, None);
    assert!(history(&garden, &chore).is_empty());
    let astray = ChoreRef { site_id: "gone".to_owned(), start_year: 2026, chore_key: chore.key };
    refused(chore_history(&garden.context, astray.clone()), NotFound, None);
    refused(chore_undo(&garden.context, astray), NotFound, None);
}

#[test]
fn ticking_the_last_required_step_closes_a_zone_up_and_undoing_it_opens_it_again() {
    let garden = garden();
    let mut closed = Vec::new();
    let mut last = None;
    for list in checklists(&garden).zones {
        assert!(list.closed_up_on.is_none());
        for step in list.steps.iter().filter(|step| step.required) {
            let changed = tick(&garden, step, None).unwrap();
            if !changed.closed_up.is_empty() {
                last = Some(step.clone());
            }
            closed.extend(changed.closed_up);
        }
    }
    closed.sort();
    let stamped: Vec<_> =
        checklists(&garden).zones.into_iter().filter(|list| list.closed_up_on.is_some()).collect();
    let mut names: Vec<String> =
        stamped.iter().map(|list| format!("{}, {}", list.shelter.name, list.zone.name)).collect();
    names.sort();
    assert_eq!(closed, names);
    assert!(closed.contains(&"greenhouse, north corner".to_owned()), "{closed:?}");
    assert!(stamped.iter().all(|list| list.open_required == 0));
    assert!(stamped.iter().all(|list| list.closed_up_on == Some(date("2026-11-05"))));

    let reopened = undo(&garden, &last.unwrap()).unwrap();
    assert!(reopened.closed_up.is_empty());
    let still = checklists(&garden).zones.iter().filter(|list| list.closed_up_on.is_some()).count();
    assert!(still < stamped.len());
}

#[test]
fn a_tick_before_its_turn_stands_and_is_warned_about() {
    let garden = garden();
    let cover = open(&garden, |chore| chore.rule == "close-up-cover-on");
    let first = plan(&garden).chores.into_iter().find(|chore| cover.after.contains(&chore.key)).unwrap();
    let changed = tick(&garden, &cover, None).unwrap();
    assert!(matches!(changed.chore.state, ChoreState::Done { .. }));
    let warning = changed.warning.unwrap();
    assert_eq!(warning.message, "problem-done-before");
    assert_eq!(warning.figures["chore"], Figure::Text(first.title));
    for key in &cover.after {
        let before = open(&garden, |chore| chore.key == *key);
        tick(&garden, &before, None).unwrap();
    }
    assert_eq!(tick(&garden, &cover, Some("2026-11-01")).unwrap().warning, None);
}

#[test]
fn planning_again_keeps_what_was_done_skipped_and_moved() {
    let garden = garden();
    let far = |chore: &PlannedChore| chore.window.latest > date("2026-11-20");
    let done = open(&garden, |_| true);
    tick(&garden, &done, None).unwrap();
    let skipped = open(&garden, |_| true);
    skip(&garden, &skipped, "not this year").unwrap();
    let moved = open(&garden, far);
    let to = date("2026-11-19");
    shift(&garden, &moved, to).unwrap();

    let mut lemon = garden.lemon.clone();
    lemon.own_limit_c = Some(4.0);
    planting_save(&garden.context, lemon).unwrap();
    let chores = &plan(&garden).chores;
    let after = |chore: &PlannedChore| chores.iter().find(|other| other.key == chore.key).unwrap();
    assert!(matches!(after(&done).state, ChoreState::Done { .. }));
    assert!(matches!(after(&skipped).state, ChoreState::Skipped { .. }));
    assert_eq!((after(&moved).due_on, after(&moved).moved), (to, true));
}

#[test]
fn what_was_done_for_a_planting_that_is_gone_can_still_be_undone() {
    let garden = garden();
    let chore = open(&garden, |chore| chore.target.id == garden.lemon.id);
    tick(&garden, &chore, None).unwrap();
    let item = hibernacle_contract::setup::Item {
        kind: hibernacle_contract::setup::ItemKind::Planting,
        id: garden.lemon.id.clone(),
    };
    remove(&garden.context, item).unwrap();
    assert_eq!(undo(&garden, &chore).unwrap().chore.state, ChoreState::Open);
    assert!(plan(&garden).chores.iter().all(|other| other.key != chore.key));
}
