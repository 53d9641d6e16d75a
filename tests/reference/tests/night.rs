//! The night call, the fading hold and the winter's bill: consistency with each other and with the handbook.
#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use chrono::{Duration, NaiveDate};
use hibernacle_engine::climate::DailyTemps;
use hibernacle_engine::climate::hourly::{DailyAssumptions, from_daily};
use hibernacle_engine::shelter::dynamic::{Forcing, Heating, Phase, Scenario, ZoneLoad};
use hibernacle_engine::shelter::night::{HeatPrice, NightOutlook, ZoneLimit, hold_fade, night_call};
use hibernacle_engine::shelter::steady::{DesignNight, HeatLoss, seasonal_kwh};
use hibernacle_engine::shelter::winter::{WinterBill, WinterOutcome, run_winter, site_draws};
use hibernacle_engine::shelter::{
    CoverOn, Envelope, GroundWave, Materials, Medium, Shelter, ShelterBuild, ShelterKind,
};
use hibernacle_engine::site::Hemisphere;
use hibernacle_engine::sun::Place;

const LARCH_BANK: Place = Place { latitude_deg: 47.7, longitude_deg: 13.1, elevation_m: 470.0 };
const PRICE: HeatPrice = HeatPrice { per_kwh: 0.3 };

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn days(first: &str, extremes: &[(f64, f64)]) -> Vec<DailyTemps> {
    let first = date(first);
    extremes
        .iter()
        .zip(0..)
        .map(|(&(min, max), day)| DailyTemps {
            date: first + Duration::days(day),
            min_c: Some(min),
            max_c: Some(max),
        })
        .collect()
}

fn envelope(covers: &[&str]) -> Envelope {
    let shelter = Shelter {
        id: "s".to_owned(),
        site_id: "site".to_owned(),
        name: "Greenhouse".to_owned(),
        kind: ShelterKind::Greenhouse,
        length_m: 4.2,
        width_m: 3.0,
        height_m: 2.4,
        has_cover: true,
        has_heater: true,
    };
    let covers: Vec<CoverOn> = covers
        .iter()
        .map(|key| CoverOn { key: (*key).to_owned(), parts: Vec::new(), from: None, to: None })
        .collect();
    let build = ShelterBuild::usual(&shelter);
    Envelope::of(&shelter, &build, &Materials::built_in().unwrap(), &covers).unwrap()
}

/// The greenhouse of Larch Bank: four zones, the north corner more exposed, a 2 kW heater by the door.
fn greenhouse(covers: &[&str]) -> Scenario {
    let zone = |floor_share: f64, exposure: f64, pots_l: f64| ZoneLoad {
        floor_share,
        exposure,
        pots_l,
        ..ZoneLoad::EMPTY
    };
    Scenario {
        phases: vec![Phase {
            from: date("2025-01-01").and_hms_opt(0, 0, 0).unwrap().and_utc(),
            envelope: envelope(covers),
        }],
        zones: vec![
            zone(0.25, 1.0, 150.0),
            zone(0.3, 0.9, 200.0),
            zone(0.2, 1.4, 100.0),
            zone(0.25, 0.9, 0.0),
        ],
        floor: Medium::LOAM,
        ground: GroundWave::from_air(8.5, 10.0, Hemisphere::Northern),
        canopy: 0.2,
        elevation_m: 470.0,
        heating: Some(Heating {
            rating_w: 2000.0,
            set_c: 1.0,
            band_k: 1.0,
            zone: 0,
            sensor_zone: 2,
            stirs_air: true,
            water_kg_per_kwh: 0.0,
        }),
        vent: None,
        stirred: false,
    }
}

fn limits(limit_c: f64) -> Vec<ZoneLimit> {
    vec![ZoneLimit { offset_k: 0.0, limit_c }; 4]
}

