//! Soil, potting mix and water as stores of heat, freezing included.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::air::FUSION_J_PER_KG;

/// Heat capacity of liquid water in J/(m³ K).
const WATER_J_PER_M3_K: f64 = 4.18e6;
/// Heat capacity of the ice that a cubic metre of water becomes, in J/K.
const ICE_J_PER_M3_K: f64 = 1.88e6;
/// Heat set free when a cubic metre of water freezes, in J.
const FUSION_J_PER_M3: f64 = FUSION_J_PER_KG * 1000.0;

/// A stuff that fills pots, beds or barrels.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Medium {
    /// Share of the volume that is mineral, 0 to 1.
    pub mineral: f64,
    /// Share of the volume that is organic, 0 to 1.
    pub organic: f64,
    /// Share of the volume that is water, 0 to 1.
    pub water: f64,
    /// Thermal conductivity unfrozen in W/(m K).
    pub conductivity_w_per_m_k: f64,
    /// Temperature in °C at which the first water freezes.
    pub freezes_at_c: f64,
    /// Kelvin below that over which the water turns to ice.
    pub freezing_range_k: f64,
}

impl Medium {
    /// Peat-based potting mix somewhat below container capacity: 17 % solids, 45 % water. Conductivity after the de Vries row
    /// of half-wet peat; solids of a filled pot 20 to 30 % by volume including bark (grower press).
    pub const POTTING_MIX: Self = Self {
        mineral: 0.02,
        organic: 0.15,
        water: 0.45,
        conductivity_w_per_m_k: 0.30,
        freezes_at_c: 0.0,
        freezing_range_k: 0.5,
    };
    /// Garden loam: half solids, 25 % water. Conductivity between the de Vries rows of sand and clay at 0.2.
    pub const LOAM: Self = Self {
        mineral: 0.48,
        organic: 0.03,
        water: 0.25,
        conductivity_w_per_m_k: 1.2,
        freezes_at_c: 0.0,
        freezing_range_k: 0.5,
    };
    /// Water in barrels and cans; its stirring by convection is left to the surface film.
    pub const WATER: Self = Self {
        mineral: 0.0,
        organic: 0.0,
        water: 1.0,
        conductivity_w_per_m_k: 0.57,
        freezes_at_c: 0.0,
        freezing_range_k: 0.1,
    };

    /// Heat capacity above freezing in J/(m³ K): `1.93 xm + 2.51 xo + 4.18 θ` MJ.
    ///
    /// Reference: D. A. de Vries, Thermal properties of soils (1963), in W. R. van Wijk, Physics of plant
    /// environment. Within 7 % of that book's table of sand, clay and peat.
    pub fn heat_capacity_j_per_m3_k(&self) -> f64 {
        self.solids_j_per_m3_k() + WATER_J_PER_M3_K * self.water
    }

    /// Heat capacity with all water frozen in J/(m³ K).
    pub fn frozen_heat_capacity_j_per_m3_k(&self) -> f64 {
        self.solids_j_per_m3_k() + ICE_J_PER_M3_K * self.water
    }

    /// Heat set free in freezing all the water, in J/m³.
    pub fn latent_j_per_m3(&self) -> f64 {
        FUSION_J_PER_M3 * self.water
    }

    fn solids_j_per_m3_k(&self) -> f64 {
        1.93e6 * self.mineral + 2.51e6 * self.organic
    }

    /// Enthalpy of a cubic metre: see [`Enthalpy`].
    pub fn enthalpy(&self) -> Enthalpy {
        Enthalpy {
            thawed_j_per_k: self.heat_capacity_j_per_m3_k(),
            frozen_j_per_k: self.frozen_heat_capacity_j_per_m3_k(),
            latent_j: self.latent_j_per_m3(),
            freezes_at_c: self.freezes_at_c,
            range_k: self.freezing_range_k,
        }
    }
}

