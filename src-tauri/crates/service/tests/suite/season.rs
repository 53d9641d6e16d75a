use std::collections::BTreeSet;

use hibernacle_contract::ErrorCode::{Conflict, Invalid, NotFound};
use hibernacle_contract::season::{SeasonRequest, SeasonView};
use hibernacle_engine::season::Plan;
use hibernacle_service::Context;
use hibernacle_service::season::{close_up, season_plan};
use hibernacle_service::setup::{demo_load, planting_save, site_save};
use hibernacle_test_support::{Garden, SimulatedClock, draft};

use crate::refused;

fn view(garden: &Garden, start_year: Option<i32>) -> SeasonView {
    season_plan(&garden.context, request(garden, start_year)).unwrap()
}

fn request(garden: &Garden, start_year: Option<i32>) -> SeasonRequest {
    SeasonRequest { site_id: garden.site.id.clone(), start_year }
}

fn has_problem(plan: &Plan, message: &str) -> bool {
    plan.problems.iter().any(|problem| problem.reason.message == message)
}

#[test]
fn the_season_of_today_is_planned_unless_another_is_asked_for() {
    let garden = Garden::at("2027-06-30T21:59:00Z");
    assert_eq!(view(&garden, None).plan.season.name, "2026–27");
    garden.clock.set("2027-06-30T22:01:00Z");
    assert_eq!(view(&garden, None).plan.season.name, "2027–28");
    assert_eq!(view(&garden, Some(2024)).plan.season.name, "2024–25");
    refused(season_plan(&garden.context, request(&garden, Some(30_000))), Invalid, Some("start_year"));
}

#[test]
fn the_plan_knows_the_garden() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let plan = view(&garden, None).plan;
    for id in [&garden.greenhouse.id, &garden.corner.id, &garden.lemon.id, &garden.olive.id] {
        assert!(plan.chores.iter().any(|chore| chore.target.id == *id), "nothing to do for {id}");
    }
    let placeless = plan.problems.iter().find(|problem| problem.reason.message == "problem-no-zone").unwrap();
    assert_eq!(placeless.about, "pomegranate");
}

#[test]
fn a_season_begins_on_the_day_it_is_first_planned_and_not_again() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let in_august = view(&garden, None).plan;
    garden.clock.set("2027-02-10T08:00:00Z");
    assert_eq!(view(&garden, None).plan, in_august);

    let late = Garden::at("2027-02-10T08:00:00Z");
    let in_february = view(&late, None).plan;
    assert!(!has_problem(&in_august, "problem-began-late"));
    assert!(has_problem(&in_february, "problem-began-late"));
    assert!(in_february.chores.len() < in_august.chores.len());
}

#[test]
fn looking_back_at_a_season_that_was_never_planned_shows_all_of_it() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let past = view(&garden, Some(2024)).plan;
    assert!(!has_problem(&past, "problem-began-late"));
    let rules = |plan: &Plan| -> BTreeSet<String> {
        plan.chores.iter().map(|chore| format!("{} {}", chore.rule, chore.target.name)).collect()
    };
    assert_eq!(rules(&past), rules(&view(&garden, None).plan));
}

#[test]
fn a_plan_follows_every_change_of_the_garden_at_once() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let before = view(&garden, None);
    assert_eq!(view(&garden, None), before);
    let oleander = draft::pot(&garden.site.id, "nerium-oleander", "pink oleander", Some(&garden.floor.id));
    let oleander = planting_save(&garden.context, oleander).unwrap();
    let after = view(&garden, None).plan;
    assert!(after.chores.iter().any(|chore| chore.target.id == oleander.id));
}

#[test]
fn a_plan_follows_what_another_program_changed() {
    let folder = tempfile::tempdir().unwrap();
    let clock = SimulatedClock::at("2026-08-20T08:00:00Z");
    let garden = Garden::in_context(Context::open(folder.path(), clock.clone()).unwrap(), clock.clone());
    view(&garden, None);
    let there = Context::open(folder.path(), clock).unwrap();
    let oleander = draft::pot(&garden.site.id, "nerium-oleander", "pink oleander", Some(&garden.floor.id));
    let oleander = planting_save(&there, oleander).unwrap();
    assert!(view(&garden, None).plan.chores.iter().any(|chore| chore.target.id == oleander.id));
}

#[test]
fn the_close_up_lists_the_steps_of_each_zone_in_order() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let lists = close_up(&garden.context, request(&garden, None)).unwrap();
    assert_eq!(lists.season.name, "2026–27");
    let corner = lists.zones.iter().find(|list| list.zone.id == garden.corner.id).unwrap();
    assert_eq!(corner.shelter, garden.greenhouse);
    assert!(corner.open_required > 0);
    assert_eq!(corner.closed_up_on, None);
    for (place, step) in corner.steps.iter().enumerate() {
        let later = &corner.steps[place..];
        assert!(step.after.iter().all(|first| later.iter().all(|other| other.key != *first)), "{step:?}");
    }
}

#[test]
fn a_plan_needs_a_site_and_a_climate() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let ask = |site_id: &str| SeasonRequest { site_id: site_id.to_owned(), start_year: None };
    refused(season_plan(&garden.context, ask("gone")), NotFound, None);
    refused(close_up(&garden.context, ask("gone")), NotFound, None);
    let bare = site_save(&garden.context, draft::southern_site()).unwrap();
    let message = refused(season_plan(&garden.context, ask(&bare.id)), Conflict, None);
    assert!(message.contains("import a climate file or type averages"), "{message}");
    refused(close_up(&garden.context, ask(&bare.id)), Conflict, None);
}

#[test]
fn the_demo_has_a_season_without_contradictions() {
    let context = Context::in_memory(SimulatedClock::at("2026-08-20T08:00:00Z")).unwrap();
    let site = demo_load(&context, hibernacle_contract::setup::DemoRequest {}).unwrap();
    let plan = season_plan(&context, SeasonRequest { site_id: site.id, start_year: None }).unwrap().plan;
    assert!(plan.chores.len() > 60);
    for message in ["problem-no-zone", "problem-unknown-plant", "problem-no-place", "problem-no-climate"] {
        assert!(!has_problem(&plan, message), "{message}");
    }
}
