//! One grower with the program: days pass, chores are looked up, ticked, skipped and moved.

#![expect(clippy::panic, clippy::expect_used, reason = "a journey that the service refuses is a failed test")]

use std::sync::Arc;

use chrono::{Days, NaiveDate};
use hibernacle_contract::Failure;
use hibernacle_contract::chores::{ChoreChanged, ChoreDone, ChoreMove, ChoreRef, ChoreSkip};
use hibernacle_contract::climate::{ClimateFile, FreezeRequest};
use hibernacle_contract::season::{CloseUp, SeasonRequest};
use hibernacle_contract::setup::{Overview, OverviewRequest};
use hibernacle_contract::today::{Today, TodayRequest};
use hibernacle_engine::plant::Planting;
use hibernacle_engine::season::{ChoreState, Event, Plan, PlannedChore};
use hibernacle_engine::shelter::{Shelter, Zone};
use hibernacle_engine::site::Site;
use hibernacle_service::{Context, chores, climate, season, setup, today};
use hibernacle_test_support::SimulatedClock;

/// A date from its text.
///
/// # Panics
/// When the text is no date.
pub fn date(text: &str) -> NaiveDate {
    text.parse().unwrap_or_else(|error| panic!("“{text}” is no date: {error}"))
}

/// Midday in UTC, which is the same date all over Europe and America.
pub fn midday(date: NaiveDate) -> String {
    format!("{date}T12:00:00Z")
}

/// The day on which a chore was done.
///
/// # Panics
/// When it was not.
pub fn done_on(chore: &PlannedChore) -> NaiveDate {
    match chore.state {
        ChoreState::Done { on } => on,
        ref other => panic!("“{}” was not done: {other:?}", chore.title),
    }
}

/// A grower with a place, a clock and the program.
pub struct Grower {
    /// The program's data, in memory.
    pub context: Context,
    /// The place.
    pub site: Site,
    clock: SimulatedClock,
}

impl Grower {
    /// A newcomer who has said where the plants are.
    ///
    /// # Panics
    /// When the service refuses.
    pub fn begins(site: Site, on: &str) -> Self {
        let clock = SimulatedClock::at(&midday(date(on)));
        let context = sure(Context::in_memory(clock.clone()));
        let site = sure(setup::site_save(&context, site));
        Self { context, site, clock }
    }

    /// Lets it be midday of a date.
    pub fn goes_to(&self, date: NaiveDate) {
        self.clock.set(&midday(date));
    }

    /// Imports a climate file.
    pub fn imports(&self, name: &str, text: &str) {
        let file = ClimateFile {
            site_id: self.site.id.clone(),
            file_name: name.to_owned(),
            text: text.to_owned(),
            plain_unit: None,
        };
        sure(climate::climate_import(&self.context, file));
    }

    /// What is set up.
    pub fn overview(&self) -> Overview {
        sure(setup::overview(&self.context, OverviewRequest { site_id: Some(self.site.id.clone()) }))
    }

    /// Enters a shelter.
    pub fn enter_shelter(&self, shelter: Shelter) -> Shelter {
        sure(setup::shelter_save(&self.context, shelter))
    }

    /// Enters or changes a zone.
    pub fn enter_zone(&self, zone: Zone) -> Zone {
        sure(setup::zone_save(&self.context, zone))
    }

    /// Enters a plant.
    pub fn enter_plant(&self, planting: Planting) -> Planting {
        sure(setup::planting_save(&self.context, planting))
    }

    /// The first zone of a shelter.
    pub fn zone_of(&self, shelter: &Shelter) -> Zone {
        self.overview()
            .zones
            .into_iter()
            .find(|zone| zone.shelter_id == shelter.id)
            .expect("a shelter has a zone")
    }

    /// A zone by its name.
    pub fn zone(&self, name: &str) -> Zone {
        let zones = self.overview().zones;
        zones.into_iter().find(|zone| zone.name == name).unwrap_or_else(|| panic!("no zone “{name}”"))
    }

    /// The plan of the season that starts in a year.
    pub fn plan(&self, start_year: i32) -> Plan {
        let request = SeasonRequest { site_id: self.site.id.clone(), start_year: Some(start_year) };
        Arc::unwrap_or_clone(sure(season::season_plan(&self.context, request)).plan)
    }

    /// The close-up checklists of the season that starts in a year.
    pub fn checklists(&self, start_year: i32) -> CloseUp {
        let request = SeasonRequest { site_id: self.site.id.clone(), start_year: Some(start_year) };
        sure(season::close_up(&self.context, request))
    }

    /// What is due today.
    pub fn today(&self) -> Today {
        let request = TodayRequest { site_id: Some(self.site.id.clone()), on: None };
        sure(today::today(&self.context, request))
    }

