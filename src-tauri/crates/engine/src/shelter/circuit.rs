//! Circuit, cord and flame: what a heater may hang on.
//!
//! US practice (National Electrical Code) with metric cables beside it; local codes and a licensed electrician decide.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::HeaterKind;
use crate::field::{FieldError, within};

/// Feet in a metre.
const FEET_PER_M: f64 = 1.0 / 0.3048;
/// Load that runs three hours or more may take this share of the breaker (NEC 210.19(A), 210.20(A), 424.4(B)).
pub const CONTINUOUS_SHARE: f64 = 0.8;
/// Advised limit of the voltage drop in a branch (NEC informational note).
const ADVISED_DROP: f64 = 0.03;
/// Distance to keep from anything that can burn in m (3 ft: NFPA, CPSC, ESFI).
pub const CLEARANCE_M: f64 = 0.9;

/// Conductor of a cable or cord.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Gauge {
    /// 18 AWG, 0.82 mm².
    Awg18,
    /// 16 AWG, 1.31 mm².
    Awg16,
    /// 14 AWG, 2.08 mm².
    Awg14,
    /// 12 AWG, 3.31 mm².
    Awg12,
    /// 10 AWG, 5.26 mm².
    Awg10,
    /// 0.75 mm².
    Mm0_75,
    /// 1.0 mm².
    Mm1_0,
    /// 1.5 mm².
    Mm1_5,
    /// 2.5 mm².
    Mm2_5,
}

/// Resistivity of annealed copper at 20 °C in Ω·m and its temperature coefficient per kelvin (IEC 60028).
const COPPER_OHM_M: f64 = 1.724e-8;
const COPPER_PER_K: f64 = 0.00393;

/// Resistance in Ω/m at 75 °C of a copper conductor by its cross-section.
///
/// * `area_mm2` — cross-section
pub fn copper_ohm_per_m(area_mm2: f64) -> f64 {
    COPPER_OHM_M / (area_mm2 * 1e-6) * (1.0 + COPPER_PER_K * 55.0)
}

impl Gauge {
    /// Resistance of one conductor in Ω/m at 75 °C: stranded copper of NEC chapter 9 table 8 for AWG, IEC copper for
    /// metric sizes.
    #[expect(clippy::approx_constant, reason = "the table's resistance of 14 AWG is 3.14")]
    pub fn ohm_per_m(self) -> f64 {
        let table = |milliohm_per_ft: f64| milliohm_per_ft / 1000.0 * FEET_PER_M;
        match self {
            Self::Awg18 => table(7.95),
            Self::Awg16 => table(4.99),
            Self::Awg14 => table(3.140),
            Self::Awg12 => table(1.98),
            Self::Awg10 => table(1.24),
            Self::Mm0_75 => copper_ohm_per_m(0.75),
            Self::Mm1_0 => copper_ohm_per_m(1.0),
            Self::Mm1_5 => copper_ohm_per_m(1.5),
            Self::Mm2_5 => copper_ohm_per_m(2.5),
        }
    }

    /// Current in A that a flexible cord of two or three such conductors carries (NEC 400.5 for AWG; usual ratings of
    /// harmonised cords for metric sizes, value from memory).
    pub fn cord_ampacity_a(self) -> f64 {
        match self {
            Self::Awg18 => 10.0,
            Self::Awg16 => 13.0,
            Self::Awg14 => 18.0,
            Self::Awg12 => 25.0,
            Self::Awg10 => 30.0,
            Self::Mm0_75 => 6.0,
            Self::Mm1_0 => 10.0,
            Self::Mm1_5 => 16.0,
            Self::Mm2_5 => 20.0,
        }
    }
}

/// Voltage lost along both conductors in V: `2 I L R`.
///
/// * `current_a` — load current
/// * `length_m` — one way
/// * `gauge` — conductor
pub fn voltage_drop_v(current_a: f64, length_m: f64, gauge: Gauge) -> f64 {
    2.0 * current_a * length_m * gauge.ohm_per_m()
}

/// What a load hangs on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Circuit {
    /// Nominal voltage in V.
    pub volts: f64,
    /// Rating of the breaker or fuse in A.
    pub breaker_a: f64,
    /// Load of everything else on it in W.
    pub other_load_w: f64,
    /// Whether a residual-current device (GFCI) guards it.
    pub has_residual_current_device: bool,
    /// Extension cord between outlet and load; absent when it plugs straight into the wall or is wired in.
    pub cord: Option<Cord>,
}

/// An extension cord.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Cord {
    /// Its conductor.
    pub gauge: Gauge,
    /// Its length in m.
    pub length_m: f64,
    /// Whether it is made for outdoors.
    pub for_outdoors: bool,
    /// Whether it lies wound up.
    pub wound_up: bool,
}

