//! Set-up: the site, its shelters, zones and plantings.

use hibernacle_engine::plant::Planting;
use hibernacle_engine::shelter::{Shelter, Zone};
use hibernacle_engine::site::Site;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::climate::ClimateSummary;

/// Names a site.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct SiteRef {
    /// The site; absent for the one used last.
    pub site_id: Option<String>,
}

/// Asks for everything that is set up at a site.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, TS)]
pub struct OverviewRequest {
    /// The site; absent for the one used last.
    pub site_id: Option<String>,
}

/// Everything that is set up at a site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Overview {
    /// The site; absent before the first is saved.
    pub site: Option<Site>,
    /// All sites, for choosing another.
    pub sites: Vec<SiteName>,
    /// Its climate; absent before one is imported or typed.
    pub climate: Option<ClimateSummary>,
    /// Its shelters.
    pub shelters: Vec<Shelter>,
    /// Zones of these shelters.
    pub zones: Vec<Zone>,
    /// Its plantings.
    pub plantings: Vec<Planting>,
    /// What to do next; absent when nothing is missing.
    pub next_step: Option<NextStep>,
}

/// A site to choose.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct SiteName {
    /// Identifier.
    pub id: String,
    /// Name.
    pub name: String,
}

/// The next thing a newcomer needs for a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum NextStep {
    /// Say where the plants are.
    Site,
    /// Import a climate file or type averages.
    Climate,
    /// Add a shelter (its first zone comes with it).
    Shelter,
    /// Add plants.
    Plants,
}

/// Something that can be removed and restored.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Item {
    /// Kind of thing.
    pub kind: ItemKind,
    /// Its identifier.
    pub id: String,
}

/// Kind of thing that can be removed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ItemKind {
    /// A site with all that is on it.
    Site,
    /// A shelter with its zones, heaters and sensors; plantings in them stay, without a winter place.
    Shelter,
    /// A zone with its sensors; plantings in it stay, without a winter place.
    Zone,
    /// A planting.
    Planting,
    /// A heater.
    Heater,
    /// A sensor.
    Sensor,
}

/// A removal that can be undone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Removed {
    /// What was removed.
    pub item: Item,
    /// Its name, for the message that offers to restore it.
    pub name: String,
    /// Everything that went with it or lost its place, so that restoring brings all of it back.
    pub removal_id: String,
}

/// Asks for the invented season of Larch Bank.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize, TS)]
pub struct DemoRequest {}
