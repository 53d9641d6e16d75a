//! Ground temperature and the heat that soil and potting mix hold.

use hibernacle_engine::climate::DailyTemps;
use hibernacle_engine::shelter::{GroundWave, Medium};
use hibernacle_engine::site::Hemisphere;

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

/// EnergyPlus unit test of the Kusuda–Achenbach model (GroundTemperatureModels.unit.cc): conductivity 1.08 W/(m K),
/// density 980 kg/m³, 2570 J/(kg K), mean 15, half range 5 K, coldest on day 1: surface 10.00, 20.00 and 10.00 °C on
/// days 0, 182.5 and 364; 15.00 °C at 100 m.
#[test]
fn published_unit_test() {
    let diffusivity_m2_per_day = 1.08 / (980.0 * 2570.0) * 86_400.0;
    let wave = GroundWave { mean_c: 15.0, amplitude_k: 5.0, coldest_day: 1.0, diffusivity_m2_per_day };
    for (day, printed_c) in [(0.0, 10.0), (182.5, 20.0), (364.0, 10.0)] {
        close(wave.temp_c(0.0, day), printed_c, 0.01, &format!("day {day}"));
    }
    close(wave.temp_c(100.0, 40.0), 15.0, 0.01, "deep");
}

/// The printed formula (Kusuda and Achenbach, ASHRAE Trans. 71, 1965) worked separately: mean 10, half range 12,
/// coldest day 35, 0.05 m²/d.
#[test]
fn formula_values() {
    let wave =
        GroundWave { mean_c: 10.0, amplitude_k: 12.0, coldest_day: 35.0, diffusivity_m2_per_day: 0.05 };
    let rows = [
        (0.0, [-0.003, -2.000, 21.187, 1.424]),
        (0.3, [1.963, -0.514, 19.326, 3.406]),
        (1.0, [5.719, 2.747, 15.606, 7.051]),
        (5.0, [11.336, 10.728, 8.844, 11.443]),
    ];
    for (depth_m, row) in rows {
        for (day, expected) in [1.0, 35.0, 196.0, 355.0].into_iter().zip(row) {
            close(wave.temp_c(depth_m, day), expected, 6e-4, &format!("{depth_m} m, day {day}"));
        }
    }
}

#[test]
fn southern_ground_is_half_a_year_off() {
    let north = GroundWave::from_air(9.0, 10.0, Hemisphere::Northern);
    let south = GroundWave::from_air(9.0, 10.0, Hemisphere::Southern);
    close(north.temp_c(0.5, 40.0), south.temp_c(0.5, 222.5), 1e-9, "mirror");
}

/// Heat capacities: sand at θ 0.25 is 2.21 MJ/(m³ K) in Bendix (2004); de Vries's table (1963, reprinted by Moene and
/// van Dam, table 2.2) has 1.28 dry and 2.12 at 0.2 for sand of 40 % pores, peat 2.13 at 0.45; the additive formula is
/// up to 10 % below the table. Latent heat 333.55 kJ/kg.
#[test]
fn heat_capacity_of_soils() {
    let sand = |water| Medium { mineral: 0.60, organic: 0.0, water, ..Medium::LOAM };
    close(sand(0.25).heat_capacity_j_per_m3_k() / 1e6, 2.21, 0.01, "sand, Bendix");
    close(sand(0.0).heat_capacity_j_per_m3_k() / 1e6, 1.28, 0.13, "dry sand");
    close(sand(0.2).heat_capacity_j_per_m3_k() / 1e6, 2.12, 0.14, "moist sand");
    let peat = Medium { mineral: 0.0, organic: 0.1, water: 0.45, ..Medium::POTTING_MIX };
    close(peat.heat_capacity_j_per_m3_k() / 1e6, 2.13, 0.02, "half-wet peat");
    let wet = Medium { mineral: 0.0, organic: 0.15, water: 0.55, ..Medium::POTTING_MIX };
    close(wet.latent_j_per_m3() / 1e6, 183.5, 0.1, "latent heat of a wet mix");
    close(wet.heat_capacity_j_per_m3_k() * 5.0 / 1e6, 13.38, 0.01, "5 °C to 0 °C");
}

/// The enthalpy curve is one to one, continuous, and releases exactly the latent heat over the freezing range.
#[test]
fn enthalpy_is_one_to_one() {
    for medium in [Medium::POTTING_MIX, Medium::LOAM, Medium::WATER] {
        let curve = medium.enthalpy();
        let mut last = f64::NEG_INFINITY;
        for step in -2000..=2000 {
            let temp_c = f64::from(step) * 0.005;
            let heat = curve.heat_j(temp_c);
            assert!(heat > last, "not rising at {temp_c} °C");
            last = heat;
            close(curve.temp_c(heat), temp_c, 1e-9, "inverse");
        }
        let over_range = curve.heat_j(0.0) - curve.heat_j(-medium.freezing_range_k);
        let cooling = medium.frozen_heat_capacity_j_per_m3_k() * medium.freezing_range_k;
        close(over_range - cooling, medium.latent_j_per_m3(), 1.0, "released in freezing");
        close(curve.frozen_share(curve.heat_j(-5.0)), 1.0, 0.0, "frozen through");
        close(curve.frozen_share(curve.heat_j(5.0)), 0.0, 0.0, "thawed");
    }
}

/// A year whose months follow a cosine gives its mean and half range back.
#[test]
fn wave_from_a_climate_record() {
    let first = chrono::NaiveDate::from_ymd_opt(2024, 1, 1).unwrap();
    let days: Vec<DailyTemps> = (0..366)
        .map(|day| {
            let mean = 9.0 - 11.0 * (std::f64::consts::TAU * (f64::from(day) - 20.0) / 366.0).cos();
            let date = first + chrono::Duration::days(day.into());
            DailyTemps { date, min_c: Some(mean - 4.0), max_c: Some(mean + 4.0) }
        })
        .collect();
    let wave = GroundWave::from_days(&days, Hemisphere::Northern).unwrap();
    close(wave.mean_c, 9.0, 0.1, "mean");
    close(wave.amplitude_k, 11.0, 0.3, "half range");
    assert!(GroundWave::from_days(&days[..200], Hemisphere::Northern).is_none());
    let guess = GroundWave::by_latitude(47.7);
    close(guess.mean_c, 8.5, 1.5, "guess for the Alps");
}
