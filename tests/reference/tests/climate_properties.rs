//! What must hold for any climate: order of chances, inverses, the mirror of the hemispheres, and that missing
//! nights never make a date more certain.

use chrono::{Datelike, NaiveDate};
use hibernacle_engine::climate::freeze::{first_autumn, last_spring};
use hibernacle_engine::climate::{
    Basis, Climate, SeasonDay, SeasonLows, annual_minimum, freeze_free_season, freeze_nights,
};
use hibernacle_engine::site::Hemisphere::{self, Northern, Southern};
use proptest::prelude::*;

const BASIS: Basis = Basis::Measured { first_season: 2001, last_season: 2012, seasons: 12 };

/// Seasons with a winter in their middle, of any depth and restlessness, by whole tenths of a degree.
fn any_climate() -> impl Strategy<Value = Climate> {
    (2..12_usize, -10..12_i32, 2..16_i32, 1..9_i32, any::<u64>()).prop_map(
        |(seasons, mean_c, swing_k, spread_k, seed)| {
            let mut state = seed | 1;
            let mut noise = move || {
                // xorshift64: any restless sequence will do.
                state ^= state << 13;
                state ^= state >> 7;
                state ^= state << 17;
                (state >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
            };
            let lows = |start_year: i32, noise: &mut dyn FnMut() -> f64| {
                let mut season = SeasonLows::empty(start_year);
                for (slot, low) in season.lows_c.iter_mut().enumerate() {
                    let winter = (std::f64::consts::TAU * (slot as f64 - 200.0) / 366.0).cos();
                    let low_c =
                        f64::from(mean_c) - f64::from(swing_k) * winter + 4.0 * f64::from(spread_k) * noise();
                    if SeasonDay::from_index(slot).is_in(start_year, Northern) {
                        *low = Some((low_c * 10.0).round() / 10.0);
                    }
                }
                season
            };
            let seasons = (0..seasons as i32).map(|year| lows(2001 + year, &mut noise)).collect();
            Climate::new(BASIS, Northern, seasons)
        },
    )
}

fn without(climate: &Climate, missing: &[(usize, usize)]) -> Climate {
    let mut seasons = climate.seasons().to_vec();
    let count = seasons.len();
    for (season, slot) in missing {
        seasons[season % count].lows_c[*slot] = None;
    }
    Climate::new(climate.basis().clone(), climate.hemisphere(), seasons)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn chances_of_a_low_rise_with_the_limit_and_invert(climate in any_climate(), slot in 0..366_usize, p in 0.001..1.0_f64) {
        let day = SeasonDay::from_index(slot);
        let lows = climate.lows();
        let mut before = 0.0;
        for limit in -400..400 {
            let chance = lows.chance_at_or_below(day, f64::from(limit) / 10.0);
            prop_assert!((before..=1.0).contains(&chance));
            before = chance;
        }
        prop_assert_eq!(before, 1.0);
        let low_c = lows.quantile_c(day, p).unwrap();
        prop_assert!(lows.chance_at_or_below(day, low_c) >= p);
        prop_assert!(lows.chance_at_or_below(day, low_c - 0.1) < p);
    }

    /// Over a season the chances add up to the nights that were counted.
    #[test]
    fn chances_add_up_to_the_nights_of_a_season(climate in any_climate(), limit in -150..100_i32) {
        let limit_c = f64::from(limit) / 10.0;
        let sum: f64 = (0..366)
            .filter(|slot| *slot != SeasonDay::of(NaiveDate::from_ymd_opt(2024, 2, 29).unwrap(), Northern).index())
            .map(|slot| climate.lows().chance_at_or_below(SeasonDay::from_index(slot), limit_c))
            .sum();
        let counted = freeze_nights(&climate, limit_c).unwrap().mean;
        prop_assert!((sum - counted).abs() < 1.5, "{} against {}", sum, counted);
    }

    #[test]
    fn dates_run_with_the_chance_and_invert(climate in any_climate(), threshold in -100..60_i32) {
        let threshold_c = f64::from(threshold) / 10.0;
        for (found, later_with_chance) in [(first_autumn(&climate, threshold_c), true), (last_spring(&climate, threshold_c), false)] {
            prop_assert!(found.seasons_with <= found.seasons);
            prop_assert!(found.days.is_sorted());
            let mut before: Option<f64> = None;
            for percent in 1..=100 {
                let p = f64::from(percent) / 100.0;
                let Some(position) = found.position(p) else {
                    prop_assert!(p > found.share_with() - 1e-9);
                    continue;
                };
                prop_assert!(p <= found.share_with() + 1e-9);
                if let Some(before) = before {
                    let in_order = if later_with_chance { position >= before } else { position <= before };
                    prop_assert!(in_order);
                }
                before = Some(position);
                if position.fract() == 0.0 {
                    // Ties and the outermost dates stand for a range of chances.
                    let chance = found.chance_by(SeasonDay::from_index(position as usize));
                    prop_assert!(chance + 1e-9 >= p || position as usize == found.days.last().unwrap().index()
                        || position as usize == found.days[0].index());
                }
                if let Some(interval) = found.interval(p) {
                    prop_assert!(interval.from <= interval.day && interval.day <= interval.to);
                }
            }
            let chances: Vec<f64> =
                (0..366).map(|slot| found.chance_by(SeasonDay::from_index(slot))).collect();
            prop_assert!(chances.iter().all(|chance| (0.0..=found.share_with()).contains(chance)));
            let in_order = if later_with_chance { chances.is_sorted() } else { chances.iter().rev().is_sorted() };
            prop_assert!(in_order);
        }
    }

    /// A colder threshold comes later in autumn and ends earlier in spring, on fewer nights.
    #[test]
    fn colder_thresholds_are_rarer(climate in any_climate(), threshold in -80..60_i32, step in 1..60_i32) {
        let (mild_c, cold_c) = (f64::from(threshold) / 10.0, f64::from(threshold - step) / 10.0);
        let later = |a: Option<f64>, b: Option<f64>| a.is_none_or(|a| b.is_some_and(|b| a >= b));
        for p in [0.1, 0.5, 0.9] {
            prop_assert!(later(first_autumn(&climate, cold_c).position(p), first_autumn(&climate, mild_c).position(p)));
            let negated = |c: f64| last_spring(&climate, c).position(p).map(|position| -position);
            prop_assert!(later(negated(cold_c), negated(mild_c)));
        }
        prop_assert!(freeze_nights(&climate, cold_c).unwrap().mean <= freeze_nights(&climate, mild_c).unwrap().mean);
        let (mild, cold) = (freeze_free_season(&climate, mild_c), freeze_free_season(&climate, cold_c));
        prop_assert!(later(cold.p50_days, mild.p50_days));
    }

    /// Moved by half a year, the seasons of the south are those of the north.
    #[test]
    fn the_hemispheres_mirror_each_other(climate in any_climate(), threshold in -80..60_i32) {
        let threshold_c = f64::from(threshold) / 10.0;
        // Both halves get leap years only, so that each slot is a date.
        let mut seasons = climate.seasons().to_vec();
        for (season, leap) in seasons.iter_mut().zip((1999..).step_by(4)) {
            season.start_year = leap;
            for low in &mut season.lows_c {
                low.get_or_insert(7.5);
            }
        }
        let climate = Climate::new(BASIS, Northern, seasons);
        let mut record = hibernacle_engine::climate::ClimateRecord {
            station: Default::default(),
            source: hibernacle_engine::climate::RecordSource::PlainCsv,
            days: Vec::new(),
            problems: Vec::new(),
        };
        for (at, season) in climate.seasons().iter().enumerate() {
            let leap = 2000 + 4 * at as i32;
            for (slot, low) in season.lows_c.iter().enumerate() {
                let date = SeasonDay::from_index(slot).date(leap, Southern);
                prop_assert_eq!(Southern.season_year(date), leap);
                record.days.push(hibernacle_engine::climate::DailyTemps { date, min_c: *low, max_c: None });
            }
        }
        let south = Climate::from_record(&record, Southern);
        let all_slots = |climate: &Climate| climate.seasons().iter().map(|s| s.lows_c.clone()).collect::<Vec<_>>();
        prop_assert_eq!(all_slots(&south), all_slots(&climate));
        prop_assert_eq!(first_autumn(&south, threshold_c).days, first_autumn(&climate, threshold_c).days);
        prop_assert_eq!(last_spring(&south, threshold_c).days, last_spring(&climate, threshold_c).days);
        prop_assert_eq!(south.lows(), climate.lows());
    }

    /// From a complete record, taking nights away never adds a season, never adds an event, and never dates a
    /// judged season's event outside what its missing nights allow.
    #[test]
    fn missing_nights_never_make_a_date_more_certain(
        climate in any_climate(),
        missing in prop::collection::vec((0..12_usize, 0..366_usize), 0..200),
        threshold in -80..60_i32,
    ) {
        let threshold_c = f64::from(threshold) / 10.0;
        let gappy = without(&climate, &missing);
        for event in [first_autumn, last_spring] {
            let (whole, less) = (event(&climate, threshold_c), event(&gappy, threshold_c));
            prop_assert!(less.seasons <= whole.seasons && less.seasons_with <= whole.seasons_with);
        }
        let whole = annual_minimum(&climate).unwrap();
        if let Some(less) = annual_minimum(&gappy) {
            prop_assert!(less.seasons <= whole.seasons && less.lowest_c >= whole.lowest_c);
        }
        prop_assert!(freeze_free_season(&gappy, threshold_c).summers <= freeze_free_season(&climate, threshold_c).summers);
    }
}

/// Intervals of 90 % must hold the true date in about 90 of 100 records: here records of 25 years from a known
/// distribution.
#[test]
fn intervals_hold_the_truth_as_often_as_they_say() {
    let mut state = 42_u64;
    let mut uniform = move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((state >> 33) as f64 + 0.5) / (1_u64 << 31) as f64
    };
    // Sum of twelve uniform numbers: normal, with quantiles at ±1.2816 for 10 and 90 %.
    let mut date = move || (100.0 + 11.0 * ((0..12).map(|_| uniform()).sum::<f64>() - 6.0)).round() as usize;
    for (p, truth) in [(0.1, 100.0 - 1.2816 * 11.0), (0.5, 100.0), (0.9, 100.0 + 1.2816 * 11.0)] {
        let records = 250;
        let held = (0..records)
            .filter(|_| {
                let seasons = (0..25)
                    .map(|year| {
                        let mut season = SeasonLows::empty(2001 + year);
                        let freeze = date();
                        for (slot, low) in season.lows_c.iter_mut().enumerate() {
                            *low = Some(if slot >= freeze && slot < 300 { -5.0 } else { 9.0 });
                        }
                        season
                    })
                    .collect();
                let found = first_autumn(&Climate::new(BASIS, Northern, seasons), 0.0).interval(p).unwrap();
                (found.from.index() as f64 - 0.5..=found.to.index() as f64 + 0.5).contains(&truth)
            })
            .count();
        let share = held as f64 / f64::from(records);
        assert!((0.85..=0.97).contains(&share), "the {p} date is held in {share} of records");
    }
}

