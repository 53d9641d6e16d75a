//! The thermal network of a house and its stepping through time.
//!
//! Per zone (a lane of every array): air, and *bodies* that store heat: pots, floor in layers, and side bodies (water
//! store, heavy walls). Air meets pots, floor surface, sides and outdoors; pots meet the floor surface; the layers hang
//! in a chain; the zones' airs meet in a core without mass. Every body has an [`Enthalpy`], so that it may freeze.
//!
//! Stepping: the L-stable, stiffly accurate SDIRK method of order two (R. Alexander, SIAM J. Numer. Anal. 14 (1977)
//! 1006–1021), γ = 1 − √½. Both stages share one matrix, which is eliminated by the network's shape (no fill beyond the
//! triangle air–pots–surface) and kept until a coefficient changes. While no body changes its branch of the enthalpy
//! curve, a step is two back-substitutions; otherwise Newton steps in the heat content find the end of the step.
//! Energy is conserved to rounding: what leaves one node enters another.

#![expect(clippy::needless_range_loop, reason = "lanes and bodies index several arrays at once")]

use super::super::Enthalpy;

/// Layers of the floor.
pub const LAYERS: usize = 6;
/// Side bodies per zone at most.
pub const SIDES: usize = 4;
/// Bodies per zone: pots, layers, sides.
pub const BODIES: usize = 1 + LAYERS + SIDES;
/// Index of the pots among the bodies.
pub const POTS: usize = 0;
/// Index of the floor's surface layer among the bodies.
pub const SURFACE: usize = 1;
/// Index of the first side body.
pub const FIRST_SIDE: usize = 1 + LAYERS;

/// One value per zone.
pub type Lanes<const L: usize> = [f64; L];

const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;
/// Newton steps within a stage before the last one is taken.
const MOST_NEWTON_STEPS: usize = 30;
/// Largest mismatch in kelvin between solved and stored temperature that ends the Newton steps.
const NEWTON_TOLERANCE_K: f64 = 1e-7;

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

/// Energy since the start, in J.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Tally {
    /// Heat from the heater.
    pub heater_j: f64,
    /// Net heat from all boundaries and sources, negative when the house loses.
    pub exchanged_j: f64,
}

/// Eliminated matrix of a stage.
#[derive(Debug, Clone, Copy)]
struct Factors<const L: usize> {
    m_air: Lanes<L>,
    m: [Lanes<L>; BODIES],
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
    heat_air: Lanes<L>,
    heat_bodies: [Lanes<L>; BODIES],
}

/// Right-hand side of a stage, W.
#[derive(Clone, Copy)]
struct Right<const L: usize> {
    air: Lanes<L>,
    body: [Lanes<L>; BODIES],
}

/// State of the network with its stores.
#[derive(Debug, Clone)]
pub struct Network<const L: usize> {
    /// Heat capacity of the air in J/K.
    air_j_per_k: Lanes<L>,
    curves: [[Enthalpy; L]; BODIES],
    sides: usize,
    /// Air temperatures in °C.
    pub air_c: Lanes<L>,
    /// Body temperatures in °C.
    pub body_c: [Lanes<L>; BODIES],
    slope: [Lanes<L>; BODIES],
    low_c: [Lanes<L>; BODIES],
    high_c: [Lanes<L>; BODIES],
    heating: bool,
    venting: bool,
    factors: Option<Factors<L>>,
    /// Energy since the start.
    pub tally: Tally,
}

/// Outcome of a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stepped {
    /// Mean heat of the heater over the step in W.
    pub heat_w: f64,
}

fn each<const L: usize>(f: impl FnMut(usize) -> f64) -> Lanes<L> {
    std::array::from_fn(f)
}

impl<const L: usize> Network<L> {
    /// A network at rest.
    ///
    /// * `air_j_per_k` — heat capacity of each zone's air
    /// * `curves` — heat content of the bodies; unused sides may hold anything positive
    /// * `sides` — side bodies in use
    /// * `air_c`, `body_c` — temperatures at the start
    pub fn new(
        air_j_per_k: Lanes<L>,
        curves: [[Enthalpy; L]; BODIES],
        sides: usize,
        air_c: Lanes<L>,
        body_c: [Lanes<L>; BODIES],
    ) -> Self {
        let mut network = Self {
            air_j_per_k,
            curves,
            sides: sides.min(SIDES),
            air_c,
            body_c,
            slope: [[0.0; L]; BODIES],
            low_c: [[0.0; L]; BODIES],
            high_c: [[0.0; L]; BODIES],
            heating: false,
            venting: false,
            factors: None,
            tally: Tally::default(),
        };
        network.find_branches();
        network
    }

