use chrono::{Days, NaiveDate};

use super::*;

fn first() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 12, 1).unwrap()
}

fn on(days: u64) -> NaiveDate {
    first() + Days::new(days)
}

fn days(from: u64, count: u64, mean_c: f64) -> Vec<AirDay> {
    (from..from + count)
        .map(|index| AirDay {
            date: on(index),
            min_c: mean_c - 3.0,
            mean_c,
            max_c: mean_c + 3.0,
            root_mean_c: mean_c,
            relative_humidity: Some(0.8),
            light_mj_per_m2: Some(1.5),
            heater_share: 0.0,
            is_stirred: false,
        })
        .collect()
}

fn entry(day: u64, amount_l: f64, ran_through: bool) -> Watering {
    Watering {
        id: String::new(),
        planting_id: "p".to_owned(),
        on: on(day),
        amount_l,
        ran_through,
        felt: None,
        before_kg: None,
        after_kg: None,
        note: String::new(),
    }
}

fn tables() -> PotTables {
    PotTables::built_in().unwrap()
}

fn evergreen(medium: &PotMedium) -> PottedPlant<'_> {
    PottedPlant {
        wants: WaterClass::Moderate,
        leaves: Leaves::Leafy,
        volume_l: 12.0,
        medium,
        is_clay: false,
        crown_m2: None,
        is_covered: false,
        in_heater_blast: false,
    }
}

const USUAL: UsualAir = UsualAir { relative_humidity: 0.85, light_mj_per_m2: 1.0 };

fn advice(
    plant: &PottedPlant<'_>,
    past: &[AirDay],
    outlook: &[AirDay],
    log: &[Watering],
    today: u64,
) -> WaterAdvice {
    advise(&AdviceInput {
        plant,
        past,
        outlook,
        usual: USUAL,
        log,
        factor: DryingFactor::unknown(),
        today: on(today),
    })
    .unwrap()
}

#[test]
fn a_bigger_pot_waits_longer_and_warmth_dries_faster() {
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let log = [entry(0, 1.0, true)];
    let wait = |plant: &PottedPlant<'_>, mean_c: f64| {
        let advice = advice(plant, &[], &days(0, 60, mean_c), &log, 0);
        (advice.used_share, advice.loss_l_per_day, advice.check_on)
    };
    let (used, small_l, small_on) = wait(&plant, 15.0);
    assert_eq!(used, 0.0);
    let crown_m2 = Some(0.2);
    let same_crown = PottedPlant { crown_m2, ..plant };
    let big = PottedPlant { volume_l: 40.0, ..same_crown };
    assert!(wait(&big, 15.0).2 >= wait(&same_crown, 15.0).2);
    let (_, cold_l, cold_on) = wait(&plant, 4.0);
    assert!(cold_l < small_l && cold_on > small_on);
    assert!(wait(&PottedPlant { is_clay: true, ..plant }, 15.0).1 > small_l);
    assert!(wait(&PottedPlant { leaves: Leaves::None, ..plant }, 15.0).1 < small_l);
}

#[test]
fn water_is_neither_made_nor_lost() {
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let past = days(0, 30, 5.0);
    let now = advice(&plant, &past, &[], &[entry(0, 1.0, true), entry(29, 0.4, false)], 30);
    let without = advice(&plant, &past, &[], &[entry(0, 1.0, true)], 30);
    let gained_l = (without.used_share - now.used_share) * now.available_l;
    // The wetter pot loses a little more afterwards.
    assert!((0.35..=0.4).contains(&gained_l), "{gained_l}");
    let dried = advice(&plant, &days(0, 400, 20.0), &[], &[entry(0, 1.0, true)], 400);
    assert!(dried.used_share > 0.9 && dried.used_share <= 1.0, "{}", dried.used_share);
}

#[test]
fn the_stream_of_the_heater_dries_and_is_named() {
    let tables = tables();
    let plant = PottedPlant { in_heater_blast: true, ..evergreen(&tables.media["peat"]) };
    let mut outlook = days(0, 60, 5.0);
    outlook.iter_mut().for_each(|day| day.heater_share = 0.4);
    let log = [entry(0, 1.0, true)];
    let blown = advice(&plant, &[], &outlook, &log, 0);
    let calm = advice(&evergreen(&tables.media["peat"]), &[], &outlook, &log, 0);
    assert!(blown.loss_l_per_day > 1.5 * calm.loss_l_per_day);
    assert!(blown.check_on <= calm.check_on);
    assert!(matches!(blown.warnings[..], [WaterWarning::HeaterBlast { times }] if times > 1.5));
    assert!(calm.warnings.is_empty());
}

