//! Freeze dates against small tables: a synthetic one, and relations in NOAA's published normals.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use chrono::NaiveDate;
use hibernacle_engine::climate::freeze::{FreezeDates, first_autumn, last_spring};
use hibernacle_engine::climate::{Basis, Climate, SeasonDay, SeasonLows, freeze_free_season, freeze_report};
use hibernacle_engine::site::Hemisphere::{self, Northern};

/// Warm seasons, each with single freezing nights on the given days of the year (after 365: of the next).
fn seasons(freezes: &[Vec<u32>]) -> Climate {
    let seasons = freezes
        .iter()
        .zip(2001..)
        .map(|(days, start_year)| {
            let mut season = SeasonLows::empty(start_year);
            for (slot, low) in season.lows_c.iter_mut().enumerate() {
                if SeasonDay::from_index(slot).is_in(start_year, Northern) {
                    *low = Some(8.0);
                }
            }
            for day in days {
                season.lows_c[slot_of(*day)] = Some(-1.0);
            }
            season
        })
        .collect();
    Climate::new(Basis::Measured { first_season: 2001, last_season: 2030, seasons: 30 }, Northern, seasons)
}

/// Slot of a day of a common year, 1 for 1 January; past 365 the next year.
fn slot_of(day_of_year: u32) -> usize {
    let date =
        NaiveDate::from_yo_opt(2001 + (day_of_year as i32 - 1) / 365, (day_of_year - 1) % 365 + 1).unwrap();
    SeasonDay::of(date, Northern).index()
}

fn day_of_year(position: f64) -> f64 {
    position
        + f64::from(
            NaiveDate::from_ymd_opt(2001, 7, 1).unwrap().format("%j").to_string().parse::<u16>().unwrap(),
        )
}

/// First freezes of 28 seasons as days of the year; two more seasons have none.
const FIRST_FREEZES: [u32; 28] = [
    278, 281, 284, 286, 287, 288, 289, 290, 291, 292, 293, 293, 294, 295, 296, 297, 298, 298, 299, 300, 301,
    302, 303, 305, 306, 308, 311, 315,
];

/// Weibull plotting positions m/(n + 1), linear between ranks, as SciPy 1.17.1 gives them for the 28 seasons
/// (`scipy.stats.mstats.mquantiles(days, [.1, .2, .5, .8, .9], alphap=0, betap=0)`).
#[test]
fn the_synthetic_table_by_plotting_position() {
    let with: Vec<Vec<u32>> = FIRST_FREEZES.iter().map(|&day| vec![day]).collect();
    let found = first_autumn(&seasons(&with), 0.0);
    assert_eq!((found.seasons, found.seasons_with), (28, 28));
    for (p, day) in [(0.1, 283.7), (0.2, 287.8), (0.5, 295.5), (0.8, 303.4), (0.9, 308.3)] {
        assert!((day_of_year(found.position(p).unwrap()) - day).abs() < 1e-9, "{p}");
    }
}

/// With the two seasons without, levels refer to all 30: the mixed column of a normal distribution (mean 295.714,
/// standard deviation 8.902) lies within the scatter of the sample, and above 28/30 there is no date.
#[test]
fn the_synthetic_table_with_two_seasons_without() {
    let mut with: Vec<Vec<u32>> = FIRST_FREEZES.iter().map(|&day| vec![day]).collect();
    with.extend([vec![], vec![]]);
    let found = first_autumn(&seasons(&with), 0.0);
    assert_eq!((found.seasons, found.seasons_with), (30, 28));
    for (p, normal) in [(0.1, 284.659), (0.2, 288.667), (0.5, 296.512), (0.8, 305.218), (0.9, 311.763)] {
        let here = day_of_year(found.position(p).unwrap());
        // At 90 % of all the level is 96 % of those with a freeze, between the last two of the sample.
        let tolerance = if p > 0.85 { 3.2 } else { 1.6 };
        assert!((here - normal).abs() < tolerance, "{p}: {here} against {normal}");
        let rank = p * 30.0 / 28.0 * 29.0;
        let below = f64::from(FIRST_FREEZES[rank as usize - 1]);
        let above = f64::from(FIRST_FREEZES[(rank as usize).min(27)]);
        assert!((here - (below + (above - below) * rank.fract())).abs() < 1e-9, "{p}");
    }
    assert!(found.date_with_chance(28.0 / 30.0).is_some());
    assert_eq!(found.date_with_chance(0.94), None);
    assert_eq!(found.interval(0.94), None);
    let all = first_autumn(&seasons(&with[..28]), 0.0);
    assert!(found.position(0.5) > all.position(0.5), "seasons without a freeze make each date later");
}

