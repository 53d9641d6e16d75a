//! Checking and storing what is recorded about a shelter.

use hibernacle_contract::Failure;
use hibernacle_contract::shelter::{ShelterDetail, ShelterRef};
use hibernacle_engine::shelter::{Heater, Sensor, Shelter, ShelterBuild, Zone};
use hibernacle_store::{Reader, Writer};

use crate::Context;
use crate::problem::Problem;

use super::detail::detail;

/// Enters or changes how a shelter is built.
///
/// # Errors
/// Where a field cannot be used or the shelter does not exist.
pub fn shelter_build(context: &Context, build: ShelterBuild) -> Result<ShelterDetail, Failure> {
    context.write(|data| {
        self::build(context, data, &build)?;
        detail(context, data, &build.shelter_id)
    })
}

/// Forgets how a shelter is built, so that it counts as built as usual for its kind and size.
///
/// # Errors
/// Where the shelter does not exist.
pub fn build_usual(context: &Context, request: ShelterRef) -> Result<ShelterDetail, Failure> {
    context.write(|data| {
        data.forget_build(&existing(data, &request.shelter_id)?.id)?;
        detail(context, data, &request.shelter_id)
    })
}

/// Enters a heater (with an empty identifier) or changes one. Its shelter has a heater ready from then on.
///
/// # Errors
/// Where a field cannot be used, its shelter or zones do not exist, or the heater to change does not.
pub fn heater_save(context: &Context, heater: Heater) -> Result<Heater, Failure> {
    context.write(|data| self::heater(context, data, heater))
}

/// Enters a sensor (with an empty identifier) or changes one.
///
/// # Errors
/// Where a field cannot be used, its site or zone does not exist, or the sensor to change does not.
pub fn sensor_save(context: &Context, sensor: Sensor) -> Result<Sensor, Failure> {
    context.write(|data| self::sensor(context, data, sensor))
}

pub(crate) fn build(context: &Context, data: &Writer<'_>, build: &ShelterBuild) -> Result<(), Problem> {
    let shelter = existing(data, &build.shelter_id)?;
    build.check(&shelter, context.materials()?)?;
    data.put_build(build)?;
    if !build.covers.is_empty() && shelter.kind.takes_cover() && !shelter.has_cover {
        data.put_shelter(&Shelter { has_cover: true, ..shelter })?;
    }
    Ok(())
}

pub(crate) fn heater(context: &Context, data: &Writer<'_>, mut heater: Heater) -> Result<Heater, Problem> {
    heater.name = heater.name.trim().to_owned();
    let shelter = existing(data, &heater.shelter_id)?;
    heater.check(&shelter, context.materials()?)?;
    let zones = data.zones_of_shelter(&shelter.id)?;
    in_shelter("zone_id", heater.zone_id.as_deref(), &zones)?;
    in_shelter("sensor_zone_id", heater.sensor_zone_id.as_deref(), &zones)?;
    let mut former = None;
    if heater.id.is_empty() {
        heater.id = context.next_id();
    } else {
        let before = data.heater(&heater.id)?.ok_or_else(|| Problem::not_found("this heater"))?;
        if existing(data, &before.shelter_id)?.site_id != shelter.site_id {
            return Err(Problem::field(
                "shelter_id",
                "is a shelter at another site",
                "enter a new heater there and remove this one",
            ));
        }
        former = Some(before.shelter_id);
    }
    data.put_heater(&heater)?;
    flag_follows_heaters(data, &shelter.id)?;
    if let Some(former) = former.filter(|former| *former != shelter.id) {
        flag_follows_heaters(data, &former)?;
    }
    Ok(heater)
}

/// After a heater came or went: a shelter has a heater ready when it has recorded ones.
pub(crate) fn flag_follows_heaters(data: &Writer<'_>, shelter_id: &str) -> Result<(), Problem> {
    let Some(shelter) = data.shelter(shelter_id)? else { return Ok(()) };
    let has_heater = !data.heaters_of_shelter(shelter_id)?.is_empty();
    if has_heater != shelter.has_heater {
        data.put_shelter(&Shelter { has_heater, ..shelter })?;
    }
    Ok(())
}

