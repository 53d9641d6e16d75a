//! When to look at a pot again, how much to give, and what speaks against watering now.

use chrono::{Days, NaiveDate};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use ts_rs::TS;

use super::balance::{Balance, FROZEN_BELOW_C, PotStore};
use super::day::{AirDay, UsualAir};
use super::{DryingFactor, Leaves, PottedPlant, Watering, pot_mass_kg};
use crate::plant::WaterClass;

/// Zone low in °C of a hard freeze (28 °F, US National Weather Service): no watering into it.
pub const HARD_FREEZE_C: f64 = -2.2;
/// Days that a watering wants before a hard freeze: water well one to two days before (UMass Extension, overwintering
/// container-grown ornamentals).
const DAYS_BEFORE_FREEZE: usize = 2;
/// Days looked ahead.
const LONGEST_LOOK_DAYS: usize = 120;
/// Days in a row of frozen roots under leaves that are worth a warning: value from memory.
const FROZEN_WARN_DAYS: u32 = 2;
/// Solar radiation in MJ/(m² d) in which leaves lose water over frozen roots: value from memory.
const SUNNY_MJ_PER_M2: f64 = 1.0;
/// Factor of loss from which a heater's stream is worth a warning: value from memory.
const BLAST_WARN: f64 = 1.5;

impl WaterClass {
    /// Share of the available water that may be used before it is watered, and share left lacking after: from memory.
    fn shares(self) -> (f64, f64) {
        match self {
            Self::Dry => (0.95, 0.5),
            Self::Sparing => (0.6, 0.3),
            Self::Moderate => (0.5, 0.1),
            Self::Moist => (0.35, 0.0),
        }
    }
}

/// Longest days between two looks, by leaves and mean temperature: practice, values from memory.
fn longest_days(leaves: Leaves, mean_c: f64) -> u64 {
    match leaves {
        Leaves::None if mean_c <= 7.0 => 42,
        Leaves::None if mean_c <= 12.0 => 28,
        Leaves::None => 14,
        Leaves::Leafy if mean_c <= 7.0 => 21,
        Leaves::Leafy if mean_c <= 12.0 => 14,
        Leaves::Leafy => 7,
        Leaves::Succulent if mean_c < 10.0 => 60,
        Leaves::Succulent => 21,
    }
}

/// Everything that an advice is computed from.
#[derive(Debug, Clone, Copy)]
pub struct AdviceInput<'a> {
    /// The planting.
    pub plant: &'a PottedPlant<'a>,
    /// Air of its zone up to yesterday, in order.
    pub past: &'a [AirDay],
    /// Air expected from today on, in order; after its end the mean of its last week, or of the past's, goes on.
    pub outlook: &'a [AirDay],
    /// What stands in for humidity and light not measured.
    pub usual: UsualAir,
    /// The log of the planting, in any order.
    pub log: &'a [Watering],
    /// Its drying factor.
    pub factor: DryingFactor,
    /// Today.
    pub today: NaiveDate,
}

/// Why no advice can be given.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum AdviceError {
    /// Neither past nor outlook.
    #[error("the zone has no temperatures; import its log or simulate it")]
    NoAir,
    /// An entry of the log lies in the future.
    #[error("the log holds a watering on {on}, after today ({today}); correct its date")]
    FutureWatering {
        /// Its day.
        on: NaiveDate,
        /// Today.
        today: NaiveDate,
    },
}

/// Something that was assumed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum WaterProblem {
    /// No entry tells how full the pot was; half of what it may use was taken as used at the first day.
    StartAssumed {
        /// First day of the balance.
        from: NaiveDate,
    },
    /// Humidity was not measured.
    HumidityAssumed {
        /// Days concerned.
        days: u32,
        /// What was taken, 0 to 1.
        relative_humidity: f64,
    },
    /// Light was not measured.
    LightAssumed {
        /// Days concerned.
        days: u32,
        /// What was taken, MJ/(m² d).
        light_mj_per_m2: f64,
    },
    /// Days of the past without air; the mean of the days around stands in.
    DaysAssumed {
        /// Days concerned.
        days: u32,
    },
}

/// Something that harms the planting's water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum WaterWarning {
    /// Leaves in the light over a frozen root ball: they dry out. Shade them and thaw the ball slowly.
    FrozenRoots {
        /// First frozen day.
        from: NaiveDate,
        /// Frozen days in a row.
        days: u32,
        /// Litres the leaves asked for in vain.
        refused_l: f64,
    },
    /// The heater's stream dries it; move it or turn the heater.
    HeaterBlast {
        /// Times the loss outside the stream.
        times: f64,
    },
    /// The pot is past its time and a hard freeze comes: a dry ball loses its roots. Water by noon, well before it.
    DryBeforeFreeze {
        /// First day of the hard freeze.
        freeze_on: NaiveDate,
    },
}

