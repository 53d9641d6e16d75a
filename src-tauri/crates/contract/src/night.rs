//! The night call: how cold it gets in each zone, whether heat is needed, and why.

use chrono::{DateTime, NaiveDate, Utc};
use hibernacle_engine::season::{Caution, Reason};
use hibernacle_engine::shelter::fuel::Fuel;
use hibernacle_engine::shelter::night::{NightHold, NightOutlook, NightPoint};
use hibernacle_engine::shelter::tonight::NightStep;
use hibernacle_engine::site::Site;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Asks for the call of one night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TonightRequest {
    /// The site; absent for the one used last.
    pub site_id: Option<String>,
    /// Outdoor low that is expected, °C, −60 to 25; absent for the forecast's, and without one for the low that is
    /// usual at the date.
    #[serde(default)]
    pub low_c: Option<f64>,
    /// Clouds of the night; absent for a clear sky, the coldest case.
    pub cloud: Option<Cloud>,
    /// Wind of the night in m/s; absent for nearly still air.
    pub wind_m_per_s: Option<f64>,
    /// Days from today to the day on which the night begins, 0 to 10; absent for tonight.
    pub lead_days: Option<u32>,
    /// Whether the winter covers are on; absent for what the plan's ticks say.
    pub covered: Option<bool>,
    /// Price of a kWh of electricity in the site's currency; absent for the site's own price.
    pub price_per_kwh: Option<f64>,
}

/// Clouds, by a word or as the share of the sky under them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(untagged)]
pub enum Cloud {
    /// By a word.
    Word(Sky),
    /// Share of the sky, 0 to 1.
    Share(f64),
}

/// The sky in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Sky {
    /// No clouds.
    Clear,
    /// Half of it under clouds.
    Half,
    /// All of it under clouds.
    Overcast,
}

impl Cloud {
    /// Share of the sky under clouds, 0 to 1.
    pub fn share(self) -> f64 {
        match self {
            Self::Word(Sky::Clear) => 0.0,
            Self::Word(Sky::Half) => 0.5,
            Self::Word(Sky::Overcast) => 1.0,
            Self::Share(share) => share,
        }
    }
}

/// The call of one night for every shelter of a site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TonightCall {
    /// The site.
    pub site: Site,
    /// The night as it was reckoned with.
    pub outlook: NightOutlook,
    /// Where its low comes from.
    pub low_from: LowFrom,
    /// What to do, the most urgent first; one sentence where there is nothing.
    pub todo: Vec<Reason>,
    /// Every shelter, the most urgent first.
    pub shelters: Vec<ShelterNight>,
    /// What was taken for what nobody said.
    pub assumed: Vec<Reason>,
    /// What the figures rest on.
    pub rests_on: Vec<Reason>,
    /// Cautions for what is to be done.
    pub cautions: Vec<Caution>,
}

/// Where the low of a night comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LowFrom {
    /// The grower typed it.
    Typed,
    /// A forecast.
    Forecast,
    /// The median of the date in the site's climate.
    Climate,
}

/// One shelter in the night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ShelterNight {
    /// Its identifier.
    pub shelter_id: String,
    /// Its name.
    pub name: String,
    /// What the night asks for.
    pub step: NightStep,
    /// Whether its winter cover is taken to be on.
    pub is_covered: bool,
    /// Its zones with the heater off; empty where it could not be computed.
    pub zones: Vec<ZoneTonight>,
    /// The zone that is first in need; absent where no limit is known.
    pub laggard_zone_id: Option<String>,
    /// Outdoor low in °C below which it needs heat; absent where no low within 24 K below the one asked for does it.
    pub heat_below_c: Option<f64>,
    /// What heating through the night takes; absent without a heater or without anything to heat for.
    pub heating: Option<NightHeat>,
    /// What is cheaper than heat, or helps where there is none.
    pub alternatives: Vec<Alternative>,
    /// Why, with the figures.
    pub reasons: Vec<Reason>,
    /// The median night, every half hour.
    pub course: Vec<NightPoint>,
    /// Why it could not be computed.
    pub problem: Option<String>,
}

/// One zone in the night, heater off.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneTonight {
    /// Its identifier.
    pub zone_id: String,
    /// Its name.
    pub name: String,
    /// Median of its coldest temperature in °C.
    pub low_c: f64,
    /// One night in ten is colder than this, °C.
    pub low_10_c: f64,
    /// One night in ten is milder than this, °C.
    pub low_90_c: f64,
    /// Degrees above outdoors at the coldest hours, in kelvin.
    pub hold_k: f64,
    /// Kelvin by which its low follows one kelvin of the outdoor low.
    pub low_slope: f64,
    /// Its limit; absent where no planting is there.
    pub limit: Option<ZoneLimitSet>,
    /// Chance that it passes its limit; absent without one.
    pub risk: Option<f64>,
    /// Outdoor low in °C below which it needs heat.
    pub heat_below_c: Option<f64>,
    /// Its coldest temperature in °C with the heater on; absent without one.
    pub heated_low_c: Option<f64>,
}

/// The limit of a zone and whose it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneLimitSet {
    /// Temperature in °C below which the planting is at risk.
    pub limit_c: f64,
    /// The most tender planting there.
    pub planting_id: String,
    /// Its label.
    pub label: String,
    /// Whether the limit is the grower's own figure.
    pub is_own: bool,
}

