use std::collections::BTreeSet;

use super::MESSAGES;

#[test]
fn every_message_stands_once_in_the_table() {
    let keys: BTreeSet<&str> = MESSAGES.iter().map(|(key, _)| *key).collect();
    assert_eq!(keys.len(), MESSAGES.len());
}
