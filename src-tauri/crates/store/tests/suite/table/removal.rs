//! Removals with the links they cut.

use hibernacle_store::{NewRemoval, RemovedKind, Store};

use crate::sample::{garden, heater, instant, planting, sensor, shelter, site, write, zone};

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

/// The garden with a heater `a` and a sensor `i` in its zone, and a sensor `o` outdoors.
fn equipped() -> Store {
    let store = garden();
    write(&store, |data| {
        data.put_heater(&heater("a", "h", Some("z")))?;
        data.put_sensor(&sensor("i", "s", Some("z")))?;
        data.put_sensor(&sensor("o", "s", None))
    });
    store
}

/// Identifiers of the heaters and sensors of the site that are there.
fn equipment(store: &Store) -> (Vec<String>, Vec<String>) {
    store
        .read(|data| {
            let heaters = data.heaters("s")?.into_iter().map(|heater| heater.id).collect();
            let sensors = data.sensors("s")?.into_iter().map(|sensor| sensor.id).collect();
            Ok::<_, hibernacle_store::StoreError>((heaters, sensors))
        })
        .unwrap()
}

fn ids(heaters: &[&str], sensors: &[&str]) -> (Vec<String>, Vec<String>) {
    let owned = |ids: &[&str]| ids.iter().map(|id| (*id).to_owned()).collect();
    (owned(heaters), owned(sensors))
}

#[test]
fn heaters_and_sensors_are_removed_and_restored_by_themselves() {
    let store = equipped();
    remove(&store, "first", RemovedKind::Heater, "a");
    assert_eq!(equipment(&store), ids(&[], &["i", "o"]));
    assert_eq!(store.read(|data| data.heater("a")).unwrap(), None);
    assert_eq!(store.read(|data| data.heaters_of_shelter("h")).unwrap(), []);
    remove(&store, "second", RemovedKind::Sensor, "o");
    assert_eq!(equipment(&store), ids(&[], &["i"]));
    assert_eq!(store.read(|data| data.sensor("o")).unwrap(), None);
    restore(&store, "first");
    restore(&store, "second");
    assert_eq!(equipment(&store), ids(&["a"], &["i", "o"]));
}

#[test]
fn a_zone_takes_its_sensors_and_leaves_the_heater_without_a_zone() {
    let store = equipped();
    remove(&store, "r", RemovedKind::Zone, "z");
    assert_eq!(equipment(&store), ids(&["a"], &["o"]));
    assert_eq!(store.read(|data| data.heater("a")).unwrap(), Some(heater("a", "h", None)));
    restore(&store, "r");
    assert_eq!(equipment(&store), ids(&["a"], &["i", "o"]));
    assert_eq!(store.read(|data| data.heater("a")).unwrap(), Some(heater("a", "h", Some("z"))));
}

#[test]
fn a_shelter_or_a_site_takes_what_stands_in_it_but_not_what_was_removed_before() {
    for (kind, item, left) in [(RemovedKind::Shelter, "h", &["o"][..]), (RemovedKind::Site, "s", &[][..])] {
        let store = equipped();
        write(&store, |data| data.put_heater(&heater("b", "h", None)));
        remove(&store, "before", RemovedKind::Heater, "b");
        remove(&store, "r", kind, item);
        assert_eq!(equipment(&store), ids(&[], left));
        restore(&store, "r");
        assert_eq!(equipment(&store), ids(&["a"], &["i", "o"]), "{kind:?}");
        restore(&store, "before");
        assert_eq!(equipment(&store), ids(&["a", "b"], &["i", "o"]));
    }
}
