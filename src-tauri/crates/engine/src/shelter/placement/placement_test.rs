use super::*;
use crate::plant::Container;
use crate::shelter::{Beyond, Form, Light, RoomSides, ShelterKind};

fn shelter(kind: ShelterKind) -> Shelter {
    Shelter {
        id: "house".to_owned(),
        site_id: "site".to_owned(),
        name: "Greenhouse".to_owned(),
        kind,
        length_m: 4.2,
        width_m: 3.0,
        height_m: 2.4,
        has_cover: false,
        has_heater: true,
    }
}

fn zone(id: &str, area_m2: f64, outline: Option<Outline>) -> Zone {
    Zone {
        id: id.to_owned(),
        shelter_id: "house".to_owned(),
        name: id.to_owned(),
        area_m2,
        light: Light::Bright,
        offset_k: 0.0,
        kept_above_c: None,
        outline,
        water_l: 0.0,
    }
}

fn outline(x_m: f64, y_m: f64, length_m: f64, width_m: f64) -> Outline {
    Outline { x_m, y_m, length_m, width_m }
}

fn planting(id: &str, zone_id: &str) -> Planting {
    Planting {
        id: id.to_owned(),
        site_id: "site".to_owned(),
        plant_key: "citrus-limon".to_owned(),
        label: "Lemon".to_owned(),
        count: 1,
        container: Container::Pot { volume_l: 40.0 },
        zone_id: Some(zone_id.to_owned()),
        own_limit_c: None,
        footprint_m2: None,
    }
}

fn fan(x_m: f64, y_m: f64, faces_deg: f64) -> Heater {
    Heater {
        id: "fan".to_owned(),
        shelter_id: "house".to_owned(),
        name: "Fan heater".to_owned(),
        key: "fan-electric".to_owned(),
        rating_w: 2000.0,
        set_c: None,
        band_k: 1.0,
        zone_id: None,
        sensor_zone_id: None,
        is_portable: false,
        has_shield: true,
        spot: Some(Spot { x_m, y_m }),
        faces_deg: Some(faces_deg),
        circuit: None,
    }
}

fn sensor(zone_id: &str, x_m: f64, y_m: f64) -> Sensor {
    Sensor {
        id: "thermometer".to_owned(),
        site_id: "site".to_owned(),
        name: "Thermometer".to_owned(),
        zone_id: Some(zone_id.to_owned()),
        spot: Some(Spot { x_m, y_m }),
        height_m: None,
    }
}

fn plan(zones: &[Zone], plantings: &[Planting], heaters: &[Heater], sensors: &[Sensor]) -> FloorPlan {
    let house = shelter(ShelterKind::Greenhouse);
    let build = ShelterBuild::usual(&house);
    floor_plan(&house, &build, zones, plantings, heaters, sensors, &Materials::built_in().unwrap())
}

#[test]
fn zones_that_nobody_drew_share_the_floor_by_their_areas() {
    let areas_m2 = [1.8, 3.6, 1.8, 2.4];
    let zones: Vec<Zone> =
        areas_m2.iter().enumerate().map(|(i, area_m2)| zone(&i.to_string(), *area_m2, None)).collect();
    let plan = plan(&zones, &[], &[], &[]);
    let (floor_m2, all_m2) = (4.2 * 3.0, areas_m2.iter().sum::<f64>());
    for (placed, area_m2) in plan.zones.iter().zip(areas_m2) {
        let outline = placed.outline;
        assert!(
            (outline.length_m * outline.width_m - floor_m2 * area_m2 / all_m2).abs() < 1e-9,
            "{placed:?}"
        );
        outline.check(&shelter(ShelterKind::Greenhouse)).unwrap();
    }
    for (i, a) in plan.zones.iter().enumerate() {
        for b in &plan.zones[i + 1..] {
            let corners = [
                Spot { x_m: a.outline.x_m, y_m: a.outline.y_m },
                Spot { x_m: a.outline.x_m + a.outline.length_m, y_m: a.outline.y_m },
                Spot { x_m: a.outline.x_m + a.outline.length_m, y_m: a.outline.y_m + a.outline.width_m },
                Spot { x_m: a.outline.x_m, y_m: a.outline.y_m + a.outline.width_m },
            ];
            assert!(shape::area_m2(&shape::clipped(&corners, &b.outline)) < 1e-9, "{a:?} over {b:?}");
        }
    }
}

#[test]
fn north_lies_where_the_compass_says() {
    let house = shelter(ShelterKind::Greenhouse);
    let north_deg = |length_azimuth_deg: f64| {
        let build = ShelterBuild { length_azimuth_deg, ..ShelterBuild::usual(&house) };
        floor_plan(&house, &build, &[], &[], &[], &[], &Materials::built_in().unwrap()).north_deg
    };
    // The length points east to the right, so north is up: a quarter turn anticlockwise.
    assert_eq!((north_deg(0.0), north_deg(90.0), north_deg(360.0)), (0.0, 270.0, 0.0));
}

