//! `hibernacle tonight`: what to do in the coming night, and why.

use hibernacle_contract::Failure;
use hibernacle_contract::night::{Alternative, Cloud, ShelterNight, Sky, TonightCall, TonightRequest};
use hibernacle_contract::records::Reason;
use hibernacle_contract::wording::{FluentArgs, Wording};

use crate::args::{Clouds, TonightArgs};
use crate::layout::{Table, cautions, heading, marked, paragraph};
use crate::session::Session;
use crate::typed::temp_c;

pub(crate) fn tonight(session: &Session, asked: &TonightArgs) -> Result<(), Failure> {
    let site = session.site()?;
    let wording = session.wording(&site);
    let request = TonightRequest {
        site_id: Some(site.id.clone()),
        low_c: asked.low.as_deref().map(|low| temp_c("low", low, &wording)).transpose()?,
        cloud: asked.cloud.map(|clouds| {
            Cloud::Word(match clouds {
                Clouds::Clear => Sky::Clear,
                Clouds::Half => Sky::Half,
                Clouds::Overcast => Sky::Overcast,
            })
        }),
        wind_m_per_s: asked.wind,
        lead_days: asked.in_days,
        covered: (asked.covered || asked.bare).then_some(asked.covered),
        price_per_kwh: asked.price,
    };
    let call = hibernacle_service::night::tonight(&session.context, request)?;
    session.answer(&call, || text(&call, &wording))
}

fn text(call: &TonightCall, wording: &Wording) -> String {
    let mut text: String = call.todo.iter().map(|todo| paragraph(&wording.reason(todo), "")).collect();
    let mut figures = FluentArgs::new();
    figures.set("site", call.site.name.as_str());
    figures.set("date", wording.date(call.outlook.night_of));
    figures.set("low", wording.temperature(call.outlook.low_c));
    text += &format!("\n{}", heading(&wording.message("cli-night-head", &figures)));
    for shelter in &call.shelters {
        text += &shelter_text(shelter, &call.site.currency, wording);
    }
    text += &list("cli-night-assumed", &call.assumed, wording);
    text += &list("cli-rests-on", &call.rests_on, wording);
    text + &cautions(call.cautions.iter().copied(), wording)
}

/// Reasons under a title; nothing where there are none.
fn list(title: &str, reasons: &[Reason], wording: &Wording) -> String {
    if reasons.is_empty() {
        return String::new();
    }
    let lines: String =
        reasons.iter().map(|reason| marked(&wording.reason(reason), "  · ", "    ")).collect();
    format!("\n{}\n{lines}", wording.text(title))
}

fn shelter_text(shelter: &ShelterNight, currency: &str, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("shelter", shelter.name.as_str());
    figures.set("step", wording.word(shelter.step));
    if let Some(problem) = &shelter.problem {
        figures.set("problem", problem.as_str());
        return format!("\n{}", paragraph(&wording.message("cli-night-failed", &figures), ""));
    }
    let title = if shelter.is_covered { "cli-night-shelter-covered" } else { "cli-night-shelter" };
    let mut text = format!("\n{}", paragraph(&wording.message(title, &figures), ""));
    text += &zones(shelter, wording);
    for reason in &shelter.reasons {
        text += &marked(&wording.reason(reason), "  · ", "    ");
    }
    if let Some(cost) = shelter.heating.as_ref().and_then(|heating| heating.cost) {
        figures.set("cost", wording.number(cost, 2));
        figures.set("currency", currency);
        text += &marked(&wording.message("cli-night-cost", &figures), "  · ", "    ");
    }
    if !shelter.alternatives.is_empty() {
        text += &format!("  {}\n", wording.text("cli-night-alternatives"));
        for alternative in &shelter.alternatives {
            text += &marked(&alternative_text(alternative, wording), "    · ", "      ");
        }
    }
    text
}

fn alternative_text(alternative: &Alternative, wording: &Wording) -> String {
    let sentence = wording.reason(&alternative.reason);
    match alternative.saves_kwh {
        Some(saves_kwh) => {
            let mut figures = FluentArgs::new();
            figures.set("sentence", sentence);
            figures.set("energy", wording.energy(saves_kwh));
            wording.message("cli-night-saves", &figures)
        }
        None => sentence,
    }
}

fn zones(shelter: &ShelterNight, wording: &Wording) -> String {
    let headings = [
        "cli-night-zone",
        "cli-night-low",
        "cli-night-band",
        "cli-night-limit",
        "cli-night-chance",
        "cli-night-heated",
        "cli-night-tenderest",
    ];
    let mut table = Table::headed(&headings.map(|key| wording.text(key)));
    let none = wording.text("cli-none");
    for zone in &shelter.zones {
        let mut figures = FluentArgs::new();
        figures.set("low", wording.temperature(zone.low_10_c));
        figures.set("high", wording.temperature(zone.low_90_c));
        let limit = zone.limit.as_ref();
        table.row([
            zone.name.clone(),
            wording.temperature(zone.low_c),
            wording.message("cli-range", &figures),
            limit.map_or_else(|| none.clone(), |limit| wording.temperature(limit.limit_c)),
            zone.risk.map_or_else(String::new, |risk| wording.share(risk)),
            zone.heated_low_c.map_or_else(String::new, |low_c| wording.temperature(low_c)),
            limit.map_or_else(String::new, |limit| limit.label.clone()),
        ]);
    }
    table.text("  ")
}
