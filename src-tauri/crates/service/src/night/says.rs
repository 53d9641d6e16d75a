//! What the night call says: messages with their figures.

use hibernacle_contract::night::{Alternative, AlternativeKind, ShelterNight, TonightRequest, ZoneTonight};
use hibernacle_engine::plant::Planting;
use hibernacle_engine::season::{Figure, Reason};
use hibernacle_engine::shelter::night::NightOutlook;
use hibernacle_engine::shelter::tonight::{NightStep, READY_FROM};
use hibernacle_engine::shelter::{KnownFrom, Materials, Shelter};

use crate::house::{House, can_move};

fn text(name: &str) -> Figure {
    Figure::Text(name.to_owned())
}

fn laggard(shelter: &ShelterNight) -> Option<&ZoneTonight> {
    let id = shelter.laggard_zone_id.as_ref()?;
    shelter.zones.iter().find(|zone| zone.zone_id == *id)
}

/// How urgent a shelter is: its step first, then its risk.
pub(super) fn urgency(shelter: &ShelterNight) -> f64 {
    let step = f64::from(shelter.step as u8);
    step + shelter.zones.iter().filter_map(|zone| zone.risk).fold(0.0, f64::max) / 2.0
}

/// What to do, the most urgent first.
pub(super) fn todo(shelters: &[ShelterNight], plantings: &[Planting], outlook: &NightOutlook) -> Vec<Reason> {
    let mut urgent: Vec<&ShelterNight> =
        shelters.iter().filter(|shelter| shelter.step != NightStep::Rest).collect();
    urgent.sort_by(|a, b| urgency(b).total_cmp(&urgency(a)));
    let todo: Vec<Reason> = urgent.into_iter().filter_map(|shelter| todo_in(shelter, plantings)).collect();
    if todo.is_empty() {
        return vec![Reason::new("night-do-nothing").with("low", Figure::TempC(outlook.low_c))];
    }
    todo
}

fn todo_in(shelter: &ShelterNight, plantings: &[Planting]) -> Option<Reason> {
    let zone = worst(shelter)?;
    let (limit, risk) = (zone.limit.as_ref()?, zone.risk?);
    let placed = |message: &str| Reason::new(message).with("place", text(&shelter.name));
    let chance = Figure::Share(risk);
    let heater = shelter.heating.as_ref().map(|heating| {
        let sensor = shelter.zones.iter().find(|zone| zone.zone_id == heating.sensor_zone_id);
        (Figure::TempC(heating.set_c), text(sensor.map_or("", |zone| &zone.name)))
    });
    Some(match (shelter.step, heater) {
        (NightStep::Rest, _) => return None,
        (NightStep::Heat, Some((set, sensor))) => {
            placed("night-do-heat").with("set", set).with("zone", sensor)
        }
        (NightStep::Ready, Some((set, sensor))) => {
            placed("night-do-ready").with("set", set).with("zone", sensor).with("chance", chance)
        }
        (NightStep::Ready, None) => placed("night-do-watch")
            .with("zone", text(&zone.name))
            .with("plant", text(&limit.label))
            .with("chance", chance),
        (NightStep::Shield | NightStep::Heat, _) => placed(shield_message(&limit.planting_id, plantings))
            .with("zone", text(&zone.name))
            .with("plant", text(&limit.label))
            .with("limit", Figure::TempC(limit.limit_c))
            .with("chance", chance),
    })
}

/// What stands in the ground cannot be moved.
fn shield_message(planting_id: &str, plantings: &[Planting]) -> &'static str {
    let can_stay_only = plantings.iter().any(|planting| planting.id == planting_id && !can_move(planting));
    if can_stay_only { "night-do-shield-ground" } else { "night-do-shield" }
}

/// The zone that is most likely to pass its limit.
fn worst(shelter: &ShelterNight) -> Option<&ZoneTonight> {
    let with_risk = shelter.zones.iter().filter_map(|zone| Some((zone, zone.risk?)));
    with_risk.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(zone, _)| zone)
}

/// Why a shelter's step is what it is.
pub(super) fn reasons(shelter: &ShelterNight, outlook: &NightOutlook) -> Vec<Reason> {
    let mut reasons = Vec::new();
    let Some(zone) = laggard(shelter) else { return reasons };
    reasons.push(
        Reason::new("night-zone-low")
            .with("zone", text(&zone.name))
            .with("low", Figure::TempC(zone.low_c))
            .with("from", Figure::TempC(zone.low_10_c))
            .with("to", Figure::TempC(zone.low_90_c))
            .with("outside", Figure::TempC(outlook.low_c)),
    );
    if let Some((limit, risk)) = zone.limit.as_ref().zip(zone.risk) {
        let message = if limit.is_own { "night-zone-own-limit" } else { "night-zone-limit" };
        reasons.push(
            Reason::new(message)
                .with("plant", text(&limit.label))
                .with("limit", Figure::TempC(limit.limit_c))
                .with("chance", Figure::Share(risk)),
        );
    }
    let place = || text(&shelter.name);
    if let Some(low_c) = shelter.heat_below_c {
        reasons
            .push(Reason::new("night-heat-below").with("place", place()).with("low", Figure::TempC(low_c)));
    }
    if let Some(heating) = shelter.heating.as_ref().filter(|_| shelter.step == NightStep::Heat) {
        reasons.push(
            Reason::new("night-heat-takes")
                .with("hours", Figure::Hours(heating.full_h))
                .with("energy", Figure::EnergyKwh(heating.heat_kwh))
                .with("most", Figure::EnergyKwh(heating.heat_90_kwh)),
        );
        if heating.full_h > LONG_RUN_H && heating.risk >= READY_FROM {
            reasons.push(
                Reason::new("night-heat-short")
                    .with("place", place())
                    .with("chance", Figure::Share(heating.risk)),
            );
        }
    }
    reasons
}

