use hibernacle_contract::ErrorCode::{Conflict, Invalid, NotFound};
use hibernacle_contract::plants::{PlantKey, PlantListRequest};
use hibernacle_engine::plant::own::{Hardiness, from_hardiness};
use hibernacle_engine::plant::{Habit, Plant};
use hibernacle_service::plants::{plant_list, plant_remove, plant_save};
use hibernacle_service::setup::planting_save;
use hibernacle_test_support::{Garden, draft};

use crate::refused;

fn fern() -> Plant {
    from_hardiness("Tree fern", "Dicksonia antarctica", Hardiness::H3, Habit::Evergreen)
}

fn key(key: &str) -> PlantKey {
    PlantKey { key: key.to_owned() }
}

#[test]
fn a_plant_of_ones_own_can_be_entered_planted_and_changed() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let list = || plant_list(&garden.context, PlantListRequest {}).unwrap();
    let built_in = list().plants.len();
    assert!(list().own_keys.is_empty());

    plant_save(&garden.context, fern()).unwrap();
    planting_save(&garden.context, draft::pot(&garden.site.id, &fern().key, "tall fern", None)).unwrap();
    let changed = Plant { store_low_c: 3.0, ..fern() };
    plant_save(&garden.context, changed.clone()).unwrap();
    assert_eq!(list().own_keys, [fern().key]);
    assert_eq!(list().plants.len(), built_in + 1);
    assert!(list().plants.contains(&changed));
}

#[test]
fn an_entry_of_ones_own_takes_the_place_of_a_built_in_one_until_it_is_removed() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let lemon = || {
        let plants = plant_list(&garden.context, PlantListRequest {}).unwrap().plants;
        plants.into_iter().find(|plant| plant.key == "citrus-limon").unwrap()
    };
    let built_in = lemon();
    let own = Plant { note: "mine stands in a draught".to_owned(), ..built_in.clone() };
    plant_save(&garden.context, own.clone()).unwrap();
    assert_eq!(lemon(), own);
    // The garden's lemon keeps a plant: the built-in one counts again.
    plant_remove(&garden.context, key("citrus-limon")).unwrap();
    assert_eq!(lemon(), built_in);
}

#[test]
fn a_plant_whose_figures_contradict_each_other_is_refused() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let mut odd = fern();
    odd.shoot_in_leaf.temp_c = odd.shoot_dormant.temp_c - 5.0;
    odd.shoot_in_leaf.likely_loss_c = None;
    refused(plant_save(&garden.context, odd), Invalid, Some("shoot_in_leaf.temp_c"));
    refused(
        plant_save(&garden.context, Plant { key: "Tree Fern".to_owned(), ..fern() }),
        Invalid,
        Some("key"),
    );
    assert!(plant_list(&garden.context, PlantListRequest {}).unwrap().own_keys.is_empty());
}

#[test]
fn a_plant_that_plantings_need_and_a_built_in_one_stay() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    plant_save(&garden.context, fern()).unwrap();
    for label in ["tall fern", "small fern", "spare fern"] {
        planting_save(&garden.context, draft::pot(&garden.site.id, &fern().key, label, None)).unwrap();
    }
    let message = refused(plant_remove(&garden.context, key(&fern().key)), Conflict, None);
    assert!(message.contains("“tall fern” and 2 other plantings still need this plant"), "{message}");
    assert_eq!(plant_list(&garden.context, PlantListRequest {}).unwrap().own_keys, [fern().key]);
    refused(plant_remove(&garden.context, key("citrus-limon")), NotFound, None);
}