#[test]
fn a_cover_gives_water_back_in_damp_air() {
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let mut outlook = days(0, 30, 5.0);
    outlook.iter_mut().for_each(|day| day.relative_humidity = Some(0.95));
    let log = [entry(0, 1.0, true)];
    let covered = advice(&PottedPlant { is_covered: true, ..plant }, &[], &outlook, &log, 0);
    let bare = advice(&plant, &[], &outlook, &log, 0);
    assert!(covered.loss_l_per_day < bare.loss_l_per_day);
}

#[test]
fn frozen_roots_give_nothing_and_evergreens_in_the_sun_are_warned_about() {
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let mut past = days(0, 10, 3.0);
    past[5..].iter_mut().for_each(|day| day.root_mean_c = -1.0);
    let log = [entry(0, 1.0, true)];
    let now = advice(&plant, &past, &days(10, 20, 3.0), &log, 10);
    let warning = now.warnings.iter().find_map(|warning| match warning {
        WaterWarning::FrozenRoots { from, days, refused_l } => Some((*from, *days, *refused_l)),
        _ => None,
    });
    let (from, frozen, refused_l) = warning.unwrap();
    assert_eq!((from, frozen), (on(5), 5));
    assert!(refused_l > 0.01, "{refused_l}");
    let leafless = PottedPlant { leaves: Leaves::None, ..plant };
    assert!(advice(&leafless, &past, &days(10, 20, 3.0), &log, 10).warnings.is_empty());
    let mut dark = past.clone();
    dark.iter_mut().for_each(|day| day.light_mj_per_m2 = Some(0.1));
    assert!(advice(&plant, &dark, &days(10, 20, 3.0), &log, 10).warnings.is_empty());
}

#[test]
fn no_watering_into_a_hard_freeze_or_onto_ice() {
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let mut outlook = days(30, 30, 4.0);
    outlook[..4].iter_mut().for_each(|day| day.min_c = -4.0);
    let past = days(0, 30, 12.0);
    let now = advice(&plant, &past, &outlook, &[entry(0, 1.0, true)], 30);
    assert_eq!(now.check_on, on(30), "past its time");
    assert_eq!(now.hold, Some(Hold::HardFreeze { from: on(30), low_c: -4.0, until: Some(on(34)) }));
    assert!(now.warnings.contains(&WaterWarning::DryBeforeFreeze { freeze_on: on(31) }));
    outlook[..6].iter_mut().for_each(|day| day.root_mean_c = -2.0);
    let frozen = advice(&plant, &past, &outlook, &[entry(0, 1.0, true)], 30);
    assert_eq!(frozen.hold, Some(Hold::FrozenBall { until: Some(on(36)) }));
}

#[test]
fn what_was_not_measured_is_said() {
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let mut past = days(0, 20, 5.0);
    past[3..9].iter_mut().for_each(|day| day.relative_humidity = None);
    past.drain(12..15);
    let now = advice(&plant, &past, &[], &[], 20);
    assert!(now.problems.contains(&WaterProblem::StartAssumed { from: on(0) }));
    assert!(now.problems.contains(&WaterProblem::HumidityAssumed { days: 6, relative_humidity: 0.85 }));
    assert!(now.problems.contains(&WaterProblem::DaysAssumed { days: 3 }));
    assert!(now.used_share > 0.0);
}

#[test]
fn an_entry_in_the_future_is_refused() {
    let error = entry(5, 1.0, false).check(on(4)).unwrap_err();
    assert!(error.problem.contains("in the future"), "{error}");
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let log = [entry(9, 1.0, false)];
    let input = AdviceInput {
        plant: &plant,
        past: &days(0, 5, 5.0),
        outlook: &[],
        usual: USUAL,
        log: &log,
        factor: DryingFactor::unknown(),
        today: on(5),
    };
    assert_eq!(advise(&input), Err(AdviceError::FutureWatering { on: on(9), today: on(5) }));
    let nothing = AdviceInput { past: &[], log: &[], ..input };
    assert_eq!(advise(&nothing), Err(AdviceError::NoAir));
}

#[test]
fn entries_that_cannot_be_are_refused() {
    let today = on(10);
    let heavier = Watering { before_kg: Some(8.0), after_kg: Some(12.0), ..entry(3, 1.0, true) };
    assert_eq!(heavier.check(today).unwrap_err().field, "after_kg");
    assert_eq!(entry(3, 0.0, true).check(today).unwrap_err().field, "ran_through");
    assert_eq!(entry(3, -1.0, false).check(today).unwrap_err().field, "amount_l");
    assert!(entry(3, 1.0, true).check(today).is_ok());
}

