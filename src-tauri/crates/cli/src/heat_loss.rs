//! `hibernacle heat-loss`: where a shelter loses its heat, and the heater it calls for.

use hibernacle_contract::records::{LossPath, Shelter};
use hibernacle_contract::shelter::{HeatLossRequest, HeatLossView, LossTotal, PathLoss};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_contract::{ErrorCode, Failure};

use crate::args::HeatLossArgs;
use crate::layout::{Table, cautions, heading, marked, paragraph};
use crate::session::Session;
use crate::typed::temp_c;

/// Points of the compass, from north over east.
const COMPASS: [&str; 8] = [
    "cli-compass-n",
    "cli-compass-ne",
    "cli-compass-e",
    "cli-compass-se",
    "cli-compass-s",
    "cli-compass-sw",
    "cli-compass-w",
    "cli-compass-nw",
];

pub(crate) fn heat_loss(session: &Session, asked: &HeatLossArgs) -> Result<(), Failure> {
    let overview = session.overview()?;
    let site = session.site()?;
    let wording = session.wording(&site);
    let typed_c = |field: &str, text: &Option<String>| {
        text.as_ref().map(|text| temp_c(field, text, &wording)).transpose()
    };
    let request = HeatLossRequest {
        shelter_id: shelter(&overview.shelters, asked.shelter.as_deref(), &wording)?.id.clone(),
        design_low_c: typed_c("low", &asked.low)?,
        inside_c: typed_c("inside", &asked.inside)?,
        heater_w: asked.heater,
        circuit: None,
    };
    let view = hibernacle_service::shelter::heat_loss(&session.context, request)?;
    session.answer(&view, || text(&view, &wording))
}

/// The shelter of a name; without one the first with a heater, else the first.
pub(crate) fn shelter<'a>(
    shelters: &'a [Shelter],
    asked: Option<&str>,
    wording: &Wording,
) -> Result<&'a Shelter, Failure> {
    let found = match asked {
        None => shelters.iter().find(|shelter| shelter.has_heater).or(shelters.first()),
        Some(name) => {
            let wanted = name.to_lowercase();
            shelters.iter().find(|shelter| shelter.id == name || shelter.name.to_lowercase() == wanted)
        }
    };
    found.ok_or_else(|| {
        let known: Vec<&str> = shelters.iter().map(|shelter| shelter.name.as_str()).collect();
        let mut figures = FluentArgs::new();
        figures.set("name", asked.unwrap_or_default());
        figures.set("known", known.join(", "));
        let key = if known.is_empty() { "cli-no-shelter" } else { "cli-shelter-unknown" };
        Failure::new(ErrorCode::NotFound, wording.message(key, &figures))
    })
}

fn text(view: &HeatLossView, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("shelter", view.shelter.name.as_str());
    figures.set("bare", heater(&view.bare, wording));
    let mut key = "cli-loss-bare";
    if let Some(covered) = &view.covered {
        figures.set("covered", heater(covered, wording));
        key = "cli-loss-both";
    }
    if view.bare.loss_w <= 0.0 {
        key = "cli-loss-none";
    }
    let mut text = paragraph(&wording.message(key, &figures), "");
    for finding in &view.circuit_findings {
        text += &marked(&wording.reason(finding), "! ", "  ");
    }
    figures.set("inside", wording.temperature(view.inside_c));
    figures.set("outside", wording.temperature(view.outside_c));
    text += &format!("\n{}", heading(&wording.message("cli-loss-head", &figures)));
    text += &table(view, wording);
    text += "\n";
    for reason in &view.reasons {
        text += &marked(&wording.reason(reason), "· ", "  ");
    }
    text + &cautions(view.cautions.iter().copied(), wording)
}

fn heater(total: &LossTotal, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("power", wording.power(total.heater_w));
    figures.set("flow", wording.heat_flow_btu_per_h(total.heater_w));
    wording.message("cli-loss-heater", &figures)
}

fn table(view: &HeatLossView, wording: &Wording) -> String {
    let headings = [
        "cli-loss-path",
        "cli-loss-size",
        "cli-loss-bare-per-k",
        "cli-loss-bare-w",
        "cli-loss-covered-per-k",
        "cli-loss-covered-w",
    ];
    let mut table = Table::headed(&headings.map(|key| wording.text(key)));
    let per_k = |w_per_k: f64| wording.number(w_per_k, 1);
    let cell = |value: Option<f64>, show: &dyn Fn(f64) -> String| value.map_or_else(String::new, show);
    for path in &view.paths {
        table.row([
            name(path, wording),
            size(path, wording),
            per_k(path.bare_w_per_k),
            wording.power(path.bare_w),
            cell(path.covered_w_per_k, &per_k),
            cell(path.covered_w, &|w| wording.power(w)),
        ]);
    }
    table.row([
        wording.text("cli-loss-sum"),
        String::new(),
        per_k(view.bare.to_outdoors_w_per_k),
        wording.power(view.bare.loss_w),
        cell(view.covered.map(|covered| covered.to_outdoors_w_per_k), &per_k),
        cell(view.covered.map(|covered| covered.loss_w), &|w| wording.power(w)),
    ]);
    table.text("")
}

fn name(path: &PathLoss, wording: &Wording) -> String {
    match path.path {
        LossPath::Envelope { part, facing } if facing.tilt_deg > 0.0 => {
            let point = (facing.azimuth_deg / 45.0).round().rem_euclid(8.0) as usize;
            format!("{}, {}", wording.word(part), wording.text(COMPASS[point % COMPASS.len()]))
        }
        LossPath::Envelope { part, .. } => wording.word(part),
        LossPath::Air => wording.text("cli-loss-air"),
        LossPath::Edge => wording.text("cli-loss-edge"),
    }
}

fn size(path: &PathLoss, wording: &Wording) -> String {
    match path.path {
        LossPath::Envelope { .. } => wording.area(path.size),
        LossPath::Air => wording.air_volume(path.size),
        LossPath::Edge => wording.length(path.size),
    }
}
