use std::sync::LazyLock;

use chrono::{Days, NaiveDate};

use super::*;
use crate::plant::PlantCatalogue;
use crate::plant::dormancy::{Cooling, LimitReason, Part, ZoneTemps};

fn first_day() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 9, 15).unwrap()
}

/// Days of a mean with a swing of 3 K either way.
fn hours(stretches: &[(usize, f64)]) -> Vec<Option<f64>> {
    let swing = |hour: usize| 3.0 * ((hour as f64 - 9.0) / 24.0 * std::f64::consts::TAU).sin();
    stretches
        .iter()
        .flat_map(|&(days, mean_c)| (0..days * 24).map(move |hour| Some(mean_c + swing(hour % 24))))
        .collect()
}

fn zone_of(stretches: &[(usize, f64)]) -> ZoneTemps {
    let days = stretches.iter().map(|stretch| stretch.0).sum::<usize>();
    ZoneTemps::from_hourly(first_day(), &hours(stretches), first_day() + Days::new(days as u64 - 1), None)
        .unwrap()
}

const POT: Container = Container::Pot { volume_l: 10.0 };

struct Case<'a> {
    key: &'a str,
    container: Container,
    own_limit_c: Option<f64>,
    start: Start,
    signs: &'a [SignSeen],
}

fn case(key: &str) -> Case<'_> {
    Case { key, container: POT, own_limit_c: None, start: Start::Growing, signs: &[] }
}

/// Read once: every test looks at them.
static TABLES: LazyLock<(HardinessTables, PlantCatalogue)> =
    LazyLock::new(|| (HardinessTables::built_in().unwrap(), PlantCatalogue::built_in().unwrap()));

fn with_course(temps: &ZoneTemps, case: &Case<'_>, check: impl FnOnce(&Course<'_>)) {
    let (tables, catalogue) = &*TABLES;
    let zone = ZoneSeason::new(temps, None);
    let subject = Subject {
        plant: catalogue.get(case.key).unwrap(),
        label: "",
        container: case.container,
        own_limit_c: case.own_limit_c,
        start: case.start,
        signs: case.signs,
    };
    check(&Course::of(tables, &zone, &subject).unwrap());
}

fn on(days: u64) -> NaiveDate {
    first_day() + Days::new(days)
}

fn seen(sign: Sign, days: u64) -> SignSeen {
    SignSeen { id: String::new(), planting_id: "p".to_owned(), on: on(days), sign }
}

/// Autumn at 15 and 9 °C, four months of cold, then warmth.
const WINTER: [(usize, f64); 5] = [(20, 15.0), (40, 9.0), (100, 3.0), (30, 12.0), (30, 16.0)];

#[test]
fn every_plant_of_the_catalogue_has_a_form() {
    let (tables, catalogue) = &*TABLES;
    for plant in catalogue.iter() {
        assert!(tables.acclimations.of(plant).is_some(), "{}", plant.key);
    }
}

#[test]
fn a_fig_hardens_rests_wakes_and_stays_awake() {
    with_course(
        &zone_of(&WINTER),
        &Case { container: Container::Ground, ..case("ficus-carica") },
        |course| {
            let phases: Vec<Phase> = course.days.iter().map(|day| day.phase).collect();
            assert!(phases.is_sorted(), "a course goes one way");
            assert_eq!(phases[0], Phase::Growing);
            assert_eq!(*phases.last().unwrap(), Phase::InLeaf);
            let summer = course.limits_on(on(5)).unwrap();
            let midwinter = course.limits_on(on(140)).unwrap();
            assert!(
                summer.limit_c > -2.1 && midwinter.limit_c < -5.0,
                "{} {}",
                summer.limit_c,
                midwinter.limit_c
            );
            assert!(midwinter.limit_c >= -7.0, "never colder than the catalogue");
            let swell = course.swell_on()[1].unwrap();
            for day in course.days.iter().filter(|day| day.date >= swell) {
                assert_eq!(course.limits_on(day.date).unwrap().limit_c, -2.0, "{}", day.date);
            }
        },
    );
}

