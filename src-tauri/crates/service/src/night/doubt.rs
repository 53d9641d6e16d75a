//! What nights on record say of forecast and model.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Days, NaiveDate};
use hibernacle_contract::night::LowFrom;
use hibernacle_engine::season::{Figure, Reason};
use hibernacle_engine::shelter::night::{Learned, NightOutlook, PRIOR_NIGHTS, learned};
use hibernacle_engine::shelter::tonight::forecast_error_k;
use hibernacle_engine::shelter::{Shelter, Zone};
use hibernacle_store::{PredictedZone, Reader, StoredOutcome, StoredPrediction};

use crate::problem::Problem;

/// Days back from which nights count: this winter and the last.
const COUNTED_DAYS: u64 = 400;
/// Kelvin of a shift that are worth a word.
const WORTH_SAYING_K: f64 = 0.2;

/// The word under which the source of a low is kept.
pub(super) fn low_word(from: LowFrom) -> &'static str {
    match from {
        LowFrom::Typed => "typed",
        LowFrom::Forecast => "forecast",
        LowFrom::Climate => "climate",
    }
}

/// What came less what the model would have said for the outdoor low that came, in kelvin.
pub(super) fn model_error_k(
    prediction: &StoredPrediction,
    zone: &PredictedZone,
    outside_low_c: f64,
    low_c: f64,
) -> f64 {
    low_c - (zone.low_c + zone.slope * (outside_low_c - prediction.low_c))
}

/// A shelter's share in the doubt.
#[derive(Debug, Clone, Copy, PartialEq)]
struct ShelterDoubt {
    /// Standard deviation in kelvin of what the model misses.
    error_k: f64,
    /// Kelvin by which the nights shift what the model says, mean over its zones.
    shift_k: f64,
    /// Nights on record.
    nights: usize,
}

/// What nights on record say of forecast and model.
pub(super) struct Doubts {
    zone_bias_k: BTreeMap<String, f64>,
    shelters: BTreeMap<String, ShelterDoubt>,
    lows: BTreeMap<&'static str, Learned>,
}

impl Doubts {
    pub(super) fn read(
        data: &Reader<'_>,
        site_id: &str,
        shelters: &[Shelter],
        zones: &[Zone],
        today: NaiveDate,
    ) -> Result<Self, Problem> {
        let from = today.checked_sub_days(Days::new(COUNTED_DAYS)).unwrap_or(NaiveDate::MIN);
        let outcomes = data.night_outcomes(site_id, from)?;
        let predictions =
            if outcomes.is_empty() { Vec::new() } else { data.night_predictions(site_id, from)? };
        Ok(Self::of(&predictions, &outcomes, shelters, zones))
    }

    fn of(
        predictions: &[StoredPrediction],
        outcomes: &[StoredOutcome],
        shelters: &[Shelter],
        zones: &[Zone],
    ) -> Self {
        let nights: Vec<(&StoredPrediction, &StoredOutcome)> = outcomes
            .iter()
            .filter_map(|outcome| {
                let prediction = predictions.iter().find(|known| known.night_of == outcome.night_of)?;
                Some((prediction, outcome))
            })
            .collect();
        let mut zone_bias_k = BTreeMap::new();
        let doubts = shelters.iter().map(|shelter| {
            let here: Vec<&Zone> = zones.iter().filter(|zone| zone.shelter_id == shelter.id).collect();
            let (doubt, biases) = shelter_doubt(shelter, &here, &nights);
            zone_bias_k.extend(biases);
            (shelter.id.clone(), doubt)
        });
        let shelters = doubts.collect();
        let lows = [LowFrom::Typed, LowFrom::Forecast].map(|from| {
            let residuals: Vec<f64> = nights
                .iter()
                .filter(|(prediction, _)| prediction.low_from == low_word(from))
                .filter_map(|(prediction, outcome)| {
                    Some(outcome.outside_low_c? - (prediction.low_c - prediction.low_bias_k))
                })
                .collect();
            (low_word(from), learned(&residuals, forecast_error_k(0), PRIOR_NIGHTS))
        });
        Self { zone_bias_k, shelters, lows: lows.into_iter().collect() }
    }

    /// Kelvin to add to what the model says of a zone.
    pub(super) fn bias_k(&self, zone_id: &str) -> f64 {
        self.zone_bias_k.get(zone_id).copied().unwrap_or_default()
    }

    /// Standard deviation in kelvin of what the model misses in a shelter.
    pub(super) fn error_k(&self, shelter_id: &str) -> f64 {
        self.shelters.get(shelter_id).map_or_else(usual_error_k, |doubt| doubt.error_k)
    }

