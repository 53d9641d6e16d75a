//! Irradiance: clear sky, beam and diffuse parts, and what falls on a tilted surface.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::SunPosition;

/// Total solar irradiance at one astronomical unit in W/m² (Spencer's and the ASTM E490 value, 1366.1).
pub const SOLAR_CONSTANT_W_PER_M2: f64 = 1366.1;

/// Which way a surface faces.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Facing {
    /// Degrees from horizontal: 0 is a roof seen from above, 90 a wall.
    pub tilt_deg: f64,
    /// Direction of the outward normal in degrees from north over east; means nothing at tilt 0.
    pub azimuth_deg: f64,
}

/// Beam and diffuse parts of the irradiance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Split {
    /// Beam on a plane across the rays in W/m².
    pub beam_normal_w_per_m2: f64,
    /// Diffuse on a horizontal plane in W/m².
    pub diffuse_w_per_m2: f64,
}

/// Extraterrestrial irradiance across the rays in W/m².
///
/// * `day_of_year` — 1 to 366
///
/// `1366.1 · (1.00011 + 0.034221 cos B + 0.00128 sin B + 0.000719 cos 2B + 0.000077 sin 2B)`, `B = 2π(n−1)/365`.
///
/// Reference: J. W. Spencer, Fourier series representation of the position of the sun, Search 2 (1971) 172.
pub fn extraterrestrial_w_per_m2(day_of_year: u32) -> f64 {
    let b = std::f64::consts::TAU * (f64::from(day_of_year) - 1.0) / 365.0;
    let distance_factor = 1.00011
        + 0.034221 * b.cos()
        + 0.00128 * b.sin()
        + 0.000719 * (2.0 * b).cos()
        + 0.000077 * (2.0 * b).sin();
    SOLAR_CONSTANT_W_PER_M2 * distance_factor
}

/// Global horizontal irradiance under a clear sky in W/m².
///
/// * `zenith_deg` — degrees from the zenith; 0 is returned from 90 on
///
/// `1098 cos z · exp(−0.059 / cos z)`. No elevation, turbidity or water-vapour term: typical ±10 %.
///
/// Reference: B. Haurwitz, Insolation in relation to cloudiness and cloud density, J. Meteorol. 2 (1945) 154–166.
pub fn clear_sky_w_per_m2(zenith_deg: f64) -> f64 {
    let cos_zenith = zenith_deg.to_radians().cos();
    if zenith_deg >= 90.0 || cos_zenith <= 0.0 {
        0.0
    } else {
        1098.0 * cos_zenith * (-0.059 / cos_zenith).exp()
    }
}

/// Splits global horizontal irradiance into beam and diffuse by the clearness index.
///
/// * `global_w_per_m2` — global horizontal irradiance, not negative
/// * `zenith_deg` — zenith of the sun
/// * `day_of_year` — 1 to 366
///
/// With `k = global / (extraterrestrial · cos z)`: diffuse share `1 − 0.09k` to 0.22;
/// `0.9511 − 0.1604k + 4.388k² − 16.638k³ + 12.336k⁴` to 0.80; 0.165 above. `cos z` is floored at 0.065 (86.3°)
/// and there is no beam beyond 87°, where the quotient means nothing. Made for hourly means, 31° to 42° N.
///
/// Reference: D. G. Erbs, S. A. Klein, J. A. Duffie, Solar Energy 28 (1982) 293–302.
pub fn split(global_w_per_m2: f64, zenith_deg: f64, day_of_year: u32) -> Split {
    let global = global_w_per_m2.max(0.0);
    let cos_zenith = zenith_deg.to_radians().cos();
    let k = (global / (extraterrestrial_w_per_m2(day_of_year) * cos_zenith.max(0.065))).clamp(0.0, 1.0);
    let share = if k <= 0.22 {
        1.0 - 0.09 * k
    } else if k <= 0.80 {
        0.9511 - 0.1604 * k + 4.388 * k.powi(2) - 16.638 * k.powi(3) + 12.336 * k.powi(4)
    } else {
        0.165
    };
    if zenith_deg > 87.0 || cos_zenith <= 0.0 {
        return Split { beam_normal_w_per_m2: 0.0, diffuse_w_per_m2: global };
    }
    let diffuse = global * share;
    Split { beam_normal_w_per_m2: (global - diffuse) / cos_zenith, diffuse_w_per_m2: diffuse }
}

/// Cosine of the angle between the sun's rays and a surface's outward normal; negative when the sun is behind it.
///
/// `cos θ = cos β cos z + sin β sin z cos(γs − γ)` with tilt β and azimuths γ from north.
///
/// Reference: J. A. Duffie, W. A. Beckman, Solar engineering of thermal processes, eq. 1.6.3.
pub fn incidence_cos(facing: Facing, sun: SunPosition) -> f64 {
    let (tilt, zenith) = (facing.tilt_deg.to_radians(), sun.zenith_deg.to_radians());
    let turn = (sun.azimuth_deg - facing.azimuth_deg).to_radians();
    tilt.cos() * zenith.cos() + tilt.sin() * zenith.sin() * turn.cos()
}

/// Irradiance on the outer side of a tilted surface in W/m².
///
/// * `facing` — tilt and direction of the surface
/// * `sun` — where the sun stands
/// * `split` — beam and diffuse parts
/// * `ground_albedo` — share that the ground throws back, 0 to 1 (grass 0.2, fresh snow 0.8)
///
/// Beam `I_b max(0, cos θ)`, isotropic sky `I_d (1 + cos β)/2`, ground `albedo · I (1 − cos β)/2`.
///
/// Reference: B. Y. H. Liu, R. C. Jordan, Solar Energy 7 (1963) 53–74. The isotropic sky is on the low side for
/// surfaces that face a clear winter sun.
pub fn tilted_w_per_m2(facing: Facing, sun: SunPosition, split: Split, ground_albedo: f64) -> f64 {
    let cos_tilt = facing.tilt_deg.to_radians().cos();
    let horizontal_beam = split.beam_normal_w_per_m2 * sun.zenith_deg.to_radians().cos().max(0.0);
    let global = horizontal_beam + split.diffuse_w_per_m2;
    split.beam_normal_w_per_m2 * incidence_cos(facing, sun).max(0.0)
        + split.diffuse_w_per_m2 * (1.0 + cos_tilt) / 2.0
        + ground_albedo * global * (1.0 - cos_tilt) / 2.0
}
