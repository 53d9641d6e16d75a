//! `hibernacle calendar export`.

use std::path::{Path, PathBuf};

use hibernacle_contract::calendar::{CalendarFile, CalendarRequest};
use hibernacle_contract::wording::FluentArgs;
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_service::calendar::calendar_export;

use crate::layout::paragraph;
use crate::session::{Session, print};

pub(crate) fn export(
    session: &Session,
    out: Option<&Path>,
    hour: Option<u32>,
    alarm: Option<u32>,
    year: Option<i32>,
) -> Result<(), Failure> {
    let site = session.site()?;
    let request = CalendarRequest {
        site_id: site.id.clone(),
        start_year: year,
        at_hour: hour,
        alarm_minutes_before: alarm,
    };
    let file = calendar_export(&session.context, request)?;
    if out == Some(Path::new("-")) && !session.is_json() {
        return print(&file.text);
    }
    let target = match out {
        Some(path) if path != Path::new("-") => Some(path.to_owned()),
        // As JSON, the text of the file is part of the answer; it is written only where a file is named.
        _ if session.is_json() => None,
        _ => Some(PathBuf::from(&file.file_name)),
    };
    if let Some(target) = &target {
        write(target, &file)?;
    }
    session.answer(&file, || {
        let wording = session.wording(&site);
        let mut figures = FluentArgs::new();
        figures.set("file", target.unwrap_or_default().display().to_string());
        figures.set("entries", file.entries);
        paragraph(&wording.message("cli-calendar-written", &figures), "")
    })
}

/// Writes the file in one step: an earlier export stays whole until the new one is.
fn write(target: &Path, file: &CalendarFile) -> Result<(), Failure> {
    let mut part = target.as_os_str().to_owned();
    part.push(".part");
    let part = PathBuf::from(part);
    std::fs::write(&part, &file.text).and_then(|()| std::fs::rename(&part, target)).map_err(|error| {
        // Nothing was promised about the unfinished file; if it cannot be removed, it is in nobody's way.
        let _ = std::fs::remove_file(&part);
        Failure::new(ErrorCode::Storage, format!("the calendar cannot be written: {error}"))
            .at(target.display().to_string(), None)
    })
}
