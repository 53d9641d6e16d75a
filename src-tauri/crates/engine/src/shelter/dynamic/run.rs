//! Running a shelter through weather.

use chrono::{DateTime, Utc};
use thiserror::Error;

use super::super::{Enthalpy, Envelope, GroundWave, Medium};
use super::balance::{Balance, HourEnds};
use super::forcing::Forcing;
use super::house::{House, ZoneLoad};
use super::kernel::{BODIES, LAYERS, Links, Network, POTS, SURFACE, Tally, Thermostat, Vent};
use crate::air;

/// Steps in an hour: ten minutes each.
pub const STEPS_PER_HOUR: usize = 6;
/// Zones of one shelter at most.
pub const MOST_ZONES: usize = 8;
/// Hours at the start that are run once before anything is noted, so that soil and pots settle.
const WARM_UP_H: usize = 96;

/// A heater and where it and its sensor stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Heating {
    /// Largest heat in W.
    pub rating_w: f64,
    /// Sensor temperature in °C at which it turns on.
    pub set_c: f64,
    /// Kelvin between on and off.
    pub band_k: f64,
    /// Index of the heater's zone.
    pub zone: usize,
    /// Index of the sensor's zone.
    pub sensor_zone: usize,
    /// Whether its fan stirs the air while it runs.
    pub stirs_air: bool,
    /// Water that its flame adds in kg per kWh of heat.
    pub water_kg_per_kwh: f64,
}

/// From when an envelope holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Phase {
    /// First instant; the first phase also holds before it.
    pub from: DateTime<Utc>,
    /// The envelope with the covers of that time.
    pub envelope: Envelope,
}

/// A shelter to be run.
#[derive(Debug, Clone, PartialEq)]
pub struct Scenario {
    /// Envelopes in order of time; covers change, the form does not.
    pub phases: Vec<Phase>,
    /// What stands in each zone.
    pub zones: Vec<ZoneLoad>,
    /// What the floor is made of.
    pub floor: Medium,
    /// The ground's yearly wave.
    pub ground: GroundWave,
    /// Share of the floor under leaves, 0 to 1: 0.2 a winter store of pots, 0.8 a cropped tunnel.
    pub canopy: f64,
    /// Metres above sea level.
    pub elevation_m: f64,
    /// The heater, when one runs.
    pub heating: Option<Heating>,
    /// The vent, when one opens in warm hours.
    pub vent: Option<Vent>,
    /// Whether a fan stirs the air all the time.
    pub stirred: bool,
}

/// The state at the end of a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment<'a> {
    /// Index of the hour in which the step lies.
    pub hour: usize,
    /// Index of the step in the hour, 0 to 5.
    pub step: usize,
    /// Outdoor temperature in °C.
    pub outside_c: f64,
    /// Air temperature of every zone in °C.
    pub zone_c: &'a [f64],
    /// Temperature of every zone's pots in °C.
    pub pots_c: &'a [f64],
    /// Temperature of every zone's floor surface in °C.
    pub floor_c: &'a [f64],
    /// Mean heat of the heater over the step in W.
    pub heat_w: f64,
    /// Relative humidity inside, 0 to 1.
    pub relative_humidity: f64,
    /// Water on the skins in kg/m².
    pub skin_water_kg_per_m2: f64,
}

/// Energy over a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EnergyReport {
    /// Heat from the heater in J.
    pub heater_j: f64,
    /// Net heat through all boundaries in J, negative when the house loses.
    pub exchanged_j: f64,
    /// Heat stored at the end less that at the start in J.
    pub stored_j: f64,
    /// Share of ice in every zone's pots at the end.
    pub pots_frozen: [f64; MOST_ZONES],
}

impl EnergyReport {
    /// What the balance does not explain, in J.
    pub fn residual_j(&self) -> f64 {
        self.stored_j - self.heater_j - self.exchanged_j
    }
}

/// Why a shelter cannot be run.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum RunError {
    /// No zone, or more than the model carries.
    #[error("the shelter has {found} zones; the heat model carries 1 to 8, so merge or add zones")]
    Zones {
        /// Zones found.
        found: usize,
    },
    /// Shares of the floor that do not sum to one, or a negative amount.
    #[error("the zones' shares of the floor make {sum:.3} together instead of 1; check their areas")]
    Shares {
        /// Their sum.
        sum: f64,
    },
    /// A heater or sensor in a zone that does not exist, or figures that are not numbers.
    #[error("the heater cannot be used: {0}; check its zone, rating and thermostat")]
    Heating(String),
    /// Too little weather.
    #[error("the weather holds {hours} hours; at least 2 are needed")]
    Weather {
        /// Hours found.
        hours: usize,
    },
    /// No envelope, or envelopes with different numbers of elements.
    #[error("the shelter's envelope is missing or changes its form between covers; save its build again")]
    Envelope,
}

