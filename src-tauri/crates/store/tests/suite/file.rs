//! Opening files: ours, newer ones, foreign ones, two at once.

use std::path::{Path, PathBuf};
use std::sync::Barrier;

use hibernacle_store::{Store, StoreError};
use rusqlite::Connection;
use tempfile::TempDir;

use crate::sample::{site, write};

fn folder_with(name: &str, bytes: &[u8]) -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(name);
    std::fs::write(&file, bytes).unwrap();
    (folder, file)
}

/// Opens a file that must be refused, and makes sure that neither it nor its folder changed.
fn refusal(file: &Path) -> StoreError {
    let names = || {
        let folder = std::fs::read_dir(file.parent().unwrap()).unwrap();
        let mut names: Vec<_> = folder.map(|entry| entry.unwrap().file_name()).collect();
        names.sort();
        names
    };
    let (bytes, before) = (std::fs::read(file).unwrap(), names());
    let Err(error) = Store::open(file) else { panic!("{} was opened", file.display()) };
    assert_eq!(std::fs::read(file).unwrap(), bytes);
    assert_eq!(names(), before);
    error
}

#[test]
fn a_file_that_is_no_database_is_refused_untouched() {
    let (_folder, file) = folder_with("data.sqlite", b"date,tmin,tmax\n2025-11-01,-2.0,7.5\n");
    let error = refusal(&file);
    assert!(matches!(error, StoreError::NotOurs { .. }), "{error}");
    assert!(error.to_string().contains("data.sqlite: is not a database"), "{error}");
}

#[test]
fn a_file_too_short_for_a_header_is_refused_untouched() {
    let (_folder, file) = folder_with("data.sqlite", b"SQLite");
    assert!(matches!(refusal(&file), StoreError::NotOurs { .. }));
}

#[test]
fn a_database_of_another_program_is_refused_untouched() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data.sqlite");
    Connection::open(&file).unwrap().execute_batch("CREATE TABLE recipe (name TEXT)").unwrap();
    let error = refusal(&file);
    assert!(error.to_string().contains("a database of another program"), "{error}");
}

#[test]
fn a_newer_database_is_refused_untouched() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data.sqlite");
    let store = Store::open(&file).unwrap();
    write(&store, |data| data.put_site(&site("s")));
    drop(store);
    let connection = Connection::open(&file).unwrap();
    connection.pragma_update(None, "user_version", 9000).unwrap();
    drop(connection);

    let error = refusal(&file);
    let StoreError::TooNew { found, known, .. } = error else { panic!("{error}") };
    assert_eq!(found, 9000);
    assert!((1..9000).contains(&known));
}

#[test]
fn a_newer_format_is_seen_in_the_log_that_a_killed_program_left() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data.sqlite");
    drop(Store::open(&file).unwrap());
    let newer = Connection::open(&file).unwrap();
    newer.pragma_update(None, "user_version", 9000).unwrap();

    let copy = tempfile::tempdir().unwrap();
    for entry in std::fs::read_dir(folder.path()).unwrap() {
        let entry = entry.unwrap();
        std::fs::copy(entry.path(), copy.path().join(entry.file_name())).unwrap();
    }
    let copied = copy.path().join("data.sqlite");
    let bytes = || {
        let log = std::fs::read(copy.path().join("data.sqlite-wal")).unwrap();
        (std::fs::read(&copied).unwrap(), log)
    };
    let before = bytes();
    assert!(!before.1.is_empty());
    assert!(matches!(Store::open(&copied), Err(StoreError::TooNew { found: 9000, .. })));
    assert_eq!(bytes(), before);
}

#[test]
fn a_folder_that_does_not_exist_is_named() {
    let error = Store::open(Path::new("/nowhere/at/all/data.sqlite")).err().unwrap();
    assert!(matches!(error, StoreError::Unopened { .. }), "{error}");
    assert!(error.to_string().contains("/nowhere/at/all/data.sqlite"), "{error}");
}

