//! The water of one pot from day to day.

use super::day::{AirDay, UsualAir};
use super::evaporation::{Surface, deficit_kpa, drying_share, saturation_kpa, wet_surface_mm_per_day};
use super::pot::{FILLED_SHARE, PotMedium, RoundPot};
use super::{Leaves, PottedPlant};

/// Air movement over pots in a closed house and in a stirred one, m/s: values from memory.
const STILL_M_PER_S: f64 = 0.1;
const STIRRED_M_PER_S: f64 = 0.5;
/// In the stream of a heater, m/s, and its air above that of the house, K: values from memory.
const BLAST_M_PER_S: f64 = 2.0;
const BLAST_K: f64 = 8.0;
/// Resistance of the air to leaves in s/m: 150 in a ventilated plastic house fits lysimeters (Fernández et al. 2010,
/// Almería); still air 295 and a heater's stream 60, values from memory.
const STILL_S_PER_M: f64 = 295.0;
const STIRRED_S_PER_M: f64 = 150.0;
const BLAST_S_PER_M: f64 = 60.0;
/// Resistance in s/m of a crown of warm evergreen leaves, and of succulents: values from memory.
const LEAFY_S_PER_M: f64 = 300.0;
const SUCCULENT_S_PER_M: f64 = 3000.0;
/// Temperature in °C from which leaves take up water freely; below, the resistance grows, at most tenfold: from memory.
const FREE_UPTAKE_C: f64 = 15.0;
/// Crown over the top of its pot: values from memory.
const CROWN_OVER_POT: f64 = 5.0;
const SUCCULENT_CROWN_OVER_POT: f64 = 2.0;
/// Net radiation over solar radiation on the plants: values from memory.
const NET_OF_LIGHT: f64 = 0.6;
/// Share of a clay pot's wall that gives off water like a wet surface: value from memory.
const CLAY_WALL: f64 = 0.5;
/// Depth in m of the layer that dries, and what evaporates from it at the full rate, mm (FAO-56: 0.10 to 0.15 m, 8 to
/// 10 mm).
const DRYING_LAYER_M: f64 = 0.10;
const READILY_MM: f64 = 9.0;
/// Share of the available water that can be used before leaves feel it (FAO-56, woody crops 0.5).
const EASY_SHARE: f64 = 0.5;
/// Share of the evaporated water that drips back under a cover in saturated air: value from memory.
const DRIPS_BACK: f64 = 0.3;
/// Mean of a root ball in °C below which it is frozen and gives no water.
pub(super) const FROZEN_BELOW_C: f64 = -0.25;
/// Air pressure in kPa: at sea level; at 1500 m evaporation is 10 % higher.
const PRESSURE_KPA: f64 = 101.3;

/// Water a pot loses in a day, in litres.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct DayLoss {
    pub(super) evaporated_l: f64,
    pub(super) transpired_l: f64,
    /// What leaves asked for and frozen roots did not give.
    pub(super) refused_l: f64,
}

impl DayLoss {
    pub(super) fn lost_l(&self) -> f64 {
        self.evaporated_l + self.transpired_l
    }
}

/// Shape and store of a pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PotStore {
    pub(super) available_l: f64,
    top_m2: f64,
    wall_m2: f64,
    crown_m2: f64,
    total_mm: f64,
}

impl PotStore {
    pub(super) fn of(plant: &PottedPlant<'_>) -> Self {
        let pot = RoundPot::of_volume(plant.volume_l);
        let medium: &PotMedium = plant.medium;
        let crown = match plant.leaves {
            Leaves::None => 0.0,
            Leaves::Leafy => CROWN_OVER_POT,
            Leaves::Succulent => SUCCULENT_CROWN_OVER_POT,
        };
        Self {
            available_l: plant.volume_l * FILLED_SHARE * medium.available(),
            top_m2: pot.top_m2(),
            wall_m2: if plant.is_clay { pot.wall_m2() } else { 0.0 },
            crown_m2: match plant.leaves {
                Leaves::None => 0.0,
                _ => plant.crown_m2.unwrap_or(crown * pot.top_m2()),
            },
            total_mm: 1000.0 * (medium.capacity - 0.5 * medium.unavailable) * DRYING_LAYER_M,
        }
    }
}

/// The running balance of a pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Balance {
    /// Litres below the capacity.
    pub(super) used_l: f64,
    /// Evaporated from the top since it was wetted, mm.
    surface_mm: f64,
}

impl Balance {
    /// A pot that lacks a number of litres to its capacity.
    pub(super) fn lacking(used_l: f64, store: &PotStore) -> Self {
        Self { used_l: used_l.clamp(0.0, store.available_l), surface_mm: 0.0 }
    }

    /// Water given; running through fills the pot whatever was computed.
    pub(super) fn water(&mut self, amount_l: f64, ran_through: bool, store: &PotStore) {
        self.used_l = if ran_through { 0.0 } else { (self.used_l - amount_l).max(0.0) };
        self.surface_mm = (self.surface_mm - amount_l / store.top_m2).max(0.0);
    }

