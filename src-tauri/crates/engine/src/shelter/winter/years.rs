//! Winters cut out of a climate: of a daily record, of typed averages, or of a file of hourly reports.
//!
//! A winter runs from 1 October to 30 April, in the southern half of the earth from 1 April to 31 October: outside of it
//! plants stand outdoors or need no heat.

use std::collections::BTreeMap;

use chrono::{DateTime, Datelike, Duration, NaiveDate, Utc};

use crate::climate::hourly::{LONGEST_FILLED_DAYS, WeatherReport};
use crate::climate::{Climate, DailyTemps, SeasonDay};
use crate::site::Hemisphere;
use crate::sun::Place;

/// Share of its days that a winter needs.
const NEEDED_SHARE: f64 = 0.9;
/// Kelvin between the low and the high of a day where no record tells (common practice, no source).
const USUAL_RANGE_K: f64 = 8.0;
/// Days of a month from which its mean daily range is taken.
const FEWEST_DAYS: u32 = 20;
/// Hours of reports that a file needs to hold of a winter.
const FEWEST_HOURS: usize = 30 * 24;

/// First and last day of the winter that starts in a year.
fn span(start_year: i32, hemisphere: Hemisphere) -> (NaiveDate, NaiveDate) {
    let day = |year, month, day| NaiveDate::from_ymd_opt(year, month, day).unwrap_or_default();
    match hemisphere {
        Hemisphere::Northern => (day(start_year, 10, 1), day(start_year + 1, 4, 30)),
        Hemisphere::Southern => (day(start_year, 4, 1), day(start_year, 10, 31)),
    }
}

/// Start year of the winter that a date lies in; absent outside winter.
fn winter_of(date: NaiveDate, hemisphere: Hemisphere) -> Option<i32> {
    let year = match hemisphere {
        Hemisphere::Northern if date.month() < 7 => date.year() - 1,
        Hemisphere::Northern | Hemisphere::Southern => date.year(),
    };
    let (first, last) = span(year, hemisphere);
    (first..=last).contains(&date).then_some(year)
}

/// One winter of daily extremes.
#[derive(Debug, Clone, PartialEq)]
pub struct DailyWinter {
    /// Year in which it starts.
    pub start_year: i32,
    /// Its days in order, with both extremes.
    pub days: Vec<DailyTemps>,
}

/// The winters of a climate.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DailyWinters {
    /// Those that are complete enough, in order.
    pub winters: Vec<DailyWinter>,
    /// How many are left out because too many of their days are missing.
    pub left_out: u32,
    /// Days of the winters whose high is their low with the usual range of the month.
    pub highs_assumed: u32,
}

impl DailyWinters {
    /// The winters of a daily record. A day without a high gets its low with the mean range of the month. A winter
    /// counts with nine days in ten and no more than five missing in a row.
    ///
    /// * `days` — in order of date
    pub fn of_record(days: &[DailyTemps], hemisphere: Hemisphere) -> Self {
        let ranges_k = monthly_ranges_k(days);
        let mut found: BTreeMap<i32, (Vec<DailyTemps>, u32)> = BTreeMap::new();
        for day in days {
            let (Some(min_c), Some(year)) = (day.min_c, winter_of(day.date, hemisphere)) else { continue };
            let (winter, assumed) = found.entry(year).or_default();
            *assumed += u32::from(day.max_c.is_none());
            let max_c = day.max_c.unwrap_or(min_c + ranges_k[day.date.month0() as usize]);
            winter.push(DailyTemps { max_c: Some(max_c), ..*day });
        }
        let mut all = Self::default();
        for (start_year, (days, assumed)) in found {
            if is_complete(&days, start_year, hemisphere) {
                all.highs_assumed += assumed;
                all.winters.push(DailyWinter { start_year, days });
            } else {
                all.left_out += 1;
            }
        }
        all
    }

    /// The winters of a climate that knows nightly lows alone, such as one drawn from typed averages.
    pub fn of_lows(climate: &Climate) -> Self {
        let hemisphere = climate.hemisphere();
        let days: Vec<DailyTemps> = climate
            .seasons()
            .iter()
            .flat_map(|season| {
                let slots = season.lows_c.iter().enumerate();
                slots.filter_map(|(slot, low_c)| {
                    let day = SeasonDay::from_index(slot);
                    let date = day.date(season.start_year, hemisphere);
                    let is_real = day.is_in(season.start_year, hemisphere);
                    is_real.then_some(DailyTemps { date, min_c: *low_c, max_c: None })
                })
            })
            .collect();
        Self::of_record(&days, hemisphere)
    }
}

