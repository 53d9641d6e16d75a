//! The insulation check night by night: covers that tear, heat nobody told of, gaps, and logs that must be refused.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

mod fit_log;

use chrono::Duration;
use fit_log::*;
use hibernacle_engine::shelter::GroundWave;
use hibernacle_engine::shelter::fit::*;

fn bare(r: &Readings) -> Log<'_> {
    Log { covers: Covers::Told(&[]), ..Log::of_temperatures(PLACE, &r.indoor, &r.outdoor) }
}

fn full(r: &Readings) -> Log<'_> {
    Log { wind_m_per_s: &r.wind, cloud_fraction: &r.cloud, sun_w_per_m2: &r.sun, ..bare(r) }
}

fn no_heat(_: f64, _: f64) -> f64 {
    0.0
}

/// A cover on from the second week that tears in the sixth: the loss goes up by 40 %, more sun gets in.
#[test]
fn the_night_a_cover_tore_is_found() {
    let covers = [
        Cover { from_day: 0.0, to_day: 35.6, loss: 0.6, sun: 0.4 },
        Cover { from_day: 35.6, to_day: 99.0, loss: 0.84, sun: 0.7 },
    ];
    let r = readings(&HOUSE, 60, 77, &covers, no_heat);
    for log in [full(&r), bare(&r)] {
        let check = check_insulation(&log).unwrap();
        assert_eq!(check.changes.len(), 1, "{:?}", check.changes);
        let change = &check.changes[0];
        // Half past one in the night that began on 5 January.
        let night: chrono::NaiveDate = "2026-01-05".parse().unwrap();
        assert!((change.since - night).num_days().abs() <= 1, "{}", change.since);
        assert!(change.loss_ratio.holds(1.4) && change.loss_ratio.low > 1.1, "{:?}", change.loss_ratio);
        assert_ne!(change.looks_like, LooksLike::CoverOn);
        // The chart goes on to expect the whole cover, and most nights since fall below its middle.
        let since: Vec<&HoldNight> =
            check.nights.iter().filter(|n| n.night_of > change.since && n.hold_k.is_some()).collect();
        let short = since.iter().filter(|n| n.hold_k < n.expected_k).count();
        assert!(short * 10 >= since.len() * 7, "{short} of {}", since.len());
        let before: Vec<&HoldNight> =
            check.nights.iter().filter(|n| n.night_of < change.earliest && n.hold_k.is_some()).collect();
        let inside = before.iter().filter(|n| n.hold_k >= n.low_k && n.hold_k <= n.high_k).count();
        assert!(inside * 10 >= before.len() * 8, "{inside} of {}", before.len());
    }
}

/// Where nothing changed, nothing is found.
fn quiet(seeds: std::ops::Range<u64>) {
    let mut alarms = 0;
    for seed in seeds.clone() {
        let r = readings(&HOUSE, 60, 40_000 + seed, &[], no_heat);
        for log in [full(&r), bare(&r)] {
            alarms += u64::from(!check_insulation(&log).unwrap().changes.is_empty());
        }
    }
    println!("{alarms} false alarms in {} logs", 2 * (seeds.end - seeds.start));
    assert!(alarms <= (seeds.end - seeds.start) / 20, "{alarms} false alarms");
}

#[test]
fn a_quiet_winter_rings_no_alarm() {
    quiet(0..3);
}

/// A hundred winters with and without weather: at most 5 alarms in 200 logs.
/// `cargo test --release -p hibernacle-reference --test fit_nights -- --ignored --nocapture`
#[test]
#[ignore = "slow: a hundred seeds"]
fn a_hundred_quiet_winters() {
    quiet(0..100);
}

