//! Cold hardiness of buds and what bud stages stand, against the publications.

#![expect(clippy::expect_used, reason = "helpers of tests")]

use chrono::{Days, NaiveDate};
use hibernacle_engine::plant::dormancy::{
    BudHardiness, BudStages, Cultivar, Cultivars, HardinessTables, Phase, Start, Subject, ZoneSeason,
    ZoneTemps,
};
use hibernacle_engine::plant::{Container, PlantCatalogue};

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).expect("a date")
}

/// Daily means of Prosser from 7 September 2009.
fn prosser() -> Vec<f64> {
    include_str!("../data/dormancy/days.txt")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .flat_map(str::split_whitespace)
        .map(|word| word.parse().expect("a temperature"))
        .collect()
}

fn first_day() -> NaiveDate {
    day(2009, 9, 7)
}

fn table_row(key: &str) -> Cultivar {
    Cultivars::built_in().expect("built-in table").get(key).expect("a cultivar").clone()
}

/// Cabernet Sauvignon with the two decimals of the authors' spreadsheet; the paper prints one.
fn cabernet_of_the_sheet() -> Cultivar {
    Cultivar { starts_at_c: -10.27, hardiest_c: -25.14, ..table_row("cabernet-sauvignon") }
}

fn season(cultivar: &Cultivar) -> Vec<(NaiveDate, f64, bool)> {
    let mut buds = BudHardiness::new(cultivar);
    first_day()
        .iter_days()
        .zip(prosser())
        .map(|(date, mean_c)| {
            buds.add(mean_c);
            (date, buds.hardiness_c(), buds.has_opened())
        })
        .collect()
}

/// Hardiness on every tenth day of the season as the authors' spreadsheet gives it.
const EVERY_TENTH_DAY_C: [f64; 26] = [
    -10.27, -10.27, -10.27, -11.67, -14.63, -16.19, -18.61, -20.80, -22.13, -23.68, -24.64, -24.88, -25.02,
    -24.57, -23.90, -23.66, -21.12, -20.01, -16.78, -15.07, -12.29, -10.29, -6.56, -2.09, -1.42, -1.21,
];

/// Ferguson et al. 2014 (Am. J. Enol. Vitic., doi 10.5344/ajev.2013.13098), spreadsheet Grape_bud_hardiness_model_beta
/// v2.7: Cabernet Sauvignon at Prosser, 7 September 2009 to 15 May 2010. The input is rounded to two decimals.
#[test]
fn cabernet_sauvignon_through_a_season() {
    let season = season(&cabernet_of_the_sheet());
    assert_eq!(season.len(), 251);
    for ((date, found_c, _), expected_c) in season.iter().step_by(10).zip(EVERY_TENTH_DAY_C) {
        close(*found_c, expected_c, 0.02, &date.to_string());
    }
    let (coldest_on, coldest_c, _) =
        *season.iter().min_by(|a, b| a.1.total_cmp(&b.1)).expect("a season of days");
    assert_eq!(coldest_on, day(2010, 1, 12));
    close(coldest_c, -25.05, 0.01, "hardiest");
    let opened = season.iter().find(|(.., opened)| *opened).map(|(date, ..)| *date);
    assert_eq!(opened, Some(day(2010, 4, 24)), "bud break");
}

/// Worked days of the same spreadsheet, in deep and in light rest.
#[test]
fn worked_days_of_cabernet_sauvignon() {
    let season = season(&cabernet_of_the_sheet());
    let rows = [
        (day(2009, 9, 29), -10.4642),
        (day(2009, 10, 4), -11.2205),
        (day(2010, 2, 14), -21.1167),
        (day(2010, 3, 16), -15.0694),
        (day(2010, 4, 23), -2.3368),
        (day(2010, 4, 24), -2.1920),
    ];
    for (date, expected_c) in rows {
        let found = season.iter().find(|row| row.0 == date).expect("a day of the season");
        close(found.1, expected_c, 0.003, &date.to_string());
    }
}

