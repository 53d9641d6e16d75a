//! Climate records, typed averages and freeze statistics.
//!
//! A site keeps its imported record and its typed averages side by side; what was given last counts.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use hibernacle_contract::climate::{
    ClimateFile, ClimatePreview, ClimateSummary, FreezeRequest, SiteFreezes, TypedClimateRequest,
};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::climate::freeze::{first_autumn, last_spring};
use hibernacle_engine::climate::{
    Climate, ClimateFileError, ClimateRecord, DailyTemps, RecordFigures, TypedClimate, annual_minimum,
    freeze_report, read_climate_file, season_minima_c,
};
use hibernacle_engine::field::within;
use hibernacle_engine::site::{Hemisphere, Site};
use hibernacle_store::{Reader, StoredRecord, StoredTyped, Writer};

use crate::problem::Problem;
use crate::{Context, lookup};

/// Problems of a file that a preview lists.
const LISTED_PROBLEMS: usize = 100;

/// Thresholds that a freeze report takes at once.
const MOST_THRESHOLDS: usize = 24;

/// The climate of a site with its name.
pub(crate) struct SiteClimate {
    pub(crate) climate: Climate,
    /// Days of the record, in order; none for averages.
    pub(crate) days: Vec<DailyTemps>,
    name: String,
    typed: Option<TypedClimate>,
}

/// Years in which the design low of a shelter is undercut once.
pub(crate) const DESIGN_YEARS: u32 = 10;

impl SiteClimate {
    /// The low in °C that the climate undercuts once in [`DESIGN_YEARS`]; absent where it does not tell.
    pub(crate) fn design_low_c(&self) -> Option<f64> {
        let minimum = annual_minimum(&self.climate)?;
        minimum.returns.iter().find(|level| level.years == DESIGN_YEARS).map(|level| level.temp_c)
    }
}

/// What a climate was made from: which of the two, the revision it was given in, and the side of the equator.
type Origin = (Given, i64, Hemisphere);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Given {
    Record,
    Averages,
}

/// Climates by site, kept until another one is given.
#[derive(Default)]
pub(crate) struct Climates(Mutex<HashMap<String, (Origin, Arc<SiteClimate>)>>);

/// The climate that counts for a site; absent before one is given.
pub(crate) fn of_site(
    context: &Context,
    data: &Reader<'_>,
    site: &Site,
) -> Result<Option<Arc<SiteClimate>>, Problem> {
    let record = data.climate_record_revision(&site.id)?.map(|revision| (Given::Record, revision));
    let averages = data.typed_climate_revision(&site.id)?.map(|revision| (Given::Averages, revision));
    // Given in one go, the record counts: of equal revisions the last is taken.
    let Some((given, revision)) = averages.into_iter().chain(record).max_by_key(|(_, revision)| *revision)
    else {
        return Ok(None);
    };
    let origin = (given, revision, site.hemisphere());
    let kept = || context.climates().0.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some((made_from, climate)) = kept().get(&site.id)
        && *made_from == origin
    {
        return Ok(Some(Arc::clone(climate)));
    }
    let made = match given {
        Given::Record => data.climate_record(&site.id)?.map(|stored| from_record(stored, site.hemisphere())),
        Given::Averages => match data.typed_climate(&site.id)? {
            Some(stored) => Some(from_averages(stored.typed, site.hemisphere())?),
            None => None,
        },
    };
    let climate = made.map(Arc::new);
    if let Some(climate) = &climate {
        kept().insert(site.id.clone(), (origin, Arc::clone(climate)));
    }
    Ok(climate)
}

fn from_record(stored: StoredRecord, hemisphere: Hemisphere) -> SiteClimate {
    let station = &stored.record.station;
    let names = [&station.name, &station.id, &stored.file_name];
    let name = names.into_iter().find(|name| !name.trim().is_empty()).cloned().unwrap_or_default();
    SiteClimate {
        climate: Climate::from_record(&stored.record, hemisphere),
        days: stored.record.days,
        name,
        typed: None,
    }
}

fn from_averages(typed: TypedClimate, hemisphere: Hemisphere) -> Result<SiteClimate, Problem> {
    let climate = Climate::from_typed(&typed, hemisphere)?;
    Ok(SiteClimate { climate, days: Vec::new(), name: "typed averages".to_owned(), typed: Some(typed) })
}

/// The climate that counts for a site; absent before one is given, and where typed averages stopped to fit the site
/// because it was moved.
pub(crate) fn usable(
    context: &Context,
    data: &Reader<'_>,
    site: &Site,
) -> Result<Option<Arc<SiteClimate>>, Problem> {
    match of_site(context, data, site) {
        Err(Problem(failure)) if failure.code == ErrorCode::Invalid => Ok(None),
        found => found,
    }
}

/// The climate of a site in a few figures; absent before one is given, and where typed averages stopped to fit
/// the site because it was moved.
pub(crate) fn summary(
    context: &Context,
    data: &Reader<'_>,
    site: &Site,
) -> Result<Option<ClimateSummary>, Problem> {
    let Some(found) = usable(context, data, site)? else { return Ok(None) };
    let climate = &found.climate;
    let hemisphere = site.hemisphere();
    let start_year = hemisphere.season_year(lookup::today_at(context, site)?);
    let minima_c = season_minima_c(climate);
    let mean_c = minima_c.iter().sum::<f64>() / minima_c.len() as f64;
    let median = |dates: hibernacle_engine::climate::FreezeDates| {
        dates.date_with_chance(0.5).map(|day| day.date(start_year, hemisphere))
    };
    Ok(Some(ClimateSummary {
        basis: climate.basis().clone(),
        name: found.name.clone(),
        first_freeze: median(first_autumn(climate, 0.0)),
        last_freeze: median(last_spring(climate, 0.0)),
        annual_minimum_c: (minima_c.len() > 1).then_some(mean_c),
        typed: found.typed,
    }))
}

