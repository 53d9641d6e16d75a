//! What drives the network: coefficients, sources and controls.

use super::{BODIES, FIRST_SIDE, LAYERS, Lanes, SIDES};

/// Heat that enters the nodes from outside the network, per kelvin-free term, in W.
#[derive(Debug, Clone, Copy)]
pub struct Sources<const L: usize> {
    /// Into the air.
    pub air_w: Lanes<L>,
    /// Into the bodies.
    pub body_w: [Lanes<L>; BODIES],
    /// Outdoor temperature in °C, for the vent.
    pub outside_c: f64,
}

impl<const L: usize> Default for Sources<L> {
    fn default() -> Self {
        Self { air_w: [0.0; L], body_w: [[0.0; L]; BODIES], outside_c: 0.0 }
    }
}

/// Coefficients of the network over an hour, in W/K, and its sources at both ends of the hour.
///
/// A boundary at temperature `Tb` behind a conductance `u` enters as `u` in the `out` term and `u·Tb` in the sources.
#[derive(Debug, Clone, Copy)]
pub struct Links<const L: usize> {
    /// Air to the core that mixes the zones.
    pub mix: Lanes<L>,
    /// Air to pots.
    pub air_pots: Lanes<L>,
    /// Air to floor surface.
    pub air_surface: Lanes<L>,
    /// Pots to floor surface.
    pub pots_surface: Lanes<L>,
    /// Air to side bodies.
    pub air_sides: [Lanes<L>; SIDES],
    /// Layer to the layer below it.
    pub chain: [Lanes<L>; LAYERS - 1],
    /// Air to boundaries.
    pub out_air: Lanes<L>,
    /// Bodies to boundaries.
    pub out_bodies: [Lanes<L>; BODIES],
    /// Air to outdoors while the vent is open.
    pub vent: Lanes<L>,
    /// Sources at the start of the hour.
    pub start: Sources<L>,
    /// Sources at the end of the hour.
    pub end: Sources<L>,
}

impl<const L: usize> Links<L> {
    /// Side bodies up to the last that anything reaches; the temperatures of those after it stand still.
    pub(super) fn sides(&self) -> usize {
        let reached = |side: &usize| {
            let body = FIRST_SIDE + side;
            [&self.air_sides[*side], &self.out_bodies[body], &self.start.body_w[body], &self.end.body_w[body]]
                .iter()
                .any(|lanes| lanes.iter().any(|value| *value != 0.0))
        };
        (0..SIDES).rev().find(reached).map_or(0, |last| last + 1)
    }
}

impl<const L: usize> Default for Links<L> {
    fn default() -> Self {
        Self {
            mix: [0.0; L],
            air_pots: [0.0; L],
            air_surface: [0.0; L],
            pots_surface: [0.0; L],
            air_sides: [[0.0; L]; SIDES],
            chain: [[0.0; L]; LAYERS - 1],
            out_air: [0.0; L],
            out_bodies: [[0.0; L]; BODIES],
            vent: [0.0; L],
            start: Sources::default(),
            end: Sources::default(),
        }
    }
}

/// A heater with its thermostat.
///
/// The thermostat turns on when the sensor falls to `set_c` and off at `set_c + band_k`. Cycles are shorter than a step,
/// so within a step the heat is that which holds the middle of the band, up to the rating.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thermostat<const L: usize> {
    /// Largest heat in W; 0 when there is no heater.
    pub rating_w: f64,
    /// Sensor temperature in °C at which it turns on.
    pub set_c: f64,
    /// Kelvin between on and off.
    pub band_k: f64,
    /// Share of the heat that reaches each zone's air, summing to 1.
    pub share: Lanes<L>,
    /// Zone of the sensor.
    pub sensor: usize,
}

/// Vent that opens by itself or by hand in warm hours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vent {
    /// Air temperature in °C above which it opens; it closes 2 K below.
    pub opens_above_c: f64,
}
