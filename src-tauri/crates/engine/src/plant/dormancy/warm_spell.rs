//! Mild spells that wake plants, and what to do about them.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::course::{Course, CourseDay, Phase};

/// Day mean in °C above which a plant whose chill need is met moves towards waking: a planner's rule (value from memory),
/// or the plant's own softening temperature where that is higher.
const WAKING_MEAN_C: f64 = 10.0;
/// Such days after which to warn; olive softens in part in six days above 16 °C (Italian olive growers' page).
const WARN_AFTER_DAYS: u32 = 6;
/// Days without one after which a spell is over.
const SPELL_BREAK_DAYS: i64 = 3;
/// Daily range in K from which the sun is what warms the zone: value from memory.
const SUNNY_RANGE_K: f64 = 8.0;
/// Night low in °C from which the nights themselves are too warm for rest (dormant stock is kept below 8 °C): from memory.
const WARM_NIGHT_C: f64 = 8.0;

/// What cools a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Cooling {
    /// Open vents and doors by day, close before the sun leaves.
    Vent,
    /// Shade the glass.
    Shade,
    /// Set the heater lower.
    LowerHeat,
    /// Carry the planting to a cooler place that it stands.
    MoveCooler,
}

/// A mild spell that brings a planting towards waking.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WarmSpell {
    /// First warm day.
    pub from: NaiveDate,
    /// Last warm day.
    pub to: NaiveDate,
    /// Warm days in it.
    pub days: u32,
    /// Their mean in °C.
    pub mean_c: f64,
    /// The mean that counts as warm for this planting, °C.
    pub warm_above_c: f64,
    /// Hardiness of the shoots before and after, 0 soft to 1 fully hardened.
    pub hardiness: (f64, f64),
    /// Whether it was enough to warn.
    pub warn: bool,
    /// What to do, most useful first; empty once the planting has woken.
    pub advice: Vec<Cooling>,
}

impl Course<'_> {
    /// Mild spells while the planting rested lightly, in order.
    pub fn warm_spells(&self) -> Vec<WarmSpell> {
        let plant = self.subject_plant;
        let warm_above_c = WAKING_MEAN_C.max(self.form.softens_above_c(plant));
        let mut spells: Vec<Vec<usize>> = Vec::new();
        for (index, day) in self.days.iter().enumerate() {
            let warm = day.phase == Phase::LightRest && day.zone_mean_c > warm_above_c;
            if !warm {
                continue;
            }
            let goes_on = spells
                .last()
                .and_then(|spell| spell.last())
                .is_some_and(|&last| (day.date - self.days[last].date).num_days() <= SPELL_BREAK_DAYS);
            match spells.last_mut() {
                Some(spell) if goes_on => spell.push(index),
                _ => spells.push(vec![index]),
            }
        }
        spells.iter().map(|spell| self.spell(spell, warm_above_c)).collect()
    }

    fn spell(&self, warm: &[usize], warm_above_c: f64) -> WarmSpell {
        let (first, last) = (warm[0], warm[warm.len() - 1]);
        let days: Vec<&CourseDay> = warm.iter().map(|&index| &self.days[index]).collect();
        let mean =
            |of: fn(&CourseDay) -> f64| days.iter().map(|day| of(day)).sum::<f64>() / days.len() as f64;
        let range_k = mean(|day| day.zone_max_c - day.zone_min_c);
        let night_c = mean(|day| day.zone_min_c);
        let mut advice = Vec::new();
        if self.days[last].phase < Phase::Swelling {
            if range_k >= SUNNY_RANGE_K {
                advice.extend([Cooling::Vent, Cooling::Shade]);
            }
            if night_c >= WARM_NIGHT_C {
                advice.extend([Cooling::LowerHeat, Cooling::MoveCooler]);
            }
            if advice.is_empty() {
                advice.extend([Cooling::Vent, Cooling::MoveCooler]);
            }
        }
        WarmSpell {
            from: self.days[first].date,
            to: self.days[last].date,
            days: warm.len() as u32,
            mean_c: mean(|day| day.zone_mean_c),
            warm_above_c,
            hardiness: (self.days[first.saturating_sub(1)].hardiness(), self.days[last].hardiness()),
            warn: warm.len() as u32 >= WARN_AFTER_DAYS,
            advice,
        }
    }
}