/// Reason to wait with watering.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Hold {
    /// A hard freeze stands before the door.
    HardFreeze {
        /// Its first day.
        from: NaiveDate,
        /// Its zone low in °C.
        low_c: f64,
        /// First day on which watering is safe again, where the outlook reaches that far.
        until: Option<NaiveDate>,
    },
    /// The root ball is frozen: water would only turn to ice on it.
    FrozenBall {
        /// First day on which it is expected to be thawed.
        until: Option<NaiveDate>,
    },
}

/// When to look at a planting again and what to give. Check by weight or finger first, always.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WaterAdvice {
    /// Day to look: the expected one, or the end of the longest interval that practice allows.
    pub check_on: NaiveDate,
    /// The day if it dries as fast as the doubt allows.
    pub earliest: NaiveDate,
    /// The day by which it must be looked at.
    pub latest: NaiveDate,
    /// Whether the longest interval of practice set the day, not the computed drying.
    pub by_practice: bool,
    /// Litres for each plant on that day; 0 when it should still be moist.
    pub amount_l: f64,
    /// Litres if it dried slowly, and if it dried fast.
    pub amount_between_l: (f64, f64),
    /// Share of the available water used today, 0 to 1.
    pub used_share: f64,
    /// Mean loss of the coming week in L/d.
    pub loss_l_per_day: f64,
    /// Litres of available water in a full pot.
    pub available_l: f64,
    /// Weight of pot and medium in kg when full, and when it is time to water; the plant comes on top.
    pub weight_kg: (f64, f64),
    /// What speaks against watering on the day.
    pub hold: Option<Hold>,
    /// What harms the planting's water.
    pub warnings: Vec<WaterWarning>,
    /// The drying factor used.
    pub factor: DryingFactor,
    /// What was assumed.
    pub problems: Vec<WaterProblem>,
}

/// Litres of the thorough watering before close-up, for each plant: what the pot lacks, and a tenth of its volume that
/// runs through. Give it one to two days before the cover goes on and let the leaves dry (UMass Extension).
///
/// * `used_share` — share of the available water used, [`WaterAdvice::used_share`]
pub fn before_close_up_l(plant: &PottedPlant<'_>, used_share: f64) -> f64 {
    PotStore::of(plant).available_l * used_share.clamp(0.0, 1.0) + 0.1 * plant.volume_l
}

/// The air of every day from the first of the past on, gaps filled with the day before.
struct Timeline {
    days: Vec<AirDay>,
    today: usize,
    assumed: u32,
}

impl Timeline {
    fn of(input: &AdviceInput<'_>) -> Result<Self, AdviceError> {
        let known = input.past.iter().filter(|day| day.date < input.today).chain(input.outlook);
        let known: std::collections::BTreeMap<NaiveDate, AirDay> =
            known.map(|day| (day.date, *day)).collect();
        let (Some((&first, first_day)), Some((&last, _))) = (known.first_key_value(), known.last_key_value())
        else {
            return Err(AdviceError::NoAir);
        };
        let first = first.min(input.today);
        let mut before = *first_day;
        let mut days = Vec::new();
        let mut assumed = 0;
        for date in first.iter_days().take_while(|date| *date <= last.max(input.today)) {
            let day = known.get(&date).copied();
            assumed += u32::from(day.is_none() && date < input.today);
            before = day.unwrap_or(AirDay { date, ..before });
            days.push(before);
        }
        let week = mean_day(&days[days.len().saturating_sub(7)..]);
        let today = (input.today - first).num_days() as usize;
        while days.len() < today + LONGEST_LOOK_DAYS {
            let date = first + Days::new(days.len() as u64);
            days.push(AirDay { date, ..week });
        }
        Ok(Self { days, today, assumed })
    }
}

fn mean_day(days: &[AirDay]) -> AirDay {
    let mean = |of: fn(&AirDay) -> f64| days.iter().map(of).sum::<f64>() / days.len() as f64;
    let mean_of = |of: fn(&AirDay) -> Option<f64>| {
        let known: Vec<f64> = days.iter().filter_map(of).collect();
        (!known.is_empty()).then(|| known.iter().sum::<f64>() / known.len() as f64)
    };
    AirDay {
        date: days[days.len() - 1].date,
        min_c: mean(|day| day.min_c),
        mean_c: mean(|day| day.mean_c),
        max_c: mean(|day| day.max_c),
        root_mean_c: mean(|day| day.root_mean_c),
        relative_humidity: mean_of(|day| day.relative_humidity),
        light_mj_per_m2: mean_of(|day| day.light_mj_per_m2),
        heater_share: mean(|day| day.heater_share),
        is_stirred: days.iter().filter(|day| day.is_stirred).count() * 2 > days.len(),
    }
}

