//! One run of a planting through the days: the middle one, or one at an end of the doubt.

use chrono::NaiveDate;

use super::acclimation::{Acclimation, Hardiness, Rates};
use super::bud_hardiness::{BudHardiness, Cultivar};
use super::zone_days::DayFigures;
use super::{Sign, SignSeen, Start};
use crate::plant::Plant;
use crate::plant::chill::Chill;

/// Which end of the doubt a run stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lean {
    /// Hardens late, softens fast, wakes early.
    Tender,
    /// As expected.
    Middle,
    /// Hardens fast, softens late, wakes late.
    Hardy,
}

impl Lean {
    pub(super) const ALL: [Self; 3] = [Self::Tender, Self::Middle, Self::Hardy];

    /// Place among [`Self::ALL`].
    fn index(self) -> usize {
        self as usize
    }

    /// Of a range from a tender to a hardy figure, the one this run takes.
    fn of(self, tender: f64, hardy: f64) -> f64 {
        match self {
            Self::Tender => tender,
            Self::Middle => (tender + hardy) / 2.0,
            Self::Hardy => hardy,
        }
    }

    /// Whether something holds that holds for each of several candidates or not.
    fn agree(self, holds: impl ExactSizeIterator<Item = bool>) -> bool {
        let all = holds.len();
        let count = holds.filter(|holds| *holds).count();
        match self {
            Self::Tender => count > 0,
            Self::Middle => 2 * count > all,
            Self::Hardy => count == all,
        }
    }
}

/// Mean of the root ball in °C below which roots harden: woody stock needs 6 to 8 weeks below 4.4 °C (Rutgers
/// Cooperative Extension FS528).
const ROOTS_HARDEN_BELOW_C: f64 = 4.4;
/// Days of that, late and early, from the same source.
const ROOTS_HARDEN_DAYS: (f64, f64) = (56.0, 42.0);
/// Mean of the root ball in °C above which roots soften: value from memory.
const ROOTS_SOFTEN_ABOVE_C: f64 = 10.0;
/// Days of that: apple roots follow the soil temperature of the last week (Pellett, Journal of the American Society for
/// Horticultural Science, abstract); late figure from memory.
const ROOTS_SOFTEN_DAYS: (f64, f64) = (7.0, 14.0);
/// Share of hardiness below which a plant counts as growing, and from which as at rest: values from memory.
pub(super) const GROWING_BELOW: f64 = 0.1;
pub(super) const AT_REST_FROM: f64 = 0.8;
/// Hardiness that a plant without chill need must have reached before heat counts towards new shoots: from memory.
const RESTED_FROM: f64 = 0.4;

/// Base of the kelvin-days of deep rest, °C (Ferguson et al. 2014).
const DEEP_REST_BASE_C: f64 = 10.0;
/// Days of rest with the chill need met after which deep rest is over, early and late: values from memory.
const LONGEST_DEEP_REST_DAYS: (f64, f64) = (60.0, 120.0);

/// How shoots are computed.
enum Shoots<'a> {
    Buds(Vec<BudHardiness<'a>>),
    Form { hardiness: Hardiness, rates: Rates, form: &'a Acclimation },
}

/// A run in progress.
pub(super) struct Run<'a> {
    lean: Lean,
    shoots: Shoots<'a>,
    chill_need_h: Option<f64>,
    start: Start,
    /// Chill of the zone when the planting began to harden.
    chill_before: Option<Chill>,
    /// Kelvin-days below [`DEEP_REST_BASE_C`] and days since then.
    cold_k_days: f64,
    rest_days: f64,
    day: RunDay,
}

/// What a run says of a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct RunDay {
    /// Share of shoot hardiness, 0 soft to 1 fully hardened.
    pub(super) share: f64,
    /// Temperature in °C that kills half of the buds, for cultivars with figures.
    pub(super) half_killed_c: Option<f64>,
    /// Share of root hardiness.
    pub(super) roots: f64,
    /// Chill since hardening began.
    pub(super) chill: Chill,
    /// Whether only cold holds the planting at rest.
    pub(super) rested: bool,
    /// Heat since then, in growing degree hours.
    pub(super) heat_gdh: f64,
    /// Day on which buds began to swell.
    pub(super) swell_on: Option<NaiveDate>,
    /// Day on which buds opened.
    pub(super) leaf_on: Option<NaiveDate>,
}

impl<'a> Run<'a> {
    pub(super) fn new(
        lean: Lean,
        plant: &Plant,
        form: &'a Acclimation,
        cultivars: &[&'a Cultivar],
        start: Start,
    ) -> Self {
        // In doubt about what was before the record, each run begins at its own end.
        let share = if start == Start::Growing { 0.0 } else { lean.of(0.0, 1.0) };
        let shoots = if cultivars.is_empty() {
            let (gain, loss) = match lean {
                Lean::Tender => (1.0 / form.doubt, form.doubt),
                Lean::Middle => (1.0, 1.0),
                Lean::Hardy => (form.doubt, 1.0 / form.doubt),
            };
            let rates = Rates::of(form, plant, gain, loss);
            Shoots::Form { hardiness: Hardiness::new(share), rates, form }
        } else {
            let bud = |cultivar: &&'a Cultivar| match start {
                Start::Growing => BudHardiness::new(cultivar),
                Start::Unknown => {
                    let hardiness_c = lean.of(cultivar.starts_at_c, cultivar.hardiest_c);
                    BudHardiness::starting_at(cultivar, hardiness_c, lean == Lean::Tender)
                }
            };
            Shoots::Buds(cultivars.iter().map(bud).collect())
        };
        Self {
            lean,
            shoots,
            chill_need_h: plant.chill_hours.map(|(low, high)| lean.of(low, high)).filter(|need| *need > 0.0),
            start,
            chill_before: (start == Start::Unknown).then(Chill::default),
            cold_k_days: 0.0,
            rest_days: 0.0,
            day: RunDay {
                share,
                half_killed_c: None,
                roots: share,
                chill: Chill::default(),
                rested: false,
                heat_gdh: 0.0,
                swell_on: None,
                leaf_on: None,
            },
        }
    }

