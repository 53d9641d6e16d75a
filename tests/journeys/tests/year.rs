//! A year at Larch Bank: one grower, from the first evening with the program to the start of the second season.
//!
//! The place and its climate are the invented demo's. What the plan says is held against the freeze figures that the
//! program shows for that climate, which have their own checks against outside computations; nothing here is a copy
//! of an earlier plan.

#![expect(clippy::unwrap_used, reason = "a test")]

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};
use hibernacle_contract::calendar::CalendarRequest;
use hibernacle_contract::setup::{NextStep, OverviewRequest};
use hibernacle_contract::{ErrorCode, wording::Wording};
use hibernacle_engine::plant::PlantCatalogue;
use hibernacle_engine::season::{ChoreState, Event, Phase, Plan, PlannedChore};
use hibernacle_journeys::{CLIMATE_FILE, Chance, Entry, Grower, date, day_before, done_on, larch_bank};
use hibernacle_service::calendar::calendar_export;
use hibernacle_service::{Context, setup};
use hibernacle_test_support::{SimulatedClock, draft};

const SEASON: i32 = 2026;

/// The plantings that have to come in, by the names the grower gave them.
const POTS: [&str; 5] = ["pelargoniums", "lemon", "oleander", "olive", "maple"];

#[test]
fn a_year_at_larch_bank() {
    an_empty_program_leads_the_newcomer();
    let grower = the_first_evening();
    late_summer(&grower);
    cuttings(&grower);
    moving_in(&grower);
    closing_up(&grower);
    winter(&grower);
    a_plant_in_january(&grower);
    spring(&grower);
    the_seasons_end(&grower);
}

/// Before anything is entered the program says what comes first, and refuses to plan out of thin air.
fn an_empty_program_leads_the_newcomer() {
    let context = Context::in_memory(SimulatedClock::at("2026-08-15T18:00:00Z")).unwrap();
    let overview = setup::overview(&context, OverviewRequest { site_id: None }).unwrap();
    assert_eq!((overview.site, overview.next_step), (None, Some(NextStep::Site)));
}

/// Place, climate, shelters and plants, each step named by the one before, and then the plan of a whole season.
fn the_first_evening() -> Grower {
    let grower = Grower::begins(larch_bank(), "2026-08-15");
    assert_eq!(grower.overview().next_step, Some(NextStep::Climate));
    grower.imports("larch-bank-climate.csv", CLIMATE_FILE);
    assert_eq!(grower.overview().next_step, Some(NextStep::Shelter));
    grower.enter_shelters();
    assert_eq!(grower.overview().next_step, Some(NextStep::Plants));
    grower.enter_plants();
    assert_eq!(grower.overview().next_step, None);

    let plan = grower.plan(SEASON);
    assert_eq!(plan.season.name, "2026–27");
    let phases: BTreeSet<Phase> = plan.chores.iter().map(|chore| chore.phase).collect();
    assert_eq!(phases.len(), 10, "every part of the year has its work: {phases:?}");
    let troubled: BTreeSet<&str> = plan.problems.iter().map(|problem| problem.about.as_str()).collect();
    for chore in plan.chores.iter().filter(|chore| !troubled.contains(chore.title.as_str())) {
        let window = chore.window;
        assert!(window.earliest <= window.latest, "{}: {window:?}", chore.title);
        assert!(
            !chore.killing || chore.due_on <= window.latest,
            "{} is planned too late: {chore:?}",
            chore.title
        );
        assert!(!chore.reasons.is_empty(), "{} has no reason in numbers", chore.title);
    }
    let wording = Wording::new("en", grower.site.units);
    for chore in &plan.chores {
        for sentence in wording.reasons(&chore.reasons) {
            assert!(sentence.ends_with('.') && !sentence.contains(['{', '}']), "{}: {sentence}", chore.title);
        }
    }
    in_order(&plan);
    grower
}

/// What must come first is planned first.
fn in_order(plan: &Plan) {
    let due: BTreeMap<&str, NaiveDate> =
        plan.chores.iter().map(|chore| (chore.key.as_str(), chore.due_on)).collect();
    let troubled: BTreeSet<&str> = plan.problems.iter().map(|problem| problem.about.as_str()).collect();
    for chore in plan.chores.iter().filter(|chore| !troubled.contains(chore.title.as_str())) {
        for before in &chore.after {
            assert!(due[before.as_str()] <= chore.due_on, "{} comes before {before}", chore.title);
        }
    }
}

