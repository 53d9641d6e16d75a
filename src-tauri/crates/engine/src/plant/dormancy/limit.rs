//! What a planting stands today: shoots and roots apart, with the doubt and the reasons.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::course::{Course, CourseDay, Phase};
use crate::plant::chill::Chill;
use crate::plant::{Container, Temperature};

/// Kelvin of error of bud hardiness over all cultivars (Ferguson et al. 2014: RMSE 2.0 K on 1283 tests).
const BUD_DOUBT_K: f64 = 2.0;
/// Kelvin by which roots that have not hardened are more tender than the catalogue's figure: the alarm margin on young
/// roots (value from memory).
const SOFT_ROOTS_K: f64 = 2.0;

/// The part of a planting that sets its limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Shoots, buds, leaves.
    Shoots,
    /// Roots in the pot, or the stored tuber.
    Roots,
    /// The grower's own figure for the whole planting.
    Own,
}

/// Temperature below which a part is at risk.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct PartLimit {
    /// At or below this, in °C, damage begins.
    pub limit_c: f64,
    /// The coldest and the warmest that this limit may be, in °C.
    pub between_c: (f64, f64),
    /// At or below this, in °C, the part is likely lost; absent where no figure is known.
    pub likely_loss_c: Option<f64>,
}

/// Why a limit is what it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum LimitReason {
    /// Shoots stand between soft growth and fully hardened wood.
    Hardened {
        /// Share reached, 0 to 1.
        share: f64,
        /// Limit of soft growth in °C.
        soft_c: f64,
        /// Limit of fully hardened shoots in °C.
        hardened_c: f64,
    },
    /// Half of the buds are killed at this temperature, by published figures.
    BudsHalfKilled {
        /// The temperature in °C.
        temp_c: f64,
        /// Error of such figures in K.
        doubt_k: f64,
        /// The cultivar, where the label names one.
        cultivar: Option<String>,
    },
    /// How much of the chill need is met.
    Chill {
        /// The counts since hardening began.
        chill: Chill,
        /// Need in hours: low and high end.
        need_h: (f64, f64),
    },
    /// How much warmth has come since the chill need was met.
    Heat {
        /// Growing degree hours.
        gdh: f64,
        /// Base in °C.
        base_c: f64,
        /// Needed for bud break: low and high end.
        need_gdh: (f64, f64),
    },
    /// Buds swell, so the limit of soft growth holds and stays.
    Woke {
        /// Since when.
        on: NaiveDate,
    },
    /// Within the doubt, buds may swell already.
    MayHaveWoken {
        /// Since when at the earliest.
        on: NaiveDate,
    },
    /// Roots stand between soft and hardened.
    RootsHardened {
        /// Share reached, 0 to 1.
        share: f64,
        /// Limit of roots that have not hardened, °C.
        soft_c: f64,
        /// Limit of hardened roots, °C.
        hardened_c: f64,
        /// Whether temperatures inside the pots were used; else the air's daily mean.
        measured: bool,
    },
    /// The stored tuber or bare root itself.
    Stored {
        /// Its limit in °C.
        limit_c: f64,
    },
    /// The grower's own figure, which goes before the catalogue except for soft growth that is more tender.
    Own {
        /// The figure in °C.
        limit_c: f64,
    },
}

/// What a planting stands in the night that follows a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Limits {
    /// The day.
    pub date: NaiveDate,
    /// Where the planting stands.
    pub phase: Phase,
    /// Shoots, against the air; absent for a resting tuber in store.
    pub shoots: Option<PartLimit>,
    /// Roots in a pot or a stored tuber, against the root ball; absent in open ground.
    pub roots: Option<PartLimit>,
    /// Which part sets the limit of the whole.
    pub ruled_by: Part,
    /// Limit of the whole in °C: the warmer part, taking the root ball as cold as the air. A root ball lags behind the
    /// air of a single night, so this is on the safe side.
    pub limit_c: f64,
    /// The coldest and the warmest that it may be, in °C.
    pub between_c: (f64, f64),
    /// Why, in figures.
    pub reasons: Vec<LimitReason>,
}

pub(super) fn limits(course: &Course<'_>, day: &CourseDay) -> Limits {
    let mut reasons = Vec::new();
    let shoots = match course.container {
        Container::Lifted if day.phase < Phase::Swelling => None,
        _ => Some(shoot_limit(course, day, &mut reasons)),
    };
    let roots = root_limit(course, day, &mut reasons);
    let (ruled_by, whole) = match (course.own_limit_c, shoots, roots) {
        (Some(own_c), shoots, _) => own_limit(course, day, own_c, shoots, &mut reasons),
        (None, Some(shoots), Some(roots)) if roots.limit_c > shoots.limit_c => {
            (Part::Roots, warmer_of(roots, shoots))
        }
        (None, Some(shoots), roots) => (Part::Shoots, roots.map_or(shoots, |roots| warmer_of(shoots, roots))),
        (None, None, roots) => {
            (Part::Roots, roots.unwrap_or(exactly(course.subject_plant.root_in_pot.temp_c)))
        }
    };
    Limits {
        date: day.date,
        phase: day.phase,
        shoots,
        roots,
        ruled_by,
        limit_c: whole.limit_c,
        between_c: whole.between_c,
        reasons,
    }
}

fn exactly(limit_c: f64) -> PartLimit {
    PartLimit { limit_c, between_c: (limit_c, limit_c), likely_loss_c: None }
}