/// With θ in deep rest as well, which the paper's text allows but the authors' sheet does not do, the season is missed by
/// more than the rounding of its input: the check above can tell the two apart.
#[test]
fn theta_belongs_to_light_rest_alone() {
    let cultivar = cabernet_of_the_sheet();
    let mut hardiness_c = cultivar.starts_at_c;
    let mut chilling = 0.0;
    let mut worst_k = 0.0_f64;
    for (index, mean_c) in prosser().into_iter().enumerate() {
        let rates = if chilling <= cultivar.light_rest_after { cultivar.light } else { cultivar.deep };
        let span = cultivar.tenderest_c - cultivar.hardiest_c;
        let above = (hardiness_c - cultivar.hardiest_c) / span;
        hardiness_c += (mean_c - rates.threshold_c).min(0.0) * rates.gain_per_k * above;
        if chilling < 0.0 {
            hardiness_c +=
                (mean_c - rates.threshold_c).max(0.0) * rates.loss_per_k * (1.0 - above.powf(cultivar.theta));
        }
        chilling += (mean_c - 10.0).min(0.0);
        if index % 10 == 0 {
            worst_k = worst_k.max((hardiness_c - EVERY_TENTH_DAY_C[index / 10]).abs());
        }
    }
    assert!(worst_k > 0.05, "worst {worst_k}");
}

/// The paper's table prints the figures with one decimal: within 0.04 K of the sheet.
#[test]
fn printed_figures_are_near_the_sheet() {
    let printed = table_row("cabernet-sauvignon");
    for ((date, found_c, _), expected_c) in season(&printed).iter().step_by(10).zip(EVERY_TENTH_DAY_C) {
        close(*found_c, expected_c, 0.045, &date.to_string());
    }
}

/// Rows of table 2 of Ferguson et al. 2014, and the temperatures at which buds swell and open.
#[test]
fn figures_of_the_cultivars() {
    let cultivars = Cultivars::built_in().expect("built-in table");
    assert_eq!(cultivars.of_planting("vitis-vinifera", "").len(), 21);
    assert_eq!(cultivars.of_planting("vitis-labrusca", "").len(), 2);
    let riesling = table_row("riesling");
    assert_eq!((riesling.deep.threshold_c, riesling.light.threshold_c), (12.0, 5.0));
    assert_eq!((riesling.deep.gain_per_k, riesling.light.loss_per_k), (0.14, 0.12));
    assert_eq!((riesling.starts_at_c, riesling.hardiest_c, riesling.tenderest_c), (-12.6, -26.1, -1.2));
    assert_eq!((riesling.theta, riesling.light_rest_after, riesling.rmse_k), (7.0, -700.0, 1.6));
    let concord = table_row("concord");
    assert_eq!((concord.opens_above_c, concord.swells_above_c, concord.theta), (-6.4, -9.2, 3.0));
}

/// Observed temperatures that killed half the buds, in the authors' sheet: the computed limit's doubt must hold most of
/// them, and it is too hardy in October, as the documentation says.
#[test]
fn observed_buds_lie_within_the_doubt() {
    let season = season(&cabernet_of_the_sheet());
    let observed = [
        (day(2009, 10, 8), -10.55),
        (day(2009, 11, 2), -15.55),
        (day(2009, 11, 23), -20.83),
        (day(2009, 12, 7), -23.89),
        (day(2009, 12, 28), -24.72),
        (day(2010, 1, 11), -23.89),
        (day(2010, 1, 25), -22.22),
        (day(2010, 2, 8), -21.66),
    ];
    let miss = |(date, killed_c): &(NaiveDate, f64)| {
        season.iter().find(|row| row.0 == *date).expect("a day of the season").1 - killed_c
    };
    assert!(miss(&observed[0]) < -1.0, "too hardy in October by {}", miss(&observed[0]));
    assert!(observed.iter().filter(|row| miss(row).abs() <= 2.0).count() >= 7);
}

