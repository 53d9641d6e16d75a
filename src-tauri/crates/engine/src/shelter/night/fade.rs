//! The hold of a shelter over a cold spell.

use super::weather::{night_start, repeated};
use super::{NightError, NightHold, NightOutlook, spell_weather};
use crate::climate::DailyTemps;
use crate::field::within;
use crate::shelter::dynamic::{Forcing, RunError, Scenario, pots_frozen_share, simulate};
use crate::sun::Place;

/// Most nights that are run in a row.
const MOST_NIGHTS: f64 = 30.0;

/// How the hold fades when a night repeats itself.
///
/// * `place`, `scenario`, `recent`, `outlook` — as for [`super::night_call`]; the heater is left off
/// * `offset_k` — of every zone
/// * `nights` — how many nights like it, 1 to 30
///
/// # Errors
/// [`NightError`] when outlook, days or shelter cannot be used.
pub fn hold_fade(
    place: Place,
    scenario: &Scenario,
    recent: &[DailyTemps],
    outlook: &NightOutlook,
    offset_k: &[f64],
    nights: usize,
) -> Result<Vec<NightHold>, NightError> {
    within("nights", nights as f64, 1.0, MOST_NIGHTS, "enter how many nights the spell lasts")?;
    hold_ahead(place, scenario, recent, &repeated(outlook, nights), offset_k)
}

/// The hold over a row of nights that differ.
///
/// * `place`, `scenario`, `recent` — as for [`super::night_call`]; the heater is left off
/// * `nights` — the nights in order, one for every date, 1 to 30
/// * `offset_k` — of every zone
///
/// A night reaches from noon to noon by the sun. Its hold is the low of the coldest zone less the outdoor low.
///
/// # Errors
/// [`NightError`] when nights, days or shelter cannot be used.
pub fn hold_ahead(
    place: Place,
    scenario: &Scenario,
    recent: &[DailyTemps],
    nights: &[NightOutlook],
    offset_k: &[f64],
) -> Result<Vec<NightHold>, NightError> {
    within("nights", nights.len() as f64, 1.0, MOST_NIGHTS, "enter how many nights the spell lasts")?;
    let series = spell_weather(place, recent, nights)?;
    let facings: Vec<_> = scenario
        .phases
        .first()
        .ok_or(RunError::Envelope)?
        .envelope
        .elements
        .iter()
        .map(|e| e.facing)
        .collect();
    let forcing = Forcing::new(place, &series, &facings);
    let from = night_start(place, nights[0].night_of, &series);
    let cold = Scenario { heating: None, ..scenario.clone() };
    let mut holds: Vec<NightHold> = nights
        .iter()
        .map(|night| NightHold {
            night_of: night.night_of,
            outside_low_c: f64::INFINITY,
            zone_low_c: f64::INFINITY,
            coldest_zone: 0,
            hold_k: 0.0,
            pots_frozen: 0.0,
        })
        .collect();
    simulate(&cold, &forcing, &[], |m| {
        let Some(night) = m.hour.checked_sub(from).map(|h| h / 24) else { return };
        let Some(hold) = holds.get_mut(night) else { return };
        hold.outside_low_c = hold.outside_low_c.min(m.outside_c);
        for (zone, (c, k)) in (0..).zip(m.zone_c.iter().zip(offset_k)) {
            if c + k < hold.zone_low_c {
                (hold.zone_low_c, hold.coldest_zone) = (c + k, zone);
            }
        }
        let pots = cold.zones.iter().zip(m.pots_c).filter(|(zone, _)| zone.pots_l > 0.0);
        let coldest_pots_c = pots.map(|(_, c)| *c).fold(f64::INFINITY, f64::min);
        hold.pots_frozen = hold.pots_frozen.max(pots_frozen_share(coldest_pots_c));
    })?;
    for hold in &mut holds {
        hold.hold_k = hold.zone_low_c - hold.outside_low_c;
    }
    Ok(holds)
}
