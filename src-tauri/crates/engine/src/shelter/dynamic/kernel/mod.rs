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

mod factors;
mod links;

use super::super::Enthalpy;
use factors::{Factors, Nodes};
pub use links::{Links, Sources, Thermostat, Vent};

/// Layers of the floor.
pub const LAYERS: usize = 6;
/// Side bodies per zone at most.
pub const SIDES: usize = 2;
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

/// Energy since the start, in J.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Tally {
    /// Heat from the heater.
    pub heater_j: f64,
    /// Net heat from all boundaries and sources, negative when the house loses.
    pub exchanged_j: f64,
}

/// State of the network with its stores.
#[derive(Debug, Clone)]
pub struct Network<const L: usize> {
    /// Heat capacity of the air in J/K.
    air_j_per_k: Lanes<L>,
    curves: [[Enthalpy; L]; BODIES],
    /// Air temperatures in °C.
    pub air_c: Lanes<L>,
    /// Body temperatures in °C.
    pub body_c: [Lanes<L>; BODIES],
    slope: [Lanes<L>; BODIES],
    low_c: [Lanes<L>; BODIES],
    high_c: [Lanes<L>; BODIES],
    heating: bool,
    venting: bool,
    factors: Factors<L>,
    is_eliminated: bool,
    /// Energy since the start.
    pub tally: Tally,
}

/// Outcome of a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stepped {
    /// Mean heat of the heater over the step in W.
    pub heat_w: f64,
}

/// One step's frame.
struct Step<'a, const L: usize> {
    links: &'a Links<L>,
    /// When the stages stand, as fractions of the hour.
    times: [f64; 2],
    seconds: f64,
    thermostat: &'a Thermostat<L>,
}

fn each<const L: usize>(f: impl FnMut(usize) -> f64) -> Lanes<L> {
    std::array::from_fn(f)
}

