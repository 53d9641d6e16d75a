//! Chore rules: what the chore catalogue can say.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::plant::{Habit, MoveInPass, WaterClass};
use crate::shelter::ShelterKind;

/// Part of the year's work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Phase {
    /// Stop feeding, check pests, count and order.
    LateSummer,
    /// Take cuttings and lift tubers.
    Cuttings,
    /// Bring plants in, in passes.
    MoveIn,
    /// Close the shelter up for winter.
    CloseUp,
    /// Rounds through winter.
    WinterRound,
    /// Take covers off.
    Uncover,
    /// Wake plants and warm up.
    WarmUp,
    /// Accustom plants to outdoors.
    HardenOff,
    /// Move plants out.
    MoveOut,
    /// Put away, count and learn.
    SeasonEnd,
}

/// What a rule makes one chore for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Scope {
    /// Once for the whole site.
    Site,
    /// Once for each shelter.
    Shelter,
    /// Once for each zone.
    Zone,
    /// Once for each planting.
    Planting,
}

/// Which shelters, zones and plantings a rule is for; an empty list does not restrict.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Applies {
    /// Kinds of shelter.
    pub shelter_kinds: Vec<ShelterKind>,
    /// Growth habits; for a zone or shelter: at least one planting in it has one of these.
    pub habits: Vec<Habit>,
    /// Water classes, likewise.
    pub water: Vec<WaterClass>,
    /// Passes of moving in, likewise.
    pub passes: Vec<MoveInPass>,
    /// Catalogue keys of plants, likewise.
    pub plants: Vec<String>,
    /// Further conditions that must all hold.
    pub needs: Vec<Need>,
}

/// A condition on the target of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Need {
    /// The shelter takes a winter cover.
    Cover,
    /// A heater stands ready.
    Heater,
    /// Plants winter here (for a shelter or zone), or the planting has a winter place.
    Plants,
    /// The planting (or one of those here) is in a pot.
    Pot,
    /// The planting (or one of those here) stands in open ground.
    Ground,
    /// The planting (or one of those here) is lifted and stored without soil.
    Lifted,
    /// The plant (or one of those here) is known to be dangerous to people or animals.
    Toxic,
}

/// First or last night of a season at or below a threshold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Event {
    /// First occurrence in autumn.
    FirstAutumn,
    /// Last occurrence in spring.
    LastSpring,
}

/// Direction in which the nightly lows move.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Trend {
    /// Autumn: nights get colder.
    Falling,
    /// Spring: nights get milder.
    Rising,
}

/// A temperature that a trigger compares the nightly lows with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "of", deny_unknown_fields)]
pub enum LimitOf {
    /// A fixed temperature.
    Fixed {
        /// In °C.
        temp_c: f64,
    },
    /// Night low at which the planting (the tenderest of those here) is brought in.
    MoveIn,
    /// Night low above which the planting (the tenderest of those here) may go out.
    MoveOut,
    /// Limit of the planting (the tenderest of those here) in winter, outdoors.
    WinterLimit,
    /// The same limit less what the shelter usually holds uncovered: the outside low that endangers the zone.
    BareHold,
    /// The same limit less what the shelter usually holds under its cover.
    CoveredHold,
    /// The same as `bare_hold`, but only for zones in which no heat is kept: without a cover plants die there.
    UnheatedHold,
    /// Limit of the planting (the tenderest of those here) in leaf.
    InLeafLimit,
}

/// Which date of another chore's window counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Anchor {
    /// Its earliest date.
    Earliest,
    /// Its best date.
    #[default]
    Best,
    /// Its latest date.
    Latest,
}

/// State of a planting or zone through the year.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// In leaf and growing.
    Growing,
    /// Growth has stopped; tolerance to cold builds up.
    Hardening,
    /// At rest.
    Dormant,
    /// Buds swell or growth starts again.
    Waking,
    /// Outdoors for the summer.
    Out,
}

/// Month and day in the northern hemisphere; moved by six months in the southern.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct MonthDay {
    /// 1 to 12.
    pub month: u32,
    /// 1 to 31.
    pub day: u32,
}

