use super::super::fixture::{Garden, chore, date, found, on, planting, problems};
use super::super::{ChoreState, Figure, MESSAGES, MarkKind, move_warning};
use crate::plant::Container;

#[test]
fn a_rule_makes_a_chore_for_each_target_it_applies_to() {
    let rules = chore("site-wide", "site", "10-01", "")
        + &chore("house", "shelter", "10-01", "applies.needs = [\"cover\"]")
        + &chore("every-zone", "zone", "10-01", "")
        + &chore("potted", "planting", "10-01", "applies.needs = [\"pot\"]")
        + &chore("tubers", "zone", "10-01", "applies.habits = [\"tuber\"]")
        + &chore("tuber-cellar", "shelter", "10-01", "applies.shelter_kinds = [\"garage\", \"cellar\"]");
    let plan = Garden::with_rules(&rules).plan();
    let mut keys: Vec<&str> = plan.chores.iter().map(|chore| chore.key.as_str()).collect();
    keys.sort_unstable();
    assert_eq!(
        keys,
        [
            "every-zone/bench",
            "every-zone/corner",
            "every-zone/shelf",
            "house/house",
            "potted/lemon",
            "potted/oleander",
            "potted/olive",
            "site-wide/site",
            "tuber-cellar/cellar",
            "tubers/shelf",
        ]
    );
    assert_eq!(found(&plan, "potted/lemon").title, "potted the lemon");
    assert_eq!(found(&plan, "potted/lemon").target.shelter_id.as_deref(), Some("house"));
    assert_eq!(problems(&plan), []);
}

#[test]
fn windows_default_to_a_week_before_and_ten_days_after() {
    let plan = Garden::with_rules(&chore("a", "site", "10-10", "")).plan();
    let window = found(&plan, "a/site").window;
    assert_eq!(window.earliest, date("2026-10-03"));
    assert_eq!(window.best, date("2026-10-10"));
    assert_eq!(window.latest, date("2026-10-20"));
}

#[test]
fn of_several_latest_dates_the_first_counts_and_of_several_earliest_the_last() {
    let lines = format!(
        "when.earliest = [{}, {}]\nwhen.latest = [{}, {}]",
        on("10-02"),
        on("10-04"),
        on("10-30"),
        on("10-12")
    );
    let plan = Garden::with_rules(&chore("a", "site", "10-10", &lines)).plan();
    let window = found(&plan, "a/site").window;
    assert_eq!((window.earliest, window.latest), (date("2026-10-04"), date("2026-10-12")));
}

#[test]
fn an_empty_window_is_reported_by_name_and_keeps_a_killing_date() {
    let lines = format!("when.earliest = [{}]\nwhen.latest = [{}]", on("11-20"), on("11-01"));
    let rules = chore("soft", "site", "11-10", &lines)
        + &chore("hard", "site", "11-10", &format!("{lines}\nwhen.killing = true"));
    let plan = Garden::with_rules(&rules).plan();
    assert_eq!(
        problems(&plan),
        [("hard the garden", "problem-window-empty"), ("soft the garden", "problem-window-empty")]
    );
    assert_eq!(found(&plan, "hard/site").due_on, date("2026-11-01"));
    assert_eq!(found(&plan, "soft/site").due_on, date("2026-11-20"));
}

#[test]
fn the_tenderest_planting_of_a_zone_dates_its_chores() {
    let lines = "applies.needs = [\"plants\"]\nwhen.best = [{ from = \"low_reaches\", trend = \"falling\", limit = { of = \"covered_hold\" }, chance = 0.1 }]";
    let mut garden = Garden::with_rules(&chore("heat", "zone", "11-01", lines));
    let before = garden.plan();
    let bench = found(&before, "heat/bench");
    assert!(bench.reasons.iter().any(|reason| reason.message == "reason-hold-covered"
        && reason.figures["plant"] == Figure::Text("the lemon".into())
        && reason.figures["hold"] == Figure::DiffK(5.0)));

    // A tenderer plant brings the date forward; a hardier one does not.
    let pot = Container::Pot { volume_l: 5.0 };
    garden.plantings.push(planting("hardy", "acer-palmatum", Some("bench"), pot));
    assert_eq!(found(&garden.plan(), "heat/bench").window.best, bench.window.best);
    garden.plantings.push(planting("tender", "hibiscus-rosa-sinensis", Some("bench"), pot));
    assert!(found(&garden.plan(), "heat/bench").window.best < bench.window.best);
}

