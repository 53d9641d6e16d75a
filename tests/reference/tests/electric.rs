//! Circuits, cords and flames against code tables and published worked examples.

use hibernacle_engine::shelter::Materials;
use hibernacle_engine::shelter::circuit::{
    Circuit, Cord, Finding, Gauge, Load, Severity, check_circuit, check_flame, copper_ohm_per_m,
    voltage_drop_v,
};

const FOOT_M: f64 = 0.3048;

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

fn load(power_w: f64) -> Load {
    Load { power_w, is_heater: true, is_portable: false, clearance_m: Some(1.2) }
}

fn circuit(volts: f64, breaker_a: f64) -> Circuit {
    Circuit { volts, breaker_a, other_load_w: 0.0, has_residual_current_device: true, cord: None }
}

/// National Electrical Code, chapter 9 table 8, uncoated copper at 75 °C: solid 14, 12, 10 AWG 3.07, 1.93, 1.21 Ω per
/// 1000 ft; AWG diameters 0.127 · 92^((36 − n)/39) mm.
#[test]
fn copper_resistance_from_first_principles() {
    for (awg, printed) in [(18.0, 7.77), (16.0, 4.89), (14.0, 3.07), (12.0, 1.93), (10.0, 1.21)] {
        let diameter_mm = 0.127 * 92_f64.powf((36.0 - awg) / 39.0);
        let area_mm2 = std::f64::consts::PI / 4.0 * diameter_mm * diameter_mm;
        close(copper_ohm_per_m(area_mm2) * 1000.0 * FOOT_M, printed, 0.005 * printed, &format!("{awg} AWG"));
    }
}

/// The same table, stranded: 7.95, 4.99, 3.14, 1.98, 1.24 Ω per 1000 ft. Voltage drops 2 I L R by hand.
#[test]
fn voltage_drop() {
    for (length_ft, gauge, expected_v) in [
        (25.0, Gauge::Awg16, 3.119),
        (50.0, Gauge::Awg16, 6.237),
        (50.0, Gauge::Awg14, 3.925),
        (50.0, Gauge::Awg12, 2.475),
        (50.0, Gauge::Awg10, 1.550),
        (100.0, Gauge::Awg14, 7.850),
    ] {
        close(voltage_drop_v(12.5, length_ft * FOOT_M, gauge), expected_v, 1e-3, "drop");
    }
    // Published example: 120 V, 20 A, 12 AWG solid (1.93), 100 ft: 7.72 V; stranded copper is 2.6 % above.
    close(voltage_drop_v(20.0, 100.0 * FOOT_M, Gauge::Awg12), 7.72 * 1.98 / 1.93, 0.01, "20 A");
    assert!(Gauge::Mm2_5.ohm_per_m() < Gauge::Awg14.ohm_per_m());
    assert!(Gauge::Mm2_5.ohm_per_m() > Gauge::Awg12.ohm_per_m());
}

/// A load of three hours or more may take 80 % of the breaker: 1,440 W on 15 A and 1,920 W on 20 A at 120 V (NEC
/// 210.19(A), 210.20(A)).
#[test]
fn continuous_load() {
    for (power_w, volts, breaker_a, fits) in [
        (1440.0, 120.0, 15.0, true),
        (1500.0, 120.0, 15.0, false),
        (1500.0, 120.0, 20.0, true),
        (1920.0, 120.0, 20.0, true),
        (2000.0, 120.0, 20.0, false),
        (3840.0, 240.0, 20.0, true),
        (5760.0, 240.0, 30.0, true),
        (2000.0, 230.0, 16.0, true),
        (3000.0, 230.0, 16.0, false),
    ] {
        let check = check_circuit(&load(power_w), &circuit(volts, breaker_a)).unwrap();
        assert_eq!(
            !check.is_refused(),
            fits,
            "{power_w} W on {breaker_a} A at {volts} V: {:?}",
            check.findings
        );
    }
    let over = check_circuit(&load(1500.0), &circuit(120.0, 15.0)).unwrap();
    let expected = Finding::OverContinuousLimit { current_a: 12.5, allowed_a: 12.0, fits_w: 1440.0 };
    assert_eq!(over.findings[0], expected);
    let trips = check_circuit(&load(2400.0), &circuit(120.0, 15.0)).unwrap();
    assert!(matches!(trips.findings[0], Finding::BreakerTooSmall { .. }));
    let shared = Circuit { other_load_w: 600.0, ..circuit(120.0, 15.0) };
    assert!(check_circuit(&load(1000.0), &shared).unwrap().is_refused());
}

