//! Spreading the work over the days that the grower has.
//!
//! Chores are placed one by one, those with a killing date first, then by their best date, each as near to its
//! best date as the free minutes of the work days allow and after what must come first. Because each looks only
//! around its own best date, a small change of the input moves few chores. A killing date is never passed: where
//! the days before it are full, one of them is overloaded and reported.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use chrono::{Datelike, Days, NaiveDate};

use super::draft::{Draft, Drafts};
use super::order::order_problem;
use super::scene::Scene;
use super::{ChoreState, Figure, Phase, PlanProblem, Reason};
use crate::site::WorkTime;

/// Days after its latest date for which a chore without a killing date may look for a free one.
const SLIP_DAYS: u64 = 21;

/// Minutes planned by day, against the minutes there are.
struct Ledger<'a> {
    work: &'a WorkTime,
    available: u32,
    /// No chore slips past the season.
    ends_on: NaiveDate,
    planned: BTreeMap<NaiveDate, u32>,
    /// Days that took more than they have, with the chore that did it.
    overloaded: BTreeMap<NaiveDate, String>,
}

impl<'a> Ledger<'a> {
    fn new(work: &'a WorkTime, ends_on: NaiveDate) -> Self {
        let available = (work.hours_per_day * 60.0).round() as u32;
        Self { work, available, ends_on, planned: BTreeMap::new(), overloaded: BTreeMap::new() }
    }

    fn is_work_day(&self, date: NaiveDate) -> bool {
        self.work.days.is_empty() || self.work.days.contains(&date.weekday())
    }

    fn load(&self, date: NaiveDate) -> u32 {
        self.planned.get(&date).copied().unwrap_or_default()
    }

    fn book(&mut self, date: NaiveDate, minutes: u32) {
        let load = self.planned.entry(date).or_default();
        *load = load.saturating_add(minutes);
    }

    fn fits(&self, date: NaiveDate, minutes: u32) -> bool {
        self.is_work_day(date) && self.load(date).saturating_add(minutes) <= self.available
    }
}

/// Chooses the day of each chore that is free to be moved, and says why where it is not the best one.
pub(super) fn level(
    drafts: &mut Drafts<'_>,
    order: &[usize],
    scene: &Scene<'_>,
    minutes: &[u32],
    problems: &mut Vec<PlanProblem>,
) {
    let mut ledger = Ledger::new(&scene.input.site.work, scene.input.season.ends_on);
    let mut waiting: Vec<usize> = vec![0; drafts.all.len()];
    let mut followers: Vec<Vec<usize>> = vec![Vec::new(); drafts.all.len()];
    for &index in order {
        let draft = &mut drafts.all[index];
        draft.due_on = match (&draft.state, draft.moved) {
            (ChoreState::Done { on }, _) => *on,
            (_, Some(moved)) => moved,
            _ => draft.window.best,
        };
        if !draft.is_free() {
            if !draft.left_out && !matches!(draft.state, ChoreState::Skipped { .. }) {
                ledger.book(draft.due_on, minutes[index]);
            }
            continue;
        }
        for &other in &drafts.all[index].after {
            if drafts.all[other].is_free() {
                waiting[index] += 1;
                followers[other].push(index);
            }
        }
    }

    let rank: Vec<usize> = ranks(order);
    let urgency = |draft: &Draft<'_>, index: usize| {
        Reverse((draft.deadline.is_none(), draft.window.best, draft.window.latest, rank[index], index))
    };
    let mut ready: BinaryHeap<_> = order
        .iter()
        .filter(|&&index| drafts.all[index].is_free() && waiting[index] == 0)
        .map(|&index| urgency(&drafts.all[index], index))
        .collect();
    while let Some(Reverse((.., index))) = ready.pop() {
        place(drafts, index, minutes[index], &mut ledger, problems);
        for &follower in &followers[index] {
            waiting[follower] -= 1;
            if waiting[follower] == 0 {
                ready.push(urgency(&drafts.all[follower], follower));
            }
        }
    }
    report_overloads(&ledger, problems);
}

