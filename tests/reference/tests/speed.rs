//! Speed of the heat model. Slow in a debug build, so run on demand:
//! `cargo test --release -p hibernacle-reference --test speed -- --ignored --nocapture`

use std::time::Instant;

use chrono::{Duration, NaiveDate};
use hibernacle_engine::climate::DailyTemps;
use hibernacle_engine::climate::hourly::{DailyAssumptions, from_daily};
use hibernacle_engine::shelter::dynamic::{Forcing, Heating, Phase, Scenario, ZoneLoad, simulate};
use hibernacle_engine::shelter::{
    Envelope, GroundWave, Materials, Medium, Shelter, ShelterBuild, ShelterKind,
};
use hibernacle_engine::site::Hemisphere;
use hibernacle_engine::sun::Place;

/// A winter of 182 days in steps of ten minutes with four zones, heated, in at most 10 ms.
#[test]
#[ignore = "measures a release build"]
fn one_winter_of_four_zones() {
    let place = Place { latitude_deg: 47.7, longitude_deg: 13.1, elevation_m: 470.0 };
    let first = NaiveDate::from_ymd_opt(2025, 10, 15).unwrap();
    let days: Vec<DailyTemps> = (0..182)
        .map(|day| {
            let low = 1.0 - 9.0 * (std::f64::consts::PI * f64::from(day) / 182.0).sin()
                + 4.0 * (f64::from(day) * 0.7).sin();
            DailyTemps { date: first + Duration::days(day.into()), min_c: Some(low), max_c: Some(low + 7.0) }
        })
        .collect();
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
    let envelope = Envelope::of(&shelter, &build, &Materials::built_in().unwrap(), &[]).unwrap();
    let facings: Vec<_> = envelope.elements.iter().map(|e| e.facing).collect();
    let started = Instant::now();
    let series = from_daily(place, &days, DailyAssumptions::default()).unwrap();
    let forcing = Forcing::new(place, &series, &facings);
    println!("weather of a winter prepared in {:?}", started.elapsed());
    let zone = ZoneLoad { floor_share: 0.25, pots_l: 120.0, ..ZoneLoad::EMPTY };
    let scenario = Scenario {
        phases: vec![Phase { from: series.start, envelope }],
        zones: vec![zone; 4],
        floor: Medium::LOAM,
        ground: GroundWave::from_air(8.5, 10.0, Hemisphere::Northern),
        canopy: 0.2,
        elevation_m: 470.0,
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
    };
    let mut best = f64::INFINITY;
    for _ in 0..20 {
        let started = Instant::now();
        let mut lowest = f64::INFINITY;
        let report = simulate(&scenario, &forcing, &[], |m| lowest = lowest.min(m.zone_c[0])).unwrap();
        let took_ms = started.elapsed().as_secs_f64() * 1000.0;
        best = best.min(took_ms);
        assert!(lowest.is_finite() && report.heater_j > 0.0);
    }
    println!("one winter of four zones in {best:.2} ms at best of twenty");
    assert!(best <= 10.0, "{best} ms");
}
