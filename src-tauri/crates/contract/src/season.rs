//! The season plan and the close-up checklist.

use std::sync::Arc;

use chrono::NaiveDate;
use hibernacle_engine::climate::Basis;
use hibernacle_engine::season::{Plan, PlannedChore, Season};
use hibernacle_engine::shelter::{Shelter, Zone};
use hibernacle_engine::site::Site;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks about one season of a site.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct SeasonRequest {
    /// The site.
    pub site_id: String,
    /// Year in which the season starts; absent for the one that today falls in.
    pub start_year: Option<i32>,
}

/// A season's plan with what a screen needs to show it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SeasonView {
    /// The site.
    pub site: Site,
    /// The plan.
    pub plan: Arc<Plan>,
    /// What the climate rests on.
    pub basis: Basis,
    /// Today at the site.
    pub today: NaiveDate,
}

/// The close-up checklists of a season, one per zone.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CloseUp {
    /// Today at the site.
    pub today: NaiveDate,
    /// The season.
    pub season: Season,
    /// The checklists.
    pub zones: Vec<ZoneChecklist>,
}

/// The close-up checklist of one zone, in the order of the work.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneChecklist {
    /// The shelter.
    pub shelter: Shelter,
    /// The zone.
    pub zone: Zone,
    /// Steps for the zone and for its shelter as a whole.
    pub steps: Vec<PlannedChore>,
    /// Required steps that are open.
    pub open_required: u32,
    /// The day the last required step was done; absent while one is open.
    pub closed_up_on: Option<NaiveDate>,
}
