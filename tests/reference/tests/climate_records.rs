//! Freeze statistics of two open station records against NumPy, SciPy, pandas and lmoments3.
//!
//! Records: `data/climate/NOTICE`. Expected values: `scripts/climate_statistics.py`, an independent computation
//! of the documented methods.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use std::fs;
use std::path::Path;
use std::time::Instant;

use hibernacle_engine::climate::extreme::{Gev, LMoments};
use hibernacle_engine::climate::freeze::{FreezeDates, first_autumn, last_spring};
use hibernacle_engine::climate::{
    Climate, ClimateRecord, RecordFigures, SeasonDay, annual_minimum, freeze_free_season, freeze_nights,
    freeze_report, read_climate_file, season_minima_c,
};
use hibernacle_engine::site::Hemisphere;
use serde::Deserialize;

#[derive(Deserialize)]
struct Expected {
    champion: Station,
    clemson: Station,
}

#[derive(Deserialize)]
struct Station {
    nights: u32,
    thresholds: Vec<Threshold>,
    annual_minimum: Minimum,
    chances: Vec<Chance>,
}

#[derive(Deserialize)]
struct Threshold {
    limit_c: f64,
    first: Event,
    last: Event,
    nights: Nights,
    free: Free,
}

#[derive(Deserialize)]
struct Event {
    seasons: usize,
    with: usize,
    levels: Levels,
}

#[derive(Deserialize)]
struct Levels {
    #[serde(rename = "0.1")]
    p10: Option<Level>,
    #[serde(rename = "0.5")]
    p50: Option<Level>,
    #[serde(rename = "0.9")]
    p90: Option<Level>,
}

#[derive(Deserialize)]
struct Level {
    at: f64,
    half: f64,
}

#[derive(Deserialize)]
struct Nights {
    seasons: u32,
    mean: f64,
    low: f64,
    high: f64,
}

#[derive(Deserialize)]
struct Free {
    summers: u32,
    p10: Option<f64>,
    p50: Option<f64>,
    p90: Option<f64>,
}

#[derive(Deserialize)]
struct Minimum {
    seasons: usize,
    mean: f64,
    interval: (f64, f64),
    lowest: f64,
    l_moments: (f64, f64, f64),
    gev_levels: Vec<f64>,
    gumbel_levels: Vec<f64>,
    years: Vec<u32>,
}

#[derive(Deserialize)]
struct Chance {
    slot: usize,
    limit_c: f64,
    chance: f64,
}

fn data(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("data/climate").join(name)).unwrap()
}

fn record(name: &str) -> ClimateRecord {
    read_climate_file(name, &data(name), None).unwrap()
}

fn stations() -> [(ClimateRecord, Station); 2] {
    let expected: Expected = serde_json::from_str(&data("statistics.json")).unwrap();
    [
        (record("champion-1982-2018.csv"), expected.champion),
        (record("clemson-1930-1955.csv"), expected.clemson),
    ]
}

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

fn close_option(found: Option<f64>, expected: Option<f64>, what: &str) {
    match (found, expected) {
        (Some(found), Some(expected)) => close(found, expected, 1e-9, what),
        _ => assert_eq!(found, expected, "{what}"),
    }
}

fn check_event(found: &FreezeDates, expected: &Event) {
    let what = format!("{:?} at {} °C", found.event, found.threshold_c);
    assert_eq!((found.seasons, found.seasons_with), (expected.seasons, expected.with), "{what}");
    let levels = [(0.1, &expected.levels.p10), (0.5, &expected.levels.p50), (0.9, &expected.levels.p90)];
    for (p, level) in levels {
        let what = format!("{what}, {p}");
        close_option(found.position(p), level.as_ref().map(|level| level.at), &what);
        let Some(level) = level else {
            assert_eq!(found.interval(p), None, "{what}");
            continue;
        };
        let interval = found.interval(p).unwrap();
        // Whole days: each end may be rounded by half a day.
        close(interval.from.index() as f64, (level.at - level.half).max(0.0), 0.501, &what);
        close(interval.to.index() as f64, (level.at + level.half).min(365.0), 0.501, &what);
        close(interval.day.index() as f64, level.at, 0.501, &what);
    }
}

#[test]
fn dates_nights_and_seasons_agree_with_numpy() {
    for (record, expected) in stations() {
        let climate = Climate::from_record(&record, Hemisphere::Northern);
        for expected in &expected.thresholds {
            let limit_c = expected.limit_c;
            check_event(&first_autumn(&climate, limit_c), &expected.first);
            check_event(&last_spring(&climate, limit_c), &expected.last);
            let nights = freeze_nights(&climate, limit_c).unwrap();
            assert_eq!(nights.seasons, expected.nights.seasons, "{limit_c}");
            close(nights.mean, expected.nights.mean, 1e-9, "mean nights");
            close(nights.low, expected.nights.low, 1e-9, "low nights");
            close(nights.high, expected.nights.high, 1e-9, "high nights");
            let free = freeze_free_season(&climate, limit_c);
            assert_eq!(free.summers, expected.free.summers, "{limit_c}");
            close_option(free.p10_days, expected.free.p10, "long season");
            close_option(free.p50_days, expected.free.p50, "median season");
            close_option(free.p90_days, expected.free.p90, "short season");
        }
    }
}

#[test]
fn chances_of_a_low_agree_with_numpy() {
    for (record, expected) in stations() {
        let climate = Climate::from_record(&record, Hemisphere::Northern);
        for Chance { slot, limit_c, chance } in expected.chances {
            let found = climate.lows().chance_at_or_below(SeasonDay::from_index(slot), limit_c);
            close(found, chance, 1e-9, &format!("slot {slot} at {limit_c} °C"));
        }
    }
}

