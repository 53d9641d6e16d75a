use hibernacle_store::StoreError;

use crate::sample::{garden, shelter, site, write};

#[test]
fn a_shelter_comes_back_as_it_was_saved_and_changes_in_place() {
    let store = garden();
    write(&store, |data| data.put_shelter(&shelter("g", "s")));
    let mut changed = shelter("h", "s");
    changed.name = "lean-to".to_owned();
    changed.has_heater = false;
    write(&store, |data| data.put_shelter(&changed));
    assert_eq!(store.read(|data| data.shelters("s")).unwrap(), [changed.clone(), shelter("g", "s")]);
    assert_eq!(store.read(|data| data.shelter("h")).unwrap(), Some(changed));
}

#[test]
fn shelters_of_another_site_are_not_mixed_in() {
    let store = garden();
    write(&store, |data| data.put_site(&site("t")));
    write(&store, |data| data.put_shelter(&shelter("k", "t")));
    assert_eq!(store.read(|data| data.shelters("t")).unwrap(), [shelter("k", "t")]);
}

#[test]
fn a_shelter_without_a_site_is_refused_by_the_table_itself() {
    let store = garden();
    let result: Result<(), StoreError> = store.write(|data| data.put_shelter(&shelter("k", "nowhere")));
    assert!(result.is_err());
    assert_eq!(store.read(|data| data.shelter("k")).unwrap(), None);
}