#[test]
fn a_colder_corner_is_in_danger_earlier() {
    let lines = "when.best = [{ from = \"low_reaches\", trend = \"falling\", limit = { of = \"bare_hold\" }, chance = 0.1 }]";
    let mut garden = Garden::with_rules(&chore("look", "zone", "11-01", lines));
    for planting in &mut garden.plantings {
        planting.plant_key = "citrus-limon".into();
    }
    let plan = garden.plan();
    assert!(found(&plan, "look/corner").window.best < found(&plan, "look/bench").window.best);
}

#[test]
fn an_own_limit_overrides_the_catalogue() {
    let lines = "when.best = [{ from = \"low_reaches\", trend = \"falling\", limit = { of = \"winter_limit\" }, chance = 0.1 }]";
    let mut garden = Garden::with_rules(&chore("in", "planting", "11-01", lines));
    let before = found(&garden.plan(), "in/olive").window.best;
    garden.plantings[1].own_limit_c = Some(2.0);
    let plan = garden.plan();
    let after = found(&plan, "in/olive");
    assert!(after.window.best < before);
    assert!(after.reasons.iter().any(|reason| reason.message == "reason-limit-own"));
}

#[test]
fn a_step_comes_after_its_dependencies_for_the_same_target_the_one_around_and_all_inside() {
    let rules = chore("cover", "shelter", "11-10", "after = [\"move-in\"]")
        + &chore("sensor", "zone", "11-01", "after = [\"cover\"]")
        + &chore("proof", "shelter", "11-01", "after = [\"sensor\"]")
        + &chore("move-in", "planting", "11-05", "");
    let plan = Garden::with_rules(&rules).plan();
    assert_eq!(found(&plan, "cover/house").after, ["move-in/lemon", "move-in/oleander", "move-in/olive"]);
    assert_eq!(found(&plan, "sensor/bench").after, ["cover/house"]);
    assert_eq!(found(&plan, "proof/house").after, ["sensor/bench", "sensor/corner"]);
    assert_eq!(found(&plan, "sensor/bench").due_on, date("2026-11-10"));
    let order: Vec<&str> = plan
        .chores
        .iter()
        .filter(|chore| chore.target.shelter_id.as_deref() == Some("house") && chore.rule != "move-in")
        .map(|chore| chore.key.as_str())
        .collect();
    assert_eq!(order, ["cover/house", "sensor/bench", "sensor/corner", "proof/house"]);
}

#[test]
fn what_must_come_before_a_killing_date_is_pulled_before_it() {
    let killing = format!("after = [\"first\"]\nwhen.latest = [{}]\nwhen.killing = true", on("11-05"));
    let rules = chore("first", "site", "11-10", "") + &chore("second", "site", "11-04", &killing);
    let plan = Garden::with_rules(&rules).plan();
    let first = found(&plan, "first/site");
    assert!(first.due_on <= date("2026-11-05"));
    assert!(found(&plan, "second/site").due_on <= date("2026-11-05"));
    assert!(first.reasons.iter().any(|reason| reason.message == "reason-before-chore"));
    assert_eq!(problems(&plan), []);
}

#[test]
fn an_order_that_cannot_be_had_is_reported_and_the_killing_date_kept() {
    let killing = format!("after = [\"first\"]\nwhen.latest = [{}]\nwhen.killing = true", on("11-05"));
    let early = format!("when.earliest = [{}]", on("11-20"));
    let rules = chore("first", "site", "11-25", &early) + &chore("second", "site", "11-04", &killing);
    let plan = Garden::with_rules(&rules).plan();
    assert_eq!(problems(&plan), [("second the garden", "problem-order")]);
    assert_eq!(found(&plan, "second/site").due_on, date("2026-11-05"));
    assert_eq!(found(&plan, "first/site").due_on, date("2026-11-05"));
}

#[test]
fn a_date_follows_the_day_on_which_the_chore_before_was_really_done() {
    let rules = chore("cut", "site", "10-01", "")
        + &chore("pot-up", "site", "10-01", "when.best = [{ from = \"chore\", chore = \"cut\", days = 30 }]");
    let mut garden = Garden::with_rules(&rules);
    assert_eq!(found(&garden.plan(), "pot-up/site").window.best, date("2026-10-31"));
    garden.done("cut/site", "2026-10-06");
    let plan = garden.plan();
    let later = found(&plan, "pot-up/site");
    assert_eq!(later.window.best, date("2026-11-05"));
    assert!(later.reasons.iter().any(|reason| reason.message == "reason-after-chore-done"));
}

