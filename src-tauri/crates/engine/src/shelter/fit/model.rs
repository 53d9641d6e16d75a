//! The grey box: air with what is light, and one body that stands for pots and soil.
//!
//! With everything divided by the body's heat capacity, time in hours:
//!
//! ```text
//! c dTa/dt = h (1 + w Δv)(To + κ ΔTs − Ta) + g (Tb − Ta) + f (1−b) s S + p P
//!   dE/dt  = g (Ta − Tb) + d (Tg − Tb) + f b s S
//! ```
//!
//! Ta air, Tb body, To outdoors, Tg ground, ΔTs sky less outdoors, Δv wind less its mean, S sun, P heat. The body's
//! enthalpy E (in kelvin of its thawed capacity) equals Tb above 0 °C, loses λ kelvin over half a kelvin of freezing, and
//! goes on with the same slope below. Between points the equations, made linear around the body's enthalpy, are solved
//! exactly with inputs on straight lines. White noise on air and body takes up what the box leaves out, and a sky that is
//! duller or clearer than reckoned for hours on end (milder nights, less sun) what the weather beside the log leaves out.

use std::f64::consts::{FRAC_1_SQRT_2, FRAC_2_SQRT_PI};

use statrs::function::erf::erfc;

use super::estimate::REACH;
use super::points::Point;

/// Kelvin below 0 °C over which the body freezes, as [`crate::shelter::Medium::POTTING_MIX`].
pub(super) const FREEZING_K: f64 = 0.5;
/// Share of the loss at mean wind that always remains, whatever the wind.
const LEAST_LOSS: f64 = 0.1;
/// Hours over which the sky forgets (a spell of cloud; estimate).
const DULL_H: f64 = 12.0;
/// Kelvin of enthalpy over which pots differ among themselves at least.
const BLUR_K: f64 = 0.2;

/// Everything the box is made of, per body capacity and hour.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Model {
    /// Air and body, 1/h.
    pub(super) exchange: f64,
    /// Capacity of the air and what is light over that of the body.
    pub(super) air_share: f64,
    /// Sun taken up, K/h per kW/m².
    pub(super) aperture: f64,
    /// Share of it that lands on the body.
    pub(super) to_body: f64,
    /// Body and ground, 1/h.
    pub(super) ground: f64,
    /// Latent heat, K.
    pub(super) latent_k: f64,
    /// Share of the loss that sees the sky.
    pub(super) sky: f64,
    /// Heat, K/h per kW.
    pub(super) per_kw: f64,
    /// By period: loss at mean wind in 1/h, its growth per m/s, and sun let in against the first period.
    pub(super) periods: Vec<PeriodModel>,
    /// Variance of a reading, K².
    pub(super) reading_k2: f64,
    /// Noise of air and body, K²/h.
    pub(super) air_k2: f64,
    pub(super) body_k2: f64,
    /// What an unknown sky is worth, K of outdoors.
    pub(super) sky_doubt_k: f64,
    /// Share of the sun that goes with it, the other way.
    pub(super) sun_doubt: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PeriodModel {
    pub(super) loss: f64,
    pub(super) wind: f64,
    pub(super) shade: f64,
}

/// Air temperature, enthalpy of the body, and how much duller than reckoned the sky is, in standard deviations.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct State {
    pub(super) air_c: f64,
    pub(super) body_k: f64,
    pub(super) dull: f64,
}

/// A state with its doubt: variances and covariances of air (a), body (b) and dullness (d).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Belief {
    pub(super) state: State,
    pub(super) aa: f64,
    pub(super) ab: f64,
    pub(super) ad: f64,
    pub(super) bb: f64,
    pub(super) bd: f64,
    pub(super) dd: f64,
}

/// `Tb = offset + slope E` around where the body is believed to be.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Chord {
    offset: f64,
    slope: f64,
}

/// A 2 × 2 matrix by rows.
type Matrix = [f64; 4];

/// One step as a linear map with its noise.
#[derive(Debug, Clone, Copy)]
struct Step {
    phi: Matrix,
    half: Matrix,
    add: [f64; 2],
    /// What a unit of dullness does to air and body.
    dull: [f64; 2],
    /// What remains of dullness.
    memory: f64,
}

impl Model {
    /// The straight line that stands for the curve of freezing over a normal spread of enthalpy (statistical
    /// linearisation): `Tb = E − (1 − β) clamp(E, −a, 0)` with a the whole depth of freezing and β the slope in it.
    fn chord(&self, body_k: f64, variance_k2: f64) -> Chord {
        if self.latent_k <= 0.0 {
            return Chord { offset: 0.0, slope: 1.0 };
        }
        let spread = (variance_k2 + BLUR_K * BLUR_K).sqrt();
        let depth = self.latent_k + FREEZING_K;
        if body_k > 6.0 * spread {
            return Chord { offset: 0.0, slope: 1.0 };
        }
        let flat = 1.0 - FREEZING_K / depth;
        let (over_frozen, share_over_frozen) = excess(body_k + depth, spread);
        let (over_thawed, share_over_thawed) = excess(body_k, spread);
        let slope = 1.0 - flat * (share_over_frozen - share_over_thawed);
        let mean_c = body_k - flat * (over_frozen - over_thawed - depth);
        Chord { offset: mean_c - slope * body_k, slope }
    }

