//! Sun position, sunrise and sunset.

use chrono::{DateTime, Datelike, Duration, NaiveDate, NaiveTime, Timelike, Utc};
use serde::{Deserialize, Serialize};
use solar_positioning::{
    ElevationTarget, Location, RefractionCorrection, SolarEvents, SolarPositions, delta_t,
};
use ts_rs::TS;

use super::SunError;
use super::daily::{declination_rad, equation_of_time_min};
use crate::air::pressure_at_elevation_pa;
use crate::site::Site;

/// Elevation of the sun's centre at sunrise and sunset in degrees: 34′ of refraction and 16′ of semidiameter, the
/// convention of the almanacs.
const RISE_SET_ELEVATION_DEG: f64 = -50.0 / 60.0;

/// A place on earth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Place {
    /// Degrees north, −90 to 90.
    pub latitude_deg: f64,
    /// Degrees east, −180 to 180.
    pub longitude_deg: f64,
    /// Metres above sea level.
    pub elevation_m: f64,
}

impl From<&Site> for Place {
    fn from(site: &Site) -> Self {
        Self {
            latitude_deg: site.latitude_deg,
            longitude_deg: site.longitude_deg,
            elevation_m: site.elevation_m,
        }
    }
}

impl Place {
    /// The sun's position in standard air at 5 °C; see [`position`].
    ///
    /// # Errors
    /// As [`position`].
    pub fn position(&self, instant: DateTime<Utc>) -> Result<SunPosition, SunError> {
        let pressure_pa = pressure_at_elevation_pa(self.elevation_m);
        position(self.latitude_deg, self.longitude_deg, self.elevation_m, pressure_pa, 5.0, instant)
    }

    /// The sun's position to half a degree, without refraction: for sums of radiation over whole winters,
    /// twenty times as quick as [`Self::position`].
    ///
    /// Declination and equation of time by Spencer, Search 2 (1971) 172.
    pub fn quick_position(&self, instant: DateTime<Utc>) -> SunPosition {
        let utc_h = f64::from(instant.num_seconds_from_midnight()) / 3600.0;
        let day_of_year = f64::from(instant.ordinal()) + utc_h / 24.0;
        let solar_h = utc_h + self.longitude_deg / 15.0 + equation_of_time_min(day_of_year) / 60.0;
        let (phi, delta) = (self.latitude_deg.to_radians(), declination_rad(day_of_year));
        let hour_angle = (15.0 * (solar_h - 12.0)).to_radians();
        let sin_elevation = phi.sin() * delta.sin() + phi.cos() * delta.cos() * hour_angle.cos();
        let elevation_deg = sin_elevation.clamp(-1.0, 1.0).asin().to_degrees();
        let east = -delta.cos() * hour_angle.sin();
        let north = delta.sin() * phi.cos() - delta.cos() * phi.sin() * hour_angle.cos();
        let azimuth_deg = east.atan2(north).to_degrees().rem_euclid(360.0);
        SunPosition { elevation_deg, azimuth_deg, zenith_deg: 90.0 - elevation_deg }
    }

    /// Sunrise, sunset and day length; see [`day`].
    ///
    /// # Errors
    /// As [`day`].
    pub fn day(&self, date: NaiveDate) -> Result<SunDay, SunError> {
        day(self.latitude_deg, self.longitude_deg, self.elevation_m, date)
    }
}

/// Where the sun stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct SunPosition {
    /// Degrees above the horizon, refraction included; negative below.
    pub elevation_deg: f64,
    /// Degrees from north over east, 0 to 360.
    pub azimuth_deg: f64,
    /// Degrees from the zenith, refraction included.
    pub zenith_deg: f64,
}

/// Sunrise, sunset and day length of one date at one place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct SunDay {
    /// The date.
    pub date: NaiveDate,
    /// Upper edge of the sun on the horizon in the morning; absent when the sun does not rise that day.
    pub sunrise_utc: Option<DateTime<Utc>>,
    /// Upper edge of the sun on the horizon in the evening; absent when the sun does not set that day.
    pub sunset_utc: Option<DateTime<Utc>>,
    /// Highest stand of the sun.
    pub noon_utc: DateTime<Utc>,
    /// Elevation of the sun's centre at its highest stand in degrees, without refraction.
    pub noon_elevation_deg: f64,
    /// Hours with the sun up, 0 in polar night and 24 under the midnight sun.
    pub day_length_h: f64,
}

fn location(latitude_deg: f64, longitude_deg: f64) -> Location {
    Location { latitude: latitude_deg, longitude: longitude_deg }
}

