//! `hibernacle setup show` and `hibernacle demo load`.

use hibernacle_contract::Failure;
use hibernacle_contract::records::{Planting, Shelter, Site};
use hibernacle_contract::setup::{DemoRequest, Overview};
use hibernacle_contract::shelter::{ShelterDetail, ShelterRef};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_service::setup::demo_load;
use hibernacle_service::shelter::shelter_detail;

use crate::layout::{Table, heading, paragraph};
use crate::session::Session;

pub(crate) fn demo(session: &Session) -> Result<(), Failure> {
    let site = demo_load(&session.context, DemoRequest {})?;
    session.answer(&site, || {
        let mut figures = FluentArgs::new();
        figures.set("site", site.name.as_str());
        paragraph(&session.wording(&site).message("cli-demo-loaded", &figures), "")
    })
}

pub(crate) fn show(session: &Session) -> Result<(), Failure> {
    let overview = session.overview()?;
    let mut details = Vec::new();
    for shelter in &overview.shelters {
        details.push(shelter_detail(&session.context, ShelterRef { shelter_id: shelter.id.clone() })?);
    }
    session.answer(&overview, || match &overview.site {
        Some(site) => text(&overview, &details, site, &session.wording(site)),
        None => paragraph(&session.plain().text("cli-no-site"), ""),
    })
}

fn text(overview: &Overview, details: &[ShelterDetail], site: &Site, wording: &Wording) -> String {
    let mut text = heading(&site.name) + &place(overview, site, wording).text("");
    for (shelter, detail) in overview.shelters.iter().zip(details) {
        text += &shelter_text(overview, shelter, wording);
        text += &equipment(detail, wording);
    }
    let homeless: Vec<&Planting> =
        overview.plantings.iter().filter(|planting| planting.zone_id.is_none()).collect();
    if !homeless.is_empty() {
        text += &format!("\n{}\n", wording.text("cli-setup-no-zone"));
        text += &plantings(&homeless, wording);
    }
    if let Some(step) = overview.next_step {
        let mut figures = FluentArgs::new();
        figures.set("step", wording.word(step));
        text += &format!("\n{}", paragraph(&wording.message("cli-next-step", &figures), ""));
    }
    text
}

fn place(overview: &Overview, site: &Site, wording: &Wording) -> Table {
    let mut figures = FluentArgs::new();
    figures.set("coordinates", wording.coordinates(site));
    figures.set("elevation", wording.length(site.elevation_m.round()));
    let mut table = Table::default();
    table.row([wording.text("cli-setup-place"), wording.message("cli-setup-coordinates", &figures)]);
    table.row([wording.text("cli-setup-time-zone"), site.time_zone.clone()]);
    match &overview.climate {
        Some(climate) => {
            figures.set("name", climate.name.as_str());
            figures.set("basis", wording.basis(&climate.basis));
            let date = |date: Option<chrono::NaiveDate>| {
                date.map_or_else(|| wording.text("cli-none"), |date| wording.day_and_month(date))
            };
            figures.set("autumn", date(climate.first_freeze));
            figures.set("spring", date(climate.last_freeze));
            table.row([
                wording.text("cli-setup-climate"),
                wording.message("cli-setup-climate-basis", &figures),
            ]);
            table.row([String::new(), wording.message("cli-setup-climate-figures", &figures)]);
            if let Some(minimum_c) = climate.annual_minimum_c {
                figures.set("minimum", wording.temperature(minimum_c));
                table.row([String::new(), wording.message("cli-setup-climate-coldest", &figures)]);
            }
        }
        None => table.row([wording.text("cli-setup-climate"), wording.text("cli-setup-no-climate")]),
    }
    table
}

fn shelter_text(overview: &Overview, shelter: &Shelter, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("name", shelter.name.as_str());
    figures.set("kind", wording.word(shelter.kind));
    figures.set("length", wording.length(shelter.length_m));
    figures.set("width", wording.length(shelter.width_m));
    let mut text = format!("\n{}\n", wording.message("cli-setup-shelter", &figures));
    for zone in overview.zones.iter().filter(|zone| zone.shelter_id == shelter.id) {
        figures.set("zone", zone.name.as_str());
        figures.set("area", wording.area(zone.area_m2));
        figures.set("light", wording.word(zone.light));
        text += &paragraph(&wording.message("cli-setup-zone", &figures), "  ");
        let here: Vec<&Planting> = overview
            .plantings
            .iter()
            .filter(|planting| planting.zone_id.as_ref() == Some(&zone.id))
            .collect();
        text += &plantings(&here, wording);
    }
    text
}

/// The heaters and sensors of a shelter.
fn equipment(detail: &ShelterDetail, wording: &Wording) -> String {
    let mut text = String::new();
    for heater in &detail.heaters {
        let mut figures = FluentArgs::new();
        figures.set("name", heater.name.as_str());
        figures.set("power", wording.power(heater.rating_w));
        let mut key = "cli-setup-heater";
        if let Some(set_c) = heater.set_c {
            figures.set("set", wording.temperature(set_c));
            key = "cli-setup-heater-set";
        }
        text += &paragraph(&wording.message(key, &figures), "  ");
    }
    for sensor in &detail.sensors {
        let mut figures = FluentArgs::new();
        figures.set("name", sensor.name.as_str());
        text += &paragraph(&wording.message("cli-setup-sensor", &figures), "  ");
    }
    text
}

fn plantings(plantings: &[&Planting], wording: &Wording) -> String {
    let mut table = Table::default();
    for planting in plantings {
        table.row([
            format!("{} ×", planting.count),
            planting.label.clone(),
            wording.container(planting.container),
            planting.own_limit_c.map_or_else(String::new, |limit| {
                let mut figures = FluentArgs::new();
                figures.set("limit", wording.temperature(limit));
                wording.message("cli-setup-own-limit", &figures)
            }),
        ]);
    }
    table.text("    ")
}
