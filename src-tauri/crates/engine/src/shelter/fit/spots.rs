//! Zones from one sensor that is moved around beside a fixed one.
//!
//! In each night the zone's difference is the mean of moved less fixed over the three coldest hours of the fixed sensor.
//! Nights spread alike in all zones (pooled deviation); with few nights a usual spread between nights stands in for
//! three of them. What the two sensors differ by side by side is taken off first.

use chrono::{DateTime, Utc};
use rand_pcg::Pcg32;
use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, StudentsT};
use thiserror::Error;
use ts_rs::TS;

use super::changes::normal;
use super::log::Sample;
use super::points::{binned, night_number};
use super::records::{Estimated, Told};
use crate::sun::Place;

/// Spread in K between nights of one zone that stands in for [`USUAL_NIGHTS`] nights (estimate).
const USUAL_SPREAD_K: f64 = 0.5;
/// See [`USUAL_SPREAD_K`].
const USUAL_NIGHTS: f64 = 3.0;
/// Seconds of the coldest hours that are compared.
const COLDEST_S: i64 = 3 * 3600;
/// Longest gap in seconds between readings of either sensor.
const GAP_S: i64 = 4500;
/// Deviation in K by which two sensors of a kind differ that were never compared (makers' tolerance of ±0.5 K).
const UNCOMPARED_SD_K: f64 = 0.3;
/// Draws for the chance of being the coldest.
const DRAWS: usize = 4000;
/// Chance from which a zone is called the coldest.
const CALLED: f64 = 0.8;

/// A time for which the moved sensor stayed at a place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Stay {
    /// The zone; absent for a time beside the fixed sensor, which shows by how much the two differ themselves.
    pub zone_id: Option<String>,
    /// When it was put there.
    pub from: DateTime<Utc>,
    /// When it was taken away.
    pub to: DateTime<Utc>,
}

/// A zone against the fixed sensor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ZoneOffset {
    /// The zone.
    pub zone_id: String,
    /// Nights compared; 0 for the fixed sensor's own zone.
    pub nights: u32,
    /// Kelvin warmer (+) or colder (−) than at the fixed sensor in the coldest hours.
    pub offset_k: Estimated,
    /// Chance that it is the coldest of all.
    pub coldest_chance: f64,
}

/// Every zone against the fixed sensor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SpotCheck {
    /// The zones, coldest first.
    pub zones: Vec<ZoneOffset>,
    /// The coldest, when its chance is at least four in five; else more nights are needed to tell.
    pub coldest: Option<String>,
    /// By how much the moved sensor reads above the fixed one side by side; absent where they were never compared.
    pub sensor_bias_k: Option<Estimated>,
}

/// Why zones cannot be compared.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SpotError {
    /// No night in which both sensors read.
    #[error(
        "no night has readings of both sensors while the moved one stayed in a zone; leave it at least one whole \
         night, from dusk to sunrise, in each zone"
    )]
    NoNight,
    /// A stay that ends before it begins.
    #[error("the stay from {from} ends before it begins; swap its two times")]
    Backwards {
        /// Its begin.
        from: DateTime<Utc>,
    },
}

/// Differences of one place, night by night.
struct Tried<'a> {
    zone_id: Option<&'a str>,
    nights_k: Vec<f64>,
}

impl Tried<'_> {
    fn mean_k(&self) -> f64 {
        self.nights_k.iter().sum::<f64>() / self.nights_k.len().max(1) as f64
    }
}

/// Offsets of zones from one sensor moved around.
///
/// * `place` — where, for the dark hours
/// * `fixed`, `fixed_zone_id` — readings of the sensor that stays in °C, and its zone
/// * `moved` — readings of the other in °C
/// * `stays` — where that one was; nights within none are left out
///
/// # Errors
/// [`SpotError`] where no night can be compared.
pub fn zone_offsets(
    place: Place,
    fixed: &[Sample],
    fixed_zone_id: &str,
    moved: &[Sample],
    stays: &[Stay],
) -> Result<SpotCheck, SpotError> {
    if let Some(stay) = stays.iter().find(|s| s.to <= s.from) {
        return Err(SpotError::Backwards { from: stay.from });
    }
    let mut places: Vec<Tried<'_>> = Vec::new();
    let nights = nights(place, &binned(fixed), &binned(moved));
    for night in &nights {
        let Some(stay) =
            stays.iter().find(|s| s.from.timestamp() <= night.from_s && night.to_s <= s.to.timestamp())
        else {
            continue;
        };
        let zone_id = stay.zone_id.as_deref();
        match places.iter_mut().find(|p| p.zone_id == zone_id) {
            Some(known) => known.nights_k.push(night.difference_k),
            None => places.push(Tried { zone_id, nights_k: vec![night.difference_k] }),
        }
    }
    if places.iter().all(|p| p.zone_id.is_none()) {
        return Err(SpotError::NoNight);
    }
    Ok(compare(fixed_zone_id, &places))
}

