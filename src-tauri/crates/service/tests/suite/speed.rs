//! A collector's garden: any screen within a tenth of a second after the click.

use std::time::{Duration, Instant};

use hibernacle_contract::chores::{ChoreDone, ChoreRef};
use hibernacle_engine::plant::PlantCatalogue;
use hibernacle_service::chores::chore_done;
use hibernacle_service::dispatch;
use hibernacle_service::setup::planting_save;
use hibernacle_test_support::{Garden, draft};
use serde_json::json;

/// A program built for tests is slower; there the bar only catches what is out of all proportion.
const BAR: Duration = Duration::from_millis(if cfg!(debug_assertions) { 3000 } else { 100 });

#[test]
fn two_thousand_plantings_show_within_a_tenth_of_a_second() {
    let garden = Garden::at("2026-11-05T08:00:00Z");
    let catalogue = PlantCatalogue::built_in().unwrap();
    let plants: Vec<_> = catalogue.iter().collect();
    for (number, plant) in plants.iter().cycle().take(2000).enumerate() {
        let zone = [&garden.floor.id, &garden.corner.id, &garden.shelf.id][number % 3];
        let planting = draft::pot(&garden.site.id, &plant.key, &format!("pot {number}"), Some(zone));
        planting_save(&garden.context, planting).unwrap();
    }
    let site = json!({ "site_id": garden.site.id, "start_year": null, "on": null });
    let show = |screen: &str| {
        let start = Instant::now();
        let reply = dispatch(&garden.context, screen, site.clone()).unwrap();
        (start.elapsed(), reply)
    };
    for screen in ["overview", "season_plan", "today", "close_up"] {
        let (first, _) = show(screen);
        let (again, reply) = show(screen);
        println!("{screen}: first {first:?}, again {again:?}, {} kB", reply.to_string().len() / 1000);
        assert!(again < BAR, "{screen} took {again:?}");
    }
    let (_, plan) = show("season_plan");
    let chore_key = plan["plan"]["chores"][0]["key"].as_str().unwrap().to_owned();
    let chore = ChoreRef { site_id: garden.site.id.clone(), start_year: 2026, chore_key };
    let start = Instant::now();
    chore_done(&garden.context, ChoreDone { chore, on: None }).unwrap();
    let tick = start.elapsed();
    println!("tick: {tick:?}");
    assert!(tick < BAR, "a tick took {tick:?}");
}
