//! A shelter with what stands in it, as the heat model takes it.

use chrono::NaiveDate;
use hibernacle_contract::night::ZoneLimitSet;
use hibernacle_engine::plant::{Container, PlantCatalogue, Planting};
use hibernacle_engine::season::{Figure, Mark, MarkKind, Reason};
use hibernacle_engine::shelter::tonight::{SETTING_MARGIN_K, SetPoint};
use hibernacle_engine::shelter::{CoverOn, Materials, Shelter, ShelterBuild, Zone};
use hibernacle_store::Reader;

use crate::heat::{Heat, Prices};
use crate::problem::Problem;
use crate::{Context, plants};

/// The records of a site that its houses are made of.
pub(crate) struct SiteRecords {
    pub(crate) shelters: Vec<Shelter>,
    pub(crate) zones: Vec<Zone>,
    pub(crate) plantings: Vec<Planting>,
    pub(crate) plants: PlantCatalogue,
    pub(crate) prices: Prices,
    builds: Vec<ShelterBuild>,
    heaters: Vec<hibernacle_engine::shelter::Heater>,
}

impl SiteRecords {
    pub(crate) fn read(context: &Context, data: &Reader<'_>, site_id: &str) -> Result<Self, Problem> {
        Ok(Self {
            shelters: data.shelters(site_id)?,
            zones: data.zones(site_id)?,
            plantings: data.plantings(site_id)?,
            plants: plants::catalogue(context, data)?,
            prices: Prices::new(data.prices(site_id)?),
            builds: data.builds(site_id)?,
            heaters: data.heaters(site_id)?,
        })
    }

    /// Every shelter with what stands in it, in their order.
    pub(crate) fn houses(&self, materials: &Materials) -> Result<Vec<House<'_>>, Problem> {
        self.shelters.iter().map(|shelter| self.house(shelter, materials)).collect()
    }

    /// One of the shelters by its identifier.
    pub(crate) fn house_of(&self, shelter_id: &str, materials: &Materials) -> Result<House<'_>, Problem> {
        let shelter = self.shelters.iter().find(|shelter| shelter.id == shelter_id);
        self.house(shelter.ok_or_else(|| Problem::not_found("this shelter"))?, materials)
    }

    fn house<'a>(&'a self, shelter: &'a Shelter, materials: &Materials) -> Result<House<'a>, Problem> {
        let zones: Vec<Zone> =
            self.zones.iter().filter(|zone| zone.shelter_id == shelter.id).cloned().collect();
        let limits = zones.iter().map(|zone| zone_limit(zone, &self.plantings, &self.plants)).collect();
        let build = self.builds.iter().find(|build| build.shelter_id == shelter.id);
        let heaters = self.heaters.iter().filter(|heater| heater.shelter_id == shelter.id).cloned().collect();
        Ok(House {
            shelter,
            heat: Heat::of(shelter, heaters, &zones, materials)?,
            zones,
            limits,
            plantings: &self.plantings,
            is_usual_build: build.is_none(),
            recorded: build.cloned().unwrap_or_else(|| ShelterBuild::usual(shelter)),
        })
    }
}

/// A shelter with its zones, plantings, build and heaters.
pub(crate) struct House<'a> {
    pub(crate) shelter: &'a Shelter,
    pub(crate) zones: Vec<Zone>,
    /// The limit of every zone and whose it is.
    pub(crate) limits: Vec<Option<ZoneLimitSet>>,
    /// The plantings of the site.
    pub(crate) plantings: &'a [Planting],
    /// What heats it; absent where nothing does.
    pub(crate) heat: Option<Heat>,
    /// Whether nothing was entered of its build, so that the usual one of its kind counts.
    pub(crate) is_usual_build: bool,
    recorded: ShelterBuild,
}

