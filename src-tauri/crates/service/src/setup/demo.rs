//! The invented season of Larch Bank, entered the way a grower would enter it.

use std::collections::HashMap;

use chrono::{Datelike, NaiveDate, NaiveTime, TimeDelta};
use hibernacle_contract::climate::{ClimateFile, TypedClimateRequest};
use hibernacle_contract::setup::DemoRequest;
use hibernacle_contract::shelter::SitePrices;
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::season::{Mark, MarkKind, PlannedChore, Season};
use hibernacle_engine::shelter::{ShelterBuild, Zone};
use hibernacle_engine::site::Site;
use hibernacle_store::Writer;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use toml::{Table, Value};

use super::{prices, save};
use crate::problem::Problem;
use crate::{Context, climate, lookup, planned, shelter};

/// The site with its shelters, zones and plantings, linked by their names.
const SITE_FILE: &str = include_str!("../../../../../demo-data/larch-bank.toml");

/// The year in which the season of the file's dates begins.
const FILE_SEASON: i32 = 2026;

/// The record of its invented station.
const CLIMATE_FILE: &str = include_str!("../../../../../demo-data/larch-bank-climate.csv");

/// What the grower of the demo did so far in the season that is under way.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct History {
    /// Chores of so many days before today are still open, unless they bear no delay.
    open_days: u32,
    /// Rules that were left out on purpose.
    #[serde(default)]
    skipped: Vec<LeftOut>,
}

/// A rule that the grower left out.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct LeftOut {
    rule: String,
    reason: String,
}

/// Loads the demo.
///
/// # Errors
/// [`ErrorCode::Conflict`] where it is loaded already.
pub fn demo_load(context: &Context, _request: DemoRequest) -> Result<Site, Failure> {
    context.write(|data| load(context, data))
}

impl Context {
    /// Loads the demo into data that nothing was ever entered into; nothing happens to other data.
    ///
    /// # Errors
    /// Where the data cannot be read or written.
    pub fn load_demo_if_empty(&self) -> Result<Option<Site>, Failure> {
        self.write(|data| if data.revision()? == 0 { load(self, data).map(Some) } else { Ok(None) })
    }
}

/// Enters what was done since the season began: each chore on the day it was planned for.
fn live_through(
    context: &Context,
    data: &Writer<'_>,
    site: &Site,
    season: &Season,
    history: &History,
) -> Result<(), Problem> {
    let planned = planned::on_record(context, data, &site.id, season)?;
    let today = lookup::today_at(context, site)?;
    let open_from = today - TimeDelta::days(history.open_days.into());
    let is_settled = |chore: &&PlannedChore| chore.due_on < open_from || chore.window.latest < today;
    for chore in planned.plan.chores.iter().filter(is_settled) {
        data.add_mark(&site.id, season.start_year, &history.mark(chore))?;
    }
    Ok(())
}

impl History {
    fn mark(&self, chore: &PlannedChore) -> Mark {
        let on = chore.due_on;
        let kind = match self.skipped.iter().find(|left_out| left_out.rule == chore.rule) {
            Some(LeftOut { reason, .. }) => MarkKind::Skipped { on, reason: reason.clone() },
            None => MarkKind::Done { on },
        };
        Mark {
            chore_key: chore.key.clone(),
            kind,
            at_utc: on.and_time(NaiveTime::MIN).and_utc() + TimeDelta::hours(15),
        }
    }
}

fn load(context: &Context, data: &Writer<'_>) -> Result<Site, Problem> {
    let mut file: Table = toml::from_str(SITE_FILE).map_err(|error| defect(&error))?;
    let site: Site = read(file.remove("site"))?;
    if data.sites()?.iter().any(|known| known.name == site.name) {
        let message = format!("{} is loaded already; remove it first to load it anew", site.name);
        return Err(Problem::new(ErrorCode::Conflict, message));
    }
    let site = save::site(context, data, site)?;

    let today = lookup::today_at(context, &site)?;
    let season = Season::containing(today, site.hemisphere());
    data.begin_season(&site.id, season.start_year, season.starts_on)?;

    let typed = TypedClimateRequest { site_id: site.id.clone(), typed: read(file.remove("climate"))? };
    climate::put_averages(context, data, &typed)?;
    let station = ClimateFile {
        site_id: site.id.clone(),
        file_name: "larch-bank-climate.csv".to_owned(),
        text: CLIMATE_FILE.to_owned(),
        plain_unit: None,
    };
    climate::put_record(context, data, &station, climate::read(&station)?)?;

    let mut zones = Zones::default();
    for shelter in tables(file.remove("shelter"))? {
        load_shelter(context, data, &season, linked(shelter, "site_id", &site.id)?, &mut zones)?;
    }
    for mut planting in tables(file.remove("planting"))? {
        if let Some(plant) = planting.remove("plant") {
            planting.insert("plant_key".to_owned(), plant);
        }
        zones.link(&mut planting, "zone")?;
        save::planting(context, data, record(linked(planting, "site_id", &site.id)?)?)?;
    }
    for mut sensor in tables(file.remove("sensor"))? {
        zones.link(&mut sensor, "zone")?;
        shelter::sensor(context, data, record(linked(sensor, "site_id", &site.id)?)?)?;
    }
    let prices = read(file.remove("price"))?;
    prices::put(data, &SitePrices { site_id: site.id.clone(), prices })?;
    live_through(context, data, &site, &season, &read(file.remove("history"))?)?;
    Ok(site)
}

