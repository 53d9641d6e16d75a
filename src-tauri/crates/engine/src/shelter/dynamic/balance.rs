//! The balance of an hour: coefficients of the network, skins in balance, and vapour.

use super::super::build::Beyond;
use super::forcing::Outdoors;
use super::house::{House, exchange_emissivity, local_wind_share, still_air_w_per_m2_k};
use super::kernel::{FIRST_SIDE, LAYERS, Lanes, Links, Network, POTS, SURFACE, Sources};
use crate::air::{self, EVAPORATION_J_PER_KG, FUSION_J_PER_KG, STEFAN_BOLTZMANN, ZERO_C_IN_K};

/// Share of the sun let in that stays inside, the rest leaves by reflection and the far glazing (estimate).
const SUN_KEPT: f64 = 0.7;
/// Share of the kept sun that goes straight to the air by leaves and frame (estimate).
const SUN_TO_AIR: f64 = 0.2;
/// Share of the sun on leaves that becomes vapour (about half in cropped houses; value from memory).
const LEAVES_TRANSPIRE: f64 = 0.5;
/// Share of the floor that is as wet as open water (estimate).
const FLOOR_WETNESS: f64 = 0.3;
/// Water on a skin from which it counts as wet all over, and beyond which it runs off, in kg/m².
const WET_KG_PER_M2: f64 = 0.02;
const RUNS_OFF_KG_PER_M2: f64 = 0.15;
/// Heat capacity of moist air for the Lewis relation in J/(kg K).
const AIR_J_PER_KG_K: f64 = 1010.0;
/// Least coefficient at surfaces in air that a fan stirs, W/(m² K) (estimate).
const STIRRED_W_PER_M2_K: f64 = 6.0;

/// What a skin remembers from hour to hour.
#[derive(Debug, Clone, Copy)]
pub(super) struct SkinState {
    inner_c: f64,
    film_w_per_m2_k: f64,
    water_kg_per_m2: f64,
    latent_w: f64,
    /// Humidity ratio of air saturated at the inner surface.
    saturated: f64,
}

/// Moisture and skins of a house through time.
#[derive(Debug, Clone)]
pub(super) struct Balance {
    skins: Vec<SkinState>,
    humidity_ratio: f64,
    floor_latent_w: f64,
    leaves_w: f64,
    pressure_pa: f64,
    ground_day: f64,
    ground_c: [f64; LAYERS],
    deep_c: f64,
    earth_c: f64,
    /// Water added by an unvented flame, kg/s, in the hour before.
    pub(super) flame_kg_per_s: f64,
}

/// Outdoors at both ends of an hour, with the sun on every element.
#[derive(Clone, Copy)]
pub(super) struct HourEnds<'a> {
    pub(super) start: Outdoors,
    pub(super) end: Outdoors,
    pub(super) sun_start: &'a [f64],
    pub(super) sun_end: &'a [f64],
}

/// Means over the zones that the skins see.
struct Inside {
    air_c: f64,
    floor_c: f64,
    pots_c: f64,
}

impl Balance {
    pub(super) fn new<const L: usize>(house: &House<L>, outside: &Outdoors, elevation_m: f64) -> Self {
        let skin = SkinState {
            inner_c: outside.temp_c + 1.0,
            film_w_per_m2_k: 2.0,
            water_kg_per_m2: 0.0,
            latent_w: 0.0,
            saturated: 0.0,
        };
        Self {
            skins: vec![skin; house.skins.len()],
            humidity_ratio: outside.humidity_ratio,
            floor_latent_w: 0.0,
            leaves_w: 0.0,
            pressure_pa: air::pressure_at_elevation_pa(elevation_m),
            ground_day: f64::NAN,
            ground_c: [0.0; LAYERS],
            deep_c: 0.0,
            earth_c: 0.0,
            flame_kg_per_s: 0.0,
        }
    }

    /// Relative humidity inside at an air temperature, handbook convention.
    pub(super) fn relative_humidity(&self, air_c: f64) -> f64 {
        let vapour_pa = air::vapour_pressure_of_ratio_pa(self.humidity_ratio, self.pressure_pa);
        (vapour_pa / air::saturation_pa(air_c)).clamp(0.0, 1.0)
    }

