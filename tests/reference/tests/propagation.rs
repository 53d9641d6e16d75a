//! Seeds and cuttings against the published figures.

#![expect(clippy::unwrap_used, clippy::panic, reason = "helpers of tests")]

use hibernacle_engine::plant::cuttings::{CuttingKind, Rootings, success};
use hibernacle_engine::plant::seeds::{Emergence, SeedCrop, SeedCrops};

fn crop(key: &str) -> SeedCrop {
    SeedCrops::built_in().unwrap().get(key).unwrap().clone()
}

fn comes(key: &str, temp_c: f64) -> (f64, Option<f64>) {
    match crop(key).emergence_at(temp_c) {
        Emergence::Comes { days, normal_share } => (days, normal_share),
        other => panic!("{key} at {temp_c} °C: {other:?}"),
    }
}

/// Harrington and Minges 1954, in Knott's Handbook for Vegetable Growers (1997): days to emerge and per cent normal
/// seedlings, sown 13 mm deep.
#[test]
fn published_emergence() {
    let rows = [
        ("snap-bean", 15.0, 16.0, 0.97),
        ("beet", 5.0, 42.0, 0.53),
        ("cabbage", 10.0, 15.0, 0.78),
        ("carrot", 35.0, 9.0, 0.74),
        ("celery", 15.0, 12.0, 0.40),
        ("cucumber", 20.0, 6.0, 0.99),
        ("eggplant", 30.0, 5.0, 0.60),
        ("lettuce", 0.0, 49.0, 0.98),
        ("muskmelon", 25.0, 4.0, 0.94),
        ("onion", 0.0, 136.0, 0.90),
        ("parsley", 25.0, 13.0, 0.64),
        ("pea", 5.0, 36.0, 0.89),
        ("pepper", 15.0, 25.0, 0.70),
        ("radish", 20.0, 4.0, 0.95),
        ("spinach", 0.0, 63.0, 0.83),
        ("sweet-corn", 10.0, 22.0, 0.47),
        ("tomato", 10.0, 43.0, 0.82),
        ("watermelon", 35.0, 3.0, 0.96),
    ];
    for (key, temp_c, days, share) in rows {
        assert_eq!(comes(key, temp_c), (days, Some(share)), "{key} at {temp_c} °C");
    }
    assert_eq!(comes("cabbage", 20.0), (6.0, None), "its share was not tested");
    assert_eq!(SeedCrops::built_in().unwrap().iter().count(), 18);
}

/// Between tests the rate is interpolated, as development goes with temperature: tomato between 43 days at 10 °C and 14 at
/// 15 °C takes 21 days at 12.5 °C, not 28.5.
#[test]
fn days_between_tests_follow_the_rate() {
    let (days, share) = comes("tomato", 12.5);
    assert!((days - 2.0 / (1.0 / 43.0 + 1.0 / 14.0)).abs() < 1e-9, "{days}");
    assert!((share.unwrap() - 0.90).abs() < 1e-9);
}

/// What did not come and what was not tested are two things; some copies of the table print both as 0 %.
#[test]
fn nothing_is_promised_where_nothing_was_found() {
    let at = |key: &str, temp_c: f64| crop(key).emergence_at(temp_c);
    assert_eq!(at("tomato", 5.0), Emergence::DoesNotCome { comes_at_c: 10.0 });
    assert_eq!(at("snap-bean", 10.0), Emergence::DoesNotCome { comes_at_c: 15.0 });
    assert_eq!(at("lettuce", 40.0), Emergence::DoesNotCome { comes_at_c: 30.0 });
    assert_eq!(at("eggplant", 10.0), Emergence::NotTested { tested_at_c: 20.0 });
    assert_eq!(at("celery", 25.0), Emergence::NotTested { tested_at_c: 20.0 }, "65 % came, no days given");
}

/// Grape at 29.5 °C: callus in 4 to 17 days, roots in 10 to 24 (Alley and Peterson 1977, Am. J. Enol. Vitic. 28:1). Fig taken
/// right after leaf fall: 92.5 to 100 % (Chalfun et al. 2003, Acta Hortic. 605:137). Dahlia: 90 to 95 % by any of several
/// methods (American Dahlia Society).
#[test]
fn published_cuttings() {
    let rows = Rootings::built_in().unwrap();
    let grape = rows.of("vitis-vinifera", CuttingKind::Hardwood).unwrap();
    assert_eq!((grape.at_c, grape.callus_days, grape.root_days), (29.5, Some((4.0, 17.0)), (10.0, 24.0)));
    let fig = rows.of("ficus-carica", CuttingKind::Hardwood).unwrap();
    assert!(fig.success.0 < 0.925 && fig.success.1 == 1.0);
    assert_eq!(rows.of("dahlia", CuttingKind::TuberDivision).unwrap().success, (0.90, 0.95));
}

/// With a flat range the posterior after 7 of 10 is close to Beta(8.0, 4.0), whose ends at 5 and 95 % are 0.436 and 0.865
/// (scipy.stats.beta.ppf, SciPy 1.17.1); of twelve, 4 to 11 root nine times in ten (scipy.stats.betabinom.ppf).
#[test]
fn interval_of_success() {
    let found = success((0.0, 1.0), &[(7, 10)], 12);
    assert!((found.share - 8.0 / 12.0).abs() < 1e-9, "{}", found.share);
    assert!((found.share_between.0 - 0.436).abs() < 0.001, "{:?}", found.share_between);
    assert!((found.share_between.1 - 0.865).abs() < 0.001, "{:?}", found.share_between);
    assert_eq!(found.count_between, (4, 11));
}