/// Hours of full heat in a night from which a heater that leaves a risk may be too small.
const LONG_RUN_H: f64 = 8.0;

/// The thermostat stands at `kept_c`, the plants need `set_c`.
pub(super) fn set_too_low(shelter: &Shelter, kept_c: f64, set_c: f64) -> Reason {
    Reason::new("night-set-too-low")
        .with("place", text(&shelter.name))
        .with("kept", Figure::TempC(kept_c))
        .with("set", Figure::TempC(set_c))
}

pub(super) fn cover_helps(
    shelter: &Shelter,
    gain_k: f64,
    (before, after): (f64, f64),
    saves_kwh: Option<f64>,
) -> Alternative {
    let reason = Reason::new("night-cover-helps")
        .with("place", text(&shelter.name))
        .with("gain", Figure::DiffK(gain_k))
        .with("before", Figure::Share(before))
        .with("chance", Figure::Share(after));
    Alternative { kind: AlternativeKind::Cover, reason, saves_kwh }
}

/// Settings with the heat in kWh that they take: the needed one and the one the grower means to keep.
pub(super) fn lower_setting(shelter: &Shelter, needed: (f64, f64), kept: (f64, f64)) -> Alternative {
    let reason = Reason::new("night-lower-setting")
        .with("place", text(&shelter.name))
        .with("kept", Figure::TempC(kept.0))
        .with("energy", Figure::EnergyKwh(kept.1))
        .with("set", Figure::TempC(needed.0))
        .with("less", Figure::EnergyKwh(needed.1));
    Alternative { kind: AlternativeKind::LowerSetting, reason, saves_kwh: Some(kept.1 - needed.1) }
}

/// Plants by their labels, and the place that is expected to stay above `low_c` in nine nights of ten.
pub(super) fn move_to(place: String, low_c: f64, labels: &[&str]) -> Alternative {
    let reason = Reason::new("night-move")
        .with("plants", Figure::Text(labels.join("; ")))
        .with("to", Figure::Text(place))
        .with("low", Figure::TempC(low_c));
    Alternative { kind: AlternativeKind::Move, reason, saves_kwh: None }
}

/// What was taken for what nobody said.
pub(super) fn assumed(
    request: &TonightRequest,
    houses: &[House<'_>],
    nights: &[ShelterNight],
    materials: &Materials,
) -> Vec<Reason> {
    let mut assumed = Vec::new();
    if request.cloud.is_none() {
        assumed.push(Reason::new("night-assumed-cloud"));
    }
    if request.wind_m_per_s.is_none() {
        assumed.push(Reason::new("night-assumed-wind"));
    }
    if request.covered.is_none() {
        let by_ticks = houses.iter().zip(nights).filter(|(house, _)| house.goes_by_ticks());
        assumed.extend(by_ticks.map(|(house, night)| {
            let side = if night.is_covered { "night-assumed-cover-on" } else { "night-assumed-cover-off" };
            Reason::new(side).with("place", text(&house.shelter.name))
        }));
    }
    let under_cover = houses.iter().zip(nights).filter(|(_, night)| night.is_covered);
    assumed.extend(under_cover.filter_map(|(house, _)| house.cover_assumed(materials)));
    assumed.extend(houses.iter().filter_map(heat_assumed));
    let usual: Vec<&str> =
        houses.iter().filter(|house| house.is_usual_build).map(|house| house.shelter.name.as_str()).collect();
    if !usual.is_empty() {
        assumed.push(Reason::new("night-assumed-build").with("place", text(&usual.join(", "))));
    }
    assumed
}

/// What was taken for the heaters of a shelter.
fn heat_assumed(house: &House<'_>) -> Option<Reason> {
    let heat = house.heat.as_ref()?;
    let message = match heat.recorded.len() {
        0 => "night-assumed-heater",
        1 => return None,
        _ => "night-assumed-heaters-together",
    };
    let reason = Reason::new(message).with("place", text(&house.shelter.name));
    Some(reason.with("power", Figure::PowerW(heat.rating_w)))
}

/// What the days before the night are known from.
pub(super) fn days_known_from(known_from: KnownFrom) -> Reason {
    Reason::new(match known_from {
        KnownFrom::Measured => "night-rests-days-measured",
        KnownFrom::Climate => "night-rests-days-climate",
        KnownFrom::Latitude => "night-rests-days-latitude",
    })
}
