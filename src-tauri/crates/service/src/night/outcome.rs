//! What nights turned out to be, beside what was predicted.

use std::collections::BTreeSet;

use chrono::{Days, NaiveDate};
use hibernacle_contract::Failure;
use hibernacle_contract::night::{
    LowFrom, NightOutcome, NightRecord, NightRecords, NightRecordsRequest, ShelterNight, ZoneRecord,
    ZoneToRead,
};
use hibernacle_engine::climate::SeasonDay;
use hibernacle_engine::field::within;
use hibernacle_engine::season::Reason;
use hibernacle_engine::shelter::{Shelter, Zone};
use hibernacle_engine::site::Site;
use hibernacle_store::{PredictedZone, ReadZone, Reader, StoredOutcome, StoredPrediction};

use super::doubt::{Doubts, low_word, model_error_k};
use super::outlook::Expected;
use crate::problem::Problem;
use crate::{Context, climate, lookup};

/// Nights that are listed where nobody says how many.
const USUAL_NIGHTS: u32 = 60;
/// Most nights that are listed.
const MOST_NIGHTS: u32 = 400;
/// Days back to which a night can be entered.
const ENTERED_DAYS: u64 = 400;
/// Kelvin above the usual low of a date from which a low is taken for a slip (common practice, no source).
const TOO_MILD_K: f64 = 22.0;
/// Kelvin below outdoors from which a reading inside is taken for a slip: clear nights bring a light cover 2 K below the
/// air (Oregon row covers 1983–84).
const TOO_FAR_BELOW_K: f64 = 8.0;

/// The records of a site whose nights are told.
struct Records {
    site: Site,
    shelters: Vec<Shelter>,
    zones: Vec<Zone>,
    today: NaiveDate,
}

impl Records {
    fn read(context: &Context, data: &Reader<'_>, site: Site) -> Result<Self, Problem> {
        Ok(Self {
            shelters: data.shelters(&site.id)?,
            zones: data.zones(&site.id)?,
            today: lookup::today_at(context, &site)?,
            site,
        })
    }

    fn place(&self, zone: &Zone) -> String {
        let shelter = self.shelters.iter().find(|shelter| shelter.id == zone.shelter_id);
        format!("{}, {}", shelter.map_or("", |shelter| &shelter.name), zone.name)
    }

    /// A night as told and as it came; zones that are gone are left out.
    fn record(
        &self,
        night_of: NaiveDate,
        prediction: Option<&StoredPrediction>,
        outcome: Option<&StoredOutcome>,
    ) -> NightRecord {
        let outside_low_c = outcome.and_then(|outcome| outcome.outside_low_c);
        let zones = self.zones.iter().filter_map(|zone| {
            let predicted =
                prediction.and_then(|night| night.zones.iter().find(|told| told.zone_id == zone.id));
            let read = outcome.and_then(|night| night.zones.iter().find(|read| read.zone_id == zone.id));
            if predicted.is_none() && read.is_none() {
                return None;
            }
            let is_heated = outcome.is_some_and(|night| night.heated_shelter_ids.contains(&zone.shelter_id));
            let both = prediction.zip(predicted).zip(read.zip(outside_low_c)).filter(|_| !is_heated);
            Some(ZoneRecord {
                zone_id: zone.id.clone(),
                place: self.place(zone),
                predicted_low_c: predicted.map(|told| told.low_c),
                low_c: read.map(|read| read.low_c),
                model_error_k: both.map(|((prediction, told), (read, outside_c))| {
                    model_error_k(prediction, told, outside_c, read.low_c)
                }),
            })
        });
        NightRecord {
            night_of,
            predicted_at_utc: prediction.map(|night| night.made_at_utc),
            predicted_low_c: prediction.map(|night| night.low_c),
            outside_low_c,
            zones: zones.collect(),
            heated_shelter_ids: outcome.map_or_else(Vec::new, |night| night.heated_shelter_ids.clone()),
        }
    }
}

/// Keeps what was told of tonight, where the grower asked of a night that is typed or forecast: the last word before
/// midnight stands.
pub(super) fn keep(
    context: &Context,
    site_id: &str,
    expected: &Expected,
    doubts: &Doubts,
    shelters: &[ShelterNight],
) -> Result<(), Failure> {
    if expected.from == LowFrom::Climate {
        return Ok(());
    }
    let zones = shelters.iter().flat_map(|shelter| &shelter.zones).map(|zone| PredictedZone {
        zone_id: zone.zone_id.clone(),
        low_c: zone.low_c,
        slope: zone.low_slope,
        bias_k: doubts.bias_k(&zone.zone_id),
    });
    let prediction = StoredPrediction {
        night_of: expected.outlook.night_of,
        made_at_utc: context.now_utc(),
        low_c: expected.outlook.low_c,
        low_from: low_word(expected.from).to_owned(),
        low_bias_k: expected.bias_k,
        zones: zones.collect(),
    };
    let known = context.read(|data| Ok(data.night_prediction(site_id, prediction.night_of)?))?;
    // The same again is no change of the data.
    if known
        .is_some_and(|known| StoredPrediction { made_at_utc: prediction.made_at_utc, ..known } == prediction)
    {
        return Ok(());
    }
    context.write(|data| Ok(data.put_night_prediction(site_id, &prediction)?))
}

