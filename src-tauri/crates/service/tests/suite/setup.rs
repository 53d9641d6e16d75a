use hibernacle_contract::ErrorCode::{Invalid, NotFound};
use hibernacle_contract::setup::{NextStep, OverviewRequest};
use hibernacle_engine::plant::Container;
use hibernacle_engine::shelter::{Light, ShelterKind};
use hibernacle_service::setup::{overview, planting_save, shelter_save, site_save, zone_save};
use hibernacle_service::{Context, CountedIds, climate};
use hibernacle_test_support::{Garden, SimulatedClock, draft};

use crate::refused;

fn empty() -> Context {
    Context::in_memory(SimulatedClock::at("2026-08-20T08:00:00Z")).unwrap()
}

fn next_step(context: &Context) -> Option<NextStep> {
    overview(context, OverviewRequest::default()).unwrap().next_step
}

#[test]
fn each_step_leads_a_newcomer_to_the_next_until_a_plan_is_possible() {
    let context = empty();
    assert_eq!(next_step(&context), Some(NextStep::Site));
    let site = site_save(&context, draft::site()).unwrap();
    assert_eq!(next_step(&context), Some(NextStep::Climate));
    let typed = hibernacle_contract::climate::TypedClimateRequest {
        site_id: site.id.clone(),
        typed: draft::averages(),
    };
    climate::climate_type(&context, typed).unwrap();
    assert_eq!(next_step(&context), Some(NextStep::Shelter));
    shelter_save(&context, draft::greenhouse(&site.id)).unwrap();
    assert_eq!(next_step(&context), Some(NextStep::Plants));
    planting_save(&context, draft::pot(&site.id, "citrus-limon", "lemon", None)).unwrap();
    assert_eq!(next_step(&context), None);
}

#[test]
fn a_site_gets_an_identifier_and_a_trimmed_name_and_changes_in_place() {
    let context = empty().with_ids(CountedIds::default());
    let mut draft = draft::site();
    draft.name = "  lower terrace ".to_owned();
    let mut site = site_save(&context, draft).unwrap();
    assert_eq!(site.name, "lower terrace");
    assert_eq!(site.id, "00000000-0000-0000-0000-000000000001");
    site.elevation_m = 512.0;
    site_save(&context, site.clone()).unwrap();
    let overview = overview(&context, OverviewRequest::default()).unwrap();
    assert_eq!(overview.sites.len(), 1);
    assert_eq!(overview.site, Some(site));
}

#[test]
fn a_site_with_impossible_figures_is_refused_by_field_and_nothing_is_stored() {
    let context = empty();
    let refuse = |change: fn(&mut hibernacle_engine::site::Site), field| {
        let mut draft = draft::site();
        change(&mut draft);
        refused(site_save(&context, draft), Invalid, Some(field))
    };
    let message = refuse(|site| site.latitude_deg = 147.0, "latitude_deg");
    assert_eq!(message, "latitude_deg: is 147, outside -90 to 90; enter degrees north, negative for south");
    refuse(|site| site.latitude_deg = f64::NAN, "latitude_deg");
    refuse(|site| site.longitude_deg = -180.5, "longitude_deg");
    refuse(|site| site.elevation_m = 9000.0, "elevation_m");
    refuse(|site| site.time_zone = "Mars/Olympus".to_owned(), "time_zone");
    refuse(|site| site.currency = "euro".to_owned(), "currency");
    refuse(|site| site.work.hours_per_day = 0.0, "work.hours_per_day");
    refuse(|site| site.name = "   ".to_owned(), "name");
    assert!(overview(&context, OverviewRequest::default()).unwrap().sites.is_empty());
}

#[test]
fn a_site_that_does_not_exist_cannot_be_changed_or_looked_at() {
    let context = empty();
    let mut draft = draft::site();
    draft.id = "gone".to_owned();
    refused(site_save(&context, draft), NotFound, None);
    refused(overview(&context, OverviewRequest { site_id: Some("gone".to_owned()) }), NotFound, None);
}

#[test]
fn the_site_used_last_comes_back_next_time() {
    let context = empty();
    let first = site_save(&context, draft::site()).unwrap();
    let second = site_save(&context, draft::southern_site()).unwrap();
    let shown = || overview(&context, OverviewRequest::default()).unwrap().site.unwrap().id;
    assert_eq!(shown(), second.id);
    overview(&context, OverviewRequest { site_id: Some(first.id.clone()) }).unwrap();
    assert_eq!(shown(), first.id);
}

