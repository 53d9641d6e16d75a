//! The texts of the command line and of the calendar: every key in use has a message, every message is in use.

#![allow(clippy::unwrap_used, reason = "a test")]

use std::collections::BTreeSet;
use std::path::Path;

const MESSAGES: &str = include_str!("../../contract/messages/en/cli.ftl");

fn sources(folder: &Path) -> String {
    let mut text = String::new();
    for entry in std::fs::read_dir(folder).unwrap().map(Result::unwrap) {
        let path = entry.path();
        if path.extension().is_some_and(|extension| extension == "rs") {
            text += &std::fs::read_to_string(path).unwrap();
        }
    }
    text
}

fn keys_in(text: &str, starts: &[&str]) -> BTreeSet<String> {
    text.split('"')
        .filter(|part| starts.iter().any(|start| part.starts_with(start)))
        .map(str::to_owned)
        .collect()
}

#[test]
fn keys_and_messages_agree() {
    let crates = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap();
    let mut used = keys_in(&sources(&crates.join("cli/src")), &["cli-"]);
    used.extend(keys_in(&sources(&crates.join("service/src/calendar")), &["calendar-"]));
    let worded: BTreeSet<String> = MESSAGES
        .lines()
        .filter(|line| !line.starts_with(['#', ' ', '}', '[', '*']))
        .filter_map(|line| line.split_once(" =").map(|(key, _)| key.to_owned()))
        .collect();
    assert!(used.len() > 50, "the sources were not found");
    let missing: Vec<&String> = used.difference(&worded).collect();
    let unused: Vec<&String> = worded.difference(&used).collect();
    assert!(
        missing.is_empty() && unused.is_empty(),
        "without a message: {missing:?}; never used: {unused:?}"
    );
}
