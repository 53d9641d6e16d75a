//! The night call and the hold ahead by a forecast.

use chrono::TimeDelta;
use hibernacle_contract::ErrorCode::{Invalid, NotFound};
use hibernacle_contract::night::{
    Cloud, HoldRequest, LowFrom, NightOutcome, Sky, TonightCall, TonightRequest, ZoneOutcome,
};
use hibernacle_contract::weather::{ForecastFile, ForecastSource, WeatherSettings};
use hibernacle_engine::season::Figure;
use hibernacle_service::Context;
use hibernacle_service::night::{hold_ahead, night_outcome, tonight};
use hibernacle_service::setup::{shelter_save, site_save};
use hibernacle_service::weather::{forecast_file, weather_choose};
use hibernacle_test_support::{Garden, SimulatedClock, draft};

use super::met_norway;
use super::server::{Server, answer, json};
use crate::refused;

const EVENING: &str = "2027-01-10T17:00:00Z";

fn asked() -> TonightRequest {
    TonightRequest {
        site_id: None,
        low_c: None,
        cloud: None,
        wind_m_per_s: None,
        lead_days: None,
        covered: None,
        price_per_kwh: None,
    }
}

/// A garden with a saved forecast of 60 hours.
fn garden(low_c: f64) -> Garden {
    let garden = Garden::at(EVENING);
    save(&garden, low_c);
    garden
}

fn save(garden: &Garden, low_c: f64) {
    use hibernacle_service::Clock;
    let from = garden.clock.now_utc().to_rfc3339();
    let text = met_norway(&from, 60, low_c).to_string();
    let file = ForecastFile { site_id: garden.site.id.clone(), file_name: "saved.json".to_owned(), text };
    forecast_file(&garden.context, file).unwrap();
}

fn says(call: &TonightCall, message: &str) -> bool {
    call.assumed.iter().chain(&call.rests_on).any(|reason| reason.message == message)
}

#[test]
fn a_forecast_gives_low_clouds_and_wind() {
    let garden = garden(-11.0);
    let call = tonight(&garden.context, asked()).unwrap();
    assert_eq!((call.low_from, call.outlook.low_c), (LowFrom::Forecast, -11.0));
    assert_eq!((call.outlook.cloud_fraction, call.outlook.wind_m_per_s), (0.25, 1.6));
    assert_eq!((call.outlook.next_high_c, call.outlook.low_error_k), (Some(-1.0), 1.3));
    assert!(says(&call, "night-low-file"));
    assert!(!says(&call, "night-assumed-cloud") && !says(&call, "night-assumed-wind"));
    // What the grower says goes before what is forecast.
    let own = TonightRequest {
        cloud: Some(Cloud::Word(Sky::Overcast)),
        wind_m_per_s: Some(4.0),
        lead_days: Some(1),
        ..asked()
    };
    let call = tonight(&garden.context, own).unwrap();
    assert_eq!(
        (call.low_from, call.outlook.cloud_fraction, call.outlook.wind_m_per_s),
        (LowFrom::Forecast, 1.0, 4.0)
    );
    assert!((call.outlook.low_error_k - 1.7).abs() < 1e-12);
    let typed = tonight(&garden.context, TonightRequest { low_c: Some(-3.0), ..asked() }).unwrap();
    assert_eq!(
        (typed.low_from, typed.outlook.low_c, typed.outlook.cloud_fraction),
        (LowFrom::Typed, -3.0, 0.0)
    );
}

#[test]
fn without_a_fresh_forecast_the_usual_low_of_the_date_is_taken_openly() {
    let garden = garden(-11.0);
    // The third night is not told whole, and after half a day the forecast is too old.
    let third = tonight(&garden.context, TonightRequest { lead_days: Some(3), ..asked() }).unwrap();
    garden.clock.advance(TimeDelta::hours(13));
    let stale = tonight(&garden.context, asked()).unwrap();
    for call in [third, stale] {
        assert_eq!(call.low_from, LowFrom::Climate);
        assert!(says(&call, "night-low-usual"));
        // Single nights differ from the usual one far more than from a forecast.
        assert!(call.outlook.low_error_k > 2.0, "{:?}", call.outlook);
    }
    let context = Context::in_memory(SimulatedClock::at(EVENING)).unwrap();
    let site = site_save(&context, draft::site()).unwrap();
    shelter_save(&context, draft::greenhouse(&site.id)).unwrap();
    let message = refused(tonight(&context, asked()), Invalid, Some("low_c"));
    assert!(message.contains("source of forecasts"), "{message}");
}

#[test]
fn the_call_asks_a_service_only_when_what_is_at_hand_is_too_old() {
    let server = Server::answering(|_| json(&met_norway("2027-01-10T16:00:00Z", 90, -8.0).to_string()));
    let clock = SimulatedClock::at(EVENING);
    let context = Context::in_memory(clock.clone()).unwrap().with_weather(server.services());
    let garden = Garden::in_context(context, clock);
    let settings =
        WeatherSettings { site_id: garden.site.id.clone(), source: ForecastSource::MetNorway, contact: None };
    weather_choose(&garden.context, settings).unwrap();
    assert_eq!(server.asked().len(), 1);
    garden.clock.advance(TimeDelta::hours(2));
    let call = tonight(&garden.context, asked()).unwrap();
    assert!(says(&call, "night-low-met-norway") && server.asked().is_empty());
    garden.clock.advance(TimeDelta::hours(20));
    let call = tonight(&garden.context, asked()).unwrap();
    assert_eq!((call.low_from, server.asked().len()), (LowFrom::Forecast, 1));
    // A service that fails leaves the usual low, and is not asked with every call.
    server.now_answers(|_| answer("503 Service Unavailable", &[], ""));
    garden.clock.advance(TimeDelta::hours(20));
    for _ in 0..2 {
        assert_eq!(tonight(&garden.context, asked()).unwrap().low_from, LowFrom::Climate);
    }
    assert_eq!(server.asked().len(), 1);
}

