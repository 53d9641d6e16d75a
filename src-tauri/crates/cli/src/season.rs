//! `hibernacle season`: the plan as a picture or as a list.

use chrono::{Datelike, Days, NaiveDate};
use hibernacle_contract::Failure;
use hibernacle_contract::records::{Band, ChoreState, Phase, PlannedChore, Site};
use hibernacle_contract::season::{SeasonRequest, SeasonView};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_service::season::season_plan;

use crate::args::SeasonArgs;
use crate::layout::{Table, heading, marked, paragraph};
use crate::names::short_names;
use crate::session::Session;

/// The order of the work through the year.
const PHASES: [Phase; 10] = [
    Phase::LateSummer,
    Phase::Cuttings,
    Phase::MoveIn,
    Phase::CloseUp,
    Phase::WinterRound,
    Phase::Uncover,
    Phase::WarmUp,
    Phase::HardenOff,
    Phase::MoveOut,
    Phase::SeasonEnd,
];

/// Problems of one sort that the picture shows.
const PROBLEMS_OF_A_SORT: usize = 3;

/// The plan of a season of the place asked for.
pub(crate) fn plan(session: &Session, site: &Site, year: Option<i32>) -> Result<SeasonView, Failure> {
    season_plan(&session.context, SeasonRequest { site_id: site.id.clone(), start_year: year })
}

pub(crate) fn season(session: &Session, asked: &SeasonArgs) -> Result<(), Failure> {
    let site = session.site()?;
    let view = plan(session, &site, asked.year)?;
    let wording = session.wording(&site);
    session.answer(&view, || {
        let mut text = head(&view, &wording);
        text += &if asked.list { list(&view.plan.chores, &wording) } else { picture(&view, &wording) };
        text + &problems(&view, asked.list, &wording)
    })
}

fn head(view: &SeasonView, wording: &Wording) -> String {
    let mut figures = FluentArgs::new();
    figures.set("site", view.site.name.as_str());
    figures.set("season", view.plan.season.name.as_str());
    figures.set("basis", wording.basis(&view.basis));
    let open = view.plan.chores.iter().filter(|chore| chore.state == ChoreState::Open).count();
    figures.set("open", open as u64);
    figures.set("chores", view.plan.chores.len() as u64);
    heading(&wording.message("cli-season-head", &figures))
        + &paragraph(&wording.message("cli-season-basis", &figures), "")
        + &paragraph(&wording.message("cli-season-count", &figures), "")
        + "\n"
}

/// The mark of a chore in a list.
pub(crate) fn mark(chore: &PlannedChore) -> &'static str {
    match chore.state {
        ChoreState::Open => "[ ]",
        ChoreState::Done { .. } => "[x]",
        ChoreState::Skipped { .. } => "[-]",
    }
}

/// The day a chore stands on: that of the doing, else the one planned.
fn day(chore: &PlannedChore) -> NaiveDate {
    match chore.state {
        ChoreState::Done { on } => on,
        _ => chore.due_on,
    }
}

fn list(chores: &[PlannedChore], wording: &Wording) -> String {
    let names = short_names(chores);
    let mut table = Table::default();
    let mut month = None;
    let mut text = String::new();
    for chore in chores {
        let day = day(chore);
        if month != Some((day.year(), day.month())) {
            text += &std::mem::take(&mut table).text("  ");
            month = Some((day.year(), day.month()));
            text += &format!("{} {}\n", wording.text(&format!("month-{}", day.month())), day.year());
        }
        let killing = if chore.killing && chore.state == ChoreState::Open { "!" } else { " " };
        table.row([
            format!("{} {killing}", wording.date_short(day)),
            mark(chore).to_owned(),
            names.get(chore.key.as_str()).cloned().unwrap_or_default(),
            chore.title.clone(),
        ]);
    }
    text + &table.text("  ") + &paragraph(&wording.text("cli-list-legend"), "")
}

/// The season week by week: freeze bands on top, then each part of the work.
fn picture(view: &SeasonView, wording: &Wording) -> String {
    let Some(weeks) = Weeks::of(view) else { return String::new() };
    let mut rows: Vec<(String, String)> = vec![(String::new(), weeks.months(wording))];
    for band in &view.plan.bands {
        let label = format!("{} {}", wording.word(band.kind), wording.temperature(band.threshold_c));
        rows.push((label, weeks.band(band)));
    }
    for phase in PHASES {
        let chores: Vec<&PlannedChore> =
            view.plan.chores.iter().filter(|chore| chore.phase == phase).collect();
        if !chores.is_empty() {
            rows.push((wording.word(phase), weeks.chores(&chores)));
        }
    }
    if weeks.index(view.today).is_some() {
        rows.push((
            wording.text("cli-today"),
            weeks.line(|week| (week == weeks.week(view.today)).then_some('▲')),
        ));
    }
    let mut table = Table::default();
    for (label, line) in rows {
        // An empty last column: a picture is never wrapped.
        table.row([label, line.trim_end().to_owned(), String::new()]);
    }
    table.text("") + &paragraph(&wording.text("cli-picture-legend"), "")
}

