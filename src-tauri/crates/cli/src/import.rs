//! `hibernacle climate import`: a station's record for a place, or for a new place.

use std::path::Path;

use hibernacle_contract::climate::{ClimateFile, ClimatePreview, ClimateSummary};
use hibernacle_contract::records::{LengthUnit, Site, TemperatureUnit, Units, VolumeUnit, WorkTime};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_service::climate::{climate_import, climate_preview};
use hibernacle_service::setup::site_save;

use crate::args::ImportArgs;
use crate::layout::{marked, paragraph};
use crate::session::Session;

/// Problems of a file that are shown one by one.
const PROBLEMS_SHOWN: usize = 10;

pub(crate) fn import(session: &Session, asked: &ImportArgs) -> Result<(), Failure> {
    let overview = session.overview()?;
    if let Some(name) = &asked.new_site
        && overview.sites.iter().any(|site| site.name.to_lowercase() == name.to_lowercase())
    {
        let mut figures = FluentArgs::new();
        figures.set("name", name.as_str());
        let message = session.plain().message("cli-import-site-there", &figures);
        return Err(Failure::new(ErrorCode::Conflict, message));
    }
    let known = overview.site.filter(|_| asked.new_site.is_none());
    if known.is_none() && asked.new_site.is_none() {
        return Err(Failure::new(ErrorCode::NotFound, session.plain().text("cli-import-no-site")));
    }
    let text = read(&asked.file, &session.plain())?;
    let mut file = ClimateFile {
        site_id: known.as_ref().map_or_else(String::new, |site| site.id.clone()),
        file_name: asked.file.file_name().unwrap_or(asked.file.as_os_str()).display().to_string(),
        text,
        plain_unit: match (asked.fahrenheit, asked.celsius) {
            (true, _) => Some(TemperatureUnit::Fahrenheit),
            (_, true) => Some(TemperatureUnit::Celsius),
            _ => None,
        },
    };
    // Looked at first, so that a file that cannot be used leaves no empty place behind.
    let preview = climate_preview(&session.context, file.clone())?;
    let site = match known {
        Some(site) => site,
        None => site_save(&session.context, new_site(asked, &preview, session)?)?,
    };
    file.site_id.clone_from(&site.id);
    let summary = climate_import(&session.context, file)?;
    session.answer(&summary, || report(&summary, &preview, &site, asked, &session.wording(&site)))
}

/// The text of a file.
pub(crate) fn read(file: &Path, wording: &Wording) -> Result<String, Failure> {
    let name = file.display().to_string();
    let bytes = std::fs::read(file).map_err(|error| {
        let mut figures = FluentArgs::new();
        figures.set("problem", error.to_string());
        Failure::new(ErrorCode::Unreadable, wording.message("cli-file-unreadable", &figures))
            .at(name.clone(), None)
    })?;
    String::from_utf8(bytes).map_err(|error| {
        let before = &error.as_bytes()[..error.utf8_error().valid_up_to()];
        let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
        Failure::new(ErrorCode::Unreadable, wording.text("cli-file-not-text"))
            .at(name, u32::try_from(line).ok())
    })
}

/// A new place at the station's coordinates, or at those typed.
fn new_site(asked: &ImportArgs, preview: &ClimatePreview, session: &Session) -> Result<Site, Failure> {
    let station = &preview.station;
    let (Some(latitude_deg), Some(longitude_deg)) =
        (asked.lat.or(station.latitude_deg), asked.lon.or(station.longitude_deg))
    else {
        return Err(Failure::new(ErrorCode::Invalid, session.plain().text("cli-import-no-place"))
            .at(asked.file.display().to_string(), None));
    };
    let time_zone = match &asked.time_zone {
        Some(zone) => zone.clone(),
        None => iana_time_zone::get_timezone().unwrap_or_else(|_| "Etc/UTC".to_owned()),
    };
    let (units, currency) = if asked.us_units {
        let units = Units {
            temperature: TemperatureUnit::Fahrenheit,
            length: LengthUnit::Foot,
            volume: VolumeUnit::UsGallon,
        };
        (units, "USD")
    } else {
        (session.plain().units(), "EUR")
    };
    Ok(Site {
        id: String::new(),
        name: asked.new_site.clone().unwrap_or_default(),
        latitude_deg,
        longitude_deg,
        elevation_m: asked.elevation.or(station.elevation_m).unwrap_or(0.0),
        time_zone,
        currency: currency.to_owned(),
        units,
        work: WorkTime { days: Vec::new(), hours_per_day: 2.0 },
    })
}

fn report(
    summary: &ClimateSummary,
    preview: &ClimatePreview,
    site: &Site,
    asked: &ImportArgs,
    wording: &Wording,
) -> String {
    let date = |date: Option<chrono::NaiveDate>| {
        date.map_or_else(|| wording.text("cli-none"), |date| wording.date(date))
    };
    let mut figures = FluentArgs::new();
    figures.set("site", site.name.as_str());
    figures.set("zone", site.time_zone.as_str());
    figures.set("coordinates", wording.coordinates(site));
    figures.set("name", summary.name.as_str());
    figures.set("kind", wording.word(preview.source));
    figures.set("first", wording.date(preview.figures.first_day));
    figures.set("last", wording.date(preview.figures.last_day));
    figures.set("days", preview.figures.days_with_min);
    figures.set("seasons", preview.figures.seasons);
    figures.set("missing", wording.share(preview.figures.missing_share));
    figures.set("lowest", wording.temperature(preview.figures.lowest.0));
    figures.set("lowest_date", wording.date(preview.figures.lowest.1));
    figures.set("autumn", date(summary.first_freeze));
    figures.set("spring", date(summary.last_freeze));
    figures.set("freezing", wording.temperature(0.0));
    figures.set("problems", preview.problem_count);
    let mut text = String::new();
    if asked.new_site.is_some() {
        text += &paragraph(&wording.message("cli-import-new-site", &figures), "");
    }
    text += &paragraph(&wording.message("cli-import-read", &figures), "");
    text += &paragraph(&wording.message("cli-import-lowest", &figures), "");
    text += &paragraph(&wording.message("cli-import-freeze", &figures), "");
    if let Some(minimum_c) = summary.annual_minimum_c {
        figures.set("minimum", wording.temperature(minimum_c));
        text += &paragraph(&wording.message("cli-import-coldest", &figures), "");
    }
    if preview.problem_count > 0 {
        text += &paragraph(&wording.message("cli-import-problems", &figures), "");
    }
    for problem in preview.problems.iter().take(PROBLEMS_SHOWN) {
        let mut figures = FluentArgs::new();
        figures.set("line", problem.line.to_string());
        figures.set("what", problem.what.as_str());
        text += &marked(&wording.message("cli-import-problem", &figures), "  ", "    ");
    }
    text
}
