//! The plan of a season, computed from what is stored and kept until the data changes.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::climate::Basis;
use hibernacle_engine::field::within;
use hibernacle_engine::season::{Plan, PlanInput, PlannedChore, Season, plan};
use hibernacle_engine::shelter::{Shelter, Zone};
use hibernacle_engine::site::Site;
use hibernacle_store::Reader;

use crate::problem::Problem;
use crate::{Context, climate, lookup, plants};

/// A season's plan with the records it was made from.
pub(crate) struct Planned {
    pub(crate) site: Site,
    pub(crate) shelters: Vec<Shelter>,
    pub(crate) zones: Vec<Zone>,
    pub(crate) basis: Basis,
    pub(crate) plan: Arc<Plan>,
}

impl Planned {
    /// The name of a zone with that of its shelter.
    pub(crate) fn zone_name(&self, zone: &Zone) -> String {
        match self.shelters.iter().find(|shelter| shelter.id == zone.shelter_id) {
            Some(shelter) => format!("{}, {}", shelter.name, zone.name),
            None => zone.name.clone(),
        }
    }

    /// A chore by its key.
    pub(crate) fn chore(&self, key: &str) -> Result<&PlannedChore, Problem> {
        self.plan.chores.iter().find(|chore| chore.key == key).ok_or_else(|| {
            Problem::new(
                ErrorCode::NotFound,
                format!(
                    "the plan of {} has no chore “{key}” (any more); open it again",
                    self.plan.season.name
                ),
            )
        })
    }
}

/// Plans by site and start year, with the revision of the data they were made from. Each is worth some
/// megabytes at most, so only a few are kept.
#[derive(Default)]
pub(crate) struct Plans(Mutex<HashMap<SiteSeason, Kept>>);

/// A site with the year in which a season starts.
type SiteSeason = (String, i32);

/// A plan with the revision of the data that it was made from.
type Kept = (i64, Arc<Planned>);

/// Plans that are kept.
const KEPT: usize = 4;

impl Plans {
    fn get(&self, site_id: &str, start_year: i32, revision: i64) -> Option<Arc<Planned>> {
        let kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let (made_from, planned) = kept.get(&(site_id.to_owned(), start_year))?;
        (*made_from == revision).then(|| Arc::clone(planned))
    }

    fn keep(&self, revision: i64, planned: &Arc<Planned>) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if kept.len() >= KEPT {
            kept.clear();
        }
        let key = (planned.site.id.clone(), planned.plan.season.start_year);
        kept.insert(key, (revision, Arc::clone(planned)));
    }
}

/// The plan of a site's season that starts in a year, or that today falls in. A season under way that was never
/// planned before begins on today's date.
pub(crate) fn of_season(
    context: &Context,
    site_id: &str,
    start_year: Option<i32>,
) -> Result<Arc<Planned>, Failure> {
    let (season, today, begins) = context.read(|data| {
        let site = lookup::site(data, site_id)?;
        let today = lookup::today_at(context, &site)?;
        let season = match start_year {
            Some(year) => {
                within(
                    "start_year",
                    year.into(),
                    1900.0,
                    2200.0,
                    "enter the year in which the season starts",
                )?;
                Season::starting(year, site.hemisphere())
            }
            None => Season::containing(today, site.hemisphere()),
        };
        // A site without a climate has no plan, so its season does not begin either.
        let begins = today <= season.ends_on
            && data.season(site_id, season.start_year)?.is_none()
            && climate::of_site(context, data, &site)?.is_some();
        Ok((season, today, begins))
    })?;
    if begins {
        context.write(|data| Ok(data.begin_season(site_id, season.start_year, today)?))?;
    }
    context.read(|data| on_record(context, data, site_id, &season))
}

/// The plan of a season as the data stands.
pub(crate) fn on_record(
    context: &Context,
    data: &Reader<'_>,
    site_id: &str,
    season: &Season,
) -> Result<Arc<Planned>, Problem> {
    let revision = data.revision()?;
    if let Some(planned) = context.plans().get(site_id, season.start_year, revision) {
        return Ok(planned);
    }
    let site = lookup::site(data, site_id)?;
    let climate = climate::of_site(context, data, &site)?.ok_or_else(|| climate::missing(&site))?;
    let (shelters, zones) = (data.shelters(site_id)?, data.zones(site_id)?);
    let plan = plan(&PlanInput {
        site: &site,
        shelters: &shelters,
        zones: &zones,
        plantings: &data.plantings(site_id)?,
        plants: &plants::catalogue(context, data)?,
        climate: &climate.climate,
        rules: context.rules()?,
        season,
        marks: &data.standing_marks(site_id, season.start_year)?,
        began_on: data.season(site_id, season.start_year)?.map(|stored| stored.began_on),
    });
    let basis = climate.climate.basis().clone();
    let planned = Arc::new(Planned { site, shelters, zones, basis, plan: Arc::new(plan) });
    context.plans().keep(revision, &planned);
    Ok(planned)
}
