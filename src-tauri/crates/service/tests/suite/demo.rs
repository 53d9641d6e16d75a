use hibernacle_contract::ErrorCode::Conflict;
use hibernacle_contract::setup::{DemoRequest, Item, ItemKind, OverviewRequest};
use hibernacle_engine::plant::{Container, Planting};
use hibernacle_service::Context;
use hibernacle_service::setup::{demo_load, overview, remove, site_save};
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
