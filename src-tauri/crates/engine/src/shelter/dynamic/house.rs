//! A shelter as a thermal network: what its envelope, floor and contents are to [`super::kernel`].
//!
//! Light sheets have no store of their own worth counting (6 mm of polycarbonate: 1.6 kJ/(m² K)); each is an inner and
//! an outer surface in balance, eliminated from the network every hour. Heavy walls are bodies.
//!
//! | flow | form | source |
//! |---|---|---|
//! | still air at a surface inside | 1.31 ΔT^⅓ upright, 1.52 ΔT^⅓ heat upwards, 0.76 ΔT^⅓ heat downwards, W/(m² K) | Walton, NBSIR 83-2655 |
//! | air stirred by a fan | at least 6 W/(m² K) | estimate |
//! | wind outside | 4 + 4 v W/(m² K), v the local wind | ISO 6946 annex C |
//! | local wind | 0.7, 0.6, 0.45, 0.3, 0.2 of the station's by class of shelter | estimate |
//! | sky on a tilted surface | sky share `F √F` with F the view over the skyline, the rest at air temperature | Walton, as in EnergyPlus |
//! | floor and pots to skin | grey bodies, view by area | |
//! | leakage | Sherman and Grimsrud | [`crate::air::leakage_m3_per_s`] |
//! | vapour | Lewis: `h/c (w − ws)` at every surface; a wet film is opaque to long wave | |

use super::super::build::Beyond;
use super::super::{Enthalpy, Envelope, EnvelopeElement, GroundWave, Medium};
use super::kernel::{BODIES, FIRST_SIDE, LAYERS, Lanes, POTS, SURFACE};
use crate::air::WindShelter;

/// Thickness of the floor's layers in m.
pub(super) const LAYER_M: [f64; LAYERS] = [0.03, 0.06, 0.11, 0.18, 0.27, 0.40];
/// Depth of the earth below the lowest layer's middle whose temperature is taken as undisturbed, in m.
const DEEP_BELOW_M: f64 = 0.5;
/// Heat capacity in J/(m² K) from which a wall is a body of its own.
const HEAVY_J_PER_M2_K: f64 = 15_000.0;
/// Surface resistances of heavy walls in m² K/W (ISO 6946).
const INNER_FILM: f64 = 0.13;
const OUTER_FILM: f64 = 0.04;
/// Emissivity of soil, pots and leaves.
const INTERIOR_EMISSIVITY: f64 = 0.95;
/// Speed in m/s at which the airs of neighbouring zones trade places through the cut between them, still and stirred
/// (estimate).
const MIXING_M_PER_S: [f64; 2] = [0.05, 0.25];

/// What stands in a zone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneLoad {
    /// Its share of the floor; the shares of all zones sum to 1.
    pub floor_share: f64,
    /// Its share of skin against its share of the floor: 1 usual, above 1 for a corner.
    pub exposure: f64,
    /// Litres of potting mix.
    pub pots_l: f64,
    /// Litres of a typical pot.
    pub typical_pot_l: f64,
    /// Litres of water in open barrels or closed cans.
    pub water_l: f64,
}

impl ZoneLoad {
    /// A zone without a store of its own that is the whole house.
    pub const EMPTY: Self =
        Self { floor_share: 1.0, exposure: 1.0, pots_l: 0.0, typical_pot_l: 10.0, water_l: 0.0 };
}

/// A light sheet of the envelope.
#[derive(Debug, Clone, Copy)]
pub(super) struct Skin {
    pub(super) element: usize,
    pub(super) area_m2: f64,
    pub(super) tilt_deg: f64,
    /// Share of the outer long-wave exchange that is with the sky.
    pub(super) sky_share: f64,
    pub(super) conductance_w_per_k: f64,
    pub(super) inner_emissivity: f64,
    pub(super) outer_emissivity: f64,
    pub(super) long_wave_transmittance: f64,
    pub(super) absorptance: f64,
    pub(super) beyond: Beyond,
}

/// Heavy walls with one kind of neighbour, lumped.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Heavy {
    pub(super) inner_w_per_k: f64,
    pub(super) outer_w_per_k: f64,
    pub(super) heat_capacity_j_per_k: f64,
    /// `Σ G Tb` over neighbours of fixed temperature, W.
    pub(super) fixed_w: f64,
    /// Conductance to outdoor air.
    pub(super) to_outdoors_w_per_k: f64,
    /// Conductance to earth.
    pub(super) to_earth_w_per_k: f64,
    /// `Σ G α / h` per element for the sun, W per W/m².
    pub(super) sun: SunPairs,
}

