//! What must come first: dependencies between the chores of a plan, and windows that agree with them.

use chrono::{Days, NaiveDate};

use super::draft::{Draft, Drafts};
use super::resolve::shifted;
use super::scene::Scene;
use super::window::USUAL_LEAD_DAYS;
use super::{ChoreState, DayWindow, Figure, PlanProblem, Reason};

/// Links each chore to those that must come first and returns all in an order in which they do.
///
/// A rule in `after` stands for its chore for the same target or the one around it, else for its chores for all
/// targets inside: the cover of a shelter waits for what is done in all its zones. A chore that comes again waits
/// for the one before, and what waits for it waits for the first.
pub(super) fn link(scene: &Scene<'_>, drafts: &mut Drafts<'_>) -> Vec<usize> {
    let links: Vec<Vec<usize>> = (0..drafts.all.len()).map(|index| first(scene, drafts, index)).collect();
    for (draft, after) in drafts.all.iter_mut().zip(links) {
        draft.after = after;
    }
    let mut order: Vec<usize> = (0..drafts.all.len()).collect();
    order.sort_by_key(|&index| {
        let draft = &drafts.all[index];
        (draft.rank, draft.at, draft.number)
    });
    order
}

fn first(scene: &Scene<'_>, drafts: &Drafts<'_>, index: usize) -> Vec<usize> {
    let draft = &drafts.all[index];
    // Occurrences stand one after the other.
    if draft.number.is_some_and(|number| number > 1) && !drafts.all[index - 1].left_out {
        return vec![index - 1];
    }
    let mut found = Vec::new();
    for key in &draft.rule.after {
        let Some(other) = scene.input.rules.get(key) else { continue };
        match scene.around(draft.at, other.scope) {
            Some(at) => found.extend(drafts.first(key, at)),
            None => {
                let inside =
                    |&&other: &&usize| scene.is_within(drafts.all[other].at, draft.at) && other != index;
                found.extend(drafts.of_rule(key).iter().filter(inside).copied());
            }
        }
    }
    found.extend(draft.counted_from.filter(|&(_, days)| days >= 0).map(|(other, _)| other));
    found.sort_unstable();
    found.dedup();
    found.retain(|&other| !drafts.all[other].left_out);
    found
}

/// Days that must lie between a chore and one that waits for it: half of those that the rules put between them.
/// Where leaves must dry for two days or plants harden for two weeks, spreading the work takes no more than half.
pub(super) fn apart(drafts: &Drafts<'_>, before: usize, waiting: usize) -> Days {
    let counted = |from: usize, to: usize| {
        drafts.all[from].counted_from.filter(|&(other, _)| other == to).map_or(0, |(_, days)| days)
    };
    let days = counted(waiting, before).max(-counted(before, waiting)).max(0);
    Days::new(u64::from(days.unsigned_abs() / 2))
}

/// Makes windows agree with what must come first.
///
/// Forward, a chore starts no earlier than what comes before it, or than the day on which that was done. Backward, a chore ends no later than what waits
/// for it, and a killing date binds everything that must come before. Where both cannot be had, the killing date
/// is kept, what must come first is pulled before its earliest date, and the conflict is reported.
pub(super) fn reconcile(drafts: &mut Drafts<'_>, order: &[usize], problems: &mut Vec<PlanProblem>) {
    for &index in order {
        if drafts.all[index].is_free() {
            push_back(drafts, index, problems);
        }
    }
    for &index in order.iter().rev() {
        if drafts.all[index].is_open() && !drafts.all[index].left_out {
            pull_forward(drafts, index);
        }
    }
}

fn push_back(drafts: &mut Drafts<'_>, index: usize, problems: &mut Vec<PlanProblem>) {
    let mut window = drafts.all[index].window;
    let mut latest_before: Option<usize> = None;
    for &other in &drafts.all[index].after {
        let before = &drafts.all[other];
        if let ChoreState::Done { on } | ChoreState::Skipped { on, .. } = before.state {
            window.earliest = window.earliest.max(on);
            window.best = window.best.max(on);
            continue;
        }
        window.earliest = window.earliest.max(before.earliest());
        window.best = window.best.max(before.moved.unwrap_or(before.window.best));
        if latest_before.is_none_or(|found| drafts.all[found].earliest() < before.earliest()) {
            latest_before = Some(other);
        }
    }
    let draft = &drafts.all[index];
    // The usual grace is no promise: it moves along with what must come first.
    let promised = draft.asked_latest || draft.deadline.is_some();
    if let Some(before) = latest_before.filter(|_| promised && window.earliest > draft.window.latest) {
        problems.push(order_problem(draft, &drafts.all[cause(drafts, before)]));
    }
    if let Some(deadline) = draft.deadline {
        window = ended_by(window, deadline);
    }
    window.latest = window.latest.max(window.best);
    drafts.all[index].window = window;
}

/// The chore that a late start goes back to, along those that only pass it on.
fn cause(drafts: &Drafts<'_>, from: usize) -> usize {
    let mut index = from;
    loop {
        let draft = &drafts.all[index];
        let before = draft.after.iter().copied().find(|&other| {
            let before = &drafts.all[other];
            before.is_open() && before.earliest() == draft.earliest() && draft.moved.is_none()
        });
        match before {
            Some(before) => index = before,
            None => return index,
        }
    }
}

/// A window that ends no later than a date; where it would begin after that, it keeps the usual lead.
fn ended_by(mut window: DayWindow, date: NaiveDate) -> DayWindow {
    if window.earliest > date {
        window.earliest = shifted(date, USUAL_LEAD_DAYS);
    }
    window.best = window.best.min(date);
    window.latest = window.latest.min(date);
    window
}

/// A chore that must come first but cannot in time.
pub(super) fn order_problem(waiting: &Draft<'_>, before: &Draft<'_>) -> PlanProblem {
    let reason = Reason::new("problem-order")
        .with("chore", Figure::Text(before.title.clone()))
        .with("earliest", Figure::Date(before.earliest()))
        .with("latest", Figure::Date(waiting.window.latest));
    PlanProblem { about: waiting.title.clone(), reason }
}

fn pull_forward(drafts: &mut Drafts<'_>, index: usize) {
    let waiting = &drafts.all[index];
    let deadline = waiting.deadline;
    let latest = waiting.moved.unwrap_or(waiting.window.latest);
    let reason = |date| {
        Reason::new("reason-before-chore")
            .with("chore", Figure::Text(waiting.title.clone()))
            .with("date", Figure::Date(date))
    };
    let reasons = [deadline.unwrap_or(latest), latest].map(reason);
    for other in waiting.after.clone() {
        let before = &mut drafts.all[other];
        if !before.is_free() {
            continue;
        }
        if let Some(deadline) = deadline {
            before.deadline = Some(before.deadline.map_or(deadline, |own| own.min(deadline)));
            before.end_by(deadline, &reasons[0]);
        }
        // A hand move may ask for the impossible; it is warned about, not followed. A killing date stays what it
        // is, whatever waits for the chore.
        if before.killing {
            before.window.best = before.window.best.min(latest).max(before.window.earliest);
        } else if before.window.earliest <= latest {
            before.end_by(latest, &reasons[1]);
        }
    }
}

impl Draft<'_> {
    fn earliest(&self) -> NaiveDate {
        self.moved.unwrap_or(self.window.earliest)
    }

    fn end_by(&mut self, latest: NaiveDate, reason: &Reason) {
        if self.window.latest > latest {
            self.window = ended_by(self.window, latest);
            self.why.push(reason.clone());
        }
    }
}
