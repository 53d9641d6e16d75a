//! The night low that endangers a target, and whose it is.

use super::scene::{At, Scene, Stand};
use super::{Applies, Figure, LimitOf, Reason};
use crate::shelter::Shelter;

/// A limit with the reasons for it.
pub(super) struct Limit {
    /// Night low outdoors, °C.
    pub(super) temp_c: f64,
    /// Whose limit it is and how it was found.
    pub(super) why: Vec<Reason>,
    /// What would change it.
    pub(super) change: Option<Reason>,
}

/// The limit that a rule asks for at a target: that of the planting whose limit outdoors is the warmest among
/// those that the rule is for. `None` where no such planting stands there or, for a limit that depends on the
/// shelter, where its winter place is unknown.
pub(super) fn limit(scene: &Scene<'_>, applies: &Applies, at: At, of: LimitOf) -> Option<Limit> {
    if let LimitOf::Fixed { temp_c } = of {
        return Some(Limit { temp_c, why: Vec::new(), change: None });
    }
    let mut tenderest: Option<(f64, usize)> = None;
    let mut count = 0;
    for index in scene.suiting(applies, at) {
        count += 1;
        let Some(temp_c) = outdoors_c(scene, &scene.stands[index], of) else { continue };
        if tenderest.is_none_or(|(warmest, _)| temp_c > warmest) {
            tenderest = Some((temp_c, index));
        }
    }
    let (temp_c, index) = tenderest?;
    let stand = &scene.stands[index];
    let mut why = Vec::with_capacity(2);
    why.extend(reason(scene, stand, of, temp_c));
    if count > 1 {
        why.push(
            Reason::new("reason-tenderest")
                .with("plant", name(stand))
                .with("place", Figure::Text(scene.name(at).to_owned()))
                .with("count", Figure::Count(count)),
        );
    }
    let change = match of {
        LimitOf::BareHold | LimitOf::CoveredHold | LimitOf::UnheatedHold => {
            stand.zone.map(|zone| Reason::new("reason-change-hold").with("place", zone_name(scene, zone)))
        }
        _ => Some(Reason::new("reason-change-limit").with("plant", name(stand))),
    };
    Some(Limit { temp_c, why, change })
}

/// The night low outdoors at which a limit of a planting is reached, °C.
fn outdoors_c(scene: &Scene<'_>, stand: &Stand<'_>, of: LimitOf) -> Option<f64> {
    let winter_c = stand.planting.winter_limit_c(stand.plant);
    match of {
        LimitOf::Fixed { temp_c } => Some(temp_c),
        LimitOf::MoveIn => Some(stand.plant.move_in_at_c),
        LimitOf::MoveOut => Some(stand.plant.move_out_above_c),
        LimitOf::WinterLimit => Some(winter_c),
        LimitOf::InLeafLimit => Some(in_leaf_c(stand)),
        LimitOf::BareHold => hold_k(scene, stand, false).map(|hold| winter_c - hold),
        LimitOf::CoveredHold => hold_k(scene, stand, true).map(|hold| winter_c - hold),
        LimitOf::UnheatedHold if is_heated(scene, stand) => None,
        LimitOf::UnheatedHold => hold_k(scene, stand, false).map(|hold| winter_c - hold),
    }
}

/// Soft growth is never hardier than the limit the grower set for the whole plant.
fn in_leaf_c(stand: &Stand<'_>) -> f64 {
    let leaf_c = stand.plant.shoot_in_leaf.temp_c;
    stand.planting.own_limit_c.map_or(leaf_c, |own| own.max(leaf_c))
}

/// Degrees that a planting's winter place usually stays above outdoors, K.
fn hold_k(scene: &Scene<'_>, stand: &Stand<'_>, covered: bool) -> Option<f64> {
    let (zone, shelter) = scene.zones[stand.zone?];
    let shelter: &Shelter = scene.shelters[shelter];
    Some(shelter.usual_hold_k(covered) + zone.offset_k)
}

fn is_heated(scene: &Scene<'_>, stand: &Stand<'_>) -> bool {
    stand.zone.is_some_and(|zone| {
        let (zone, shelter) = scene.zones[zone];
        zone.kept_above_c.is_some() && scene.shelters[shelter].has_heater
    })
}

fn reason(scene: &Scene<'_>, stand: &Stand<'_>, of: LimitOf, limit_c: f64) -> Option<Reason> {
    let plain =
        |message: &str| Reason::new(message).with("plant", name(stand)).with("limit", Figure::TempC(limit_c));
    let held = |message: &str, covered: bool| {
        Some(
            plain(message)
                .with("place", zone_name(scene, stand.zone?))
                .with("hold", Figure::DiffK(hold_k(scene, stand, covered)?))
                .with("inside", Figure::TempC(stand.planting.winter_limit_c(stand.plant))),
        )
    };
    match of {
        LimitOf::Fixed { .. } => None,
        LimitOf::MoveIn => Some(plain("reason-limit-move-in")),
        LimitOf::MoveOut => Some(plain("reason-limit-move-out")),
        LimitOf::WinterLimit if stand.planting.own_limit_c.is_some() => Some(plain("reason-limit-own")),
        LimitOf::WinterLimit => Some(plain("reason-limit-planting")),
        LimitOf::InLeafLimit => Some(plain("reason-limit-in-leaf")),
        LimitOf::BareHold | LimitOf::UnheatedHold => held("reason-hold-bare", false),
        LimitOf::CoveredHold => held("reason-hold-covered", true),
    }
}

fn name(stand: &Stand<'_>) -> Figure {
    Figure::Text(stand.name().to_owned())
}

fn zone_name(scene: &Scene<'_>, zone: usize) -> Figure {
    Figure::Text(scene.zones[zone].0.name.clone())
}
