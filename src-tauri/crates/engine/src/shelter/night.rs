//! One night ahead: how cold each zone gets without heat, below which outdoor low heat is needed, and what heating
//! costs.

use chrono::{DateTime, Duration, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, Normal};
use thiserror::Error;
use ts_rs::TS;

use super::dynamic::{Forcing, RunError, Scenario, simulate};
use crate::climate::DailyTemps;
use crate::climate::hourly::{DailyAssumptions, WeatherError, WeatherSeries, from_daily};
use crate::field::{FieldError, within};
use crate::sun::Place;

/// Draws of the forecast's error, at equal steps of probability.
const DRAWS: usize = 15;
/// Outdoor lows tried around the forecast, in kelvin.
const REACH_K: f64 = 24.0;
const REACH_STEP_K: f64 = 4.0;

/// What is known or expected of a night.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct NightOutlook {
    /// The date on which the night begins.
    pub night_of: NaiveDate,
    /// Outdoor low in °C.
    pub low_c: f64,
    /// Highest temperature of the day after in °C; absent for that of the day before.
    pub next_high_c: Option<f64>,
    /// Share of the sky under cloud, 0 to 1.
    pub cloud_fraction: f64,
    /// Wind in m/s.
    pub wind_m_per_s: f64,
    /// Standard deviation in kelvin of the outdoor low around `low_c`: 1.3 for a forecast of the coming night (UK Met
    /// Office: 86.5 % of first-night minima within 2 °C), more for later ones.
    pub low_error_k: f64,
    /// Standard deviation in kelvin of what the model misses inside; 1.5 before any temperature log.
    pub model_error_k: f64,
}

impl NightOutlook {
    /// A forecast low for the coming night under a sky, with the usual errors.
    pub fn forecast(night_of: NaiveDate, low_c: f64, cloud_fraction: f64, wind_m_per_s: f64) -> Self {
        Self {
            night_of,
            low_c,
            next_high_c: None,
            cloud_fraction,
            wind_m_per_s,
            low_error_k: 1.3,
            model_error_k: 1.5,
        }
    }

    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        within("low_c", self.low_c, -60.0, 40.0, "enter the outdoor low of the night")?;
        if let Some(high) = self.next_high_c {
            within("next_high_c", high, self.low_c, 55.0, "enter a high above the low")?;
        }
        within("cloud_fraction", self.cloud_fraction, 0.0, 1.0, "enter 0 for clear, 1 for overcast")?;
        within("wind_m_per_s", self.wind_m_per_s, 0.0, 60.0, "enter the wind of the forecast")?;
        within("low_error_k", self.low_error_k, 0.0, 10.0, "enter the usual error of the forecast")?;
        within("model_error_k", self.model_error_k, 0.0, 10.0, "enter the usual error of the model")
    }
}

/// Why there is no answer for a night.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NightError {
    /// A field of the outlook cannot be used.
    #[error(transparent)]
    Field(#[from] FieldError),
    /// The days before cannot be used.
    #[error(transparent)]
    Weather(#[from] WeatherError),
    /// The shelter cannot be run.
    #[error(transparent)]
    Run(#[from] RunError),
}

/// A zone's figures for the call.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneLimit {
    /// Kelvin by which its thermometer differs from the model's air.
    pub offset_k: f64,
    /// Temperature in °C below which its most tender planting is at risk.
    pub limit_c: f64,
}

/// Price and efficiency of the heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatPrice {
    /// Money for a kWh of heat that reaches the air.
    pub per_kwh: f64,
}

/// One zone in a night without heat.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneNight {
    /// Median of its coldest temperature in °C.
    pub low_c: f64,
    /// One night in ten is colder than this, °C.
    pub low_10_c: f64,
    /// One night in ten is milder than this, °C.
    pub low_90_c: f64,
    /// Degrees above outdoors at the coldest hours, in kelvin.
    pub hold_k: f64,
    /// Its limit in °C.
    pub limit_c: f64,
    /// Probability that it passes its limit.
    pub risk: f64,
    /// Outdoor low in °C below which it needs heat; absent where it needs none within 24 K below the outlook.
    pub heat_below_c: Option<f64>,
}

