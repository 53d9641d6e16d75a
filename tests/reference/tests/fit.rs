//! The insulation check against shelters that are known, made by a solver of their own (`fit_log`).
//!
//! A few seeds run every time; all hundred of each run with
//! `cargo test --release -p hibernacle-reference --test fit -- --ignored --nocapture`.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

mod fit_log;

use std::collections::BTreeMap;

use fit_log::*;
use hibernacle_engine::shelter::fit::*;

/// Readings with the weather beside them.
fn full(r: &Readings) -> Log<'_> {
    Log {
        wind_m_per_s: &r.wind,
        cloud_fraction: &r.cloud,
        sun_w_per_m2: &r.sun,
        covers: Covers::Told(&[]),
        ..bare(r)
    }
}

/// Two thermometers and nothing else.
fn bare(r: &Readings) -> Log<'_> {
    Log { covers: Covers::Told(&[]), ..Log::of_temperatures(PLACE, &r.indoor, &r.outdoor) }
}

/// A heater of 600 W that runs for twelve hours around midnight, every fifth night.
fn some_nights(t_s: f64, _: f64) -> f64 {
    let day = t_s / 86_400.0;
    if day as i64 % 5 == 3 && (0.25..0.75).contains(&day.fract()) { 600.0 } else { 0.0 }
}

fn no_heat(_: f64, _: f64) -> f64 {
    0.0
}

