use super::*;
use crate::shelter::{Beyond, Light, ShelterKind};
use crate::site::Hemisphere;

const PLACE: Place = Place { latitude_deg: 47.7, longitude_deg: 15.0, elevation_m: 470.0 };

fn shelter() -> Shelter {
    Shelter {
        id: "house".to_owned(),
        site_id: "site".to_owned(),
        name: "Greenhouse".to_owned(),
        kind: ShelterKind::Greenhouse,
        length_m: 4.2,
        width_m: 3.0,
        height_m: 2.4,
        has_cover: true,
        has_heater: true,
    }
}

fn zone(id: &str, area_m2: f64) -> Zone {
    Zone {
        id: id.to_owned(),
        shelter_id: "house".to_owned(),
        name: id.to_owned(),
        area_m2,
        light: Light::Bright,
        offset_k: 0.0,
        kept_above_c: None,
        outline: None,
        water_l: 0.0,
    }
}

fn planting(zone_id: &str, count: u32, volume_l: f64) -> Planting {
    Planting {
        id: String::new(),
        site_id: "site".to_owned(),
        plant_key: "citrus-limon".to_owned(),
        label: "Lemon".to_owned(),
        count,
        container: Container::Pot { volume_l },
        zone_id: Some(zone_id.to_owned()),
        own_limit_c: None,
        footprint_m2: None,
    }
}

fn heater(zone_id: Option<&str>) -> HeaterOn {
    HeaterOn {
        key: "fan-electric".to_owned(),
        rating_w: 2000.0,
        set_c: 2.0,
        band_k: 1.0,
        zone_id: zone_id.map(str::to_owned),
        sensor_zone_id: None,
    }
}

fn ground() -> GroundWave {
    GroundWave::from_air(8.5, 10.0, Hemisphere::Northern)
}

#[test]
fn records_become_zones_with_their_pots() {
    let materials = Materials::built_in().unwrap();
    let (shelter, zones) = (shelter(), [zone("bench", 3.0), zone("floor", 6.0)]);
    let build = ShelterBuild::usual(&shelter);
    let plantings = [
        planting("bench", 4, 5.0),
        planting("bench", 1, 30.0),
        planting("floor", 2, 60.0),
        planting("x", 9, 9.0),
    ];
    let heater = heater(Some("floor"));
    let records = ShelterRecords {
        shelter: &shelter,
        build: &build,
        zones: &zones,
        plantings: &plantings,
        heater: Some(&heater),
    };
    let made = scenario(PLACE, &records, &materials, ground(), CoversUsed::Bare).unwrap();
    assert_eq!(made.zones.len(), 2);
    assert!((made.zones[0].floor_share - 1.0 / 3.0).abs() < 1e-12);
    assert_eq!((made.zones[0].pots_l, made.zones[0].typical_pot_l), (50.0, 10.0));
    assert_eq!(made.zones[1].pots_l, 120.0);
    let heating = made.heating.unwrap();
    assert_eq!((heating.zone, heating.sensor_zone, heating.stirs_air), (1, 1, true));
    let nothing = ShelterRecords { zones: &[], plantings: &[], heater: None, ..records };
    let whole = scenario(PLACE, &nothing, &materials, ground(), CoversUsed::Bare).unwrap();
    assert_eq!(whole.zones, [ZoneLoad::EMPTY]);
}

#[test]
fn covers_change_at_their_dates() {
    let materials = Materials::built_in().unwrap();
    let shelter = shelter();
    let mut build = ShelterBuild::usual(&shelter);
    let day = |text: &str| text.parse::<NaiveDate>().ok();
    build.covers = vec![
        CoverOn {
            key: "bubble-film".to_owned(),
            parts: Vec::new(),
            from: day("2026-11-10"),
            to: day("2027-03-20"),
        },
        CoverOn { key: "tarp-dark".to_owned(), parts: Vec::new(), from: day("2026-12-20"), to: None },
    ];
    let records =
        ShelterRecords { shelter: &shelter, build: &build, zones: &[], plantings: &[], heater: None };
    let made = scenario(PLACE, &records, &materials, ground(), CoversUsed::ByDate).unwrap();
    let u: Vec<f64> = made.phases.iter().map(|p| p.envelope.elements[0].u_w_per_m2_k).collect();
    assert_eq!(u.len(), 4);
    assert!(u[0] > u[1] && u[1] > u[2] && u[3] > u[2] && u[3] < u[0], "{u:?}");
    assert_eq!(made.phases[1].from.to_rfc3339(), "2026-11-09T23:00:00+00:00");
    let in_january = CoversUsed::AsOn(day("2027-01-15").unwrap());
    let now = scenario(PLACE, &records, &materials, ground(), in_january).unwrap();
    assert_eq!(now.phases.len(), 1);
    assert!((now.phases[0].envelope.elements[0].u_w_per_m2_k - u[2]).abs() < 1e-12);
}

#[test]
fn a_heater_in_another_shelter_is_refused() {
    let materials = Materials::built_in().unwrap();
    let (shelter, zones) = (shelter(), [zone("bench", 3.0)]);
    let build = ShelterBuild::usual(&shelter);
    let stray = heater(Some("cellar"));
    let records = ShelterRecords {
        shelter: &shelter,
        build: &build,
        zones: &zones,
        plantings: &[],
        heater: Some(&stray),
    };
    let error = scenario(PLACE, &records, &materials, ground(), CoversUsed::Bare).unwrap_err().to_string();
    assert!(error.contains("heater.zone_id: names a zone of another shelter"), "{error}");
    let crowd = vec![zone("z", 1.0); 9];
    let records = ShelterRecords { zones: &crowd, heater: None, ..records };
    let error = scenario(PLACE, &records, &materials, ground(), CoversUsed::Bare).unwrap_err().to_string();
    assert!(error.contains("merge zones"), "{error}");
}

#[test]
fn covers_hang_where_they_hang_in_whatever_order_they_are_entered() {
    let materials = Materials::built_in().unwrap();
    let shelter = shelter();
    let build = ShelterBuild::usual(&shelter);
    let under = |keys: &[&str]| {
        let on = |key: &&str| CoverOn { key: (*key).to_owned(), parts: Vec::new(), from: None, to: None };
        Envelope::of(&shelter, &build, &materials, &keys.iter().map(on).collect::<Vec<_>>()).unwrap()
    };
    let inside_out = under(&["bubble-film", "film-second", "foam-board", "tarp-dark"]);
    assert_eq!(under(&["tarp-dark", "foam-board", "film-second", "bubble-film"]), inside_out);
    assert_eq!(under(&["foam-board", "tarp-dark", "bubble-film", "film-second"]), inside_out);
    // What the sky sees is the tarp, not the film under the glass.
    let tarp = &materials.covers["tarp-dark"];
    for element in inside_out.elements.iter().filter(|element| element.beyond == Beyond::Outdoors) {
        assert_eq!(
            (element.outer_emissivity, element.solar_absorptance),
            (tarp.long_wave_emissivity, tarp.solar_absorptance)
        );
    }
}
