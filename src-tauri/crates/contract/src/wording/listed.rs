//! Lists of the contract whose values have a word in the catalogue.

use hibernacle_engine::climate::RecordSource;
use hibernacle_engine::plant::{Evidence, Habit, MoveInPass, WaterClass};
use hibernacle_engine::readings::{
    DateOrder, DecimalMark, Delimiter, KnownFrom, LogUnit, Quantity, RejectReason, TextEncoding,
};
use hibernacle_engine::season::{BandKind, Caution, Event, Phase, Stage, TargetKind, Trend, Weather};
use hibernacle_engine::shelter::tonight::NightStep;
use hibernacle_engine::shelter::{Light, Part, ShelterKind};
use serde::Serialize;
use ts_rs::TS;

use crate::night::{AlternativeKind, Sky};
use crate::setup::NextStep;

/// A list of the contract whose values have a word in the catalogue.
pub trait Listed: Copy + Serialize + TS {
    /// Name of the list in message keys.
    const LIST: &'static str;

    /// Key of the value's message: the list, then the value as the contract spells it, with `-` for `_`.
    fn message_key(self) -> String {
        let value = match serde_json::to_value(self) {
            Ok(serde_json::Value::String(value)) => value,
            _ => String::new(),
        };
        format!("{}-{}", Self::LIST, value.replace('_', "-"))
    }
}

macro_rules! lists {
    ($($list:ty => $name:literal,)*) => {
        $(impl Listed for $list {
            const LIST: &'static str = $name;
        })*

        /// Message keys of every value of every list, from the TypeScript of the lists.
        #[cfg(test)]
        pub(super) fn all_keys() -> Vec<String> {
            let config = ts_rs::Config::new();
            [$(($name, <$list as TS>::inline(&config))),*]
                .iter()
                .flat_map(|(name, values)| {
                    values
                        .split('|')
                        .map(|value| format!("{name}-{}", value.trim().trim_matches('"').replace('_', "-")))
                        .collect::<Vec<_>>()
                })
                .collect()
        }
    };
}

lists! {
    Quantity => "quantity",
    LogUnit => "log-unit",
    DateOrder => "date-order",
    Delimiter => "delimiter",
    DecimalMark => "decimal-mark",
    TextEncoding => "text-encoding",
    KnownFrom => "known-from",
    RejectReason => "reject-reason",
    Phase => "phase",
    Weather => "weather",
    Caution => "caution",
    Stage => "stage",
    Event => "event",
    BandKind => "band-kind",
    Trend => "trend",
    ShelterKind => "shelter-kind",
    Light => "light",
    Habit => "habit",
    WaterClass => "water-class",
    MoveInPass => "move-in-pass",
    Evidence => "evidence",
    RecordSource => "record-source",
    TargetKind => "target-kind",
    NextStep => "next-step",
    NightStep => "night-step",
    AlternativeKind => "alternative-kind",
    Sky => "sky",
    Part => "part",
}
