use hibernacle_engine::plant::PlantCatalogue;
use hibernacle_store::Store;

use crate::sample::write;

#[test]
fn every_built_in_plant_survives_being_stored_as_ones_own() {
    let store = Store::in_memory().unwrap();
    let built_in: Vec<_> = PlantCatalogue::built_in().unwrap().iter().cloned().collect();
    assert!(!built_in.is_empty());
    write(&store, |data| built_in.iter().try_for_each(|plant| data.put_own_plant(plant)));
    assert_eq!(store.read(|data| data.own_plants()).unwrap(), built_in);
    assert!(write(&store, |data| data.delete_own_plant(&built_in[0].key)));
    assert!(!write(&store, |data| data.delete_own_plant(&built_in[0].key)));
    assert_eq!(store.read(|data| data.own_plants()).unwrap(), built_in[1..]);
}
