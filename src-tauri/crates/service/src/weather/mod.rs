//! Forecasts: fetched only where the grower turned a source on, kept, and asked for no oftener than a service wants.

mod document;
mod met_norway;
mod nights;
mod pace;
mod source;
mod us_nws;
mod web;

use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use chrono::{DateTime, TimeDelta, Utc};
use hibernacle_contract::night::TonightRequest;
use hibernacle_contract::setup::SiteRef;
use hibernacle_contract::weather::{
    ForecastFile, ForecastNight, ForecastSource, ForecastView, WeatherSettings,
};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::site::Site;
use hibernacle_engine::sun::Place;
use hibernacle_store::{Reader, StoredForecast, StoredWeatherChoice};

use crate::problem::Problem;
use crate::{Context, lookup};
use document::DocumentError;
use source::{Answer, Ask, SourceError, Spot, WeatherSource};
use web::Web;

/// Age up to which a forecast is good for a night call.
const GOOD_FOR: TimeDelta = TimeDelta::hours(12);
/// Longest text of a document that a grower saved.
const LONGEST_FILE: usize = 8 * 1024 * 1024;
/// Longest address for the service to reach the grower.
const LONGEST_CONTACT: usize = 200;

/// Where the weather services are and how long one answer is waited for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeatherServices {
    /// Base address of MET Norway's service, without a slash at its end.
    pub met_norway: String,
    /// Base address of the US National Weather Service's.
    pub us_nws: String,
    /// For the whole of one answer.
    pub timeout: Duration,
}

impl Default for WeatherServices {
    fn default() -> Self {
        Self {
            met_norway: "https://api.met.no".to_owned(),
            us_nws: "https://api.weather.gov".to_owned(),
            timeout: Duration::from_secs(15),
        }
    }
}

/// The services, asked by one at a time.
#[derive(Default)]
pub(crate) struct Services {
    at: WeatherServices,
    turn: Mutex<()>,
}

impl Services {
    pub(crate) fn at(services: WeatherServices) -> Self {
        Self { at: services, turn: Mutex::default() }
    }

    fn turn(&self) -> MutexGuard<'_, ()> {
        self.turn.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A site with its settings and the forecast at hand for it.
struct Known {
    site: Site,
    settings: WeatherSettings,
    kept: StoredForecast,
}

impl Known {
    fn read(context: &Context, site_id: Option<&str>) -> Result<Self, Failure> {
        context.read(|data| {
            let site = lookup::site_in_use(data, site_id)?;
            Self::of(data, site)
        })
    }

    fn of(data: &Reader<'_>, site: Site) -> Result<Self, Problem> {
        let settings = settings(data, &site)?;
        let (source, place) = (source_word(settings.source)?, spot(&site).key());
        let kept = data.forecast(&site.id)?.filter(|kept| kept.source == source && kept.place == place);
        let kept = kept.unwrap_or(StoredForecast { source, place, ..StoredForecast::default() });
        Ok(Self { site, settings, kept })
    }

    fn is_service(&self) -> bool {
        matches!(self.settings.source, ForecastSource::MetNorway | ForecastSource::UsNws)
    }

    /// When what is known was known: a service looks again, a file stays as old as it is.
    fn known_since(&self) -> Option<DateTime<Utc>> {
        match self.settings.source {
            ForecastSource::Off => None,
            ForecastSource::File => self.kept.issued_at_utc.or(self.kept.fetched_at_utc),
            ForecastSource::MetNorway | ForecastSource::UsNws => self.kept.fetched_at_utc,
        }
    }

    fn is_good(&self, now: DateTime<Utc>) -> bool {
        self.known_since().is_some_and(|since| now - since <= GOOD_FOR)
    }

    fn nights(&self, context: &Context) -> Result<Vec<ForecastNight>, Problem> {
        if self.settings.source == ForecastSource::Off {
            return Ok(Vec::new());
        }
        let tonight = lookup::night_at(context, &self.site)?;
        Ok(nights::nights(self.site.tz()?, Place::from(&self.site), tonight, &self.kept.hours))
    }

    fn view(self, context: &Context) -> Result<ForecastView, Failure> {
        let nights = self.nights(context)?;
        let is_off = self.settings.source == ForecastSource::Off;
        Ok(ForecastView {
            problem: if is_off { None } else { self.problem(context.now_utc(), nights.is_empty()) },
            issued_at_utc: self.kept.issued_at_utc.filter(|_| !is_off),
            fetched_at_utc: self.kept.fetched_at_utc.filter(|_| !is_off),
            next_fetch_utc: self.kept.next_fetch_utc.filter(|_| self.is_service()),
            nights,
            settings: self.settings,
        })
    }

