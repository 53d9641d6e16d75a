//! Sun positions, rise and set and irradiance against published examples and pvlib.

#![expect(clippy::unwrap_used, reason = "helpers of tests")]

use chrono::{DateTime, Datelike, NaiveDate, Utc};
use hibernacle_engine::sun::{self, Place, SunPosition, daily, irradiance};
use serde::Deserialize;

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected} ± {tolerance}");
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn utc(text: &str) -> DateTime<Utc> {
    text.parse().unwrap()
}

/// Reda and Andreas, NREL/TP-560-34302 (2004), appendix A.5: 17 October 2003, 12:30:30 at UTC −7, 39.742476° N,
/// 105.1786° W, 1830.14 m, 820 mbar, 11 °C.
#[test]
fn nrel_worked_example() {
    let sun =
        sun::position(39.742476, -105.1786, 1830.14, 82_000.0, 11.0, utc("2003-10-17T19:30:30Z")).unwrap();
    close(sun.zenith_deg, 50.11162, 1e-4, "zenith");
    close(sun.azimuth_deg, 194.34024, 1e-4, "azimuth");
    close(sun.elevation_deg, 39.888378, 1e-4, "elevation");
}

/// Sunrise 06:12:43.46 and sunset 17:20:19.19 MST of the same report (value from memory; pvlib gives the same to
/// the second). The report counts days in universal time: its sunset of 17 October, 00:20:19 UT, is the evening of
/// the 16th at the place.
#[test]
fn nrel_rise_and_set() {
    let day = sun::day(39.742476, -105.1786, 1830.14, date("2003-10-17")).unwrap();
    let rise_s = (day.sunrise_utc.unwrap() - utc("2003-10-17T13:12:43Z")).num_seconds();
    let eve = sun::day(39.742476, -105.1786, 1830.14, date("2003-10-16")).unwrap();
    let set_s = (eve.sunset_utc.unwrap() - utc("2003-10-17T00:20:19Z")).num_seconds();
    assert!(rise_s.abs() <= 2 && set_s.abs() <= 2, "off by {rise_s} s and {set_s} s");
}

/// US Naval Observatory tables to the minute, kept in the test suite of pvlib-python (tests/test_spa.py): 39.0° N
/// 105.0° W (MST) and 39.917° N 116.383° E (UTC+8), 2015.
#[test]
fn naval_observatory_rise_and_set() {
    let rows = [
        (39.0, -105.0, "2015-01-02", "2015-01-02T07:19:00-07:00", "2015-01-02T16:49:00-07:00"),
        (39.0, -105.0, "2015-04-02", "2015-04-02T05:43:00-07:00", "2015-04-02T18:24:00-07:00"),
        (39.0, -105.0, "2015-08-02", "2015-08-02T05:01:00-07:00", "2015-08-02T19:10:00-07:00"),
        (39.0, -105.0, "2015-12-02", "2015-12-02T07:01:00-07:00", "2015-12-02T16:38:00-07:00"),
        (39.917, 116.383, "2015-01-02", "2015-01-02T07:36:00+08:00", "2015-01-02T17:00:00+08:00"),
        (39.917, 116.383, "2015-04-02", "2015-04-02T05:58:00+08:00", "2015-04-02T18:39:00+08:00"),
        (39.917, 116.383, "2015-08-02", "2015-08-02T05:13:00+08:00", "2015-08-02T19:28:00+08:00"),
        (39.917, 116.383, "2015-12-02", "2015-12-02T07:17:00+08:00", "2015-12-02T16:50:00+08:00"),
    ];
    for (latitude, longitude, on, rise, set) in rows {
        let day = sun::day(latitude, longitude, 0.0, date(on)).unwrap();
        for (found, printed) in [(day.sunrise_utc.unwrap(), rise), (day.sunset_utc.unwrap(), set)] {
            let off_s = (found - utc(printed)).num_milliseconds() as f64 / 1000.0;
            assert!(off_s.abs() <= 32.0, "{on} {printed}: off by {off_s} s");
        }
    }
}

#[test]
fn polar_night_and_midnight_sun() {
    let winter = sun::day(69.65, 18.96, 10.0, date("2025-12-21")).unwrap();
    assert_eq!((winter.sunrise_utc, winter.sunset_utc), (None, None));
    close(winter.day_length_h, 0.0, 0.0, "polar night");
    let summer = sun::day(69.65, 18.96, 10.0, date("2026-06-21")).unwrap();
    assert_eq!((summer.sunrise_utc, summer.sunset_utc), (None, None));
    close(summer.day_length_h, 24.0, 1e-9, "midnight sun");
}

#[test]
fn places_off_the_earth_are_refused() {
    let on = date("2026-01-01");
    for (latitude, longitude) in [(91.0, 0.0), (f64::NAN, 0.0), (0.0, 181.0), (0.0, f64::NAN)] {
        let error = sun::day(latitude, longitude, 0.0, on).unwrap_err().to_string();
        assert!(error.contains("check latitude"), "{error}");
    }
}

#[derive(Deserialize)]
struct Grid {
    positions: Vec<Row>,
    days: Vec<DayRow>,
    haurwitz_by_zenith: std::collections::BTreeMap<String, f64>,
}

#[derive(Deserialize)]
struct Row {
    place: (f64, f64, f64),
    at: DateTime<Utc>,
    elevation: f64,
    azimuth: f64,
    ghi: f64,
    dni: f64,
    dhi: f64,
    tilted: f64,
}

