//! Forecasts through the service, against a server on this machine.

mod documents;
mod night;
mod refusals;
pub(crate) mod server;

use chrono::{DateTime, TimeDelta, Utc};
use hibernacle_contract::ErrorCode::{Invalid, NotFound, Unreadable};
use hibernacle_contract::setup::SiteRef;
use hibernacle_contract::weather::{ForecastFile, ForecastSource, ForecastView, WeatherSettings};
use hibernacle_service::Context;
use hibernacle_service::setup::site_save;
use hibernacle_service::weather::{forecast, forecast_file, weather_choose, weather_settings};
use hibernacle_test_support::{SimulatedClock, draft};

use crate::refused;
pub(crate) use documents::{met_norway, us_hours, us_point};
use server::{Asked, Server, answer, json};

const EVENING: &str = "2026-11-25T18:20:00Z";

/// A site whose services are a server of the test.
pub(crate) struct Yard {
    pub(crate) context: Context,
    pub(crate) clock: SimulatedClock,
    pub(crate) server: Server,
    pub(crate) site_id: String,
}

impl Yard {
    pub(crate) fn with(answers: impl Fn(&Asked) -> Vec<u8> + Send + 'static) -> Self {
        let clock = SimulatedClock::at(EVENING);
        let server = Server::answering(answers);
        let context = Context::in_memory(clock.clone()).unwrap().with_weather(server.services());
        let site = site_save(&context, draft::site()).unwrap();
        Self { context, clock, server, site_id: site.id }
    }

    fn choose(&self, source: ForecastSource) -> ForecastView {
        let contact = Some(" grower@example.org ".to_owned());
        let settings = WeatherSettings { site_id: self.site_id.clone(), source, contact };
        weather_choose(&self.context, settings).unwrap()
    }

    fn clock_now(&self) -> DateTime<Utc> {
        hibernacle_service::Clock::now_utc(&self.clock)
    }

    fn look(&self) -> ForecastView {
        forecast(&self.context, SiteRef::default()).unwrap()
    }

    fn file(&self, text: &str) -> Result<ForecastView, hibernacle_contract::Failure> {
        let file = ForecastFile {
            site_id: self.site_id.clone(),
            file_name: "saved.json".to_owned(),
            text: text.to_owned(),
        };
        forecast_file(&self.context, file)
    }
}

