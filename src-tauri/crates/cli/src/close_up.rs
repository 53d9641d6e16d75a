//! `hibernacle close-up`: the checklist of each zone.

use std::collections::BTreeSet;

use hibernacle_contract::Failure;
use hibernacle_contract::season::{CloseUp, SeasonRequest, ZoneChecklist};
use hibernacle_contract::wording::{FluentArgs, Wording};

use crate::layout::{self, heading, marked, paragraph};
use crate::names::short_names;
use crate::season::{self, mark};
use crate::session::Session;

pub(crate) fn close_up(session: &Session, year: Option<i32>) -> Result<(), Failure> {
    let site = session.site()?;
    let request = SeasonRequest { site_id: site.id.clone(), start_year: year };
    let close_up = hibernacle_service::season::close_up(&session.context, request)?;
    if session.is_json() {
        return session.answer(&close_up, String::new);
    }
    let plan = season::plan(session, &site, year)?.plan;
    let names = short_names(&plan.chores);
    let wording = session.wording(&site);
    let name = |key: &str| names.get(key).cloned().unwrap_or_else(|| key.to_owned());
    session.answer(&close_up, || text(&close_up, &wording, name))
}

fn text(close_up: &CloseUp, wording: &Wording, name: impl Fn(&str) -> String) -> String {
    if close_up.zones.is_empty() {
        return paragraph(&wording.text("cli-close-up-none"), "");
    }
    let mut cautions = BTreeSet::new();
    let mut text = String::new();
    for zone in &close_up.zones {
        text += &checklist(zone, &close_up.season.name, wording, &name);
        cautions.extend(zone.steps.iter().flat_map(|step| step.cautions.iter().copied()));
    }
    text + &layout::cautions(cautions, wording)
}

fn checklist(
    zone: &ZoneChecklist,
    season: &str,
    wording: &Wording,
    name: &impl Fn(&str) -> String,
) -> String {
    let mut figures = FluentArgs::new();
    figures.set("shelter", zone.shelter.name.as_str());
    figures.set("zone", zone.zone.name.as_str());
    figures.set("season", season);
    figures.set("open", zone.open_required);
    let mut text = heading(&wording.message("cli-close-up-head", &figures));
    let stamp = match zone.closed_up_on {
        Some(date) => {
            figures.set("date", wording.date(date));
            "cli-close-up-stamped"
        }
        None => "cli-close-up-open",
    };
    text += &paragraph(&wording.message(stamp, &figures), "");
    for (number, step) in zone.steps.iter().enumerate() {
        let required = if step.required { "*" } else { " " };
        let lead = format!("{:>3}. {}{required} ", number + 1, mark(step));
        text +=
            &marked(&format!("{} ({})", step.title, wording.date_short(step.due_on)), &lead, "          ");
        text += &paragraph(&step.why, "          ");
        if let Some(proof) = &step.proof {
            figures.set("proof", proof.as_str());
            text += &paragraph(&wording.message("cli-proof", &figures), "          ");
        }
        let titles: Vec<String> =
            step.cautions.iter().map(|caution| wording.caution_title(*caution)).collect();
        if !titles.is_empty() {
            text += &paragraph(&format!("! {}", titles.join("; ")), "          ");
        }
        text += &paragraph(&name(&step.key), "          ");
    }
    text + "\n"
}