    fn bodies(&self) -> usize {
        FIRST_SIDE + self.sides
    }

    /// Heat content of everything in J.
    pub fn heat_j(&self) -> f64 {
        let air: f64 = (0..L).map(|l| self.air_j_per_k[l] * self.air_c[l]).sum();
        let bodies: f64 = (0..self.bodies())
            .flat_map(|b| (0..L).map(move |l| (b, l)))
            .map(|(b, l)| self.curves[b][l].heat_j(self.body_c[b][l]))
            .sum();
        air + bodies
    }

    /// Share of a body's water that is ice, 0 to 1.
    pub fn frozen_share(&self, body: usize, zone: usize) -> f64 {
        let curve = &self.curves[body][zone];
        curve.frozen_share(curve.heat_j(self.body_c[body][zone]))
    }

    /// Whether the vent is open.
    pub fn is_venting(&self) -> bool {
        self.venting
    }

    /// Must be called whenever links, step length or heater change: the eliminated matrix is kept until then.
    pub fn invalidate(&mut self) {
        self.factors = None;
    }

    fn find_branches(&mut self) {
        for b in 0..self.bodies() {
            for l in 0..L {
                let branch = self.curves[b][l].branch_at(self.body_c[b][l]);
                self.slope[b][l] = branch.slope_j_per_k;
                self.low_c[b][l] = branch.low_c;
                self.high_c[b][l] = branch.high_c;
            }
        }
    }

    /// Goes one step forward.
    ///
    /// * `links` — coefficients of the current hour; call [`Self::invalidate`] when they change
    /// * `from`, `to` — start and end of the step as fractions of the hour
    /// * `step_s` — length of the step in seconds
    /// * `thermostat`, `vent` — the controls
    pub fn step(
        &mut self,
        links: &Links<L>,
        from: f64,
        to: f64,
        step_s: f64,
        thermostat: &Thermostat<L>,
        vent: Option<Vent>,
    ) -> Stepped {
        if let Some(vent) = vent {
            self.switch_vent(vent);
        }
        let times = [from + GAMMA * (to - from), to];
        let start = (self.air_c, self.body_c, self.tally);
        let mut heat = self.try_step(links, times, step_s, thermostat);
        let sensor_c = self.air_c[thermostat.sensor];
        if thermostat.rating_w > 0.0 {
            if !self.heating && sensor_c < thermostat.set_c {
                self.heating = true;
                (self.air_c, self.body_c, self.tally) = start;
                self.find_branches();
                heat = self.try_step(links, times, step_s, thermostat);
            } else if self.heating && heat == [0.0; 2] && sensor_c > thermostat.set_c + thermostat.band_k {
                self.heating = false;
            }
        }
        let heat_w = (1.0 - GAMMA) * heat[0] + GAMMA * heat[1];
        self.tally.heater_j += heat_w * step_s;
        Stepped { heat_w }
    }

    fn switch_vent(&mut self, vent: Vent) {
        let warmest = self.air_c.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let open = warmest > vent.opens_above_c - if self.venting { 2.0 } else { 0.0 };
        if open != self.venting {
            self.venting = open;
            self.factors = None;
        }
    }

    /// Both stages; falls back to the general stage when a body leaves its branch.
    fn try_step(
        &mut self,
        links: &Links<L>,
        times: [f64; 2],
        step_s: f64,
        thermostat: &Thermostat<L>,
    ) -> [f64; 2] {
        let factors = match self.factors {
            Some(factors) => factors,
            None => {
                let fresh = self.factorise(links, step_s, &self.slope, thermostat);
                self.factors = Some(fresh);
                fresh
            }
        };
        let bodies = self.bodies();
        let ratio = (1.0 - GAMMA) / GAMMA;
        let right = self.right(links, times[0], &factors, &self.air_c, &self.body_c, None);
        let (air_1, body_1, heat_1) = self.solve_heated(links, &factors, &right, thermostat);
        let air_2_base = each(|l| self.air_c[l] + ratio * (air_1[l] - self.air_c[l]));
        let mut body_2_base = [[0.0; L]; BODIES];
        for b in 0..bodies {
            body_2_base[b] = each(|l| self.body_c[b][l] + ratio * (body_1[b][l] - self.body_c[b][l]));
        }
        let right = self.right(links, times[1], &factors, &air_2_base, &body_2_base, None);
        let (air_2, body_2, heat_2) = self.solve_heated(links, &factors, &right, thermostat);
        let mut stays = true;
        for b in 0..bodies {
            for l in 0..L {
                let (low, high) = (self.low_c[b][l], self.high_c[b][l]);
                stays &= body_2_base[b][l] >= low
                    && body_2_base[b][l] <= high
                    && body_2[b][l] >= low
                    && body_2[b][l] <= high
                    && body_1[b][l] >= low
                    && body_1[b][l] <= high;
            }
        }
        if !stays {
            return self.freezing_step(links, times, step_s, thermostat);
        }
        self.note_exchange(links, times[0], &air_1, &body_1, (1.0 - GAMMA) * step_s);
        self.note_exchange(links, times[1], &air_2, &body_2, GAMMA * step_s);
        self.air_c = air_2;
        self.body_c[..bodies].copy_from_slice(&body_2[..bodies]);
        [heat_1, heat_2]
    }

