use hibernacle_contract::ErrorCode::{Conflict, Invalid, NotFound};
use hibernacle_contract::chores::{ChoreDone, ChoreRef};
use hibernacle_contract::night::{
    Alternative, AlternativeKind, Cloud, ShelterNight, Sky, TonightCall, TonightRequest,
};
use hibernacle_contract::setup::DemoRequest;
use hibernacle_contract::today::TodayRequest;
use hibernacle_engine::season::{Caution, Figure};
use hibernacle_engine::shelter::tonight::NightStep;
use hibernacle_service::Context;
use hibernacle_service::chores::chore_done;
use hibernacle_service::night::tonight;
use hibernacle_service::setup::{demo_load, planting_save, shelter_save, site_save, zone_save};
use hibernacle_service::today::today;
use hibernacle_test_support::{Garden, SimulatedClock, draft};

use crate::refused;

const WINTER: &str = "2027-01-15T17:00:00Z";

fn low(low_c: f64) -> TonightRequest {
    TonightRequest {
        site_id: None,
        low_c: Some(low_c),
        cloud: None,
        wind_m_per_s: None,
        lead_days: None,
        covered: None,
        price_per_kwh: None,
    }
}

fn shelter<'a>(call: &'a TonightCall, name: &str) -> &'a ShelterNight {
    call.shelters.iter().find(|shelter| shelter.name == name).unwrap()
}

fn larch_bank() -> Context {
    let context = Context::in_memory(SimulatedClock::at(WINTER)).unwrap();
    demo_load(&context, DemoRequest {}).unwrap();
    context
}

#[test]
fn the_night_under_way_is_tonight_until_the_sun_rises() {
    // Larch Bank: sunrise on 16 January 2027 at 06:47 UTC.
    for (now, night_of) in [
        ("2027-01-15T17:00:00Z", "2027-01-15"),
        ("2027-01-16T01:30:00Z", "2027-01-15"),
        ("2027-01-16T06:30:00Z", "2027-01-15"),
        ("2027-01-16T07:00:00Z", "2027-01-16"),
    ] {
        let context = Context::in_memory(SimulatedClock::at(now)).unwrap();
        demo_load(&context, DemoRequest {}).unwrap();
        let call = tonight(&context, low(-9.0)).unwrap();
        assert_eq!(call.outlook.night_of.to_string(), night_of, "at {now}");
        let screen = today(&context, TodayRequest::default()).unwrap();
        assert_eq!(screen.night_of, call.outlook.night_of, "at {now}");
    }
}

#[test]
fn a_mild_night_asks_for_nothing_and_a_bitter_one_for_heat() {
    let garden = Garden::at(WINTER);
    let mild = tonight(&garden.context, low(4.0)).unwrap();
    assert_eq!(mild.todo.len(), 1);
    assert_eq!(mild.todo[0].message, "night-do-nothing");
    assert!(mild.cautions.is_empty() && mild.shelters.iter().all(|night| night.step == NightStep::Rest));

    let bitter = tonight(&garden.context, low(-16.0)).unwrap();
    let house = shelter(&bitter, &garden.greenhouse.name);
    assert_eq!(house.step, NightStep::Heat);
    assert_eq!(bitter.shelters[0].shelter_id, garden.greenhouse.id, "the most urgent comes first");
    assert_eq!(bitter.todo[0].message, "night-do-heat");
    assert!(bitter.cautions.contains(&Caution::Heater) && bitter.cautions.contains(&Caution::Electricity));
    let heating = house.heating.as_ref().unwrap();
    assert!(heating.heat_kwh > 1.0 && heating.heat_90_kwh > heating.heat_kwh, "{heating:?}");
    assert!((heating.full_h - heating.heat_kwh * 1000.0 / heating.rating_w).abs() < 1e-9);
    assert_eq!(heating.cost, None, "no price is known");
    let priced = TonightRequest { price_per_kwh: Some(0.3), ..low(-16.0) };
    let priced = tonight(&garden.context, priced).unwrap();
    let heating = shelter(&priced, &garden.greenhouse.name).heating.as_ref().unwrap();
    assert!((heating.cost.unwrap() - 0.3 * heating.heat_kwh).abs() < 1e-9);
}