/// What a load is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Load {
    /// Power at nominal voltage in W.
    pub power_w: f64,
    /// Whether it is a heater.
    pub is_heater: bool,
    /// Whether it can be moved, as against fixed and wired in.
    pub is_portable: bool,
    /// Free distance to anything that can burn in m; absent when not known.
    pub clearance_m: Option<f64>,
}

/// How serious a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// Good to know.
    Note,
    /// Do this as well.
    Caution,
    /// Not like this.
    Refused,
}

/// Something that was found in a check of circuit, cord or flame.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Finding {
    /// More current than the breaker.
    BreakerTooSmall {
        /// Current of all loads in A.
        current_a: f64,
        /// Rating in A.
        breaker_a: f64,
    },
    /// More than the continuous share of the breaker for a load that runs for hours.
    OverContinuousLimit {
        /// Current of all loads in A.
        current_a: f64,
        /// Current allowed for hours on end in A.
        allowed_a: f64,
        /// Power that would fit beside the other loads in W.
        fits_w: f64,
    },
    /// A heater on an extension cord.
    HeaterOnCord,
    /// A cord that carries more than it can.
    CordTooThin {
        /// Current of the load in A.
        current_a: f64,
        /// What the cord carries in A.
        ampacity_a: f64,
    },
    /// A cord wound up under load heats itself.
    CordWoundUp,
    /// A cord not made for outdoors.
    CordNotForOutdoors,
    /// More voltage lost than advised.
    VoltageDrop {
        /// Voltage lost in V.
        drop_v: f64,
        /// Share of the nominal voltage.
        share: f64,
    },
    /// No residual-current device in a damp place.
    NoResidualCurrentDevice,
    /// Too close to something that can burn.
    TooClose {
        /// Distance found in m.
        clearance_m: f64,
        /// Distance to keep in m.
        needed_m: f64,
    },
    /// Frost heating runs while nobody watches, against the makers' and fire services' advice for portable heaters:
    /// better a fixed, listed heater with its own thermostat and circuit, a temperature alarm and a smoke alarm.
    UnattendedPortable,
    /// An unvented flame: carbon monoxide, so an alarm, an opening and nobody sleeping there.
    CarbonMonoxide {
        /// Air that the flame takes in m³/h.
        combustion_air_m3_per_h: f64,
        /// Air that leaks in in m³/h.
        leaking_air_m3_per_h: f64,
    },
    /// The shelter leaks less air than the flame takes.
    TooTightForFlame {
        /// Air that the flame takes in m³/h.
        combustion_air_m3_per_h: f64,
        /// Air that leaks in in m³/h.
        leaking_air_m3_per_h: f64,
    },
    /// Water that the flame adds: it will condense.
    AddsMoisture {
        /// Kilograms of water per hour at full output.
        water_kg_per_h: f64,
    },
    /// Fumes with ethylene and sulphur harm plants, drop leaves and buds.
    FumesHarmPlants,
    /// Local codes and a licensed electrician or gas fitter decide.
    LocalCodesDecide,
}

impl Finding {
    /// How serious it is.
    pub fn severity(&self) -> Severity {
        match self {
            Self::BreakerTooSmall { .. }
            | Self::OverContinuousLimit { .. }
            | Self::HeaterOnCord
            | Self::CordTooThin { .. }
            | Self::TooClose { .. }
            | Self::TooTightForFlame { .. } => Severity::Refused,
            Self::CordWoundUp
            | Self::CordNotForOutdoors
            | Self::VoltageDrop { .. }
            | Self::NoResidualCurrentDevice
            | Self::UnattendedPortable
            | Self::CarbonMonoxide { .. }
            | Self::AddsMoisture { .. }
            | Self::FumesHarmPlants => Severity::Caution,
            Self::LocalCodesDecide => Severity::Note,
        }
    }
}

/// What a check of a circuit found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CircuitCheck {
    /// Current of all loads in A.
    pub current_a: f64,
    /// Current allowed for hours on end in A.
    pub allowed_a: f64,
    /// Voltage lost in the cord in V.
    pub drop_v: f64,
    /// Heat set free along the cord in W.
    pub cord_heat_w: f64,
    /// Findings, the most serious first.
    pub findings: Vec<Finding>,
}

impl CircuitCheck {
    /// Whether the arrangement must not be used.
    pub fn is_refused(&self) -> bool {
        self.findings.iter().any(|f| f.severity() == Severity::Refused)
    }
}