#[test]
fn a_chore_that_comes_again_is_numbered_and_counted_from_the_last_time_it_was_done() {
    let lines = format!("repeat = {{ every_days = 14, until = {} }}", on("11-30"));
    let mut garden = Garden::with_rules(&chore("water", "zone", "11-01", &lines));
    let dates = |garden: &Garden| -> Vec<String> {
        let plan = garden.plan();
        let bench = plan.chores.iter().filter(|chore| chore.target.id == "bench");
        bench.map(|chore| format!("{} {}", chore.key, chore.due_on)).collect()
    };
    assert_eq!(
        dates(&garden),
        ["water/bench#1 2026-11-01", "water/bench#2 2026-11-15", "water/bench#3 2026-11-29"]
    );
    garden.done("water/bench#1", "2026-11-05");
    assert_eq!(dates(&garden), ["water/bench#1 2026-11-05", "water/bench#2 2026-11-19"]);
}

#[test]
fn done_skipped_and_moved_survive() {
    let rules = ["a", "b", "c"].map(|key| chore(key, "site", "10-10", "")).concat();
    let mut garden = Garden::with_rules(&rules);
    garden.done("a/site", "2026-10-12");
    garden.mark("b/site", MarkKind::Skipped { on: date("2026-10-11"), reason: "no need".into() });
    garden.mark("c/site", MarkKind::Moved { to: date("2026-10-14") });
    garden.mark("c/site", MarkKind::Moved { to: date("2026-10-15") });
    let plan = garden.plan();
    assert_eq!(found(&plan, "a/site").state, ChoreState::Done { on: date("2026-10-12") });
    assert_eq!(
        found(&plan, "b/site").state,
        ChoreState::Skipped { on: date("2026-10-11"), reason: "no need".into() }
    );
    let moved = found(&plan, "c/site");
    assert!(moved.moved && moved.due_on == date("2026-10-15"), "the newest move counts");
}

#[test]
fn what_was_settled_stays_visible_when_its_target_or_rule_is_gone() {
    let mut garden = Garden::with_rules(&chore("a", "planting", "10-10", ""));
    garden.done("a/lemon", "2026-10-12");
    garden.done("gone-rule/bench", "2026-10-01");
    garden.plantings.remove(0);
    let plan = garden.plan();
    let lemon = found(&plan, "a/lemon");
    assert_eq!(lemon.state, ChoreState::Done { on: date("2026-10-12") });
    assert_eq!(lemon.reasons[0].message, "reason-settled-gone");
    let rule = found(&plan, "gone-rule/bench");
    assert_eq!((rule.title.as_str(), rule.target.name.as_str()), ("gone rule", "the bench"));
}

#[test]
fn a_move_past_a_killing_date_is_kept_and_warned_about() {
    let lines = format!("when.latest = [{}]\nwhen.killing = true", on("10-15"));
    let mut garden = Garden::with_rules(&chore("a", "site", "10-10", &lines));
    let plan = garden.plan();
    let chore = found(&plan, "a/site");
    assert_eq!(move_warning(chore, date("2026-10-15")), None);
    let warning = move_warning(chore, date("2026-10-16")).expect("a warning");
    assert_eq!(warning.message, "problem-moved-past-killing");
    assert_eq!(warning.figures["latest"], Figure::Date(date("2026-10-15")));

    garden.mark("a/site", MarkKind::Moved { to: date("2026-10-20") });
    let plan = garden.plan();
    assert_eq!(found(&plan, "a/site").due_on, date("2026-10-20"));
    assert_eq!(problems(&plan), [("a the garden", "problem-moved-past-killing")]);
}

#[test]
fn a_move_before_what_must_come_first_is_warned_about() {
    let rules = chore(
        "first",
        "site",
        "10-10",
        "when.earliest = [{ from = \"calendar\", on = { month = 10, day = 8 } }]",
    ) + &chore("second", "site", "10-10", "after = [\"first\"]");
    let mut garden = Garden::with_rules(&rules);
    garden.mark("second/site", MarkKind::Moved { to: date("2026-10-01") });
    let plan = garden.plan();
    assert_eq!(found(&plan, "second/site").due_on, date("2026-10-01"));
    assert_eq!(problems(&plan), [("second the garden", "problem-moved-before")]);
}

