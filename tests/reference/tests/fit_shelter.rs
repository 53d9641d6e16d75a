//! A scaled envelope, the proof night, and zones from a moved sensor.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

#[expect(dead_code, reason = "shared with other tests")]
mod fit_log;

use chrono::{DateTime, Duration, NaiveDate, Utc};
use fit_log::{Dice, Hour, PLACE, every_ten, start, weather};
use hibernacle_engine::climate::hourly::{Weather, WeatherSeries};
use hibernacle_engine::shelter::dynamic::{Forcing, Phase, Scenario, ZoneLoad, simulate};
use hibernacle_engine::shelter::fit::*;
use hibernacle_engine::shelter::{
    CoverOn, Envelope, GroundWave, Materials, Medium, Part, Shelter, ShelterBuild, ShelterKind,
};

fn envelope(covers: &[CoverOn]) -> Envelope {
    let shelter = Shelter {
        id: "s".to_owned(),
        site_id: "site".to_owned(),
        name: "Greenhouse".to_owned(),
        kind: ShelterKind::Greenhouse,
        length_m: 4.2,
        width_m: 3.0,
        height_m: 2.4,
        has_cover: true,
        has_heater: false,
    };
    Envelope::of(&shelter, &ShelterBuild::usual(&shelter), &Materials::built_in().unwrap(), covers).unwrap()
}

fn bubble_film() -> CoverOn {
    CoverOn { key: "bubble-film".to_owned(), parts: Vec::new(), from: None, to: None }
}

fn house(envelope: Envelope) -> Scenario {
    Scenario {
        phases: vec![Phase { from: DateTime::<Utc>::MIN_UTC, envelope }],
        zones: vec![ZoneLoad { pots_l: 300.0, ..ZoneLoad::EMPTY }],
        floor: Medium::LOAM,
        ground: GroundWave::by_latitude(PLACE.latitude_deg),
        canopy: 0.2,
        elevation_m: PLACE.elevation_m,
        heating: None,
        vent: None,
        stirred: false,
    }
}

/// The invented weather as the shelter model takes it; the log starts at its first hour.
fn series(hours: &[Hour]) -> WeatherSeries {
    let hours = hours
        .iter()
        .map(|h| Weather {
            temp_c: h.temp_c,
            dew_point_c: h.temp_c - 3.0,
            wind_m_per_s: h.wind_m_per_s,
            cloud_fraction: h.cloud,
            ghi_w_per_m2: h.sun_w_per_m2,
        })
        .collect();
    WeatherSeries { start: start(), hours, problems: Vec::new() }
}

/// Inside air of the shelter model every ten minutes, as a thermometer reads it.
fn inside(scenario: &Scenario, weather: &WeatherSeries, dice: &mut Dice, noise_k: f64) -> Vec<Sample> {
    let facings: Vec<_> = scenario.phases[0].envelope.elements.iter().map(|e| e.facing).collect();
    let forcing = Forcing::new(PLACE, weather, &facings);
    let mut samples = Vec::new();
    simulate(scenario, &forcing, &[], |m| {
        let minutes = (m.hour * 60 + (m.step + 1) * 10) as i64;
        samples
            .push(Sample::new(start() + Duration::minutes(minutes), m.zone_c[0] + noise_k * dice.normal()));
    })
    .unwrap();
    samples
}

/// Scaled by nothing an envelope stays as it is, but for rounding; half the loss is half in every sheet.
#[test]
fn an_envelope_is_scaled() {
    let own = envelope(&[]);
    let same = scaled_envelope(&own, 1.0, 1.0);
    for (a, b) in same.elements.iter().zip(&own.elements) {
        assert!((a.resistance_m2_k_per_w - b.resistance_m2_k_per_w).abs() < 1e-9);
    }
    assert!((same.leakage_cm2 - own.leakage_cm2).abs() < 1e-6);
    let half = scaled_envelope(&own, 0.5, 1.0);
    for (a, b) in half.elements.iter().zip(&own.elements) {
        let (a, b) = (1.0 / (a.resistance_m2_k_per_w + 0.17), 1.0 / (b.resistance_m2_k_per_w + 0.17));
        assert!((a / b - 0.5).abs() < 1e-9);
    }
}

fn clear_cold(hours: &mut [Hour]) {
    for (i, hour) in hours.iter_mut().enumerate() {
        hour.cloud = 0.1;
        hour.wind_m_per_s = 2.0;
        let phase = std::f64::consts::TAU * (i as f64 - 3.0) / 24.0;
        hour.temp_c = -6.0 + 4.0 * phase.cos();
    }
}