impl Scenario {
    fn check(&self, forcing: &Forcing) -> Result<(), RunError> {
        let found = self.zones.len();
        if found == 0 || found > MOST_ZONES {
            return Err(RunError::Zones { found });
        }
        let sum: f64 = self.zones.iter().map(|z| z.floor_share).sum();
        let sound = self.zones.iter().all(|z| {
            z.floor_share > 0.0
                && z.exposure > 0.0
                && z.exposure.is_finite()
                && z.pots_l >= 0.0
                && z.typical_pot_l > 0.0
                && z.water_l >= 0.0
        });
        if !sound || (sum - 1.0).abs() > 1e-6 {
            return Err(RunError::Shares { sum });
        }
        if forcing.hours.len() < 2 {
            return Err(RunError::Weather { hours: forcing.hours.len() });
        }
        let elements = self.phases.first().map_or(0, |p| p.envelope.elements.len());
        if elements == 0
            || elements != forcing.sun(0).len()
            || self.phases.iter().any(|p| p.envelope.elements.len() != elements)
        {
            return Err(RunError::Envelope);
        }
        if let Some(heating) = self.heating {
            if heating.zone >= found || heating.sensor_zone >= found {
                return Err(RunError::Heating("its zone or its sensor's zone is not there".to_owned()));
            }
            let usable = heating.rating_w >= 0.0 && heating.band_k >= 0.0 && heating.set_c.is_finite();
            if !usable || !heating.rating_w.is_finite() || !heating.band_k.is_finite() {
                return Err(RunError::Heating("a figure is negative or not a number".to_owned()));
            }
        }
        Ok(())
    }
}

/// Share of the water in pots that is ice at a temperature of theirs, 0 to 1.
pub fn pots_frozen_share(pots_c: f64) -> f64 {
    let curve = Medium::POTTING_MIX.enthalpy();
    if pots_c.is_finite() { curve.frozen_share(curve.heat_j(pots_c)) } else { 0.0 }
}

/// Runs a shelter through weather in steps of ten minutes.
///
/// * `scenario` — the shelter
/// * `forcing` — weather prepared for the same envelope
/// * `shift_k` — kelvin added to the outdoor and sky temperature of every hour, for draws of a forecast's error; empty
///   for none, and the last value holds on
/// * `observe` — called at the end of every step
///
/// Conductances are those of the start of each hour, temperatures and sun follow straight lines between full hours.
/// Nothing is allocated inside the loop. The same inputs give the same bits.
///
/// # Errors
/// [`RunError`] for a scenario that cannot be run.
pub fn simulate(
    scenario: &Scenario,
    forcing: &Forcing,
    shift_k: &[f64],
    mut observe: impl FnMut(&Moment<'_>),
) -> Result<EnergyReport, RunError> {
    scenario.check(forcing)?;
    Ok(match scenario.zones.len() {
        1 => run::<1>(scenario, forcing, shift_k, &mut observe),
        2 => run::<2>(scenario, forcing, shift_k, &mut observe),
        3 | 4 => run::<4>(scenario, forcing, shift_k, &mut observe),
        _ => run::<8>(scenario, forcing, shift_k, &mut observe),
    })
}

/// A run under way.
struct Runner<'a, const L: usize> {
    scenario: &'a Scenario,
    forcing: &'a Forcing,
    shift_k: &'a [f64],
    houses: Vec<(usize, House<L>)>,
    network: Network<L>,
    balance: Balance,
    thermostat: Thermostat<L>,
    links: Links<L>,
}