/// Shows what would be imported; nothing is stored. Before there is a site (an empty identifier) seasons are counted
/// for the station's own hemisphere.
///
/// # Errors
/// Where the file cannot be understood or the site does not exist.
pub fn climate_preview(context: &Context, file: ClimateFile) -> Result<ClimatePreview, Failure> {
    let of_site = match file.site_id.as_str() {
        "" => None,
        id => Some(context.read(|data| lookup::site(data, id))?.hemisphere()),
    };
    let record = read(&file)?;
    let of_station = || Hemisphere::of_latitude(record.station.latitude_deg.unwrap_or_default());
    let figures = RecordFigures::of(&record, of_site.unwrap_or_else(of_station)).ok_or_else(|| {
        Failure::new(ErrorCode::Unreadable, format!("“{}” has no day with a minimum", file.file_name))
            .at(&file.file_name, None)
    })?;
    let problem_count = u32::try_from(record.problems.len()).unwrap_or(u32::MAX);
    let mut problems = record.problems;
    problems.truncate(LISTED_PROBLEMS);
    Ok(ClimatePreview { source: record.source, station: record.station, figures, problems, problem_count })
}

/// Gives a site the record of a file; a former record makes way.
///
/// # Errors
/// Where the file cannot be understood or the site does not exist; nothing is stored then.
pub fn climate_import(context: &Context, file: ClimateFile) -> Result<ClimateSummary, Failure> {
    let record = read(&file)?;
    context.write(|data| put_record(context, data, &file, record))?;
    summary_of(context, &file.site_id)
}

/// Stores the record that was read from a file.
pub(crate) fn put_record(
    context: &Context,
    data: &Writer<'_>,
    file: &ClimateFile,
    record: ClimateRecord,
) -> Result<(), Problem> {
    lookup::site(data, &file.site_id)?;
    let file_name = file.file_name.clone();
    let stored = StoredRecord { file_name, imported_at_utc: context.now_utc(), record };
    Ok(data.put_climate_record(&file.site_id, &stored)?)
}

/// Gives a site averages that the grower knows by heart; an imported record is kept but does not count.
///
/// # Errors
/// Where the averages do not fit each other or the site, or the site does not exist.
pub fn climate_type(context: &Context, request: TypedClimateRequest) -> Result<ClimateSummary, Failure> {
    context.write(|data| put_averages(context, data, &request))?;
    summary_of(context, &request.site_id)
}

/// Stores averages that fit each other and the site.
pub(crate) fn put_averages(
    context: &Context,
    data: &Writer<'_>,
    request: &TypedClimateRequest,
) -> Result<(), Problem> {
    let typed = request.typed;
    let site = lookup::site(data, &request.site_id)?;
    from_averages(typed, site.hemisphere())?;
    let stored = StoredTyped { typed_at_utc: context.now_utc(), typed };
    Ok(data.put_typed_climate(&request.site_id, &stored)?)
}

/// Freeze statistics of a site, with dates in the season that today falls in.
///
/// # Errors
/// Where a threshold is out of range, the site does not exist or has no climate.
pub fn climate_freeze(context: &Context, request: FreezeRequest) -> Result<SiteFreezes, Failure> {
    if request.thresholds_c.len() > MOST_THRESHOLDS {
        let problem = format!("has {} entries, more than {MOST_THRESHOLDS}", request.thresholds_c.len());
        return Err(Problem::field("thresholds_c", problem, "ask for fewer at a time").into());
    }
    for (index, threshold_c) in request.thresholds_c.iter().enumerate() {
        let field = format!("thresholds_c[{index}]");
        within(&field, *threshold_c, -60.0, 25.0, "enter a nightly low in °C")?;
    }
    let (site, climate) = context.read(|data| {
        let site = lookup::site(data, &request.site_id)?;
        let climate = of_site(context, data, &site)?.ok_or_else(|| missing(&site))?;
        Ok((site, climate))
    })?;
    let start_year = site.hemisphere().season_year(lookup::today_at(context, &site)?);
    Ok(SiteFreezes {
        station: climate.name.clone(),
        report: freeze_report(&climate.climate, &request.thresholds_c, start_year),
    })
}

/// The refusal of everything that needs a climate.
pub(crate) fn missing(site: &Site) -> Problem {
    let message = format!(
        "{} has no climate yet, so nothing can be dated; import a climate file or type averages",
        site.name
    );
    Problem::new(ErrorCode::Conflict, message)
}

fn summary_of(context: &Context, site_id: &str) -> Result<ClimateSummary, Failure> {
    context.read(|data| {
        let site = lookup::site(data, site_id)?;
        summary(context, data, &site)?.ok_or_else(|| missing(&site))
    })
}

/// Reads a file without storing anything.
pub(crate) fn read(file: &ClimateFile) -> Result<ClimateRecord, Failure> {
    read_climate_file(&file.file_name, &file.text, file.plain_unit).map_err(|error: ClimateFileError| {
        Failure {
            field: error.field().map(str::to_owned),
            ..Failure::new(ErrorCode::Unreadable, error.to_string()).at(error.file(), error.line())
        }
    })
}