/// How often the truth lay in each interval, and the relative errors.
#[derive(Default)]
struct Hits(BTreeMap<&'static str, Vec<(bool, f64)>>);

impl Hits {
    fn note(&mut self, name: &'static str, found: Estimated, truth: f64) {
        self.0.entry(name).or_default().push((found.holds(truth), found.value / truth - 1.0));
    }

    /// At least nine in ten of every figure; of a few seeds, what nine in ten give in all but one of a thousand tries.
    fn check(&self, what: &str) {
        for (name, notes) in &self.0 {
            let hits = notes.iter().filter(|n| n.0).count();
            let mean = notes.iter().map(|n| n.1).sum::<f64>() / notes.len() as f64;
            let sd = (notes.iter().map(|n| (n.1 - mean).powi(2)).sum::<f64>() / notes.len() as f64).sqrt();
            println!("{what}, {name}: {hits} of {}, error {mean:+.4} ± {sd:.4}", notes.len());
            let least = if notes.len() >= 100 { notes.len() * 9 / 10 } else { notes.len() * 9 / 10 - 2 };
            assert!(hits >= least, "{what}, {name}: {hits} of {}", notes.len());
        }
    }
}

/// Every figure of a house with known heat and weather, 30 nights at 0.2 K on both thermometers.
fn known_house(seeds: std::ops::Range<u64>) {
    let (mut hits, mut furthest) = (Hits::default(), 0.0_f64);
    for seed in seeds {
        let r = readings(&HOUSE, 30, seed, &[], some_nights);
        let check = check_insulation(&Log { heat: Heat::Known(&r.heat), ..full(&r) }).unwrap();
        assert!(check.changes.is_empty(), "seed {seed}: {:?}", check.changes);
        let loss = HOUSE.loss_w_per_k(check.usual_wind_m_per_s.unwrap());
        let period = &check.periods[0];
        let found = period.loss_w_per_k.unwrap();
        furthest = furthest.max((found.value / loss - 1.0).abs());
        hits.note("loss in W/K", found, loss);
        hits.note("loss over capacity", period.loss_per_h, loss / HOUSE.store_j_per_k * 3600.0);
        hits.note(
            "growth with wind",
            period.wind_share_per_m_per_s.unwrap(),
            HOUSE.wind_w_per_k_per_m_per_s / loss,
        );
        hits.note("aperture", period.aperture_m2.unwrap(), HOUSE.air_aperture_m2 + HOUSE.store_aperture_m2);
        hits.note("exchange", check.store.exchange_over_loss, HOUSE.exchange_w_per_k / loss);
        hits.note("ground", check.store.ground_over_loss, HOUSE.ground_w_per_k / loss);
        hits.note("sky", check.store.sky_share.unwrap(), HOUSE.sky_share);
        hits.note("heat capacity", check.store.heat_capacity_j_per_k.unwrap(), HOUSE.store_j_per_k);
        if let Some(freezing) = check.store.freezing_k {
            hits.note("freezing", freezing, HOUSE.latent_j / HOUSE.store_j_per_k);
        }
    }
    hits.check("weather and heat known");
    assert!(furthest <= 0.05, "loss off by {furthest}");
}

/// What two thermometers alone can tell.
fn two_thermometers(seeds: std::ops::Range<u64>) {
    let mut hits = Hits::default();
    for seed in seeds {
        let r = readings(&HOUSE, 30, 5000 + seed, &[], no_heat);
        let check = check_insulation(&bare(&r)).unwrap();
        let loss = HOUSE.loss_w_per_k(r.mean_night_wind);
        hits.note("loss over capacity", check.periods[0].loss_per_h, loss / HOUSE.store_j_per_k * 3600.0);
        hits.note("exchange", check.store.exchange_over_loss, HOUSE.exchange_w_per_k / loss);
        assert!(check.periods[0].loss_w_per_k.is_none());
        assert!(check.missing.contains(&Missing::KnownHeat) && check.missing.contains(&Missing::Wind));
    }
    hits.check("two thermometers");
}

/// A cover that takes away two fifths of the loss and three fifths of the sun.
fn cover(seeds: std::ops::Range<u64>) {
    let covers = [Cover { from_day: 20.1, to_day: 99.0, loss: 0.6, sun: 0.4 }];
    let at = [start() + chrono::Duration::hours(482)];
    let mut hits = Hits::default();
    let mut misled = 0;
    for seed in seeds.clone() {
        let r = readings(&HOUSE, 40, 9000 + seed, &covers, no_heat);
        for (name, log) in [("weather known", full(&r)), ("two thermometers", bare(&r))] {
            let told = check_insulation(&Log { covers: Covers::Told(&at), ..log }).unwrap();
            hits.note(name, told.changes[0].loss_ratio, 0.6);
            if name == "weather known" {
                hits.note("sun", told.changes[0].sun_ratio.unwrap(), 0.4);
                misled += u32::from(!told.changes[0].loss_ratio.holds(told.changes[0].plain_ratio));
                let found = check_insulation(&Log { covers: Covers::NotTold, ..log }).unwrap();
                assert_eq!(found.changes.len(), 1, "seed {seed}");
                let change = &found.changes[0];
                assert!(!change.told && change.looks_like == LooksLike::CoverOn);
                let off = (change.since - at[0].date_naive()).num_days();
                assert!(off.abs() <= 1 && change.earliest <= change.since && change.since <= change.latest);
            }
        }
    }
    hits.check("cover");
    // The negative control: the ratio of mean holds lies outside the interval nearly always.
    assert!(u64::from(misled) * 10 >= (seeds.end - seeds.start) * 9, "{misled} misled");
}

#[test]
fn figures_of_a_known_house_lie_in_their_intervals() {
    known_house(0..5);
}

#[test]
#[ignore = "slow: a hundred seeds"]
fn figures_of_a_known_house_hundred_seeds() {
    known_house(0..100);
}

#[test]
fn two_thermometers_tell_ratios_and_time_constants() {
    two_thermometers(0..4);
}

#[test]
#[ignore = "slow: a hundred seeds"]
fn two_thermometers_hundred_seeds() {
    two_thermometers(0..100);
}

#[test]
fn a_cover_is_told_from_the_fit_and_its_day_is_found() {
    cover(0..3);
}

#[test]
#[ignore = "slow: a hundred seeds"]
fn cover_hundred_seeds() {
    cover(0..100);
}