    /// Water on the skins, mean in kg/m².
    pub(super) fn water_on_skins_kg_per_m2(&self) -> f64 {
        let sum: f64 = self.skins.iter().map(|s| s.water_kg_per_m2).sum();
        sum / self.skins.len().max(1) as f64
    }

    /// Fills the links for the hour ahead and moves skins and vapour along.
    pub(super) fn hour<const L: usize>(
        &mut self,
        house: &House<L>,
        network: &Network<L>,
        ends: &HourEnds<'_>,
        stirred: bool,
        links: &mut Links<L>,
    ) {
        *links = Links { chain: house.chain, ..Links::default() };
        let weighted = |values: &Lanes<L>, share: &Lanes<L>| -> f64 {
            values.iter().zip(share).map(|(v, s)| v * s).sum()
        };
        let inside = Inside {
            air_c: weighted(&network.air_c, &house.floor_share),
            floor_c: weighted(&network.body_c[SURFACE], &house.floor_share),
            pots_c: weighted(&network.body_c[POTS], &house.pots_share),
        };
        let (start, end) = (&ends.start, &ends.end);
        links.start.outside_c = start.temp_c;
        links.end.outside_c = end.temp_c;

        let volume_heat = air::heat_capacity_j_per_m3_k(start.temp_c, 0.0, self.pressure_pa);
        let leak_m3_per_s = air::leakage_m3_per_s(
            house.leakage_cm2,
            inside.air_c - start.temp_c,
            start.wind_m_per_s,
            house.wind_shelter,
        );
        let leak_w_per_k = leak_m3_per_s * volume_heat;
        let vent_w_per_k = volume_heat * house.volume_m3 * vented_air_changes_per_h(start.temp_c) / 3600.0;
        let zones = house.floor_share.iter().filter(|s| **s > 0.0).count();
        let mixing = house.mixing_w_per_k(stirred, volume_heat, zones);
        for l in 0..L {
            let share = house.floor_share[l];
            links.out_air[l] += leak_w_per_k * share;
            links.start.air_w[l] += leak_w_per_k * share * start.temp_c;
            links.end.air_w[l] += leak_w_per_k * share * end.temp_c;
            links.vent[l] = vent_w_per_k * share;
            links.mix[l] = if share > 0.0 { mixing } else { 0.0 };
        }
        self.floor(house, &inside, start.day, stirred, links);
        self.skins(house, &inside, ends, stirred, links);
        self.heavy(house, ends, links);
        self.leaves_w = add_sun(house, ends, links);
        let open = network.is_venting();
        let air_kg_per_s = (leak_w_per_k + if open { vent_w_per_k } else { 0.0 }) / AIR_J_PER_KG_K;
        self.vapour(house, &inside, start, air_kg_per_s);
    }

    /// Convection at floor and pots, the ground beside and below.
    fn floor<const L: usize>(
        &mut self,
        house: &House<L>,
        inside: &Inside,
        day: f64,
        stirred: bool,
        links: &mut Links<L>,
    ) {
        if (day - self.ground_day).abs() >= 0.999 || self.ground_day.is_nan() {
            self.ground_day = day;
            self.ground_c = std::array::from_fn(|i| house.ground.temp_c(house.layer_depth_m[i], day));
            self.deep_c = house.ground.temp_c(house.deep_m, day);
            self.earth_c = house.ground.temp_c(1.2, day);
        }
        // A floor is a roof upside down: heat rises from it when it is warmer than the air.
        let least = if stirred { STIRRED_W_PER_M2_K } else { 0.0 };
        let film = still_air_w_per_m2_k(0.0, inside.floor_c - inside.air_c).max(least);
        let pot_film = still_air_w_per_m2_k(90.0, inside.pots_c - inside.air_c).max(least);
        let pots_w_per_k = house.pots_m2 / (1.0 / pot_film + house.pot_inner_m2_k_per_w);
        for l in 0..L {
            let share = house.floor_share[l];
            links.air_surface[l] += film * house.floor_visible_m2 * share;
            links.air_pots[l] += pots_w_per_k * house.pots_share[l];
            links.pots_surface[l] += house.pots_floor_w_per_k[l];
            for i in 0..LAYERS {
                let (mut to_ground, mut heat) = (house.lateral_w_per_k[i] * share, 0.0);
                heat += to_ground * self.ground_c[i];
                if i == LAYERS - 1 {
                    to_ground += house.deep_w_per_k * share;
                    heat += house.deep_w_per_k * share * self.deep_c;
                }
                links.out_bodies[SURFACE + i][l] += to_ground;
                links.start.body_w[SURFACE + i][l] += heat;
                links.end.body_w[SURFACE + i][l] += heat;
            }
            links.start.body_w[SURFACE][l] += self.floor_latent_w * share;
            links.end.body_w[SURFACE][l] += self.floor_latent_w * share;
            links.air_sides[0][l] += house.water_w_per_k[l];
        }
    }

