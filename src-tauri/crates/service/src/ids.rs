//! Identifiers of new things.

use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};

use chrono::{DateTime, Utc};
use uuid::{ContextV7, Timestamp, Uuid};

/// Makes identifiers. The program uses [`RandomIds`]; tests that compare texts use [`CountedIds`].
pub trait IdSource: Send + Sync {
    /// An identifier that was never given before.
    fn next_id(&self, at_utc: DateTime<Utc>) -> String;
}

/// UUIDs of version 7 (RFC 9562): time first, then a counter within the millisecond, then random bits.
#[derive(Debug)]
pub struct RandomIds(Mutex<ContextV7>);

impl Default for RandomIds {
    fn default() -> Self {
        Self(Mutex::new(ContextV7::new()))
    }
}

impl IdSource for RandomIds {
    fn next_id(&self, at_utc: DateTime<Utc>) -> String {
        let seconds = u64::try_from(at_utc.timestamp()).unwrap_or_default();
        Uuid::new_v7(Timestamp::from_unix(&self.0, seconds, at_utc.timestamp_subsec_nanos())).to_string()
    }
}

/// UUIDs that count up from one, the same in every run.
#[derive(Debug, Default)]
pub struct CountedIds(AtomicU64);

impl IdSource for CountedIds {
    fn next_id(&self, _at_utc: DateTime<Utc>) -> String {
        let number = self.0.fetch_add(1, Ordering::Relaxed) + 1;
        Uuid::from_u128(number.into()).to_string()
    }
}