#[derive(Deserialize)]
struct DayRow {
    place: (f64, f64, f64),
    date: NaiveDate,
    rise: DateTime<Utc>,
    set: DateTime<Utc>,
}

/// Made by scripts/sun_grid.py with pvlib 0.16.1.
fn grid() -> Grid {
    serde_json::from_str(include_str!("../data/sun_grid.json")).unwrap()
}

#[test]
fn positions_agree_with_pvlib() {
    for row in grid().positions {
        let (latitude, longitude, height) = row.place;
        let sun = sun::position(latitude, longitude, height, 96_000.0, 2.0, row.at).unwrap();
        close(sun.elevation_deg, row.elevation, 5e-4, &format!("elevation at {}", row.at));
        close(sun.azimuth_deg, row.azimuth, 5e-4, &format!("azimuth at {}", row.at));
    }
}

/// The quick position is meant for sums of radiation: under half a degree, refraction left out.
#[test]
fn quick_positions_are_near_pvlib() {
    for row in grid().positions.into_iter().filter(|row| row.elevation > 5.0) {
        let (latitude_deg, longitude_deg, elevation_m) = row.place;
        let sun = Place { latitude_deg, longitude_deg, elevation_m }.quick_position(row.at);
        close(sun.elevation_deg, row.elevation, 0.45, &format!("elevation at {}", row.at));
        let turn = (sun.azimuth_deg - row.azimuth) * row.elevation.to_radians().cos();
        close(turn, 0.0, 0.45, &format!("azimuth at {}", row.at));
    }
}

#[test]
fn rise_and_set_agree_with_pvlib() {
    for row in grid().days {
        let (latitude, longitude, height) = row.place;
        let day = sun::day(latitude, longitude, height, row.date).unwrap();
        for (found, expected) in [(day.sunrise_utc.unwrap(), row.rise), (day.sunset_utc.unwrap(), row.set)] {
            let off_ms = (found - expected).num_milliseconds();
            assert!(off_ms.abs() < 1000, "{:?} {}: off by {off_ms} ms", row.place, row.date);
        }
        let length_h = (row.set - row.rise).num_milliseconds() as f64 / 3.6e6;
        close(day.day_length_h, length_h, 1e-3, "day length");
    }
}

#[test]
fn irradiance_agrees_with_pvlib() {
    let facing = irradiance::Facing { tilt_deg: 30.0, azimuth_deg: 150.0 };
    for row in grid().positions {
        let sun = SunPosition {
            elevation_deg: row.elevation,
            azimuth_deg: row.azimuth,
            zenith_deg: 90.0 - row.elevation,
        };
        let split = irradiance::split(row.ghi, sun.zenith_deg, row.at.ordinal());
        let what = format!("{:?} at {}, {} W/m²", row.place, row.at, row.ghi);
        close(split.diffuse_w_per_m2, row.dhi, 0.05, &format!("diffuse, {what}"));
        close(split.beam_normal_w_per_m2, row.dni, 0.25, &format!("beam, {what}"));
        close(
            irradiance::tilted_w_per_m2(facing, sun, split, 0.2),
            row.tilted,
            0.3,
            &format!("tilted, {what}"),
        );
    }
    for (zenith, expected) in grid().haurwitz_by_zenith {
        close(irradiance::clear_sky_w_per_m2(zenith.parse().unwrap()), expected, 0.01, "clear sky");
    }
}

/// FAO Irrigation and Drainage Paper 56 (Allen et al. 1998): example 8, and annex 2 table 2.6 on the 15th of each
/// month.
#[test]
fn radiation_above_the_air() {
    close(daily::extraterrestrial_mj_per_m2(-20.0, 246), 32.2, 0.05, "example 8");
    let days = [15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349];
    let table = [
        (30.0, [21.1, 25.8, 31.4, 36.8, 40.0, 41.2, 40.6, 38.1, 33.4, 27.6, 22.2, 19.8]),
        (40.0, [15.0, 20.4, 27.2, 34.7, 39.7, 41.9, 40.8, 36.7, 30.0, 22.5, 16.3, 13.6]),
        (50.0, [8.9, 14.4, 22.2, 31.5, 38.5, 41.7, 40.2, 34.4, 25.7, 16.9, 10.2, 7.5]),
    ];
    for (latitude, row) in table {
        for (day, expected) in days.into_iter().zip(row) {
            let found = daily::extraterrestrial_mj_per_m2(latitude, day);
            close(found, expected, 0.16, &format!("{latitude}° N, day {day}"));
        }
    }
    close(daily::extraterrestrial_mj_per_m2(75.0, 355), 0.0, 0.0, "polar night");
}

/// FAO-56 example 15: Lyon in July, 40.6 MJ above the air, 26.6 and 14.8 °C, inland.
#[test]
fn radiation_from_the_range() {
    close(daily::radiation_from_range_mj_per_m2(40.6, 14.8, 26.6, 0.16), 22.3, 0.05, "example 15");
}

#[test]
fn cloud_and_radiation_undo_each_other() {
    for tenths in 0..=10 {
        let cloud = f64::from(tenths) / 10.0;
        let share = daily::radiation_share_under_cloud(cloud);
        close(daily::cloud_fraction_from_radiation(share), cloud, 1e-9, "cloud fraction");
    }
    close(daily::cloud_fraction_from_radiation(1.3), 0.0, 0.0, "brighter than clear");
    close(daily::cloud_fraction_from_radiation(0.0), 1.0, 0.0, "dark");
}
