//! Invented temperature logs by a solver of their own: a shelter of two stores in watts and joules, integrated by
//! fourth-order Runge–Kutta in steps of 20 s. It shares no code with the engine but the sun's place for the clear sky.

use chrono::{DateTime, Duration, Utc};
use hibernacle_engine::shelter::GroundWave;
use hibernacle_engine::shelter::fit::Sample;
use hibernacle_engine::sun::Place;
use serde::Deserialize;

pub(crate) const PLACE: Place = Place { latitude_deg: 47.7, longitude_deg: 13.1, elevation_m: 470.0 };

/// The shelter in watts, joules and square metres.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(crate) struct Truth {
    pub(crate) still_w_per_k: f64,
    pub(crate) wind_w_per_k_per_m_per_s: f64,
    pub(crate) sky_share: f64,
    pub(crate) exchange_w_per_k: f64,
    pub(crate) ground_w_per_k: f64,
    pub(crate) air_j_per_k: f64,
    pub(crate) store_j_per_k: f64,
    pub(crate) latent_j: f64,
    pub air_aperture_m2: f64,
    pub store_aperture_m2: f64,
}

/// A small twin-wall house with wet pots.
pub(crate) const HOUSE: Truth = Truth {
    still_w_per_k: 90.0,
    wind_w_per_k_per_m_per_s: 10.0,
    sky_share: 0.2,
    exchange_w_per_k: 150.0,
    ground_w_per_k: 25.0,
    air_j_per_k: 1.2e5,
    store_j_per_k: 3.0e6,
    latent_j: 6.0e7,
    air_aperture_m2: 0.6,
    store_aperture_m2: 1.6,
};

/// What a cover does.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cover {
    pub(crate) from_day: f64,
    pub(crate) to_day: f64,
    pub(crate) loss: f64,
    pub(crate) sun: f64,
}

#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub(crate) struct Hour {
    pub(crate) temp_c: f64,
    pub(crate) wind_m_per_s: f64,
    pub(crate) cloud: f64,
    pub sun_w_per_m2: f64,
}

/// A small seeded generator of uniform and normal numbers (SplitMix64; G. L. Steele, D. Lea, C. H. Flood 2014).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn normal(&mut self) -> f64 {
        let (a, b) = (self.uniform().max(1e-300), self.uniform());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}

pub(crate) fn start() -> DateTime<Utc> {
    "2025-12-01T11:00:00Z".parse().unwrap()
}

/// Winter weather by the hour: fronts over days, a daily wave that cloud flattens, gusts, cloud in spells.
pub(crate) fn weather(days: usize, seed: u64) -> Vec<Hour> {
    let mut dice = Dice(seed);
    let (mut front, mut gust, mut cover) = (dice.normal(), dice.normal(), dice.normal());
    let fade = |hours: f64| (-1.0 / hours).exp();
    let step = |state: &mut f64, hours: f64, dice: &mut Dice| {
        let f = fade(hours);
        *state = f * *state + (1.0 - f * f).sqrt() * dice.normal();
    };
    (0..=24 * days)
        .map(|hour| {
            step(&mut front, 60.0, &mut dice);
            step(&mut gust, 10.0, &mut dice);
            step(&mut cover, 14.0, &mut dice);
            let at = start() + Duration::hours(hour as i64);
            let cloud = 1.0 / (1.0 + (-1.6 * cover).exp());
            let clock = (11 + hour) as f64 + PLACE.longitude_deg / 15.0;
            let daily = (std::f64::consts::TAU * (clock - 14.5) / 24.0).cos();
            let sun = PLACE.quick_position(at).elevation_deg.to_radians().sin();
            let clear = if sun > 0.0 { 1098.0 * sun * (-0.059 / sun).exp() } else { 0.0 };
            Hour {
                temp_c: -2.0 + 4.0 * front + (4.5 - 3.0 * cloud) * daily,
                wind_m_per_s: 2.2 * (0.5 * gust).exp(),
                cloud,
                sun_w_per_m2: clear * (1.0 - 0.75 * cloud.powf(3.4)),
            }
        })
        .collect()
}

/// Clear sky of Clark and Allen with Walton's cloud, dew point 3 K below the air, less the air's temperature.
pub(crate) fn sky_below_air_k(temp_c: f64, cloud: f64) -> f64 {
    let dew_k = temp_c - 3.0 + 273.15;
    let tenths = 10.0 * cloud;
    let factor = 1.0 + 0.0224 * tenths - 0.0035 * tenths.powi(2) + 0.00028 * tenths.powi(3);
    let emissivity = ((0.787 + 0.764 * (dew_k / 273.15).ln()) * factor).min(1.0);
    let kelvin = temp_c + 273.15;
    emissivity.powf(0.25) * kelvin - kelvin
}

fn body_c(truth: &Truth, heat_j: f64) -> f64 {
    let (c, latent) = (truth.store_j_per_k, truth.latent_j);
    let all = -(latent + 0.5 * c);
    if heat_j >= 0.0 || latent == 0.0 {
        heat_j / c
    } else if heat_j > all {
        heat_j / (latent / 0.5 + c)
    } else {
        (heat_j + latent) / c
    }
}