    /// Kelvin to add to a low of a source, its standard deviation in kelvin by the days of its lead, and the nights
    /// on record. A low that the grower typed stays as it was typed: its doubt is the wider.
    pub(super) fn low(&self, from: LowFrom, lead_days: u32) -> Learned {
        let usual = Learned { bias_k: 0.0, error_k: forecast_error_k(0), nights: 0 };
        let known = self.lows.get(low_word(from)).copied().unwrap_or(usual);
        let (bias_k, error_k) = match from {
            LowFrom::Forecast => (known.bias_k, known.error_k),
            LowFrom::Typed | LowFrom::Climate => (0.0, known.error_k.hypot(known.bias_k)),
        };
        let by_lead = forecast_error_k(lead_days) / forecast_error_k(0);
        Learned { bias_k, error_k: error_k * by_lead, nights: known.nights }
    }

    /// What the model's figures rest on, for the shelters given.
    pub(super) fn model_reasons<'s>(&self, shelters: impl IntoIterator<Item = &'s Shelter>) -> Vec<Reason> {
        let mut reasons = Vec::new();
        let mut has_handbook = false;
        for shelter in shelters {
            let Some(doubt) = self.shelters.get(&shelter.id).filter(|doubt| doubt.nights > 0) else {
                has_handbook = true;
                continue;
            };
            let of_nights = |message: &str| {
                Reason::new(message)
                    .with("place", Figure::Text(shelter.name.clone()))
                    .with("nights", Figure::Count(doubt.nights as u32))
            };
            reasons.push(of_nights("night-rests-nights").with("error", Figure::DiffK(doubt.error_k)));
            if doubt.shift_k.abs() >= WORTH_SAYING_K {
                let is_milder = doubt.shift_k > 0.0;
                let side = if is_milder { "night-rests-nights-milder" } else { "night-rests-nights-colder" };
                reasons.push(of_nights(side).with("shift", Figure::DiffK(doubt.shift_k.abs())));
            }
        }
        if has_handbook {
            let error = Figure::DiffK(usual_error_k());
            reasons.insert(0, Reason::new("night-rests-handbook").with("error", error));
        }
        reasons
    }

    /// What nights say of the lows of either source; none where there are none.
    pub(super) fn low_reasons(&self) -> Vec<Reason> {
        let known = [(LowFrom::Typed, "night-doubt-typed"), (LowFrom::Forecast, "night-doubt-forecast")];
        known
            .into_iter()
            .map(|(from, message)| (self.low(from, 0), message))
            .filter(|(low, _)| low.nights > 0)
            .map(|(low, message)| {
                Reason::new(message)
                    .with("nights", Figure::Count(low.nights as u32))
                    .with("error", Figure::DiffK(low.error_k))
            })
            .collect()
    }
}

/// Standard deviation in kelvin of what the model misses before any night is on record.
fn usual_error_k() -> f64 {
    NightOutlook::forecast(NaiveDate::default(), 0.0, 0.0, 0.0).model_error_k
}

/// The doubt of a shelter and what is to be added in each of its zones. A zone that was never read goes by the mean of
/// those that were, and keeps the usual error. Nights with heat do not count.
fn shelter_doubt(
    shelter: &Shelter,
    zones: &[&Zone],
    nights: &[(&StoredPrediction, &StoredOutcome)],
) -> (ShelterDoubt, Vec<(String, f64)>) {
    let mut by_zone: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    let mut by_night = Vec::new();
    let mut counted = BTreeSet::new();
    for (prediction, outcome) in nights {
        let Some(outside_c) = outcome.outside_low_c else { continue };
        if outcome.heated_shelter_ids.contains(&shelter.id) {
            continue;
        }
        let mut errors = Vec::new();
        for zone in zones {
            let predicted = prediction.zones.iter().find(|known| known.zone_id == zone.id);
            let read = outcome.zones.iter().find(|known| known.zone_id == zone.id);
            let Some((predicted, read)) = predicted.zip(read) else { continue };
            // Against the model alone, without what earlier nights had added.
            let error_k = model_error_k(prediction, predicted, outside_c, read.low_c) + predicted.bias_k;
            by_zone.entry(&zone.id).or_default().push(error_k);
            errors.push(error_k);
        }
        if !errors.is_empty() {
            counted.insert(outcome.night_of);
            by_night.push(errors.iter().sum::<f64>() / errors.len() as f64);
        }
    }
    let usual = usual_error_k();
    let of_house = learned(&by_night, usual, PRIOR_NIGHTS);
    let by_zone: Vec<(String, Learned)> = zones
        .iter()
        .map(|zone| {
            let found = match by_zone.get(zone.id.as_str()) {
                Some(errors) => learned(errors, usual, PRIOR_NIGHTS),
                None => Learned { error_k: usual, ..of_house },
            };
            (zone.id.clone(), found)
        })
        .collect();
    let count = by_zone.len().max(1) as f64;
    let mean =
        |value: fn(&Learned) -> f64| by_zone.iter().map(|(_, found)| value(found)).sum::<f64>() / count;
    let doubt = ShelterDoubt {
        error_k: if by_zone.is_empty() { usual } else { mean(|found| found.error_k.powi(2)).sqrt() },
        shift_k: mean(|found| found.bias_k),
        nights: counted.len(),
    };
    (doubt, by_zone.into_iter().map(|(id, found)| (id, found.bias_k)).collect())
}
