//! How a shelter is built: form, sheets, openings and covers.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Materials, Shelter, ShelterKind};
use crate::air::WindShelter;
use crate::field::{FieldError, within};

/// Shape of a shelter; length, width and height are the [`Shelter`]'s.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Form {
    /// Two upright sides, two ends, a roof of two slopes with the ridge along the length.
    Gable {
        /// Height of the eaves in metres.
        eave_m: f64,
    },
    /// Against a house: the high side is the house's wall, the roof slopes to the low side.
    LeanTo {
        /// Height of the low side in metres.
        low_side_m: f64,
        /// Temperature of the house behind in °C.
        house_c: f64,
    },
    /// Half an ellipse over the width, drawn along the length.
    Hoop,
    /// Cap of a sphere over the width; the length is not used.
    Dome,
    /// Box with a sloping light on top; the low front is the side that faces right of the length.
    Frame {
        /// Height of the front in metres.
        front_m: f64,
    },
    /// Room in or under a building.
    Room {
        /// What lies beyond each side.
        beyond: RoomSides,
    },
    /// Sheet or fleece over hoops along a bed.
    Wrap,
}

/// What lies beyond the sides of a room. Right and left are the long sides seen along the length, ahead and behind the
/// short ones.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct RoomSides {
    /// Long side on the right.
    pub right: Beyond,
    /// Long side on the left.
    pub left: Beyond,
    /// Short side ahead.
    pub ahead: Beyond,
    /// Short side behind.
    pub behind: Beyond,
    /// Above the ceiling.
    pub above: Beyond,
}

/// What lies beyond a wall.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Beyond {
    /// Open air.
    Outdoors,
    /// A heated room.
    Heated {
        /// Its temperature in °C.
        temp_c: f64,
    },
    /// A loft or shed without heat, which follows outdoors.
    Unheated,
    /// Earth.
    Earth,
}

/// A sheet or wall by its key in the catalogue.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Sheet {
    /// Lets light through.
    Glazing {
        /// Key in the table of glazing.
        key: String,
    },
    /// Opaque.
    Wall {
        /// Key in the table of walls.
        key: String,
    },
}

impl Sheet {
    /// A sheet of the table of glazing.
    pub fn glazing(key: &str) -> Self {
        Self::Glazing { key: key.to_owned() }
    }

    /// A wall of the table of walls.
    pub fn wall(key: &str) -> Self {
        Self::Wall { key: key.to_owned() }
    }
}

/// Part of the envelope.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Roof, arch, lid or ceiling.
    Roof,
    /// The long sides.
    Side,
    /// The short sides.
    End,
    /// The wall shared with a house.
    HouseWall,
    /// A door.
    Door,
    /// A window.
    Window,
    /// A vent.
    Vent,
}

/// A door, window or vent set into a part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Opening {
    /// Door, window or vent.
    pub kind: Part,
    /// The part it is set into.
    pub within: Part,
    /// Its area in m².
    pub area_m2: f64,
    /// What it is made of.
    pub sheet: Sheet,
}

/// A winter layer over parts of the shelter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CoverOn {
    /// Key in the table of covers.
    pub key: String,
    /// Parts it covers; empty for all that face outdoors.
    #[serde(default)]
    pub parts: Vec<Part>,
    /// First day it is on; absent when it is simply on.
    pub from: Option<NaiveDate>,
    /// Last day it is on; absent when it stays on.
    pub to: Option<NaiveDate>,
}

impl CoverOn {
    /// Whether it is on at a date.
    pub fn is_on(&self, date: NaiveDate) -> bool {
        self.from.is_none_or(|from| from <= date) && self.to.is_none_or(|to| date <= to)
    }
}

/// How a shelter is built. Everything has a default by kind and size, so that nobody has to enter it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ShelterBuild {
    /// The shelter.
    pub shelter_id: String,
    /// Version of this record's layout, 1.
    pub version: u32,
    /// Shape.
    pub form: Form,
    /// Direction of the length in degrees from north over east; the ends face it, the right side faces 90° more.
    pub length_azimuth_deg: f64,
    /// Sheet of roof, arch, lid or ceiling.
    pub roof: Sheet,
    /// Sheet of the long sides.
    pub sides: Sheet,
    /// Sheet of the ends.
    pub ends: Sheet,
    /// Wall shared with a house.
    pub house_wall: Sheet,
    /// Doors, windows, vents.
    pub openings: Vec<Opening>,
    /// Whether the edge of the floor is insulated.
    pub edge_insulated: bool,
    /// What keeps the wind off.
    pub wind_shelter: WindShelter,
    /// Leakage against the usual of its construction: 1 usual, 0.5 well taped, 2 gappy.
    pub leakage_factor: f64,
    /// Winter layers with their dates.
    pub covers: Vec<CoverOn>,
}