#[test]
fn an_empty_file_becomes_a_database() {
    let (_folder, file) = folder_with("data.sqlite", b"");
    let store = Store::open(&file).unwrap();
    write(&store, |data| data.put_site(&site("s")));
    assert!(std::fs::read(&file).unwrap().starts_with(b"SQLite format 3"));
}

#[test]
fn a_database_of_ours_opens_again_with_what_was_written() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data.sqlite");
    write(&Store::open(&file).unwrap(), |data| data.put_site(&site("s")));
    let again = Store::open(&file).unwrap();
    assert_eq!(again.read(|data| data.sites()).unwrap(), [site("s")]);
}

#[test]
fn a_write_is_in_the_file_as_soon_as_it_is_acknowledged() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data.sqlite");
    let store = Store::open(&file).unwrap();
    write(&store, |data| data.put_site(&site("s")));
    // What a killed program leaves behind: the files as they are now, without a tidy end.
    let copy = tempfile::tempdir().unwrap();
    for entry in std::fs::read_dir(folder.path()).unwrap() {
        let entry = entry.unwrap();
        std::fs::copy(entry.path(), copy.path().join(entry.file_name())).unwrap();
    }
    let survivor = Store::open(&copy.path().join("data.sqlite")).unwrap();
    assert_eq!(survivor.read(|data| data.sites()).unwrap(), [site("s")]);
}

#[test]
fn a_failing_write_leaves_nothing() {
    let store = Store::in_memory().unwrap();
    let result: Result<(), StoreError> = store.write(|data| {
        data.put_site(&site("s"))?;
        Err(StoreError::Busy)
    });
    assert!(result.is_err());
    assert_eq!(store.read(|data| data.sites()).unwrap(), []);
    assert_eq!(store.read(|data| data.revision()).unwrap(), 0);
}

#[test]
fn a_panic_inside_a_write_leaves_nothing_and_the_store_usable() {
    let store = Store::in_memory().unwrap();
    let caught = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
        store.write(|data| -> Result<(), StoreError> {
            data.put_site(&site("s"))?;
            panic!("in the middle")
        })
    }));
    assert!(caught.is_err());
    assert_eq!(store.read(|data| data.sites()).unwrap(), []);
    write(&store, |data| data.put_site(&site("s")));
}

#[test]
fn programs_that_open_a_new_file_at_once_both_get_it() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data.sqlite");
    let start = Barrier::new(4);
    let stores: Vec<Store> = std::thread::scope(|scope| {
        let open = || {
            start.wait();
            Store::open(&file).unwrap()
        };
        let threads: Vec<_> = (0..4).map(|_| scope.spawn(open)).collect();
        threads.into_iter().map(|thread| thread.join().unwrap()).collect()
    });
    write(&stores[0], |data| data.put_site(&site("a")));
    write(&stores[1], |data| data.put_site(&site("b")));
    for store in &stores {
        assert_eq!(store.read(|data| data.sites()).unwrap().len(), 2);
        assert_eq!(store.read(|data| data.revision()).unwrap(), 2);
    }
}

#[test]
fn a_reader_sees_one_moment_while_another_program_writes() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data.sqlite");
    let (here, there) = (Store::open(&file).unwrap(), Store::open(&file).unwrap());
    here.read(|data| -> Result<(), StoreError> {
        assert_eq!(data.sites()?.len(), 0);
        write(&there, |data| data.put_site(&site("s")));
        assert_eq!(data.sites()?.len(), 0);
        Ok(())
    })
    .unwrap();
    assert_eq!(here.read(|data| data.sites()).unwrap().len(), 1);
}

#[test]
fn a_damaged_row_is_named_instead_of_guessed() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("data.sqlite");
    let store = Store::open(&file).unwrap();
    write(&store, |data| data.put_site(&site("s")));
    Connection::open(&file).unwrap().execute("UPDATE site SET temperature_unit = 'warm'", []).unwrap();
    let error = store.read(|data| data.sites()).unwrap_err();
    assert!(matches!(error, StoreError::Damaged { .. }), "{error}");
    assert!(error.to_string().contains("warm"), "{error}");
}
