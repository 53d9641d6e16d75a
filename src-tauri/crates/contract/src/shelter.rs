//! A shelter in detail: how it is built, what stands in it, the heat it loses in a design night and the heater it
//! calls for.

use hibernacle_engine::plant::Planting;
use hibernacle_engine::season::{Caution, Reason};
use hibernacle_engine::shelter::circuit::{Circuit, CircuitCheck};
use hibernacle_engine::shelter::placement::FloorPlan;
use hibernacle_engine::shelter::steady::LossPath;
use hibernacle_engine::shelter::{
    Cover, EnergyPrice, Glazing, Heater, HeaterKind, Sensor, Shelter, ShelterBuild, Wall, Zone,
};
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

/// Names a shelter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ShelterRef {
    /// The shelter.
    pub shelter_id: String,
}

/// Everything that is recorded about a shelter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ShelterDetail {
    /// The site.
    pub site: Site,
    /// The shelter.
    pub shelter: Shelter,
    /// How it is built.
    pub build: ShelterBuild,
    /// Whether that is the usual build of its kind and size, because nothing was entered.
    pub is_usual_build: bool,
    /// Its zones.
    pub zones: Vec<Zone>,
    /// Plantings in these zones.
    pub plantings: Vec<Planting>,
    /// Its heaters.
    pub heaters: Vec<Heater>,
    /// Sensors in its zones.
    pub sensors: Vec<Sensor>,
    /// What fuels cost at the site.
    pub prices: Vec<EnergyPrice>,
    /// The plan to scale.
    pub floor_plan: FloorPlan,
    /// What is wrong with the placement, in words, in the order of the plan's findings.
    pub placement: Vec<Reason>,
    /// Every heater on its circuit or with its flame.
    pub heater_checks: Vec<HeaterCheck>,
    /// Cautions.
    pub cautions: Vec<Caution>,
}

/// A heater on its circuit or with its flame.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HeaterCheck {
    /// The heater.
    pub heater_id: String,
    /// Whether it must not be used like this.
    pub is_refused: bool,
    /// Figures of its circuit; absent for a flame and while the circuit was not entered.
    pub circuit: Option<CircuitCheck>,
    /// What was found, in words, the most serious first.
    pub findings: Vec<Reason>,
}

/// Asks for the tables of materials.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct MaterialsRequest {}

/// Glazing, walls, covers and heaters to choose from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct MaterialsList {
    /// Sheets that let light through.
    pub glazing: Vec<Glazing>,
    /// Walls, floors and doors.
    pub walls: Vec<Wall>,
    /// Winter covers.
    pub covers: Vec<Cover>,
    /// Kinds of heater.
    pub heaters: Vec<HeaterKind>,
}

/// What fuels cost at a site. A fuel that is left out has no price.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SitePrices {
    /// The site.
    pub site_id: String,
    /// The prices.
    pub prices: Vec<EnergyPrice>,
}