#[test]
fn cold_after_bud_swell_does_not_bring_hardiness_back() {
    let relapse = [(20, 15.0), (40, 9.0), (100, 3.0), (40, 15.0), (30, 0.0)];
    with_course(
        &zone_of(&relapse),
        &Case { container: Container::Ground, ..case("ficus-carica") },
        |course| {
            assert_eq!(course.limits_on(on(229)).unwrap().limit_c, -2.0);
            let reasons = course.limits_on(on(229)).unwrap().reasons;
            assert!(reasons.iter().any(|reason| matches!(reason, LimitReason::Woke { .. })), "{reasons:?}");
        },
    );
}

#[test]
fn roots_rule_a_hardy_plant_in_a_pot_and_harden_late() {
    with_course(&zone_of(&WINTER), &case("acer-palmatum"), |course| {
        let autumn = course.limits_on(on(65)).unwrap();
        let midwinter = course.limits_on(on(150)).unwrap();
        assert_eq!(midwinter.ruled_by, Part::Roots);
        let (soft, hard) = (autumn.roots.unwrap().limit_c, midwinter.roots.unwrap().limit_c);
        assert!(soft > hard, "roots stand {soft} in autumn, {hard} in midwinter");
        assert_eq!(midwinter.shoots.unwrap().limit_c.max(hard), midwinter.limit_c);
    });
    with_course(
        &zone_of(&WINTER),
        &Case { container: Container::Ground, ..case("acer-palmatum") },
        |course| {
            assert_eq!(course.limits_on(on(150)).unwrap().roots, None);
        },
    );
}

#[test]
fn a_stored_tuber_has_its_own_limit_until_it_shoots() {
    with_course(&zone_of(&WINTER), &Case { container: Container::Lifted, ..case("dahlia") }, |course| {
        let midwinter = course.limits_on(on(120)).unwrap();
        assert_eq!((midwinter.shoots, midwinter.ruled_by), (None, Part::Roots));
        let awake = course.limits_on(course.days.last().unwrap().date).unwrap();
        assert!(awake.shoots.is_some() && awake.limit_c >= midwinter.limit_c);
    });
}

#[test]
fn the_growers_own_limit_goes_first_but_not_before_soft_growth() {
    let own = Case { own_limit_c: Some(-4.0), container: Container::Ground, ..case("ficus-carica") };
    with_course(&zone_of(&WINTER), &own, |course| {
        let midwinter = course.limits_on(on(140)).unwrap();
        assert_eq!((midwinter.limit_c, midwinter.ruled_by), (-4.0, Part::Own));
        let awake = course.limits_on(course.days.last().unwrap().date).unwrap();
        assert_eq!((awake.limit_c, awake.ruled_by), (-2.0, Part::Shoots));
    });
}

#[test]
fn a_lemon_in_a_warm_room_never_hardens() {
    with_course(&zone_of(&[(120, 17.0)]), &case("citrus-limon"), |course| {
        let last = course.days.last().unwrap();
        assert_eq!(last.phase, Phase::Growing);
        assert_eq!(course.limits_on(last.date).unwrap().shoots.unwrap().limit_c, -0.6);
    });
}

/// Citrus hardens in about two weeks at 4 to 16 °C: Seminole County Extension.
#[test]
fn citrus_hardens_in_two_weeks() {
    with_course(&zone_of(&[(20, 16.0), (14, 9.0)]), &case("citrus-sinensis"), |course| {
        let share = course.days.last().unwrap().hardiness();
        assert!((0.85..=1.0).contains(&share), "{share}");
    });
}

/// Potted woody stock hardens in six to eight weeks below 4.4 °C: Rutgers Cooperative Extension FS528.
#[test]
fn woody_stock_hardens_in_six_to_eight_weeks() {
    with_course(&zone_of(&[(5, 16.0), (49, 3.0)]), &case("acer-palmatum"), |course| {
        let share = course.days.last().unwrap().hardiness();
        assert!((0.85..=1.0).contains(&share), "{share}");
        assert!(course.days[5 + 14].hardiness() < 0.6);
    });
}

