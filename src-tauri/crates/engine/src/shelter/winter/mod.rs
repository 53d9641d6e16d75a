//! A whole winter: nights heated, heat, cost, and how cold each zone gets.
//!
//! One call is one winter of one set-up; winters and draws are independent, so that a caller may spread them over
//! threads and add them up in a [`WinterTally`]. Weather is prepared once per winter ([`Forcing`]) and shared by all
//! draws and set-ups of the same form.

mod tally;
mod years;

use chrono::{Duration, NaiveDate};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::dynamic::{Forcing, RunError, Scenario, simulate};
use super::night::{ZoneLimit, normal_quantile};

pub use tally::{Spread, WinterBill, WinterTally};
pub use years::{DailyWinter, DailyWinters, HourlyWinter, HourlyWinters};

/// Heat in kWh from which a night counts as heated.
const HEATED_KWH: f64 = 0.01;

/// One winter of one set-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WinterOutcome {
    /// Nights in which the heater ran.
    pub nights_heated: u32,
    /// Heat in kWh.
    pub heat_kwh: f64,
    /// Hours of full heat.
    pub full_hours: f64,
    /// Coldest temperature of every zone in °C.
    pub zone_min_c: Vec<f64>,
    /// Nights in which each zone passed its limit.
    pub nights_below: Vec<u32>,
    /// Outdoor minimum in °C.
    pub outside_min_c: f64,
    /// The night of the coldest zone, by the date on which it begins.
    pub coldest_night: NaiveDate,
}

/// Runs one winter.
///
/// * `scenario` — the set-up, its covers as phases, its heater as [`Scenario::heating`]
/// * `forcing` — the winter's weather
/// * `shift_k` — kelvin added to outdoors throughout: how the site differs from the station in this draw
/// * `zones` — offset and limit of every zone
///
/// # Errors
/// [`RunError`] for a scenario that cannot be run.
pub fn run_winter(
    scenario: &Scenario,
    forcing: &Forcing,
    shift_k: f64,
    zones: &[ZoneLimit],
) -> Result<WinterOutcome, RunError> {
    if zones.len() != scenario.zones.len() {
        return Err(RunError::Zones { found: zones.len() });
    }
    let nights = forcing.hours.len() / 24 + 2;
    let mut night_kwh = vec![0.0; nights];
    let mut below = vec![false; nights * zones.len()];
    let mut zone_min_c = vec![f64::INFINITY; zones.len()];
    let (mut outside_min_c, mut coldest_c, mut coldest_night) = (f64::INFINITY, f64::INFINITY, 0);
    simulate(scenario, forcing, &[shift_k], |m| {
        let night = forcing.night_of_hour(m.hour);
        night_kwh[night] += m.heat_w / 6000.0;
        outside_min_c = outside_min_c.min(m.outside_c);
        for (index, (air_c, zone)) in m.zone_c.iter().zip(zones).enumerate() {
            let zone_c = air_c + zone.offset_k;
            if zone_c < zone_min_c[index] {
                zone_min_c[index] = zone_c;
                if zone_c < coldest_c {
                    coldest_c = zone_c;
                    coldest_night = night;
                }
            }
            if zone_c < zone.limit_c {
                below[night * zones.len() + index] = true;
            }
        }
    })?;
    let heat_kwh: f64 = night_kwh.iter().sum();
    let rating_w = scenario.heating.map_or(0.0, |h| h.rating_w);
    let nights_below = (0..zones.len())
        .map(|zone| below.iter().skip(zone).step_by(zones.len()).filter(|b| **b).count() as u32)
        .collect();
    Ok(WinterOutcome {
        nights_heated: night_kwh.iter().filter(|kwh| **kwh >= HEATED_KWH).count() as u32,
        heat_kwh,
        full_hours: if rating_w > 0.0 { heat_kwh * 1000.0 / rating_w } else { 0.0 },
        zone_min_c,
        nights_below,
        outside_min_c,
        coldest_night: forcing.first_night() + Duration::days(coldest_night as i64),
    })
}

/// Shifts in kelvin for draws of how a site differs from its station: normal quantiles at equal steps of probability.
///
/// * `mean_k`, `sd_k` — what is known of the difference
/// * `draws` — how many
pub fn site_draws(mean_k: f64, sd_k: f64, draws: usize) -> Vec<f64> {
    (0..draws).map(|i| mean_k + sd_k * normal_quantile((i as f64 + 0.5) / draws as f64)).collect()
}