#[test]
fn the_limit_of_a_zone_is_that_of_its_most_tender_planting() {
    let garden = Garden::at(WINTER);
    let zone = |call: &TonightCall| {
        let zones = &shelter(call, &garden.greenhouse.name).zones;
        zones.iter().find(|zone| zone.zone_id == garden.floor.id).unwrap().clone()
    };
    let with_lemon = zone(&tonight(&garden.context, low(-9.0)).unwrap());
    let limit = with_lemon.limit.unwrap();
    assert_eq!((limit.label.as_str(), limit.is_own), ("old lemon", false));
    let mut tender = draft::pot(&garden.site.id, "olea-europaea", "olive seedling", Some(&garden.floor.id));
    tender.own_limit_c = Some(3.0);
    planting_save(&garden.context, tender).unwrap();
    let with_seedling = zone(&tonight(&garden.context, low(-9.0)).unwrap());
    let limit = with_seedling.limit.unwrap();
    assert_eq!((limit.label.as_str(), limit.limit_c, limit.is_own), ("olive seedling", 3.0, true));
    assert!(with_seedling.risk > with_lemon.risk);
    assert!(with_seedling.heat_below_c > with_lemon.heat_below_c);
}

#[test]
fn a_zone_without_plants_has_no_limit_and_asks_for_nothing() {
    let garden = Garden::at(WINTER);
    let porch = draft::greenhouse(&garden.site.id);
    let empty = hibernacle_engine::shelter::Shelter { name: "empty house".to_owned(), ..porch };
    shelter_save(&garden.context, empty).unwrap();
    let call = tonight(&garden.context, low(-25.0)).unwrap();
    let house = shelter(&call, "empty house");
    assert_eq!((house.step, &house.heating, &house.laggard_zone_id), (NightStep::Rest, &None, &None));
    assert_eq!((&house.zones[0].limit, house.zones[0].risk, house.heat_below_c), (&None, None, None));
    assert!(house.zones[0].low_c < -10.0);
}

#[test]
fn a_colder_night_is_never_less_of_a_risk_and_every_number_is_one() {
    let context = larch_bank();
    let mut before: Option<TonightCall> = None;
    for low_c in [25.0, 0.0, -6.0, -12.0, -18.0, -40.0, -60.0] {
        let call = tonight(&context, low(low_c)).unwrap();
        for house in &call.shelters {
            assert_eq!(house.problem, None);
            for zone in &house.zones {
                assert!(zone.low_10_c < zone.low_c && zone.low_c < zone.low_90_c, "{low_c}: {zone:?}");
                assert!(zone.risk.is_none_or(|risk| (0.0..=1.0).contains(&risk)));
            }
        }
        // JSON has no infinity and no NaN: they would come out as null where a number belongs.
        let text = serde_json::to_value(&call).unwrap();
        for house in text["shelters"].as_array().unwrap() {
            for zone in house["zones"].as_array().unwrap() {
                assert!(["low_c", "low_10_c", "low_90_c", "hold_k"].iter().all(|key| zone[key].is_number()));
            }
            assert!(house["course"].as_array().unwrap().iter().all(|point| point["outside_c"].is_number()));
        }
        if let Some(milder) = &before {
            for house in &call.shelters {
                for zone in &house.zones {
                    let was = shelter(milder, &house.name);
                    let was = was.zones.iter().find(|other| other.zone_id == zone.zone_id).unwrap();
                    assert!(zone.risk >= was.risk, "{low_c}: {zone:?} after {was:?}");
                    assert!(zone.low_c <= was.low_c, "{low_c}: {zone:?} after {was:?}");
                }
            }
        }
        before = Some(call);
    }
}

