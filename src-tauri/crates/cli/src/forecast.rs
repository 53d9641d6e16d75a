//! `hibernacle forecast`: the nights ahead, and where they come from.

use hibernacle_contract::Failure;
use hibernacle_contract::setup::SiteRef;
use hibernacle_contract::weather::{ForecastFile, ForecastSource, ForecastView, WeatherSettings};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_service::weather;

use crate::args::{ForecastArgs, Source};
use crate::import::read;
use crate::layout::{Table, heading, marked, paragraph};
use crate::session::Session;

pub(crate) fn forecast(session: &Session, asked: &ForecastArgs) -> Result<(), Failure> {
    let site = session.site()?;
    let wording = session.wording(&site);
    let context = &session.context;
    let site_id = site.id.clone();
    let view = match (&asked.file, asked.source) {
        (Some(file), _) => {
            let file_name = file.file_name().unwrap_or(file.as_os_str()).display().to_string();
            let text = read(file, &wording)?;
            weather::forecast_file(context, ForecastFile { site_id, file_name, text })?
        }
        (None, Some(source)) => {
            let known = weather::weather_settings(context, SiteRef { site_id: Some(site_id.clone()) })?;
            let contact = match asked.contact.as_deref() {
                None => known.contact,
                Some("-") => None,
                Some(contact) => Some(contact.to_owned()),
            };
            let source = match source {
                Source::Off => ForecastSource::Off,
                Source::File => ForecastSource::File,
                Source::MetNorway => ForecastSource::MetNorway,
                Source::UsNws => ForecastSource::UsNws,
            };
            weather::weather_choose(context, WeatherSettings { site_id, source, contact })?
        }
        (None, None) => weather::forecast(context, SiteRef { site_id: Some(site_id) })?,
    };
    session.answer(&view, || text(&view, &site.name, &wording))
}

fn text(view: &ForecastView, site: &str, wording: &Wording) -> String {
    let source = wording.text(match view.settings.source {
        ForecastSource::Off => return paragraph(&wording.text("cli-forecast-off"), ""),
        ForecastSource::File => "cli-forecast-file",
        ForecastSource::MetNorway => "cli-forecast-met-norway",
        ForecastSource::UsNws => "cli-forecast-us-nws",
    });
    let mut figures = FluentArgs::new();
    figures.set("site", site);
    figures.set("source", source);
    let mut text = heading(&wording.message("cli-forecast-head", &figures));
    if let Some(problem) = &view.problem {
        text += &marked(problem, "! ", "  ");
    }
    if view.nights.is_empty() {
        return text;
    }
    let headings = [
        "cli-nights-night",
        "cli-forecast-low",
        "cli-forecast-high",
        "cli-forecast-clouds",
        "cli-forecast-wind",
    ];
    let mut table = Table::headed(&headings.map(|key| wording.text(key)));
    let none = wording.text("cli-none");
    for night in &view.nights {
        let wind = night.wind_m_per_s.map(|wind| {
            let mut figures = FluentArgs::new();
            figures.set("wind", wording.number(wind, 1));
            wording.message("cli-forecast-m-per-s", &figures)
        });
        table.row([
            wording.date_short(night.night_of),
            wording.temperature(night.low_c),
            night.next_high_c.map_or_else(|| none.clone(), |high_c| wording.temperature(high_c)),
            night.cloud_fraction.map_or_else(|| none.clone(), |share| wording.share(share)),
            wind.unwrap_or_else(|| none.clone()),
        ]);
    }
    text + &table.text("")
}