/// A log made with the balance itself at another factor must give that factor back.
#[test]
fn the_drying_factor_is_found_again() {
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let air = days(0, 90, 9.0);
    for truth in [0.5, 1.0, 1.9] {
        let store = balance::PotStore::of(&plant);
        let mut state = balance::Balance::lacking(0.0, &store);
        let mut log = vec![entry(0, 1.0, true)];
        for day in &air {
            if day.date > on(0) && (day.date - on(0)).num_days() % 9 == 0 {
                log.push(entry((day.date - on(0)).num_days() as u64, state.used_l, true));
                state.water(state.used_l, true, &store);
            }
            state.dry(&plant, &store, day, USUAL, truth);
        }
        let found = drying_factor(&plant, &air, USUAL, &log);
        assert!((found.factor / truth).ln().abs() < 0.1, "{} for {truth}", found.factor);
        assert!(found.between.0 < truth && truth < found.between.1, "{found:?} for {truth}");
        let unknown = DryingFactor::unknown();
        assert!(found.between.1 / found.between.0 < unknown.between.1 / unknown.between.0);
        assert_eq!(found.spans, 9);
    }
}

#[test]
fn scales_tell_more_than_the_finger_and_the_finger_more_than_a_guess() {
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let air = days(0, 30, 9.0);
    let width = |second: Watering, first: Watering| {
        let found = drying_factor(&plant, &air, USUAL, &[second, first]);
        assert_eq!(found.spans, 1);
        (found.between.1 / found.between.0).ln()
    };
    let through = entry(0, 2.0, true);
    let weighed = width(
        Watering { before_kg: Some(8.2), ..entry(12, 1.0, false) },
        Watering { after_kg: Some(9.4), ..through.clone() },
    );
    let felt = width(Watering { felt: Some(Felt::BarelyMoist), ..entry(12, 1.0, false) }, through.clone());
    let guessed = width(entry(12, 1.0, false), through);
    assert!(weighed < felt && felt < guessed, "{weighed} {felt} {guessed}");
    assert_eq!(drying_factor(&plant, &air, USUAL, &[]), DryingFactor::unknown());
}

#[test]
fn a_planting_that_is_not_in_pots_is_refused() {
    let catalogue = crate::plant::PlantCatalogue::built_in().unwrap();
    let tables = tables();
    let mut planting = Planting {
        id: "p".to_owned(),
        site_id: "s".to_owned(),
        plant_key: "olea-europaea".to_owned(),
        label: "Olive".to_owned(),
        count: 2,
        container: Container::Ground,
        zone_id: None,
        own_limit_c: None,
        footprint_m2: Some(0.5),
    };
    let olive = catalogue.get("olea-europaea").unwrap();
    let medium = &tables.media["peat"];
    let error = PottedPlant::of(olive, &planting, Phase::LightRest, medium).unwrap_err();
    assert_eq!(error.field, "container");
    planting.container = Container::Pot { volume_l: 20.0 };
    let potted = PottedPlant::of(olive, &planting, Phase::LightRest, medium).unwrap();
    assert_eq!((potted.leaves, potted.crown_m2), (Leaves::Leafy, Some(0.25)));
    assert_eq!(Leaves::of(Habit::Deciduous, Phase::DeepRest), Leaves::None);
    assert_eq!(Leaves::of(Habit::Deciduous, Phase::InLeaf), Leaves::Leafy);
}

#[test]
fn before_close_up_the_pot_is_filled_and_a_tenth_runs_through() {
    let tables = tables();
    let plant = evergreen(&tables.media["peat"]);
    let store = 12.0 * FILLED_SHARE * tables.media["peat"].available();
    assert!((before_close_up_l(&plant, 0.5) - (0.5 * store + 1.2)).abs() < 1e-12);
}

#[test]
fn rounds_are_few_and_reach_everything_in_time() {
    let due = |id: &str, zone: &str, from: u64, to: u64| Due {
        planting_id: id.to_owned(),
        zone_id: zone.to_owned(),
        earliest: on(from),
        latest: on(to),
    };
    let list = [
        due("a", "bench", 2, 9),
        due("b", "floor", 8, 20),
        due("c", "bench", 12, 14),
        due("d", "cellar", 13, 40),
        due("e", "bench", 30, 29),
    ];
    let found = rounds(&list);
    assert_eq!(found.iter().map(|round| round.on).collect::<Vec<_>>(), [on(9), on(14), on(29)]);
    assert_eq!(found[0].zones["bench"], ["a"]);
    assert_eq!(found[0].zones.len(), 1, "the others can wait for the next");
    assert_eq!(found[1].zones.keys().collect::<Vec<_>>(), ["bench", "floor"]);
    assert!(rounds(&[]).is_empty());
}
