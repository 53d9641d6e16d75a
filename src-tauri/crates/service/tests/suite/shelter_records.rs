use hibernacle_contract::ErrorCode::{Invalid, NotFound};
use hibernacle_contract::night::{AlternativeKind, ShelterNight, TonightCall, TonightRequest};
use hibernacle_contract::shelter::{HeatLossRequest, ShelterDetail, ShelterRef};
use hibernacle_engine::shelter::circuit::{Circuit, Cord, Gauge};
use hibernacle_engine::shelter::tonight::NightStep;
use hibernacle_engine::shelter::{CoverOn, Form, Heater, Outline, Sensor, Sheet, ShelterBuild, Spot, Zone};
use hibernacle_service::night::tonight;
use hibernacle_service::setup::{shelter_save, site_save, zone_save};
use hibernacle_service::shelter::{
    build_usual, heat_loss, heater_save, sensor_save, shelter_build, shelter_detail,
};
use hibernacle_test_support::{Garden, draft};

use crate::refused;

const WINTER: &str = "2027-01-15T17:00:00Z";

fn detail(garden: &Garden) -> ShelterDetail {
    shelter_detail(&garden.context, ShelterRef { shelter_id: garden.greenhouse.id.clone() }).unwrap()
}

fn call(garden: &Garden, low_c: f64, covered: Option<bool>) -> TonightCall {
    let request = TonightRequest {
        site_id: None,
        low_c: Some(low_c),
        cloud: None,
        wind_m_per_s: None,
        lead_days: None,
        covered,
        price_per_kwh: None,
    };
    tonight(&garden.context, request).unwrap()
}

fn night(garden: &Garden, low_c: f64, covered: Option<bool>) -> ShelterNight {
    let call = call(garden, low_c, covered);
    call.shelters.into_iter().find(|night| night.shelter_id == garden.greenhouse.id).unwrap()
}

/// Messages of what was assumed about the greenhouse or about nothing in particular.
fn assumed(garden: &Garden) -> Vec<String> {
    call(garden, -9.0, None).assumed.into_iter().map(|reason| reason.message).collect()
}

fn film(from: Option<&str>, to: Option<&str>) -> CoverOn {
    let date = |text: Option<&str>| text.map(|text| text.parse().unwrap());
    CoverOn { key: "bubble-film".to_owned(), parts: Vec::new(), from: date(from), to: date(to) }
}

#[test]
fn a_build_counts_from_the_moment_it_is_saved_until_it_is_forgotten() {
    let garden = Garden::at(WINTER);
    let usual = detail(&garden);
    assert!(usual.is_usual_build);
    assert_eq!(usual.build, ShelterBuild::usual(&garden.greenhouse));
    let before = night(&garden, -9.0, None);
    let glass = ShelterBuild {
        form: Form::Gable { eave_m: 1.6 },
        roof: Sheet::glazing("glass-single"),
        sides: Sheet::glazing("glass-single"),
        ends: Sheet::glazing("glass-single"),
        ..usual.build.clone()
    };
    let saved = shelter_build(&garden.context, glass.clone()).unwrap();
    assert_eq!((&saved.build, saved.is_usual_build), (&glass, false));
    assert_eq!(detail(&garden), saved);
    let after = night(&garden, -9.0, None);
    assert!(after.zones[0].low_c < before.zones[0].low_c - 0.2, "{after:?}");

    let loss = |garden: &Garden| {
        let request = HeatLossRequest {
            shelter_id: garden.greenhouse.id.clone(),
            design_low_c: Some(-16.0),
            inside_c: Some(2.0),
            heater_w: None,
            circuit: None,
        };
        heat_loss(&garden.context, request).unwrap()
    };
    let glazed = loss(&garden);
    assert!(glazed.reasons.iter().all(|reason| reason.message != "night-assumed-build"));
    let forgotten = build_usual(&garden.context, ShelterRef { shelter_id: garden.greenhouse.id.clone() });
    assert_eq!(forgotten.unwrap(), usual);
    let twin_walled = loss(&garden);
    assert!(twin_walled.bare.loss_w < glazed.bare.loss_w);
    assert!(twin_walled.reasons.iter().any(|reason| reason.message == "night-assumed-build"));
}

