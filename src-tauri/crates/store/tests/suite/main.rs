//! The store from outside: opening files, and each table in the twin of its file.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]
#![expect(
    clippy::redundant_closure_for_method_calls,
    reason = "a method's path is not general over lifetimes"
)]

mod file;
mod sample;
mod schema;
mod table;
