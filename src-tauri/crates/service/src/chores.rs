//! Ticking, skipping and moving chores. Nothing is overwritten: each act is an entry of the chore's history.

use std::sync::Arc;

use chrono::{NaiveDate, TimeDelta};
use hibernacle_contract::chores::{
    ChoreChanged, ChoreDone, ChoreHistory, ChoreMove, ChoreRef, ChoreSkip, HistoryEntry,
};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::season::{
    ChoreState, Mark, MarkKind, PlannedChore, checklist, done_warning, move_warning,
};
use hibernacle_store::StoredMark;

use crate::planned::{self, Planned};
use crate::problem::Problem;
use crate::{Context, lookup};

/// Ticks a chore. Ticking it again changes nothing, unless another day is given.
///
/// # Errors
/// Where the chore does not exist, or the day is in the future or before the season.
pub fn chore_done(context: &Context, request: ChoreDone) -> Result<ChoreChanged, Failure> {
    let before = plan_of(context, &request.chore)?;
    let today = lookup::today_at(context, &before.site)?;
    let on = match (request.on, &before.chore(&request.chore.chore_key)?.state) {
        (Some(on), _) => on,
        (None, ChoreState::Done { on }) => *on,
        (None, ChoreState::Open | ChoreState::Skipped { .. }) => today,
    };
    if on > today {
        return Err(
            Problem::field("on", format!("{on} is in the future"), "tick the chore on the day").into()
        );
    }
    refuse_before_season("on", on, &before)?;
    mark(context, &request.chore, &before, MarkKind::Done { on })
}

/// Leaves a chore out on purpose.
///
/// # Errors
/// Where the chore does not exist or the reason is missing.
pub fn chore_skip(context: &Context, request: ChoreSkip) -> Result<ChoreChanged, Failure> {
    let reason = request.reason.trim().to_owned();
    if reason.is_empty() {
        return Err(Problem::field("reason", "is empty", "say in a few words why it is left out").into());
    }
    let before = plan_of(context, &request.chore)?;
    let on = match &before.chore(&request.chore.chore_key)?.state {
        ChoreState::Skipped { on, reason: given } if *given == reason => *on,
        _ => lookup::today_at(context, &before.site)?,
    };
    mark(context, &request.chore, &before, MarkKind::Skipped { on, reason })
}

/// Gives a chore another day; past its killing date only with a warning.
///
/// # Errors
/// Where the chore does not exist or is settled, or the day is past or outside the season.
pub fn chore_move(context: &Context, request: ChoreMove) -> Result<ChoreChanged, Failure> {
    let before = plan_of(context, &request.chore)?;
    let chore = before.chore(&request.chore.chore_key)?;
    if chore.state != ChoreState::Open {
        let message = format!("“{}” is settled; undo that before giving it another day", chore.title);
        return Err(Failure::new(ErrorCode::Conflict, message));
    }
    let to = request.to;
    if to < lookup::today_at(context, &before.site)? {
        return Err(Problem::field("to", format!("{to} is past"), "choose today or a later day").into());
    }
    refuse_before_season("to", to, &before)?;
    let season = &before.plan.season;
    if to > season.ends_on {
        return Err(Problem::field(
            "to",
            format!("{to} is after the season {} ends on {}", season.name, season.ends_on),
            "choose an earlier day",
        )
        .into());
    }
    mark(context, &request.chore, &before, MarkKind::Moved { to })
}

/// Takes the newest act on a chore back.
///
/// # Errors
/// Where the chore does not exist or nothing is left to undo.
pub fn chore_undo(context: &Context, chore: ChoreRef) -> Result<ChoreChanged, Failure> {
    let before = plan_of(context, &chore)?;
    before.chore(&chore.chore_key)?;
    context.write(|data| {
        let history = data.chore_history(&chore.site_id, chore.start_year, &chore.chore_key)?;
        let newest = history.iter().rev().find(|entry| entry.undone_at_utc.is_none());
        let newest = newest
            .ok_or_else(|| Problem::new(ErrorCode::Conflict, "nothing is left to undo for this chore"))?;
        Ok(data.undo_mark(newest.number, context.now_utc())?)
    })?;
    changed(context, &chore, &before)
}