fn ranks(order: &[usize]) -> Vec<usize> {
    let mut ranks = vec![0; order.len()];
    for (rank, &index) in order.iter().enumerate() {
        ranks[index] = rank;
    }
    ranks
}

fn place(
    drafts: &mut Drafts<'_>,
    index: usize,
    minutes: u32,
    ledger: &mut Ledger<'_>,
    problems: &mut Vec<PlanProblem>,
) {
    let draft = &drafts.all[index];
    let last_before = draft
        .after
        .iter()
        .map(|&other| &drafts.all[other])
        .filter(|before| before.is_open())
        .max_by_key(|before| (before.due_on, Reverse(before.rank)));
    let mut from = draft.window.earliest;
    let mut held_up = None;
    if let Some(before) = last_before {
        let next_day = u64::from(before.rank == draft.rank);
        let free_on = before.due_on + Days::new(next_day);
        if free_on > from {
            from = free_on;
        }
        if before.due_on > draft.window.best {
            held_up = Some(
                Reason::new("reason-waits-for")
                    .with("chore", Figure::Text(before.title.clone()))
                    .with("date", Figure::Date(before.due_on)),
            );
        }
    }
    let mut latest = draft.window.latest;
    if from > latest && draft.deadline.is_none() {
        latest = from;
    }
    if let Some(deadline) = draft.deadline.filter(|deadline| from > *deadline) {
        if let Some(before) = last_before.filter(|before| before.due_on > deadline) {
            problems.push(order_problem(draft, before));
        }
        from = deadline;
        latest = deadline;
    }

    let day = choose(draft, from, latest, minutes, ledger);
    let late = day > draft.window.latest;
    let draft = &mut drafts.all[index];
    if !ledger.fits(day, minutes) {
        if ledger.is_work_day(day) {
            ledger.overloaded.entry(day).or_insert_with(|| draft.title.clone());
        } else {
            problems.push(PlanProblem {
                about: draft.title.clone(),
                reason: Reason::new("problem-no-work-day")
                    .with("from", Figure::Date(from))
                    .with("latest", Figure::Date(latest)),
            });
        }
    }
    if late && held_up.is_none() {
        problems.push(PlanProblem {
            about: draft.title.clone(),
            reason: Reason::new("problem-late")
                .with("latest", Figure::Date(draft.window.latest))
                .with("date", Figure::Date(day)),
        });
    }
    ledger.book(day, minutes);
    if day != draft.window.best {
        let levelled = || Reason::new("reason-levelled").with("best", Figure::Date(draft.window.best));
        let reason = held_up.unwrap_or_else(levelled);
        draft.why.push(reason);
    }
    draft.due_on = day;
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
    let mut around = outward(best, from, latest, later_first);
    if let Some(day) = around.find(|&day| ledger.fits(day, minutes)) {
        return day;
    }
    let slip_to =
        draft.deadline.unwrap_or_else(|| (latest + Days::new(SLIP_DAYS)).min(ledger.ends_on)).max(latest);
    if let Some(day) =
        latest.iter_days().skip(1).take_while(|&day| day <= slip_to).find(|&day| ledger.fits(day, minutes))
    {
        return day;
    }
    // A chore longer than a whole day takes an empty day where there is one.
    outward(best, from, slip_to, later_first)
        .filter(|&day| ledger.is_work_day(day))
        .min_by_key(|&day| ledger.load(day))
        .or_else(|| outward(best, from, latest, later_first).min_by_key(|&day| ledger.load(day)))
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

fn report_overloads(ledger: &Ledger<'_>, problems: &mut Vec<PlanProblem>) {
    for (&day, about) in &ledger.overloaded {
        problems.push(PlanProblem {
            about: about.clone(),
            reason: Reason::new("problem-overload")
                .with("date", Figure::Date(day))
                .with("minutes", Figure::Count(ledger.load(day)))
                .with("available", Figure::Count(ledger.available)),
        });
    }
}
