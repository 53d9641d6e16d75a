//! The season plan: chores from a catalogue, dated from climate, plants and each other.

mod catalogue;
mod check;
mod checklist;
mod climate_dates;
mod draft;
#[cfg(test)]
mod fixture;
mod graph;
mod ledger;
mod level;
mod limits;
mod marks;
mod order;
mod place;
mod plan;
mod planned;
#[cfg(test)]
mod properties_test;
mod reason;
mod resolve;
mod rule;
mod scene;
mod settled;
mod stages;
mod unplanned;
mod warnings;
mod window;

pub use catalogue::{ChoreCatalogue, ChoreCatalogueError};
pub use checklist::{Checklist, checklist};
pub use plan::{PlanInput, plan};
pub use planned::{
    Band, BandKind, ChoreState, DayWindow, Mark, MarkKind, Plan, PlanProblem, PlannedChore, Season,
    StageSpan, Target, TargetKind,
};
pub use reason::{Figure, MESSAGES, Reason};
pub use rule::{
    Anchor, Applies, Caution, ChoreRule, Event, LimitOf, MonthDay, Need, Phase, Repeat, Scope, Stage, Trend,
    Trigger, Weather, When,
};
pub use warnings::{done_warning, move_warning};
