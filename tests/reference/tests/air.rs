//! Moist air against handbook tables and PsychroLib.

use hibernacle_engine::air;
use serde::Deserialize;

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

/// Saturation table of the ASHRAE Handbook of Fundamentals (2017), chapter 1 table 3, rows kept in PsychroLib's own
/// test suite (tests/test_psychrolib_si.py) with its tolerance of 0.03 %; the −60 °C row is printed to three digits.
#[test]
fn handbook_saturation_table() {
    close(air::saturation_pa(-60.0), 1.08, 0.011, "−60 °C");
    for (temp_c, printed_pa) in
        [(-20.0, 103.24), (-5.0, 401.74), (5.0, 872.6), (25.0, 3169.7), (50.0, 12_351.3)]
    {
        close(air::saturation_pa(temp_c), printed_pa, printed_pa * 3e-4, &format!("{temp_c} °C"));
    }
}

/// Humidity ratio (no enhancement factor: up to 1 %) and enthalpy of saturated air, same table at 101,325 Pa.
#[test]
fn handbook_saturated_air() {
    let rows = [
        (-20.0, 0.000_637_3, -18_542.0),
        (-5.0, 0.002_486_3, 1_164.0),
        (5.0, 0.005_425, 18_639.0),
        (25.0, 0.020_173, 76_504.0),
    ];
    for (temp_c, printed_ratio, printed_j_per_kg) in rows {
        let ratio = air::humidity_ratio(air::saturation_pa(temp_c), 101_325.0);
        close(ratio, printed_ratio, printed_ratio * 0.01, &format!("ratio at {temp_c} °C"));
        let enthalpy = air::enthalpy_j_per_kg(temp_c, ratio);
        close(enthalpy, printed_j_per_kg, 0.01 * printed_j_per_kg.abs().max(4000.0), "enthalpy");
    }
}

/// Example 1 of the same chapter: 40 °C, wet bulb 20 °C, 101.325 kPa: ratio 0.0065, dew point 7 °C, RH 14 %,
/// 56.7 kJ/kg, 0.896 m³/kg. Entered through the printed ratio.
#[test]
fn handbook_example_one() {
    let vapour_pa = air::vapour_pressure_of_ratio_pa(0.0065, 101_325.0);
    close(air::dew_or_frost_point_c(vapour_pa), 7.0, 0.7, "dew point");
    close(vapour_pa / air::saturation_pa(40.0), 0.14, 0.005, "relative humidity");
    close(air::enthalpy_j_per_kg(40.0, 0.0065), 56_700.0, 400.0, "enthalpy");
    close(air::specific_volume_m3_per_kg(40.0, 0.0065, 101_325.0), 0.896, 0.001, "volume");
}

/// Standard atmosphere of the same chapter, table 1.
#[test]
fn standard_atmosphere() {
    for (elevation_m, printed_pa) in
        [(0.0, 101_325.0), (500.0, 95_461.0), (1000.0, 89_875.0), (4000.0, 61_640.0)]
    {
        close(air::pressure_at_elevation_pa(elevation_m), printed_pa, 1.0, "pressure");
    }
}

#[derive(Deserialize)]
struct Grid {
    saturation: Vec<(f64, f64)>,
    states: Vec<State>,
    pressure_at_elevation: Vec<(f64, f64)>,
}

#[derive(Deserialize)]
struct State {
    temp_c: f64,
    rh: f64,
    vapour_pa: f64,
    dew_c: f64,
    ratio: f64,
    deficit_pa: f64,
    enthalpy: f64,
    volume: f64,
    density: f64,
}

/// Made by scripts/moist_air_grid.py with PsychroLib 2.5.0.
#[test]
fn states_agree_with_psychrolib() {
    let grid: Grid = serde_json::from_str(include_str!("../data/moist_air_grid.json")).unwrap();
    for (temp_c, expected_pa) in grid.saturation {
        close(air::saturation_pa(temp_c), expected_pa, 0.01, &format!("saturation at {temp_c} °C"));
    }
    for (elevation_m, expected_pa) in grid.pressure_at_elevation {
        close(air::pressure_at_elevation_pa(elevation_m), expected_pa, 0.01, "pressure");
    }
    for s in grid.states {
        let what = format!("{} °C, {} relative humidity", s.temp_c, s.rh);
        let vapour_pa = air::vapour_pressure_pa(s.temp_c, s.rh);
        close(vapour_pa, s.vapour_pa, 0.01, &what);
        close(air::dew_or_frost_point_c(vapour_pa), s.dew_c, 0.001, &format!("dew or frost point, {what}"));
        let ratio = air::humidity_ratio(vapour_pa, 101_325.0);
        close(ratio, s.ratio, 1e-7, &format!("ratio, {what}"));
        close(air::vapour_pressure_of_ratio_pa(ratio, 101_325.0), vapour_pa, 1e-6, "ratio and back");
        close(air::vapour_pressure_deficit_pa(s.temp_c, s.rh), s.deficit_pa, 0.05, &what);
        close(air::enthalpy_j_per_kg(s.temp_c, ratio), s.enthalpy, 1.0, &format!("enthalpy, {what}"));
        close(air::specific_volume_m3_per_kg(s.temp_c, ratio, 101_325.0), s.volume, 1e-5, &what);
        close(air::density_kg_per_m3(s.temp_c, ratio, 101_325.0), s.density, 1e-4, &what);
    }
}