/// What heating through the night takes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HeatPlan {
    /// Thermostat setting in °C at the sensor.
    pub set_c: f64,
    /// Hours of full heat, mean over the draws.
    pub full_hours: f64,
    /// Heat in kWh, mean over the draws.
    pub heat_kwh: f64,
    /// Heat in kWh that one night in ten exceeds.
    pub heat_90_kwh: f64,
    /// Cost, mean over the draws.
    pub cost: f64,
    /// Coldest temperature of every zone in °C, median draw.
    pub zone_low_c: Vec<f64>,
    /// Probability that any zone passes its limit all the same.
    pub risk: f64,
}

/// Temperatures at a moment of the median night.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct NightPoint {
    /// When.
    pub at: DateTime<Utc>,
    /// Outdoors in °C.
    pub outside_c: f64,
    /// Every zone without heat in °C.
    pub zone_c: Vec<f64>,
    /// Every zone with heat in °C; empty without a heater.
    pub heated_c: Vec<f64>,
    /// Heat in W.
    pub heat_w: f64,
}

/// The decision for one night in figures.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct NightCall {
    /// Outdoor low of the outlook in °C.
    pub outside_low_c: f64,
    /// Every zone without heat.
    pub zones: Vec<ZoneNight>,
    /// Index of the zone that is first in need.
    pub laggard: usize,
    /// Outdoor low in °C below which heat is needed for the first zone; absent where none needs it.
    pub heat_below_c: Option<f64>,
    /// With the heater; absent without one.
    pub heating: Option<HeatPlan>,
    /// The median night from noon to noon by the sun, every half hour.
    pub course: Vec<NightPoint>,
}

/// One night of a cold spell.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct NightHold {
    /// The date on which it begins.
    pub night_of: NaiveDate,
    /// Outdoor low in °C.
    pub outside_low_c: f64,
    /// Low of the coldest zone in °C.
    pub zone_low_c: f64,
    /// Degrees above outdoors in kelvin.
    pub hold_k: f64,
    /// Share of ice in the coldest pots at the end, 0 to 1.
    pub pots_frozen: f64,
}

/// Weather up to and through a night: the recent days, the night as expected, and the day after.
///
/// * `place` — where
/// * `recent` — daily extremes in order, ending with the day on which the night begins; ten or more let the soil settle
/// * `outlook` — the night
/// * `nights` — how many nights like it follow one another, at least 1
///
/// # Errors
/// [`NightError`] when the outlook or the days cannot be used.
pub fn night_weather(
    place: Place,
    recent: &[DailyTemps],
    outlook: &NightOutlook,
    nights: usize,
) -> Result<WeatherSeries, NightError> {
    outlook.check()?;
    let mut days: Vec<DailyTemps> = recent.iter().copied().filter(|d| d.date <= outlook.night_of).collect();
    let last_high_c = days.iter().rev().find_map(|d| d.max_c).unwrap_or(outlook.low_c + 6.0);
    let high_c = outlook.next_high_c.unwrap_or(last_high_c).max(outlook.low_c);
    if days.last().is_none_or(|d| d.date < outlook.night_of) {
        let evening = DailyTemps {
            date: outlook.night_of,
            min_c: days.iter().rev().find_map(|d| d.min_c),
            max_c: Some(last_high_c),
        };
        days.push(evening);
    }
    // One day more than nights, so that the last night has its noon.
    for night in 1..=nights.max(1) as i64 + 1 {
        days.push(DailyTemps {
            date: outlook.night_of + Duration::days(night),
            min_c: Some(outlook.low_c),
            max_c: Some(high_c),
        });
    }
    let assumptions = DailyAssumptions { wind_m_per_s: outlook.wind_m_per_s, ..DailyAssumptions::default() };
    let mut series = from_daily(place, &days, assumptions)?;
    let from = night_start(place, outlook.night_of, &series);
    for hour in &mut series.hours[from..] {
        hour.cloud_fraction = outlook.cloud_fraction;
    }
    Ok(series)
}

/// Index of the first hour after noon by the sun on a date.
fn night_start(place: Place, date: NaiveDate, series: &WeatherSeries) -> usize {
    let noon = date.and_time(chrono::NaiveTime::MIN).and_utc() + Duration::hours(12)
        - Duration::seconds((place.longitude_deg * 240.0) as i64);
    let hours = (noon - series.start).num_seconds().max(0) as usize;
    hours.div_ceil(3600).min(series.hours.len())
}

