use hibernacle_engine::shelter::Heater;

use crate::sample::{garden, heater, shelter, site, write, zone};

#[test]
fn a_heater_comes_back_as_it_was_saved_and_changes_in_place() {
    let store = garden();
    let bare = Heater { set_c: None, spot: None, faces_deg: None, circuit: None, ..heater("b", "h", None) };
    write(&store, |data| data.put_heater(&heater("a", "h", Some("z"))));
    write(&store, |data| data.put_heater(&bare));
    let changed = Heater { rating_w: 900.0, is_portable: true, ..heater("a", "h", None) };
    assert_eq!(store.read(|data| data.heater("a")).unwrap(), Some(heater("a", "h", Some("z"))));
    write(&store, |data| data.put_heater(&changed));
    assert_eq!(store.read(|data| data.heaters_of_shelter("h")).unwrap(), [changed.clone(), bare.clone()]);
    assert_eq!(store.read(|data| data.heaters("s")).unwrap(), [changed, bare]);
}

#[test]
fn heaters_of_another_site_are_not_mixed_in() {
    let store = garden();
    write(&store, |data| data.put_site(&site("t")));
    write(&store, |data| data.put_shelter(&shelter("k", "t")));
    write(&store, |data| data.put_heater(&heater("a", "k", None)));
    assert_eq!(store.read(|data| data.heaters("s")).unwrap(), []);
    assert_eq!(store.read(|data| data.heaters("t")).unwrap().len(), 1);
}

#[test]
fn a_zone_that_went_to_another_shelter_takes_no_heater_with_it() {
    let store = garden();
    write(&store, |data| data.put_shelter(&shelter("k", "s")));
    write(&store, |data| data.put_heater(&heater("a", "h", Some("z"))));
    write(&store, |data| data.put_zone(&zone("z", "k")));
    let found = store.read(|data| data.heater("a")).unwrap().unwrap();
    assert_eq!((found.shelter_id.as_str(), found.zone_id, found.sensor_zone_id), ("h", None, None));
}
