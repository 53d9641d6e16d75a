use std::fmt::Write as _;
use std::time::{Duration, Instant};

use hibernacle_contract::ErrorCode::{Conflict, Invalid, NotFound, Unreadable};
use hibernacle_contract::climate::ClimateFile;
use hibernacle_contract::setup::{DemoRequest, OverviewRequest};
use hibernacle_contract::winter::{
    RunState, SetUp, SetUpBill, SetUpHeater, WeatherFile, WinterProgress, WinterRequest, WinterRun,
    WinterView,
};
use hibernacle_engine::season::{Caution, Figure};
use hibernacle_engine::shelter::CoverOn;
use hibernacle_service::Context;
use hibernacle_service::climate::climate_import;
use hibernacle_service::setup::{demo_load, overview, shelter_save, site_save};
use hibernacle_service::winter::{winter_cancel, winter_look, winter_start};
use hibernacle_test_support::{Garden, SimulatedClock, draft};

use crate::refused;

const AUTUMN: &str = "2026-10-20T17:00:00Z";

fn asked(shelter_id: &str, winters: u32, draws: u32) -> WinterRequest {
    WinterRequest {
        shelter_id: shelter_id.to_owned(),
        set_ups: Vec::new(),
        weather: None,
        winters: Some(winters),
        draws: Some(draws),
    }
}

fn larch_bank() -> (Context, String) {
    let context = Context::in_memory(SimulatedClock::at(AUTUMN)).unwrap();
    demo_load(&context, DemoRequest {}).unwrap();
    let shelters = overview(&context, OverviewRequest { site_id: None }).unwrap().shelters;
    let greenhouse = shelters.into_iter().find(|shelter| shelter.name == "greenhouse").unwrap();
    (context, greenhouse.id)
}

fn heater(rating_w: f64, set_c: Option<f64>) -> Option<SetUpHeater> {
    Some(SetUpHeater { key: "fan-electric".to_owned(), rating_w, set_c })
}

fn set_up(name: &str, covers: &[&str], heater: Option<SetUpHeater>) -> SetUp {
    let on = |key: &&str| CoverOn { key: (*key).to_owned(), parts: Vec::new(), from: None, to: None };
    SetUp { name: name.to_owned(), covers: covers.iter().map(on).collect(), heater }
}

/// Looks until the run is over; progress never falls and never passes its total.
fn ended(context: &Context, run: &WinterRun) -> WinterProgress {
    let since = Instant::now();
    let mut before = 0;
    loop {
        let progress = winter_look(context, run.clone()).unwrap();
        assert!(progress.done >= before && progress.done <= progress.total, "{progress:?}");
        before = progress.done;
        if progress.state != RunState::Running {
            return progress;
        }
        assert!(since.elapsed() < Duration::from_secs(240), "a run does not end: {progress:?}");
        std::thread::sleep(Duration::from_millis(5));
    }
}

fn done(context: &Context, request: WinterRequest) -> WinterView {
    let run = winter_start(context, request).unwrap();
    let progress = ended(context, &run);
    assert_eq!((progress.state, progress.done, progress.problem), (RunState::Done, progress.total, None));
    progress.result.unwrap()
}

fn bill<'a>(view: &'a WinterView, name: &str) -> &'a SetUpBill {
    view.bills.iter().find(|bill| bill.set_up.name == name).unwrap_or_else(|| {
        let names: Vec<&str> = view.bills.iter().map(|bill| bill.set_up.name.as_str()).collect();
        panic!("{name} is not among {names:?}")
    })
}

fn says(bill: &SetUpBill) -> Vec<&str> {
    bill.reasons.iter().map(|reason| reason.message.as_str()).collect()
}