#[test]
fn plants_before_the_fan_are_named_and_those_behind_it_are_not() {
    let zones = [
        zone("before", 2.0, Some(outline(1.5, 1.0, 1.0, 1.0))),
        zone("behind", 2.0, Some(outline(0.0, 0.0, 0.4, 3.0))),
    ];
    let plantings = [planting("lemon", "before"), planting("olive", "behind")];
    let plan = plan(&zones, &plantings, &[fan(0.9, 1.5, 0.0)], &[]);
    let blasts: Vec<&PlacementFinding> =
        plan.findings.iter().filter(|f| matches!(f, PlacementFinding::InBlast { .. })).collect();
    let [PlacementFinding::InBlast { zone_id, share, planting_ids, .. }] = blasts[..] else {
        panic!("{blasts:?}")
    };
    assert_eq!((zone_id.as_str(), planting_ids.as_slice()), ("before", ["lemon".to_owned()].as_slice()));
    // A triangle of half-angle 11° from 0.6 to 1.6 m: the trapezium inside the zone.
    let expected = 11f64.to_radians().tan() * (1.6f64.powi(2) - 0.6f64.powi(2));
    assert!((share - expected).abs() < 0.05, "{share} for {expected}");
}

#[test]
fn a_heater_too_near_without_a_shield_is_the_first_finding() {
    let bare = Heater { has_shield: false, is_portable: true, ..fan(0.5, 1.5, 0.0) };
    let plan = plan(&[zone("floor", 4.0, Some(outline(1.0, 0.5, 2.0, 2.0)))], &[], &[bare], &[]);
    let kinds: Vec<(Option<&str>, f64)> = plan
        .findings
        .iter()
        .filter_map(|finding| match finding {
            PlacementFinding::TooClose { zone_id, distance_m, needed_m, .. } => {
                assert!((*needed_m - 0.9).abs() < 1e-9, "NFPA, CPSC: three feet");
                Some((zone_id.as_deref(), *distance_m))
            }
            _ => None,
        })
        .collect();
    assert_eq!(kinds, [(None, 0.5), (Some("floor"), 0.5)]);
    assert!(matches!(plan.findings[0], PlacementFinding::TooClose { .. }));
    assert!(plan.findings.iter().any(|f| matches!(f, PlacementFinding::NoShield { .. })));
}

#[test]
fn the_coldest_spot_is_an_outer_corner_in_the_shade_away_from_the_heater() {
    // Length to the east: the left side faces north.
    let plan = plan(&[zone("floor", 12.0, None)], &[], &[fan(0.5, 1.5, 0.0)], &[sensor("floor", 3.8, 0.4)]);
    assert!(plan.coldest.y_m < 0.5 && plan.coldest.x_m > 3.5, "{:?}", plan.coldest);
    assert!(!plan.findings.iter().any(|f| matches!(f, PlacementFinding::ColdestUnwatched { .. })));
    let unwatched = super::floor_plan(
        &shelter(ShelterKind::Greenhouse),
        &ShelterBuild::usual(&shelter(ShelterKind::Greenhouse)),
        &[zone("floor", 12.0, None)],
        &[],
        &[],
        &[],
        &Materials::built_in().unwrap(),
    );
    assert_eq!(unwatched.findings, [PlacementFinding::ColdestUnwatched { nearest_m: None }]);
}

#[test]
fn in_a_garage_the_cold_lies_away_from_the_house_wall() {
    let house = shelter(ShelterKind::Garage);
    let beyond = RoomSides {
        right: Beyond::Outdoors,
        left: Beyond::Heated { temp_c: 18.0 },
        ahead: Beyond::Outdoors,
        behind: Beyond::Heated { temp_c: 18.0 },
        above: Beyond::Unheated,
    };
    let build = ShelterBuild { form: Form::Room { beyond }, ..ShelterBuild::usual(&house) };
    let plan = floor_plan(
        &house,
        &build,
        &[zone("floor", 9.0, None)],
        &[],
        &[],
        &[],
        &Materials::built_in().unwrap(),
    );
    assert!(plan.coldest.y_m > 2.5 && plan.coldest.x_m > 3.5, "{:?}", plan.coldest);
}

#[test]
fn a_sensor_in_the_blast_that_guides_the_heater_is_found() {
    let zones = [zone("floor", 9.0, Some(outline(0.0, 0.0, 4.2, 3.0)))];
    let heater = Heater { zone_id: Some("floor".to_owned()), ..fan(1.0, 1.5, 0.0) };
    let finds = |x_m: f64, y_m: f64| {
        plan(&zones, &[], std::slice::from_ref(&heater), &[sensor("floor", x_m, y_m)])
            .findings
            .iter()
            .any(|f| matches!(f, PlacementFinding::SensorInBlast { .. }))
    };
    assert!(finds(2.0, 1.5) && finds(0.8, 1.5));
    assert!(!finds(2.0, 2.8));
}

#[test]
fn a_heater_that_was_not_placed_stands_in_the_middle_of_its_zone() {
    let zones = [
        zone("a", 2.0, Some(outline(0.0, 0.0, 1.0, 1.0))),
        zone("b", 2.0, Some(outline(2.0, 2.0, 2.0, 1.0))),
    ];
    let heater = Heater { spot: None, zone_id: Some("b".to_owned()), ..fan(0.0, 0.0, 0.0) };
    let plan = plan(&zones, &[], &[heater], &[]);
    assert_eq!((plan.heaters[0].spot, plan.heaters[0].is_placed), (Spot { x_m: 3.0, y_m: 2.5 }, false));
}
