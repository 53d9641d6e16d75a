//! The year that the built-in chores give, looked at as a grower would. What stands here without a source is
//! common practice, no source.

#![expect(clippy::expect_used, clippy::panic, reason = "helpers of a test file")]

mod garden;

use chrono::{Datelike, Days, NaiveDate};
use garden::{Garden, START_YEAR, larch_bank, river_terrace};
use hibernacle_engine::climate::{SeasonDay, freeze};
use hibernacle_engine::plant::{Container, PlantCatalogue};
use hibernacle_engine::season::{Phase, Plan, PlannedChore, TargetKind, checklist};
use hibernacle_engine::site::Hemisphere;

fn date(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).expect("a date")
}

fn on(day: Option<SeasonDay>) -> NaiveDate {
    day.expect("a night that cold").date(START_YEAR, Hemisphere::Northern)
}

fn first_freeze(garden: &Garden, limit_c: f64, chance: f64) -> NaiveDate {
    on(freeze::first_autumn(&garden.climate, limit_c).date_with_chance(chance))
}

fn last_freeze(garden: &Garden, limit_c: f64, chance: f64) -> NaiveDate {
    on(freeze::last_spring(&garden.climate, limit_c).date_with_chance(chance))
}

fn of_rule<'p>(plan: &'p Plan, rule: &str) -> Vec<&'p PlannedChore> {
    let found: Vec<_> = plan.chores.iter().filter(|chore| chore.rule == rule).collect();
    assert!(!found.is_empty(), "no chore of rule {rule}");
    found
}

fn one<'p>(plan: &'p Plan, rule: &str, target: &str) -> &'p PlannedChore {
    of_rule(plan, rule)
        .into_iter()
        .find(|chore| chore.target.name == target)
        .unwrap_or_else(|| panic!("no {rule} for {target}"))
}

#[test]
fn a_small_greenhouse_is_closed_up_between_the_first_killing_frost_and_late_november() {
    let garden = river_terrace();
    let plan = garden.plan();
    let killing_frost = first_freeze(&garden, -2.2, 0.5);
    assert_eq!(killing_frost.month(), 11, "the climate of this check: {killing_frost}");
    let cover = one(&plan, "close-up-cover-on", "small greenhouse");
    assert!(cover.killing, "tender roots depend on it");
    assert!(cover.due_on >= killing_frost, "cover on {} before {killing_frost}", cover.due_on);
    for chore in plan.chores.iter().filter(|chore| chore.phase == Phase::CloseUp && chore.required) {
        assert!(chore.due_on <= date(2026, 11, 30), "{} on {}", chore.key, chore.due_on);
    }
}

#[test]
fn it_is_uncovered_in_early_to_mid_march() {
    let plan = river_terrace().plan();
    let off = one(&plan, "uncover-off", "small greenhouse");
    let march = date(2027, 3, 1)..=date(2027, 3, 18);
    assert!(
        march.contains(&off.window.best) && march.contains(&off.due_on),
        "{} {}",
        off.window.best,
        off.due_on
    );
}

#[test]
fn nothing_of_the_built_in_year_contradicts_itself() {
    let stations = ["champion-1982-2018.csv", "clemson-1930-1955.csv"];
    let gardens = [larch_bank, river_terrace];
    let typed = gardens.map(|garden| garden());
    let measured = stations.into_iter().flat_map(|file| gardens.map(|garden| garden().with_record(file)));
    for garden in typed.into_iter().chain(measured) {
        let problems = garden.plan().problems;
        assert!(problems.is_empty(), "{}: {problems:#?}", garden.site.name);
    }
}

#[test]
fn a_lemon_comes_in_at_the_end_of_september_in_a_cool_valley() {
    // RHS citrus profile: outdoors from mid-June until late September in cool climates.
    let plan = larch_bank().plan();
    let lemon = "Lemon by the water butt";
    let inside = one(&plan, "move-in-light-frost", lemon);
    assert!((date(2026, 9, 20)..=date(2026, 10, 3)).contains(&inside.due_on), "{}", inside.due_on);
    let out = one(&plan, "move-out-light-frost", lemon).due_on;
    assert!((date(2027, 5, 28)..=date(2027, 6, 20)).contains(&out), "{out}");
}

