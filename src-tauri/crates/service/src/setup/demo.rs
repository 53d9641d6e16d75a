//! The invented season of Larch Bank, entered the way a grower would enter it.

use std::collections::HashMap;

use chrono::{NaiveTime, TimeDelta};
use hibernacle_contract::climate::{ClimateFile, TypedClimateRequest};
use hibernacle_contract::setup::DemoRequest;
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::season::{Mark, MarkKind, PlannedChore, Season};
use hibernacle_engine::shelter::Zone;
use hibernacle_engine::site::Site;
use hibernacle_store::Writer;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use toml::{Table, Value};

use super::save;
use crate::problem::Problem;
use crate::{Context, climate, lookup, planned};

/// The site with its shelters, zones and plantings, linked by their names.
const SITE_FILE: &str = include_str!("../../../../../demo-data/larch-bank.toml");

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
    let (site, history) = context.write(|data| load(context, data))?;
    live_through(context, &site, &history)?;
    Ok(site)
}

impl Context {
    /// Loads the demo into data that nothing was ever entered into; nothing happens to other data.
    ///
    /// # Errors
    /// Where the data cannot be read or written.
    pub fn load_demo_if_empty(&self) -> Result<Option<Site>, Failure> {
        let loaded =
            self.write(|data| if data.revision()? == 0 { load(self, data).map(Some) } else { Ok(None) })?;
        let Some((site, history)) = loaded else { return Ok(None) };
        live_through(self, &site, &history)?;
        Ok(Some(site))
    }
}

/// Enters what was done since the season began: each chore on the day it was planned for.
fn live_through(context: &Context, site: &Site, history: &History) -> Result<(), Failure> {
    let planned = planned::of_season(context, &site.id, None)?;
    let today = lookup::today_at(context, site)?;
    let open_from = today - TimeDelta::days(history.open_days.into());
    let season = planned.plan.season.start_year;
    context.write(|data| {
        let is_settled = |chore: &&PlannedChore| chore.due_on < open_from || chore.window.latest < today;
        for chore in planned.plan.chores.iter().filter(is_settled) {
            data.add_mark(&site.id, season, &history.mark(chore))?;
        }
        Ok(())
    })
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

fn load(context: &Context, data: &Writer<'_>) -> Result<(Site, History), Problem> {
    let mut file: Table = toml::from_str(SITE_FILE).map_err(|error| defect(&error))?;
    let site: Site = record(file.remove("site"))?;
    if data.sites()?.iter().any(|known| known.name == site.name) {
        let message = format!("{} is loaded already; remove it first to load it anew", site.name);
        return Err(Problem::new(ErrorCode::Conflict, message));
    }
    let site = save::site(context, data, site)?;

    let today = lookup::today_at(context, &site)?;
    let season = Season::containing(today, site.hemisphere());
    data.begin_season(&site.id, season.start_year, season.starts_on)?;

    let typed = TypedClimateRequest { site_id: site.id.clone(), typed: record(file.remove("climate"))? };
    climate::put_averages(context, data, &typed)?;
    let station = ClimateFile {
        site_id: site.id.clone(),
        file_name: "larch-bank-climate.csv".to_owned(),
        text: CLIMATE_FILE.to_owned(),
        plain_unit: None,
    };
    climate::put_record(context, data, &station, climate::read(&station)?)?;

    let mut zones = HashMap::new();
    for shelter in tables(file.remove("shelter"))? {
        zones.extend(load_shelter(context, data, &site, shelter)?);
    }
    for mut planting in tables(file.remove("planting"))? {
        if let Some(plant) = planting.remove("plant") {
            planting.insert("plant_key".to_owned(), plant);
        }
        if let Some(zone) = planting.remove("zone") {
            let id = zone.as_str().and_then(|name| zones.get(name));
            let id = id.ok_or_else(|| defect(&format!("there is no zone {zone}")))?;
            planting.insert("zone_id".to_owned(), Value::String(id.clone()));
        }
        save::planting(context, data, linked(planting, "site_id", &site.id)?)?;
    }
    Ok((site, record(file.remove("history"))?))
}

/// Enters a shelter with its zones, of which the first takes the place of the one that a new shelter comes with.
/// Gives the zones' identifiers by name.
fn load_shelter(
    context: &Context,
    data: &Writer<'_>,
    site: &Site,
    mut shelter: Table,
) -> Result<HashMap<String, String>, Problem> {
    let zones = tables(shelter.remove("zone"))?;
    let shelter = save::shelter(context, data, linked(shelter, "site_id", &site.id)?)?;
    let mut first = data.zones_of_shelter(&shelter.id)?.into_iter().map(|zone| zone.id);
    let mut ids = HashMap::new();
    for zone in zones {
        let zone: Zone = linked(zone, "shelter_id", &shelter.id)?;
        let zone = save::zone(context, data, Zone { id: first.next().unwrap_or_default(), ..zone })?;
        ids.insert(zone.name, zone.id);
    }
    Ok(ids)
}

/// A record that belongs to another, which the file leaves out.
fn linked<T: DeserializeOwned>(mut table: Table, field: &str, id: &str) -> Result<T, Problem> {
    table.insert(field.to_owned(), Value::String(id.to_owned()));
    record(Some(Value::Table(table)))
}

fn record<T: DeserializeOwned>(value: Option<Value>) -> Result<T, Problem> {
    value.ok_or_else(|| defect(&"a table is missing"))?.try_into().map_err(|error| defect(&error))
}

fn tables(value: Option<Value>) -> Result<Vec<Table>, Problem> {
    record(Some(value.unwrap_or(Value::Array(Vec::new()))))
}

/// The demo is part of the program: a test loads it.
fn defect(what: &dyn std::fmt::Display) -> Problem {
    Problem::new(ErrorCode::Internal, format!("demo-data/larch-bank.toml: {what}"))
}
