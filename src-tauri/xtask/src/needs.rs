//! What the work needs from the machine: checks it, and installs what can be installed without a question.

use std::fs;
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};

use crate::{project, work};

/// Debian packages that building and showing the window needs.
pub(crate) const WINDOW: &[&str] =
    &["build-essential", "pkg-config", "libwebkit2gtk-4.1-dev", "librsvg2-dev"];

/// Debian packages that driving the window and a browser in tests needs besides.
pub(crate) const TESTS: &[&str] = &["webkit2gtk-driver", "xvfb", "dbus-daemon", "chromium"];

/// Oldest Node.js that the user interface builds with.
const NODE_MAJOR: u32 = 20;

/// Makes sure that system packages are there.
///
/// # Errors
/// Gives the one line to run when they are missing and cannot be installed without a question.
pub(crate) fn system(packages: &[&str]) -> Result<()> {
    if cfg!(windows) {
        // The WebView2 runtime comes with Windows 11 and current Windows 10; the linker is proven by this build.
        return Ok(());
    }
    if cfg!(target_os = "macos") {
        let tools =
            Command::new("xcode-select").arg("-p").stdout(Stdio::null()).stderr(Stdio::null()).status();
        if !tools.is_ok_and(|status| status.success()) {
            bail!("The command line tools of Xcode are missing. Run: xcode-select --install");
        }
        return Ok(());
    }
    if !work::answers("dpkg-query") {
        return other_linux();
    }
    let missing: Vec<&str> = packages.iter().copied().filter(|package| !is_installed(package)).collect();
    if missing.is_empty() {
        return Ok(());
    }
    install(&missing)
}

fn is_installed(package: &str) -> bool {
    let output = Command::new("dpkg-query")
        .args(["--show", "--showformat=${db:Status-Status}", package])
        .stderr(Stdio::null())
        .output();
    output.is_ok_and(|output| output.stdout == b"installed")
}

fn install(packages: &[&str]) -> Result<()> {
    let before: &[&str] = if is_root() {
        &[]
    } else if sudo_asks_nothing() {
        &["sudo", "-n"]
    } else {
        bail!(
            "System packages are missing. Run this line, then try again:\n  sudo apt-get update && sudo apt-get install -y --no-install-recommends {}",
            packages.join(" ")
        );
    };
    let apt = |arguments: &[&str]| {
        let words = [before, &["env", "DEBIAN_FRONTEND=noninteractive", "apt-get"], arguments].concat();
        let mut command = work::tool(words[0]);
        command.args(&words[1..]).stdout(Stdio::null());
        command
    };
    work::step("read the package lists", &mut apt(&["update", "-qq"]))?;
    let arguments = [&["install", "-y", "-qq", "--no-install-recommends"], packages].concat();
    work::step(&format!("install {}", packages.join(", ")), &mut apt(&arguments))
}

fn is_root() -> bool {
    let output = Command::new("id").arg("-u").output();
    output.is_ok_and(|output| output.stdout.trim_ascii() == b"0")
}

fn sudo_asks_nothing() -> bool {
    let mut command = Command::new("sudo");
    command.args(["-n", "true"]).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command.status().is_ok_and(|status| status.success())
}

fn other_linux() -> Result<()> {
    let found = Command::new("pkg-config").args(["--exists", "webkit2gtk-4.1"]).status();
    if found.is_ok_and(|status| status.success()) {
        return Ok(());
    }
    bail!(
        "WebKitGTK 4.1 with its development files is missing. Install it with the package manager of this system \
         (often named webkit2gtk4.1-devel or webkit2gtk-4.1), with pkg-config and librsvg, then try again."
    )
}

/// Makes sure that Node.js is there and new enough.
///
/// # Errors
/// Says which version is needed.
pub(crate) fn node() -> Result<()> {
    let output = work::tool("node").arg("--version").output();
    let version = output.map(|output| String::from_utf8_lossy(&output.stdout).trim().to_owned());
    let version = version
        .with_context(|| format!("Node.js {NODE_MAJOR} or newer with npm is needed and was not found"))?;
    let major = version.trim_start_matches('v').split('.').next().and_then(|major| major.parse().ok());
    if major.is_none_or(|major: u32| major < NODE_MAJOR) {
        bail!("Node.js {NODE_MAJOR} or newer is needed, this is {version}");
    }
    Ok(())
}

/// Makes sure that a folder's node modules are those of its lock file.
///
/// # Errors
/// When npm fails.
pub(crate) fn modules(folder: &str) -> Result<()> {
    let place = project::root().join(folder);
    let lock = fs::read(place.join("package-lock.json"))
        .with_context(|| format!("{folder}/package-lock.json cannot be read"))?;
    // A copy of the lock file inside the modules says what they were installed from.
    let mark = place.join("node_modules/.installed-from");
    if fs::read(&mark).is_ok_and(|installed| installed == lock) {
        return Ok(());
    }
    work::step(
        &format!("install the node modules of {folder}"),
        work::npm(folder).args(["ci", "--no-progress"]),
    )?;
    fs::create_dir_all(place.join("node_modules"))?;
    fs::write(&mark, lock).with_context(|| format!("cannot write {}", mark.display()))
}