#[test]
fn every_planting_in_a_pot_is_in_before_its_limit_comes_in_one_year_of_ten() {
    let plants = PlantCatalogue::built_in().expect("plants");
    for garden in [larch_bank(), river_terrace()] {
        let plan = garden.plan();
        let moves: Vec<_> =
            plan.chores.iter().filter(|chore| chore.rule.starts_with("move-in-") && chore.killing).collect();
        let potted: Vec<_> = garden
            .plantings
            .iter()
            .filter(|planting| matches!(planting.container, Container::Pot { .. }))
            .collect();
        assert_eq!(moves.len(), potted.len(), "{}: one move for each pot", garden.site.name);
        for planting in potted {
            let plant = plants.get(&planting.plant_key).expect("plant");
            let chore = moves.iter().find(|chore| chore.target.id == planting.id).expect("a move");
            let limit_on = first_freeze(&garden, planting.winter_limit_c(plant), 0.1);
            assert!(
                chore.window.latest <= limit_on,
                "{}: {} after {limit_on}",
                planting.label,
                chore.window.latest
            );
            assert!(chore.due_on <= chore.window.latest, "{}", planting.label);
        }
    }
}

#[test]
fn tender_plants_come_in_before_hardy_ones_and_go_out_after_them() {
    let plan = larch_bank().plan();
    let order = ["Angel’s trumpet", "Blue agapanthus", "Pomegranate", "Japanese maple, red"];
    let moved = |phase: Phase, target: &str| {
        plan.chores
            .iter()
            .filter(|chore| chore.phase == phase && chore.target.kind == TargetKind::Planting)
            .filter(|chore| chore.rule.starts_with("move-"))
            .find(|chore| chore.target.name == target)
            .unwrap_or_else(|| panic!("{target} does not move"))
            .window
            .best
    };
    let inside = order.map(|target| moved(Phase::MoveIn, target));
    assert!(inside.is_sorted(), "{inside:?}");
    let tender_out = moved(Phase::MoveOut, "Lemon by the water butt");
    let hardy_out = moved(Phase::MoveOut, "Bay standards");
    assert!(hardy_out + Days::new(30) < tender_out, "{hardy_out} {tender_out}");
}

#[test]
fn close_up_runs_in_its_order() {
    let plan = larch_bank().plan();
    let day = |rule: &str, target: &str| one(&plan, rule, target).due_on;
    let steps = [
        day("close-up-clear", "north corner"),
        day("close-up-water", "north corner"),
        day("close-up-cover-on", "greenhouse"),
        day("close-up-seams", "greenhouse"),
        day("close-up-tie-down", "greenhouse"),
    ];
    assert!(steps.is_sorted(), "{steps:?}");
    let heat = [
        day("heater-trial", "greenhouse"),
        day("close-up-heater-place", "greenhouse"),
        day("close-up-circuit", "greenhouse"),
        day("close-up-thermostat", "greenhouse"),
    ];
    assert!(heat.is_sorted(), "{heat:?}");
    assert!(day("close-up-sensor", "north corner") <= day("close-up-alarm-test", "north corner"));
    for target in ["north corner", "south floor", "door bench"] {
        assert!(day("close-up-alarm-test", target) <= day("close-up-proof-night", "greenhouse"), "{target}");
    }
}

#[test]
fn heat_is_ready_before_the_first_night_that_reaches_the_tenderest_plant_in_the_bare_house() {
    // Window-box pelargoniums (0 °C) stand by the door, half a degree colder than the 2 °C that bare glass gives.
    let garden = larch_bank();
    let plan = garden.plan();
    let heater = one(&plan, "close-up-heater-place", "greenhouse");
    assert!(heater.due_on <= first_freeze(&garden, -1.5, 0.1), "{}", heater.due_on);
    assert!(heater.due_on < one(&plan, "close-up-cover-on", "greenhouse").due_on);
}

#[test]
fn pots_are_watered_one_or_two_days_before_the_cover_and_their_leaves_dry() {
    // UMass Extension, overwintering container-grown ornamentals: water well one to two days before covering.
    for (garden, zones, shelter) in [
        (larch_bank(), &["door bench", "south floor", "north corner"][..], "greenhouse"),
        (river_terrace(), &["floor"][..], "small greenhouse"),
    ] {
        let plan = garden.plan();
        let cover = one(&plan, "close-up-cover-on", shelter);
        for zone in zones {
            let water = one(&plan, "close-up-water", zone);
            let days = (cover.window.best - water.window.best).num_days();
            assert!((1..=2).contains(&days), "{zone}: {days} days");
            assert!(water.due_on < cover.due_on, "{zone}: {} {}", water.due_on, cover.due_on);
        }
    }
}