/// The greater of two numbers, without the care for NaN that would cost vector instructions.
fn greater(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

impl<const L: usize> Network<L> {
    /// A network at rest.
    ///
    /// * `air_j_per_k` — heat capacity of each zone's air
    /// * `curves` — heat content of the bodies; an unused one may hold anything positive and is left without links
    /// * `air_c`, `body_c` — temperatures at the start
    pub fn new(
        air_j_per_k: Lanes<L>,
        curves: [[Enthalpy; L]; BODIES],
        air_c: Lanes<L>,
        body_c: [Lanes<L>; BODIES],
    ) -> Self {
        let mut network = Self {
            air_j_per_k,
            curves,
            air_c,
            body_c,
            slope: [[0.0; L]; BODIES],
            low_c: [[0.0; L]; BODIES],
            high_c: [[0.0; L]; BODIES],
            heating: false,
            venting: false,
            factors: Factors::new(),
            is_eliminated: false,
            tally: Tally::default(),
        };
        network.find_branches();
        network
    }

    /// Heat content of everything in J.
    pub fn heat_j(&self) -> f64 {
        let air: f64 = (0..L).map(|l| self.air_j_per_k[l] * self.air_c[l]).sum();
        let bodies: f64 = (0..BODIES)
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
        self.is_eliminated = false;
    }

    fn find_branches(&mut self) {
        for b in 0..BODIES {
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
        let step = Step { links, times: [from + GAMMA * (to - from), to], seconds: step_s, thermostat };
        let mut heat_w;
        if thermostat.rating_w > 0.0 && !self.heating {
            let start = (self.air_c, self.body_c, self.tally);
            heat_w = self.try_step(&step);
            if self.air_c[thermostat.sensor] < thermostat.set_c {
                self.heating = true;
                (self.air_c, self.body_c, self.tally) = start;
                self.find_branches();
                heat_w = self.try_step(&step);
            }
        } else {
            heat_w = self.try_step(&step);
            if self.heating && heat_w == [0.0; 2] {
                let off_c = thermostat.set_c + thermostat.band_k;
                self.heating = self.air_c[thermostat.sensor] <= off_c;
            }
        }
        let heat_w = (1.0 - GAMMA) * heat_w[0] + GAMMA * heat_w[1];
        self.tally.heater_j += heat_w * step_s;
        Stepped { heat_w }
    }

    fn switch_vent(&mut self, vent: Vent) {
        let warmest = self.air_c.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let open = warmest > vent.opens_above_c - if self.venting { 2.0 } else { 0.0 };
        if open != self.venting {
            self.venting = open;
            self.is_eliminated = false;
        }
    }

    /// Both stages by back-substitution; the general way when a body leaves its branch.
    fn try_step(&mut self, step: &Step<'_, L>) -> [f64; 2] {
        if !self.is_eliminated {
            self.factors.eliminate(
                step.links,
                &self.air_j_per_k,
                &self.slope,
                step.seconds,
                self.venting,
                step.thermostat,
            );
            self.is_eliminated = true;
        }
        let ratio = (1.0 - GAMMA) / GAMMA;
        let bodies = self.factors.bodies();
        let mut outside = 0.0;

        let mut first = Nodes { air: self.air_c, body: self.body_c };
        let source_1 = self.load(step, 0, &self.factors, &mut first);
        let heat_1 = self.factors.solve_heated(step.links, &mut first, step.thermostat, self.heating);

        let mut second = Nodes { air: self.air_c, body: self.body_c };
        for l in 0..L {
            second.air[l] = self.air_c[l] + ratio * (first.air[l] - self.air_c[l]);
        }
        for b in 0..bodies {
            for l in 0..L {
                let start_c = self.body_c[b][l];
                second.body[b][l] = start_c + ratio * (first.body[b][l] - start_c);
                // The first stage lies between the start and this.
                outside = greater(outside, self.off_branch_k(b, l, second.body[b][l]));
            }
        }
        let source_2 = self.load(step, 1, &self.factors, &mut second);
        let heat_2 = self.factors.solve_heated(step.links, &mut second, step.thermostat, self.heating);
        for b in 0..bodies {
            for l in 0..L {
                outside = greater(outside, self.off_branch_k(b, l, second.body[b][l]));
            }
        }
        if outside > 0.0 {
            return self.freezing_step(step);
        }
        let exchanged_w = (1.0 - GAMMA) * (source_1 - self.given_off(step.links, &first))
            + GAMMA * (source_2 - self.given_off(step.links, &second));
        self.tally.exchanged_j += step.seconds * exchanged_w;
        self.air_c = second.air;
        self.body_c = second.body;
        [heat_1, heat_2]
    }

    /// Kelvin by which a temperature lies outside its body's branch, 0 or less inside.
    fn off_branch_k(&self, b: usize, l: usize, temp_c: f64) -> f64 {
        greater(self.low_c[b][l] - temp_c, temp_c - self.high_c[b][l])
    }

    /// A step in which a body passes from one branch of its enthalpy curve to another.
    fn freezing_step(&mut self, step: &Step<'_, L>) -> [f64; 2] {
        let start_air = self.air_c;
        let mut start_heat = [[0.0; L]; BODIES];
        for b in 0..BODIES {
            start_heat[b] = each(|l| self.curves[b][l].heat_j(self.body_c[b][l]));
        }
        let mut base_air = start_air;
        let mut base_heat = start_heat;
        let mut heats_w = [0.0; 2];
        let ratio = (1.0 - GAMMA) / GAMMA;
        for stage in 0..2 {
            let (air, heat, heater_w, source_w) = self.newton_stage(step, stage, &base_air, &base_heat);
            heats_w[stage] = heater_w;
            let mut nodes = Nodes { air, body: [[0.0; L]; BODIES] };
            for b in 0..BODIES {
                nodes.body[b] = each(|l| self.curves[b][l].temp_c(heat[b][l]));
            }
            let weight = if stage == 0 { 1.0 - GAMMA } else { GAMMA };
            let exchanged_w = source_w - self.given_off(step.links, &nodes);
            self.tally.exchanged_j += weight * step.seconds * exchanged_w;
            if stage == 0 {
                base_air = each(|l| start_air[l] + ratio * (air[l] - start_air[l]));
                for b in 0..BODIES {
                    base_heat[b] = each(|l| start_heat[b][l] + ratio * (heat[b][l] - start_heat[b][l]));
                }
            } else {
                self.air_c = air;
                self.body_c = nodes.body;
            }
        }
        self.find_branches();
        self.is_eliminated = false;
        heats_w
    }

    /// Solves `H − H_base = γ h F(T(H))` by Newton steps in the heat content; gives air, heat contents, heater and
    /// sources in W.
    fn newton_stage(
        &self,
        step: &Step<'_, L>,
        stage: usize,
        base_air: &Lanes<L>,
        base_heat: &[Lanes<L>; BODIES],
    ) -> (Lanes<L>, [Lanes<L>; BODIES], f64, f64) {
        let mut factors = Factors::new();
        let mut heat = *base_heat;
        let (mut air, mut heater_w, mut source_w) = (*base_air, 0.0, 0.0);
        for _ in 0..MOST_NEWTON_STEPS {
            let mut slope = [[1.0; L]; BODIES];
            let mut at = Nodes { air: *base_air, body: [[0.0; L]; BODIES] };
            for b in 0..BODIES {
                slope[b] = each(|l| self.curves[b][l].slope_j_per_k(heat[b][l]));
                at.body[b] = each(|l| self.curves[b][l].temp_c(heat[b][l]));
            }
            factors.eliminate(
                step.links,
                &self.air_j_per_k,
                &slope,
                step.seconds,
                self.venting,
                step.thermostat,
            );
            let mut solved = at;
            source_w = self.load(step, stage, &factors, &mut solved);
            for b in 0..factors.bodies() {
                for l in 0..L {
                    solved.body[b][l] += (base_heat[b][l] - heat[b][l]) / (GAMMA * step.seconds);
                }
            }
            heater_w = factors.solve_heated(step.links, &mut solved, step.thermostat, self.heating);
            let mut worst = 0.0;
            for b in 0..factors.bodies() {
                for l in 0..L {
                    heat[b][l] += slope[b][l] * (solved.body[b][l] - at.body[b][l]);
                    worst = greater(worst, (self.curves[b][l].temp_c(heat[b][l]) - solved.body[b][l]).abs());
                }
            }
            air = solved.air;
            if worst < NEWTON_TOLERANCE_K {
                break;
            }
        }
        (air, heat, heater_w, source_w)
    }

    /// Turns temperatures into the right-hand side `M T + sources`; gives the sum of the sources in W.
    fn load(&self, step: &Step<'_, L>, stage: usize, factors: &Factors<L>, nodes: &mut Nodes<L>) -> f64 {
        let (start, end, time) = (&step.links.start, &step.links.end, step.times[stage]);
        let vent_c =
            if self.venting { start.outside_c + time * (end.outside_c - start.outside_c) } else { 0.0 };
        let mut sources = [0.0; L];
        for l in 0..L {
            let source =
                start.air_w[l] + time * (end.air_w[l] - start.air_w[l]) + step.links.vent[l] * vent_c;
            nodes.air[l] = factors.m.air[l] * nodes.air[l] + source;
            sources[l] += source;
        }
        for b in 0..factors.bodies() {
            for l in 0..L {
                let source = start.body_w[b][l] + time * (end.body_w[b][l] - start.body_w[b][l]);
                nodes.body[b][l] = factors.m.body[b][l] * nodes.body[b][l] + source;
                sources[l] += source;
            }
        }
        sources.iter().sum()
    }

    /// Heat in W that nodes give off to boundaries, against 0 °C.
    fn given_off(&self, links: &Links<L>, nodes: &Nodes<L>) -> f64 {
        let vent = if self.venting { 1.0 } else { 0.0 };
        let mut watts = [0.0; L];
        for l in 0..L {
            watts[l] = (links.out_air[l] + vent * links.vent[l]) * nodes.air[l];
        }
        for b in 0..self.factors.bodies() {
            for l in 0..L {
                watts[l] += links.out_bodies[b][l] * nodes.body[b][l];
            }
        }
        watts.iter().sum()
    }
}