fn instant(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

fn met_text() -> String {
    met_norway("2026-11-25T17:00:00Z", 60, -7.0).to_string()
}

#[test]
fn nothing_is_asked_before_the_grower_turned_it_on() {
    let yard = Yard::with(|_| json(&met_text()));
    let view = yard.look();
    assert_eq!((view.settings.source, view.nights.len(), view.problem), (ForecastSource::Off, 0, None));
    assert!(yard.server.asked().is_empty());
    let on = yard.choose(ForecastSource::MetNorway);
    assert_eq!(on.nights.len(), 2);
    assert_eq!(yard.server.asked().len(), 1);
    // Turned off again, nothing is shown or asked.
    let off = yard.choose(ForecastSource::Off);
    yard.clock.advance(TimeDelta::days(1));
    assert_eq!((off.nights.len(), off.fetched_at_utc, yard.look().nights.len()), (0, None, 0));
    assert!(yard.server.asked().is_empty());
}

#[test]
fn the_norwegian_forecast_is_read() {
    let yard = Yard::with(|_| json(&met_text()));
    let view = yard.choose(ForecastSource::MetNorway);
    assert_eq!(view.problem, None);
    assert_eq!(view.issued_at_utc, Some(instant("2026-11-25T17:00:00Z")));
    assert_eq!(view.fetched_at_utc, Some(instant(EVENING)));
    let night = &view.nights[0];
    assert_eq!((night.night_of.to_string().as_str(), night.lead_days), ("2026-11-25", 0));
    assert_eq!((night.low_c, night.low_at_utc), (-7.0, instant("2026-11-26T05:00:00Z")));
    assert_eq!((night.cloud_fraction, night.wind_m_per_s), (Some(0.25), Some(1.6)));
    assert_eq!(night.next_high_c, Some(3.0));
    let asked = yard.server.asked().remove(0);
    assert_eq!(asked.path, "/weatherapi/locationforecast/2.0/compact?lat=47.7&lon=13.1&altitude=470");
    let name = asked.header("user-agent").unwrap();
    assert!(name.starts_with("Hibernacle/") && name.ends_with(" grower@example.org"), "{name}");
    assert_eq!(asked.header("if-modified-since"), None);
}

#[test]
fn the_american_forecast_is_read_by_way_of_the_point() {
    let yard = Yard::with(|_| Vec::new());
    let base = yard.server.base.clone();
    yard.server.now_answers(move |asked| match asked.path.as_str() {
        "/points/47.7,13.1" => json(&us_point(&base).to_string()),
        "/gridpoints/GRR/40,50/forecast/hourly" => {
            json(&us_hours("2026-11-25T18:00:00Z", 60, 14.0).to_string())
        }
        _ => answer("404 Not Found", &[], "{}"),
    });
    let view = yard.choose(ForecastSource::UsNws);
    assert_eq!(view.problem, None);
    let night = &view.nights[0];
    assert_eq!((night.low_c, night.cloud_fraction), (-10.0, None));
    assert_eq!(view.issued_at_utc, Some(instant("2026-11-25T17:10:00Z")));
    // 7.5 mph.
    assert!((night.wind_m_per_s.unwrap() - 3.3528).abs() < 1e-9);
    assert_eq!(yard.server.asked().len(), 2);
    // The address is remembered.
    yard.clock.advance(TimeDelta::hours(2));
    yard.look();
    let paths: Vec<String> = yard.server.asked().into_iter().map(|asked| asked.path).collect();
    assert_eq!(paths, ["/gridpoints/GRR/40,50/forecast/hourly"]);
}

#[test]
fn a_grid_square_that_moved_is_found_again() {
    let yard = Yard::with(|_| Vec::new());
    let base = yard.server.base.clone();
    let answers = move |x: u32| {
        let base = base.clone();
        move |asked: &Asked| {
            let hourly = format!("/gridpoints/GRR/{x},50/forecast/hourly");
            if asked.path.starts_with("/points/") {
                json(&us_point(&base).to_string().replace("40,50", &format!("{x},50")))
            } else if asked.path == hourly {
                json(&us_hours("2026-11-25T18:00:00Z", 60, 14.0).to_string())
            } else {
                answer("404 Not Found", &[], "{}")
            }
        }
    };
    yard.server.now_answers(answers(40));
    assert_eq!(yard.choose(ForecastSource::UsNws).problem, None);
    yard.server.now_answers(answers(41));
    yard.clock.advance(TimeDelta::hours(2));
    assert_eq!(yard.look().problem, None);
    assert_eq!(yard.server.asked().len(), 2 + 3);
}

#[test]
fn what_is_fresh_is_not_asked_for_again() {
    let headers = |_: &Asked| {
        let lines = [
            "Content-Type: application/json",
            "Date: Wed, 25 Nov 2026 18:20:00 GMT",
            "Expires: Wed, 25 Nov 2026 18:51:00 GMT",
            "Last-Modified: Wed, 25 Nov 2026 17:02:00 GMT",
        ];
        answer("200 OK", &lines, &met_text())
    };
    let yard = Yard::with(headers);
    let view = yard.choose(ForecastSource::MetNorway);
    let next = view.next_fetch_utc.unwrap();
    assert!(next >= instant("2026-11-25T18:51:00Z") && next < instant("2026-11-25T18:54:00Z"), "{next}");
    yard.clock.advance(TimeDelta::minutes(30));
    assert_eq!(yard.look(), view);
    // Choosing the same again is no way around it.
    yard.choose(ForecastSource::MetNorway);
    assert_eq!(yard.server.asked().len(), 1);

    yard.server.now_answers(|_| answer("304 Not Modified", &[], ""));
    yard.clock.set("2026-11-25T19:00:00Z");
    let again = yard.look();
    let asked = yard.server.asked().remove(0);
    assert_eq!(asked.header("if-modified-since"), Some("Wed, 25 Nov 2026 17:02:00 GMT"));
    assert_eq!((again.nights.len(), again.problem), (2, None));
    assert_eq!(again.fetched_at_utc, Some(instant("2026-11-25T19:00:00Z")));
    assert_eq!(again.issued_at_utc, view.issued_at_utc);
}

#[test]
fn another_place_is_another_forecast() {
    let yard = Yard::with(|_| json(&met_text()));
    yard.choose(ForecastSource::MetNorway);
    let mut site = draft::site();
    site.id.clone_from(&yard.site_id);
    site.latitude_deg = 60.123_49;
    site_save(&yard.context, site).unwrap();
    yard.server.now_answers(|_| answer("503 Service Unavailable", &[], ""));
    let view = yard.look();
    assert!(view.nights.is_empty() && view.problem.is_some(), "{view:?}");
    assert!(yard.server.asked()[1].path.contains("lat=60.1234&"));
}

#[test]
fn a_saved_document_of_either_kind_is_read() {
    let yard = Yard::with(|_| Vec::new());
    let view = yard.file(&met_text()).unwrap();
    assert_eq!((view.settings.source, view.nights[0].low_c), (ForecastSource::File, -7.0));
    assert_eq!((view.next_fetch_utc, view.problem), (None, None));
    let american = us_hours("2026-11-25T18:00:00Z", 40, 5.0);
    assert_eq!(yard.file(&american.to_string()).unwrap().nights[0].low_c, -15.0);
    // The same without the wrapping of GeoJSON.
    let plain = american["properties"].to_string();
    assert_eq!(yard.file(&plain).unwrap().nights[0].low_c, -15.0);
    yard.clock.advance(TimeDelta::hours(13));
    assert_eq!(yard.look().problem.as_deref(), Some("The forecast is 14 hours old."));
    assert!(yard.server.asked().is_empty());
}

#[test]
fn a_document_that_cannot_be_used_leaves_the_last_one() {
    let yard = Yard::with(|_| Vec::new());
    yard.file(&met_text()).unwrap();
    let message = refused(yard.file("<!DOCTYPE html><html></html>"), Unreadable, None);
    assert!(message.contains("web page"), "{message}");
    let broken = yard.file("{\n  \"properties\": {\n").unwrap_err();
    assert_eq!((broken.code, broken.file.as_deref()), (Unreadable, Some("saved.json")));
    assert!(broken.line.is_some_and(|line| line >= 3), "{broken:?}");
    assert!(refused(yard.file("{\"a\": 1}"), Unreadable, None).contains("no forecast"));
    let old = met_norway("2026-11-20T17:00:00Z", 60, -7.0).to_string();
    assert!(refused(yard.file(&old), Unreadable, None).contains("is past"));
    assert_eq!(yard.look().nights[0].low_c, -7.0);
}

#[test]
fn settings_are_kept_and_checked() {
    let yard = Yard::with(|_| json(&met_text()));
    let settings = |site: &str, contact: &str| WeatherSettings {
        site_id: site.to_owned(),
        source: ForecastSource::Off,
        contact: Some(contact.to_owned()),
    };
    let choose = |site: &str, contact: &str| weather_choose(&yard.context, settings(site, contact));
    refused(choose("nowhere", "a@example.org"), NotFound, None);
    for wrong in ["a\r\nHost: b", "größe@example.org", &"x".repeat(300)] {
        refused(choose(&yard.site_id, wrong), Invalid, Some("contact"));
    }
    choose(&yard.site_id, "  ").unwrap();
    let kept = || weather_settings(&yard.context, SiteRef::default()).unwrap();
    assert_eq!(kept().contact, None);
    choose(&yard.site_id, "a@example.org").unwrap();
    assert_eq!(kept().contact.as_deref(), Some("a@example.org"));
}
