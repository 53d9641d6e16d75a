use hibernacle_store::Store;

use crate::sample::{site, write};

#[test]
fn a_site_comes_back_as_it_was_saved_and_changes_in_place() {
    let store = Store::in_memory().unwrap();
    write(&store, |data| data.put_site(&site("b")));
    write(&store, |data| data.put_site(&site("a")));
    let mut changed = site("b");
    changed.name = "Alder Row".to_owned();
    changed.latitude_deg = -41.25;
    changed.work.days.clear();
    write(&store, |data| data.put_site(&changed));
    assert_eq!(store.read(|data| data.sites()).unwrap(), [changed.clone(), site("a")]);
    assert_eq!(store.read(|data| data.site("b")).unwrap(), Some(changed));
    assert_eq!(store.read(|data| data.site("c")).unwrap(), None);
}