/// The shift of a night's low, hour by hour: it grows from nothing at noon to the whole at midnight and stays.
fn shift_of(kelvin: f64, from: usize, hours: usize) -> Vec<f64> {
    (0..hours).map(|h| kelvin * (h.saturating_sub(from) as f64 / 12.0).min(1.0)).collect()
}

/// Outcome of one run through the night.
struct Lows {
    zone_c: Vec<f64>,
    heat_kwh: f64,
}

/// A night set up for runs with different shifts.
struct Night<'a> {
    scenario: &'a Scenario,
    forcing: Forcing,
    from: usize,
    to: usize,
    offsets_k: Vec<f64>,
}

impl<'a> Night<'a> {
    fn new(
        place: Place,
        scenario: &'a Scenario,
        series: &WeatherSeries,
        outlook: &NightOutlook,
        zones: &[ZoneLimit],
    ) -> Result<Self, NightError> {
        if zones.len() != scenario.zones.len() {
            return Err(RunError::Zones { found: zones.len() }.into());
        }
        let facings: Vec<_> = scenario
            .phases
            .first()
            .ok_or(RunError::Envelope)?
            .envelope
            .elements
            .iter()
            .map(|e| e.facing)
            .collect();
        let from = night_start(place, outlook.night_of, series);
        let mut forcing = Forcing::new(place, series, &facings);
        // A day past the night is not needed.
        let to = from + 24;
        forcing.truncate(to + 1);
        let offsets_k = zones.iter().map(|z| z.offset_k).collect();
        Ok(Self { scenario, forcing, from, to, offsets_k })
    }

    fn run(&self, scenario: &Scenario, shift_k: f64) -> Result<Lows, RunError> {
        let shift = shift_of(shift_k, self.from, self.forcing.hours.len());
        let mut zone_c = vec![f64::INFINITY; self.offsets_k.len()];
        let mut heat_kwh = 0.0;
        simulate(scenario, &self.forcing, &shift, |m| {
            if m.hour >= self.from && m.hour < self.to {
                for (low, (c, offset)) in zone_c.iter_mut().zip(m.zone_c.iter().zip(&self.offsets_k)) {
                    *low = low.min(c + offset);
                }
                heat_kwh += m.heat_w / 6000.0;
            }
        })?;
        Ok(Lows { zone_c, heat_kwh })
    }

    fn course(&self, cold: &Scenario, shift_k: f64) -> Result<Vec<NightPoint>, RunError> {
        let shift = shift_of(shift_k, self.from, self.forcing.hours.len());
        let with_offset = |zone_c: &[f64]| -> Vec<f64> {
            zone_c.iter().zip(&self.offsets_k).map(|(c, offset)| c + offset).collect()
        };
        let mut points = Vec::with_capacity(48);
        simulate(cold, &self.forcing, &shift, |m| {
            if m.hour >= self.from && m.hour < self.to && (m.step + 1) % 3 == 0 {
                let minutes = (m.hour * 60 + (m.step + 1) * 10) as i64;
                points.push(NightPoint {
                    at: self.forcing.start + Duration::minutes(minutes),
                    outside_c: m.outside_c,
                    zone_c: with_offset(m.zone_c),
                    heated_c: Vec::new(),
                    heat_w: 0.0,
                });
            }
        })?;
        if self.scenario.heating.is_some() {
            let mut next = points.iter_mut();
            simulate(self.scenario, &self.forcing, &shift, |m| {
                if m.hour >= self.from
                    && m.hour < self.to
                    && (m.step + 1) % 3 == 0
                    && let Some(point) = next.next()
                {
                    point.heated_c = with_offset(m.zone_c);
                    point.heat_w = m.heat_w;
                }
            })?;
        }
        Ok(points)
    }
}

