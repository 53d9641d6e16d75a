//! The night call: how cold it gets in each zone, whether heat is needed, and why.

mod ahead;
mod doubt;
mod evening;
mod outcome;
mod outlook;
mod says;

use std::collections::BTreeSet;
use std::sync::Arc;

use hibernacle_contract::night::{ShelterNight, TonightCall, TonightRequest};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::field::{FieldError, within};
use hibernacle_engine::season::{Caution, Mark, Reason};
use hibernacle_engine::shelter::Surroundings;
use hibernacle_engine::shelter::night::NightOutlook;
use hibernacle_engine::shelter::tonight::NightStep;
use hibernacle_engine::site::Site;
use hibernacle_store::Reader;

use crate::climate::{self, SiteClimate};
use crate::house::{House, SiteRecords};
use crate::problem::Problem;
use crate::weather::{self, GoodNights};
use crate::{Context, lookup};
pub use ahead::hold_ahead;
use doubt::Doubts;
use evening::Evening;
pub use outcome::{night_outcome, night_record};
use outlook::Knowledge;

/// Longest lead in days.
const LONGEST_LEAD: u32 = 10;

/// The night call for every shelter of a site.
///
/// # Errors
/// Where a field cannot be used, no site was saved yet, or the site has no shelter.
pub fn tonight(context: &Context, request: TonightRequest) -> Result<TonightCall, Failure> {
    check(&request)?;
    let forecast = weather::nights_for(context, &request)?;
    let garden = context.read(|data| Garden::read(context, data, &request))?;
    let expected = garden.knowledge(&forecast).expected(garden.night_of, &request)?;
    let surroundings = garden.surroundings(expected.outlook.low_c);
    let outlook = NightOutlook {
        next_high_c: expected.outlook.next_high_c.or(Some(surroundings.next_high_c)),
        ..expected.outlook
    };
    let materials = context.materials()?;
    let prices = garden.records.prices.with_electricity(request.price_per_kwh);
    let evening = Evening::new(&garden.site, materials, &surroundings, outlook, prices, &garden.doubts);
    let houses = garden.records.houses(materials)?;
    let mut shelters = evening.shelters(&houses, &garden.records.plants, |house| {
        house.covers_on(garden.night_of, request.covered, &garden.marks)
    });
    let todo = says::todo(&shelters, &garden.records.plantings, &outlook);
    // What a forecast tells is not taken for granted.
    let told =
        TonightRequest { cloud: expected.cloud, wind_m_per_s: expected.wind_m_per_s, ..request.clone() };
    let mut assumed: Vec<Reason> = expected.assumed.iter().cloned().collect();
    assumed.extend(says::assumed(&told, &houses, &shelters, materials));
    let cautions = cautions(&houses, &shelters);
    shelters.sort_by(|a, b| says::urgency(b).total_cmp(&says::urgency(a)));
    if request.lead_days.unwrap_or_default() == 0 {
        outcome::keep(context, &garden.site.id, &expected, &garden.doubts, &shelters)?;
    }
    let mut rests_on = garden.doubts.model_reasons(&garden.records.shelters);
    rests_on.extend(expected.rests_on);
    rests_on.push(says::days_known_from(surroundings.known_from));
    let most_urgent = shelters.first().map(|shelter| garden.doubts.error_k(&shelter.shelter_id));
    Ok(TonightCall {
        outlook: NightOutlook { model_error_k: most_urgent.unwrap_or(outlook.model_error_k), ..outlook },
        site: garden.site,
        low_from: expected.from,
        todo,
        shelters,
        assumed,
        rests_on,
        cautions,
    })
}

fn check(request: &TonightRequest) -> Result<(), FieldError> {
    if let Some(low_c) = request.low_c {
        within("low_c", low_c, -60.0, 25.0, "enter the outdoor low that is expected, in °C")?;
    }
    if let Some(cloud) = request.cloud {
        within("cloud", cloud.share(), 0.0, 1.0, "enter 0 for a clear sky up to 1 for an overcast one")?;
    }
    if let Some(wind) = request.wind_m_per_s {
        within("wind_m_per_s", wind, 0.0, 60.0, "enter the wind of the night in m/s")?;
    }
    if let Some(price) = request.price_per_kwh {
        within("price_per_kwh", price, 0.0, 1000.0, "enter the price of a kWh of electricity")?;
    }
    let lead = f64::from(request.lead_days.unwrap_or_default());
    within("lead_days", lead, 0.0, f64::from(LONGEST_LEAD), "ask for a night within ten days")
}

/// What the night call needs of a site.
struct Garden {
    site: Site,
    records: SiteRecords,
    climate: Option<Arc<SiteClimate>>,
    marks: Vec<Mark>,
    doubts: Doubts,
    night_of: chrono::NaiveDate,
}

impl Garden {
    fn read(context: &Context, data: &Reader<'_>, request: &TonightRequest) -> Result<Self, Problem> {
        let site = lookup::site_in_use(data, request.site_id.as_deref())?;
        let records = SiteRecords::read(context, data, &site.id)?;
        if records.shelters.is_empty() {
            let message = format!(
                "{} has no shelter yet, so there is no night to call; add the greenhouse, garage or cellar in which \
                 your plants spend the winter",
                site.name
            );
            return Err(Problem::new(ErrorCode::Conflict, message));
        }
        let lead = chrono::Days::new(request.lead_days.unwrap_or_default().into());
        let tonight = lookup::night_at(context, &site)?;
        let night_of = tonight.checked_add_days(lead).ok_or_else(|| {
            Problem::field("lead_days", "is too far ahead", "ask for a night within ten days")
        })?;
        let start_year = site.hemisphere().season_year(night_of);
        Ok(Self {
            climate: climate::usable(context, data, &site)?,
            marks: data.standing_marks(&site.id, start_year)?,
            doubts: Doubts::read(data, &site.id, &records.shelters, &records.zones, tonight)?,
            records,
            night_of,
            site,
        })
    }

    fn knowledge<'a>(&'a self, forecast: &'a GoodNights) -> Knowledge<'a> {
        Knowledge { site: &self.site, climate: self.climate.as_deref(), forecast, doubts: &self.doubts }
    }

    fn surroundings(&self, low_c: f64) -> Surroundings {
        let climate = self.climate.as_deref();
        Surroundings::of(
            self.site.latitude_deg,
            climate.map(|known| &known.climate),
            climate.map_or(&[], |known| &known.days),
            self.night_of,
            low_c,
        )
    }
}

/// Cautions for what is to be done.
fn cautions(houses: &[House<'_>], shelters: &[ShelterNight]) -> Vec<Caution> {
    use hibernacle_contract::night::AlternativeKind;
    let mut cautions = BTreeSet::new();
    let nights = houses.iter().zip(shelters);
    for (house, shelter) in nights.filter(|(_, shelter)| shelter.step != NightStep::Rest) {
        if let Some(heat) = house.heat.as_ref().filter(|_| shelter.heating.is_some()) {
            cautions.extend(heat.cautions());
        }
        for alternative in &shelter.alternatives {
            match alternative.kind {
                AlternativeKind::Cover => {
                    cautions.insert(Caution::Ladder);
                }
                AlternativeKind::Move => {
                    cautions.insert(Caution::HeavyLift);
                }
                AlternativeKind::LowerSetting => {}
            }
        }
    }
    cautions.into_iter().collect()
}
