//! What a grower waits for, from the request to the answer, on the demo season in a file.

use std::process::ExitCode;
use std::time::{Duration, Instant};

use chrono::NaiveDate;
use hibernacle_contract::Failure;
use hibernacle_service::{Context, dispatch};
use hibernacle_test_support::SimulatedClock;
use serde_json::{Value, json};

/// A screen stands within 100 ms of the click; the answer may not take all of it.
const SCREEN: Duration = Duration::from_millis(80);

/// A century of days is read, checked, counted and stored while the grower looks on.
const IMPORT: Duration = Duration::from_secs(1);

const RUNS: usize = 9;

fn main() -> ExitCode {
    match measure() {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn measure() -> Result<bool, Box<dyn std::error::Error>> {
    let folder = tempfile::tempdir()?;
    let context = Context::open(folder.path(), SimulatedClock::at("2026-11-10T18:00:00Z"))?;
    let site = context.load_demo_if_empty()?.ok_or("the folder was not empty")?.id;

    let mut in_time = true;
    let plan = json!({ "site_id": site, "start_year": null });
    for (name, request) in [
        ("overview", json!({ "site_id": null })),
        ("today", json!({ "site_id": site, "on": null })),
        ("season_plan", plan.clone()),
        ("close_up", plan),
        ("climate_freeze", json!({ "site_id": site, "thresholds_c": [] })),
        ("plant_list", json!({ "site_id": site })),
        ("calendar_export", json!({ "site_id": site })),
    ] {
        in_time &= hold(name, SCREEN, || dispatch(&context, name, request.clone()))?;
    }

    let today = dispatch(&context, "today", json!({ "site_id": site, "on": null }))?;
    let key = today
        .pointer("/groups/0/due/0/key")
        .or(today.pointer("/next/key"))
        .cloned()
        .ok_or("nothing is due")?;
    let chore = json!({ "site_id": site, "start_year": 2026, "chore_key": key });
    in_time &= hold("tick a chore and take it back", 2 * SCREEN, || {
        dispatch(&context, "chore_done", json!({ "chore": chore, "on": null }))?;
        dispatch(&context, "chore_undo", chore.clone())
    })?;

    let file =
        json!({ "site_id": site, "file_name": "century.csv", "text": century(), "plain_unit": "celsius" });
    in_time &=
        hold("look at a century of days", IMPORT, || dispatch(&context, "climate_preview", file.clone()))?;
    in_time &=
        hold("import a century of days", IMPORT, || dispatch(&context, "climate_import", file.clone()))?;
    in_time &= hold("season_plan on a century of days", SCREEN, || {
        dispatch(&context, "season_plan", json!({ "site_id": site, "start_year": null }))
    })?;
    Ok(in_time)
}

/// Measures a piece of work, prints the median beside its bar, and says whether it keeps it.
fn hold(what: &str, bar: Duration, work: impl Fn() -> Result<Value, Failure>) -> Result<bool, Failure> {
    let mut times = Vec::new();
    for _ in 0..RUNS {
        let start = Instant::now();
        work()?;
        times.push(start.elapsed());
    }
    times.sort_unstable();
    let median = times[RUNS / 2];
    println!("{what}: {median:.1?} (bar {bar:?})");
    Ok(median <= bar)
}

/// An invented record of 120 years: a yearly wave with a ripple that never repeats in step with it.
fn century() -> String {
    let first = NaiveDate::from_ymd_opt(1906, 1, 1).unwrap_or_default();
    let days = first.iter_days().take(120 * 365).enumerate().map(|(day, date)| {
        let turn = day as f64 * std::f64::consts::TAU;
        let mean_c = 9.0 - 11.0 * (turn / 365.25).cos() + 4.0 * (turn / 17.3).sin();
        format!("{date},{:.1},{:.1}\n", mean_c - 5.0, mean_c + 5.0)
    });
    std::iter::once("date,tmin,tmax\n".to_owned()).chain(days).collect()
}
