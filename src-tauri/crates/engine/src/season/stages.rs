//! Stages of plantings through the season, as the climate lets expect them.
//!
//! A simple rule, not a model of growth (thresholds: values from memory):
//! - **Hardening** begins when the median night low of autumn falls to 7 °C: growth stops.
//! - **Dormant**: deciduous plants drop their leaves with the first night at or below −2.2 °C (median year);
//!   herbaceous plants and tubers are cut down by the first at or below 0 °C; evergreens and succulents come to
//!   rest when the median night low falls to 2 °C. Where the climate has no such night, six weeks after growth
//!   stopped.
//! - **Waking** begins five weeks before the median last night at or below 0 °C for plants in a shelter (bud
//!   swell is usual four to six weeks before it) and two weeks before it in open ground.
//! - **Growing** begins four weeks later, when leaves are a finger's breadth long.
//! - **Out**: plants that are moved go out when no more than one night in ten comes down to their move-out limit.
//!
//! A plant that winters above its base temperature of growth (12 °C where unknown) never rests: it is growing
//! from the day it is brought in. Where no autumn night is that cold, plants do not rest at all.

use chrono::{Days, NaiveDate};

use super::climate_dates::ClimateDates;
use super::scene::{Scene, Stand};
use super::{Event, Season, Stage, StageSpan, Trend};
use crate::climate::SeasonDay;
use crate::plant::{Container, Habit};
use crate::site::Hemisphere;

/// Median night low at which growth stops, °C: value from memory.
const GROWTH_STOPS_C: f64 = 7.0;
/// Median night low at which evergreens come to rest, °C: value from memory.
const REST_C: f64 = 2.0;
/// Night that brings down the leaves of deciduous plants, °C.
const LEAF_FALL_C: f64 = -2.2;
/// Base temperature of growth where the catalogue has none, °C: value from memory.
const USUAL_BASE_C: f64 = 12.0;
/// Chance of a single night at the move-out limit that is borne.
const OUT_CHANCE: f64 = 0.1;
/// Chance at which brought-in plants are expected to be inside.
const IN_CHANCE: f64 = 0.2;

/// First days of the stages of one planting, in order; the last stage lasts to the end of the season.
pub(super) struct Stages {
    starts: Vec<(Stage, NaiveDate)>,
    /// How many of the first carry the growth of the summer on: nothing starts with them.
    carried_over: usize,
}

impl Stages {
    /// First day of a stage that begins in this season.
    pub(super) fn start(&self, stage: Stage) -> Option<NaiveDate> {
        self.starts.iter().skip(self.carried_over).find(|(found, _)| *found == stage).map(|&(_, date)| date)
    }

    /// The stages as spans.
    pub(super) fn spans(&self, planting_id: &str, season: &Season) -> Vec<StageSpan> {
        let ends = self.starts.iter().skip(1).map(|&(_, next)| next - Days::new(1));
        self.starts
            .iter()
            .zip(ends.chain(std::iter::once(season.ends_on)))
            .map(|(&(stage, from), to)| StageSpan { planting_id: planting_id.to_owned(), stage, from, to })
            .collect()
    }
}

/// The stages of every stand of a scene.
pub(super) fn stages(scene: &Scene<'_>, dates: &ClimateDates<'_>) -> Vec<Stages> {
    let hemisphere = scene.input.site.hemisphere();
    scene.stands.iter().map(|stand| of_stand(stand, scene.input.season, hemisphere, dates)).collect()
}

fn of_stand(stand: &Stand<'_>, season: &Season, hemisphere: Hemisphere, dates: &ClimateDates<'_>) -> Stages {
    let on = |day: SeasonDay| day.date(season.start_year, hemisphere);
    let plant = stand.plant;
    let in_ground = stand.planting.container == Container::Ground;
    let summer = if in_ground { Stage::Growing } else { Stage::Out };
    let mut starts = vec![(summer, season.starts_on)];
    let mut carried_over = 1;
    let mut add = |stage, date: Option<NaiveDate>| {
        let Some(date) = date.filter(|date| *date <= season.ends_on) else { return };
        if starts.last().is_some_and(|&(_, last)| date > last) {
            starts.push((stage, date));
        }
    };

    let stops = dates.low(Trend::Falling, GROWTH_STOPS_C, 0.5).map(on);
    let never_rests = !in_ground
        && stand.zone.is_some()
        && plant.store_low_c >= plant.growth_base_c.unwrap_or(USUAL_BASE_C);
    if never_rests {
        add(Stage::Growing, dates.low(Trend::Falling, plant.move_in_at_c, IN_CHANCE).map(on));
        carried_over = 2;
    } else if let Some(stops) = stops {
        let rests = match plant.habit {
            Habit::Deciduous => dates.freeze(Event::FirstAutumn, LEAF_FALL_C, 0.5),
            Habit::Herbaceous | Habit::Tuber => dates.freeze(Event::FirstAutumn, 0.0, 0.5),
            Habit::Evergreen | Habit::SemiEvergreen | Habit::Succulent => {
                dates.low(Trend::Falling, REST_C, 0.5)
            }
        };
        let rests = rests.map_or(stops + Days::new(42), on).max(stops + Days::new(1));
        let last_freeze = dates.freeze(Event::LastSpring, 0.0, 0.5).map(on);
        let wakes = last_freeze.map(|last| last - Days::new(if in_ground { 14 } else { 35 }));
        add(Stage::Hardening, Some(stops));
        add(Stage::Dormant, Some(rests));
        add(Stage::Waking, wakes);
        add(Stage::Growing, wakes.map(|wakes| wakes + Days::new(28)));
    }
    let out = dates.low(Trend::Rising, plant.move_out_above_c, OUT_CHANCE).map(on);
    if let Some(out) = out.filter(|out| !in_ground && *out > season.starts_on) {
        // A hardy plant goes out before it would have woken inside.
        starts.retain(|&(_, from)| from < out);
        starts.push((Stage::Out, out));
    }
    Stages { starts, carried_over }
}
