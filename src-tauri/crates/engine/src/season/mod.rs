//! The season plan: chores from a catalogue, dated from climate, plants and each other.

mod catalogue;
mod check;
mod graph;
mod place;
mod planned;
mod reason;
mod rule;

pub use catalogue::{ChoreCatalogue, ChoreCatalogueError};
pub use planned::{
    Band, BandKind, ChoreState, DayWindow, Mark, MarkKind, Plan, PlanProblem, PlannedChore, Season,
    StageSpan, Target, TargetKind,
};
pub use reason::{Figure, MESSAGES, Reason};
pub use rule::{
    Anchor, Applies, Caution, ChoreRule, Event, LimitOf, MonthDay, Need, Phase, Repeat, Scope, Stage, Trend,
    Trigger, Weather, When,
};