    /// A chore by its rule and the name of what it is done for.
    pub fn chore(&self, start_year: i32, rule: &str, target: &str) -> PlannedChore {
        let found = self.plan(start_year).chores.into_iter().find(|chore| is(chore, rule, target));
        found.unwrap_or_else(|| panic!("no chore “{rule}” for “{target}”"))
    }

    /// Says that a chore was done today.
    pub fn ticks(&self, start_year: i32, chore: &PlannedChore) -> ChoreChanged {
        let chore = self.named(start_year, chore);
        sure(chores::chore_done(&self.context, ChoreDone { chore, on: None }))
    }

    /// Leaves a chore out.
    pub fn skips(&self, start_year: i32, chore: &PlannedChore, reason: &str) -> ChoreChanged {
        let chore = self.named(start_year, chore);
        sure(chores::chore_skip(&self.context, ChoreSkip { chore, reason: reason.to_owned() }))
    }

    /// Gives a chore another day.
    ///
    /// # Errors
    /// What the service says against it.
    pub fn moves(
        &self,
        start_year: i32,
        chore: &PlannedChore,
        to: NaiveDate,
    ) -> Result<ChoreChanged, Failure> {
        chores::chore_move(&self.context, ChoreMove { chore: self.named(start_year, chore), to })
    }

    /// Takes the last act on a chore back.
    pub fn undoes(&self, start_year: i32, chore: &PlannedChore) -> ChoreChanged {
        sure(chores::chore_undo(&self.context, self.named(start_year, chore)))
    }

    fn named(&self, start_year: i32, chore: &PlannedChore) -> ChoreRef {
        ChoreRef { site_id: self.site.id.clone(), start_year, chore_key: chore.key.clone() }
    }

    /// Works from the day after the one date to the other: on each day, all that is due, in the order of the plan.
    pub fn works(&self, start_year: i32, after: NaiveDate, to: NaiveDate) -> Vec<Entry> {
        let mut diary = Vec::new();
        for day in after.iter_days().skip(1).take_while(|day| *day <= to) {
            self.goes_to(day);
            // A tick can bring what was counted from it to this very day, so the day is looked at anew.
            while let Some(chore) = self.next_due() {
                let is_late = chore.window.latest < day;
                let changed = self.ticks(start_year, &chore);
                diary.push(Entry { day, chore, is_late, changed });
            }
        }
        diary
    }

    /// The next chore of the day: the first that waits for none of the others.
    fn next_due(&self) -> Option<PlannedChore> {
        let groups = self.today().groups;
        let mut due: Vec<PlannedChore> =
            groups.into_iter().flat_map(|group| group.late.into_iter().chain(group.due)).collect();
        let keys: Vec<String> = due.iter().map(|chore| chore.key.clone()).collect();
        due.sort_by_key(|chore| (chore.after.iter().any(|key| keys.contains(key)), chore.due_on));
        due.into_iter().next()
    }

    /// The date with a chance of a freeze event at or below a temperature, from the freeze figures that the program
    /// itself shows: by it in autumn, after it in spring.
    pub fn freeze_date(
        &self,
        event: Event,
        temp_c: f64,
        chance: Chance,
        start_year: i32,
    ) -> Option<NaiveDate> {
        let request = FreezeRequest { site_id: self.site.id.clone(), thresholds_c: vec![temp_c] };
        let report = sure(climate::climate_freeze(&self.context, request)).report;
        let shown = report.events.into_iter().find(|shown| shown.event == event)?;
        let interval = match chance {
            Chance::OneInTen => shown.p10,
            Chance::Even => shown.p50,
            Chance::NineInTen => shown.p90,
        }?;
        // Shown for the season that today lies in.
        let years = start_year - report.season_start_year;
        let months = chrono::Months::new(12 * years.unsigned_abs());
        if years < 0 {
            interval.date.checked_sub_months(months)
        } else {
            interval.date.checked_add_months(months)
        }
    }
}

/// A chore that was done, as the grower's diary has it.
pub struct Entry {
    /// The day.
    pub day: NaiveDate,
    /// The chore as it stood before.
    pub chore: PlannedChore,
    /// Whether its latest date was past.
    pub is_late: bool,
    /// What the program answered.
    pub changed: ChoreChanged,
}

/// A chance for which freeze dates are shown.
#[derive(Debug, Clone, Copy)]
pub enum Chance {
    /// 10 %.
    OneInTen,
    /// 50 %.
    Even,
    /// 90 %.
    NineInTen,
}

/// Whether a chore comes from a rule and is done for something of that name.
fn is(chore: &PlannedChore, rule: &str, target: &str) -> bool {
    chore.rule == rule && chore.target.name == target
}

/// The day before.
pub fn day_before(day: NaiveDate) -> NaiveDate {
    day - Days::new(1)
}

fn sure<T>(result: Result<T, Failure>) -> T {
    result.unwrap_or_else(|failure| panic!("the service refused: {failure}"))
}