/// A grape in open ground through the same season: its limit is the bud figure with its error until buds swell, and that
/// of soft growth (−1.2 °C, Ferguson et al. 2014) from then on, to the end.
#[test]
fn the_limit_of_a_grape_follows_its_buds() {
    let tables = HardinessTables::built_in().expect("built-in tables");
    let catalogue = PlantCatalogue::built_in().expect("built-in catalogue");
    let plant = catalogue.get("vitis-vinifera").expect("grape");
    let hours: Vec<Option<f64>> = prosser().iter().flat_map(|&mean_c| [Some(mean_c); 24]).collect();
    let temps =
        ZoneTemps::from_hourly(first_day(), &hours, first_day() + Days::new(250), None).expect("temps");
    let zone = ZoneSeason::new(&temps, None);
    let subject = Subject {
        plant,
        label: "Cabernet Sauvignon on the south wall",
        container: Container::Ground,
        own_limit_c: None,
        start: Start::Growing,
        signs: &[],
    };
    let course = hibernacle_engine::plant::dormancy::Course::of(&tables, &zone, &subject).expect("a course");
    let winter = course.limits_on(day(2010, 1, 12)).expect("a day of the season");
    let shoots = winter.shoots.expect("shoots");
    close(shoots.likely_loss_c.expect("half killed"), -25.05, 0.05, "half killed");
    // Not colder than the catalogue's alarm, −21.9 °C.
    close(shoots.limit_c, -21.9, 1e-9, "alarm");
    let [early, swell, late] = course.swell_on();
    let swell = swell.expect("swells");
    assert!(swell < day(2010, 4, 24) && swell > day(2010, 4, 10), "swells on {swell}");
    assert!(early <= Some(swell) && late >= Some(swell));
    assert_eq!(course.leaf_on()[1], Some(day(2010, 4, 24)));
    for entry in course.days.iter().filter(|entry| entry.date >= swell) {
        assert!(entry.phase >= Phase::Swelling);
        let limits = course.limits_on(entry.date).expect("a day of the season");
        assert_eq!(limits.limit_c, -1.2, "{}", entry.date);
    }
}

/// Temperatures killing one bud in ten and nine in ten in half an hour, °F: Penn State Extension, orchard frost; Michigan
/// State University Extension, critical spring temperatures; intermountainfruit.org for tart cherry.
#[test]
fn bud_stages() {
    let stages = BudStages::built_in().expect("built-in table");
    let rows = [
        ("apple", "silver tip", 15.0, 2.0),
        ("apple", "full bloom", 28.0, 25.0),
        ("pear", "tight cluster", 24.0, 15.0),
        ("peach", "calyx red", 23.0, 9.0),
        ("apricot", "full bloom", 27.0, 22.0),
        ("european-plum", "first swelling", 14.0, 0.0),
        ("sweet-cherry", "open cluster", 27.0, 21.0),
        ("tart-cherry", "green tip", 26.0, 22.0),
    ];
    for (crop, name, tenth_f, nine_tenths_f) in rows {
        let stage = stages.get(crop).and_then(|crop| crop.stage(name)).expect("a stage");
        assert_eq!(
            (stage.tenth_killed_f, stage.nine_tenths_killed_f),
            (tenth_f, Some(nine_tenths_f)),
            "{crop}"
        );
        close(stage.share_killed(stage.tenth_killed_c()).expect("a share"), 0.1, 1e-9, name);
        let at_ninety = stage.nine_tenths_killed_c().expect("published");
        close(stage.share_killed(at_ninety).expect("a share"), 0.9, 1e-9, name);
    }
    let apple = stages.get("apple").expect("apple");
    // −9.4 and −16.7 °C in the metric copies of the table.
    close(apple.stages[0].tenth_killed_c(), -9.4, 0.05, "silver tip");
    close(apple.stages[0].nine_tenths_killed_c().expect("published"), -16.7, 0.05, "silver tip");
    for crop in stages.iter() {
        for pair in crop.stages.windows(2) {
            assert!(pair[0].tenth_killed_f <= pair[1].tenth_killed_f, "{}: {}", crop.key, pair[1].stage);
        }
    }
    let swelling = stages.get("apricot").and_then(|crop| crop.stage("first swelling")).expect("a stage");
    assert_eq!(swelling.nine_tenths_killed_f, None);
    assert_eq!(swelling.share_killed(-15.0), None, "not published, so not made up");
}
