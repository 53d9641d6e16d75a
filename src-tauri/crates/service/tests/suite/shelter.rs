use hibernacle_contract::ErrorCode::{Invalid, NotFound};
use hibernacle_contract::setup::{DemoRequest, OverviewRequest};
use hibernacle_contract::shelter::{HeatLossRequest, HeatLossView};
use hibernacle_engine::season::{Caution, Reason};
use hibernacle_service::Context;
use hibernacle_service::setup::{demo_load, overview, shelter_save, site_save};
use hibernacle_service::shelter::heat_loss;
use hibernacle_test_support::{Garden, SimulatedClock, draft};

use crate::refused;

fn of(shelter_id: &str) -> HeatLossRequest {
    HeatLossRequest {
        shelter_id: shelter_id.to_owned(),
        design_low_c: None,
        inside_c: None,
        heater_w: None,
        circuit: None,
    }
}

fn says<'a>(view: &'a HeatLossView, message: &str) -> Option<&'a Reason> {
    view.reasons.iter().find(|reason| reason.message == message)
}

#[test]
fn the_paths_add_up_bare_and_covered() {
    let garden = Garden::at("2026-11-20T08:00:00Z");
    let asked =
        HeatLossRequest { design_low_c: Some(-16.0), inside_c: Some(2.0), ..of(&garden.greenhouse.id) };
    let view = heat_loss(&garden.context, asked).unwrap();
    assert_eq!((view.inside_c, view.outside_c), (2.0, -16.0));
    let covered = view.covered.unwrap();
    let sum =
        |part: fn(&hibernacle_contract::shelter::PathLoss) -> f64| view.paths.iter().map(part).sum::<f64>();
    assert!((sum(|path| path.bare_w) - view.bare.loss_w).abs() < 1e-6);
    assert!((sum(|path| path.bare_w_per_k) - view.bare.to_outdoors_w_per_k).abs() < 1e-9);
    assert!((sum(|path| path.covered_w.unwrap()) - covered.loss_w).abs() < 1e-6);
    // A free-standing house loses to outdoors alone: watts are coefficient times difference.
    assert!((view.bare.to_outdoors_w_per_k * 18.0 - view.bare.loss_w).abs() < 1e-6);
    assert!(covered.loss_w < 0.85 * view.bare.loss_w && covered.loss_w > 0.3 * view.bare.loss_w);
    assert!((view.bare.heater_w / view.bare.loss_w - 1.2).abs() < 1e-9);
    // Envelope of about 42 m² of twin-wall at 3 to 4.5 W/(m² K) with leaks and edge: 130 to 250 W/K.
    assert!((130.0..250.0).contains(&view.bare.to_outdoors_w_per_k), "{:?}", view.bare);
    assert!(view.cautions.contains(&Caution::Heater));
}

#[test]
fn the_climate_gives_the_low_and_the_plants_the_warmth() {
    let garden = Garden::at("2026-11-20T08:00:00Z");
    let view = heat_loss(&garden.context, of(&garden.greenhouse.id)).unwrap();
    // Once in ten years is colder than the mean coldest night of −16 °C.
    assert!((-30.0..-17.0).contains(&view.outside_c), "{}", view.outside_c);
    assert!(says(&view, "loss-outside-once").is_some());
    assert!(says(&view, "loss-inside-limit").is_some(), "{:?}", view.reasons);
    assert!((-6.0..5.0).contains(&view.inside_c), "{}", view.inside_c);

    let context = Context::in_memory(SimulatedClock::at("2026-11-20T08:00:00Z")).unwrap();
    let site = site_save(&context, draft::site()).unwrap();
    let house = shelter_save(&context, draft::greenhouse(&site.id)).unwrap();
    let message = refused(heat_loss(&context, of(&house.id)), Invalid, Some("design_low_c"));
    assert!(message.contains("climate"), "{message}");
    let view = heat_loss(&context, HeatLossRequest { design_low_c: Some(-10.0), ..of(&house.id) }).unwrap();
    assert!(says(&view, "loss-inside-frost-free").is_some());
}

#[test]
fn what_the_grower_means_to_keep_counts_in_larch_bank() {
    let context = Context::in_memory(SimulatedClock::at("2026-11-20T08:00:00Z")).unwrap();
    demo_load(&context, DemoRequest {}).unwrap();
    let shelters = overview(&context, OverviewRequest::default()).unwrap().shelters;
    let id = |name: &str| shelters.iter().find(|shelter| shelter.name == name).unwrap().id.clone();
    let house = heat_loss(&context, of(&id("greenhouse"))).unwrap();
    assert!(says(&house, "loss-inside-kept").is_some());
    assert_eq!(house.inside_c, 5.5, "5 °C on the door bench, which is half a kelvin colder");
    let cellar = heat_loss(&context, of(&id("stone cellar"))).unwrap();
    assert_eq!(cellar.covered, None);
    for shelter in &shelters {
        let view = heat_loss(&context, of(&shelter.id)).unwrap();
        assert!(view.paths.iter().all(|path| path.bare_w.is_finite() && path.size > 0.0), "{view:?}");
    }
}

#[test]
fn the_heaters_circuit_is_checked_where_its_rating_is_known() {
    let garden = Garden::at("2026-11-20T08:00:00Z");
    let check = |heater_w: f64| {
        let asked = HeatLossRequest {
            heater_w: Some(heater_w),
            design_low_c: Some(-16.0),
            ..of(&garden.greenhouse.id)
        };
        heat_loss(&garden.context, asked).unwrap()
    };
    let unknown = heat_loss(&garden.context, of(&garden.greenhouse.id)).unwrap();
    assert_eq!((unknown.circuit, unknown.circuit_findings.len()), (None, 0));
    let found = |view: &HeatLossView, message: &str| {
        view.circuit_findings.iter().any(|finding| finding.message == message)
    };
    let usual = check(2000.0);
    assert!(!usual.circuit.as_ref().unwrap().is_refused());
    assert!((usual.circuit.as_ref().unwrap().current_a - 2000.0 / 230.0).abs() < 1e-9);
    for message in ["finding-unattended-portable", "finding-local-codes-decide"] {
        assert!(found(&usual, message), "{:?}", usual.circuit_findings);
    }
    assert!(says(&usual, "loss-assumed-circuit").is_some());
    // 3 kW at 230 V are 13.04 A: more than 80 % of 16 A for hours on end.
    let too_much = check(3000.0);
    assert!(too_much.circuit.as_ref().unwrap().is_refused());
    assert_eq!(too_much.circuit_findings[0].message, "finding-over-continuous-limit");
    assert_eq!(check(4000.0).circuit_findings[0].message, "finding-breaker-too-small");
}

#[test]
fn what_cannot_be_used_is_refused_by_field() {
    let garden = Garden::at("2026-11-20T08:00:00Z");
    let wrong = |change: fn(&mut HeatLossRequest)| {
        let mut request = of(&garden.greenhouse.id);
        change(&mut request);
        heat_loss(&garden.context, request)
    };
    refused(wrong(|asked| asked.design_low_c = Some(-61.0)), Invalid, Some("design_low_c"));
    refused(wrong(|asked| asked.inside_c = Some(f64::NAN)), Invalid, Some("inside_c"));
    refused(wrong(|asked| asked.heater_w = Some(0.0)), Invalid, Some("heater_w"));
    refused(wrong(|asked| asked.shelter_id = "none".to_owned()), NotFound, None);
}
