//! Shelters and their zones.

mod build;
pub mod circuit;
pub mod dynamic;
mod envelope;
mod equipment;
pub mod fit;
pub mod fuel;
pub mod geometry;
mod ground;
mod materials;
mod media;
pub mod night;
pub mod placement;
mod records;
pub mod setup;
pub mod steady;
mod surroundings;
pub mod tonight;
pub mod winter;

pub use build::{Beyond, CoverOn, Form, Opening, Part, RoomSides, Sheet, ShelterBuild};
pub use envelope::{Envelope, EnvelopeElement};
pub use equipment::{EnergyPrice, Heater, Outline, Sensor, Spot};
pub use ground::GroundWave;
pub use materials::{Cover, FILMS_M2_K_PER_W, Glazing, Hangs, HeaterKind, Materials, Wall};
pub use media::{Enthalpy, Medium};
pub use records::{Light, Shelter, ShelterKind, Zone};
pub use surroundings::{KnownFrom, Surroundings};
