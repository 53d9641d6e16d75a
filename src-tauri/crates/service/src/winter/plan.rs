//! From a request and the records to set-ups and winters that can be run without the data.

use chrono::{Datelike, NaiveDate};
use hibernacle_contract::ErrorCode;
use hibernacle_contract::Failure;
use hibernacle_contract::night::ZoneLimitSet;
use hibernacle_contract::shelter::LossTotal;
use hibernacle_contract::winter::{SetUp, SetUpHeater, WinterRequest};
use hibernacle_contract::wording::Wording;
use hibernacle_engine::field::{FieldError, filled, within};
use hibernacle_engine::plant::Planting;
use hibernacle_engine::season::{Figure, Reason};
use hibernacle_engine::shelter::dynamic::Scenario;
use hibernacle_engine::shelter::night::ZoneLimit;
use hibernacle_engine::shelter::setup::{CoversUsed, HeaterOn, ShelterRecords, scenario};
use hibernacle_engine::shelter::steady::{DesignNight, HeatLoss};
use hibernacle_engine::shelter::tonight::SetPoint;
use hibernacle_engine::shelter::winter::site_draws;
use hibernacle_engine::shelter::{
    CoverOn, Envelope, GroundWave, HeaterKind, Materials, Shelter, ShelterBuild, Surroundings, Zone,
};
use hibernacle_engine::site::{Hemisphere, Site};
use hibernacle_engine::sun::Place;
use hibernacle_engine::sun::irradiance::Facing;

use super::usual::Usual;
use super::weather::{Winter, Winters};
use crate::climate::{self, SiteClimate};
use crate::heat::Prices;
use crate::house::{House, SiteRecords};
use crate::problem::Problem;
use crate::{Context, lookup};

/// Most winters of a run.
const MOST_WINTERS: u32 = 60;
/// Draws where nobody says how many, and the most.
const USUAL_DRAWS: u32 = 20;
const MOST_DRAWS: u32 = 200;
/// Most set-ups of a run.
const MOST_SET_UPS: usize = 16;
/// Standard deviation in kelvin of how a garden differs from its station (common practice, no source).
pub(super) const SITE_ERROR_K: f64 = 1.0;
/// Standard deviation in kelvin of what the model misses, as in the night call.
pub(super) const MODEL_ERROR_K: f64 = 1.5;
/// Limit of a zone in which nothing stands: no night gets there.
const NO_LIMIT_C: f64 = -100.0;
/// Kelvin between on and off of a heater's thermostat.
const THERMOSTAT_BAND_K: f64 = 1.0;
/// Settings in °C that a heater can be run at.
const SETTINGS_C: (f64, f64) = (-15.0, 30.0);
/// Temperature in °C held in a design night where nothing is heated for.
const FROST_FREE_C: f64 = 2.0;
/// Depth in m at which earth lies behind earth-side walls, in the middle.
const EARTH_DEPTH_M: f64 = 1.0;

/// A set-up made ready.
pub(super) struct Prepared {
    pub(super) set_up: SetUp,
    pub(super) kind: Option<HeaterKind>,
    heater: Option<HeaterOn>,
    /// Thermostat setting in °C as read at the sensor.
    pub(super) set_c: Option<f64>,
    pub(super) design: Option<LossTotal>,
}

/// Everything a run needs.
pub(super) struct Plan {
    pub(super) site: Site,
    pub(super) shelter: Shelter,
    pub(super) zones: Vec<Zone>,
    pub(super) limits: Vec<Option<ZoneLimitSet>>,
    pub(super) set_ups: Vec<Prepared>,
    pub(super) winters: Vec<Winter>,
    pub(super) shifts_k: Vec<f64>,
    pub(super) prices: Prices,
    pub(super) reasons: Vec<Reason>,
    /// What was taken for what is not recorded.
    pub(super) assumed: Vec<Reason>,
    pub(super) place: Place,
    pub(super) facings: Vec<Facing>,
    plantings: Vec<Planting>,
    build: ShelterBuild,
    pub(super) materials: Materials,
    ground: GroundWave,
}

