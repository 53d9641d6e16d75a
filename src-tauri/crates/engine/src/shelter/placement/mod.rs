//! The floor plan to scale: zones, where a heater blows and what must keep clear of it, and where the sensor belongs.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Outline, Spot};

/// A shelter seen from above.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct FloorPlan {
    /// Extent along the length in metres, drawn to the right.
    pub length_m: f64,
    /// Extent across in metres, drawn downwards.
    pub width_m: f64,
    /// Direction of north in degrees clockwise from along the length.
    pub north_deg: f64,
    /// Every zone.
    pub zones: Vec<ZoneOnPlan>,
    /// Every heater.
    pub heaters: Vec<HeaterOnPlan>,
    /// Likely the coldest spot at night: where a sensor belongs.
    pub coldest: Spot,
    /// What is wrong with the placement, the most serious first.
    pub findings: Vec<PlacementFinding>,
}

/// A zone on the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneOnPlan {
    /// Its identifier.
    pub zone_id: String,
    /// Where it lies.
    pub outline: Outline,
    /// Whether the grower drew it; otherwise it was laid out by its area.
    pub is_drawn: bool,
}

/// A heater on the plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HeaterOnPlan {
    /// Its identifier.
    pub heater_id: String,
    /// Where it stands.
    pub spot: Spot,
    /// Whether the grower placed it; otherwise it was put in the middle of its zone.
    pub is_placed: bool,
    /// Corners of the area in which its air or radiation dries plants out; empty where there is none.
    pub blast: Vec<Spot>,
    /// Distance from its middle to which its warmth is felt directly, in metres.
    pub reach_m: f64,
    /// Distance to keep from anything that can burn, in metres.
    pub clearance_m: f64,
}

/// Something wrong with the placement.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum PlacementFinding {
    /// Plantings stand where the heater's air dries them out.
    InBlast {
        /// The heater.
        heater_id: String,
        /// The zone.
        zone_id: String,
        /// Share of the zone that lies in the blast.
        share: f64,
        /// The plantings of the zone.
        planting_ids: Vec<String>,
    },
    /// Plantings, film or wood stand closer than they may.
    TooClose {
        /// The heater.
        heater_id: String,
        /// Distance from the heater to the nearest wall or side of the shelter in metres.
        wall_m: f64,
        /// Distance to keep in metres.
        needed_m: f64,
    },
    /// There is no shield of something that cannot burn.
    NoShield {
        /// The heater.
        heater_id: String,
    },
    /// The thermostat's sensor hangs in the blast or close to the heater, and turns it off too early.
    SensorInBlast {
        /// The heater.
        heater_id: String,
        /// The sensor.
        sensor_id: String,
    },
    /// No sensor hangs within a metre of the likely coldest spot.
    ColdestUnwatched {
        /// Distance from the nearest sensor of the shelter in metres; absent without one.
        nearest_m: Option<f64>,
    },
}