#[test]
fn the_usual_set_ups_of_larch_bank_come_in_the_order_a_grower_expects() {
    let (context, greenhouse) = larch_bank();
    let view = done(&context, asked(&greenhouse, 3, 4));
    assert_eq!((view.winters, view.draws, view.first_year, view.last_year), (3, 4, 2023, 2025));
    assert_eq!(view.zones.len(), 4);
    let bare = bill(&view, "bare");
    let film = bill(&view, "bubble film");
    let both = bill(&view, "bubble film + dark tarp");
    assert_eq!(view.bills[0].set_up.name, "bare", "the others are compared with it");
    let kwh = |bill: &SetUpBill| bill.bill.heat_kwh.mean;
    assert!(kwh(bare) > 1.5 * kwh(film) && kwh(film) > 0.0);
    // The tarp keeps the sun out with the cold: every zone stays warmer, but heat has to make up for the sun.
    for (film, both) in film.bill.zone_min_c.iter().zip(&both.bill.zone_min_c) {
        assert!(both.low >= film.low - 0.01, "{film:?} {both:?}");
    }
    assert!(says(both).contains(&"winter-keeps-sun-out") && !says(film).contains(&"winter-keeps-sun-out"));
    assert!(bare.bill.nights_heated.mean > film.bill.nights_heated.mean);
    // A bare house stands colder: the same heater lets more nights through.
    assert!(bare.bill.risk >= film.bill.risk);
    for bill in &view.bills {
        assert_eq!((bill.problem.as_ref(), bill.bill.winters), (None, 12));
        assert!((bill.saves_kwh - (kwh(bare) - kwh(bill))).abs() < 1e-9);
        let (spread, design) = (bill.bill.heat_kwh, bill.design.unwrap());
        assert!(spread.low <= spread.median && spread.median <= spread.high);
        assert!(design.heater_w > design.loss_w && design.loss_w > 0.0);
        let units = bill.fuel_units.unwrap();
        assert!(units.mean > 0.0 && bill.set_c.is_some());
    }
    // Electricity is counted in kWh and all of it heats; propane holds 7.07 kWh a litre and a flued heater takes part
    // of it up the flue, so that a litre gives 4.6 kWh.
    assert!((film.fuel_units.unwrap().mean / kwh(film) - 1.0).abs() < 1e-9);
    let propane = bill(&view, "bubble film, Propane room heater with flue");
    assert!((kwh(propane) / propane.fuel_units.unwrap().mean - 4.6).abs() < 0.05);
    assert!(says(film).contains(&"winter-heats") && says(film).contains(&"winter-saves"));
    let told: Vec<&str> = view.reasons.iter().map(|reason| reason.message.as_str()).collect();
    for message in ["winter-rests-record", "winter-rests-draws", "winter-covers-stay-on"] {
        assert!(told.contains(&message), "{told:?}");
    }
    assert!(view.cautions.contains(&Caution::Heater) && view.cautions.contains(&Caution::FuelGas));
}

#[test]
fn settings_and_heaters_do_what_they_must() {
    let (context, greenhouse) = larch_bank();
    let request = WinterRequest {
        set_ups: vec![
            set_up("none", &["bubble-film"], None),
            set_up("two", &["bubble-film"], heater(2000.0, Some(2.0))),
            set_up("five", &["bubble-film"], heater(6000.0, Some(5.0))),
            set_up("weak", &["bubble-film"], heater(150.0, Some(5.0))),
        ],
        ..asked(&greenhouse, 2, 6)
    };
    let view = done(&context, request.clone());
    let [none, two, five, weak] = &view.bills[..] else { panic!("{:?}", view.bills) };
    assert_eq!((none.set_c, none.bill.heat_kwh.mean, &none.fuel_units), (None, 0.0, &None));
    assert!(two.bill.heat_kwh.mean < five.bill.heat_kwh.mean && two.saves_kwh < 0.0);
    assert!(weak.bill.heat_kwh.mean < five.bill.heat_kwh.mean);
    assert!(none.bill.risk > five.bill.risk, "{} and {}", none.bill.risk, five.bill.risk);
    assert!(weak.bill.risk >= five.bill.risk);
    for (cold, warm) in none.bill.zone_min_c.iter().zip(&five.bill.zone_min_c) {
        assert!(cold.median < warm.median);
    }
    assert!(says(weak).contains(&"winter-heater-short") && !says(five).contains(&"winter-heater-short"));
    assert!(says(none).contains(&"winter-no-heater") && says(five).contains(&"winter-risk-falls"));
    assert_eq!(
        done(&context, request),
        view,
        "equal input gives an equal result, whichever thread was quicker"
    );
}

#[test]
fn more_draws_only_make_the_picture_finer() {
    let (context, greenhouse) = larch_bank();
    let one = vec![set_up("film", &["bubble-film"], heater(2000.0, Some(3.0)))];
    let few = done(&context, WinterRequest { set_ups: one.clone(), ..asked(&greenhouse, 1, 10) });
    let many = done(&context, WinterRequest { set_ups: one, ..asked(&greenhouse, 1, 100) });
    let (few, many) = (&few.bills[0].bill, &many.bills[0].bill);
    assert_eq!((few.winters, many.winters), (10, 100));
    assert!((few.heat_kwh.mean / many.heat_kwh.mean - 1.0).abs() < 0.05, "{few:?} {many:?}");
    assert!((few.risk - many.risk).abs() <= 0.1);
}