#[test]
fn a_cover_with_dates_counts_by_them_and_one_without_by_the_ticks() {
    let garden = Garden::at(WINTER);
    let build = |cover| ShelterBuild { covers: vec![cover], ..ShelterBuild::usual(&garden.greenhouse) };
    let with = |cover| {
        shelter_build(&garden.context, build(cover)).unwrap();
        night(&garden, -9.0, None)
    };
    let bare = night(&garden, -9.0, Some(false));
    let on = with(film(Some("2026-11-14"), Some("2027-03-20")));
    assert!(on.is_covered && on.zones[0].low_c > bare.zones[0].low_c + 0.3);
    assert!(on.alternatives.iter().all(|other| other.kind != AlternativeKind::Cover));
    assert!(!assumed(&garden).contains(&"night-assumed-cover-on".to_owned()), "its dates are no assumption");
    // The grower may ask what it would be without.
    assert_eq!(night(&garden, -9.0, Some(false)).zones[0].low_c, bare.zones[0].low_c);

    let later = with(film(Some("2027-01-16"), None));
    assert!(!later.is_covered && later.zones[0].low_c == bare.zones[0].low_c);
    assert!(later.alternatives.iter().any(|other| other.kind == AlternativeKind::Cover));
    let unticked = with(film(None, None));
    assert!(!unticked.is_covered);
    assert!(assumed(&garden).contains(&"night-assumed-cover-off".to_owned()));
    assert!(night(&garden, -9.0, Some(true)).is_covered);
}

#[test]
fn a_recorded_heater_is_the_one_that_runs() {
    let garden = Garden::at(WINTER);
    let said = assumed(&garden);
    assert!(said.contains(&"night-assumed-heater".to_owned()), "{said:?}");
    let usual = night(&garden, -16.0, None).heating.unwrap();
    assert!((usual.rating_w - 2000.0).abs() < 1e-9);

    let tube = Heater {
        key: "tube-electric".to_owned(),
        rating_w: 240.0,
        sensor_zone_id: Some(garden.floor.id.clone()),
        ..draft::heater(&garden.greenhouse.id)
    };
    let tube = heater_save(&garden.context, tube).unwrap();
    let said = assumed(&garden);
    assert!(!said.contains(&"night-assumed-heater".to_owned()), "{said:?}");
    let weak = night(&garden, -16.0, None);
    let heating = weak.heating.unwrap();
    assert!((heating.rating_w - 240.0).abs() < 1e-9);
    assert_eq!(heating.sensor_zone_id, garden.floor.id);
    assert!(heating.risk > 0.5, "240 W are no match for −16 °C: {heating:?}");
    assert!(weak.reasons.iter().any(|reason| reason.message == "night-heat-short"), "{:?}", weak.reasons);

    // A setting above the need costs more than the need; one below it is told.
    let strong = |set_c: f64| Heater {
        rating_w: 3000.0,
        set_c: Some(set_c),
        circuit: None,
        sensor_zone_id: Some(garden.floor.id.clone()),
        ..tube.clone()
    };
    heater_save(&garden.context, strong(8.0)).unwrap();
    let warm = night(&garden, -16.0, None);
    let heating = warm.heating.as_ref().unwrap();
    assert_eq!(heating.set_c, 8.0);
    let lower = warm.alternatives.iter().find(|other| other.kind == AlternativeKind::LowerSetting).unwrap();
    assert!(lower.saves_kwh.unwrap() > 1.0, "{lower:?}");
    heater_save(&garden.context, strong(-6.0)).unwrap();
    let cold = night(&garden, -16.0, None);
    let needed = cold.heating.as_ref().unwrap().set_c;
    assert!(needed > -6.0);
    assert!(cold.reasons.iter().any(|reason| reason.message == "night-set-too-low"), "{:?}", cold.reasons);
    assert!(cold.heating.unwrap().heat_kwh < warm.heating.unwrap().heat_kwh);
}

#[test]
fn water_in_a_zone_holds_warmth() {
    let garden = Garden::at(WINTER);
    let before = night(&garden, -9.0, None).zones[0].low_c;
    zone_save(&garden.context, Zone { water_l: 800.0, ..garden.floor.clone() }).unwrap();
    let after = night(&garden, -9.0, None).zones[0].low_c;
    assert!(after > before + 0.1, "{before} {after}");
}