/// Checks a load on its circuit.
///
/// Current at nominal voltage against the breaker and, for a load that runs for hours, against 80 % of it; the cord by
/// ampacity and voltage drop; distance to what can burn. A heater on an extension cord is refused whatever its gauge:
/// every fire service says so (NFPA, CPSC, ESFI). The electrical figures are for copper.
///
/// # Errors
/// A voltage, rating, power or length that cannot be used.
pub fn check_circuit(load: &Load, circuit: &Circuit) -> Result<CircuitCheck, FieldError> {
    within("power_w", load.power_w, 0.0, 100_000.0, "enter the rating on the heater's plate")?;
    within("volts", circuit.volts, 12.0, 480.0, "enter the voltage at the outlet")?;
    within("breaker_a", circuit.breaker_a, 1.0, 200.0, "enter the rating of the breaker or fuse")?;
    within("other_load_w", circuit.other_load_w, 0.0, 100_000.0, "enter the power of everything else")?;
    if let Some(cord) = circuit.cord {
        within("cord.length_m", cord.length_m, 0.1, 500.0, "measure the cord")?;
    }
    let own_a = load.power_w / circuit.volts;
    let current_a = own_a + circuit.other_load_w / circuit.volts;
    let allowed_a = CONTINUOUS_SHARE * circuit.breaker_a;
    let mut findings = Vec::new();
    if current_a > circuit.breaker_a {
        findings.push(Finding::BreakerTooSmall { current_a, breaker_a: circuit.breaker_a });
    } else if current_a > allowed_a + 1e-9 {
        let fits_w = (allowed_a * circuit.volts - circuit.other_load_w).max(0.0);
        findings.push(Finding::OverContinuousLimit { current_a, allowed_a, fits_w });
    }
    let (mut drop_v, mut cord_heat_w) = (0.0, 0.0);
    if let Some(cord) = circuit.cord {
        drop_v = voltage_drop_v(own_a, cord.length_m, cord.gauge);
        cord_heat_w = drop_v * own_a;
        check_cord(load, &cord, own_a, drop_v / circuit.volts, drop_v, &mut findings);
    }
    if !circuit.has_residual_current_device {
        findings.push(Finding::NoResidualCurrentDevice);
    }
    if load.is_heater {
        if let Some(clearance_m) = load.clearance_m.filter(|c| *c < CLEARANCE_M) {
            findings.push(Finding::TooClose { clearance_m, needed_m: CLEARANCE_M });
        }
        if load.is_portable {
            findings.push(Finding::UnattendedPortable);
        }
    }
    findings.push(Finding::LocalCodesDecide);
    findings.sort_by_key(|f| std::cmp::Reverse(f.severity()));
    Ok(CircuitCheck { current_a, allowed_a, drop_v, cord_heat_w, findings })
}

fn check_cord(load: &Load, cord: &Cord, own_a: f64, share: f64, drop_v: f64, findings: &mut Vec<Finding>) {
    if load.is_heater {
        findings.push(Finding::HeaterOnCord);
    }
    if own_a > cord.gauge.cord_ampacity_a() {
        findings.push(Finding::CordTooThin { current_a: own_a, ampacity_a: cord.gauge.cord_ampacity_a() });
    }
    if cord.wound_up {
        findings.push(Finding::CordWoundUp);
    }
    if !cord.for_outdoors {
        findings.push(Finding::CordNotForOutdoors);
    }
    if share > ADVISED_DROP {
        findings.push(Finding::VoltageDrop { drop_v, share });
    }
}

/// Cautions for a heater that burns fuel inside.
///
/// * `kind` — the heater
/// * `output_w` — its heat output
/// * `leaking_air_m3_per_h` — air that leaks in on a still night
/// * `clearance_m` — free distance to anything that can burn, when known
///
/// The flame's air is taken without excess; a shelter that leaks less is refused. Water from the flame: 0.117 kg/kWh
/// for propane (stoichiometry).
pub fn check_flame(
    kind: &HeaterKind,
    output_w: f64,
    leaking_air_m3_per_h: f64,
    clearance_m: Option<f64>,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    if !kind.fuel.burns() {
        return findings;
    }
    if let Some(clearance_m) = clearance_m.filter(|c| *c < CLEARANCE_M) {
        findings.push(Finding::TooClose { clearance_m, needed_m: CLEARANCE_M });
    }
    if !kind.vented {
        let burnt_kw = output_w / 1000.0 / kind.efficiency;
        let combustion_air_m3_per_h = burnt_kw * kind.fuel.combustion_air_m3_per_kwh();
        if combustion_air_m3_per_h > leaking_air_m3_per_h {
            findings.push(Finding::TooTightForFlame { combustion_air_m3_per_h, leaking_air_m3_per_h });
        }
        findings.push(Finding::CarbonMonoxide { combustion_air_m3_per_h, leaking_air_m3_per_h });
        findings.push(Finding::AddsMoisture { water_kg_per_h: burnt_kw * kind.water_kg_per_kwh });
        findings.push(Finding::FumesHarmPlants);
    }
    findings.push(Finding::LocalCodesDecide);
    findings
}