/// NOAA 1991–2020 normals of Albany, New York (USW00014735): the 10 % date of the last 32 °F is 11 May, the median
/// 27 April and the 90 % date 16 April, but of the first 3 October, 15 October and 1 November. A record with
/// these quantiles gives them back, and in that order.
#[test]
fn levels_run_as_in_the_normals_of_albany() {
    let spread = |early: u32, middle: u32, late: u32| {
        // Nine years whose ranks 1, 5 and 9 of 10 carry the quantiles.
        let between = |from: u32, to: u32, step: u32| from + (to - from) * step / 4;
        let mut days: Vec<u32> = (0..4).map(|step| between(early, middle, step)).collect();
        days.extend((0..=4).map(|step| between(middle, late, step)));
        days
    };
    let (first, last) = (spread(276, 288, 305), spread(365 + 106, 365 + 117, 365 + 131));
    let years: Vec<Vec<u32>> = first.iter().zip(last.iter().rev()).map(|(a, b)| vec![*a, *b]).collect();
    let climate = seasons(&years);
    let dates = |found: FreezeDates| {
        [0.1, 0.5, 0.9]
            .map(|p| found.date_with_chance(p).unwrap().date(2024, Northern).format("%m/%d").to_string())
    };
    assert_eq!(dates(first_autumn(&climate, 0.0)), ["10/03", "10/15", "11/01"]);
    assert_eq!(dates(last_spring(&climate, 0.0)), ["05/11", "04/27", "04/16"]);
    let report = freeze_report(&climate, &[0.0], 2024);
    let spring = &report.events[1];
    let date = |of: &Option<hibernacle_engine::climate::DateInterval>| of.unwrap().date;
    assert!(date(&spring.p10) > date(&spring.p50) && date(&spring.p50) > date(&spring.p90));
}

/// In Albany the median season of 169 days is not the 171 days between the median dates: late springs and early
/// autumns do not fall together. Here too the median length differs from the difference of the medians.
#[test]
fn the_median_season_is_not_the_difference_of_the_median_dates() {
    let first = [280, 284, 288, 298, 305];
    let last = [365 + 131, 365 + 119, 365 + 117, 365 + 108, 365 + 100];
    let years: Vec<Vec<u32>> =
        [0, 1, 2, 3, 4].map(|year| vec![first[year], last[(year * 2 + 1) % 5]]).to_vec();
    let climate = seasons(&years);
    let median = |found: FreezeDates| day_of_year(found.position(0.5).unwrap());
    let between = median(first_autumn(&climate, 0.0)) - (median(last_spring(&climate, 0.0)) - 366.0);
    let free = freeze_free_season(&climate, 0.0);
    assert_eq!(free.summers, 4);
    // Lengths by hand: 2002: 284 − 119, 2003: 288 − 108, 2004 (leap): 298 − 131, 2005: 305 − 117.
    let mut lengths = [284.0 - 119.0, 288.0 - 108.0, 298.0 - 131.0, 305.0 - 117.0];
    lengths.sort_by(f64::total_cmp);
    assert_eq!(free.p50_days, Some(f64::midpoint(lengths[1], lengths[2])));
    assert!((free.p50_days.unwrap() - between).abs() >= 1.0, "{free:?} against {between}");
}

#[test]
fn a_freeze_after_new_year_counts_for_its_winter() {
    let climate = seasons(&[vec![365 + 10], vec![350], vec![365 + 40, 365 + 20], vec![]]);
    let first = first_autumn(&climate, 0.0);
    let dates: Vec<String> = first.days.iter().map(|day| day.date(2024, Northern).to_string()).collect();
    assert_eq!(dates, ["2024-12-16", "2025-01-10", "2025-01-20"]);
    assert_eq!((first.seasons, first.seasons_with), (4, 3));
    assert_eq!(
        last_spring(&climate, 0.0).days.last().unwrap().date(2024, Northern).to_string(),
        "2025-02-09"
    );
}

/// A gap in the weeks that matter must not become a late first freeze, nor a winter without one.
#[test]
fn a_gap_in_the_critical_weeks_takes_the_season_out() {
    let mut years: Vec<Vec<u32>> = (0..20).map(|year| ((280 + year % 7)..420).collect()).collect();
    years.push((280..420).collect());
    let whole = seasons(&years);
    let with_gap = |from: u32, to: u32| {
        let mut all = whole.seasons().to_vec();
        for day in from..to {
            all[20].lows_c[slot_of(day)] = None;
        }
        first_autumn(&Climate::new(whole.basis().clone(), Northern, all), 0.0)
    };
    assert_eq!(first_autumn(&whole, 0.0).seasons, 21);
    assert_eq!(with_gap(275, 300).seasons, 20, "the first freeze may be in the gap");
    assert_eq!(with_gap(200, 250).seasons, 21, "no freeze was ever near these nights");
    assert_eq!(with_gap(300, 330).seasons, 21, "after the first freeze nothing is hidden");
    let mut mild = whole.seasons().to_vec();
    for low in &mut mild[20].lows_c {
        *low = low.map(|_| 8.0);
    }
    let no_freeze = Climate::new(whole.basis().clone(), Northern, mild.clone());
    assert_eq!(first_autumn(&no_freeze, 0.0).seasons_with, 20);
    assert_eq!(first_autumn(&no_freeze, 0.0).seasons, 21);
    for day in 330..345 {
        mild[20].lows_c[slot_of(day)] = None;
    }
    let unknown = Climate::new(whole.basis().clone(), Northern, mild);
    assert_eq!(first_autumn(&unknown, 0.0).seasons, 20, "a gap is no winter without frost");
}

#[test]
fn few_seasons_give_no_date_with_an_interval() {
    let climate = seasons(&[vec![280], vec![290]]);
    let found = first_autumn(&climate, 0.0);
    assert!(found.date_with_chance(0.5).is_some());
    assert_eq!(found.interval(0.5), None);
    let report = freeze_report(&climate, &[], 2026);
    assert!(report.events.iter().all(|event| event.p50.is_none()));
    assert_eq!(report.events.len(), 8, "the usual four thresholds");
    let empty = Climate::new(Basis::Typed, Hemisphere::Southern, Vec::new());
    let report = freeze_report(&empty, &[0.0], 2026);
    assert_eq!((report.nights.len(), report.annual_minimum), (0, None));
    assert_eq!(report.seasons[0].summers, 0);
}