/// The same for the low that is reached once in ten years, in records of 30 years of Gumbel minima (location 16,
/// scale 2.5). Bootstrap intervals of extremes are known to be somewhat short.
#[test]
fn return_levels_hold_the_truth_nearly_as_often_as_they_say() {
    let mut state = 4_711_u64;
    let mut minimum_c = move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let share = ((state >> 33) as f64 + 0.5) / (1_u64 << 31) as f64;
        -(16.0 - 2.5 * (-share.ln()).ln())
    };
    let truth = -(16.0 - 2.5 * (-(0.9_f64).ln()).ln());
    let records = 150;
    let held = (0..records)
        .filter(|_| {
            let seasons = (0..30)
                .map(|year| {
                    let mut season = SeasonLows::empty(2001 + year);
                    season.lows_c.fill(Some(5.0));
                    season.lows_c[200] = Some(minimum_c());
                    season
                })
                .collect();
            let found = annual_minimum(&Climate::new(BASIS, Northern, seasons)).unwrap();
            let level = found.returns.iter().find(|level| level.years == 10).unwrap();
            (level.interval_c.0..=level.interval_c.1).contains(&truth)
        })
        .count();
    let share = held as f64 / f64::from(records);
    assert!((0.8..=0.97).contains(&share), "held in {share} of records");
}

