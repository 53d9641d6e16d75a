use hibernacle_contract::ErrorCode::{Conflict, NotFound};
use hibernacle_contract::plants::PlantKey;
use hibernacle_contract::setup::{Item, ItemKind, Overview, OverviewRequest, Removed};
use hibernacle_contract::shelter::{ShelterDetail, ShelterRef};
use hibernacle_engine::plant::Habit;
use hibernacle_engine::plant::own::{Hardiness, from_hardiness};
use hibernacle_service::plants::{plant_remove, plant_save};
use hibernacle_service::setup::{overview, planting_save, remove, restore};
use hibernacle_service::shelter::{heater_save, sensor_save, shelter_detail};
use hibernacle_test_support::{Garden, draft};

use crate::refused;

fn garden() -> Garden {
    Garden::at("2026-08-20T08:00:00Z")
}

fn shown(garden: &Garden) -> Overview {
    overview(&garden.context, OverviewRequest::default()).unwrap()
}

/// What is recorded about the greenhouse while it is there.
fn detail(garden: &Garden) -> Option<ShelterDetail> {
    let request = ShelterRef { shelter_id: garden.greenhouse.id.clone() };
    shelter_detail(&garden.context, request).ok()
}

fn take(garden: &Garden, kind: ItemKind, id: &str) -> Removed {
    remove(&garden.context, Item { kind, id: id.to_owned() }).unwrap()
}

#[test]
fn everything_that_can_be_removed_comes_back_as_it_was() {
    let kinds = [
        ItemKind::Site,
        ItemKind::Shelter,
        ItemKind::Zone,
        ItemKind::Planting,
        ItemKind::Heater,
        ItemKind::Sensor,
    ];
    for kind in kinds {
        let garden = garden();
        let heater = heater_save(&garden.context, draft::heater(&garden.greenhouse.id)).unwrap();
        let sensor = draft::sensor(&garden.site.id, Some(&garden.corner.id));
        let sensor = sensor_save(&garden.context, sensor).unwrap();
        let everything = || (shown(&garden), detail(&garden));
        let before = everything();
        let (id, name) = match kind {
            ItemKind::Site => (&garden.site.id, "lower terrace"),
            ItemKind::Shelter => (&garden.greenhouse.id, "greenhouse"),
            ItemKind::Zone => (&garden.corner.id, "north corner"),
            ItemKind::Planting => (&garden.lemon.id, "old lemon"),
            ItemKind::Heater => (&heater.id, "fan heater"),
            ItemKind::Sensor => (&sensor.id, "logger"),
        };
        let removed = take(&garden, kind, id);
        assert_eq!(removed.name, name);
        assert_ne!(everything(), before);
        let item = restore(&garden.context, removed.clone()).unwrap();
        assert_eq!(item, removed.item);
        assert_eq!(everything(), before, "{kind:?}");
    }
}

#[test]
fn plantings_of_a_removed_shelter_stay_without_a_winter_place() {
    let garden = garden();
    take(&garden, ItemKind::Shelter, &garden.greenhouse.id);
    let left = shown(&garden);
    assert_eq!(left.plantings.len(), 4);
    assert_eq!(left.zones.len(), 1);
    let place =
        |label: &str| left.plantings.iter().find(|planting| planting.label == label).unwrap().zone_id.clone();
    assert_eq!((place("old lemon"), place("olive")), (None, None));
    assert_eq!(place("red dahlias"), Some(garden.shelf.id.clone()));
}

#[test]
fn restoring_twice_is_refused_and_changes_nothing() {
    let garden = garden();
    let removed = take(&garden, ItemKind::Planting, &garden.lemon.id);
    restore(&garden.context, removed.clone()).unwrap();
    let before = shown(&garden);
    let message = refused(restore(&garden.context, removed), Conflict, None);
    assert!(message.contains("“old lemon” was restored before"), "{message}");
    assert_eq!(shown(&garden), before);
}

#[test]
fn a_zone_waits_for_its_shelter_and_a_shelter_for_its_site() {
    let garden = garden();
    let zone = take(&garden, ItemKind::Zone, &garden.corner.id);
    let shelter = take(&garden, ItemKind::Shelter, &garden.greenhouse.id);
    let message = refused(restore(&garden.context, zone.clone()), Conflict, None);
    assert!(message.contains("“north corner” cannot be restored: the shelter"), "{message}");
    let site = take(&garden, ItemKind::Site, &garden.site.id);
    refused(restore(&garden.context, shelter.clone()), Conflict, None);

    for removed in [site, shelter, zone] {
        restore(&garden.context, removed).unwrap();
    }
    assert_eq!(shown(&garden).zones.len(), 3);
}