pub(crate) fn sensor(context: &Context, data: &Writer<'_>, mut sensor: Sensor) -> Result<Sensor, Problem> {
    sensor.name = sensor.name.trim().to_owned();
    let shelter = match &sensor.zone_id {
        Some(zone_id) => match data.zone(zone_id)? {
            Some(zone) => data.shelter(&zone.shelter_id)?,
            None => None,
        },
        None => None,
    };
    sensor.check(shelter.as_ref())?;
    if data.site(&sensor.site_id)?.is_none() {
        return Err(Problem::field("site_id", "is no site that exists", "save the site first"));
    }
    let zone_site = shelter.as_ref().map(|shelter| &shelter.site_id);
    if sensor.zone_id.is_some() && zone_site != Some(&sensor.site_id) {
        return Err(Problem::field(
            "zone_id",
            "is no zone at this site",
            "choose one of the site's zones, or leave it out for outdoors",
        ));
    }
    if sensor.id.is_empty() {
        sensor.id = context.next_id();
    } else {
        let before = data.sensor(&sensor.id)?.ok_or_else(|| Problem::not_found("this sensor"))?;
        if before.site_id != sensor.site_id {
            return Err(Problem::field(
                "site_id",
                "would move the sensor to another site",
                "enter a new sensor there and remove this one",
            ));
        }
    }
    data.put_sensor(&sensor)?;
    Ok(sensor)
}

/// Whether a shelter with changed fields still fits what is recorded about it.
pub(crate) fn fits(context: &Context, data: &Reader<'_>, shelter: &Shelter) -> Result<(), Problem> {
    let heaters = data.heaters_of_shelter(&shelter.id)?;
    if let (Some(heater), false) = (heaters.first(), shelter.has_heater) {
        return Err(Problem::field(
            "has_heater",
            format!("is off, but “{}” is recorded in it", heater.name),
            "remove that heater first",
        ));
    }
    let materials = context.materials()?;
    let unfit = |what: String, error: &dyn std::fmt::Display| {
        Problem::field(
            "length_m",
            format!("and the other sizes no longer fit {what} ({error})"),
            "change that first, then the size",
        )
    };
    if let Some(build) = data.build(&shelter.id)? {
        if !shelter.has_cover && !build.covers.is_empty() && shelter.kind.takes_cover() {
            let problem = "is off, but winter covers are recorded in its build";
            return Err(Problem::field("has_cover", problem, "take the covers out of its build first"));
        }
        build.check(shelter, materials).map_err(|error| unfit("its build".to_owned(), &error))?;
    }
    for heater in heaters {
        let checked = heater.check(shelter, materials);
        checked.map_err(|error| unfit(format!("the place of “{}”", heater.name), &error))?;
    }
    let zones = data.zones_of_shelter(&shelter.id)?;
    for sensor in data.sensors(&shelter.site_id)? {
        if zones.iter().any(|zone| sensor.zone_id.as_ref() == Some(&zone.id)) {
            let checked = sensor.check(Some(shelter));
            checked.map_err(|error| unfit(format!("the place of “{}”", sensor.name), &error))?;
        }
    }
    for zone in zones {
        let checked = zone.outline.map_or(Ok(()), |outline| outline.check(shelter));
        checked.map_err(|error| unfit(format!("the drawing of “{}”", zone.name), &error))?;
    }
    Ok(())
}

fn existing(data: &Reader<'_>, shelter_id: &str) -> Result<Shelter, Problem> {
    data.shelter(shelter_id)?.ok_or_else(|| Problem::not_found("this shelter"))
}

fn in_shelter(field: &str, zone_id: Option<&str>, zones: &[Zone]) -> Result<(), Problem> {
    if zone_id.is_none_or(|id| zones.iter().any(|zone| zone.id == id)) {
        return Ok(());
    }
    Err(Problem::field(field, "is no zone of this shelter", "choose one of its zones, or leave it open"))
}
