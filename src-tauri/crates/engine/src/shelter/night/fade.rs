//! The hold of a shelter over a cold spell.

use chrono::Duration;

use super::weather::night_start;
use super::{NightError, NightHold, NightOutlook, night_weather};
use crate::climate::DailyTemps;
use crate::field::within;
use crate::shelter::dynamic::{Forcing, RunError, Scenario, pots_frozen_share, simulate};
use crate::sun::Place;

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
    within("nights", nights as f64, 1.0, 30.0, "enter how many nights the spell lasts")?;
    let series = night_weather(place, recent, outlook, nights)?;
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
    let from = night_start(place, outlook.night_of, &series);
    let cold = Scenario { heating: None, ..scenario.clone() };
    let mut holds: Vec<NightHold> = (0..nights)
        .map(|night| NightHold {
            night_of: outlook.night_of + Duration::days(night as i64),
            outside_low_c: f64::INFINITY,
            zone_low_c: f64::INFINITY,
            hold_k: 0.0,
            pots_frozen: 0.0,
        })
        .collect();
    simulate(&cold, &forcing, &[], |m| {
        let Some(night) = m.hour.checked_sub(from).map(|h| h / 24) else { return };
        let Some(hold) = holds.get_mut(night) else { return };
        let coldest = m.zone_c.iter().zip(offset_k).map(|(c, k)| c + k).fold(f64::INFINITY, f64::min);
        hold.outside_low_c = hold.outside_low_c.min(m.outside_c);
        hold.zone_low_c = hold.zone_low_c.min(coldest);
        let pots = cold.zones.iter().zip(m.pots_c).filter(|(zone, _)| zone.pots_l > 0.0);
        let coldest_pots_c = pots.map(|(_, c)| *c).fold(f64::INFINITY, f64::min);
        hold.pots_frozen = hold.pots_frozen.max(pots_frozen_share(coldest_pots_c));
    })?;
    for hold in &mut holds {
        hold.hold_k = hold.zone_low_c - hold.outside_low_c;
    }
    Ok(holds)
}