fn run<const L: usize>(
    scenario: &Scenario,
    forcing: &Forcing,
    shift_k: &[f64],
    observe: &mut impl FnMut(&Moment<'_>),
) -> EnergyReport {
    let mut runner = Runner::<L>::new(scenario, forcing, shift_k);
    let last = forcing.hours.len() - 1;
    runner.hours(0..last.min(WARM_UP_H), &mut |_| {});
    runner.network.tally = Tally::default();
    let before_j = runner.network.heat_j();
    runner.hours(0..last, observe);
    let network = &runner.network;
    let mut pots_frozen = [0.0; MOST_ZONES];
    for (zone, share) in pots_frozen.iter_mut().enumerate().take(scenario.zones.len()) {
        *share = network.frozen_share(POTS, zone);
    }
    EnergyReport {
        heater_j: network.tally.heater_j,
        exchanged_j: network.tally.exchanged_j,
        stored_j: network.heat_j() - before_j,
        pots_frozen,
    }
}

impl<'a, const L: usize> Runner<'a, L> {
    fn new(scenario: &'a Scenario, forcing: &'a Forcing, shift_k: &'a [f64]) -> Self {
        let houses: Vec<(usize, House<L>)> = scenario
            .phases
            .iter()
            .map(|phase| {
                let hours = (phase.from - forcing.start).num_hours();
                let house = House::new(
                    &phase.envelope,
                    &scenario.zones,
                    scenario.floor,
                    scenario.ground,
                    scenario.canopy.clamp(0.0, 1.0),
                );
                (usize::try_from(hours).unwrap_or(0), house)
            })
            .collect();
        let first = &houses[0].1;
        let outside = forcing.hours[0];
        let day_mean_c =
            forcing.hours.iter().take(24).map(|h| h.temp_c).sum::<f64>() / forcing.hours.len().min(24) as f64;
        let mut body_c = [[day_mean_c + 2.0; L]; BODIES];
        for layer in 0..LAYERS {
            body_c[SURFACE + layer] = [first.ground.temp_c(first.layer_depth_m[layer], outside.day); L];
        }
        let pressure_pa = air::pressure_at_elevation_pa(scenario.elevation_m);
        let per_m3 = air::heat_capacity_j_per_m3_k(5.0, 0.004, pressure_pa);
        let air_j_per_k = std::array::from_fn(|l| {
            if first.floor_share[l] > 0.0 { per_m3 * first.volume_m3 * first.floor_share[l] } else { 1.0 }
        });
        let curves: [[Enthalpy; L]; BODIES] = first.curves;
        let network = Network::new(air_j_per_k, curves, [day_mean_c + 2.0; L], body_c);
        let balance = Balance::new(first, &outside, scenario.elevation_m);
        let mut thermostat =
            Thermostat { rating_w: 0.0, set_c: 0.0, band_k: 0.0, share: [0.0; L], sensor: 0 };
        if let Some(heating) = scenario.heating {
            thermostat.rating_w = heating.rating_w;
            thermostat.set_c = heating.set_c;
            thermostat.band_k = heating.band_k;
            thermostat.share[heating.zone] = 1.0;
            thermostat.sensor = heating.sensor_zone;
        }
        Self { scenario, forcing, shift_k, houses, network, balance, thermostat, links: Links::default() }
    }

    fn outdoors(&self, hour: usize) -> super::forcing::Outdoors {
        let mut outdoors = self.forcing.hours[hour];
        if let Some(shift_k) = self.shift_k.get(hour).or(self.shift_k.last()) {
            outdoors.temp_c += shift_k;
            outdoors.sky_c += shift_k;
        }
        outdoors
    }

    fn hours(&mut self, range: std::ops::Range<usize>, observe: &mut impl FnMut(&Moment<'_>)) {
        let zones = self.scenario.zones.len();
        let heating = self.scenario.heating;
        let mut heat_kwh = 0.0;
        for hour in range {
            let ends = HourEnds {
                start: self.outdoors(hour),
                end: self.outdoors(hour + 1),
                sun_start: self.forcing.sun(hour),
                sun_end: self.forcing.sun(hour + 1),
            };
            let fan_runs = heat_kwh > 0.0 && heating.is_some_and(|h| h.stirs_air);
            let water_kg_per_kwh = heating.map_or(0.0, |h| h.water_kg_per_kwh);
            self.balance.flame_kg_per_s = heat_kwh * water_kg_per_kwh / 3600.0;
            let current = self.houses.iter().rposition(|(from, _)| *from <= hour).unwrap_or(0);
            let house = &self.houses[current].1;
            let stirred = self.scenario.stirred || fan_runs;
            self.balance.hour(house, &self.network, &ends, stirred, &mut self.links);
            self.network.invalidate();
            let relative_humidity = self.balance.relative_humidity(self.network.air_c[0]);
            let skin_water_kg_per_m2 = self.balance.water_on_skins_kg_per_m2();
            heat_kwh = 0.0;
            for step in 0..STEPS_PER_HOUR {
                let from = step as f64 / STEPS_PER_HOUR as f64;
                let to = (step + 1) as f64 / STEPS_PER_HOUR as f64;
                let step_s = 3600.0 / STEPS_PER_HOUR as f64;
                let stepped =
                    self.network.step(&self.links, from, to, step_s, &self.thermostat, self.scenario.vent);
                heat_kwh += stepped.heat_w * step_s / 3.6e6;
                observe(&Moment {
                    hour,
                    step,
                    outside_c: ends.start.temp_c + to * (ends.end.temp_c - ends.start.temp_c),
                    zone_c: &self.network.air_c[..zones],
                    pots_c: &self.network.body_c[POTS][..zones],
                    floor_c: &self.network.body_c[SURFACE][..zones],
                    heat_w: stepped.heat_w,
                    relative_humidity,
                    skin_water_kg_per_m2,
                });
            }
        }
    }
}
