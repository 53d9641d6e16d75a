//! The insulation check: what a temperature log tells about a shelter.
//!
//! [`check_insulation`] fits a grey box (air and one body that may freeze; equations in `model`) to a log of two
//! thermometers and whatever weather is known beside it. From temperatures alone it tells ratios and time constants;
//! watts per kelvin need a heater of known watts in some of the nights or a known store. Every figure carries its doubt
//! and how well the log tells it.
//!
//! | check, ten invented winters of a two-store house each | result |
//! |---|---|
//! | loss in W/K, 30 nights, 0.2 K of noise on both thermometers, heat known in six | off by 0.7 % (deviation) |
//! | change of loss by a cover, weather known | off by 0.5 % |
//! | the same, two thermometers alone | off by 5 % |
//!
//! Validity: closed shelters; a vent that opens by day widens the doubt and is not seen as such. A real house whose loss
//! grows with its warmth, or whose floor thaws, can look changed when a long frost ends: see whether a change goes with
//! the weather before looking for a gap. Weeks of steady heat that nobody told of look like a better shelter.

mod changes;
mod check;
mod estimate;
mod heated;
mod layout;
mod log;
mod model;
mod nights;
mod points;
mod proof;
mod records;
mod report;
mod scale;
mod spots;
mod work;

pub use check::check_insulation;
pub use log::{Covers, FEWEST_NIGHTS, FitError, Heat, KnownStore, Log, Sample};
pub use proof::{
    Culprit, ProofError, ProofNight, ProofPlan, ProofResult, ProofStep, Suspect, Verdict, judge_proof_night,
    proof_plan,
};
pub use records::{
    Estimated, HoldNight, InsulationCheck, LooksLike, LossChange, Missing, NightUse, PeriodFit, StoreFit,
    Told,
};
pub use scale::scaled_envelope;
pub use spots::{SpotCheck, SpotError, Stay, ZoneOffset, zone_offsets};
