//! From when to when a chore can be done.

use chrono::NaiveDate;

use super::draft::Drafts;
use super::resolve::{Dated, Resolver, Undated, shifted};
use super::scene::At;
use super::{ChoreRule, DayWindow, Figure, Reason, Trigger};

/// Days before the best date where a rule names no earliest one.
pub(super) const USUAL_LEAD_DAYS: i32 = -7;
/// Days after the best date where a rule names no latest one.
const USUAL_GRACE_DAYS: i32 = 10;

/// A window with what it rests on.
pub(super) struct Window {
    pub(super) days: DayWindow,
    /// Whether the latest date kills.
    pub(super) killing: bool,
    /// Whether rules gave the earliest and the latest date, rather than the usual lead and grace.
    pub(super) asked_earliest: bool,
    pub(super) asked_latest: bool,
    /// What the dates rest on, in reading order.
    pub(super) why: Vec<Reason>,
    /// What the figures rest on and what would change them.
    pub(super) tail: Vec<Reason>,
    /// The chore whose best date the best date is counted from, and the days from there.
    pub(super) counted_from: Option<(usize, i32)>,
    /// An empty window, as it was before it was mended.
    pub(super) empty: Option<(NaiveDate, NaiveDate)>,
}

impl Resolver<'_, '_> {
    /// The window of a rule for a target, made consistent: earliest ≤ best ≤ latest.
    ///
    /// # Errors
    /// Why there is no best date: the reason of the first trigger that had one to give.
    pub(super) fn window(&self, rule: &ChoreRule, at: At, drafts: &Drafts<'_>) -> Result<Window, Undated> {
        let best = self.best(rule, at, drafts)?;
        let dated = |trigger: &Trigger| self.resolve(trigger, rule, at, drafts).ok();
        let earliest = rule.when.earliest.iter().filter_map(dated).max_by_key(|dated| dated.date);
        let latest = rule.when.latest.iter().filter_map(dated).min_by_key(|dated| dated.date);
        Ok(self.put_together(rule.when.killing, best, earliest, latest))
    }

    fn best(&self, rule: &ChoreRule, at: At, drafts: &Drafts<'_>) -> Result<Dated, Undated> {
        let mut why_not = None;
        for trigger in &rule.when.best {
            match self.resolve(trigger, rule, at, drafts) {
                Ok(dated) => return Ok(dated),
                Err(undated @ Undated::NeverReached { .. }) => why_not = why_not.or(Some(undated)),
                Err(Undated::Missing) => {}
            }
        }
        Err(why_not.unwrap_or(Undated::Missing))
    }

    fn put_together(
        &self,
        killing: bool,
        best: Dated,
        earliest: Option<Dated>,
        latest: Option<Dated>,
    ) -> Window {
        let season = self.scene.input.season;
        let within = |date: NaiveDate| date.clamp(season.starts_on, season.ends_on);
        let killing = killing && latest.is_some();
        let mut days = DayWindow { earliest: best.date, best: best.date, latest: best.date };
        if let Some(earliest) = &earliest {
            days.best = days.best.max(earliest.date);
        }
        days.latest = latest
            .as_ref()
            .map_or_else(|| within(shifted(days.best, USUAL_GRACE_DAYS)), |latest| latest.date);
        days.best = days.best.min(days.latest);
        days.earliest =
            earliest.as_ref().map_or_else(|| within(shifted(days.best, USUAL_LEAD_DAYS)), |found| found.date);
        let empty = (days.earliest > days.latest).then_some((days.earliest, days.latest));
        if empty.is_some() && killing {
            days.earliest = days.latest;
        } else if empty.is_some() {
            days.best = days.earliest;
            days.latest = days.earliest;
        }

        let mut window = Window {
            days,
            killing,
            asked_earliest: earliest.is_some(),
            asked_latest: latest.is_some(),
            why: Vec::new(),
            tail: Vec::new(),
            counted_from: best.counted_from,
            empty,
        };
        let mut by_climate = false;
        let mut take = |head: Option<Reason>, dated: Dated| {
            by_climate |= dated.by_climate;
            window.why.extend(head);
            // What is said of a plant's limit holds for each date that rests on it: once is enough.
            let known = |reason: &Reason| window.why.contains(reason) && is_about_a_limit(reason);
            let fresh: Vec<Reason> = dated.why.into_iter().filter(|reason| !known(reason)).collect();
            window.why.extend(fresh);
            if let Some(change) = dated.change.filter(|change| !window.tail.contains(change)) {
                window.tail.push(change);
            }
        };
        take(None, best);
        if let Some(earliest) = earliest {
            let head = Reason::new("reason-earliest").with("earliest", Figure::Date(earliest.date));
            take(Some(head), earliest);
        }
        if let Some(latest) = latest {
            let message = if killing { "reason-latest-killing" } else { "reason-latest" };
            take(Some(Reason::new(message).with("latest", Figure::Date(latest.date))), latest);
        }
        if by_climate {
            window.tail.splice(0..0, std::iter::once(self.basis()).chain(self.change_of_climate()));
        }
        window
    }
}

fn is_about_a_limit(reason: &Reason) -> bool {
    ["reason-limit-", "reason-hold-", "reason-tenderest"]
        .iter()
        .any(|start| reason.message.starts_with(start))
}