/// Work that was done on the day it was planned for was never late, nor out of turn.
fn all_in_time(diary: &[Entry]) {
    let late: Vec<String> = diary
        .iter()
        .filter(|entry| entry.is_late)
        .map(|entry| format!("{} {}", entry.day, entry.chore.title))
        .collect();
    assert_eq!(late, Vec::<String>::new());
    all_in_turn(diary);
}

fn all_in_turn(diary: &[Entry]) {
    for entry in diary {
        assert_eq!(entry.changed.warning, None, "{} on {}", entry.chore.title, entry.day);
    }
}

/// The weeks before the first cold night: feeding stops, pests are looked for, space and supplies are counted.
fn late_summer(grower: &Grower) {
    all_in_time(&grower.works(SEASON, date("2026-08-15"), date("2026-09-06")));
    let first_freeze = grower.freeze_date(Event::FirstAutumn, 0.0, Chance::Even, SEASON).unwrap();
    let fed = done_on(&grower.chore(SEASON, "stop-feeding", "Larch Bank"));
    let weeks = (first_freeze - fed).num_days() / 7;
    assert!((4..=10).contains(&weeks), "feeding stops {weeks} weeks before the median first freeze");
}

/// Pelargonium cuttings root in some weeks: they are taken well before the first frost can take their mother.
fn cuttings(grower: &Grower) {
    let taken = done_on(&grower.chore(SEASON, "cuttings-pelargonium", "Larch Bank"));
    let early_frost = grower.freeze_date(Event::FirstAutumn, 0.0, Chance::OneInTen, SEASON).unwrap();
    assert!(taken + Days::new(7) <= early_frost, "taken on {taken}, frost from {early_frost} on");
}

/// Every pot stands inside before the night that kills it has come in one year of ten, the tender ones first.
fn moving_in(grower: &Grower) {
    all_in_time(&grower.works(SEASON, date("2026-09-06"), date("2026-10-11")));
    let plan = grower.plan(SEASON);
    let catalogue = PlantCatalogue::built_in().unwrap();
    let mut came_in = BTreeMap::new();
    for label in POTS {
        let chore = move_in(&plan, label);
        let planting =
            grower.overview().plantings.into_iter().find(|planting| planting.label == label).unwrap();
        let limit_c = planting.winter_limit_c(catalogue.get(&planting.plant_key).unwrap());
        let killed = grower.freeze_date(Event::FirstAutumn, limit_c, Chance::OneInTen, SEASON);
        let inside = match chore.state {
            ChoreState::Done { on } => on,
            _ => chore.due_on,
        };
        if let Some(killed) = killed {
            assert!(inside <= killed, "{label} comes in on {inside}, and {limit_c} °C comes by {killed}");
        }
        assert!(chore.killing, "{label} would be lost outdoors");
        came_in.insert(label, inside);
    }
    let first_frost = grower.freeze_date(Event::FirstAutumn, 0.0, Chance::OneInTen, SEASON).unwrap();
    assert!(came_in["pelargoniums"] <= first_frost, "pelargoniums stand no frost");
    assert!(came_in["lemon"] < came_in["maple"], "{came_in:?}");
    assert!(came_in["olive"] < came_in["maple"], "{came_in:?}");
    assert!(
        !matches!(move_in(&plan, "maple").state, ChoreState::Done { .. }),
        "a maple colours and drops first"
    );
}

fn move_in<'a>(plan: &'a Plan, label: &str) -> &'a PlannedChore {
    let own = |chore: &&PlannedChore| chore.target.name == label && chore.rule.starts_with("move-in-");
    plan.chores.iter().find(own).unwrap()
}

