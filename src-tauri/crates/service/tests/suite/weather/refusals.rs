//! Services that fail, stall or talk nonsense: the last good forecast stays, and the grower is told.

use chrono::TimeDelta;
use hibernacle_contract::weather::{ForecastSource, ForecastView};
use serde_json::{Value, json};

use super::server::{Asked, answer, json as ok};
use super::{Yard, instant, met_norway, met_text, us_hours, us_point};

/// A yard with a good forecast, two hours later, when the service says something else.
fn later(answers: impl Fn(&Asked) -> Vec<u8> + Send + 'static) -> (Yard, ForecastView) {
    let yard = Yard::with(|_| ok(&met_text()));
    assert_eq!(yard.choose(ForecastSource::MetNorway).problem, None);
    yard.server.asked();
    yard.server.now_answers(answers);
    yard.clock.advance(TimeDelta::hours(2));
    let view = yard.look();
    (yard, view)
}

/// The problem that is told when the service answers so, with the last good forecast in place.
fn told(answers: impl Fn(&Asked) -> Vec<u8> + Send + 'static) -> String {
    let (yard, view) = later(answers);
    assert_eq!(view.nights[0].low_c, -7.0);
    assert_eq!(view.fetched_at_utc, Some(instant("2026-11-25T18:20:00Z")));
    let problem = view.problem.unwrap();
    assert!(problem.ends_with("The last good forecast is 2 hours old."), "{problem}");
    // It is not asked again at once.
    let asked = yard.server.asked().len();
    yard.look();
    assert_eq!(yard.server.asked().len(), 0, "{asked} before");
    problem
}

/// The problem with a document.
fn told_of(document: &Value) -> String {
    let text = document.to_string();
    told(move |_| ok(&text))
}

#[test]
fn statuses_are_said_in_words() {
    let status = |status: &'static str| told(move |_| answer(status, &[], "{\"title\": \"x\"}"));
    assert!(status("404 Not Found").contains("no forecast for this place"));
    assert!(status("403 Forbidden").contains("refuses to answer"));
    assert!(status("429 Too Many Requests").contains("overloaded or down"));
    assert!(status("503 Service Unavailable").contains("overloaded or down"));
    assert!(status("418 I'm a teapot").contains("status 418"));
    // Unchanged, though nothing was named that could be.
    assert!(status("304 Not Modified").contains("status 304"));
}

#[test]
fn a_service_that_asks_for_time_gets_it_and_failures_space_out() {
    let (yard, view) = later(|_| answer("429 Too Many Requests", &["Retry-After: 5400"], ""));
    let wait = view.next_fetch_utc.unwrap() - instant("2026-11-25T20:20:00Z");
    assert!(wait >= TimeDelta::minutes(90) && wait < TimeDelta::minutes(92), "{wait}");
    yard.server.now_answers(|_| answer("503 Service Unavailable", &[], ""));
    let mut waits = Vec::new();
    for _ in 0..3 {
        yard.clock.set(&yard.look().next_fetch_utc.unwrap().to_rfc3339());
        let now = yard.look();
        waits.push((now.next_fetch_utc.unwrap() - yard.clock_now()).num_minutes());
    }
    // Second, third and fourth failure: 10, 20 and 40 minutes and up to a quarter more.
    for (wait, least) in waits.iter().zip([10, 20, 40]) {
        assert!((least..=least + least / 4).contains(wait), "{waits:?}");
    }
    yard.server.now_answers(|_| ok(&met_text()));
    yard.clock.advance(TimeDelta::hours(1));
    let good = yard.look();
    assert_eq!(good.problem, None);
    assert!(good.next_fetch_utc.unwrap() - yard.clock_now() < TimeDelta::minutes(33));
}

#[test]
fn a_slow_service_is_not_waited_for() {
    let begun = std::time::Instant::now();
    let problem = told(|_| {
        std::thread::sleep(std::time::Duration::from_secs(3));
        Vec::new()
    });
    assert!(problem.contains("did not answer within"), "{problem}");
    assert!(begun.elapsed() < std::time::Duration::from_millis(2900), "{:?}", begun.elapsed());
}

#[test]
fn an_answer_that_stalls_in_the_middle_is_given_up() {
    let problem = told(|_| b"HTTP/1.1 200 OK\r\nContent-Length: 100000\r\n\r\n{\"type\": ".to_vec());
    assert!(problem.contains("broken off") || problem.contains("did not answer"), "{problem}");
}

#[test]
fn garbage_is_no_answer() {
    assert!(told(|_| b"SSH-2.0-x\r\n\r\n".to_vec()).contains("broken off or garbled"));
    let problem = told(|_| {
        let mut bytes = answer("200 OK", &["Content-Type: application/json"], "{\"xx\": 1}");
        let at = bytes.windows(2).position(|pair| pair == b"xx").unwrap();
        bytes[at] = 0xff;
        bytes
    });
    assert!(problem.contains("not UTF-8"), "{problem}");
}

#[test]
fn a_cut_document_and_a_web_page_are_named() {
    let cut = met_text()[..4000].to_owned();
    assert!(told(move |_| ok(&cut)).contains("not JSON"));
    let page = "<!DOCTYPE html><title>Sign in</title>";
    assert!(told(move |_| answer("200 OK", &["Content-Type: text/html"], page)).contains("web page"));
    assert!(told(|_| ok("")).contains("not JSON"));
    assert!(told(|_| ok("[]")).contains("not as published"));
}

#[test]
fn an_answer_without_end_is_cut_off() {
    let problem = told(|_| ok(&" ".repeat(5 * 1024 * 1024)));
    assert!(problem.contains("longer than any forecast (4 MB)"), "{problem}");
}

