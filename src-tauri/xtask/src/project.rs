//! Where things are in the tree.

use std::path::{Path, PathBuf};

/// Top folder of the project.
pub(crate) fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_path_buf()
}

/// Folder that the built programs are in, for a profile (`debug`, `release`).
pub(crate) fn built(profile: &str) -> PathBuf {
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), PathBuf::from);
    root().join(target).join(profile)
}

/// A built program, with the suffix that the platform gives it.
pub(crate) fn program(profile: &str, name: &str) -> PathBuf {
    built(profile).join(format!("{name}{}", std::env::consts::EXE_SUFFIX))
}