/// The ruling part; its ends of doubt are no colder than those of the other part.
fn warmer_of(ruling: PartLimit, other: PartLimit) -> PartLimit {
    let (coldest, warmest) = ruling.between_c;
    PartLimit { between_c: (coldest.max(other.between_c.0), warmest.max(other.between_c.1)), ..ruling }
}

/// The grower's own figure, unless soft growth stands less.
fn own_limit(
    course: &Course<'_>,
    day: &CourseDay,
    own_c: f64,
    shoots: Option<PartLimit>,
    reasons: &mut Vec<LimitReason>,
) -> (Part, PartLimit) {
    reasons.push(LimitReason::Own { limit_c: own_c });
    let soft = matches!(day.phase, Phase::Growing | Phase::Swelling | Phase::InLeaf);
    let leaf_c = course.subject_plant.shoot_in_leaf.temp_c;
    match shoots {
        Some(shoots) if soft && leaf_c > own_c => (Part::Shoots, shoots),
        _ => (Part::Own, exactly(own_c)),
    }
}

/// A figure between soft (0) and hardened (1).
fn between(soft_c: f64, hardened_c: f64, share: f64) -> f64 {
    soft_c + (hardened_c - soft_c) * share
}

/// Likely loss between soft and hardened; absent where the catalogue has no such figure.
fn loss_between(soft: &Temperature, hardened: &Temperature, share: f64) -> Option<f64> {
    hardened
        .likely_loss_c
        .map(|hardened_c| between(soft.likely_loss_c.unwrap_or(soft.temp_c), hardened_c, share))
}

fn shoot_limit(course: &Course<'_>, day: &CourseDay, reasons: &mut Vec<LimitReason>) -> PartLimit {
    let plant = course.subject_plant;
    let (soft, hardened) = (&plant.shoot_in_leaf, &plant.shoot_dormant);
    if let Some((low, high)) = plant.chill_hours {
        reasons.push(LimitReason::Chill { chill: day.chill, need_h: (low, high) });
    }
    let has_form = course.cultivars.is_empty();
    if has_form && day.runs[1].rested {
        reasons.push(LimitReason::Heat {
            gdh: day.heat_gdh,
            base_c: course.form.heat_base_c(plant),
            need_gdh: course.form.heat_gdh,
        });
    }
    let of_run = |index: usize| {
        let run = &day.runs[index];
        match run.half_killed_c {
            _ if run.swell_on.is_some() => soft.temp_c,
            // The figure of the alarm lies above the half-kill temperature by its error, and never below the
            // catalogue's.
            Some(killed_c) => (killed_c + BUD_DOUBT_K).clamp(hardened.temp_c.min(soft.temp_c), soft.temp_c),
            None => between(soft.temp_c, hardened.temp_c, run.share),
        }
    };
    let (tender_c, limit_c, hardy_c) = (of_run(0), of_run(1), of_run(2));
    let (spread_k, killed_c) = match day.runs[1].half_killed_c {
        Some(killed_c) => (BUD_DOUBT_K, Some(killed_c)),
        None => (0.0, None),
    };
    let woke = day.runs[1].swell_on;
    match (woke, killed_c) {
        (Some(on), _) => reasons.push(LimitReason::Woke { on }),
        (None, Some(temp_c)) => reasons.push(LimitReason::BudsHalfKilled {
            temp_c,
            doubt_k: BUD_DOUBT_K,
            cultivar: match &course.cultivars[..] {
                [only] => Some(only.name.clone()),
                _ => None,
            },
        }),
        (None, None) => reasons.push(LimitReason::Hardened {
            share: day.hardiness(),
            soft_c: soft.temp_c,
            hardened_c: hardened.temp_c,
        }),
    }
    if let (None, Some(on)) = (woke, day.runs[0].swell_on) {
        reasons.push(LimitReason::MayHaveWoken { on });
    }
    PartLimit {
        limit_c,
        between_c: (
            (hardy_c - spread_k).clamp(hardened.temp_c.min(limit_c), limit_c),
            (tender_c + spread_k).clamp(limit_c, soft.temp_c.max(limit_c)),
        ),
        likely_loss_c: match (woke, killed_c) {
            (Some(_), _) => soft.likely_loss_c,
            (None, Some(killed_c)) => Some(killed_c.min(limit_c)),
            (None, None) => loss_between(soft, hardened, day.hardiness()),
        },
    }
}

fn root_limit(course: &Course<'_>, day: &CourseDay, reasons: &mut Vec<LimitReason>) -> Option<PartLimit> {
    let hardened = &course.subject_plant.root_in_pot;
    match course.container {
        Container::Ground => None,
        Container::Lifted => {
            reasons.push(LimitReason::Stored { limit_c: hardened.temp_c });
            Some(PartLimit { likely_loss_c: hardened.likely_loss_c, ..exactly(hardened.temp_c) })
        }
        Container::Pot { .. } => {
            // Roots that stand frost at all are not killed above the freezing point.
            let soft_c = (hardened.temp_c + SOFT_ROOTS_K).min(0.0).max(hardened.temp_c);
            reasons.push(LimitReason::RootsHardened {
                share: day.root_hardiness(),
                soft_c,
                hardened_c: hardened.temp_c,
                measured: course.roots_measured,
            });
            let of_run = |index: usize| between(soft_c, hardened.temp_c, day.runs[index].roots);
            Some(PartLimit {
                limit_c: of_run(1),
                between_c: (of_run(2).min(of_run(1)), of_run(0).max(of_run(1))),
                likely_loss_c: hardened.likely_loss_c,
            })
        }
    }
}
