//! What a plan is made for: the shelters, zones and plantings of a site, and which of them a rule is for.

use std::collections::BTreeMap;

use super::{Applies, ChoreRule, Need, PlanInput, PlanProblem, Reason, Scope, Target, TargetKind};
use crate::plant::{Container, Plant, Planting};
use crate::season::Figure;
use crate::shelter::{Shelter, Zone};

/// A target by its place in the scene.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(super) enum At {
    Site,
    Shelter(usize),
    Zone(usize),
    Planting(usize),
}

/// A planting with its catalogue entry and its winter place.
pub(super) struct Stand<'a> {
    pub(super) planting: &'a Planting,
    pub(super) plant: &'a Plant,
    pub(super) zone: Option<usize>,
    pub(super) shelter: Option<usize>,
}

impl Stand<'_> {
    pub(super) fn name(&self) -> &str {
        if self.planting.label.trim().is_empty() { &self.plant.name } else { &self.planting.label }
    }

    fn suits(&self, applies: &Applies) -> bool {
        fn among<T: PartialEq>(list: &[T], value: &T) -> bool {
            list.is_empty() || list.contains(value)
        }
        among(&applies.habits, &self.plant.habit)
            && among(&applies.water, &self.plant.winter_water)
            && among(&applies.passes, &self.plant.move_in_pass)
            && among(&applies.plants, &self.plant.key)
            && applies.needs.iter().all(|need| match need {
                Need::Cover | Need::Heater => true,
                Need::Plants => self.zone.is_some(),
                Need::Pot => matches!(self.planting.container, Container::Pot { .. }),
                Need::Ground => self.planting.container == Container::Ground,
                Need::Lifted => self.planting.container == Container::Lifted,
                Need::Toxic => !self.plant.toxicity.trim().is_empty(),
            })
    }
}

/// Shelters, zones and plantings in the order of their identifiers, with who stands where.
pub(super) struct Scene<'a> {
    pub(super) input: PlanInput<'a>,
    pub(super) shelters: Vec<&'a Shelter>,
    /// Zones with the index of their shelter.
    pub(super) zones: Vec<(&'a Zone, usize)>,
    pub(super) stands: Vec<Stand<'a>>,
    /// Indices of all stands, so that one stand is a slice of it.
    everywhere: Vec<usize>,
    in_shelter: Vec<Vec<usize>>,
    in_zone: Vec<Vec<usize>>,
}

impl<'a> Scene<'a> {
    /// Sorts the records and finds who stands where; what cannot be placed is reported.
    pub(super) fn new(input: PlanInput<'a>, problems: &mut Vec<PlanProblem>) -> Self {
        let mut shelters: Vec<&Shelter> = input.shelters.iter().collect();
        shelters.sort_by(|a, b| (&a.id, &a.name).cmp(&(&b.id, &b.name)));
        let shelter_index: BTreeMap<&str, usize> =
            shelters.iter().enumerate().map(|(index, shelter)| (shelter.id.as_str(), index)).collect();

        let mut sorted: Vec<&Zone> = input.zones.iter().collect();
        sorted.sort_by(|a, b| (&a.id, &a.name).cmp(&(&b.id, &b.name)));
        let mut zones = Vec::with_capacity(sorted.len());
        for zone in sorted {
            match shelter_index.get(zone.shelter_id.as_str()) {
                Some(&shelter) => zones.push((zone, shelter)),
                None => problems.push(no_place(&zone.name, &zone.shelter_id)),
            }
        }
        let zone_index: BTreeMap<&str, usize> =
            zones.iter().enumerate().map(|(index, (zone, _))| (zone.id.as_str(), index)).collect();

        let mut sorted: Vec<&Planting> = input.plantings.iter().collect();
        sorted.sort_by(|a, b| (&a.id, &a.label).cmp(&(&b.id, &b.label)));
        let mut stands = Vec::with_capacity(sorted.len());
        for planting in sorted {
            let Some(plant) = input.plants.get(&planting.plant_key) else {
                let key = Figure::Text(planting.plant_key.clone());
                problems.push(PlanProblem {
                    about: planting.label.clone(),
                    reason: Reason::new("problem-unknown-plant").with("key", key),
                });
                continue;
            };
            let zone = planting.zone_id.as_deref().and_then(|id| zone_index.get(id).copied());
            let stand = Stand { planting, plant, zone, shelter: zone.map(|zone| zones[zone].1) };
            match &planting.zone_id {
                Some(id) if zone.is_none() => problems.push(no_place(stand.name(), id)),
                None if planting.container != Container::Ground => problems.push(PlanProblem {
                    about: stand.name().to_owned(),
                    reason: Reason::new("problem-no-zone"),
                }),
                _ => {}
            }
            stands.push(stand);
        }
        Self::arranged(input, shelters, zones, stands)
    }

