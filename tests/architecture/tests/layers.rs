//! The layers of the workspace: which crate may depend on which, and which outside crate belongs to one layer.

#![expect(clippy::unwrap_used, reason = "a check that cannot read what it checks must fail")]

use std::collections::BTreeMap;

use cargo_metadata::{DependencyKind, Metadata, MetadataCommand, Package};

/// What each crate may depend on. Dependencies point one way: hosts → service → store and contract → engine.
const LAYERS: &[(&str, &[&str], &str)] = &[
    ("hibernacle-engine", &[], "the engine is pure computing and knows nothing of the program around it"),
    (
        "hibernacle-contract",
        &["engine"],
        "the contract speaks about engine records and knows no implementation",
    ),
    ("hibernacle-store", &["engine"], "the store keeps engine records and knows no user interface"),
    (
        "hibernacle-service",
        &["engine", "contract", "store"],
        "the service is what a person can do, whatever the host",
    ),
    ("hibernacle-gateway", &["service", "contract"], "a host passes commands on and decides nothing"),
    ("hibernacle-cli", &["service", "contract", "gateway"], "a host passes commands on and decides nothing"),
    ("hibernacle", &["service", "contract", "gateway"], "a host passes commands on and decides nothing"),
    ("xtask", &["engine", "contract"], "automation builds and checks; it is no host"),
    (
        "hibernacle-test-support",
        &["engine", "contract", "store", "service", "gateway"],
        "tests stand above all layers",
    ),
    (
        "hibernacle-reference",
        &["engine", "test-support"],
        "reference checks are about the numbers of the engine",
    ),
    (
        "hibernacle-journeys",
        &["engine", "contract", "store", "service", "gateway", "test-support"],
        "tests stand above all layers",
    ),
    ("hibernacle-architecture", &[], "this check reads the workspace and uses none of it"),
];

/// Outside crates (by the start of the name) that belong to one layer.
const OWNED: &[(&str, &str, &str)] = &[
    ("rusqlite", "hibernacle-store", "SQL has one home, so that its locks and migrations have one home"),
    (
        "ureq",
        "hibernacle-service",
        "asking a weather service has one home, so that its manners have one home",
    ),
    ("axum", "hibernacle-gateway", "the network has one home, so that its refusals have one home"),
    ("tokio", "hibernacle-gateway", "async stays at the edge; the service runs on a blocking pool"),
    ("hyper", "hibernacle-gateway", "the network has one home, so that its refusals have one home"),
    ("tower", "hibernacle-gateway", "the network has one home, so that its refusals have one home"),
    ("rumqtt", "hibernacle-gateway", "the network has one home, so that its refusals have one home"),
    ("rust-embed", "hibernacle-gateway", "the user interface is served by the gateway alone"),
    ("tauri", "hibernacle", "everything but the window builds and tests without webview libraries"),
    ("wry", "hibernacle", "everything but the window builds and tests without webview libraries"),
];

/// Outside crates that read files, clocks, networks or the system's randomness, by the start of the name.
const IMPURE: &[&str] = &[
    "async-",
    "crossbeam",
    "dirs",
    "env_logger",
    "fastrand",
    "getrandom",
    "glob",
    "ignore",
    "memmap",
    "mio",
    "notify",
    "rayon",
    "reqwest",
    "socket2",
    "sqlx",
    "tempfile",
    "ureq",
    "uuid",
    "walkdir",
];

fn workspace() -> Metadata {
    let manifest = concat!(env!("CARGO_MANIFEST_DIR"), "/../../Cargo.toml");
    MetadataCommand::new().manifest_path(manifest).no_deps().exec().unwrap()
}

fn short(name: &str) -> &str {
    name.strip_prefix("hibernacle-").unwrap_or(name)
}

#[test]
fn dependencies_between_our_crates_point_one_way() {
    let metadata = workspace();
    let ours: Vec<&str> = metadata.packages.iter().map(|package| package.name.as_str()).collect();
    let rules: BTreeMap<&str, (&[&str], &str)> =
        LAYERS.iter().map(|(name, may, reason)| (*name, (*may, *reason))).collect();
    let mut broken = Vec::new();
    for package in &metadata.packages {
        let Some((may, reason)) = rules.get(package.name.as_str()) else {
            broken.push(format!("{} has no layer: give it a line in LAYERS", package.name));
            continue;
        };
        for dependency in &package.dependencies {
            let name = dependency.name.as_str();
            if !ours.contains(&name) {
                continue;
            }
            // Helpers for tests may be used by the tests of any crate.
            let for_tests =
                dependency.kind == DependencyKind::Development && name == "hibernacle-test-support";
            if !for_tests && !may.contains(&short(name)) {
                broken.push(format!("{} must not depend on {name}: {reason}", package.name));
            }
        }
    }
    assert!(broken.is_empty(), "\n{}", broken.join("\n"));
}

#[test]
fn outside_crates_stay_in_the_layer_that_owns_them() {
    let mut broken = Vec::new();
    for package in &workspace().packages {
        for dependency in &package.dependencies {
            for (outside, owner, reason) in OWNED {
                if dependency.name.starts_with(outside) && package.name.as_str() != *owner {
                    broken.push(format!(
                        "only {owner} may name {}, not {}: {reason}",
                        dependency.name, package.name
                    ));
                }
            }
        }
    }
    assert!(broken.is_empty(), "\n{}", broken.join("\n"));
}

#[test]
fn the_engine_names_no_crate_that_reaches_outside() {
    let metadata = workspace();
    let engine = package(&metadata, "hibernacle-engine");
    let mut broken = Vec::new();
    for dependency in
        engine.dependencies.iter().filter(|dependency| dependency.kind == DependencyKind::Normal)
    {
        let name = dependency.name.as_str();
        if IMPURE.iter().any(|impure| name.starts_with(impure)) {
            broken
                .push(format!("the engine must not use {name}: it has no files, clock, network or threads"));
        }
        let clock = dependency
            .features
            .iter()
            .any(|feature| ["clock", "now", "thread_rng", "os_rng"].contains(&feature.as_str()));
        let by_default = ["chrono", "rand"].contains(&name) && dependency.uses_default_features;
        if clock || by_default {
            broken.push(format!("the engine must use {name} without its clock or system randomness: time and seeds are passed in"));
        }
    }
    assert!(broken.is_empty(), "\n{}", broken.join("\n"));
}

#[test]
fn plain_cargo_test_leaves_the_window_out() {
    let metadata = workspace();
    let members = metadata.workspace_default_packages();
    assert!(
        members.iter().all(|package| package.name.as_str() != "hibernacle"),
        "the shell needs webview libraries; with it among the default members `cargo test` fails without them"
    );
    assert_eq!(
        members.len() + 1,
        metadata.packages.len(),
        "every other crate is a default member, else nobody tests it"
    );
}

#[test]
fn every_crate_takes_the_lints_of_the_workspace() {
    for package in &workspace().packages {
        let manifest = std::fs::read_to_string(&package.manifest_path).unwrap();
        assert!(
            manifest.contains("[lints]\nworkspace = true"),
            "{}: without `[lints] workspace = true` its missing docs and unwraps go unseen",
            package.name
        );
    }
}

fn package<'a>(metadata: &'a Metadata, name: &str) -> &'a Package {
    metadata.packages.iter().find(|package| package.name.as_str() == name).unwrap()
}
