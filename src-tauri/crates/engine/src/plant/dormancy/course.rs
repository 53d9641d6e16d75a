//! A planting's winter day by day: how hardy it is, what it can stand, when it wakes.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::limit::{Limits, limits};
use super::run::{GROWING_BELOW, Lean, Run, RunDay};
use super::temps::TempsProblem;
use super::zone_days::ZoneSeason;
use super::{Acclimation, Acclimations, Cultivar, Cultivars, Sign, SignSeen, check_signs};
use crate::field::FieldError;
use crate::plant::chill::Chill;
use crate::plant::{Container, Plant};

/// What is known of a planting on the first day of the temperatures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Start {
    /// It was still growing: the record begins before autumn's cold.
    Growing,
    /// Not known: the record begins in winter. The doubt starts as wide as it can be.
    Unknown,
}

/// The tables that a course is computed from.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HardinessTables {
    /// Cultivars with published figures.
    pub cultivars: Cultivars,
    /// Forms for all other plants.
    pub acclimations: Acclimations,
}

impl HardinessTables {
    /// The tables that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in tables.
    pub fn built_in() -> Result<Self, crate::table::TableError> {
        Ok(Self { cultivars: Cultivars::built_in()?, acclimations: Acclimations::built_in()? })
    }
}

/// A planting whose winter is to be computed.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// What it stands and needs.
    pub plant: &'a Plant,
    /// The grower's label, in which a cultivar may be named.
    pub label: &'a str,
    /// What the roots are in.
    pub container: Container,
    /// A limit in °C set by the grower.
    pub own_limit_c: Option<f64>,
    /// How it stood on the first day.
    pub start: Start,
    /// What the grower saw in this winter.
    pub signs: &'a [SignSeen],
}

/// Where a planting stands between growing and growing again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Phase {
    /// In soft growth.
    Growing,
    /// Gaining hardiness.
    Hardening,
    /// Held at rest from within: warmth does not wake it yet.
    DeepRest,
    /// Held at rest by cold alone: warmth wakes it.
    LightRest,
    /// Buds swell: the in-leaf limit holds from here on.
    Swelling,
    /// Leaves or new shoots are out.
    InLeaf,
}

/// A day of a course.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CourseDay {
    /// Its date.
    pub date: NaiveDate,
    /// Lowest temperature of the zone in °C.
    pub zone_min_c: f64,
    /// Mean temperature of the zone in °C.
    pub zone_mean_c: f64,
    /// Highest temperature of the zone in °C.
    pub zone_max_c: f64,
    /// Mean temperature at the roots in °C.
    pub root_mean_c: f64,
    /// Phase as expected.
    pub phase: Phase,
    /// Phase at the tender end of the doubt.
    pub phase_at_most: Phase,
    /// Chill since hardening began.
    pub chill: Chill,
    /// Heat in growing degree hours since the chill need was met.
    pub heat_gdh: f64,
    pub(super) runs: [RunDay; 3],
}

impl CourseDay {
    /// Share of hardiness of the shoots as expected, 0 soft to 1 fully hardened.
    pub fn hardiness(&self) -> f64 {
        self.runs[1].share
    }

    /// Share of hardiness of the roots as expected.
    pub fn root_hardiness(&self) -> f64 {
        self.runs[1].roots
    }
}

/// Something about a course that a grower should know before trusting it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum CourseProblem {
    /// Temperatures were left out or assumed.
    Temps {
        /// What.
        problem: TempsProblem,
    },
    /// The record begins in winter, so what was before is not known.
    BeginsLate {
        /// First day.
        from: NaiveDate,
    },
    /// No figures exist for the species; the declared form was used.
    GenericForm {
        /// Key of the form.
        form: String,
        /// Factor by which its rates may be off.
        doubt: f64,
    },
    /// The label names no cultivar: the figures span all cultivars of the species.
    CultivarUnknown {
        /// How many.
        cultivars: u32,
    },
}

/// A planting's winter.
#[derive(Debug, Clone, PartialEq)]
pub struct Course<'a> {
    pub(super) subject_plant: &'a Plant,
    pub(super) container: Container,
    pub(super) own_limit_c: Option<f64>,
    pub(super) form: &'a Acclimation,
    pub(super) cultivars: Vec<&'a Cultivar>,
    pub(super) roots_measured: bool,
    /// One entry per day.
    pub days: Vec<CourseDay>,
    /// What to know before trusting it.
    pub problems: Vec<CourseProblem>,
}

