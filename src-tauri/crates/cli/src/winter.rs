//! `hibernacle winter`: what a whole winter takes, for several set-ups side by side.

use std::io::{IsTerminal, Write};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use hibernacle_contract::records::Fuel;
use hibernacle_contract::winter::{
    RunState, SetUpBill, WeatherFile, WinterProgress, WinterRequest, WinterRun, WinterView, WinterZone,
};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_service::winter::{winter_cancel, winter_look, winter_start};

use crate::args::WinterArgs;
use crate::heat_loss::shelter;
use crate::import::read;
use crate::layout::{Table, cautions, heading, marked, paragraph};
use crate::session::Session;

/// How often a run is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(50);

pub(crate) fn winter(session: &Session, asked: &WinterArgs) -> Result<(), Failure> {
    let overview = session.overview()?;
    let site = session.site()?;
    let wording = session.wording(&site);
    let weather = match &asked.weather {
        Some(file) => Some(WeatherFile {
            file_name: file.file_name().unwrap_or(file.as_os_str()).display().to_string(),
            text: read(file, &wording)?,
        }),
        None => None,
    };
    let request = WinterRequest {
        shelter_id: shelter(&overview.shelters, asked.shelter.as_deref(), &wording)?.id.clone(),
        set_ups: Vec::new(),
        weather,
        winters: asked.winters,
        draws: asked.draws,
    };
    let interrupted = watch_for_interrupt(&wording)?;
    let run = winter_start(&session.context, request)?;
    let ended = wait(session, &run, &interrupted, &wording)?;
    let Some(view) = ended.result else { return Err(unfinished(&ended, &wording)) };
    session.answer(&view, || text(&view, &wording))
}

/// Becomes true when the reader presses Ctrl-C.
fn watch_for_interrupt(wording: &Wording) -> Result<Arc<AtomicBool>, Failure> {
    let interrupted = Arc::new(AtomicBool::new(false));
    let told = Arc::clone(&interrupted);
    ctrlc::set_handler(move || told.store(true, Ordering::Relaxed)).map_err(|error| {
        let mut figures = FluentArgs::new();
        figures.set("problem", error.to_string());
        Failure::new(ErrorCode::Internal, wording.message("cli-winter-interrupt", &figures))
    })?;
    Ok(interrupted)
}

/// Waits for the end of a run, with a line of progress where the error output is a terminal.
fn wait(
    session: &Session,
    run: &WinterRun,
    interrupted: &AtomicBool,
    wording: &Wording,
) -> Result<WinterProgress, Failure> {
    let shows = std::io::stderr().is_terminal() && !session.is_json();
    let mut shown = String::new();
    loop {
        let progress = if interrupted.load(Ordering::Relaxed) {
            winter_cancel(&session.context, run.clone())?
        } else {
            winter_look(&session.context, run.clone())?
        };
        let is_over = progress.state != RunState::Running;
        if shows {
            let line =
                if is_over { String::new() } else { counted("cli-winter-progress", &progress, wording) };
            // A terminal that is gone is no reason to stop.
            let _ = write!(std::io::stderr(), "\r{}\r{line}", " ".repeat(shown.chars().count()));
            let _ = std::io::stderr().flush();
            shown = line;
        }
        if is_over {
            return Ok(progress);
        }
        std::thread::sleep(LOOK_EVERY);
    }
}

fn counted(key: &str, progress: &WinterProgress, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("done", progress.done.to_string());
    figures.set("total", progress.total.to_string());
    wording.message(key, &figures)
}

fn unfinished(ended: &WinterProgress, wording: &Wording) -> Failure {
    match &ended.problem {
        Some(problem) => Failure::new(ErrorCode::Internal, problem.clone()),
        None => Failure::new(ErrorCode::Conflict, counted("cli-winter-cancelled", ended, wording)),
    }
}

fn text(view: &WinterView, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("shelter", view.shelter.name.as_str());
    figures.set("winters", view.winters);
    figures.set("years", years(view));
    let mut text = heading(&wording.message("cli-winter-head", &figures));
    text += &table(view, wording);
    for bill in &view.bills {
        let mut figures = FluentArgs::new();
        figures.set("name", bill.set_up.name.as_str());
        text += &format!("\n{}", paragraph(&wording.message("cli-winter-name", &figures), ""));
        for reason in &bill.reasons {
            text += &marked(&wording.reason(reason), "  · ", "    ");
        }
        if let Some(problem) = &bill.problem {
            figures.set("problem", problem.as_str());
            text += &marked(&wording.message("cli-winter-problem", &figures), "  ! ", "    ");
        }
    }
    text += &format!("\n{}\n", wording.text("cli-rests-on"));
    for reason in &view.reasons {
        text += &marked(&wording.reason(reason), "  · ", "    ");
    }
    text + &cautions(view.cautions.iter().copied(), wording)
}

