//! Moist air: saturation, dew and frost point, humidity ratio, density.
//!
//! Unless a function says otherwise, relative humidity and saturation follow the handbook convention: over **ice**
//! below the triple point of 0.01 °C and over **water** from there on. Weather services and most sensors report
//! relative humidity over water also below freezing; [`relative_humidity_from_water`] converts (at −20 °C the
//! curves are 21 % apart).
//!
//! Reference: ASHRAE Handbook of Fundamentals (2017), chapter 1, after R. W. Hyland, A. Wexler, ASHRAE Trans. 89
//! (1983) 500–519. No enhancement factor: vapour pressure of moist air is up to 0.5 % low.

/// 0 °C in kelvin.
pub const ZERO_C_IN_K: f64 = 273.15;
/// Temperature of the triple point of water in °C, where the two branches meet.
const TRIPLE_POINT_C: f64 = 0.01;
/// Ratio of the molar masses of water and dry air.
const MOLAR_MASS_RATIO: f64 = 0.621945;
/// Specific gas constant of dry air in J/(kg K).
const GAS_CONSTANT_DRY_AIR: f64 = 287.042;
/// Heat of evaporation of water at 0 °C in J/kg.
pub const EVAPORATION_J_PER_KG: f64 = 2.501e6;
/// Heat of fusion of ice in J/kg.
pub const FUSION_J_PER_KG: f64 = 333.55e3;

/// Saturation vapour pressure over water in Pa, −100 to 200 °C (below 0 °C: supercooled water, extrapolated).
///
/// * `temp_c` — temperature in °C
///
/// Reference: ASHRAE 2017, ch. 1 eq. 6; see the module.
pub fn saturation_over_water_pa(temp_c: f64) -> f64 {
    let t = temp_c + ZERO_C_IN_K;
    (-5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t * t - 1.4452093e-8 * t * t * t
        + 6.5459673 * t.ln())
    .exp()
}

/// Saturation vapour pressure over ice in Pa, −100 to 0 °C.
///
/// * `temp_c` — temperature in °C
///
/// Reference: ASHRAE 2017, ch. 1 eq. 5; see the module.
pub fn saturation_over_ice_pa(temp_c: f64) -> f64 {
    let t = temp_c + ZERO_C_IN_K;
    (-5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t * t + 2.0747825e-9 * t * t * t
        - 9.484024e-13 * t * t * t * t
        + 4.1635019 * t.ln())
    .exp()
}

/// Saturation vapour pressure in Pa: over ice up to 0.01 °C, over water above.
///
/// * `temp_c` — temperature in °C, −100 to 200
pub fn saturation_pa(temp_c: f64) -> f64 {
    if temp_c <= TRIPLE_POINT_C { saturation_over_ice_pa(temp_c) } else { saturation_over_water_pa(temp_c) }
}

/// Temperature in °C at which `saturation` reaches a vapour pressure, by Newton steps on its logarithm.
fn invert(vapour_pa: f64, saturation: fn(f64) -> f64) -> f64 {
    let target = vapour_pa.max(1e-3).ln();
    let mut temp_c = 0.0_f64;
    for _ in 0..50 {
        let value = saturation(temp_c).ln();
        let slope = (saturation(temp_c + 1e-3).ln() - saturation(temp_c - 1e-3).ln()) / 2e-3;
        let next = (temp_c - (value - target) / slope).clamp(-100.0, 200.0);
        if (next - temp_c).abs() < 1e-9 {
            return next;
        }
        temp_c = next;
    }
    temp_c
}

/// Temperature in °C at which air of a vapour pressure begins to deposit dew (above 0.01 °C) or frost (below).
///
/// * `vapour_pa` — vapour pressure in Pa; below 0.0015 Pa the answer is −100 °C
pub fn dew_or_frost_point_c(vapour_pa: f64) -> f64 {
    if vapour_pa <= saturation_over_ice_pa(TRIPLE_POINT_C) {
        invert(vapour_pa, saturation_over_ice_pa)
    } else {
        invert(vapour_pa, saturation_over_water_pa)
    }
}

/// Dew point over water in °C also below freezing, as weather services report it.
///
/// * `vapour_pa` — vapour pressure in Pa
pub fn dew_point_over_water_c(vapour_pa: f64) -> f64 {
    invert(vapour_pa, saturation_over_water_pa)
}

