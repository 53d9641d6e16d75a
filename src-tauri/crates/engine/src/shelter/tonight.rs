//! From a night's figures to what to do: steps, thermostat setting, and the messages that say why.

use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, Normal};
use ts_rs::TS;

use super::circuit::Finding;
use super::night::ZoneNight;
use crate::season::{Figure, Reason};

/// Standard deviation of the forecast low of the coming night in kelvin (UK Met Office: 86.5 % of first-night minima
/// within 2 °C).
const FIRST_NIGHT_ERROR_K: f64 = 1.3;
/// Kelvin by which it grows with each day of lead: mean errors of about 2 °C on day 3 and 2.5 to 3 °C on day 5 (value
/// from memory).
const ERROR_PER_DAY_K: f64 = 0.4;
/// Chance of passing a limit from which a night asks for heat or shielding (common practice, no source).
pub const ACT_FROM: f64 = 0.1;
/// Chance from which the heater should stand ready (common practice, no source).
pub const READY_FROM: f64 = 0.02;
/// Kelvin above the limit at which the thermostat turns heat on (common practice, no source).
pub const SETTING_MARGIN_K: f64 = 2.0;
/// Standard deviations from the median to the quantile of 90 %.
const DEVIATIONS_TO_90: f64 = 1.281_551_6;

/// What a night asks for in a shelter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum NightStep {
    /// Nothing.
    Rest,
    /// A small chance: heater ready on its thermostat, or an eye on the forecast.
    Ready,
    /// Heat.
    Heat,
    /// Cover or move plants: their limit is in reach and there is no heater.
    Shield,
}

impl NightStep {
    /// The step for the chance that the zone first in need passes its limit.
    pub fn of(risk: f64, has_heater: bool) -> Self {
        match risk {
            _ if risk < READY_FROM => Self::Rest,
            _ if risk < ACT_FROM => Self::Ready,
            _ if has_heater => Self::Heat,
            _ => Self::Shield,
        }
    }
}

/// Standard deviation in kelvin of a forecast low by the days of its lead, 0 for the coming night.
pub fn forecast_error_k(lead_days: u32) -> f64 {
    FIRST_NIGHT_ERROR_K + ERROR_PER_DAY_K * f64::from(lead_days)
}

/// A thermostat setting and where its sensor hangs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetPoint {
    /// Index of the sensor's zone.
    pub zone: usize,
    /// Setting in °C as read there.
    pub set_c: f64,
    /// The same for the model's air, which knows no offset, in °C.
    pub air_c: f64,
}

impl SetPoint {
    /// The setting that keeps every zone at its temperature, up to the next half degree: the sensor hangs in the zone
    /// that needs the warmest air. Absent where no zone needs any.
    ///
    /// * `zones` — for every zone, its offset in kelvin and the temperature to keep in °C
    pub fn keeping(zones: &[(f64, Option<f64>)]) -> Option<Self> {
        zones
            .iter()
            .enumerate()
            .filter_map(|(zone, (offset_k, keep_c))| {
                let set_c = ((*keep_c)? * 2.0).ceil() / 2.0;
                Some(Self { zone, set_c, air_c: set_c - offset_k })
            })
            .max_by(|a, b| a.air_c.total_cmp(&b.air_c))
    }

    /// The setting that keeps at least the same air where the sensor hangs in another zone, up to the next half degree.
    ///
    /// * `zone` — index of that zone
    /// * `offset_k` — its offset in kelvin
    pub fn read_in(self, zone: usize, offset_k: f64) -> Self {
        if zone == self.zone {
            return self;
        }
        let set_c = ((self.air_c + offset_k) * 2.0).ceil() / 2.0;
        Self { zone, set_c, air_c: set_c - offset_k }
    }
}

/// Chance that a zone gets colder than a temperature, with its low taken as normal between its quantiles.
pub fn risk_at(zone: &ZoneNight, limit_c: f64) -> f64 {
    let deviation_k = (zone.low_90_c - zone.low_10_c) / (2.0 * DEVIATIONS_TO_90);
    if deviation_k > 0.0 {
        Normal::standard().cdf((limit_c - zone.low_c) / deviation_k)
    } else {
        f64::from(u8::from(zone.low_c < limit_c))
    }
}

