//! The parametric year against a measured climate: typed with a station's own averages, it must come close to what
//! the station's record says of chances that were not typed.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use std::fs;
use std::path::Path;

use hibernacle_engine::climate::freeze::{FreezeDates, first_autumn, last_spring};
use hibernacle_engine::climate::{
    Basis, Climate, SeasonDay, TypedClimate, annual_minimum, freeze_nights, read_climate_file,
};
use hibernacle_engine::site::Hemisphere::Northern;

fn measured(name: &str) -> Climate {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/climate").join(name);
    Climate::from_record(
        &read_climate_file(name, &fs::read_to_string(path).unwrap(), None).unwrap(),
        Northern,
    )
}

/// Averages of a climate as its grower would know them.
fn averages(climate: &Climate) -> TypedClimate {
    let mean = |found: FreezeDates| {
        let sum: usize = found.days.iter().map(|day| day.index()).sum();
        SeasonDay::from_index((sum as f64 / found.days.len() as f64).round() as usize).date(2001, Northern)
    };
    TypedClimate {
        first_freeze: mean(first_autumn(climate, 0.0)),
        last_freeze: mean(last_spring(climate, 0.0)),
        annual_minimum_c: annual_minimum(climate).unwrap().mean_c,
    }
}

/// Champion (Nebraska, continental) and Clemson (South Carolina, mild): see `data/climate/NOTICE`. Three
/// figures cannot say all that 20 000 nights do: tolerances are nine days at thresholds near the typed one and
/// a fortnight at −4.4 °C, 3.5 K for cold nights in the time of frost, and a fifth of the nights.
#[test]
fn typed_averages_come_close_to_the_record_they_sum_up() {
    for name in ["champion-1982-2018.csv", "clemson-1930-1955.csv"] {
        let station = measured(name);
        let averages = averages(&station);
        let typed = Climate::from_typed(&averages, Northern).unwrap();
        assert_eq!(*typed.basis(), Basis::Typed);
        for threshold_c in [0.0, -2.2, -4.4] {
            for p in [0.1, 0.5, 0.9] {
                for event in [first_autumn, last_spring] {
                    let (here, there) = (event(&typed, threshold_c), event(&station, threshold_c));
                    let off = here.position(p).unwrap() - there.position(p).unwrap();
                    // Cold thresholds are furthest from what was typed.
                    let most = if threshold_c < -4.0 { 14.0 } else { 9.0 };
                    assert!(
                        off.abs() <= most,
                        "{name}, {threshold_c} °C, {:?} {p}: off by {off} days",
                        here.event
                    );
                }
            }
            let (here, there) =
                (freeze_nights(&typed, threshold_c).unwrap(), freeze_nights(&station, threshold_c).unwrap());
            assert!((here.mean / there.mean - 1.0).abs() < 0.2, "{name}: {here:?} against {there:?}");
        }
        // The cosine knows nothing of how warm a summer gets: the time of frost counts, and in it the cold nights
        // (one in ten) more than the usual ones.
        let slot = |date| SeasonDay::of(date, Northern).index();
        for slot in (slot(averages.first_freeze)..slot(averages.last_freeze)).step_by(10) {
            for (p, most) in [(0.1, 3.5), (0.5, 4.5)] {
                let day = SeasonDay::from_index(slot);
                let off =
                    typed.lows().quantile_c(day, p).unwrap() - station.lows().quantile_c(day, p).unwrap();
                assert!(off.abs() <= most, "{name}, slot {slot}, {p}: off by {off} K");
            }
        }
    }
}

/// Averages are worth few winters, however many seasons are drawn from them.
#[test]
fn intervals_of_typed_averages_are_wide() {
    let station = measured("champion-1982-2018.csv");
    let typed = Climate::from_typed(&averages(&station), Northern).unwrap();
    let width = |climate: &Climate| {
        let found = first_autumn(climate, 0.0).interval(0.5).unwrap();
        found.to.index() - found.from.index()
    };
    assert!(width(&typed) > width(&station), "{} against {}", width(&typed), width(&station));
    let spread = |climate: &Climate| {
        let (low, high) = annual_minimum(climate).unwrap().mean_interval_c;
        high - low
    };
    assert!(spread(&typed) > spread(&station));
}
