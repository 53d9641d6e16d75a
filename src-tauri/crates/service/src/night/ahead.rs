//! The hold of a shelter over the nights ahead.

use chrono::{Days, NaiveDate};
use hibernacle_contract::Failure;
use hibernacle_contract::night::{HoldAhead, HoldRequest, TonightRequest};
use hibernacle_engine::climate::DailyTemps;
use hibernacle_engine::field::within;
use hibernacle_engine::season::{Figure, Reason};
use hibernacle_engine::shelter::Medium;
use hibernacle_engine::shelter::dynamic::Scenario;
use hibernacle_engine::shelter::night::{self, NightHold, NightOutlook};
use hibernacle_engine::sun::Place;

use super::evening::Evening;
use super::outlook::Expected;
use super::{Garden, check};
use crate::house::House;
use crate::problem::Problem;
use crate::{Context, weather};

/// Nights that are looked at where nobody says how many.
const USUAL_NIGHTS: u32 = 7;
/// Most nights that are looked at.
const MOST_NIGHTS: u32 = 14;
/// Kelvin by which a hold must change to be said to.
const WORTH_SAYING_K: f64 = 0.3;
/// Share of ice in the coldest pots from which they are said to freeze.
const FREEZING: f64 = 0.05;

/// How the hold of a shelter fades over the nights ahead, without heat.
///
/// # Errors
/// Where a field cannot be used, the shelter does not exist, or the shelter cannot be computed.
pub fn hold_ahead(context: &Context, request: HoldRequest) -> Result<HoldAhead, Failure> {
    let count = request.nights.unwrap_or(USUAL_NIGHTS);
    within("nights", f64::from(count), 1.0, f64::from(MOST_NIGHTS), "ask for one to fourteen nights")?;
    let site_id = context.read(|data| {
        let shelter = data.shelter(&request.shelter_id)?.ok_or_else(|| Problem::not_found("this shelter"))?;
        Ok(shelter.site_id)
    })?;
    let asked = TonightRequest {
        site_id: Some(site_id),
        low_c: request.low_c,
        cloud: request.cloud,
        wind_m_per_s: request.wind_m_per_s,
        lead_days: None,
        covered: request.covered,
        price_per_kwh: None,
    };
    check(&asked)?;
    let forecast = weather::nights_for(context, &asked)?;
    let garden = context.read(|data| Garden::read(context, data, &asked))?;
    let nights = (0..count)
        .map(|lead| {
            let night_of = garden.night_of.checked_add_days(Days::new(lead.into())).unwrap_or(NaiveDate::MAX);
            let asked = TonightRequest { lead_days: Some(lead), ..asked.clone() };
            garden.knowledge(&forecast).expected(night_of, &asked)
        })
        .collect::<Result<Vec<Expected>, Problem>>()?;
    let surroundings = garden.surroundings(nights[0].outlook.low_c);
    let materials = context.materials()?;
    let house = garden.records.house_of(&request.shelter_id, materials)?;
    let prices = garden.records.prices.with_electricity(None);
    let outlook = nights[0].outlook;
    let evening = Evening::new(&garden.site, materials, &surroundings, outlook, prices, &garden.doubts);
    let covers = house.covers_on(garden.night_of, request.covered, &garden.marks);
    let failed =
        |what: String| Problem::field("shelter_id", format!("cannot be computed: {what}"), "mend it");
    let scenario = evening.scenario(&house, &covers, None).map_err(failed)?;
    let offset_k: Vec<f64> = evening.limits(&house).iter().map(|zone| zone.offset_k).collect();
    let range_k = usual_range_k(&surroundings.recent);
    let outlooks: Vec<NightOutlook> = nights
        .iter()
        .map(|night| NightOutlook {
            next_high_c: night.outlook.next_high_c.or(Some(night.outlook.low_c + range_k)),
            ..night.outlook
        })
        .collect();
    let holds =
        night::hold_ahead(Place::from(&garden.site), &scenario, &surroundings.recent, &outlooks, &offset_k)
            .map_err(|error| failed(error.to_string()))?;
    let coldest = holds.iter().min_by(|a, b| a.zone_low_c.total_cmp(&b.zone_low_c));
    let zone = coldest.map_or(0, |hold| hold.coldest_zone as usize);
    let limit_c = house.limits.get(zone).and_then(|limit| limit.as_ref()).map(|limit| limit.limit_c);
    let mut reasons = reasons(&house, zone, limit_c, &scenario, &holds);
    reasons.extend(sources(&nights));
    Ok(HoldAhead {
        zone: house.zones.get(zone).map_or_else(String::new, |zone| zone.name.clone()),
        shelter_id: request.shelter_id,
        limit_c,
        nights: holds,
        reasons,
    })
}

