//! A grower who uses the program through a year: what the journeys in `tests/` are told with.

mod diary;
mod larch_bank;

pub use diary::{Chance, Entry, Grower, date, day_before, done_on, midday};
pub use larch_bank::{CLIMATE_FILE, larch_bank};
