//! Rest and hardiness of a planting through the winter, driven by the temperatures of its zone.
//!
//! | step | method |
//! |---|---|
//! | temperatures | [`ZoneTemps`]: hourly or daily, gaps filled and reported |
//! | chill | [`crate::plant::chill`]: three counts, as hours; their spread is doubt |
//! | hardiness | published bud model for cultivars with figures ([`BudHardiness`]), else a declared form ([`Acclimation`]) |
//! | waking | heat in growing degree hours after the chill need is met, or the bud model's own swelling |
//! | roots in a pot | harden and soften with the mean of the root ball, later than shoots |
//! | limit | [`Limits`]: shoots and roots apart, with doubt and reasons |
//!
//! Every planting runs three times: as expected, and with rates, needs and assumed temperatures at either end of their
//! doubt. Once buds swell, or the grower sees it, the limit of soft growth holds and never goes back. What the
//! grower sees goes before what is computed; signs that contradict each other are refused.
//!
//! Known limits: the bud model is up to 3 K too hardy in October; for plants without figures the shape of the course
//! is plausible and its ends are the catalogue's, but nothing in between has been measured.

mod acclimation;
mod bud_hardiness;
mod bud_stages;
mod course;
mod expect;
mod limit;
mod past_limit;
mod run;
mod seen;
mod temps;
mod warm_spell;
mod zone_days;
mod zone_limit;

pub use acclimation::{Acclimation, Acclimations};
pub use bud_hardiness::{BudHardiness, Cultivar, Cultivars, RestRates};
pub use bud_stages::{BudStage, BudStages, StagedCrop};
pub use course::{Course, CourseDay, CourseProblem, HardinessTables, Phase, Start, Subject};
pub use expect::{Expected, expected};
pub use limit::{LimitReason, Limits, Part, PartLimit};
pub use past_limit::PastLimit;
pub use seen::{Sign, SignSeen, check_signs};
pub use temps::{FilledFrom, TempsError, TempsProblem, ZoneDay, ZoneTemps};
pub use warm_spell::{Cooling, WarmSpell};
pub use zone_days::ZoneSeason;
pub use zone_limit::{ZoneTonight, zone_tonight};