fn recent() -> Vec<DailyTemps> {
    days(
        "2025-12-20",
        &[(0.0, 5.0), (-1.0, 4.0), (1.0, 6.0), (-2.0, 3.0), (-3.0, 2.0), (-4.0, 1.0), (-5.0, 0.0)].repeat(2),
    )
}

fn outlook(low_c: f64) -> NightOutlook {
    NightOutlook::forecast(date("2026-01-02"), low_c, 0.2, 1.5)
}

#[test]
fn colder_nights_are_riskier_and_colder() {
    let house = greenhouse(&[]);
    let calls: Vec<_> = [-4.0, -8.0, -14.0]
        .into_iter()
        .map(|low| night_call(LARCH_BANK, &house, &recent(), &outlook(low), &limits(-1.0), PRICE).unwrap())
        .collect();
    for pair in calls.windows(2) {
        for zone in 0..4 {
            assert!(pair[1].zones[zone].low_c < pair[0].zones[zone].low_c);
            assert!(pair[1].zones[zone].risk >= pair[0].zones[zone].risk);
        }
    }
    let mild = &calls[0];
    assert_eq!(mild.laggard, 2, "the exposed corner is first in need");
    for zone in &mild.zones {
        assert!(zone.low_10_c < zone.low_c && zone.low_c < zone.low_90_c);
        // Both errors at least: ±1.28 standard deviations of 1.3 and 1.5 K with a slope below one.
        close(zone.low_90_c - zone.low_10_c, 2.0 * 1.2816 * 1.8, 1.0, "band of doubt");
        assert!((0.5..8.0).contains(&zone.hold_k), "{zone:?}");
    }
    assert_eq!(mild.course.len(), 48);
    let lowest = mild.course.iter().map(|p| p.outside_c).fold(f64::INFINITY, f64::min);
    close(lowest, -4.0, 0.2, "the course reaches the outlook's low");
}

/// At the outdoor low below which heat is needed, the median of the zone first in need is its limit, and its risk a half.
#[test]
fn the_threshold_is_where_the_risk_is_even() {
    let house = greenhouse(&[]);
    let call = night_call(LARCH_BANK, &house, &recent(), &outlook(-6.0), &limits(-2.0), PRICE).unwrap();
    let threshold = call.heat_below_c.unwrap();
    assert_eq!(call.zones[call.laggard].heat_below_c, Some(threshold));
    let at = night_call(LARCH_BANK, &house, &recent(), &outlook(threshold), &limits(-2.0), PRICE).unwrap();
    let laggard = at.zones[at.laggard];
    close(laggard.low_c, -2.0, 0.35, "median at the threshold");
    close(laggard.risk, 0.5, 0.08, "risk at the threshold");
    let never = night_call(LARCH_BANK, &house, &recent(), &outlook(6.0), &limits(-19.0), PRICE).unwrap();
    assert_eq!(never.heat_below_c, None);
}

#[test]
fn clouds_covers_and_heat_help() {
    let call = |house: &Scenario, outlook: &NightOutlook| {
        night_call(LARCH_BANK, house, &recent(), outlook, &limits(0.0), PRICE).unwrap()
    };
    let clear = call(&greenhouse(&[]), &outlook(-9.0));
    let overcast = call(&greenhouse(&[]), &NightOutlook { cloud_fraction: 1.0, ..outlook(-9.0) });
    assert!(overcast.zones[2].low_c > clear.zones[2].low_c + 0.4);
    let covered = call(&greenhouse(&["bubble-film"]), &outlook(-9.0));
    assert!(covered.zones[2].low_c > clear.zones[2].low_c + 0.8);

    let heat = clear.heating.unwrap();
    let lighter = covered.heating.unwrap();
    assert!(lighter.heat_kwh < 0.85 * heat.heat_kwh);
    close(heat.cost, heat.heat_kwh * 0.3, 1e-12, "cost");
    close(heat.full_hours, heat.heat_kwh / 2.0, 1e-12, "hours of full heat");
    assert!(heat.heat_90_kwh > heat.heat_kwh && heat.risk < clear.zones[2].risk);
    assert!(heat.zone_low_c.iter().all(|c| *c > 0.3), "{heat:?}");
    // The handbook's loss for a night of twelve hours at its mean, as an order of magnitude.
    let design = DesignNight { inside_c: 1.5, outside_c: -7.0, earth_c: 5.0, elevation_m: 470.0 };
    let loss_w = HeatLoss::of(&envelope(&[]), &design).unwrap().heat_w;
    let handbook_kwh = loss_w * 14.0 / 1000.0;
    assert!((0.25..1.2).contains(&(heat.heat_kwh / handbook_kwh)), "{} of {handbook_kwh}", heat.heat_kwh);
}