/// Olive softens in part in six days above 16 °C: Italian olive growers' page.
#[test]
fn six_warm_days_soften_an_olive_in_part_and_warn() {
    let spell = [(10, 15.0), (40, 8.0), (90, 4.0), (6, 16.5), (20, 3.0)];
    with_course(&zone_of(&spell), &case("olea-europaea"), |course| {
        let spells = course.warm_spells();
        let warm = spells.iter().find(|spell| spell.warn).unwrap();
        let lost = warm.hardiness.0 - warm.hardiness.1;
        assert!((0.1..=0.7).contains(&lost), "{lost}");
        assert_eq!(warm.days, 6);
        assert!(warm.advice.contains(&Cooling::LowerHeat), "nights of 13 °C: {:?}", warm.advice);
        let (before, after) = (course.limits_on(on(139)).unwrap(), course.limits_on(on(146)).unwrap());
        assert!(after.limit_c > before.limit_c, "{} {}", after.limit_c, before.limit_c);
    });
}

#[test]
fn the_limit_lies_within_its_doubt_and_the_doubt_within_the_catalogue() {
    for plant in TABLES.1.iter() {
        for container in [POT, Container::Ground, Container::Lifted] {
            with_course(&zone_of(&WINTER), &Case { container, ..case(&plant.key) }, |course| {
                for day in &course.days {
                    let limits = course.limits_on(day.date).unwrap();
                    let (coldest, warmest) = limits.between_c;
                    assert!(
                        coldest <= limits.limit_c && limits.limit_c <= warmest,
                        "{}: {limits:?}",
                        plant.key
                    );
                    if let Some(shoots) = limits.shoots {
                        assert!(shoots.limit_c >= plant.shoot_dormant.temp_c - 1e-9, "{}", plant.key);
                        assert!(shoots.limit_c <= plant.shoot_in_leaf.temp_c + 1e-9, "{}", plant.key);
                        assert!(
                            shoots.likely_loss_c.is_none_or(|loss| loss <= shoots.limit_c),
                            "{}",
                            plant.key
                        );
                    }
                }
            });
        }
    }
}

#[test]
fn what_the_grower_sees_goes_before_what_is_computed() {
    let expected = std::cell::Cell::new(None);
    with_course(&zone_of(&WINTER), &case("ficus-carica"), |course| expected.set(course.swell_on()[1]));
    let expected = expected.get().unwrap();
    let before = (expected - first_day()).num_days() as u64;

    let early = [seen(Sign::Swelling, before - 20)];
    with_course(&zone_of(&WINTER), &Case { signs: &early, ..case("ficus-carica") }, |course| {
        let [earliest, expected, latest] = course.swell_on();
        assert_eq!([expected, latest], [Some(on(before - 20)); 2]);
        assert!(earliest <= expected);
    });
    let late = [seen(Sign::AtRest, before + 4)];
    with_course(&zone_of(&WINTER), &Case { signs: &late, ..case("ficus-carica") }, |course| {
        assert!(course.swell_on()[1].is_none_or(|swell| swell > on(before + 4)));
        assert_eq!(course.day(on(before + 2)).unwrap().phase, Phase::LightRest);
    });
}

#[test]
fn signs_that_contradict_each_other_are_refused_by_name() {
    let error = check_signs(&[seen(Sign::AtRest, 40), seen(Sign::Swelling, 10)]).unwrap_err();
    assert_eq!(error.field, "signs[0].sign");
    assert!(error.problem.contains("buds at rest") && error.problem.contains("2026-09-25"), "{error}");
    assert!(check_signs(&[seen(Sign::LeafFall, 3), seen(Sign::AtRest, 40), seen(Sign::InLeaf, 90)]).is_ok());
    let future = seen(Sign::LeafFall, 3).check(first_day()).unwrap_err();
    assert!(future.problem.contains("in the future"), "{future}");
}

