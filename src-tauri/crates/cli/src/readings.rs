//! `hibernacle readings`: loggers' files and what is stored of them.

use std::path::Path;

use hibernacle_contract::readings::{
    FileBytes, ReadingsFile, ReadingsReport, ReadingsUndo, SensorChoice, SensorPlace,
};
use hibernacle_contract::records::{
    ColumnUse, DateOrder, DecimalMark, Delimiter, LogOptions, LogUnit, MOST_BYTES, Quantity, Site,
    TextEncoding, too_large,
};
use hibernacle_contract::setup::{Overview, SiteRef};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_service::readings::{readings_import, readings_list, readings_preview, readings_undo};
use serde::Serialize;

use crate::args::{
    DecimalArg, DelimiterArg, EncodingArg, LogUnitArg, OrderArg, ReadingsCommand, ReadingsImportArgs,
};
use crate::readings_text::{list, report, undone};
use crate::session::Session;

/// What is said about all files of one call.
#[derive(Debug, Serialize)]
struct Reports {
    files: Vec<ReadingsReport>,
}

pub(crate) fn readings(session: &Session, asked: &ReadingsCommand) -> Result<(), Failure> {
    match asked {
        ReadingsCommand::Import(asked) => import(session, asked),
        ReadingsCommand::List => {
            let site = session.site()?;
            let stored = readings_list(&session.context, SiteRef { site_id: Some(site.id.clone()) })?;
            session.answer(&stored, || list(&stored, &session.wording(&site)))
        }
        ReadingsCommand::Undo { import } => {
            let site = session.site()?;
            let request = ReadingsUndo { site_id: Some(site.id.clone()), import_id: import.clone() };
            let reply = readings_undo(&session.context, request)?;
            session.answer(&reply, || undone(&reply, &session.wording(&site)))
        }
    }
}

fn import(session: &Session, asked: &ReadingsImportArgs) -> Result<(), Failure> {
    let overview = session.overview()?;
    let Some(site) = &overview.site else {
        return Err(Failure::new(ErrorCode::NotFound, session.plain().text("cli-no-site")));
    };
    let wording = session.wording(site);
    let choices = places(session, asked, site, &overview, &wording)?;
    let mut used = vec![false; choices.len()];
    let mut files = Vec::new();
    for path in &asked.files {
        let mut file = file(path, asked, site, &wording)?;
        let found = readings_preview(&session.context, file.clone())?;
        for (choice, used) in choices.iter().zip(&mut used) {
            let wanted = choice.name.to_lowercase();
            if found.sensors.iter().any(|sensor| sensor.name.to_lowercase() == wanted) {
                *used = true;
                file.sensors.push(choice.clone());
            }
        }
        files.push(file);
    }
    if let (Some((stray, _)), Some(file)) =
        (choices.iter().zip(&used).find(|(_, used)| !**used), files.first_mut())
    {
        // No file has such a sensor: the service says which ones there are.
        file.sensors.push(stray.clone());
    }
    if !asked.preview {
        refuse_unready(session, &files)?;
    }
    let run = if asked.preview { readings_preview } else { readings_import };
    let reports = files.into_iter().map(|file| run(&session.context, file)).collect::<Result<Vec<_>, _>>()?;
    let reports = Reports { files: reports };
    session.answer(&reports, || {
        let zone = overview.zones.first().map_or("", |zone| zone.name.as_str());
        reports.files.iter().map(|one| report(one, zone, &wording)).collect::<Vec<_>>().join("\n")
    })
}

/// Refuses all files where one of them leaves something open, before any is taken in.
fn refuse_unready(session: &Session, files: &[ReadingsFile]) -> Result<(), Failure> {
    for file in files.iter().filter(|_| files.len() > 1) {
        if !readings_preview(&session.context, file.clone())?.is_ready {
            // It is not ready, so that this stores nothing and says why.
            readings_import(&session.context, file.clone())?;
        }
    }
    Ok(())
}

fn file(
    path: &Path,
    asked: &ReadingsImportArgs,
    site: &Site,
    wording: &Wording,
) -> Result<ReadingsFile, Failure> {
    let shown = path.display().to_string();
    let unread = |error: std::io::Error| {
        let mut figures = FluentArgs::new();
        figures.set("problem", error.to_string());
        Failure::new(ErrorCode::Unreadable, wording.message("cli-file-unreadable", &figures)).at(&shown, None)
    };
    let file_name = path.file_name().unwrap_or(path.as_os_str()).display().to_string();
    let size = std::fs::metadata(path).map_err(unread)?.len();
    if size > MOST_BYTES {
        let refusal = too_large(&file_name, size);
        return Err(Failure::new(ErrorCode::Unreadable, refusal.to_string()).at(file_name, None));
    }
    let bytes = FileBytes(std::fs::read(path).map_err(unread)?);
    let options = options(asked, wording)?;
    Ok(ReadingsFile { site_id: Some(site.id.clone()), file_name, bytes, options, sensors: Vec::new() })
}

