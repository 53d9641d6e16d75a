use hibernacle_engine::shelter::Sensor;

use crate::sample::{garden, sensor, write};

#[test]
fn a_sensor_comes_back_as_it_was_saved_and_changes_in_place() {
    let store = garden();
    let outdoors = Sensor { height_m: None, ..sensor("o", "s", None) };
    write(&store, |data| data.put_sensor(&sensor("a", "s", None)));
    write(&store, |data| data.put_sensor(&outdoors));
    let moved = sensor("a", "s", Some("z"));
    write(&store, |data| data.put_sensor(&moved));
    assert_eq!(store.read(|data| data.sensor("a")).unwrap(), Some(moved.clone()));
    assert_eq!(store.read(|data| data.sensors("s")).unwrap(), [moved, outdoors]);
    assert_eq!(store.read(|data| data.sensors("t")).unwrap(), []);
}
