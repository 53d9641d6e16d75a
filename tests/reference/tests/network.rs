//! The thermal network against exact solutions and SciPy.

use hibernacle_engine::shelter::dynamic::kernel::{
    BODIES, LAYERS, Links, Network, POTS, SURFACE, Sources, Thermostat,
};
use hibernacle_engine::shelter::{Enthalpy, Medium};
use serde::Deserialize;
use std::collections::BTreeMap;

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

const NO_HEATER: Thermostat<1> =
    Thermostat { rating_w: 0.0, set_c: 0.0, band_k: 0.0, share: [1.0], sensor: 0 };

/// Air alone or with pots; the floor's layers are cut off.
fn network(air_j_per_k: f64, pots: Enthalpy, air_c: f64, pots_c: f64) -> Network<1> {
    let mut curves = [[Enthalpy::sensible(1.0)]; BODIES];
    curves[POTS] = [pots];
    let mut body_c = [[0.0]; BODIES];
    body_c[POTS] = [pots_c];
    Network::new([air_j_per_k], curves, [air_c], body_c)
}

/// Air against steady outdoors with a steady heat.
fn air_links(ua_w_per_k: f64, outside_c: f64, heat_w: f64) -> Links<1> {
    let sources = Sources { air_w: [ua_w_per_k * outside_c + heat_w], outside_c, ..Sources::default() };
    Links { out_air: [ua_w_per_k], start: sources, end: sources, ..Links::default() }
}

fn run(network: &mut Network<1>, links: &Links<1>, seconds: f64, step_s: f64) {
    let steps = (seconds / step_s).round() as usize;
    for step in 0..steps {
        let at = |n: usize| (n as f64 * step_s / 3600.0) % 1.0;
        network.step(links, at(step), at(step) + step_s / 3600.0, step_s, &NO_HEATER, None);
    }
}

/// `T = T∞ + (T0 − T∞) e^(−t/τ)` with τ = C/UA and T∞ = To + Q/UA: 20 W/K, 500 kJ/K, −5 °C outdoors, 100 W from 5 °C;
/// 100 W/K, 1 MJ/K from 10 °C; values of the exponential by hand.
#[test]
fn step_response_of_one_node() {
    let table = [(1.0, 4.3294), (2.0, 3.7488), (4.0, 2.8107), (6.0, 2.1074), (8.0, 1.5800), (12.0, 0.8882)];
    for (hours, expected) in table {
        let mut house = network(5e5, Enthalpy::sensible(1.0), 5.0, 0.0);
        run(&mut house, &air_links(20.0, -5.0, 100.0), hours * 3600.0, 600.0);
        close(house.air_c[0], expected, 5e-4, &format!("{hours} h"));
    }
    for (hours, expected) in
        [(0.5, 7.52905), (1.0, 5.46514), (3.0, 0.09393), (6.0, -3.27012), (24.0, -4.99735)]
    {
        let mut house = network(1e6, Enthalpy::sensible(1.0), 10.0, 0.0);
        run(&mut house, &air_links(100.0, -5.0, 0.0), hours * 3600.0, 600.0);
        close(house.air_c[0], expected, 2e-3, &format!("{hours} h"));
    }
}

/// Sinusoid of 24 h and 6 K: gain 1/√(1 + (ωτ)²) and lag atan(ωτ)/ω after the start has died away.
#[test]
fn sinusoid_response_of_one_node() {
    for (tau_h, gain, lag_h) in [(2.0, 0.88591, 1.8424), (6.9444, 0.48197, 4.0791), (20.0, 0.18760, 5.2792)] {
        let ua = 50.0;
        let mut house = network(ua * tau_h * 3600.0, Enthalpy::sensible(1.0), 0.0, 0.0);
        let outside = |h: f64| 6.0 * (std::f64::consts::TAU * h / 24.0).sin();
        let days = 16;
        let mut best = (f64::NEG_INFINITY, 0.0);
        for hour in 0..24 * days {
            let ends = [outside(f64::from(hour)), outside(f64::from(hour) + 1.0)];
            let [start, end] = ends.map(|c| Sources { air_w: [ua * c], outside_c: c, ..Sources::default() });
            let links = Links { out_air: [ua], start, end, ..Links::default() };
            house.invalidate();
            for step in 0..60 {
                let at = f64::from(step) / 60.0;
                house.step(&links, at, at + 1.0 / 60.0, 60.0, &NO_HEATER, None);
                let time = f64::from(hour) + at + 1.0 / 60.0 - 24.0 * f64::from(days - 1);
                if time >= 0.0 && house.air_c[0] > best.0 {
                    best = (house.air_c[0], time);
                }
            }
        }
        // Straight lines between hourly values take 0.6 % off the sine.
        close(best.0 / 6.0, gain, 0.008 * gain, &format!("gain at τ {tau_h} h"));
        close(best.1 - 6.0, lag_h, 0.05, &format!("lag at τ {tau_h} h"));
    }
}

