//! The time, passed in.

use std::sync::Arc;

use chrono::{DateTime, Utc};

/// Tells the time. The program uses [`SystemClock`]; tests set a time of their own.
pub trait Clock: Send + Sync {
    /// The present instant.
    fn now_utc(&self) -> DateTime<Utc>;
}

impl<C: Clock + ?Sized> Clock for Arc<C> {
    fn now_utc(&self) -> DateTime<Utc> {
        (**self).now_utc()
    }
}

/// The computer's clock.
#[derive(Debug, Clone, Copy, Default)]
pub struct SystemClock;

impl Clock for SystemClock {
    #[expect(clippy::disallowed_methods, reason = "the one place where the computer's clock is read")]
    fn now_utc(&self) -> DateTime<Utc> {
        Utc::now()
    }
}