    /// Takes off what a day dries.
    ///
    /// * `factor` — the planting's own drying over the computed one
    pub(super) fn dry(
        &mut self,
        plant: &PottedPlant<'_>,
        store: &PotStore,
        day: &AirDay,
        usual: UsualAir,
        factor: f64,
    ) -> DayLoss {
        let full = full_loss(plant, store, day, usual);
        let frozen = day.root_mean_c < FROZEN_BELOW_C;
        let from_top = if frozen { 0.1 } else { drying_share(self.surface_mm, READILY_MM, store.total_mm) };
        let left_l = store.available_l - self.used_l;
        let easy = (left_l / ((1.0 - EASY_SHARE) * store.available_l)).clamp(0.0, 1.0);
        let evaporated_l = (full.evaporated_l * from_top * factor).min(left_l);
        let wanted_l = full.transpired_l * factor;
        let transpired_l = if frozen { 0.0 } else { (wanted_l * easy).min((left_l - evaporated_l).max(0.0)) };
        self.surface_mm += evaporated_l / store.top_m2;
        self.used_l = (self.used_l + evaporated_l + transpired_l).min(store.available_l);
        DayLoss { evaporated_l, transpired_l, refused_l: if frozen { wanted_l } else { 0.0 } }
    }
}

/// What a moist, thawed pot would lose in a day.
fn full_loss(plant: &PottedPlant<'_>, store: &PotStore, day: &AirDay, usual: UsualAir) -> DayLoss {
    let humidity = day.relative_humidity.unwrap_or(usual.relative_humidity);
    let light = day.light_mj_per_m2.unwrap_or(usual.light_mj_per_m2);
    let vapour_kpa = humidity * saturation_kpa(day.mean_c);
    let (air_m_per_s, air_s_per_m) =
        if day.is_stirred { (STIRRED_M_PER_S, STIRRED_S_PER_M) } else { (STILL_M_PER_S, STILL_S_PER_M) };
    let usual_air = Air {
        temp_c: day.mean_c,
        deficit_kpa: deficit_kpa(day.min_c, day.mean_c, day.max_c, humidity),
        air_m_per_s,
        air_s_per_m,
        light,
    };
    let mut loss = usual_air.loss(plant, store);
    if plant.in_heater_blast && day.heater_share > 0.0 {
        // The stream is warmer air with the vapour of the house.
        let blast = Air {
            temp_c: day.mean_c + BLAST_K,
            deficit_kpa: (saturation_kpa(day.mean_c + BLAST_K) - vapour_kpa).max(0.0),
            air_m_per_s: BLAST_M_PER_S,
            air_s_per_m: BLAST_S_PER_M,
            light,
        };
        let blown = blast.loss(plant, store);
        let share = day.heater_share.clamp(0.0, 1.0);
        let mix = |usual: f64, blown: f64| usual * (1.0 - share) + blown * share;
        loss.evaporated_l = mix(loss.evaporated_l, blown.evaporated_l);
        loss.transpired_l = mix(loss.transpired_l, blown.transpired_l);
    }
    if plant.is_covered {
        let saturated = ((humidity - 0.8) / 0.15).clamp(0.0, 1.0);
        loss.evaporated_l *= 1.0 - DRIPS_BACK * saturated;
    }
    loss
}

/// Air over a pot.
struct Air {
    temp_c: f64,
    deficit_kpa: f64,
    air_m_per_s: f64,
    air_s_per_m: f64,
    light: f64,
}

impl Air {
    fn surface(&self, surface_s_per_m: f64, deficit_kpa: f64) -> Surface {
        Surface {
            temp_c: self.temp_c,
            deficit_kpa,
            radiation_mj_per_m2: NET_OF_LIGHT * self.light,
            air_s_per_m: self.air_s_per_m,
            surface_s_per_m,
            pressure_kpa: PRESSURE_KPA,
        }
    }

    fn loss(&self, plant: &PottedPlant<'_>, store: &PotStore) -> DayLoss {
        // Leaves shade the pot they grow in.
        let lit = if store.crown_m2 > 0.0 { 0.3 } else { 1.0 };
        let from_sun_mm = lit * self.surface(0.0, 0.0).mm_per_day();
        let wet_mm = wet_surface_mm_per_day(self.temp_c, self.deficit_kpa, self.air_m_per_s);
        let evaporated_l = store.top_m2 * (wet_mm + from_sun_mm) + CLAY_WALL * store.wall_m2 * wet_mm;
        let warm = (self.temp_c / FREE_UPTAKE_C).clamp(0.1, 1.0);
        let leaf_s_per_m = match plant.leaves {
            Leaves::None => return DayLoss { evaporated_l, ..DayLoss::default() },
            Leaves::Leafy => LEAFY_S_PER_M / warm,
            Leaves::Succulent => SUCCULENT_S_PER_M / warm,
        };
        let leaves_mm = self.surface(leaf_s_per_m, self.deficit_kpa).mm_per_day();
        DayLoss { evaporated_l, transpired_l: store.crown_m2 * leaves_mm, refused_l: 0.0 }
    }
}
