//! The set-ups that are compared where nobody names any.

use hibernacle_contract::winter::{SetUp, SetUpHeater};
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_engine::shelter::fuel::Fuel;
use hibernacle_engine::shelter::tonight::SetPoint;
use hibernacle_engine::shelter::{CoverOn, Materials, ShelterKind};

use crate::house::House;

/// Kelvin by which the warmer setting of the comparison is above the usual one.
const WARMER_K: f64 = 3.0;
/// Kelvin above the usual setting from which the grower's own is worth a set-up.
const WORTH_TRYING_K: f64 = 0.5;
/// The heater that an electric one is compared with, and the one that a flame is.
const OTHER_THAN_ELECTRIC: &str = "propane-vented";
const OTHER_THAN_FLAME: &str = "fan-electric";

/// Covers that growers put on a kind, as rows of layers from inside out, the usual one last but one.
fn layers(kind: ShelterKind) -> &'static [&'static [&'static str]] {
    match kind {
        ShelterKind::Greenhouse | ShelterKind::Porch => {
            &[&["tarp-dark"], &["bubble-film"], &["bubble-film", "tarp-dark"]]
        }
        ShelterKind::ColdFrame => &[&["straw-mat"], &["foam-board"], &["foam-board", "straw-mat"]],
        ShelterKind::WrappedBed => &[&["fleece"], &["straw-mat"], &["fleece", "straw-mat"]],
        ShelterKind::Garage | ShelterKind::Cellar | ShelterKind::Room => &[],
    }
}

/// What the usual set-ups of a house are made from.
pub(super) struct Usual<'a> {
    pub(super) house: &'a House<'a>,
    pub(super) materials: &'a Materials,
    pub(super) wording: &'a Wording,
}

impl Usual<'_> {
    /// Bare, each usual cover, several at once, what is recorded; then other settings and another fuel under the
    /// usual cover.
    pub(super) fn set_ups(&self) -> Vec<SetUp> {
        let mut set_ups = vec![self.set_up(self.wording.text("set-up-bare"), Vec::new())];
        for keys in layers(self.house.shelter.kind) {
            set_ups.push(self.set_up(self.covers_name(keys), keys.iter().map(|key| on(key)).collect()));
        }
        let usual = set_ups[set_ups.len().min(3) - 1].clone();
        let recorded = &self.house.recorded().covers;
        if !recorded.is_empty() && set_ups.iter().all(|known| known.covers != *recorded) {
            set_ups.push(self.set_up(self.wording.text("set-up-recorded"), recorded.clone()));
        }
        set_ups.extend(self.other_settings(&usual));
        set_ups.extend(self.other_fuel(&usual));
        set_ups
    }

    fn set_up(&self, name: String, covers: Vec<CoverOn>) -> SetUp {
        let heat = self.house.heat.as_ref();
        let heater = heat.map(|heat| SetUpHeater {
            key: heat.key().to_owned(),
            rating_w: heat.rating_w,
            set_c: heat.set_c,
        });
        SetUp { name, covers, heater }
    }

    fn covers_name(&self, keys: &[&str]) -> String {
        let names: Vec<String> =
            keys.iter().map(|key| self.wording.text(&format!("set-up-cover-{key}"))).collect();
        names.join(" + ")
    }

    /// The setting of the usual set-ups.
    fn base(&self) -> Option<SetPoint> {
        self.house.set().or_else(|| self.house.needed())
    }

    fn other_settings(&self, usual: &SetUp) -> Vec<SetUp> {
        let (Some(heater), Some(base)) = (&usual.heater, self.base()) else { return Vec::new() };
        let mut settings_c = Vec::new();
        if let Some(meant) = self.house.meant()
            && meant.air_c > base.air_c + WORTH_TRYING_K
        {
            let reading_c = meant.air_c - base.air_c + base.set_c;
            settings_c.push((reading_c * 2.0).ceil() / 2.0);
        }
        if settings_c.iter().all(|set_c| (set_c - base.set_c - WARMER_K).abs() > WORTH_TRYING_K) {
            settings_c.push(base.set_c + WARMER_K);
        }
        settings_c
            .into_iter()
            .map(|set_c| SetUp {
                name: self.named("set-up-kept", usual, "set", self.wording.temperature(set_c)),
                heater: Some(SetUpHeater { set_c: Some(set_c), ..heater.clone() }),
                covers: usual.covers.clone(),
            })
            .collect()
    }

    fn other_fuel(&self, usual: &SetUp) -> Option<SetUp> {
        let heater = usual.heater.as_ref()?;
        self.base()?;
        let is_electric = self.materials.heaters.get(&heater.key)?.fuel == Fuel::Electricity;
        let key = if is_electric { OTHER_THAN_ELECTRIC } else { OTHER_THAN_FLAME };
        let other = self.materials.heaters.get(key)?;
        Some(SetUp {
            name: self.named("set-up-other-heater", usual, "heater", other.name.clone()),
            covers: usual.covers.clone(),
            heater: Some(SetUpHeater {
                key: key.to_owned(),
                rating_w: other.usual_rating_w,
                set_c: heater.set_c,
            }),
        })
    }

    fn named(&self, message: &str, usual: &SetUp, figure: &'static str, value: String) -> String {
        let mut figures = FluentArgs::new();
        figures.set("name", usual.name.as_str());
        figures.set(figure, value);
        self.wording.message(message, &figures)
    }
}

fn on(key: &str) -> CoverOn {
    CoverOn { key: key.to_owned(), parts: Vec::new(), from: None, to: None }
}
