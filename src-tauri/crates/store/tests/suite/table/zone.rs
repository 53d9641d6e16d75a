use hibernacle_store::StoreError;

use crate::sample::{garden, shelter, write, zone};

#[test]
fn a_zone_comes_back_as_it_was_saved_and_changes_in_place() {
    let store = garden();
    write(&store, |data| data.put_shelter(&shelter("g", "s")));
    write(&store, |data| data.put_zone(&zone("y", "g")));
    let mut changed = zone("z", "h");
    changed.kept_above_c = None;
    changed.offset_k = 0.5;
    write(&store, |data| data.put_zone(&changed));
    assert_eq!(store.read(|data| data.zones("s")).unwrap(), [changed.clone(), zone("y", "g")]);
    assert_eq!(store.read(|data| data.zones_of_shelter("g")).unwrap(), [zone("y", "g")]);
    assert_eq!(store.read(|data| data.zone("z")).unwrap(), Some(changed));
}

#[test]
fn a_zone_without_a_shelter_is_refused_by_the_table_itself() {
    let store = garden();
    let result: Result<(), StoreError> = store.write(|data| data.put_zone(&zone("y", "nowhere")));
    assert!(result.is_err());
}
