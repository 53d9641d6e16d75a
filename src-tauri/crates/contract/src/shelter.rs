//! The heat a shelter loses in a design night, and the heater it calls for.

use hibernacle_engine::season::{Caution, Reason};
use hibernacle_engine::shelter::Shelter;
use hibernacle_engine::shelter::circuit::{Circuit, CircuitCheck};
use hibernacle_engine::shelter::steady::LossPath;
use hibernacle_engine::site::Site;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks for the heat loss of a shelter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HeatLossRequest {
    /// The shelter.
    pub shelter_id: String,
    /// Outdoor low in °C; absent for the low that the site's climate undercuts once in ten years.
    pub design_low_c: Option<f64>,
    /// Temperature to hold inside in °C; absent for what its plants need.
    pub inside_c: Option<f64>,
    /// Rating of the electric heater in W, as on its plate; absent where it is not known.
    pub heater_w: Option<f64>,
    /// What that heater hangs on; absent for the usual outlet circuit.
    pub circuit: Option<Circuit>,
}

/// The heat loss of a shelter in a design night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HeatLossView {
    /// The site.
    pub site: Site,
    /// The shelter.
    pub shelter: Shelter,
    /// Temperature held inside in °C.
    pub inside_c: f64,
    /// Outdoor low in °C.
    pub outside_c: f64,
    /// Loss path by path.
    pub paths: Vec<PathLoss>,
    /// Without a cover.
    pub bare: LossTotal,
    /// Under its usual winter cover; absent where none goes on it.
    pub covered: Option<LossTotal>,
    /// The heater on its circuit; absent where no rating was given.
    pub circuit: Option<CircuitCheck>,
    /// That check in words, the most serious first.
    pub circuit_findings: Vec<Reason>,
    /// What the figures rest on and mean.
    pub reasons: Vec<Reason>,
    /// Cautions.
    pub cautions: Vec<Caution>,
}

/// The loss along one path, bare and covered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PathLoss {
    /// The path.
    pub path: LossPath,
    /// Area in m² (envelope), volume in m³ (air) or length in m (edge).
    pub size: f64,
    /// Bare coefficient to outdoors in W/K.
    pub bare_w_per_k: f64,
    /// Bare loss in W; negative is gained from a heated neighbour or warm earth.
    pub bare_w: f64,
    /// The coefficient under the cover.
    pub covered_w_per_k: Option<f64>,
    /// The loss under the cover.
    pub covered_w: Option<f64>,
}

/// The loss of a shelter and the heater it calls for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct LossTotal {
    /// Coefficient to outdoors in W/K.
    pub to_outdoors_w_per_k: f64,
    /// Loss in W; negative where the neighbours give more than is lost.
    pub loss_w: f64,
    /// Heater output to choose in W: the loss with a margin.
    pub heater_w: f64,
}