/// Up to eight (element, factor) pairs.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct SunPairs {
    pub(super) pairs: [(usize, f64); 8],
    pub(super) count: usize,
}

/// A shelter compiled for a number of zones.
#[derive(Debug, Clone)]
pub(super) struct House<const L: usize> {
    pub(super) skins: Vec<Skin>,
    /// Sun let in per W/m² on every element, m².
    pub(super) windows_m2: Vec<f64>,
    pub(super) heavy: Heavy,
    pub(super) volume_m3: f64,
    pub(super) pots_m2: f64,
    pub(super) leakage_cm2: f64,
    pub(super) wind_shelter: WindShelter,
    pub(super) floor_share: Lanes<L>,
    pub(super) skin_share: Lanes<L>,
    pub(super) pots_share: Lanes<L>,
    pub(super) floor_visible_m2: f64,
    /// Share of the floor under leaves.
    pub(super) canopy: f64,
    pub(super) pots_radiant_m2: f64,
    /// Share of the pots' surface resistance that is in the mix itself, as a factor on their surface coefficients.
    pub(super) pot_inner_m2_k_per_w: f64,
    pub(super) pots_floor_w_per_k: Lanes<L>,
    pub(super) water_w_per_k: Lanes<L>,
    pub(super) chain: [Lanes<L>; LAYERS - 1],
    pub(super) lateral_w_per_k: [f64; LAYERS],
    pub(super) deep_w_per_k: f64,
    pub(super) layer_depth_m: [f64; LAYERS],
    pub(super) deep_m: f64,
    pub(super) mixing_m2: f64,
    pub(super) sides: usize,
    pub(super) curves: [[Enthalpy; L]; BODIES],
    pub(super) ground: GroundWave,
}

impl<const L: usize> House<L> {
    /// Compiles an envelope with its floor and contents.
    pub(super) fn new(
        envelope: &Envelope,
        zones: &[ZoneLoad],
        floor: Medium,
        ground: GroundWave,
        canopy: f64,
    ) -> Self {
        let lane = |f: &dyn Fn(&ZoneLoad) -> f64| -> Lanes<L> {
            std::array::from_fn(|l| zones.get(l).map_or(0.0, f))
        };
        let floor_share = lane(&|z| z.floor_share);
        let exposed: f64 = zones.iter().map(|z| z.floor_share * z.exposure).sum();
        let skin_share = lane(&|z| z.floor_share * z.exposure / exposed);
        let pots_m3: f64 = zones.iter().map(|z| z.pots_l / 1000.0).sum();
        let pots_share = lane(&|z| if pots_m3 > 0.0 { z.pots_l / 1000.0 / pots_m3 } else { 0.0 });
        let mix = Medium::POTTING_MIX;

        // Pots as upright cylinders as high as wide, standing on their bottoms.
        let mut pots_m2 = 0.0;
        let mut footprint_m2 = 0.0;
        let mut inner = 0.0;
        let mut pots_floor = [0.0; L];
        for (l, zone) in zones.iter().enumerate().take(L).filter(|(_, z)| z.pots_l > 0.0) {
            let width_m = (4.0 * zone.typical_pot_l / 1000.0 / std::f64::consts::PI).cbrt();
            let count = zone.pots_l / zone.typical_pot_l;
            let foot = std::f64::consts::FRAC_PI_4 * width_m * width_m * count;
            footprint_m2 += foot;
            pots_m2 += 5.0 * foot;
            inner += 5.0 * foot * width_m / (8.0 * mix.conductivity_w_per_m_k);
            pots_floor[l] = foot / (0.1 + width_m / 4.0 / mix.conductivity_w_per_m_k);
        }
        let floor_visible_m2 = (envelope.floor_m2 - footprint_m2).max(0.3 * envelope.floor_m2);

        let mut house = Self {
            skins: Vec::new(),
            windows_m2: envelope.elements.iter().map(|e| e.solar_transmittance * e.area_m2).collect(),
            heavy: Heavy::default(),
            volume_m3: envelope.volume_m3,
            pots_m2,
            leakage_cm2: envelope.leakage_cm2,
            wind_shelter: envelope.wind_shelter,
            floor_share,
            skin_share,
            pots_share,
            floor_visible_m2,
            canopy,
            // Half of the pots' surface looks at the skin, the rest at other pots.
            pots_radiant_m2: 0.5 * pots_m2,
            pot_inner_m2_k_per_w: if pots_m2 > 0.0 { inner / pots_m2 } else { 0.0 },
            pots_floor_w_per_k: pots_floor,
            water_w_per_k: [0.0; L],
            chain: [[0.0; L]; LAYERS - 1],
            lateral_w_per_k: [0.0; LAYERS],
            deep_w_per_k: 0.0,
            layer_depth_m: [0.0; LAYERS],
            deep_m: 0.0,
            mixing_m2: envelope.cross_section_m2,
            sides: 0,
            curves: [[Enthalpy::sensible(1.0); L]; BODIES],
            ground,
        };
        for (index, element) in envelope.elements.iter().enumerate() {
            house.add_element(index, element, floor);
        }
        house.lay_floor(envelope, floor);
        for (l, zone) in zones.iter().enumerate().take(L) {
            if zone.pots_l > 0.0 {
                house.curves[POTS][l] = mix.enthalpy().scaled(zone.pots_l / 1000.0);
            }
            house.add_water(l, zone);
        }
        if house.heavy.heat_capacity_j_per_k > 0.0 {
            let side = FIRST_SIDE + house.sides;
            for l in 0..L.min(zones.len()) {
                let share = house.skin_share[l];
                house.curves[side][l] = Enthalpy::sensible(house.heavy.heat_capacity_j_per_k * share);
            }
            house.sides += 1;
        }
        house
    }