#[test]
fn who_begins_in_mid_season_faces_only_what_still_matters() {
    let killing = format!("when.latest = [{}]\nwhen.killing = true", on("11-05"));
    let rules = chore("order-film", "site", "08-20", "")
        + &chore("bring-in", "planting", "11-01", &killing)
        + &chore("seal", "shelter", "11-05", "required = true")
        + &chore(
            "proof-night",
            "zone",
            "11-05",
            "after = [\"seal\"]\nwhen.best = [{ from = \"chore\", chore = \"seal\", days = 2 }]",
        )
        + &chore(
            "round",
            "zone",
            "11-10",
            &format!("repeat = {{ every_days = 7, until = {} }}", on("12-20")),
        )
        + &chore("uncover", "shelter", "03-10", "");
    let mut garden = Garden::with_rules(&rules);
    let began = date("2026-12-01");
    garden.began_on = Some(began);
    let plan = garden.plan();
    assert_eq!(problems(&plan), [("2026–27", "problem-began-late")]);
    assert_eq!(plan.problems[0].reason.figures["count"], Figure::Count(1));
    assert!(plan.chores.iter().all(|chore| chore.due_on >= began));
    for key in ["bring-in/lemon", "seal/house"] {
        let due_now = found(&plan, key);
        assert_eq!(due_now.due_on, began);
        assert!(due_now.reasons.iter().any(|reason| reason.message == "reason-due-now"));
    }
    assert_eq!(found(&plan, "proof-night/bench").due_on, date("2026-12-03"));
    assert_eq!(found(&plan, "uncover/house").due_on, date("2027-03-10"));

    garden.began_on = Some(date("2027-05-10"));
    let spring = garden.plan();
    assert_eq!(spring.chores, [], "once winter is over nothing of the autumn matters");
}

#[test]
fn plantings_without_a_place_or_an_entry_are_named() {
    let mut garden = Garden::with_rules(&chore("a", "site", "10-10", ""));
    let pot = Container::Pot { volume_l: 5.0 };
    garden.plantings.push(planting("homeless", "citrus-limon", None, pot));
    garden.plantings.push(planting("palm", "trachycarpus-fortunei", None, Container::Ground));
    garden.plantings.push(planting("stranger", "triffid", Some("bench"), pot));
    garden.plantings.push(planting("lost", "citrus-limon", Some("attic"), pot));
    assert_eq!(
        problems(&garden.plan()),
        [
            ("the homeless", "problem-no-zone"),
            ("the lost", "problem-no-place"),
            ("the stranger", "problem-unknown-plant"),
        ]
    );
}

#[test]
fn a_limit_that_no_night_reaches_is_noted_only_where_plants_depend_on_it() {
    let never = "when.best = [{ from = \"freeze_date\", event = \"first_autumn\", limit = { of = \"fixed\", temp_c = -40.0 }, chance = 0.5 }]";
    let rules = chore("close", "zone", "11-01", never)
        + &chore("round", "zone", "11-01", never).replace("close_up", "winter_round");
    let plan = Garden::with_rules(&rules).plan();
    assert_eq!(plan.chores, []);
    assert_eq!(problems(&plan), [("close …", "problem-never-reached")]);
    assert_eq!(plan.problems[0].reason.figures["count"], Figure::Count(3));
}

#[test]
fn a_southern_winter_is_planned_half_a_year_later() {
    let north = Garden::new().plan();
    let south = Garden::at(-37.0).plan();
    assert_eq!(south.season.name, "2026");
    let first_freeze = &south.bands[0];
    assert!(first_freeze.median >= date("2026-04-25") && first_freeze.median <= date("2026-05-15"));
    // Half-years differ in length, so a chore that comes again may come once more or less often.
    for chore in north.chores.iter().filter(|chore| !chore.key.contains('#')) {
        let mirrored = found(&south, &chore.key);
        let apart = (mirrored.window.best - south.season.starts_on).num_days()
            - (chore.window.best - north.season.starts_on).num_days();
        assert!(apart.abs() <= 7, "{}: {} and {}", chore.key, chore.window.best, mirrored.window.best);
    }
}