impl Plan {
    /// Checks a request against the records and gathers what a run needs of them.
    pub(super) fn new(context: &Context, request: &WinterRequest) -> Result<Self, Failure> {
        check(request)?;
        let materials = context.materials()?;
        context.read(|data| {
            let shelter =
                data.shelter(&request.shelter_id)?.ok_or_else(|| Problem::not_found("this shelter"))?;
            let site = lookup::site(data, &shelter.site_id)?;
            let climate = climate::usable(context, data, &site)?;
            let records = SiteRecords::read(context, data, &site.id)?;
            let house = records.house_of(&shelter.id, materials)?;
            if house.zones.is_empty() {
                let message = format!(
                    "{} has no zone, so there is nothing to watch over the winter; add one to say where in it your \
                     plants stand",
                    shelter.name
                );
                return Err(Problem::new(ErrorCode::Conflict, message));
            }
            let build = house.recorded().clone();
            let place = Place::from(&site);
            let most = request.winters.unwrap_or(MOST_WINTERS) as usize;
            let winters = match &request.weather {
                Some(file) => Winters::of_file(file, place, most)?,
                None => Winters::of_climate(climate.as_deref(), &site, most)?,
            };
            let set_ups = if request.set_ups.is_empty() {
                let wording = Wording::new("en", site.units);
                Usual { house: &house, materials, wording: &wording }.set_ups()
            } else {
                request.set_ups.clone()
            };
            let surroundings = Surroundings::of(
                site.latitude_deg,
                climate.as_ref().map(|known| &known.climate),
                climate.as_ref().map_or(&[], |known| &known.days),
                lookup::today_at(context, &site)?,
                0.0,
            );
            let bare = Envelope::of(&shelter, &build, materials, &[])?;
            let error_k = SITE_ERROR_K.hypot(MODEL_ERROR_K);
            let draws = request.draws.unwrap_or(USUAL_DRAWS) as usize;
            let mut plan = Self {
                facings: bare.elements.iter().map(|element| element.facing).collect(),
                set_ups: Vec::new(),
                winters: winters.winters,
                shifts_k: site_draws(0.0, error_k, draws),
                prices: records.prices.clone(),
                reasons: winters.reasons,
                assumed: assumed(&house),
                zones: house.zones.clone(),
                limits: house.limits.clone(),
                plantings: records.plantings.clone(),
                materials: materials.clone(),
                ground: surroundings.ground,
                build,
                place,
                shelter: shelter.clone(),
                site,
            };
            let outside_c = climate.as_deref().and_then(SiteClimate::design_low_c);
            for (index, set_up) in set_ups.into_iter().enumerate() {
                let prepared = plan
                    .prepare(set_up, &house, outside_c)
                    .map_err(|error| FieldError { field: format!("set_ups[{index}].{}", error.field), ..error })?;
                plan.set_ups.push(prepared);
            }
            Ok(plan)
        })
    }

    /// Winters to simulate, all draws and set-ups counted.
    pub(super) fn total(&self) -> u32 {
        (self.winters.len() * self.shifts_k.len() * self.set_ups.len()) as u32
    }

    /// Offset and limit of every zone.
    pub(super) fn zone_limits(&self) -> Vec<ZoneLimit> {
        let zones = self.zones.iter().zip(&self.limits);
        zones
            .map(|(zone, limit)| ZoneLimit {
                offset_k: zone.offset_k,
                limit_c: limit.as_ref().map_or(NO_LIMIT_C, |limit| limit.limit_c),
            })
            .collect()
    }

    /// The shelter under a set-up in the winter that starts in a year.
    pub(super) fn scenario(&self, set_up: &Prepared, start_year: i32) -> Result<Scenario, FieldError> {
        let covers = moved_to(&set_up.set_up.covers, start_year, self.site.hemisphere());
        let build = ShelterBuild { covers, ..self.build.clone() };
        let records = ShelterRecords {
            shelter: &self.shelter,
            build: &build,
            zones: &self.zones,
            plantings: &self.plantings,
            heater: set_up.heater.as_ref(),
        };
        scenario(self.place, &records, &self.materials, self.ground, CoversUsed::ByDate)
    }

    fn prepare(
        &self,
        set_up: SetUp,
        house: &House<'_>,
        outside_c: Option<f64>,
    ) -> Result<Prepared, FieldError> {
        filled("name", &set_up.name, "give the set-up a name to know it by")?;
        if !set_up.covers.is_empty() && !self.shelter.kind.takes_cover() {
            let mend = "leave the covers out: they belong on glass, frames and wrapped beds";
            return Err(FieldError::new("covers", "are put on a room inside a building", mend));
        }
        ShelterBuild { covers: set_up.covers.clone(), ..self.build.clone() }
            .check(&self.shelter, &self.materials)?;
        let kind = set_up.heater.as_ref().map(|heater| check_heater(heater, &self.materials)).transpose()?;
        let needed = house.needed();
        let set = set_up.heater.as_ref().and_then(|heater| setting(heater, needed, &self.zones));
        let heater = set_up.heater.as_ref().zip(set).map(|(heater, set)| standing(heater, set, house));
        let inside_c = set.or(needed).map_or(FROST_FREE_C, |set| set.air_c);
        let design = outside_c.map(|low_c| self.design(&set_up, inside_c, low_c)).transpose()?;
        Ok(Prepared { set_c: heater.as_ref().and(set).map(|set| set.set_c), kind, heater, design, set_up })
    }