    /// Floor that looks at the skin, without pots and leaves on it, in m².
    pub(super) fn floor_bare_m2(&self) -> f64 {
        self.floor_visible_m2 * (1.0 - self.canopy)
    }

    /// Leaves that look at the skin, in m² of floor.
    pub(super) fn canopy_m2(&self) -> f64 {
        self.floor_visible_m2 * self.canopy
    }

    /// Index among the sides of the heavy walls, when there are any.
    pub(super) fn heavy_side(&self) -> Option<usize> {
        (self.heavy.heat_capacity_j_per_k > 0.0).then(|| self.sides - 1)
    }

    /// Water in barrels of the usual height-to-width, stirred by its own convection: 8 W/(m² K) all round, 6 m² per m³.
    fn add_water(&mut self, l: usize, zone: &ZoneLoad) {
        if zone.water_l > 0.0 {
            self.sides = 1;
            self.curves[FIRST_SIDE][l] = Medium::WATER.enthalpy().scaled(zone.water_l / 1000.0);
            self.water_w_per_k[l] = 8.0 * 6.0 * zone.water_l / 1000.0;
        }
    }

    fn add_element(&mut self, index: usize, element: &EnvelopeElement, earth: Medium) {
        if element.heat_capacity_j_per_m2_k >= HEAVY_J_PER_M2_K {
            self.add_heavy(index, element, earth);
            return;
        }
        let view = sky_view(element.facing.tilt_deg, self.wind_shelter);
        self.skins.push(Skin {
            element: index,
            area_m2: element.area_m2,
            tilt_deg: element.facing.tilt_deg,
            sky_share: view * view.sqrt(),
            conductance_w_per_k: element.area_m2 / element.resistance_m2_k_per_w,
            inner_emissivity: element.inner_emissivity,
            outer_emissivity: element.outer_emissivity,
            long_wave_transmittance: element.long_wave_transmittance,
            absorptance: element.solar_absorptance,
            beyond: element.beyond,
        });
    }

    fn add_heavy(&mut self, index: usize, element: &EnvelopeElement, earth: Medium) {
        let half = element.resistance_m2_k_per_w / 2.0;
        let area = element.area_m2;
        let heavy = &mut self.heavy;
        heavy.inner_w_per_k += area / (INNER_FILM + half);
        heavy.heat_capacity_j_per_k += area * element.heat_capacity_j_per_m2_k;
        let outer = match element.beyond {
            Beyond::Outdoors | Beyond::Unheated => {
                let outer = area / (half + OUTER_FILM);
                heavy.to_outdoors_w_per_k += outer;
                if element.beyond == Beyond::Outdoors && heavy.sun.count < heavy.sun.pairs.len() {
                    heavy.sun.pairs[heavy.sun.count] =
                        (index, outer * element.solar_absorptance * OUTER_FILM);
                    heavy.sun.count += 1;
                }
                outer
            }
            Beyond::Heated { temp_c } => {
                let outer = area / (half + INNER_FILM);
                heavy.fixed_w += outer * temp_c;
                outer
            }
            Beyond::Earth => {
                let outer = area / (half + 0.5 / earth.conductivity_w_per_m_k);
                heavy.to_earth_w_per_k += outer;
                outer
            }
        };
        heavy.outer_w_per_k += outer;
    }