/// Vapour pressure in Pa of air at a temperature and relative humidity (handbook convention).
///
/// * `temp_c` — air temperature in °C
/// * `relative_humidity` — 0 to 1
pub fn vapour_pressure_pa(temp_c: f64, relative_humidity: f64) -> f64 {
    relative_humidity * saturation_pa(temp_c)
}

/// Relative humidity in the handbook convention from one over water, as sensors and weather services give it.
///
/// * `temp_c` — air temperature in °C
/// * `over_water` — relative humidity over water, 0 to 1; may come out above 1 over ice
pub fn relative_humidity_from_water(temp_c: f64, over_water: f64) -> f64 {
    over_water * saturation_over_water_pa(temp_c) / saturation_pa(temp_c)
}

/// Vapour pressure deficit in Pa: what is missing to saturation.
///
/// * `temp_c` — air temperature in °C
/// * `relative_humidity` — 0 to 1, handbook convention
pub fn vapour_pressure_deficit_pa(temp_c: f64, relative_humidity: f64) -> f64 {
    (1.0 - relative_humidity) * saturation_pa(temp_c)
}

/// Humidity ratio in kg of water per kg of dry air: `0.621945 e / (p − e)`.
///
/// * `vapour_pa` — vapour pressure in Pa, below `pressure_pa`
/// * `pressure_pa` — air pressure in Pa
///
/// Reference: ASHRAE 2017, ch. 1 eq. 20.
pub fn humidity_ratio(vapour_pa: f64, pressure_pa: f64) -> f64 {
    MOLAR_MASS_RATIO * vapour_pa / (pressure_pa - vapour_pa)
}

/// Vapour pressure in Pa of a humidity ratio in kg/kg: the inverse of [`humidity_ratio`].
pub fn vapour_pressure_of_ratio_pa(humidity_ratio: f64, pressure_pa: f64) -> f64 {
    pressure_pa * humidity_ratio / (MOLAR_MASS_RATIO + humidity_ratio)
}

/// Enthalpy of moist air in J per kg of dry air, zero for dry air at 0 °C.
///
/// * `temp_c` — temperature in °C
/// * `humidity_ratio` — kg/kg
///
/// Reference: ASHRAE 2017, ch. 1 eq. 30.
pub fn enthalpy_j_per_kg(temp_c: f64, humidity_ratio: f64) -> f64 {
    1006.0 * temp_c + humidity_ratio * (EVAPORATION_J_PER_KG + 1860.0 * temp_c)
}

/// Volume of moist air in m³ per kg of dry air.
///
/// Reference: ASHRAE 2017, ch. 1 eq. 26.
pub fn specific_volume_m3_per_kg(temp_c: f64, humidity_ratio: f64, pressure_pa: f64) -> f64 {
    GAS_CONSTANT_DRY_AIR * (temp_c + ZERO_C_IN_K) * (1.0 + humidity_ratio / MOLAR_MASS_RATIO) / pressure_pa
}

/// Density of moist air in kg/m³ (dry air and vapour together).
pub fn density_kg_per_m3(temp_c: f64, humidity_ratio: f64, pressure_pa: f64) -> f64 {
    (1.0 + humidity_ratio) / specific_volume_m3_per_kg(temp_c, humidity_ratio, pressure_pa)
}

/// Heat capacity of a cubic metre of moist air in J/(m³ K): `(1006 + 1860 w) / v`.
///
/// At 5 °C and sea level 1277; the 0.018 BTU/(ft³ °F) of greenhouse handbooks is 1207.
pub fn heat_capacity_j_per_m3_k(temp_c: f64, humidity_ratio: f64, pressure_pa: f64) -> f64 {
    (1006.0 + 1860.0 * humidity_ratio) / specific_volume_m3_per_kg(temp_c, humidity_ratio, pressure_pa)
}

/// Pressure of the standard atmosphere in Pa at an elevation: `101325 (1 − 2.25577e−5 z)^5.2559`.
///
/// * `elevation_m` — metres above sea level, −5000 to 11000
///
/// Reference: ASHRAE 2017, ch. 1 eq. 3. The weather moves it by ±3 %.
pub fn pressure_at_elevation_pa(elevation_m: f64) -> f64 {
    101_325.0 * (1.0 - 2.25577e-5 * elevation_m).powf(5.2559)
}