/// A covered house on a clear cold night passes; without the roof's cover it fails and the roof leads the list.
#[test]
fn a_proof_night_names_the_roof() {
    let mut hours = weather(6, 3);
    clear_cold(&mut hours);
    let weather = series(&hours);
    let sound = house(envelope(&[bubble_film()]));
    let bare = envelope(&[]);
    let night_of: NaiveDate = "2025-12-05".parse().unwrap();
    let judge = |indoor: &[Sample], error: f64| {
        judge_proof_night(&ProofNight {
            place: PLACE,
            night_of,
            scenario: &sound,
            bare: Some(&bare),
            zone: 0,
            weather: &weather,
            indoor_c: indoor,
            model_error_k: error,
        })
    };
    let good = judge(&inside(&sound, &weather, &mut Dice(1), 0.1), 0.3).unwrap();
    println!("{good:?}");
    assert_eq!(good.verdict, Verdict::Pass);
    assert_eq!(good.suspects[0].culprit, Culprit::None);
    assert!(good.low_k < good.hold_k && good.hold_k < good.high_k);
    assert!((good.suspects.iter().map(|s| s.probability).sum::<f64>() - 1.0).abs() < 1e-9);

    let sides = CoverOn { parts: vec![Part::Side, Part::End], ..bubble_film() };
    let open_roof = house(envelope(&[sides]));
    let bad = judge(&inside(&open_roof, &weather, &mut Dice(2), 0.1), 0.3).unwrap();
    println!("{bad:?}");
    assert_eq!(bad.verdict, Verdict::Fail);
    let roof = bad.suspects.iter().position(|s| s.culprit == Culprit::Cover { part: Part::Roof }).unwrap();
    assert!(roof <= 1 && bad.suspects[roof].probability > 0.2, "{:?}", bad.suspects);

    // With the doubt of a handbook the same night proves little, and says so.
    let doubtful = judge(&inside(&open_roof, &weather, &mut Dice(2), 0.1), 1.5).unwrap();
    assert_ne!(doubtful.verdict, Verdict::Fail);
    let few = judge(&[], 0.3).unwrap_err();
    assert!(few.to_string().contains("repeat the night"), "{few}");
}

#[test]
fn a_proof_plan_spares_the_plants() {
    let plan = proof_plan(PLACE, "2025-12-05".parse().unwrap(), -2.0).unwrap();
    assert_eq!(plan.stop_at_c, -0.5);
    // Sunset 16:14, sunrise 7:47 at Salzburg's longitude (almanac to a few minutes), in UTC an hour less.
    assert_eq!(plan.from.format("%d %H").to_string(), "05 13");
    assert_eq!(plan.to.format("%d %H").to_string(), "06 07");
    assert_eq!(plan.steps.last(), Some(&ProofStep::StopAtLimit));
    let polar = hibernacle_engine::sun::Place { latitude_deg: 78.0, ..PLACE };
    assert!(matches!(proof_plan(polar, "2025-12-20".parse().unwrap(), 0.0), Err(ProofError::NoNight { .. })));
}

/// Four nights in each of three zones and three beside the fixed sensor: offsets within their intervals, the coldest
/// named; with one night each nothing is named.
#[test]
fn zones_come_from_a_moved_sensor() {
    let truth = [(None, 0.0), (Some("north"), -1.4), (Some("bench"), 0.5), (Some("floor"), -0.3)];
    let bias = 0.25;
    let run = |nights_each: usize, seed: u64| {
        let mut dice = Dice(seed);
        let days = truth.len() * nights_each;
        let hours = weather(days, seed);
        let air = every_ten(&hours, |h| 0.6 * h.temp_c + 3.0);
        let fixed: Vec<Sample> = air
            .iter()
            .enumerate()
            .map(|(i, v)| Sample::new(start() + Duration::minutes(10 * i as i64), v + 0.1 * dice.normal()))
            .collect();
        let nightly: Vec<f64> = (0..=days).map(|_| 0.3 * dice.normal()).collect();
        let moved: Vec<Sample> = air
            .iter()
            .enumerate()
            .map(|(i, v)| {
                let day = i / 144;
                let (zone, offset) = truth[(day / nights_each).min(truth.len() - 1)];
                let spread = if zone.is_some() { nightly[day] } else { 0.0 };
                let value = v + bias + offset + spread + 0.1 * dice.normal();
                Sample::new(start() + Duration::minutes(10 * i as i64 + 3), value)
            })
            .collect();
        let stays: Vec<Stay> = truth
            .iter()
            .enumerate()
            .map(|(i, (zone, _))| Stay {
                zone_id: zone.map(str::to_owned),
                from: start() + Duration::days((i * nights_each) as i64),
                to: start() + Duration::days(((i + 1) * nights_each) as i64),
            })
            .collect();
        zone_offsets(PLACE, &fixed, "door", &moved, &stays).unwrap()
    };
    let mut inside = 0;
    for seed in 0..40 {
        let found = run(4, seed);
        assert_eq!(found.zones.len(), 4);
        assert!(found.zones.windows(2).all(|w| w[0].offset_k.value <= w[1].offset_k.value));
        for (zone, offset) in truth.iter().filter_map(|(z, o)| Some((z.as_ref()?, o))) {
            let z = found.zones.iter().find(|z| z.zone_id == **zone).unwrap();
            inside += usize::from(z.offset_k.holds(*offset));
            assert_eq!(z.nights, 4);
        }
        assert_eq!(found.coldest.as_deref(), Some("north"), "seed {seed}");
        assert!(found.sensor_bias_k.unwrap().holds(bias));
    }
    assert!(inside >= 108, "{inside} of 120");
    let one = run(1, 5);
    assert!(one.zones.iter().all(|z| z.nights <= 1));
    assert!(one.zones.iter().filter(|z| z.nights == 1).all(|z| z.offset_k.told < Told::Well));
    let never = zone_offsets(PLACE, &[], "door", &[], &[]).unwrap_err();
    assert!(never.to_string().contains("whole night"), "{never}");
}