#[test]
fn annual_minima_agree_with_scipy_and_lmoments3() {
    for (record, expected) in stations() {
        let climate = Climate::from_record(&record, Hemisphere::Northern);
        let expected = expected.annual_minimum;
        let found = annual_minimum(&climate).unwrap();
        assert_eq!(found.seasons as usize, expected.seasons);
        close(found.mean_c, expected.mean, 1e-9, "mean");
        close(found.mean_interval_c.0, expected.interval.0, 1e-6, "mean, low end");
        close(found.mean_interval_c.1, expected.interval.1, 1e-6, "mean, high end");
        close(found.lowest_c, expected.lowest, 1e-9, "lowest");

        let mut maxima: Vec<f64> = season_minima_c(&climate).iter().map(|c| -c).collect();
        maxima.sort_by(f64::total_cmp);
        let moments = LMoments::of(&maxima).unwrap();
        close(moments.l1, expected.l_moments.0, 1e-9, "first L-moment");
        close(moments.l2, expected.l_moments.1, 1e-9, "second L-moment");
        close(moments.t3, expected.l_moments.2, 1e-9, "L-skewness");

        let gumbel = Gev::fit_gumbel(moments);
        for (at, &years) in expected.years.iter().enumerate() {
            let not_exceeded = 1.0 - 1.0 / f64::from(years);
            close(-gumbel.quantile(not_exceeded), expected.gumbel_levels[at], 1e-6, "Gumbel level");
            let level = &found.returns[at];
            assert_eq!(level.years, years);
            // Hosking's formula for the shape is exact to 9·10⁻⁴, lmoments3 iterates.
            close(level.temp_c, expected.gev_levels[at], 0.02, "return level");
            assert!(level.interval_c.0 < level.temp_c && level.temp_c < level.interval_c.1, "{level:?}");
        }
        let rarest = found.returns.last().unwrap();
        let often = &found.returns[1];
        let width = |(from, to): (f64, f64)| to - from;
        assert!(rarest.temp_c < often.temp_c && width(rarest.interval_c) > width(often.interval_c) * 0.8);
    }
}

/// The archive holds −72.04 °F for 18 July 1936, between nights of 70 °F.
#[test]
fn the_error_of_the_clemson_archive_is_left_out_and_named() {
    let record = record("clemson-1930-1955.csv");
    let day = record.days.iter().find(|day| day.date.to_string() == "1936-07-18").unwrap();
    assert_eq!((day.min_c, day.max_c), (None, Some(33.3)));
    let problems: Vec<_> = record.problems.iter().map(|problem| (problem.line, &*problem.what)).collect();
    assert_eq!(
        problems,
        [(
            2209,
            "minimum of 1936-07-18 is -57.8 °C, 78 K below what is usual at that time of year: left out"
        )]
    );
}

#[test]
fn figures_tell_what_a_record_covers() {
    let [(champion, expected), (clemson, expected_clemson)] = stations();
    let figures = RecordFigures::of(&champion, Hemisphere::Northern).unwrap();
    assert_eq!(figures.days_with_min, expected.nights);
    assert_eq!(figures.missing_share, 0.0);
    assert_eq!(figures.first_day.to_string(), "1982-01-01");
    assert_eq!(figures.last_day.to_string(), "2018-12-31");
    assert_eq!(figures.lowest, (-37.1, "1989-12-22".parse().unwrap()));
    assert_eq!(figures.seasons, 36);
    assert!(champion.problems.is_empty(), "{:?}", champion.problems);
    let figures = RecordFigures::of(&clemson, Hemisphere::Northern).unwrap();
    assert_eq!(figures.days_with_min, expected_clemson.nights);
    assert_eq!(figures.seasons, 25);
}

/// The 90 % interval of the median must cover the median of all years in most halves of the record.
#[test]
fn half_a_record_gives_a_wider_interval_around_the_same_date() {
    let record = record("champion-1982-2018.csv");
    let climate = Climate::from_record(&record, Hemisphere::Northern);
    let whole = first_autumn(&climate, 0.0).interval(0.5).unwrap();
    let width = |found: hibernacle_engine::climate::DayInterval| found.to.index() - found.from.index();
    for parity in [0, 1] {
        let half = ClimateRecord {
            days: record
                .days
                .iter()
                .filter(|day| Hemisphere::Northern.season_year(day.date).rem_euclid(2) == parity)
                .copied()
                .collect(),
            ..record.clone()
        };
        let half = Climate::from_record(&half, Hemisphere::Northern);
        let found = first_autumn(&half, 0.0).interval(0.5).unwrap();
        assert!(found.from <= whole.day && whole.day <= found.to);
        assert!(width(found) > width(whole), "{found:?} against {whole:?}");
    }
}

/// The best of five runs, so that a busy machine does not count.
#[test]
fn reading_and_the_whole_report_are_quick() {
    let text = data("champion-1982-2018.csv");
    let run = |_| {
        let started = Instant::now();
        let record = read_climate_file("champion", &text, None).unwrap();
        let report = freeze_report(&Climate::from_record(&record, Hemisphere::Northern), &[], 2026);
        assert_eq!(report.events.len(), 8);
        started.elapsed()
    };
    let took = (0..5).map(run).min().unwrap();
    assert!(took.as_millis() < 100, "took {took:?}");
}
