//! Plans a season for 2,000 plantings and holds the result against its bar.

use std::process::ExitCode;
use std::time::{Duration, Instant};

use chrono::NaiveDate;
use hibernacle_engine::climate::{Climate, TypedClimate};
use hibernacle_engine::plant::{Container, PlantCatalogue, Planting};
use hibernacle_engine::season::{ChoreCatalogue, PlanInput, Season, plan};
use hibernacle_engine::shelter::{Light, Shelter, ShelterKind, Zone};
use hibernacle_engine::site::{LengthUnit, Site, TemperatureUnit, Units, VolumeUnit, WorkTime};

/// A plan is made anew after each tick of a chore: it must not be felt.
const BAR: Duration = Duration::from_millis(100);
const PLANTINGS: usize = 2_000;

fn site() -> Site {
    Site {
        id: "site".into(),
        name: "nursery".into(),
        latitude_deg: 47.7,
        longitude_deg: 13.1,
        elevation_m: 470.0,
        time_zone: "Europe/Vienna".into(),
        currency: "EUR".into(),
        units: Units {
            temperature: TemperatureUnit::Celsius,
            length: LengthUnit::Metre,
            volume: VolumeUnit::Litre,
        },
        work: WorkTime { days: Vec::new(), hours_per_day: 8.0 },
    }
}

fn shelters() -> Vec<Shelter> {
    let kinds = [ShelterKind::Greenhouse, ShelterKind::Cellar, ShelterKind::Garage, ShelterKind::ColdFrame];
    kinds
        .into_iter()
        .enumerate()
        .map(|(number, kind)| Shelter {
            id: format!("s{number}"),
            site_id: "site".into(),
            name: format!("shelter {number}"),
            kind,
            length_m: 10.0,
            width_m: 6.0,
            height_m: 3.0,
            has_cover: kind.takes_cover(),
            has_heater: kind == ShelterKind::Greenhouse,
        })
        .collect()
}

fn zones() -> Vec<Zone> {
    (0..16)
        .map(|number| Zone {
            id: format!("z{number}"),
            shelter_id: format!("s{}", number % 4),
            name: format!("zone {number}"),
            area_m2: 10.0,
            light: Light::Bright,
            offset_k: f64::from(number) / 8.0 - 1.0,
            kept_above_c: None,
            outline: None,
            water_l: 0.0,
        })
        .collect()
}

fn plantings(plants: &PlantCatalogue) -> Vec<Planting> {
    let keys: Vec<&str> = plants.iter().map(|plant| plant.key.as_str()).collect();
    (0..PLANTINGS)
        .map(|number| Planting {
            id: format!("p{number:04}"),
            site_id: "site".into(),
            plant_key: keys[number % keys.len()].into(),
            label: format!("planting {number}"),
            count: 1 + number as u32 % 3,
            container: Container::Pot { volume_l: 20.0 },
            zone_id: Some(format!("z{}", number % 16)),
            own_limit_c: (number % 7 == 0).then_some((number % 90) as f64 / 10.0 - 8.0),
            footprint_m2: None,
        })
        .collect()
}

fn main() -> ExitCode {
    let date = |year, month, day| NaiveDate::from_ymd_opt(year, month, day).unwrap_or_default();
    let typed = TypedClimate {
        first_freeze: date(2026, 10, 14),
        last_freeze: date(2026, 5, 4),
        annual_minimum_c: -16.0,
    };
    let site = site();
    let (Ok(climate), Ok(plants), Ok(rules)) = (
        Climate::from_typed(&typed, site.hemisphere()),
        PlantCatalogue::built_in(),
        ChoreCatalogue::built_in(),
    ) else {
        eprintln!("the built-in catalogues or the climate cannot be read");
        return ExitCode::FAILURE;
    };
    let (shelters, zones, plantings) = (shelters(), zones(), plantings(&plants));
    let input = PlanInput {
        site: &site,
        shelters: &shelters,
        zones: &zones,
        plantings: &plantings,
        plants: &plants,
        climate: &climate,
        rules: &rules,
        season: &Season::starting(2026, site.hemisphere()),
        marks: &[],
        began_on: None,
    };
    let mut quickest = Duration::MAX;
    let mut chores = 0;
    // The quickest of several: other programs on the machine only ever make it slower.
    for _ in 0..20 {
        let start = Instant::now();
        chores = plan(&input).chores.len();
        quickest = quickest.min(start.elapsed());
    }
    println!("plan of {PLANTINGS} plantings, {chores} chores: {quickest:.1?} (bar {BAR:?})");
    if quickest <= BAR { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
