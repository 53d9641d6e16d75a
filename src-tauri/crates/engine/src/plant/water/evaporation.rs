//! Evaporation from wet surfaces and leaves.

/// Molar constants of the Penman–Monteith equation in the form of FAO-56.
const MM_PER_MJ: f64 = 0.408;
/// `r_a · u2` of the reference crop, s/m times m/s (FAO-56).
const REFERENCE_RESISTANCE: f64 = 208.0;

/// Saturation vapour pressure over water in kPa: `0.6108 exp(17.27 T/(T + 237.3))`.
///
/// * `temp_c` — temperature in °C
///
/// Kept beside [`crate::air::saturation_over_water_pa`] (within 0.1 % above freezing) because the worked examples and
/// their slope rest on it. Reference: FAO-56 eq. 11.
pub fn saturation_kpa(temp_c: f64) -> f64 {
    0.6108 * (17.27 * temp_c / (temp_c + 237.3)).exp()
}

/// Slope of the saturation curve in kPa/K (FAO-56 eq. 13).
pub fn slope_kpa_per_k(temp_c: f64) -> f64 {
    4098.0 * saturation_kpa(temp_c) / (temp_c + 237.3).powi(2)
}

/// Psychrometric constant in kPa/K at an air pressure in kPa (FAO-56 eq. 8).
pub fn psychrometric_kpa_per_k(pressure_kpa: f64) -> f64 {
    0.665e-3 * pressure_kpa
}

/// Vapour pressure deficit of a day in kPa.
///
/// * `min_c`, `mean_c`, `max_c` — temperatures of the day in °C
/// * `relative_humidity` — mean of the day over water, 0 to 1
///
/// Saturation is the mean of those at the extremes (FAO-56 eq. 12), vapour that of the mean; never below 0.
pub fn deficit_kpa(min_c: f64, mean_c: f64, max_c: f64, relative_humidity: f64) -> f64 {
    let saturated = f64::midpoint(saturation_kpa(min_c), saturation_kpa(max_c));
    (saturated - relative_humidity * saturation_kpa(mean_c)).max(0.0)
}

/// A surface that gives off water over a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// Mean air temperature in °C.
    pub temp_c: f64,
    /// Vapour pressure deficit in kPa.
    pub deficit_kpa: f64,
    /// Net radiation less what goes into the ground, MJ/(m² d).
    pub radiation_mj_per_m2: f64,
    /// Resistance of the air in s/m; 208 over the wind at 2 m for a reference crop.
    pub air_s_per_m: f64,
    /// Resistance of the surface in s/m: 0 wet, 70 for a reference crop.
    pub surface_s_per_m: f64,
    /// Air pressure in kPa.
    pub pressure_kpa: f64,
}

impl Surface {
    /// Water given off in mm/d, never below 0.
    ///
    /// ```text
    /// E = [0.408 Δ (Rn − G) + γ 900/(T + 273) · (208/ra) · D] / [Δ + γ (1 + rs/ra)]
    /// ```
    ///
    /// With `ra` = 208/u2 and `rs` = 70 s/m (the paper rounds 70/208 to 0.34, so 70.72 for its exact figures) this is the
    /// reference evapotranspiration.
    ///
    /// Reference: R. G. Allen, L. S. Pereira, D. Raes, M. Smith, Crop evapotranspiration, FAO Irrigation and Drainage
    /// Paper 56 (1998), eq. 6, with the resistances of eq. 4 and 5 kept apart.
    pub fn mm_per_day(&self) -> f64 {
        let slope = slope_kpa_per_k(self.temp_c);
        let gamma = psychrometric_kpa_per_k(self.pressure_kpa);
        let wind = REFERENCE_RESISTANCE / self.air_s_per_m;
        let drying = MM_PER_MJ * slope * self.radiation_mj_per_m2
            + gamma * 900.0 / (self.temp_c + 273.0) * wind * self.deficit_kpa;
        (drying / (slope + gamma * (1.0 + self.surface_s_per_m / self.air_s_per_m))).max(0.0)
    }
}

/// Evaporation in mm/d of a wet surface as warm as the air: `(0.0885 + 0.0779 v) Δp / Y`, times 0.74 as measured.
///
/// * `temp_c` — temperature in °C
/// * `deficit_kpa` — vapour pressure deficit of the air in kPa
/// * `air_m_per_s` — air movement over the surface in m/s
///
/// A pot takes the heat of evaporation through its wall and stays near the air's temperature, unlike a leaf.
///
/// Reference: C. C. Smith, G. O. G. Löf, R. W. Jones, ASHRAE Trans. 104 (1998) 514–523, in SI; an undisturbed surface
/// evaporates 74 % of the equation.
pub fn wet_surface_mm_per_day(temp_c: f64, deficit_kpa: f64, air_m_per_s: f64) -> f64 {
    const STILL_SHARE: f64 = 0.74;
    let latent_kj_per_kg = 2501.0 - 2.361 * temp_c;
    STILL_SHARE * (0.0885 + 0.0779 * air_m_per_s) * deficit_kpa / latent_kj_per_kg * 86_400.0
}

/// Share of the full rate at which a drying surface evaporates, 0 to 1.
///
/// * `lost_mm` — evaporated since it was wetted
/// * `readily_mm` — what evaporates at the full rate
/// * `total_mm` — what can evaporate at all
///
/// Reference: FAO-56 eq. 74.
pub fn drying_share(lost_mm: f64, readily_mm: f64, total_mm: f64) -> f64 {
    ((total_mm - lost_mm) / (total_mm - readily_mm)).clamp(0.0, 1.0)
}
