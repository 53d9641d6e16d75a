//! What crosses to a user interface: the list of commands with their requests and replies, failures, and the
//! text catalogue. Every host (desktop shell, gateway, command line) works from [`commands!`].

mod commands;
mod failure;
pub mod wording;

pub mod calendar;
pub mod chores;
pub mod climate;
pub mod night;
pub mod plants;
pub mod readings;
pub mod season;
pub mod setup;
pub mod shelter;
pub mod today;
pub mod weather;
pub mod winter;

pub use commands::{COMMAND_NAMES, export};
pub use failure::{ErrorCode, Failure};

/// Engine records that stand in requests and replies, for hosts, which know the engine only through them.
pub mod records {
    pub use hibernacle_engine::climate::{
        Basis, DateInterval, FreezeEvent, FreezeReport, RecordProblem, RecordSource, Station, TypedClimate,
    };
    pub use hibernacle_engine::plant::{Container, Planting};
    pub use hibernacle_engine::readings::{
        ColumnUse, DateOrder, DecimalMark, Delimiter, KnownFrom, LogNote, LogOptions, LogQuestion, LogUnit,
        MOST_BYTES, Quantity, RejectReason, TextEncoding, TimeKind, too_large,
    };
    pub use hibernacle_engine::season::{
        Band, BandKind, Caution, ChoreState, Event, MarkKind, Phase, Plan, PlanProblem, PlannedChore, Reason,
        Target,
    };
    pub use hibernacle_engine::shelter::fuel::Fuel;
    pub use hibernacle_engine::shelter::night::NightOutlook;
    pub use hibernacle_engine::shelter::steady::LossPath;
    pub use hibernacle_engine::shelter::tonight::NightStep;
    pub use hibernacle_engine::shelter::{Part, Shelter, Zone};
    pub use hibernacle_engine::site::{LengthUnit, Site, TemperatureUnit, Units, VolumeUnit, WorkTime};
}
