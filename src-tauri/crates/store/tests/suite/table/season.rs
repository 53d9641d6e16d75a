use hibernacle_store::StoredSeason;

use crate::sample::{date, garden, write};

#[test]
fn a_season_keeps_the_day_it_was_first_planned() {
    let store = garden();
    assert_eq!(store.read(|data| data.season("s", 2026)).unwrap(), None);
    write(&store, |data| data.begin_season("s", 2026, date("2026-08-20")));
    write(&store, |data| data.begin_season("s", 2026, date("2026-11-01")));
    let expected = StoredSeason { start_year: 2026, began_on: date("2026-08-20") };
    assert_eq!(store.read(|data| data.season("s", 2026)).unwrap(), Some(expected));
    assert_eq!(store.read(|data| data.season("s", 2025)).unwrap(), None);
}
