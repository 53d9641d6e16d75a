//! The dynamic heat balance against published night gains, the handbook's steady loss, and its own bookkeeping.
#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use chrono::{Duration, NaiveDate};
use hibernacle_engine::air::WindShelter;
use hibernacle_engine::climate::DailyTemps;
use hibernacle_engine::climate::hourly::{DailyAssumptions, WeatherSeries, from_daily};
use hibernacle_engine::shelter::dynamic::{
    EnergyReport, Forcing, Heating, Moment, Phase, RunError, Scenario, Vent, ZoneLoad, simulate,
};
use hibernacle_engine::shelter::steady::{DesignNight, HeatLoss};
use hibernacle_engine::shelter::{
    CoverOn, Envelope, Form, GroundWave, Materials, Medium, Sheet, Shelter, ShelterBuild, ShelterKind,
};
use hibernacle_engine::site::Hemisphere;
use hibernacle_engine::sun::Place;

const LARCH_BANK: Place = Place { latitude_deg: 47.7, longitude_deg: 13.1, elevation_m: 470.0 };

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

/// Hourly weather from daily extremes.
fn weather(place: Place, first: &str, days: &[(f64, f64)], wind: f64, dew_below: f64) -> WeatherSeries {
    let first: NaiveDate = first.parse().unwrap();
    let days: Vec<DailyTemps> = days
        .iter()
        .zip(0..)
        .map(|(&(min, max), day)| DailyTemps {
            date: first + Duration::days(day),
            min_c: Some(min),
            max_c: Some(max),
        })
        .collect();
    let assumed = DailyAssumptions {
        wind_m_per_s: wind,
        dew_below_minimum_k: dew_below,
        ..DailyAssumptions::default()
    };
    from_daily(place, &days, assumed).unwrap()
}

fn with_cloud(mut series: WeatherSeries, cloud_fraction: f64) -> WeatherSeries {
    for hour in &mut series.hours {
        hour.cloud_fraction = cloud_fraction;
    }
    series
}

fn house(form: Form, size: (f64, f64, f64), key: &str, covers: &[&str], wind: WindShelter) -> Envelope {
    let shelter = Shelter {
        id: "s".to_owned(),
        site_id: "site".to_owned(),
        name: "House".to_owned(),
        kind: ShelterKind::Greenhouse,
        length_m: size.0,
        width_m: size.1,
        height_m: size.2,
        has_cover: true,
        has_heater: true,
    };
    let mut build = ShelterBuild::usual(&shelter);
    build.form = form;
    build.wind_shelter = wind;
    for sheet in [&mut build.roof, &mut build.sides, &mut build.ends] {
        *sheet = Sheet::glazing(key);
    }
    let covers: Vec<CoverOn> = covers
        .iter()
        .map(|key| CoverOn { key: (*key).to_owned(), parts: Vec::new(), from: None, to: None })
        .collect();
    Envelope::of(&shelter, &build, &Materials::built_in().unwrap(), &covers).unwrap()
}

fn hobby_house(key: &str, covers: &[&str]) -> Envelope {
    house(Form::Gable { eave_m: 1.5 }, (2.4, 1.8, 2.1), key, covers, WindShelter::Suburban)
}

fn scenario(series: &WeatherSeries, envelope: Envelope, ground: GroundWave) -> Scenario {
    Scenario {
        phases: vec![Phase { from: series.start, envelope }],
        zones: vec![ZoneLoad::EMPTY],
        floor: Medium::LOAM,
        ground,
        canopy: 0.2,
        elevation_m: 470.0,
        heating: None,
        vent: Some(Vent { opens_above_c: 18.0 }),
        stirred: false,
    }
}

