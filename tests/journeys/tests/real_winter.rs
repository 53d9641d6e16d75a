//! Larch Bank's greenhouse in a real hourly winter and in the daily climate of its demo.
//!
//! Hours: Newark airport, 2013 (`tests/reference/data/climate/NOTICE`); its coldest is −11.7 °C. The place of the
//! station is that of the package it comes from, its height from memory.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test")]

use std::time::{Duration, Instant};

use hibernacle_contract::setup::{DemoRequest, OverviewRequest};
use hibernacle_contract::shelter::ShelterRef;
use hibernacle_contract::winter::{
    RunState, SetUp, SetUpBill, SetUpHeater, WeatherFile, WinterRequest, WinterView,
};
use hibernacle_engine::season::Figure;
use hibernacle_engine::shelter::{CoverOn, ShelterBuild};
use hibernacle_engine::site::Site;
use hibernacle_service::Context;
use hibernacle_service::setup::{demo_load, overview, site_save};
use hibernacle_service::shelter::{shelter_build, shelter_detail};
use hibernacle_service::winter::{winter_look, winter_start};
use hibernacle_test_support::SimulatedClock;

const HOURS: &str = include_str!("../../reference/data/climate/newark-2013-hourly.csv");

/// The demo's greenhouse.
struct House {
    context: Context,
    shelter_id: String,
}

impl House {
    fn of_the_demo() -> Self {
        let context = Context::in_memory(SimulatedClock::at("2026-10-20T12:00:00Z")).unwrap();
        demo_load(&context, DemoRequest {}).unwrap();
        let shelters = overview(&context, OverviewRequest { site_id: None }).unwrap().shelters;
        let shelter_id = shelters.into_iter().find(|shelter| shelter.name == "greenhouse").unwrap().id;
        Self { context, shelter_id }
    }

    /// The same garden where the station is, so that sun and hours belong together.
    fn at_the_station() -> Self {
        let house = Self::of_the_demo();
        let site = overview(&house.context, OverviewRequest { site_id: None }).unwrap().site.unwrap();
        let moved = Site {
            latitude_deg: 40.69,
            longitude_deg: -74.17,
            elevation_m: 5.0,
            time_zone: "America/New_York".to_owned(),
            ..site
        };
        site_save(&house.context, moved).unwrap();
        house
    }

    fn rebuilt(&self, change: impl FnOnce(&mut ShelterBuild)) {
        let request = ShelterRef { shelter_id: self.shelter_id.clone() };
        let mut build = shelter_detail(&self.context, request).unwrap().build;
        change(&mut build);
        shelter_build(&self.context, build).unwrap();
    }

    fn runs(&self, set_ups: &[SetUp], weather: Option<WeatherFile>, winters: u32, draws: u32) -> WinterView {
        let request = WinterRequest {
            shelter_id: self.shelter_id.clone(),
            set_ups: set_ups.to_vec(),
            weather,
            winters: Some(winters),
            draws: Some(draws),
        };
        let run = winter_start(&self.context, request).unwrap();
        let since = Instant::now();
        loop {
            let progress = winter_look(&self.context, run.clone()).unwrap();
            match progress.state {
                RunState::Running => std::thread::sleep(Duration::from_millis(10)),
                RunState::Done => return progress.result.unwrap(),
                RunState::Cancelled | RunState::Failed => panic!("{progress:?}"),
            }
            assert!(since.elapsed() < Duration::from_secs(300), "a run does not end: {progress:?}");
        }
    }

    fn runs_hours(&self, set_ups: &[SetUp], draws: u32) -> WinterView {
        self.runs(set_ups, Some(hours()), 1, draws)
    }
}

fn hours() -> WeatherFile {
    WeatherFile { file_name: "newark-2013-hourly.csv".to_owned(), text: HOURS.to_owned() }
}

fn set_up(name: &str, covers: &[&str], set_c: Option<f64>) -> SetUp {
    let on = |key: &&str| CoverOn { key: (*key).to_owned(), parts: Vec::new(), from: None, to: None };
    let heater = set_c.map(|set_c| SetUpHeater {
        key: "fan-electric".to_owned(),
        rating_w: 2000.0,
        set_c: Some(set_c),
    });
    SetUp { name: name.to_owned(), covers: covers.iter().map(on).collect(), heater }
}

/// Bare and under film, without heat and kept at two settings.
fn compared() -> Vec<SetUp> {
    vec![
        set_up("bare, no heat", &[], None),
        set_up("film, no heat", &["bubble-film"], None),
        set_up("bare at 5", &[], Some(5.0)),
        set_up("film at 5", &["bubble-film"], Some(5.0)),
        set_up("film at 2", &["bubble-film"], Some(2.0)),
    ]
}

fn kwh(bill: &SetUpBill) -> f64 {
    bill.bill.heat_kwh.mean
}

