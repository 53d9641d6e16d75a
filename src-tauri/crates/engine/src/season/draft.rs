//! Chores in the making: one for each rule, target and, where it comes again, occurrence.

use std::collections::HashMap;

use chrono::{Days, NaiveDate};

use super::marks::Marks;
use super::resolve::{Resolver, Undated, shifted};
use super::scene::{At, Scene};
use super::unplanned::Unplanned;
use super::window::Window;
use super::{ChoreRule, ChoreState, DayWindow, Figure, PlanProblem, Reason, Repeat};

/// A chore in the making.
pub(super) struct Draft<'a> {
    pub(super) rule: &'a ChoreRule,
    /// Position of the rule in the order of the work.
    pub(super) rank: usize,
    pub(super) at: At,
    pub(super) number: Option<u32>,
    pub(super) key: String,
    pub(super) title: String,
    pub(super) window: DayWindow,
    pub(super) killing: bool,
    /// Whether a rule gave the latest date, rather than the usual grace.
    pub(super) asked_latest: bool,
    /// Never planned past this: its own killing date, or that of a chore that waits for it.
    pub(super) deadline: Option<NaiveDate>,
    pub(super) why: Vec<Reason>,
    pub(super) tail: Vec<Reason>,
    pub(super) state: ChoreState,
    pub(super) moved: Option<NaiveDate>,
    /// Over before the grower began, but still needed: planned for the day of the beginning.
    pub(super) due_now: bool,
    /// Over before the grower began, and gone.
    pub(super) left_out: bool,
    /// The chore whose best date its own is counted from, and the days from there.
    pub(super) counted_from: Option<(usize, i32)>,
    /// What must come first.
    pub(super) after: Vec<usize>,
    pub(super) due_on: NaiveDate,
    /// The day on which it is finished: later than `due_on` where it takes more than a day.
    pub(super) finished_on: NaiveDate,
}

impl Draft<'_> {
    pub(super) fn is_open(&self) -> bool {
        self.state == ChoreState::Open
    }

    /// Whether the planner chooses its day.
    pub(super) fn is_free(&self) -> bool {
        self.is_open() && self.moved.is_none() && !self.due_now && !self.left_out
    }
}

/// All chores in the making.
#[derive(Default)]
pub(super) struct Drafts<'a> {
    pub(super) all: Vec<Draft<'a>>,
    first: HashMap<(&'a str, At), usize>,
    by_rule: HashMap<&'a str, Vec<usize>>,
}

impl<'a> Drafts<'a> {
    /// The chore of a rule for a target, the first of them where it comes again.
    pub(super) fn first(&self, rule: &str, at: At) -> Option<usize> {
        self.first.get(&(rule, at)).copied()
    }

    /// The chores of a rule, the first for each target.
    pub(super) fn of_rule(&self, rule: &str) -> &[usize] {
        self.by_rule.get(rule).map_or(&[], Vec::as_slice)
    }

    fn push(&mut self, draft: Draft<'a>) {
        let index = self.all.len();
        if draft.number.is_none_or(|number| number == 1) {
            self.first.insert((draft.rule.key.as_str(), draft.at), index);
            self.by_rule.entry(draft.rule.key.as_str()).or_default().push(index);
        }
        self.all.push(draft);
    }
}

/// Makes the chores of all rules.
pub(super) struct Drafter<'r, 'a> {
    pub(super) resolver: &'r Resolver<'r, 'a>,
    pub(super) marks: &'r Marks<'a>,
    /// Last day on which something of the autumn still matters to a grower who begins late.
    pub(super) winter_ends_on: NaiveDate,
}