#[test]
fn covers_follow_their_dates_in_every_winter() {
    let (context, greenhouse) = larch_bank();
    let dated = |name: &str, from: Option<&str>, to: Option<&str>| {
        let mut dated = set_up(name, &["bubble-film"], heater(2000.0, Some(4.0)));
        dated.covers[0].from = from.map(|date| date.parse().unwrap());
        dated.covers[0].to = to.map(|date| date.parse().unwrap());
        dated
    };
    let request = WinterRequest {
        set_ups: vec![
            set_up("bare", &[], heater(2000.0, Some(4.0))),
            dated("deep winter", Some("2026-12-15"), Some("2027-02-10")),
            dated("long", Some("2026-10-01"), Some("2027-04-30")),
            dated("always", None, None),
        ],
        ..asked(&greenhouse, 4, 1)
    };
    let view = done(&context, request);
    let kwh: Vec<f64> = view.bills.iter().map(|bill| bill.bill.heat_kwh.mean).collect();
    assert!(kwh[0] > kwh[1] && kwh[1] > kwh[2] + 1.0, "{kwh:?}");
    assert!((kwh[2] - kwh[3]).abs() < 0.01 * kwh[3], "{kwh:?}");
}

#[test]
fn typed_averages_are_drawn_into_winters_and_said_to_be() {
    let garden = Garden::at(AUTUMN);
    let view = done(&garden.context, asked(&garden.greenhouse.id, 2, 2));
    assert_eq!(view.reasons[0].message, "winter-rests-averages");
    let bare = bill(&view, "bare");
    assert!(bare.bill.heat_kwh.mean > 50.0, "{bare:?}");
    // A cellar takes no cover and has no heater here: one set-up, its risk alone.
    let cellar = done(&garden.context, asked(&garden.cellar.id, 2, 2));
    assert_eq!(cellar.bills.len(), 1);
    assert_eq!((cellar.bills[0].set_c, cellar.bills[0].bill.risk), (None, 0.0));
    assert!(says(&cellar.bills[0]).contains(&"winter-risk-none"));
}

#[test]
fn a_run_can_be_stopped_at_once_and_is_then_left_alone() {
    let (context, greenhouse) = larch_bank();
    let run = winter_start(&context, asked(&greenhouse, 30, 200)).unwrap();
    while winter_look(&context, run.clone()).unwrap().done == 0 {
        std::thread::sleep(Duration::from_millis(2));
    }
    let since = Instant::now();
    let stopped = winter_cancel(&context, run.clone()).unwrap();
    assert!(since.elapsed() < Duration::from_millis(200));
    assert_eq!((stopped.state, &stopped.result), (RunState::Cancelled, &None));
    assert!(stopped.done < stopped.total);
    // Whoever is at a winter ends it and takes no other.
    std::thread::sleep(Duration::from_millis(500));
    let later = winter_look(&context, run.clone()).unwrap();
    std::thread::sleep(Duration::from_millis(300));
    assert_eq!(winter_look(&context, run.clone()).unwrap(), later);
    let short = winter_start(&context, asked(&greenhouse, 1, 1)).unwrap();
    let result = ended(&context, &short);
    assert_eq!(winter_cancel(&context, short).unwrap(), result, "what is done stays done");
}

#[test]
fn old_runs_are_forgotten_and_all_stop_with_their_data() {
    let (context, greenhouse) = larch_bank();
    let runs: Vec<WinterRun> =
        (0..5).map(|_| winter_start(&context, asked(&greenhouse, 30, 200)).unwrap()).collect();
    let said = refused(winter_look(&context, runs[0].clone()), NotFound, None);
    assert!(said.contains("start it again"), "{said}");
    assert_eq!(winter_look(&context, runs[4].clone()).unwrap().state, RunState::Running);
    let since = Instant::now();
    drop(context);
    assert!(since.elapsed() < Duration::from_secs(20), "dropping took {:?}", since.elapsed());
}

