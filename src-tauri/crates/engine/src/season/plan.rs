//! The planner: from a site, its plants and its climate to the dated work of one season.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};

use super::climate_dates::ClimateDates;
use super::draft::{Draft, Drafter, Drafts};
use super::level::level;
use super::marks::Marks;
use super::order::{link, reconcile};
use super::resolve::Resolver;
use super::scene::{At, Scene};
use super::settled::vanished;
use super::stages::stages;
use super::warnings::{began_late, moved_problems};
use super::{
    Band, BandKind, ChoreCatalogue, Event, Figure, Mark, Plan, PlanProblem, PlannedChore, Reason, Season,
};
use crate::climate::Climate;
use crate::plant::{PlantCatalogue, Planting};
use crate::shelter::{Shelter, Zone};
use crate::site::Site;

/// Thresholds of the season picture in °C: light freeze, hard freeze (28 °F) and severe freeze (24 °F), as the
/// freeze tables of the US climate normals have them.
const BAND_THRESHOLDS_C: [f64; 3] = [0.0, -2.2, -4.4];

/// Everything that a plan depends on.
#[derive(Debug, Clone, Copy)]
pub struct PlanInput<'a> {
    /// The site.
    pub site: &'a Site,
    /// Its shelters.
    pub shelters: &'a [Shelter],
    /// Their zones.
    pub zones: &'a [Zone],
    /// Its plantings.
    pub plantings: &'a [Planting],
    /// What the plants stand and need.
    pub plants: &'a PlantCatalogue,
    /// Nights at the site.
    pub climate: &'a Climate,
    /// The chores there are.
    pub rules: &'a ChoreCatalogue,
    /// The season to plan.
    pub season: &'a Season,
    /// What the grower did with its chores so far.
    pub marks: &'a [Mark],
    /// The day on which the grower began to use the plan, for a season that was under way. Chores whose latest
    /// date was past by then are left out and summed up in one note, except those that still matter: required
    /// steps of closing up and killing dates, as long as the winter lasts, are due on that day.
    pub began_on: Option<NaiveDate>,
}

/// Plans a season.
///
/// The same input gives the same plan, in whatever order its records come; nothing depends on today's date.
///
/// 1. A chore is made for each rule and target ([`super::Applies`]).
/// 2. Triggers are resolved against the climate, the limits of the plants and each other; windows are made
///    consistent.
/// 3. What the grower did is applied: dates counted from a chore follow the day on which it was done.
/// 4. Windows are made to agree with what must come first.
/// 5. The work is spread over the days the grower has, never past a killing date.
///
/// What does not fit together is reported in [`Plan::problems`] by name; the rest of the plan stands.
pub fn plan(input: &PlanInput<'_>) -> Plan {
    let mut problems = Vec::new();
    let scene = Scene::new(*input, &mut problems);
    let dates = ClimateDates::new(input.climate);
    let stages = stages(&scene, &dates);
    let marks = Marks::new(input.marks);
    let resolver = Resolver { scene: &scene, dates: &dates, stages: &stages };

    let mut undated = Vec::new();
    let drafter = Drafter { resolver: &resolver, marks: &marks, winter_ends_on: winter_end(input, &dates) };
    let mut drafts = drafter.drafts(&mut undated);
    if dates.knows_nights() {
        problems.append(&mut undated);
    } else {
        problems
            .push(PlanProblem { about: input.site.name.clone(), reason: Reason::new("problem-no-climate") });
    }
    problems.extend(began_late(&drafts, input.season, input.began_on));

    let order = link(&scene, &mut drafts);
    reconcile(&mut drafts, &order, &mut problems);
    let minutes: Vec<u32> = drafts.all.iter().map(|draft| minutes(&scene, draft)).collect();
    level(&mut drafts, &order, &scene, &minutes, &mut problems);
    problems.extend(moved_problems(&drafts));

    Plan {
        season: input.season.clone(),
        chores: chores(&scene, &drafts, &order, &minutes, &marks),
        bands: bands(input, &dates),
        stages: scene
            .stands
            .iter()
            .zip(&stages)
            .flat_map(|(stand, stages)| stages.spans(&stand.planting.id, input.season))
            .collect(),
        problems,
    }
}