impl<'a> Drafter<'_, 'a> {
    /// Makes a chore for each rule and target, in the order in which dates are counted from each other.
    pub(super) fn drafts(&self, problems: &mut Vec<PlanProblem>) -> Drafts<'a> {
        let scene: &Scene<'a> = self.resolver.scene;
        let rules = scene.input.rules;
        let ranks: HashMap<&str, usize> =
            rules.in_working_order().enumerate().map(|(rank, rule)| (rule.key.as_str(), rank)).collect();
        let mut drafts = Drafts::default();
        for rule in rules.in_dating_order() {
            let rank = ranks.get(rule.key.as_str()).copied().unwrap_or_default();
            let mut unplanned = Unplanned::new(rule);
            for at in scene.targets(rule) {
                match self.resolver.window(rule, at, &drafts) {
                    Ok(window) => self.add(rule, rank, at, window, &mut drafts, problems),
                    Err(undated) => unplanned.count(scene.name(at), undated),
                }
            }
            problems.extend(unplanned.problem());
        }
        drafts
    }

    fn add(
        &self,
        rule: &'a ChoreRule,
        rank: usize,
        at: At,
        window: Window,
        drafts: &mut Drafts<'a>,
        problems: &mut Vec<PlanProblem>,
    ) {
        let scene = self.resolver.scene;
        let title = rule.title.replace("{target}", scene.name(at));
        if let Some((earliest, latest)) = window.empty {
            let reason = Reason::new("problem-window-empty")
                .with("earliest", Figure::Date(earliest))
                .with("latest", Figure::Date(latest));
            problems.push(PlanProblem { about: title.clone(), reason });
        }
        let key = format!("{}/{}", rule.key, scene.id(at));
        let draft = Draft {
            rule,
            rank,
            at,
            number: None,
            key,
            title,
            window: window.days,
            killing: window.killing,
            asked_latest: window.asked_latest,
            deadline: window.killing.then_some(window.days.latest),
            why: window.why,
            tail: window.tail,
            state: ChoreState::Open,
            moved: None,
            due_now: false,
            left_out: false,
            counted_from: window.counted_from,
            after: Vec::new(),
            due_on: window.days.best,
            finished_on: window.days.best,
        };
        match &rule.repeat {
            None => drafts.push(self.marked(draft)),
            Some(repeat) => {
                let until = match self.resolver.resolve(&repeat.until, rule, at, drafts) {
                    Ok(until) => until.date,
                    Err(Undated::NeverReached { .. } | Undated::Missing) => scene.input.season.ends_on,
                };
                self.add_occurrences(&draft, repeat, until, window.asked_earliest, drafts);
            }
        }
    }

    /// Each occurrence is counted from the one before: from the day it was done, else from its best date.
    fn add_occurrences(
        &self,
        template: &Draft<'a>,
        repeat: &Repeat,
        until: NaiveDate,
        asked_earliest: bool,
        drafts: &mut Drafts<'a>,
    ) {
        let first = template.window;
        let lead = (first.best - first.earliest).num_days() as i32;
        let grace = (first.latest - first.best).num_days() as i32;
        // The usual window of one occurrence does not reach into that of the next.
        let apart = repeat.every_days as i32;
        let lead = if asked_earliest { lead } else { lead.min((apart - 1) / 2) };
        let grace = if template.asked_latest { grace } else { grace.min(apart / 2) };
        let mut best = first.best;
        let mut done_before = None;
        let mut number = 1;
        while best <= until {
            let ends_on = self.resolver.scene.input.season.ends_on;
            let window =
                DayWindow { earliest: shifted(best, -lead), best, latest: shifted(best, grace).min(ends_on) };
            let draft = Draft {
                key: format!("{}#{number}", template.key),
                number: Some(number),
                title: template.title.clone(),
                window,
                deadline: template.killing.then_some(window.latest),
                why: repeat_reasons(template, number, repeat.every_days, until, done_before),
                tail: template.tail.clone(),
                state: ChoreState::Open,
                counted_from: template.counted_from.filter(|_| number == 1),
                after: Vec::new(),
                due_on: best,
                finished_on: best,
                ..*template
            };
            let draft = self.marked(draft);
            done_before = match draft.state {
                ChoreState::Done { on } => Some(on),
                ChoreState::Open | ChoreState::Skipped { .. } => None,
            };
            drafts.push(draft);
            best = done_before.unwrap_or(best) + Days::new(repeat.every_days.into());
            number += 1;
        }
    }

    /// Applies what the grower did, and when the grower began.
    fn marked(&self, mut draft: Draft<'a>) -> Draft<'a> {
        if let Some(marked) = self.marks.of(&draft.key) {
            draft.state = marked.state.clone();
            draft.moved = marked.moved;
        }
        let Some(began) = self.resolver.scene.input.began_on else { return draft };
        if !draft.is_open() || draft.moved.is_some() {
            return draft;
        }
        if draft.window.latest >= began {
            draft.window.earliest = draft.window.earliest.max(began);
            draft.window.best = draft.window.best.max(began);
        } else if (draft.rule.required || draft.killing)
            && draft.number.is_none()
            && began <= self.winter_ends_on
        {
            draft.why.push(
                Reason::new("reason-due-now")
                    .with("latest", Figure::Date(draft.window.latest))
                    .with("began", Figure::Date(began)),
            );
            draft.window = DayWindow { earliest: began, best: began, latest: began };
            draft.deadline = Some(began);
            draft.due_now = true;
        } else {
            draft.left_out = true;
        }
        draft
    }
}

fn repeat_reasons(
    template: &Draft<'_>,
    number: u32,
    every_days: u32,
    until: NaiveDate,
    done_before: Option<NaiveDate>,
) -> Vec<Reason> {
    let reason = |message| {
        Reason::new(message)
            .with("number", Figure::Count(number))
            .with("days", Figure::Days(i32::try_from(every_days).unwrap_or(i32::MAX)))
    };
    match done_before {
        Some(on) => vec![reason("reason-repeat-done").with("date", Figure::Date(on))],
        None => {
            let first = if number == 1 { template.why.clone() } else { Vec::new() };
            let repeat = reason("reason-repeat").with("until", Figure::Date(until));
            first.into_iter().chain([repeat]).collect()
        }
    }
}