#[test]
fn heaters_are_checked_on_their_circuit_and_with_their_flame() {
    let garden = Garden::at(WINTER);
    let check = |heater: Heater| {
        let id = heater_save(&garden.context, heater).unwrap().id;
        detail(&garden).heater_checks.into_iter().find(|check| check.heater_id == id).unwrap()
    };
    let finds = |check: &hibernacle_contract::shelter::HeaterCheck, message: &str| {
        check.findings.iter().any(|finding| finding.message == message)
    };
    let wired = draft::heater(&garden.greenhouse.id);
    let good = check(wired.clone());
    assert!(!good.is_refused && !finds(&good, "finding-unattended-portable"), "{good:?}");
    assert!((good.circuit.unwrap().current_a - 2000.0 / 230.0).abs() < 1e-9);

    let cord = Cord { gauge: Gauge::Mm1_5, length_m: 10.0, for_outdoors: true, wound_up: false };
    let circuit = wired.circuit.map(|circuit| Circuit { cord: Some(cord), ..circuit });
    let on_cord = check(Heater { circuit, is_portable: true, ..wired.clone() });
    assert!(on_cord.is_refused && on_cord.findings[0].message == "finding-heater-on-cord", "{on_cord:?}");
    let unknown = check(Heater { circuit: None, is_portable: true, ..wired.clone() });
    assert!(!unknown.is_refused && unknown.circuit.is_none());
    assert!(finds(&unknown, "finding-circuit-unknown") && finds(&unknown, "finding-unattended-portable"));

    let flame =
        |rating_w| Heater { key: "propane-unvented".to_owned(), rating_w, circuit: None, ..wired.clone() };
    // 4.2 kW take 4 m³/h of air; the house of 26 m³ leaks about as much in still air, 30 kW are far too many.
    let burner = check(flame(1500.0));
    assert!(!burner.is_refused && finds(&burner, "finding-carbon-monoxide"), "{burner:?}");
    assert!(finds(&burner, "finding-adds-moisture") && finds(&burner, "finding-fumes-harm-plants"));
    let furnace = check(flame(30_000.0));
    assert!(furnace.is_refused && furnace.findings[0].message == "finding-too-tight-for-flame");
}

#[test]
fn the_recorded_heater_and_circuit_count_in_the_heat_loss() {
    let garden = Garden::at(WINTER);
    let view = |heater: Heater| {
        heater_save(&garden.context, heater).unwrap();
        let request = HeatLossRequest {
            shelter_id: garden.greenhouse.id.clone(),
            design_low_c: Some(-16.0),
            inside_c: Some(2.0),
            heater_w: None,
            circuit: None,
        };
        heat_loss(&garden.context, request).unwrap()
    };
    let small = view(Heater { rating_w: 500.0, circuit: None, ..draft::heater(&garden.greenhouse.id) });
    let said = |view: &hibernacle_contract::shelter::HeatLossView, message: &str| {
        view.reasons.iter().any(|reason| reason.message == message)
    };
    assert!((small.circuit.as_ref().unwrap().current_a - 500.0 / 230.0).abs() < 1e-9);
    assert!(
        said(&small, "loss-assumed-circuit") && said(&small, "loss-heaters-short"),
        "{:?}",
        small.reasons
    );
    assert!(!said(&small, "night-assumed-heater"));
    let enough = view(Heater { rating_w: 5500.0, ..draft::heater(&garden.greenhouse.id) });
    assert!(said(&enough, "loss-heaters-enough"), "{:?}", enough.reasons);
    assert_eq!(enough.circuit_findings[0].message, "finding-breaker-too-small", "the strongest is checked");
}

#[test]
fn the_plan_and_what_is_wrong_with_it_are_told() {
    let garden = Garden::at(WINTER);
    let outline = Outline { x_m: 0.0, y_m: 0.0, length_m: 2.1, width_m: 3.0 };
    zone_save(&garden.context, Zone { outline: Some(outline), ..garden.floor.clone() }).unwrap();
    let heater = Heater {
        has_shield: false,
        zone_id: Some(garden.floor.id.clone()),
        spot: Some(Spot { x_m: 0.1, y_m: 1.5 }),
        faces_deg: Some(0.0),
        ..draft::heater(&garden.greenhouse.id)
    };
    let heater = heater_save(&garden.context, heater).unwrap();
    let shown = detail(&garden);
    assert_eq!((shown.floor_plan.length_m, shown.floor_plan.width_m), (4.2, 3.0));
    assert_eq!(shown.floor_plan.zones.iter().filter(|zone| zone.is_drawn).count(), 1);
    assert_eq!(shown.floor_plan.heaters[0].heater_id, heater.id);
    assert_eq!(shown.floor_plan.findings.len(), shown.placement.len());
    let said: Vec<&str> = shown.placement.iter().map(|reason| reason.message.as_str()).collect();
    for message in [
        "placement-no-shield",
        "placement-too-close-side",
        "placement-in-blast",
        "placement-coldest-without-sensor",
    ] {
        assert!(said.contains(&message), "{message}: {said:?}");
    }
    let coldest = shown.floor_plan.coldest;
    let sensor = Sensor { spot: Some(coldest), ..draft::sensor(&garden.site.id, Some(&garden.corner.id)) };
    sensor_save(&garden.context, sensor).unwrap();
    let watched = detail(&garden);
    assert_eq!(watched.sensors.len(), 1);
    assert!(watched.placement.iter().all(|reason| !reason.message.starts_with("placement-coldest")));
}

