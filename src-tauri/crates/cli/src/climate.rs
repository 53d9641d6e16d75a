//! `hibernacle climate freeze`: freeze dates and how sure they are.

use hibernacle_contract::Failure;
use hibernacle_contract::climate::{FreezeRequest, SiteFreezes};
use hibernacle_contract::records::{DateInterval, Event, FreezeEvent, FreezeReport, Site};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_service::climate::climate_freeze;

use crate::layout::{Table, heading, paragraph};
use crate::session::Session;
use crate::typed::temp_c;

pub(crate) fn freeze(session: &Session, thresholds: &[String]) -> Result<(), Failure> {
    let site = session.site()?;
    let wording = session.wording(&site);
    let thresholds_c = thresholds
        .iter()
        .map(|text| temp_c("threshold", text, &wording))
        .collect::<Result<Vec<f64>, Failure>>()?;
    let freezes = climate_freeze(&session.context, FreezeRequest { site_id: site.id.clone(), thresholds_c })?;
    session.answer(&freezes, || text(&freezes, &site, &wording))
}

fn text(freezes: &SiteFreezes, site: &Site, wording: &Wording) -> String {
    let report = &freezes.report;
    let mut figures = FluentArgs::new();
    figures.set("site", site.name.as_str());
    figures.set("station", freezes.station.as_str());
    figures.set("basis", wording.basis(&report.basis));
    let mut text = heading(&wording.message("cli-freeze-head", &figures));
    text += &paragraph(&wording.message("cli-freeze-basis", &figures), "");
    for event in [Event::FirstAutumn, Event::LastSpring] {
        text += &events(report, event, wording);
    }
    text += &nights(report, wording);
    text += &freeze_free(report, wording);
    text += &coldest(report, wording);
    text + "\n"
        + &paragraph(&wording.text("cli-freeze-levels"), "")
        + &paragraph(&wording.text("cli-freeze-intervals"), "")
}

fn headings(wording: &Wording, keys: &[&str]) -> Table {
    let headings: Vec<String> = keys.iter().map(|key| wording.text(key)).collect();
    Table::headed(&headings)
}

fn events(report: &FreezeReport, event: Event, wording: &Wording) -> String {
    let (title, p10, p90) = match event {
        Event::FirstAutumn => ("cli-freeze-autumn", "cli-freeze-autumn-p10", "cli-freeze-autumn-p90"),
        Event::LastSpring => ("cli-freeze-spring", "cli-freeze-spring-p10", "cli-freeze-spring-p90"),
    };
    let mut table = headings(wording, &["cli-freeze-low", p10, "cli-freeze-p50", p90, "cli-freeze-seasons"]);
    for row in report.events.iter().filter(|row| row.event == event) {
        table.row([
            wording.temperature(row.threshold_c),
            interval(row.p10, wording),
            interval(row.p50, wording),
            interval(row.p90, wording),
            seasons(row, wording),
        ]);
    }
    format!("\n{}\n{}", wording.text(title), table.text("  "))
}

fn interval(dates: Option<DateInterval>, wording: &Wording) -> String {
    let Some(DateInterval { date, from, to }) = dates else { return wording.text("cli-none") };
    let mut figures = FluentArgs::new();
    for (name, date) in [("date", date), ("from", from), ("to", to)] {
        figures.set(name, wording.day_and_month(date));
    }
    wording.message("cli-date-interval", &figures)
}

fn seasons(event: &FreezeEvent, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("with", event.seasons_with);
    figures.set("all", event.seasons);
    wording.message("cli-freeze-sample", &figures)
}

fn nights(report: &FreezeReport, wording: &Wording) -> String {
    let mut table = headings(
        wording,
        &["cli-freeze-low", "cli-nights-mean", "cli-nights-low", "cli-nights-high", "cli-freeze-seasons"],
    );
    for row in &report.nights {
        table.row([
            wording.temperature(row.threshold_c),
            wording.number(row.mean, 1),
            wording.number(row.low, 0),
            wording.number(row.high, 0),
            row.seasons.to_string(),
        ]);
    }
    format!("\n{}\n{}", wording.text("cli-nights"), table.text("  "))
}

fn freeze_free(report: &FreezeReport, wording: &Wording) -> String {
    let mut table = headings(
        wording,
        &["cli-freeze-low", "cli-free-p10", "cli-freeze-p50", "cli-free-p90", "cli-free-summers"],
    );
    let days = |days: Option<f64>| {
        days.map_or_else(|| wording.text("cli-none"), |days| wording.days(days.round() as i32))
    };
    for row in &report.seasons {
        table.row([
            wording.temperature(row.threshold_c),
            days(row.p10_days),
            days(row.p50_days),
            days(row.p90_days),
            row.summers.to_string(),
        ]);
    }
    format!("\n{}\n{}", wording.text("cli-free"), table.text("  "))
}

fn coldest(report: &FreezeReport, wording: &Wording) -> String {
    let Some(minimum) = &report.annual_minimum else {
        return format!("\n{}", paragraph(&wording.text("cli-coldest-unknown"), ""));
    };
    let range = |(low, high): (f64, f64)| {
        let mut figures = FluentArgs::new();
        figures.set("low", wording.temperature(low));
        figures.set("high", wording.temperature(high));
        wording.message("cli-range", &figures)
    };
    let mut table = Table::default();
    table.row([
        wording.text("cli-coldest-mean"),
        wording.temperature(minimum.mean_c),
        range(minimum.mean_interval_c),
    ]);
    for level in &minimum.returns {
        let mut figures = FluentArgs::new();
        figures.set("years", level.years);
        table.row([
            wording.message("cli-coldest-return", &figures),
            wording.temperature(level.temp_c),
            range(level.interval_c),
        ]);
    }
    table.row([wording.text("cli-coldest-lowest"), wording.temperature(minimum.lowest_c), String::new()]);
    format!("\n{}\n{}", wording.text("cli-coldest"), table.text("  "))
}
