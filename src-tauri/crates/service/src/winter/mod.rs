//! The winter's bill: set-ups of a shelter run through every winter of the climate, in the background.
//!
//! A run rests on the records as they stood when it started. The last few runs are kept with the [`Context`] and stop
//! with it.

mod plan;
mod run;
mod says;
mod usual;
mod weather;

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;

use hibernacle_contract::winter::{WinterProgress, WinterRequest, WinterRun};
use hibernacle_contract::{ErrorCode, Failure};

use crate::Context;
use crate::problem::Problem;
use plan::Plan;
use run::Run;

/// Runs that are kept; an older one is stopped and forgotten.
const KEPT_RUNS: usize = 4;

/// The runs of a process, the latest last.
#[derive(Default)]
pub(crate) struct Winters(Mutex<VecDeque<Kept>>);

/// A run with the thread that leads it.
struct Kept {
    run: Arc<Run>,
    thread: Option<JoinHandle<()>>,
}

impl Drop for Kept {
    fn drop(&mut self) {
        self.run.cancel();
        if let Some(thread) = self.thread.take() {
            // A thread that panicked has told so in the state of its run.
            let _ = thread.join();
        }
    }
}

impl Winters {
    fn kept(&self) -> MutexGuard<'_, VecDeque<Kept>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn start(&self, run: Run) -> Result<WinterRun, Problem> {
        let run = Arc::new(run);
        let leader = Arc::clone(&run);
        let thread = std::thread::Builder::new()
            .name("winter".to_owned())
            .spawn(move || leader.work())
            .map_err(|error| Problem::new(ErrorCode::Internal, format!("the run cannot start: {error}")))?;
        let reply = WinterRun { run_id: run.id().to_owned() };
        let forgotten = {
            let mut kept = self.kept();
            kept.push_back(Kept { run, thread: Some(thread) });
            if kept.len() > KEPT_RUNS { kept.pop_front() } else { None }
        };
        // Stopped outside of the lock: others may look meanwhile.
        drop(forgotten);
        Ok(reply)
    }

    fn find(&self, id: &str) -> Result<Arc<Run>, Problem> {
        self.kept().iter().find(|kept| kept.run.id() == id).map(|kept| Arc::clone(&kept.run)).ok_or_else(
            || {
                Problem::new(
                    ErrorCode::NotFound,
                    "this run of the winters is not there any more; start it again",
                )
            },
        )
    }
}

/// Starts to run a shelter's set-ups through the winters.
///
/// # Errors
/// [`ErrorCode::Invalid`] with the field for a request or a set-up that cannot be used, [`ErrorCode::Unreadable`] with
/// the line for a file of weather that cannot, [`ErrorCode::NotFound`] where the shelter does not exist, and
/// [`ErrorCode::Conflict`] where the site has no climate or the shelter no zone.
pub fn winter_start(context: &Context, request: WinterRequest) -> Result<WinterRun, Failure> {
    let plan = Plan::new(context, &request)?;
    Ok(context.winters().start(Run::new(context.next_id(), plan))?)
}

/// How far a run is, with its result once it is done.
///
/// # Errors
/// [`ErrorCode::NotFound`] for a run that was never started or is forgotten.
pub fn winter_look(context: &Context, run: WinterRun) -> Result<WinterProgress, Failure> {
    Ok(context.winters().find(&run.run_id)?.progress())
}

/// Stops a run. One that is at its end already stays as it is.
///
/// # Errors
/// As [`winter_look`].
pub fn winter_cancel(context: &Context, run: WinterRun) -> Result<WinterProgress, Failure> {
    let run = context.winters().find(&run.run_id)?;
    run.cancel();
    Ok(run.progress())
}