    /// The two time constants in hours, fast and slow, of a thawed shelter at mean wind.
    pub(super) fn time_constants_h(&self, period: usize) -> (f64, f64) {
        let loss = self.periods[period].loss;
        let a = self.rates(loss, 1.0);
        let (fast, slow) = eigenvalues(&a);
        (-1.0 / fast, -1.0 / slow)
    }

    fn rates(&self, loss: f64, slope: f64) -> Matrix {
        let (g, c, d) = (self.exchange, self.air_share, self.ground);
        [-(loss + g) / c, g * slope / c, g, -(g + d) * slope]
    }

    /// What a period loses per kelvin in the wind of a step.
    fn loss(&self, period: usize, wind: f64) -> f64 {
        let p = &self.periods[period];
        p.loss * (1.0 + p.wind * wind).max(LEAST_LOSS)
    }

    /// Inputs of air and body at a point.
    fn inputs(&self, point: &Point, loss: f64, shade: f64, offset: f64, heat_kw: f64) -> [f64; 2] {
        let sun = self.aperture * shade * point.sun;
        let air = loss * (point.outside_c + self.sky * point.sky_k)
            + self.exchange * offset
            + (1.0 - self.to_body) * sun
            + self.per_kw * heat_kw;
        let body =
            -(self.exchange + self.ground) * offset + self.ground * point.ground_c + self.to_body * sun;
        [air / self.air_share, body]
    }

    /// The map from one point to the next.
    fn step(&self, state: State, variance_k2: f64, from: &Point, to: &Point, period: usize) -> Step {
        let loss = self.loss(period, (from.wind + to.wind) / 2.0);
        let shade = self.periods[period].shade;
        let dt = to.step_h;
        // The line is laid where the body is half-way.
        let here = self.chord(state.body_k, variance_k2);
        let here_c = here.offset + here.slope * state.body_k;
        let sun = self.to_body * self.aperture * shade * from.sun;
        let rate = self.exchange * (state.air_c - here_c) + self.ground * (to.ground_c - here_c) + sun;
        let chord = self.chord(state.body_k + rate * dt / 2.0, variance_k2);
        let b0 = self.inputs(from, loss, shade, chord.offset, to.heat_kw);
        let b1 = self.inputs(to, loss, shade, chord.offset, to.heat_kw);
        let a = self.rates(loss, chord.slope);
        let (fast, slow) = eigenvalues(&a);
        let (half_f, half_s) = ((fast * dt / 2.0).exp(), (slow * dt / 2.0).exp());
        let spectral = Spectral::new(&a, fast, slow);
        let half = spectral.of(half_f, half_s);
        let (exp_f, exp_s) = (half_f * half_f, half_s * half_s);
        let phi = spectral.of(exp_f, exp_s);
        let (one_f, one_s) = (phi1(fast * dt, exp_f), phi1(slow * dt, exp_s));
        let one = spectral.of(one_f, one_s);
        let two = spectral.of(phi2(fast * dt, one_f), phi2(slow * dt, one_s));
        let db = [b1[0] - b0[0], b1[1] - b0[1]];
        let add = [0, 1].map(|r| {
            let row = 2 * r;
            dt * (one[row] * b0[0] + one[row + 1] * b0[1] + two[row] * db[0] + two[row + 1] * db[1])
        });
        let memory = (-dt / DULL_H).exp();
        let dim = self.sun_doubt * self.aperture * shade * (from.sun + to.sun) / 2.0;
        let air = (self.sky_doubt_k * loss - (1.0 - self.to_body) * dim) / self.air_share;
        let body = -self.to_body * dim;
        let dull = [0, 2].map(|row| dt * (one[row] * air + one[row + 1] * body) * (1.0 + memory) / 2.0);
        Step { phi, half, add, dull, memory }
    }

    /// Where a state stands one point later, its body known to a variance.
    pub(super) fn follow(
        &self,
        state: State,
        variance_k2: f64,
        from: &Point,
        to: &Point,
        period: usize,
    ) -> State {
        self.step(state, variance_k2, from, to, period).apply(state)
    }

    /// A belief one point later, before its reading.
    pub(super) fn predict(&self, belief: &Belief, from: &Point, to: &Point, period: usize) -> Belief {
        let step = self.step(belief.state, belief.bb, from, to, period);
        let half = &step.half;
        let (dt, qa, qb) = (to.step_h, self.air_k2, self.body_k2);
        let m = [[step.phi[0], step.phi[1], step.dull[0]], [step.phi[2], step.phi[3], step.dull[1]]];
        let p = [
            [belief.aa, belief.ab, belief.ad],
            [belief.ab, belief.bb, belief.bd],
            [belief.ad, belief.bd, belief.dd],
        ];
        let dot = |x: &[f64; 3], y: &[f64; 3]| x[0] * y[0] + x[1] * y[1] + x[2] * y[2];
        let [t0, t1] = m.map(|row| [0, 1, 2].map(|j| row[0] * p[0][j] + row[1] * p[1][j] + row[2] * p[2][j]));
        Belief {
            state: step.apply(belief.state),
            aa: dot(&t0, &m[0]) + dt * (half[0] * half[0] * qa + half[1] * half[1] * qb),
            ab: dot(&t0, &m[1]) + dt * (half[0] * half[2] * qa + half[1] * half[3] * qb),
            ad: t0[2] * step.memory,
            bb: dot(&t1, &m[1]) + dt * (half[2] * half[2] * qa + half[3] * half[3] * qb),
            bd: t1[2] * step.memory,
            dd: 1.0 + step.memory * step.memory * (belief.dd - 1.0),
        }
    }

