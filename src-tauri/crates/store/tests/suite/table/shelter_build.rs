use hibernacle_engine::shelter::{ShelterBuild, ShelterKind};
use hibernacle_store::{NewRemoval, RemovedKind};

use crate::sample::{date, garden, instant, shelter, site, write};

#[test]
fn a_build_comes_back_as_it_was_saved_changes_in_place_and_can_be_forgotten() {
    let store = garden();
    assert_eq!(store.read(|data| data.build("h")).unwrap(), None);
    let mut build = ShelterBuild::usual(&shelter("h", "s"));
    write(&store, |data| data.put_build(&build));
    build.covers.extend(ShelterBuild::usual_cover(ShelterKind::Greenhouse));
    build.covers[0].from = Some(date("2026-11-14"));
    build.leakage_factor = 1.0 / 3.0;
    write(&store, |data| data.put_build(&build));
    assert_eq!(store.read(|data| data.build("h")).unwrap(), Some(build.clone()));
    assert_eq!(store.read(|data| data.builds("s")).unwrap(), [build]);
    write(&store, |data| data.forget_build("h"));
    assert_eq!(store.read(|data| data.build("h")).unwrap(), None);
}

#[test]
fn a_build_is_out_of_sight_with_its_shelter() {
    let store = garden();
    write(&store, |data| data.put_site(&site("t")));
    let build = ShelterBuild::usual(&shelter("h", "s"));
    write(&store, |data| data.put_build(&build));
    let at_utc = instant("2026-11-01T10:00:00Z");
    let removal = NewRemoval { id: "r", kind: RemovedKind::Shelter, item_id: "h", name: "it", at_utc };
    write(&store, |data| data.remove(&removal));
    assert_eq!(store.read(|data| data.builds("s")).unwrap(), []);
    write(&store, |data| data.restore("r", at_utc));
    assert_eq!(store.read(|data| data.builds("s")).unwrap(), [build]);
    assert_eq!(store.read(|data| data.builds("t")).unwrap(), []);
}
