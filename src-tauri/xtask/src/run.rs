//! Builds the app and opens it with the demo season.

use std::process::Command;

use anyhow::{Result, bail};
use clap::Args;

use crate::{needs, project, work};

#[derive(Args)]
pub(crate) struct Options {
    /// Serve the app to a browser on this machine instead of opening a window.
    #[arg(long)]
    browser: bool,
    /// Build for speed instead of for debugging.
    #[arg(long)]
    release: bool,
}

/// Builds and opens the app.
///
/// # Errors
/// When something is missing and cannot be installed, does not build, or the app ends with a failure.
pub(crate) fn run(options: &Options) -> Result<()> {
    let window = !options.browser && has_display();
    if !window && !options.browser {
        println!("No display here: serving the app to a browser instead.");
    }
    needs::node()?;
    if window {
        needs::system(needs::WINDOW)?;
    }
    work::build_ui()?;
    let (package, program) = if window {
        ("hibernacle", "hibernacle-desktop")
    } else {
        ("hibernacle-gateway", "hibernacle-gateway")
    };
    let mut build = work::cargo();
    build.args(["build", "--package", package]);
    if !window {
        build.args(["--features", "embedded-ui"]);
    }
    if options.release {
        build.arg("--release");
    }
    work::step("build the app (the first time takes some minutes)", &mut build)?;

    let path = project::program(if options.release { "release" } else { "debug" }, program);
    let status = Command::new(path).current_dir(project::root()).arg("--demo").status()?;
    if !status.success() {
        bail!("{program} ended with a failure ({status})");
    }
    Ok(())
}

fn has_display() -> bool {
    let is_set = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    !cfg!(target_os = "linux") || is_set("DISPLAY") || is_set("WAYLAND_DISPLAY")
}