impl<'a> Course<'a> {
    /// Computes the winter of a planting in a zone.
    ///
    /// * `tables` — figures of cultivars and forms
    /// * `zone` — temperatures of the zone, worked out
    /// * `subject` — the planting
    ///
    /// # Errors
    /// Signs that contradict each other, or a habit for which the tables hold no form.
    pub fn of(
        tables: &'a HardinessTables,
        zone: &ZoneSeason<'_>,
        subject: &Subject<'a>,
    ) -> Result<Self, FieldError> {
        check_signs(subject.signs)?;
        let plant = subject.plant;
        let form = tables.acclimations.of(plant).ok_or_else(|| {
            let problem = format!("no row is for “{}” or its habit", plant.key);
            FieldError::new("habits", problem, "add a row with its habit to the table of forms")
        })?;
        let cultivars = tables.cultivars.of_planting(&plant.key, subject.label);
        let heat = zone.heat_gdh(form.heat_base_c(plant));
        let mut runs = Lean::ALL.map(|lean| Run::new(lean, plant, form, &cultivars, subject.start));
        let days = zone
            .days
            .iter()
            .zip(&heat)
            .map(|(day, heat)| {
                let [tender, middle, hardy] = &mut runs;
                let runs = [tender, middle, hardy].map(|run| run.add(day, heat, subject.signs));
                let leaves_fell = subject.signs.iter().any(|s| s.sign == Sign::LeafFall && s.on <= day.date);
                CourseDay {
                    date: day.date,
                    zone_min_c: day.min_c,
                    zone_mean_c: day.mean_c,
                    zone_max_c: day.max_c,
                    root_mean_c: day.root_mean_c,
                    phase: phase(&runs[1], leaves_fell),
                    phase_at_most: phase(&runs[0], leaves_fell),
                    chill: runs[1].chill,
                    heat_gdh: runs[1].heat_gdh,
                    runs,
                }
            })
            .collect();
        let mut problems: Vec<CourseProblem> = zone
            .temps
            .problems()
            .iter()
            .map(|problem| CourseProblem::Temps { problem: problem.clone() })
            .collect();
        if subject.start == Start::Unknown {
            problems.push(CourseProblem::BeginsLate { from: zone.temps.first_day() });
        }
        match cultivars.len() {
            0 => problems.push(CourseProblem::GenericForm { form: form.key.clone(), doubt: form.doubt }),
            1 => {}
            count => problems.push(CourseProblem::CultivarUnknown { cultivars: count as u32 }),
        }
        Ok(Self {
            subject_plant: plant,
            container: subject.container,
            own_limit_c: subject.own_limit_c,
            form,
            cultivars,
            roots_measured: zone.roots_measured,
            days,
            problems,
        })
    }

    /// The day of a date.
    pub fn day(&self, date: NaiveDate) -> Option<&CourseDay> {
        let first = self.days.first()?.date;
        self.days.get(usize::try_from((date - first).num_days()).ok()?)
    }

    /// What the planting stands in the night that follows a date; `None` outside the temperatures.
    pub fn limits_on(&self, date: NaiveDate) -> Option<Limits> {
        self.day(date).map(|day| limits(self, day))
    }

    /// Days on which buds are expected to swell: earliest, expected, latest, as far as the temperatures go.
    pub fn swell_on(&self) -> [Option<NaiveDate>; 3] {
        self.days.last().map_or([None; 3], |day| day.runs.map(|run| run.swell_on))
    }

    /// Days on which buds are expected to open or new shoots to show: earliest, expected, latest.
    pub fn leaf_on(&self) -> [Option<NaiveDate>; 3] {
        self.days.last().map_or([None; 3], |day| day.runs.map(|run| run.leaf_on))
    }
}

fn phase(run: &RunDay, leaves_fell: bool) -> Phase {
    if run.leaf_on.is_some() {
        Phase::InLeaf
    } else if run.swell_on.is_some() {
        Phase::Swelling
    } else if run.rested {
        Phase::LightRest
    } else if run.share >= super::run::AT_REST_FROM {
        Phase::DeepRest
    } else if run.share >= GROWING_BELOW || leaves_fell {
        Phase::Hardening
    } else {
        Phase::Growing
    }
}

#[cfg(test)]
#[path = "course_test.rs"]
mod tests;
