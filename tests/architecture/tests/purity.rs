//! The source of the engine reaches for nothing outside itself.

#![expect(clippy::unwrap_used, reason = "a check that cannot read what it checks must fail")]

use std::fs;
use std::path::{Path, PathBuf};

/// Words of the standard library and of chrono that read the world, with what to do instead.
const REACHES_OUT: &[(&str, &str)] = &[
    ("std::fs", "a file's text is passed in"),
    ("std::net", "the engine has no network"),
    ("std::env", "settings are passed in"),
    ("std::process", "the engine starts nothing"),
    ("std::thread", "threads belong to the caller"),
    ("Instant::now", "time is passed in"),
    ("SystemTime", "time is passed in"),
    ("Utc::now", "time is passed in"),
    ("Local::now", "time is passed in"),
    ("println!", "a result is returned, not printed"),
    ("static mut", "the same input gives the same result"),
];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

#[test]
fn the_engine_reaches_for_nothing_outside_itself() {
    let mut files = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../src-tauri/crates/engine/src"), &mut files);
    assert!(files.len() > 10, "the engine has moved: mend the folder in this check");
    let mut broken = Vec::new();
    for file in files.iter().filter(|file| !file.ends_with("tests.rs")) {
        let text = fs::read_to_string(file).unwrap();
        // What follows is a test, which may read its cases from files.
        let code = text.split("#[cfg(test)]\nmod tests").next().unwrap_or_default();
        for (index, line) in code.lines().enumerate() {
            if line.trim_start().starts_with("//") {
                continue;
            }
            for (word, instead) in REACHES_OUT {
                if line.contains(word) {
                    broken.push(format!(
                        "{}:{}: no `{word}` in the engine: {instead}",
                        file.display(),
                        index + 1
                    ));
                }
            }
        }
    }
    assert!(broken.is_empty(), "\n{}", broken.join("\n"));
}
