use hibernacle_engine::plant::Container;

use crate::sample::{garden, planting, write};

#[test]
fn a_planting_comes_back_as_it_was_saved_and_changes_in_place() {
    let store = garden();
    for (id, container) in [("q", Container::Ground), ("r", Container::Lifted)] {
        let mut entered = planting(id, "s", None);
        entered.container = container;
        entered.own_limit_c = Some(-2.5);
        write(&store, |data| data.put_planting(&entered));
        assert_eq!(store.read(|data| data.planting(id)).unwrap(), Some(entered));
    }
    let mut changed = planting("p", "s", None);
    changed.label = "lemon by the door".to_owned();
    changed.count = 3;
    write(&store, |data| data.put_planting(&changed));
    let all = store.read(|data| data.plantings("s")).unwrap();
    assert_eq!(all.len(), 3);
    assert_eq!(all[0], changed);
}

#[test]
fn plantings_of_a_plant_are_found_by_label() {
    let store = garden();
    assert_eq!(store.read(|data| data.labels_of_plant("citrus-limon")).unwrap(), ["old lemon"]);
    assert!(store.read(|data| data.labels_of_plant("olea-europaea")).unwrap().is_empty());
}
