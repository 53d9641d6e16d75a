//! One run of the program: the data, the place asked for and the way to answer.

use std::io::{ErrorKind, Write};
use std::path::PathBuf;

use hibernacle_contract::records::{LengthUnit, Site, TemperatureUnit, Units, VolumeUnit};
use hibernacle_contract::setup::{Overview, OverviewRequest};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_service::{Context, HostClock, data_dir, setup};
use serde::Serialize;

use crate::args::Arguments;

/// Metric units, for texts that are not about a place.
const METRIC: Units =
    Units { temperature: TemperatureUnit::Celsius, length: LengthUnit::Metre, volume: VolumeUnit::Litre };

/// One run of the program.
pub(crate) struct Session {
    pub(crate) context: Context,
    site: Option<String>,
    json: bool,
}

impl Session {
    /// Opens the data.
    pub(crate) fn open(arguments: &Arguments) -> Result<Self, Failure> {
        let folder: PathBuf = match &arguments.data_dir {
            Some(folder) => folder.clone(),
            None => data_dir()?,
        };
        Ok(Self {
            context: Context::open(&folder, HostClock::from_environment()?)?,
            site: arguments.site.clone(),
            json: arguments.json,
        })
    }

    /// Everything set up at the place asked for, else at the one used last.
    pub(crate) fn overview(&self) -> Result<Overview, Failure> {
        let used_last = setup::overview(&self.context, OverviewRequest { site_id: None })?;
        let Some(name) = &self.site else { return Ok(used_last) };
        let wanted = name.to_lowercase();
        let mut found =
            used_last.sites.iter().filter(|site| site.name.to_lowercase() == wanted || site.id == *name);
        let mut figures = FluentArgs::new();
        figures.set("name", name.as_str());
        match (found.next(), found.next()) {
            (Some(site), None) => {
                setup::overview(&self.context, OverviewRequest { site_id: Some(site.id.clone()) })
            }
            (Some(_), Some(_)) => {
                Err(Failure::new(ErrorCode::Conflict, self.plain().message("cli-site-twice", &figures)))
            }
            (None, _) => {
                let known: Vec<&str> = used_last.sites.iter().map(|site| site.name.as_str()).collect();
                figures.set("known", known.join(", "));
                let key = if known.is_empty() { "cli-no-site" } else { "cli-site-unknown" };
                Err(Failure::new(ErrorCode::NotFound, self.plain().message(key, &figures)))
            }
        }
    }

    /// The place asked for, else the one used last.
    pub(crate) fn site(&self) -> Result<Site, Failure> {
        self.overview()?
            .site
            .ok_or_else(|| Failure::new(ErrorCode::NotFound, self.plain().text("cli-no-site")))
    }

    /// Words in the units of a place.
    #[expect(clippy::unused_self, reason = "the language will come from the session")]
    pub(crate) fn wording(&self, site: &Site) -> Wording {
        Wording::new("en", site.units)
    }

    /// Words where there is no place yet.
    #[expect(clippy::unused_self, reason = "the language will come from the session")]
    pub(crate) fn plain(&self) -> Wording {
        Wording::new("en", METRIC)
    }

    /// Answers: the reply itself as JSON, or the text for people.
    pub(crate) fn answer<R: Serialize>(
        &self,
        reply: &R,
        text: impl FnOnce() -> String,
    ) -> Result<(), Failure> {
        if self.json {
            let json = serde_json::to_string_pretty(reply)
                .map_err(|error| Failure::new(ErrorCode::Internal, error.to_string()))?;
            return print(&(json + "\n"));
        }
        print(&text())
    }

    /// Whether the answer is JSON.
    pub(crate) fn is_json(&self) -> bool {
        self.json
    }
}

/// Writes to the standard output. A reader that has seen enough (`| head`) is no failure.
pub(crate) fn print(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Failure::new(ErrorCode::Storage, format!("the output cannot be written: {error}")))
        }
        _ => Ok(()),
    }
}