#[test]
fn a_heater_too_small_is_seen() {
    let mut house = greenhouse(&[]);
    house.heating = house.heating.map(|h| Heating { rating_w: 300.0, ..h });
    let call = night_call(LARCH_BANK, &house, &recent(), &outlook(-16.0), &limits(0.0), PRICE).unwrap();
    let heat = call.heating.unwrap();
    assert!(heat.risk > 0.9 && heat.full_hours > 10.0, "{heat:?}");
    house.heating = None;
    let call = night_call(LARCH_BANK, &house, &recent(), &outlook(-16.0), &limits(0.0), PRICE).unwrap();
    assert_eq!(call.heating, None);
    assert!(call.course.iter().all(|p| p.heated_c.is_empty()));
}

#[test]
fn the_hold_fades_night_by_night() {
    let mut house = greenhouse(&[]);
    house.zones.truncate(1);
    house.zones[0].floor_share = 1.0;
    let spell = NightOutlook { next_high_c: Some(-4.0), ..outlook(-10.0) };
    let holds = hold_fade(LARCH_BANK, &house, &recent(), &spell, &[0.0], 6).unwrap();
    assert_eq!(holds.len(), 6);
    assert_eq!(holds[5].night_of, date("2026-01-07"));
    assert!(holds[0].hold_k > holds[2].hold_k && holds[2].hold_k > holds[5].hold_k, "{holds:?}");
    assert!(holds[5].pots_frozen > holds[0].pots_frozen, "{holds:?}");
    for hold in &holds[1..] {
        close(hold.outside_low_c, -10.0, 0.2, "outdoor low");
    }
    assert!(hold_fade(LARCH_BANK, &house, &recent(), &spell, &[0.0], 0).is_err());
}

#[test]
fn nonsense_is_refused() {
    let house = greenhouse(&[]);
    let call = |outlook: &NightOutlook, recent: &[DailyTemps], zones: &[ZoneLimit]| {
        night_call(LARCH_BANK, &house, recent, outlook, zones, PRICE).unwrap_err().to_string()
    };
    let error = call(&NightOutlook { low_c: f64::NAN, ..outlook(0.0) }, &recent(), &limits(0.0));
    assert!(error.contains("low_c"), "{error}");
    let error = call(&NightOutlook { cloud_fraction: 1.4, ..outlook(0.0) }, &recent(), &limits(0.0));
    assert!(error.contains("0 for clear, 1 for overcast"), "{error}");
    let error = call(&outlook(-5.0), &recent(), &limits(0.0)[..2]);
    assert!(error.contains("2 zones"), "{error}");
    let mut torn = recent();
    torn.drain(2..10);
    let error = call(&outlook(-5.0), &torn, &limits(0.0));
    assert!(error.contains("no temperatures for"), "{error}");
}

fn winter_weather() -> Vec<DailyTemps> {
    let pairs: Vec<(f64, f64)> = (0..180)
        .map(|day| {
            let season = (std::f64::consts::PI * f64::from(day) / 180.0).sin();
            let low = 4.0 - 9.0 * season + 5.0 * (f64::from(day) * 0.41).sin();
            (low, low + 5.0 + 3.0 * (f64::from(day) * 0.23).cos())
        })
        .collect();
    days("2025-10-20", &pairs)
}