/// The weeks that a picture shows.
struct Weeks {
    first: NaiveDate,
    count: usize,
}

impl Weeks {
    /// From the Monday before the first chore or freeze band to the week of the last.
    fn of(view: &SeasonView) -> Option<Self> {
        let plan = &view.plan;
        let chores =
            plan.chores.iter().flat_map(|chore| [day(chore), chore.window.earliest, chore.window.latest]);
        let bands = plan.bands.iter().flat_map(|band| [band.from, band.to]);
        let days: Vec<NaiveDate> = chores.chain(bands).collect();
        let from = (*days.iter().min()?).max(plan.season.starts_on);
        let to = (*days.iter().max()?).min(plan.season.ends_on);
        let first = from - Days::new(from.weekday().num_days_from_monday().into());
        let days = usize::try_from((to - first).num_days()).ok()?;
        Some(Self { first, count: days / 7 + 1 })
    }

    /// The week of a date, which may lie outside.
    fn week(&self, date: NaiveDate) -> i64 {
        (date - self.first).num_days().div_euclid(7)
    }

    fn index(&self, date: NaiveDate) -> Option<usize> {
        usize::try_from(self.week(date)).ok().filter(|week| *week < self.count)
    }

    fn line(&self, sign: impl Fn(i64) -> Option<char>) -> String {
        (0..self.count as i64).map(|week| sign(week).unwrap_or(' ')).collect()
    }

    /// The months' names, each where its first day falls; the month that the picture begins in stands at its edge
    /// where there is room.
    fn months(&self, wording: &Wording) -> String {
        let mut names: Vec<(usize, String)> = Vec::new();
        for week in 0..self.count {
            let sunday = self.first + Days::new(week as u64 * 7 + 6);
            if week == 0 || sunday.day() <= 7 {
                names.push((week, wording.text(&format!("month-short-{}", sunday.month()))));
            }
        }
        let width = |name: &String| name.chars().count();
        if names.get(1).is_some_and(|(week, _)| *week <= width(&names[0].1)) {
            names.remove(0);
        }
        let mut line = String::new();
        for (week, name) in names {
            let gap = week.saturating_sub(line.chars().count());
            line.push_str(&" ".repeat(gap));
            line.push_str(&name);
        }
        line
    }

    fn band(&self, band: &Band) -> String {
        let (from, median, to) = (self.week(band.from), self.week(band.median), self.week(band.to));
        self.line(|week| match week {
            week if week == median => Some('┃'),
            week if (from..=to).contains(&week) => Some('░'),
            _ => None,
        })
    }

    fn chores(&self, chores: &[&PlannedChore]) -> String {
        self.line(|week| {
            let planned = |chore: &&&PlannedChore| self.week(day(chore)) == week;
            let possible = |chore: &&PlannedChore| {
                (self.week(chore.window.earliest)..=self.week(chore.window.latest)).contains(&week)
            };
            if chores.iter().filter(planned).any(|chore| chore.state == ChoreState::Open) {
                Some('■')
            } else if chores.iter().any(|chore| planned(&chore)) {
                Some('□')
            } else if chores.iter().any(possible) {
                Some('─')
            } else {
                None
            }
        })
    }
}

/// What to know or to mend; in the picture at most three of a sort.
fn problems(view: &SeasonView, all: bool, wording: &Wording) -> String {
    let problems = &view.plan.problems;
    if problems.is_empty() {
        return String::new();
    }
    let mut text = format!("\n{}", heading(&wording.text("cli-problems")));
    let mut sorts: Vec<&str> = Vec::new();
    for problem in problems {
        if !sorts.contains(&problem.reason.message.as_str()) {
            sorts.push(&problem.reason.message);
        }
    }
    for sort in sorts {
        let of_sort: Vec<_> = problems.iter().filter(|problem| problem.reason.message == sort).collect();
        let shown = if all { of_sort.len() } else { PROBLEMS_OF_A_SORT };
        for problem in of_sort.iter().take(shown) {
            text +=
                &marked(&format!("{}: {}", problem.about, wording.reason(&problem.reason)), "  ! ", "    ");
        }
        if of_sort.len() > shown {
            let mut figures = FluentArgs::new();
            figures.set("count", (of_sort.len() - shown) as u64);
            text += &paragraph(&wording.message("cli-problems-more", &figures), "    ");
        }
    }
    text
}
