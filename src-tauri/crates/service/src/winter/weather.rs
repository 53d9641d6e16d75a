//! The winters to run: of a file, of the climate's record, or drawn from typed averages.

use chrono::{NaiveDate, Timelike};
use hibernacle_contract::winter::WeatherFile;
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::climate::DailyTemps;
use hibernacle_engine::climate::hourly::{
    DailyAssumptions, HourlyFileError, Quantity, WeatherError, WeatherProblem, WeatherSeries, complete,
    from_daily, read_hourly_file,
};
use hibernacle_engine::season::{Figure, Reason};
use hibernacle_engine::shelter::winter::{DailyWinters, HourlyWinters};
use hibernacle_engine::site::{Hemisphere, Site};
use hibernacle_engine::sun::Place;

use crate::climate::{self, SiteClimate};
use crate::problem::Problem;

/// Winters of typed averages that are run where nobody says how many.
const USUAL_DRAWN: usize = 30;
/// Hours by the mean sun from and to which the warmest of a usual winter day lies, with an hour or two to spare.
const EARLIEST_WARMEST_H: usize = 11;
const LATEST_WARMEST_H: usize = 17;

/// One winter to run.
pub(super) struct Winter {
    pub(super) start_year: i32,
    weather: Weather,
}

enum Weather {
    Days(Vec<DailyTemps>),
    Hours(Box<WeatherSeries>),
}

impl Winter {
    /// Its weather by the hour.
    pub(super) fn series(&self, place: Place) -> Result<WeatherSeries, WeatherError> {
        match &self.weather {
            Weather::Days(days) => from_daily(place, days, DailyAssumptions::default()),
            Weather::Hours(series) => Ok((**series).clone()),
        }
    }
}

/// Winters, the latest last, with what is to be known of them.
pub(super) struct Winters {
    pub(super) winters: Vec<Winter>,
    pub(super) reasons: Vec<Reason>,
}

impl Winters {
    fn latest(winters: impl DoubleEndedIterator<Item = Winter>, most: usize) -> Vec<Winter> {
        let mut winters: Vec<Winter> = winters.rev().take(most).collect();
        winters.reverse();
        winters
    }

    /// The winters of the site's climate.
    pub(super) fn of_climate(
        climate: Option<&SiteClimate>,
        site: &Site,
        most: usize,
    ) -> Result<Self, Problem> {
        let known = climate.ok_or_else(|| climate::missing(site))?;
        let is_record = !known.days.is_empty();
        let (found, most) = if is_record {
            (DailyWinters::of_record(&known.days, site.hemisphere()), most)
        } else {
            (DailyWinters::of_lows(&known.climate), most.min(USUAL_DRAWN))
        };
        if found.winters.is_empty() {
            let message = format!(
                "no winter in the climate record of {} is complete enough: one needs nine days in ten and no more \
                 than five missing in a row; import a longer record or type averages",
                site.name
            );
            return Err(Problem::new(ErrorCode::Conflict, message));
        }
        let days = found.winters.iter().map(|winter| winter.days.len()).sum::<usize>();
        let winters = found
            .winters
            .into_iter()
            .map(|winter| Winter { start_year: winter.start_year, weather: Weather::Days(winter.days) });
        let winters = Self::latest(winters, most);
        let basis = if is_record { "winter-rests-record" } else { "winter-rests-averages" };
        let mut reasons = vec![counted(basis, winters.len()), Reason::new("winter-daily-weather")];
        if let ([first, ..], [.., last]) = (&winters[..], &winters[..])
            && is_record
        {
            let year = |year: i32| Figure::Text(year.to_string());
            reasons[0] = counted(basis, winters.len())
                .with("first", year(first.start_year))
                .with("last", year(last.start_year + winter_end(site.hemisphere())));
        }
        if found.left_out > 0 {
            reasons.push(counted("winter-left-out", found.left_out as usize));
        }
        if is_record && f64::from(found.highs_assumed) > 0.01 * days as f64 {
            reasons.push(Reason::new("winter-highs-assumed"));
        }
        Ok(Self { winters, reasons })
    }