    /// Light sheets: both surfaces in balance, eliminated (star to mesh).
    fn skins<const L: usize>(
        &mut self,
        house: &House<L>,
        inside: &Inside,
        ends: &HourEnds<'_>,
        stirred: bool,
        links: &mut Links<L>,
    ) {
        let all_m2: f64 = house.skins.iter().map(|s| s.area_m2).sum();
        if all_m2 <= 0.0 {
            return;
        }
        let outside_c = ends.start.temp_c;
        let wind = ends.start.wind_m_per_s * local_wind_share(house.wind_shelter);
        let cube = |a: f64, b: f64| {
            let mean = (a + b) / 2.0 + ZERO_C_IN_K;
            4.0 * STEFAN_BOLTZMANN * mean * mean * mean
        };
        let (mut air_floor, mut air_pots, mut pots_floor) = (0.0, 0.0, 0.0);
        // Conductance to outdoors and the heat it brings at both ends, for air, floor and pots.
        let mut out = [[0.0; 3]; 3];
        for (skin, state) in house.skins.iter().zip(&mut self.skins) {
            let wet = (state.water_kg_per_m2 / WET_KG_PER_M2).min(1.0);
            let clear = skin.long_wave_transmittance * (1.0 - wet);
            let inner_emissivity = skin.inner_emissivity + (0.9 - skin.inner_emissivity).max(0.0) * wet;
            let least = if stirred { STIRRED_W_PER_M2_K } else { 0.0 };
            let film = still_air_w_per_m2_k(skin.tilt_deg, inside.air_c - state.inner_c).max(least);
            state.film_w_per_m2_k = (state.film_w_per_m2_k + film) / 2.0;
            let a = state.film_w_per_m2_k * skin.area_m2;
            let view = skin.area_m2 / all_m2;
            let radiant = cube(inside.floor_c, state.inner_c);
            let grey = radiant * exchange_emissivity(inner_emissivity) * view;
            let (rf, rp) = (grey * house.floor_bare_m2(), grey * house.pots_radiant_m2);
            // Leaves are at the air's temperature: what they radiate is the air's loss.
            let a = a + grey * house.canopy_m2();

            let (sky_share, h_wind) = match skin.beyond {
                Beyond::Outdoors => (skin.sky_share, 4.0 + 4.0 * wind),
                Beyond::Unheated | Beyond::Heated { .. } | Beyond::Earth => (0.0, 2.5),
            };
            let h_sky = cube(outside_c, outside_c) * skin.outer_emissivity;
            let h_out = h_wind + h_sky;
            let beyond_c = |outdoors: &Outdoors, sun: &[f64]| match skin.beyond {
                Beyond::Heated { temp_c } => (temp_c, temp_c),
                Beyond::Earth => (self.earth_c, self.earth_c),
                Beyond::Unheated => (outdoors.temp_c, outdoors.temp_c),
                Beyond::Outdoors => {
                    let radiant_c = outdoors.temp_c - sky_share * (outdoors.temp_c - outdoors.sky_c);
                    let heat =
                        h_wind * outdoors.temp_c + h_sky * radiant_c + skin.absorptance * sun[skin.element];
                    (heat / h_out, radiant_c)
                }
            };
            let (start_c, start_radiant_c) = beyond_c(&ends.start, ends.sun_start);
            let (end_c, end_radiant_c) = beyond_c(&ends.end, ends.sun_end);
            let outer = h_out * skin.area_m2;
            let g = skin.conductance_w_per_k * outer / (skin.conductance_w_per_k + outer);
            let sum = a + rf + rp + g;
            air_floor += a * rf / sum;
            air_pots += a * rp / sum;
            pots_floor += rf * rp / sum;
            let latent = state.latent_w;
            for (row, link) in out.iter_mut().zip([a, rf, rp]) {
                let through = link * g / sum;
                row[0] += through;
                row[1] += through * start_c + link * latent / sum;
                row[2] += through * end_c + link * latent / sum;
            }
            // What a dry film lets through from floor and pots to sky and surroundings.
            for (row, seen_m2) in out[1..].iter_mut().zip([house.floor_visible_m2, house.pots_radiant_m2]) {
                let direct = radiant * clear * seen_m2 * view;
                row[0] += direct;
                row[1] += direct * start_radiant_c;
                row[2] += direct * end_radiant_c;
            }
            state.inner_c =
                (a * inside.air_c + rf * inside.floor_c + rp * inside.pots_c + g * start_c + latent) / sum;
        }
        for l in 0..L {
            let (skin_share, pots_share) = (house.skin_share[l], house.pots_share[l]);
            links.air_surface[l] += air_floor * skin_share;
            links.air_pots[l] += air_pots * pots_share;
            links.pots_surface[l] += pots_floor * pots_share;
            let shares = [skin_share, skin_share, pots_share];
            let [air, floor, pots] = [0, 1, 2].map(|n| out[n].map(|v| v * shares[n]));
            links.out_air[l] += air[0];
            links.start.air_w[l] += air[1];
            links.end.air_w[l] += air[2];
            for (body, row) in [(SURFACE, floor), (POTS, pots)] {
                links.out_bodies[body][l] += row[0];
                links.start.body_w[body][l] += row[1];
                links.end.body_w[body][l] += row[2];
            }
        }
    }

