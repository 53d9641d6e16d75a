//! A record under construction: days from the layouts come together here and are checked.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate};

use super::super::{ClimateRecord, DailyTemps, RecordSource, Station};
use super::doubtful;
use super::error::ClimateFileError;
use super::problems::ProblemLog;

/// Which extreme of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Extreme {
    Min,
    Max,
}

impl Extreme {
    /// The extreme of a GHCN-Daily element.
    pub(super) fn of_element(element: &str) -> Option<Self> {
        match element {
            "TMIN" => Some(Self::Min),
            "TMAX" => Some(Self::Max),
            _ => None,
        }
    }

    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Min => "minimum",
            Self::Max => "maximum",
        }
    }
}

/// Lowest and highest temperature in °C that a weather station can report.
pub(super) const POSSIBLE_C: std::ops::RangeInclusive<f64> = -90.0..=60.0;

/// Years of which there can be a record.
const POSSIBLE_YEARS: std::ops::RangeInclusive<i32> = 1700..=2200;

/// One day under construction, with the line it was first met in.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct DraftDay {
    pub(super) line: u32,
    pub(super) min_c: Option<f64>,
    pub(super) max_c: Option<f64>,
}

impl DraftDay {
    pub(super) fn get(&self, extreme: Extreme) -> Option<f64> {
        match extreme {
            Extreme::Min => self.min_c,
            Extreme::Max => self.max_c,
        }
    }

    pub(super) fn slot(&mut self, extreme: Extreme) -> &mut Option<f64> {
        match extreme {
            Extreme::Min => &mut self.min_c,
            Extreme::Max => &mut self.max_c,
        }
    }
}

/// A record under construction.
#[derive(Debug)]
pub(super) struct Draft {
    file: String,
    source: RecordSource,
    pub(super) station: Station,
    days: BTreeMap<NaiveDate, DraftDay>,
    pub(super) log: ProblemLog,
}

impl Draft {
    pub(super) fn new(file: &str, source: RecordSource) -> Self {
        Self {
            file: file.to_string(),
            source,
            station: Station::default(),
            days: BTreeMap::new(),
            log: ProblemLog::default(),
        }
    }

    /// The date of year, month and day; an impossible one is noted.
    pub(super) fn date(&mut self, line: u32, year: i32, month: u32, day: u32) -> Option<NaiveDate> {
        let date = NaiveDate::from_ymd_opt(year, month, day);
        let possible = date.filter(|date| POSSIBLE_YEARS.contains(&date.year()));
        if possible.is_none() {
            self.impossible_date(line, &format!("{year:04}-{month:02}-{day:02}"));
        }
        possible
    }

    pub(super) fn impossible_date(&mut self, line: u32, found: &str) {
        self.log.add(line, "lines with an impossible date", || {
            format!("“{found}” is not a date (year-month-day): left out")
        });
    }

    /// Whether a day was met before.
    pub(super) fn has(&self, date: NaiveDate) -> bool {
        self.days.contains_key(&date)
    }

    /// The last day met so far by the calendar.
    pub(super) fn latest(&self) -> Option<NaiveDate> {
        self.days.last_key_value().map(|(date, _)| *date)
    }

    /// Takes a day even where it has no temperature, so that its second appearance is noticed.
    pub(super) fn touch(&mut self, line: u32, date: NaiveDate) {
        self.days.entry(date).or_insert(DraftDay { line, ..DraftDay::default() });
    }

    /// Takes a temperature in °C, rounded to tenths as the networks store it.
    pub(super) fn put(&mut self, line: u32, date: NaiveDate, extreme: Extreme, temp_c: f64) {
        if !POSSIBLE_C.contains(&temp_c) {
            self.log.add(line, "temperatures outside −90 to 60 °C", || {
                format!("{} of {date} is {temp_c:.1} °C, outside −90 to 60: left out", extreme.word())
            });
            return;
        }
        let day = self.days.entry(date).or_insert(DraftDay { line, ..DraftDay::default() });
        if day.get(extreme).is_some() {
            self.given_twice(line, date);
        } else {
            // Adding 0 turns −0 into 0.
            *day.slot(extreme) = Some((temp_c * 10.0).round() / 10.0 + 0.0);
        }
    }

    pub(super) fn given_twice(&mut self, line: u32, date: NaiveDate) {
        self.log.add(line, "days given twice", || format!("{date} is given twice: the first one stands"));
    }

    /// Notes a value that failed the network's quality checks.
    pub(super) fn flagged(&mut self, line: u32, date: NaiveDate, extreme: Extreme, flag: char) {
        self.log.add(line, "temperatures that failed a quality check of the network", || {
            format!(
                "{} of {date} failed a quality check of the network (flag {flag}): left out",
                extreme.word()
            )
        });
    }

    /// Checks days against themselves and each other and closes the record.
    pub(super) fn finish(mut self) -> Result<ClimateRecord, ClimateFileError> {
        self.drop_crossed()?;
        doubtful::drop_doubtful(&mut self.days, &mut self.log);
        self.days.retain(|_, day| day.min_c.is_some() || day.max_c.is_some());
        if self.days.values().all(|day| day.min_c.is_none()) {
            let first = self.log.first();
            return Err(ClimateFileError::NoUsableDays {
                file: self.file,
                line: first.map(|problem| problem.line),
                reason: first
                    .map_or(String::new(), |found| format!(" (line {}: {})", found.line, found.what)),
            });
        }
        let days = self
            .days
            .into_iter()
            .map(|(date, day)| DailyTemps { date, min_c: day.min_c, max_c: day.max_c })
            .collect();
        Ok(ClimateRecord { station: self.station, source: self.source, days, problems: self.log.finish() })
    }

    /// Drops both extremes of days with the minimum above the maximum: either could be the wrong one.
    fn drop_crossed(&mut self) -> Result<(), ClimateFileError> {
        let pairs = self.days.values().filter(|day| day.min_c.is_some() && day.max_c.is_some()).count();
        let crossed: Vec<NaiveDate> = self
            .days
            .iter()
            .filter(|(_, day)| day.min_c.zip(day.max_c).is_some_and(|(min, max)| min > max))
            .map(|(date, _)| *date)
            .collect();
        if crossed.len() * 2 > pairs && pairs > 1 {
            let line = crossed.first().and_then(|date| self.days.get(date)).map_or(1, |day| day.line);
            return Err(ClimateFileError::Swapped {
                file: self.file.clone(),
                line,
                days: crossed.len() as u32,
            });
        }
        for date in crossed {
            let Some(day) = self.days.get_mut(&date) else { continue };
            let (min, max) = (day.min_c.take(), day.max_c.take());
            self.log.add(day.line, "days with the minimum above the maximum", || {
                format!(
                    "{date} has the minimum {:.1} °C above the maximum {:.1} °C: both left out",
                    min.unwrap_or_default(),
                    max.unwrap_or_default()
                )
            });
        }
        Ok(())
    }
}
