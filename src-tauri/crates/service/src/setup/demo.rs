//! The invented season of Larch Bank, entered the way a grower would enter it.

use std::collections::HashMap;

use hibernacle_contract::climate::{ClimateFile, TypedClimateRequest};
use hibernacle_contract::setup::DemoRequest;
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::shelter::Zone;
use hibernacle_engine::site::Site;
use hibernacle_store::Writer;
use serde::de::DeserializeOwned;
use toml::{Table, Value};

use super::save;
use crate::problem::Problem;
use crate::{Context, climate};

/// The site with its shelters, zones and plantings, linked by their names.
const SITE_FILE: &str = include_str!("../../../../../demo-data/larch-bank.toml");

/// The record of its invented station.
const CLIMATE_FILE: &str = include_str!("../../../../../demo-data/larch-bank-climate.csv");

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

fn load(context: &Context, data: &Writer<'_>) -> Result<Site, Problem> {
    let mut file: Table = toml::from_str(SITE_FILE).map_err(|error| defect(&error))?;
    let site: Site = record(file.remove("site"))?;
    if data.sites()?.iter().any(|known| known.name == site.name) {
        let message = format!("{} is loaded already; remove it first to load it anew", site.name);
        return Err(Problem::new(ErrorCode::Conflict, message));
    }
    let site = save::site(context, data, site)?;

    let request = TypedClimateRequest { site_id: site.id.clone(), typed: record(file.remove("climate"))? };
    climate::put_averages(context, data, &request)?;
    let record = ClimateFile {
        site_id: site.id.clone(),
        file_name: "larch-bank-climate.csv".to_owned(),
        text: CLIMATE_FILE.to_owned(),
        plain_unit: None,
    };
    climate::put_record(context, data, &record, climate::read(&record)?)?;

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
    Ok(site)
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