    /// A step in which a body passes from one branch of its enthalpy curve to another.
    fn freezing_step(
        &mut self,
        links: &Links<L>,
        times: [f64; 2],
        step_s: f64,
        thermostat: &Thermostat<L>,
    ) -> [f64; 2] {
        let bodies = self.bodies();
        let start_air = self.air_c;
        let mut start_heat = [[0.0; L]; BODIES];
        for b in 0..bodies {
            start_heat[b] = each(|l| self.curves[b][l].heat_j(self.body_c[b][l]));
        }
        let mut base_air = start_air;
        let mut base_heat = start_heat;
        let mut heats = [0.0; 2];
        let ratio = (1.0 - GAMMA) / GAMMA;
        for stage in 0..2 {
            let (air, heat, heater_w) =
                self.newton_stage(links, times[stage], step_s, &base_air, &base_heat, thermostat);
            heats[stage] = heater_w;
            let mut body_c = [[0.0; L]; BODIES];
            for b in 0..bodies {
                body_c[b] = each(|l| self.curves[b][l].temp_c(heat[b][l]));
            }
            let weight = if stage == 0 { 1.0 - GAMMA } else { GAMMA };
            self.note_exchange(links, times[stage], &air, &body_c, weight * step_s);
            if stage == 0 {
                base_air = each(|l| start_air[l] + ratio * (air[l] - start_air[l]));
                for b in 0..bodies {
                    base_heat[b] = each(|l| start_heat[b][l] + ratio * (heat[b][l] - start_heat[b][l]));
                }
            } else {
                self.air_c = air;
                self.body_c[..bodies].copy_from_slice(&body_c[..bodies]);
            }
        }
        self.find_branches();
        self.factors = None;
        heats
    }

    /// Solves `H − H_base = γ h F(T(H))` by Newton steps in the heat content.
    fn newton_stage(
        &self,
        links: &Links<L>,
        time: f64,
        step_s: f64,
        base_air: &Lanes<L>,
        base_heat: &[Lanes<L>; BODIES],
        thermostat: &Thermostat<L>,
    ) -> (Lanes<L>, [Lanes<L>; BODIES], f64) {
        let bodies = self.bodies();
        let mut heat = *base_heat;
        let mut air = *base_air;
        let mut heater_w = 0.0;
        for _ in 0..MOST_NEWTON_STEPS {
            let mut slope = [[1.0; L]; BODIES];
            let mut at_c = [[0.0; L]; BODIES];
            let mut lack_w = [[0.0; L]; BODIES];
            for b in 0..bodies {
                slope[b] = each(|l| self.curves[b][l].slope_j_per_k(heat[b][l]));
                at_c[b] = each(|l| self.curves[b][l].temp_c(heat[b][l]));
                lack_w[b] = each(|l| (base_heat[b][l] - heat[b][l]) / (GAMMA * step_s));
            }
            let factors = self.factorise(links, step_s, &slope, thermostat);
            let right = self.right(links, time, &factors, base_air, &at_c, Some(&lack_w));
            let (solved_air, solved, watts) = self.solve_heated(links, &factors, &right, thermostat);
            let mut worst = 0.0_f64;
            for b in 0..bodies {
                for l in 0..L {
                    heat[b][l] += slope[b][l] * (solved[b][l] - at_c[b][l]);
                    worst = worst.max((self.curves[b][l].temp_c(heat[b][l]) - solved[b][l]).abs());
                }
            }
            air = solved_air;
            heater_w = watts;
            if worst < NEWTON_TOLERANCE_K {
                break;
            }
        }
        (air, heat, heater_w)
    }

