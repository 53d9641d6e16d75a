//! The bills of a run in figures and in words.

use std::collections::BTreeSet;

use hibernacle_contract::winter::{SetUpBill, WinterView, WinterZone};
use hibernacle_engine::season::{Caution, Figure, Reason};
use hibernacle_engine::shelter::winter::{Spread, WinterBill};
use hibernacle_engine::site::Hemisphere;

use super::plan::{MODEL_ERROR_K, Plan, Prepared, SITE_ERROR_K};

/// Heat in kWh per winter below which nothing is said of it.
const WORTH_SAYING_KWH: f64 = 0.5;
/// Risk below which a change of it is not worth a word.
const WORTH_SAYING_RISK: f64 = 0.005;
/// Share of the sun let in below which covers darken a house.
const DARK: f64 = 0.3;
/// Covers that go over the roof.
const LAID_OVER: [&str; 3] = ["tarp-dark", "straw-mat", "foam-board"];

/// What the bill of a set-up came to: absent without a winter, or the problem.
pub(super) type Billed = Result<Option<WinterBill>, String>;

/// The bills of all set-ups.
pub(super) fn view(plan: &Plan, billed: Vec<Billed>) -> WinterView {
    let mut bills: Vec<SetUpBill> =
        plan.set_ups.iter().zip(billed).map(|(set_up, billed)| bill(plan, set_up, billed)).collect();
    if let Some((first, others)) = bills.split_first_mut() {
        first.reasons = reasons(plan, first, None);
        for other in others {
            other.saves_kwh = first.bill.heat_kwh.mean - other.bill.heat_kwh.mean;
            other.saves_cost = first.cost.zip(other.cost).map(|(first, other)| first.mean - other.mean);
            other.reasons = reasons(plan, other, Some(first));
        }
    }
    let years = plan.winters.iter().map(|winter| winter.start_year);
    WinterView {
        first_year: years.clone().min().unwrap_or_default(),
        last_year: years.max().unwrap_or_default(),
        winters: plan.winters.len() as u32,
        draws: plan.shifts_k.len() as u32,
        zones: plan
            .zones
            .iter()
            .zip(&plan.limits)
            .map(|(zone, limit)| WinterZone {
                zone_id: zone.id.clone(),
                name: zone.name.clone(),
                limit_c: limit.as_ref().map(|limit| limit.limit_c),
            })
            .collect(),
        reasons: rests_on(plan, &bills),
        cautions: cautions(plan),
        bills,
        site: plan.site.clone(),
        shelter: plan.shelter.clone(),
    }
}

fn bill(plan: &Plan, prepared: &Prepared, billed: Billed) -> SetUpBill {
    let (bill, problem) = match billed {
        Ok(Some(bill)) => (bill, None),
        Ok(None) => (WinterBill::empty(plan.zones.len()), None),
        Err(problem) => (WinterBill::empty(plan.zones.len()), Some(problem)),
    };
    let heats = prepared.kind.as_ref().filter(|_| problem.is_none() && prepared.set_c.is_some());
    let fuel_units = heats.map(|kind| bill.heat_kwh.scaled(kind.fuel.units_for(1.0, kind.efficiency)));
    let cost = heats.and_then(|kind| {
        let price = plan.prices.of(kind.fuel)?;
        Some(bill.heat_kwh.scaled(price.per_kwh_heat(kind.efficiency)))
    });
    SetUpBill {
        set_up: prepared.set_up.clone(),
        set_c: prepared.set_c,
        design: prepared.design,
        bill,
        fuel: heats.map(|kind| kind.fuel),
        fuel_units,
        cost,
        saves_kwh: 0.0,
        saves_cost: None,
        reasons: Vec::new(),
        problem,
    }
}

fn energy(kwh: f64) -> Figure {
    Figure::EnergyKwh(kwh)
}

fn text(name: &str) -> Figure {
    Figure::Text(name.to_owned())
}

/// What a set-up takes and leaves of risk, and against the first.
fn reasons(plan: &Plan, bill: &SetUpBill, first: Option<&SetUpBill>) -> Vec<Reason> {
    if bill.problem.is_some() {
        return Vec::new();
    }
    let mut reasons = vec![heat(bill)];
    if let Some(first) = first.filter(|first| first.problem.is_none()) {
        reasons.extend(against(bill, first));
    }
    reasons.extend(sun_kept_out(plan, bill));
    reasons.extend(risk(plan, bill, first));
    reasons.extend(short(bill));
    reasons
}

fn heat(bill: &SetUpBill) -> Reason {
    let Spread { mean, high, .. } = bill.bill.heat_kwh;
    match bill.set_c {
        None if bill.set_up.heater.is_some() => Reason::new("winter-nothing-to-heat-for"),
        None => Reason::new("winter-no-heater"),
        Some(set_c) if mean < WORTH_SAYING_KWH => {
            Reason::new("winter-hardly-heats").with("set", Figure::TempC(set_c))
        }
        Some(set_c) => Reason::new("winter-heats")
            .with("set", Figure::TempC(set_c))
            .with("nights", Figure::Count(bill.bill.nights_heated.mean.round() as u32))
            .with("energy", energy(mean))
            .with("most", energy(high)),
    }
}