/// The zones' identifiers by their names.
#[derive(Default)]
struct Zones(HashMap<String, String>);

impl Zones {
    /// Puts the identifier of a zone in the place of its name, under the field's name with `_id`.
    fn link(&self, table: &mut Table, field: &str) -> Result<(), Problem> {
        let Some(zone) = table.remove(field) else { return Ok(()) };
        let id = zone.as_str().and_then(|name| self.0.get(name));
        let id = id.ok_or_else(|| defect(&format!("there is no zone {zone}")))?;
        table.insert(format!("{field}_id"), Value::String(id.clone()));
        Ok(())
    }
}

/// Enters a shelter with its build, its heaters and its zones, of which the first takes the place of the one that a new
/// shelter comes with.
fn load_shelter(
    context: &Context,
    data: &Writer<'_>,
    season: &Season,
    mut table: Table,
    known: &mut Zones,
) -> Result<(), Problem> {
    let (zones, heaters) = (tables(table.remove("zone"))?, tables(table.remove("heater"))?);
    let build: Table = read(table.remove("build"))?;
    let shelter = save::shelter(context, data, record(table)?)?;
    let mut build: ShelterBuild = record(linked(build, "shelter_id", &shelter.id)?)?;
    for cover in &mut build.covers {
        cover.from = cover.from.map(|date| moved(date, season));
        cover.to = cover.to.map(|date| moved(date, season));
    }
    shelter::build(context, data, &build)?;
    let mut first = data.zones_of_shelter(&shelter.id)?.into_iter().map(|zone| zone.id);
    for zone in zones {
        let zone: Zone = record(linked(zone, "shelter_id", &shelter.id)?)?;
        let zone = save::zone(context, data, Zone { id: first.next().unwrap_or_default(), ..zone })?;
        known.0.insert(zone.name, zone.id);
    }
    for mut heater in heaters {
        known.link(&mut heater, "zone")?;
        known.link(&mut heater, "sensor_zone")?;
        shelter::heater(context, data, record(linked(heater, "shelter_id", &shelter.id)?)?)?;
    }
    Ok(())
}

/// A date of the file's season in the season that is under way.
fn moved(date: NaiveDate, season: &Season) -> NaiveDate {
    let years = season.start_year - FILE_SEASON;
    date.with_year(date.year() + years).unwrap_or(date)
}

/// A table of a thing that belongs to another, which the file leaves out.
fn linked(mut table: Table, field: &str, id: &str) -> Result<Table, Problem> {
    match table.insert(field.to_owned(), Value::String(id.to_owned())) {
        None => Ok(table),
        Some(_) => Err(defect(&format!("“{field}” is the program’s to give"))),
    }
}

fn record<T: DeserializeOwned>(table: Table) -> Result<T, Problem> {
    table.try_into().map_err(|error| defect(&error))
}

fn read<T: DeserializeOwned>(value: Option<Value>) -> Result<T, Problem> {
    value.ok_or_else(|| defect(&"a table is missing"))?.try_into().map_err(|error| defect(&error))
}

fn tables(value: Option<Value>) -> Result<Vec<Table>, Problem> {
    read(Some(value.unwrap_or(Value::Array(Vec::new()))))
}

/// The demo is part of the program: a test loads it.
fn defect(what: &dyn std::fmt::Display) -> Problem {
    Problem::new(ErrorCode::Internal, format!("demo-data/larch-bank.toml: {what}"))
}