#[test]
fn larch_bank_holds_what_such_a_house_holds() {
    let call = tonight(&larch_bank(), TonightRequest { covered: Some(false), ..low(-12.0) }).unwrap();
    let house = shelter(&call, "greenhouse");
    for zone in &house.zones {
        assert!((1.0..8.0).contains(&zone.hold_k), "{zone:?}");
    }
    let cellar = shelter(&call, "stone cellar");
    assert!(cellar.zones.iter().all(|zone| (2.0..9.0).contains(&zone.low_c)), "{:?}", cellar.zones);
    // The threshold and the risk say the same: at −12 °C it is colder than needed for an even chance.
    assert!(house.heat_below_c.unwrap() > -12.0 && house.step == NightStep::Heat);
    let heating = house.heating.as_ref().unwrap();
    assert!((3.0..40.0).contains(&heating.heat_kwh), "{heating:?}");
    let kinds: Vec<AlternativeKind> = house.alternatives.iter().map(|other| other.kind).collect();
    assert!(kinds.contains(&AlternativeKind::Cover) && kinds.contains(&AlternativeKind::LowerSetting));
    assert!(house.alternatives.iter().filter_map(|other| other.saves_kwh).all(|saved| saved > 0.0));
}

#[test]
fn the_cover_counts_once_it_is_ticked() {
    let garden = Garden::at("2026-11-20T08:00:00Z");
    let find = |call: &TonightCall| shelter(call, &garden.greenhouse.name).clone();
    let bare = find(&tonight(&garden.context, low(-12.0)).unwrap());
    assert!(!bare.is_covered);
    let promised = bare.alternatives.iter().find(|other| other.kind == AlternativeKind::Cover).unwrap();
    let chore = ChoreRef {
        site_id: garden.site.id.clone(),
        start_year: 2026,
        chore_key: format!("close-up-cover-on/{}", garden.greenhouse.id),
    };
    chore_done(&garden.context, ChoreDone { chore, on: None }).unwrap();
    let covered = find(&tonight(&garden.context, low(-12.0)).unwrap());
    assert!(covered.is_covered && gain(&bare, &covered) > 0.5, "{}", gain(&bare, &covered));
    assert!(covered.alternatives.iter().all(|other| other.kind != AlternativeKind::Cover));
    let Figure::DiffK(said_k) = promised.reason.figures["gain"] else { panic!("{promised:?}") };
    assert!((said_k - gain(&bare, &covered)).abs() < 0.5, "promised {said_k}");
    let asked = TonightRequest { covered: Some(false), ..low(-12.0) };
    assert_eq!(find(&tonight(&garden.context, asked).unwrap()).zones, bare.zones);
}

/// Kelvin by which the laggard zone of one night is warmer in another.
fn gain(bare: &ShelterNight, covered: &ShelterNight) -> f64 {
    let low_c = |night: &ShelterNight| {
        night.zones.iter().find(|zone| Some(&zone.zone_id) == bare.laggard_zone_id.as_ref()).unwrap().low_c
    };
    low_c(covered) - low_c(bare)
}

#[test]
fn tender_pots_are_sent_where_their_limit_is_out_of_reach() {
    let garden = Garden::at(WINTER);
    let call = tonight(&garden.context, low(-16.0)).unwrap();
    let moves: Vec<&Alternative> = shelter(&call, &garden.greenhouse.name)
        .alternatives
        .iter()
        .filter(|other| other.kind == AlternativeKind::Move)
        .collect();
    let [only] = moves[..] else { panic!("{moves:?}") };
    let (Figure::Text(plants), Figure::Text(to)) =
        (&only.reason.figures["plants"], &only.reason.figures["to"])
    else {
        panic!("{only:?}")
    };
    assert!(plants.contains("old lemon"), "{plants}");
    assert!(to.starts_with(&garden.cellar.name), "{to}");
    assert!(call.cautions.contains(&Caution::HeavyLift));
}

#[test]
fn clouds_and_a_short_lead_make_the_call_milder_and_surer() {
    let garden = Garden::at(WINTER);
    let zone = |request: TonightRequest| {
        let call = tonight(&garden.context, request).unwrap();
        shelter(&call, &garden.greenhouse.name).zones[0].clone()
    };
    let clear = zone(low(-9.0));
    let overcast = zone(TonightRequest { cloud: Some(Cloud::Word(Sky::Overcast)), ..low(-9.0) });
    assert!(overcast.low_c > clear.low_c, "{overcast:?} {clear:?}");
    assert_eq!(overcast, zone(TonightRequest { cloud: Some(Cloud::Share(1.0)), ..low(-9.0) }));
    let in_six_days = zone(TonightRequest { lead_days: Some(6), ..low(-9.0) });
    assert!(in_six_days.low_90_c - in_six_days.low_10_c > 1.5 * (clear.low_90_c - clear.low_10_c));
}

