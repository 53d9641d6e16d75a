//! A program that is killed in the middle of its work loses nothing that it acknowledged.

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};

use hibernacle_contract::setup::OverviewRequest;
use hibernacle_service::setup::{overview, site_save};
use hibernacle_service::{Context, SystemClock};
use hibernacle_test_support::draft;

const FOLDER: &str = "HIBERNACLE_TEST_KILL_FOLDER";

/// Not a test of its own: the program that is killed. It saves sites and tells each one that was acknowledged.
#[test]
fn child_that_saves_until_it_is_killed() {
    let Some(folder) = std::env::var_os(FOLDER) else { return };
    let context = Context::open(Path::new(&folder), SystemClock).unwrap();
    for _ in 0..100_000 {
        let site = site_save(&context, draft::site()).unwrap();
        let mut out = std::io::stdout().lock();
        writeln!(out, "saved {}", site.id).unwrap();
        out.flush().unwrap();
    }
}

#[test]
fn a_killed_program_loses_nothing_that_it_acknowledged() {
    for acknowledged in [1, 7, 40] {
        let folder = tempfile::tempdir().unwrap();
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "kill::child_that_saves_until_it_is_killed", "--nocapture"])
            .env(FOLDER, folder.path())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let lines = BufReader::new(child.stdout.take().unwrap()).lines().map(Result::unwrap);
        let ids = lines.filter_map(|line| line.split_once("saved ").map(|(_, id)| id.to_owned()));
        let told: BTreeSet<String> = ids.take(acknowledged).collect();
        child.kill().unwrap();
        child.wait().unwrap();

        let context = Context::open(folder.path(), SystemClock).unwrap();
        let kept = overview(&context, OverviewRequest::default()).unwrap().sites;
        let kept: BTreeSet<String> = kept.into_iter().map(|site| site.id).collect();
        assert_eq!(told.len(), acknowledged);
        assert!(told.is_subset(&kept), "{:?}", told.difference(&kept));
    }
}