fn compare(fixed_zone_id: &str, places: &[Tried<'_>]) -> SpotCheck {
    let squares: f64 =
        places.iter().map(|p| p.nights_k.iter().map(|k| (k - p.mean_k()).powi(2)).sum::<f64>()).sum();
    let free: f64 = places.iter().map(|p| p.nights_k.len() as f64 - 1.0).sum();
    let degrees = free + USUAL_NIGHTS;
    let spread_k = ((squares + USUAL_NIGHTS * USUAL_SPREAD_K * USUAL_SPREAD_K) / degrees).sqrt();
    let reach = StudentsT::new(0.0, 1.0, degrees).map_or(2.0, |t| t.inverse_cdf(0.975));
    let figure = |value: f64, standard_error: f64| {
        let half = reach * standard_error;
        let told = match half {
            h if h > 1.5 => Told::Not,
            h if h > 0.5 => Told::Roughly,
            _ => Told::Well,
        };
        Estimated { value, standard_error, low: value - half, high: value + half, told }
    };
    let beside = places.iter().find(|p| p.zone_id.is_none());
    let bias_k = beside.map_or(0.0, Tried::mean_k);
    let bias_error_k = beside.map_or(UNCOMPARED_SD_K, |p| spread_k / (p.nights_k.len() as f64).sqrt());
    let mut zones: Vec<ZoneOffset> = places
        .iter()
        .filter_map(|p| {
            let error_k = (spread_k / (p.nights_k.len() as f64).sqrt()).hypot(bias_error_k);
            Some(ZoneOffset {
                zone_id: p.zone_id?.to_owned(),
                nights: p.nights_k.len() as u32,
                offset_k: figure(p.mean_k() - bias_k, error_k),
                coldest_chance: 0.0,
            })
        })
        .collect();
    if !zones.iter().any(|z| z.zone_id == fixed_zone_id) {
        let offset_k = Estimated { value: 0.0, standard_error: 0.0, low: 0.0, high: 0.0, told: Told::Well };
        zones.push(ZoneOffset {
            zone_id: fixed_zone_id.to_owned(),
            nights: 0,
            offset_k,
            coldest_chance: 0.0,
        });
    }
    chances(&mut zones, bias_error_k);
    zones.sort_by(|a, b| a.offset_k.value.total_cmp(&b.offset_k.value));
    let coldest = zones.iter().find(|z| z.coldest_chance >= CALLED).map(|z| z.zone_id.clone());
    SpotCheck { coldest, sensor_bias_k: beside.map(|_| figure(bias_k, bias_error_k)), zones }
}

/// How often each zone is the coldest when all are drawn within their doubt; the sensors' difference is common to all.
fn chances(zones: &mut [ZoneOffset], bias_error_k: f64) {
    let mut random = Pcg32::new(1_741, 0x0a02_bdbf_7bb3_c0a7);
    let mut wins = vec![0_u32; zones.len()];
    for _ in 0..DRAWS {
        let common = bias_error_k * normal(&mut random);
        let drawn = zones.iter().enumerate().map(|(index, z)| {
            let own = (z.offset_k.standard_error.powi(2) - bias_error_k.powi(2)).max(0.0).sqrt();
            let shared = if z.nights > 0 { common } else { 0.0 };
            (index, z.offset_k.value + own * normal(&mut random) + shared)
        });
        if let Some((coldest, _)) = drawn.min_by(|a, b| a.1.total_cmp(&b.1)) {
            wins[coldest] += 1;
        }
    }
    for (zone, wins) in zones.iter_mut().zip(wins) {
        zone.coldest_chance = f64::from(wins) / DRAWS as f64;
    }
}

/// A night in which both sensors read.
struct Compared {
    from_s: i64,
    to_s: i64,
    difference_k: f64,
}

fn nights(place: Place, fixed: &[(i64, f64)], moved: &[(i64, f64)]) -> Vec<Compared> {
    let ahead_s = (place.longitude_deg * 240.0) as i64;
    let dark = |at_s: i64| {
        DateTime::from_timestamp(at_s, 0).is_some_and(|at| place.quick_position(at).elevation_deg < 0.0)
    };
    let mut found = Vec::new();
    let mut begin = 0;
    while begin < fixed.len() {
        let number = night_number(fixed[begin].0, ahead_s);
        let length = fixed[begin..].iter().take_while(|r| night_number(r.0, ahead_s) == number).count();
        let readings: Vec<(i64, f64)> =
            fixed[begin..begin + length].iter().copied().filter(|r| dark(r.0)).collect();
        begin += length;
        found.extend(compare_night(&readings, moved));
    }
    found
}

/// The mean difference over the coldest hours; absent with gaps.
fn compare_night(fixed: &[(i64, f64)], moved: &[(i64, f64)]) -> Option<Compared> {
    let (from_s, to_s) = (fixed.first()?.0, fixed.last()?.0);
    if to_s - from_s < 2 * COLDEST_S || fixed.windows(2).any(|w| w[1].0 - w[0].0 > GAP_S) {
        return None;
    }
    let coldest_s = fixed
        .iter()
        .filter(|r| r.0 + COLDEST_S <= to_s)
        .map(|r| {
            let window: Vec<f64> =
                fixed.iter().filter(|w| (r.0..=r.0 + COLDEST_S).contains(&w.0)).map(|w| w.1).collect();
            (r.0, window.iter().sum::<f64>() / window.len() as f64)
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))?
        .0;
    let at = |at_s: i64| {
        let after = moved.partition_point(|r| r.0 < at_s);
        let (b, a) = (moved.get(after.checked_sub(1)?)?, moved.get(after)?);
        let gap_s = a.0 - b.0;
        (gap_s <= GAP_S).then(|| b.1 + (a.1 - b.1) * (at_s - b.0) as f64 / gap_s as f64)
    };
    let differences: Vec<f64> = fixed
        .iter()
        .filter(|r| (coldest_s..=coldest_s + COLDEST_S).contains(&r.0))
        .map(|r| at(r.0).map(|moved_c| moved_c - r.1))
        .collect::<Option<_>>()?;
    let difference_k = differences.iter().sum::<f64>() / differences.len().max(1) as f64;
    Some(Compared { from_s, to_s, difference_k })
}
