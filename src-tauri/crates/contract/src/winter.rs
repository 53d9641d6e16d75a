//! The winter's bill: nights heated, energy, cost and risk of a shelter over the years of the climate, for several
//! set-ups side by side. A run works in the background; the host asks how far it is.

use hibernacle_engine::season::{Caution, Reason};
use hibernacle_engine::shelter::fuel::Fuel;
use hibernacle_engine::shelter::winter::{Spread, WinterBill};
use hibernacle_engine::shelter::{CoverOn, Shelter};
use hibernacle_engine::site::Site;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::shelter::LossTotal;

/// Asks for a run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WinterRequest {
    /// The shelter.
    pub shelter_id: String,
    /// Set-ups to compare, the first being what the others are compared with; empty for the usual ones: bare, each
    /// cover that is usual on its kind, and what is recorded.
    pub set_ups: Vec<SetUp>,
    /// Hourly weather of one winter; absent for the daily record of the site's climate.
    pub weather: Option<WeatherFile>,
    /// Most winters to run, the latest first; absent for all of the climate, at most 60.
    pub winters: Option<u32>,
    /// Draws of how the site differs from its station, 1 to 200; absent for 20.
    pub draws: Option<u32>,
}

/// A way to keep the shelter through the winter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SetUp {
    /// What to call it.
    pub name: String,
    /// Covers with their dates; empty for bare.
    pub covers: Vec<CoverOn>,
    /// The heater; absent for none.
    pub heater: Option<SetUpHeater>,
}

/// The heater of a set-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SetUpHeater {
    /// Key in the table of heaters.
    pub key: String,
    /// Heat output in W.
    pub rating_w: f64,
    /// Thermostat setting in °C; absent for what the plants need.
    pub set_c: Option<f64>,
}

/// Hourly weather from a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WeatherFile {
    /// Its name.
    pub file_name: String,
    /// Its text.
    pub text: String,
}

/// Names a run.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct WinterRun {
    /// Identifier of the run; it is forgotten when the program ends.
    pub run_id: String,
}

/// How far a run is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WinterProgress {
    /// The run.
    pub run_id: String,
    /// Winters simulated.
    pub done: u32,
    /// Winters to simulate.
    pub total: u32,
    /// Whether it still works.
    pub state: RunState,
    /// Why it failed.
    pub problem: Option<String>,
    /// The result, once it is done.
    pub result: Option<WinterView>,
}

/// State of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum RunState {
    /// At work.
    Running,
    /// Finished.
    Done,
    /// Stopped on request.
    Cancelled,
    /// Stopped by a problem.
    Failed,
}

/// The bills of all set-ups.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WinterView {
    /// The site.
    pub site: Site,
    /// The shelter.
    pub shelter: Shelter,
    /// First year of the first and of the last winter.
    pub first_year: i32,
    /// See [`WinterView::first_year`].
    pub last_year: i32,
    /// Winters of weather.
    pub winters: u32,
    /// Draws for every winter.
    pub draws: u32,
    /// Names of the zones in the order of the bills.
    pub zones: Vec<WinterZone>,
    /// A bill for every set-up in the order asked for.
    pub bills: Vec<SetUpBill>,
    /// What the figures rest on and what was taken for what nobody said.
    pub reasons: Vec<Reason>,
    /// Cautions.
    pub cautions: Vec<Caution>,
}

/// A zone in the bills.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WinterZone {
    /// Its identifier.
    pub zone_id: String,
    /// Its name.
    pub name: String,
    /// Its limit in °C; absent where nothing stands in it.
    pub limit_c: Option<f64>,
}

/// The winter's bill of a set-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SetUpBill {
    /// The set-up.
    pub set_up: SetUp,
    /// Thermostat setting in °C as read at its sensor; absent without a heater or anything to heat for.
    pub set_c: Option<f64>,
    /// Its loss in a design night, held at the setting; absent where no design low is known.
    pub design: Option<LossTotal>,
    /// Nights, heat, minima and risk over all winters.
    pub bill: WinterBill,
    /// What its heater burns; absent where it heats nothing.
    pub fuel: Option<Fuel>,
    /// Fuel in counted units (kWh, L, m³, L) per winter; absent without a heater.
    pub fuel_units: Option<Spread>,
    /// Money per winter; absent where no price is known.
    pub cost: Option<Spread>,
    /// Mean heat in kWh that it saves against the first set-up; negative for more.
    pub saves_kwh: f64,
    /// Mean money that it saves against the first.
    pub saves_cost: Option<f64>,
    /// What it does for the risk, and against the first, in words.
    pub reasons: Vec<Reason>,
    /// Why it could not be run; the bill is empty then.
    pub problem: Option<String>,
}