/// What must hold in any winter that is cold enough to heat.
fn comes_in_order(view: &WinterView) {
    let [bare_cold, film_cold, bare, film, cooler] = &view.bills[..] else { panic!("{:?}", view.bills) };
    assert!(view.bills.iter().all(|bill| bill.problem.is_none()));
    // 10 mm of bubble film with its share of leaks takes a third to a half off the U-value of twin-wall sheet: it must
    // save a quarter at least, and cannot save nine parts of ten.
    let left = kwh(film) / kwh(bare);
    assert!((0.1..0.75).contains(&left), "{left} of {} kWh", kwh(bare));
    assert!(kwh(cooler) < 0.85 * kwh(film), "{} and {} kWh", kwh(cooler), kwh(film));
    assert!(kwh(cooler) > 0.0 && kwh(bare_cold) == 0.0 && kwh(film_cold) == 0.0);
    assert!(film.bill.nights_heated.mean < bare.bill.nights_heated.mean);
    for zone in 0..view.zones.len() {
        let low = |bill: &SetUpBill| bill.bill.zone_min_c[zone].mean;
        assert!(low(film_cold) > low(bare_cold) + 0.5, "{} and {} °C", low(film_cold), low(bare_cold));
        assert!(low(cooler) > low(film_cold) + 0.5 && low(film) > low(film_cold) + 0.5);
        let nights = |bill: &SetUpBill| bill.bill.zone_nights_below[zone];
        assert!(nights(film_cold) <= nights(bare_cold) && nights(film) <= nights(film_cold));
    }
    let nights = |bill: &SetUpBill| bill.bill.zone_nights_below.iter().sum::<f64>();
    assert!(nights(film_cold) < nights(bare_cold), "{} and {}", nights(film_cold), nights(bare_cold));
    assert!(bare_cold.bill.risk >= film_cold.bill.risk && film_cold.bill.risk > film.bill.risk);
}

#[test]
fn a_real_hourly_winter_puts_set_ups_in_the_order_of_physics() {
    let house = House::at_the_station();
    let view = house.runs_hours(&compared(), 8);
    assert_eq!((view.winters, view.draws, view.first_year), (1, 8, 2013));
    comes_in_order(&view);
    // The heater is strong enough for this winter: three kelvin more on the thermostat must reach every zone, also on
    // sunny frosty days, when the vent may not chill the zones in the shade.
    for zone in 0..view.zones.len() {
        let low = |bill: &SetUpBill| bill.bill.zone_min_c[zone].mean;
        let (film, cooler) = (low(&view.bills[3]), low(&view.bills[4]));
        assert!(film > cooler + 2.0, "{film} and {cooler} °C");
    }
    let figure = |message: &str, name: &str| {
        let reason = view.reasons.iter().find(|reason| reason.message == message);
        reason.unwrap_or_else(|| panic!("{message}: {:?}", view.reasons)).figures[name].clone()
    };
    assert_eq!(figure("winter-put-together", "year"), Figure::Text("2013".to_owned()));
    // The station's storm of 1048 mph, and nothing else.
    assert_eq!(figure("winter-values-dropped", "values"), Figure::Count(1));
    assert_eq!(figure("winter-rests-file", "first"), Figure::Date("2013-10-01".parse().unwrap()));
    let is_odd = |view: &WinterView| view.reasons.iter().any(|r| r.message == "winter-odd-warmest-hour");
    assert!(!is_odd(&view));
    // In the middle of Europe the afternoon of Newark is night.
    assert!(is_odd(&House::of_the_demo().runs_hours(&compared()[..1], 1)));
    assert_eq!(house.runs_hours(&compared(), 8), view, "equal input gives the equal result");
}

#[test]
fn a_tighter_house_takes_less_in_a_real_winter() {
    let house = House::at_the_station();
    let at = |leakage: f64| {
        house.rebuilt(|build| build.leakage_factor = leakage);
        let view = house.runs_hours(&compared()[2..3], 1);
        (kwh(&view.bills[0]), view.bills[0].bill.zone_min_c[0].low)
    };
    let (tight, usual, gappy) = (at(0.5), at(1.0), at(2.0));
    // Air exchange is about a tenth of the loss of a sheltered twin-wall house, so that halving it saves less than that
    // and doubling it costs more.
    assert!(tight.0 < 0.99 * usual.0 && usual.0 < 0.98 * gappy.0, "{tight:?} {usual:?} {gappy:?}");
    assert!(tight.1 >= gappy.1, "{tight:?} {gappy:?}");
}

#[test]
fn the_daily_climate_puts_them_in_the_same_order() {
    let house = House::of_the_demo();
    let view = house.runs(&compared(), None, 3, 2);
    assert_eq!((view.winters, view.draws), (3, 2));
    comes_in_order(&view);
    assert_eq!(house.runs(&compared(), None, 3, 2), view, "equal input gives the equal result");
}
