//! Rules that no date was found for.

use super::resolve::Undated;
use super::{ChoreRule, Figure, Phase, PlanProblem, Reason};

/// Counts the targets of a rule that got no chore, and why the first did not.
pub(super) struct Unplanned<'a> {
    rule: &'a ChoreRule,
    count: u32,
    first: Option<String>,
    why: Option<Undated>,
}

impl<'a> Unplanned<'a> {
    pub(super) fn new(rule: &'a ChoreRule) -> Self {
        Self { rule, count: 0, first: None, why: None }
    }

    pub(super) fn count(&mut self, target: &str, undated: Undated) {
        self.count += 1;
        self.first.get_or_insert_with(|| target.to_owned());
        self.why = self.why.or(Some(undated));
    }

    /// What the grower should know. Where nights never get cold enough, or what a chore is counted from is not
    /// there, the chore is not needed; that is worth a note only for chores that plants depend on.
    pub(super) fn problem(self) -> Option<PlanProblem> {
        let depended_on = self.rule.when.killing
            || self.rule.required
            || matches!(self.rule.phase, Phase::MoveIn | Phase::CloseUp | Phase::MoveOut);
        let reason = match self.why.filter(|_| depended_on)? {
            Undated::NeverReached { limit_c, chance } => Reason::new("problem-never-reached")
                .with("limit", Figure::TempC(limit_c))
                .with("chance", Figure::Share(chance)),
            Undated::Missing => Reason::new("problem-no-date"),
        };
        let about = match &self.first {
            Some(name) if self.count == 1 => self.rule.title.replace("{target}", name),
            _ => self.rule.title.replace("{target}", "…"),
        };
        Some(PlanProblem { about, reason: reason.with("count", Figure::Count(self.count)) })
    }
}
