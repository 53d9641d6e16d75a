//! Readings: import of loggers' files, what is stored, and series for charts.

mod place;

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use hibernacle_contract::readings::{
    FileSensor, FileSeries, ImportEntry, ReadingsFile, ReadingsList, ReadingsReport, ReadingsUndo,
    ReadingsUndone, SensorHealth, SensorPlace, SeriesHealth, SeriesPoint, SeriesRequest, SeriesView,
};
use hibernacle_contract::setup::SiteRef;
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::readings::{
    LogFile, LogFileError, LogQuestion, LogSeries, LogSetting, gaps, read_log, usual_step_s,
};
use hibernacle_engine::shelter::Sensor;
use hibernacle_engine::site::Site;
use hibernacle_store::{
    ImportedSensor, NewImport, NewRemoval, Reader, RemovedKind, Span, StoredImport, StoredSeries, Writer,
};
use sha2::{Digest, Sha256};

use crate::problem::Problem;
use crate::{Context, lookup, shelter};

/// Days before the last reading in which gaps are looked for.
const GAP_DAYS: i64 = 400;

/// Points of a chart where nothing is said, and most that are given.
const USUAL_POINTS: u32 = 1000;
const MOST_POINTS: u32 = 10_000;

/// A file as it was read, with what is known of it.
struct Looked {
    file: LogFile,
    sha256: String,
}

fn setting(context: &Context, site: &Site) -> Result<LogSetting, Problem> {
    Ok(LogSetting {
        time_zone: site.tz()?,
        now_utc: context.now_utc(),
        usual_unit: site.units.temperature,
        latitude_deg: site.latitude_deg,
    })
}

fn look(context: &Context, site: &Site, asked: &ReadingsFile) -> Result<Looked, Failure> {
    let setting = setting(context, site)?;
    let file = read_log(&asked.file_name, &asked.bytes.0, &asked.options, &setting).map_err(unreadable)?;
    let digest = Sha256::digest(&asked.bytes.0);
    Ok(Looked { file, sha256: digest.iter().map(|byte| format!("{byte:02x}")).collect() })
}

fn unreadable(error: LogFileError) -> Failure {
    let code = match error {
        LogFileError::Option { .. } => ErrorCode::Invalid,
        _ => ErrorCode::Unreadable,
    };
    Failure {
        field: error.field().map(str::to_owned),
        ..Failure::new(code, error.to_string()).at(error.file(), error.line())
    }
}

/// What is known of a file at a site before it is imported.
fn report(
    data: &Reader<'_>,
    site: &Site,
    asked: &ReadingsFile,
    looked: &Looked,
) -> Result<ReadingsReport, Problem> {
    let imports = data.imports(&site.id)?;
    let sensors = place::places(data, site, &looked.file, &asked.sensors, &imports)?;
    let mut series = Vec::with_capacity(looked.file.series.len());
    for one in &looked.file.series {
        let known = match place_of(&sensors, &one.figures.sensor) {
            Some(SensorPlace::Sensor { sensor_id }) => known(data, sensor_id, one)?,
            _ => 0,
        };
        series.push(FileSeries { figures: one.figures.clone(), added: one.figures.accepted - known, known });
    }
    let is_ready = looked.file.questions.is_empty()
        && !sensors.iter().any(|sensor| sensor.place == SensorPlace::Unknown)
        && sensors.iter().any(|sensor| sensor.place != SensorPlace::LeftOut);
    let before =
        imports.iter().find(|import| import.sha256 == looked.sha256 && import.undone_at_utc.is_none());
    Ok(ReadingsReport {
        import_id: None,
        file_name: asked.file_name.clone(),
        understood: looked.file.understood.clone(),
        sensors,
        series,
        rejections: looked.file.rejections.clone(),
        questions: looked.file.questions.clone(),
        notes: looked.file.notes.clone(),
        imported_before_utc: before.map(|import| import.imported_at_utc),
        is_ready,
    })
}

fn place_of<'a>(sensors: &'a [FileSensor], name: &str) -> Option<&'a SensorPlace> {
    sensors.iter().find(|sensor| sensor.name == name).map(|sensor| &sensor.place)
}