/// Heat content of a body against its temperature: straight above freezing, steep over the freezing range, straight
/// below. Zero where freezing begins.
///
/// The straight-line release over a range is the enthalpy method for media whose water freezes by and by (V. R.
/// Voller, C. R. Swaminathan, Numer. Heat Transfer B 19 (1991) 175–189).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Enthalpy {
    /// Heat capacity thawed in J/K.
    pub thawed_j_per_k: f64,
    /// Heat capacity frozen in J/K.
    pub frozen_j_per_k: f64,
    /// Heat set free over the freezing range, besides the cooling, in J; 0 for a body that does not freeze.
    pub latent_j: f64,
    /// Temperature in °C at which freezing begins.
    pub freezes_at_c: f64,
    /// Kelvin over which it freezes, above 0 where `latent_j` is above 0.
    pub range_k: f64,
}

impl Enthalpy {
    /// A body without freezing.
    pub fn sensible(heat_capacity_j_per_k: f64) -> Self {
        Self {
            thawed_j_per_k: heat_capacity_j_per_k,
            frozen_j_per_k: heat_capacity_j_per_k,
            latent_j: 0.0,
            freezes_at_c: 0.0,
            range_k: 1.0,
        }
    }

    /// The same stuff in `factor` times the amount.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self {
            thawed_j_per_k: self.thawed_j_per_k * factor,
            frozen_j_per_k: self.frozen_j_per_k * factor,
            latent_j: self.latent_j * factor,
            ..self
        }
    }

    /// Heat content in J at the bottom of the freezing range.
    fn all_frozen_j(&self) -> f64 {
        -(self.latent_j + self.frozen_j_per_k * self.range_k)
    }

    /// Heat content in J at a temperature in °C.
    pub fn heat_j(&self, temp_c: f64) -> f64 {
        let above_k = temp_c - self.freezes_at_c;
        if above_k >= 0.0 {
            self.thawed_j_per_k * above_k
        } else if above_k > -self.range_k {
            (self.latent_j / self.range_k + self.frozen_j_per_k) * above_k
        } else {
            self.frozen_j_per_k * above_k - self.latent_j
        }
    }

    /// Temperature in °C at a heat content in J: the inverse of [`Self::heat_j`].
    pub fn temp_c(&self, heat_j: f64) -> f64 {
        self.freezes_at_c
            + if heat_j >= 0.0 {
                heat_j / self.thawed_j_per_k
            } else if heat_j > self.all_frozen_j() {
                heat_j / (self.latent_j / self.range_k + self.frozen_j_per_k)
            } else {
                (heat_j + self.latent_j) / self.frozen_j_per_k
            }
    }

    /// Slope dH/dT in J/K at a heat content.
    pub fn slope_j_per_k(&self, heat_j: f64) -> f64 {
        if heat_j >= 0.0 {
            self.thawed_j_per_k
        } else if heat_j > self.all_frozen_j() {
            self.latent_j / self.range_k + self.frozen_j_per_k
        } else {
            self.frozen_j_per_k
        }
    }

    /// The straight piece of the curve on which a temperature lies.
    pub(crate) fn branch_at(&self, temp_c: f64) -> Branch {
        let frozen_below_c = self.freezes_at_c - self.range_k;
        if temp_c >= self.freezes_at_c || self.latent_j == 0.0 {
            let low_c = if self.latent_j == 0.0 { f64::NEG_INFINITY } else { self.freezes_at_c };
            Branch { slope_j_per_k: self.thawed_j_per_k, low_c, high_c: f64::INFINITY }
        } else if temp_c > frozen_below_c {
            let slope_j_per_k = self.latent_j / self.range_k + self.frozen_j_per_k;
            Branch { slope_j_per_k, low_c: frozen_below_c, high_c: self.freezes_at_c }
        } else {
            Branch { slope_j_per_k: self.frozen_j_per_k, low_c: f64::NEG_INFINITY, high_c: frozen_below_c }
        }
    }

    /// Share of the freezing water that is ice at a heat content, 0 to 1.
    pub fn frozen_share(&self, heat_j: f64) -> f64 {
        (heat_j / self.all_frozen_j()).clamp(0.0, 1.0)
    }
}

/// A straight piece of an enthalpy curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Branch {
    /// Its slope.
    pub(crate) slope_j_per_k: f64,
    /// Where it begins.
    pub(crate) low_c: f64,
    /// Where it ends.
    pub(crate) high_c: f64,
}
