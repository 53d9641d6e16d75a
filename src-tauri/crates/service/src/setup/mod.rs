//! Set-up: the site, its shelters, zones and plantings.

mod demo;
mod prices;
mod removal;
pub(crate) mod save;

use hibernacle_contract::Failure;
use hibernacle_contract::setup::{NextStep, Overview, OverviewRequest, SiteName};
use hibernacle_engine::plant::Planting;
use hibernacle_engine::shelter::{Shelter, Zone};
use hibernacle_engine::site::Site;

use crate::{Context, climate, lookup};

pub use demo::demo_load;
pub use prices::{prices, prices_save};
pub use removal::{remove, restore};

/// Everything that is set up at a site, and the next step towards a plan.
///
/// # Errors
/// Where the site asked for does not exist, or the data cannot be read.
pub fn overview(context: &Context, request: OverviewRequest) -> Result<Overview, Failure> {
    let asked_for = request.site_id.as_deref();
    let (overview, is_noted) = context.read(|data| {
        let sites: Vec<SiteName> =
            data.sites()?.into_iter().map(|site| SiteName { id: site.id, name: site.name }).collect();
        let Some(site) = lookup::site_or_last_used(data, asked_for)? else {
            return Ok((empty(sites), true));
        };
        let climate = climate::summary(context, data, &site)?;
        let (shelters, zones) = (data.shelters(&site.id)?, data.zones(&site.id)?);
        let plantings = data.plantings(&site.id)?;
        let next_step = if climate.is_none() {
            Some(NextStep::Climate)
        } else if shelters.is_empty() {
            Some(NextStep::Shelter)
        } else if plantings.is_empty() {
            Some(NextStep::Plants)
        } else {
            None
        };
        let is_noted = asked_for.is_none() || lookup::is_last_used(data, &site.id)?;
        Ok((Overview { site: Some(site), sites, climate, shelters, zones, plantings, next_step }, is_noted))
    })?;
    if let Some(site) = &overview.site
        && !is_noted
    {
        context.write(|data| lookup::note_use(data, &site.id))?;
    }
    Ok(overview)
}

fn empty(sites: Vec<SiteName>) -> Overview {
    Overview {
        site: None,
        sites,
        climate: None,
        shelters: Vec::new(),
        zones: Vec::new(),
        plantings: Vec::new(),
        next_step: Some(NextStep::Site),
    }
}

/// Enters a site (with an empty identifier) or changes one.
///
/// # Errors
/// Where a field cannot be used or the site to change does not exist.
pub fn site_save(context: &Context, site: Site) -> Result<Site, Failure> {
    context.write(|data| save::site(context, data, site))
}

/// Enters a shelter (with an empty identifier) or changes one. A new shelter comes with a first zone that fills it.
///
/// # Errors
/// Where a field cannot be used, or the shelter to change or its site does not exist.
pub fn shelter_save(context: &Context, shelter: Shelter) -> Result<Shelter, Failure> {
    context.write(|data| save::shelter(context, data, shelter))
}

/// Enters a zone (with an empty identifier) or changes one.
///
/// # Errors
/// Where a field cannot be used, its shelter does not exist, or the zone to change does not.
pub fn zone_save(context: &Context, zone: Zone) -> Result<Zone, Failure> {
    context.write(|data| save::zone(context, data, zone))
}

/// Enters a planting (with an empty identifier) or changes one.
///
/// # Errors
/// Where a field cannot be used, its plant, zone or site does not exist, or the planting to change does not.
pub fn planting_save(context: &Context, planting: Planting) -> Result<Planting, Failure> {
    context.write(|data| save::planting(context, data, planting))
}