/// The median last freeze: after it, nothing of the autumn's work matters any more. Without one, mid-season.
fn winter_end(input: &PlanInput<'_>, dates: &ClimateDates<'_>) -> NaiveDate {
    let season = input.season;
    dates
        .freeze(Event::LastSpring, 0.0, 0.5)
        .map_or(season.starts_on + Days::new(182), |day| day.date(season.start_year, input.site.hemisphere()))
}

/// Minutes for a target; a rule for plantings gives the minutes for one plant.
fn minutes(scene: &Scene<'_>, draft: &Draft<'_>) -> u32 {
    let count = match draft.at {
        At::Planting(index) => scene.stands[index].planting.count,
        At::Site | At::Shelter(_) | At::Zone(_) => 1,
    };
    draft.rule.minutes.saturating_mul(count)
}

fn chores(
    scene: &Scene<'_>,
    drafts: &Drafts<'_>,
    order: &[usize],
    minutes: &[u32],
    marks: &Marks<'_>,
) -> Vec<PlannedChore> {
    let kept: Vec<usize> = order.iter().copied().filter(|&index| !drafts.all[index].left_out).collect();
    let keys: BTreeSet<&str> = kept.iter().map(|&index| drafts.all[index].key.as_str()).collect();
    let gone = vanished(scene, marks, |key| keys.contains(key));
    let mut chores: Vec<PlannedChore> =
        kept.iter().map(|&index| chore(scene, drafts, index, minutes[index])).chain(gone).collect();
    // The sort is stable: chores of one day stay in the order of the work.
    chores.sort_by_key(|chore| chore.due_on);
    chores
}

fn chore(scene: &Scene<'_>, drafts: &Drafts<'_>, index: usize, minutes: u32) -> PlannedChore {
    let draft = &drafts.all[index];
    let rule = draft.rule;
    let moved = draft.moved.map(|to| Reason::new("reason-moved").with("date", Figure::Date(to)));
    PlannedChore {
        key: draft.key.clone(),
        rule: rule.key.clone(),
        title: draft.title.clone(),
        phase: rule.phase,
        target: scene.target(draft.at),
        window: draft.window,
        killing: draft.killing,
        due_on: draft.due_on,
        moved: draft.moved.is_some(),
        minutes,
        weather: rule.weather.clone(),
        why: rule.why.clone(),
        reasons: draft.why.iter().cloned().chain(moved).chain(draft.tail.iter().cloned()).collect(),
        proof: rule.proof.clone(),
        cautions: rule.cautions.clone(),
        after: draft.after.iter().map(|&other| drafts.all[other].key.clone()).collect(),
        required: rule.required,
        source: rule.source.clone(),
        state: draft.state.clone(),
    }
}

fn bands(input: &PlanInput<'_>, dates: &ClimateDates<'_>) -> Vec<Band> {
    let mut bands = Vec::new();
    for threshold_c in BAND_THRESHOLDS_C {
        for (kind, event) in
            [(BandKind::FirstAutumn, Event::FirstAutumn), (BandKind::LastSpring, Event::LastSpring)]
        {
            let date = |chance| {
                dates
                    .freeze(event, threshold_c, chance)
                    .map(|day| day.date(input.season.start_year, input.site.hemisphere()))
            };
            let Some(median) = date(0.5) else { continue };
            // Where fewer than nine winters in ten have the event, the open end stays at the median.
            let ends = [date(0.1).unwrap_or(median), date(0.9).unwrap_or(median)];
            let (from, to) = (ends[0].min(ends[1]), ends[0].max(ends[1]));
            bands.push(Band { kind, threshold_c, from, median, to });
        }
    }
    bands
}

#[cfg(test)]
#[path = "plan_test.rs"]
mod tests;