/// Inside air every ten minutes, without noise.
///
/// * `heat_w` — watts at a number of seconds after the start and the air's temperature
pub(crate) fn inside(
    truth: &Truth,
    hours: &[Hour],
    ground: GroundWave,
    covers: &[Cover],
    start_c: f64,
    mut heat_w: impl FnMut(f64, f64) -> f64,
) -> Vec<f64> {
    use chrono::{Datelike, Timelike};
    const STEP_S: f64 = 20.0;
    let mut state = [start_c, start_c * truth.store_j_per_k];
    let mut out = vec![start_c];
    let steps = (hours.len() - 1) * 180;
    let sky: Vec<f64> = hours.iter().map(|h| sky_below_air_k(h.temp_c, h.cloud)).collect();
    for step in 0..steps {
        let t0 = step as f64 * STEP_S;
        let watts = heat_w(t0, state[0]);
        let at = start() + Duration::seconds(t0 as i64);
        let ground_c = ground.temp_c(1.0, f64::from(at.ordinal0()) + f64::from(at.hour()) / 24.0);
        let (mut loss, mut sun) = (1.0, 1.0);
        for cover in covers.iter().filter(|c| (c.from_day..c.to_day).contains(&(t0 / 86_400.0))) {
            loss *= cover.loss;
            sun *= cover.sun;
        }
        let rate = |t: f64, s: [f64; 2]| -> [f64; 2] {
            let place = (t / 3600.0).min(hours.len() as f64 - 1.000_001);
            let (i, x) = (place.floor() as usize, place.fract());
            let mix = |f: &dyn Fn(&Hour) -> f64| f(&hours[i]) * (1.0 - x) + f(&hours[i + 1]) * x;
            let outside = mix(&|h| h.temp_c);
            let seen = outside + truth.sky_share * (sky[i] * (1.0 - x) + sky[i + 1] * x);
            let through = loss
                * (truth.still_w_per_k + truth.wind_w_per_k_per_m_per_s * mix(&|h| h.wind_m_per_s))
                * (seen - s[0]);
            let shine = sun * mix(&|h| h.sun_w_per_m2);
            let body = body_c(truth, s[1]);
            let over = truth.exchange_w_per_k * (body - s[0]);
            [
                (through + over + truth.air_aperture_m2 * shine + watts) / truth.air_j_per_k,
                -over + truth.ground_w_per_k * (ground_c - body) + truth.store_aperture_m2 * shine,
            ]
        };
        let go = |s: [f64; 2], k: [f64; 2], h: f64| [s[0] + h * k[0], s[1] + h * k[1]];
        let k1 = rate(t0, state);
        let k2 = rate(t0 + STEP_S / 2.0, go(state, k1, STEP_S / 2.0));
        let k3 = rate(t0 + STEP_S / 2.0, go(state, k2, STEP_S / 2.0));
        let k4 = rate(t0 + STEP_S, go(state, k3, STEP_S));
        for n in 0..2 {
            state[n] += STEP_S / 6.0 * (k1[n] + 2.0 * k2[n] + 2.0 * k3[n] + k4[n]);
        }
        if (step + 1) % 30 == 0 {
            out.push(state[0]);
        }
    }
    out
}

/// Values every ten minutes as samples with noise.
pub(crate) fn samples(values: &[f64], noise: f64, dice: &mut Dice) -> Vec<Sample> {
    values
        .iter()
        .enumerate()
        .map(|(i, v)| Sample::new(start() + Duration::minutes(10 * i as i64), v + noise * dice.normal()))
        .collect()
}

/// An hourly quantity every ten minutes.
pub(crate) fn every_ten(hours: &[Hour], of: impl Fn(&Hour) -> f64) -> Vec<f64> {
    (0..=(hours.len() - 1) * 6)
        .map(|i| {
            let (h, x) = (i / 6, (i % 6) as f64 / 6.0);
            if x == 0.0 { of(&hours[h]) } else { of(&hours[h]) * (1.0 - x) + of(&hours[h + 1]) * x }
        })
        .collect()
}

/// What a logger and a weather station leave of a winter.
pub(crate) struct Readings {
    pub(crate) indoor: Vec<Sample>,
    pub(crate) outdoor: Vec<Sample>,
    pub(crate) wind: Vec<Sample>,
    pub(crate) cloud: Vec<Sample>,
    pub(crate) sun: Vec<Sample>,
    pub(crate) heat: Vec<Sample>,
    pub(crate) mean_night_wind: f64,
}

pub(crate) const NOISE_K: f64 = 0.2;

/// A winter in a shelter, read every ten minutes with 0.2 K of noise on both thermometers.
pub(crate) fn readings(
    truth: &Truth,
    days: usize,
    seed: u64,
    covers: &[Cover],
    heat_w: impl Fn(f64, f64) -> f64 + Copy,
) -> Readings {
    let hours = weather(days, seed);
    let ground = GroundWave::by_latitude(PLACE.latitude_deg);
    let mut watts = vec![0.0; days * 144 + 1];
    let clean = inside(truth, &hours, ground, covers, 4.0, |t, air_c| {
        let w = heat_w(t, air_c);
        watts[(t / 600.0) as usize] += w / 30.0;
        w
    });
    let mut dice = Dice(seed ^ 0x5eed);
    let night: Vec<&Hour> = hours.iter().filter(|h| h.sun_w_per_m2 <= 0.0).collect();
    Readings {
        indoor: samples(&clean, NOISE_K, &mut dice),
        outdoor: samples(&every_ten(&hours, |h| h.temp_c), NOISE_K, &mut dice),
        wind: samples(&every_ten(&hours, |h| h.wind_m_per_s), 0.0, &mut dice),
        cloud: samples(&every_ten(&hours, |h| h.cloud), 0.0, &mut dice),
        sun: samples(&every_ten(&hours, |h| h.sun_w_per_m2), 0.0, &mut dice),
        heat: samples(&watts, 0.0, &mut dice),
        mean_night_wind: night.iter().map(|h| h.wind_m_per_s).sum::<f64>() / night.len() as f64,
    }
}

impl Truth {
    pub(crate) fn loss_w_per_k(&self, wind_m_per_s: f64) -> f64 {
        self.still_w_per_k + self.wind_w_per_k_per_m_per_s * wind_m_per_s
    }
}
