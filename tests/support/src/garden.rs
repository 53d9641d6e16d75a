//! A small garden that is set up through the service, as a grower would do it.

use hibernacle_contract::climate::TypedClimateRequest;
use hibernacle_contract::plants::PlantListRequest;
use hibernacle_engine::plant::Planting;
use hibernacle_engine::shelter::{Shelter, Zone};
use hibernacle_engine::site::Site;
use hibernacle_service::{Context, climate, plants, setup};

use crate::SimulatedClock;

/// One site with a greenhouse of two zones, a cellar, four plantings and typed averages as its climate.
pub struct Garden {
    /// The data, in memory.
    pub context: Context,
    /// Its clock.
    pub clock: SimulatedClock,
    /// The site, in the time zone Europe/Vienna.
    pub site: Site,
    /// A greenhouse with cover and heater.
    pub greenhouse: Shelter,
    /// Its warmer zone.
    pub floor: Zone,
    /// Its colder zone, by 1.5 K.
    pub corner: Zone,
    /// An unheated cellar.
    pub cellar: Shelter,
    /// Its only zone.
    pub shelf: Zone,
    /// A lemon in a pot on the floor.
    pub lemon: Planting,
    /// An olive in a pot in the corner.
    pub olive: Planting,
    /// Lifted dahlia tubers in the cellar.
    pub dahlia: Planting,
    /// A pomegranate in a pot whose winter place is undecided.
    pub pomegranate: Planting,
}

impl Garden {
    /// The garden in memory, with the clock at an instant (`2026-08-20T08:00:00Z`).
    ///
    /// # Panics
    /// When the service refuses a part of it.
    pub fn at(instant: &str) -> Self {
        let clock = SimulatedClock::at(instant);
        Self::in_context(sure(Context::in_memory(clock.clone())), clock)
    }

    /// The garden in data that the test opened itself.
    ///
    /// # Panics
    /// When the service refuses a part of it.
    pub fn in_context(context: Context, clock: SimulatedClock) -> Self {
        let site = sure(setup::site_save(&context, draft::site()));
        let typed = TypedClimateRequest { site_id: site.id.clone(), typed: draft::averages() };
        sure(climate::climate_type(&context, typed));
        let greenhouse = sure(setup::shelter_save(&context, draft::greenhouse(&site.id)));
        let floor = first_zone(&context, &greenhouse);
        let corner = sure(setup::zone_save(&context, draft::corner(&greenhouse.id)));
        let cellar = sure(setup::shelter_save(&context, draft::cellar(&site.id)));
        let shelf = first_zone(&context, &cellar);
        let plant = |draft| sure(setup::planting_save(&context, draft));
        let lemon = plant(draft::pot(&site.id, "citrus-limon", "old lemon", Some(&floor.id)));
        let olive = plant(draft::pot(&site.id, "olea-europaea", "olive", Some(&corner.id)));
        let dahlia = plant(draft::lifted(&site.id, "dahlia", "red dahlias", Some(&shelf.id)));
        let pomegranate = plant(draft::pot(&site.id, "punica-granatum", "pomegranate", None));
        Self {
            context,
            clock,
            site,
            greenhouse,
            floor,
            corner,
            cellar,
            shelf,
            lemon,
            olive,
            dahlia,
            pomegranate,
        }
    }
}

impl Garden {
    /// Adds so many plantings, of every plant of the catalogue in turn and in every zone.
    ///
    /// # Panics
    /// When the service refuses one of them.
    pub fn crowd(&self, plantings: usize) {
        let plants = sure(plants::plant_list(&self.context, PlantListRequest {})).plants;
        for number in 0..plantings {
            let zone = [&self.floor.id, &self.corner.id, &self.shelf.id][number % 3];
            let key = &plants[number % plants.len()].key;
            let planting = draft::pot(&self.site.id, key, &format!("pot {number}"), Some(zone));
            sure(setup::planting_save(&self.context, planting));
        }
    }
}

/// The zone that a new shelter comes with.
#[expect(clippy::expect_used, reason = "a new shelter comes with a zone")]
fn first_zone(context: &Context, shelter: &Shelter) -> Zone {
    let request = hibernacle_contract::setup::OverviewRequest { site_id: Some(shelter.site_id.clone()) };
    let zones = sure(setup::overview(context, request)).zones;
    zones.into_iter().find(|zone| zone.shelter_id == shelter.id).expect("a new shelter comes with a zone")
}

#[expect(clippy::panic, reason = "a garden that cannot be set up fails the test")]
fn sure<T>(result: Result<T, hibernacle_contract::Failure>) -> T {
    result.unwrap_or_else(|failure| panic!("the garden could not be set up: {failure}"))
}

/// Records as a form would send them, without identifiers of their own.
pub mod draft {
    use chrono::{NaiveDate, Weekday};
    use hibernacle_engine::climate::TypedClimate;
    use hibernacle_engine::plant::{Container, Planting};
    use hibernacle_engine::shelter::circuit::Circuit;
    use hibernacle_engine::shelter::{Heater, Light, Sensor, Shelter, ShelterKind, Zone};
    use hibernacle_engine::site::{LengthUnit, Site, TemperatureUnit, Units, VolumeUnit, WorkTime};

