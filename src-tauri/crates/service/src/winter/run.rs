//! A run at work: threads that take one stretch of draws after the other.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, AtomicU32, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use hibernacle_contract::winter::{RunState, WinterProgress, WinterView};
use hibernacle_engine::shelter::dynamic::Forcing;
use hibernacle_engine::shelter::night::ZoneLimit;
use hibernacle_engine::shelter::winter::{WinterTally, run_winter};

use super::plan::Plan;
use super::says;

/// Draws that a thread takes at a time.
const STRETCH: usize = 10;

fn held<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// How a run stands.
enum State {
    Running,
    Done(Box<WinterView>),
    Cancelled,
    Failed(String),
}

/// Set-ups of a shelter under way through the winters.
pub(super) struct Run {
    id: String,
    plan: Plan,
    done: AtomicU32,
    stop: AtomicBool,
    state: Mutex<State>,
}

/// What the threads of a run share. Its size does not depend on the number of draws.
struct Shared<'a> {
    plan: &'a Plan,
    limits: Vec<ZoneLimit>,
    next: AtomicUsize,
    /// For every winter its prepared weather while a thread needs it, and the stretches that are left.
    forcings: Vec<Mutex<(Option<Arc<Forcing>>, usize)>>,
    /// For every set-up its winters so far, or why it cannot be run.
    bills: Vec<Mutex<Result<WinterTally, String>>>,
}

/// One set-up in one winter for a row of draws.
struct Stretch<'a> {
    winter: usize,
    set_up: usize,
    shifts_k: &'a [f64],
}

impl<'a> Shared<'a> {
    fn new(plan: &'a Plan) -> Self {
        let per_winter = plan.set_ups.len() * plan.shifts_k.chunks(STRETCH).len();
        Self {
            plan,
            limits: plan.zone_limits(),
            next: AtomicUsize::new(0),
            forcings: plan.winters.iter().map(|_| Mutex::new((None, per_winter))).collect(),
            bills: plan.set_ups.iter().map(|_| Mutex::new(Ok(WinterTally::new(plan.zones.len())))).collect(),
        }
    }

    /// The next stretch that nobody has taken, winter by winter.
    fn take(&self) -> Option<Stretch<'a>> {
        let stretches = self.plan.shifts_k.chunks(STRETCH).len();
        let index = self.next.fetch_add(1, Ordering::Relaxed);
        let (row, stretch) = (index / stretches, index % stretches);
        let (winter, set_up) = (row / self.plan.set_ups.len(), row % self.plan.set_ups.len());
        let shifts_k = self.plan.shifts_k.chunks(STRETCH).nth(stretch)?;
        (winter < self.plan.winters.len()).then_some(Stretch { winter, set_up, shifts_k })
    }

    /// The weather of a winter, prepared by the first thread that asks.
    fn forcing(&self, winter: usize) -> Result<Arc<Forcing>, String> {
        let mut slot = held(&self.forcings[winter]);
        if let Some(forcing) = &slot.0 {
            return Ok(Arc::clone(forcing));
        }
        let series = self.plan.winters[winter].series(self.plan.place).map_err(|error| error.to_string())?;
        let forcing = Arc::new(Forcing::new(self.plan.place, &series, &self.plan.facings));
        slot.0 = Some(Arc::clone(&forcing));
        Ok(forcing)
    }

    fn give_back(&self, winter: usize) {
        let mut slot = held(&self.forcings[winter]);
        slot.1 -= 1;
        if slot.1 == 0 {
            slot.0 = None;
        }
    }
}

impl Run {
    pub(super) fn new(id: String, plan: Plan) -> Self {
        let (done, stop, state) = (AtomicU32::new(0), AtomicBool::new(false), Mutex::new(State::Running));
        Self { id, plan, done, stop, state }
    }

    pub(super) fn id(&self) -> &str {
        &self.id
    }

    /// Asks the threads to stop; they do so after the winter they are at.
    pub(super) fn cancel(&self) {
        self.stop.store(true, Ordering::Relaxed);
        self.end(State::Cancelled);
    }

    /// Sets how the run ended, unless it has already.
    fn end(&self, state: State) {
        let mut current = held(&self.state);
        if matches!(*current, State::Running) {
            *current = state;
        }
    }

    pub(super) fn progress(&self) -> WinterProgress {
        let (state, problem, result) = match &*held(&self.state) {
            State::Running => (RunState::Running, None, None),
            State::Done(view) => (RunState::Done, None, Some((**view).clone())),
            State::Cancelled => (RunState::Cancelled, None, None),
            State::Failed(problem) => (RunState::Failed, Some(problem.clone()), None),
        };
        WinterProgress {
            run_id: self.id.clone(),
            done: self.done.load(Ordering::Relaxed),
            total: self.plan.total(),
            state,
            problem,
            result,
        }
    }

    /// Does the whole work, on as many threads as the machine has cores.
    pub(super) fn work(&self) {
        let worked = catch_unwind(AssertUnwindSafe(|| {
            let shared = Shared::new(&self.plan);
            let threads = std::thread::available_parallelism().map_or(1, usize::from);
            std::thread::scope(|scope| {
                for _ in 0..threads {
                    scope.spawn(|| {
                        if let Err(problem) = self.stretches(&shared) {
                            self.end(State::Failed(problem));
                            self.stop.store(true, Ordering::Relaxed);
                        }
                    });
                }
            });
            shared
        }));
        match worked {
            Ok(shared) if !self.stop.load(Ordering::Relaxed) => {
                let bills = shared.bills.iter().map(|bill| match &*held(bill) {
                    Ok(tally) => Ok(tally.bill()),
                    Err(problem) => Err(problem.clone()),
                });
                let view = says::view(&self.plan, bills.collect());
                self.end(State::Done(Box::new(view)));
            }
            Ok(_) => {}
            Err(_) => self.end(State::Failed("a fault of the program; please report it".to_owned())),
        }
    }

    fn stretches(&self, shared: &Shared<'_>) -> Result<(), String> {
        while !self.stop.load(Ordering::Relaxed) {
            let Some(stretch) = shared.take() else { return Ok(()) };
            let forcing = shared.forcing(stretch.winter)?;
            self.run(shared, &stretch, &forcing);
            drop(forcing);
            shared.give_back(stretch.winter);
        }
        Ok(())
    }

    fn run(&self, shared: &Shared<'_>, stretch: &Stretch<'_>, forcing: &Forcing) {
        let bill = &shared.bills[stretch.set_up];
        let set_up = &self.plan.set_ups[stretch.set_up];
        let scenario = match self.plan.scenario(set_up, self.plan.winters[stretch.winter].start_year) {
            Ok(scenario) => scenario,
            Err(error) => {
                *held(bill) = Err(error.to_string());
                self.done.fetch_add(stretch.shifts_k.len() as u32, Ordering::Relaxed);
                return;
            }
        };
        for shift_k in stretch.shifts_k {
            if self.stop.load(Ordering::Relaxed) {
                return;
            }
            match run_winter(&scenario, forcing, *shift_k, &shared.limits) {
                Ok(outcome) => {
                    if let Ok(tally) = &mut *held(bill) {
                        tally.add(&outcome);
                    }
                }
                Err(error) => *held(bill) = Err(error.to_string()),
            }
            self.done.fetch_add(1, Ordering::Relaxed);
        }
    }
}
