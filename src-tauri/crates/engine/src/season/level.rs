//! Spreading the work over the days that the grower has.
//!
//! Chores are placed one by one, those that a killing date binds first, then those with the nearest latest date,
//! each as near to its best date as the free minutes of the work days allow and after what must come first.
//! Because each looks only around its own best date, a small change of the input moves few chores. A killing date
//! is never passed: where the days before it are full, one of them is overloaded and reported. So that this is
//! rare, chores that a killing date binds are first placed as late as they can be, from the last to the first; no
//! later than that they are placed for good, which leaves room for what waits for them.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use chrono::{Days, NaiveDate};

use super::draft::{Draft, Drafts};
use super::ledger::Ledger;
use super::order::{apart, order_problem};
use super::scene::Scene;
use super::{ChoreState, Figure, Phase, PlanProblem, Reason};

/// Days after its latest date for which a chore without a killing date may look for a free one.
const SLIP_DAYS: u64 = 21;

/// Chooses the day of each chore that is free to be moved, and says why where it is not the best one.
///
/// # Parameters
/// - `order`: all chores, so that each comes after what must come first.
/// - `minutes`: what each chore takes.
pub(super) fn level(
    drafts: &mut Drafts<'_>,
    order: &[usize],
    scene: &Scene<'_>,
    minutes: &[u32],
    problems: &mut Vec<PlanProblem>,
) {
    let mut ledger = Ledger::new(&scene.input);
    book_fixed(drafts, minutes, &mut ledger);

    let mut position = vec![0; order.len()];
    let mut waiting: Vec<usize> = vec![0; order.len()];
    let mut followers: Vec<Vec<usize>> = vec![Vec::new(); order.len()];
    for (place, &index) in order.iter().enumerate() {
        position[index] = place;
        for &other in drafts.all[index].after.iter().filter(|&&other| drafts.all[other].is_free()) {
            waiting[index] += 1;
            followers[other].push(index);
        }
    }
    let urgency = |draft: &Draft<'_>, index: usize| {
        Reverse((draft.deadline.is_none(), draft.window.latest, draft.window.best, position[index], index))
    };
    let begin_by = latest_beginnings(drafts, order, minutes, &ledger);
    let mut ready: BinaryHeap<_> = (0..order.len())
        .filter(|&index| drafts.all[index].is_free() && waiting[index] == 0)
        .map(|index| urgency(&drafts.all[index], index))
        .collect();
    while let Some(Reverse((.., index))) = ready.pop() {
        place(drafts, index, minutes[index], begin_by[index], &mut ledger, problems);
        for &follower in &followers[index] {
            waiting[follower] -= 1;
            if waiting[follower] == 0 && drafts.all[follower].is_free() {
                ready.push(urgency(&drafts.all[follower], follower));
            }
        }
    }
    problems.extend(ledger.problems());
}

/// The days by which chores that a killing date binds must begin, so that all of them can be done in time.
fn latest_beginnings(
    drafts: &Drafts<'_>,
    order: &[usize],
    minutes: &[u32],
    ledger: &Ledger<'_>,
) -> Vec<Option<NaiveDate>> {
    let mut ledger = ledger.clone();
    let mut finish_by: Vec<Option<NaiveDate>> = drafts.all.iter().map(|draft| draft.deadline).collect();
    let mut begin_by = vec![None; drafts.all.len()];
    for &index in order.iter().rev() {
        let draft = &drafts.all[index];
        let Some(last) = finish_by[index].filter(|_| draft.is_free()) else { continue };
        let mut days =
            last.iter_days().rev().take_while(|&day| day >= draft.window.earliest.max(ledger.starts_on));
        let found = days.find_map(|day| ledger.slots(day, minutes[index], last));
        for &(day, minutes) in found.iter().flatten() {
            ledger.book(day, minutes);
        }
        let begin = found.and_then(|slots| slots.first().map(|&(day, _)| day));
        begin_by[index] = begin;
        for &other in &draft.after {
            let before = begin.unwrap_or(last) - apart(drafts, other, index);
            finish_by[other] = finish_by[other].map(|own| own.min(before));
        }
    }
    begin_by
}

/// Chores whose day is settled take their time first.
fn book_fixed(drafts: &mut Drafts<'_>, minutes: &[u32], ledger: &mut Ledger<'_>) {
    for (draft, &minutes) in drafts.all.iter_mut().zip(minutes) {
        draft.due_on = match (&draft.state, draft.moved) {
            (ChoreState::Done { on }, _) => *on,
            (_, Some(moved)) => moved,
            _ => draft.window.best,
        };
        draft.finished_on = draft.due_on;
        let takes_time = !matches!(draft.state, ChoreState::Skipped { .. }) && !draft.left_out;
        if takes_time && !draft.is_free() {
            ledger.book(draft.due_on, minutes);
        }
    }
}

