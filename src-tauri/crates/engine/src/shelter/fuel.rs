//! Fuels: heat content, amounts and cost.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Joules in a British thermal unit (international table).
pub const BTU_J: f64 = 1_055.055_852_62;
/// W/(m² K) in one BTU/(h ft² °F).
pub const U_IMPERIAL_W_PER_M2_K: f64 = 5.678_263;
/// Watts in one BTU/h.
pub const BTU_PER_H_W: f64 = BTU_J / 3600.0;
/// Litres in a US gallon.
const US_GALLON_L: f64 = 3.785_411_784;
/// Cubic metres in a cubic foot.
const CUBIC_FOOT_M3: f64 = 0.028_316_846_592;

/// What heats.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Fuel {
    /// Mains electricity, counted in kWh.
    Electricity,
    /// Propane, counted in litres of liquid.
    Propane,
    /// Natural gas, counted in m³.
    NaturalGas,
    /// Kerosene (paraffin), counted in litres.
    Kerosene,
}

impl Fuel {
    /// Higher heating value in kWh per counted unit (kWh, L, m³, L).
    ///
    /// Propane 91,333 BTU/US gal, natural gas 1,037 BTU/ft³, kerosene 135,000 BTU/US gal: US Federal Register
    /// 21 March 2007 and the energy-units table of the US Energy Information Administration. Kerosene lists range from
    /// 131,890 to 135,000.
    pub fn heat_kwh_per_unit(self) -> f64 {
        let kwh = |btu: f64| btu * BTU_J / 3.6e6;
        match self {
            Self::Electricity => 1.0,
            Self::Propane => kwh(91_333.0) / US_GALLON_L,
            Self::NaturalGas => kwh(1_037.0) / CUBIC_FOOT_M3,
            Self::Kerosene => kwh(135_000.0) / US_GALLON_L,
        }
    }

    /// Fuel in counted units for an amount of useful heat.
    ///
    /// * `heat_kwh` — heat that must reach the air
    /// * `efficiency` — share of the heating value that does, above 0
    pub fn units_for(self, heat_kwh: f64, efficiency: f64) -> f64 {
        heat_kwh / efficiency / self.heat_kwh_per_unit()
    }

    /// Air in m³ at 20 °C that burning takes per kWh of heat, without excess; 0 for electricity.
    ///
    /// Stoichiometry: propane 24 m³ of air per m³ of gas, methane 9.6, both about 0.9 m³ per kWh (value from memory).
    pub fn combustion_air_m3_per_kwh(self) -> f64 {
        match self {
            Self::Electricity => 0.0,
            Self::Propane | Self::NaturalGas | Self::Kerosene => 0.95,
        }
    }

    /// Whether it burns inside or beside the shelter.
    pub fn burns(self) -> bool {
        self != Self::Electricity
    }
}
