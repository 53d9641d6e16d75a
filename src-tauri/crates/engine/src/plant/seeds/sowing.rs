//! Sowings: counted back from planting out, what room and warmth they take, and the record of them.

use chrono::{Days, Duration, NaiveDate};
use serde::{Deserialize, Serialize};
use thiserror::Error;
use ts_rs::TS;

use super::{Emergence, SeedCrop};
use crate::field::{FieldError, filled, within};

/// Days of hardening off; part of the weeks inside.
pub const HARDENING_DAYS: u64 = 10;
/// Days from emergence to pricking out into a cell or pot of its own: value from memory.
const PRICKING_OUT_DAYS: u64 = 14;
/// Square metres of bench for a seed before and after pricking out (cells of 3 and 9 cm): values from memory.
const SEED_M2: f64 = 0.0009;
const SEEDLING_M2: f64 = 0.0081;

/// Why no sowing can be planned.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SowingError {
    /// The seed does not come at that temperature.
    #[error("{crop} hardly comes up at {temp_c} °C; keep the seed tray at {comes_at_c} °C")]
    TooColdOrWarm {
        /// The crop.
        crop: String,
        /// The temperature asked for, °C.
        temp_c: f64,
        /// The nearest temperature at which it comes, °C.
        comes_at_c: f64,
    },
    /// Nobody has tested that temperature.
    #[error("no figures exist for {crop} at {temp_c} °C; the nearest are for {tested_at_c} °C")]
    NotTested {
        /// The crop.
        crop: String,
        /// The temperature asked for, °C.
        temp_c: f64,
        /// The nearest temperature with figures, °C.
        tested_at_c: f64,
    },
    /// The table has no weeks inside for the crop.
    #[error("{crop} is sown where it grows; to raise it inside, add weeks_inside and out_weeks to its row")]
    SownInPlace {
        /// The crop.
        crop: String,
    },
}

/// A sowing counted back from planting out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SowingPlan {
    /// Key of the crop.
    pub crop_key: String,
    /// First and last day to sow.
    pub sow_between: (NaiveDate, NaiveDate),
    /// Day in the middle of them.
    pub sow_on: NaiveDate,
    /// Emergence after sowing on that day.
    pub emerges_on: NaiveDate,
    /// Pricking out or potting up.
    pub prick_out_on: NaiveDate,
    /// First day of hardening off.
    pub harden_from: NaiveDate,
    /// Planting out.
    pub out_on: NaiveDate,
    /// Soil temperature in °C until emergence.
    pub soil_c: f64,
    /// Days to emerge at that temperature.
    pub days_to_emerge: f64,
    /// Share of normal seedlings to expect; absent where not tested.
    pub normal_share: Option<f64>,
}

/// Counts a sowing back from the date of the last frost that the grower plans with.
///
/// * `crop` — what is sown
/// * `last_frost_on` — last frost: with the chance the grower accepts (a tender plant in the ground wants the date after
///   which one spring in ten still freezes)
/// * `soil_c` — temperature of the seed tray in °C
///
/// `sow = out − weeks inside − days to emerge`; hardening off is part of the weeks and not counted again.
///
/// # Errors
/// [`SowingError`] when the seed does not come at that temperature or is not raised inside.
pub fn sowing_plan(
    crop: &SeedCrop,
    last_frost_on: NaiveDate,
    soil_c: f64,
) -> Result<SowingPlan, SowingError> {
    let name = || crop.name.clone();
    let (days, normal_share) = match crop.emergence_at(soil_c) {
        Emergence::Comes { days, normal_share } => (days, normal_share),
        Emergence::DoesNotCome { comes_at_c } => {
            return Err(SowingError::TooColdOrWarm { crop: name(), temp_c: soil_c, comes_at_c });
        }
        Emergence::NotTested { tested_at_c } => {
            return Err(SowingError::NotTested { crop: name(), temp_c: soil_c, tested_at_c });
        }
    };
    let (Some((least, most)), Some(out_weeks)) = (crop.weeks_inside, crop.out_weeks) else {
        return Err(SowingError::SownInPlace { crop: name() });
    };
    let weeks = |weeks: f64| Duration::days((weeks * 7.0).round() as i64);
    let emerging = Duration::days(days.round() as i64);
    let out_on = last_frost_on + weeks(out_weeks);
    let sow_after = |inside: f64| out_on - weeks(inside) - emerging;
    let sow_on = sow_after(f64::midpoint(least, most));
    let emerges_on = sow_on + emerging;
    Ok(SowingPlan {
        crop_key: crop.key.clone(),
        sow_between: (sow_after(most), sow_after(least)),
        sow_on,
        emerges_on,
        prick_out_on: (emerges_on + Days::new(PRICKING_OUT_DAYS)).min(out_on),
        harden_from: (out_on - Days::new(HARDENING_DAYS)).max(emerges_on),
        out_on,
        soil_c,
        days_to_emerge: days,
        normal_share,
    })
}

/// A planned sowing with the number of plants wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted<'a> {
    /// Its dates.
    pub plan: &'a SowingPlan,
    /// Plants wanted at planting out.
    pub count: u32,
    /// Bench in m² for a plant after pricking out; absent: a pot of 9 cm.
    pub plant_m2: Option<f64>,
}