/// The call for one night.
///
/// * `place` — where
/// * `scenario` — the shelter as it stands, covers on; its heater is the one that could run
/// * `recent` — daily extremes up to the day on which the night begins
/// * `outlook` — the night, with its doubt
/// * `zones` — offset and limit of every zone, in the scenario's order
/// * `price` — of the heat
///
/// The coldest temperature of a zone is a mixture over [`DRAWS`] equally likely outdoor lows (normal around the
/// outlook), each widened by the model's own error (normal). Zones' risks are not independent; the risk of any zone is
/// that of the worst.
///
/// # Errors
/// [`NightError`] when outlook, days or shelter cannot be used.
pub fn night_call(
    place: Place,
    scenario: &Scenario,
    recent: &[DailyTemps],
    outlook: &NightOutlook,
    zones: &[ZoneLimit],
    price: HeatPrice,
) -> Result<NightCall, NightError> {
    let series = night_weather(place, recent, outlook, 1)?;
    let night = Night::new(place, scenario, &series, outlook, zones)?;
    let cold = Scenario { heating: None, ..scenario.clone() };
    let shifts = error_draws(outlook.low_error_k);
    let draws: Vec<Lows> = shifts.iter().map(|k| night.run(&cold, *k)).collect::<Result<_, _>>()?;
    let table = response(&night, &cold)?;
    let heat_below: Vec<Option<f64>> = zones
        .iter()
        .enumerate()
        .map(|(index, zone)| crossing(&table, index, zone.limit_c).map(|shift| outlook.low_c + shift))
        .collect();
    let zone_nights: Vec<ZoneNight> = zones
        .iter()
        .enumerate()
        .map(|(index, zone)| {
            let lows: Vec<f64> = draws.iter().map(|d| d.zone_c[index]).collect();
            let low_c = mixture_quantile(&lows, outlook.model_error_k, 0.5);
            ZoneNight {
                low_c,
                low_10_c: mixture_quantile(&lows, outlook.model_error_k, 0.1),
                low_90_c: mixture_quantile(&lows, outlook.model_error_k, 0.9),
                hold_k: low_c - outlook.low_c,
                limit_c: zone.limit_c,
                risk: mixture_below(&lows, outlook.model_error_k, zone.limit_c),
                heat_below_c: heat_below[index],
            }
        })
        .collect();
    let laggard = (0..zones.len())
        .min_by(|a, b| {
            let spare = |i: usize| zone_nights[i].low_c - zone_nights[i].limit_c;
            spare(*a).total_cmp(&spare(*b))
        })
        .unwrap_or(0);
    Ok(NightCall {
        outside_low_c: outlook.low_c,
        laggard,
        heat_below_c: heat_below.into_iter().flatten().reduce(f64::max),
        heating: heat_plan(&night, outlook, zones, price, &shifts)?,
        course: night.course(&cold, 0.0)?,
        zones: zone_nights,
    })
}

fn heat_plan(
    night: &Night<'_>,
    outlook: &NightOutlook,
    zones: &[ZoneLimit],
    price: HeatPrice,
    shifts: &[f64],
) -> Result<Option<HeatPlan>, RunError> {
    let Some(heating) = night.scenario.heating.filter(|h| h.rating_w > 0.0) else { return Ok(None) };
    let draws: Vec<Lows> = shifts.iter().map(|k| night.run(night.scenario, *k)).collect::<Result<_, _>>()?;
    let heat_kwh = draws.iter().map(|d| d.heat_kwh).sum::<f64>() / draws.len() as f64;
    let mut sorted: Vec<f64> = draws.iter().map(|d| d.heat_kwh).collect();
    sorted.sort_by(f64::total_cmp);
    let risk = zones
        .iter()
        .enumerate()
        .map(|(index, zone)| {
            let lows: Vec<f64> = draws.iter().map(|d| d.zone_c[index]).collect();
            mixture_below(&lows, outlook.model_error_k, zone.limit_c)
        })
        .fold(0.0, f64::max);
    Ok(Some(HeatPlan {
        set_c: heating.set_c,
        full_hours: heat_kwh * 1000.0 / heating.rating_w,
        heat_kwh,
        heat_90_kwh: sorted[(sorted.len() * 9 / 10).min(sorted.len() - 1)],
        cost: heat_kwh * price.per_kwh,
        zone_low_c: draws[draws.len() / 2].zone_c.clone(),
        risk,
    }))
}

/// Errors of the low in kelvin at the middles of equal steps of probability, coldest first.
fn error_draws(sd_k: f64) -> Vec<f64> {
    (0..DRAWS).map(|i| sd_k * normal_quantile((i as f64 + 0.5) / DRAWS as f64)).collect()
}

/// Quantile of the standard normal distribution.
pub(super) fn normal_quantile(p: f64) -> f64 {
    Normal::standard().inverse_cdf(p)
}

