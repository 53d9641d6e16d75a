//! Shelters and their zones.

mod ground;
mod media;
mod records;

pub use ground::GroundWave;
pub use media::{Enthalpy, Medium};
pub use records::{Light, Shelter, ShelterKind, Zone};