/// The greenhouse is closed up step by step; a step out of turn is warned about, and the last one stamps the zone.
fn closing_up(grower: &Grower) {
    let cover = grower.chore(SEASON, "close-up-cover-on", "greenhouse");
    grower.goes_to(day_before(cover.due_on));
    let warned = grower.ticks(SEASON, &cover);
    assert_eq!(warned.warning.as_ref().unwrap().message, "problem-done-before");
    assert!(warned.closed_up.is_empty());
    let taken_back = grower.undoes(SEASON, &cover);
    assert_eq!(taken_back.chore.state, ChoreState::Open);

    let diary = grower.works(SEASON, date("2026-10-11"), date("2026-12-20"));
    all_in_turn(&diary);
    let mut stamped = BTreeMap::new();
    for entry in &diary {
        for zone in entry.changed.closed_up.iter().filter(|zone| zone.starts_with("greenhouse")) {
            assert!(
                entry.chore.required,
                "the stamp comes with a required step, not with {}",
                entry.chore.title
            );
            assert_eq!(stamped.insert(zone.clone(), entry.day), None, "a zone is stamped once");
        }
    }
    let zones: Vec<&str> = stamped.keys().map(String::as_str).collect();
    assert_eq!(zones, ["greenhouse, north corner", "greenhouse, south floor"]);
    for list in grower.checklists(SEASON).zones.iter().filter(|list| list.shelter.name == "greenhouse") {
        assert_eq!(list.open_required, 0);
        assert_eq!(list.closed_up_on, stamped.get(&format!("greenhouse, {}", list.zone.name)).copied());
        assert!(
            list.steps.iter().filter(|step| step.required).all(|step| step.proof.is_some()),
            "a step has its proof"
        );
    }
    cover_between_frost_and_hard_winter(grower);
}

/// Common practice, no source: a small greenhouse is closed up between the first frost that kills leaves and hard
/// winter. Here: between the early date of −2.2 °C and the median date of −6.7 °C.
fn cover_between_frost_and_hard_winter(grower: &Grower) {
    let covered = done_on(&grower.chore(SEASON, "close-up-cover-on", "greenhouse"));
    let leaves_die = grower.freeze_date(Event::FirstAutumn, -2.2, Chance::OneInTen, SEASON).unwrap();
    let hard = grower.freeze_date(Event::FirstAutumn, -6.7, Chance::Even, SEASON).unwrap();
    assert!(leaves_die <= covered + Days::new(7) && covered <= hard, "{leaves_die} … {covered} … {hard}");
}

/// Rounds through the winter: one is moved, one left out with its reason, one tick taken back.
fn winter(grower: &Grower) {
    let rounds = |grower: &Grower| -> Vec<PlannedChore> {
        let open =
            |chore: &PlannedChore| chore.phase == Phase::WinterRound && chore.state == ChoreState::Open;
        grower.plan(SEASON).chores.into_iter().filter(open).collect()
    };
    let open = rounds(grower);
    assert!(open.len() > 20, "a winter has its rounds: {}", open.len());

    // Guests over the holidays: a round moves behind them.
    let moved = open
        .iter()
        .find(|chore| chore.due_on >= date("2026-12-24") && chore.rule == "winter-tubers")
        .unwrap();
    let to = date("2027-01-04");
    let changed = grower.moves(SEASON, moved, to).unwrap();
    assert_eq!((changed.chore.due_on, changed.chore.moved), (to, true));
    let past = grower.moves(SEASON, moved, date("2026-12-01")).unwrap_err();
    assert_eq!((past.code, past.field.as_deref()), (ErrorCode::Invalid, Some("to")));

    // No snow, nothing to clear.
    let snow = open.iter().find(|chore| chore.rule == "winter-snow").unwrap();
    let changed = grower.skips(SEASON, snow, "no snow lay");
    assert!(matches!(changed.chore.state, ChoreState::Skipped { reason, .. } if reason == "no snow lay"));

    // Ticked the wrong one: back it goes, and the day moved by hand with it stays.
    let wrong = rounds(grower).into_iter().find(|chore| chore.key == moved.key).unwrap();
    grower.ticks(SEASON, &wrong);
    let back = grower.undoes(SEASON, &wrong).chore;
    assert_eq!((&back.state, back.due_on), (&ChoreState::Open, to));
    all_in_time(&grower.works(SEASON, date("2026-12-20"), date("2027-01-03")));
    assert_eq!(rounds(grower).iter().find(|chore| chore.key == moved.key).unwrap().due_on, to);
}