/// How a date is found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "from", deny_unknown_fields)]
pub enum Trigger {
    /// The date by which the event has come in this share of years: in autumn the chance that the first night
    /// at or below the limit comes on or before it, in spring the chance that the last one comes after it.
    FreezeDate {
        /// First in autumn or last in spring.
        event: Event,
        /// The threshold.
        limit: LimitOf,
        /// Chance, 0 to 1.
        chance: f64,
        /// Days added; negative for before.
        #[serde(default)]
        days: i32,
    },
    /// The date at which the chance that a single night reaches the limit passes the given one, rising through
    /// it in autumn (`falling` lows) or dropping below it in spring (`rising` lows).
    LowReaches {
        /// Direction of the lows.
        trend: Trend,
        /// The limit.
        limit: LimitOf,
        /// Chance for a single night, 0 to 1.
        chance: f64,
        /// Days added.
        #[serde(default)]
        days: i32,
    },
    /// Days after (or, negative, before) another chore for the same target or one that contains it.
    Chore {
        /// Key of the other rule.
        chore: String,
        /// Which of its dates.
        #[serde(default)]
        anchor: Anchor,
        /// Days added.
        #[serde(default)]
        days: i32,
    },
    /// Start of a stage of the planting (of the earliest of those here).
    Stage {
        /// The stage.
        stage: Stage,
        /// Days added.
        #[serde(default)]
        days: i32,
    },
    /// A calendar date: the last resort.
    Calendar {
        /// Northern-hemisphere date.
        on: MonthDay,
    },
}

/// Window of a chore. Of several triggers for `latest` the first date counts, of several for `earliest` the last.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct When {
    /// Not before this; defaults to a week before the best date.
    #[serde(default)]
    pub earliest: Vec<Trigger>,
    /// The date to aim at. The first trigger of the list that gives a date counts.
    pub best: Vec<Trigger>,
    /// Not after this; defaults to ten days after the best date.
    #[serde(default)]
    pub latest: Vec<Trigger>,
    /// Whether `latest` is a killing date: levelling and hand moves past it are refused or warned about.
    #[serde(default)]
    pub killing: bool,
}

/// A chore that comes again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Repeat {
    /// Days from one to the next.
    pub every_days: u32,
    /// No more after this.
    pub until: Trigger,
}

/// Weather that a chore needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Weather {
    /// No rain or wet surfaces.
    Dry,
    /// Little wind.
    LowWind,
    /// Above 5 °C, so that tape sticks and film stays supple.
    AboveFive,
    /// No hard freeze in the coming night.
    NoHardFreeze,
    /// Above freezing.
    FrostFree,
    /// Overcast or mild sun, so that leaves do not burn.
    Overcast,
    /// Sunshine.
    Sunny,
    /// A clear, calm, cold night.
    ClearNight,
}

/// Danger that a chore's text must warn about; each has a message `caution-…` in the text catalogue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Caution {
    /// Electric heaters: fire, clearance, cords.
    Heater,
    /// Mains electricity near water.
    Electricity,
    /// Flame heaters: carbon monoxide, fuel, ethylene.
    FuelGas,
    /// Ladders.
    Ladder,
    /// Snow and ice on roofs.
    SnowLoad,
    /// Poisonous plants and irritant saps.
    ToxicPlant,
    /// Heavy pots.
    HeavyLift,
    /// Knives, secateurs and glass.
    SharpEdge,
    /// Sprays and pest control agents.
    PestControl,
}

/// One rule of the chore catalogue.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChoreRule {
    /// Stable key, lower case with hyphens (`close-up-cover-on`).
    pub key: String,
    /// What to do, in a few words. `{target}` stands for the name of the target.
    pub title: String,
    /// Part of the year's work.
    pub phase: Phase,
    /// What it is done for.
    pub scope: Scope,
    /// Which targets.
    #[serde(default)]
    pub applies: Applies,
    /// When.
    pub when: When,
    /// Whether and how often it comes again.
    #[serde(default)]
    pub repeat: Option<Repeat>,
    /// Keys of rules that must be done first for the same target or one that contains it.
    #[serde(default)]
    pub after: Vec<String>,
    /// Minutes it takes for one target; for a planting scope, for one plant.
    pub minutes: u32,
    /// Weather it needs.
    #[serde(default)]
    pub weather: Vec<Weather>,
    /// Why, in one or two sentences, without figures.
    pub why: String,
    /// How to prove that it is done well; asked for each close-up step.
    #[serde(default)]
    pub proof: Option<String>,
    /// Dangers to warn about.
    #[serde(default)]
    pub cautions: Vec<Caution>,
    /// Whether a zone counts as closed up only after this step.
    #[serde(default)]
    pub required: bool,
    /// Source of the rule, or `common practice, no source`.
    pub source: String,
}
