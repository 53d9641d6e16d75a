use chrono::{Days, NaiveDate};
use hibernacle_contract::ErrorCode::{Conflict, Invalid, NotFound};
use hibernacle_contract::chores::{ChoreDone, ChoreRef};
use hibernacle_contract::climate::TypedClimateRequest;
use hibernacle_contract::season::SeasonRequest;
use hibernacle_contract::setup::OverviewRequest;
use hibernacle_contract::today::{Today, TodayGroup, TodayRequest};
use hibernacle_engine::season::{ChoreState, PlannedChore, TargetKind};
use hibernacle_service::chores::chore_done;
use hibernacle_service::season::season_plan;
use hibernacle_service::setup::{overview, planting_save, shelter_save, site_save};
use hibernacle_service::today::today;
use hibernacle_service::{Context, climate};
use hibernacle_test_support::{Garden, SimulatedClock, draft};

use crate::refused;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn now(garden: &Garden) -> Today {
    today(&garden.context, TodayRequest::default()).unwrap()
}

fn on(garden: &Garden, day: NaiveDate) -> Today {
    today(&garden.context, TodayRequest { site_id: None, on: Some(day) }).unwrap()
}

fn chores(garden: &Garden) -> Vec<PlannedChore> {
    let request = SeasonRequest { site_id: garden.site.id.clone(), start_year: Some(2026) };
    season_plan(&garden.context, request).unwrap().plan.chores.clone()
}

fn holds(list: impl Fn(&TodayGroup) -> &Vec<PlannedChore>, shown: &Today, key: &str) -> bool {
    shown.groups.iter().any(|group| list(group).iter().any(|chore| chore.key == key))
}

#[test]
fn the_day_is_that_of_the_site_and_not_of_greenwich() {
    let garden = Garden::at("2026-10-20T21:30:00Z");
    // 23:30 in Vienna, in summer time.
    assert_eq!(now(&garden).date, date("2026-10-20"));
    garden.clock.set("2026-10-20T22:30:00Z");
    assert_eq!(now(&garden).date, date("2026-10-21"));
    // In winter time midnight is an hour later.
    garden.clock.set("2026-11-20T22:30:00Z");
    assert_eq!(now(&garden).date, date("2026-11-20"));
    garden.clock.set("2026-11-20T23:30:00Z");
    assert_eq!(now(&garden).date, date("2026-11-21"));
}

#[test]
fn the_days_on_which_clocks_change_are_one_day_each() {
    let garden = Garden::at("2026-10-24T22:00:00Z");
    for (instant, day) in [
        ("2026-10-24T21:59:59Z", "2026-10-24"),
        // From 00:00 in summer time to 23:59 in winter time: 25 hours.
        ("2026-10-24T22:00:00Z", "2026-10-25"),
        ("2026-10-25T22:59:59Z", "2026-10-25"),
        ("2026-10-25T23:00:00Z", "2026-10-26"),
        // And 23 hours in spring.
        ("2027-03-27T23:00:00Z", "2027-03-28"),
        ("2027-03-28T21:59:59Z", "2027-03-28"),
        ("2027-03-28T22:00:00Z", "2027-03-29"),
    ] {
        garden.clock.set(instant);
        assert_eq!(now(&garden).date, date(day), "{instant}");
    }
}

#[test]
fn a_southern_season_is_that_of_the_calendar_year() {
    let clock = SimulatedClock::at("2026-06-10T13:00:00Z");
    let context = Context::in_memory(clock.clone()).unwrap();
    let site = site_save(&context, draft::southern_site()).unwrap();
    let typed = TypedClimateRequest { site_id: site.id.clone(), typed: draft::southern_averages() };
    climate::climate_type(&context, typed).unwrap();
    let greenhouse = shelter_save(&context, draft::greenhouse(&site.id)).unwrap();
    let zones = overview(&context, OverviewRequest::default()).unwrap().zones;
    assert_eq!(zones[0].shelter_id, greenhouse.id);
    planting_save(&context, draft::pot(&site.id, "citrus-limon", "lemon", Some(&zones[0].id))).unwrap();

    let shown = today(&context, TodayRequest::default()).unwrap();
    assert_eq!(shown.date, date("2026-06-11"));
    assert_eq!((shown.season.start_year, shown.season.name.as_str()), (2026, "2026"));
    // Midwinter: less than nine hours of daylight at 45° S.
    assert!((8.0..9.0).contains(&shown.day_length_h), "{}", shown.day_length_h);
    // The last minutes of the year in Greenwich are New Year's Day there already.
    clock.set("2026-12-31T11:30:00Z");
    let shown = today(&context, TodayRequest::default()).unwrap();
    assert_eq!((shown.date, shown.season.start_year), (date("2027-01-01"), 2027));

    let request = SeasonRequest { site_id: site.id, start_year: Some(2026) };
    let plan = season_plan(&context, request).unwrap().plan;
    let bring_in = plan.chores.iter().find(|chore| chore.killing).unwrap();
    let months = date("2026-02-01")..date("2026-08-01");
    assert!(months.contains(&bring_in.window.latest), "{bring_in:?}");
}