impl Finding {
    /// The finding with its figures, for the text catalogue.
    pub fn reason(&self) -> Reason {
        let current = |current_a: f64| Figure::CurrentA(current_a);
        match *self {
            Self::BreakerTooSmall { current_a, breaker_a } => Reason::new("finding-breaker-too-small")
                .with("current", current(current_a))
                .with("rated", current(breaker_a)),
            Self::OverContinuousLimit { current_a, allowed_a, fits_w } => {
                Reason::new("finding-over-continuous-limit")
                    .with("current", current(current_a))
                    .with("allowed", current(allowed_a))
                    .with("fits", Figure::PowerW(fits_w))
            }
            Self::HeaterOnCord => Reason::new("finding-heater-on-cord"),
            Self::CordTooThin { current_a, ampacity_a } => Reason::new("finding-cord-too-thin")
                .with("current", current(current_a))
                .with("allowed", current(ampacity_a)),
            Self::CordWoundUp => Reason::new("finding-cord-wound-up"),
            Self::CordNotForOutdoors => Reason::new("finding-cord-not-for-outdoors"),
            Self::VoltageDrop { share, .. } => {
                Reason::new("finding-voltage-drop").with("share", Figure::Share(share))
            }
            Self::NoResidualCurrentDevice => Reason::new("finding-no-residual-current-device"),
            Self::TooClose { clearance_m, needed_m } => Reason::new("finding-too-close")
                .with("clearance", Figure::LengthM(clearance_m))
                .with("needed", Figure::LengthM(needed_m)),
            Self::UnattendedPortable => Reason::new("finding-unattended-portable"),
            Self::CarbonMonoxide { .. } => Reason::new("finding-carbon-monoxide"),
            Self::TooTightForFlame { .. } => Reason::new("finding-too-tight-for-flame"),
            Self::AddsMoisture { .. } => Reason::new("finding-adds-moisture"),
            Self::FumesHarmPlants => Reason::new("finding-fumes-harm-plants"),
            Self::LocalCodesDecide => Reason::new("finding-local-codes-decide"),
        }
    }
}

