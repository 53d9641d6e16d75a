//! One evening's outlook, tried on every shelter.

use hibernacle_contract::night::{Alternative, NightHeat, ShelterNight, ZoneTonight};
use hibernacle_engine::plant::{PlantCatalogue, Planting};
use hibernacle_engine::shelter::dynamic::Scenario;
use hibernacle_engine::shelter::night::{HeatPrice, NightCall, NightOutlook, ZoneLimit, night_call};
use hibernacle_engine::shelter::setup::{CoversUsed, ShelterRecords, scenario};
use hibernacle_engine::shelter::tonight::{ACT_FROM, NightStep, READY_FROM, SetPoint, risk_at};
use hibernacle_engine::shelter::{CoverOn, Materials, Surroundings};
use hibernacle_engine::site::Site;
use hibernacle_engine::sun::Place;

use super::doubt::Doubts;
use super::says;
use crate::heat::Prices;
use crate::house::{House, can_move};

/// Limit of a zone in which nothing stands: no night gets there.
const NO_LIMIT_C: f64 = -100.0;
/// Kelvin by which the grower's own setting is above the needed one to be worth a word.
const WORTH_SAYING_K: f64 = 0.5;

/// An evening: place, outlook and what surrounds the night.
pub(super) struct Evening<'a> {
    place: Place,
    materials: &'a Materials,
    surroundings: &'a Surroundings,
    outlook: NightOutlook,
    prices: Prices,
    doubts: &'a Doubts,
}

/// A shelter with its computed night, heater off and on.
struct Called<'h, 'a> {
    house: &'h House<'a>,
    covers: Vec<CoverOn>,
    call: NightCall,
}

impl<'a> Evening<'a> {
    pub(super) fn new(
        site: &Site,
        materials: &'a Materials,
        surroundings: &'a Surroundings,
        outlook: NightOutlook,
        prices: Prices,
        doubts: &'a Doubts,
    ) -> Self {
        Self { place: Place::from(site), materials, surroundings, outlook, prices, doubts }
    }

    /// The night of every shelter, in their order.
    pub(super) fn shelters(
        &self,
        houses: &[House<'_>],
        plants: &PlantCatalogue,
        covers_on: impl Fn(&House<'_>) -> Vec<CoverOn>,
    ) -> Vec<ShelterNight> {
        let tried: Vec<_> = houses
            .iter()
            .map(|house| {
                let covers = covers_on(house);
                match self.call(house, &covers, house.setting()) {
                    Ok(call) => Ok(Called { house, covers, call }),
                    Err(problem) => Err(Box::new(failed(house, !covers.is_empty(), problem))),
                }
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
    fn call(
        &self,
        house: &House<'_>,
        covers: &[CoverOn],
        set: Option<SetPoint>,
    ) -> Result<NightCall, String> {
        let scenario = self.scenario(house, covers, set)?;
        let outlook = NightOutlook { model_error_k: self.doubts.error_k(&house.shelter.id), ..self.outlook };
        let price = HeatPrice { per_kwh: self.price_of(house).unwrap_or_default() };
        let limits = self.limits(house);
        night_call(self.place, &scenario, &self.surroundings.recent, &outlook, &limits, price)
            .map_err(|error| error.to_string())
    }

    /// A shelter under these covers, ready to be run.
    pub(super) fn scenario(
        &self,
        house: &House<'_>,
        covers: &[CoverOn],
        set: Option<SetPoint>,
    ) -> Result<Scenario, String> {
        if house.zones.is_empty() {
            return Err("it has no zone; add one to say where in it your plants stand".to_owned());
        }
        let build = house.build(covers.to_vec());
        let heater = house.heat.as_ref().zip(set).map(|(heat, set)| heat.at(set, &house.zones));
        let records = ShelterRecords {
            shelter: house.shelter,
            build: &build,
            zones: &house.zones,
            plantings: house.plantings,
            heater: heater.as_ref(),
        };
        let covers = CoversUsed::AsOn(self.outlook.night_of);
        scenario(self.place, &records, self.materials, self.surroundings.ground, covers)
            .map_err(|error| error.to_string())
    }

    /// Every zone of a shelter with its limit, and its offset with what nights on record add to it.
    pub(super) fn limits(&self, house: &House<'_>) -> Vec<ZoneLimit> {
        let zones = house.zones.iter().zip(&house.limits);
        zones
            .map(|(zone, limit)| ZoneLimit {
                offset_k: zone.offset_k + self.doubts.bias_k(&zone.id),
                limit_c: limit.as_ref().map_or(NO_LIMIT_C, |limit| limit.limit_c),
            })
            .collect()
    }

    /// Money for a kWh of its heat; absent where no price is known.
    fn price_of(&self, house: &House<'_>) -> Option<f64> {
        house.heat.as_ref()?.cost_per_kwh(&self.prices)
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
        let step = NightStep::of(risk, house.heat.is_some());
        let laggard = house.needed().map(|_| call.laggard);
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
            is_covered: !night.covers.is_empty(),
            laggard_zone_id: laggard.and_then(|index| zones.get(index)).map(|zone| zone.zone_id.clone()),
            zones,
            heat_below_c: call.heat_below_c,
            heating: self.heating(night),
            alternatives,
            reasons: Vec::new(),
            course: call.course.clone(),
            problem: None,
        };
        shelter.reasons = says::reasons(&shelter, &self.outlook);
        let too_low = house.set().zip(house.needed()).filter(|(set, needed)| set.air_c < needed.air_c);
        if let Some((set, needed)) = too_low {
            shelter.reasons.push(says::set_too_low(house.shelter, set.set_c, needed.set_c));
        }
        shelter
    }

    /// What heating takes, at the setting that is reckoned with.
    fn heating(&self, night: &Called<'_, '_>) -> Option<NightHeat> {
        let house = night.house;
        let (heat, set, plan) = (house.heat.as_ref()?, house.setting()?, night.call.heating.as_ref()?);
        Some(NightHeat {
            set_c: set.set_c,
            sensor_zone_id: house.zones[set.zone].id.clone(),
            rating_w: heat.rating_w,
            full_h: plan.full_hours,
            heat_kwh: plan.heat_kwh,
            heat_90_kwh: plan.heat_90_kwh,
            fuels: heat.fuels(plan.heat_kwh),
            cost: self.price_of(house).map(|_| plan.cost),
            risk: plan.risk,
        })
    }

    /// What the winter cover would do, where not all of it is on.
    fn cover(&self, night: &Called<'_, '_>, risk: f64) -> Option<Alternative> {
        let all = night.house.covers();
        if night.covers.len() >= all.len() {
            return None;
        }
        let covered = self.call(night.house, &all, night.house.setting()).ok()?;
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
        let house = night.house;
        let (needed, reckoned) = (house.needed()?, house.setting()?);
        let kept = house.set().or_else(|| house.meant())?;
        if kept.air_c < needed.air_c + WORTH_SAYING_K {
            return None;
        }
        let heat_kwh = |set: SetPoint| {
            if set == reckoned {
                return Some(night.call.heating.as_ref()?.heat_kwh);
            }
            Some(self.call(house, &night.covers, Some(set)).ok()?.heating?.heat_kwh)
        };
        Some(says::lower_setting(
            house.shelter,
            (needed.set_c, heat_kwh(needed)?),
            (kept.set_c, heat_kwh(kept)?),
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
            low_slope: found.low_slope,
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
