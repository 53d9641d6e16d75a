//! One evening's outlook, tried on every shelter.

use hibernacle_contract::Failure;
use hibernacle_contract::night::{Alternative, NightHeat, ShelterNight, ZoneTonight};
use hibernacle_engine::plant::{PlantCatalogue, Planting};
use hibernacle_engine::shelter::night::{HeatPrice, NightCall, NightOutlook, ZoneLimit, night_call};
use hibernacle_engine::shelter::setup::{CoversUsed, HeaterOn, ShelterRecords, scenario};
use hibernacle_engine::shelter::tonight::{ACT_FROM, NightStep, READY_FROM, SetPoint, risk_at};
use hibernacle_engine::shelter::{Materials, Surroundings};
use hibernacle_engine::site::Site;
use hibernacle_engine::sun::Place;

use super::says;
use crate::house::{House, USUAL_HEATER, can_move};
use crate::problem::Problem;

/// Limit of a zone in which nothing stands: no night gets there.
const NO_LIMIT_C: f64 = -100.0;
/// Kelvin between on and off of a heater's thermostat.
const THERMOSTAT_BAND_K: f64 = 1.0;
/// Lowest setting in °C that a heater is run at.
const LOWEST_SETTING_C: f64 = -15.0;
/// Kelvin by which the grower's own setting is above the needed one to be worth a word.
const WORTH_SAYING_K: f64 = 0.5;

/// An evening: place, outlook and what surrounds the night.
pub(super) struct Evening<'a> {
    place: Place,
    materials: &'a Materials,
    surroundings: &'a Surroundings,
    outlook: NightOutlook,
    price_per_kwh: Option<f64>,
    heater_w: f64,
}

/// A shelter with its computed night, heater off and on.
struct Called<'h, 'a> {
    house: &'h House<'a>,
    is_covered: bool,
    call: NightCall,
}

impl<'a> Evening<'a> {
    pub(super) fn new(
        site: &Site,
        materials: &'a Materials,
        surroundings: &'a Surroundings,
        outlook: NightOutlook,
        price_per_kwh: Option<f64>,
    ) -> Result<Self, Failure> {
        let heater = materials.heaters.get(USUAL_HEATER).ok_or_else(|| {
            Problem::field("heater", "is missing in the catalogue of heaters", "mend the catalogue")
        })?;
        Ok(Self {
            place: Place::from(site),
            materials,
            surroundings,
            outlook,
            price_per_kwh,
            heater_w: heater.usual_rating_w,
        })
    }

    pub(super) fn usual_heater_w(&self) -> f64 {
        self.heater_w
    }