/// One run of the balance through past and future.
struct Course {
    used_today_l: f64,
    due: Option<usize>,
    used_l: Vec<f64>,
    lost_l: Vec<f64>,
    refused_l: Vec<f64>,
}

fn run(input: &AdviceInput<'_>, timeline: &Timeline, store: &PotStore, factor: f64, start_l: f64) -> Course {
    let trigger_l = input.plant.wants.shares().0 * store.available_l;
    let mut balance = Balance::lacking(start_l, store);
    let mut course =
        Course { used_today_l: start_l, due: None, used_l: vec![], lost_l: vec![], refused_l: vec![] };
    for (index, day) in timeline.days.iter().enumerate() {
        for entry in input.log.iter().filter(|entry| entry.on == day.date) {
            if let Some(felt_l) = entry.felt_l(store.available_l) {
                balance.used_l = felt_l;
            }
            balance.water(entry.amount_l, entry.ran_through, store);
        }
        if index == timeline.today {
            course.used_today_l = balance.used_l;
        }
        if index >= timeline.today && course.due.is_none() && balance.used_l >= trigger_l {
            course.due = Some(index - timeline.today);
        }
        course.used_l.push(balance.used_l);
        let loss = balance.dry(input.plant, store, day, input.usual, factor);
        course.lost_l.push(loss.lost_l());
        course.refused_l.push(loss.refused_l);
    }
    course
}

impl Watering {
    /// Litres lacking by the finger.
    fn felt_l(&self, available_l: f64) -> Option<f64> {
        self.felt.map(|felt| felt.used_share().0 * available_l)
    }
}

/// Advises when to look at a planting and what to give.
///
/// The balance runs three times: with the factor as learnt and with either end of its interval.
///
/// # Errors
/// [`AdviceError`] without any air, or with a watering in the future.
pub fn advise(input: &AdviceInput<'_>) -> Result<WaterAdvice, AdviceError> {
    if let Some(entry) = input.log.iter().find(|entry| entry.on > input.today) {
        return Err(AdviceError::FutureWatering { on: entry.on, today: input.today });
    }
    let timeline = Timeline::of(input)?;
    let store = PotStore::of(input.plant);
    let mut problems = assumed_problems(input, &timeline);
    let first = timeline.days[0].date;
    let told = input.log.iter().any(|entry| entry.on >= first && (entry.ran_through || entry.felt.is_some()));
    let (trigger, after) = input.plant.wants.shares();
    let start_l = if told { 0.0 } else { 0.5 * trigger * store.available_l };
    if !told {
        problems.push(WaterProblem::StartAssumed { from: first });
    }
    let (low, high) = input.factor.between;
    let [slow, middle, fast] =
        [low, input.factor.factor, high].map(|factor| run(input, &timeline, &store, factor, start_l));

    let coming = &timeline.days[timeline.today..timeline.today + 14];
    let longest = longest_days(input.plant.leaves, mean_day(coming).mean_c);
    let last_look =
        input.log.iter().map(|entry| entry.on).max().unwrap_or(first.max(input.today - Days::new(14)));
    let by_practice_on = (last_look + Days::new(longest)).max(input.today);
    let on = |course: &Course| {
        course.due.map_or(by_practice_on, |days| (input.today + Days::new(days as u64)).min(by_practice_on))
    };
    let check_on = on(&middle);
    let at = timeline.today + (check_on - input.today).num_days() as usize;
    let amount = |course: &Course| (course.used_l[at] - after * store.available_l).max(0.0);
    let medium = input.plant.medium;
    let weight = |used_share: f64| {
        let water = medium.capacity - used_share * medium.available();
        pot_mass_kg(input.plant.volume_l, medium, water, input.plant.is_clay)
    };
    let week = timeline.today..timeline.today + 7;
    let past_due = middle.used_l[timeline.today] >= trigger * store.available_l;
    Ok(WaterAdvice {
        check_on,
        earliest: on(&fast),
        latest: on(&slow),
        by_practice: middle.due.is_none_or(|days| input.today + Days::new(days as u64) > by_practice_on),
        amount_l: amount(&middle),
        amount_between_l: (amount(&slow), amount(&fast)),
        used_share: middle.used_today_l / store.available_l,
        loss_l_per_day: middle.lost_l[week].iter().sum::<f64>() / 7.0,
        available_l: store.available_l,
        weight_kg: (weight(0.0), weight(trigger)),
        hold: hold(&timeline, at),
        warnings: warnings(input, &timeline, &store, &middle, past_due),
        factor: input.factor,
        problems,
    })
}