    /// The loss in a design night, with all covers on that are on at midwinter.
    fn design(&self, set_up: &SetUp, inside_c: f64, outside_c: f64) -> Result<LossTotal, FieldError> {
        let year = self.winters.first().map_or(2000, |winter| winter.start_year);
        let midwinter = match self.site.hemisphere() {
            Hemisphere::Northern => NaiveDate::from_ymd_opt(year + 1, 1, 15),
            Hemisphere::Southern => NaiveDate::from_ymd_opt(year, 7, 15),
        };
        let covers: Vec<CoverOn> = moved_to(&set_up.covers, year, self.site.hemisphere())
            .into_iter()
            .filter(|cover| midwinter.is_none_or(|date| cover.is_on(date)))
            .collect();
        let envelope = Envelope::of(&self.shelter, &self.build, &self.materials, &covers)?;
        let night = DesignNight {
            inside_c,
            outside_c,
            earth_c: self.ground.temp_c(EARTH_DEPTH_M, self.ground.coldest_day),
            elevation_m: self.site.elevation_m,
        };
        let loss = HeatLoss::of(&envelope, &night)?;
        Ok(LossTotal {
            to_outdoors_w_per_k: loss.to_outdoors_w_per_k,
            loss_w: loss.heat_w,
            heater_w: loss.heater_size().output_w,
        })
    }
}

fn check(request: &WinterRequest) -> Result<(), FieldError> {
    let within = |field: &str, value: Option<u32>, most: u32, mend: &str| {
        value.map_or(Ok(()), |value| within(field, f64::from(value), 1.0, f64::from(most), mend))
    };
    within("winters", request.winters, MOST_WINTERS, "ask for one winter to sixty")?;
    within("draws", request.draws, MOST_DRAWS, "ask for one draw to two hundred")?;
    if request.set_ups.len() > MOST_SET_UPS {
        let problem = format!("has {} entries, more than {MOST_SET_UPS}", request.set_ups.len());
        return Err(FieldError::new("set_ups", problem, "compare fewer at a time"));
    }
    Ok(())
}

fn check_heater(heater: &SetUpHeater, materials: &Materials) -> Result<HeaterKind, FieldError> {
    let Some(kind) = materials.heaters.get(&heater.key) else {
        let problem = format!("“{}” is not in the catalogue", heater.key);
        return Err(FieldError::new("heater.key", problem, "choose one of the listed heaters"));
    };
    within(
        "heater.rating_w",
        heater.rating_w,
        1.0,
        100_000.0,
        "enter the heat output in watts, or leave the heater out",
    )?;
    if let Some(set_c) = heater.set_c {
        within("heater.set_c", set_c, SETTINGS_C.0, SETTINGS_C.1, "enter the thermostat's setting")?;
    }
    Ok(kind.clone())
}

/// The setting asked for, read in the zone that needs the warmest air; else what the plants need.
fn setting(heater: &SetUpHeater, needed: Option<SetPoint>, zones: &[Zone]) -> Option<SetPoint> {
    let Some(set_c) = heater.set_c else { return needed };
    let zone = needed.map_or(0, |set| set.zone);
    let offset_k = zones.get(zone).map_or(0.0, |zone| zone.offset_k);
    Some(SetPoint { zone, set_c, air_c: set_c - offset_k })
}

/// A set-up's heater at a setting, where the recorded one stands and has its sensor.
fn standing(heater: &SetUpHeater, set: SetPoint, house: &House<'_>) -> HeaterOn {
    let zone_id = house.zones.get(set.zone).map(|zone| zone.id.clone());
    let usual = HeaterOn {
        key: heater.key.clone(),
        rating_w: heater.rating_w,
        set_c: set.air_c,
        band_k: THERMOSTAT_BAND_K,
        zone_id: zone_id.clone(),
        sensor_zone_id: zone_id,
    };
    let set_c = set.air_c.clamp(SETTINGS_C.0, SETTINGS_C.1);
    let place = house.heat.as_ref().map_or_else(|| usual.clone(), |heat| heat.at(set, &house.zones));
    HeaterOn { key: usual.key, rating_w: usual.rating_w, set_c, ..place }
}

/// What was taken for what is not recorded, as the night call says it.
fn assumed(house: &House<'_>) -> Vec<Reason> {
    let said = |message: &str| Reason::new(message).with("place", Figure::Text(house.shelter.name.clone()));
    let build = house.is_usual_build.then(|| said("night-assumed-build"));
    let heater = house.heat.as_ref().and_then(|heat| {
        let message = match heat.recorded.len() {
            0 => "night-assumed-heater",
            1 => return None,
            _ => "night-assumed-heaters-together",
        };
        Some(said(message).with("power", Figure::PowerW(heat.rating_w)))
    });
    build.into_iter().chain(heater).collect()
}

/// Covers with their dates in the winter that starts in a year, whatever winter they were entered for.
fn moved_to(covers: &[CoverOn], start_year: i32, hemisphere: Hemisphere) -> Vec<CoverOn> {
    covers
        .iter()
        .map(|cover| {
            let entered = cover.from.or(cover.to).map(|date| hemisphere.season_year(date));
            let moved = |date: NaiveDate| {
                let year = date.year() + start_year - entered.unwrap_or(start_year);
                // 29 February of a year without one.
                date.with_year(year).or_else(|| NaiveDate::from_ymd_opt(year, 2, 28))
            };
            CoverOn { from: cover.from.and_then(moved), to: cover.to.and_then(moved), ..cover.clone() }
        })
        .collect()
}
