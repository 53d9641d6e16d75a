//! Set-up: the site, its shelters, zones and plantings.

mod demo;
mod removal;

use hibernacle_contract::Failure;
use hibernacle_contract::setup::{NextStep, Overview, OverviewRequest, SiteName};
use hibernacle_engine::plant::Planting;
use hibernacle_engine::shelter::{Light, Shelter, ShelterKind, Zone};
use hibernacle_engine::site::Site;
use hibernacle_store::Reader;

use crate::problem::Problem;
use crate::{Context, climate, lookup, plants};

pub use demo::demo_load;
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
pub fn site_save(context: &Context, mut site: Site) -> Result<Site, Failure> {
    trim(&mut site.name);
    site.check()?;
    context.write(|data| {
        if site.id.is_empty() {
            site.id = context.next_id();
        } else {
            lookup::site(data, &site.id)?;
        }
        data.put_site(&site)?;
        lookup::note_use(data, &site.id)?;
        Ok(site)
    })
}

/// Enters a shelter (with an empty identifier) or changes one. A new shelter comes with a first zone that fills it.
///
/// # Errors
/// Where a field cannot be used, or the shelter to change or its site does not exist.
pub fn shelter_save(context: &Context, mut shelter: Shelter) -> Result<Shelter, Failure> {
    trim(&mut shelter.name);
    shelter.check()?;
    context.write(|data| {
        existing_site(data, &shelter.site_id)?;
        if shelter.id.is_empty() {
            shelter.id = context.next_id();
            data.put_shelter(&shelter)?;
            data.put_zone(&first_zone(&shelter, context.next_id()))?;
        } else {
            let before = data.shelter(&shelter.id)?.ok_or_else(|| Problem::not_found("this shelter"))?;
            keep_site("shelter", &before.site_id, &shelter.site_id)?;
            data.put_shelter(&shelter)?;
        }
        Ok(shelter)
    })
}

/// The zone that a new shelter begins with: all of its floor, with the daylight usual for its kind.
fn first_zone(shelter: &Shelter, id: String) -> Zone {
    let name = match shelter.kind {
        ShelterKind::ColdFrame | ShelterKind::WrappedBed => "bed",
        _ => "floor",
    };
    let light = match shelter.kind {
        ShelterKind::Greenhouse | ShelterKind::ColdFrame | ShelterKind::Porch | ShelterKind::WrappedBed => {
            Light::Bright
        }
        ShelterKind::Room => Light::Dim,
        ShelterKind::Garage | ShelterKind::Cellar => Light::Dark,
    };
    Zone {
        id,
        shelter_id: shelter.id.clone(),
        name: name.to_owned(),
        area_m2: shelter.length_m * shelter.width_m,
        light,
        offset_k: 0.0,
        kept_above_c: None,
    }
}

/// Enters a zone (with an empty identifier) or changes one.
///
/// # Errors
/// Where a field cannot be used, its shelter does not exist, or the zone to change does not.
pub fn zone_save(context: &Context, mut zone: Zone) -> Result<Zone, Failure> {
    trim(&mut zone.name);
    zone.check()?;
    context.write(|data| {
        let shelter = data.shelter(&zone.shelter_id)?.ok_or_else(|| {
            Problem::field(
                "shelter_id",
                "is no shelter that exists",
                "save the shelter first, then choose it for this zone",
            )
        })?;
        if zone.id.is_empty() {
            zone.id = context.next_id();
        } else {
            let before = data.zone(&zone.id)?.ok_or_else(|| Problem::not_found("this zone"))?;
            let former = data.shelter(&before.shelter_id)?;
            let former_site = former.map_or_else(String::new, |former| former.site_id);
            if former_site != shelter.site_id {
                return Err(Problem::field(
                    "shelter_id",
                    "is a shelter at another site",
                    "choose one of the site that the zone belongs to",
                ));
            }
        }
        data.put_zone(&zone)?;
        Ok(zone)
    })
}

/// Enters a planting (with an empty identifier) or changes one.
///
/// # Errors
/// Where a field cannot be used, its plant, zone or site does not exist, or the planting to change does not.
pub fn planting_save(context: &Context, mut planting: Planting) -> Result<Planting, Failure> {
    trim(&mut planting.label);
    planting.check()?;
    context.write(|data| {
        existing_site(data, &planting.site_id)?;
        if plants::catalogue(context, data)?.get(&planting.plant_key).is_none() {
            return Err(Problem::field(
                "plant_key",
                format!("“{}” is not in the catalogue", planting.plant_key),
                "choose a plant from the list or enter one of your own",
            ));
        }
        if let Some(zone_id) = &planting.zone_id {
            let zone_site = match data.zone(zone_id)? {
                Some(zone) => data.shelter(&zone.shelter_id)?.map(|shelter| shelter.site_id),
                None => None,
            };
            if zone_site.as_deref() != Some(&planting.site_id) {
                return Err(Problem::field(
                    "zone_id",
                    "is no zone at this site",
                    "choose one of the site's zones, or leave the winter place open",
                ));
            }
        }
        if planting.id.is_empty() {
            planting.id = context.next_id();
        } else {
            let before = data.planting(&planting.id)?.ok_or_else(|| Problem::not_found("this planting"))?;
            keep_site("planting", &before.site_id, &planting.site_id)?;
        }
        data.put_planting(&planting)?;
        Ok(planting)
    })
}

fn trim(text: &mut String) {
    *text = text.trim().to_owned();
}

fn existing_site(data: &Reader<'_>, site_id: &str) -> Result<(), Problem> {
    match data.site(site_id)? {
        Some(_) => Ok(()),
        None => Err(Problem::field("site_id", "is no site that exists", "save the site first")),
    }
}

fn keep_site(what: &str, before: &str, after: &str) -> Result<(), Problem> {
    if before == after {
        return Ok(());
    }
    Err(Problem::field(
        "site_id",
        format!("would move the {what} to another site"),
        format!("enter a new {what} there and remove this one"),
    ))
}
