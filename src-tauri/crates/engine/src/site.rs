//! The site: where the plants are, and how its grower likes to read figures.

use chrono::{Datelike, NaiveDate, Weekday};
use chrono_tz::Tz;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::field::{FieldError, filled, within};

/// A place with its location, time zone, units and the days its grower has for the work.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Site {
    /// Identifier given by the service; empty in a draft that was never saved.
    #[serde(default)]
    pub id: String,
    /// The grower's name for it.
    pub name: String,
    /// Degrees north, −90 to 90.
    pub latitude_deg: f64,
    /// Degrees east, −180 to 180.
    pub longitude_deg: f64,
    /// Height above sea level in metres, −430 to 6000.
    pub elevation_m: f64,
    /// Name in the IANA time-zone database, for example `Europe/Vienna`.
    pub time_zone: String,
    /// ISO 4217 code of the currency of prices.
    pub currency: String,
    /// Units in which figures are shown.
    pub units: Units,
    /// When the grower can work.
    pub work: WorkTime,
}

/// Units in which figures are shown; nothing is stored or computed in them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Units {
    /// Unit of temperatures.
    pub temperature: TemperatureUnit,
    /// Unit of lengths and areas.
    pub length: LengthUnit,
    /// Unit of volumes.
    pub volume: VolumeUnit,
}

/// Unit of temperatures on screen and paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum TemperatureUnit {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
}

/// Unit of lengths on screen and paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LengthUnit {
    /// Metres.
    Metre,
    /// International feet.
    Foot,
}

/// Unit of volumes on screen and paper. A gallon is always a US liquid gallon here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum VolumeUnit {
    /// Litres.
    Litre,
    /// US liquid gallons of 3.785411784 L.
    UsGallon,
}

/// The days and hours a grower has for the work.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WorkTime {
    /// Days of the week; an empty list means that any day will do.
    #[ts(type = "Array<\"Mon\" | \"Tue\" | \"Wed\" | \"Thu\" | \"Fri\" | \"Sat\" | \"Sun\">")]
    pub days: Vec<Weekday>,
    /// Hours on each of those days, above 0 and at most 16.
    pub hours_per_day: f64,
}

/// Which half of the year holds the winter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Hemisphere {
    /// Winter around January.
    Northern,
    /// Winter around July.
    Southern,
}

impl Hemisphere {
    /// The hemisphere of a latitude in degrees north; the equator counts as northern.
    pub fn of_latitude(latitude_deg: f64) -> Self {
        if latitude_deg < 0.0 { Self::Southern } else { Self::Northern }
    }

    /// The year in which the season that contains `date` starts: seasons run from 1 July in the north and
    /// from 1 January in the south, so that one winter lies whole inside one season.
    pub fn season_year(self, date: NaiveDate) -> i32 {
        match self {
            Self::Northern if date.month() < 7 => date.year() - 1,
            Self::Northern | Self::Southern => date.year(),
        }
    }
}

impl Site {
    /// Which half of the year holds this site's winter.
    pub fn hemisphere(&self) -> Hemisphere {
        Hemisphere::of_latitude(self.latitude_deg)
    }

    /// The site's time zone.
    ///
    /// # Errors
    /// When [`Site::time_zone`] is not in the IANA database.
    pub fn tz(&self) -> Result<Tz, FieldError> {
        self.time_zone.parse().map_err(|_| {
            FieldError::new(
                "time_zone",
                format!("“{}” is not in the time-zone database", self.time_zone),
                "choose a name such as Europe/Vienna",
            )
        })
    }

    /// Checks every field.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        filled("name", &self.name, "give the place a name")?;
        within("latitude_deg", self.latitude_deg, -90.0, 90.0, "enter degrees north, negative for south")?;
        within("longitude_deg", self.longitude_deg, -180.0, 180.0, "enter degrees east, negative for west")?;
        within("elevation_m", self.elevation_m, -430.0, 6000.0, "enter metres above sea level")?;
        self.tz()?;
        let is_code = self.currency.len() == 3 && self.currency.bytes().all(|b| b.is_ascii_uppercase());
        if !is_code {
            return Err(FieldError::new(
                "currency",
                format!("“{}” is not a currency code", self.currency),
                "enter three capital letters such as EUR",
            ));
        }
        within(
            "work.hours_per_day",
            self.work.hours_per_day,
            0.25,
            16.0,
            "enter the hours you have on a work day",
        )
    }
}
