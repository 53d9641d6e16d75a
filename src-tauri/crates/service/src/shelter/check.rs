//! Heaters on their circuits or with their flames.

use hibernacle_contract::shelter::{HeatLossRequest, HeaterCheck};
use hibernacle_engine::air::leakage_m3_per_s;
use hibernacle_engine::season::{Figure, Reason};
use hibernacle_engine::shelter::circuit::{
    Circuit, CircuitCheck, Finding, Load, Severity, check_circuit, check_flame,
};
use hibernacle_engine::shelter::fuel::Fuel;
use hibernacle_engine::shelter::{Envelope, Heater, Materials};
use hibernacle_engine::site::{Site, TemperatureUnit};

use crate::heat;
use crate::house::House;
use crate::problem::Problem;

/// Kelvin by which it is warmer inside in a still night, while a flame keeps the frost out (estimate).
const STILL_NIGHT_K: f64 = 10.0;

/// Every recorded heater of a shelter.
pub(super) fn heaters(house: &House<'_>, materials: &Materials) -> Result<Vec<HeaterCheck>, Problem> {
    let Some(heat) = &house.heat else { return Ok(Vec::new()) };
    let leaking_m3_per_h = still_air_m3_per_h(house, materials)?;
    heat.recorded
        .iter()
        .map(|heater| {
            let found = found(heater, heater.circuit, leaking_m3_per_h, materials)?;
            Ok(HeaterCheck {
                heater_id: heater.id.clone(),
                is_refused: found.is_refused,
                findings: found.findings,
                circuit: found.check,
            })
        })
        .collect()
}

/// Air that leaks in in a still night with all covers on, in m³/h.
fn still_air_m3_per_h(house: &House<'_>, materials: &Materials) -> Result<f64, Problem> {
    let envelope = Envelope::of(house.shelter, house.recorded(), materials, &house.covers())?;
    let leak = leakage_m3_per_s(envelope.leakage_cm2, STILL_NIGHT_K, 0.0, envelope.wind_shelter);
    Ok(leak * 3600.0)
}

/// What was found of a heater.
struct Found {
    check: Option<CircuitCheck>,
    findings: Vec<Reason>,
    is_refused: bool,
}

fn found(
    heater: &Heater,
    circuit: Option<Circuit>,
    leaking_m3_per_h: f64,
    materials: &Materials,
) -> Result<Found, Problem> {
    let kind = heat::kind(materials, &heater.key)?;
    let words = |findings: &[Finding]| findings.iter().map(Finding::reason).collect();
    if kind.fuel == Fuel::Electricity {
        if let Some(circuit) = circuit {
            let check = check_circuit(&heater.load(None), &circuit)?;
            let (findings, is_refused) = (words(&check.findings), check.is_refused());
            return Ok(Found { check: Some(check), findings, is_refused });
        }
        let mut findings = vec![Reason::new("finding-circuit-unknown")];
        findings.extend(heater.is_portable.then(|| Finding::UnattendedPortable.reason()));
        findings.push(Finding::LocalCodesDecide.reason());
        return Ok(Found { check: None, findings, is_refused: false });
    }
    let mut findings = check_flame(kind, heater.rating_w, leaking_m3_per_h, None);
    findings.extend(heater.is_portable.then_some(Finding::UnattendedPortable));
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity()));
    let is_refused = findings.iter().any(|finding| finding.severity() == Severity::Refused);
    Ok(Found { check: None, findings: words(&findings), is_refused })
}

/// What the heater of a design night hangs on.
pub(super) struct Hung {
    /// The electric heater on its circuit; absent without one.
    pub(super) check: Option<CircuitCheck>,
    /// What was found of it and of flames, in words.
    pub(super) findings: Vec<Reason>,
    /// The circuit that was taken where none is known.
    pub(super) assumed: Option<Reason>,
}

/// The heater that was asked for, else the recorded ones, on what they hang on.
pub(super) fn hung(
    request: &HeatLossRequest,
    house: &House<'_>,
    site: &Site,
    materials: &Materials,
) -> Result<Hung, Problem> {
    let outlet = usual_circuit(site);
    let assumed = || {
        Reason::new("loss-assumed-circuit")
            .with("volts", Figure::Count(outlet.volts as u32))
            .with("rated", Figure::CurrentA(outlet.breaker_a))
    };
    if let Some(power_w) = request.heater_w {
        // Whether it is fixed is not said: the caution for portable heaters comes too often rather than too seldom.
        let load = Load { power_w, is_heater: true, is_portable: true, clearance_m: None };
        let check = check_circuit(&load, &request.circuit.unwrap_or(outlet))?;
        return Ok(Hung {
            findings: check.findings.iter().map(Finding::reason).collect(),
            check: Some(check),
            assumed: request.circuit.is_none().then(assumed),
        });
    }
    let mut hung = Hung { check: None, findings: Vec::new(), assumed: None };
    let Some(heat) = &house.heat else { return Ok(hung) };
    let leaking_m3_per_h = still_air_m3_per_h(house, materials)?;
    let mut strongest_first: Vec<&Heater> = heat.recorded.iter().collect();
    strongest_first.sort_by(|a, b| b.rating_w.total_cmp(&a.rating_w));
    for heater in strongest_first {
        let known = request.circuit.or(heater.circuit);
        let found = found(heater, Some(known.unwrap_or(outlet)), leaking_m3_per_h, materials)?;
        for finding in found.findings {
            if !hung.findings.contains(&finding) {
                hung.findings.push(finding);
            }
        }
        if known.is_none() && found.check.is_some() {
            hung.assumed = Some(assumed());
        }
        hung.check = hung.check.or(found.check);
    }
    Ok(hung)
}

/// The outlet circuit that is usual where a site's units are.
fn usual_circuit(site: &Site) -> Circuit {
    let (volts, breaker_a) = match site.units.temperature {
        TemperatureUnit::Fahrenheit => (120.0, 15.0),
        TemperatureUnit::Celsius => (230.0, 16.0),
    };
    Circuit { volts, breaker_a, other_load_w: 0.0, has_residual_current_device: false, cord: None }
}
