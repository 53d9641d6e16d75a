//! Runs winters of a heated house with four zones and holds the time against the bars.
//!
//! Times are the processor's where the system tells them (Linux), so that other programs do not count.

use std::process::ExitCode;
use std::time::{Duration, Instant};

use chrono::NaiveDate;
use hibernacle_engine::climate::DailyTemps;
use hibernacle_engine::climate::hourly::{DailyAssumptions, WeatherSeries, from_daily};
use hibernacle_engine::shelter::dynamic::{Forcing, Heating, Phase, Scenario, ZoneLoad};
use hibernacle_engine::shelter::night::ZoneLimit;
use hibernacle_engine::shelter::winter::{WinterTally, run_winter, site_draws};
use hibernacle_engine::shelter::{
    Envelope, GroundWave, Materials, Medium, Shelter, ShelterBuild, ShelterKind,
};
use hibernacle_engine::site::Hemisphere;
use hibernacle_engine::sun::Place;

const ONE_WINTER: Duration = Duration::from_millis(10);
const ALL_WINTERS: Duration = Duration::from_secs(5);
const RUNS: u32 = 50;
const DAYS: i32 = 182;
const WINTERS: i32 = 30;
const DRAWS: usize = 50;
/// Cores on which all winters keep their bar.
const CORES: u32 = 2;
const PLACE: Place = Place { latitude_deg: 47.7, longitude_deg: 13.1, elevation_m: 470.0 };
const ZONES: usize = 4;

fn main() -> ExitCode {
    match measure() {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn measure() -> Result<bool, Box<dyn std::error::Error>> {
    let envelope = envelope()?;
    let zones = [ZoneLimit { offset_k: 0.0, limit_c: 0.0 }; ZONES];

    let (weather, prepared) = mean_time(|| weather_of(2025, &envelope));
    let (series, forcing) = prepared?;
    let mut in_time = report("weather of a winter", weather, ONE_WINTER);
    let house = scenario(&series, envelope.clone());
    let (winter, outcome) = mean_time(|| run_winter(&house, &forcing, 0.0, &zones));
    let outcome = outcome?;
    if outcome.heat_kwh <= 0.0 {
        return Err("the heater of the winter never ran".into());
    }
    in_time &= report("winter of 10-minute steps, four zones", winter, ONE_WINTER);

    let started = Clock::start();
    let mut tally = WinterTally::new(ZONES);
    for year in 0..WINTERS {
        let (series, forcing) = weather_of(1990 + year, &envelope)?;
        let house = scenario(&series, envelope.clone());
        for shift_k in site_draws(0.0, 1.8, DRAWS) {
            tally.add(&run_winter(&house, &forcing, shift_k, &zones)?);
        }
    }
    let winters = tally.bill().map_or(0, |bill| bill.winters);
    let what = format!("{winters} winters with their weather, share of each of {CORES} cores");
    in_time &= report(&what, started.elapsed() / CORES, ALL_WINTERS);
    Ok(in_time)
}

/// Prints a time beside its bar and says whether it keeps it.
fn report(what: &str, time: Duration, bar: Duration) -> bool {
    println!("{what}: {time:.2?} (bar {bar:?})");
    time <= bar
}

/// The mean time of several runs.
fn mean_time<T>(work: impl Fn() -> T) -> (Duration, T) {
    let result = work();
    let started = Clock::start();
    for _ in 0..RUNS {
        work();
    }
    (started.elapsed() / RUNS, result)
}

/// Processor time of this thread, in ticks of some milliseconds, or time on the wall where the system does not tell.
struct Clock {
    processor: Option<Duration>,
    wall: Instant,
}

impl Clock {
    fn start() -> Self {
        Self { processor: processor_time(), wall: Instant::now() }
    }

    fn elapsed(&self) -> Duration {
        match (self.processor, processor_time()) {
            (Some(from), Some(to)) => to - from,
            _ => self.wall.elapsed(),
        }
    }
}

fn processor_time() -> Option<Duration> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds = told.split_whitespace().next()?.parse().ok()?;
    Some(Duration::from_nanos(nanoseconds))
}

fn weather_of(
    year: i32,
    envelope: &Envelope,
) -> Result<(WeatherSeries, Forcing), Box<dyn std::error::Error>> {
    let first = NaiveDate::from_ymd_opt(year, 10, 15).ok_or("no such date")?;
    let days: Vec<DailyTemps> = (0..DAYS)
        .map(|day| {
            let season = std::f64::consts::PI * f64::from(day) / f64::from(DAYS);
            let spells = (f64::from(day + 11 * (year - 2025)) * 0.7).sin();
            let low = 1.0 - 9.0 * season.sin() + 4.0 * spells;
            let date = first + chrono::Duration::days(day.into());
            DailyTemps { date, min_c: Some(low), max_c: Some(low + 7.0) }
        })
        .collect();
    let series = from_daily(PLACE, &days, DailyAssumptions::default())?;
    let facings: Vec<_> = envelope.elements.iter().map(|e| e.facing).collect();
    let forcing = Forcing::new(PLACE, &series, &facings);
    Ok((series, forcing))
}

fn envelope() -> Result<Envelope, Box<dyn std::error::Error>> {
    let shelter = Shelter {
        id: "s".to_owned(),
        site_id: "site".to_owned(),
        name: "House".to_owned(),
        kind: ShelterKind::Greenhouse,
        length_m: 4.2,
        width_m: 3.0,
        height_m: 2.4,
        has_cover: true,
        has_heater: true,
    };
    let build = ShelterBuild::usual(&shelter);
    Ok(Envelope::of(&shelter, &build, &Materials::built_in()?, &[])?)
}

fn scenario(series: &WeatherSeries, envelope: Envelope) -> Scenario {
    let zone = ZoneLoad { floor_share: 0.25, pots_l: 120.0, ..ZoneLoad::EMPTY };
    Scenario {
        phases: vec![Phase { from: series.start, envelope }],
        zones: vec![zone; ZONES],
        floor: Medium::LOAM,
        ground: GroundWave::from_air(8.5, 10.0, Hemisphere::Northern),
        canopy: 0.2,
        elevation_m: PLACE.elevation_m,
        heating: Some(Heating {
            rating_w: 2000.0,
            set_c: 1.0,
            band_k: 1.0,
            zone: 0,
            sensor_zone: 2,
            stirs_air: true,
            water_kg_per_kwh: 0.0,
        }),
        vent: None,
        stirred: false,
    }
}
