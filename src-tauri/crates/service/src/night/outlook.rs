//! The night as it is reckoned with: typed, forecast, or usual for the date.

use chrono::NaiveDate;
use hibernacle_contract::night::{Cloud, LowFrom, TonightRequest};
use hibernacle_contract::weather::ForecastSource;
use hibernacle_engine::climate::SeasonDay;
use hibernacle_engine::season::{Figure, Reason};
use hibernacle_engine::shelter::night::NightOutlook;
use hibernacle_engine::site::Site;

use super::doubt::Doubts;
use crate::climate::SiteClimate;
use crate::problem::Problem;
use crate::weather::GoodNights;

/// Wind in m/s where none is given: nearly still air, as on most frosty nights.
pub(super) const STILL_AIR_M_PER_S: f64 = 1.0;
/// Standard deviations between the quantiles of 10 % and 90 %.
const TENTHS_APART: f64 = 2.563_103;
/// Widest doubt of a low in kelvin.
const WIDEST_K: f64 = 10.0;
/// Kelvin of a correction that are worth a word.
const WORTH_SAYING_K: f64 = 0.1;

/// What is expected of a night.
pub(super) struct Expected {
    /// The night; the high of the day after only where a forecast tells it.
    pub(super) outlook: NightOutlook,
    /// Where its low comes from.
    pub(super) from: LowFrom,
    /// Kelvin of the low that were added for what earlier nights had shown.
    pub(super) bias_k: f64,
    /// Clouds and wind as asked for or forecast; absent where they are taken for granted.
    pub(super) cloud: Option<Cloud>,
    pub(super) wind_m_per_s: Option<f64>,
    /// What was taken for a low that nobody gave.
    pub(super) assumed: Option<Reason>,
    /// What the low rests on.
    pub(super) rests_on: Vec<Reason>,
}

/// What is known of the nights of a site.
pub(super) struct Knowledge<'a> {
    pub(super) site: &'a Site,
    pub(super) climate: Option<&'a SiteClimate>,
    pub(super) forecast: &'a GoodNights,
    pub(super) doubts: &'a Doubts,
}

impl Knowledge<'_> {
    /// The night of a date.
    pub(super) fn expected(
        &self,
        night_of: NaiveDate,
        request: &TonightRequest,
    ) -> Result<Expected, Problem> {
        let lead_days = request.lead_days.unwrap_or_default();
        let asked = |low_c: f64, error_k: f64| NightOutlook {
            low_error_k: error_k.min(WIDEST_K),
            ..NightOutlook::forecast(
                night_of,
                low_c,
                request.cloud.map_or(0.0, Cloud::share),
                request.wind_m_per_s.unwrap_or(STILL_AIR_M_PER_S),
            )
        };
        let expected = |outlook, from| Expected {
            outlook,
            from,
            bias_k: 0.0,
            cloud: request.cloud,
            wind_m_per_s: request.wind_m_per_s,
            assumed: None,
            rests_on: Vec::new(),
        };
        if let Some(low_c) = request.low_c {
            let doubt = self.doubts.low(LowFrom::Typed, lead_days);
            let outlook = asked(low_c, doubt.error_k);
            return Ok(Expected {
                rests_on: vec![error_reason(doubt.nights, outlook.low_error_k)],
                ..expected(outlook, LowFrom::Typed)
            });
        }
        if let Some(found) = self.forecast_for(night_of, request) {
            return Ok(found);
        }
        let (low_c, error_k) = self.usual(night_of).ok_or_else(|| {
            Problem::field(
                "low_c",
                "is missing",
                "enter the outdoor low that is expected, choose a source of forecasts, or give the site a climate",
            )
        })?;
        let outlook = asked(low_c, error_k);
        let usual = Reason::new("night-low-usual")
            .with("low", Figure::TempC(low_c))
            .with("error", Figure::DiffK(outlook.low_error_k));
        Ok(Expected { assumed: Some(usual), ..expected(outlook, LowFrom::Climate) })
    }

    fn forecast_for(&self, night_of: NaiveDate, request: &TonightRequest) -> Option<Expected> {
        let night = self.forecast.nights.iter().find(|night| night.night_of == night_of)?;
        let doubt = self.doubts.low(LowFrom::Forecast, night.lead_days);
        let cloud = request.cloud.or(night.cloud_fraction.map(Cloud::Share));
        let wind_m_per_s = request.wind_m_per_s.or(night.wind_m_per_s);
        let low_c = night.low_c + doubt.bias_k;
        let outlook = NightOutlook {
            next_high_c: night.next_high_c.map(|high_c| high_c.max(low_c)),
            low_error_k: doubt.error_k.min(WIDEST_K),
            ..NightOutlook::forecast(
                night_of,
                low_c,
                cloud.map_or(0.0, Cloud::share),
                wind_m_per_s.unwrap_or(STILL_AIR_M_PER_S),
            )
        };
        let message = match self.forecast.source {
            ForecastSource::MetNorway => "night-low-met-norway",
            ForecastSource::UsNws => "night-low-us-nws",
            ForecastSource::File | ForecastSource::Off => "night-low-file",
        };
        let mut rests_on = vec![Reason::new(message).with("low", Figure::TempC(night.low_c))];
        if doubt.bias_k.abs() >= WORTH_SAYING_K {
            let side = if doubt.bias_k > 0.0 { "night-low-milder-here" } else { "night-low-colder-here" };
            rests_on.push(
                Reason::new(side)
                    .with("shift", Figure::DiffK(doubt.bias_k.abs()))
                    .with("nights", Figure::Count(doubt.nights as u32)),
            );
        }
        rests_on.push(error_reason(doubt.nights, outlook.low_error_k));
        Some(Expected {
            outlook,
            from: LowFrom::Forecast,
            bias_k: doubt.bias_k,
            cloud,
            wind_m_per_s,
            assumed: None,
            rests_on,
        })
    }

    /// Median low of a date in °C and the standard deviation of single nights around it in kelvin.
    pub(super) fn usual(&self, date: NaiveDate) -> Option<(f64, f64)> {
        let lows = self.climate?.climate.lows();
        let day = SeasonDay::of(date, self.site.hemisphere());
        let spread_k = (lows.quantile_c(day, 0.9)? - lows.quantile_c(day, 0.1)?) / TENTHS_APART;
        Some((lows.quantile_c(day, 0.5)?, spread_k))
    }
}

/// How far the outdoor low may miss, from how many nights that is known.
fn error_reason(nights: usize, error_k: f64) -> Reason {
    let error = Figure::DiffK(error_k);
    match nights {
        0 => Reason::new("night-rests-forecast").with("error", error),
        _ => Reason::new("night-rests-low-nights")
            .with("error", error)
            .with("nights", Figure::Count(nights as u32)),
    }
}
