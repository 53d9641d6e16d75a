//! The shelter through time: zones, pots, soil and skin under the weather.
//!
//! [`Forcing`] prepares weather for an envelope, [`Scenario`] describes the shelter, [`simulate`] runs it; the flows are
//! listed in `house`, the stepping is in [`kernel`]. Every coefficient is a handbook's or marked as an estimate; none was
//! fitted to the figures below.
//!
//! | check | published | here |
//! |---|---|---|
//! | cropped plastic tunnel, mean night gain (Savage 1980) | +1.3 K, inside colder for 1.5 h after sunset | +1.4 K, colder from sunset (17:10) until about 19:00 |
//! | plastic houses, single and double (Hangzhou 2010–12) | +2.0, +3.0 K, less on clear nights | +2.7, +3.6 K, +2.4 on clear nights |
//! | row covers (Oregon 1983–84) | +0.5 to +1.8 K, at times none | +2.2 K, −0.5 K on dry clear nights |
//! | glass and twin-wall houses in February (EnergyPlus 25.2) | hold 3.5 to 9.0 K, 81 and 38 kWh | 0.1 to 0.9 K more, 85 and 37 kWh |
//! | small bare glass house, clear winter night (common practice, no source) | 1 to 3 K | 1.8 to 3.0 K over a spell |
//! | the same with a good cover (common practice, no source) | 4 to 8 K, at least 1.8 times | bubble film 3.2 to 5.2 K, 1.8 times; dark tarp 2.4 to 3.5 K, 1.3 times |
//!
//! The dark tarp falls short of what growers say of it: it halves the loss, but it also keeps the sun from the floor,
//! which is then 5 to 10 K colder at dusk. The same tarp letting light through holds 0.9 K more. Growers' tarps may be
//! put on only for the spell, on a house with more pots or warmer ground than the one tried, or their thermometers may
//! stand differently; a temperature log decides.
//!
//! Validity: houses closed in winter, wind up to about 10 m/s, no snow on the roof (it insulates and darkens), no rain,
//! air mixed within a zone. Inside air still or stirred by a fan changes the heat need of a glass house by up to two
//! thirds; [`Scenario::stirred`] tells which.

mod balance;
mod forcing;
mod house;
pub mod kernel;
mod run;

pub use forcing::{Forcing, Outdoors};
pub use house::ZoneLoad;
pub use kernel::Vent;
pub use run::{
    EnergyReport, Heating, MOST_ZONES, Moment, Phase, RunError, STEPS_PER_HOUR, Scenario, pots_frozen_share,
    simulate,
};
