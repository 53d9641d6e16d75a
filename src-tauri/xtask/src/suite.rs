//! Every check and test in order, with a closing summary.

use std::process::Command;
use std::time::Instant;

use anyhow::Result;
use clap::{Args, ValueEnum};

use crate::{codegen, needs, project, tidy, work};

#[derive(Args)]
pub(crate) struct Options {
    /// Run only one part.
    #[arg(long)]
    only: Option<Part>,
}

/// A part of the suite that can run alone.
#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Part {
    /// Format, lints, rules of the tree and the Rust tests.
    Rust,
    /// Types and unit tests of the user interface.
    Ui,
    /// The screens in a real Chromium, against the gateway.
    Browser,
    /// The real window on a virtual display.
    Desktop,
    /// The numbers of the engine against outside sources.
    Reference,
}

/// One line of the summary.
struct Outcome {
    label: &'static str,
    time: String,
    failure: Option<String>,
}

/// Runs steps, keeps going after a failure, remembers both.
#[derive(Default)]
struct Summary {
    outcomes: Vec<Outcome>,
}

impl Summary {
    fn step(&mut self, label: &'static str, work: impl FnOnce() -> Result<()>) -> bool {
        println!("\n━━ {label}");
        let start = Instant::now();
        let failure = work().err().map(|error| format!("{error:#}"));
        if let Some(failure) = &failure {
            println!("✘ {failure}");
        }
        let passed = failure.is_none();
        self.outcomes.push(Outcome { label, time: work::elapsed(start), failure });
        passed
    }

    /// Prints the list and the closing line.
    fn close(&self) -> Result<()> {
        println!();
        for Outcome { label, time, failure } in &self.outcomes {
            println!("{} {label} ({time})", if failure.is_none() { "✔" } else { "✘" });
        }
        let failed = self.outcomes.iter().filter(|outcome| outcome.failure.is_some()).count();
        println!("{} passed, {failed} failed", self.outcomes.len() - failed);
        if failed > 0 {
            anyhow::bail!("the suite failed");
        }
        Ok(())
    }
}

/// Runs the suite or a part of it.
///
/// # Errors
/// When a step failed; the summary is printed in any case.
pub(crate) fn run(options: &Options) -> Result<()> {
    let wanted = |part| options.only.is_none_or(|only| only == part);
    let mut summary = Summary::default();
    let ready = summary.step("what the tests need is installed", || prepare(options.only));
    if ready {
        if wanted(Part::Rust) {
            rust(&mut summary);
        } else if wanted(Part::Reference) {
            summary.step("reference checks", || {
                work::step(
                    "test",
                    work::cargo().args(["test", "--quiet", "--package", "hibernacle-reference"]),
                )
            });
        }
        if wanted(Part::Ui) {
            ui(&mut summary);
        }
        if wanted(Part::Browser) {
            summary.step("screens in Chromium", browser);
        }
        if wanted(Part::Desktop) {
            if cfg!(target_os = "linux") {
                summary.step("the real window", desktop);
            } else {
                println!("\nThe real window is driven on Linux only: its driver exists nowhere else.");
            }
        }
    }
    summary.close()
}

/// Installs what the wanted parts need and builds the user interface, which the shell takes in when it compiles.
fn prepare(only: Option<Part>) -> Result<()> {
    if only == Some(Part::Reference) {
        return Ok(());
    }
    if only != Some(Part::Ui) {
        needs::system(&[needs::WINDOW, needs::TESTS].concat())?;
    }
    needs::node()?;
    work::build_ui()
}

/// All cargo steps name the same packages, features and targets, so that dependencies are built once.
fn cargo(task: &str, arguments: &[&str]) -> Command {
    let mut command = work::cargo();
    command
        .args([task, "--quiet", "--workspace", "--features", "hibernacle-gateway/embedded-ui"])
        .args(arguments);
    command
}

fn rust(summary: &mut Summary) {
    summary.step("format", || work::step("cargo fmt", work::cargo().args(["fmt", "--all", "--check"])));
    summary.step("rules of the tree", tidy::run);
    summary.step("generated types are fresh", codegen::check);
    summary.step("lints", || {
        work::step("cargo clippy", &mut cargo("clippy", &["--all-targets", "--", "-D", "warnings"]))
    });
    summary.step("Rust tests and reference checks", || {
        build()?;
        work::step("cargo test", &mut cargo("test", &["--no-fail-fast"]))
    });
    summary.step("calendars read by another program", || {
        needs::modules("tests/journeys/calendar")?;
        work::step("cargo test", &mut cargo("test", &["--test", "calendar", "--", "--ignored"]))
    });
}

fn ui(summary: &mut Summary) {
    summary.step("types of the user interface", || {
        work::step("npm run check", work::npm("ui").args(["run", "check"]))
    });
    summary.step("units of the user interface", || work::step("npm test", work::npm("ui").arg("test")));
}

fn build() -> Result<()> {
    work::step("build the programs and tests", &mut cargo("build", &["--all-targets"]))
}

fn browser() -> Result<()> {
    build()?;
    needs::modules("tests/browser")?;
    let mut command = work::npm("tests/browser");
    command.arg("test").env("HIBERNACLE_GATEWAY", project::program("debug", "hibernacle-gateway"));
    work::step("npm test", &mut command)
}

fn desktop() -> Result<()> {
    build()?;
    let mut command = work::npm("tests/desktop");
    command.arg("test").env("HIBERNACLE_DESKTOP", project::program("debug", "hibernacle-desktop"));
    work::step("npm test", &mut command)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failed_step_fails_the_suite_and_the_next_still_runs() {
        let mut summary = Summary::default();
        assert!(!summary.step("first", || anyhow::bail!("no")));
        assert!(summary.step("second", || Ok(())));
        assert_eq!(summary.outcomes.len(), 2);
        assert!(summary.close().is_err());
    }
}