    fn heavy<const L: usize>(&self, house: &House<L>, ends: &HourEnds<'_>, links: &mut Links<L>) {
        let Some(side) = house.heavy_side() else { return };
        let heavy = &house.heavy;
        let heat = |outdoors: &Outdoors, sun: &[f64]| {
            let lit: f64 = heavy.sun.pairs[..heavy.sun.count]
                .iter()
                .map(|(element, factor)| factor * sun[*element])
                .sum();
            heavy.fixed_w
                + heavy.to_outdoors_w_per_k * outdoors.temp_c
                + heavy.to_earth_w_per_k * self.earth_c
                + lit
        };
        let (start_w, end_w) = (heat(&ends.start, ends.sun_start), heat(&ends.end, ends.sun_end));
        for l in 0..L {
            let share = house.skin_share[l];
            links.air_sides[side][l] += heavy.inner_w_per_k * share;
            links.out_bodies[FIRST_SIDE + side][l] += heavy.outer_w_per_k * share;
            links.start.body_w[FIRST_SIDE + side][l] += start_w * share;
            links.end.body_w[FIRST_SIDE + side][l] += end_w * share;
        }
    }

    /// Vapour over the hour: what evaporates, leaks and condenses; its heat counts in the next hour.
    fn vapour<const L: usize>(
        &mut self,
        house: &House<L>,
        inside: &Inside,
        outdoors: &Outdoors,
        air_kg_per_s: f64,
    ) {
        let pressure_pa = self.pressure_pa;
        let saturated = |c: f64| air::humidity_ratio(air::saturation_pa(c), pressure_pa);
        let floor_film = still_air_w_per_m2_k(0.0, inside.floor_c - inside.air_c);
        let floor_kg_per_s = floor_film / AIR_J_PER_KG_K * house.floor_visible_m2 * FLOOR_WETNESS;
        let leaves_kg_per_s = self.leaves_w / EVAPORATION_J_PER_KG;
        let floor_ratio = saturated(inside.floor_c);
        let mut to = air_kg_per_s + floor_kg_per_s;
        let mut from = air_kg_per_s * outdoors.humidity_ratio
            + floor_kg_per_s * floor_ratio
            + self.flame_kg_per_s
            + leaves_kg_per_s;
        for (skin, state) in house.skins.iter().zip(&mut self.skins) {
            let ratio = saturated(state.inner_c);
            state.saturated = ratio;
            if self.humidity_ratio > ratio || state.water_kg_per_m2 > 0.0 {
                let kg_per_s = state.film_w_per_m2_k / AIR_J_PER_KG_K * skin.area_m2;
                to += kg_per_s;
                from += kg_per_s * ratio;
            }
        }
        let settled = from / to.max(1e-9);
        let air_kg = 1.25 * house.volume_m3;
        let decay = (-to * 3600.0 / air_kg).exp();
        let spread = if to > 1e-9 { (1.0 - decay) / (to * 3600.0 / air_kg) } else { 1.0 };
        let mean = settled + (self.humidity_ratio - settled) * spread;
        self.humidity_ratio = settled + (self.humidity_ratio - settled) * decay;
        let heat_of = |c: f64| EVAPORATION_J_PER_KG + if c < 0.0 { FUSION_J_PER_KG } else { 0.0 };
        self.floor_latent_w = -floor_kg_per_s * (floor_ratio - mean) * EVAPORATION_J_PER_KG;
        for (skin, state) in house.skins.iter().zip(&mut self.skins) {
            let rate = state.film_w_per_m2_k / AIR_J_PER_KG_K;
            let settling = rate * (mean - state.saturated) * 3600.0;
            let gained = settling.max(-state.water_kg_per_m2);
            state.water_kg_per_m2 = (state.water_kg_per_m2 + gained).min(RUNS_OFF_KG_PER_M2);
            state.latent_w = gained / 3600.0 * skin.area_m2 * heat_of(state.inner_c);
        }
    }
}