fn is_complete(days: &[DailyTemps], start_year: i32, hemisphere: Hemisphere) -> bool {
    let (first, last) = span(start_year, hemisphere);
    let needed = NEEDED_SHARE * ((last - first).num_days() + 1) as f64;
    let longest = days
        .iter()
        .map(|day| day.date)
        .chain([last + Duration::days(1)])
        .scan(first - Duration::days(1), |before, date| {
            let missing = (date - *before).num_days() - 1;
            *before = date;
            Some(missing)
        })
        .max()
        .unwrap_or_default();
    days.len() as f64 >= needed && longest <= LONGEST_FILLED_DAYS as i64
}

/// Mean range of every month in kelvin, the usual one where too few days tell.
fn monthly_ranges_k(days: &[DailyTemps]) -> [f64; 12] {
    let mut sums = [(0.0, 0_u32); 12];
    for (month0, range_k) in days.iter().filter_map(|d| Some((d.date.month0(), d.max_c? - d.min_c?))) {
        let month = &mut sums[month0 as usize];
        *month = (month.0 + range_k, month.1 + 1);
    }
    sums.map(|(sum, count)| if count >= FEWEST_DAYS { sum / f64::from(count) } else { USUAL_RANGE_K })
}

/// One winter of hourly reports.
#[derive(Debug, Clone, PartialEq)]
pub struct HourlyWinter {
    /// Year in which it starts.
    pub start_year: i32,
    /// Its reports in order of time.
    pub reports: Vec<WeatherReport>,
}

/// The winters of a file of hourly reports.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HourlyWinters {
    /// Those of which the file holds a month or more, in order.
    pub winters: Vec<HourlyWinter>,
    /// How many are left out because the file holds less of them.
    pub left_out: u32,
    /// The calendar year whose two ends were put together to one winter, where the file holds no more than that.
    pub put_together: Option<i32>,
}

impl HourlyWinters {
    /// The winters of hourly reports, by the date of the mean sun.
    ///
    /// A calendar year holds the end of one winter and the start of the next. Where a file holds nothing else, they
    /// are put together to one winter, the start first; the weather jumps once, at the turn of the year.
    ///
    /// * `reports` — in any order
    pub fn of_reports(reports: &[WeatherReport], place: Place) -> Self {
        let hemisphere = Hemisphere::of_latitude(place.latitude_deg);
        let ahead = Duration::seconds((place.longitude_deg * 240.0) as i64);
        let date = |at: DateTime<Utc>| (at + ahead).date_naive();
        let mut found: BTreeMap<i32, Vec<WeatherReport>> = BTreeMap::new();
        for report in reports {
            if let Some(year) = winter_of(date(report.at), hemisphere) {
                found.entry(year).or_default().push(*report);
            }
        }
        let put_together = put_together(&mut found, date);
        let mut all = Self { put_together, ..Self::default() };
        for (start_year, mut reports) in found {
            reports.sort_by_key(|report| report.at);
            if reports.iter().filter(|report| report.temp_c.is_some()).count() >= FEWEST_HOURS {
                all.winters.push(HourlyWinter { start_year, reports });
            } else {
                all.left_out += 1;
            }
        }
        all
    }
}

/// Moves the end of a winter behind the start of the next where both are of one calendar year.
fn put_together(
    found: &mut BTreeMap<i32, Vec<WeatherReport>>,
    date: impl Fn(DateTime<Utc>) -> NaiveDate,
) -> Option<i32> {
    let [(ending, late), (starting, early)] = found.iter().collect::<Vec<_>>()[..] else { return None };
    let year = *starting;
    let of_year = |reports: &[WeatherReport]| reports.iter().all(|report| date(report.at).year() == year);
    if *ending + 1 != year || !of_year(late) || !of_year(early) {
        return None;
    }
    let one_year = NaiveDate::from_ymd_opt(year + 1, 1, 1)? - NaiveDate::from_ymd_opt(year, 1, 1)?;
    let late = found.remove(&(year - 1))?;
    let moved = late.into_iter().map(|report| WeatherReport { at: report.at + one_year, ..report });
    found.get_mut(&year)?.extend(moved);
    Some(year)
}

#[cfg(test)]
#[path = "years_test.rs"]
mod tests;