fn winter(house: &Scenario, shift_k: f64) -> WinterOutcome {
    let series = from_daily(LARCH_BANK, &winter_weather(), DailyAssumptions::default()).unwrap();
    let facings: Vec<_> = house.phases[0].envelope.elements.iter().map(|e| e.facing).collect();
    let forcing = Forcing::new(LARCH_BANK, &series, &facings);
    run_winter(house, &forcing, shift_k, &limits(-1.0)).unwrap()
}

#[test]
fn a_winter_by_set_up() {
    let bare = winter(&greenhouse(&[]), 0.0);
    let film = winter(&greenhouse(&["bubble-film"]), 0.0);
    let mut warmer = greenhouse(&[]);
    warmer.heating = warmer.heating.map(|h| Heating { set_c: 5.0, ..h });
    let warmer = winter(&warmer, 0.0);
    let mut off = greenhouse(&[]);
    off.heating = None;
    let off = winter(&off, 0.0);
    assert!(film.heat_kwh < 0.8 * bare.heat_kwh && film.nights_heated < bare.nights_heated);
    assert!(warmer.heat_kwh > 1.5 * bare.heat_kwh && warmer.nights_heated > bare.nights_heated);
    assert_eq!((off.nights_heated, off.heat_kwh), (0, 0.0));
    assert!(off.nights_below[2] > bare.nights_below[2]);
    assert!(bare.zone_min_c.iter().all(|c| *c > -1.0), "{bare:?}");
    let lowest = winter_weather().iter().filter_map(|d| d.min_c).fold(f64::INFINITY, f64::min);
    close(bare.outside_min_c, lowest, 0.3, "outdoor minimum");
    assert!((bare.coldest_night - date("2025-10-20")).num_days() < 180);
    assert!(winter(&greenhouse(&[]), -2.0).heat_kwh > 1.2 * bare.heat_kwh);
    // Degree days of the nights below the set point with the handbook's loss: an upper bound with the sun left out.
    let below: f64 =
        winter_weather().iter().map(|d| (1.5 - (d.min_c.unwrap() + d.max_c.unwrap()) / 2.0).max(0.0)).sum();
    let design = DesignNight { inside_c: 1.5, outside_c: -5.0, earth_c: 5.0, elevation_m: 470.0 };
    let loss = HeatLoss::of(&envelope(&[]), &design).unwrap();
    let handbook_kwh = seasonal_kwh(loss.to_outdoors_w_per_k, below);
    assert!((0.15..1.3).contains(&(bare.heat_kwh / handbook_kwh)), "{} of {handbook_kwh}", bare.heat_kwh);
}

#[test]
fn winters_add_up_to_a_bill() {
    let house = greenhouse(&[]);
    let outcomes: Vec<WinterOutcome> =
        site_draws(-0.5, 1.0, 9).into_iter().map(|shift| winter(&house, shift)).collect();
    let bill = WinterBill::of(&outcomes).unwrap();
    assert_eq!(bill.winters, 9);
    let mean = outcomes.iter().map(|o| o.heat_kwh).sum::<f64>() / 9.0;
    close(bill.heat_kwh.mean, mean, 1e-9, "mean");
    close(bill.heat_kwh.median, outcomes[4].heat_kwh, 1e-3 * mean, "the middle draw is the median");
    assert!(bill.heat_kwh.low < bill.heat_kwh.median && bill.heat_kwh.median < bill.heat_kwh.high);
    assert!(bill.risk >= bill.zone_risk.iter().copied().fold(0.0, f64::max));
    assert_eq!(WinterBill::of(&[]), None);
    let draws = site_draws(0.0, 1.0, 50);
    close(draws.iter().sum::<f64>(), 0.0, 1e-9, "mean of the draws");
    close((draws.iter().map(|d| d * d).sum::<f64>() / 50.0).sqrt(), 0.98, 0.02, "their spread");
}