/// The years of the winters: `1996–97`, `1996–97 to 2025–26`.
fn years(view: &WinterView) -> String {
    let is_northern = view.site.latitude_deg >= 0.0;
    let named = |start: i32| {
        if is_northern { format!("{start}–{:02}", (start + 1).rem_euclid(100)) } else { start.to_string() }
    };
    if view.first_year == view.last_year {
        return named(view.first_year);
    }
    format!("{} – {}", named(view.first_year), named(view.last_year))
}

fn table(view: &WinterView, wording: &Wording) -> String {
    let headings = [
        "cli-winter-set-up",
        "cli-winter-nights",
        "cli-winter-heat",
        "cli-winter-most",
        "cli-winter-fuel",
        "cli-winter-cost",
        "cli-winter-saves",
        "cli-winter-coldest",
        "cli-winter-risk",
    ];
    let mut currency = FluentArgs::new();
    currency.set("currency", view.site.currency.as_str());
    let shown = |name: &&str| *name != "cli-winter-cost" || view.bills.iter().any(|bill| bill.cost.is_some());
    let columns: Vec<&str> = headings.into_iter().filter(shown).collect();
    let title = |name: &&str| wording.message(name, &currency);
    let mut table = Table::headed(&columns.iter().map(title).collect::<Vec<_>>());
    for bill in &view.bills {
        table.cells(columns.iter().map(|name| cell(name, bill, view, wording)).collect());
    }
    table.text("")
}

fn cell(column: &str, bill: &SetUpBill, view: &WinterView, wording: &Wording) -> String {
    if column == "cli-winter-set-up" {
        return bill.set_up.name.clone();
    }
    if bill.problem.is_some() {
        return if column == "cli-winter-nights" { wording.text("cli-winter-failed") } else { String::new() };
    }
    let heated = bill.set_c.is_some();
    match column {
        "cli-winter-nights" if heated => wording.number(bill.bill.nights_heated.mean, 0),
        "cli-winter-heat" if heated => wording.energy(bill.bill.heat_kwh.mean),
        "cli-winter-most" if heated => wording.energy(bill.bill.heat_kwh.high),
        "cli-winter-fuel" => fuel(bill, wording),
        "cli-winter-cost" => bill.cost.map_or_else(String::new, |cost| wording.number(cost.mean, 0)),
        "cli-winter-saves" if heated && bill.saves_kwh != 0.0 => wording.energy(bill.saves_kwh),
        "cli-winter-coldest" => coldest(bill, view, wording),
        "cli-winter-risk" => wording.share(bill.bill.risk),
        _ => String::new(),
    }
}

fn fuel(bill: &SetUpBill, wording: &Wording) -> String {
    let (Some(units), Some(fuel)) = (bill.fuel_units, bill.fuel) else { return String::new() };
    let mut figures = FluentArgs::new();
    figures.set("amount", wording.number(units.mean, 0));
    let key = match fuel {
        Fuel::Electricity => "cli-winter-fuel-electricity",
        Fuel::Propane => "cli-winter-fuel-propane",
        Fuel::NaturalGas => "cli-winter-fuel-natural-gas",
        Fuel::Kerosene => "cli-winter-fuel-kerosene",
    };
    wording.message(key, &figures)
}

/// What one winter in ten is colder than, in the zone that is nearest to its limit then.
fn coldest(bill: &SetUpBill, view: &WinterView, wording: &Wording) -> String {
    let zones = view.zones.iter().zip(&bill.bill.zone_min_c);
    let spare = |zone: &WinterZone, low_c: f64| low_c - zone.limit_c.unwrap_or(-50.0);
    let first = zones.min_by(|a, b| spare(a.0, a.1.low).total_cmp(&spare(b.0, b.1.low)));
    let Some((zone, spread)) = first else { return String::new() };
    let mut figures = FluentArgs::new();
    figures.set("low", wording.temperature(spread.low));
    figures.set("zone", zone.name.as_str());
    wording.message("cli-winter-coldest-in", &figures)
}
