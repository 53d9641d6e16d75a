//! What is due today.

use std::collections::HashMap;

use chrono::{Datelike, Days, NaiveDate};
use hibernacle_contract::Failure;
use hibernacle_contract::today::{Today, TodayGroup, TodayRequest};
use hibernacle_engine::field::within;
use hibernacle_engine::season::{ChoreState, PlannedChore, Season, TargetKind};
use hibernacle_engine::sun;

use crate::planned::{self, Planned};
use crate::problem::Problem;
use crate::{Context, lookup};

/// How far "soon" reaches.
const SOON_DAYS: u64 = 7;

/// What is late, due and coming up, place by place.
///
/// # Errors
/// Where no site was saved yet, or the site has no climate.
pub fn today(context: &Context, request: TodayRequest) -> Result<Today, Failure> {
    let asked_for = request.site_id.as_deref();
    let (site, is_noted) = context.read(|data| {
        let site = lookup::site_in_use(data, asked_for)?;
        let is_noted = asked_for.is_none() || lookup::is_last_used(data, &site.id)?;
        Ok((site, is_noted))
    })?;
    if !is_noted {
        context.write(|data| lookup::note_use(data, &site.id))?;
    }
    let (date, night_of) = match request.on {
        Some(date) => (date, date),
        None => (lookup::today_at(context, &site)?, lookup::night_at(context, &site)?),
    };
    within("on", date.year().into(), 1900.0, 2200.0, "choose a day of this or a neighbouring season")?;
    let start_year = Season::containing(date, site.hemisphere()).start_year;
    let planned = planned::of_season(context, &site.id, Some(start_year))?;
    let sun_day = sun::day(site.latitude_deg, site.longitude_deg, site.elevation_m, date)
        .map_err(|error| Problem::field("on", error.to_string(), "choose another day"))?;
    let groups = groups(&planned, date);
    let is_free = groups.iter().all(|group| group.late.is_empty() && group.due.is_empty());
    Ok(Today {
        date,
        night_of,
        season: planned.plan.season.clone(),
        sunset_utc: sun_day.sunset_utc,
        day_length_h: sun_day.day_length_h,
        settled: planned
            .plan
            .chores
            .iter()
            .filter(|chore| settled_on(chore) == Some(date))
            .cloned()
            .collect(),
        next: if is_free { next_after(&planned, date).cloned() } else { None },
        groups,
    })
}

fn settled_on(chore: &PlannedChore) -> Option<NaiveDate> {
    match &chore.state {
        ChoreState::Open => None,
        ChoreState::Done { on } | ChoreState::Skipped { on, .. } => Some(*on),
    }
}

fn next_after(planned: &Planned, date: NaiveDate) -> Option<&PlannedChore> {
    let open = planned.plan.chores.iter().filter(|chore| chore.state == ChoreState::Open);
    open.filter(|chore| chore.due_on > date).min_by_key(|chore| chore.due_on)
}

/// Open chores by place; places with late chores first, then in the order of their next chore.
fn groups(planned: &Planned, date: NaiveDate) -> Vec<TodayGroup> {
    let soon_until = date.checked_add_days(Days::new(SOON_DAYS)).unwrap_or(NaiveDate::MAX);
    let mut groups: Vec<TodayGroup> = Vec::new();
    let mut index: HashMap<Option<&str>, usize> = HashMap::new();
    let newest = newest_rounds(planned, date);
    for chore in planned.plan.chores.iter().filter(|chore| chore.state == ChoreState::Open) {
        let is_overtaken =
            round(chore).is_some_and(|(base, number)| number < newest.get(base).copied().unwrap_or(0));
        if chore.due_on > soon_until || is_overtaken {
            continue;
        }
        let place_id = place_of(chore);
        let at = *index.entry(place_id).or_insert_with(|| {
            groups.push(TodayGroup {
                place: place_name(planned, place_id),
                place_id: place_id.map(str::to_owned),
                late: Vec::new(),
                due: Vec::new(),
                soon: Vec::new(),
            });
            groups.len() - 1
        });
        let group = &mut groups[at];
        if deadline(chore) < date {
            group.late.push(chore.clone());
        } else if chore.due_on <= date {
            group.due.push(chore.clone());
        } else {
            group.soon.push(chore.clone());
        }
    }
    groups.sort_by_key(|group| (group.late.is_empty(), group.due.is_empty()));
    groups
}

/// A chore that comes again: what its rounds have in common, and its number.
fn round(chore: &PlannedChore) -> Option<(&str, u32)> {
    let (base, number) = chore.key.rsplit_once('#')?;
    Some((base, number.parse().ok()?))
}

/// For chores that come again, the newest round whose day has come or that was settled. Earlier rounds that were
/// missed are not worth doing any more.
fn newest_rounds(planned: &Planned, date: NaiveDate) -> HashMap<&str, u32> {
    let mut newest = HashMap::new();
    for chore in
        planned.plan.chores.iter().filter(|chore| chore.due_on <= date || settled_on(chore).is_some())
    {
        if let Some((base, number)) = round(chore) {
            let known = newest.entry(base).or_insert(number);
            *known = number.max(*known);
        }
    }
    newest
}

/// The day after which a chore is late: the end of its window, or the day that the grower chose beyond it, unless
/// plants die in between.
fn deadline(chore: &PlannedChore) -> NaiveDate {
    let latest = chore.window.latest;
    if chore.moved && !chore.killing { latest.max(chore.due_on) } else { latest }
}

/// The zone a chore belongs to, else the shelter; absent for the site as a whole.
fn place_of(chore: &PlannedChore) -> Option<&str> {
    let target = &chore.target;
    match target.kind {
        TargetKind::Site => None,
        TargetKind::Shelter | TargetKind::Zone => Some(&target.id),
        TargetKind::Planting => target.zone_id.as_deref().or(target.shelter_id.as_deref()),
    }
}

fn place_name(planned: &Planned, place_id: Option<&str>) -> String {
    let Some(id) = place_id else { return planned.site.name.clone() };
    let zone = planned.zones.iter().find(|zone| zone.id == id);
    let shelter = || planned.shelters.iter().find(|shelter| shelter.id == id);
    match zone {
        Some(zone) => planned.zone_name(zone),
        None => shelter().map_or_else(|| planned.site.name.clone(), |shelter| shelter.name.clone()),
    }
}
