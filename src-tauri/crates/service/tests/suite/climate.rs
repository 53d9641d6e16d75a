use chrono::{Days, NaiveDate};
use hibernacle_contract::ErrorCode::{Conflict, Invalid, NotFound, Unreadable};
use hibernacle_contract::climate::{ClimateFile, FreezeRequest, TypedClimateRequest};
use hibernacle_contract::setup::OverviewRequest;
use hibernacle_engine::climate::{Basis, TypedClimate};
use hibernacle_engine::site::TemperatureUnit;
use hibernacle_service::climate::{climate_freeze, climate_import, climate_preview, climate_type};
use hibernacle_service::setup::{overview, site_save};
use hibernacle_test_support::{Garden, draft};

use crate::refused;

fn garden() -> Garden {
    Garden::at("2026-08-20T08:00:00Z")
}

fn file(garden: &Garden, text: &str) -> ClimateFile {
    ClimateFile {
        site_id: garden.site.id.clone(),
        file_name: "valley.csv".to_owned(),
        text: text.to_owned(),
        plain_unit: None,
    }
}

/// Ten years in which each night from 1 November to 31 March is at −3.0 °C and every other one at 4.0 °C.
fn ten_plain_winters() -> String {
    let first = NaiveDate::from_ymd_opt(2010, 7, 1).unwrap();
    let mut text = "date,tmin_c,tmax_c\n".to_owned();
    for number in 0..3653 {
        let date = first + Days::new(number);
        let is_winter = !(4..11).contains(&chrono::Datelike::month(&date));
        text += &format!("{date},{:.1},21.0\n", if is_winter { -3.0 } else { 4.0 });
    }
    text
}

#[test]
fn an_imported_record_takes_the_place_of_typed_averages_and_averages_that_of_the_record() {
    let garden = garden();
    let summary = climate_import(&garden.context, file(&garden, &ten_plain_winters())).unwrap();
    assert_eq!(summary.name, "valley.csv");
    assert_eq!(summary.basis, Basis::Measured { first_season: 2010, last_season: 2019, seasons: 10 });
    assert_eq!(summary.first_freeze, NaiveDate::from_ymd_opt(2026, 11, 1));
    assert_eq!(summary.last_freeze, NaiveDate::from_ymd_opt(2027, 3, 31));
    assert_eq!(summary.annual_minimum_c, Some(-3.0));
    assert_eq!(summary.typed, None);
    let shown = || overview(&garden.context, OverviewRequest::default()).unwrap().climate;
    assert_eq!(shown(), Some(summary.clone()));

    let typed = TypedClimateRequest { site_id: garden.site.id.clone(), typed: draft::averages() };
    let by_heart = climate_type(&garden.context, typed).unwrap();
    assert_eq!((by_heart.basis.clone(), by_heart.typed), (Basis::Typed, Some(draft::averages())));
    assert_eq!(shown(), Some(by_heart));

    climate_import(&garden.context, file(&garden, &ten_plain_winters())).unwrap();
    assert_eq!(shown(), Some(summary));
}

#[test]
fn a_preview_tells_what_was_understood_and_stores_nothing() {
    let garden = garden();
    let before = overview(&garden.context, OverviewRequest::default()).unwrap();
    let mut text = ten_plain_winters();
    for number in 1..=150 {
        text += &format!("2031-02-30,{number},{number}\n");
    }
    let preview = climate_preview(&garden.context, file(&garden, &text)).unwrap();
    assert_eq!(preview.figures.days_with_min, 3653);
    assert_eq!(preview.figures.seasons, 10);
    assert!(preview.problems.len() <= 100);
    assert!(preview.problem_count >= 1);
    assert_eq!(preview.problems[0].line, 3655);
    assert_eq!(overview(&garden.context, OverviewRequest::default()).unwrap(), before);
}