fn against(bill: &SetUpBill, first: &SetUpBill) -> Option<Reason> {
    let before_kwh = first.bill.heat_kwh.mean;
    if bill.set_c.is_none() || first.set_c.is_none() || bill.saves_kwh.abs() < WORTH_SAYING_KWH {
        return None;
    }
    let (message, kwh) = match bill.saves_kwh {
        saved if saved > 0.0 => ("winter-saves", saved),
        saved => ("winter-takes-more", -saved),
    };
    let reason = Reason::new(message).with("first", text(&first.set_up.name)).with("energy", energy(kwh));
    Some(reason.with("share", Figure::Share(kwh / before_kwh.max(WORTH_SAYING_KWH))))
}

/// What covers that darken a house cost besides what they save.
fn sun_kept_out(plan: &Plan, bill: &SetUpBill) -> Option<Reason> {
    let covers = bill.set_up.covers.iter().filter_map(|cover| plan.materials.covers.get(&cover.key));
    let let_in: f64 = covers.map(|cover| cover.solar_transmittance).product();
    (let_in < DARK && bill.set_c.is_some())
        .then(|| Reason::new("winter-keeps-sun-out").with("share", Figure::Share(1.0 - let_in)))
}

/// What remains of the risk: the zone first in need and how often it passes its limit.
fn risk(plan: &Plan, bill: &SetUpBill, first: Option<&SetUpBill>) -> Vec<Reason> {
    if plan.limits.iter().all(Option::is_none) {
        return vec![Reason::new("winter-no-limits")];
    }
    let mut reasons = Vec::new();
    let worst = (0..plan.zones.len())
        .filter(|zone| bill.bill.zone_risk[*zone] > 0.0)
        .max_by(|a, b| bill.bill.zone_nights_below[*a].total_cmp(&bill.bill.zone_nights_below[*b]));
    let zone = worst.and_then(|zone| Some((zone, plan.limits[zone].as_ref()?)));
    match zone {
        None => reasons.push(Reason::new("winter-risk-none")),
        Some((zone, limit)) => {
            let in_ten = (10.0 * bill.bill.zone_nights_below[zone]).round().max(1.0);
            reasons.push(
                Reason::new("winter-risk")
                    .with("chance", Figure::Share(bill.bill.zone_risk[zone]))
                    .with("zone", text(&plan.zones[zone].name))
                    .with("plant", text(&limit.label))
                    .with("limit", Figure::TempC(limit.limit_c))
                    .with("nights", Figure::Count(in_ten as u32)),
            );
        }
    }
    let before = first.map_or(bill.bill.risk, |first| first.bill.risk);
    if (before - bill.bill.risk).abs() >= WORTH_SAYING_RISK {
        let message = if bill.bill.risk < before { "winter-risk-falls" } else { "winter-risk-rises" };
        reasons.push(
            Reason::new(message)
                .with("before", Figure::Share(before))
                .with("chance", Figure::Share(bill.bill.risk)),
        );
    }
    reasons
}

/// Why limits are passed with a heater on: it is too small for a design night.
fn short(bill: &SetUpBill) -> Option<Reason> {
    let (design, heater) = bill.design.zip(bill.set_up.heater.as_ref())?;
    let is_short = bill.bill.risk > 0.0 && design.loss_w > heater.rating_w;
    (bill.set_c.is_some() && is_short).then(|| {
        Reason::new("winter-heater-short")
            .with("power", Figure::PowerW(heater.rating_w))
            .with("needed", Figure::PowerW(design.loss_w))
    })
}

fn rests_on(plan: &Plan, bills: &[SetUpBill]) -> Vec<Reason> {
    let mut reasons = plan.reasons.clone();
    reasons.push(Reason::new(match plan.site.hemisphere() {
        Hemisphere::Northern => "winter-span-north",
        Hemisphere::Southern => "winter-span-south",
    }));
    reasons.push(
        Reason::new("winter-rests-draws")
            .with("draws", Figure::Count(plan.shifts_k.len() as u32))
            .with("site", Figure::DiffK(SITE_ERROR_K))
            .with("model", Figure::DiffK(MODEL_ERROR_K)),
    );
    let covers = || plan.set_ups.iter().flat_map(|prepared| &prepared.set_up.covers);
    if covers().any(|cover| cover.from.is_none() && cover.to.is_none()) {
        reasons.push(Reason::new("winter-covers-stay-on"));
    }
    reasons.extend(plan.assumed.iter().cloned());
    if bills.iter().any(|bill| bill.fuel_units.is_some() && bill.cost.is_none()) {
        reasons.push(Reason::new("winter-no-price"));
    }
    reasons
}

fn cautions(plan: &Plan) -> Vec<Caution> {
    let mut cautions = BTreeSet::new();
    for prepared in &plan.set_ups {
        if let Some(kind) = prepared.kind.as_ref().filter(|_| prepared.set_c.is_some()) {
            cautions.insert(Caution::Heater);
            cautions.insert(if kind.fuel.burns() { Caution::FuelGas } else { Caution::Electricity });
        }
        if prepared.set_up.covers.iter().any(|cover| LAID_OVER.contains(&cover.key.as_str())) {
            cautions.insert(Caution::Ladder);
        }
    }
    cautions.into_iter().collect()
}