fn run(
    place: Place,
    series: &WeatherSeries,
    scenario: &Scenario,
    observe: impl FnMut(&Moment<'_>),
) -> EnergyReport {
    let facings: Vec<_> = scenario.phases[0].envelope.elements.iter().map(|e| e.facing).collect();
    let forcing = Forcing::new(place, series, &facings);
    simulate(scenario, &forcing, &[], observe).unwrap()
}

/// Lowest outdoors and inside of every night, from noon to noon by the sun: a series made from days begins at midnight.
fn nightly_lows(place: Place, series: &WeatherSeries, scenario: &Scenario) -> Vec<(f64, f64)> {
    let mut lows = vec![(f64::INFINITY, f64::INFINITY); series.hours.len() / 24 + 2];
    run(place, series, scenario, |m| {
        let low = &mut lows[(m.hour + 12) / 24];
        low.0 = low.0.min(m.outside_c);
        low.1 = low.1.min(m.zone_c[0]);
    });
    lows.retain(|low| low.0.is_finite());
    lows
}

fn mean_gain(lows: &[(f64, f64)]) -> f64 {
    lows.iter().map(|(outside, inside)| inside - outside).sum::<f64>() / lows.len() as f64
}

/// M. J. Savage, Agrochemophysica 12 (1980) 5–13: a plastic tunnel in a South African winter kept its minima 1.3 K above
/// outdoors in the mean, never fell below 0.5 °C on nights of light frost, and was *colder* inside than outdoors from
/// sunset for about an hour and a half, until the film was wet. Weather of such a winter, a cropped tunnel of single film.
#[test]
fn plastic_tunnel_of_savage() {
    let place = Place { latitude_deg: -29.6, longitude_deg: 30.4, elevation_m: 700.0 };
    let week = [
        (4.0, 20.0),
        (2.0, 19.0),
        (-1.0, 18.0),
        (1.0, 21.0),
        (5.0, 22.0),
        (7.0, 17.0),
        (3.0, 19.0),
        (0.0, 20.0),
    ];
    let days: Vec<(f64, f64)> = week.into_iter().cycle().take(40).collect();
    let series = with_cloud(weather(place, "1979-06-15", &days, 1.5, 2.0), 0.1);
    let envelope = house(Form::Hoop, (30.0, 8.0, 3.2), "film-single", &[], WindShelter::Rural);
    let mut tunnel = scenario(&series, envelope, GroundWave::from_air(17.0, 5.0, Hemisphere::Southern));
    tunnel.canopy = 0.8;
    tunnel.vent = Some(Vent { opens_above_c: 21.0 });
    let lows = nightly_lows(place, &series, &tunnel);
    let nights = &lows[4..36];
    let gain = mean_gain(nights);
    assert!((0.5..=2.2).contains(&gain), "mean night gain {gain} K");
    for (outside, inside) in nights.iter().filter(|(outside, _)| *outside < 0.0) {
        assert!(*inside >= 0.0, "{outside} °C outdoors, {inside} °C inside");
    }
    let mut by_hour = [0.0; 24];
    run(place, &series, &tunnel, |m| {
        if m.step == 5 {
            by_hour[(m.hour + 1) % 24] += m.zone_c[0] - m.outside_c;
        }
    });
    // Sunset is at 17:10 by the sun; by 22:00 the film is wet and the tunnel warmer.
    assert!(by_hour[18] < 0.0, "no reversal after sunset: {by_hour:?}");
    assert!(by_hour[22] > 0.0 && by_hour[6] > by_hour[22], "no recovery: {by_hour:?}");
}

/// Plastic houses in Hangzhou, winters 2010–12 (abstract, napstic 010zgnyqx201403005): minima 2.0 K above outdoors under
/// one cover, 3.0 K under two, less on clear nights; the published regression itself misses by up to 2 K.
#[test]
fn plastic_houses_of_hangzhou() {
    let place = Place { latitude_deg: 30.2, longitude_deg: 120.2, elevation_m: 10.0 };
    let week = [(1.0, 8.0), (-1.0, 9.0), (3.0, 9.0), (4.0, 7.0), (-2.0, 8.0), (0.0, 11.0), (2.0, 8.0)];
    let days: Vec<(f64, f64)> = week.into_iter().cycle().take(49).collect();
    let series = weather(place, "2010-12-20", &days, 2.0, 0.0);
    let clear = with_cloud(series.clone(), 0.1);
    let ground = GroundWave::from_air(17.0, 12.0, Hemisphere::Northern);
    let gain = |series: &WeatherSeries, key: &str| {
        let envelope = house(Form::Hoop, (30.0, 6.0, 2.8), key, &[], WindShelter::Rural);
        let mut house = scenario(series, envelope, ground);
        house.canopy = 0.8;
        mean_gain(&nightly_lows(place, series, &house)[4..44])
    };
    let (single, double) = (gain(&series, "film-single"), gain(&series, "film-double"));
    close(single, 2.0, 1.0, "single cover");
    close(double, 3.0, 1.0, "double cover");
    assert!(double > single + 0.4);
    assert!(gain(&clear, "film-single") < single, "clear nights must hold less");
}

/// Row covers at Corvallis, Oregon, 1983 and 1984 (Oregon State University, 1988): minima under spun-bonded fabric 0.5 to
/// 1.8 K above open air in the mean, on some clear nights equal or below.
#[test]
fn row_covers_of_oregon() {
    let place = Place { latitude_deg: 44.6, longitude_deg: -123.3, elevation_m: 70.0 };
    let days: Vec<(f64, f64)> = [(7.0, 15.0), (5.0, 17.0), (8.0, 14.0), (4.0, 19.0), (6.0, 21.0)]
        .into_iter()
        .cycle()
        .take(40)
        .collect();
    let mut series = weather(place, "1983-04-14", &days, 1.5, 0.0);
    let envelope = house(Form::Wrap, (10.0, 1.2, 0.5), "fleece-wrap", &[], WindShelter::Open);
    let ground = GroundWave::from_air(11.5, 7.0, Hemisphere::Northern);
    let mut bed = scenario(&series, envelope, ground);
    bed.canopy = 0.3;
    bed.vent = None;
    let gain = mean_gain(&nightly_lows(place, &series, &bed)[4..36]);
    assert!((0.3..=2.3).contains(&gain), "mean night gain {gain} K");
    series = with_cloud(series, 0.0);
    for hour in &mut series.hours {
        hour.dew_point_c -= 6.0;
    }
    bed.canopy = 0.8;
    let clear = nightly_lows(place, &series, &bed);
    let coldest = clear[4..36].iter().map(|(o, i)| i - o).fold(f64::INFINITY, f64::min);
    assert!(coldest < 0.3, "dry clear nights should take nearly all of the gain: {coldest}");
}

/// A mild fortnight at the end of November, then five clear days of −6 to 1 °C.
fn cold_spell() -> WeatherSeries {
    let mut days = vec![(2.0, 8.0); 15];
    days.extend([(-6.0, 1.0); 6]);
    let mut series = weather(LARCH_BANK, "2025-11-20", &days, 1.0, 1.0);
    for hour in &mut series.hours[15 * 24..] {
        hour.cloud_fraction = 0.1;
    }
    series
}

fn spell_holds(key: &str, covers: &[&str]) -> Vec<f64> {
    let series = cold_spell();
    let ground = GroundWave::from_air(10.5, 8.0, Hemisphere::Northern);
    let mut house = scenario(&series, hobby_house(key, covers), ground);
    house.zones[0].pots_l = 300.0;
    let lows = nightly_lows(LARCH_BANK, &series, &house);
    lows[15..20].iter().map(|(outside, inside)| inside - outside).collect()
}

/// Common practice, no source: a bare small house holds about 3 °F (2 to 6) on a clear winter night, with a good cover
/// about 10 °F (7 to 14), at least 1.8 times as much. With handbook coefficients single glass lands at 1.8 to 3.0 K and
/// bubble film inside at 3.2 to 5.2 K, 1.8 times. A *dark* tarp lands lower, 2.4 to 3.5 K: it halves the loss but also takes
/// the sun from the floor, which after a fortnight is 5 to 10 K colder at dusk; see the next test.
#[test]
fn holds_of_a_hobby_house() {
    let kelvin = |fahrenheit: f64| fahrenheit / 1.8;
    let (bare, bubble, tarp) = (
        spell_holds("glass-single", &[]),
        spell_holds("glass-single", &["bubble-film"]),
        spell_holds("glass-single", &["tarp-dark"]),
    );
    let early = 1;
    assert!((kelvin(2.0)..=kelvin(6.0)).contains(&bare[early]), "bare {bare:?}");
    assert!((kelvin(6.0)..=kelvin(14.0)).contains(&bubble[early]), "bubble film {bubble:?}");
    assert!(bubble[early] >= 1.75 * bare[early], "{bubble:?} against {bare:?}");
    assert!(tarp[early] > 1.2 * bare[early], "{tarp:?} against {bare:?}");
    for holds in [&bare, &bubble, &tarp] {
        assert!(holds[1] > holds[4], "the hold must fade over a cold spell: {holds:?}");
    }
}

/// The sun on the floor is what a dark cover costs: with the same cover transparent the hold is larger.
#[test]
fn a_dark_cover_costs_the_sun() {
    let series = cold_spell();
    let ground = GroundWave::from_air(10.5, 8.0, Hemisphere::Northern);
    let dark = hobby_house("glass-single", &["tarp-dark"]);
    let mut light = dark.clone();
    for element in &mut light.elements {
        element.solar_transmittance = 0.7;
        element.solar_absorptance = 0.05;
    }
    let holds = [dark, light].map(|envelope| {
        let mut house = scenario(&series, envelope, ground);
        house.zones[0].pots_l = 300.0;
        let lows = nightly_lows(LARCH_BANK, &series, &house);
        lows[16].1 - lows[16].0
    });
    assert!(holds[1] > holds[0] + 0.7, "{holds:?}");
    assert!(holds[1] >= 1.7 * spell_holds("glass-single", &[])[1], "{holds:?}");
}

fn heated(set_c: f64) -> Heating {
    Heating {
        rating_w: 4000.0,
        set_c,
        band_k: 1.0,
        zone: 0,
        sensor_zone: 0,
        stirs_air: false,
        water_kg_per_kwh: 0.0,
    }
}

/// The handbook's loss (U-values with films for a stirred house and a mean wind, EP406 form) against the dynamic model in
/// long overcast frost with a fan: within a quarter. Without the fan the need falls by a third or more: still air inside
/// is the best layer of a glass house.
#[test]
fn held_house_needs_what_the_handbook_says() {
    let series = with_cloud(weather(LARCH_BANK, "2025-12-01", &[(-8.5, -7.5); 30], 6.0, 0.0), 1.0);
    let ground = GroundWave::from_air(2.0, 0.0, Hemisphere::Northern);
    for key in ["glass-single", "twin-wall-6"] {
        let envelope = house(Form::Gable { eave_m: 1.5 }, (2.4, 1.8, 2.1), key, &[], WindShelter::Open);
        let design = DesignNight { inside_c: 5.0, outside_c: -8.0, earth_c: 2.0, elevation_m: 470.0 };
        let handbook_w = HeatLoss::of(&envelope, &design).unwrap().heat_w;
        let mean_w = [true, false].map(|stirred| {
            let mut house = scenario(&series, envelope.clone(), ground);
            house.heating = Some(heated(4.5));
            house.stirred = stirred;
            let (mut sum, mut count) = (0.0, 0.0);
            run(LARCH_BANK, &series, &house, |m| {
                // Nights of the last fortnight: no sun.
                if m.hour > 15 * 24 && (m.hour + 12) % 24 > 6 && (m.hour + 12) % 24 < 18 {
                    sum += m.heat_w;
                    count += 1.0;
                }
            });
            sum / count
        });
        close(mean_w[0], handbook_w, 0.25 * handbook_w, &format!("{key}, stirred"));
        assert!(mean_w[1] < 0.85 * mean_w[0], "{key}: still air must save: {mean_w:?}");
    }
}

/// Four zones through a winter of ups and downs, heated, with freezing pots and soil, water and changing covers: the
/// energy closes to 0.1 % (to rounding, in fact), and the same inputs give the same bits.
#[test]
fn energy_closes_over_a_winter() {
    let days: Vec<(f64, f64)> = (0..150)
        .map(|day| {
            let low = -4.0 + 8.0 * (f64::from(day) * 0.37).sin() - 4.0 * (f64::from(day) * 0.021).sin();
            (low, low + 6.0 + 3.0 * (f64::from(day) * 0.11).cos())
        })
        .collect();
    let series = weather(LARCH_BANK, "2025-11-01", &days, 2.0, 0.0);
    let ground = GroundWave::from_air(8.5, 10.0, Hemisphere::Northern);
    let mut house = scenario(&series, hobby_house("twin-wall-6", &[]), ground);
    house.phases.push(Phase {
        from: series.start + Duration::days(30),
        envelope: hobby_house("twin-wall-6", &["bubble-film"]),
    });
    let zone = |share: f64, exposure: f64, pots_l: f64, water_l: f64| ZoneLoad {
        floor_share: share,
        exposure,
        pots_l,
        typical_pot_l: 12.0,
        water_l,
    };
    house.zones = vec![
        zone(0.3, 1.0, 120.0, 0.0),
        zone(0.3, 0.9, 150.0, 60.0),
        zone(0.2, 1.5, 80.0, 0.0),
        zone(0.2, 0.8, 0.0, 0.0),
    ];
    house.heating = Some(Heating { rating_w: 500.0, set_c: 0.0, sensor_zone: 2, ..heated(0.0) });
    let mut corner_below = 0;
    let mut steps = 0;
    let mut lowest = f64::INFINITY;
    let report = run(LARCH_BANK, &series, &house, |m| {
        assert!(m.zone_c.iter().all(|c| c.is_finite() && (-40.0..60.0).contains(c)));
        assert!((0.0..=1.0).contains(&m.relative_humidity));
        steps += 1;
        if m.outside_c < -3.0 {
            lowest = lowest.min(m.zone_c[2]);
            corner_below += i32::from(m.zone_c[2] < m.zone_c[1]);
        }
    });
    assert_eq!(steps, (150 * 24 - 1) * 6);
    assert!(corner_below > 1000, "the exposed corner must be the colder one: {corner_below}");
    let turned_over = report.heater_j + report.exchanged_j.abs() + report.stored_j.abs();
    assert!(report.residual_j().abs() < 1e-3 * turned_over, "{report:?}");
    assert!(report.residual_j().abs() < 1e-6 * turned_over, "{report:?}");
    assert!(report.heater_j > 0.0 && lowest < 0.5);
    let again = run(LARCH_BANK, &series, &house, |_| {});
    assert_eq!(report, again);
}

/// Covers come on at their hour: the hold before is that of the bare house.
#[test]
fn a_cover_acts_from_its_day() {
    let series = cold_spell();
    let ground = GroundWave::from_air(10.5, 8.0, Hemisphere::Northern);
    let bare = scenario(&series, hobby_house("glass-single", &[]), ground);
    let mut late = bare.clone();
    late.phases.push(Phase {
        from: series.start + Duration::days(17),
        envelope: hobby_house("glass-single", &["bubble-film"]),
    });
    let (without, with) =
        (nightly_lows(LARCH_BANK, &series, &bare), nightly_lows(LARCH_BANK, &series, &late));
    close(without[15].1, with[15].1, 1e-12, "before");
    assert!(with[18].1 > without[18].1 + 0.7, "after: {:?} {:?}", with[18], without[18]);
}

#[test]
fn a_cellar_is_steadier_than_a_garage_and_both_than_glass() {
    let series = cold_spell();
    let ground = GroundWave::from_air(8.5, 10.0, Hemisphere::Northern);
    let materials = Materials::built_in().unwrap();
    let lows = [ShelterKind::Cellar, ShelterKind::Garage, ShelterKind::Greenhouse].map(|kind| {
        let shelter = Shelter {
            id: "s".to_owned(),
            site_id: "site".to_owned(),
            name: "S".to_owned(),
            kind,
            length_m: 5.0,
            width_m: 3.0,
            height_m: 2.3,
            has_cover: false,
            has_heater: false,
        };
        let build = ShelterBuild::usual(&shelter);
        let envelope = Envelope::of(&shelter, &build, &materials, &[]).unwrap();
        let run = scenario(&series, envelope, ground);
        nightly_lows(LARCH_BANK, &series, &run)[18].1
    });
    assert!(lows[0] > lows[1] + 3.0 && lows[1] > lows[2] + 0.5, "{lows:?}");
    assert!((5.0..16.0).contains(&lows[0]), "a cellar under a heated house: {lows:?}");
}

#[test]
fn impossible_scenarios_are_sentences() {
    let series = cold_spell();
    let ground = GroundWave::from_air(8.5, 10.0, Hemisphere::Northern);
    let sound = scenario(&series, hobby_house("glass-single", &[]), ground);
    let facings: Vec<_> = sound.phases[0].envelope.elements.iter().map(|e| e.facing).collect();
    let forcing = Forcing::new(LARCH_BANK, &series, &facings);
    let refused = |change: &dyn Fn(&mut Scenario)| {
        let mut changed = sound.clone();
        change(&mut changed);
        simulate(&changed, &forcing, &[], |_| {}).unwrap_err()
    };
    assert_eq!(refused(&|s| s.zones.clear()), RunError::Zones { found: 0 });
    assert_eq!(refused(&|s| s.zones = vec![ZoneLoad::EMPTY; 9]), RunError::Zones { found: 9 });
    assert_eq!(refused(&|s| s.zones[0].floor_share = 0.5), RunError::Shares { sum: 0.5 });
    assert!(matches!(refused(&|s| s.zones[0].exposure = f64::NAN), RunError::Shares { .. }));
    assert!(matches!(
        refused(&|s| s.heating = Some(Heating { zone: 3, ..heated(5.0) })),
        RunError::Heating(_)
    ));
    assert!(matches!(refused(&|s| s.heating = Some(heated(f64::NAN))), RunError::Heating(_)));
    assert_eq!(refused(&|s| s.phases.clear()), RunError::Envelope);
}