/// Two nodes: air 0.1 MJ/K, mass 4 MJ/K, 80 W/K outdoors, 200 W/K between, both 8 °C, −5 °C outdoors (eigenvalues
/// −1/352.6 s and −1/19.694 h; the exact exponentials).
#[test]
fn step_response_of_two_nodes() {
    let exact = [
        (10.0, 4.96075, 7.94303),
        (30.0, 4.16622, 7.73706),
        (60.0, 3.91514, 7.41813),
        (180.0, 3.05409, 6.21893),
        (720.0, 0.09970, 2.10362),
        (1440.0, -2.22722, -1.13766),
    ];
    for (minutes, air_c, mass_c) in exact {
        let mut house = network(1e5, Enthalpy::sensible(4e6), 8.0, 8.0);
        let links = Links { air_pots: [200.0], ..air_links(80.0, -5.0, 0.0) };
        run(&mut house, &links, minutes * 60.0, 30.0);
        close(house.air_c[0], air_c, 2e-3, &format!("air after {minutes} min"));
        close(house.body_c[POTS][0], mass_c, 5e-4, &format!("mass after {minutes} min"));
        if minutes >= 60.0 {
            let mut coarse = network(1e5, Enthalpy::sensible(4e6), 8.0, 8.0);
            run(&mut coarse, &links, minutes * 60.0, 600.0);
            close(coarse.air_c[0], air_c, 0.05, &format!("air after {minutes} min in steps of ten"));
        }
    }
}

#[derive(Deserialize)]
struct File {
    cases: BTreeMap<String, Case>,
}

#[derive(Deserialize)]
struct Case {
    outside: Vec<f64>,
    rating_w: f64,
    set_c: f64,
    band_k: f64,
    latent_j: f64,
    start: [f64; 3],
    hours: Vec<Hour>,
}

#[derive(Deserialize)]
struct Hour {
    air: f64,
    air_mean: f64,
    pots: f64,
    floor: f64,
    heater_kwh: f64,
}

/// Air, pots and floor surface against SciPy 1.17.1 solve_ivp (DOP853, rtol 1e-9, every switch of the thermostat an
/// event), made by scripts/network.py: four days of hourly weather in steps of ten minutes. Within 0.05 K (hourly mean
/// of the air where the thermostat swings it) and 0.5 % of the energy.
#[test]
fn three_nodes_agree_with_scipy() {
    let file: File = serde_json::from_str(include_str!("../data/network.json")).unwrap();
    assert_eq!(file.cases.len(), 4);
    for (name, case) in file.cases {
        let pots = if case.latent_j > 0.0 {
            Enthalpy {
                thawed_j_per_k: 1.5e6,
                frozen_j_per_k: 0.9e6,
                latent_j: case.latent_j,
                freezes_at_c: 0.0,
                range_k: 0.5,
            }
        } else {
            Enthalpy::sensible(1.5e6)
        };
        let mut house = three_nodes(pots, case.start);
        let thermostat = Thermostat {
            rating_w: case.rating_w,
            set_c: case.set_c,
            band_k: case.band_k,
            share: [1.0],
            sensor: 0,
        };
        let before_j = house.heat_j();
        for (index, hour) in case.hours.iter().enumerate() {
            house.invalidate();
            let links = three_links(case.outside[index], case.outside[index + 1]);
            let mut mean = 0.0;
            let mut last = house.air_c[0];
            for step in 0..6 {
                let at = f64::from(step) / 6.0;
                house.step(&links, at, at + 1.0 / 6.0, 600.0, &thermostat, None);
                mean += (last + house.air_c[0]) / 12.0;
                last = house.air_c[0];
            }
            let what = |node: &str| format!("{name}, {node} in hour {index}");
            if case.rating_w > 0.0 {
                // The first hours hold the sudden start.
                let tolerance = if index < 2 { 0.3 } else { 0.05 };
                close(mean, hour.air_mean, tolerance, &what("air"));
            } else {
                close(house.air_c[0], hour.air, 0.05, &what("air"));
            }
            close(house.body_c[POTS][0], hour.pots, 0.05, &what("pots"));
            close(house.body_c[SURFACE][0], hour.floor, 0.05, &what("floor"));
        }
        let kwh = house.tally.heater_j / 3.6e6;
        let expected = case.hours.last().unwrap().heater_kwh;
        close(kwh, expected, 0.005 * expected, &format!("{name}, heat"));
        let residual_j = house.heat_j() - before_j - house.tally.heater_j - house.tally.exchanged_j;
        close(residual_j, 0.0, 1.0, &format!("{name}, energy balance"));
    }
}

fn three_nodes(pots: Enthalpy, start: [f64; 3]) -> Network<1> {
    let mut curves = [[Enthalpy::sensible(1.0)]; BODIES];
    curves[POTS] = [pots];
    curves[SURFACE] = [Enthalpy::sensible(4e6)];
    let mut body_c = [[0.0]; BODIES];
    body_c[POTS] = [start[1]];
    body_c[SURFACE] = [start[2]];
    Network::new([2e5], curves, [start[0]], body_c)
}