/// Portable heaters plug straight into the wall (CPSC, NFPA, ESFI): refused on any cord, however thick.
#[test]
fn heaters_on_cords_are_refused() {
    let cord = Cord { gauge: Gauge::Awg10, length_m: 5.0, for_outdoors: true, wound_up: false };
    let with_cord = Circuit { cord: Some(cord), ..circuit(120.0, 20.0) };
    let check = check_circuit(&load(1000.0), &with_cord).unwrap();
    assert!(check.findings.contains(&Finding::HeaterOnCord) && check.is_refused());
    let fan = Load { is_heater: false, ..load(60.0) };
    let check = check_circuit(&fan, &with_cord).unwrap();
    assert!(!check.is_refused(), "{:?}", check.findings);
}

#[test]
fn cords_of_other_loads() {
    let pump = Load { is_heater: false, ..load(1500.0) };
    let cord = Cord { gauge: Gauge::Awg18, length_m: 30.48, for_outdoors: false, wound_up: true };
    let check = check_circuit(&pump, &Circuit { cord: Some(cord), ..circuit(120.0, 20.0) }).unwrap();
    assert!(matches!(check.findings[0], Finding::CordTooThin { ampacity_a, .. } if ampacity_a == 10.0));
    assert!(check.findings.contains(&Finding::CordWoundUp));
    assert!(check.findings.contains(&Finding::CordNotForOutdoors));
    assert!(check.findings.iter().any(|f| matches!(f, Finding::VoltageDrop { share, .. } if *share > 0.16)));
    close(check.cord_heat_w, check.drop_v * 12.5, 1e-9, "heat in the cord");
}

#[test]
fn placement_and_guarding() {
    let near = Load { is_portable: true, clearance_m: Some(0.4), ..load(1000.0) };
    let bare = Circuit { has_residual_current_device: false, ..circuit(230.0, 16.0) };
    let check = check_circuit(&near, &bare).unwrap();
    assert!(matches!(check.findings[0], Finding::TooClose { needed_m: 0.9, .. }));
    assert!(check.findings.contains(&Finding::NoResidualCurrentDevice));
    assert!(check.findings.contains(&Finding::UnattendedPortable));
    assert_eq!(check.findings.last().map(Finding::severity), Some(Severity::Note));
    assert!(check_circuit(&load(f64::NAN), &bare).is_err());
    assert!(check_circuit(&load(1000.0), &circuit(0.0, 16.0)).is_err());
}

/// Water of a propane flame: 0.117 kg per kWh (1.634 kg/kg over 50.35 MJ/kg), so 1 kW for 10 h gives 1.17 kg.
#[test]
fn flames_need_air_and_give_water() {
    let materials = Materials::built_in().unwrap();
    let propane = &materials.heaters["propane-unvented"];
    let findings = check_flame(propane, 1000.0, 20.0, None);
    let water = findings.iter().find_map(|f| match f {
        Finding::AddsMoisture { water_kg_per_h } => Some(*water_kg_per_h),
        _ => None,
    });
    close(10.0 * water.unwrap(), 1.17, 0.01, "kg of water in ten hours");
    assert!(findings.iter().any(|f| matches!(f, Finding::CarbonMonoxide { .. })));
    assert!(findings.iter().all(|f| f.severity() != Severity::Refused));
    let tight = check_flame(propane, 4200.0, 2.0, Some(0.5));
    assert!(tight.iter().any(|f| matches!(f, Finding::TooTightForFlame { .. })));
    assert!(tight.iter().any(|f| matches!(f, Finding::TooClose { .. })));
    assert!(check_flame(&materials.heaters["fan-electric"], 2000.0, 2.0, None).is_empty());
}
