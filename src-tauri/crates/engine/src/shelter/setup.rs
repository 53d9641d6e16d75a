//! From a grower's records to a shelter that can be run.

use chrono::{DateTime, Duration, NaiveDate, NaiveTime, Utc};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::dynamic::{Heating, MOST_ZONES, Phase, Scenario, Vent, ZoneLoad};
use super::{CoverOn, Envelope, GroundWave, Materials, Medium, Shelter, ShelterBuild, Zone};
use crate::field::{FieldError, within};
use crate::plant::{Container, Planting};
use crate::sun::Place;

/// Share of the floor under leaves in a winter store of pots.
const USUAL_CANOPY: f64 = 0.2;
/// Litres of a pot where none is known.
const USUAL_POT_L: f64 = 10.0;

/// A heater that stands ready in a shelter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HeaterOn {
    /// Key in the table of heaters.
    pub key: String,
    /// Heat output in W.
    pub rating_w: f64,
    /// Temperature in °C at the sensor at which it turns on.
    pub set_c: f64,
    /// Kelvin between on and off.
    pub band_k: f64,
    /// Zone in which it stands; absent for the first.
    pub zone_id: Option<String>,
    /// Zone in which its sensor hangs; absent for the heater's own.
    pub sensor_zone_id: Option<String>,
}

/// Which covers count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoversUsed {
    /// Those of the build, each from its first day to its last.
    ByDate,
    /// Those of the build that are on at a date, all the time.
    AsOn(NaiveDate),
    /// None.
    Bare,
}

/// Everything a grower has recorded about a shelter that its heat depends on.
#[derive(Debug, Clone, Copy)]
pub struct ShelterRecords<'a> {
    /// The shelter.
    pub shelter: &'a Shelter,
    /// Its build, [`ShelterBuild::usual`] where nothing was entered.
    pub build: &'a ShelterBuild,
    /// Its zones; none means one zone that is the whole shelter.
    pub zones: &'a [Zone],
    /// Plantings, of which those in its zones count.
    pub plantings: &'a [Planting],
    /// The heater, when one may run.
    pub heater: Option<&'a HeaterOn>,
}

/// The scenario of a shelter, zones in the order of the records.
///
/// * `place` — where; covers change at its midnight by the mean sun
/// * `records` — what is recorded
/// * `materials` — catalogue
/// * `ground` — yearly wave of the ground
/// * `covers` — which covers count
///
/// # Errors
/// The first field that cannot be used.
pub fn scenario(
    place: Place,
    records: &ShelterRecords<'_>,
    materials: &Materials,
    ground: GroundWave,
    covers: CoversUsed,
) -> Result<Scenario, FieldError> {
    let envelope = |on: &[CoverOn]| Envelope::of(records.shelter, records.build, materials, on);
    let on_at = |date: NaiveDate| -> Vec<CoverOn> {
        records.build.covers.iter().filter(|c| c.is_on(date)).cloned().collect()
    };
    let phases = match covers {
        CoversUsed::Bare => vec![Phase { from: DateTime::<Utc>::MIN_UTC, envelope: envelope(&[])? }],
        CoversUsed::AsOn(date) => {
            vec![Phase { from: DateTime::<Utc>::MIN_UTC, envelope: envelope(&on_at(date))? }]
        }
        CoversUsed::ByDate => {
            let mut changes: Vec<NaiveDate> = records
                .build
                .covers
                .iter()
                .flat_map(|c| [c.from, c.to.map(|to| to + Duration::days(1))])
                .flatten()
                .collect();
            changes.sort_unstable();
            changes.dedup();
            let before = changes.first().map_or(NaiveDate::MIN, |first| *first - Duration::days(1));
            let mut phases =
                vec![Phase { from: DateTime::<Utc>::MIN_UTC, envelope: envelope(&on_at(before))? }];
            for date in changes {
                let from = date.and_time(NaiveTime::MIN).and_utc()
                    - Duration::seconds((place.longitude_deg * 240.0) as i64);
                phases.push(Phase { from, envelope: envelope(&on_at(date))? });
            }
            phases
        }
    };
    Ok(Scenario {
        phases,
        zones: zone_loads(records)?,
        floor: Medium::LOAM,
        ground,
        canopy: USUAL_CANOPY,
        elevation_m: place.elevation_m,
        heating: records.heater.map(|heater| heating(heater, records.zones, materials)).transpose()?,
        vent: Some(Vent { opens_above_c: 20.0 }),
        stirred: false,
    })
}

fn zone_loads(records: &ShelterRecords<'_>) -> Result<Vec<ZoneLoad>, FieldError> {
    if records.zones.is_empty() {
        return Ok(vec![ZoneLoad::EMPTY]);
    }
    if records.zones.len() > MOST_ZONES {
        let problem = format!("are {}, more than the heat model carries", records.zones.len());
        return Err(FieldError::new("zones", problem, "merge zones that share their air, down to eight"));
    }
    for (index, zone) in records.zones.iter().enumerate() {
        let field = format!("zones[{index}].area_m2");
        within(&field, zone.area_m2, 0.01, 10_000.0, "enter the area on which plants stand")?;
    }
    let all_m2: f64 = records.zones.iter().map(|z| z.area_m2).sum();
    Ok(records
        .zones
        .iter()
        .map(|zone| {
            let pots: Vec<(f64, f64)> = records
                .plantings
                .iter()
                .filter(|p| p.zone_id.as_deref() == Some(zone.id.as_str()))
                .filter_map(|p| match p.container {
                    Container::Pot { volume_l } => Some((f64::from(p.count) * volume_l, f64::from(p.count))),
                    Container::Ground | Container::Lifted => None,
                })
                .collect();
            let (pots_l, count) = pots.iter().fold((0.0, 0.0), |(l, n), pot| (l + pot.0, n + pot.1));
            ZoneLoad {
                floor_share: zone.area_m2 / all_m2,
                pots_l,
                typical_pot_l: if count > 0.0 { pots_l / count } else { USUAL_POT_L },
                water_l: zone.water_l,
                ..ZoneLoad::EMPTY
            }
        })
        .collect())
}

fn heating(heater: &HeaterOn, zones: &[Zone], materials: &Materials) -> Result<Heating, FieldError> {
    let Some(kind) = materials.heaters.get(&heater.key) else {
        let problem = format!("“{}” is not in the catalogue", heater.key);
        return Err(FieldError::new("heater.key", problem, "choose one of the listed heaters"));
    };
    within("heater.rating_w", heater.rating_w, 1.0, 100_000.0, "enter the heat output in watts")?;
    within("heater.set_c", heater.set_c, -15.0, 30.0, "enter the thermostat's setting")?;
    within("heater.band_k", heater.band_k, 0.0, 10.0, "enter the kelvin between on and off")?;
    let index = |id: &Option<String>, field: &str, otherwise: usize| match id {
        None => Ok(otherwise),
        Some(id) => zones.iter().position(|z| z.id == *id).ok_or_else(|| {
            FieldError::new(field, "names a zone of another shelter", "choose a zone of this shelter")
        }),
    };
    let zone = index(&heater.zone_id, "heater.zone_id", 0)?;
    Ok(Heating {
        rating_w: heater.rating_w,
        set_c: heater.set_c,
        band_k: heater.band_k,
        zone,
        sensor_zone: index(&heater.sensor_zone_id, "heater.sensor_zone_id", zone)?,
        stirs_air: kind.stirs_air,
        water_kg_per_kwh: kind.water_kg_per_kwh,
    })
}

#[cfg(test)]
#[path = "setup_test.rs"]
mod tests;
