use hibernacle_contract::ErrorCode::Conflict;
use hibernacle_contract::season::SeasonRequest;
use hibernacle_contract::setup::{DemoRequest, Item, ItemKind, OverviewRequest, SiteRef};
use hibernacle_contract::shelter::{ShelterDetail, ShelterRef};
use hibernacle_contract::today::TodayRequest;
use hibernacle_engine::climate::Basis;
use hibernacle_engine::plant::{Container, Planting};
use hibernacle_engine::season::ChoreState;
use hibernacle_service::Context;
use hibernacle_service::season::season_plan;
use hibernacle_service::setup::{demo_load, overview, prices, remove, site_save};
use hibernacle_service::shelter::shelter_detail;
use hibernacle_service::today::today;
use hibernacle_test_support::{SimulatedClock, draft};

use crate::refused;

fn empty() -> Context {
    Context::in_memory(SimulatedClock::at("2026-08-20T08:00:00Z")).unwrap()
}

#[test]
fn the_demo_is_a_whole_garden_ready_for_a_plan() {
    let context = empty();
    let site = demo_load(&context, DemoRequest {}).unwrap();
    assert_eq!(site.name, "Larch Bank");
    let shown = overview(&context, OverviewRequest::default()).unwrap();
    assert_eq!(shown.next_step, None);
    let basis = shown.climate.unwrap().basis;
    assert!(matches!(basis, Basis::Measured { seasons: 29.., .. }), "{basis:?}");
    assert_eq!(shown.shelters.len(), 4);
    assert!(shown.zones.len() > 4);
    assert!(shown.plantings.len() >= 16);
    assert!(shown.zones.iter().all(|zone| zone.name != "floor"), "a shelter kept the zone it came with");
    let is_placed =
        |planting: &Planting| planting.zone_id.is_some() || planting.container == Container::Ground;
    assert!(shown.plantings.iter().all(is_placed));
}

#[test]
fn the_demo_is_not_loaded_twice() {
    let context = empty();
    let site = demo_load(&context, DemoRequest {}).unwrap();
    let before = overview(&context, OverviewRequest::default()).unwrap();
    let message = refused(demo_load(&context, DemoRequest {}), Conflict, None);
    assert!(message.contains("Larch Bank is loaded already"), "{message}");
    assert_eq!(overview(&context, OverviewRequest::default()).unwrap(), before);

    remove(&context, Item { kind: ItemKind::Site, id: site.id }).unwrap();
    demo_load(&context, DemoRequest {}).unwrap();
}

#[test]
fn the_demo_stands_beside_a_garden_of_ones_own() {
    let context = empty();
    site_save(&context, draft::site()).unwrap();
    demo_load(&context, DemoRequest {}).unwrap();
    assert_eq!(overview(&context, OverviewRequest::default()).unwrap().sites.len(), 2);
}

#[test]
fn a_host_loads_the_demo_only_into_data_that_nothing_was_entered_into() {
    let context = empty();
    let site = context.load_demo_if_empty().unwrap().unwrap();
    assert_eq!(context.load_demo_if_empty().unwrap(), None);
    remove(&context, Item { kind: ItemKind::Site, id: site.id }).unwrap();
    assert_eq!(context.load_demo_if_empty().unwrap(), None);
}

#[test]
fn whenever_it_is_loaded_the_demo_season_was_lived_up_to_now() {
    for (now, least_done) in [
        ("2026-07-02T08:00:00Z", 0),
        ("2026-11-25T13:00:00Z", 90),
        ("2027-02-28T20:00:00Z", 150),
        ("2028-02-29T12:00:00Z", 150),
    ] {
        let context = Context::in_memory(SimulatedClock::at(now)).unwrap();
        let site = demo_load(&context, DemoRequest {}).unwrap();
        let plan = season_plan(&context, SeasonRequest { site_id: site.id, start_year: None }).unwrap().plan;
        let date = context_today(&context);
        let (mut done, mut late) = (0, Vec::new());
        for chore in &plan.chores {
            match &chore.state {
                ChoreState::Done { on } => {
                    assert!(*on < date && *on >= chore.window.earliest, "{now}: {} on {on}", chore.key);
                    done += 1;
                }
                ChoreState::Skipped { reason, .. } => assert!(!reason.is_empty()),
                ChoreState::Open if chore.window.latest < date => late.push(chore.key.clone()),
                ChoreState::Open => {}
            }
        }
        assert!(done >= least_done, "{now}: {done} done");
        assert!(late.is_empty(), "{now}: {late:?}");
        let due = due(&context);
        assert!(due <= 25, "{now}: {due} due on one day");
    }
}

fn context_today(context: &Context) -> chrono::NaiveDate {
    today(context, TodayRequest::default()).unwrap().date
}

fn due(context: &Context) -> usize {
    let shown = today(context, TodayRequest::default()).unwrap();
    shown.groups.iter().map(|group| group.late.len() + group.due.len()).sum()
}

#[test]
fn its_shelters_are_recorded_in_detail_and_its_heater_is_in_order() {
    for now in ["2026-11-25T13:00:00Z", "2031-02-10T13:00:00Z"] {
        let context = Context::in_memory(SimulatedClock::at(now)).unwrap();
        let site = demo_load(&context, DemoRequest {}).unwrap();
        let shelters = overview(&context, OverviewRequest::default()).unwrap().shelters;
        let details: Vec<ShelterDetail> = shelters
            .iter()
            .map(|shelter| shelter_detail(&context, ShelterRef { shelter_id: shelter.id.clone() }).unwrap())
            .collect();
        for detail in &details {
            assert!(!detail.is_usual_build, "{}", detail.shelter.name);
            assert!(detail.floor_plan.zones.iter().all(|zone| zone.is_drawn), "{:?}", detail.floor_plan);
            assert!(detail.zones.iter().all(|zone| {
                let drawn = zone.outline.unwrap();
                (drawn.length_m * drawn.width_m / zone.area_m2 - 1.0).abs() < 0.1
            }));
        }
        let house = &details[0];
        assert_eq!(house.heaters.len(), 1);
        assert!(!house.heater_checks[0].is_refused, "{:?}", house.heater_checks);
        assert_eq!(house.placement, [], "{:?}", house.floor_plan);
        let film = &house.build.covers[0];
        assert!(film.is_on(context_today(&context)), "{film:?}");
        assert_eq!(details.iter().map(|detail| detail.sensors.len()).sum::<usize>(), 4);
        assert_eq!(prices(&context, SiteRef { site_id: Some(site.id) }).unwrap().prices.len(), 2);
    }
}