    /// The night of every shelter, in their order.
    pub(super) fn shelters(
        &self,
        houses: &[House<'_>],
        plants: &PlantCatalogue,
        is_covered: impl Fn(&House<'_>) -> bool,
    ) -> Vec<ShelterNight> {
        let tried: Vec<_> = houses
            .iter()
            .map(|house| {
                let is_covered = is_covered(house);
                self.call(house, is_covered, house.needed())
                    .map(|call| Called { house, is_covered, call })
                    .map_err(|problem| Box::new(failed(house, is_covered, problem)))
            })
            .collect();
        let called: Vec<&Called<'_, '_>> = tried.iter().filter_map(|night| night.as_ref().ok()).collect();
        tried
            .iter()
            .map(|night| match night {
                Ok(night) => self.night(night, &called, plants),
                Err(failed) => (**failed).clone(),
            })
            .collect()
    }

    /// Runs the night in a shelter, with its heater at a setting where it has one.
    fn call(&self, house: &House<'_>, covered: bool, set: Option<SetPoint>) -> Result<NightCall, String> {
        if house.zones.is_empty() {
            return Err("it has no zone; add one to say where in it your plants stand".to_owned());
        }
        let build = house.build(covered);
        let heater = set.filter(|_| house.shelter.has_heater).map(|set| HeaterOn {
            key: USUAL_HEATER.to_owned(),
            rating_w: self.heater_w,
            set_c: set.air_c.max(LOWEST_SETTING_C),
            band_k: THERMOSTAT_BAND_K,
            zone_id: house.zones.get(set.zone).map(|zone| zone.id.clone()),
            sensor_zone_id: None,
        });
        let records = ShelterRecords {
            shelter: house.shelter,
            build: &build,
            zones: &house.zones,
            plantings: house.plantings,
            heater: heater.as_ref(),
        };
        let covers = CoversUsed::AsOn(self.outlook.night_of);
        let ground = self.surroundings.ground;
        let scenario = scenario(self.place, &records, self.materials, ground, covers)
            .map_err(|error| error.to_string())?;
        let limits: Vec<ZoneLimit> = house
            .zones
            .iter()
            .zip(&house.limits)
            .map(|(zone, limit)| ZoneLimit {
                offset_k: zone.offset_k,
                limit_c: limit.as_ref().map_or(NO_LIMIT_C, |limit| limit.limit_c),
            })
            .collect();
        let price = HeatPrice { per_kwh: self.price_per_kwh.unwrap_or_default() };
        night_call(self.place, &scenario, &self.surroundings.recent, &self.outlook, &limits, price)
            .map_err(|error| error.to_string())
    }

    fn night(
        &self,
        night: &Called<'_, '_>,
        all: &[&Called<'_, '_>],
        plants: &PlantCatalogue,
    ) -> ShelterNight {
        let (house, call) = (night.house, &night.call);
        let zones = zones(night);
        let risk = zones.iter().filter_map(|zone| zone.risk).fold(0.0, f64::max);
        let step = NightStep::of(risk, house.shelter.has_heater);
        let set = house.needed();
        let laggard = set.map(|_| call.laggard);
        let heating = set.zip(call.heating.as_ref()).map(|(set, plan)| NightHeat {
            set_c: set.set_c,
            sensor_zone_id: house.zones[set.zone].id.clone(),
            rating_w: self.heater_w,
            full_h: plan.full_hours,
            heat_kwh: plan.heat_kwh,
            heat_90_kwh: plan.heat_90_kwh,
            cost: self.price_per_kwh.map(|_| plan.cost),
            risk: plan.risk,
        });
        let mut alternatives = Vec::new();
        if step != NightStep::Rest {
            alternatives.extend(self.cover(night, risk));
        }
        if step >= NightStep::Heat {
            alternatives.extend(self.lower_setting(night));
            alternatives.extend(moves(night, all, plants));
        }
        let mut shelter = ShelterNight {
            shelter_id: house.shelter.id.clone(),
            name: house.shelter.name.clone(),
            step,
            is_covered: night.is_covered,
            laggard_zone_id: laggard.and_then(|index| zones.get(index)).map(|zone| zone.zone_id.clone()),
            zones,
            heat_below_c: call.heat_below_c,
            heating,
            alternatives,
            reasons: Vec::new(),
            course: call.course.clone(),
            problem: None,
        };
        shelter.reasons = says::reasons(&shelter, &self.outlook);
        shelter
    }

    /// What the winter cover would do, where it is not on.
    fn cover(&self, night: &Called<'_, '_>, risk: f64) -> Option<Alternative> {
        if night.is_covered || night.house.cover().is_empty() {
            return None;
        }
        let covered = self.call(night.house, true, night.house.needed()).ok()?;
        let risk_covered = covered.zones.iter().map(|zone| zone.risk).fold(0.0, f64::max);
        let gain_k = covered.zones[covered.laggard].low_c - night.call.zones[covered.laggard].low_c;
        let saves_kwh = night.call.heating.as_ref().zip(covered.heating.as_ref());
        Some(says::cover_helps(
            night.house.shelter,
            gain_k,
            (risk, risk_covered),
            saves_kwh.map(|(bare, covered)| bare.heat_kwh - covered.heat_kwh),
        ))
    }

    /// What the grower's own, warmer setting takes beyond the needed one.
    fn lower_setting(&self, night: &Called<'_, '_>) -> Option<Alternative> {
        let (needed, meant) = (night.house.needed()?, night.house.meant()?);
        let heating = night.call.heating.as_ref()?;
        if meant.air_c < needed.air_c + WORTH_SAYING_K {
            return None;
        }
        let warmer = self.call(night.house, night.is_covered, Some(meant)).ok()?.heating?;
        Some(says::lower_setting(
            night.house.shelter,
            (needed.set_c, heating.heat_kwh),
            (meant.set_c, warmer.heat_kwh),
        ))
    }
}

fn zones(night: &Called<'_, '_>) -> Vec<ZoneTonight> {
    let heated = night.call.heating.as_ref().map(|plan| &plan.zone_low_c);
    let records = night.house.zones.iter().zip(&night.house.limits).enumerate();
    records
        .zip(&night.call.zones)
        .map(|((index, (zone, limit)), found)| ZoneTonight {
            zone_id: zone.id.clone(),
            name: zone.name.clone(),
            low_c: found.low_c,
            low_10_c: found.low_10_c,
            low_90_c: found.low_90_c,
            hold_k: found.hold_k,
            risk: limit.as_ref().map(|_| found.risk),
            heat_below_c: limit.as_ref().and(found.heat_below_c),
            limit: limit.clone(),
            heated_low_c: heated.and_then(|lows| lows.get(index)).copied(),
        })
        .collect()
}

/// Pots whose limit is in reach where they stand, by the mildest zone in which it is not.
fn moves(night: &Called<'_, '_>, all: &[&Called<'_, '_>], plants: &PlantCatalogue) -> Vec<Alternative> {
    let mut by_place: Vec<(String, f64, Vec<&str>)> = Vec::new();
    for (zone, low) in night.house.zones.iter().zip(&night.call.zones) {
        let here = |planting: &&Planting| planting.zone_id.as_ref() == Some(&zone.id) && can_move(planting);
        for planting in night.house.plantings.iter().filter(here) {
            let Some(plant) = plants.get(&planting.plant_key) else { continue };
            let limit_c = planting.winter_limit_c(plant);
            if risk_at(low, limit_c) < ACT_FROM {
                continue;
            }
            let Some((place, low_c)) = mildest(all, limit_c) else { continue };
            match by_place.iter_mut().find(|known| known.0 == place) {
                Some((_, _, labels)) => labels.push(&planting.label),
                None => by_place.push((place, low_c, vec![&planting.label])),
            }
        }
    }
    by_place.into_iter().map(|(place, low_c, labels)| says::move_to(place, low_c, &labels)).collect()
}

/// The mildest zone in which a limit is out of reach, with the low that nine nights of ten stay above.
fn mildest(all: &[&Called<'_, '_>], limit_c: f64) -> Option<(String, f64)> {
    all.iter()
        .flat_map(|night| {
            let zones = night.house.zones.iter().zip(&night.call.zones);
            zones.map(|(zone, low)| (night.house.shelter, zone, low))
        })
        .filter(|(_, _, low)| risk_at(low, limit_c) < READY_FROM)
        .max_by(|a, b| a.2.low_10_c.total_cmp(&b.2.low_10_c))
        .map(|(shelter, zone, low)| (format!("{}, {}", shelter.name, zone.name), low.low_10_c))
}

fn failed(house: &House<'_>, is_covered: bool, problem: String) -> ShelterNight {
    ShelterNight {
        shelter_id: house.shelter.id.clone(),
        name: house.shelter.name.clone(),
        step: NightStep::Rest,
        is_covered,
        zones: Vec::new(),
        laggard_zone_id: None,
        heat_below_c: None,
        heating: None,
        alternatives: Vec::new(),
        reasons: Vec::new(),
        course: Vec::new(),
        problem: Some(problem),
    }
}
