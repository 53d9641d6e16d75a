use chrono::NaiveDate;

use super::*;

fn outcome(heat_kwh: f64, min_c: f64, below: u32) -> WinterOutcome {
    WinterOutcome {
        nights_heated: heat_kwh as u32 / 10,
        heat_kwh,
        full_hours: heat_kwh / 2.0,
        zone_min_c: vec![min_c, min_c + 1.0],
        nights_below: vec![below, 0],
        outside_min_c: -12.0,
        coldest_night: NaiveDate::default(),
    }
}

/// Heat from next to nothing to a palm house, minima around freezing.
fn many() -> Vec<WinterOutcome> {
    (0..997)
        .map(|i| {
            let x = f64::from(i * 613 % 997) / 997.0;
            outcome(
                if i % 7 == 0 { 0.0 } else { 10_f64.powf(6.0 * x - 2.0) },
                9.0 * x - 6.0,
                u32::from(x < 0.25) * 3,
            )
        })
        .collect()
}

#[test]
fn quantiles_are_those_of_the_sorted_values_within_half_a_step() {
    let outcomes = many();
    let bill = WinterBill::of(&outcomes).unwrap();
    let sorted = |value: &dyn Fn(&WinterOutcome) -> f64| {
        let mut values: Vec<f64> = outcomes.iter().map(value).collect();
        values.sort_by(f64::total_cmp);
        values
    };
    let at = |values: &[f64], p: f64| crate::climate::quantile(values, p).unwrap();
    let heat = sorted(&|o| o.heat_kwh);
    for (found, p) in [(bill.heat_kwh.low, 0.1), (bill.heat_kwh.median, 0.5), (bill.heat_kwh.high, 0.9)] {
        let exact = at(&heat, p);
        assert!((found - exact).abs() <= 0.0006 * exact + 1e-5, "{p}: {found} for {exact}");
    }
    let cold = sorted(&|o| o.zone_min_c[1]);
    let spread = bill.zone_min_c[1];
    for (found, p) in [(spread.low, 0.1), (spread.median, 0.5), (spread.high, 0.9)] {
        assert!((found - at(&cold, p)).abs() <= 0.005_001, "{p}: {found}");
    }
    let mean = heat.iter().sum::<f64>() / heat.len() as f64;
    assert!((bill.heat_kwh.mean - mean).abs() < 1e-9 * mean, "{} for {mean}", bill.heat_kwh.mean);
    assert_eq!(bill.winters, 997);
    let passed = outcomes.iter().filter(|o| o.nights_below[0] > 0).count() as f64 / 997.0;
    assert_eq!((bill.zone_risk[0], bill.zone_risk[1], bill.risk), (passed, 0.0, passed));
    assert!((bill.zone_nights_below[0] - 3.0 * passed).abs() < 1e-12);
}

#[test]
fn the_order_makes_no_difference() {
    let outcomes = many();
    let mut turned = outcomes.clone();
    turned.reverse();
    turned.rotate_left(311);
    assert_eq!(WinterBill::of(&outcomes), WinterBill::of(&turned));
}

#[test]
fn a_tally_does_not_grow() {
    let size = |tally: &WinterTally| {
        let counts = [&tally.nights_heated, &tally.heat_kwh].into_iter().chain(&tally.zone_min_c);
        counts.map(|counts| counts.bins.capacity() * size_of::<u32>()).sum::<usize>()
    };
    let mut tally = WinterTally::new(2);
    let before = size(&tally);
    for _ in 0..5 {
        many().iter().for_each(|outcome| tally.add(outcome));
    }
    assert_eq!(size(&tally), before);
    assert!(before < 250_000, "{before} bytes");
    assert_eq!(tally.bill().unwrap().winters, 5 * 997);
}

#[test]
fn figures_beyond_the_scale_stay_at_its_ends() {
    let mut tally = WinterTally::new(2);
    tally.add(&outcome(5e8, -300.0, 1));
    let bill = tally.bill().unwrap();
    assert!((bill.heat_kwh.median / 1e7 - 1.0).abs() < 0.001 && bill.zone_min_c[0].median == -90.0);
    assert_eq!(WinterTally::new(2).bill(), None);
    assert_eq!(WinterBill::of(&[]), None);
}