    /// A site in a cold inland valley.
    pub fn site() -> Site {
        Site {
            id: String::new(),
            name: "lower terrace".to_owned(),
            latitude_deg: 47.7,
            longitude_deg: 13.1,
            elevation_m: 470.0,
            time_zone: "Europe/Vienna".to_owned(),
            currency: "EUR".to_owned(),
            units: Units {
                temperature: TemperatureUnit::Celsius,
                length: LengthUnit::Metre,
                volume: VolumeUnit::Litre,
            },
            work: WorkTime { days: vec![Weekday::Sat, Weekday::Sun], hours_per_day: 4.0 },
        }
    }

    /// A site on the southern half of the earth, in New Zealand's time zone.
    pub fn southern_site() -> Site {
        Site {
            name: "southern terrace".to_owned(),
            latitude_deg: -45.0,
            longitude_deg: 169.0,
            time_zone: "Pacific/Auckland".to_owned(),
            currency: "NZD".to_owned(),
            ..site()
        }
    }

    /// Averages that suit a cold inland valley of the northern half.
    pub fn averages() -> TypedClimate {
        let day = |month, day| NaiveDate::from_ymd_opt(2026, month, day).unwrap_or_default();
        TypedClimate { first_freeze: day(10, 14), last_freeze: day(5, 4), annual_minimum_c: -16.0 }
    }

    /// Averages that suit a cold inland valley of the southern half.
    pub fn southern_averages() -> TypedClimate {
        let day = |month, day| NaiveDate::from_ymd_opt(2026, month, day).unwrap_or_default();
        TypedClimate { first_freeze: day(4, 20), last_freeze: day(10, 30), annual_minimum_c: -8.0 }
    }

    /// A greenhouse of 3.0 × 4.2 m with cover and heater.
    pub fn greenhouse(site_id: &str) -> Shelter {
        Shelter {
            id: String::new(),
            site_id: site_id.to_owned(),
            name: "greenhouse".to_owned(),
            kind: ShelterKind::Greenhouse,
            length_m: 4.2,
            width_m: 3.0,
            height_m: 2.4,
            has_cover: true,
            has_heater: true,
        }
    }

    /// An unheated cellar.
    pub fn cellar(site_id: &str) -> Shelter {
        Shelter {
            name: "cellar".to_owned(),
            kind: ShelterKind::Cellar,
            has_cover: false,
            has_heater: false,
            ..greenhouse(site_id)
        }
    }

    /// The cold corner of a shelter.
    pub fn corner(shelter_id: &str) -> Zone {
        Zone {
            id: String::new(),
            shelter_id: shelter_id.to_owned(),
            name: "north corner".to_owned(),
            area_m2: 1.8,
            light: Light::Bright,
            offset_k: -1.5,
            kept_above_c: None,
            outline: None,
            water_l: 0.0,
        }
    }

    /// A wired fan heater of 2 kW on a guarded circuit of 230 V and 16 A, its setting left to the night call.
    pub fn heater(shelter_id: &str) -> Heater {
        Heater {
            id: String::new(),
            shelter_id: shelter_id.to_owned(),
            name: "fan heater".to_owned(),
            key: "fan-electric".to_owned(),
            rating_w: 2000.0,
            set_c: None,
            band_k: 1.0,
            zone_id: None,
            sensor_zone_id: None,
            is_portable: false,
            has_shield: true,
            spot: None,
            faces_deg: None,
            circuit: Some(Circuit {
                volts: 230.0,
                breaker_a: 16.0,
                other_load_w: 0.0,
                has_residual_current_device: true,
                cord: None,
            }),
        }
    }

    /// A sensor in a zone or outdoors.
    pub fn sensor(site_id: &str, zone_id: Option<&str>) -> Sensor {
        Sensor {
            id: String::new(),
            site_id: site_id.to_owned(),
            name: "logger".to_owned(),
            zone_id: zone_id.map(str::to_owned),
            spot: None,
            height_m: Some(0.5),
        }
    }

    /// One plant in a pot of 30 L.
    pub fn pot(site_id: &str, plant_key: &str, label: &str, zone_id: Option<&str>) -> Planting {
        Planting {
            id: String::new(),
            site_id: site_id.to_owned(),
            plant_key: plant_key.to_owned(),
            label: label.to_owned(),
            count: 1,
            container: Container::Pot { volume_l: 30.0 },
            zone_id: zone_id.map(str::to_owned),
            own_limit_c: None,
            footprint_m2: None,
        }
    }

    /// Eight tubers that are lifted and stored without soil.
    pub fn lifted(site_id: &str, plant_key: &str, label: &str, zone_id: Option<&str>) -> Planting {
        Planting { count: 8, container: Container::Lifted, ..pot(site_id, plant_key, label, zone_id) }
    }
}
