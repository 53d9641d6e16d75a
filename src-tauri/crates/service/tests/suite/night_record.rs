//! Nights as they came: kept beside what was told, and what is learned from them.

use chrono::{NaiveDate, TimeDelta};
use hibernacle_contract::ErrorCode::{Invalid, NotFound};
use hibernacle_contract::night::{
    LowFrom, NightOutcome, NightRecord, NightRecords, NightRecordsRequest, ShelterNight, TonightCall,
    TonightRequest, ZoneOutcome, ZoneTonight,
};
use hibernacle_engine::season::Figure;
use hibernacle_service::night::{night_outcome, night_record, tonight};
use hibernacle_test_support::Garden;

use crate::refused;

const EVENING: &str = "2027-01-10T17:00:00Z";

fn low(low_c: impl Into<Option<f64>>) -> TonightRequest {
    TonightRequest {
        site_id: None,
        low_c: low_c.into(),
        cloud: None,
        wind_m_per_s: None,
        lead_days: None,
        covered: None,
        price_per_kwh: None,
    }
}

fn call(garden: &Garden, low_c: f64) -> TonightCall {
    tonight(&garden.context, low(low_c)).unwrap()
}

fn greenhouse(call: &TonightCall) -> &ShelterNight {
    call.shelters.iter().find(|shelter| shelter.name == "greenhouse").unwrap()
}

fn floor<'a>(garden: &Garden, call: &'a TonightCall) -> &'a ZoneTonight {
    greenhouse(call).zones.iter().find(|zone| zone.zone_id == garden.floor.id).unwrap()
}

fn today(garden: &Garden) -> NaiveDate {
    use hibernacle_service::Clock;
    garden.clock.now_utc().date_naive()
}

fn outcome(garden: &Garden, night_of: NaiveDate, outside_c: f64, floor_c: f64) -> NightOutcome {
    NightOutcome {
        site_id: garden.site.id.clone(),
        night_of,
        outside_low_c: Some(outside_c),
        zones: vec![ZoneOutcome { zone_id: garden.floor.id.clone(), low_c: floor_c }],
        heated_shelter_ids: Vec::new(),
    }
}

/// A night that comes `outside_k` and on the floor `floor_k` warmer than told; it ends on the evening after.
fn live(garden: &Garden, outside_k: f64, floor_k: f64, is_heated: bool) -> NightRecord {
    let told = call(garden, -7.0);
    let night_of = today(garden);
    garden.clock.advance(TimeDelta::days(1));
    let zone = floor(garden, &told);
    let floor_c = zone.low_c + zone.low_slope * outside_k + floor_k;
    let mut came = outcome(garden, night_of, -7.0 + outside_k, floor_c);
    if is_heated {
        came.heated_shelter_ids.push(garden.greenhouse.id.clone());
    }
    night_outcome(&garden.context, came).unwrap()
}

fn nights(garden: &Garden) -> NightRecords {
    night_record(&garden.context, NightRecordsRequest { site_id: None, most: None }).unwrap()
}

fn said<'a>(reasons: &'a [hibernacle_engine::season::Reason], message: &str) -> Option<&'a Figure> {
    let reason = reasons.iter().find(|reason| reason.message == message)?;
    reason.figures.get("nights").or_else(|| reason.figures.get("error"))
}

#[test]
fn what_came_stands_beside_what_was_told() {
    let garden = Garden::at(EVENING);
    let told = call(&garden, -7.0);
    assert!(nights(&garden).nights.is_empty(), "tonight is not over");
    garden.clock.advance(TimeDelta::hours(14));
    let waiting = nights(&garden);
    assert_eq!((waiting.nights.len(), waiting.nights[0].outside_low_c), (1, None));
    assert_eq!(waiting.nights[0].predicted_low_c, Some(-7.0));
    assert_eq!(waiting.doubt[0].message, "night-doubt-none");
    assert_eq!(waiting.zones.len(), 3);
    assert!(waiting.zones.iter().any(|zone| zone.place == "greenhouse, north corner"));

    // Two kelvin colder outdoors than told: the model is judged for that low.
    let zone = floor(&garden, &told);
    let expected_c = zone.low_c - 2.0 * zone.low_slope;
    let night_of = "2027-01-10".parse().unwrap();
    let record = night_outcome(&garden.context, outcome(&garden, night_of, -9.0, expected_c + 0.8)).unwrap();
    let read = record.zones.iter().find(|zone| zone.zone_id == garden.floor.id).unwrap();
    assert_eq!(read.predicted_low_c, Some(zone.low_c));
    assert!((read.model_error_k.unwrap() - 0.8).abs() < 1e-9, "{read:?}");
    assert!((0.5..1.0).contains(&zone.low_slope), "{zone:?}");
    let unread = record.zones.iter().find(|zone| zone.zone_id == garden.corner.id).unwrap();
    assert_eq!((unread.low_c, unread.model_error_k), (None, None));
    assert_eq!(nights(&garden).nights[0], record);
    // Entered anew, it is mended.
    night_outcome(&garden.context, outcome(&garden, night_of, -9.5, -3.0)).unwrap();
    assert_eq!(nights(&garden).nights[0].outside_low_c, Some(-9.5));
}

#[test]
fn the_last_word_before_the_night_is_over_counts() {
    let garden = Garden::at(EVENING);
    call(&garden, -4.0);
    garden.clock.advance(TimeDelta::hours(2));
    call(&garden, -9.0);
    // Neither the usual low of the date nor a night further on is a word about tonight.
    assert_eq!(tonight(&garden.context, low(None)).unwrap().low_from, LowFrom::Climate);
    tonight(&garden.context, TonightRequest { lead_days: Some(1), ..low(-20.0) }).unwrap();
    garden.clock.advance(TimeDelta::days(2));
    let known = nights(&garden);
    assert_eq!(known.nights.len(), 1);
    assert_eq!(known.nights[0].predicted_low_c, Some(-9.0));
    assert_eq!(known.nights[0].predicted_at_utc, Some("2027-01-10T19:00:00Z".parse().unwrap()));
}