#[test]
fn a_record_of_the_south_is_read_by_its_own_winter() {
    let first: NaiveDate = "2020-01-01".parse().unwrap();
    let days = first
        .iter_days()
        .take(731)
        .map(|date| {
            let cold = (5..=9).contains(&date.month()) && date.day() == 15;
            hibernacle_engine::climate::DailyTemps {
                date,
                min_c: Some(if cold { -3.0 } else { 6.0 }),
                max_c: None,
            }
        })
        .collect();
    let record = hibernacle_engine::climate::ClimateRecord {
        station: Default::default(),
        source: hibernacle_engine::climate::RecordSource::PlainCsv,
        days,
        problems: Vec::new(),
    };
    let climate = Climate::from_record(&record, Hemisphere::Southern);
    let dates = |found: hibernacle_engine::climate::FreezeDates| -> Vec<String> {
        found.days.iter().map(|day| day.date(2021, Southern).to_string()).collect()
    };
    assert_eq!(dates(first_autumn(&climate, 0.0)), ["2021-05-15", "2021-05-15"]);
    assert_eq!(dates(last_spring(&climate, 0.0)), ["2021-09-15", "2021-09-15"]);
    let free = freeze_free_season(&climate, 0.0);
    assert_eq!((free.summers, free.p50_days), (1, Some(242.0)), "15 September 2020 to 15 May 2021");
}
