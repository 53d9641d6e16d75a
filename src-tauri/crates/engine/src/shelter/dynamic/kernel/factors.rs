//! The matrix of a stage, eliminated by the network's shape.
#![expect(clippy::needless_range_loop, reason = "lanes and bodies index several arrays at once")]

use super::{BODIES, FIRST_SIDE, GAMMA, LAYERS, Lanes, Links, POTS, SIDES, SURFACE, Thermostat};

/// A value for every node: temperatures in °C, or the right-hand side in W.
#[derive(Debug, Clone, Copy)]
pub(super) struct Nodes<const L: usize> {
    pub(super) air: Lanes<L>,
    pub(super) body: [Lanes<L>; BODIES],
}

impl<const L: usize> Nodes<L> {
    pub(super) const ZERO: Self = Self { air: [0.0; L], body: [[0.0; L]; BODIES] };
}

/// Matrix `M + G` of a stage with `M = C / (γ h)`, eliminated.
#[derive(Debug, Clone)]
pub(super) struct Factors<const L: usize> {
    /// `M` of every node.
    pub(super) m: Nodes<L>,
    /// Side bodies that take part.
    sides: usize,
    inv: [Lanes<L>; BODIES],
    chain_w: [Lanes<L>; LAYERS - 1],
    side_w: [Lanes<L>; SIDES],
    surface_to_pots: Lanes<L>,
    surface_to_air: Lanes<L>,
    air_pots: Lanes<L>,
    pots_to_air: Lanes<L>,
    inv_air: Lanes<L>,
    inv_core: f64,
    /// Temperatures per watt of heater.
    per_watt: Nodes<L>,
}

impl<const L: usize> Factors<L> {
    pub(super) fn new() -> Self {
        Self {
            m: Nodes::ZERO,
            sides: SIDES,
            inv: [[0.0; L]; BODIES],
            chain_w: [[0.0; L]; LAYERS - 1],
            side_w: [[0.0; L]; SIDES],
            surface_to_pots: [0.0; L],
            surface_to_air: [0.0; L],
            air_pots: [0.0; L],
            pots_to_air: [0.0; L],
            inv_air: [0.0; L],
            inv_core: 0.0,
            per_watt: Nodes::ZERO,
        }
    }

    /// Bodies that take part: those after them keep their temperature and are left out of every sum.
    pub(super) fn bodies(&self) -> usize {
        FIRST_SIDE + self.sides
    }

    /// Eliminates the matrix for given slopes of the enthalpy curves.
    pub(super) fn eliminate(
        &mut self,
        links: &Links<L>,
        air_j_per_k: &Lanes<L>,
        slope: &[Lanes<L>; BODIES],
        step_s: f64,
        venting: bool,
        thermostat: &Thermostat<L>,
    ) {
        let scale = 1.0 / (GAMMA * step_s);
        let vent = if venting { 1.0 } else { 0.0 };
        let mut below = [0.0; L];
        self.sides = links.sides();
        for l in 0..L {
            self.m.air[l] = air_j_per_k[l] * scale;
        }
        for b in 0..BODIES {
            for l in 0..L {
                self.m.body[b][l] = slope[b][l] * scale;
            }
        }
        for i in (1..LAYERS).rev() {
            let layer = SURFACE + i;
            for l in 0..L {
                let up = links.chain[i - 1][l];
                let down = if i + 1 < LAYERS { links.chain[i][l] } else { 0.0 };
                let diagonal = self.m.body[layer][l] + links.out_bodies[layer][l] + up + down - below[l];
                self.inv[layer][l] = 1.0 / diagonal;
                self.chain_w[i - 1][l] = up * self.inv[layer][l];
                below[l] = up * self.chain_w[i - 1][l];
            }
        }
        let (mut core_sum, mut core_back) = (0.0, 0.0);
        for l in 0..L {
            let (air_surface, pots_surface) = (links.air_surface[l], links.pots_surface[l]);
            let surface = self.m.body[SURFACE][l] + links.out_bodies[SURFACE][l] + links.chain[0][l]
                - below[l]
                + air_surface
                + pots_surface;
            self.inv[SURFACE][l] = 1.0 / surface;
            self.surface_to_pots[l] = pots_surface * self.inv[SURFACE][l];
            self.surface_to_air[l] = air_surface * self.inv[SURFACE][l];
            self.air_pots[l] = links.air_pots[l] + pots_surface * self.surface_to_air[l];
            let pots = self.m.body[POTS][l] + links.out_bodies[POTS][l] + links.air_pots[l] + pots_surface
                - pots_surface * self.surface_to_pots[l];
            self.inv[POTS][l] = 1.0 / pots;
            self.pots_to_air[l] = self.air_pots[l] * self.inv[POTS][l];
            let mut air = self.m.air[l] + links.out_air[l] + vent * links.vent[l] + links.mix[l];
            air += links.air_pots[l] + air_surface - air_surface * self.surface_to_air[l];
            air -= self.air_pots[l] * self.pots_to_air[l];
            for k in 0..self.sides {
                let (side, to_air) = (FIRST_SIDE + k, links.air_sides[k][l]);
                self.inv[side][l] = 1.0 / (self.m.body[side][l] + links.out_bodies[side][l] + to_air);
                self.side_w[k][l] = to_air * self.inv[side][l];
                air += to_air - to_air * self.side_w[k][l];
            }
            self.inv_air[l] = 1.0 / air;
            core_sum += links.mix[l];
            core_back += links.mix[l] * links.mix[l] * self.inv_air[l];
        }
        self.inv_core = if core_sum > 0.0 { 1.0 / (core_sum - core_back) } else { 0.0 };
        if thermostat.rating_w > 0.0 {
            let mut unit = Nodes { air: thermostat.share, ..Nodes::ZERO };
            self.solve(links, &mut unit);
            self.per_watt = unit;
        }
    }

