//! Plants managed as one.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::Plant;
use crate::field::{FieldError, filled, within};

/// What the roots are in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum Container {
    /// A pot of a nominal volume in litres.
    Pot {
        /// Volume in litres.
        volume_l: f64,
    },
    /// Open ground.
    Ground,
    /// Lifted and stored without soil of its own: tubers, corms, bare roots.
    Lifted,
}

/// Plants managed as one: same species, container and winter place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Planting {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The site it belongs to.
    pub site_id: String,
    /// Key of its catalogue entry.
    pub plant_key: String,
    /// The grower's own label.
    pub label: String,
    /// How many plants.
    pub count: u32,
    /// What the roots are in during winter.
    pub container: Container,
    /// Zone in which it spends the winter; absent while undecided.
    pub zone_id: Option<String>,
    /// A limit in °C set by the grower, which overrides the catalogue.
    pub own_limit_c: Option<f64>,
    /// Floor area it takes up in square metres; absent when not measured.
    pub footprint_m2: Option<f64>,
}

impl Planting {
    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        filled("site_id", &self.site_id, "save the site first")?;
        filled("plant_key", &self.plant_key, "choose a plant from the catalogue")?;
        filled("label", &self.label, "give the planting a label")?;
        within("count", f64::from(self.count), 1.0, 100_000.0, "enter how many plants there are")?;
        if let Container::Pot { volume_l } = self.container {
            within("container.volume_l", volume_l, 0.01, 2000.0, "enter the pot's volume")?;
        }
        if let Some(limit) = self.own_limit_c {
            within("own_limit_c", limit, -40.0, 25.0, "enter a temperature in °C")?;
        }
        if let Some(area) = self.footprint_m2 {
            within("footprint_m2", area, 0.001, 1000.0, "enter the area the planting stands on")?;
        }
        Ok(())
    }

    /// The temperature in °C below which this planting is at risk in winter: the grower's own limit, else the
    /// warmer of dormant shoots and, in a pot or lifted, the roots.
    pub fn winter_limit_c(&self, plant: &Plant) -> f64 {
        self.own_limit_c.unwrap_or(match self.container {
            Container::Ground => plant.shoot_dormant.temp_c,
            Container::Pot { .. } => plant.shoot_dormant.temp_c.max(plant.root_in_pot.temp_c),
            Container::Lifted => plant.root_in_pot.temp_c,
        })
    }
}
