//! A clock that tests set.

use std::sync::{Arc, PoisonError, RwLock};

use chrono::{DateTime, TimeDelta, Utc};
use hibernacle_service::Clock;

/// A clock that stands still until it is set; clones show the same time.
#[derive(Debug, Clone)]
pub struct SimulatedClock(Arc<RwLock<DateTime<Utc>>>);

impl SimulatedClock {
    /// A clock that shows an instant given as RFC 3339 text (`2026-11-10T08:00:00Z`).
    ///
    /// # Panics
    /// When the text is no instant.
    pub fn at(instant: &str) -> Self {
        Self(Arc::new(RwLock::new(parse(instant))))
    }

    /// Sets the clock, forwards or back.
    ///
    /// # Panics
    /// When the text is no instant.
    pub fn set(&self, instant: &str) {
        *self.0.write().unwrap_or_else(PoisonError::into_inner) = parse(instant);
    }

    /// Lets time pass.
    pub fn advance(&self, span: TimeDelta) {
        *self.0.write().unwrap_or_else(PoisonError::into_inner) += span;
    }
}

#[expect(clippy::panic, reason = "a wrong instant is a mistake in a test")]
fn parse(instant: &str) -> DateTime<Utc> {
    instant.parse().unwrap_or_else(|error| panic!("“{instant}” is no instant: {error}"))
}

impl Clock for SimulatedClock {
    fn now_utc(&self) -> DateTime<Utc> {
        *self.0.read().unwrap_or_else(PoisonError::into_inner)
    }
}