    /// Turns a right-hand side into temperatures.
    pub(super) fn solve(&self, links: &Links<L>, nodes: &mut Nodes<L>) {
        let (r, air) = (&mut nodes.body, &mut nodes.air);
        for i in (1..LAYERS).rev() {
            for l in 0..L {
                r[SURFACE + i - 1][l] += self.chain_w[i - 1][l] * r[SURFACE + i][l];
            }
        }
        for l in 0..L {
            r[POTS][l] += self.surface_to_pots[l] * r[SURFACE][l];
            air[l] += self.surface_to_air[l] * r[SURFACE][l] + self.pots_to_air[l] * r[POTS][l];
        }
        for k in 0..self.sides {
            for l in 0..L {
                air[l] += self.side_w[k][l] * r[FIRST_SIDE + k][l];
            }
        }
        let mut core = 0.0;
        for l in 0..L {
            air[l] *= self.inv_air[l];
            core += links.mix[l] * air[l];
        }
        core *= self.inv_core;
        for l in 0..L {
            air[l] += links.mix[l] * self.inv_air[l] * core;
            r[POTS][l] = (r[POTS][l] + self.air_pots[l] * air[l]) * self.inv[POTS][l];
            let neighbours = links.pots_surface[l] * r[POTS][l] + links.air_surface[l] * air[l];
            r[SURFACE][l] = (r[SURFACE][l] + neighbours) * self.inv[SURFACE][l];
        }
        for i in 1..LAYERS {
            for l in 0..L {
                let above = links.chain[i - 1][l] * r[SURFACE + i - 1][l];
                r[SURFACE + i][l] = (r[SURFACE + i][l] + above) * self.inv[SURFACE + i][l];
            }
        }
        for k in 0..self.sides {
            for l in 0..L {
                let side = FIRST_SIDE + k;
                r[side][l] = (r[side][l] + links.air_sides[k][l] * air[l]) * self.inv[side][l];
            }
        }
    }

    /// As [`Self::solve`], with the heat in W that a running thermostat asks for.
    pub(super) fn solve_heated(
        &self,
        links: &Links<L>,
        nodes: &mut Nodes<L>,
        thermostat: &Thermostat<L>,
        running: bool,
    ) -> f64 {
        self.solve(links, nodes);
        if !running || thermostat.rating_w <= 0.0 {
            return 0.0;
        }
        let sensor = thermostat.sensor;
        let target_c = thermostat.set_c + thermostat.band_k / 2.0;
        let lacking_k = target_c - nodes.air[sensor];
        let heat_w = (lacking_k / self.per_watt.air[sensor]).clamp(0.0, thermostat.rating_w);
        if heat_w > 0.0 {
            for l in 0..L {
                nodes.air[l] += heat_w * self.per_watt.air[l];
            }
            for b in 0..self.bodies() {
                for l in 0..L {
                    nodes.body[b][l] += heat_w * self.per_watt.body[b][l];
                }
            }
        }
        heat_w
    }
}
