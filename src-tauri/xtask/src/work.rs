//! Runs outside tools and says what is going on and for how long.

use std::path::Path;
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};

use crate::{needs, project};

/// How often a long step says that it is still going.
const HEARTBEAT: Duration = Duration::from_secs(20);

/// A tool that starts in the top folder of the project and never waits for a key.
pub(crate) fn tool(name: &str) -> Command {
    let mut command = Command::new(name);
    command.current_dir(project::root()).stdin(Stdio::null());
    command
}

/// The cargo that runs this program.
pub(crate) fn cargo() -> Command {
    tool(&std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned()))
}

/// npm in a folder of the project.
pub(crate) fn npm(folder: &str) -> Command {
    let mut command = tool(if cfg!(windows) { "npm.cmd" } else { "npm" });
    command.current_dir(project::root().join(folder));
    command
}

/// Builds the user interface, which the shell and the gateway take in when they compile.
///
/// # Errors
/// When its modules cannot be installed or it does not build.
pub(crate) fn build_ui() -> Result<()> {
    needs::modules("ui")?;
    let mut command = npm("ui");
    command.args(["run", "--silent", "build", "--", "--logLevel", "warn"]);
    step("build the user interface", &mut command)
}

/// Runs a tool to its end with a line before, a line after, and lines between when it takes long.
///
/// # Errors
/// When the tool cannot be started or ends with a failure.
pub(crate) fn step(label: &str, command: &mut Command) -> Result<()> {
    println!("▸ {label}");
    let start = Instant::now();
    let mut child = command.spawn().with_context(|| cannot_start(command.get_program().as_ref()))?;
    let mut next = HEARTBEAT;
    let status = loop {
        if let Some(status) = child.try_wait()? {
            break status;
        }
        thread::sleep(Duration::from_millis(50));
        if start.elapsed() >= next {
            println!("  … {label}: {}", elapsed(start));
            next += HEARTBEAT;
        }
    };
    if !status.success() {
        bail!("{label}: failed after {} ({status})", elapsed(start));
    }
    println!("✔ {label} ({})", elapsed(start));
    Ok(())
}

/// Whether a program answers when asked for its version.
pub(crate) fn answers(name: &str) -> bool {
    let mut command = Command::new(name);
    command.arg("--version").stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command.status().is_ok_and(|status| status.success())
}

/// Time since a start, for people.
pub(crate) fn elapsed(start: Instant) -> String {
    let seconds = start.elapsed().as_secs_f64();
    if seconds < 60.0 {
        format!("{seconds:.1} s")
    } else {
        format!("{} min {:02} s", seconds as u64 / 60, seconds as u64 % 60)
    }
}

fn cannot_start(program: &Path) -> String {
    format!("`{}` cannot be started: is it installed and on the PATH?", program.display())
}