impl House<'_> {
    /// Its build as recorded, with all covers and their dates.
    pub(crate) fn recorded(&self) -> &ShelterBuild {
        &self.recorded
    }

    /// Its build with these covers on, whatever the date.
    pub(crate) fn build(&self, covers: Vec<CoverOn>) -> ShelterBuild {
        let undated = covers.into_iter().map(|cover| CoverOn { from: None, to: None, ..cover });
        ShelterBuild { covers: undated.collect(), ..self.recorded.clone() }
    }

    /// The winter covers that go on it: those of its build, else the usual one of its kind; none where no cover goes
    /// on it.
    pub(crate) fn covers(&self) -> Vec<CoverOn> {
        if !self.recorded.covers.is_empty() {
            return self.recorded.covers.clone();
        }
        let goes_on = self.shelter.has_cover;
        ShelterBuild::usual_cover(self.shelter.kind).into_iter().filter(|_| goes_on).collect()
    }

    /// What was taken for its winter cover, where one goes on it and none is recorded.
    pub(crate) fn cover_assumed(&self, materials: &Materials) -> Option<Reason> {
        if !self.recorded.covers.is_empty() {
            return None;
        }
        let cover = self.covers().into_iter().next()?;
        let name = materials.covers.get(&cover.key).map_or(cover.key.as_str(), |cover| cover.name.as_str());
        let reason = Reason::new("night-assumed-cover-usual");
        let place = Figure::Text(self.shelter.name.clone());
        Some(reason.with("place", place).with("cover", Figure::Text(name.to_owned())))
    }

    /// The covers that are on at a date.
    ///
    /// * `asked` — whether they are all on, where the grower said so for this once
    /// * `marks` — the ticks of the season, which tell of covers without dates
    pub(crate) fn covers_on(&self, date: NaiveDate, asked: Option<bool>, marks: &[Mark]) -> Vec<CoverOn> {
        let is_ticked = self.is_ticked_covered(marks);
        let is_on = |cover: &CoverOn| match asked {
            Some(asked) => asked,
            None if is_by_ticks(self.shelter, cover) => is_ticked,
            None => cover.is_on(date),
        };
        self.covers().into_iter().filter(is_on).collect()
    }

    /// Whether the ticks of the plan tell which of its covers are on.
    pub(crate) fn goes_by_ticks(&self) -> bool {
        self.covers().iter().any(|cover| is_by_ticks(self.shelter, cover))
    }

    /// The warmth that its plants need, read in the zone that needs it most.
    pub(crate) fn needed_most(&self) -> Option<SetPoint> {
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

    /// The warmth that the grower means to keep, read in the zone that asks for most.
    pub(crate) fn meant_most(&self) -> Option<SetPoint> {
        let zones: Vec<_> = self.zones.iter().map(|zone| (zone.offset_k, zone.kept_above_c)).collect();
        SetPoint::keeping(&zones)
    }

    /// The setting that its plants need, as read where its thermostat's sensor hangs, or where it ought to.
    pub(crate) fn needed(&self) -> Option<SetPoint> {
        self.needed_most().map(|set| self.at_sensor(set))
    }

    /// The setting that keeps what the grower means to keep, read at the same place.
    pub(crate) fn meant(&self) -> Option<SetPoint> {
        self.meant_most().map(|set| self.at_sensor(set))
    }

    fn at_sensor(&self, set: SetPoint) -> SetPoint {
        let sensor = self.heat.as_ref().and_then(|heat| heat.sensor_zone);
        match sensor.and_then(|zone| Some((zone, self.zones.get(zone)?))) {
            Some((zone, record)) => set.read_in(zone, record.offset_k),
            None => set,
        }
    }

    /// The setting at which the thermostat stands; absent where none was entered.
    pub(crate) fn set(&self) -> Option<SetPoint> {
        let heat = self.heat.as_ref()?;
        let set_c = heat.set_c?;
        let zone = heat.sensor_zone.or_else(|| self.needed().map(|needed| needed.zone)).unwrap_or(0);
        Some(SetPoint { zone, set_c, air_c: set_c - self.zones.get(zone)?.offset_k })
    }

    /// The setting to reckon with: the thermostat's, or what the plants need where that is more.
    pub(crate) fn setting(&self) -> Option<SetPoint> {
        match (self.set(), self.needed()) {
            (Some(set), Some(needed)) if set.air_c < needed.air_c => Some(needed),
            (Some(set), _) => Some(set),
            (None, needed) => needed,
        }
    }

    /// Whether the marks of a season say that the winter cover is on.
    fn is_ticked_covered(&self, marks: &[Mark]) -> bool {
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

/// Whether the ticks of the plan tell if a cover is on: it has no dates, and the plan has its chores.
fn is_by_ticks(shelter: &Shelter, cover: &CoverOn) -> bool {
    shelter.has_cover && cover.from.is_none() && cover.to.is_none()
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