    fn arranged(
        input: PlanInput<'a>,
        shelters: Vec<&'a Shelter>,
        zones: Vec<(&'a Zone, usize)>,
        stands: Vec<Stand<'a>>,
    ) -> Self {
        let mut in_shelter = vec![Vec::new(); shelters.len()];
        let mut in_zone = vec![Vec::new(); zones.len()];
        for (index, stand) in stands.iter().enumerate() {
            if let (Some(zone), Some(shelter)) = (stand.zone, stand.shelter) {
                in_zone[zone].push(index);
                in_shelter[shelter].push(index);
            }
        }
        let everywhere = (0..stands.len()).collect();
        Self { input, shelters, zones, stands, everywhere, in_shelter, in_zone }
    }

    /// All targets of a scope.
    fn all(&self, scope: Scope) -> Vec<At> {
        match scope {
            Scope::Site => vec![At::Site],
            Scope::Shelter => (0..self.shelters.len()).map(At::Shelter).collect(),
            Scope::Zone => (0..self.zones.len()).map(At::Zone).collect(),
            Scope::Planting => (0..self.stands.len()).map(At::Planting).collect(),
        }
    }

    /// The targets that a rule makes a chore for.
    pub(super) fn targets(&self, rule: &ChoreRule) -> Vec<At> {
        let mut targets = self.all(rule.scope);
        targets.retain(|&at| self.applies(&rule.applies, at));
        targets
    }

    fn applies(&self, applies: &Applies, at: At) -> bool {
        let place_fits = |shelter: &Shelter| {
            let needs_fit = applies.needs.iter().all(|need| match need {
                Need::Cover => shelter.has_cover && shelter.kind.takes_cover(),
                Need::Heater => shelter.has_heater,
                _ => true,
            });
            (applies.shelter_kinds.is_empty() || applies.shelter_kinds.contains(&shelter.kind)) && needs_fit
        };
        let asks_for_place = !applies.shelter_kinds.is_empty()
            || applies.needs.iter().any(|need| matches!(need, Need::Cover | Need::Heater));
        let in_place = !asks_for_place
            || match (at, self.shelter_of(at)) {
                (At::Site, _) => self.shelters.iter().any(|shelter| place_fits(shelter)),
                (_, shelter) => shelter.is_some_and(|shelter| place_fits(self.shelters[shelter])),
            };
        let asks_for_plants = !(applies.habits.is_empty()
            && applies.water.is_empty()
            && applies.passes.is_empty()
            && applies.plants.is_empty()
            && applies.needs.iter().all(|need| matches!(need, Need::Cover | Need::Heater)));
        in_place && (!asks_for_plants || self.suiting(applies, at).next().is_some())
    }

    /// The stands at a target that a rule's plant conditions are met by.
    pub(super) fn suiting(&self, applies: &Applies, at: At) -> impl Iterator<Item = usize> {
        self.standing(at).iter().copied().filter(|&index| self.stands[index].suits(applies))
    }

    fn standing(&self, at: At) -> &[usize] {
        match at {
            At::Site => &self.everywhere,
            At::Shelter(index) => &self.in_shelter[index],
            At::Zone(index) => &self.in_zone[index],
            At::Planting(index) => &self.everywhere[index..=index],
        }
    }

    fn shelter_of(&self, at: At) -> Option<usize> {
        match at {
            At::Site => None,
            At::Shelter(shelter) => Some(shelter),
            At::Zone(zone) => Some(self.zones[zone].1),
            At::Planting(stand) => self.stands[stand].shelter,
        }
    }

    fn zone_of(&self, at: At) -> Option<usize> {
        match at {
            At::Site | At::Shelter(_) => None,
            At::Zone(zone) => Some(zone),
            At::Planting(stand) => self.stands[stand].zone,
        }
    }

    /// The target of a scope that is a target or contains it.
    pub(super) fn around(&self, at: At, scope: Scope) -> Option<At> {
        match (scope, at) {
            (Scope::Site, _) => Some(At::Site),
            (Scope::Shelter, _) => self.shelter_of(at).map(At::Shelter),
            (Scope::Zone, _) => self.zone_of(at).map(At::Zone),
            (Scope::Planting, At::Planting(_)) => Some(at),
            (Scope::Planting, _) => None,
        }
    }

    /// Whether a target lies inside another or is it.
    pub(super) fn is_within(&self, inner: At, outer: At) -> bool {
        match outer {
            At::Site => true,
            At::Shelter(shelter) => self.shelter_of(inner) == Some(shelter),
            At::Zone(zone) => self.zone_of(inner) == Some(zone),
            At::Planting(_) => inner == outer,
        }
    }

    /// The target as the plan names it.
    pub(super) fn target(&self, at: At) -> Target {
        let (kind, id, name) = match at {
            At::Site => (TargetKind::Site, &self.input.site.id, self.input.site.name.as_str()),
            At::Shelter(index) => {
                (TargetKind::Shelter, &self.shelters[index].id, self.shelters[index].name.as_str())
            }
            At::Zone(index) => (TargetKind::Zone, &self.zones[index].0.id, self.zones[index].0.name.as_str()),
            At::Planting(index) => {
                (TargetKind::Planting, &self.stands[index].planting.id, self.stands[index].name())
            }
        };
        Target {
            kind,
            id: id.clone(),
            name: name.to_owned(),
            shelter_id: self.shelter_of(at).map(|index| self.shelters[index].id.clone()),
            zone_id: self.zone_of(at).map(|index| self.zones[index].0.id.clone()),
        }
    }

    /// Name of a target.
    pub(super) fn name(&self, at: At) -> &str {
        match at {
            At::Site => &self.input.site.name,
            At::Shelter(index) => &self.shelters[index].name,
            At::Zone(index) => &self.zones[index].0.name,
            At::Planting(index) => self.stands[index].name(),
        }
    }

    /// Identifier of a target.
    pub(super) fn id(&self, at: At) -> &str {
        match at {
            At::Site => &self.input.site.id,
            At::Shelter(index) => &self.shelters[index].id,
            At::Zone(index) => &self.zones[index].0.id,
            At::Planting(index) => &self.stands[index].planting.id,
        }
    }
}

fn no_place(about: &str, key: &str) -> PlanProblem {
    PlanProblem {
        about: about.to_owned(),
        reason: Reason::new("problem-no-place").with("key", Figure::Text(key.to_owned())),
    }
}