/// Sun let in, on leaves, floor, pots and air; returns what leaves turn to vapour at the start of the hour, in W.
fn add_sun<const L: usize>(house: &House<L>, ends: &HourEnds<'_>, links: &mut Links<L>) -> f64 {
    let seen_m2 = house.floor_visible_m2 + house.pots_radiant_m2;
    let pots_part = house.pots_radiant_m2 / seen_m2;
    let mut put = |sun: &[f64], at_end: bool| {
        let kept: f64 = SUN_KEPT * sun.iter().zip(&house.windows_m2).map(|(w, m2)| w * m2).sum::<f64>();
        if kept <= 0.0 {
            return 0.0;
        }
        let sources: &mut Sources<L> = if at_end { &mut links.end } else { &mut links.start };
        let on_leaves = house.canopy * (1.0 - SUN_TO_AIR) * kept;
        let to_air = SUN_TO_AIR * kept + (1.0 - LEAVES_TRANSPIRE) * on_leaves;
        let solid = (1.0 - SUN_TO_AIR) * kept - on_leaves;
        for l in 0..L {
            let share = house.floor_share[l];
            sources.air_w[l] += to_air * share;
            sources.body_w[POTS][l] += solid * pots_part * house.pots_share[l];
            sources.body_w[SURFACE][l] += solid * (1.0 - pots_part) * share;
        }
        LEAVES_TRANSPIRE * on_leaves
    };
    let vapour_w = put(ends.sun_start, false);
    put(ends.sun_end, true);
    vapour_w
}

/// Air changes per hour through an open vent: thirty fully open (common practice, no source), and less the colder it is
/// outdoors, so that no more heat goes than warms the house beyond what is wanted. A vent that flew wide open on a sunny
/// frosty day would chill the zones in the shade below their limits, which no opener and no grower does.
///
/// * `outside_c` — outdoor temperature in °C
fn vented_air_changes_per_h(outside_c: f64) -> f64 {
    const FULLY_OPEN_PER_H: f64 = 30.0;
    /// Temperature in °C of the house that wants air, and the difference in kelvin up to which the vent opens fully.
    const HOUSE_C: f64 = 20.0;
    const FULLY_OPEN_K: f64 = 5.0;
    FULLY_OPEN_PER_H * FULLY_OPEN_K / (HOUSE_C - outside_c).max(FULLY_OPEN_K)
}