#[test]
fn a_chore_is_soon_then_due_then_late() {
    let garden = Garden::at("2026-07-02T08:00:00Z");
    for chore in chores(&garden).iter().filter(|chore| chore.due_on > date("2026-07-20")) {
        if chore.key.contains('#')
            || chore.window.latest >= date("2027-06-20")
            || chore.due_on > chore.window.latest
        {
            continue;
        }
        let (due, latest) = (chore.due_on, chore.window.latest);
        let is_soon = |day| holds(|group| &group.soon, &on(&garden, day), &chore.key);
        let is_due = |day| holds(|group| &group.due, &on(&garden, day), &chore.key);
        let is_late = |day| holds(|group| &group.late, &on(&garden, day), &chore.key);
        assert!(!is_soon(due - Days::new(8)) && is_soon(due - Days::new(7)), "{chore:?}");
        assert!(is_soon(due - Days::new(1)) && !is_due(due - Days::new(1)), "{chore:?}");
        assert!(is_due(due) && is_due(latest) && !is_late(latest), "{chore:?}");
        assert!(is_late(latest + Days::new(1)) && !is_due(latest + Days::new(1)), "{chore:?}");
    }
}

#[test]
fn of_missed_rounds_only_the_newest_is_still_asked_for() {
    let garden = Garden::at("2026-07-02T08:00:00Z");
    let rounds: Vec<PlannedChore> =
        chores(&garden).into_iter().filter(|chore| chore.key.ends_with("#1")).collect();
    assert!(!rounds.is_empty());
    for first in rounds {
        let base = first.key.trim_end_matches('1');
        let all = chores(&garden);
        let rounds: Vec<_> = all.iter().filter(|chore| chore.key.starts_with(base)).collect();
        for round in &rounds {
            let shown = on(&garden, round.due_on);
            let asked_for = |chore: &&&PlannedChore| {
                holds(|group| &group.late, &shown, &chore.key)
                    || holds(|group| &group.due, &shown, &chore.key)
            };
            let keys: Vec<&str> = rounds.iter().filter(asked_for).map(|chore| chore.key.as_str()).collect();
            assert_eq!(keys, [round.key.as_str()]);
        }
    }
}

#[test]
fn chores_stand_with_their_place_and_places_with_late_ones_come_first() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    for month in ["2026-10-20", "2026-11-10", "2026-12-01", "2027-03-10"] {
        let shown = on(&garden, date(month));
        let order: Vec<bool> = shown.groups.iter().map(|group| group.late.is_empty()).collect();
        assert!(order.is_sorted(), "{month}: {order:?}");
        for group in &shown.groups {
            let place = group.place_id.as_deref();
            for chore in group.late.iter().chain(&group.due).chain(&group.soon) {
                assert_eq!(chore.state, ChoreState::Open);
                match chore.target.kind {
                    TargetKind::Site => assert_eq!(place, None),
                    TargetKind::Shelter | TargetKind::Zone => {
                        assert_eq!(place, Some(chore.target.id.as_str()));
                    }
                    TargetKind::Planting => assert_eq!(place, chore.target.zone_id.as_deref()),
                }
            }
        }
        let names: Vec<&str> = shown.groups.iter().map(|group| group.place.as_str()).collect();
        let corner = shown.groups.iter().find(|group| group.place_id.as_ref() == Some(&garden.corner.id));
        assert!(corner.is_none_or(|group| group.place == "greenhouse, north corner"), "{names:?}");
    }
}

#[test]
fn what_was_settled_today_is_shown_for_undoing_and_gone_tomorrow() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let chore = chores(&garden).remove(0);
    let name = ChoreRef { site_id: garden.site.id.clone(), start_year: 2026, chore_key: chore.key.clone() };
    chore_done(&garden.context, ChoreDone { chore: name, on: None }).unwrap();
    let keys = |shown: Today| shown.settled.into_iter().map(|chore| chore.key).collect::<Vec<_>>();
    assert_eq!(keys(now(&garden)), [chore.key]);
    garden.clock.set("2026-08-21T08:00:00Z");
    assert!(keys(now(&garden)).is_empty());
}

#[test]
fn a_free_day_names_the_next_chore() {
    let garden = Garden::at("2026-07-01T08:00:00Z");
    let shown = now(&garden);
    let first = chores(&garden).into_iter().map(|chore| chore.due_on).min().unwrap();
    assert!(shown.groups.iter().all(|group| group.late.is_empty() && group.due.is_empty()));
    assert_eq!(shown.next.unwrap().due_on, first);
    assert_eq!(on(&garden, first).next, None);
}

#[test]
fn the_sun_may_not_set_or_not_rise() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let mut north = garden.site.clone();
    north.latitude_deg = 78.0;
    site_save(&garden.context, north).unwrap();
    let midsummer = on(&garden, date("2026-08-01"));
    assert_eq!((midsummer.sunset_utc, midsummer.day_length_h), (None, 24.0));
    let midwinter = on(&garden, date("2026-12-21"));
    assert_eq!((midwinter.sunset_utc, midwinter.day_length_h), (None, 0.0));
}

#[test]
fn nothing_is_due_without_a_site_or_a_climate() {
    let context = Context::in_memory(SimulatedClock::at("2026-08-20T08:00:00Z")).unwrap();
    refused(today(&context, TodayRequest::default()), NotFound, None);
    refused(today(&context, TodayRequest { site_id: Some("gone".to_owned()), on: None }), NotFound, None);
    site_save(&context, draft::site()).unwrap();
    let message = refused(today(&context, TodayRequest::default()), Conflict, None);
    assert!(message.contains("has no climate yet"), "{message}");
}

#[test]
fn a_day_beyond_the_calendar_is_refused() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let request = TodayRequest { site_id: None, on: Some(NaiveDate::MAX) };
    refused(today(&garden.context, request), Invalid, Some("on"));
}
