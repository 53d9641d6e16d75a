use super::*;
use crate::climate::TypedClimate;

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn days(first: &str, last: &str) -> Vec<DailyTemps> {
    let first = date(first);
    (0..=(date(last) - first).num_days())
        .map(|day| DailyTemps { date: first + Duration::days(day), min_c: Some(-2.0), max_c: Some(4.0) })
        .collect()
}

fn years(found: &DailyWinters) -> Vec<i32> {
    found.winters.iter().map(|winter| winter.start_year).collect()
}

#[test]
fn a_winter_is_named_by_the_year_in_which_it_starts_on_both_halves_of_the_earth() {
    let record = days("2010-01-01", "2013-12-31");
    let north = DailyWinters::of_record(&record, Hemisphere::Northern);
    assert_eq!((years(&north), north.left_out), (vec![2010, 2011, 2012], 2));
    assert_eq!(north.winters[1].days.len(), 213, "with its 29 February");
    assert_eq!(north.winters[1].days[0].date, date("2011-10-01"));
    let south = DailyWinters::of_record(&record, Hemisphere::Southern);
    assert_eq!((years(&south), south.left_out), (vec![2010, 2011, 2012, 2013], 0));
}

#[test]
fn a_winter_with_a_hole_is_left_out() {
    let mut record = days("2010-07-01", "2013-06-30");
    record.retain(|day| !(date("2011-01-05")..=date("2011-01-10")).contains(&day.date));
    let without_five = |day: &DailyTemps| !(date("2012-01-05")..=date("2012-01-09")).contains(&day.date);
    record.retain(without_five);
    let found = DailyWinters::of_record(&record, Hemisphere::Northern);
    assert_eq!((years(&found), found.left_out), (vec![2011, 2012], 1));
    // One day in eight missing: never many in a row, but too many.
    record.retain(|day| day.date < date("2012-10-01") || day.date.ordinal() % 8 != 0);
    let found = DailyWinters::of_record(&record, Hemisphere::Northern);
    assert_eq!((years(&found), found.left_out), (vec![2011], 2));
}

#[test]
fn a_low_without_a_high_gets_the_usual_range_of_its_month() {
    let mut record = days("2010-07-01", "2012-06-30");
    for day in record.iter_mut().filter(|day| day.date >= date("2011-07-01")) {
        day.max_c = None;
    }
    let found = DailyWinters::of_record(&record, Hemisphere::Northern);
    assert_eq!((years(&found), found.highs_assumed), (vec![2010, 2011], 213));
    assert!(found.winters[1].days.iter().all(|day| day.max_c == Some(4.0)));
    let typed = TypedClimate {
        first_freeze: date("2026-10-14"),
        last_freeze: date("2026-05-04"),
        annual_minimum_c: -16.0,
    };
    let climate = Climate::from_typed(&typed, Hemisphere::Northern).unwrap();
    let found = DailyWinters::of_lows(&climate);
    assert_eq!((found.winters.len(), found.left_out), (climate.seasons().len(), 0));
    let day = found.winters[7].days[100];
    assert!((day.max_c.unwrap() - day.min_c.unwrap() - USUAL_RANGE_K).abs() < 1e-9);
}

fn reports(first: &str, last: &str) -> Vec<WeatherReport> {
    let start = date(first).and_time(chrono::NaiveTime::MIN).and_utc();
    let hours = ((date(last) - date(first)).num_days() + 1) * 24;
    (0..hours)
        .map(|hour| WeatherReport::of_temperature(start + Duration::hours(hour), (hour % 24) as f64 - 10.0))
        .collect()
}

const VALLEY: Place = Place { latitude_deg: 47.7, longitude_deg: 0.0, elevation_m: 470.0 };

#[test]
fn the_ends_of_one_calendar_year_make_a_winter() {
    let found = HourlyWinters::of_reports(&reports("2013-01-01", "2013-12-31"), VALLEY);
    assert_eq!((found.put_together, found.left_out, found.winters.len()), (Some(2013), 0, 1));
    let winter = &found.winters[0];
    assert_eq!((winter.start_year, winter.reports.len()), (2013, 212 * 24));
    assert_eq!(winter.reports[0].at.date_naive(), date("2013-10-01"));
    assert_eq!(winter.reports.last().unwrap().at.date_naive(), date("2014-04-30"));
    assert!(winter.reports.windows(2).all(|pair| pair[1].at - pair[0].at == Duration::hours(1)));
}

#[test]
fn longer_files_keep_their_real_winters_and_lose_the_scraps() {
    let found = HourlyWinters::of_reports(&reports("2012-04-10", "2014-02-01"), VALLEY);
    let years: Vec<i32> = found.winters.iter().map(|winter| winter.start_year).collect();
    assert_eq!((years, found.left_out, found.put_together), (vec![2012, 2013], 1, None));
    let southern = Place { latitude_deg: -45.0, ..VALLEY };
    let found = HourlyWinters::of_reports(&reports("2013-01-01", "2013-12-31"), southern);
    assert_eq!((found.winters.len(), found.put_together), (1, None));
    assert_eq!(HourlyWinters::of_reports(&[], VALLEY), HourlyWinters::default());
}
