//! The service from outside, with data in memory and a clock that is set: the user's story, one file per feature.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

mod chores;
mod climate;
mod context;
mod demo;
mod dispatch;
mod kill;
mod night;
mod night_record;
mod plants;
mod prices;
mod readings;
mod removal;
mod season;
mod setup;
mod shelter;
mod shelter_records;
mod today;
mod weather;
mod winter;

use hibernacle_contract::{ErrorCode, Failure};

/// The failure of a command that must be refused, with the code and the field it must have.
fn refused<T>(result: Result<T, Failure>, code: ErrorCode, field: Option<&str>) -> String {
    let Err(failure) = result else { panic!("was not refused") };
    assert_eq!((failure.code, failure.field.as_deref()), (code, field), "{failure}");
    failure.message
}
