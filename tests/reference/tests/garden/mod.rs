//! Whole gardens for planning: the demo and an invented one at a continental edge.

use hibernacle_engine::climate::{Climate, TypedClimate, read_climate_file};
use hibernacle_engine::plant::{PlantCatalogue, Planting};
use hibernacle_engine::season::{ChoreCatalogue, Plan, PlanInput, Season, plan};
use hibernacle_engine::shelter::{Shelter, Zone};
use hibernacle_engine::site::{Hemisphere, Site};
use serde::de::DeserializeOwned;
use toml::{Table, Value};

/// Year in which the planned season starts.
pub(crate) const START_YEAR: i32 = 2026;

/// A site with everything on it.
pub(crate) struct Garden {
    /// The site.
    pub(crate) site: Site,
    /// Nights there.
    pub(crate) climate: Climate,
    /// Its shelters.
    pub(crate) shelters: Vec<Shelter>,
    /// Their zones.
    pub(crate) zones: Vec<Zone>,
    /// Its plantings.
    pub(crate) plantings: Vec<Planting>,
}

fn record<T: DeserializeOwned>(mut table: Table, add: &[(&str, &str)]) -> T {
    for (key, value) in add {
        table.insert((*key).to_owned(), Value::String((*value).to_owned()));
    }
    table.try_into().expect("a record of the program")
}

fn tables(table: &mut Table, key: &str) -> Vec<Table> {
    match table.remove(key) {
        Some(Value::Array(rows)) => rows.into_iter().map(|row| row.try_into().expect("a table")).collect(),
        None => Vec::new(),
        Some(other) => panic!("{key} is {other}"),
    }
}

impl Garden {
    /// Reads a garden in the form of `demo-data/larch-bank.toml`; names serve as identifiers.
    fn parse(text: &str) -> Self {
        let mut file: Table = text.parse().expect("TOML");
        let mut part =
            |key: &str| file.remove(key).and_then(|value| value.try_into::<Table>().ok()).expect("part");
        let site: Site = record(part("site"), &[("id", "site")]);
        let typed: TypedClimate = record(part("climate"), &[]);
        let (mut shelters, mut zones) = (Vec::new(), Vec::new());
        for mut table in tables(&mut file, "shelter") {
            let zone_tables = tables(&mut table, "zone");
            let shelter: Shelter = record(table, &[("site_id", "site")]);
            let shelter = Shelter { id: shelter.name.clone(), ..shelter };
            for table in zone_tables {
                let zone: Zone = record(table, &[("shelter_id", &shelter.name)]);
                zones.push(Zone { id: zone.name.clone(), ..zone });
            }
            shelters.push(shelter);
        }
        let plantings = tables(&mut file, "planting")
            .into_iter()
            .map(|mut table| {
                for (short, long) in [("zone", "zone_id"), ("plant", "plant_key")] {
                    if let Some(value) = table.remove(short) {
                        table.insert(long.to_owned(), value);
                    }
                }
                let planting: Planting = record(table, &[("site_id", "site")]);
                Planting { id: planting.label.clone(), ..planting }
            })
            .collect();
        // What its grower did so far, pays and measures does not bear on the dates.
        for part in ["history", "price", "sensor"] {
            file.remove(part);
        }
        assert!(file.is_empty(), "unknown parts: {:?}", file.keys().collect::<Vec<_>>());
        let climate = Climate::from_typed(&typed, Hemisphere::Northern).expect("averages that fit");
        Self { site, climate, shelters, zones, plantings }
    }

    /// The same garden with the nights of a station of `data/climate/NOTICE`.
    pub(crate) fn with_record(mut self, file: &str) -> Self {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("data/climate").join(file);
        let text = std::fs::read_to_string(path).expect("the station's file");
        let record = read_climate_file(file, &text, None).expect("a climate record");
        self.climate = Climate::from_record(&record, Hemisphere::Northern);
        self.site.name = format!("{} with {file}", self.site.name);
        self
    }

    /// The plan of its season 2026–27 with the built-in catalogues.
    pub(crate) fn plan(&self) -> Plan {
        plan(&PlanInput {
            site: &self.site,
            shelters: &self.shelters,
            zones: &self.zones,
            plantings: &self.plantings,
            plants: &PlantCatalogue::built_in().expect("plants"),
            climate: &self.climate,
            rules: &ChoreCatalogue::built_in().expect("chores"),
            season: &Season::starting(START_YEAR, Hemisphere::Northern),
            marks: &[],
            began_on: None,
        })
    }
}

/// The demo.
pub(crate) fn larch_bank() -> Garden {
    Garden::parse(include_str!("../../../../demo-data/larch-bank.toml"))
}

/// A cold-temperate continental edge with a small unheated greenhouse of hardy pots.
pub(crate) fn river_terrace() -> Garden {
    Garden::parse(include_str!("../../data/river-terrace.toml"))
}
