use hibernacle_engine::climate::TypedClimate;
use hibernacle_store::StoredTyped;

use crate::sample::{date, garden, instant, write};

#[test]
fn averages_come_back_and_make_way_for_the_next() {
    let store = garden();
    let mut stored = StoredTyped {
        typed_at_utc: instant("2026-08-20T06:00:00Z"),
        typed: TypedClimate {
            first_freeze: date("2026-10-12"),
            last_freeze: date("2026-05-03"),
            annual_minimum_c: -17.4,
        },
    };
    assert_eq!(store.read(|data| data.typed_climate("s")).unwrap(), None);
    write(&store, |data| data.put_typed_climate("s", &stored));
    stored.typed.annual_minimum_c = -16.0;
    write(&store, |data| data.put_typed_climate("s", &stored));
    assert_eq!(store.read(|data| data.typed_climate("s")).unwrap(), Some(stored));
    let typed = store.read(|data| data.typed_climate_revision("s")).unwrap();
    assert_eq!(typed, Some(store.read(|data| data.revision()).unwrap()));
}
