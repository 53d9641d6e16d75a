//! What a fit tells.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// How well a figure could be told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Told {
    /// The log says little more than what was believed before it.
    Not,
    /// The 95 % interval reaches further than half the figure.
    Roughly,
    /// Better than that.
    Well,
}

/// A figure with its doubt.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Estimated {
    /// The likeliest value.
    pub value: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Lower end of its 95 % interval.
    pub low: f64,
    /// Upper end of its 95 % interval.
    pub high: f64,
    /// How well the log tells it.
    pub told: Told,
}

impl Estimated {
    /// Whether a value lies in the 95 % interval.
    pub fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}

/// Something that would let the check say more.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Missing {
    /// Watts per kelvin need a heater of known watts for some nights, or the litres of water that store the heat;
    /// temperatures alone give ratios and time constants.
    KnownHeat,
    /// Without wind, the loss is that of the usual wind and leaks cannot be told apart.
    Wind,
    /// Without cloud, clear and clouded nights cannot be told apart.
    Cloud,
    /// Sun was reckoned from the place, not measured: what the sun brings is uncertain.
    Sun,
    /// The pots never froze, so what freezing gives is not known.
    Frost,
    /// A time between two changes of cover with too few nights to be fitted.
    ShortPeriod {
        /// Night with which it begins.
        from: NaiveDate,
        /// Usable nights in it.
        nights: u32,
    },
}

/// The store of a shelter and what it trades heat with, all covers alike.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct StoreFit {
    /// Exchange between air and store over the loss of the first period.
    pub exchange_over_loss: Estimated,
    /// Exchange between store and ground over the loss of the first period.
    pub ground_over_loss: Estimated,
    /// Kelvin of cooling that freezing the store is worth; absent where it never froze.
    pub freezing_k: Option<Estimated>,
    /// Share of the loss that sees the sky; absent without cloud.
    pub sky_share: Option<Estimated>,
    /// Heat capacity in J/K; absent without a known heat or store.
    pub heat_capacity_j_per_k: Option<Estimated>,
    /// Water that freezes in kg; absent where either is not known.
    pub freezing_water_kg: Option<Estimated>,
}

/// A time with one set of covers, as far as told or found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PeriodFit {
    /// Night with which it begins.
    pub from: NaiveDate,
    /// Last night.
    pub to: NaiveDate,
    /// Nights that were used.
    pub nights: u32,
    /// Share of the store's heat lost per hour and kelvin to outdoors, 1/h: loss over heat capacity, at the usual wind.
    pub loss_per_h: Estimated,
    /// Loss in W/K at the usual wind; absent without a known heat or store.
    pub loss_w_per_k: Option<Estimated>,
    /// Growth of the loss with wind, share per m/s; absent without wind.
    pub wind_share_per_m_per_s: Option<Estimated>,
    /// Time constant in hours with which the shelter as a whole cools towards outdoors.
    pub time_constant_h: Estimated,
    /// Time constant in hours with which the air settles.
    pub air_time_constant_h: Estimated,
    /// Kelvin by which steady sun of 1 kW/m² would warm it: aperture over loss.
    pub sun_k_per_kw_m2: Option<Estimated>,
    /// Solar aperture in m²; absent without a known heat or store.
    pub aperture_m2: Option<Estimated>,
    /// Mean measured hold in kelvin.
    pub mean_hold_k: f64,
}

/// How a change of cover changed the loss.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct LossChange {
    /// First night after the change.
    pub since: NaiveDate,
    /// Earliest and latest first night, 95 %; the same as `since` where it was told.
    pub earliest: NaiveDate,
    /// See `earliest`.
    pub latest: NaiveDate,
    /// Whether it was told; else it was found.
    pub told: bool,
    /// Loss after over loss before, from the fit.
    pub loss_ratio: Estimated,
    /// Sun let in after over before.
    pub sun_ratio: Option<Estimated>,
    /// Mean hold before over mean hold after: what a plain comparison would take for the change of loss. It
    /// misleads, because the cover also keeps the sun out and because weather differs.
    pub plain_ratio: f64,
    /// Probability of so large a step where nothing changed; 0 where it was told.
    pub chance_of_false_alarm: f64,
    /// What it looks like.
    pub looks_like: LooksLike,
}

/// What a change looks like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LooksLike {
    /// Less loss, less sun: a cover went on.
    CoverOn,
    /// More loss, more sun: a cover came off or tore.
    CoverOff,
    /// Less loss: gaps were closed or something was added inside.
    Better,
    /// More loss: look at the cover, door and tape.
    Worse,
}

/// Why a night was not used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum NightUse {
    /// It was used.
    Used,
    /// Heat of unknown watts ran.
    UnknownHeat,
    /// Readings are missing or doubtful.
    Incomplete,
    /// It lies in a time with too few nights.
    ShortPeriod,
}

/// One night of the hold chart.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct HoldNight {
    /// Date on which it begins.
    pub night_of: NaiveDate,
    /// Whether and why not it was used.
    pub used: NightUse,
    /// Outdoor low in °C, mean over an hour; absent where readings are missing.
    pub outside_low_c: Option<f64>,
    /// Degrees that the inside low stayed above it, in kelvin.
    pub hold_k: Option<f64>,
    /// Hold to expect of an unchanged shelter in kelvin.
    pub expected_k: Option<f64>,
    /// Lower end of the band in which 95 of 100 nights lie.
    pub low_k: Option<f64>,
    /// Upper end of that band.
    pub high_k: Option<f64>,
}

/// What a log tells about a shelter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct InsulationCheck {
    /// First reading used.
    pub from: DateTime<Utc>,
    /// Last reading used.
    pub to: DateTime<Utc>,
    /// Nights used.
    pub nights_used: u32,
    /// Nights left out because heat of unknown watts ran.
    pub nights_heated: u32,
    /// Readings left out because they were doubtful.
    pub flagged: u32,
    /// Mean wind of the nights in m/s, at which the loss holds; absent without wind.
    pub usual_wind_m_per_s: Option<f64>,
    /// Times between changes, in order.
    pub periods: Vec<PeriodFit>,
    /// Changes between them.
    pub changes: Vec<LossChange>,
    /// The store.
    pub store: StoreFit,
    /// Every night of the log.
    pub nights: Vec<HoldNight>,
    /// Standard deviation in kelvin of inside lows around what is expected from dusk.
    pub night_error_k: f64,
    /// What would let the check say more.
    pub missing: Vec<Missing>,
}