/// Everything that was done with a chore, undone entries too.
///
/// # Errors
/// Where the site does not exist.
pub fn chore_history(context: &Context, chore: ChoreRef) -> Result<ChoreHistory, Failure> {
    context.read(|data| {
        lookup::site(data, &chore.site_id)?;
        let history = data.chore_history(&chore.site_id, chore.start_year, &chore.chore_key)?;
        let entries = history.into_iter().map(|entry| HistoryEntry {
            at_utc: entry.mark.at_utc,
            kind: entry.mark.kind,
            undone_at_utc: entry.undone_at_utc,
        });
        Ok(ChoreHistory { entries: entries.collect() })
    })
}

fn plan_of(context: &Context, chore: &ChoreRef) -> Result<Arc<Planned>, Failure> {
    planned::of_season(context, &chore.site_id, Some(chore.start_year))
}

fn refuse_before_season(field: &str, day: NaiveDate, planned: &Planned) -> Result<(), Problem> {
    let season = &planned.plan.season;
    if day >= season.starts_on {
        return Ok(());
    }
    Err(Problem::field(
        field,
        format!("{day} is before the season {} starts on {}", season.name, season.starts_on),
        "choose a later day",
    ))
}

/// Adds an entry unless the chore stands that way already.
fn mark(
    context: &Context,
    chore: &ChoreRef,
    before: &Planned,
    kind: MarkKind,
) -> Result<ChoreChanged, Failure> {
    context.write(|data| {
        let history = data.chore_history(&chore.site_id, chore.start_year, &chore.chore_key)?;
        if stands(&history, &kind) {
            return Ok(());
        }
        // The newest entry counts, so a clock that was set back must not make it older than the one before.
        let last = history.iter().map(|entry| entry.mark.at_utc + TimeDelta::milliseconds(1)).max();
        let at_utc = last.map_or(context.now_utc(), |last| last.max(context.now_utc()));
        let mark = Mark { chore_key: chore.chore_key.clone(), kind, at_utc };
        Ok(data.add_mark(&chore.site_id, chore.start_year, &mark)?)
    })?;
    changed(context, chore, before)
}

/// Whether the newest entry that the new one would take the place of says the same: a day chosen by hand takes
/// the place of another such day, a tick or skip that of a tick or skip.
fn stands(history: &[StoredMark], kind: &MarkKind) -> bool {
    let is_move = |kind: &MarkKind| matches!(kind, MarkKind::Moved { .. });
    let standing = history.iter().filter(|entry| entry.undone_at_utc.is_none());
    standing.map(|entry| &entry.mark.kind).rfind(|entry| is_move(entry) == is_move(kind)) == Some(kind)
}

/// The chore as it stands now, with what the grower should know about the change.
fn changed(context: &Context, chore: &ChoreRef, before: &Planned) -> Result<ChoreChanged, Failure> {
    let after = plan_of(context, chore)?;
    let chore = match after.chore(&chore.chore_key) {
        Ok(chore) => chore.clone(),
        // A settled chore whose rule or target is gone leaves the plan when that is undone.
        Err(_) => PlannedChore { state: ChoreState::Open, ..before.chore(&chore.chore_key)?.clone() },
    };
    let warning = match chore.state {
        ChoreState::Open if chore.moved => move_warning(&chore, chore.due_on),
        _ => done_warning(&chore, &after.plan),
    };
    Ok(ChoreChanged { warning, closed_up: closed_up(before, &after), chore })
}

/// Names of the zones that are closed up now and were not before.
fn closed_up(before: &Planned, after: &Planned) -> Vec<String> {
    let is_closed = |planned: &Planned, zone| checklist(&planned.plan, zone).closed_up_on.is_some();
    let zones = after.zones.iter().filter(|zone| is_closed(after, zone) && !is_closed(before, zone));
    zones.map(|zone| after.zone_name(zone)).collect()
}
