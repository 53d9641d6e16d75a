//! `hibernacle night-result`: what nights turned out to be.

use chrono::{Days, NaiveDate};
use hibernacle_contract::night::{
    NightOutcome, NightRecord, NightRecords, NightRecordsRequest, ZoneOutcome, ZoneToRead,
};
use hibernacle_contract::records::{Shelter, Site};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_service::night::{night_outcome, night_record};

use crate::args::NightResultArgs;
use crate::heat_loss::shelter;
use crate::layout::{Table, heading, marked, paragraph};
use crate::session::Session;
use crate::typed::temp_c;

pub(crate) fn night_result(session: &Session, asked: &NightResultArgs) -> Result<(), Failure> {
    let site = session.site()?;
    let wording = session.wording(&site);
    let request = NightRecordsRequest { site_id: Some(site.id.clone()), most: None };
    let records = night_record(&session.context, request)?;
    if asked.outside.is_none() && asked.zone.is_empty() && asked.heated.is_empty() && asked.night.is_none() {
        return session.answer(&records, || listed(&records, &site, &wording));
    }
    let shelters: Vec<Shelter> = session.overview()?.shelters;
    let outcome = NightOutcome {
        site_id: site.id.clone(),
        night_of: asked.night.map_or_else(|| last_night(session, &site), Ok)?,
        outside_low_c: asked.outside.as_deref().map(|low| temp_c("outside", low, &wording)).transpose()?,
        zones: asked
            .zone
            .iter()
            .map(|typed| zone(typed, &records.zones, &wording))
            .collect::<Result<_, _>>()?,
        heated_shelter_ids: asked
            .heated
            .iter()
            .map(|name| shelter(&shelters, Some(name), &wording).map(|shelter| shelter.id.clone()))
            .collect::<Result<_, _>>()?,
    };
    let record = night_outcome(&session.context, outcome)?;
    session.answer(&record, || {
        let mut figures = FluentArgs::new();
        figures.set("date", wording.date(record.night_of));
        paragraph(&wording.message("cli-nights-entered", &figures), "") + &zones(&[&record], &wording)
    })
}

fn last_night(session: &Session, site: &Site) -> Result<NaiveDate, Failure> {
    let today = session.context.now_utc().with_timezone(&site.tz()?).date_naive();
    Ok(today.checked_sub_days(Days::new(1)).unwrap_or(today))
}

/// A zone's low as typed: `north corner=-3`, the zone with or without its shelter.
fn zone(typed: &str, known: &[ZoneToRead], wording: &Wording) -> Result<ZoneOutcome, Failure> {
    let refused = |key: &str| {
        let mut figures = FluentArgs::new();
        figures.set("text", typed);
        let places: Vec<&str> = known.iter().map(|zone| zone.place.as_str()).collect();
        figures.set("known", places.join("; "));
        Failure {
            field: Some("zone".to_owned()),
            ..Failure::new(ErrorCode::Invalid, wording.message(key, &figures))
        }
    };
    let (name, low) = typed.rsplit_once('=').ok_or_else(|| refused("cli-nights-zone-form"))?;
    let wanted = name.trim().to_lowercase();
    let is_named = |zone: &&ZoneToRead| {
        let place = zone.place.to_lowercase();
        place == wanted || place.split_once(", ").is_some_and(|(_, zone)| zone == wanted)
    };
    let mut found = known.iter().filter(is_named);
    match (found.next(), found.next()) {
        (Some(zone), None) => {
            Ok(ZoneOutcome { zone_id: zone.zone_id.clone(), low_c: temp_c("zone", low, wording)? })
        }
        (Some(_), Some(_)) => Err(refused("cli-nights-zone-twice")),
        (None, _) => Err(refused("cli-nights-zone-unknown")),
    }
}

fn listed(records: &NightRecords, site: &Site, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("site", site.name.as_str());
    let mut text = heading(&wording.message("cli-nights-head", &figures));
    if !records.nights.is_empty() {
        let nights: Vec<&NightRecord> = records.nights.iter().collect();
        text += &zones(&nights, wording);
        text.push('\n');
    }
    let said = records.doubt.iter().map(|reason| marked(&wording.reason(reason), "· ", "  "));
    text + &said.collect::<String>()
}

/// A row for the outdoor low of each night, and one for each of its zones.
fn zones(nights: &[&NightRecord], wording: &Wording) -> String {
    let headings =
        ["cli-nights-night", "cli-nights-place", "cli-nights-told", "cli-nights-came", "cli-nights-missed"];
    let mut table = Table::headed(&headings.map(|key| wording.text(key)));
    let none = wording.text("cli-none");
    let temperature = |temp_c: Option<f64>| temp_c.map_or_else(|| none.clone(), |c| wording.temperature(c));
    for night in nights {
        table.row([
            wording.date_short(night.night_of),
            wording.text("cli-nights-outdoors"),
            temperature(night.predicted_low_c),
            temperature(night.outside_low_c),
            String::new(),
        ]);
        for zone in &night.zones {
            table.row([
                String::new(),
                zone.place.clone(),
                temperature(zone.predicted_low_c),
                temperature(zone.low_c),
                zone.model_error_k.map_or_else(String::new, |k| wording.temperature_difference(k)),
            ]);
        }
    }
    table.text("")
}
