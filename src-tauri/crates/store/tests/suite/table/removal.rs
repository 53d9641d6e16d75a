//! Removals with the links they cut.

use hibernacle_store::{NewRemoval, RemovedKind, Store};

use crate::sample::{garden, instant, planting, shelter, site, write, zone};

fn remove(store: &Store, id: &str, kind: RemovedKind, item_id: &str) {
    let at_utc = instant("2026-11-01T10:00:00Z");
    write(store, |data| data.remove(&NewRemoval { id, kind, item_id, name: "it", at_utc }));
}

fn restore(store: &Store, id: &str) {
    write(store, |data| data.restore(id, instant("2026-11-01T10:05:00Z")));
}

fn place(store: &Store) -> Option<String> {
    store.read(|data| data.planting("p")).unwrap().unwrap().zone_id
}

#[test]
fn a_shelter_takes_its_zones_and_brings_them_back_with_the_places() {
    let store = garden();
    remove(&store, "r", RemovedKind::Shelter, "h");
    assert!(store.read(|data| data.shelters("s")).unwrap().is_empty());
    assert!(store.read(|data| data.zones("s")).unwrap().is_empty());
    assert_eq!(place(&store), None);

    restore(&store, "r");
    assert_eq!(store.read(|data| data.shelters("s")).unwrap(), [shelter("h", "s")]);
    assert_eq!(store.read(|data| data.zones("s")).unwrap(), [zone("z", "h")]);
    assert_eq!(place(&store).as_deref(), Some("z"));
}

#[test]
fn a_zone_removed_earlier_stays_removed_when_its_shelter_comes_back() {
    let store = garden();
    remove(&store, "first", RemovedKind::Zone, "z");
    remove(&store, "second", RemovedKind::Shelter, "h");
    restore(&store, "second");
    assert!(store.read(|data| data.zones("s")).unwrap().is_empty());
    restore(&store, "first");
    assert_eq!(place(&store).as_deref(), Some("z"));
}

#[test]
fn a_planting_that_got_another_place_meanwhile_keeps_it() {
    let store = garden();
    write(&store, |data| data.put_zone(&zone("y", "h")));
    remove(&store, "r", RemovedKind::Zone, "z");
    write(&store, |data| data.put_planting(&planting("p", "s", Some("y"))));
    restore(&store, "r");
    assert_eq!(place(&store).as_deref(), Some("y"));
}

#[test]
fn a_removed_planting_finds_its_place_again_whatever_comes_back_first() {
    for order in [["planting", "zone"], ["zone", "planting"]] {
        let store = garden();
        remove(&store, "planting", RemovedKind::Planting, "p");
        remove(&store, "zone", RemovedKind::Zone, "z");
        for id in order {
            restore(&store, id);
        }
        assert_eq!(place(&store).as_deref(), Some("z"), "{order:?}");
    }
}

#[test]
fn a_site_takes_everything_and_brings_everything_back() {
    let store = garden();
    remove(&store, "r", RemovedKind::Site, "s");
    assert!(store.read(|data| data.sites()).unwrap().is_empty());
    assert!(store.read(|data| data.plantings("s")).unwrap().is_empty());
    assert!(store.read(|data| data.labels_of_plant("citrus-limon")).unwrap().is_empty());
    let removal = store.read(|data| data.removal("r")).unwrap().unwrap();
    assert_eq!((removal.kind, removal.item_id.as_str()), (RemovedKind::Site, "s"));
    assert_eq!(removal.restored_at_utc, None);

    restore(&store, "r");
    assert_eq!(store.read(|data| data.sites()).unwrap(), [site("s")]);
    assert_eq!(store.read(|data| data.zones("s")).unwrap(), [zone("z", "h")]);
    assert_eq!(place(&store).as_deref(), Some("z"));
    let removal = store.read(|data| data.removal("r")).unwrap().unwrap();
    assert_eq!(removal.restored_at_utc, Some(instant("2026-11-01T10:05:00Z")));
}