    fn note_exchange(
        &mut self,
        links: &Links<L>,
        time: f64,
        air: &Lanes<L>,
        body: &[Lanes<L>; BODIES],
        seconds: f64,
    ) {
        let outside_c = links.start.outside_c + time * (links.end.outside_c - links.start.outside_c);
        let vent = if self.venting { 1.0 } else { 0.0 };
        let mut watts = [0.0; L];
        for l in 0..L {
            let source = links.start.air_w[l] + time * (links.end.air_w[l] - links.start.air_w[l]);
            watts[l] = source - links.out_air[l] * air[l] + vent * links.vent[l] * (outside_c - air[l]);
        }
        for b in 0..self.bodies() {
            for l in 0..L {
                let source =
                    links.start.body_w[b][l] + time * (links.end.body_w[b][l] - links.start.body_w[b][l]);
                watts[l] += source - links.out_bodies[b][l] * body[b][l];
            }
        }
        self.tally.exchanged_j += seconds * watts.iter().sum::<f64>();
    }

    /// Right-hand side `M T + sources (+ lack)`.
    fn right(
        &self,
        links: &Links<L>,
        time: f64,
        factors: &Factors<L>,
        air: &Lanes<L>,
        body: &[Lanes<L>; BODIES],
        lack_w: Option<&[Lanes<L>; BODIES]>,
    ) -> Right<L> {
        let (start, end) = (&links.start, &links.end);
        let vent_c =
            if self.venting { start.outside_c + time * (end.outside_c - start.outside_c) } else { 0.0 };
        let mut right = Right { air: [0.0; L], body: [[0.0; L]; BODIES] };
        for l in 0..L {
            right.air[l] = factors.m_air[l] * air[l]
                + start.air_w[l]
                + time * (end.air_w[l] - start.air_w[l])
                + links.vent[l] * vent_c;
        }
        for b in 0..self.bodies() {
            for l in 0..L {
                right.body[b][l] = factors.m[b][l] * body[b][l]
                    + start.body_w[b][l]
                    + time * (end.body_w[b][l] - start.body_w[b][l]);
            }
        }
        if let Some(lack) = lack_w {
            for b in 0..self.bodies() {
                for l in 0..L {
                    right.body[b][l] += lack[b][l];
                }
            }
        }
        right
    }

    fn factorise(
        &self,
        links: &Links<L>,
        step_s: f64,
        slope: &[Lanes<L>; BODIES],
        thermostat: &Thermostat<L>,
    ) -> Factors<L> {
        let scale = 1.0 / (GAMMA * step_s);
        let vent = if self.venting { 1.0 } else { 0.0 };
        let mut f = Factors {
            m_air: each(|l| self.air_j_per_k[l] * scale),
            m: [[0.0; L]; BODIES],
            inv: [[0.0; L]; BODIES],
            chain_w: [[0.0; L]; LAYERS - 1],
            side_w: [[0.0; L]; SIDES],
            surface_to_pots: [0.0; L],
            surface_to_air: [0.0; L],
            air_pots: [0.0; L],
            pots_to_air: [0.0; L],
            inv_air: [0.0; L],
            inv_core: 0.0,
            heat_air: [0.0; L],
            heat_bodies: [[0.0; L]; BODIES],
        };
        for b in 0..self.bodies() {
            f.m[b] = each(|l| slope[b][l] * scale);
        }
        let (mut core_sum, mut core_back) = (0.0, 0.0);
        for l in 0..L {
            let layer = |i: usize| SURFACE + i;
            let mut below = 0.0;
            for i in (1..LAYERS).rev() {
                let up = links.chain[i - 1][l];
                let down = if i + 1 < LAYERS { links.chain[i][l] } else { 0.0 };
                let diagonal = f.m[layer(i)][l] + links.out_bodies[layer(i)][l] + up + down - below;
                f.inv[layer(i)][l] = 1.0 / diagonal;
                f.chain_w[i - 1][l] = up * f.inv[layer(i)][l];
                below = up * f.chain_w[i - 1][l];
            }
            let (air_surface, pots_surface) = (links.air_surface[l], links.pots_surface[l]);
            let surface = f.m[SURFACE][l] + links.out_bodies[SURFACE][l] + links.chain[0][l] - below
                + air_surface
                + pots_surface;
            f.inv[SURFACE][l] = 1.0 / surface;
            f.surface_to_pots[l] = pots_surface / surface;
            f.surface_to_air[l] = air_surface / surface;
            f.air_pots[l] = links.air_pots[l] + pots_surface * f.surface_to_air[l];
            let pots = f.m[POTS][l] + links.out_bodies[POTS][l] + links.air_pots[l] + pots_surface
                - pots_surface * f.surface_to_pots[l];
            f.inv[POTS][l] = 1.0 / pots;
            f.pots_to_air[l] = f.air_pots[l] / pots;
            let mut air = f.m_air[l] + links.out_air[l] + vent * links.vent[l] + links.mix[l];
            air += links.air_pots[l] + air_surface - air_surface * f.surface_to_air[l];
            air -= f.air_pots[l] * f.pots_to_air[l];
            for k in 0..self.sides {
                let (side, to_air) = (FIRST_SIDE + k, links.air_sides[k][l]);
                f.inv[side][l] = 1.0 / (f.m[side][l] + links.out_bodies[side][l] + to_air);
                f.side_w[k][l] = to_air * f.inv[side][l];
                air += to_air - to_air * f.side_w[k][l];
            }
            f.inv_air[l] = 1.0 / air;
            core_sum += links.mix[l];
            core_back += links.mix[l] * links.mix[l] * f.inv_air[l];
        }
        f.inv_core = if core_sum > 0.0 { 1.0 / (core_sum - core_back) } else { 0.0 };
        if thermostat.rating_w > 0.0 {
            let unit = Right { air: thermostat.share, body: [[0.0; L]; BODIES] };
            let (air, bodies) = self.solve(links, &f, &unit);
            f.heat_air = air;
            f.heat_bodies = bodies;
        }
        f
    }

