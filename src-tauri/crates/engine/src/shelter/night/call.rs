//! The call for one night.

use chrono::Duration;
use statrs::distribution::{ContinuousCDF, Normal};

use super::weather::night_start;
use super::{
    HeatPlan, HeatPrice, NightCall, NightError, NightOutlook, NightPoint, ZoneLimit, ZoneNight,
    night_weather, normal_quantile,
};
use crate::climate::DailyTemps;
use crate::climate::hourly::WeatherSeries;
use crate::shelter::dynamic::{Forcing, RunError, Scenario, simulate};
use crate::sun::Place;

/// Draws of the forecast's error, at equal steps of probability.
const DRAWS: usize = 15;
/// Outdoor lows tried around the forecast, in kelvin.
const REACH_K: f64 = 24.0;
const REACH_STEP_K: f64 = 4.0;

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
/// The coldest temperature of a zone is a mixture over fifteen equally likely outdoor lows (normal around the
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
                low_slope: slope(&table, index),
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

/// Kelvin of a zone's low for one of the outdoor low, from the shifts on either side of none.
fn slope(table: &[(f64, Vec<f64>)], zone: usize) -> f64 {
    let middle = table.len() / 2;
    let (colder, milder) = (&table[middle - 1], &table[middle + 1]);
    (milder.1[zone] - colder.1[zone]) / (milder.0 - colder.0)
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