/// Every message of the night call and of the heat loss, with the names of its figures: what the text catalogue must
/// word. `low`, `outside`, `from`, `to`, `limit`, `set`, `inside` are temperatures; `chance`, `before`, `share` are
/// shares; `energy`, `most`, `less` are energies.
pub const SHELTER_MESSAGES: &[(&str, &[&str])] = &[
    // What to do.
    ("night-do-nothing", &["low"]),
    ("night-do-heat", &["place", "set", "zone"]),
    ("night-do-ready", &["place", "set", "zone", "chance"]),
    ("night-do-watch", &["place", "zone", "plant", "chance"]),
    ("night-do-shield", &["place", "zone", "plant", "limit", "chance"]),
    // It stands in the ground.
    ("night-do-shield-ground", &["place", "zone", "plant", "limit", "chance"]),
    // Why: `zone` stands between `from` and `to` in eight nights of ten, `low` in the median.
    ("night-zone-low", &["zone", "low", "from", "to", "outside"]),
    ("night-zone-limit", &["plant", "limit", "chance"]),
    ("night-zone-own-limit", &["plant", "limit", "chance"]),
    ("night-heat-below", &["place", "low"]),
    ("night-heat-takes", &["hours", "energy", "most"]),
    // The heater does not manage: a `chance` remains.
    ("night-heat-short", &["place", "chance"]),
    // Its thermostat stands at `kept`, the plants need `set`.
    ("night-set-too-low", &["place", "kept", "set"]),
    // What is cheaper than heat.
    ("night-cover-helps", &["place", "gain", "before", "chance"]),
    ("night-move", &["plants", "to", "low"]),
    ("night-lower-setting", &["place", "kept", "energy", "set", "less"]),
    // What was taken for what nobody said.
    ("night-assumed-cloud", &[]),
    ("night-assumed-wind", &[]),
    ("night-assumed-cover-on", &["place"]),
    ("night-assumed-cover-off", &["place"]),
    ("night-assumed-cover-usual", &["place", "cover"]),
    ("night-assumed-heater", &["place", "power"]),
    // Several heaters are run as one thermostat.
    ("night-assumed-heaters-together", &["place", "power"]),
    // `place` names every shelter without a recorded build.
    ("night-assumed-build", &["place"]),
    // What the figures rest on.
    ("night-rests-handbook", &["error"]),
    ("night-rests-forecast", &["error"]),
    ("night-rests-days-measured", &[]),
    ("night-rests-days-climate", &[]),
    ("night-rests-days-latitude", &[]),
    // Where a low comes from that nobody typed, and what nights on record add to a forecast.
    ("night-low-met-norway", &["low"]),
    ("night-low-us-nws", &["low"]),
    ("night-low-file", &["low"]),
    ("night-low-milder-here", &["shift", "nights"]),
    ("night-low-colder-here", &["shift", "nights"]),
    ("night-low-usual", &["low", "error"]),
    // What nights on record say: of the low, and of the model in `place`.
    ("night-rests-low-nights", &["error", "nights"]),
    ("night-rests-nights", &["place", "nights", "error"]),
    ("night-rests-nights-milder", &["place", "nights", "shift"]),
    ("night-rests-nights-colder", &["place", "nights", "shift"]),
    ("night-doubt-typed", &["nights", "error"]),
    ("night-doubt-forecast", &["nights", "error"]),
    ("night-doubt-none", &[]),
    // The hold over the nights ahead: what it lives on, how it goes, what restores it, and where the lows come from.
    ("night-hold-lives-on", &[]),
    ("night-hold-pots", &["volume", "energy"]),
    ("night-hold-fades", &["first", "last", "nights"]),
    ("night-hold-lasts", &["first", "last", "nights"]),
    ("night-hold-grows", &["first", "last", "nights"]),
    ("night-hold-freezing", &["date", "share"]),
    ("night-hold-limit", &["date", "zone", "plant", "limit"]),
    ("night-hold-restored", &[]),
    ("night-hold-thaw", &["energy"]),
    ("night-hold-forecast", &["nights"]),
    ("night-hold-usual", &["nights"]),
    // The heat loss.
    ("loss-outside-once", &["outside", "years"]),
    ("loss-outside-typed", &["outside"]),
    ("loss-inside-typed", &["inside"]),
    ("loss-inside-kept", &["inside", "zone", "kept"]),
    ("loss-inside-limit", &["inside", "zone", "plant", "limit"]),
    ("loss-inside-frost-free", &["inside"]),
    ("loss-cover-saves", &["share"]),
    ("loss-margin", &["share"]),
    ("loss-neighbours", &[]),
    ("loss-average-night", &[]),
    ("loss-assumed-circuit", &["volts", "rated"]),
    // What stands there gives `power` where `needed` is called for.
    ("loss-heaters-enough", &["power", "needed"]),
    ("loss-heaters-enough-covered", &["power", "needed"]),
    ("loss-heaters-short", &["power", "needed", "low"]),
    // The winter's bill: what it rests on.
    ("winter-rests-record", &["winters", "first", "last"]),
    ("winter-rests-averages", &["winters"]),
    ("winter-rests-file", &["winters", "file", "first", "last", "days"]),
    ("winter-rests-draws", &["draws", "site", "model"]),
    ("winter-daily-weather", &[]),
    ("winter-span-north", &[]),
    ("winter-span-south", &[]),
    ("winter-put-together", &["year"]),
    ("winter-odd-warmest-hour", &["hour"]),
    ("winter-left-out", &["winters"]),
    ("winter-scraps-left-out", &["winters"]),
    ("winter-highs-assumed", &[]),
    ("winter-hours-filled", &["hours"]),
    ("winter-values-dropped", &["values"]),
    ("winter-estimated-moisture", &["hours"]),
    ("winter-estimated-wind", &["hours"]),
    ("winter-estimated-cloud", &["hours"]),
    ("winter-estimated-sun", &["hours"]),
    ("winter-covers-stay-on", &[]),
    ("winter-no-price", &[]),
    // What a set-up takes and leaves of risk. `nights` of a risk are those of ten winters.
    ("winter-heats", &["set", "nights", "energy", "most"]),
    ("winter-hardly-heats", &["set"]),
    ("winter-no-heater", &[]),
    ("winter-nothing-to-heat-for", &[]),
    ("winter-saves", &["first", "energy", "share"]),
    ("winter-takes-more", &["first", "energy", "share"]),
    ("winter-keeps-sun-out", &["share"]),
    ("winter-risk", &["chance", "zone", "plant", "limit", "nights"]),
    ("winter-risk-none", &[]),
    ("winter-no-limits", &[]),
    ("winter-risk-falls", &["before", "chance"]),
    ("winter-risk-rises", &["before", "chance"]),
    ("winter-heater-short", &["power", "needed"]),
    // The check of circuit, cord and flame.
    ("finding-breaker-too-small", &["current", "rated"]),
    ("finding-over-continuous-limit", &["current", "allowed", "fits"]),
    ("finding-heater-on-cord", &[]),
    ("finding-cord-too-thin", &["current", "allowed"]),
    ("finding-cord-wound-up", &[]),
    ("finding-cord-not-for-outdoors", &[]),
    ("finding-voltage-drop", &["share"]),
    ("finding-no-residual-current-device", &[]),
    ("finding-too-close", &["clearance", "needed"]),
    ("finding-unattended-portable", &[]),
    ("finding-carbon-monoxide", &[]),
    ("finding-too-tight-for-flame", &[]),
    ("finding-adds-moisture", &[]),
    ("finding-fumes-harm-plants", &[]),
    ("finding-local-codes-decide", &[]),
    ("finding-circuit-unknown", &[]),
    // The placement on the floor plan: `distance` and `needed` are lengths.
    ("placement-in-blast", &["heater", "zone", "share", "plants"]),
    ("placement-too-close-side", &["heater", "distance", "needed"]),
    ("placement-too-close-zone", &["heater", "zone", "distance", "needed"]),
    ("placement-no-shield", &["heater"]),
    ("placement-sensor-in-blast", &["heater", "sensor"]),
    ("placement-coldest-unwatched", &["distance"]),
    ("placement-coldest-without-sensor", &[]),
];

#[cfg(test)]
#[path = "tonight_test.rs"]
mod tests;