#[test]
fn a_planting_that_found_another_place_meanwhile_keeps_it() {
    let garden = garden();
    let removed = take(&garden, ItemKind::Zone, &garden.corner.id);
    let mut olive = garden.olive.clone();
    olive.zone_id = Some(garden.floor.id.clone());
    planting_save(&garden.context, olive.clone()).unwrap();
    restore(&garden.context, removed).unwrap();
    assert!(shown(&garden).plantings.contains(&olive));
}

#[test]
fn a_planting_does_not_come_back_without_its_plant() {
    let garden = garden();
    let fern = from_hardiness("Tree fern", "Dicksonia antarctica", Hardiness::H3, Habit::Evergreen);
    plant_save(&garden.context, fern.clone()).unwrap();
    let planting =
        planting_save(&garden.context, draft::pot(&garden.site.id, &fern.key, "tall fern", None)).unwrap();
    let removed = take(&garden, ItemKind::Planting, &planting.id);
    plant_remove(&garden.context, PlantKey { key: fern.key.clone() }).unwrap();
    let message = refused(restore(&garden.context, removed.clone()), Conflict, None);
    assert!(message.contains("no longer in the catalogue"), "{message}");
    plant_save(&garden.context, fern).unwrap();
    restore(&garden.context, removed).unwrap();
}

#[test]
fn what_is_not_there_cannot_be_removed_or_restored() {
    let garden = garden();
    for kind in [
        ItemKind::Site,
        ItemKind::Shelter,
        ItemKind::Zone,
        ItemKind::Planting,
        ItemKind::Heater,
        ItemKind::Sensor,
    ] {
        let item = Item { kind, id: "gone".to_owned() };
        refused(remove(&garden.context, item.clone()), NotFound, None);
        let never = Removed { item, name: String::new(), removal_id: "never".to_owned() };
        refused(restore(&garden.context, never), NotFound, None);
    }
    take(&garden, ItemKind::Planting, &garden.lemon.id);
    let again = Item { kind: ItemKind::Planting, id: garden.lemon.id.clone() };
    refused(remove(&garden.context, again), NotFound, None);
}

#[test]
fn a_shelter_has_a_heater_ready_as_long_as_one_is_recorded() {
    let garden = garden();
    let ready = || shown(&garden).shelters.into_iter().find(|s| s.id == garden.cellar.id).unwrap().has_heater;
    assert!(!ready());
    let first = heater_save(&garden.context, draft::heater(&garden.cellar.id)).unwrap();
    let second = heater_save(&garden.context, draft::heater(&garden.cellar.id)).unwrap();
    assert!(ready());
    take(&garden, ItemKind::Heater, &first.id);
    assert!(ready());
    let removed = take(&garden, ItemKind::Heater, &second.id);
    assert!(!ready());
    restore(&garden.context, removed).unwrap();
    assert!(ready());
}

#[test]
fn what_stood_in_a_removed_place_is_not_restored_without_it() {
    let garden = garden();
    let heater = heater_save(&garden.context, draft::heater(&garden.greenhouse.id)).unwrap();
    let sensor = draft::sensor(&garden.site.id, Some(&garden.corner.id));
    let sensor = sensor_save(&garden.context, sensor).unwrap();
    let heater = take(&garden, ItemKind::Heater, &heater.id);
    let sensor = take(&garden, ItemKind::Sensor, &sensor.id);
    let zone = take(&garden, ItemKind::Zone, &garden.corner.id);
    let message = refused(restore(&garden.context, sensor.clone()), Conflict, None);
    assert!(message.contains("zone it belongs to is removed"), "{message}");
    let shelter = take(&garden, ItemKind::Shelter, &garden.greenhouse.id);
    let message = refused(restore(&garden.context, heater.clone()), Conflict, None);
    assert!(message.contains("shelter it belongs to is removed"), "{message}");
    for removed in [shelter, zone, heater, sensor] {
        restore(&garden.context, removed).unwrap();
    }
}
