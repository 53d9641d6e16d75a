//! A small invented garden for the planner's tests.

use std::fmt;
use std::sync::LazyLock;

use chrono::{DateTime, NaiveDate, Utc};

use super::{ChoreCatalogue, Mark, MarkKind, Plan, PlanInput, PlannedChore, Season, plan};
use crate::climate::{Climate, TypedClimate};
use crate::plant::{Container, PlantCatalogue, Planting};
use crate::shelter::{Light, Shelter, ShelterKind, Zone};
use crate::site::{Hemisphere, LengthUnit, Site, TemperatureUnit, Units, VolumeUnit, WorkTime};

/// Everything a plan depends on, owned.
#[derive(Clone)]
pub(super) struct Garden {
    pub(super) site: Site,
    pub(super) shelters: Vec<Shelter>,
    pub(super) zones: Vec<Zone>,
    pub(super) plantings: Vec<Planting>,
    pub(super) plants: PlantCatalogue,
    pub(super) climate: &'static Climate,
    pub(super) rules: ChoreCatalogue,
    pub(super) season: Season,
    pub(super) marks: Vec<Mark>,
    pub(super) began_on: Option<NaiveDate>,
}

pub(super) fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

/// First freeze early in November, last in mid-April, annual minimum −17 °C; half a year later in the south.
fn climate(hemisphere: Hemisphere) -> &'static Climate {
    static NORTH: LazyLock<Climate> =
        LazyLock::new(|| typed_climate("2025-11-05", "2026-04-15", Hemisphere::Northern));
    static SOUTH: LazyLock<Climate> =
        LazyLock::new(|| typed_climate("2026-05-05", "2026-10-15", Hemisphere::Southern));
    match hemisphere {
        Hemisphere::Northern => &NORTH,
        Hemisphere::Southern => &SOUTH,
    }
}

fn typed_climate(first: &str, last: &str, hemisphere: Hemisphere) -> Climate {
    let typed = TypedClimate { first_freeze: date(first), last_freeze: date(last), annual_minimum_c: -17.0 };
    Climate::from_typed(&typed, hemisphere).expect("a climate")
}

pub(super) fn planting(id: &str, plant_key: &str, zone: Option<&str>, container: Container) -> Planting {
    Planting {
        id: id.into(),
        site_id: "site".into(),
        plant_key: plant_key.into(),
        label: format!("the {id}"),
        count: 1,
        container,
        zone_id: zone.map(Into::into),
        own_limit_c: None,
        footprint_m2: None,
    }
}

pub(super) fn shelter(id: &str, kind: ShelterKind, has_cover: bool) -> Shelter {
    Shelter {
        id: id.into(),
        site_id: "site".into(),
        name: format!("the {id}"),
        kind,
        length_m: 4.0,
        width_m: 3.0,
        height_m: 2.5,
        has_cover,
        has_heater: has_cover,
    }
}

pub(super) fn zone(id: &str, shelter_id: &str, offset_k: f64) -> Zone {
    Zone {
        id: id.into(),
        shelter_id: shelter_id.into(),
        name: format!("the {id}"),
        area_m2: 3.0,
        light: Light::Bright,
        offset_k,
        kept_above_c: None,
        outline: None,
        water_l: 0.0,
    }
}

/// What the property tests vary; the rest would fill pages.
impl fmt::Debug for Garden {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let plantings: Vec<_> = self
            .plantings
            .iter()
            .map(|planting| (&planting.plant_key, &planting.zone_id, planting.count, planting.own_limit_c))
            .collect();
        let rules: Vec<_> = self
            .rules
            .iter()
            .filter(|rule| rule.key.starts_with("job-"))
            .map(|rule| (&rule.key, rule.scope, rule.minutes, &rule.when, &rule.after, &rule.repeat))
            .collect();
        let marks: Vec<_> = self.marks.iter().map(|mark| (&mark.chore_key, &mark.kind)).collect();
        f.debug_struct("Garden")
            .field("work", &self.site.work)
            .field("began_on", &self.began_on)
            .field("plantings", &plantings)
            .field("marks", &marks)
            .field("rules", &rules)
            .finish()
    }
}

static PLANTS: LazyLock<PlantCatalogue> = LazyLock::new(|| PlantCatalogue::built_in().expect("plants"));
static CHORES: LazyLock<ChoreCatalogue> = LazyLock::new(|| ChoreCatalogue::built_in().expect("chores"));

impl Garden {
    /// A covered greenhouse with two zones, a cellar with one, and four plantings, with the built-in chores.
    pub(super) fn new() -> Self {
        Self::at(47.7)
    }

