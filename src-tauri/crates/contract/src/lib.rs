//! What crosses to a user interface: the list of commands with their requests and replies, failures, and the
//! text catalogue. Every host (desktop shell, gateway, command line) works from [`commands!`].

mod commands;
mod failure;
pub mod wording;

pub mod calendar;
pub mod chores;
pub mod climate;
pub mod plants;
pub mod season;
pub mod setup;
pub mod today;

pub use commands::{COMMAND_NAMES, export};
pub use failure::{ErrorCode, Failure};
