//! The invented climate of the demo site, drawn from a fixed seed.
//!
//! Larch Bank (47.7° N 13.1° E, 470 m) lies on the floor of a cold inland valley that exists nowhere. Its
//! record is 30 seasons of daily extremes in which each day is put together from
//! - a yearly curve of the daily mean, coldest in mid-January;
//! - the mood of a winter and of a summer: an offset per season;
//! - spells of weather: a slow departure that lasts about two weeks and a quick one of two or three days, both
//!   wider in winter;
//! - the sky: a persistent cloudiness that sets the daily range. Under a clear sky days are warmer in summer, and
//!   still nights cool further by radiation, most of all in winter when cold air pools in the valley.
//!
//! Random numbers are PCG32 (O'Neill 2014); sums of twelve uniform numbers stand for normal ones, so that no
//! platform's mathematics can change a digit of them.

use std::f64::consts::TAU;
use std::fmt::Write;
use std::fs;
use std::path::PathBuf;

use anyhow::{Context, Result};
use chrono::{Datelike, NaiveDate};
use rand_pcg::Pcg32;
use rand_pcg::rand_core::Rng;

use crate::project;

/// Seed of the demo climate.
const SEED: u64 = 1996_0701;
/// First day and day after the last: whole seasons only.
const FROM: (i32, u32, u32) = (1996, 7, 1);
const UNTIL: (i32, u32, u32) = (2026, 7, 1);

/// Mean of the year and half the difference between midsummer and midwinter, of the daily mean in °C and K.
const YEAR_MEAN_C: f64 = 8.1;
const YEAR_SWING_K: f64 = 9.6;
/// Day of the year around which it is coldest.
const COLDEST_DAY: f64 = 17.0;

/// Writes `demo-data/larch-bank-climate.csv`.
///
/// # Errors
/// When the file cannot be written.
pub(crate) fn run() -> Result<()> {
    let path = climate_path();
    fs::write(&path, climate()).with_context(|| format!("cannot write {}", path.display()))?;
    println!("wrote {}", path.display());
    Ok(())
}

fn climate_path() -> PathBuf {
    project::root().join("demo-data/larch-bank-climate.csv")
}

/// Text of the climate file.
fn climate() -> String {
    let mut text = format!(
        "# INVENTED: daily temperatures of Larch Bank, a place that exists nowhere. No station measured them.\n\
         # 47.7 N 13.1 E, 470 m. Drawn by `cargo xtask demo` with seed {SEED}.\n\
         date,tmin_c,tmax_c\n"
    );
    let mut weather = Weather::new();
    let (from, until) = (date(FROM), date(UNTIL));
    for day in from.iter_days().take_while(|day| *day < until) {
        let (low_c, high_c) = weather.next(day);
        // Adding 0 turns −0.0 into 0.0.
        let tenths = |temp_c: f64| (temp_c * 10.0).round() / 10.0 + 0.0;
        // Writing to a text cannot fail.
        let _ = writeln!(text, "{day},{:.1},{:.1}", tenths(low_c), tenths(high_c));
    }
    text
}

fn date((year, month, day): (i32, u32, u32)) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).unwrap_or_default()
}

/// The weather as it goes on from day to day.
struct Weather {
    rng: Pcg32,
    /// Offset of the present season in K.
    mood_k: f64,
    /// Slow and quick departures of the daily mean, and cloudiness, in standard deviations.
    slow: f64,
    quick: f64,
    cloud: f64,
}

impl Weather {
    fn new() -> Self {
        Self { rng: Pcg32::new(SEED, 1), mood_k: 0.0, slow: 0.0, quick: 0.0, cloud: 0.0 }
    }