fn place(
    drafts: &mut Drafts<'_>,
    index: usize,
    minutes: u32,
    begin_by: Option<NaiveDate>,
    ledger: &mut Ledger<'_>,
    problems: &mut Vec<PlanProblem>,
) {
    let draft = &drafts.all[index];
    // Two occurrences of one chore never fall on one day.
    let free_after = |other: usize| {
        let before = &drafts.all[other];
        before.finished_on + apart(drafts, other, index).max(Days::new(u64::from(before.rank == draft.rank)))
    };
    let open_before = draft.after.iter().copied().filter(|&other| drafts.all[other].is_open());
    let last_before = open_before.max_by_key(|&other| (free_after(other), Reverse(drafts.all[other].rank)));
    let free_on = last_before.map(free_after);
    let last_before = last_before.map(|other| &drafts.all[other]);
    let mut from = free_on.unwrap_or(ledger.starts_on).max(draft.window.earliest).max(ledger.starts_on);
    from = from.min(ledger.ends_on);
    let mut latest = begin_by.map_or(draft.window.latest, |begin_by| begin_by.min(draft.window.latest));
    if let Some(deadline) = draft.deadline.filter(|deadline| from > *deadline) {
        if let Some(before) = last_before.filter(|before| before.finished_on > deadline) {
            problems.push(order_problem(draft, before));
        }
        from = deadline;
        latest = deadline;
    }
    latest = latest.max(from);
    let is_held_up = free_on.is_some_and(|free_on| free_on > draft.window.best);
    let held_up = last_before.filter(|_| is_held_up).map(|before| {
        Reason::new("reason-waits-for")
            .with("chore", Figure::Text(before.title.clone()))
            .with("date", Figure::Date(before.finished_on))
    });

    let finish_by = draft.deadline.unwrap_or(ledger.ends_on).max(latest);
    let day = choose(draft, from, latest, minutes, ledger);
    let slots = ledger.slots(day, minutes, finish_by);
    let draft = &mut drafts.all[index];
    draft.due_on = day;
    draft.finished_on = day;
    if day > draft.window.latest && held_up.is_none() {
        let reason = Reason::new("problem-late")
            .with("latest", Figure::Date(draft.window.latest))
            .with("date", Figure::Date(day));
        problems.push(PlanProblem { about: draft.title.clone(), reason });
    }
    if day != draft.window.best {
        let levelled = || Reason::new("reason-levelled").with("best", Figure::Date(draft.window.best));
        draft.why.push(held_up.unwrap_or_else(levelled));
    }
    match slots {
        Some(slots) => {
            if slots.len() > 1 {
                let reason = Reason::new("reason-several-days")
                    .with("minutes", Figure::Count(minutes))
                    .with("count", Figure::Count(slots.len() as u32));
                draft.why.push(reason);
            }
            for (day, minutes) in slots {
                ledger.book(day, minutes);
                draft.finished_on = day;
            }
        }
        None if ledger.is_work_day(day) => ledger.overload(day, minutes, &draft.title),
        None => {
            ledger.book(day, minutes);
            let reason = Reason::new("problem-no-work-day")
                .with("from", Figure::Date(from))
                .with("latest", Figure::Date(latest));
            problems.push(PlanProblem { about: draft.title.clone(), reason });
        }
    }
}

/// The day nearest to the best one that has the minutes; past the latest date only where nothing kills; else the
/// least loaded work day; else, within the window, any day.
fn choose(
    draft: &Draft<'_>,
    from: NaiveDate,
    latest: NaiveDate,
    minutes: u32,
    ledger: &Ledger<'_>,
) -> NaiveDate {
    let best = draft.window.best.clamp(from, latest);
    // In spring a later day is the safer one, in autumn an earlier.
    let later_first = matches!(
        draft.rule.phase,
        Phase::Uncover | Phase::WarmUp | Phase::HardenOff | Phase::MoveOut | Phase::SeasonEnd
    );
    let slip_to = draft.deadline.unwrap_or_else(|| (latest + Days::new(SLIP_DAYS)).min(ledger.ends_on));
    let finish_by = draft.deadline.unwrap_or(ledger.ends_on).max(latest);
    let has_room = |&day: &NaiveDate| ledger.slots(day, minutes, finish_by).is_some();
    let within = || outward(best, from, latest, later_first);
    within()
        .find(has_room)
        .or_else(|| latest.iter_days().skip(1).take_while(|&day| day <= slip_to).find(has_room))
        .or_else(|| {
            outward(best, from, slip_to.max(latest), later_first)
                .filter(|&day| ledger.is_work_day(day))
                .min_by_key(|&day| ledger.load(day))
        })
        .or_else(|| within().min_by_key(|&day| ledger.load(day)))
        .unwrap_or(best)
}

/// The days of a span from one outward, nearest first.
fn outward(
    best: NaiveDate,
    from: NaiveDate,
    to: NaiveDate,
    later_first: bool,
) -> impl Iterator<Item = NaiveDate> {
    let reach = (best - from).num_days().max((to - best).num_days()).max(0) as u64;
    (0..=reach)
        .flat_map(move |apart| {
            let later = best + Days::new(apart);
            let earlier = best - Days::new(apart);
            let pair = if later_first { [later, earlier] } else { [earlier, later] };
            pair.into_iter().take(if apart == 0 { 1 } else { 2 })
        })
        .filter(move |day| (from..=to).contains(day))
}
