//! A collector's garden: any screen within a tenth of a second after the click.

use std::time::{Duration, Instant};

use hibernacle_contract::chores::{ChoreDone, ChoreRef};
use hibernacle_contract::climate::ClimateFile;
use hibernacle_contract::season::SeasonRequest;
use hibernacle_contract::setup::OverviewRequest;
use hibernacle_engine::plant::PlantCatalogue;
use hibernacle_engine::season::ChoreState;
use hibernacle_service::chores::chore_done;
use hibernacle_service::climate::climate_import;
use hibernacle_service::season::season_plan;
use hibernacle_service::setup::{overview, planting_save, site_save};
use hibernacle_service::{Context, dispatch_text};
use hibernacle_test_support::{Garden, SimulatedClock, draft};
use serde_json::json;

/// Plantings of a large collection, and within which time a screen shows it. A program built for tests is many times
/// slower: there a part of the collection and a wide bar only catch what is out of all proportion.
const PLANTINGS: usize = if cfg!(debug_assertions) { 250 } else { 2000 };
const BAR: Duration = Duration::from_millis(if cfg!(debug_assertions) { 5000 } else { 100 });

/// A tick plans the whole season anew.
const PLANNING_BAR: Duration = Duration::from_millis(if cfg!(debug_assertions) { 5000 } else { 150 });

#[test]
fn a_large_collection_shows_at_once() {
    let garden = Garden::at("2026-11-05T08:00:00Z");
    let catalogue = PlantCatalogue::built_in().unwrap();
    let plants: Vec<_> = catalogue.iter().collect();
    for (number, plant) in plants.iter().cycle().take(PLANTINGS).enumerate() {
        let zone = [&garden.floor.id, &garden.corner.id, &garden.shelf.id][number % 3];
        let planting = draft::pot(&garden.site.id, &plant.key, &format!("pot {number}"), Some(zone));
        planting_save(&garden.context, planting).unwrap();
    }
    let site = json!({ "site_id": garden.site.id, "start_year": null, "on": null });
    for screen in ["overview", "season_plan", "today", "close_up"] {
        let bytes = dispatch_text(&garden.context, screen, site.clone()).unwrap().len();
        let shown = quickest(|| dispatch_text(&garden.context, screen, site.clone()).unwrap());
        println!("{screen}: {shown:?}, {} kB", bytes / 1000);
        assert!(shown < BAR, "{screen} took {shown:?}");
    }
    let request = SeasonRequest { site_id: garden.site.id.clone(), start_year: None };
    let chores = season_plan(&garden.context, request).unwrap().plan.chores;
    let mut open = chores.into_iter().filter(|chore| chore.state == ChoreState::Open);
    let tick = quickest(|| {
        let chore_key = open.next().unwrap().key;
        let chore = ChoreRef { site_id: garden.site.id.clone(), start_year: 2026, chore_key };
        chore_done(&garden.context, ChoreDone { chore, on: None }).unwrap()
    });
    println!("tick: {tick:?}");
    assert!(tick < PLANNING_BAR, "a tick took {tick:?}");
}

#[test]
fn sites_with_thirty_years_of_nights_open_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let clock = SimulatedClock::at("2026-11-05T08:00:00Z");
    let context = Context::open(folder.path(), clock.clone()).unwrap();
    let text = include_str!("../../../../../demo-data/larch-bank-climate.csv");
    let mut sites = Vec::new();
    for _ in 0..5 {
        let site = site_save(&context, draft::site()).unwrap();
        let file = ClimateFile {
            site_id: site.id.clone(),
            file_name: "larch-bank-climate.csv".to_owned(),
            text: text.to_owned(),
            plain_unit: None,
        };
        let start = Instant::now();
        climate_import(&context, file).unwrap();
        println!("import: {:?}", start.elapsed());
        sites.push(site);
    }
    // A program that has just started: nothing is kept in memory yet.
    let again = Context::open(folder.path(), clock).unwrap();
    let mut sites = sites.into_iter();
    let shown = quickest(|| {
        let request = OverviewRequest { site_id: Some(sites.next().unwrap().id) };
        overview(&again, request).unwrap().climate.unwrap()
    });
    println!("first look at a site: {shown:?}");
    assert!(shown < BAR, "the first look at a site took {shown:?}");
}

/// The quickest of four: a busy machine makes any single one slower.
fn quickest<T>(mut work: impl FnMut() -> T) -> Duration {
    let once = |_| {
        let start = Instant::now();
        drop(std::hint::black_box(work()));
        start.elapsed()
    };
    (0..4).map(once).min().unwrap()
}