    /// Why there is no fresh forecast, with the age of the one at hand.
    fn problem(&self, now: DateTime<Utc>, is_over: bool) -> Option<String> {
        let since = self.known_since();
        let fault = self.kept.problem.as_ref().map(|fault| sentence(fault));
        let age = since.map(|since| age(now - since));
        match (fault, age) {
            (Some(fault), None) => Some(fault),
            (Some(fault), Some(age)) if is_over => Some(format!(
                "{fault} The last good forecast is {age} old and has no night that is still to come."
            )),
            (Some(fault), Some(age)) => Some(format!("{fault} The last good forecast is {age} old.")),
            (None, None) => (self.settings.source == ForecastSource::File)
                .then(|| "No forecast was read yet; choose a document that you saved.".to_owned()),
            (None, Some(age)) if is_over => {
                Some(format!("The forecast is {age} old and has no night that is still to come."))
            }
            (None, Some(age)) if !self.is_good(now) => Some(format!("The forecast is {age} old.")),
            (None, Some(_)) => None,
        }
    }
}

/// Where a site's forecasts come from.
///
/// # Errors
/// Where no site was saved yet.
pub fn weather_settings(context: &Context, request: SiteRef) -> Result<WeatherSettings, Failure> {
    context.read(|data| {
        let site = lookup::site_in_use(data, request.site_id.as_deref())?;
        settings(data, &site)
    })
}

/// Chooses where a site's forecasts come from, and fetches the first where that is a service.
///
/// # Errors
/// Where the site does not exist or the contact cannot be sent.
pub fn weather_choose(context: &Context, chosen: WeatherSettings) -> Result<ForecastView, Failure> {
    let contact = chosen.contact.as_deref().map(str::trim).filter(|contact| !contact.is_empty());
    if let Some(contact) = contact {
        check_contact(contact)?;
    }
    let choice =
        StoredWeatherChoice { source: source_word(chosen.source)?, contact: contact.map(str::to_owned) };
    context.write(|data| {
        let site = lookup::site(data, &chosen.site_id)?;
        Ok(data.put_weather_choice(&site.id, &choice)?)
    })?;
    forecast(context, SiteRef { site_id: Some(chosen.site_id) })
}

/// The forecast of a site: the one at hand while it is fresh, else a new one from the source that was chosen; where that
/// fails, the last good one with what went wrong.
///
/// # Errors
/// Where no site was saved yet.
pub fn forecast(context: &Context, request: SiteRef) -> Result<ForecastView, Failure> {
    refreshed(context, Known::read(context, request.site_id.as_deref())?)?.view(context)
}

/// Takes in a document that the grower saved, and from then on goes by such documents.
///
/// # Errors
/// [`ErrorCode::Unreadable`] where it is no forecast that is still to come; what was known stays.
pub fn forecast_file(context: &Context, file: ForecastFile) -> Result<ForecastView, Failure> {
    let site = context.read(|data| lookup::site(data, &file.site_id))?;
    let now = context.now_utc();
    let unreadable = |message: String, line: Option<u32>| {
        Failure::new(ErrorCode::Unreadable, message).at(file.file_name.clone(), line)
    };
    if file.text.len() > LONGEST_FILE {
        return Err(unreadable("the file is longer than any forecast".to_owned(), None));
    }
    let read = document::read(&file.text).and_then(|forecast| document::still_ahead(forecast, now));
    let forecast = read.map_err(|error| {
        let line = if let DocumentError::NotJson { line, .. } = &error { Some(*line) } else { None };
        unreadable(error.to_string(), line)
    })?;
    let source = source_word(ForecastSource::File)?;
    let kept = StoredForecast {
        source: source.clone(),
        place: spot(&site).key(),
        hours: forecast.hours,
        issued_at_utc: forecast.issued_at_utc,
        fetched_at_utc: Some(now),
        ..StoredForecast::default()
    };
    context.write(|data| {
        let contact = data.weather_choice(&site.id)?.and_then(|choice| choice.contact);
        data.put_weather_choice(&site.id, &StoredWeatherChoice { source, contact })?;
        Ok(data.put_forecast(&site.id, &kept)?)
    })?;
    Known::read(context, Some(&site.id))?.view(context)
}

/// Nights ahead by a forecast that is good enough to act on.
pub(crate) struct GoodNights {
    /// The forecast's source.
    pub(crate) source: ForecastSource,
    /// Its nights; none where there is no such forecast.
    pub(crate) nights: Vec<ForecastNight>,
}

/// The nights ahead by a forecast that is good enough for a call that has no low of its own. A service is asked only when
/// what is at hand is too old.
pub(crate) fn nights_for(context: &Context, request: &TonightRequest) -> Result<GoodNights, Failure> {
    if request.low_c.is_some() {
        return Ok(GoodNights { source: ForecastSource::Off, nights: Vec::new() });
    }
    let mut known = Known::read(context, request.site_id.as_deref())?;
    let now = context.now_utc();
    if !known.is_good(now) {
        known = refreshed(context, known)?;
    }
    let nights = if known.is_good(now) { known.nights(context)? } else { Vec::new() };
    Ok(GoodNights { source: known.settings.source, nights })
}

/// Asks the service that was chosen, where it may be asked by now.
fn refreshed(context: &Context, known: Known) -> Result<Known, Failure> {
    let may_ask = |known: &Known| {
        known.is_service() && known.kept.next_fetch_utc.is_none_or(|next| context.now_utc() >= next)
    };
    if !may_ask(&known) {
        return Ok(known);
    }
    let services = context.weather();
    let _turn = services.turn();
    // Somebody else may have asked in the meantime.
    let known = Known::read(context, Some(&known.site.id))?;
    if !may_ask(&known) {
        return Ok(known);
    }
    let answer = ask(&services.at, &known);
    let kept = noted(known.kept, answer, context.now_utc(), &known.site.id);
    context.write(|data| Ok(data.put_forecast(&known.site.id, &kept)?))?;
    Ok(Known { kept, ..known })
}

fn ask(services: &WeatherServices, known: &Known) -> Result<Answer, SourceError> {
    let kept = &known.kept;
    let ask = Ask {
        spot: spot(&known.site),
        address: kept.address.as_deref(),
        last_modified: kept.last_modified.as_deref().filter(|_| !kept.hours.is_empty()),
    };
    let contact = known.settings.contact.as_deref();
    let web = |base: &str| Web::new(base, contact, services.timeout);
    match known.settings.source {
        ForecastSource::UsNws => {
            us_nws::UsNws { base: &services.us_nws, web: &web(&services.us_nws) }.read(ask)
        }
        _ => met_norway::MetNorway { base: &services.met_norway, web: &web(&services.met_norway) }.read(ask),
    }
}

/// What is at hand after an answer: a failure leaves the last good forecast as it was.
fn noted(
    kept: StoredForecast,
    answer: Result<Answer, SourceError>,
    now: DateTime<Utc>,
    who: &str,
) -> StoredForecast {
    let answer = answer.and_then(|answer| match answer {
        Answer::Fresh { forecast, address, last_modified, fresh_for } => {
            let forecast = document::still_ahead(forecast, now)?;
            Ok(Answer::Fresh { forecast, address, last_modified, fresh_for })
        }
        Answer::Unchanged { .. } => Ok(answer),
    });
    let good = |kept, fresh_for| StoredForecast {
        fetched_at_utc: Some(now),
        next_fetch_utc: Some(pace::after_success(now, fresh_for, who)),
        failures: 0,
        problem: None,
        ..kept
    };
    match answer {
        Ok(Answer::Fresh { forecast, address, last_modified, fresh_for }) => {
            let (hours, issued_at_utc) = (forecast.hours, forecast.issued_at_utc);
            good(StoredForecast { hours, issued_at_utc, address, last_modified, ..kept }, fresh_for)
        }
        Ok(Answer::Unchanged { fresh_for }) => good(kept, fresh_for),
        Err(error) => {
            let failures = kept.failures.saturating_add(1);
            let next = pace::after_failure(now, failures, error.is_lasting(), error.retry_after(), who);
            StoredForecast { failures, next_fetch_utc: Some(next), problem: Some(error.to_string()), ..kept }
        }
    }
}

fn settings(data: &Reader<'_>, site: &Site) -> Result<WeatherSettings, Problem> {
    let stored = data.weather_choice(&site.id)?;
    let source = match &stored {
        None => ForecastSource::Off,
        Some(choice) => serde_json::from_value(choice.source.as_str().into())
            .map_err(|error| Problem::new(ErrorCode::Storage, format!("the source of forecasts: {error}")))?,
    };
    let contact = stored.and_then(|choice| choice.contact);
    Ok(WeatherSettings { site_id: site.id.clone(), source, contact })
}

fn source_word(source: ForecastSource) -> Result<String, Problem> {
    match serde_json::to_value(source) {
        Ok(serde_json::Value::String(word)) => Ok(word),
        _ => Err(Problem::new(ErrorCode::Internal, "the source of forecasts has no word")),
    }
}

fn spot(site: &Site) -> Spot {
    Spot::of(site.latitude_deg, site.longitude_deg, site.elevation_m)
}

/// The contact goes into a header of HTTP.
fn check_contact(contact: &str) -> Result<(), Problem> {
    let mend = "enter an e-mail or web address, or leave it empty";
    if contact.len() > LONGEST_CONTACT {
        return Err(Problem::field("contact", "is too long", mend));
    }
    if !contact.bytes().all(|byte| byte.is_ascii_graphic() || byte == b' ') {
        return Err(Problem::field("contact", "has letters that cannot be sent", mend));
    }
    Ok(())
}

/// A fault as a sentence.
fn sentence(fault: &str) -> String {
    let mut letters = fault.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string()).unwrap_or_default();
    let end = if fault.ends_with('.') { "" } else { "." };
    format!("{first}{}{end}", letters.as_str())
}

/// An age in words: minutes up to two hours, hours up to two days.
fn age(age: TimeDelta) -> String {
    let minutes = age.num_minutes().max(0);
    match minutes {
        0..=1 => "a minute".to_owned(),
        2..120 => format!("{minutes} minutes"),
        120..2880 => format!("{} hours", minutes / 60),
        _ => format!("{} days", minutes / 1440),
    }
}