#[test]
fn a_malformed_file_is_refused_by_file_and_line_and_the_former_climate_stays() {
    let garden = garden();
    let before = overview(&garden.context, OverviewRequest::default()).unwrap();
    for text in ["", "a recipe for marmalade\nwith lemons\n", "date,tmin,tmax\n2025-01-01,2,7\n"] {
        for refusal in [
            climate_import(&garden.context, file(&garden, text)).unwrap_err(),
            climate_preview(&garden.context, file(&garden, text)).unwrap_err(),
        ] {
            assert_eq!(refusal.code, Unreadable, "{refusal}");
            assert_eq!(refusal.file.as_deref(), Some("valley.csv"));
            assert_eq!(refusal.line, if text.is_empty() { None } else { Some(1) }, "{refusal}");
        }
    }
    assert_eq!(overview(&garden.context, OverviewRequest::default()).unwrap(), before);
}

#[test]
fn a_plain_file_may_be_in_fahrenheit() {
    let garden = garden();
    let text = ten_plain_winters()
        .replace("tmin_c,tmax_c", "tmin,tmax")
        .replace("-3.0,21.0", "26.6,69.8")
        .replace(",4.0,21.0", ",39.2,69.8");
    let mut request = file(&garden, &text);
    request.plain_unit = Some(TemperatureUnit::Fahrenheit);
    let summary = climate_import(&garden.context, request).unwrap();
    assert!((summary.annual_minimum_c.unwrap() + 3.0).abs() < 0.06, "{summary:?}");
}

#[test]
fn averages_that_cannot_be_are_refused_by_field() {
    let garden = garden();
    let refuse = |change: fn(&mut TypedClimate), field| {
        let mut typed = draft::averages();
        change(&mut typed);
        let request = TypedClimateRequest { site_id: garden.site.id.clone(), typed };
        refused(climate_type(&garden.context, request), Invalid, Some(field))
    };
    refuse(|typed| typed.annual_minimum_c = 3.0, "annual_minimum_c");
    refuse(|typed| std::mem::swap(&mut typed.first_freeze, &mut typed.last_freeze), "first_freeze");
}

#[test]
fn averages_of_a_site_that_moved_across_the_equator_are_asked_for_again() {
    let garden = garden();
    let mut moved = garden.site.clone();
    moved.latitude_deg = -moved.latitude_deg;
    site_save(&garden.context, moved).unwrap();
    assert_eq!(overview(&garden.context, OverviewRequest::default()).unwrap().climate, None);
}

#[test]
fn freezes_are_reported_for_the_season_of_today() {
    let garden = garden();
    climate_import(&garden.context, file(&garden, &ten_plain_winters())).unwrap();
    let request = FreezeRequest { site_id: garden.site.id.clone(), thresholds_c: Vec::new() };
    let report = climate_freeze(&garden.context, request).unwrap().report;
    assert_eq!(report.season_start_year, 2026);
    assert_eq!(report.events.len(), 8);
    assert_eq!(report.events[0].p50.unwrap().date, NaiveDate::from_ymd_opt(2026, 11, 1).unwrap());
    let request = FreezeRequest { site_id: garden.site.id.clone(), thresholds_c: vec![-1.0] };
    assert_eq!(climate_freeze(&garden.context, request).unwrap().report.events.len(), 2);
}

#[test]
fn freezes_are_refused_without_a_climate_a_site_or_a_sensible_threshold() {
    let garden = garden();
    let ask = |site_id: &str, thresholds_c| {
        let request = FreezeRequest { site_id: site_id.to_owned(), thresholds_c };
        climate_freeze(&garden.context, request)
    };
    refused(ask("gone", vec![]), NotFound, None);
    refused(ask(&garden.site.id, vec![0.0, f64::NAN]), Invalid, Some("thresholds_c[1]"));
    refused(ask(&garden.site.id, vec![0.0; 25]), Invalid, Some("thresholds_c"));
    let bare = site_save(&garden.context, draft::southern_site()).unwrap();
    let message = refused(ask(&bare.id, vec![]), Conflict, None);
    assert!(message.contains("import a climate file or type averages"), "{message}");
}

#[test]
fn a_climate_needs_a_site() {
    let garden = garden();
    let mut astray = file(&garden, &ten_plain_winters());
    astray.site_id = "gone".to_owned();
    refused(climate_preview(&garden.context, astray.clone()), NotFound, None);
    refused(climate_import(&garden.context, astray), NotFound, None);
    let typed = TypedClimateRequest { site_id: "gone".to_owned(), typed: draft::averages() };
    refused(climate_type(&garden.context, typed), NotFound, None);
}
