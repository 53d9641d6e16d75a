//! Shows a large collection, and sites with long records, and holds each screen against its bar.

#![expect(clippy::unwrap_used, reason = "a measurement that cannot be made fails")]

use std::hint::black_box;
use std::process::ExitCode;
use std::time::{Duration, Instant};

use hibernacle_contract::chores::{ChoreDone, ChoreRef};
use hibernacle_contract::climate::ClimateFile;
use hibernacle_contract::season::SeasonRequest;
use hibernacle_contract::setup::OverviewRequest;
use hibernacle_engine::season::ChoreState;
use hibernacle_service::chores::chore_done;
use hibernacle_service::climate::climate_import;
use hibernacle_service::season::season_plan;
use hibernacle_service::setup::{overview, site_save};
use hibernacle_service::{Context, dispatch_text};
use hibernacle_test_support::{Garden, SimulatedClock, draft};
use serde_json::json;

/// Any screen stands within a tenth of a second after the click.
const BAR: Duration = Duration::from_millis(100);
/// A tick plans the whole season anew and writes to the disk.
const TICK_BAR: Duration = Duration::from_millis(150);
const PLANTINGS: usize = 2_000;
const SITES: usize = 6;

fn main() -> ExitCode {
    let in_time = [screens(), first_looks()].into_iter().all(|in_time| in_time);
    if in_time { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// The screens of a collection that is planned, and a tick, which makes the plan anew.
fn screens() -> bool {
    let garden = Garden::at("2026-11-05T08:00:00Z");
    garden.crowd(PLANTINGS);
    let request = json!({ "site_id": garden.site.id, "start_year": null, "on": null });
    let mut in_time = true;
    for screen in ["overview", "season_plan", "today", "close_up"] {
        let quickest = quickest(|| dispatch_text(&garden.context, screen, request.clone()).unwrap());
        in_time &= holds(&format!("{screen} of {PLANTINGS} plantings"), quickest, BAR);
    }
    let request = SeasonRequest { site_id: garden.site.id.clone(), start_year: None };
    let plan = season_plan(&garden.context, request).unwrap().plan;
    let mut open = plan.chores.iter().filter(|chore| chore.state == ChoreState::Open);
    let quickest = quickest(|| {
        let chore_key = open.next().unwrap().key.clone();
        let chore = ChoreRef { site_id: garden.site.id.clone(), start_year: 2026, chore_key };
        chore_done(&garden.context, ChoreDone { chore, on: None }).unwrap()
    });
    in_time & holds(&format!("a tick among {PLANTINGS} plantings"), quickest, TICK_BAR)
}

/// The first look at sites with thirty years of nights each, by a program that has just started.
fn first_looks() -> bool {
    let folder = tempfile::tempdir().unwrap();
    let clock = SimulatedClock::at("2026-11-05T08:00:00Z");
    let context = Context::open(folder.path(), clock.clone()).unwrap();
    let sites: Vec<String> = (0..SITES).map(|_| site_with_climate(&context)).collect();
    let again = Context::open(folder.path(), clock).unwrap();
    let mut sites = sites.into_iter();
    let quickest = quickest(|| {
        let request = OverviewRequest { site_id: Some(sites.next().unwrap()) };
        overview(&again, request).unwrap().climate.unwrap()
    });
    holds("first look at a site with 30 years of nights", quickest, BAR)
}

fn site_with_climate(context: &Context) -> String {
    let site = site_save(context, draft::site()).unwrap();
    let file = ClimateFile {
        site_id: site.id.clone(),
        file_name: "larch-bank-climate.csv".to_owned(),
        text: include_str!("../../../../demo-data/larch-bank-climate.csv").to_owned(),
        plain_unit: None,
    };
    climate_import(context, file).unwrap();
    site.id
}

/// The quickest of a few: a busy machine makes any single one slower.
fn quickest<T>(mut work: impl FnMut() -> T) -> Duration {
    let once = |_| {
        let start = Instant::now();
        drop(black_box(work()));
        start.elapsed()
    };
    (0..SITES).map(once).min().unwrap_or_default()
}

fn holds(what: &str, time: Duration, bar: Duration) -> bool {
    println!("{what}: {time:.1?} (bar {bar:?})");
    time <= bar
}
