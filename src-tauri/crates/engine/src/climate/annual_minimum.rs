//! The coldest night of a season: mean and return levels.

use rand_pcg::Pcg32;
use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, StudentsT};
use ts_rs::TS;

use super::draws::uniform;
use super::extreme::{Gev, LMoments};
use super::gaps::can_be_judged;
use super::ranks::quantile;
use super::{Climate, SeasonDay};

/// The coldest temperature of a season.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct AnnualMinimum {
    /// Seasons that could be judged.
    pub seasons: u32,
    /// Mean over seasons in °C.
    pub mean_c: f64,
    /// Lower and upper end of the 90 % interval of that mean.
    pub mean_interval_c: (f64, f64),
    /// Lowest in the record in °C.
    pub lowest_c: f64,
    /// Levels that are undercut once in so many years; empty with fewer than five seasons.
    pub returns: Vec<ReturnLevel>,
}

/// A low that is reached or undercut once in so many years on average.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ReturnLevel {
    /// Years.
    pub years: u32,
    /// Temperature in °C.
    pub temp_c: f64,
    /// 90 % interval in °C.
    pub interval_c: (f64, f64),
}

/// Return periods in years.
const RETURN_YEARS: [u32; 5] = [2, 5, 10, 20, 50];
/// Seasons from which on the shape of the extreme-value distribution is fitted too.
const SEASONS_FOR_SHAPE: usize = 15;
/// Fewest seasons for return levels.
const SEASONS_FOR_RETURNS: usize = 5;
/// Samples drawn for an interval.
const DRAWS: usize = 1000;
/// Seed and stream of the draws: the same record gives the same interval.
const SEED: (u64, u64) = (0x0068_6962_6572_6e61, 1);

/// The lowest low of each season that is complete enough, in order of the seasons, in °C.
///
/// A season counts when its missing nights hardly hid a colder one.
pub fn season_minima_c(climate: &Climate) -> Vec<f64> {
    climate
        .seasons()
        .iter()
        .filter_map(|season| {
            let lowest = season.lows_c.iter().flatten().copied().min_by(f64::total_cmp)?;
            // A tenth below: an equally cold night among the missing would change nothing.
            can_be_judged(climate, season, 0..SeasonDay::SLOTS, lowest - 0.1).then_some(lowest)
        })
        .collect()
}

/// Mean with its interval, return levels and the lowest of the record; `None` with fewer than two seasons.
///
/// The mean's interval is Student's. Return levels come from a generalised extreme-value distribution of the
/// negated minima fitted by L-moments (a Gumbel distribution with fewer than 15 seasons), their intervals from
/// 1000 samples of the same size drawn from the fit with a fixed seed (parametric bootstrap).
pub fn annual_minimum(climate: &Climate) -> Option<AnnualMinimum> {
    let minima = season_minima_c(climate);
    if minima.len() < 2 {
        return None;
    }
    let n = minima.len() as f64;
    let worth = climate.worth(minima.len());
    let mean_c = minima.iter().sum::<f64>() / n;
    let deviation = (minima.iter().map(|c| (c - mean_c).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    let t = StudentsT::new(0.0, 1.0, (worth - 1) as f64).ok()?.inverse_cdf(0.95);
    let half = t * deviation / (worth as f64).sqrt();
    Some(AnnualMinimum {
        seasons: minima.len() as u32,
        mean_c,
        mean_interval_c: (mean_c - half, mean_c + half),
        lowest_c: minima.iter().copied().fold(f64::INFINITY, f64::min),
        returns: return_levels(&minima, worth),
    })
}

/// Return levels of season minima in °C, with intervals as for a sample of `worth` seasons.
fn return_levels(minima: &[f64], worth: usize) -> Vec<ReturnLevel> {
    if minima.len() < SEASONS_FOR_RETURNS {
        return Vec::new();
    }
    let Some(fitted) = fit(minima.iter().map(|c| -c).collect(), minima.len()) else {
        // All minima equal: every level is that one.
        return RETURN_YEARS
            .map(|years| ReturnLevel { years, temp_c: minima[0], interval_c: (minima[0], minima[0]) })
            .into();
    };
    let mut rng = Pcg32::new(SEED.0, SEED.1);
    let drawn: Vec<Gev> = (0..DRAWS)
        .filter_map(|_| fit((0..worth).map(|_| fitted.quantile(uniform(&mut rng))).collect(), minima.len()))
        .collect();
    RETURN_YEARS
        .map(|years| {
            let level = |gev: &Gev| -gev.quantile(1.0 - 1.0 / f64::from(years));
            let mut levels: Vec<f64> = drawn.iter().map(level).collect();
            levels.sort_unstable_by(f64::total_cmp);
            let end = |p: f64| quantile(&levels, p).unwrap_or_else(|| level(&fitted));
            ReturnLevel { years, temp_c: level(&fitted), interval_c: (end(0.05), end(0.95)) }
        })
        .into()
}

fn fit(mut values: Vec<f64>, seasons: usize) -> Option<Gev> {
    values.sort_unstable_by(f64::total_cmp);
    let moments = LMoments::of(&values)?;
    let largest = *values.last()?;
    Some(if seasons < SEASONS_FOR_SHAPE { Gev::fit_gumbel(moments) } else { Gev::fit(moments, largest) })
}