impl Wanted<'_> {
    /// Seeds to sow for the plants wanted; as many as plants where the share was not tested.
    pub fn seeds(&self) -> u32 {
        let share = self.plan.normal_share.unwrap_or(1.0).max(0.05);
        (f64::from(self.count) / share).ceil() as u32
    }

    /// Bench in m² taken on a day, and the warmth in °C that it needs there before emergence.
    pub fn needs_on(&self, date: NaiveDate) -> (f64, Option<f64>) {
        let plan = self.plan;
        if date < plan.sow_on || date >= plan.out_on {
            (0.0, None)
        } else if date < plan.prick_out_on {
            (f64::from(self.seeds()) * SEED_M2, (date < plan.emerges_on).then_some(plan.soil_c))
        } else {
            (f64::from(self.count) * self.plant_m2.unwrap_or(SEEDLING_M2), None)
        }
    }
}

/// Room and warmth that sowings take in a week, against what there is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WeekNeed {
    /// First day of the week.
    pub from: NaiveDate,
    /// Most bench taken on one of its days, m².
    pub needs_m2: f64,
    /// Bench that is free, m².
    pub has_m2: f64,
    /// Warmest seed tray of the week, °C; absent when nothing germinates.
    pub needs_c: Option<f64>,
    /// Mean temperature of the place in that week, °C; absent when not known.
    pub has_c: Option<f64>,
}

impl WeekNeed {
    /// Bench that is lacking, m².
    pub fn lacks_m2(&self) -> f64 {
        (self.needs_m2 - self.has_m2).max(0.0)
    }

    /// Kelvin that a heated mat must add; absent when nothing is needed or the place is not known.
    pub fn lacks_k(&self) -> Option<f64> {
        self.needs_c.zip(self.has_c).map(|(needs, has)| (needs - has).max(0.0)).filter(|lacks| *lacks > 0.0)
    }
}

/// Room and warmth in the week that begins on a day.
///
/// * `wanted` — all sowings
/// * `free_m2` — bench that is free in that week
/// * `mean_c` — mean temperature of the place in that week, where known
pub fn week_need(wanted: &[Wanted<'_>], from: NaiveDate, free_m2: f64, mean_c: Option<f64>) -> WeekNeed {
    let days: Vec<NaiveDate> = from.iter_days().take(7).collect();
    let on = |date: &NaiveDate| wanted.iter().map(|w| w.needs_on(*date).0).sum::<f64>();
    let warmest = |date: &NaiveDate| {
        wanted
            .iter()
            .filter_map(|w| w.needs_on(*date).1)
            .fold(None, |most: Option<f64>, temp_c| Some(most.map_or(temp_c, |most| most.max(temp_c))))
    };
    WeekNeed {
        from,
        needs_m2: days.iter().map(on).fold(0.0, f64::max),
        has_m2: free_m2,
        needs_c: days.iter().filter_map(warmest).reduce(f64::max),
        has_c: mean_c,
    }
}

/// A sowing as the grower made it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Sowing {
    /// Identifier given by the service; empty in a draft.
    #[serde(default)]
    pub id: String,
    /// The site.
    pub site_id: String,
    /// Key of the crop; empty for one the table lacks.
    #[serde(default)]
    pub crop_key: String,
    /// The grower's label.
    pub label: String,
    /// The day of sowing.
    pub sown_on: NaiveDate,
    /// Seeds sown.
    pub seeds: u32,
    /// Zone in which the tray stands; absent for outside the shelters.
    pub zone_id: Option<String>,
    /// Soil temperature kept, °C; absent when not known.
    pub soil_c: Option<f64>,
    /// First day on which seedlings showed.
    pub emerged_on: Option<NaiveDate>,
    /// Seedlings that came.
    pub seedlings: Option<u32>,
    /// Plants that went out.
    pub planted_out: Option<u32>,
}

impl Sowing {
    /// Checks every field.
    ///
    /// * `today` — later days are refused
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self, today: NaiveDate) -> Result<(), FieldError> {
        filled("site_id", &self.site_id, "save the site first")?;
        filled("label", &self.label, "give the sowing a label")?;
        within("seeds", f64::from(self.seeds), 1.0, 1_000_000.0, "enter how many seeds were sown")?;
        let not_later = |field: &str, on: NaiveDate| {
            if on > today {
                return Err(FieldError::new(
                    field,
                    format!("is {on}, in the future"),
                    "enter the day it was done",
                ));
            }
            Ok(())
        };
        not_later("sown_on", self.sown_on)?;
        if let Some(soil_c) = self.soil_c {
            within("soil_c", soil_c, 0.0, 45.0, "enter the temperature of the tray")?;
        }
        if let Some(on) = self.emerged_on {
            not_later("emerged_on", on)?;
            if on < self.sown_on {
                let problem = format!("is {on}, before sowing on {}", self.sown_on);
                return Err(FieldError::new("emerged_on", problem, "correct one of the two dates"));
            }
        }
        let most = self.seedlings.unwrap_or(self.seeds);
        if most > self.seeds {
            let problem = format!("is {most}, more than the {} seeds", self.seeds);
            return Err(FieldError::new("seedlings", problem, "count again"));
        }
        match self.planted_out {
            Some(out) if out > most => {
                let problem = format!("is {out}, more than the {most} before");
                Err(FieldError::new("planted_out", problem, "count again"))
            }
            _ => Ok(()),
        }
    }
}