/// Notes what a night turned out to be. What was entered for it before makes way.
///
/// # Errors
/// Where the night is not over, a low cannot be, or a zone or shelter is not the site's.
pub fn night_outcome(context: &Context, outcome: NightOutcome) -> Result<NightRecord, Failure> {
    let stored = StoredOutcome {
        night_of: outcome.night_of,
        entered_at_utc: context.now_utc(),
        outside_low_c: outcome.outside_low_c,
        zones: outcome
            .zones
            .iter()
            .map(|zone| ReadZone { zone_id: zone.zone_id.clone(), low_c: zone.low_c })
            .collect(),
        heated_shelter_ids: outcome.heated_shelter_ids.clone(),
    };
    context.write(|data| {
        let site = lookup::site(data, &outcome.site_id)?;
        let climate = climate::usable(context, data, &site)?;
        let records = Records::read(context, data, site)?;
        let usual_c = climate.as_deref().and_then(|known| {
            let day = SeasonDay::of(outcome.night_of, records.site.hemisphere());
            known.climate.lows().quantile_c(day, 0.5)
        });
        check(&outcome, &records, usual_c)?;
        data.put_night_outcome(&records.site.id, &stored)?;
        let prediction = data.night_prediction(&records.site.id, outcome.night_of)?;
        Ok(records.record(outcome.night_of, prediction.as_ref(), Some(&stored)))
    })
}

fn check(outcome: &NightOutcome, records: &Records, usual_c: Option<f64>) -> Result<(), Problem> {
    let earliest = records.today.checked_sub_days(Days::new(ENTERED_DAYS)).unwrap_or(NaiveDate::MIN);
    if outcome.night_of >= records.today {
        let mend = "enter it in the morning, for the date on which the night began";
        return Err(Problem::field("night_of", format!("{} is not over yet", outcome.night_of), mend));
    }
    if outcome.night_of < earliest {
        let mend = "enter a night of this winter or the last";
        return Err(Problem::field("night_of", format!("{} is long past", outcome.night_of), mend));
    }
    if outcome.outside_low_c.is_none() && outcome.zones.is_empty() {
        return Err(Problem::field(
            "zones",
            "are empty, and so is the outdoor low",
            "enter at least one low",
        ));
    }
    if let Some(low_c) = outcome.outside_low_c {
        let mend = "enter the lowest temperature outdoors in °C";
        within("outside_low_c", low_c, -60.0, 35.0, mend)?;
        if usual_c.is_some_and(|usual_c| low_c > usual_c + TOO_MILD_K) {
            let problem = format!("is {low_c}, far too mild for the low of a night at this date");
            return Err(Problem::field("outside_low_c", problem, "check its sign and unit"));
        }
    }
    let mut seen = BTreeSet::new();
    for (number, zone) in outcome.zones.iter().enumerate() {
        let field = |name: &str| format!("zones[{number}].{name}");
        if !records.zones.iter().any(|known| known.id == zone.zone_id) {
            return Err(Problem::not_found("this zone"));
        }
        if !seen.insert(&zone.zone_id) {
            return Err(Problem::field(&field("zone_id"), "comes twice", "give one low for each zone"));
        }
        within(&field("low_c"), zone.low_c, -60.0, 40.0, "enter the lowest temperature of the zone in °C")?;
        if outcome.outside_low_c.is_some_and(|outside_c| zone.low_c < outside_c - TOO_FAR_BELOW_K) {
            let problem = format!("is {}, far below the low outdoors", zone.low_c);
            return Err(Problem::field(&field("low_c"), problem, "check both thermometers"));
        }
    }
    let is_known = |id: &String| records.shelters.iter().any(|shelter| shelter.id == *id);
    if outcome.heated_shelter_ids.iter().all(is_known) {
        Ok(())
    } else {
        Err(Problem::not_found("this shelter"))
    }
}

/// The nights on record, the latest first.
///
/// # Errors
/// Where no site was saved yet or more nights are asked for than are listed.
pub fn night_record(context: &Context, request: NightRecordsRequest) -> Result<NightRecords, Failure> {
    let most = request.most.unwrap_or(USUAL_NIGHTS);
    within("most", f64::from(most), 1.0, f64::from(MOST_NIGHTS), "ask for fewer nights")?;
    context.read(|data| {
        let site = lookup::site_in_use(data, request.site_id.as_deref())?;
        let records = Records::read(context, data, site)?;
        let id = &records.site.id;
        let predictions = data.night_predictions(id, NaiveDate::MIN)?;
        let outcomes = data.night_outcomes(id, NaiveDate::MIN)?;
        let dates: BTreeSet<NaiveDate> = predictions
            .iter()
            .map(|night| night.night_of)
            .chain(outcomes.iter().map(|night| night.night_of))
            .filter(|night_of| *night_of < records.today)
            .collect();
        let nights = dates.into_iter().rev().take(most as usize).map(|date| {
            let prediction = predictions.iter().find(|night| night.night_of == date);
            records.record(date, prediction, outcomes.iter().find(|night| night.night_of == date))
        });
        let zones = records.zones.iter().map(|zone| ZoneToRead {
            zone_id: zone.id.clone(),
            shelter_id: zone.shelter_id.clone(),
            place: records.place(zone),
        });
        let doubts = Doubts::read(data, id, &records.shelters, &records.zones, records.today)?;
        Ok(NightRecords { nights: nights.collect(), zones: zones.collect(), doubt: doubt(&records, &doubts) })
    })
}

fn doubt(records: &Records, doubts: &Doubts) -> Vec<Reason> {
    let mut said = doubts.low_reasons();
    let is_of_nights = |reason: &Reason| reason.message != "night-rests-handbook";
    said.extend(doubts.model_reasons(&records.shelters).into_iter().filter(is_of_nights));
    if said.is_empty() {
        said.push(Reason::new("night-doubt-none"));
    }
    said
}
