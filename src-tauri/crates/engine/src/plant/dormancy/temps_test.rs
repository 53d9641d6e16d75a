use super::*;

fn first_day() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 12, 1).unwrap()
}

fn swinging(days: usize) -> Vec<Option<f64>> {
    (0..days * 24)
        .map(|hour| Some(5.0 + 4.0 * ((hour % 24) as f64 / 24.0 * std::f64::consts::TAU).sin()))
        .collect()
}

fn until(days: u64) -> NaiveDate {
    first_day() + Days::new(days - 1)
}

#[test]
fn a_few_hours_are_drawn_as_a_line_and_reported() {
    let mut readings = swinging(3);
    let whole: Vec<f64> = readings.iter().flatten().copied().collect();
    readings[30..33].fill(None);
    let temps = ZoneTemps::from_hourly(first_day(), &readings, until(3), None).unwrap();
    let day: Vec<f64> = temps.days().nth(1).unwrap().hours_c.to_vec();
    let expected = whole[29] + (whole[33] - whole[29]) / 2.0;
    assert!((day[7] - expected).abs() < 1e-12);
    let problem =
        TempsProblem::Assumed { from: until(2), hours: 3, filled_from: FilledFrom::Neighbours, doubt_k: 0.0 };
    assert_eq!(temps.problems(), [problem]);
}

/// Straight lines over gaps lose the nights: the chillR vignette “hourly_temperatures” (2025-12-10) finds 23 portions for
/// 12 that way.
#[test]
fn weeks_keep_their_nights_and_carry_a_doubt() {
    let mut readings = swinging(40);
    readings[10 * 24..25 * 24 + 6].fill(None);
    let temps = ZoneTemps::from_hourly(first_day(), &readings, until(40), None).unwrap();
    let day = temps.days().nth(17).unwrap();
    assert!((day.max_c() - 9.0).abs() < 0.01 && (day.min_c() - 1.0).abs() < 0.01, "{day:?}");
    assert_eq!(day.doubt_k, 3.0);
    assert_eq!(temps.days().nth(9).unwrap().doubt_k, 0.0);
}

#[test]
fn a_simulation_fills_a_gap_where_there_is_one() {
    let mut readings = swinging(20);
    readings[5 * 24..12 * 24].fill(None);
    let simulated = vec![-2.0; 20 * 24];
    let temps = ZoneTemps::from_hourly(first_day(), &readings, until(20), Some(&simulated)).unwrap();
    let day = temps.days().nth(8).unwrap();
    assert_eq!((day.min_c(), day.max_c(), day.doubt_k), (-2.0, -2.0, 1.5));
    assert!(matches!(
        temps.problems(),
        [TempsProblem::Assumed { hours: 168, filled_from: FilledFrom::Simulation, .. }]
    ));
}

#[test]
fn days_after_the_last_reading_are_assumed() {
    let temps = ZoneTemps::from_hourly(first_day(), &swinging(5), until(7), None).unwrap();
    assert_eq!(temps.last_day(), until(7));
    assert!(matches!(temps.problems(), [TempsProblem::Assumed { hours: 48, .. }]));
}

#[test]
fn nonsense_is_left_out_and_reported() {
    let mut readings = swinging(3);
    readings[40] = Some(f64::NAN);
    readings[41] = Some(850.0);
    let temps = ZoneTemps::from_hourly(first_day(), &readings, until(3), None).unwrap();
    let dropped = temps.problems().iter().filter(|p| matches!(p, TempsProblem::Implausible { .. })).count();
    assert_eq!(dropped, 2);
    assert!(temps.days().all(|day| day.max_c() < 10.0));
}

#[test]
fn too_little_is_refused_with_the_mend() {
    let error = ZoneTemps::from_hourly(first_day(), &[Some(1.0); 5], until(3), None).unwrap_err();
    assert_eq!(error, TempsError::TooFew { found: 5 });
    let before = first_day() - Days::new(1);
    assert!(matches!(
        ZoneTemps::from_hourly(first_day(), &swinging(2), before, None),
        Err(TempsError::EndsBeforeStart { .. })
    ));
}

#[test]
fn daily_extremes_become_hours_that_reach_them() {
    let days = [Some((-2.0, 8.0)), None, Some((3.0, 1.0)), Some((-1.0, 9.0)), Some((0.0, 10.0))];
    let temps = ZoneTemps::from_daily(47.7, first_day(), &days, until(5)).unwrap();
    let first = temps.days().next().unwrap();
    assert!((first.max_c() - 8.0).abs() < 0.3 && (first.min_c() + 2.0).abs() < 0.5, "{first:?}");
    assert!(temps.problems().contains(&TempsProblem::UpsideDown { date: until(3) }));
    assert!(temps.problems().iter().any(|p| matches!(p, TempsProblem::Assumed { hours: 48, .. })));
}