/// A thermostat that nobody told of holds 1.5 °C on the colder nights.
#[test]
fn nights_with_untold_heat_are_left_out() {
    let on = std::cell::Cell::new(false);
    let thermostat = |t_s: f64, air_c: f64| {
        // Only in the second and third week.
        let day = t_s / 86_400.0;
        if !(8.0..20.0).contains(&day) {
            return 0.0;
        }
        if air_c < 1.5 {
            on.set(true);
        } else if air_c > 2.5 {
            on.set(false);
        }
        if on.get() { 1500.0 } else { 0.0 }
    };
    let r = readings(&HOUSE, 40, 5, &[], thermostat);
    let heated: Vec<usize> = (0..40)
        .filter(|night| {
            // From noon to noon by the sun: the log starts near noon.
            let night_w: f64 = r.heat[night * 144..(night + 1) * 144].iter().map(|s| s.value).sum();
            night_w / 6000.0 > 1.5
        })
        .collect();
    assert!(heated.len() >= 4, "{heated:?}");
    for log in [full(&r), bare(&r)] {
        let check = check_insulation(&log).unwrap();
        let left_out: Vec<usize> = check
            .nights
            .iter()
            .enumerate()
            .filter(|(_, n)| n.used == NightUse::UnknownHeat)
            .map(|(i, _)| i)
            .collect();
        let first = check.nights[0].night_of;
        let offset = (start().date_naive() - first).num_days() as usize;
        let caught = heated.iter().filter(|h| left_out.contains(&(*h + offset))).count();
        println!("heated {heated:?}, left out {left_out:?}, offset {offset}");
        assert!(caught * 10 >= heated.len() * 8, "{caught} of {}", heated.len());
        let loss = HOUSE.loss_w_per_k(r.mean_night_wind) / HOUSE.store_j_per_k * 3600.0;
        let found = check.periods.last().unwrap().loss_per_h;
        assert!((found.value / loss - 1.0).abs() < 0.25, "{found:?}, {loss}");
    }
}

/// Gaps of hours and doubtful readings change little; the doubtful ones are counted.
#[test]
fn gaps_and_flagged_readings_are_borne() {
    let mut r = readings(&HOUSE, 40, 11, &[], no_heat);
    let whole = check_insulation(&full(&r)).unwrap().periods[0].loss_per_h;
    for (i, sample) in r.indoor.iter_mut().enumerate() {
        if i % 97 == 5 {
            *sample = Sample { value: sample.value + 15.0, flagged: true, ..*sample };
        }
    }
    let mut index = 0;
    r.indoor.retain(|_| {
        index += 1;
        // Every third day three hours are missing at noon, every seventh night eight hours.
        !((index / 144) % 3 == 0 && index % 144 < 18
            || (index / 144) % 7 == 2 && (60..108).contains(&(index % 144)))
    });
    let torn = check_insulation(&full(&r)).unwrap();
    assert!(torn.flagged > 30);
    assert!(torn.nights.iter().any(|n| n.used == NightUse::Incomplete));
    let found = torn.periods[0].loss_per_h;
    let doubt = found.standard_error.hypot(whole.standard_error);
    assert!((found.value - whole.value).abs() < 2.5 * doubt, "{found:?} {whole:?}");
}

/// One reading a minute and one an hour tell the same shelter.
#[test]
fn any_step_will_do() {
    let r = readings(&HOUSE, 30, 21, &[], no_heat);
    let whole = check_insulation(&full(&r)).unwrap().periods[0].loss_per_h;
    let hourly: Vec<Sample> = r.indoor.iter().copied().step_by(6).collect();
    let found = check_insulation(&Log { indoor_c: &hourly, ..full(&r) }).unwrap().periods[0].loss_per_h;
    assert!((found.value / whole.value - 1.0).abs() < 0.1, "{found:?} {whole:?}");
    let mut dice = Dice(8);
    let minutes: Vec<Sample> = r
        .indoor
        .windows(2)
        .flat_map(|w| (0..10).map(move |m| (w[0], w[1], m)))
        .map(|(a, b, m)| {
            let value = a.value + (b.value - a.value) * f64::from(m) / 10.0 + 0.05 * dice.normal();
            Sample::new(a.at + Duration::minutes(i64::from(m)), value)
        })
        .collect();
    let found = check_insulation(&Log { indoor_c: &minutes, ..full(&r) }).unwrap().periods[0].loss_per_h;
    assert!((found.value / whole.value - 1.0).abs() < 0.1, "{found:?} {whole:?}");
}

