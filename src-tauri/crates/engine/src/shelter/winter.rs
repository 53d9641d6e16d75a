//! A whole winter: nights heated, heat, cost, and how cold each zone gets.
//!
//! One call is one winter of one set-up; winters and draws are independent, so that a caller may spread them over
//! threads and add them up with [`WinterBill::of`]. Weather is prepared once per winter ([`Forcing`]) and shared by all
//! draws and set-ups of the same form.

use chrono::{Duration, NaiveDate};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::dynamic::{Forcing, RunError, Scenario, simulate};
use super::night::{ZoneLimit, normal_quantile};
use crate::climate::quantile;

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

/// A figure over many winters.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Spread {
    /// Mean.
    pub mean: f64,
    /// One winter in ten is below.
    pub low: f64,
    /// Median.
    pub median: f64,
    /// One winter in ten is above.
    pub high: f64,
}

impl Spread {
    fn of(values: impl Iterator<Item = f64>) -> Option<Self> {
        let mut sorted: Vec<f64> = values.collect();
        sorted.sort_by(f64::total_cmp);
        Some(Self {
            mean: sorted.iter().sum::<f64>() / sorted.len() as f64,
            low: quantile(&sorted, 0.1)?,
            median: quantile(&sorted, 0.5)?,
            high: quantile(&sorted, 0.9)?,
        })
    }
}

/// A set-up over many winters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WinterBill {
    /// Winters and draws counted.
    pub winters: u32,
    /// Nights heated per winter.
    pub nights_heated: Spread,
    /// Heat in kWh per winter.
    pub heat_kwh: Spread,
    /// Coldest temperature of every zone in °C.
    pub zone_min_c: Vec<Spread>,
    /// Share of winters in which each zone passes its limit at least once.
    pub zone_risk: Vec<f64>,
    /// Share of winters in which any zone does.
    pub risk: f64,
}

impl WinterBill {
    /// Adds up the winters of one set-up; absent when there are none.
    pub fn of(outcomes: &[WinterOutcome]) -> Option<Self> {
        let zones = outcomes.first()?.zone_min_c.len();
        let count = outcomes.len() as f64;
        let passes = |test: &dyn Fn(&WinterOutcome) -> bool| {
            outcomes.iter().filter(|o| test(o)).count() as f64 / count
        };
        Some(Self {
            winters: outcomes.len() as u32,
            nights_heated: Spread::of(outcomes.iter().map(|o| f64::from(o.nights_heated)))?,
            heat_kwh: Spread::of(outcomes.iter().map(|o| o.heat_kwh))?,
            zone_min_c: (0..zones)
                .map(|zone| Spread::of(outcomes.iter().map(|o| o.zone_min_c[zone])))
                .collect::<Option<_>>()?,
            zone_risk: (0..zones).map(|zone| passes(&|o| o.nights_below[zone] > 0)).collect(),
            risk: passes(&|o| o.nights_below.iter().any(|n| *n > 0)),
        })
    }
}
