//! Random numbers from a fixed seed: the same input gives the same result.
//!
//! PCG32 (O'Neill 2014, HMC-CS-2014-0905) is defined to the bit, so results stay the same from one version of a
//! library to the next.

use std::f64::consts::TAU;

use rand_pcg::Pcg32;
use rand_pcg::rand_core::Rng;

/// A number strictly between 0 and 1.
pub(super) fn uniform(rng: &mut Pcg32) -> f64 {
    (f64::from(rng.next_u32()) + 0.5) / 4_294_967_296.0
}

/// A standard normal number (Box & Muller 1958, Ann. Math. Statist. 29, 610–611).
pub(super) fn normal(rng: &mut Pcg32) -> f64 {
    let radius = (-2.0 * uniform(rng).ln()).sqrt();
    radius * (TAU * uniform(rng)).cos()
}
