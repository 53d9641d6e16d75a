//! The time, passed in.

use std::sync::Arc;

use chrono::{DateTime, TimeDelta, Utc};
use hibernacle_contract::{ErrorCode, Failure};

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

/// Names the instant at which a development build begins, so that its screens can be tested on any day of the
/// year. A released program does not look at it.
const NOW_VARIABLE: &str = "HIBERNACLE_NOW";

/// The clock of a host: the computer's, in a development build set to begin at the instant that
/// `HIBERNACLE_NOW` names.
#[derive(Debug, Clone, Copy, Default)]
pub struct HostClock {
    ahead: TimeDelta,
}

impl HostClock {
    /// The clock as the environment sets it.
    ///
    /// # Errors
    /// Where `HIBERNACLE_NOW` is not an instant.
    pub fn from_environment() -> Result<Self, Failure> {
        if !cfg!(debug_assertions) {
            return Ok(Self::default());
        }
        match std::env::var(NOW_VARIABLE) {
            Ok(text) => Self::beginning_at(&text),
            Err(_) => Ok(Self::default()),
        }
    }

    fn beginning_at(text: &str) -> Result<Self, Failure> {
        let begin = DateTime::parse_from_rfc3339(text).map_err(|_| {
            let message = format!("{NOW_VARIABLE}: “{text}” is not an instant such as 2026-11-25T10:00:00Z");
            Failure::new(ErrorCode::Invalid, message)
        })?;
        Ok(Self { ahead: begin.to_utc() - SystemClock.now_utc() })
    }
}

impl Clock for HostClock {
    fn now_utc(&self) -> DateTime<Utc> {
        SystemClock.now_utc() + self.ahead
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_clock_begins_at_its_instant_and_runs_on() {
        let clock = HostClock::beginning_at("2031-02-01T06:00:00+01:00").unwrap();
        let begin: DateTime<Utc> = "2031-02-01T05:00:00Z".parse().unwrap();
        let first = clock.now_utc();
        assert!(first >= begin && first < begin + TimeDelta::minutes(1), "{first}");
        assert!(clock.now_utc() >= first);
    }

    #[test]
    fn a_text_that_is_no_instant_is_refused() {
        let refused = HostClock::beginning_at("tomorrow").unwrap_err();
        assert!(refused.message.contains("HIBERNACLE_NOW: “tomorrow”"), "{refused}");
    }
}