#[test]
fn a_forecast_that_is_always_too_mild_here_is_corrected() {
    let garden = garden(-5.0);
    for _ in 0..7 {
        tonight(&garden.context, asked()).unwrap();
        let night_of = hibernacle_service::Clock::now_utc(&garden.clock).date_naive();
        garden.clock.advance(TimeDelta::days(1));
        let outcome = NightOutcome {
            site_id: garden.site.id.clone(),
            night_of,
            outside_low_c: Some(-8.0),
            zones: vec![ZoneOutcome { zone_id: garden.shelf.id.clone(), low_c: 3.0 }],
            heated_shelter_ids: Vec::new(),
        };
        night_outcome(&garden.context, outcome).unwrap();
        save(&garden, -5.0);
    }
    let call = tonight(&garden.context, asked()).unwrap();
    // Seven nights weigh as much as the handbook's none: half of three kelvin.
    assert!((call.outlook.low_c + 6.5).abs() < 1e-9, "{:?}", call.outlook);
    let shift = call.rests_on.iter().find(|reason| reason.message == "night-low-colder-here").unwrap();
    assert_eq!(shift.figures["nights"], Figure::Count(7));
    // A low that is typed is taken as it is.
    let typed = tonight(&garden.context, TonightRequest { low_c: Some(-5.0), ..asked() }).unwrap();
    assert_eq!(typed.outlook.low_c, -5.0);
}

fn hold(garden: &Garden) -> HoldRequest {
    HoldRequest {
        shelter_id: garden.greenhouse.id.clone(),
        low_c: None,
        cloud: None,
        wind_m_per_s: None,
        nights: None,
        covered: None,
    }
}

#[test]
fn the_hold_fades_over_a_spell_and_pots_freeze() {
    // The first spell of the autumn, with the ground still warm.
    let garden = Garden::at("2026-11-10T17:00:00Z");
    let spell = HoldRequest { low_c: Some(-14.0), nights: Some(9), ..hold(&garden) };
    let ahead = hold_ahead(&garden.context, spell).unwrap();
    assert_eq!((ahead.nights.len(), ahead.zone.as_str()), (9, "north corner"));
    let (first, last) = (ahead.nights[0], ahead.nights[8]);
    assert!(last.hold_k < first.hold_k - 0.3, "{:?}", ahead.nights);
    assert!(last.pots_frozen > first.pots_frozen, "{:?}", ahead.nights);
    assert_eq!(first.night_of.to_string(), "2026-11-10");
    assert!(ahead.limit_c.is_some());
    let messages: Vec<&str> = ahead.reasons.iter().map(|reason| reason.message.as_str()).collect();
    let expected = [
        "night-hold-lives-on",
        "night-hold-pots",
        "night-hold-fades",
        "night-hold-freezing",
        "night-hold-limit",
        "night-hold-restored",
        "night-hold-thaw",
    ];
    assert_eq!(messages, expected);
    // Two pots of 30 L with 45 % of water, which gives off 334 kJ/kg in freezing.
    let pots = &ahead.reasons[1].figures;
    assert_eq!(pots["volume"], Figure::VolumeL(60.0));
    let Figure::EnergyKwh(energy) = pots["energy"] else { panic!("{pots:?}") };
    assert!((energy - 27.0 * 334.0 / 3600.0).abs() < 0.01, "{energy}");
    let covered = HoldRequest { low_c: Some(-14.0), covered: Some(true), ..hold(&garden) };
    let covered = hold_ahead(&garden.context, covered).unwrap();
    assert_eq!(covered.nights.len(), 7);
    assert!(covered.nights[0].hold_k > first.hold_k);
}

#[test]
fn the_nights_ahead_are_forecast_first_and_usual_after() {
    let garden = garden(-11.0);
    let ahead = hold_ahead(&garden.context, hold(&garden)).unwrap();
    let count = |message: &str| {
        let reason = ahead.reasons.iter().find(|reason| reason.message == message).unwrap();
        reason.figures["nights"].clone()
    };
    assert_eq!(count("night-hold-forecast"), Figure::Count(2));
    assert_eq!(count("night-hold-usual"), Figure::Count(5));
    for night in &ahead.nights[..2] {
        assert!((night.outside_low_c + 11.0).abs() < 0.3, "{night:?}");
    }
    assert!(ahead.nights[3].outside_low_c > -10.0, "{:?}", ahead.nights);
}

#[test]
fn a_hold_that_cannot_be_is_refused() {
    let garden = Garden::at(EVENING);
    let ask = |change: &dyn Fn(&mut HoldRequest)| {
        let mut request = hold(&garden);
        change(&mut request);
        hold_ahead(&garden.context, request)
    };
    refused(ask(&|hold| hold.nights = Some(0)), Invalid, Some("nights"));
    refused(ask(&|hold| hold.nights = Some(15)), Invalid, Some("nights"));
    refused(ask(&|hold| hold.low_c = Some(-80.0)), Invalid, Some("low_c"));
    refused(ask(&|hold| hold.cloud = Some(Cloud::Share(2.0))), Invalid, Some("cloud"));
    refused(ask(&|hold| hold.shelter_id = "gone".to_owned()), NotFound, None);
}
