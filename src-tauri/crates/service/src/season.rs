//! The season plan and the close-up checklist.

use std::sync::Arc;

use hibernacle_contract::Failure;
use hibernacle_contract::season::{CloseUp, SeasonRequest, SeasonView, ZoneChecklist};
use hibernacle_engine::season::checklist;

use crate::planned::{self, Planned};
use crate::{Context, lookup};

/// The plan of a season, today's one unless a start year is given.
///
/// # Errors
/// Where the site does not exist or has no climate yet.
pub fn season_plan(context: &Context, request: SeasonRequest) -> Result<SeasonView, Failure> {
    let planned = planned::of_season(context, &request.site_id, request.start_year)?;
    Ok(SeasonView {
        today: lookup::today_at(context, &planned.site)?,
        site: planned.site.clone(),
        plan: Arc::clone(&planned.plan),
        basis: planned.basis.clone(),
    })
}

/// The close-up checklists of a season: one for each zone that has steps.
///
/// # Errors
/// Where the site does not exist or has no climate yet.
pub fn close_up(context: &Context, request: SeasonRequest) -> Result<CloseUp, Failure> {
    let planned = planned::of_season(context, &request.site_id, request.start_year)?;
    Ok(CloseUp {
        today: lookup::today_at(context, &planned.site)?,
        season: planned.plan.season.clone(),
        zones: checklists(&planned),
    })
}

/// The checklists of a plan, in the order of its shelters and zones.
fn checklists(planned: &Planned) -> Vec<ZoneChecklist> {
    let mut lists = Vec::new();
    for shelter in &planned.shelters {
        for zone in planned.zones.iter().filter(|zone| zone.shelter_id == shelter.id) {
            let list = checklist(&planned.plan, zone);
            if list.steps.is_empty() {
                continue;
            }
            lists.push(ZoneChecklist {
                shelter: shelter.clone(),
                zone: zone.clone(),
                steps: list.steps.into_iter().cloned().collect(),
                open_required: list.open_required,
                closed_up_on: list.closed_up_on,
            });
        }
    }
    lists
}
