//! An envelope scaled to what was measured.

use crate::air;
use crate::shelter::build::Beyond;
use crate::shelter::{Envelope, EnvelopeElement, FILMS_M2_K_PER_W};

/// Least resistance in m² K/W of a sheet without its films.
const THINNEST_M2_K_PER_W: f64 = 0.003;
/// Heat capacity of a cubic metre of air, Wh/(m³ K).
const AIR_WH_PER_M3_K: f64 = 0.34;

/// An envelope with another loss and another share of sun.
///
/// * `envelope` — as the handbook has it
/// * `loss` — factor on all that is lost to outdoors and to rooms without heat, surface films and leakage included
/// * `sun` — factor on the sun let in
///
/// A sheet cannot conduct better than its films allow; what a factor asks beyond that is added to the leakage, as gaps
/// do.
pub fn scaled_envelope(envelope: &Envelope, loss: f64, sun: f64) -> Envelope {
    let mut missing_w_per_k = 0.0;
    let mut scale = |element: &EnvelopeElement| {
        let mut element = *element;
        if matches!(element.beyond, Beyond::Outdoors | Beyond::Unheated) {
            let wanted = loss / (element.resistance_m2_k_per_w + FILMS_M2_K_PER_W);
            let resistance = (1.0 / wanted - FILMS_M2_K_PER_W).max(THINNEST_M2_K_PER_W);
            let got = 1.0 / (resistance + FILMS_M2_K_PER_W);
            missing_w_per_k += (wanted - got).max(0.0) * element.area_m2;
            element.resistance_m2_k_per_w = resistance;
            element.u_w_per_m2_k *= loss;
            element.long_wave_transmittance = (element.long_wave_transmittance * loss).min(1.0);
            element.solar_transmittance = (element.solar_transmittance * sun).min(0.95);
        }
        element
    };
    let elements = envelope.elements.iter().map(&mut scale).collect();
    let gaps_per_h = missing_w_per_k / (AIR_WH_PER_M3_K * envelope.volume_m3.max(0.01));
    let air_changes_per_h = envelope.air_changes_per_h * loss + gaps_per_h;
    Envelope {
        elements,
        air_changes_per_h,
        leakage_cm2: air::leakage_area_cm2(air_changes_per_h, envelope.volume_m3),
        ..envelope.clone()
    }
}
