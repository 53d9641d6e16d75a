//! What the grower did with chores, by chore.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::{ChoreState, Mark, MarkKind};

/// The marks of one chore that count.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Marked {
    pub(super) state: ChoreState,
    pub(super) moved: Option<NaiveDate>,
}

/// Marks by the key of their chore.
pub(super) struct Marks<'a>(BTreeMap<&'a str, Marked>);

impl<'a> Marks<'a> {
    /// The newest of done and skipped, and the newest move, count for each chore.
    pub(super) fn new(marks: &'a [Mark]) -> Self {
        let mut sorted: Vec<&Mark> = marks.iter().collect();
        sorted.sort_by(|a, b| a.at_utc.cmp(&b.at_utc).then_with(|| rank(&a.kind).cmp(&rank(&b.kind))));
        let mut by_key = BTreeMap::new();
        for mark in sorted {
            let marked = by_key
                .entry(mark.chore_key.as_str())
                .or_insert(Marked { state: ChoreState::Open, moved: None });
            match &mark.kind {
                MarkKind::Done { on } => marked.state = ChoreState::Done { on: *on },
                MarkKind::Skipped { on, reason } => {
                    marked.state = ChoreState::Skipped { on: *on, reason: reason.clone() };
                }
                MarkKind::Moved { to } => marked.moved = Some(*to),
            }
        }
        Self(by_key)
    }

    pub(super) fn of(&self, key: &str) -> Option<&Marked> {
        self.0.get(key)
    }

    /// Chores that were done or skipped, in the order of their keys.
    pub(super) fn settled(&self) -> impl Iterator<Item = (&'a str, &Marked)> {
        self.0
            .iter()
            .filter(|(_, marked)| marked.state != ChoreState::Open)
            .map(|(key, marked)| (*key, marked))
    }
}

/// Order of marks made at the same moment, so that the order in which they are handed in does not matter.
fn rank(kind: &MarkKind) -> (u8, NaiveDate, &str) {
    match kind {
        MarkKind::Moved { to } => (0, *to, ""),
        MarkKind::Skipped { on, reason } => (1, *on, reason),
        MarkKind::Done { on } => (2, *on, ""),
    }
}