    /// The belief at the first reading of a stretch: air as read, body unknown by a few kelvin; in frost its water may
    /// be half frozen.
    pub(super) fn start(&self, inside_c: f64, body_sd_k: f64) -> Belief {
        let frost = ((body_sd_k - inside_c) / (2.0 * body_sd_k)).clamp(0.0, 1.0);
        let sd = body_sd_k.hypot(frost * self.latent_k / 2.0);
        let body_k = inside_c.max(0.0) + inside_c.min(0.0).max(-self.latent_k / 2.0);
        let state = State { air_c: inside_c, body_k, dull: 0.0 };
        Belief { state, aa: self.reading_k2, ab: 0.0, ad: 0.0, bb: sd * sd, bd: 0.0, dd: 1.0 }
    }
}

impl Step {
    fn apply(&self, s: State) -> State {
        State {
            air_c: self.phi[0] * s.air_c + self.phi[1] * s.body_k + self.dull[0] * s.dull + self.add[0],
            body_k: self.phi[2] * s.air_c + self.phi[3] * s.body_k + self.dull[1] * s.dull + self.add[1],
            dull: self.memory * s.dull,
        }
    }
}

impl Belief {
    /// Takes in a reading of the air, one far off by no more than [`REACH`] deviations; the gains.
    pub(super) fn take(&mut self, innovation_k: f64, variance_k2: f64) -> [f64; 3] {
        let weight = (REACH * variance_k2.sqrt() / innovation_k.abs().max(1e-300)).min(1.0) / variance_k2;
        let gain = [self.aa * weight, self.ab * weight, self.ad * weight];
        self.state.shift(gain, innovation_k);
        self.dd -= gain[2] * self.ad;
        self.bd -= gain[1] * self.ad;
        self.bb -= gain[1] * self.ab;
        self.ad -= gain[0] * self.ad;
        self.ab -= gain[0] * self.ab;
        self.aa -= gain[0] * self.aa;
        gain
    }
}

impl State {
    /// Moves by gains times an innovation.
    pub(super) fn shift(&mut self, gain: [f64; 3], innovation_k: f64) {
        self.air_c += gain[0] * innovation_k;
        self.body_k += gain[1] * innovation_k;
        self.dull += gain[2] * innovation_k;
    }
}

/// Mean of `max(X, 0)` and chance of `X > 0` for a normal X.
fn excess(mean: f64, sd: f64) -> (f64, f64) {
    let u = mean / sd;
    if u > 6.0 {
        return (mean, 1.0);
    }
    if u < -6.0 {
        return (0.0, 0.0);
    }
    let share = 0.5 * erfc(-u * FRAC_1_SQRT_2);
    let density = (-0.5 * u * u).exp() * FRAC_1_SQRT_2 * 0.5 * FRAC_2_SQRT_PI;
    (sd * density + mean * share, share)
}

fn eigenvalues(a: &Matrix) -> (f64, f64) {
    let mean = (a[0] + a[3]) / 2.0;
    let half = (a[0] - a[3]) / 2.0;
    // Exchange runs both ways, so that the root is real; kept off zero, where both would be one.
    let root = (half * half + a[1] * a[2]).max(1e-16 * mean * mean).sqrt();
    let fast = mean - root;
    (fast, ((a[0] * a[3] - a[1] * a[2]) / fast).min(-1e-12))
}

/// A function of a matrix by its two eigenvalues: `f(A) = f(λ1) P1 + f(λ2) P2`.
struct Spectral {
    first: Matrix,
}

impl Spectral {
    fn new(a: &Matrix, fast: f64, slow: f64) -> Self {
        let by = 1.0 / (fast - slow);
        Self { first: [(a[0] - slow) * by, a[1] * by, a[2] * by, (a[3] - slow) * by] }
    }

    fn of(&self, fast: f64, slow: f64) -> Matrix {
        let d = fast - slow;
        let p = &self.first;
        [slow + d * p[0], d * p[1], d * p[2], slow + d * p[3]]
    }
}

/// `(e^z − 1)/z`.
fn phi1(z: f64, exp: f64) -> f64 {
    if z.abs() < 1e-3 { 1.0 + z / 2.0 + z * z / 6.0 } else { (exp - 1.0) / z }
}

/// `(φ1 − 1)/z`.
fn phi2(z: f64, one: f64) -> f64 {
    if z.abs() < 1e-2 { 0.5 + z / 6.0 + z * z / 24.0 + z * z * z / 120.0 } else { (one - 1.0) / z }
}