#[test]
fn closing_up_and_uncovering_fall_where_practice_has_them() {
    // Common practice, no source: with a first freeze early in November, a last one in mid-April and −17 °C,
    // a small greenhouse of hardy pot plants is closed up between the first leaf-killing frost and late November
    // and uncovered early to mid-March.
    let mut garden = Garden::new();
    for planting in &mut garden.plantings[..3] {
        planting.plant_key = "ficus-carica".into();
    }
    let plan = garden.plan();
    let cover = found(&plan, "close-up-cover-on/house").window.best;
    assert!(cover >= date("2026-11-08") && cover <= date("2026-11-30"), "cover on {cover}");
    let uncover = found(&plan, "uncover-off/house").window.best;
    assert!(uncover >= date("2027-03-01") && uncover <= date("2027-03-25"), "uncovered on {uncover}");
}

#[test]
fn heat_takes_away_the_danger_of_a_missing_cover() {
    let lines = "when.best = [{ from = \"low_reaches\", trend = \"falling\", limit = { of = \"unheated_hold\" }, chance = 0.1 }, { from = \"calendar\", on = { month = 12, day = 1 } }]";
    let mut garden = Garden::with_rules(&chore("cover", "zone", "11-01", lines));
    let cold = found(&garden.plan(), "cover/bench").window.best;
    assert!(cold < date("2026-12-01"));
    garden.zones[0].kept_above_c = Some(5.0);
    assert_eq!(found(&garden.plan(), "cover/bench").window.best, date("2026-12-01"));
}

#[test]
fn bands_run_from_the_ten_to_the_ninety_percent_date() {
    let plan = Garden::new().plan();
    assert_eq!(plan.bands.len(), 6);
    for band in &plan.bands {
        assert!(band.from < band.median && band.median < band.to, "{band:?}");
    }
}

#[test]
fn stages_follow_each_other_through_the_season() {
    let garden = Garden::new();
    let plan = garden.plan();
    for planting in &garden.plantings {
        let spans: Vec<_> = plan.stages.iter().filter(|span| span.planting_id == planting.id).collect();
        assert_eq!(spans[0].from, plan.season.starts_on);
        assert_eq!(spans[spans.len() - 1].to, plan.season.ends_on);
        for pair in spans.windows(2) {
            assert_eq!(pair[0].to.succ_opt(), Some(pair[1].from), "{}", planting.id);
        }
    }
}

#[test]
fn work_is_spread_over_the_days_there_are() {
    let rules: String = (0..6).map(|n| chore(&format!("job-{n}"), "site", "10-14", "minutes = 90")).collect();
    let mut garden = Garden::with_rules(&rules);
    garden.site.work.days = vec![chrono::Weekday::Sat, chrono::Weekday::Sun];
    garden.site.work.hours_per_day = 3.0;
    let plan = garden.plan();
    let due: Vec<String> = plan.chores.iter().map(|chore| chore.due_on.to_string()).collect();
    // The best date is a Wednesday; two jobs fit on each day of the nearest weekends.
    assert_eq!(due, ["2026-10-10", "2026-10-10", "2026-10-11", "2026-10-11", "2026-10-17", "2026-10-17"]);
    assert!(plan.chores.iter().all(|chore| chore.reasons.iter().any(|r| r.message == "reason-levelled")));
    assert_eq!(problems(&plan), []);
}

#[test]
fn work_for_more_than_a_day_goes_on_over_the_next_days() {
    let rules = chore("long", "site", "10-14", "minutes = 400")
        + &chore("next", "site", "10-14", "after = [\"long\"]");
    let mut garden = Garden::with_rules(&rules);
    garden.site.work.hours_per_day = 3.0;
    let plan = garden.plan();
    let long = found(&plan, "long/site");
    let reason =
        long.reasons.iter().find(|reason| reason.message == "reason-several-days").expect("a reason");
    assert_eq!(reason.figures["count"], Figure::Count(3));
    assert_eq!(long.due_on, date("2026-10-14"));
    assert_eq!(found(&plan, "next/site").due_on, date("2026-10-16"), "the rest of the third day is free");
    assert_eq!(problems(&plan), []);
}

#[test]
fn a_killing_date_is_kept_by_overloading_a_day_with_the_figures_reported() {
    let lines = format!("minutes = 100\nwhen.latest = [{}]\nwhen.killing = true", on("10-10"));
    let early = format!("{lines}\nwhen.earliest = [{}]", on("10-10"));
    let rules = ["a", "b"].map(|key| chore(key, "site", "10-10", &early)).concat();
    let mut garden = Garden::with_rules(&rules);
    garden.site.work.hours_per_day = 2.0;
    let plan = garden.plan();
    assert!(plan.chores.iter().all(|chore| chore.due_on == date("2026-10-10")));
    assert_eq!(problems(&plan), [("b the garden", "problem-overload")]);
    assert_eq!(plan.problems[0].reason.figures["minutes"], Figure::Count(200));
    assert_eq!(plan.problems[0].reason.figures["available"], Figure::Count(120));
}