    /// The winters of a file of hourly weather.
    pub(super) fn of_file(file: &WeatherFile, place: Place, most: usize) -> Result<Self, Problem> {
        let unread = |message: String| Failure::new(ErrorCode::Unreadable, message).at(&file.file_name, None);
        let reports =
            read_hourly_file(&file.file_name, &file.text).map_err(|error: HourlyFileError| Failure {
                field: error.field().map(str::to_owned),
                ..Failure::new(ErrorCode::Unreadable, error.to_string()).at(&file.file_name, error.line())
            })?;
        let found = HourlyWinters::of_reports(&reports, place);
        if found.winters.is_empty() {
            let message = format!(
                "“{}” holds less than a month of winter (October to April, in the south April to October); choose \
                 a file with more hours",
                file.file_name
            );
            return Err(unread(message).into());
        }
        let mut winters = Vec::new();
        let mut problems = Vec::new();
        for winter in found.winters {
            let series = complete(place, &winter.reports, DailyAssumptions::default())
                .map_err(|error| unread(format!("“{}”: {error}", file.file_name)))?;
            problems.extend(series.problems.iter().cloned());
            let weather = Weather::Hours(Box::new(series));
            winters.push(Winter { start_year: winter.start_year, weather });
        }
        let winters = Self::latest(winters.into_iter(), most);
        let mut reasons = vec![file_basis(file, &winters)];
        if let Some(year) = found.put_together {
            reasons.push(Reason::new("winter-put-together").with("year", Figure::Text(year.to_string())));
        }
        if found.left_out > 0 {
            reasons.push(counted("winter-scraps-left-out", found.left_out as usize));
        }
        reasons.extend(odd_warmest_hour(&winters, place));
        reasons.extend(doubts(&problems));
        Ok(Self { winters, reasons })
    }
}

/// Years from the start of a winter to its end.
fn winter_end(hemisphere: Hemisphere) -> i32 {
    match hemisphere {
        Hemisphere::Northern => 1,
        Hemisphere::Southern => 0,
    }
}

fn counted(message: &str, winters: usize) -> Reason {
    Reason::new(message).with("winters", Figure::Count(winters as u32))
}

fn file_basis(file: &WeatherFile, winters: &[Winter]) -> Reason {
    let mut span: Option<(NaiveDate, NaiveDate)> = None;
    let mut hours = 0;
    for winter in winters {
        let Weather::Hours(series) = &winter.weather else { continue };
        hours += series.hours.len();
        let first = series.start.date_naive();
        let last = (series.start + chrono::Duration::hours(series.hours.len() as i64 - 1)).date_naive();
        span = Some(span.map_or((first, last), |known| (known.0.min(first), known.1.max(last))));
    }
    let (first, last) = span.unwrap_or_default();
    counted("winter-rests-file", winters.len())
        .with("file", Figure::Text(file.file_name.clone()))
        .with("first", Figure::Date(first))
        .with("last", Figure::Date(last))
        .with("days", Figure::Days((hours as f64 / 24.0).round() as i32))
}

/// The hour by the mean sun in which the weather is warmest, where that is no hour of the afternoon: then its times are
/// read in a wrong zone, or its station lies far to the east or west.
fn odd_warmest_hour(winters: &[Winter], place: Place) -> Option<Reason> {
    let ahead = chrono::Duration::seconds((place.longitude_deg * 240.0) as i64);
    let mut sums = [(0.0, 0_u32); 24];
    for winter in winters {
        let Weather::Hours(series) = &winter.weather else { continue };
        for (index, hour) in series.hours.iter().enumerate() {
            let at = series.start + chrono::Duration::hours(index as i64) + ahead;
            let sum = &mut sums[at.hour() as usize];
            *sum = (sum.0 + hour.temp_c, sum.1 + 1);
        }
    }
    let mean_c = |hour: usize| sums[hour].0 / f64::from(sums[hour].1.max(1));
    let warmest = (0..24).max_by(|a, b| mean_c(*a).total_cmp(&mean_c(*b)))?;
    let is_usual = (EARLIEST_WARMEST_H..=LATEST_WARMEST_H).contains(&warmest);
    let hour = Figure::Text(format!("{warmest}:00"));
    (!is_usual).then(|| Reason::new("winter-odd-warmest-hour").with("hour", hour))
}

/// What was filled, estimated or left out in hourly weather.
fn doubts(problems: &[WeatherProblem]) -> Vec<Reason> {
    let (mut filled, mut odd) = (0, 0);
    let mut estimated: Vec<(&str, u32)> = Vec::new();
    for problem in problems {
        match problem {
            WeatherProblem::HoursFilled { hours, .. } => filled += hours,
            WeatherProblem::DaysFilled { days, .. } => filled += 24 * days,
            WeatherProblem::Implausible { .. } => odd += 1,
            WeatherProblem::Estimated { quantity, hours } => {
                let message = match quantity {
                    Quantity::Temperature => continue,
                    Quantity::Moisture => "winter-estimated-moisture",
                    Quantity::Wind => "winter-estimated-wind",
                    Quantity::Cloud => "winter-estimated-cloud",
                    Quantity::Sun => "winter-estimated-sun",
                };
                match estimated.iter_mut().find(|(known, _)| *known == message) {
                    Some((_, sum)) => *sum += hours,
                    None => estimated.push((message, *hours)),
                }
            }
        }
    }
    let hours = |message: &str, hours: u32| Reason::new(message).with("hours", Figure::Count(hours));
    let mut reasons = Vec::new();
    if filled > 0 {
        reasons.push(hours("winter-hours-filled", filled));
    }
    if odd > 0 {
        reasons.push(Reason::new("winter-values-dropped").with("values", Figure::Count(odd)));
    }
    reasons.extend(estimated.into_iter().map(|(message, sum)| hours(message, sum)));
    reasons
}
