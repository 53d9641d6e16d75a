//! A season planned from a real station's daily record, in the units of its country.
//!
//! Record: Champion, Nebraska, 1982–2018 (`tests/reference/data/climate/NOTICE`). Expected figures: the independent
//! computation with NumPy and SciPy in `tests/reference/scripts/climate_statistics.py`. The station's place is from
//! memory, rounded.

#![expect(clippy::unwrap_used, reason = "a test")]

use chrono::NaiveDate;
use hibernacle_contract::wording::Wording;
use hibernacle_engine::climate::{Basis, SeasonDay};
use hibernacle_engine::season::{BandKind, ChoreState, Event, Figure, PlannedChore, Reason};
use hibernacle_engine::site::{Hemisphere, LengthUnit, Site, TemperatureUnit, Units, VolumeUnit};
use hibernacle_journeys::{Chance, Grower, larch_bank};
use serde_json::Value;

const RECORD: &str = include_str!("../../reference/data/climate/champion-1982-2018.csv");
const STATISTICS: &str = include_str!("../../reference/data/climate/statistics.json");

const SEASON: i32 = 2026;

fn high_plains() -> Grower {
    let site = Site {
        name: "Cottonwood Draw".to_owned(),
        latitude_deg: 40.5,
        longitude_deg: -101.7,
        elevation_m: 1000.0,
        time_zone: "America/Denver".to_owned(),
        currency: "USD".to_owned(),
        units: Units {
            temperature: TemperatureUnit::Fahrenheit,
            length: LengthUnit::Foot,
            volume: VolumeUnit::UsGallon,
        },
        ..larch_bank()
    };
    let grower = Grower::begins(site, "2026-08-10");
    grower.imports("champion-1982-2018.csv", RECORD);
    grower.enter_shelters();
    grower.enter_plants();
    grower
}

/// The date that the independent computation gives: days from 1 July, with 29 February counted in every year.
fn expected(limit_c: f64, event: &str, chance: &str) -> NaiveDate {
    let statistics: Value = serde_json::from_str(STATISTICS).unwrap();
    let thresholds = statistics["champion"]["thresholds"].as_array().unwrap();
    let threshold = thresholds.iter().find(|threshold| threshold["limit_c"] == limit_c).unwrap();
    let slot = threshold[event]["levels"][chance]["at"].as_f64().unwrap();
    SeasonDay::from_index(slot.round() as usize).date(SEASON, Hemisphere::Northern)
}

fn within_a_day(shown: NaiveDate, expected: NaiveDate, what: &str) {
    let apart = (shown - expected).num_days().abs();
    assert!(apart <= 1, "{what}: {shown}, independently computed {expected}");
}

#[test]
fn freeze_dates_and_the_picture_agree_with_an_independent_computation() {
    let grower = high_plains();
    for limit_c in [0.0, -2.2, -4.4, -6.7] {
        for (chance, level) in [(Chance::OneInTen, "0.1"), (Chance::Even, "0.5"), (Chance::NineInTen, "0.9")]
        {
            for (event, name) in [(Event::FirstAutumn, "first"), (Event::LastSpring, "last")] {
                let shown = grower.freeze_date(event, limit_c, chance, SEASON).unwrap();
                within_a_day(
                    shown,
                    expected(limit_c, name, level),
                    &format!("{limit_c} °C, {name}, {level}"),
                );
            }
        }
    }
    for band in grower.plan(SEASON).bands {
        let (name, from, to) = match band.kind {
            BandKind::FirstAutumn => ("first", "0.1", "0.9"),
            BandKind::LastSpring => ("last", "0.9", "0.1"),
        };
        within_a_day(band.from, expected(band.threshold_c, name, from), "start of a band");
        within_a_day(band.median, expected(band.threshold_c, name, "0.5"), "middle of a band");
        within_a_day(band.to, expected(band.threshold_c, name, to), "end of a band");
    }
}

#[test]
fn chores_rest_on_the_record_and_say_so_in_the_growers_units() {
    let grower = high_plains();
    let plan = grower.plan(SEASON);
    let wording = Wording::new("en", grower.site.units);
    let mut checked = 0;
    for (chore, reason) in
        plan.chores.iter().flat_map(|chore| chore.reasons.iter().map(move |reason| (chore, reason)))
    {
        let sentence = wording.reason(reason);
        assert!(!sentence.contains("°C"), "{}: {sentence}", chore.title);
        checked += u32::from(is_checked(reason, chore));
    }
    assert!(checked > 50, "{checked} dates");
    assert!(
        plan.chores
            .iter()
            .any(|chore| chore.reasons.iter().any(|reason| wording.reason(reason).contains("28\u{a0}°F")))
    );
    let basis = plan
        .chores
        .iter()
        .flat_map(|chore| &chore.reasons)
        .find(|reason| reason.message == "reason-basis-measured");
    assert_eq!(
        wording.reason(basis.unwrap()),
        "Figures from 37 seasons of a station’s record, 1981 to 2018."
            .replace("37", &seasons(&grower).to_string())
    );
    assert!(plan.chores.iter().all(|chore| chore.state == ChoreState::Open));
}

fn seasons(grower: &Grower) -> u32 {
    match grower.overview().climate.unwrap().basis {
        Basis::Measured { seasons, .. } => seasons,
        Basis::Typed => 0,
    }
}

/// Holds the date of a freeze reason against the independent computation, where that has its threshold and chance.
fn is_checked(reason: &Reason, chore: &PlannedChore) -> bool {
    let event = match reason.message.as_str() {
        "reason-freeze-first" => "first",
        "reason-freeze-last" => "last",
        _ => return false,
    };
    let (Figure::Date(date), Figure::TempC(limit_c), Figure::Share(chance)) =
        (&reason.figures["date"], &reason.figures["limit"], &reason.figures["chance"])
    else {
        return false;
    };
    let has_threshold = [0.0, -2.2, -4.4, -6.7].contains(limit_c);
    let has_chance = [0.1, 0.5, 0.9].contains(chance);
    if has_threshold && has_chance {
        within_a_day(*date, expected(*limit_c, event, &chance.to_string()), &chore.title);
    }
    has_threshold && has_chance
}

/// The round of close-up: covered before the uncovered house would fail its tenderest plant in one year of ten.
#[test]
fn the_house_is_covered_before_the_cold_that_it_cannot_hold_bare() {
    let grower = high_plains();
    let cover = grower.chore(SEASON, "close-up-cover-on", "greenhouse");
    let earliest = expected(-2.2, "first", "0.1");
    let hard = expected(-6.7, "first", "0.9");
    assert!(cover.killing && cover.due_on <= cover.window.latest, "{cover:?}");
    assert!(
        cover.due_on >= earliest - chrono::Days::new(14) && cover.due_on <= hard,
        "{earliest} … {} … {hard}",
        cover.due_on
    );
}
