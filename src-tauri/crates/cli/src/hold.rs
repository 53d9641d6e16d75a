//! `hibernacle hold`: how the hold of a shelter fades over the nights ahead.

use hibernacle_contract::Failure;
use hibernacle_contract::night::{HoldAhead, HoldRequest};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_service::night::hold_ahead;

use crate::args::HoldArgs;
use crate::heat_loss::shelter;
use crate::layout::{Table, heading, marked};
use crate::session::Session;
use crate::typed::temp_c;

pub(crate) fn hold(session: &Session, asked: &HoldArgs) -> Result<(), Failure> {
    let overview = session.overview()?;
    let wording = session.wording(&session.site()?);
    let shelter = shelter(&overview.shelters, asked.shelter.as_deref(), &wording)?;
    let request = HoldRequest {
        shelter_id: shelter.id.clone(),
        low_c: asked.low.as_deref().map(|low| temp_c("low", low, &wording)).transpose()?,
        cloud: None,
        wind_m_per_s: None,
        nights: asked.nights,
        covered: (asked.covered || asked.bare).then_some(asked.covered),
    };
    let ahead = hold_ahead(&session.context, request)?;
    session.answer(&ahead, || text(&ahead, &shelter.name, &wording))
}

fn text(ahead: &HoldAhead, shelter: &str, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("shelter", shelter);
    figures.set("zone", ahead.zone.as_str());
    let headings =
        ["cli-nights-night", "cli-nights-outdoors", "cli-hold-inside", "cli-hold-hold", "cli-hold-ice"];
    let mut table = Table::headed(&headings.map(|key| wording.text(key)));
    for night in &ahead.nights {
        table.row([
            wording.date_short(night.night_of),
            wording.temperature(night.outside_low_c),
            wording.temperature(night.zone_low_c),
            wording.temperature_difference(night.hold_k),
            wording.share(night.pots_frozen),
        ]);
    }
    let said = ahead.reasons.iter().map(|reason| marked(&wording.reason(reason), "· ", "  "));
    let head = heading(&wording.message("cli-hold-head", &figures));
    format!("{head}{}\n{}", table.text(""), said.collect::<String>())
}
