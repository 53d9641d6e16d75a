use chrono::{Days, NaiveDate};

use super::*;

fn date(month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2027, month, day).unwrap()
}

fn crop(key: &str) -> SeedCrop {
    SeedCrops::built_in().unwrap().get(key).unwrap().clone()
}

#[test]
fn a_sowing_is_counted_back_once() {
    let tomato = crop("tomato");
    let plan = sowing_plan(&tomato, date(5, 15), 25.0).unwrap();
    assert_eq!(plan.out_on, date(5, 15));
    // 5 to 8 weeks inside and 6 days to emerge.
    assert_eq!(plan.sow_between, (date(5, 15) - Days::new(8 * 7 + 6), date(5, 15) - Days::new(5 * 7 + 6)));
    assert!(plan.sow_between.0 < plan.sow_on && plan.sow_on < plan.sow_between.1);
    assert_eq!(plan.emerges_on, plan.sow_on + Days::new(6));
    assert!(plan.emerges_on < plan.prick_out_on && plan.prick_out_on < plan.harden_from);
    assert_eq!(plan.harden_from, date(5, 5));
    let cool = sowing_plan(&tomato, date(5, 15), 15.0).unwrap();
    assert_eq!(cool.sow_on, plan.sow_on - Days::new(8), "14 days to emerge instead of 6");
}

#[test]
fn cold_trays_and_crops_sown_in_place_are_refused_with_the_mend() {
    let error = sowing_plan(&crop("tomato"), date(5, 15), 6.0).unwrap_err();
    assert!(matches!(error, SowingError::TooColdOrWarm { comes_at_c: 10.0, .. }), "{error}");
    assert!(error.to_string().contains("keep the seed tray at 10 °C"), "{error}");
    let error = sowing_plan(&crop("eggplant"), date(5, 15), 12.0).unwrap_err();
    assert!(matches!(error, SowingError::NotTested { tested_at_c: 20.0, .. }), "{error}");
    let error = sowing_plan(&crop("carrot"), date(5, 15), 15.0).unwrap_err();
    assert!(matches!(error, SowingError::SownInPlace { .. }), "{error}");
}

#[test]
fn room_and_warmth_follow_the_sowings() {
    let pepper = sowing_plan(&crop("pepper"), date(5, 15), 25.0).unwrap();
    let wanted = [Wanted { plan: &pepper, count: 49, plant_m2: None }];
    assert_eq!(wanted[0].seeds(), 50, "98 in a hundred come");
    let sowing = week_need(&wanted, pepper.sow_on, 0.03, Some(12.0));
    assert!((sowing.needs_m2 - 0.045).abs() < 1e-9 && (sowing.lacks_m2() - 0.015).abs() < 1e-9);
    assert_eq!((sowing.needs_c, sowing.lacks_k()), (Some(25.0), Some(13.0)));
    let later = week_need(&wanted, pepper.out_on - Days::new(7), 1.0, Some(12.0));
    assert_eq!((later.needs_c, later.lacks_k(), later.lacks_m2()), (None, None, 0.0));
    assert!(later.needs_m2 > 0.39);
    assert_eq!(week_need(&wanted, pepper.out_on, 1.0, None).needs_m2, 0.0);
}

#[test]
fn a_sowing_that_cannot_be_is_refused() {
    let sowing = Sowing {
        id: String::new(),
        site_id: "s".to_owned(),
        crop_key: "tomato".to_owned(),
        label: "Tomato, red".to_owned(),
        sown_on: date(3, 20),
        seeds: 30,
        zone_id: None,
        soil_c: Some(22.0),
        emerged_on: Some(date(3, 28)),
        seedlings: Some(27),
        planted_out: None,
    };
    let today = date(4, 1);
    sowing.check(today).unwrap();
    let field = |sowing: Sowing| sowing.check(today).unwrap_err().field;
    assert_eq!(field(Sowing { seedlings: Some(31), ..sowing.clone() }), "seedlings");
    assert_eq!(field(Sowing { planted_out: Some(28), ..sowing.clone() }), "planted_out");
    assert_eq!(field(Sowing { emerged_on: Some(date(3, 1)), ..sowing.clone() }), "emerged_on");
    assert_eq!(field(Sowing { sown_on: date(4, 2), ..sowing.clone() }), "sown_on");
    assert_eq!(field(Sowing { seeds: 0, ..sowing }), "seeds");
}
