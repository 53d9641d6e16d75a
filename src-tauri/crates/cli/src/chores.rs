//! `hibernacle chore`: ticking, skipping and moving.

use hibernacle_contract::Failure;
use hibernacle_contract::chores::{ChoreChanged, ChoreDone, ChoreHistory, ChoreMove, ChoreRef, ChoreSkip};
use hibernacle_contract::records::{ChoreState, MarkKind, Site};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_service::chores::{chore_done, chore_history, chore_move, chore_skip, chore_undo};

use crate::args::{ChoreArgs, ChoreCommand};
use crate::layout::{Table, marked, paragraph};
use crate::names;
use crate::season;
use crate::session::Session;

pub(crate) fn chore(session: &Session, asked: &ChoreCommand) -> Result<(), Failure> {
    let site = session.site()?;
    let context = &session.context;
    let changed = match asked {
        ChoreCommand::Done { chore, on } => {
            chore_done(context, ChoreDone { chore: find(session, &site, chore)?, on: *on })?
        }
        ChoreCommand::Skip { chore, reason } => {
            chore_skip(context, ChoreSkip { chore: find(session, &site, chore)?, reason: reason.clone() })?
        }
        ChoreCommand::Move { chore, to } => {
            chore_move(context, ChoreMove { chore: find(session, &site, chore)?, to: *to })?
        }
        ChoreCommand::Undo { chore } => chore_undo(context, find(session, &site, chore)?)?,
        ChoreCommand::History { chore } => {
            let history = chore_history(context, find(session, &site, chore)?)?;
            return session.answer(&history, || history_text(&history, &site, &session.wording(&site)));
        }
    };
    session.answer(&changed, || changed_text(&changed, &session.wording(&site)))
}

fn find(session: &Session, site: &Site, asked: &ChoreArgs) -> Result<ChoreRef, Failure> {
    let plan = season::plan(session, site, asked.year)?.plan;
    let chore = names::find(&plan.chores, &asked.key, &session.wording(site))?;
    Ok(ChoreRef {
        site_id: site.id.clone(),
        start_year: plan.season.start_year,
        chore_key: chore.key.clone(),
    })
}

fn changed_text(changed: &ChoreChanged, wording: &Wording) -> String {
    let chore = &changed.chore;
    let mut figures = FluentArgs::new();
    figures.set("title", chore.title.as_str());
    figures.set("date", wording.date(chore.due_on));
    figures.set("state", wording.state(&chore.state));
    let key = if chore.state == ChoreState::Open { "cli-chore-open" } else { "cli-chore-settled" };
    let mut text = paragraph(&wording.message(key, &figures), "");
    if let Some(warning) = &changed.warning {
        text += &marked(&wording.reason(warning), "! ", "  ");
    }
    for zone in &changed.closed_up {
        figures.set("zone", zone.as_str());
        text += &paragraph(&wording.message("cli-closed-up", &figures), "");
    }
    text
}

fn history_text(history: &ChoreHistory, site: &Site, wording: &Wording) -> String {
    if history.entries.is_empty() {
        return paragraph(&wording.text("cli-history-none"), "");
    }
    let local = |at: chrono::DateTime<chrono::Utc>| match site.tz() {
        Ok(zone) => at.with_timezone(&zone).format("%Y-%m-%d %H:%M").to_string(),
        Err(_) => at.format("%Y-%m-%d %H:%MZ").to_string(),
    };
    let mut table = Table::default();
    for entry in &history.entries {
        let mut figures = FluentArgs::new();
        let key = match &entry.kind {
            MarkKind::Done { on } => {
                figures.set("date", wording.date(*on));
                "state-done"
            }
            MarkKind::Skipped { on, reason } => {
                figures.set("date", wording.date(*on));
                figures.set("reason", reason.as_str());
                "state-skipped"
            }
            MarkKind::Moved { to } => {
                figures.set("date", wording.date(*to));
                "cli-moved"
            }
        };
        let undone = entry.undone_at_utc.map_or(String::new(), |at| {
            figures.set("undone", local(at));
            wording.message("cli-undone", &figures)
        });
        table.row([local(entry.at_utc), wording.message(key, &figures), undone]);
    }
    table.text("")
}