/// Share of the mixture of normals around `centres` that lies below `x`.
fn mixture_below(centres: &[f64], sd: f64, x: f64) -> f64 {
    let normal = Normal::standard();
    let below = |centre: f64| {
        if sd > 0.0 { normal.cdf((x - centre) / sd) } else { f64::from(u8::from(centre < x)) }
    };
    centres.iter().map(|c| below(*c)).sum::<f64>() / centres.len() as f64
}

fn mixture_quantile(centres: &[f64], sd: f64, p: f64) -> f64 {
    let (mut low, mut high) = centres
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), c| (l.min(*c - 8.0 * sd), h.max(*c + 8.0 * sd)));
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if mixture_below(centres, sd, middle) < p {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

/// Zone lows for a row of shifts of the outdoor low, coldest first.
fn response(night: &Night<'_>, cold: &Scenario) -> Result<Vec<(f64, Vec<f64>)>, RunError> {
    let steps = (2.0 * REACH_K / REACH_STEP_K) as usize;
    (0..=steps)
        .map(|i| {
            let shift = -REACH_K + REACH_STEP_K * i as f64;
            Ok((shift, night.run(cold, shift)?.zone_c))
        })
        .collect()
}

/// Shift at which a zone meets its limit; absent when it stays above for all, the highest when it is below for all.
fn crossing(table: &[(f64, Vec<f64>)], zone: usize, limit_c: f64) -> Option<f64> {
    let (coldest, mildest) = (table.first()?, table.last()?);
    if coldest.1[zone] >= limit_c {
        return None;
    }
    let crossed = table.windows(2).rev().find_map(|pair| {
        let [(from, below), (to, above)] = [&pair[0], &pair[1]];
        let (below, above) = (below[zone], above[zone]);
        (below < limit_c && above >= limit_c)
            .then(|| from + (to - from) * (limit_c - below) / (above - below))
    });
    crossed.or(Some(mildest.0))
}

/// How the hold fades when a night repeats itself.
///
/// * `place`, `scenario`, `recent`, `outlook` — as for [`night_call`]; the heater is left off
/// * `offset_k` — of every zone
/// * `nights` — how many nights like it, 1 to 30
///
/// # Errors
/// [`NightError`] when outlook, days or shelter cannot be used.
pub fn hold_fade(
    place: Place,
    scenario: &Scenario,
    recent: &[DailyTemps],
    outlook: &NightOutlook,
    offset_k: &[f64],
    nights: usize,
) -> Result<Vec<NightHold>, NightError> {
    within("nights", nights as f64, 1.0, 30.0, "enter how many nights the spell lasts")?;
    let series = night_weather(place, recent, outlook, nights)?;
    let facings: Vec<_> = scenario
        .phases
        .first()
        .ok_or(RunError::Envelope)?
        .envelope
        .elements
        .iter()
        .map(|e| e.facing)
        .collect();
    let forcing = Forcing::new(place, &series, &facings);
    let from = night_start(place, outlook.night_of, &series);
    let cold = Scenario { heating: None, ..scenario.clone() };
    let mut holds: Vec<NightHold> = (0..nights)
        .map(|night| NightHold {
            night_of: outlook.night_of + Duration::days(night as i64),
            outside_low_c: f64::INFINITY,
            zone_low_c: f64::INFINITY,
            hold_k: 0.0,
            pots_frozen: 0.0,
        })
        .collect();
    simulate(&cold, &forcing, &[], |m| {
        let Some(night) = m.hour.checked_sub(from).map(|h| h / 24) else { return };
        let Some(hold) = holds.get_mut(night) else { return };
        let coldest = m.zone_c.iter().zip(offset_k).map(|(c, k)| c + k).fold(f64::INFINITY, f64::min);
        hold.outside_low_c = hold.outside_low_c.min(m.outside_c);
        hold.zone_low_c = hold.zone_low_c.min(coldest);
        let pots = cold.zones.iter().zip(m.pots_c).filter(|(zone, _)| zone.pots_l > 0.0);
        let coldest_pots_c = pots.map(|(_, c)| *c).fold(f64::INFINITY, f64::min);
        hold.pots_frozen = hold.pots_frozen.max(super::dynamic::pots_frozen_share(coldest_pots_c));
    })?;
    for hold in &mut holds {
        hold.hold_k = hold.zone_low_c - hold.outside_low_c;
    }
    Ok(holds)
}
