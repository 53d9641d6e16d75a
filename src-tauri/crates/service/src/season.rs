//! The season plan and the close-up checklist.

use chrono::NaiveDate;
use hibernacle_contract::Failure;
use hibernacle_contract::season::{CloseUp, SeasonRequest, SeasonView, ZoneChecklist};
use hibernacle_engine::season::{ChoreState, Phase, PlannedChore, TargetKind};
use hibernacle_engine::shelter::Zone;

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
        plan: planned.plan.clone(),
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
pub(crate) fn checklists(planned: &Planned) -> Vec<ZoneChecklist> {
    let mut lists = Vec::new();
    for shelter in &planned.shelters {
        for zone in planned.zones.iter().filter(|zone| zone.shelter_id == shelter.id) {
            let steps: Vec<PlannedChore> =
                planned.plan.chores.iter().filter(|chore| is_step_of(chore, zone)).cloned().collect();
            if steps.is_empty() {
                continue;
            }
            let open_required = steps.iter().filter(|step| is_open_and_required(step)).count();
            lists.push(ZoneChecklist {
                shelter: shelter.clone(),
                zone: zone.clone(),
                closed_up_on: closed_up_on(&steps),
                open_required: u32::try_from(open_required).unwrap_or(u32::MAX),
                steps,
            });
        }
    }
    lists
}

/// Whether a chore closes up a zone: steps for the zone, for plantings in it, and for its shelter as a whole.
fn is_step_of(chore: &PlannedChore, zone: &Zone) -> bool {
    let target = &chore.target;
    chore.phase == Phase::CloseUp
        && match target.kind {
            TargetKind::Site => false,
            TargetKind::Shelter => target.id == zone.shelter_id,
            TargetKind::Zone => target.id == zone.id,
            TargetKind::Planting => target.zone_id.as_deref() == Some(&zone.id),
        }
}

fn is_open_and_required(step: &PlannedChore) -> bool {
    step.required && step.state == ChoreState::Open
}

/// The day of the last required step that was done; absent while one is open and where none was done.
fn closed_up_on(steps: &[PlannedChore]) -> Option<NaiveDate> {
    if steps.iter().any(is_open_and_required) {
        return None;
    }
    let done = steps.iter().filter(|step| step.required).filter_map(|step| match step.state {
        ChoreState::Done { on } => Some(on),
        ChoreState::Open | ChoreState::Skipped { .. } => None,
    });
    done.max()
}