/// How many readings of a file are at instants that have one already.
fn known(data: &Reader<'_>, sensor_id: &str, series: &LogSeries) -> Result<u32, Problem> {
    let (Some(first), Some(last)) = (series.readings.first(), series.readings.last()) else { return Ok(0) };
    let span = Span { from_s: first.utc_s, to_s: last.utc_s + 1 };
    let stored = data.readings(sensor_id, series.figures.quantity, span)?;
    let is_stored = |utc_s: i64| stored.binary_search_by_key(&utc_s, |reading| reading.utc_s).is_ok();
    let count = series.readings.iter().filter(|reading| is_stored(reading.utc_s)).count();
    Ok(u32::try_from(count).unwrap_or(u32::MAX))
}

/// Shows what would be imported and what must be said first; nothing is stored.
///
/// # Errors
/// Where the file cannot be understood, an option does not fit it, or the site does not exist.
pub fn readings_preview(context: &Context, file: ReadingsFile) -> Result<ReadingsReport, Failure> {
    let site = context.read(|data| lookup::site_in_use(data, file.site_id.as_deref()))?;
    let looked = look(context, &site, &file)?;
    context.read(|data| report(data, &site, &file, &looked))
}

/// Takes in the readings of a file, all or none. Sensors that it names and that are not set up are entered.
///
/// # Errors
/// Where the file cannot be understood, or leaves something open that must be said first; nothing is stored then.
pub fn readings_import(context: &Context, file: ReadingsFile) -> Result<ReadingsReport, Failure> {
    let site = context.read(|data| lookup::site_in_use(data, file.site_id.as_deref()))?;
    let looked = look(context, &site, &file)?;
    context.write(|data| {
        let mut report = report(data, &site, &file, &looked)?;
        refuse_open(&report)?;
        let import_id = context.next_id();
        let sensors = enter_sensors(context, data, &site, &mut report, &looked.file)?;
        data.put_import(&NewImport {
            id: &import_id,
            site_id: &site.id,
            file_name: &file.file_name,
            sha256: &looked.sha256,
            at_utc: context.now_utc(),
            sensors: &sensors,
        })?;
        for (series, shown) in looked.file.series.iter().zip(&mut report.series) {
            let sensor = sensors.iter().find(|sensor| sensor.name == series.figures.sensor);
            let added = match sensor {
                Some(sensor) => data.put_readings(
                    &import_id,
                    &sensor.sensor_id,
                    series.figures.quantity,
                    &series.readings,
                )?,
                None => 0,
            };
            shown.added = added;
            shown.known = if sensor.is_some() { series.figures.accepted - added } else { 0 };
        }
        report.import_id = Some(import_id);
        Ok(report)
    })
}

/// Refuses an import that leaves something open, and says what.
fn refuse_open(report: &ReadingsReport) -> Result<(), Problem> {
    let file = &report.file_name;
    let refuse = |field: &str, message: String| {
        let failure = Failure::new(ErrorCode::Conflict, message).at(file, None);
        Err(Problem(Failure { field: Some(field.to_owned()), ..failure }))
    };
    match report.questions.first() {
        Some(LogQuestion::Order { written, line, .. }) => {
            let message = format!(
                "“{file}”, line {line}: “{written}” may have the day or the month first, and no date of the file tells; \
                 choose the order"
            );
            return refuse("options.order", message);
        }
        Some(LogQuestion::Unit { columns, .. }) => {
            let message = format!(
                "“{file}”: the temperatures of {} fit another unit than the one they were taken for; choose the unit",
                columns.join(", ")
            );
            return refuse("options.unit", message);
        }
        Some(LogQuestion::Zone { line, choices, .. }) => {
            let message = format!(
                "“{file}”, line {line}: its times run straight through a change of the clocks; say which zone its \
                 clock keeps ({})",
                choices.join(" or ")
            );
            return refuse("options.zone", message);
        }
        None => {}
    }
    if let Some(sensor) = report.sensors.iter().find(|sensor| sensor.place == SensorPlace::Unknown) {
        let message = format!(
            "“{file}”: nothing tells where “{}” hangs; choose a sensor, a zone or outdoors",
            sensor.name
        );
        return refuse("sensors", message);
    }
    if !report.is_ready {
        return refuse(
            "sensors",
            format!("“{file}”: all its sensors are left out, so there is nothing to import"),
        );
    }
    Ok(())
}

