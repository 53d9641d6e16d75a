//! The grower's data, opened when it is first needed.

use std::sync::{Arc, Mutex, PoisonError};

use hibernacle_contract::Failure;
use hibernacle_service::{Context, HostClock, data_dir};

/// The data, or the wish to open it.
///
/// Where it cannot be opened (written by a newer program, a full disk), every command answers with the reason, so
/// that the window shows it; the next command tries again, so that a mended folder needs no restart.
pub(crate) struct Data {
    with_demo: bool,
    opened: Mutex<Option<Arc<Context>>>,
}

impl Data {
    /// Data that is opened later; with the demo season where there is none yet.
    pub(crate) fn new(with_demo: bool) -> Self {
        Self { with_demo, opened: Mutex::new(None) }
    }

    /// The opened data.
    ///
    /// # Errors
    /// Says why it cannot be opened.
    pub(crate) fn open(&self) -> Result<Arc<Context>, Failure> {
        let mut opened = self.opened.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(context) = opened.as_ref() {
            return Ok(Arc::clone(context));
        }
        let context = Context::open(&data_dir()?, HostClock::from_environment()?)?;
        if self.with_demo {
            context.load_demo_if_empty()?;
        }
        Ok(Arc::clone(opened.insert(Arc::new(context))))
    }
}