impl ShelterBuild {
    /// The usual build of a shelter of its kind and size.
    pub fn usual(shelter: &Shelter) -> Self {
        let glazed = |key: &str| (Sheet::glazing(key), Sheet::glazing(key));
        let walled = |roof: &str, key: &str| (Sheet::wall(roof), Sheet::wall(key));
        let heated = Beyond::Heated { temp_c: 18.0 };
        let outdoors = Beyond::Outdoors;
        let (form, (roof, sides)) = match shelter.kind {
            ShelterKind::Greenhouse => {
                (Form::Gable { eave_m: 0.7 * shelter.height_m }, glazed("twin-wall-6"))
            }
            ShelterKind::ColdFrame => (
                Form::Frame { front_m: 0.65 * shelter.height_m },
                (Sheet::glazing("twin-wall-4"), Sheet::wall("board-25")),
            ),
            ShelterKind::Porch => {
                let form = Form::LeanTo { low_side_m: 0.8 * shelter.height_m, house_c: 18.0 };
                (form, glazed("glass-single"))
            }
            ShelterKind::Garage => {
                let beyond = RoomSides {
                    right: outdoors,
                    left: heated,
                    ahead: outdoors,
                    behind: outdoors,
                    above: Beyond::Unheated,
                };
                (Form::Room { beyond }, walled("board-25", "block-200"))
            }
            ShelterKind::Cellar => {
                let earth = Beyond::Earth;
                let beyond =
                    RoomSides { right: earth, left: earth, ahead: earth, behind: earth, above: heated };
                (Form::Room { beyond }, walled("floor-over-cellar", "stone-500"))
            }
            ShelterKind::Room => {
                let beyond = RoomSides {
                    right: outdoors,
                    left: heated,
                    ahead: outdoors,
                    behind: heated,
                    above: heated,
                };
                (Form::Room { beyond }, walled("house-wall", "house-wall"))
            }
            ShelterKind::WrappedBed => (Form::Wrap, glazed("fleece-wrap")),
        };
        let openings = match shelter.kind {
            ShelterKind::Garage => vec![Opening {
                kind: Part::Door,
                within: Part::End,
                area_m2: (0.6 * shelter.width_m * shelter.height_m).min(5.0),
                sheet: Sheet::wall("metal-door"),
            }],
            _ => Vec::new(),
        };
        Self {
            shelter_id: shelter.id.clone(),
            version: 1,
            form,
            length_azimuth_deg: 90.0,
            roof,
            ends: sides.clone(),
            sides,
            house_wall: Sheet::wall("house-wall"),
            openings,
            edge_insulated: false,
            wind_shelter: WindShelter::Suburban,
            leakage_factor: 1.0,
            covers: Vec::new(),
        }
    }

    /// The usual winter cover of a kind, as [`CoverOn`] without dates; none for rooms.
    pub fn usual_cover(kind: ShelterKind) -> Option<CoverOn> {
        let key = match kind {
            ShelterKind::Greenhouse | ShelterKind::Porch => "bubble-film",
            ShelterKind::ColdFrame => "foam-board",
            ShelterKind::WrappedBed => "straw-mat",
            ShelterKind::Garage | ShelterKind::Cellar | ShelterKind::Room => return None,
        };
        Some(CoverOn { key: key.to_owned(), parts: Vec::new(), from: None, to: None })
    }

    /// Checks every field against the shelter's size and the catalogue.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self, shelter: &Shelter, materials: &Materials) -> Result<(), FieldError> {
        shelter.check()?;
        if self.version != 1 {
            let problem = format!("is {}, written by a newer program", self.version);
            return Err(FieldError::new("version", problem, "open it with that program"));
        }
        let height = shelter.height_m;
        let below_top = |field: &str, value: f64, mend: &str| within(field, value, 0.05, height, mend);
        match self.form {
            Form::Gable { eave_m } => {
                below_top("form.eave_m", eave_m, "measure the eaves, at most the ridge")?;
            }
            Form::LeanTo { low_side_m, house_c } => {
                below_top("form.low_side_m", low_side_m, "measure the low side, at most the high one")?;
                within("form.house_c", house_c, -10.0, 35.0, "enter the temperature of the house")?;
            }
            Form::Frame { front_m } => {
                below_top("form.front_m", front_m, "measure the front, at most the back")?;
            }
            Form::Room { beyond } => {
                for (field, side) in [
                    ("form.beyond.right", beyond.right),
                    ("form.beyond.left", beyond.left),
                    ("form.beyond.ahead", beyond.ahead),
                    ("form.beyond.behind", beyond.behind),
                    ("form.beyond.above", beyond.above),
                ] {
                    if let Beyond::Heated { temp_c } = side {
                        within(field, temp_c, -10.0, 35.0, "enter the temperature of the room beyond")?;
                    }
                }
            }
            Form::Hoop | Form::Dome | Form::Wrap => {}
        }
        within(
            "length_azimuth_deg",
            self.length_azimuth_deg,
            0.0,
            360.0,
            "enter degrees from north over east",
        )?;
        within("leakage_factor", self.leakage_factor, 0.05, 10.0, "enter 1 for usual, 2 for gappy")?;
        for (index, opening) in self.openings.iter().enumerate() {
            let field = format!("openings[{index}].area_m2");
            within(&field, opening.area_m2, 0.01, 100.0, "measure the opening")?;
        }
        super::geometry::elements(shelter, self)?;
        self.check_keys(materials)
    }

    fn check_keys(&self, materials: &Materials) -> Result<(), FieldError> {
        let named = [
            ("roof", &self.roof),
            ("sides", &self.sides),
            ("ends", &self.ends),
            ("house_wall", &self.house_wall),
        ];
        for (field, sheet) in named.into_iter().chain(self.openings.iter().map(|o| ("openings", &o.sheet))) {
            let (key, known) = match sheet {
                Sheet::Glazing { key } => (key, materials.glazing.contains_key(key)),
                Sheet::Wall { key } => (key, materials.walls.contains_key(key)),
            };
            if !known {
                let problem = format!("“{key}” is not in the catalogue");
                return Err(FieldError::new(field, problem, "choose one of the listed sheets or walls"));
            }
        }
        for cover in &self.covers {
            if !materials.covers.contains_key(&cover.key) {
                let problem = format!("“{}” is not in the catalogue", cover.key);
                return Err(FieldError::new("covers", problem, "choose one of the listed covers"));
            }
            if matches!((cover.from, cover.to), (Some(from), Some(to)) if to < from) {
                return Err(FieldError::new("covers", "comes off before it goes on", "swap the two dates"));
            }
        }
        Ok(())
    }
}