/// Enters the sensors of a file that are new; gives all that are imported.
fn enter_sensors(
    context: &Context,
    data: &Writer<'_>,
    site: &Site,
    report: &mut ReadingsReport,
    file: &LogFile,
) -> Result<Vec<ImportedSensor>, Problem> {
    let mut imported = Vec::new();
    for shown in &mut report.sensors {
        let (sensor_id, is_new) = match &shown.place {
            SensorPlace::LeftOut | SensorPlace::Unknown => continue,
            SensorPlace::Sensor { sensor_id } => (sensor_id.clone(), false),
            place @ (SensorPlace::Zone { .. } | SensorPlace::Outdoors) => {
                let zone_id = match place {
                    SensorPlace::Zone { zone_id } => Some(zone_id.clone()),
                    _ => None,
                };
                let draft = Sensor {
                    id: String::new(),
                    site_id: site.id.clone(),
                    name: shown.name.clone(),
                    zone_id,
                    spot: None,
                    height_m: None,
                };
                (shelter::sensor(context, data, draft)?.id, true)
            }
        };
        let quantities = file
            .series
            .iter()
            .filter(|series| series.figures.sensor == shown.name)
            .map(|series| series.figures.quantity)
            .collect();
        shown.place = SensorPlace::Sensor { sensor_id: sensor_id.clone() };
        shown.place_name = data.sensor(&sensor_id)?.map(|sensor| sensor.name);
        imported.push(ImportedSensor { name: shown.name.clone(), sensor_id, is_new, quantities });
    }
    Ok(imported)
}

/// Takes an import back: its readings go, and so do sensors that it entered and that have no others.
///
/// # Errors
/// Where there is no such import, or it was undone already.
pub fn readings_undo(context: &Context, request: ReadingsUndo) -> Result<ReadingsUndone, Failure> {
    context.write(|data| {
        let import = match &request.import_id {
            Some(id) => data.import(id)?.ok_or_else(|| Problem::not_found("this import"))?,
            None => {
                let site = lookup::site_in_use(data, request.site_id.as_deref())?;
                let last = data.imports(&site.id)?.into_iter().find(|import| import.undone_at_utc.is_none());
                last.ok_or_else(|| {
                    Problem::new(ErrorCode::NotFound, format!("no file was imported at {} yet", site.name))
                })?
            }
        };
        if import.undone_at_utc.is_some() {
            let message = format!("the import of “{}” was undone already", import.file_name);
            return Err(Problem::new(ErrorCode::Conflict, message));
        }
        let now_utc = context.now_utc();
        let removed = data.undo_import(&import, now_utc)?;
        let left = data.series_of_site(&import.site_id)?;
        let mut removed_sensors = Vec::new();
        for sensor in import.sensors.iter().filter(|sensor| sensor.is_new) {
            let has_readings = left.iter().any(|series| series.sensor_id == sensor.sensor_id);
            let Some(stored) = data.sensor(&sensor.sensor_id)?.filter(|_| !has_readings) else { continue };
            data.remove(&NewRemoval {
                id: &context.next_id(),
                kind: RemovedKind::Sensor,
                item_id: &stored.id,
                name: &stored.name,
                at_utc: now_utc,
            })?;
            removed_sensors.push(stored.name);
        }
        let entry = entry(StoredImport { undone_at_utc: Some(now_utc), ..import });
        Ok(ReadingsUndone { import: entry, removed, removed_sensors })
    })
}

fn entry(import: StoredImport) -> ImportEntry {
    ImportEntry {
        import_id: import.id,
        file_name: import.file_name,
        imported_at_utc: import.imported_at_utc,
        added: import.added,
        known: import.known,
        undone_at_utc: import.undone_at_utc,
    }
}