/// The sun's position at an instant.
///
/// * `latitude_deg` — degrees north, −90 to 90
/// * `longitude_deg` — degrees east, −180 to 180
/// * `elevation_m` — metres above sea level (parallax)
/// * `pressure_pa` — air pressure in pascals (refraction), see [`crate::air::pressure_at_elevation_pa`]
/// * `temperature_c` — air temperature in °C (refraction)
/// * `instant` — UTC, taken for UT1 (they differ by less than 0.9 s)
///
/// Refraction is left out while the sun is wholly below the horizon.
///
/// Reference: I. Reda, A. Andreas, Solar position algorithm for solar radiation applications, NREL/TP-560-34302
/// (2004), doi:10.1016/j.solener.2003.12.003. ΔT: Espenak and Meeus polynomials.
///
/// # Errors
/// [`SunError::OutOfRange`] for coordinates, pressure, temperature or a year that do not exist on earth.
pub fn position(
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    pressure_pa: f64,
    temperature_c: f64,
    instant: DateTime<Utc>,
) -> Result<SunPosition, SunError> {
    let refraction = RefractionCorrection::new(pressure_pa / 100.0, temperature_c)?;
    let delta_t_s = delta_t::estimate_from_date_like(&instant)?;
    let place = location(latitude_deg, longitude_deg);
    let sun = SolarPositions::new().at(&instant, place, elevation_m, delta_t_s, Some(refraction))?;
    Ok(SunPosition {
        elevation_deg: sun.elevation_angle(),
        azimuth_deg: sun.azimuth(),
        zenith_deg: sun.zenith_angle(),
    })
}

/// Sunrise, sunset and day length of a date.
///
/// * `latitude_deg` — degrees north, −90 to 90
/// * `longitude_deg` — degrees east, −180 to 180
/// * `elevation_m` — metres above sea level; changes the parallax only: the horizon is taken as flat, as in the
///   almanacs
/// * `date` — the date that the calendar shows at the place around noon. The day is the 24 h around the sun's
///   highest stand nearest to 12:00 local mean solar time of that date, so that sunrise and sunset belong to one
///   stretch of daylight wherever the time zone puts midnight. Only where the calendar runs a whole day ahead of
///   the sun (islands east of 172° W that keep the date of the west) is it the neighbouring day: minutes apart.
///
/// Method: crossings of −0.8333° by the SPA position without refraction (almanac convention), to 1 ms. Real
/// horizons, weather and height above the surroundings shift the moment by minutes.
///
/// # Errors
/// [`SunError::OutOfRange`] for coordinates or a year outside the method.
pub fn day(
    latitude_deg: f64,
    longitude_deg: f64,
    elevation_m: f64,
    date: NaiveDate,
) -> Result<SunDay, SunError> {
    let place = location(latitude_deg, longitude_deg);
    let delta_t_s = delta_t::estimate_from_date(date.year(), date.month())?;
    if !(-180.0..=180.0).contains(&longitude_deg) {
        return Err(SunError::OutOfRange(format!("the longitude is {longitude_deg}, outside −180 to 180")));
    }
    let half = Duration::hours(12);
    let mean_noon =
        date.and_time(NaiveTime::MIN).and_utc() + half - Duration::seconds((longitude_deg * 240.0) as i64);
    let noon_utc = SolarEvents::new()
        .next_transit(&(mean_noon - half), &(mean_noon + half), longitude_deg, delta_t_s)?
        .unwrap_or(mean_noon);

    let positions = SolarPositions::new();
    let (start, end) = (noon_utc - half, noon_utc + half);
    let target = ElevationTarget { angle: RISE_SET_ELEVATION_DEG, height: elevation_m, refraction: None };
    let sunrise_utc = positions.next_elevation_rise(&start, &noon_utc, place, delta_t_s, target)?;
    let sunset_utc = positions.next_elevation_set(&noon_utc, &end, place, delta_t_s, target)?;
    let noon_elevation_deg = positions.at(&noon_utc, place, elevation_m, delta_t_s, None)?.elevation_angle();
    let up_at_noon = noon_elevation_deg > RISE_SET_ELEVATION_DEG;
    let day_length_h = if up_at_noon {
        let lit = sunset_utc.unwrap_or(end) - sunrise_utc.unwrap_or(start);
        lit.num_milliseconds() as f64 / 3.6e6
    } else {
        0.0
    };
    Ok(SunDay { date, sunrise_utc, sunset_utc, noon_utc, noon_elevation_deg, day_length_h })
}