    /// Lowest and highest temperature of the next day in °C.
    fn next(&mut self, day: NaiveDate) -> (f64, f64) {
        // Winter from 1 in mid-January to −1 in mid-July.
        let winter = (TAU * (f64::from(day.ordinal()) - COLDEST_DAY) / 365.25).cos();
        if day.day() == 1 && matches!(day.month(), 5 | 10) {
            self.mood_k = if day.month() == 10 { 1.3 } else { 0.7 } * self.normal();
        }
        self.slow = self.persist(self.slow, 0.93);
        self.quick = self.persist(self.quick, 0.55);
        self.cloud = self.persist(self.cloud, 0.62);
        let spell_k = (2.3 + 0.6 * winter) * self.slow + (1.9 + 0.3 * winter) * self.quick;
        let mean_c = YEAR_MEAN_C - YEAR_SWING_K * winter + self.mood_k + spell_k;

        // Cloudiness 0 (clear) to 1 (overcast).
        let cover = ((self.cloud + 1.0 + 0.35 * winter) / 2.0).clamp(0.0, 1.0);
        let clear = 1.0 - cover;
        let range_k = (4.4 - 0.8 * winter) + clear * (8.6 - 3.6 * winter);
        let still = f64::from(self.rng.next_u32()) / f64::from(u32::MAX);
        let radiation_k = clear * clear * still * (2.4 + 5.4 * winter.max(0.0));
        let sun_k = -1.2 * clear * winter;
        let low_c = mean_c + sun_k - 0.5 * range_k - radiation_k;
        let high_c = mean_c + sun_k + 0.5 * range_k;
        (low_c, high_c)
    }

    /// A departure that keeps a part of itself, with standard deviation 1 in the long run.
    fn persist(&mut self, departure: f64, kept: f64) -> f64 {
        kept * departure + (1.0 - kept * kept).sqrt() * self.normal()
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| (f64::from(self.rng.next_u32()) + 0.5) / 4_294_967_296.0).sum::<f64>() - 6.0
    }
}

#[cfg(test)]
mod tests {
    use hibernacle_engine::climate::freeze::{first_autumn, last_spring};
    use hibernacle_engine::climate::{Climate, annual_minimum, read_climate_file};
    use hibernacle_engine::site::Hemisphere;

    use super::*;

    #[test]
    fn the_committed_file_is_what_the_seed_gives() {
        let committed = fs::read_to_string(climate_path()).unwrap();
        assert!(committed == climate(), "stale: run `cargo xtask demo`");
    }

    #[test]
    fn the_invented_climate_is_that_of_a_cold_valley() {
        let record = read_climate_file("larch-bank-climate.csv", &climate(), None).unwrap();
        assert_eq!(record.problems, []);
        let climate = Climate::from_record(&record, Hemisphere::Northern);
        assert_eq!(climate.seasons().len(), 30);
        assert!(climate.seasons().iter().all(|season| season.nights() >= 365));
        let median = |dates: hibernacle_engine::climate::FreezeDates| {
            dates.date_with_chance(0.5).unwrap().date(2026, Hemisphere::Northern).to_string()
        };
        let first = median(first_autumn(&climate, 0.0));
        assert!(("2026-10-04".."2026-10-16").contains(&&*first), "first freeze {first}");
        let last = median(last_spring(&climate, 0.0));
        assert!(("2027-04-24".."2027-05-07").contains(&&*last), "last freeze {last}");
        let minimum = annual_minimum(&climate).unwrap();
        assert!((-17.2..-15.8).contains(&minimum.mean_c), "{minimum:?}");
        for (at, season) in climate.seasons().iter().enumerate() {
            assert!(climate.seasons()[..at].iter().all(|earlier| earlier.lows_c != season.lows_c));
        }
    }

    /// Nights hang together: a cold one is followed by another more often than chance would have it.
    #[test]
    fn weather_persists() {
        let mut weather = Weather::new();
        let lows: Vec<f64> = date(FROM).iter_days().take(3650).map(|day| weather.next(day).0).collect();
        let usual =
            |at: usize| lows[at.saturating_sub(15)..(at + 16).min(lows.len())].iter().sum::<f64>() / 31.0;
        let off: Vec<f64> = (15..3600).map(|at| lows[at] - usual(at)).collect();
        let variance: f64 = off.iter().map(|k| k * k).sum();
        let lag: f64 = off.windows(2).map(|pair| pair[0] * pair[1]).sum();
        let correlation = lag / variance;
        assert!((0.4..0.85).contains(&correlation), "{correlation}");
    }
}