/// A store known by its litres makes watts of ratios, with the doubt of the litres in the interval.
#[test]
fn a_known_store_gives_watts() {
    let r = readings(&HOUSE, 30, 3, &[], no_heat);
    let store = KnownStore { heat_capacity_j_per_k: 1.1 * HOUSE.store_j_per_k, doubt: 0.1 };
    let check = check_insulation(&Log { store: Some(store), ..full(&r) }).unwrap();
    let loss = check.periods[0].loss_w_per_k.unwrap();
    assert!(loss.holds(HOUSE.loss_w_per_k(check.usual_wind_m_per_s.unwrap())), "{loss:?}");
    assert!(loss.standard_error / loss.value > 0.09);
    assert!(!check.missing.contains(&Missing::KnownHeat));
}

/// Logs that cannot tell anything are refused in words.
#[test]
fn too_little_is_refused() {
    let r = readings(&HOUSE, 12, 1, &[], no_heat);
    let cut = |hours: usize| -> Vec<Sample> { r.indoor[..hours * 6].to_vec() };
    let two = cut(48);
    let error = check_insulation(&Log { indoor_c: &two, ..bare(&r) }).unwrap_err();
    assert!(matches!(error, FitError::TooFewNights { usable: 0..=2, needed: FEWEST_NIGHTS, .. }), "{error}");
    assert!(
        error.to_string().contains("usable nights") && error.to_string().contains("keep logging"),
        "{error}"
    );

    let none = check_insulation(&Log { indoor_c: &[], ..bare(&r) }).unwrap_err();
    assert_eq!(none, FitError::Empty { place: "inside" });

    let later: Vec<Sample> =
        r.outdoor.iter().map(|s| Sample { at: s.at + Duration::days(300), ..*s }).collect();
    let apart = check_insulation(&Log { outdoor_c: &later, ..bare(&r) }).unwrap_err();
    assert!(matches!(apart, FitError::NoOverlap { .. }), "{apart}");

    let beside = check_insulation(&Log { indoor_c: &r.outdoor, ..bare(&r) }).unwrap_err();
    assert!(matches!(beside, FitError::NoContrast { .. }), "{beside}");

    let mut shuffled = r.indoor.clone();
    shuffled.swap(100, 200);
    let back = check_insulation(&Log { indoor_c: &shuffled, ..bare(&r) }).unwrap_err();
    assert!(matches!(back, FitError::Unsorted { place: "inside", .. }), "{back}");

    let nan: Vec<Sample> = r.indoor.iter().map(|s| Sample { value: f64::NAN, ..*s }).collect();
    let empty = check_insulation(&Log { indoor_c: &nan, ..bare(&r) }).unwrap_err();
    assert_eq!(empty, FitError::Empty { place: "inside" });
}

/// Seconds of processor time of this thread.
fn busy_s() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    Some(text.split(' ').next()?.parse::<f64>().ok()? / 1e9)
}

/// 90 days at 10 minutes in a second of one processor, the search for changes included.
/// `cargo test --release -p hibernacle-reference --test fit_nights speed -- --ignored --nocapture`
#[test]
#[ignore = "speed: run it optimised and alone"]
fn speed_of_ninety_days() {
    for seed in 0..3 {
        let r = readings(&HOUSE, 90, 300 + seed, &[], no_heat);
        for (name, log) in [("weather known", full(&r)), ("two thermometers", bare(&r))] {
            let before = busy_s().unwrap();
            let check = check_insulation(&log).unwrap();
            let took_s = busy_s().unwrap() - before;
            println!("{name}: {took_s:.2} s, {} nights", check.nights_used);
            assert!(took_s <= 1.0, "{took_s} s");
        }
    }
}

/// The place's ground is what the solver uses.
#[test]
fn the_grounds_agree() {
    let log = Log::of_temperatures(PLACE, &[], &[]);
    assert_eq!(log.ground, GroundWave::by_latitude(PLACE.latitude_deg));
}