#[test]
fn what_cannot_be_used_is_refused_by_field() {
    let garden = Garden::at(WINTER);
    let context = &garden.context;
    let usual = ShelterBuild::usual(&garden.greenhouse);
    let wrong = ShelterBuild { form: Form::Gable { eave_m: 3.0 }, ..usual.clone() };
    refused(shelter_build(context, wrong), Invalid, Some("form.eave_m"));
    let nowhere = ShelterBuild { shelter_id: "none".to_owned(), ..usual.clone() };
    refused(shelter_build(context, nowhere), NotFound, None);
    refused(shelter_build(context, ShelterBuild { version: 2, ..usual }), Invalid, Some("version"));

    let heater = draft::heater(&garden.greenhouse.id);
    let put = |heater: Heater| heater_save(context, heater);
    refused(put(Heater { name: "  ".to_owned(), ..heater.clone() }), Invalid, Some("name"));
    refused(put(Heater { key: "stove".to_owned(), ..heater.clone() }), Invalid, Some("key"));
    let other_zone = Some(garden.shelf.id.clone());
    refused(put(Heater { zone_id: other_zone.clone(), ..heater.clone() }), Invalid, Some("zone_id"));
    refused(put(Heater { sensor_zone_id: other_zone, ..heater.clone() }), Invalid, Some("sensor_zone_id"));
    refused(put(Heater { id: "none".to_owned(), ..heater.clone() }), NotFound, None);
    refused(put(Heater { shelter_id: "none".to_owned(), ..heater.clone() }), NotFound, None);

    let elsewhere = site_save(context, draft::site()).unwrap();
    let sensor = draft::sensor(&garden.site.id, Some(&garden.corner.id));
    let hang = |sensor: Sensor| sensor_save(context, sensor);
    refused(hang(Sensor { zone_id: Some("none".to_owned()), ..sensor.clone() }), Invalid, Some("zone_id"));
    refused(hang(Sensor { site_id: elsewhere.id.clone(), ..sensor.clone() }), Invalid, Some("zone_id"));
    refused(hang(Sensor { height_m: Some(9.0), ..sensor.clone() }), Invalid, Some("height_m"));
    let outdoors = Sensor { zone_id: None, ..sensor };
    refused(
        hang(Sensor { spot: Some(Spot { x_m: 0.0, y_m: 0.0 }), ..outdoors.clone() }),
        Invalid,
        Some("spot"),
    );
    let saved = hang(outdoors).unwrap();
    refused(hang(Sensor { site_id: elsewhere.id, ..saved }), Invalid, Some("site_id"));
}

#[test]
fn a_shelter_is_not_changed_under_what_is_recorded_in_it() {
    let garden = Garden::at(WINTER);
    let save = |change: fn(&mut hibernacle_engine::shelter::Shelter)| {
        let mut shelter = detail(&garden).shelter;
        change(&mut shelter);
        shelter_save(&garden.context, shelter)
    };
    save(|shelter| shelter.has_heater = false).unwrap();
    let spot = Some(Spot { x_m: 4.0, y_m: 1.0 });
    heater_save(&garden.context, Heater { spot, ..draft::heater(&garden.greenhouse.id) }).unwrap();
    let message = refused(save(|shelter| shelter.has_heater = false), Invalid, Some("has_heater"));
    assert!(message.contains("“fan heater” is recorded in it"), "{message}");
    let message = refused(save(|shelter| shelter.length_m = 3.5), Invalid, Some("length_m"));
    assert!(message.contains("the place of “fan heater”"), "{message}");
    save(|shelter| shelter.length_m = 4.1).unwrap();

    let cover = film(Some("2026-11-14"), None);
    let build = ShelterBuild { covers: vec![cover], ..ShelterBuild::usual(&garden.greenhouse) };
    shelter_build(&garden.context, build).unwrap();
    refused(save(|shelter| shelter.has_cover = false), Invalid, Some("has_cover"));
    let message = refused(save(|shelter| shelter.height_m = 1.0), Invalid, Some("length_m"));
    assert!(message.contains("its build"), "{message}");
}

#[test]
fn a_night_with_a_recorded_garage_heater_is_heated_there() {
    let garden = Garden::at(WINTER);
    heater_save(&garden.context, draft::heater(&garden.cellar.id)).unwrap();
    let call = call(&garden, -16.0, None);
    let cellar = call.shelters.iter().find(|night| night.shelter_id == garden.cellar.id).unwrap();
    assert!(cellar.step != NightStep::Shield && cellar.heating.is_some(), "{cellar:?}");
}
