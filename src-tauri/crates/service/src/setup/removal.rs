//! Removing things, and bringing them back.

use hibernacle_contract::setup::{Item, ItemKind, Removed};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_store::{NewRemoval, Reader, Removal, RemovedKind};

use crate::problem::Problem;
use crate::shelter::flag_follows_heaters;
use crate::{Context, plants};

/// Removes a thing with what belongs to it. Plantings of a removed zone stay, without a winter place.
///
/// # Errors
/// Where the thing does not exist.
pub fn remove(context: &Context, item: Item) -> Result<Removed, Failure> {
    context.write(|data| {
        let name = name_of(data, &item)?;
        let removal_id = context.next_id();
        let heated = heater_shelter(data, &item)?;
        data.remove(&NewRemoval {
            id: &removal_id,
            kind: stored_kind(item.kind),
            item_id: &item.id,
            name: &name,
            at_utc: context.now_utc(),
        })?;
        if let Some(shelter_id) = heated {
            flag_follows_heaters(data, &shelter_id)?;
        }
        Ok(Removed { item, name, removal_id })
    })
}

/// Brings back everything that a removal took, with the places that plantings had. A planting that was given
/// another place since keeps that one.
///
/// # Errors
/// [`ErrorCode::Conflict`] where it was restored before, or what it belongs to is not there any more.
pub fn restore(context: &Context, removed: Removed) -> Result<Item, Failure> {
    context.write(|data| {
        let removal = data.removal(&removed.removal_id)?.ok_or_else(|| Problem::not_found("this removal"))?;
        let name = &removal.name;
        if removal.restored_at_utc.is_some() {
            return Err(conflict(format!("“{name}” was restored before; nothing was changed")));
        }
        data.restore(&removal.id, context.now_utc())?;
        let site_id = site_of(data, &removal)?;
        let catalogue = plants::catalogue(context, data)?;
        for planting in data.plantings(&site_id)? {
            if catalogue.get(&planting.plant_key).is_none() {
                return Err(conflict(format!(
                    "“{name}” cannot be restored: the plant “{}” of “{}” is no longer in the catalogue; \
                     enter it again first",
                    planting.plant_key, planting.label
                )));
            }
        }
        let item = Item { kind: item_kind(removal.kind), id: removal.item_id };
        if let Some(shelter_id) = heater_shelter(data, &item)? {
            flag_follows_heaters(data, &shelter_id)?;
        }
        Ok(item)
    })
}

/// The shelter of a heater; absent for anything else.
fn heater_shelter(data: &Reader<'_>, item: &Item) -> Result<Option<String>, Problem> {
    match item.kind {
        ItemKind::Heater => Ok(data.heater(&item.id)?.map(|heater| heater.shelter_id)),
        _ => Ok(None),
    }
}

/// The site of what was just restored; refuses where something above it is removed.
fn site_of(data: &Reader<'_>, removal: &Removal) -> Result<String, Problem> {
    let id = &removal.item_id;
    let parent_gone = |parent: &str| {
        conflict(format!(
            "“{}” cannot be restored: the {parent} it belongs to is removed; restore that first",
            removal.name
        ))
    };
    let site_id = match removal.kind {
        RemovedKind::Site => Some(id.clone()),
        RemovedKind::Shelter => data.shelter(id)?.map(|shelter| shelter.site_id),
        RemovedKind::Planting => data.planting(id)?.map(|planting| planting.site_id),
        RemovedKind::Zone => {
            let zone = data.zone(id)?.ok_or_else(|| Problem::not_found("this zone"))?;
            let shelter = data.shelter(&zone.shelter_id)?.ok_or_else(|| parent_gone("shelter"))?;
            Some(shelter.site_id)
        }
        RemovedKind::Heater => {
            let heater = data.heater(id)?.ok_or_else(|| Problem::not_found("this heater"))?;
            let shelter = data.shelter(&heater.shelter_id)?.ok_or_else(|| parent_gone("shelter"))?;
            Some(shelter.site_id)
        }
        RemovedKind::Sensor => {
            let sensor = data.sensor(id)?.ok_or_else(|| Problem::not_found("this sensor"))?;
            if let Some(zone_id) = &sensor.zone_id {
                data.zone(zone_id)?.ok_or_else(|| parent_gone("zone"))?;
            }
            Some(sensor.site_id)
        }
    };
    let site = match site_id {
        Some(site_id) => data.site(&site_id)?,
        None => None,
    };
    Ok(site.ok_or_else(|| parent_gone("site"))?.id)
}

fn conflict(message: String) -> Problem {
    Problem::new(ErrorCode::Conflict, message)
}

fn name_of(data: &Reader<'_>, item: &Item) -> Result<String, Problem> {
    let (name, what) = match item.kind {
        ItemKind::Site => (data.site(&item.id)?.map(|site| site.name), "this site"),
        ItemKind::Shelter => (data.shelter(&item.id)?.map(|shelter| shelter.name), "this shelter"),
        ItemKind::Zone => (data.zone(&item.id)?.map(|zone| zone.name), "this zone"),
        ItemKind::Planting => (data.planting(&item.id)?.map(|planting| planting.label), "this planting"),
        ItemKind::Heater => (data.heater(&item.id)?.map(|heater| heater.name), "this heater"),
        ItemKind::Sensor => (data.sensor(&item.id)?.map(|sensor| sensor.name), "this sensor"),
    };
    name.ok_or_else(|| Problem::not_found(what))
}

fn stored_kind(kind: ItemKind) -> RemovedKind {
    match kind {
        ItemKind::Site => RemovedKind::Site,
        ItemKind::Shelter => RemovedKind::Shelter,
        ItemKind::Zone => RemovedKind::Zone,
        ItemKind::Planting => RemovedKind::Planting,
        ItemKind::Heater => RemovedKind::Heater,
        ItemKind::Sensor => RemovedKind::Sensor,
    }
}

fn item_kind(kind: RemovedKind) -> ItemKind {
    match kind {
        RemovedKind::Site => ItemKind::Site,
        RemovedKind::Shelter => ItemKind::Shelter,
        RemovedKind::Zone => ItemKind::Zone,
        RemovedKind::Planting => ItemKind::Planting,
        RemovedKind::Heater => ItemKind::Heater,
        RemovedKind::Sensor => ItemKind::Sensor,
    }
}