#[test]
fn what_cannot_be_run_is_refused_by_field_before_it_starts() {
    let (context, greenhouse) = larch_bank();
    let start = |set_up: SetUp| {
        let set_ups = vec![self::set_up("bare", &[], None), set_up];
        winter_start(&context, WinterRequest { set_ups, ..asked(&greenhouse, 1, 1) })
    };
    let film = |heater| set_up("film", &["bubble-film"], heater);
    for (wrong, field, words) in [
        (set_up(" ", &[], None), "set_ups[1].name", "give the set-up a name"),
        (set_up("?", &["gold-leaf"], None), "set_ups[1].covers", "“gold-leaf” is not in the catalogue"),
        (film(heater(0.0, None)), "set_ups[1].heater.rating_w", "is 0"),
        (film(heater(f64::NAN, None)), "set_ups[1].heater.rating_w", "NaN"),
        (film(heater(2000.0, Some(90.0))), "set_ups[1].heater.set_c", "is 90"),
        (
            film(Some(SetUpHeater { key: "bonfire".to_owned(), rating_w: 9.0, set_c: None })),
            "set_ups[1].heater.key",
            "“bonfire” is not in the catalogue",
        ),
    ] {
        let said = refused(start(wrong), Invalid, Some(field));
        assert!(said.contains(words), "{said}");
    }
    let mut swapped = set_up("film", &["bubble-film"], None);
    swapped.covers[0].from = "2027-03-01".parse().ok();
    swapped.covers[0].to = "2026-11-01".parse().ok();
    let said = refused(start(swapped), Invalid, Some("set_ups[1].covers"));
    assert!(said.contains("comes off before it goes on"), "{said}");
    refused(winter_start(&context, asked(&greenhouse, 61, 1)), Invalid, Some("winters"));
    refused(winter_start(&context, asked(&greenhouse, 1, 0)), Invalid, Some("draws"));
    refused(winter_start(&context, asked("nowhere", 1, 1)), NotFound, None);
    let garden = Garden::at(AUTUMN);
    let covered = WinterRequest {
        set_ups: vec![set_up("film", &["bubble-film"], None)],
        ..asked(&garden.cellar.id, 1, 1)
    };
    let said = refused(winter_start(&garden.context, covered), Invalid, Some("set_ups[0].covers"));
    assert!(said.contains("a room inside a building"), "{said}");
}

#[test]
fn without_weather_there_is_nothing_to_run() {
    let context = Context::in_memory(SimulatedClock::at(AUTUMN)).unwrap();
    let site = site_save(&context, draft::site()).unwrap();
    let house = shelter_save(&context, draft::greenhouse(&site.id)).unwrap();
    let said = refused(winter_start(&context, asked(&house.id, 1, 1)), Conflict, None);
    assert!(said.contains("no climate yet"), "{said}");
    // A record of one summer holds no winter.
    let mut text = String::from("date,tmin_c,tmax_c\n");
    for day in 1..=31 {
        writeln!(text, "2025-07-{day:02},9.0,24.0").unwrap();
    }
    let file = ClimateFile { site_id: site.id, file_name: "summer.csv".to_owned(), text, plain_unit: None };
    climate_import(&context, file).unwrap();
    let said = refused(winter_start(&context, asked(&house.id, 1, 1)), Conflict, None);
    assert!(said.contains("nine days in ten"), "{said}");
}

/// Hours of a cold month, some of them missing.
fn hours(count: u32, skipped: std::ops::Range<u32>) -> WeatherFile {
    let mut text = String::from("time_utc,temp_c,wind_m_per_s\n");
    let start = chrono::DateTime::parse_from_rfc3339("2024-12-01T00:00:00Z").unwrap();
    for hour in (0..count).filter(|hour| !skipped.contains(hour)) {
        let at = start + chrono::TimeDelta::hours(hour.into());
        let temp_c = -4.0 - 4.0 * (f64::from(hour) / 24.0 * std::f64::consts::TAU).cos();
        writeln!(text, "{},{temp_c:.1},2.0", at.format("%Y-%m-%d %H:%M")).unwrap();
    }
    WeatherFile { file_name: "december.csv".to_owned(), text }
}

#[test]
fn a_file_of_hours_takes_the_place_of_the_climate() {
    let (context, greenhouse) = larch_bank();
    let with = |file| WinterRequest { weather: Some(file), ..asked(&greenhouse, 60, 2) };
    let view = done(&context, with(hours(1000, 300..320)));
    assert_eq!((view.winters, view.first_year), (1, 2024));
    let told: Vec<&str> = view.reasons.iter().map(|reason| reason.message.as_str()).collect();
    for message in ["winter-rests-file", "winter-hours-filled", "winter-estimated-sun"] {
        assert!(told.contains(&message), "{told:?}");
    }
    let wind = view.reasons.iter().find(|reason| reason.message == "winter-estimated-wind").unwrap();
    assert_eq!(wind.figures["hours"], Figure::Count(20), "the file has wind in all other hours");
    let said = refused(winter_start(&context, with(hours(1000, 300..400))), Unreadable, None);
    assert!(said.contains("december.csv") && said.contains("no temperatures for 4.2 days"), "{said}");
    let said = refused(winter_start(&context, with(hours(100, 0..0))), Unreadable, None);
    assert!(said.contains("less than a month"), "{said}");
    let mut broken = hours(1000, 0..0);
    broken.text = broken.text.replacen("-8.0", "icy", 1);
    let said = refused(winter_start(&context, with(broken)), Unreadable, Some("temp_c"));
    assert!(said.contains("line 2") && said.contains("“icy” is not a number"), "{said}");
}
