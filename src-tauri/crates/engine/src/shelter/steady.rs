//! Steady heat loss, heater size and fuel for a design night, as greenhouse engineering reckons them.
//!
//! `Q = Σ U A ΔT + ρ c V N ΔT + F P ΔT`: envelope, air exchange and floor edge (the form of ANSI/ASABE EP406 and of
//! extension bulletins). U-values hold for an average winter night; clear sky and wind can add a quarter.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::build::{Beyond, CoverOn, Part, ShelterBuild};
use super::fuel::{BTU_PER_H_W, Fuel};
use super::{Envelope, Materials, Shelter};
use crate::air;
use crate::field::{FieldError, within};
use crate::sun::irradiance::Facing;

/// Loss of the floor's edge in W/(m K), bare: 0.8 BTU/(h ft °F) (greenhouse handbooks; value from memory).
const EDGE_BARE_W_PER_M_K: f64 = 1.38;
/// The same with edge insulation: 0.4 BTU/(h ft °F) (value from memory).
const EDGE_INSULATED_W_PER_M_K: f64 = 0.69;
/// Share of the outdoor difference that a loft or shed without heat passes on (ISO 13789 practice; value from memory).
const UNHEATED_SHARE: f64 = 0.9;

/// A night for which a heater is sized.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct DesignNight {
    /// Temperature to hold inside in °C.
    pub inside_c: f64,
    /// Outdoor low in °C.
    pub outside_c: f64,
    /// Temperature of the earth behind earth-side walls in °C.
    pub earth_c: f64,
    /// Metres above sea level, for the density of the air.
    pub elevation_m: f64,
}

/// Where a share of the heat goes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum LossPath {
    /// A piece of the envelope.
    Envelope {
        /// The part.
        part: Part,
        /// Which way it faces.
        facing: Facing,
    },
    /// Air that leaks out.
    Air,
    /// The floor's edge.
    Edge,
}

/// Loss along one path.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Loss {
    /// The path.
    pub path: LossPath,
    /// Area in m² (envelope), volume in m³ (air) or length in m (edge).
    pub size: f64,
    /// Coefficient per kelvin between inside and outdoors in W/K.
    pub ua_w_per_k: f64,
    /// Heat lost in the design night in W; negative is gained from a heated neighbour or warm earth.
    pub heat_w: f64,
}

/// The loss of a design night, path by path.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HeatLoss {
    /// Every path, pieces of the envelope first.
    pub paths: Vec<Loss>,
    /// Sum of the coefficients to outdoors in W/K.
    pub to_outdoors_w_per_k: f64,
    /// Sum of the heat in W; negative when the neighbours give more than is lost.
    pub heat_w: f64,
}

/// Heater output that a loss calls for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct HeaterSize {
    /// Loss of the design night in W, at least 0.
    pub loss_w: f64,
    /// Output to choose in W: the loss with its margin.
    pub output_w: f64,
    /// The same in BTU/h.
    pub output_btu_per_h: f64,
}

/// Margin on the loss when a heater is chosen, 20 % within the usual 10 to 25 % (common practice, no source).
pub const SIZING_MARGIN: f64 = 1.2;

impl DesignNight {
    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        within("inside_c", self.inside_c, -20.0, 35.0, "enter the temperature to hold")?;
        within("outside_c", self.outside_c, -70.0, 35.0, "enter the coldest night to reckon with")?;
        within("earth_c", self.earth_c, -10.0, 35.0, "enter the temperature of the earth")?;
        within("elevation_m", self.elevation_m, -430.0, 6000.0, "enter metres above sea level")
    }
}

/// Coefficient of air exchange in W/K: `ρ c V N`.
///
/// * `volume_m3`, `air_changes_per_h` — volume and rate
/// * `temp_c` — temperature at which the air is counted
/// * `pressure_pa` — air pressure
///
/// 0.3365 Wh/(m³ K) at 20 °C and sea level (the 0.018 BTU/(ft³ °F) of bulletins); 7 % more at 0 °C.
pub fn air_exchange_w_per_k(volume_m3: f64, air_changes_per_h: f64, temp_c: f64, pressure_pa: f64) -> f64 {
    air::heat_capacity_j_per_m3_k(temp_c, 0.0, pressure_pa) / 3600.0 * volume_m3 * air_changes_per_h
}