fn assumed_problems(input: &AdviceInput<'_>, timeline: &Timeline) -> Vec<WaterProblem> {
    let past = &timeline.days[..timeline.today.min(timeline.days.len())];
    let without = |of: fn(&AirDay) -> bool| past.iter().filter(|day| of(day)).count() as u32;
    let mut problems = Vec::new();
    let days = without(|day| day.relative_humidity.is_none());
    if days > 0 {
        problems
            .push(WaterProblem::HumidityAssumed { days, relative_humidity: input.usual.relative_humidity });
    }
    let days = without(|day| day.light_mj_per_m2.is_none());
    if days > 0 {
        problems.push(WaterProblem::LightAssumed { days, light_mj_per_m2: input.usual.light_mj_per_m2 });
    }
    if timeline.assumed > 0 {
        problems.push(WaterProblem::DaysAssumed { days: timeline.assumed });
    }
    problems
}

/// What speaks against watering on a day of the timeline.
fn hold(timeline: &Timeline, at: usize) -> Option<Hold> {
    let days = &timeline.days;
    let safe = |index: usize| {
        days[index..days.len().min(index + DAYS_BEFORE_FREEZE)].iter().all(|day| day.min_c > HARD_FREEZE_C)
            && days[index].root_mean_c >= FROZEN_BELOW_C
    };
    let until = || (at..days.len()).find(|&index| safe(index)).map(|index| days[index].date);
    if days[at].root_mean_c < FROZEN_BELOW_C {
        return Some(Hold::FrozenBall { until: until() });
    }
    let freeze =
        days[at..days.len().min(at + DAYS_BEFORE_FREEZE)].iter().find(|day| day.min_c <= HARD_FREEZE_C)?;
    Some(Hold::HardFreeze { from: freeze.date, low_c: freeze.min_c, until: until() })
}

fn warnings(
    input: &AdviceInput<'_>,
    timeline: &Timeline,
    store: &PotStore,
    course: &Course,
    past_due: bool,
) -> Vec<WaterWarning> {
    let mut warnings = Vec::new();
    let soon = timeline.today.saturating_sub(7)..timeline.today + 7;
    if input.plant.leaves == Leaves::Leafy {
        warnings.extend(frozen_roots(input, timeline, course, soon));
    }
    let day = &timeline.days[timeline.today];
    if input.plant.in_heater_blast && day.heater_share > 0.0 {
        let loss = |in_heater_blast: bool| {
            let plant = PottedPlant { in_heater_blast, ..*input.plant };
            Balance::lacking(0.0, store).dry(&plant, store, day, input.usual, 1.0).lost_l()
        };
        let times = loss(true) / loss(false).max(1e-6);
        if times >= BLAST_WARN {
            warnings.push(WaterWarning::HeaterBlast { times });
        }
    }
    let ahead = &timeline.days[timeline.today + 1..timeline.today + 7];
    if let Some(freeze) = ahead.iter().find(|day| day.min_c <= HARD_FREEZE_C)
        && past_due
    {
        warnings.push(WaterWarning::DryBeforeFreeze { freeze_on: freeze.date });
    }
    warnings
}

/// The longest run of days with leaves in the light over frozen roots.
fn frozen_roots(
    input: &AdviceInput<'_>,
    timeline: &Timeline,
    course: &Course,
    span: std::ops::Range<usize>,
) -> Option<WaterWarning> {
    let is_frozen = |index: &usize| {
        let day = &timeline.days[*index];
        let light = day.light_mj_per_m2.unwrap_or(input.usual.light_mj_per_m2);
        day.root_mean_c < FROZEN_BELOW_C && light >= SUNNY_MJ_PER_M2
    };
    let mut longest: Option<(usize, u32)> = None;
    let mut index = span.start;
    while index < span.end {
        let count = (index..span.end).take_while(is_frozen).count() as u32;
        if count >= FROZEN_WARN_DAYS && longest.is_none_or(|(_, best)| count > best) {
            longest = Some((index, count));
        }
        index += count as usize + 1;
    }
    let (from, days) = longest?;
    let refused_l = course.refused_l[from..from + days as usize].iter().sum();
    Some(WaterWarning::FrozenRoots { from: timeline.days[from].date, days, refused_l })
}