    fn solve(&self, links: &Links<L>, f: &Factors<L>, right: &Right<L>) -> (Lanes<L>, [Lanes<L>; BODIES]) {
        let mut r = right.body;
        let mut air = right.air;
        for i in (1..LAYERS).rev() {
            for l in 0..L {
                r[SURFACE + i - 1][l] += f.chain_w[i - 1][l] * r[SURFACE + i][l];
            }
        }
        for l in 0..L {
            r[POTS][l] += f.surface_to_pots[l] * r[SURFACE][l];
            air[l] += f.surface_to_air[l] * r[SURFACE][l] + f.pots_to_air[l] * r[POTS][l];
        }
        for k in 0..self.sides {
            for l in 0..L {
                air[l] += f.side_w[k][l] * r[FIRST_SIDE + k][l];
            }
        }
        let mut core = 0.0;
        for l in 0..L {
            air[l] *= f.inv_air[l];
            core += links.mix[l] * air[l];
        }
        core *= f.inv_core;
        for l in 0..L {
            air[l] += links.mix[l] * f.inv_air[l] * core;
            r[POTS][l] = (r[POTS][l] + f.air_pots[l] * air[l]) * f.inv[POTS][l];
            let neighbours = links.pots_surface[l] * r[POTS][l] + links.air_surface[l] * air[l];
            r[SURFACE][l] = (r[SURFACE][l] + neighbours) * f.inv[SURFACE][l];
        }
        for i in 1..LAYERS {
            for l in 0..L {
                let above = links.chain[i - 1][l] * r[SURFACE + i - 1][l];
                r[SURFACE + i][l] = (r[SURFACE + i][l] + above) * f.inv[SURFACE + i][l];
            }
        }
        for k in 0..self.sides {
            for l in 0..L {
                let side = FIRST_SIDE + k;
                r[side][l] = (r[side][l] + links.air_sides[k][l] * air[l]) * f.inv[side][l];
            }
        }
        (air, r)
    }

    /// Solves a stage with the heat that the thermostat asks for.
    fn solve_heated(
        &self,
        links: &Links<L>,
        f: &Factors<L>,
        right: &Right<L>,
        thermostat: &Thermostat<L>,
    ) -> (Lanes<L>, [Lanes<L>; BODIES], f64) {
        let (mut air, mut body) = self.solve(links, f, right);
        let sensor = thermostat.sensor;
        if !self.heating || thermostat.rating_w <= 0.0 {
            return (air, body, 0.0);
        }
        let target_c = thermostat.set_c + thermostat.band_k / 2.0;
        let heat_w = ((target_c - air[sensor]) / f.heat_air[sensor]).clamp(0.0, thermostat.rating_w);
        if heat_w > 0.0 {
            for l in 0..L {
                air[l] += heat_w * f.heat_air[l];
            }
            for b in 0..self.bodies() {
                for l in 0..L {
                    body[b][l] += heat_w * f.heat_bodies[b][l];
                }
            }
        }
        (air, body, heat_w)
    }
}