#[test]
fn a_new_shelter_comes_with_a_zone_that_fills_it_and_a_changed_one_does_not() {
    let context = empty();
    let site = site_save(&context, draft::site()).unwrap();
    let zones = || overview(&context, OverviewRequest::default()).unwrap().zones;
    let mut greenhouse = shelter_save(&context, draft::greenhouse(&site.id)).unwrap();
    assert_eq!(zones().len(), 1);
    assert_eq!(zones()[0].shelter_id, greenhouse.id);
    assert!((zones()[0].area_m2 - 12.6).abs() < 1e-9);
    assert_eq!(zones()[0].light, Light::Bright);
    greenhouse.length_m = 5.0;
    shelter_save(&context, greenhouse).unwrap();
    assert_eq!(zones().len(), 1);
    shelter_save(&context, draft::cellar(&site.id)).unwrap();
    assert_eq!(zones()[1].light, Light::Dark);
}

#[test]
fn a_shelter_is_refused_by_field() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let refuse = |change: fn(&mut hibernacle_engine::shelter::Shelter), field| {
        let mut draft = draft::greenhouse(&garden.site.id);
        change(&mut draft);
        refused(shelter_save(&garden.context, draft), Invalid, Some(field))
    };
    refuse(|shelter| shelter.width_m = 0.0, "width_m");
    refuse(|shelter| shelter.kind = ShelterKind::Cellar, "has_cover");
    let message = refuse(|shelter| shelter.site_id = "gone".to_owned(), "site_id");
    assert_eq!(message, "site_id: is no site that exists; save the site first");
    refuse(|shelter| shelter.site_id.clear(), "site_id");
    let mut gone = draft::greenhouse(&garden.site.id);
    gone.id = "gone".to_owned();
    refused(shelter_save(&garden.context, gone), NotFound, None);
}

#[test]
fn a_shelter_stays_at_its_site() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let other = site_save(&garden.context, draft::southern_site()).unwrap();
    let mut moved = garden.greenhouse.clone();
    moved.site_id = other.id.clone();
    refused(shelter_save(&garden.context, moved), Invalid, Some("site_id"));

    let there = shelter_save(&garden.context, draft::greenhouse(&other.id)).unwrap();
    let mut corner = garden.corner.clone();
    corner.shelter_id = there.id;
    refused(zone_save(&garden.context, corner), Invalid, Some("shelter_id"));
    let mut lemon = garden.lemon.clone();
    lemon.site_id = other.id;
    lemon.zone_id = None;
    refused(planting_save(&garden.context, lemon), Invalid, Some("site_id"));
}

#[test]
fn a_zone_without_a_shelter_is_refused_with_the_mend() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let message = refused(zone_save(&garden.context, draft::corner("gone")), Invalid, Some("shelter_id"));
    assert_eq!(
        message,
        "shelter_id: is no shelter that exists; save the shelter first, then choose it for this zone"
    );
    refused(zone_save(&garden.context, draft::corner("")), Invalid, Some("shelter_id"));
    let mut cold = draft::corner(&garden.greenhouse.id);
    cold.offset_k = -40.0;
    refused(zone_save(&garden.context, cold), Invalid, Some("offset_k"));
    let mut gone = garden.corner.clone();
    gone.id = "gone".to_owned();
    refused(zone_save(&garden.context, gone), NotFound, None);
}

#[test]
fn a_zone_may_move_to_another_shelter_of_its_site() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let mut corner = garden.corner.clone();
    corner.shelter_id = garden.cellar.id.clone();
    assert_eq!(zone_save(&garden.context, corner.clone()).unwrap(), corner);
}

#[test]
fn a_planting_is_refused_by_field() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let refuse = |change: fn(&mut hibernacle_engine::plant::Planting), field| {
        let mut draft = garden.lemon.clone();
        draft.id.clear();
        change(&mut draft);
        refused(planting_save(&garden.context, draft), Invalid, Some(field))
    };
    let message = refuse(|planting| planting.plant_key = "citrus-lemon".to_owned(), "plant_key");
    assert!(message.contains("“citrus-lemon” is not in the catalogue"), "{message}");
    refuse(|planting| planting.zone_id = Some("gone".to_owned()), "zone_id");
    refuse(|planting| planting.count = 0, "count");
    refuse(|planting| planting.container = Container::Pot { volume_l: -3.0 }, "container.volume_l");
    refuse(|planting| planting.site_id = "gone".to_owned(), "site_id");
    let mut gone = garden.lemon.clone();
    gone.id = "gone".to_owned();
    refused(planting_save(&garden.context, gone), NotFound, None);
    let kept = overview(&garden.context, OverviewRequest::default()).unwrap().plantings;
    assert_eq!(kept.len(), 4);
}

#[test]
fn a_planting_cannot_winter_at_another_site() {
    let garden = Garden::at("2026-08-20T08:00:00Z");
    let other = site_save(&garden.context, draft::southern_site()).unwrap();
    let astray = draft::pot(&other.id, "citrus-limon", "lemon", Some(&garden.floor.id));
    refused(planting_save(&garden.context, astray), Invalid, Some("zone_id"));
}