    fn lay_floor(&mut self, envelope: &Envelope, floor: Medium) {
        let k = floor.conductivity_w_per_m_k;
        let area = envelope.floor_m2;
        let mut top = 0.0;
        for (i, thick) in LAYER_M.iter().enumerate() {
            self.layer_depth_m[i] = top + thick / 2.0;
            top += thick;
            for l in 0..L {
                if self.floor_share[l] > 0.0 {
                    let volume = thick * area * self.floor_share[l];
                    self.curves[SURFACE + i][l] = floor.enthalpy().scaled(volume);
                }
            }
            // Heat that goes sideways to the ground outdoors: from the middle of the floor (area over edge) past the edge.
            if envelope.outer_edge_m > 0.0 {
                let path_m = area / envelope.outer_edge_m + 0.3;
                let insulated = if envelope.edge_insulated && top < 0.5 { 1.5 * k } else { 0.0 };
                self.lateral_w_per_k[i] = k * envelope.outer_edge_m * thick / (path_m + insulated);
            }
        }
        for i in 0..LAYERS - 1 {
            let between = (LAYER_M[i] + LAYER_M[i + 1]) / 2.0;
            self.chain[i] = std::array::from_fn(|l| k * area * self.floor_share[l] / between);
        }
        self.deep_m = self.layer_depth_m[LAYERS - 1] + DEEP_BELOW_M;
        self.deep_w_per_k = k * area / DEEP_BELOW_M;
    }

    /// Conductance in W/K that mixes each zone's air with the house's.
    pub(super) fn mixing_w_per_k(&self, stirred: bool, j_per_m3_k: f64, zones: usize) -> f64 {
        if zones < 2 { 0.0 } else { j_per_m3_k * MIXING_M_PER_S[usize::from(stirred)] * self.mixing_m2 }
    }
}

/// Effective emissivity between the inside of a skin and what it looks at.
pub(super) fn exchange_emissivity(skin: f64) -> f64 {
    if skin <= 0.0 { 0.0 } else { 1.0 / (1.0 / skin + 1.0 / INTERIOR_EMISSIVITY - 1.0) }
}

/// Coefficient of still air at a surface in W/(m² K) (Walton 1983).
///
/// * `tilt_deg` — tilt of the surface's outer side; below 60° it is a roof seen from inside
/// * `air_minus_surface_k` — sign tells whether heat flows up into a roof
pub(super) fn still_air_w_per_m2_k(tilt_deg: f64, air_minus_surface_k: f64) -> f64 {
    let root = air_minus_surface_k.abs().max(0.05).cbrt();
    if tilt_deg > 60.0 {
        1.31 * root
    } else if air_minus_surface_k > 0.0 {
        1.52 * root
    } else {
        0.76 * root
    }
}

/// Share of the sky that a tilted surface sees over a skyline of even height.
///
/// Level `cos² h`, upright `(1 − sin h) / 2`, between them by the cosine of the tilt; the skyline's height h goes with
/// what keeps the wind off: 0, 5, 15, 25 and 40° (estimate).
fn sky_view(tilt_deg: f64, shelter: WindShelter) -> f64 {
    let skyline_deg: f64 = match shelter {
        WindShelter::Open => 0.0,
        WindShelter::Rural => 5.0,
        WindShelter::Suburban => 15.0,
        WindShelter::Sheltered => 25.0,
        WindShelter::Enclosed => 40.0,
    };
    let sin = skyline_deg.to_radians().sin();
    let (level, upright) = (1.0 - sin * sin, (1.0 - sin) / 2.0);
    let cos_tilt = tilt_deg.to_radians().cos();
    upright + (level - upright) * cos_tilt
}

/// Share of the station's wind that reaches a low shelter (estimate).
pub(super) fn local_wind_share(shelter: WindShelter) -> f64 {
    match shelter {
        WindShelter::Open => 0.7,
        WindShelter::Rural => 0.6,
        WindShelter::Suburban => 0.45,
        WindShelter::Sheltered => 0.3,
        WindShelter::Enclosed => 0.2,
    }
}