#[test]
fn what_nobody_said_is_taken_openly() {
    let garden = Garden::at(WINTER);
    let said = |call: &TonightCall, message: &str| {
        call.assumed.iter().chain(&call.rests_on).any(|reason| reason.message == message)
    };
    let call = tonight(&garden.context, low(-9.0)).unwrap();
    for message in [
        "night-assumed-cloud",
        "night-assumed-wind",
        "night-assumed-cover-off",
        "night-assumed-heater",
        "night-assumed-build",
        "night-rests-handbook",
        "night-rests-days-climate",
    ] {
        assert!(said(&call, message), "{message}: {:?}", call.assumed);
    }
    let told = TonightRequest {
        cloud: Some(Cloud::Share(0.3)),
        wind_m_per_s: Some(2.0),
        covered: Some(true),
        ..low(-9.0)
    };
    let call = tonight(&garden.context, told).unwrap();
    assert!(!said(&call, "night-assumed-cloud") && !said(&call, "night-assumed-wind"));
    assert!(!said(&call, "night-assumed-cover-off") && !said(&call, "night-assumed-cover-on"));
    assert_eq!((call.outlook.cloud_fraction, call.outlook.wind_m_per_s), (0.3, 2.0));
}

#[test]
fn a_typed_low_needs_no_climate() {
    let context = Context::in_memory(SimulatedClock::at(WINTER)).unwrap();
    refused(tonight(&context, low(-9.0)), NotFound, None);
    let site = site_save(&context, draft::site()).unwrap();
    let message = refused(tonight(&context, low(-9.0)), Conflict, None);
    assert!(message.contains("lower terrace has no shelter yet") && message.contains("add"), "{message}");
    let house = shelter_save(&context, draft::greenhouse(&site.id)).unwrap();
    let corner = zone_save(&context, draft::corner(&house.id)).unwrap();
    planting_save(&context, draft::pot(&site.id, "citrus-limon", "lemon", Some(&corner.id))).unwrap();
    let call = tonight(&context, low(-9.0)).unwrap();
    assert_eq!(shelter(&call, "greenhouse").step, NightStep::Heat);
    assert!(call.rests_on.iter().any(|reason| reason.message == "night-rests-days-latitude"));
}

#[test]
fn what_cannot_be_a_night_is_refused_by_field() {
    let garden = Garden::at(WINTER);
    for wrong in [-61.0, 26.0, f64::NAN, f64::INFINITY] {
        refused(tonight(&garden.context, low(wrong)), Invalid, Some("low_c"));
    }
    let wrong = |change: fn(&mut TonightRequest)| {
        let mut request = low(-9.0);
        change(&mut request);
        tonight(&garden.context, request)
    };
    refused(wrong(|night| night.cloud = Some(Cloud::Share(1.2))), Invalid, Some("cloud"));
    refused(wrong(|night| night.wind_m_per_s = Some(-1.0)), Invalid, Some("wind_m_per_s"));
    refused(wrong(|night| night.lead_days = Some(11)), Invalid, Some("lead_days"));
    refused(wrong(|night| night.price_per_kwh = Some(f64::NAN)), Invalid, Some("price_per_kwh"));
    refused(wrong(|night| night.site_id = Some("nowhere".to_owned())), NotFound, None);
}

#[test]
fn what_stands_in_the_ground_is_covered_and_not_moved() {
    let call = tonight(&larch_bank(), low(-12.0)).unwrap();
    let names = |place: &str| {
        let here = |todo: &&hibernacle_engine::season::Reason| {
            todo.figures.get("place") == Some(&Figure::Text(place.to_owned()))
        };
        call.todo.iter().find(here).unwrap().message.clone()
    };
    assert_eq!(names("wrapped bed"), "night-do-shield-ground", "the banana has its roots in the ground");
    assert_eq!(names("garage"), "night-do-shield");
    let bed = shelter(&call, "wrapped bed");
    assert!(bed.alternatives.iter().all(|other| other.kind != AlternativeKind::Move));
}
