//! Chores that were done or skipped and that the plan no longer has.

use super::marks::{Marked, Marks};
use super::scene::{At, Scene};
use super::{ChoreRule, ChoreState, DayWindow, Phase, PlannedChore, Reason, Scope, Target, TargetKind};

/// What remains of them, so that nothing a grower did disappears: as much as the rule and the target, where they
/// still exist, tell about it.
pub(super) fn vanished(
    scene: &Scene<'_>,
    marks: &Marks<'_>,
    planned: impl Fn(&str) -> bool,
) -> Vec<PlannedChore> {
    marks
        .settled()
        .filter(|(key, _)| !planned(key))
        .filter_map(|(key, marked)| chore(scene, key, marked))
        .collect()
}

fn chore(scene: &Scene<'_>, key: &str, marked: &Marked) -> Option<PlannedChore> {
    let on = match marked.state {
        ChoreState::Done { on } | ChoreState::Skipped { on, .. } => on,
        ChoreState::Open => return None,
    };
    let (rule_key, rest) = key.split_once('/').unwrap_or((key, ""));
    let id = rest.rsplit_once('#').map_or(rest, |(id, _)| id);
    let rule = scene.input.rules.get(rule_key);
    let target = target(scene, rule, id);
    let title =
        rule.map_or_else(|| rule_key.replace('-', " "), |rule| rule.title.replace("{target}", &target.name));
    Some(PlannedChore {
        key: key.to_owned(),
        rule: rule_key.to_owned(),
        title,
        phase: rule.map_or(Phase::WinterRound, |rule| rule.phase),
        target,
        window: DayWindow { earliest: on, best: on, latest: on },
        killing: false,
        due_on: on,
        moved: marked.moved.is_some(),
        minutes: rule.map_or(0, |rule| rule.minutes),
        weather: Vec::new(),
        why: rule.map_or_else(String::new, |rule| rule.why.clone()),
        reasons: vec![Reason::new("reason-settled-gone")],
        proof: rule.and_then(|rule| rule.proof.clone()),
        cautions: rule.map_or_else(Vec::new, |rule| rule.cautions.clone()),
        after: Vec::new(),
        required: false,
        source: rule.map_or_else(String::new, |rule| rule.source.clone()),
        state: marked.state.clone(),
    })
}

fn target(scene: &Scene<'_>, rule: Option<&ChoreRule>, id: &str) -> Target {
    let candidates = (0..scene.shelters.len())
        .map(At::Shelter)
        .chain((0..scene.zones.len()).map(At::Zone))
        .chain((0..scene.stands.len()).map(At::Planting));
    if let Some(at) = std::iter::once(At::Site).chain(candidates).find(|&at| scene.id(at) == id) {
        return scene.target(at);
    }
    let kind = match rule.map(|rule| rule.scope) {
        None | Some(Scope::Site) => TargetKind::Site,
        Some(Scope::Shelter) => TargetKind::Shelter,
        Some(Scope::Zone) => TargetKind::Zone,
        Some(Scope::Planting) => TargetKind::Planting,
    };
    Target { kind, id: id.to_owned(), name: "…".to_owned(), shelter_id: None, zone_id: None }
}
