//! What a grower should be told about days chosen by hand, and about a season begun late.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use super::draft::{Draft, Drafts};
use super::{ChoreState, DayWindow, Figure, Plan, PlanProblem, PlannedChore, Reason, Season};

/// What is to be said against moving a chore to a day: past its killing date, past its latest date or before its
/// earliest. The move stands all the same.
pub fn move_warning(chore: &PlannedChore, to: NaiveDate) -> Option<Reason> {
    warning(chore.window, chore.killing, to)
}

/// What is to be said about a chore that was done while something that must come first is open. The tick stands all
/// the same: the grower knows what was done.
pub fn done_warning(chore: &PlannedChore, plan: &Plan) -> Option<Reason> {
    if !matches!(chore.state, ChoreState::Done { .. }) {
        return None;
    }
    let is_skipped_over =
        |other: &&PlannedChore| other.state == ChoreState::Open && chore.after.contains(&other.key);
    let first = plan.chores.iter().find(is_skipped_over)?;
    Some(Reason::new("problem-done-before").with("chore", Figure::Text(first.title.clone())))
}

fn warning(window: DayWindow, killing: bool, to: NaiveDate) -> Option<Reason> {
    let with_date = |message| Reason::new(message).with("date", Figure::Date(to));
    if to > window.latest {
        let message = if killing { "problem-moved-past-killing" } else { "problem-moved-past-latest" };
        Some(with_date(message).with("latest", Figure::Date(window.latest)))
    } else if to < window.earliest {
        Some(with_date("problem-moved-too-early").with("earliest", Figure::Date(window.earliest)))
    } else {
        None
    }
}

/// Open chores whose day was chosen by hand past a killing date or before what must come first.
pub(super) fn moved_problems(drafts: &Drafts<'_>) -> Vec<PlanProblem> {
    let mut problems = Vec::new();
    for draft in drafts.all.iter().filter(|draft| draft.is_open() && !draft.left_out) {
        let Some(to) = draft.moved else { continue };
        let about = |reason| PlanProblem { about: draft.title.clone(), reason };
        if draft.killing {
            problems.extend(warning(draft.window, true, to).filter(|_| to > draft.window.latest).map(about));
        }
        let before = draft.after.iter().map(|&other| &drafts.all[other]);
        let later = before.filter(|before| before.is_open() && before.finished_on > to);
        problems.extend(later.max_by_key(|before| before.due_on).map(|before| about(moved_before(before))));
    }
    problems
}

fn moved_before(before: &Draft<'_>) -> Reason {
    Reason::new("problem-moved-before")
        .with("chore", Figure::Text(before.title.clone()))
        .with("date", Figure::Date(before.due_on))
}

/// One note about the season for all chores that were over before the grower began. Rounds that come again are
/// counted only where none of them is left.
pub(super) fn began_late(
    drafts: &Drafts<'_>,
    season: &Season,
    began_on: Option<NaiveDate>,
) -> Option<PlanProblem> {
    let began = began_on?;
    let kept: BTreeSet<_> =
        drafts.all.iter().filter(|draft| !draft.left_out).map(|draft| (draft.rank, draft.at)).collect();
    let gone: BTreeSet<_> = drafts
        .all
        .iter()
        .filter(|draft| draft.left_out)
        .map(|draft| (draft.rank, draft.at))
        .filter(|chore| !kept.contains(chore))
        .collect();
    let count = u32::try_from(gone.len()).unwrap_or(u32::MAX);
    (count > 0).then(|| PlanProblem {
        about: season.name.clone(),
        reason: Reason::new("problem-began-late")
            .with("count", Figure::Count(count))
            .with("began", Figure::Date(began)),
    })
}
