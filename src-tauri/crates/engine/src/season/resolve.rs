//! From triggers to dates.

use chrono::{Months, NaiveDate, TimeDelta};

use super::climate_dates::ClimateDates;
use super::draft::Drafts;
use super::limits::{Limit, limit};
use super::scene::{At, Scene};
use super::stages::Stages;
use super::{
    Anchor, ChoreRule, ChoreState, Event, Figure, LimitOf, MonthDay, Reason, Season, Stage, Trend, Trigger,
};
use crate::climate::{Basis, SeasonDay};
use crate::site::Hemisphere;

/// A date with what it rests on.
pub(super) struct Dated {
    pub(super) date: NaiveDate,
    /// In reading order.
    pub(super) why: Vec<Reason>,
    /// Whether the climate decided it.
    pub(super) by_climate: bool,
    /// What would change it, besides another climate record.
    pub(super) change: Option<Reason>,
    /// The chore whose best date it is counted from, and the days from there.
    pub(super) counted_from: Option<(usize, i32)>,
}

/// Why a trigger gives no date.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Undated {
    /// Nights are not that cold often enough (or in spring never stop being so).
    NeverReached { limit_c: f64, chance: f64 },
    /// What the trigger asks for is not there: the plants, their winter place, the chore, the stage.
    Missing,
}

/// Everything that triggers can ask.
pub(super) struct Resolver<'r, 'a> {
    pub(super) scene: &'r Scene<'a>,
    pub(super) dates: &'r ClimateDates<'a>,
    pub(super) stages: &'r [Stages],
}

impl Resolver<'_, '_> {
    /// The date of a trigger for a target, within the season.
    pub(super) fn resolve(
        &self,
        trigger: &Trigger,
        rule: &ChoreRule,
        at: At,
        drafts: &Drafts<'_>,
    ) -> Result<Dated, Undated> {
        let (mut dated, days) = match trigger {
            Trigger::FreezeDate { event, limit, chance, days } => {
                (self.freeze(*event, &self.limit(rule, at, *limit)?, *chance)?, *days)
            }
            Trigger::LowReaches { trend, limit, chance, days } => {
                (self.low(*trend, &self.limit(rule, at, *limit)?, *chance)?, *days)
            }
            Trigger::Chore { chore, anchor, days } => {
                (self.chore(chore, *anchor, *days, at, drafts).ok_or(Undated::Missing)?, *days)
            }
            Trigger::Stage { stage, days } => (self.stage(*stage, rule, at).ok_or(Undated::Missing)?, *days),
            Trigger::Calendar { on } => (self.calendar(*on).ok_or(Undated::Missing)?, 0),
        };
        if days != 0 {
            let message = if days > 0 { "reason-days-after" } else { "reason-days-before" };
            dated.why.push(Reason::new(message).with("days", Figure::Days(days.abs())));
        }
        let season = self.scene.input.season;
        dated.date = shifted(dated.date, days).clamp(season.starts_on, season.ends_on);
        Ok(dated)
    }

    fn limit(&self, rule: &ChoreRule, at: At, of: LimitOf) -> Result<Limit, Undated> {
        limit(self.scene, &rule.applies, at, of).ok_or(Undated::Missing)
    }

    fn freeze(&self, event: Event, limit: &Limit, chance: f64) -> Result<Dated, Undated> {
        let message = match event {
            Event::FirstAutumn => "reason-freeze-first",
            Event::LastSpring => "reason-freeze-last",
        };
        self.climatic(message, self.dates.freeze(event, limit.temp_c, chance), limit, chance)
    }

    fn low(&self, trend: Trend, limit: &Limit, chance: f64) -> Result<Dated, Undated> {
        let message = match trend {
            Trend::Falling => "reason-low-falls",
            Trend::Rising => "reason-low-rises",
        };
        self.climatic(message, self.dates.low(trend, limit.temp_c, chance), limit, chance)
    }