fn options(asked: &ReadingsImportArgs, wording: &Wording) -> Result<LogOptions, Failure> {
    let columns = asked
        .column
        .iter()
        .map(|text| {
            let form = "COLUMN=temperature|humidity|power|none";
            let (column, what) =
                text.rsplit_once('=').ok_or_else(|| malformed("column", text, form, wording))?;
            let quantity = match what.trim().to_lowercase().as_str() {
                "temperature" => Some(Quantity::Temperature),
                "humidity" => Some(Quantity::Humidity),
                "power" => Some(Quantity::Power),
                "none" => None,
                _ => return Err(malformed("column", text, form, wording)),
            };
            Ok(ColumnUse { column: column.to_owned(), quantity, sensor: None })
        })
        .collect::<Result<Vec<_>, Failure>>()?;
    Ok(LogOptions {
        encoding: asked.encoding.map(|encoding| match encoding {
            EncodingArg::Utf8 => TextEncoding::Utf8,
            EncodingArg::Utf16Le => TextEncoding::Utf16Le,
            EncodingArg::Utf16Be => TextEncoding::Utf16Be,
            EncodingArg::Windows1252 => TextEncoding::Windows1252,
        }),
        delimiter: asked.delimiter.map(|delimiter| match delimiter {
            DelimiterArg::Comma => Delimiter::Comma,
            DelimiterArg::Semicolon => Delimiter::Semicolon,
            DelimiterArg::Tab => Delimiter::Tab,
            DelimiterArg::Bar => Delimiter::Bar,
            DelimiterArg::Blanks => Delimiter::Blanks,
        }),
        decimal: asked.decimal.map(|mark| match mark {
            DecimalArg::Point => DecimalMark::Point,
            DecimalArg::Comma => DecimalMark::Comma,
        }),
        order: asked.order.map(|order| match order {
            OrderArg::Dmy => DateOrder::DayMonthYear,
            OrderArg::Mdy => DateOrder::MonthDayYear,
            OrderArg::Ymd => DateOrder::YearMonthDay,
        }),
        unit: asked.unit.map(|unit| match unit {
            LogUnitArg::C => LogUnit::Celsius,
            LogUnitArg::F => LogUnit::Fahrenheit,
            LogUnitArg::K => LogUnit::Kelvin,
        }),
        zone: asked.zone.clone(),
        header_line: asked.header_line,
        columns,
        sensor: asked.sensor.clone(),
    })
}

fn malformed(field: &str, text: &str, form: &str, wording: &Wording) -> Failure {
    let mut figures = FluentArgs::new();
    figures.set("text", text);
    figures.set("form", form);
    let failure = Failure::new(ErrorCode::Invalid, wording.message("cli-readings-choice", &figures));
    Failure { field: Some(field.to_owned()), ..failure }
}

/// Where the grower says that sensors belong.
fn places(
    session: &Session,
    asked: &ReadingsImportArgs,
    site: &Site,
    overview: &Overview,
    wording: &Wording,
) -> Result<Vec<SensorChoice>, Failure> {
    let choice = |name: &str, place| SensorChoice { name: name.trim().to_owned(), place };
    let mut choices: Vec<SensorChoice> =
        asked.outdoors.iter().map(|name| choice(name, SensorPlace::Outdoors)).collect();
    choices.extend(asked.skip.iter().map(|name| choice(name, SensorPlace::LeftOut)));
    if asked.at.is_empty() {
        return Ok(choices);
    }
    let stored = readings_list(&session.context, SiteRef { site_id: Some(site.id.clone()) })?;
    for text in &asked.at {
        let (name, place) =
            text.rsplit_once('=').ok_or_else(|| malformed("at", text, "NAME=PLACE", wording))?;
        let wanted = place.trim().to_lowercase();
        let sensor = stored.sensors.iter().find(|known| known.sensor.name.to_lowercase() == wanted);
        let zone = overview.zones.iter().find(|zone| zone.name.to_lowercase() == wanted);
        let place = match (sensor, zone) {
            (Some(known), _) => SensorPlace::Sensor { sensor_id: known.sensor.id.clone() },
            (None, Some(zone)) => SensorPlace::Zone { zone_id: zone.id.clone() },
            (None, None) => {
                let sensors = stored.sensors.iter().map(|known| known.sensor.name.as_str());
                let known: Vec<&str> =
                    sensors.chain(overview.zones.iter().map(|zone| zone.name.as_str())).collect();
                let mut figures = FluentArgs::new();
                figures.set("name", place.trim());
                figures.set("known", known.join(", "));
                let failure =
                    Failure::new(ErrorCode::NotFound, wording.message("cli-readings-no-place", &figures));
                return Err(Failure { field: Some("at".to_owned()), ..failure });
            }
        };
        choices.push(choice(name, place));
    }
    Ok(choices)
}
