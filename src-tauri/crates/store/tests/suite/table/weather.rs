use hibernacle_engine::climate::hourly::WeatherReport;
use hibernacle_store::{
    PredictedZone, ReadZone, StoredForecast, StoredOutcome, StoredPrediction, StoredWeatherChoice,
};

use crate::sample::{date, garden, instant, write};

#[test]
fn a_choice_and_a_forecast_come_back_as_they_were_put() {
    let store = garden();
    assert_eq!(store.read(|data| data.weather_choice("s")).unwrap(), None);
    assert_eq!(store.read(|data| data.forecast("s")).unwrap(), None);
    let choice = StoredWeatherChoice { source: "met_norway".to_owned(), contact: None };
    write(&store, |data| data.put_weather_choice("s", &choice));
    let choice = StoredWeatherChoice { contact: Some("me@example.org".to_owned()), ..choice };
    write(&store, |data| data.put_weather_choice("s", &choice));
    assert_eq!(store.read(|data| data.weather_choice("s")).unwrap(), Some(choice));

    let at = instant("2026-11-25T18:00:00Z");
    let report = WeatherReport { cloud_fraction: Some(0.1), ..WeatherReport::of_temperature(at, -0.1) };
    let forecast = StoredForecast {
        source: "met_norway".to_owned(),
        place: "47.7,13.1".to_owned(),
        hours: vec![report],
        issued_at_utc: Some(at),
        failures: 3,
        problem: Some("no answer".to_owned()),
        last_modified: Some("Wed, 25 Nov 2026 17:00:00 GMT".to_owned()),
        ..StoredForecast::default()
    };
    write(&store, |data| data.put_forecast("s", &forecast));
    assert_eq!(store.read(|data| data.forecast("s")).unwrap(), Some(forecast));
}

#[test]
fn the_latest_prediction_of_a_night_wins() {
    let store = garden();
    let zone = PredictedZone { zone_id: "z".to_owned(), low_c: -3.1, slope: 0.9, bias_k: 0.2 };
    let of = |night: &str, low_c: f64| StoredPrediction {
        night_of: date(night),
        made_at_utc: instant("2026-11-25T18:00:00Z"),
        low_c,
        low_from: "typed".to_owned(),
        low_bias_k: 0.0,
        zones: vec![zone.clone()],
    };
    for prediction in [of("2026-11-25", -6.0), of("2026-11-25", -8.0), of("2026-11-24", -5.0)] {
        write(&store, |data| data.put_night_prediction("s", &prediction));
    }
    let from = |day: &str| store.read(|data| data.night_predictions("s", date(day))).unwrap();
    assert_eq!(from("2026-11-01"), [of("2026-11-25", -8.0), of("2026-11-24", -5.0)]);
    assert_eq!(from("2026-11-25"), [of("2026-11-25", -8.0)]);
    let one = store.read(|data| data.night_prediction("s", date("2026-11-24"))).unwrap();
    assert_eq!(one, Some(of("2026-11-24", -5.0)));
}

#[test]
fn what_is_entered_again_for_a_night_replaces_it() {
    let store = garden();
    let of = |night: &str, low_c: f64| StoredOutcome {
        night_of: date(night),
        entered_at_utc: instant("2026-11-26T07:00:00Z"),
        outside_low_c: Some(low_c),
        zones: vec![ReadZone { zone_id: "z".to_owned(), low_c: -2.5 }],
        heated_shelter_ids: vec!["h".to_owned()],
    };
    for outcome in [of("2026-11-25", 6.0), of("2026-11-25", -6.0), of("2026-11-23", -1.0)] {
        write(&store, |data| data.put_night_outcome("s", &outcome));
    }
    let found = store.read(|data| data.night_outcomes("s", date("2026-11-23"))).unwrap();
    assert_eq!(found, [of("2026-11-25", -6.0), of("2026-11-23", -1.0)]);
}