    /// Adds a day.
    ///
    /// * `figures` — the day in the zone
    /// * `heat_gdh` — its heat for each run of [`Lean::ALL`]
    /// * `signs` — what the grower saw in this winter
    pub(super) fn add(&mut self, figures: &DayFigures, heat_gdh: &[f64; 3], signs: &[SignSeen]) -> RunDay {
        let shift_k = self.lean.of(figures.doubt_k, -figures.doubt_k);
        let mean_c = figures.mean_c + shift_k;
        self.count_cold(figures, mean_c);
        let (swollen, opened) = self.advance(mean_c, heat_gdh[self.lean.index()]);

        let seen = |sign| signs.iter().any(|s| s.sign == sign && s.on <= figures.date);
        let seen_at_rest_later = signs.iter().any(|s| s.sign == Sign::AtRest && s.on >= figures.date);
        if seen_at_rest_later {
            self.hold_heat_at_rest();
        }
        let leaf = seen(Sign::InLeaf) || (opened && !seen_at_rest_later);
        let swell = leaf || seen(Sign::Swelling) || (swollen && !seen_at_rest_later);
        if swell {
            self.day.swell_on.get_or_insert(figures.date);
        }
        if leaf {
            self.day.leaf_on.get_or_insert(figures.date);
        }
        self.advance_roots(figures.root_mean_c + shift_k);
        self.day
    }

    fn count_cold(&mut self, figures: &DayFigures, mean_c: f64) {
        if self.chill_before.is_none() && self.day.share >= GROWING_BELOW {
            self.chill_before = Some(figures.chill);
        }
        if let Some(before) = self.chill_before {
            self.day.chill = figures.chill.since(before);
            self.cold_k_days += (DEEP_REST_BASE_C - mean_c).max(0.0);
            self.rest_days += 1.0;
        }
    }

    /// Advances the shoots; says whether buds have swollen and opened by the computation.
    fn advance(&mut self, mean_c: f64, heat_gdh: f64) -> (bool, bool) {
        let lean = self.lean;
        match &mut self.shoots {
            Shoots::Buds(buds) => {
                buds.iter_mut().for_each(|bud| bud.add(mean_c));
                let mut killed_c: Vec<f64> = buds.iter().map(BudHardiness::hardiness_c).collect();
                killed_c.sort_by(f64::total_cmp);
                let last = killed_c.len() - 1;
                self.day.half_killed_c = Some(match lean {
                    Lean::Tender => killed_c[last],
                    Lean::Middle => killed_c[last / 2],
                    Lean::Hardy => killed_c[0],
                });
                let shares = buds.iter().map(BudHardiness::share);
                self.day.share = shares.sum::<f64>() / buds.len() as f64;
                self.day.rested |= lean.agree(buds.iter().map(BudHardiness::rests_lightly));
                (
                    lean.agree(buds.iter().map(BudHardiness::has_swollen)),
                    lean.agree(buds.iter().map(BudHardiness::has_opened)),
                )
            }
            Shoots::Form { hardiness, rates, form } => {
                hardiness.add(rates, mean_c, self.day.rested);
                self.day.share = hardiness.share();
                self.day.rested |= match self.chill_need_h {
                    None => self.day.share >= RESTED_FROM,
                    Some(_) if self.start == Start::Unknown && lean == Lean::Tender => true,
                    Some(need_h) => {
                        let (least_h, most_h) = self.day.chill.equivalent_hours();
                        let deep_rest_over = form.deep_rest_k_days.is_none_or(|(early, late)| {
                            self.cold_k_days >= lean.of(early, late)
                                || self.rest_days
                                    >= lean.of(LONGEST_DEEP_REST_DAYS.0, LONGEST_DEEP_REST_DAYS.1)
                        });
                        lean.of(most_h, least_h) >= need_h && deep_rest_over
                    }
                };
                if self.day.rested {
                    self.day.heat_gdh += heat_gdh;
                }
                let need_gdh = lean.of(form.heat_gdh.0, form.heat_gdh.1);
                (self.day.heat_gdh >= need_gdh * form.swell_share, self.day.heat_gdh >= need_gdh)
            }
        }
    }

    /// Buds seen at rest have had less heat than it takes to swell, whatever was computed.
    fn hold_heat_at_rest(&mut self) {
        if let Shoots::Form { form, .. } = &self.shoots {
            let need_gdh = self.lean.of(form.heat_gdh.0, form.heat_gdh.1) * form.swell_share;
            self.day.heat_gdh = self.day.heat_gdh.min(0.99 * need_gdh);
        }
    }

    fn advance_roots(&mut self, mean_c: f64) {
        let step = if mean_c < ROOTS_HARDEN_BELOW_C {
            1.0 / self.lean.of(ROOTS_HARDEN_DAYS.0, ROOTS_HARDEN_DAYS.1)
        } else if mean_c > ROOTS_SOFTEN_ABOVE_C {
            -1.0 / self.lean.of(ROOTS_SOFTEN_DAYS.0, ROOTS_SOFTEN_DAYS.1)
        } else {
            0.0
        };
        self.day.roots = (self.day.roots + step).clamp(0.0, 1.0);
    }
}