/// A kumquat arrives in January. The plan is made anew, and everything that was done, left out or moved stays.
fn a_plant_in_january(grower: &Grower) {
    grower.goes_to(date("2027-01-03"));
    let before = settled(&grower.plan(SEASON));
    let calendar_before = identities(grower);
    assert!(before.len() > 60, "{} marks", before.len());
    let zone = grower.zone("south floor").id;
    grower.enter_plant(draft::pot(&grower.site.id, "citrus-japonica", "kumquat", Some(&zone)));
    let plan = grower.plan(SEASON);
    assert_eq!(settled(&plan), before);
    let own: Vec<&PlannedChore> = plan.chores.iter().filter(|chore| chore.target.name == "kumquat").collect();
    assert!(own.iter().any(|chore| chore.phase == Phase::MoveOut), "it will go out in spring: {own:?}");
    let past: Vec<&&PlannedChore> = own.iter().filter(|chore| chore.due_on < date("2027-01-03")).collect();
    assert!(
        past.iter().all(|chore| chore.phase == Phase::MoveIn && chore.killing),
        "asked of the past: {past:?}"
    );
    let after = identities(grower);
    let lost: Vec<&String> = calendar_before.difference(&after).collect();
    assert!(lost.is_empty(), "entries that calendars know keep their identity: {lost:?}");
    // It came in a van and was carried straight inside.
    for chore in past {
        grower.ticks(SEASON, chore);
    }
}

/// What a grower did, by chore: its state, and the day where it was chosen by hand.
fn settled(plan: &Plan) -> BTreeMap<String, (ChoreState, Option<NaiveDate>)> {
    let touched = plan.chores.iter().filter(|chore| chore.moved || chore.state != ChoreState::Open);
    touched
        .map(|chore| (chore.key.clone(), (chore.state.clone(), chore.moved.then_some(chore.due_on))))
        .collect()
}

fn identities(grower: &Grower) -> BTreeSet<String> {
    let request = CalendarRequest {
        site_id: grower.site.id.clone(),
        start_year: Some(SEASON),
        at_hour: Some(9),
        alarm_minutes_before: None,
    };
    let text = calendar_export(&grower.context, request).unwrap().text.replace("\r\n ", "");
    text.lines().filter_map(|line| line.strip_prefix("UID:")).map(str::to_owned).collect()
}

/// Uncovering, hardening off and moving out, each after the cold that would undo it. The cover goes while the sun
/// begins to harm more than frost: once severe nights may be over, before the frosts are.
fn spring(grower: &Grower) {
    all_in_time(&grower.works(SEASON, date("2027-01-03"), date("2027-05-31")));
    let uncovered = done_on(&grower.chore(SEASON, "uncover-off", "greenhouse"));
    let severe = grower.freeze_date(Event::LastSpring, -6.7, Chance::NineInTen, SEASON).unwrap();
    let last_freeze = grower.freeze_date(Event::LastSpring, 0.0, Chance::Even, SEASON).unwrap();
    assert!(severe <= uncovered && uncovered < last_freeze, "{severe} … {uncovered} … {last_freeze}");

    let out = |rule: &str, label: &str| done_on(&grower.chore(SEASON, rule, label));
    let pelargoniums = out("move-out-before-frost", "pelargoniums");
    assert!(pelargoniums >= last_freeze, "out on {pelargoniums}, median last freeze {last_freeze}");
    assert!(
        out("harden-start", "pelargoniums") + Days::new(7) <= pelargoniums,
        "hardening off takes its time"
    );
    assert!(out("move-out-last-in", "maple") <= pelargoniums, "the hardy go out first");
}

/// The season closes, and the next one starts clean while the old one stays to be read.
fn the_seasons_end(grower: &Grower) {
    all_in_time(&grower.works(SEASON, date("2027-05-31"), date("2027-06-30")));
    let plan = grower.plan(SEASON);
    let open: Vec<&str> = plan
        .chores
        .iter()
        .filter(|chore| chore.state == ChoreState::Open)
        .map(|chore| chore.title.as_str())
        .collect();
    assert_eq!(open, Vec::<&str>::new(), "everything was done or left out");

    grower.goes_to(date("2027-07-01"));
    assert_eq!(grower.today().season.start_year, SEASON + 1);
    let next = grower.plan(SEASON + 1);
    assert!(next.chores.iter().all(|chore| chore.state == ChoreState::Open && !chore.moved));
    assert!(next.chores.iter().any(|chore| chore.target.name == "kumquat" && chore.phase == Phase::MoveIn));
    assert_eq!(settled(&grower.plan(SEASON)), settled(&plan), "the old season stays as it was");
}