/// The two branches: over water and ice they differ by 5 % at −5, 10 % at −10 and 21 % at −20 °C, so a sensor's
/// 90 % over water at −10 °C is 99 % over ice (values of PsychroLib's ice branch and of the water branch of the
/// same handbook equation).
#[test]
fn water_and_ice_are_kept_apart() {
    for (temp_c, over_ice_pa, over_water_pa) in
        [(-20.0, 103.26, 125.63), (-10.0, 259.90, 286.56), (-5.0, 401.76, 421.83)]
    {
        close(air::saturation_over_ice_pa(temp_c), over_ice_pa, 0.01, "ice");
        close(air::saturation_over_water_pa(temp_c), over_water_pa, 0.01, "water");
    }
    close(air::relative_humidity_from_water(-10.0, 0.9), 0.9923, 1e-4, "−10 °C");
    close(air::relative_humidity_from_water(10.0, 0.9), 0.9, 1e-12, "10 °C");
    let vapour_pa = air::vapour_pressure_pa(5.0, 0.5);
    close(air::dew_or_frost_point_c(vapour_pa), -4.033, 0.001, "frost point");
    close(air::dew_point_over_water_c(vapour_pa), -4.55, 0.03, "dew point over water");
    assert!(air::dew_or_frost_point_c(0.0) <= -99.0, "dry air has no useful dew point");
}

/// Heat capacity of leaked air: ρ·c at 0 °C and sea level is 0.3612 W per m³/h and K by the ideal gas law.
#[test]
fn heat_capacity_of_air() {
    close(air::heat_capacity_j_per_m3_k(0.0, 0.0, 101_325.0) / 3600.0, 0.3612, 2e-4, "0 °C");
    close(air::heat_capacity_j_per_m3_k(20.0, 0.0, 101_325.0) / 3600.0, 0.3365, 2e-4, "20 °C");
}

/// EnergyPlus engineering reference, climate calculations: clear, 20 °C, dew point 10 °C: emissivity 0.815 and
/// 340.6 W/m² (with 273 K for 0 °C). Its unit test of sky emissivity, ±0.001: 25 °C, dew point 16.7 °C: 0.832 by
/// Clark–Allen, 0.862 by Berdahl–Martin; 5 °C, −2.13 °C: 0.781 and 0.747.
#[test]
fn sky_emissivity() {
    close(air::clear_sky_emissivity(10.0), 0.815, 0.001, "engineering reference");
    close(air::sky_long_wave_w_per_m2(20.0, 10.0, 0.0), 340.6, 0.6, "irradiance");
    for (dew_c, clark_allen, berdahl_martin) in [(16.7, 0.832, 0.862), (-2.13, 0.781, 0.747)] {
        close(air::clear_sky_emissivity(dew_c), clark_allen, 0.001, "Clark–Allen");
        close(air::clear_sky_emissivity_cold_end(dew_c), berdahl_martin, 0.001, "Berdahl–Martin");
    }
}

/// Walton's cloud factor and the sky temperature, from the printed polynomial by hand.
#[test]
fn cloudy_sky() {
    for (tenths, factor) in [(0.0, 1.0), (2.0, 1.0330), (5.0, 1.0595), (8.0, 1.0986), (10.0, 1.1540)] {
        close(air::cloud_factor(tenths / 10.0), factor, 1e-4, "cloud factor");
    }
    let clear = air::sky_long_wave_w_per_m2(0.0, -5.0, 0.0);
    close(air::sky_temp_c(clear), -17.0, 0.1, "clear sky at 0 °C");
    let overcast = air::sky_temp_c(air::sky_long_wave_w_per_m2(0.0, -0.5, 1.0));
    assert!((-8.0..=0.0).contains(&overcast), "{overcast}");
    let damp_and_dark = air::sky_temp_c(air::sky_long_wave_w_per_m2(28.0, 27.0, 1.0));
    assert!(damp_and_dark <= 28.0 + 1e-9, "a sky warmer than the air: {damp_and_dark}");
}

/// Basic model of the ASHRAE Handbook of Fundamentals (2001), chapter 26, one storey: `A √(Cs ΔT + Cw v²)` with the
/// coefficients of its tables (Cs 0.000145; Cw 0.000319, 0.000246, 0.000174, 0.000104, 0.000032), as the EnergyPlus
/// input reference quotes them; in L/s.
#[test]
fn leakage_by_wind_and_stack() {
    use air::WindShelter::{Enclosed, Open, Rural, Suburban};
    let rows = [
        (100.0, Open, 10.0, 0.0, 3.808),
        (100.0, Open, 10.0, 2.0, 5.221),
        (100.0, Open, 10.0, 5.0, 9.708),
        (100.0, Rural, 10.0, 5.0, 8.718),
        (500.0, Suburban, 25.0, 4.0, 40.028),
        (150.0, Enclosed, 20.0, 4.0, 8.762),
        (150.0, Enclosed, -20.0, 4.0, 8.762),
    ];
    for (area, shelter, difference_k, wind, expected) in rows {
        let found = 1000.0 * air::leakage_m3_per_s(area, difference_k, wind, shelter);
        close(found, expected, 5e-4, &format!("{area} cm², {difference_k} K, {wind} m/s"));
    }
    let area = air::leakage_area_cm2(1.5, 20.0);
    let back = air::leakage_m3_per_s(area, 20.0, 3.3, Suburban) * 3600.0 / 20.0;
    close(back, 1.5, 1e-9, "air changes at the reference state");
}
