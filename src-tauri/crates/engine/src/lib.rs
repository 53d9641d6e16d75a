//! The computing of Hibernacle: climate, sun, air, shelters, plants and the season plan.
//!
//! Everything here is pure. What is deliberately absent: files, the network, a clock, threads and randomness
//! without a seed. Time, weather and settings are passed in; results carry the problems that were met on the
//! way instead of failing on the first. Quantities are SI with the unit in the name (`temp_c`, `area_m2`);
//! display units exist only at the edges.

pub mod air;
pub mod climate;
pub mod field;
mod lines;
pub mod plant;
pub mod readings;
pub mod season;
pub mod shelter;
pub mod site;
pub mod sun;
pub mod table;