#[test]
fn a_record_that_begins_in_winter_says_so_and_doubts_widely() {
    let winter = zone_of(&[(30, 3.0)]);
    let width = |start: Start| {
        let width = std::cell::Cell::new(0.0);
        with_course(&winter, &Case { start, ..case("punica-granatum") }, |course| {
            let shoots = course.limits_on(on(2)).unwrap().shoots.unwrap();
            width.set(shoots.between_c.1 - shoots.between_c.0);
            let says_so = course.problems.contains(&CourseProblem::BeginsLate { from: first_day() });
            assert_eq!(says_so, start == Start::Unknown);
        });
        width.get()
    };
    let (unknown, growing) = (width(Start::Unknown), width(Start::Growing));
    assert!(unknown > growing + 3.0, "{unknown} against {growing}");
}

#[test]
fn missing_weeks_are_assumed_openly_and_widen_the_doubt() {
    let mut readings = hours(&WINTER);
    readings[80 * 24..115 * 24].fill(None);
    let temps = ZoneTemps::from_hourly(first_day(), &readings, on(219), None).unwrap();
    let gap = std::cell::Cell::new(0.0);
    with_course(&temps, &case("citrus-meyeri"), |course| {
        assert!(course.problems.iter().any(|problem| matches!(
            problem,
            CourseProblem::Temps { problem: TempsProblem::Assumed { hours: 840, .. } }
        )));
        let (coldest, warmest) = course.limits_on(on(110)).unwrap().shoots.unwrap().between_c;
        gap.set(warmest - coldest);
    });
    with_course(&zone_of(&WINTER), &case("citrus-meyeri"), |course| {
        let (coldest, warmest) = course.limits_on(on(110)).unwrap().shoots.unwrap().between_c;
        assert!(gap.get() >= warmest - coldest, "{} {}", gap.get(), warmest - coldest);
    });
}

#[test]
fn a_zone_stands_what_its_most_tender_planting_stands_tonight() {
    let temps = zone_of(&WINTER);
    let limits = |key: &str, day: u64| {
        let found = std::cell::RefCell::new(None);
        with_course(&temps, &Case { container: Container::Ground, ..case(key) }, |course| {
            *found.borrow_mut() = course.limits_on(on(day));
        });
        found.into_inner().unwrap()
    };
    let rules = |day: u64| {
        let (fig, palm) = (limits("ficus-carica", day), limits("trachycarpus-fortunei", day));
        let zone = crate::plant::dormancy::zone_tonight([("fig", &fig), ("palm", &palm)]).unwrap();
        assert!(zone.between_c.0 <= zone.limit_c && zone.limit_c <= zone.between_c.1);
        assert_eq!(
            (zone.limit_c, zone.next_c),
            (fig.limit_c.max(palm.limit_c), Some(fig.limit_c.min(palm.limit_c)))
        );
        (zone.planting_id, zone.limit_c)
    };
    assert_eq!(rules(140).0, "fig");
    assert!(rules(140).1 < rules(219).1, "a fig in leaf stands less");
    assert_eq!(crate::plant::dormancy::zone_tonight([]), None);
}

#[test]
fn a_loss_points_back_to_the_nights_past_the_limit() {
    // One hard night in midwinter, a lighter frost after the fig is in leaf.
    let mut readings = hours(&WINTER);
    readings[150 * 24..150 * 24 + 6].fill(Some(-9.0));
    readings[215 * 24..215 * 24 + 6].fill(Some(-3.0));
    let temps = ZoneTemps::from_hourly(first_day(), &readings, on(219), None).unwrap();
    with_course(&temps, &Case { container: Container::Ground, ..case("ficus-carica") }, |course| {
        let nights = course.nights_past_limit(on(0), on(219));
        let dates: Vec<NaiveDate> = nights.iter().map(|night| night.date).collect();
        assert_eq!(dates, [on(150), on(215)], "{nights:?}");
        assert_eq!(nights[0].part, Part::Shoots);
        assert!(nights[0].below_k() > 1.0 && nights[0].beyond_doubt && !nights[0].likely_loss, "{nights:?}");
        assert_eq!((nights[1].temp_c, nights[1].limit_c), (-3.0, -2.0), "dormant wood would have stood it");
        assert!(course.nights_past_limit(on(160), on(200)).is_empty());
    });
}