#[test]
fn every_zone_with_plants_has_steps_without_which_it_is_not_closed_up() {
    for garden in [larch_bank(), river_terrace()] {
        let plan = garden.plan();
        for zone in garden.zones.iter().filter(|zone| {
            garden.plantings.iter().any(|planting| planting.zone_id.as_deref() == Some(zone.id.as_str()))
        }) {
            let steps: Vec<_> =
                checklist(&plan, zone).steps.into_iter().filter(|step| step.required).collect();
            assert!(steps.len() >= 3, "{}: {} required steps", zone.name, steps.len());
            assert!(steps.iter().all(|step| step.proof.is_some()), "{}", zone.name);
        }
    }
}

#[test]
fn tubers_are_lifted_after_frost_and_before_the_ground_freezes() {
    for (garden, target) in [(larch_bank(), "Dahlia tubers"), (river_terrace(), "Dahlias")] {
        let plan = garden.plan();
        // University of Wisconsin Horticulture Extension, storing tender bulbs: dig within days of the frost that
        // blackens the tops.
        let lift = one(&plan, "lift-dahlia", target);
        let frost = first_freeze(&garden, 0.0, 0.5);
        assert!(lift.due_on >= frost && lift.due_on <= frost + Days::new(14), "{frost} {}", lift.due_on);
        assert!(lift.window.latest <= first_freeze(&garden, -4.4, 0.5));
        // Potted four to six weeks before the last frost (value from memory).
        let start = one(&plan, "wake-tubers", target).window.best;
        let weeks = (last_freeze(&garden, 0.0, 0.5) - start).num_days() as f64 / 7.0;
        assert!((4.0..=6.0).contains(&weeks), "{weeks}");
    }
}

#[test]
fn hardening_off_takes_two_weeks() {
    // California Master Gardener Handbook: start at least two weeks before planting out.
    for garden in [larch_bank(), river_terrace()] {
        let plan = garden.plan();
        for start in of_rule(&plan, "harden-start") {
            let out = plan
                .chores
                .iter()
                .find(|chore| chore.target == start.target && chore.phase == Phase::MoveOut)
                .expect("it moves out");
            assert!(
                start.due_on + Days::new(13) <= out.due_on,
                "{}: {} {}",
                start.title,
                start.due_on,
                out.due_on
            );
        }
    }
}

#[test]
fn wrapped_plants_are_wrapped_after_some_frost_and_opened_before_the_last() {
    let garden = larch_bank();
    let plan = garden.plan();
    for (rule, target) in [("wrap-cover", "Windmill palm"), ("wrap-stem", "Hardy banana")] {
        let wrapped = one(&plan, rule, target).due_on;
        assert!(wrapped >= first_freeze(&garden, 0.0, 0.5), "{target}: {wrapped}");
        let opened = one(&plan, "unwrap-off", target).due_on;
        assert!(opened < last_freeze(&garden, 0.0, 0.5) && opened > date(2027, 3, 15), "{target}: {opened}");
    }
    let palm_limit = first_freeze(&garden, -11.5, 0.1);
    assert!(one(&plan, "wrap-cover", "Windmill palm").window.latest <= palm_limit);
}

#[test]
fn the_year_runs_through_its_phases_in_order() {
    for garden in [larch_bank(), river_terrace()] {
        let plan = garden.plan();
        let middle = |phase: Phase| {
            let days: Vec<_> = plan.chores.iter().filter(|c| c.phase == phase).map(|c| c.due_on).collect();
            assert!(!days.is_empty(), "{phase:?}");
            days[days.len() / 2]
        };
        let middles = [
            Phase::LateSummer,
            Phase::MoveIn,
            Phase::CloseUp,
            Phase::WinterRound,
            Phase::Uncover,
            Phase::HardenOff,
            Phase::SeasonEnd,
        ]
        .map(middle);
        assert!(middles.is_sorted(), "{}: {middles:?}", garden.site.name);
        let season = &plan.season;
        assert!(plan.chores.iter().all(|c| (season.starts_on..=season.ends_on).contains(&c.due_on)));
    }
}