#[test]
fn steps_before_a_killing_one_leave_room_for_it() {
    let lines = |after: &str| {
        format!("minutes = 60\nafter = [{after}]\nwhen.latest = [{}]\nwhen.killing = true", on("10-11"))
    };
    let rules = chore("a", "zone", "10-11", "minutes = 60")
        + &chore("b", "zone", "10-11", &lines("\"a\""))
        + &chore("c", "shelter", "10-11", &lines("\"b\""));
    let mut garden = Garden::with_rules(&rules);
    garden.site.work.days = vec![chrono::Weekday::Sat, chrono::Weekday::Sun];
    garden.site.work.hours_per_day = 5.0;
    let plan = garden.plan();
    // 10 and 11 October are a weekend of ten hours; the chain takes eight.
    assert_eq!(problems(&plan), []);
    assert!(plan.chores.iter().all(|chore| chore.due_on >= date("2026-10-10")));
}

#[test]
fn spreading_leaves_half_the_days_between_chores_that_are_counted_from_each_other() {
    let rules = chore("cover", "site", "11-17", "after = [\"water\"]")
        + &chore(
            "water",
            "site",
            "11-15",
            "when.best = [{ from = \"chore\", chore = \"cover\", days = -2 }]",
        )
        + &chore("store", "site", "11-15", "when.best = [{ from = \"chore\", chore = \"cover\", days = 9 }]");
    let mut garden = Garden::with_rules(&rules);
    garden.site.work.days = vec![chrono::Weekday::Sun];
    let plan = garden.plan();
    // 15 November is a Sunday; the leaves need a day to dry, so the cover goes on a week later.
    assert_eq!(found(&plan, "water/site").due_on, date("2026-11-15"));
    assert_eq!(found(&plan, "cover/site").due_on, date("2026-11-22"));
    assert_eq!(found(&plan, "store/site").due_on, date("2026-11-29"));
    assert_eq!(problems(&plan), []);
}

#[test]
fn a_killing_date_without_a_work_day_takes_a_day_off() {
    let lines = format!("when.earliest = [{0}]\nwhen.latest = [{0}]\nwhen.killing = true", on("10-14"));
    let mut garden = Garden::with_rules(&chore("a", "site", "10-14", &lines));
    garden.site.work.days = vec![chrono::Weekday::Sat];
    let plan = garden.plan();
    assert_eq!(found(&plan, "a/site").due_on, date("2026-10-14"));
    assert_eq!(problems(&plan), [("a the garden", "problem-no-work-day")]);
}

#[test]
fn tight_chores_are_placed_before_those_that_can_wait() {
    let tight = format!("minutes = 120\nwhen.latest = [{}]", on("10-14"));
    let loose = format!("minutes = 120\nwhen.latest = [{}]", on("11-30"));
    let rules = chore("a-loose", "site", "10-14", &loose) + &chore("b-tight", "site", "10-14", &tight);
    let mut garden = Garden::with_rules(&rules);
    garden.site.work.hours_per_day = 2.0;
    let plan = garden.plan();
    assert_eq!(found(&plan, "b-tight/site").due_on, date("2026-10-14"));
    assert_eq!(found(&plan, "a-loose/site").due_on, date("2026-10-13"));
}

#[test]
fn every_message_and_figure_is_in_the_table() {
    let mut garden = Garden::new();
    garden.began_on = Some(date("2026-11-20"));
    let mut plans = vec![Garden::new().plan(), garden.plan()];
    garden.began_on = None;
    garden.site.work.hours_per_day = 0.25;
    plans.push(garden.plan());
    for plan in &plans {
        let reasons = plan.chores.iter().flat_map(|chore| &chore.reasons);
        for reason in reasons.chain(plan.problems.iter().map(|problem| &problem.reason)) {
            let (_, figures) = MESSAGES
                .iter()
                .find(|(key, _)| *key == reason.message)
                .unwrap_or_else(|| panic!("{} is not in the table", reason.message));
            let mut wanted = figures.to_vec();
            wanted.sort_unstable();
            let given: Vec<&str> = reason.figures.keys().map(String::as_str).collect();
            assert_eq!(given, wanted, "{}", reason.message);
        }
    }
}
