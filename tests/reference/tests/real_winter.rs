//! A real hourly winter through the recorded greenhouse of the demo: the energy balance, and the same winter by hours
//! and by its daily extremes.
//!
//! Hours: Newark airport, 2013 (`data/climate/NOTICE`).
#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use std::collections::BTreeMap;

use chrono::{Duration, NaiveDate};
use hibernacle_engine::climate::DailyTemps;
use hibernacle_engine::climate::hourly::{
    DailyAssumptions, Weather, WeatherReport, WeatherSeries, complete, from_daily, read_hourly_file,
};
use hibernacle_engine::plant::Planting;
use hibernacle_engine::shelter::dynamic::{EnergyReport, Forcing, Scenario, simulate};
use hibernacle_engine::shelter::setup::{CoversUsed, HeaterOn, ShelterRecords, scenario};
use hibernacle_engine::shelter::winter::HourlyWinters;
use hibernacle_engine::shelter::{GroundWave, Materials, Shelter, ShelterBuild, Zone};
use hibernacle_engine::site::Hemisphere;
use hibernacle_engine::sun::Place;
use serde::de::DeserializeOwned;
use toml::{Table, Value};

const DEMO: &str = include_str!("../../../demo-data/larch-bank.toml");
const HOURS: &str = include_str!("../data/climate/newark-2013-hourly.csv");
const NEWARK: Place = Place { latitude_deg: 40.69, longitude_deg: -74.17, elevation_m: 5.0 };

/// Records of the demo's greenhouse; names serve as identifiers.
struct Greenhouse {
    shelter: Shelter,
    build: ShelterBuild,
    zones: Vec<Zone>,
    plantings: Vec<Planting>,
}

fn record<T: DeserializeOwned>(table: &Table, add: &[(&str, &str)]) -> T {
    let mut table = table.clone();
    for (key, value) in add {
        table.insert((*key).to_owned(), Value::String((*value).to_owned()));
    }
    table.try_into().unwrap()
}

fn rows(table: &Table, key: &str) -> Vec<Table> {
    table[key].as_array().unwrap().iter().map(|row| row.as_table().unwrap().clone()).collect()
}

impl Greenhouse {
    fn of_the_demo() -> Self {
        let demo: Table = DEMO.parse().unwrap();
        let table =
            rows(&demo, "shelter").into_iter().find(|t| t["name"].as_str() == Some("greenhouse")).unwrap();
        let zones = rows(&table, "zone");
        let zones = zones.iter().map(|zone| {
            record(zone, &[("shelter_id", "greenhouse"), ("id", zone["name"].as_str().unwrap())])
        });
        let plantings = rows(&demo, "planting").into_iter().map(|mut planting| {
            for (short, long) in [("zone", "zone_id"), ("plant", "plant_key")] {
                if let Some(value) = planting.remove(short) {
                    planting.insert(long.to_owned(), value);
                }
            }
            record(&planting, &[("site_id", "site")])
        });
        Self {
            zones: zones.collect(),
            plantings: plantings.collect(),
            build: record(table["build"].as_table().unwrap(), &[("shelter_id", "greenhouse")]),
            shelter: record(&table, &[("site_id", "site"), ("id", "greenhouse")]),
        }
    }

    /// The greenhouse bare or under film, kept at 5 °C.
    fn scenario(&self, covers: CoversUsed) -> Scenario {
        let heater = HeaterOn {
            key: "fan-electric".to_owned(),
            rating_w: 2000.0,
            set_c: 5.0,
            band_k: 1.0,
            zone_id: Some("south floor".to_owned()),
            sensor_zone_id: None,
        };
        let records = ShelterRecords {
            shelter: &self.shelter,
            build: &self.build,
            zones: &self.zones,
            plantings: &self.plantings,
            heater: Some(&heater),
        };
        // Monthly means of the station from memory: 0 °C in January, 25 °C in July.
        let ground = GroundWave::from_air(12.5, 12.5, Hemisphere::Northern);
        scenario(NEWARK, &records, &Materials::built_in().unwrap(), ground, covers).unwrap()
    }
}

/// The winter of the file, its last months before its first.
fn reports() -> Vec<WeatherReport> {
    let read = read_hourly_file("newark-2013-hourly.csv", HOURS).unwrap();
    let mut found = HourlyWinters::of_reports(&read, NEWARK);
    assert_eq!((found.winters.len(), found.put_together), (1, Some(2013)));
    found.winters.remove(0).reports
}

/// Lows and highs of the days of the mean sun, as a thermometer for extremes would keep them.
fn extremes(series: &WeatherSeries) -> Vec<DailyTemps> {
    let ahead = Duration::seconds((NEWARK.longitude_deg * 240.0) as i64);
    let mut days: BTreeMap<NaiveDate, (f64, f64, u32)> = BTreeMap::new();
    for (hour, weather) in series.hours.iter().enumerate() {
        let date = (series.start + Duration::hours(hour as i64) + ahead).date_naive();
        let day = days.entry(date).or_insert((f64::INFINITY, f64::NEG_INFINITY, 0));
        *day = (day.0.min(weather.temp_c), day.1.max(weather.temp_c), day.2 + 1);
    }
    days.into_iter()
        .filter(|(_, (.., hours))| *hours >= 23)
        .map(|(date, (min_c, max_c, _))| DailyTemps { date, min_c: Some(min_c), max_c: Some(max_c) })
        .collect()
}