    pub(super) fn at(latitude_deg: f64) -> Self {
        let hemisphere = Hemisphere::of_latitude(latitude_deg);
        let pot = Container::Pot { volume_l: 30.0 };
        Self {
            site: Site {
                id: "site".into(),
                name: "the garden".into(),
                latitude_deg,
                longitude_deg: 13.1,
                elevation_m: 470.0,
                time_zone: "Europe/Vienna".into(),
                currency: "EUR".into(),
                units: Units {
                    temperature: TemperatureUnit::Celsius,
                    length: LengthUnit::Metre,
                    volume: VolumeUnit::Litre,
                },
                work: WorkTime { days: Vec::new(), hours_per_day: 4.0 },
            },
            shelters: vec![
                shelter("house", ShelterKind::Greenhouse, true),
                shelter("cellar", ShelterKind::Cellar, false),
            ],
            zones: vec![
                zone("bench", "house", 0.0),
                zone("corner", "house", -1.0),
                zone("shelf", "cellar", 0.0),
            ],
            plantings: vec![
                planting("lemon", "citrus-limon", Some("bench"), pot),
                planting("olive", "olea-europaea", Some("corner"), pot),
                planting("oleander", "nerium-oleander", Some("corner"), pot),
                planting("dahlia", "dahlia", Some("shelf"), Container::Lifted),
            ],
            plants: PLANTS.clone(),
            climate: climate(hemisphere),
            rules: CHORES.clone(),
            season: Season::starting(2026, hemisphere),
            marks: Vec::new(),
            began_on: None,
        }
    }

    /// The garden with other chores: lines of a catalogue, see [`chore`].
    pub(super) fn with_rules(rules: &str) -> Self {
        Self { rules: ChoreCatalogue::parse("test.toml", rules).expect("chores"), ..Self::new() }
    }

    pub(super) fn plan(&self) -> Plan {
        plan(&PlanInput {
            site: &self.site,
            shelters: &self.shelters,
            zones: &self.zones,
            plantings: &self.plantings,
            plants: &self.plants,
            climate: self.climate,
            rules: &self.rules,
            season: &self.season,
            marks: &self.marks,
            began_on: self.began_on,
        })
    }

    /// Adds a mark; each is newer than those before.
    pub(super) fn mark(&mut self, chore_key: &str, kind: MarkKind) {
        let at_utc = DateTime::<Utc>::UNIX_EPOCH + chrono::TimeDelta::hours(self.marks.len() as i64);
        self.marks.push(Mark { chore_key: chore_key.into(), kind, at_utc });
    }

    pub(super) fn done(&mut self, chore_key: &str, on: &str) {
        self.mark(chore_key, MarkKind::Done { on: date(on) });
    }
}

/// A rule in TOML on a calendar date (`MM-DD`) with the lines that a test is about.
pub(super) fn chore(key: &str, scope: &str, on: &str, lines: &str) -> String {
    let (month, day) = on.split_once('-').expect("MM-DD");
    let (month, day) = (month.trim_start_matches('0'), day.trim_start_matches('0'));
    let best = if lines.contains("when.best") {
        String::new()
    } else {
        format!("when.best = [{{ from = \"calendar\", on = {{ month = {month}, day = {day} }} }}]\n")
    };
    let minutes = if lines.contains("minutes") { "" } else { "minutes = 10\n" };
    format!(
        "[[chore]]\nkey = \"{key}\"\ntitle = \"{key} {{target}}\"\nphase = \"close_up\"\nscope = \"{scope}\"\n\
         why = \"Because.\"\nproof = \"See.\"\nsource = \"common practice, no source\"\n{minutes}{best}{lines}\n"
    )
}

/// A calendar trigger in TOML (`MM-DD`).
pub(super) fn on(day: &str) -> String {
    let (month, day) = day.split_once('-').expect("MM-DD");
    let (month, day) = (month.trim_start_matches('0'), day.trim_start_matches('0'));
    format!("{{ from = \"calendar\", on = {{ month = {month}, day = {day} }} }}")
}

pub(super) fn found<'p>(plan: &'p Plan, key: &str) -> &'p PlannedChore {
    plan.chores.iter().find(|chore| chore.key == key).unwrap_or_else(|| {
        let keys: Vec<&str> = plan.chores.iter().map(|chore| chore.key.as_str()).collect();
        panic!("no chore {key} among {keys:?}")
    })
}

pub(super) fn problems(plan: &Plan) -> Vec<(&str, &str)> {
    plan.problems.iter().map(|problem| (problem.about.as_str(), problem.reason.message.as_str())).collect()
}
