//! What heats a shelter, and what its heat costs.

use hibernacle_contract::night::FuelUse;
use hibernacle_engine::season::Caution;
use hibernacle_engine::shelter::fuel::Fuel;
use hibernacle_engine::shelter::setup::HeaterOn;
use hibernacle_engine::shelter::tonight::SetPoint;
use hibernacle_engine::shelter::{EnergyPrice, Heater, HeaterKind, Materials, Shelter, Zone};

use crate::problem::Problem;

/// The kind of heater that is taken where one stands ready and none is recorded.
const USUAL_HEATER: &str = "fan-electric";
/// Kelvin between on and off of its thermostat.
const USUAL_BAND_K: f64 = 1.0;
/// Lowest setting in °C that a heater is run at.
const LOWEST_SETTING_C: f64 = -15.0;

/// The heaters of a shelter as one, since the heat model runs one thermostat: they give their heat together, where and
/// when the strongest does.
pub(crate) struct Heat {
    /// Heat output of all in W.
    pub(crate) rating_w: f64,
    /// The setting of the strongest in °C as read at its sensor; absent where none was entered.
    pub(crate) set_c: Option<f64>,
    /// Index of the zone of its sensor; absent where nobody said where it hangs.
    pub(crate) sensor_zone: Option<usize>,
    /// The heaters as recorded; empty where the usual one is taken.
    pub(crate) recorded: Vec<Heater>,
    key: String,
    band_k: f64,
    zone_id: Option<String>,
    sources: Vec<Source>,
}

/// A fuel with its part in the heat.
struct Source {
    fuel: Fuel,
    /// Share of the heat.
    share: f64,
    /// Share of the fuel's heating value that reaches the air.
    efficiency: f64,
}

impl Heat {
    /// The recorded heaters of a shelter, else the usual one where a heater stands ready.
    pub(crate) fn of(
        shelter: &Shelter,
        recorded: Vec<Heater>,
        zones: &[Zone],
        materials: &Materials,
    ) -> Result<Option<Self>, Problem> {
        let strongest = recorded.iter().max_by(|a, b| a.rating_w.total_cmp(&b.rating_w));
        let Some(strongest) = strongest else {
            return if shelter.has_heater { Self::usual(materials).map(Some) } else { Ok(None) };
        };
        let rating_w: f64 = recorded.iter().map(|heater| heater.rating_w).sum();
        let sources = recorded
            .iter()
            .map(|heater| {
                let HeaterKind { fuel, efficiency, .. } = *kind(materials, &heater.key)?;
                Ok(Source { fuel, share: heater.rating_w / rating_w, efficiency })
            })
            .collect::<Result<_, Problem>>()?;
        let sensor_zone_id = strongest.sensor_zone_id.as_ref().or(strongest.zone_id.as_ref());
        Ok(Some(Self {
            rating_w,
            set_c: strongest.set_c,
            sensor_zone: sensor_zone_id.and_then(|id| zones.iter().position(|zone| zone.id == *id)),
            key: strongest.key.clone(),
            band_k: strongest.band_k,
            zone_id: strongest.zone_id.clone(),
            sources,
            recorded,
        }))
    }

    fn usual(materials: &Materials) -> Result<Self, Problem> {
        let HeaterKind { usual_rating_w, fuel, efficiency, .. } = *kind(materials, USUAL_HEATER)?;
        Ok(Self {
            rating_w: usual_rating_w,
            set_c: None,
            sensor_zone: None,
            recorded: Vec::new(),
            key: USUAL_HEATER.to_owned(),
            band_k: USUAL_BAND_K,
            zone_id: None,
            sources: vec![Source { fuel, share: 1.0, efficiency }],
        })
    }

    /// Kind of the strongest, by its key in the table of heaters.
    pub(crate) fn key(&self) -> &str {
        &self.key
    }

    /// Whether it is the usual heater, because none is recorded.
    pub(crate) fn is_assumed(&self) -> bool {
        self.recorded.is_empty()
    }

    /// The heater in the model, at a setting.
    pub(crate) fn at(&self, set: SetPoint, zones: &[Zone]) -> HeaterOn {
        let sensor_zone_id = zones.get(set.zone).map(|zone| zone.id.clone());
        HeaterOn {
            key: self.key.clone(),
            rating_w: self.rating_w,
            set_c: set.air_c.max(LOWEST_SETTING_C),
            band_k: self.band_k,
            zone_id: self.zone_id.clone().or_else(|| sensor_zone_id.clone()),
            sensor_zone_id,
        }
    }

    /// Fuel for an amount of heat, each fuel once.
    pub(crate) fn fuels(&self, heat_kwh: f64) -> Vec<FuelUse> {
        let mut fuels: Vec<FuelUse> = Vec::new();
        for source in &self.sources {
            let units = source.fuel.units_for(heat_kwh * source.share, source.efficiency);
            match fuels.iter_mut().find(|known| known.fuel == source.fuel) {
                Some(known) => known.units += units,
                None => fuels.push(FuelUse { fuel: source.fuel, units }),
            }
        }
        fuels
    }

    /// What to mind when it runs.
    pub(crate) fn cautions(&self) -> Vec<Caution> {
        let burns = self.sources.iter().any(|source| source.fuel.burns());
        let mains = self.sources.iter().any(|source| source.fuel == Fuel::Electricity);
        let mut cautions = vec![Caution::Heater];
        cautions.extend(mains.then_some(Caution::Electricity));
        cautions.extend(burns.then_some(Caution::FuelGas));
        cautions
    }

    /// Money for a kWh of heat; absent where the price of one of its fuels is not known.
    pub(crate) fn cost_per_kwh(&self, prices: &Prices) -> Option<f64> {
        self.sources
            .iter()
            .map(|source| Some(source.share * prices.of(source.fuel)?.per_kwh_heat(source.efficiency)))
            .sum()
    }
}

/// A kind of heater by its key.
pub(crate) fn kind<'a>(materials: &'a Materials, key: &str) -> Result<&'a HeaterKind, Problem> {
    materials.heaters.get(key).ok_or_else(|| {
        let problem = format!("“{key}” is not in the catalogue of heaters");
        Problem::field("heater.key", problem, "choose one of the listed heaters")
    })
}

/// What fuels cost at a site.
#[derive(Clone)]
pub(crate) struct Prices(Vec<EnergyPrice>);

impl Prices {
    pub(crate) fn new(prices: Vec<EnergyPrice>) -> Self {
        Self(prices)
    }

    /// The same with another price of electricity, where one is given.
    pub(crate) fn with_electricity(&self, per_kwh: Option<f64>) -> Self {
        let Some(per_unit) = per_kwh else { return self.clone() };
        let fuel = Fuel::Electricity;
        let others = self.0.iter().copied().filter(|price| price.fuel != fuel);
        Self(others.chain([EnergyPrice { fuel, per_unit }]).collect())
    }

    /// The price of a fuel.
    pub(crate) fn of(&self, fuel: Fuel) -> Option<EnergyPrice> {
        self.0.iter().copied().find(|price| price.fuel == fuel)
    }
}
