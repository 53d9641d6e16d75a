//! The close-up checklist of a zone.

use chrono::NaiveDate;

use super::{ChoreState, Phase, Plan, PlannedChore, TargetKind};
use crate::shelter::Zone;

/// The steps that close a zone up, in the order of the work.
#[derive(Debug, Clone, PartialEq)]
pub struct Checklist<'a> {
    /// Steps for the shelter as a whole, for the zone and for the plantings in it.
    pub steps: Vec<&'a PlannedChore>,
    /// Required steps that are open.
    pub open_required: u32,
    /// The day on which the last required step was done or left out; absent while one is open, and where no step
    /// is required.
    pub closed_up_on: Option<NaiveDate>,
}

/// The close-up checklist of a zone. Nothing of it is stored: it follows from the plan and what was done.
pub fn checklist<'a>(plan: &'a Plan, zone: &Zone) -> Checklist<'a> {
    let steps: Vec<&PlannedChore> =
        plan.chores.iter().filter(|chore| chore.phase == Phase::CloseUp && concerns(chore, zone)).collect();
    let required = || steps.iter().filter(|step| step.required);
    let open_required = required().filter(|step| step.state == ChoreState::Open).count() as u32;
    let settled_on = required().filter_map(|step| match step.state {
        ChoreState::Done { on } | ChoreState::Skipped { on, .. } => Some(on),
        ChoreState::Open => None,
    });
    let closed_up_on = settled_on.max().filter(|_| open_required == 0);
    Checklist { steps, open_required, closed_up_on }
}

fn concerns(chore: &PlannedChore, zone: &Zone) -> bool {
    match chore.target.kind {
        TargetKind::Site => false,
        TargetKind::Shelter => chore.target.id == zone.shelter_id,
        TargetKind::Zone => chore.target.id == zone.id,
        TargetKind::Planting => chore.target.zone_id.as_deref() == Some(zone.id.as_str()),
    }
}

#[cfg(test)]
#[path = "checklist_test.rs"]
mod tests;