#[test]
fn asking_the_same_again_changes_nothing() {
    let garden = Garden::at(EVENING);
    call(&garden, -4.0);
    garden.clock.advance(TimeDelta::hours(2));
    call(&garden, -4.0);
    garden.clock.advance(TimeDelta::days(1));
    assert_eq!(nights(&garden).nights[0].predicted_at_utc, Some(EVENING.parse().unwrap()));
}

#[test]
fn seven_nights_say_as_much_as_the_handbook() {
    let garden = Garden::at(EVENING);
    let before = call(&garden, -7.0);
    // Read on the floor two kelvin above the model every night.
    for night in 0..7 {
        let record = live(&garden, 0.0, 2.0 - floor_bias(&garden), false);
        assert_eq!(record.night_of, "2027-01-10".parse::<NaiveDate>().unwrap() + TimeDelta::days(night));
    }
    let after = call(&garden, -7.0);
    let (first, second) = (floor(&garden, &before), floor(&garden, &after));
    // Half of two kelvin, shrunk towards none; the surroundings move a little with the date.
    let shift_k = second.low_c - first.low_c;
    assert!((shift_k - 1.0).abs() < 0.25, "{shift_k}");
    let rests = &after.rests_on;
    assert_eq!(said(rests, "night-rests-nights"), Some(&Figure::Count(7)));
    assert_eq!(said(rests, "night-rests-nights-milder"), Some(&Figure::Count(7)));
    assert_eq!(said(rests, "night-rests-low-nights"), Some(&Figure::Count(7)));
    // The cellar was never read: for it the handbook stands.
    assert!(said(rests, "night-rests-handbook").is_some());
    assert!(said(&before.rests_on, "night-rests-nights").is_none());
    assert!(said(&nights(&garden).doubt, "night-rests-nights").is_some());
    // The lows came as typed each time, so less of the low is in doubt.
    assert!(after.outlook.low_error_k < 0.8 * before.outlook.low_error_k, "{:?}", after.outlook);
}

/// Kelvin that nights on record add to the floor by now.
fn floor_bias(garden: &Garden) -> f64 {
    let told = call(garden, -7.0);
    let milder = told.rests_on.iter().find(|reason| reason.message == "night-rests-nights-milder");
    match milder.and_then(|reason| reason.figures.get("shift")) {
        Some(Figure::DiffK(shift_k)) => *shift_k,
        _ => 0.0,
    }
}

#[test]
fn nights_with_heat_speak_of_the_forecast_alone() {
    let garden = Garden::at(EVENING);
    for _ in 0..5 {
        let record = live(&garden, -3.0, 9.0, true);
        assert!(record.zones.iter().all(|zone| zone.model_error_k.is_none()), "{record:?}");
    }
    let after = call(&garden, -7.0);
    assert!(said(&after.rests_on, "night-rests-nights").is_none());
    assert_eq!(said(&after.rests_on, "night-rests-low-nights"), Some(&Figure::Count(5)));
    // A typed low stays as typed; that it was three kelvin too mild each time widens its doubt.
    assert_eq!(after.outlook.low_c, -7.0);
    assert!(after.outlook.low_error_k > 1.5, "{:?}", after.outlook);
}

#[test]
fn slips_are_refused_by_field() {
    let garden = Garden::at(EVENING);
    let last_night = "2027-01-09".parse().unwrap();
    let enter = |change: &dyn Fn(&mut NightOutcome)| {
        let mut night = outcome(&garden, last_night, -5.0, -1.0);
        change(&mut night);
        night_outcome(&garden.context, night)
    };
    enter(&|_| {}).unwrap();
    let tonight = "2027-01-10".parse().unwrap();
    let message = refused(enter(&|night| night.night_of = tonight), Invalid, Some("night_of"));
    assert!(message.contains("not over yet"), "{message}");
    let long_ago = "2025-01-10".parse().unwrap();
    refused(enter(&|night| night.night_of = long_ago), Invalid, Some("night_of"));
    let sign = refused(enter(&|night| night.outside_low_c = Some(24.0)), Invalid, Some("outside_low_c"));
    assert!(sign.contains("sign and unit"), "{sign}");
    refused(enter(&|night| night.outside_low_c = Some(f64::NAN)), Invalid, Some("outside_low_c"));
    refused(enter(&|night| night.zones[0].low_c = 77.0), Invalid, Some("zones[0].low_c"));
    refused(enter(&|night| night.zones[0].low_c = -20.0), Invalid, Some("zones[0].low_c"));
    refused(enter(&|night| night.zones.push(night.zones[0].clone())), Invalid, Some("zones[1].zone_id"));
    refused(enter(&|night| night.zones[0].zone_id = "gone".to_owned()), NotFound, None);
    refused(enter(&|night| night.heated_shelter_ids.push("gone".to_owned())), NotFound, None);
    refused(enter(&|night| night.site_id = "gone".to_owned()), NotFound, None);
    let empty = |night: &mut NightOutcome| {
        night.outside_low_c = None;
        night.zones.clear();
    };
    refused(enter(&empty), Invalid, Some("zones"));
    let most = NightRecordsRequest { site_id: None, most: Some(0) };
    refused(night_record(&garden.context, most), Invalid, Some("most"));
    // What was refused left no trace.
    assert_eq!(nights(&garden).nights.len(), 1);
}
