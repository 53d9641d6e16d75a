use hibernacle_store::Store;

use crate::sample::write;

#[test]
fn a_setting_is_absent_until_made_and_changes_in_place() {
    let store = Store::in_memory().unwrap();
    assert_eq!(store.read(|data| data.setting("language")).unwrap(), None);
    write(&store, |data| data.put_setting("language", "de"));
    write(&store, |data| data.put_setting("language", "en"));
    assert_eq!(store.read(|data| data.setting("language")).unwrap().as_deref(), Some("en"));
}
