//! Whole days: radiation above the air, radiation from the temperature range, cloud from radiation.

use std::f64::consts::{PI, TAU};

/// Radiation on a horizontal plane above the atmosphere over a day in MJ/m².
///
/// * `latitude_deg` — degrees north
/// * `day_of_year` — 1 to 366
///
/// FAO-56 eq. 21 to 25 with the solar constant 0.0820 MJ m⁻² min⁻¹; 0 in polar night.
///
/// Reference: R. G. Allen et al., Crop evapotranspiration, FAO Irrigation and Drainage Paper 56 (1998).
pub fn extraterrestrial_mj_per_m2(latitude_deg: f64, day_of_year: u32) -> f64 {
    let phi = latitude_deg.to_radians();
    let turn = TAU * f64::from(day_of_year) / 365.0;
    let distance_factor = 1.0 + 0.033 * turn.cos();
    let declination = 0.409 * (turn - 1.39).sin();
    let sunset_angle = (-phi.tan() * declination.tan()).clamp(-1.0, 1.0).acos();
    24.0 * 60.0 / PI
        * 0.0820
        * distance_factor
        * (sunset_angle * phi.sin() * declination.sin() + phi.cos() * declination.cos() * sunset_angle.sin())
            .max(0.0)
}

/// Solar radiation of a day from its temperature range in MJ/m².
///
/// * `extraterrestrial_mj_per_m2` — radiation above the air, see [`extraterrestrial_mj_per_m2`]
/// * `min_c`, `max_c` — daily extremes in °C; a range below 0 counts as 0
/// * `coefficient` — 0.16 inland, 0.19 on coasts
///
/// `k √(max − min) · Ra`. Rough in winter, when air brought from elsewhere sets the range: on a single day ±40 %.
///
/// Reference: FAO-56 eq. 50, after G. H. Hargreaves, Z. A. Samani, J. Irrig. Drain. Div. 108 (1982) 225–230.
pub fn radiation_from_range_mj_per_m2(
    extraterrestrial_mj_per_m2: f64,
    min_c: f64,
    max_c: f64,
    coefficient: f64,
) -> f64 {
    coefficient * (max_c - min_c).max(0.0).sqrt() * extraterrestrial_mj_per_m2
}

/// Cloud fraction, 0 to 1, that leaves the given share of the clear-sky radiation.
///
/// * `share_of_clear_sky` — measured or estimated radiation over clear-sky radiation
///
/// The inverse of `1 − 0.75 N^3.4`.
///
/// Reference: F. Kasten, G. Czeplak, Solar Energy 24 (1980) 177–189 (Hamburg, ten years of hourly data; value from
/// memory).
pub fn cloud_fraction_from_radiation(share_of_clear_sky: f64) -> f64 {
    let dimming = (1.0 - share_of_clear_sky).clamp(0.0, 0.75);
    (dimming / 0.75).powf(1.0 / 3.4)
}

/// Share of the clear-sky radiation that a cloud fraction of 0 to 1 leaves: `1 − 0.75 N^3.4`.
///
/// Reference: as for [`cloud_fraction_from_radiation`].
pub fn radiation_share_under_cloud(cloud_fraction: f64) -> f64 {
    1.0 - 0.75 * cloud_fraction.clamp(0.0, 1.0).powf(3.4)
}

/// Hours between sunrise and sunset by a Fourier series for the declination: the quick twin of [`super::day`].
///
/// * `latitude_deg` — degrees north
/// * `day_of_year` — 1 to 366
///
/// `2/15° · arccos((sin(−0.8333°) − sin φ sin δ) / (cos φ cos δ))`, 0 in polar night, 24 under the midnight sun.
/// Within 3 minutes of the exact day length up to 60° of latitude.
///
/// Reference: Spencer, Search 2 (1971) 172, for the declination δ.
pub fn day_length_h(latitude_deg: f64, day_of_year: u32) -> f64 {
    let (phi, delta) = (latitude_deg.to_radians(), declination_rad(f64::from(day_of_year)));
    let cos_angle = ((-0.8333_f64).to_radians().sin() - phi.sin() * delta.sin()) / (phi.cos() * delta.cos());
    24.0 / PI * cos_angle.clamp(-1.0, 1.0).acos()
}

/// Declination of the sun in radians by Spencer's series, error below 0.0006.
pub(super) fn declination_rad(day_of_year: f64) -> f64 {
    let b = TAU * (day_of_year - 1.0) / 365.0;
    0.006918 - 0.399912 * b.cos() + 0.070257 * b.sin() - 0.006758 * (2.0 * b).cos()
        + 0.000907 * (2.0 * b).sin()
        - 0.002697 * (3.0 * b).cos()
        + 0.00148 * (3.0 * b).sin()
}

/// Equation of time in minutes, sun minus clock, by Spencer's series; error below 0.6 min.
pub(super) fn equation_of_time_min(day_of_year: f64) -> f64 {
    let b = TAU * (day_of_year - 1.0) / 365.0;
    229.18
        * (0.000075 + 0.001868 * b.cos()
            - 0.032077 * b.sin()
            - 0.014615 * (2.0 * b).cos()
            - 0.040849 * (2.0 * b).sin())
}
