use chrono::{Days, NaiveDate};

use super::*;
use crate::plant::PlantCatalogue;
use crate::site::Hemisphere;

fn date(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap()
}

fn rows() -> Rootings {
    Rootings::built_in().unwrap()
}

fn winter(hemisphere: Hemisphere) -> TakeDates {
    TakeDates {
        autumn_year: 2026,
        hemisphere,
        leaf_fall: Some(date(2026, 11, 5)),
        first_frost: Some(date(2026, 10, 12)),
    }
}

#[test]
fn every_row_is_of_a_plant_in_the_catalogue() {
    let catalogue = PlantCatalogue::built_in().unwrap();
    for row in rows().iter() {
        assert!(catalogue.get(&row.plant_key).is_some(), "{}", row.key);
    }
}

#[test]
fn windows_hang_on_leaf_fall_frost_or_the_calendar() {
    let rows = rows();
    let window = |plant: &str, kind, dates: &TakeDates| rows.of(plant, kind).unwrap().take.window(dates);
    let north = winter(Hemisphere::Northern);
    let fig = window("ficus-carica", CuttingKind::Hardwood, &north).unwrap();
    assert_eq!(fig, (date(2026, 11, 5), date(2026, 11, 26)));
    let pelargonium = window("pelargonium-zonal", CuttingKind::Softwood, &north).unwrap();
    assert_eq!(pelargonium, (date(2026, 8, 24), date(2026, 9, 28)));
    let pomegranate = window("punica-granatum", CuttingKind::Hardwood, &north).unwrap();
    assert_eq!(pomegranate, (date(2027, 2, 1), date(2027, 3, 31)));
    let oleander = window("nerium-oleander", CuttingKind::SemiRipe, &north).unwrap();
    assert_eq!(oleander, (date(2026, 7, 1), date(2026, 9, 30)));
    let south = window("ribes", CuttingKind::Hardwood, &winter(Hemisphere::Southern)).unwrap();
    assert_eq!(south, (date(2026, 4, 1), date(2026, 5, 31)));
    let unknown = TakeDates { leaf_fall: None, ..north };
    let error = window("ficus-carica", CuttingKind::Hardwood, &unknown).unwrap_err();
    assert_eq!(error.field, "leaf_fall");
}

#[test]
fn cooler_takes_longer_and_cold_stands_still() {
    let rows = rows();
    let grape = rows.of("vitis-vinifera", CuttingKind::Hardwood).unwrap();
    let taken = date(2026, 12, 1);
    let warm = grape.dates(taken, 29.5).unwrap();
    assert_eq!(warm.rooted, (taken + Days::new(10), taken + Days::new(24)));
    assert_eq!(warm.callus, Some((taken + Days::new(4), taken + Days::new(17))));
    let cool = grape.dates(taken, 18.0).unwrap();
    assert!(cool.rooted.0 > warm.rooted.0 && cool.rooted.1 > warm.rooted.1);
    assert!(cool.pot_up.0 > cool.rooted.0 && cool.pot_up.1 > cool.rooted.1);
    let error = grape.dates(taken, 8.0).unwrap_err();
    assert!(error.mend.contains("bottom heat up to 29.5 °C"), "{error}");
}

#[test]
fn own_results_move_the_expectation_and_narrow_it() {
    let table = success((0.7, 0.9), &[], 20);
    assert!((table.share - 0.8).abs() < 1e-9);
    assert!(table.count_between.0 < 16 && table.count_between.1 > 16);
    let poor = success((0.7, 0.9), &[(3, 20), (5, 20)], 20);
    assert!(poor.share < 0.6 && poor.own == 40);
    let sure = success((0.7, 0.9), &[(160, 200)], 20);
    let width = |success: &Success| success.share_between.1 - success.share_between.0;
    assert!(width(&sure) < width(&table));
    let none = success((0.5, 0.9), &[], 0);
    assert_eq!((none.count, none.count_between), (0.0, (0, 0)));
    let certain = success((1.0, 1.0), &[], 10);
    assert!(certain.share < 1.0 && certain.count_between.1 == 10);
}

fn batch() -> CuttingsBatch {
    CuttingsBatch {
        id: String::new(),
        site_id: "s".to_owned(),
        plant_key: "vitis-vinifera".to_owned(),
        planting_id: None,
        label: "Grape from the south wall".to_owned(),
        kind: CuttingKind::Hardwood,
        taken_on: date(2026, 12, 1),
        taken: 20,
        zone_id: None,
        bottom_heat_c: Some(24.0),
        counts: Vec::new(),
    }
}

fn count(month: u32, day: u32, step: BatchStep, count: u32) -> BatchCount {
    let year = if month > 6 { 2026 } else { 2027 };
    BatchCount { on: date(year, month, day), step, count, to: String::new() }
}

#[test]
fn a_batch_is_counted_on_its_way() {
    let today = date(2027, 5, 1);
    let mut batch = batch();
    assert_eq!(batch.outcome(), None);
    batch.counts = vec![
        count(12, 20, BatchStep::Callused, 18),
        count(1, 10, BatchStep::Rooted, 9),
        count(1, 25, BatchStep::Rooted, 15),
    ];
    batch.check(today).unwrap();
    assert_eq!(batch.outcome(), None, "more may come");
    batch.counts.push(count(2, 10, BatchStep::PottedUp, 14));
    batch.check(today).unwrap();
    assert_eq!(batch.outcome(), Some((15, 20)));
}

#[test]
fn counts_that_cannot_be_are_refused() {
    let today = date(2027, 5, 1);
    let refused =
        |counts: Vec<BatchCount>| CuttingsBatch { counts, ..batch() }.check(today).unwrap_err().field;
    assert_eq!(refused(vec![count(1, 1, BatchStep::Rooted, 21)]), "counts[0].count");
    assert_eq!(refused(vec![count(11, 1, BatchStep::Rooted, 5)]), "counts[0].on");
    assert_eq!(refused(vec![count(6, 1, BatchStep::Rooted, 5)]), "counts[0].on");
    let more_potted = vec![count(1, 20, BatchStep::Rooted, 5), count(1, 10, BatchStep::PottedUp, 8)];
    assert_eq!(refused(more_potted), "counts[1].count");
    let future = CuttingsBatch { taken_on: date(2027, 6, 1), ..batch() };
    assert_eq!(future.check(today).unwrap_err().field, "taken_on");
}
