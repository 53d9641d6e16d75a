//! The store from outside: opening files, and each table in the twin of its file.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on fails")]

mod file;
mod sample;
mod schema;
mod table;