    fn climatic(
        &self,
        message: &str,
        day: Option<SeasonDay>,
        limit: &Limit,
        chance: f64,
    ) -> Result<Dated, Undated> {
        let day = day.ok_or(Undated::NeverReached { limit_c: limit.temp_c, chance })?;
        let date = day.date(self.scene.input.season.start_year, self.scene.input.site.hemisphere());
        let mut why = Vec::with_capacity(4);
        why.push(
            Reason::new(message)
                .with("date", Figure::Date(date))
                .with("limit", Figure::TempC(limit.temp_c))
                .with("chance", Figure::Share(chance)),
        );
        why.extend(limit.why.iter().cloned());
        Ok(Dated { date, why, by_climate: true, change: limit.change.clone(), counted_from: None })
    }

    fn chore(&self, key: &str, anchor: Anchor, days: i32, at: At, drafts: &Drafts<'_>) -> Option<Dated> {
        let other = self.scene.input.rules.get(key)?;
        let index = drafts.first(key, self.scene.around(at, other.scope)?)?;
        let draft = &drafts.all[index];
        let (date, message) = match draft.state {
            ChoreState::Done { on } => (on, "reason-after-chore-done"),
            ChoreState::Open | ChoreState::Skipped { .. } => {
                let date = match anchor {
                    Anchor::Earliest => draft.window.earliest,
                    Anchor::Best => draft.moved.unwrap_or(draft.window.best),
                    Anchor::Latest => draft.window.latest,
                };
                (date, "reason-after-chore")
            }
        };
        let name = || Figure::Text(draft.title.clone());
        Some(Dated {
            date,
            why: vec![Reason::new(message).with("chore", name()).with("date", Figure::Date(date))],
            by_climate: false,
            change: Some(Reason::new("reason-change-chore").with("chore", name())),
            counted_from: (anchor == Anchor::Best).then_some((index, days)),
        })
    }

    fn stage(&self, stage: Stage, rule: &ChoreRule, at: At) -> Option<Dated> {
        let (date, index) = self
            .scene
            .suiting(&rule.applies, at)
            .filter_map(|index| self.stages[index].start(stage).map(|date| (date, index)))
            .min()?;
        let message = match stage {
            Stage::Growing => "reason-stage-growing",
            Stage::Hardening => "reason-stage-hardening",
            Stage::Dormant => "reason-stage-dormant",
            Stage::Waking => "reason-stage-waking",
            Stage::Out => "reason-stage-out",
        };
        let plant = Figure::Text(self.scene.stands[index].name().to_owned());
        Some(Dated {
            date,
            why: vec![Reason::new(message).with("plant", plant).with("date", Figure::Date(date))],
            by_climate: true,
            change: None,
            counted_from: None,
        })
    }

    fn calendar(&self, on: MonthDay) -> Option<Dated> {
        let date = calendar_date(on, self.scene.input.season, self.scene.input.site.hemisphere())?;
        Some(Dated {
            date,
            why: vec![Reason::new("reason-calendar").with("date", Figure::Date(date))],
            by_climate: false,
            change: None,
            counted_from: None,
        })
    }

    /// What the climate figures rest on.
    pub(super) fn basis(&self) -> Reason {
        match self.scene.input.climate.basis() {
            Basis::Measured { first_season, last_season, seasons } => Reason::new("reason-basis-measured")
                .with("seasons", Figure::Count(*seasons))
                .with("first", Figure::Text(first_season.to_string()))
                .with("last", Figure::Text(last_season.to_string())),
            Basis::Typed => Reason::new("reason-basis-typed"),
        }
    }

    /// What would change every date that the climate decided.
    pub(super) fn change_of_climate(&self) -> Option<Reason> {
        matches!(self.scene.input.climate.basis(), Basis::Typed).then(|| Reason::new("reason-change-record"))
    }
}

/// The day of a season that a northern calendar date stands for: six months later in the south.
fn calendar_date(on: MonthDay, season: &Season, hemisphere: Hemisphere) -> Option<NaiveDate> {
    let in_leap_year = on.in_leap_year()?;
    let moved = match hemisphere {
        Hemisphere::Northern => in_leap_year,
        Hemisphere::Southern => in_leap_year.checked_add_months(Months::new(6))?,
    };
    Some(SeasonDay::of(moved, hemisphere).date(season.start_year, hemisphere))
}

/// A date some days later, or earlier for negative days.
pub(super) fn shifted(date: NaiveDate, days: i32) -> NaiveDate {
    date.checked_add_signed(TimeDelta::days(days.into())).unwrap_or(date)
}