#[test]
fn redirects_are_followed_a_few_times_only() {
    let problem = told(|asked| answer("301 Moved Permanently", &[&format!("Location: {}", asked.path)], ""));
    assert!(problem.contains("sends to other addresses"), "{problem}");
    let (_, view) = later(|asked| {
        if asked.path.starts_with("/moved") {
            return ok(&met_norway("2026-11-25T19:00:00Z", 60, -9.0).to_string());
        }
        answer("302 Found", &["Location: /moved"], "")
    });
    assert_eq!((view.problem, view.nights[0].low_c), (None, -9.0));
}

#[test]
fn a_point_that_leads_elsewhere_is_not_followed() {
    let yard = Yard::with(|_| ok(&us_point("http://127.0.0.1:9").to_string()));
    let problem = yard.choose(ForecastSource::UsNws).problem.unwrap();
    assert!(problem.contains("sends to other addresses"), "{problem}");
    assert_eq!(yard.server.asked().len(), 1);
    // A host whose name only begins like the service's.
    let yard = Yard::with(|_| Vec::new());
    let foreign = format!("{}.example.org", yard.server.base);
    yard.server.now_answers(move |_| ok(&us_point(&foreign).to_string()));
    assert!(yard.choose(ForecastSource::UsNws).problem.unwrap().contains("other addresses"));
    let yard = Yard::with(|_| ok("{\"properties\": {}}"));
    assert!(yard.choose(ForecastSource::UsNws).problem.unwrap().contains("names no hourly forecast"));
}

#[test]
fn a_service_that_is_not_there_is_named() {
    let yard = Yard::with(|_| Vec::new());
    yard.server.now_answers(|_| Vec::new());
    let problem = yard.choose(ForecastSource::MetNorway).problem.unwrap();
    assert!(problem.contains("127.0.0.1"), "{problem}");
    assert!(!problem.contains("last good"), "{problem}");
}

#[test]
fn nonsense_in_the_norwegian_document_is_refused() {
    let changed = |pointer: &str, value: Value| {
        let mut document = met_norway("2026-11-25T19:00:00Z", 60, -9.0);
        *document.pointer_mut(&format!("/properties{pointer}")).unwrap() = value;
        told_of(&document)
    };
    let detail = |name: &str, value| changed(&format!("/timeseries/7/data/instant/details/{name}"), value);
    assert!(detail("air_temperature", json!(300.0)).contains("temperature in °C of 300"));
    assert!(detail("air_temperature", json!(null)).contains("not as published"));
    assert!(detail("relative_humidity", json!(-4.0)).contains("relative humidity of -0.04"));
    assert!(detail("cloud_area_fraction", json!(130.0)).contains("share of clouds of 1.3"));
    assert!(detail("wind_speed", json!(-1.0)).contains("wind in m/s of -1"));
    assert!(changed("/meta/units/air_temperature", json!("kelvin")).contains("air_temperature in “kelvin”"));
    assert!(changed("/meta/units/wind_speed", json!("mi/h")).contains("wind_speed in “mi/h”"));
    assert!(changed("/meta/units", json!({})).contains("air_temperature in “”"));
    assert!(changed("/timeseries/7/time", json!("2026-11-25T19:00:00Z")).contains("out of order or double"));
    assert!(changed("/timeseries/7/time", json!("soon")).contains("timeseries[7].time"));
    assert!(changed("/timeseries", json!([])).contains("only 0 hours"));
    assert!(changed("/timeseries/59/time", json!("2027-01-01T00:00:00Z")).contains("leaves out the hours"));
    let old = met_norway("2026-11-22T19:00:00Z", 60, -9.0);
    assert!(told_of(&old).contains("is past"));
}

#[test]
fn nonsense_in_the_american_document_is_refused() {
    let told = |change: fn(&mut Value)| {
        let yard = Yard::with(|_| Vec::new());
        let base = yard.server.base.clone();
        let mut document = us_hours("2026-11-25T18:00:00Z", 60, 14.0);
        change(&mut document["properties"]["periods"][5]);
        let text = document.to_string();
        yard.server.now_answers(move |asked| {
            if asked.path.starts_with("/points") { ok(&us_point(&base).to_string()) } else { ok(&text) }
        });
        let view = yard.choose(ForecastSource::UsNws);
        view.problem.ok_or_else(|| view.nights[0].clone())
    };
    let refused = |change| told(change).unwrap();
    assert!(refused(|period| period["temperatureUnit"] = json!("K")).contains("temperature in “K”"));
    assert!(refused(|period| period["temperature"] = json!(900)).contains("which cannot be"));
    assert!(refused(|period| period["temperature"] = json!("cold")).contains("periods[5].temperature"));
    assert!(
        refused(|period| period["temperature"] = json!({ "unitCode": "wmoUnit:degC", "value": null }))
            .contains("has no temperature")
    );
    assert!(refused(|period| period["windSpeed"] = json!("breezy")).contains("“breezy” is no wind"));
    assert!(refused(|period| period["windSpeed"] = json!("5 furlongs")).contains("windSpeed in “furlongs”"));
    let good = |change| told(change).unwrap_err();
    // Quantities in place of plain values, as the service is changing to.
    let quantity = good(|period| {
        period["temperature"] = json!({ "unitCode": "wmoUnit:degC", "value": -21.5 });
        period["windSpeed"] = json!({ "unitCode": "wmoUnit:km_h-1", "minValue": 10, "maxValue": 14 });
    });
    assert_eq!(quantity.low_c, -21.5);
    assert_eq!(good(|period| period["windSpeed"] = json!("")).low_c, -10.0);
}
