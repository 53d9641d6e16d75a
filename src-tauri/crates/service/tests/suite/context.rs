use hibernacle_contract::ErrorCode::{Storage, TooNew};
use hibernacle_contract::setup::OverviewRequest;
use hibernacle_service::setup::{overview, site_save};
use hibernacle_service::{Context, DATA_FILE};
use hibernacle_test_support::{Garden, SimulatedClock, draft};

use crate::refused;

fn clock() -> SimulatedClock {
    SimulatedClock::at("2026-08-20T08:00:00Z")
}

#[test]
fn the_folder_is_made_and_the_data_is_there_next_time() {
    let folder = tempfile::tempdir().unwrap();
    let inner = folder.path().join("not/yet/there");
    let saved = site_save(&Context::open(&inner, clock()).unwrap(), draft::site()).unwrap();
    let again = Context::open(&inner, clock()).unwrap();
    assert_eq!(overview(&again, OverviewRequest::default()).unwrap().site, Some(saved));
}

#[test]
fn two_programs_on_one_file_see_each_others_changes() {
    let folder = tempfile::tempdir().unwrap();
    let here = Garden::in_context(Context::open(folder.path(), clock()).unwrap(), clock());
    let there = Context::open(folder.path(), clock()).unwrap();
    let mut site = overview(&there, OverviewRequest::default()).unwrap().site.unwrap();
    site.name = "upper terrace".to_owned();
    site_save(&there, site.clone()).unwrap();
    assert_eq!(overview(&here.context, OverviewRequest::default()).unwrap().site, Some(site));
}

#[test]
fn programs_that_write_at_once_wait_for_each_other_and_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let contexts: Vec<Context> = (0..2).map(|_| Context::open(folder.path(), clock()).unwrap()).collect();
    std::thread::scope(|scope| {
        for context in &contexts {
            for _ in 0..2 {
                scope.spawn(|| {
                    for _ in 0..10 {
                        site_save(context, draft::site()).unwrap();
                    }
                });
            }
        }
    });
    assert_eq!(overview(&contexts[0], OverviewRequest::default()).unwrap().sites.len(), 40);
}

#[test]
fn a_file_that_is_no_database_is_named_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(DATA_FILE);
    std::fs::write(&file, "my seed list").unwrap();
    let failure = Context::open(folder.path(), clock()).err().unwrap();
    assert_eq!((failure.code, failure.file), (Storage, Some(file.display().to_string())));
    assert_eq!(std::fs::read(&file).unwrap(), b"my seed list");
}

#[test]
fn a_newer_file_is_refused_with_its_own_code() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(DATA_FILE);
    drop(Context::open(folder.path(), clock()).unwrap());
    let mut bytes = std::fs::read(&file).unwrap();
    // Bytes 60 to 63 of the header hold the format (SQLite database file format, section 1.3).
    bytes[60..64].copy_from_slice(&70_000_u32.to_be_bytes());
    std::fs::write(&file, &bytes).unwrap();
    let message = refused(Context::open(folder.path(), clock()), TooNew, None);
    assert!(message.contains("written by a newer Hibernacle"), "{message}");
    assert_eq!(std::fs::read(&file).unwrap(), bytes);
}

#[test]
fn a_folder_that_is_a_file_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data");
    std::fs::write(&file, "").unwrap();
    let failure = Context::open(&file, clock()).err().unwrap();
    assert_eq!((failure.code, failure.file), (Storage, Some(file.display().to_string())));
}
