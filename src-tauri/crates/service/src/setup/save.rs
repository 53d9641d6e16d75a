//! Checking and storing the records of a set-up, inside whatever transaction is going on.

use hibernacle_engine::plant::Planting;
use hibernacle_engine::shelter::{Light, Shelter, ShelterKind, Zone};
use hibernacle_engine::site::Site;
use hibernacle_store::{Reader, Writer};

use crate::problem::Problem;
use crate::{Context, lookup, plants};

pub(crate) fn site(context: &Context, data: &Writer<'_>, mut site: Site) -> Result<Site, Problem> {
    trim(&mut site.name);
    site.check()?;
    if site.id.is_empty() {
        site.id = context.next_id();
    } else {
        lookup::site(data, &site.id)?;
    }
    data.put_site(&site)?;
    lookup::note_use(data, &site.id)?;
    Ok(site)
}

pub(crate) fn shelter(
    context: &Context,
    data: &Writer<'_>,
    mut shelter: Shelter,
) -> Result<Shelter, Problem> {
    trim(&mut shelter.name);
    shelter.check()?;
    existing_site(data, &shelter.site_id)?;
    if shelter.id.is_empty() {
        shelter.id = context.next_id();
        data.put_shelter(&shelter)?;
        data.put_zone(&first_zone(&shelter, context.next_id()))?;
    } else {
        let before = data.shelter(&shelter.id)?.ok_or_else(|| Problem::not_found("this shelter"))?;
        keep_site("shelter", &before.site_id, &shelter.site_id)?;
        crate::shelter::fits(context, data, &shelter)?;
        data.put_shelter(&shelter)?;
    }
    Ok(shelter)
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
        outline: None,
        water_l: 0.0,
    }
}

pub(crate) fn zone(context: &Context, data: &Writer<'_>, mut zone: Zone) -> Result<Zone, Problem> {
    trim(&mut zone.name);
    zone.check()?;
    let shelter = data.shelter(&zone.shelter_id)?.ok_or_else(|| {
        Problem::field(
            "shelter_id",
            "is no shelter that exists",
            "save the shelter first, then choose it for this zone",
        )
    })?;
    if let Some(outline) = &zone.outline {
        outline.check(&shelter)?;
    }
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
}

pub(crate) fn planting(
    context: &Context,
    data: &Writer<'_>,
    mut planting: Planting,
) -> Result<Planting, Problem> {
    trim(&mut planting.label);
    planting.check()?;
    existing_site(data, &planting.site_id)?;
    if !plants::is_known(context, data, &planting.plant_key)? {
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
