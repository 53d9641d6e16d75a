//! Rows to store.

use chrono::{DateTime, NaiveDate, Utc, Weekday};
use hibernacle_engine::plant::{Container, Planting};
use hibernacle_engine::shelter::circuit::Circuit;
use hibernacle_engine::shelter::{Heater, Light, Sensor, Shelter, ShelterKind, Spot, Zone};
use hibernacle_engine::site::{LengthUnit, Site, TemperatureUnit, Units, VolumeUnit, WorkTime};
use hibernacle_store::{Store, StoreError, Writer};

pub(crate) fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

pub(crate) fn instant(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

pub(crate) fn site(id: &str) -> Site {
    Site {
        id: id.to_owned(),
        name: "Larch Bank".to_owned(),
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
        work: WorkTime { days: vec![Weekday::Sat, Weekday::Sun], hours_per_day: 3.5 },
    }
}

pub(crate) fn shelter(id: &str, site_id: &str) -> Shelter {
    Shelter {
        id: id.to_owned(),
        site_id: site_id.to_owned(),
        name: "gable greenhouse".to_owned(),
        kind: ShelterKind::Greenhouse,
        length_m: 4.2,
        width_m: 3.0,
        height_m: 2.4,
        has_cover: true,
        has_heater: true,
    }
}

pub(crate) fn zone(id: &str, shelter_id: &str) -> Zone {
    Zone {
        id: id.to_owned(),
        shelter_id: shelter_id.to_owned(),
        name: "north corner".to_owned(),
        area_m2: 2.1,
        light: Light::Dim,
        offset_k: -1.5,
        kept_above_c: Some(-4.0),
        outline: None,
        water_l: 0.0,
    }
}

pub(crate) fn planting(id: &str, site_id: &str, zone_id: Option<&str>) -> Planting {
    Planting {
        id: id.to_owned(),
        site_id: site_id.to_owned(),
        plant_key: "citrus-limon".to_owned(),
        label: "old lemon".to_owned(),
        count: 1,
        container: Container::Pot { volume_l: 35.0 },
        zone_id: zone_id.map(str::to_owned),
        own_limit_c: None,
        footprint_m2: Some(0.3),
    }
}

pub(crate) fn heater(id: &str, shelter_id: &str, zone_id: Option<&str>) -> Heater {
    Heater {
        id: id.to_owned(),
        shelter_id: shelter_id.to_owned(),
        name: "fan heater".to_owned(),
        key: "fan-electric".to_owned(),
        rating_w: 2000.0,
        set_c: Some(5.0),
        band_k: 1.5,
        zone_id: zone_id.map(str::to_owned),
        sensor_zone_id: zone_id.map(str::to_owned),
        is_portable: false,
        has_shield: true,
        spot: Some(Spot { x_m: 2.1, y_m: 0.4 }),
        faces_deg: Some(90.0),
        circuit: Some(Circuit {
            volts: 230.0,
            breaker_a: 16.0,
            other_load_w: 60.0,
            has_residual_current_device: true,
            cord: None,
        }),
    }
}

pub(crate) fn sensor(id: &str, site_id: &str, zone_id: Option<&str>) -> Sensor {
    Sensor {
        id: id.to_owned(),
        site_id: site_id.to_owned(),
        name: "floor logger".to_owned(),
        zone_id: zone_id.map(str::to_owned),
        spot: zone_id.map(|_| Spot { x_m: 0.3, y_m: 2.7 }),
        height_m: Some(0.2),
    }
}

pub(crate) fn write<T>(store: &Store, work: impl FnOnce(&Writer<'_>) -> Result<T, StoreError>) -> T {
    store.write(work).unwrap()
}

/// One site `s` with the shelter `h`, its zone `z` and the planting `p` in it.
pub(crate) fn garden() -> Store {
    let store = Store::in_memory().unwrap();
    write(&store, |data| {
        data.put_site(&site("s"))?;
        data.put_shelter(&shelter("h", "s"))?;
        data.put_zone(&zone("z", "h"))?;
        data.put_planting(&planting("p", "s", Some("z")))
    });
    store
}
