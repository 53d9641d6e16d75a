use hibernacle_engine::shelter::EnergyPrice;
use hibernacle_engine::shelter::fuel::Fuel;

use crate::sample::{garden, site, write};

#[test]
fn prices_take_the_place_of_those_before_at_their_site_only() {
    let store = garden();
    write(&store, |data| data.put_site(&site("t")));
    let electricity = EnergyPrice { fuel: Fuel::Electricity, per_unit: 0.31 };
    let propane = EnergyPrice { fuel: Fuel::Propane, per_unit: 0.9 };
    write(&store, |data| data.put_prices("s", &[electricity, propane]));
    write(&store, |data| data.put_prices("t", &[electricity]));
    assert_eq!(store.read(|data| data.prices("s")).unwrap(), [electricity, propane]);
    let dearer = EnergyPrice { per_unit: 1.2, ..propane };
    write(&store, |data| data.put_prices("s", &[dearer]));
    assert_eq!(store.read(|data| data.prices("s")).unwrap(), [dearer]);
    assert_eq!(store.read(|data| data.prices("t")).unwrap(), [electricity]);
}
