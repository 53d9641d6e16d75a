use super::*;
use crate::climate::TypedClimate;

fn date(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

fn averages() -> Climate {
    let typed = TypedClimate {
        first_freeze: date("2026-10-14"),
        last_freeze: date("2026-05-04"),
        annual_minimum_c: -16.0,
    };
    Climate::from_typed(&typed, Hemisphere::Northern).expect("a climate")
}

#[test]
fn days_without_a_record_are_usual_for_the_date() {
    let climate = averages();
    let january = Surroundings::of(47.7, Some(&climate), &[], date("2027-01-15"), -12.0);
    assert_eq!((january.recent.len(), january.known_from), (15, KnownFrom::Climate));
    assert_eq!(january.recent.last().map(|day| day.date), Some(date("2027-01-15")));
    let first = january.recent[0];
    assert_eq!(first.max_c.zip(first.min_c).map(|(max, min)| max - min), Some(USUAL_RANGE_K));
    assert!((-12.0..-1.0).contains(&first.min_c.expect("a low")), "{first:?}");
    // No more than 14 K above the low on either side of the night.
    assert_eq!(january.next_high_c, january.recent[14].max_c.expect("a high"));
    let harsh = Surroundings::of(47.7, Some(&climate), &[], date("2027-01-15"), -30.0);
    assert_eq!(harsh.next_high_c, -30.0 + MOST_FALL_K);
    let july = Surroundings::of(47.7, Some(&climate), &[], date("2027-07-15"), 10.0);
    assert!(july.recent[0].min_c > first.min_c.map(|c| c + 8.0));
}

#[test]
fn recorded_days_count_where_the_record_reaches_up_to_the_night() {
    let day = |back: u64| DailyTemps {
        date: date("2027-01-14") - Days::new(back),
        min_c: Some(-7.5),
        max_c: Some(-2.5),
    };
    let record: Vec<DailyTemps> = (0..400).rev().map(day).collect();
    let found = Surroundings::of(47.7, Some(&averages()), &record, date("2027-01-15"), -6.0);
    assert_eq!(found.known_from, KnownFrom::Measured);
    assert_eq!((found.recent[3].min_c, found.recent[3].max_c), (Some(-7.5), Some(-2.5)));
    // The day itself is not in the record yet: the usual low with the month's range of 5 K.
    let last = found.recent[14];
    assert!((last.max_c.expect("a high") - last.min_c.expect("a low") - 5.0).abs() < 1e-9, "{last:?}");
}

#[test]
fn without_a_climate_the_latitude_decides() {
    let north = Surroundings::of(47.7, None, &[], date("2027-01-15"), -5.0);
    let south = Surroundings::of(-47.7, None, &[], date("2027-01-15"), -5.0);
    assert_eq!((north.known_from, south.known_from), (KnownFrom::Latitude, KnownFrom::Latitude));
    assert!(north.recent[0].min_c < south.recent[0].min_c, "January is winter in the north alone");
}
