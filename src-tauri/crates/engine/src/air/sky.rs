//! Long-wave radiation of the sky.

use super::ZERO_C_IN_K;

/// Stefan–Boltzmann constant in W/(m² K⁴).
pub const STEFAN_BOLTZMANN: f64 = 5.670_374_419e-8;

/// Emissivity of a clear sky: `0.787 + 0.764 ln(Td / 273.15 K)`.
///
/// * `dew_point_c` — dew point at screen height in °C, −40 to 30
///
/// Warm among the published fits: at 0 °C and a dew point of −5 °C it gives 244 W/m² where Brunt gives 231 and
/// Berdahl–Martin 216 to 231; treat the loss to a clear sky as known to about ±14 W/m².
///
/// Reference: G. Clark, C. Allen, The estimation of atmospheric radiation for clear and cloudy skies, Proc. 2nd
/// National Passive Solar Conf. (1978) 675–678.
pub fn clear_sky_emissivity(dew_point_c: f64) -> f64 {
    0.787 + 0.764 * ((dew_point_c + ZERO_C_IN_K) / ZERO_C_IN_K).ln()
}

/// Emissivity of a clear sky by a colder fit: `0.758 + 0.521 (Td/100) + 0.625 (Td/100)²`, Td in °C.
///
/// * `dew_point_c` — dew point at screen height in °C, −20 to 30
///
/// Reference: P. Berdahl, R. Fromberg, Solar Energy 29 (1982) 299–314, as the EnergyPlus engineering reference
/// prints it under Berdahl–Martin. Used as the cold end of the range.
pub fn clear_sky_emissivity_cold_end(dew_point_c: f64) -> f64 {
    let scaled = dew_point_c / 100.0;
    0.758 + 0.521 * scaled + 0.625 * scaled * scaled
}

/// Factor by which cloud raises the clear-sky emissivity: `1 + 0.0224 N − 0.0035 N² + 0.00028 N³`, N in tenths.
///
/// * `cloud_fraction` — 0 to 1
///
/// Reference: G. N. Walton, Thermal analysis research program reference manual, NBSIR 83-2655 (1983).
pub fn cloud_factor(cloud_fraction: f64) -> f64 {
    let tenths = 10.0 * cloud_fraction.clamp(0.0, 1.0);
    1.0 + 0.0224 * tenths - 0.0035 * tenths * tenths + 0.00028 * tenths * tenths * tenths
}

/// Long-wave irradiance of the sky on a horizontal plane in W/m²: emissivity · cloud factor · σ T⁴, at most that of
/// a black sky at air temperature.
///
/// * `temp_c` — air temperature at screen height in °C
/// * `dew_point_c` — dew point in °C
/// * `cloud_fraction` — 0 to 1
///
/// Reference: [`clear_sky_emissivity`] and [`cloud_factor`].
pub fn sky_long_wave_w_per_m2(temp_c: f64, dew_point_c: f64, cloud_fraction: f64) -> f64 {
    let emissivity = clear_sky_emissivity(dew_point_c.min(temp_c)) * cloud_factor(cloud_fraction);
    emissivity.min(1.0) * STEFAN_BOLTZMANN * (temp_c + ZERO_C_IN_K).powi(4)
}

/// Temperature in °C of a black sky that sends the given long-wave irradiance.
///
/// * `long_wave_w_per_m2` — irradiance on a horizontal plane
pub fn sky_temp_c(long_wave_w_per_m2: f64) -> f64 {
    (long_wave_w_per_m2 / STEFAN_BOLTZMANN).powf(0.25) - ZERO_C_IN_K
}
