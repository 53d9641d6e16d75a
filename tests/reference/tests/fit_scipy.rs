//! The insulation check against SciPy: the same log, integrated and fitted there (`scripts/fit_log.py`).

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

#[expect(dead_code, reason = "shared with another test")]
mod fit_log;

use std::collections::BTreeMap;

use chrono::Duration;
use fit_log::{Cover, Hour, PLACE, Truth, every_ten, inside, start};
use hibernacle_engine::shelter::GroundWave;
use hibernacle_engine::shelter::fit::*;
use serde::Deserialize;

#[derive(Deserialize)]
struct Reference {
    truth: Truth,
    ground_c: f64,
    cover_day: f64,
    cover_loss: f64,
    cover_sun: f64,
    hours: Vec<Hour>,
    clean_hourly_c: Vec<f64>,
    read_c: Vec<f64>,
    fit: BTreeMap<String, f64>,
    error: BTreeMap<String, f64>,
}

fn reference() -> Reference {
    serde_json::from_str(include_str!("../data/fit_log.json")).unwrap()
}

/// Ground of one temperature all year.
fn steady_ground(temp_c: f64) -> GroundWave {
    GroundWave { mean_c: temp_c, amplitude_k: 0.0, ..GroundWave::by_latitude(PLACE.latitude_deg) }
}

fn series(values: &[f64]) -> Vec<Sample> {
    values
        .iter()
        .enumerate()
        .map(|(i, v)| Sample::new(start() + Duration::minutes(10 * i as i64), *v))
        .collect()
}

/// The solver of the other checks against SciPy's Radau, freezing and cover included.
#[test]
fn the_two_solvers_agree() {
    let r = reference();
    let cover = [Cover { from_day: r.cover_day, to_day: 999.0, loss: r.cover_loss, sun: r.cover_sun }];
    let found = inside(&r.truth, &r.hours, steady_ground(r.ground_c), &cover, 4.0, |_, _| 0.0);
    let furthest =
        found.iter().step_by(6).zip(&r.clean_hourly_c).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    assert!(furthest < 0.01, "{furthest} K apart");
}

/// Prediction errors and least squares of the whole course give the same figures within their doubts, and both the truth.
#[test]
fn the_two_fits_agree() {
    let r = reference();
    let [outdoor, wind, cloud, sun] = [
        series(&every_ten(&r.hours, |h| h.temp_c)),
        series(&every_ten(&r.hours, |h| h.wind_m_per_s)),
        series(&every_ten(&r.hours, |h| h.cloud)),
        series(&every_ten(&r.hours, |h| h.sun_w_per_m2)),
    ];
    let indoor = series(&r.read_c);
    let at = [start() + Duration::hours((24.0 * r.cover_day) as i64)];
    let check = check_insulation(&Log {
        wind_m_per_s: &wind,
        cloud_fraction: &cloud,
        sun_w_per_m2: &sun,
        ground: steady_ground(r.ground_c),
        covers: Covers::Told(&at),
        ..Log::of_temperatures(PLACE, &indoor, &outdoor)
    })
    .unwrap();
    let fit = |name: &str| r.fit[name];
    let mean_wind = check.usual_wind_m_per_s.unwrap();
    let loss = fit("log_still").exp() + fit("log_wind").exp() * mean_wind;
    let share = |name: &str| r.error[name];
    let (first, second) = (&check.periods[0], &check.periods[1]);
    let pairs = [
        ("loss", first.loss_per_h, loss, share("log_still")),
        ("cover", check.changes[0].loss_ratio, fit("log_cover_loss").exp(), share("log_cover_loss")),
        ("sun", check.changes[0].sun_ratio.unwrap(), fit("log_cover_sun").exp(), share("log_cover_sun")),
        ("exchange", check.store.exchange_over_loss, fit("log_exchange").exp() / loss, share("log_exchange")),
        ("ground", check.store.ground_over_loss, fit("log_ground").exp() / loss, share("log_ground")),
        ("freezing", check.store.freezing_k.unwrap(), fit("log_latent_k").exp(), share("log_latent_k")),
        ("sky", check.store.sky_share.unwrap(), fit("sky"), share("sky") / fit("sky")),
        ("sunlit", first.sun_k_per_kw_m2.unwrap(), fit("log_aperture").exp() / loss, share("log_aperture")),
    ];
    for (name, found, scipy, scipy_share) in pairs {
        let doubt = found.standard_error.hypot(scipy * scipy_share);
        println!(
            "{name}: {:.4} ± {:.4}, SciPy {scipy:.4} ± {:.4}",
            found.value,
            found.standard_error,
            scipy * scipy_share
        );
        assert!((found.value - scipy).abs() < 2.0 * doubt, "{name}: {} and {scipy}", found.value);
        // The doubts are of the same size.
        assert!(found.standard_error > 0.5 * scipy * scipy_share, "{name} claims too much");
        assert!(found.standard_error < 5.0 * scipy * scipy_share, "{name} claims too little");
    }
    // The wind's share of the loss is the same with and without the cover, which takes its part of both.
    let truth = fit("log_wind").exp() / loss;
    for period in [first, second] {
        let wind = period.wind_share_per_m_per_s.unwrap();
        assert!((wind.value - truth).abs() < 3.0 * wind.standard_error, "{wind:?}, {truth}");
    }
}