/// What heating through the night takes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct NightHeat {
    /// Thermostat setting in °C as read at the sensor.
    pub set_c: f64,
    /// The zone in which the sensor hangs.
    pub sensor_zone_id: String,
    /// Heat output of the heaters in W.
    pub rating_w: f64,
    /// Hours of full heat.
    pub full_h: f64,
    /// Heat in kWh.
    pub heat_kwh: f64,
    /// Heat in kWh that one night in ten exceeds.
    pub heat_90_kwh: f64,
    /// Fuel for that heat; several where heaters burn different ones.
    pub fuels: Vec<FuelUse>,
    /// Cost in the site's currency; absent where no price is known.
    pub cost: Option<f64>,
    /// Chance that a zone passes its limit all the same.
    pub risk: f64,
}

/// Fuel that is used up.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct FuelUse {
    /// The fuel.
    pub fuel: Fuel,
    /// Amount in counted units (kWh, L, m³, L).
    pub units: f64,
}

/// Something that is cheaper than heat, or helps where there is none.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Alternative {
    /// The kind.
    pub kind: AlternativeKind,
    /// In words, with its figures.
    pub reason: Reason,
    /// Heat in kWh that it saves in this night; absent where it was not computed or nothing is heated.
    pub saves_kwh: Option<f64>,
}

/// Kind of alternative.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum AlternativeKind {
    /// Put the winter cover on.
    Cover,
    /// Move tender pots to a milder zone.
    Move,
    /// Keep no warmer than the plants need.
    LowerSetting,
}

/// Asks how the hold of a shelter fades over a row of cold nights.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HoldRequest {
    /// The shelter.
    pub shelter_id: String,
    /// Outdoor low of every night in °C; absent for the forecast's nights, and without one for the usual low.
    pub low_c: Option<f64>,
    /// Clouds; absent for a clear sky.
    pub cloud: Option<Cloud>,
    /// Wind in m/s; absent for nearly still air.
    pub wind_m_per_s: Option<f64>,
    /// Nights from tonight on, 1 to 14; absent for 7.
    pub nights: Option<u32>,
    /// Whether the winter covers are on; absent for what the plan's ticks say.
    pub covered: Option<bool>,
}

/// The hold over a row of nights without heat.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HoldAhead {
    /// The shelter.
    pub shelter_id: String,
    /// The nights in order.
    pub nights: Vec<NightHold>,
    /// Name of the coldest zone.
    pub zone: String,
    /// Its limit in °C; absent where nothing stands in it.
    pub limit_c: Option<f64>,
    /// What the hold lives on, how it fades, and what restores it.
    pub reasons: Vec<Reason>,
}

/// What a night turned out to be, as read on the thermometers the morning after.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct NightOutcome {
    /// The site.
    pub site_id: String,
    /// The date on which the night began.
    pub night_of: NaiveDate,
    /// Outdoor low in °C; absent where nobody read it.
    pub outside_low_c: Option<f64>,
    /// Lows of zones.
    pub zones: Vec<ZoneOutcome>,
    /// Shelters in which a heater ran.
    pub heated_shelter_ids: Vec<String>,
}

/// The low of a zone in a night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneOutcome {
    /// The zone.
    pub zone_id: String,
    /// Its low in °C.
    pub low_c: f64,
}

/// A night: what was predicted and what came.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct NightRecord {
    /// The date on which it began.
    pub night_of: NaiveDate,
    /// When the prediction was made; absent where none was.
    pub predicted_at_utc: Option<DateTime<Utc>>,
    /// Outdoor low that was reckoned with, °C.
    pub predicted_low_c: Option<f64>,
    /// Outdoor low that came, °C.
    pub outside_low_c: Option<f64>,
    /// Its zones.
    pub zones: Vec<ZoneRecord>,
    /// Shelters in which a heater ran.
    pub heated_shelter_ids: Vec<String>,
}

/// A zone in a night: what was predicted without heat and what came.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneRecord {
    /// The zone.
    pub zone_id: String,
    /// Its name with its shelter's.
    pub place: String,
    /// Median of its low that was predicted, °C.
    pub predicted_low_c: Option<f64>,
    /// The low that came, °C.
    pub low_c: Option<f64>,
    /// What came less what would have been predicted for the outdoor low that came, K; absent where either is not
    /// known or a heater ran.
    pub model_error_k: Option<f64>,
}

/// Asks for nights on record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct NightRecordsRequest {
    /// The site; absent for the one used last.
    pub site_id: Option<String>,
    /// Most nights to give, the latest first; absent for 60.
    pub most: Option<u32>,
}

/// Nights on record and what they say of the doubt.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct NightRecords {
    /// The nights, the latest first, last night among them when it has a prediction.
    pub nights: Vec<NightRecord>,
    /// The zones to read in the morning, with their places.
    pub zones: Vec<ZoneToRead>,
    /// What the nights say of forecast and model.
    pub doubt: Vec<Reason>,
}

/// A zone whose low may be entered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ZoneToRead {
    /// The zone.
    pub zone_id: String,
    /// Its shelter.
    pub shelter_id: String,
    /// Its name with its shelter's.
    pub place: String,
}
