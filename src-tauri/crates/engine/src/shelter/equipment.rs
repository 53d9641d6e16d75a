//! What stands in a shelter besides plants: heaters, sensors, and where on the floor.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::circuit::{Circuit, Load, check_circuit};
use super::fuel::Fuel;
use super::{Materials, Shelter};
use crate::field::{FieldError, filled, within};

/// A point on the floor plan of a shelter. Looking along the length, the origin is the near corner on the left.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Spot {
    /// Metres along the length from the near end.
    pub x_m: f64,
    /// Metres across from the left side.
    pub y_m: f64,
}

/// A rectangle on the floor plan, its sides along length and width.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Outline {
    /// Metres along the length from the near end to its near side.
    pub x_m: f64,
    /// Metres across from the left side of the shelter to its left side.
    pub y_m: f64,
    /// Extent along the length in metres.
    pub length_m: f64,
    /// Extent across in metres.
    pub width_m: f64,
}

impl Outline {
    /// Checks that the rectangle lies on the floor of a shelter.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self, shelter: &Shelter) -> Result<(), FieldError> {
        const SLACK_M: f64 = 1e-6;
        within("outline.x_m", self.x_m, 0.0, shelter.length_m, "draw the zone inside the shelter")?;
        within("outline.y_m", self.y_m, 0.0, shelter.width_m, "draw the zone inside the shelter")?;
        let (along_m, across_m) = (shelter.length_m - self.x_m, shelter.width_m - self.y_m);
        within(
            "outline.length_m",
            self.length_m,
            0.05,
            along_m + SLACK_M,
            "draw the zone inside the shelter",
        )?;
        within("outline.width_m", self.width_m, 0.05, across_m + SLACK_M, "draw the zone inside the shelter")
    }
}

impl Spot {
    fn check(&self, shelter: &Shelter) -> Result<(), FieldError> {
        within("spot.x_m", self.x_m, 0.0, shelter.length_m, "place it inside the shelter")?;
        within("spot.y_m", self.y_m, 0.0, shelter.width_m, "place it inside the shelter")
    }
}

/// A heater that stands in a shelter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Heater {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The shelter.
    pub shelter_id: String,
    /// The grower's name for it.
    pub name: String,
    /// Key in the table of heaters.
    pub key: String,
    /// Heat output in W.
    pub rating_w: f64,
    /// Temperature in °C at which its thermostat turns it on; absent where the night call may choose it.
    pub set_c: Option<f64>,
    /// Kelvin between on and off.
    pub band_k: f64,
    /// Zone in which it stands; absent for the first.
    pub zone_id: Option<String>,
    /// Zone in which the thermostat's sensor hangs; absent for the heater's own.
    pub sensor_zone_id: Option<String>,
    /// Whether it can be moved, as against fixed and wired or piped in.
    pub is_portable: bool,
    /// Whether a non-combustible shield keeps its heat off what stands behind and beside it.
    pub has_shield: bool,
    /// Where it stands on the plan; absent before it is placed.
    pub spot: Option<Spot>,
    /// Direction in which it blows or radiates, in degrees clockwise on the plan from along the length; absent for one
    /// that heats all round.
    pub faces_deg: Option<f64>,
    /// What an electric one hangs on; absent before it was asked.
    pub circuit: Option<Circuit>,
}

impl Heater {
    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self, shelter: &Shelter, materials: &Materials) -> Result<(), FieldError> {
        filled("shelter_id", &self.shelter_id, "choose the shelter in which it stands")?;
        filled("name", &self.name, "give the heater a name")?;
        let Some(kind) = materials.heaters.get(&self.key) else {
            let problem = format!("“{}” is not in the catalogue", self.key);
            return Err(FieldError::new("key", problem, "choose one of the listed heaters"));
        };
        within("rating_w", self.rating_w, 1.0, 100_000.0, "enter the heat output in watts")?;
        if let Some(set_c) = self.set_c {
            within("set_c", set_c, -15.0, 30.0, "enter the thermostat's setting")?;
        }
        within("band_k", self.band_k, 0.0, 10.0, "enter the kelvin between on and off")?;
        if let Some(faces_deg) = self.faces_deg {
            within("faces_deg", faces_deg, 0.0, 360.0, "enter degrees clockwise from along the length")?;
        }
        if let Some(spot) = self.spot {
            spot.check(shelter)?;
        }
        let Some(circuit) = &self.circuit else { return Ok(()) };
        if kind.fuel != Fuel::Electricity {
            let mend = "leave the circuit out, or choose an electric heater";
            return Err(FieldError::new("circuit", "belongs to an electric heater", mend));
        }
        check_circuit(&self.load(None), circuit).map(|_| ())
    }

    /// The heater as a load on its circuit.
    ///
    /// * `clearance_m` — free distance to anything that can burn, when known
    pub fn load(&self, clearance_m: Option<f64>) -> Load {
        Load { power_w: self.rating_w, is_heater: true, is_portable: self.is_portable, clearance_m }
    }
}

/// A thermometer that logs or transmits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Sensor {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The site.
    pub site_id: String,
    /// The grower's name for it.
    pub name: String,
    /// Zone in which it hangs; absent for outdoors.
    pub zone_id: Option<String>,
    /// Where it hangs on the plan of its shelter; absent before it is placed.
    pub spot: Option<Spot>,
    /// Height above the floor in metres; absent where it was not measured.
    pub height_m: Option<f64>,
}

impl Sensor {
    /// Checks every field.
    ///
    /// * `shelter` — the shelter of its zone; absent for a sensor outdoors
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self, shelter: Option<&Shelter>) -> Result<(), FieldError> {
        filled("site_id", &self.site_id, "save the site first")?;
        filled("name", &self.name, "give the sensor a name")?;
        if let Some(height_m) = self.height_m {
            let top_m = shelter.map_or(20.0, |shelter| shelter.height_m);
            within("height_m", height_m, 0.0, top_m, "measure from the floor, at most to the top")?;
        }
        match (self.spot, shelter) {
            (Some(spot), Some(shelter)) => spot.check(shelter),
            (Some(_), None) => {
                Err(FieldError::new("spot", "is set for a sensor outdoors", "choose a zone, or leave it out"))
            }
            (None, _) => Ok(()),
        }
    }
}

/// What a fuel costs at a site.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct EnergyPrice {
    /// The fuel.
    pub fuel: Fuel,
    /// Money for a counted unit of it (kWh, L of propane, m³ of gas, L of kerosene) in the site's currency.
    pub per_unit: f64,
}

impl EnergyPrice {
    /// Checks the price.
    ///
    /// # Errors
    /// Where it is negative or out of all reason.
    pub fn check(&self) -> Result<(), FieldError> {
        within("per_unit", self.per_unit, 0.0, 1_000_000.0, "enter what a unit of the fuel costs")
    }

    /// Money for a kWh of heat that reaches the air.
    ///
    /// * `efficiency` — share of the heating value that does, above 0
    pub fn per_kwh_heat(&self, efficiency: f64) -> f64 {
        self.per_unit * self.fuel.units_for(1.0, efficiency)
    }
}