fn three_links(from_c: f64, to_c: f64) -> Links<1> {
    let sources = |c: f64| {
        let mut sources = Sources { air_w: [90.0 * c], outside_c: c, ..Sources::default() };
        sources.body_w[SURFACE] = [12.0 * 7.0];
        sources
    };
    let mut links = Links {
        out_air: [90.0],
        air_pots: [40.0],
        air_surface: [60.0],
        pots_surface: [15.0],
        start: sources(from_c),
        end: sources(to_c),
        ..Links::default()
    };
    links.out_bodies[SURFACE] = [12.0];
    links
}

/// A pot of 12.27 L (25 cm high and wide, θ 0.4, 0.245 m² and 8 W/(m² K) all round) in air of −5 °C: 5 to 0 °C in
/// `C/hA ln 2`, then frozen through `ρ L θ V / (5 hA)` later, in sum after 1.93 + 38.7 h (lumped, by hand).
#[test]
fn freezing_time_of_a_pot() {
    let volume_m3 = std::f64::consts::PI / 4.0 * 0.25_f64.powi(3);
    let area_m2 = 1.5 * std::f64::consts::PI * 0.25 * 0.25;
    let mix = Medium {
        mineral: 0.0,
        organic: 0.0996,
        water: 0.4,
        conductivity_w_per_m_k: 0.3,
        freezes_at_c: 0.0,
        freezing_range_k: 0.001,
    };
    let mut house = network(10.0, mix.enthalpy().scaled(volume_m3), -5.0, 5.0);
    let mut links = air_links(1e4, -5.0, 0.0);
    links.air_pots = [8.0 * area_m2];
    run(&mut house, &links, 1.93 * 3600.0, 60.0);
    close(house.body_c[POTS][0], 0.0, 0.03, "after 1.93 h");
    run(&mut house, &links, 20.0 * 3600.0, 600.0);
    close(house.frozen_share(POTS, 0), 20.0 / 38.7, 0.01, "share of ice after 21.93 h");
    run(&mut house, &links, 18.2 * 3600.0, 600.0);
    assert!(house.frozen_share(POTS, 0) < 1.0);
    run(&mut house, &links, 1.0 * 3600.0, 600.0);
    close(house.frozen_share(POTS, 0), 1.0, 1e-9, "frozen through");
    assert!(house.body_c[POTS][0] < -0.1, "cools on once frozen");
}

/// Stefan's frost depth `√(2 k ΔT t / (ρ L θ))` under a surface held at −5 °C, ground at its freezing point: 1.2 W/(m K),
/// θ 0.25. Six layers of 5 cm, so within a third of a layer.
#[test]
fn frost_depth_of_stefan() {
    let soil = Medium { freezing_range_k: 0.01, ..Medium::LOAM };
    let thick_m = 0.05;
    let mut curves = [[Enthalpy::sensible(1.0)]; BODIES];
    for layer in 0..LAYERS {
        curves[SURFACE + layer] = [soil.enthalpy().scaled(thick_m)];
    }
    let mut house = Network::new([1.0], curves, [0.0], [[0.0]; BODIES]);
    let k = soil.conductivity_w_per_m_k;
    let mut links = Links::<1> { chain: [[k / thick_m]; LAYERS - 1], ..Links::default() };
    let to_surface = k / (thick_m / 2.0);
    links.out_bodies[SURFACE] = [to_surface];
    links.out_air = [1.0];
    links.start.body_w[SURFACE] = [to_surface * -5.0];
    links.end = links.start;
    for day in 1..=5 {
        run(&mut house, &links, 86_400.0, 600.0);
        let depth: f64 = (0..LAYERS).map(|layer| thick_m * house.frozen_share(SURFACE + layer, 0)).sum();
        let stefan = (2.0 * k * 5.0 * 86_400.0 * f64::from(day) / soil.latent_j_per_m3()).sqrt();
        close(depth, stefan, thick_m / 3.0, &format!("after {day} days"));
    }
}

/// Zones that mix through the core keep their heat between them.
#[test]
fn zones_mix_without_loss() {
    let curves = [[Enthalpy::sensible(1.0); 4]; BODIES];
    let air = [1e5, 2e5, 5e4, 1e5];
    let mut house = Network::new(air, curves, [10.0, 0.0, -5.0, 4.0], [[0.0; 4]; BODIES]);
    let links = Links::<4> { mix: [50.0, 20.0, 80.0, 10.0], ..Links::default() };
    let before = house.heat_j();
    let idle = Thermostat { rating_w: 0.0, set_c: 0.0, band_k: 0.0, share: [0.25; 4], sensor: 0 };
    for step in 0..2000 {
        let at = f64::from(step % 6) / 6.0;
        house.step(&links, at, at + 1.0 / 6.0, 600.0, &idle, None);
    }
    close(house.heat_j(), before, 1e-3, "heat");
    let mean = (1e6 + 0.0 - 2.5e5 + 4e5) / 4.5e5;
    for zone in 0..4 {
        close(house.air_c[zone], mean, 1e-6, "even");
    }
}