impl HeatLoss {
    /// The loss of an envelope in a design night.
    ///
    /// # Errors
    /// A field of the night that cannot be used.
    pub fn of(envelope: &Envelope, night: &DesignNight) -> Result<Self, FieldError> {
        night.check()?;
        let to_outside_k = night.inside_c - night.outside_c;
        let mut paths: Vec<Loss> = envelope
            .elements
            .iter()
            .map(|element| {
                let conductance = element.u_w_per_m2_k * element.area_m2;
                let (ua_w_per_k, heat_w) = match element.beyond {
                    Beyond::Outdoors => (conductance, conductance * to_outside_k),
                    Beyond::Unheated => {
                        (UNHEATED_SHARE * conductance, UNHEATED_SHARE * conductance * to_outside_k)
                    }
                    Beyond::Heated { temp_c } => (0.0, conductance * (night.inside_c - temp_c)),
                    Beyond::Earth => (0.0, conductance * (night.inside_c - night.earth_c)),
                };
                let path = LossPath::Envelope { part: element.part, facing: element.facing };
                Loss { path, size: element.area_m2, ua_w_per_k, heat_w }
            })
            .collect();
        let pressure_pa = air::pressure_at_elevation_pa(night.elevation_m);
        let mean_c = (night.inside_c + night.outside_c) / 2.0;
        let air = air_exchange_w_per_k(envelope.volume_m3, envelope.air_changes_per_h, mean_c, pressure_pa);
        let per_m = if envelope.edge_insulated { EDGE_INSULATED_W_PER_M_K } else { EDGE_BARE_W_PER_M_K };
        let edge = per_m * envelope.outer_edge_m;
        for (path, size, ua_w_per_k) in
            [(LossPath::Air, envelope.volume_m3, air), (LossPath::Edge, envelope.outer_edge_m, edge)]
        {
            paths.push(Loss { path, size, ua_w_per_k, heat_w: ua_w_per_k * to_outside_k });
        }
        Ok(Self {
            to_outdoors_w_per_k: paths.iter().map(|p| p.ua_w_per_k).sum(),
            heat_w: paths.iter().map(|p| p.heat_w).sum(),
            paths,
        })
    }

    /// Heater output for this loss with [`SIZING_MARGIN`].
    pub fn heater_size(&self) -> HeaterSize {
        let loss_w = self.heat_w.max(0.0);
        let output_w = loss_w * SIZING_MARGIN;
        HeaterSize { loss_w, output_w, output_btu_per_h: output_w / BTU_PER_H_W }
    }

    /// Fuel in the fuel's counted units per hour of this loss.
    pub fn fuel_per_h(&self, fuel: Fuel, efficiency: f64) -> f64 {
        fuel.units_for(self.heat_w.max(0.0) / 1000.0, efficiency)
    }
}

/// Heat over a season in kWh from degree days: `24 H D / 1000`.
///
/// * `w_per_k` — loss coefficient
/// * `degree_days_k_d` — kelvin days below the temperature held
///
/// Reference: Penn State EGEE 102, heating degree days.
pub fn seasonal_kwh(w_per_k: f64, degree_days_k_d: f64) -> f64 {
    24.0 * w_per_k * degree_days_k_d / 1000.0
}

/// The loss with one set of covers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CoveredLoss {
    /// Keys of the covers that are on.
    pub covers: Vec<String>,
    /// The loss.
    pub loss: HeatLoss,
    /// The heater it calls for.
    pub heater: HeaterSize,
}

/// The loss bare, with each cover alone, and with all of them.
///
/// # Errors
/// A field of the build, the covers or the night that cannot be used.
pub fn compare_covers(
    shelter: &Shelter,
    build: &ShelterBuild,
    materials: &Materials,
    covers: &[CoverOn],
    night: &DesignNight,
) -> Result<Vec<CoveredLoss>, FieldError> {
    let mut sets: Vec<&[CoverOn]> = vec![&[]];
    sets.extend(covers.chunks(1));
    if covers.len() > 1 {
        sets.push(covers);
    }
    sets.into_iter()
        .map(|set| {
            let loss = HeatLoss::of(&Envelope::of(shelter, build, materials, set)?, night)?;
            let heater = loss.heater_size();
            Ok(CoveredLoss { covers: set.iter().map(|c| c.key.clone()).collect(), loss, heater })
        })
        .collect()
}
