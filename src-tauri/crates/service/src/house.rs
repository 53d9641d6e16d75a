//! A shelter with what stands in it, as the heat model takes it.

use chrono::NaiveDate;
use hibernacle_contract::night::ZoneLimitSet;
use hibernacle_engine::plant::{Container, PlantCatalogue, Planting};
use hibernacle_engine::season::{Mark, MarkKind};
use hibernacle_engine::shelter::tonight::{SETTING_MARGIN_K, SetPoint};
use hibernacle_engine::shelter::{CoverOn, Shelter, ShelterBuild, Zone};

/// The kind of heater that is taken where one stands ready: nothing else is recorded yet.
pub(crate) const USUAL_HEATER: &str = "fan-electric";

/// A shelter with its zones and plantings.
pub(crate) struct House<'a> {
    pub(crate) shelter: &'a Shelter,
    pub(crate) zones: Vec<Zone>,
    /// The limit of every zone and whose it is.
    pub(crate) limits: Vec<Option<ZoneLimitSet>>,
    pub(crate) plantings: &'a [Planting],
}

impl<'a> House<'a> {
    /// A shelter among the records of its site.
    pub(crate) fn of(
        shelter: &'a Shelter,
        zones: &[Zone],
        plantings: &'a [Planting],
        plants: &PlantCatalogue,
    ) -> Self {
        let zones: Vec<Zone> = zones.iter().filter(|zone| zone.shelter_id == shelter.id).cloned().collect();
        let limits = zones.iter().map(|zone| zone_limit(zone, plantings, plants)).collect();
        Self { shelter, zones, limits, plantings }
    }

    /// Its usual build, with the usual cover of its kind on it or not.
    pub(crate) fn build(&self, covered: bool) -> ShelterBuild {
        let mut build = ShelterBuild::usual(self.shelter);
        if covered {
            build.covers = self.cover();
        }
        build
    }

    /// The usual cover of its kind; none where no cover goes on it.
    pub(crate) fn cover(&self) -> Vec<CoverOn> {
        let goes_on = self.shelter.has_cover;
        ShelterBuild::usual_cover(self.shelter.kind).into_iter().filter(|_| goes_on).collect()
    }

    /// The thermostat setting that its plants need.
    pub(crate) fn needed(&self) -> Option<SetPoint> {
        let zones: Vec<_> = self
            .zones
            .iter()
            .zip(&self.limits)
            .map(|(zone, limit)| {
                (zone.offset_k, limit.as_ref().map(|limit| limit.limit_c + SETTING_MARGIN_K))
            })
            .collect();
        SetPoint::keeping(&zones)
    }

    /// The setting that keeps what the grower means to keep.
    pub(crate) fn meant(&self) -> Option<SetPoint> {
        let zones: Vec<_> = self.zones.iter().map(|zone| (zone.offset_k, zone.kept_above_c)).collect();
        SetPoint::keeping(&zones)
    }

    /// Whether the marks of a season say that the winter cover is on.
    pub(crate) fn is_ticked_covered(&self, marks: &[Mark]) -> bool {
        self.shelter.has_cover && self.last_done(marks, "on") > self.last_done(marks, "off")
    }

    /// The day on which covering or uncovering was last done, in the order of days.
    fn last_done(&self, marks: &[Mark], which: &str) -> Option<NaiveDate> {
        let is_here = |key: &str| {
            let Some((rule, target)) = key.split_once('/') else { return false };
            let of_shelter = target == self.shelter.id;
            match (which, rule) {
                ("on", "close-up-cover-on") | ("off", "uncover-off") => of_shelter,
                ("on", "wrap-cover") => self.plantings.iter().any(|planting| {
                    planting.id == target
                        && self.zones.iter().any(|zone| planting.zone_id.as_ref() == Some(&zone.id))
                }),
                _ => false,
            }
        };
        marks
            .iter()
            .filter(|mark| is_here(&mark.chore_key))
            .filter_map(|mark| match &mark.kind {
                MarkKind::Done { on } => Some(*on),
                MarkKind::Skipped { .. } | MarkKind::Moved { .. } => None,
            })
            .max()
    }
}

/// The warmest winter limit of the plantings in a zone.
fn zone_limit(zone: &Zone, plantings: &[Planting], plants: &PlantCatalogue) -> Option<ZoneLimitSet> {
    plantings
        .iter()
        .filter(|planting| planting.zone_id.as_ref() == Some(&zone.id))
        .filter_map(|planting| Some((planting, plants.get(&planting.plant_key)?)))
        .map(|(planting, plant)| (planting, planting.winter_limit_c(plant)))
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(planting, limit_c)| ZoneLimitSet {
            limit_c,
            planting_id: planting.id.clone(),
            label: planting.label.clone(),
            is_own: planting.own_limit_c.is_some(),
        })
}

/// Whether a planting can be carried to another zone for a night.
pub(crate) fn can_move(planting: &Planting) -> bool {
    matches!(planting.container, Container::Pot { .. } | Container::Lifted)
}
