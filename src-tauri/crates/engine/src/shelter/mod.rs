//! Shelters and their zones.

mod records;

pub use records::{Light, Shelter, ShelterKind, Zone};
