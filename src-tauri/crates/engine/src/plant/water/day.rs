//! The air around a pot, day by day.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::plant::dormancy::ZoneTemps;
use crate::shelter::{Light, ShelterKind};

/// A day of a zone as a pot feels it; what is absent is assumed and reported.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct AirDay {
    /// Its date.
    pub date: NaiveDate,
    /// Lowest in °C.
    pub min_c: f64,
    /// Mean in °C.
    pub mean_c: f64,
    /// Highest in °C.
    pub max_c: f64,
    /// Mean of the root ball in °C.
    pub root_mean_c: f64,
    /// Mean relative humidity over water, 0 to 1.
    pub relative_humidity: Option<f64>,
    /// Solar radiation on the plants in MJ/m².
    pub light_mj_per_m2: Option<f64>,
    /// Share of the day in which a heater blew, 0 to 1.
    pub heater_share: f64,
    /// Whether a fan or open vents stirred the air.
    pub is_stirred: bool,
}

/// The days of a zone from its temperatures alone; humidity, light and heater are left to be assumed or filled in.
///
/// * `air` — temperatures of the zone
/// * `roots` — temperatures inside the pots, where known; else the daily mean of the air
pub fn air_days(air: &ZoneTemps, roots: Option<&ZoneTemps>) -> Vec<AirDay> {
    let root_means: std::collections::BTreeMap<NaiveDate, f64> =
        roots.into_iter().flat_map(ZoneTemps::days).map(|day| (day.date, day.mean_c())).collect();
    air.days()
        .map(|day| AirDay {
            date: day.date,
            min_c: day.min_c(),
            mean_c: day.mean_c(),
            max_c: day.max_c(),
            root_mean_c: root_means.get(&day.date).copied().unwrap_or_else(|| day.mean_c()),
            relative_humidity: None,
            light_mj_per_m2: None,
            heater_share: 0.0,
            is_stirred: false,
        })
        .collect()
}

/// What stands in for humidity and light that were not measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct UsualAir {
    /// Mean relative humidity, 0 to 1.
    pub relative_humidity: f64,
    /// Solar radiation on the plants in MJ/(m² d).
    pub light_mj_per_m2: f64,
}

impl UsualAir {
    /// Usual winter air of a kind of shelter and light of a zone: values from memory.
    pub fn of(kind: ShelterKind, light: Light) -> Self {
        let relative_humidity = match kind {
            ShelterKind::Greenhouse | ShelterKind::Cellar => 0.85,
            ShelterKind::ColdFrame | ShelterKind::WrappedBed => 0.90,
            ShelterKind::Garage => 0.75,
            ShelterKind::Porch => 0.70,
            ShelterKind::Room => 0.45,
        };
        let light_mj_per_m2 = match light {
            Light::Dark => 0.05,
            Light::Dim => 0.5,
            Light::Bright => 2.0,
        };
        Self { relative_humidity, light_mj_per_m2 }
    }
}
