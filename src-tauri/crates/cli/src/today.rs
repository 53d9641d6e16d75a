//! `hibernacle today`: what is due, by place.

use std::collections::{BTreeSet, HashMap};

use chrono::NaiveDate;
use hibernacle_contract::Failure;
use hibernacle_contract::records::{PlannedChore, Site};
use hibernacle_contract::today::{Today, TodayGroup, TodayRequest};
use hibernacle_contract::wording::{FluentArgs, Wording};

use crate::layout::{Table, cautions as cautions_text, heading, marked, paragraph};
use crate::names::short_names;
use crate::season::{self, mark};
use crate::session::Session;

pub(crate) fn today(session: &Session, on: Option<NaiveDate>) -> Result<(), Failure> {
    let site = session.site()?;
    let request = TodayRequest { site_id: Some(site.id.clone()), on };
    let today = hibernacle_service::today::today(&session.context, request)?;
    if session.is_json() {
        return session.answer(&today, String::new);
    }
    let plan = season::plan(session, &site, Some(today.season.start_year))?.plan;
    let names = short_names(&plan.chores);
    let page = Page { site: &site, names, wording: session.wording(&site) };
    session.answer(&today, || page.text(&today))
}

struct Page<'a> {
    site: &'a Site,
    names: HashMap<&'a str, String>,
    wording: Wording,
}

impl Page<'_> {
    fn text(&self, today: &Today) -> String {
        let mut text = self.head(today);
        let mut cautions = BTreeSet::new();
        for group in &today.groups {
            text += &self.group(group);
            cautions
                .extend(group.late.iter().chain(&group.due).flat_map(|chore| chore.cautions.iter().copied()));
        }
        if today.groups.iter().all(|group| group.late.is_empty() && group.due.is_empty()) {
            text += &paragraph(&self.nothing(today), "");
        }
        if !today.settled.is_empty() {
            text += &format!("\n{}\n", self.wording.text("cli-settled"));
            text += &self.table(&today.settled);
        }
        text + &self.rests_on(today) + &cautions_text(cautions, &self.wording)
    }

    /// What the figures rest on and what would change them, once for all chores.
    fn rests_on(&self, today: &Today) -> String {
        let due = today.groups.iter().flat_map(|group| group.late.iter().chain(&group.due));
        let background =
            due.flat_map(|chore| &chore.reasons).filter(|reason| reason.message.starts_with("reason-basis-"));
        let sentences = self.wording.reasons(background);
        if sentences.is_empty() {
            return String::new();
        }
        let lines: String = sentences.iter().map(|sentence| paragraph(sentence, "  ")).collect();
        format!("\n{}\n{lines}", self.wording.text("cli-rests-on"))
    }

    fn head(&self, today: &Today) -> String {
        let mut figures = FluentArgs::new();
        figures.set("site", self.site.name.as_str());
        figures.set("date", self.wording.date(today.date));
        figures.set("length", self.wording.minutes((today.day_length_h * 60.0).round() as u32));
        let sunset = today.sunset_utc.zip(self.site.tz().ok());
        let key = match sunset {
            Some((sunset, zone)) => {
                figures.set("sunset", sunset.with_timezone(&zone).format("%H:%M").to_string());
                "cli-today-sun"
            }
            None => "cli-today-no-sunset",
        };
        heading(&self.wording.message("cli-today-head", &figures))
            + &paragraph(&self.wording.message(key, &figures), "")
    }

    fn group(&self, group: &TodayGroup) -> String {
        let mut text = format!("\n{}\n", group.place);
        for chore in &group.late {
            text += &self.due(chore, Some(chore.window.latest));
        }
        for chore in &group.due {
            text += &self.due(chore, None);
        }
        if !group.soon.is_empty() {
            text += &format!("  {}\n", self.wording.text("cli-soon"));
            text += &self.table(&group.soon);
        }
        text
    }

    fn due(&self, chore: &PlannedChore, late_since: Option<NaiveDate>) -> String {
        let mut figures = FluentArgs::new();
        figures.set("time", self.wording.minutes(chore.minutes));
        figures.set("weather", self.wording.words(&chore.weather));
        figures.set("name", self.name(chore));
        let needs = if chore.weather.is_empty() { "cli-due-needs" } else { "cli-due-needs-weather" };
        let mut text = marked(&chore.title, &format!("  {} ", mark(chore)), "      ");
        if let Some(latest) = late_since {
            figures.set("latest", self.wording.date(latest));
            text += &paragraph(&self.wording.message("cli-late", &figures), "      ");
        }
        text += &paragraph(&chore.why, "      ");
        for reason in
            self.wording.reasons(chore.reasons.iter().filter(|reason| !Wording::is_background(reason)))
        {
            text += &marked(&reason, "      · ", "        ");
        }
        if let Some(proof) = &chore.proof {
            figures.set("proof", proof.as_str());
            text += &paragraph(&self.wording.message("cli-proof", &figures), "      ");
        }
        text + &paragraph(&self.wording.message(needs, &figures), "      ")
    }

    fn nothing(&self, today: &Today) -> String {
        let mut figures = FluentArgs::new();
        match &today.next {
            Some(next) => {
                figures.set("title", next.title.as_str());
                figures.set("date", self.wording.date(next.due_on));
                format!("\n{}", self.wording.message("cli-nothing-due-next", &figures))
            }
            None => format!("\n{}", self.wording.text("cli-nothing-due")),
        }
    }

    fn table(&self, chores: &[PlannedChore]) -> String {
        let mut table = Table::default();
        for chore in chores {
            table.row([
                self.wording.date_short(chore.due_on),
                mark(chore).to_owned(),
                self.name(chore),
                chore.title.clone(),
            ]);
        }
        table.text("    ")
    }

    fn name(&self, chore: &PlannedChore) -> String {
        self.names.get(chore.key.as_str()).cloned().unwrap_or_else(|| chore.key.clone())
    }
}