/// Kelvin from low to high of the days before, which those of a spell have too.
fn usual_range_k(recent: &[DailyTemps]) -> f64 {
    // The last of them is bent to the night that follows it.
    let before = recent.split_last().map_or(recent, |(_, before)| before);
    let ranges: Vec<f64> = before.iter().filter_map(|day| Some(day.max_c? - day.min_c?)).collect();
    ranges.iter().sum::<f64>() / ranges.len().max(1) as f64
}

/// What the hold lives on, how it fades, and what restores it.
fn reasons(
    house: &House<'_>,
    zone: usize,
    limit_c: Option<f64>,
    scenario: &Scenario,
    holds: &[NightHold],
) -> Vec<Reason> {
    let pots_l: f64 = scenario.zones.iter().map(|zone| zone.pots_l).sum();
    let latent_kwh = pots_l / 1000.0 * Medium::POTTING_MIX.latent_j_per_m3() / 3.6e6;
    let mut reasons = vec![Reason::new("night-hold-lives-on")];
    if pots_l > 0.0 {
        reasons.push(
            Reason::new("night-hold-pots")
                .with("volume", Figure::VolumeL(pots_l))
                .with("energy", Figure::EnergyKwh(latent_kwh)),
        );
    }
    if let [first, .., last] = holds {
        let change_k = last.hold_k - first.hold_k;
        let message = match change_k {
            k if k <= -WORTH_SAYING_K => "night-hold-fades",
            k if k < WORTH_SAYING_K => "night-hold-lasts",
            _ => "night-hold-grows",
        };
        reasons.push(
            Reason::new(message)
                .with("first", Figure::DiffK(first.hold_k))
                .with("last", Figure::DiffK(last.hold_k))
                .with("nights", Figure::Count(holds.len() as u32)),
        );
    }
    let freezing = holds.iter().find(|hold| hold.pots_frozen >= FREEZING);
    let most_ice = holds.iter().map(|hold| hold.pots_frozen).fold(0.0, f64::max);
    if let Some(hold) = freezing {
        reasons.push(
            Reason::new("night-hold-freezing")
                .with("date", Figure::Date(hold.night_of))
                .with("share", Figure::Share(most_ice)),
        );
    }
    if let Some((limit, limit_c)) = house.limits.get(zone).and_then(Option::as_ref).zip(limit_c)
        && let Some(hold) = holds.iter().find(|hold| hold.zone_low_c < limit_c)
    {
        reasons.push(
            Reason::new("night-hold-limit")
                .with("date", Figure::Date(hold.night_of))
                .with("zone", Figure::Text(house.zones[zone].name.clone()))
                .with("plant", Figure::Text(limit.label.clone()))
                .with("limit", Figure::TempC(limit_c)),
        );
    }
    reasons.push(Reason::new("night-hold-restored"));
    if freezing.is_some() {
        let energy = Figure::EnergyKwh(latent_kwh * most_ice);
        reasons.push(Reason::new("night-hold-thaw").with("energy", energy));
    }
    reasons
}

/// How many of the nights are forecast and how many are usual.
fn sources(nights: &[Expected]) -> Vec<Reason> {
    use hibernacle_contract::night::LowFrom;
    let count = |from| nights.iter().filter(|night| night.from == from).count() as u32;
    [(LowFrom::Forecast, "night-hold-forecast"), (LowFrom::Climate, "night-hold-usual")]
        .into_iter()
        .filter(|(from, _)| count(*from) > 0)
        .map(|(from, message)| Reason::new(message).with("nights", Figure::Count(count(from))))
        .collect()
}