/// A season's figures.
#[derive(Debug)]
struct Season {
    energy: EnergyReport,
    kwh: f64,
    lows_c: Vec<f64>,
}

fn run(scenario: &Scenario, series: &WeatherSeries) -> Season {
    let facings: Vec<_> = scenario.phases[0].envelope.elements.iter().map(|e| e.facing).collect();
    let forcing = Forcing::new(NEWARK, series, &facings);
    let mut lows_c = vec![f64::INFINITY; scenario.zones.len()];
    let mut kwh = 0.0;
    let energy = simulate(scenario, &forcing, &[], |m| {
        kwh += m.heat_w / 6000.0;
        for (low, zone_c) in lows_c.iter_mut().zip(m.zone_c) {
            *low = low.min(*zone_c);
        }
    })
    .unwrap();
    Season { energy, kwh, lows_c }
}

#[test]
fn the_energy_of_a_real_season_closes() {
    let series = complete(NEWARK, &reports(), DailyAssumptions::default()).unwrap();
    assert!(series.hours.len() > 24 * 211, "{} hours", series.hours.len());
    let house = Greenhouse::of_the_demo();
    for covers in [CoversUsed::Bare, CoversUsed::AsOn("2027-01-15".parse().unwrap())] {
        let season = run(&house.scenario(covers), &series);
        let (residual_j, heat_j) = (season.energy.residual_j(), season.energy.heater_j);
        assert!(residual_j.abs() <= 1e-3 * heat_j, "{residual_j} J of {heat_j} J");
        // The report's heat is that of the steps.
        assert!((heat_j / 3.6e6 / season.kwh - 1.0).abs() < 1e-3, "{} {}", heat_j / 3.6e6, season.kwh);
        assert!(season.kwh > 100.0, "{season:?}");
    }
}

fn mean(series: &WeatherSeries, of: fn(&Weather) -> f64) -> f64 {
    series.hours.iter().map(of).sum::<f64>() / series.hours.len() as f64
}

/// Kelvin-hours below the setting of the greenhouse.
fn kelvin_hours(series: &WeatherSeries) -> f64 {
    series.hours.iter().map(|hour| (5.0 - hour.temp_c).max(0.0)).sum()
}

/// By daily extremes the winter takes more heat, and may: a front that passes in the evening makes the low of its day at
/// midnight and often that of the next day too, while the curve of Linvill (1990) has every low at dawn, so that two
/// cold nights come of one. In this winter the hours of the curve are 0.4 K colder in the mean. The tolerance is 20 % of
/// the heat, and 0.75 K in the coldest of a zone, for which the curve is tied to the record on the night that counts.
#[test]
fn hours_and_the_days_they_make_agree() {
    let by_hours = complete(NEWARK, &reports(), DailyAssumptions::default()).unwrap();
    let days = extremes(&by_hours);
    // A grower's daily record has no wind; that of the place is taken.
    let wind_m_per_s = mean(&by_hours, |hour| hour.wind_m_per_s);
    let by_days =
        from_daily(NEWARK, &days, DailyAssumptions { wind_m_per_s, ..DailyAssumptions::default() }).unwrap();
    let bias_k = mean(&by_days, |hour| hour.temp_c) - mean(&by_hours, |hour| hour.temp_c);
    assert!((-1.0..0.0).contains(&bias_k), "{bias_k} K");
    let house = Greenhouse::of_the_demo();
    for covers in [CoversUsed::Bare, CoversUsed::AsOn("2027-01-15".parse().unwrap())] {
        let heated = house.scenario(covers);
        let cold = Scenario { heating: None, ..heated.clone() };
        let (hours, days) = (run(&heated, &by_hours), run(&heated, &by_days));
        let kwh = days.kwh / hours.kwh;
        assert!((kwh - 1.0).abs() < 0.2, "{covers:?}: {} kWh by hours, {} by days", hours.kwh, days.kwh);
        // The heat differs because the air outdoors does, and by about as much.
        let air = kelvin_hours(&by_days) / kelvin_hours(&by_hours);
        assert!((kwh - air).abs() < 0.15, "{covers:?}: heat × {kwh}, kelvin-hours × {air}");
        let free = (run(&cold, &by_hours), run(&cold, &by_days));
        for (hours, days) in [(&hours, &days), (&free.0, &free.1)] {
            for (by_hours, by_days) in hours.lows_c.iter().zip(&days.lows_c) {
                assert!(
                    (by_hours - by_days).abs() < 0.75,
                    "{covers:?}: {:?} {:?}",
                    hours.lows_c,
                    days.lows_c
                );
            }
        }
    }
}
