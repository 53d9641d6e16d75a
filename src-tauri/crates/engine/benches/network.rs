//! One zone's network through a winter whose conductance to outdoors changes every hour, pots freezing and thawing:
//! what `tests/reference/scripts/winter_speed.py` solves with other means. With `--hours` it prints the state of every
//! hour for that script instead of the bar.

use std::process::ExitCode;
use std::time::{Duration, Instant};

use hibernacle_engine::shelter::Enthalpy;
use hibernacle_engine::shelter::dynamic::kernel::{
    BODIES, LAYERS, Links, Network, POTS, SURFACE, Sources, Thermostat,
};

const BAR: Duration = Duration::from_millis(10);
const HOURS: usize = 4368;
const LAYER_M: [f64; LAYERS] = [0.03, 0.06, 0.11, 0.18, 0.27, 0.40];
const AREA_M2: f64 = 12.0;
const SOIL_W_PER_M_K: f64 = 1.2;
const SOIL_J_PER_M3_K: f64 = 2.1e6;
const DEEP: (f64, f64) = (SOIL_W_PER_M_K * AREA_M2 / 0.5, 7.0);
const NO_HEATER: Thermostat<1> =
    Thermostat { rating_w: 0.0, set_c: 0.0, band_k: 0.0, share: [1.0], sensor: 0 };

fn outside_c(hour: usize) -> f64 {
    let h = hour as f64;
    1.0 - 6.0 * (std::f64::consts::PI * h / HOURS as f64).sin()
        + 6.0 * (std::f64::consts::TAU * (h - 15.0) / 24.0).cos()
        + 3.0 * (h / 50.0).sin()
}

fn network() -> Network<1> {
    let mut curves = [[Enthalpy::sensible(1.0)]; BODIES];
    curves[POTS] = [Enthalpy {
        thawed_j_per_k: 1.5e6,
        frozen_j_per_k: 0.9e6,
        latent_j: 1.5e7,
        freezes_at_c: 0.0,
        range_k: 0.5,
    }];
    for (layer, thick_m) in LAYER_M.iter().enumerate() {
        curves[SURFACE + layer] = [Enthalpy::sensible(SOIL_J_PER_M3_K * AREA_M2 * thick_m)];
    }
    let mut body_c = [[7.0]; BODIES];
    body_c[POTS] = [6.0];
    Network::new([2e5], curves, [6.0], body_c)
}

fn links(hour: usize) -> Links<1> {
    let out_w_per_k = 90.0 + 40.0 * (0.37 * hour as f64).sin();
    let [start, end] = [outside_c(hour), outside_c(hour + 1)].map(|c| {
        let mut sources = Sources { air_w: [out_w_per_k * c], outside_c: c, ..Sources::default() };
        sources.body_w[SURFACE + LAYERS - 1] = [DEEP.0 * DEEP.1];
        sources
    });
    let mut links = Links {
        out_air: [out_w_per_k],
        air_pots: [40.0],
        air_surface: [60.0],
        pots_surface: [15.0],
        chain: std::array::from_fn(|i| [SOIL_W_PER_M_K * AREA_M2 * 2.0 / (LAYER_M[i] + LAYER_M[i + 1])]),
        start,
        end,
        ..Links::default()
    };
    links.out_bodies[SURFACE + LAYERS - 1] = [DEEP.0];
    links
}

fn winter(links: &[Links<1>], mut observe: impl FnMut(&Network<1>)) -> f64 {
    let mut network = network();
    for links in links {
        network.invalidate();
        for step in 0..6 {
            let from = f64::from(step) / 6.0;
            network.step(links, from, from + 1.0 / 6.0, 600.0, &NO_HEATER, None);
        }
        observe(&network);
    }
    network.air_c[0]
}

fn main() -> ExitCode {
    let links: Vec<_> = (0..HOURS).map(links).collect();
    if std::env::args().any(|argument| argument == "--hours") {
        winter(&links, |n| println!("{} {} {}", n.air_c[0], n.body_c[POTS][0], n.body_c[SURFACE][0]));
    }
    let mut best = Duration::MAX;
    for _ in 0..200 {
        let started = Instant::now();
        std::hint::black_box(winter(std::hint::black_box(&links), |_| {}));
        best = best.min(started.elapsed());
    }
    println!("winter of one zone's network alone: {best:.2?} (bar {BAR:?})");
    if best <= BAR { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