/// The sensors of a site with the health of their readings, and the imports.
///
/// # Errors
/// Where the site does not exist.
pub fn readings_list(context: &Context, request: SiteRef) -> Result<ReadingsList, Failure> {
    context.read(|data| {
        let site = lookup::site_in_use(data, request.site_id.as_deref())?;
        let shelters: HashMap<String, String> =
            data.shelters(&site.id)?.into_iter().map(|shelter| (shelter.id, shelter.name)).collect();
        let zones = data.zones(&site.id)?;
        let stored = data.series_of_site(&site.id)?;
        let now_utc = context.now_utc();
        let mut sensors = Vec::new();
        for sensor in data.sensors(&site.id)? {
            let zone = zones.iter().find(|zone| Some(&zone.id) == sensor.zone_id.as_ref());
            let mut series = Vec::new();
            for one in stored.iter().filter(|one| one.sensor_id == sensor.id) {
                series.push(health(data, one)?);
            }
            let last_utc = series.iter().map(|one| one.last_utc).max();
            sensors.push(SensorHealth {
                zone_name: zone.map(|zone| zone.name.clone()),
                shelter_name: zone.and_then(|zone| shelters.get(&zone.shelter_id)).cloned(),
                silent_h: last_utc.map(|last| (now_utc - last).num_seconds().max(0) as f64 / 3600.0),
                sensor,
                series,
            });
        }
        let imports = data.imports(&site.id)?.into_iter().map(entry).collect();
        Ok(ReadingsList { site_id: site.id, sensors, imports })
    })
}

fn health(data: &Reader<'_>, series: &StoredSeries) -> Result<SeriesHealth, Problem> {
    let last_s = series.last_utc.timestamp();
    let span = Span { from_s: last_s - GAP_DAYS * 86_400, to_s: last_s + 1 };
    let readings = data.readings(&series.sensor_id, series.quantity, span)?;
    let gaps = gaps(&readings);
    Ok(SeriesHealth {
        quantity: series.quantity,
        readings: series.readings,
        flagged: series.flagged,
        first_utc: series.first_utc,
        last_utc: series.last_utc,
        last_value: series.last_value,
        min: series.range.map(|[min, _]| min),
        max: series.range.map(|[_, max]| max),
        step_s: usual_step_s(&readings),
        gaps: u32::try_from(gaps.len()).unwrap_or(u32::MAX),
        longest_gap_h: gaps.iter().map(|gap| gap.to_s - gap.from_s).max().map(|span| span as f64 / 3600.0),
    })
}

/// A series for a chart, gathered into as many points as are wanted.
///
/// # Errors
/// Where the sensor does not exist.
pub fn readings_series(context: &Context, request: SeriesRequest) -> Result<SeriesView, Failure> {
    context.read(|data| {
        let sensor = data.sensor(&request.sensor_id)?.ok_or_else(|| Problem::not_found("this sensor"))?;
        let stored = data
            .series_of_site(&sensor.site_id)?
            .into_iter()
            .find(|one| one.sensor_id == sensor.id && one.quantity == request.quantity);
        let view = |bucket_s, points| SeriesView {
            sensor_id: sensor.id.clone(),
            quantity: request.quantity,
            bucket_s,
            points,
        };
        let Some(stored) = stored else { return Ok(view(1, Vec::new())) };
        let second =
            |instant: Option<DateTime<Utc>>, other: i64| instant.map_or(other, |instant| instant.timestamp());
        let span = Span {
            from_s: second(request.from_utc, stored.first_utc.timestamp()),
            to_s: second(request.to_utc, stored.last_utc.timestamp() + 1),
        };
        let points = i64::from(request.points.unwrap_or(USUAL_POINTS).clamp(3, MOST_POINTS));
        let bucket_s = bucket_length_s((span.to_s - span.from_s).max(1), points);
        let buckets = data.buckets(&sensor.id, request.quantity, span, bucket_s)?;
        let points = buckets
            .into_iter()
            .filter_map(|bucket| {
                Some(SeriesPoint {
                    at_utc: DateTime::from_timestamp(bucket.from_s, 0)?,
                    min: bucket.figures.map(|[min, ..]| min),
                    mean: bucket.figures.map(|[_, mean, _]| mean),
                    max: bucket.figures.map(|[.., max]| max),
                    readings: bucket.readings,
                    flagged: bucket.flagged,
                })
            })
            .collect();
        Ok(view(bucket_s, points))
    })
}

/// A length of time of which at most so many make up a span, with one at either end that is cut: a round one, so that
/// points lie on full minutes, quarters and hours.
fn bucket_length_s(span_s: i64, points: i64) -> i64 {
    const ROUND_S: [i64; 14] =
        [1, 10, 60, 300, 600, 900, 1800, 3600, 7200, 10_800, 21_600, 43_200, 86_400, 7 * 86_400];
    let fits = |length: &i64| span_s / length + 2 <= points.max(3);
    ROUND_S.into_iter().find(fits).unwrap_or_else(|| span_s / (points - 2).max(1) + 1)
}
