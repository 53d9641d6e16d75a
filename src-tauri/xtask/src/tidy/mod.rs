//! Rules of the tree that the compiler does not know, each with its reason.

mod rules;

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};

use crate::{project, work};
use rules::RULES;

/// Places shown for one broken rule.
const SHOWN: usize = 20;

/// A file of the project, by its path from the top folder with `/` between folders.
pub(crate) struct SourceFile {
    path: String,
    text: String,
}

impl SourceFile {
    fn has_ending(&self, endings: &[&str]) -> bool {
        self.path.rsplit_once('.').is_some_and(|(_, ending)| endings.contains(&ending))
    }
}

/// A rule: what it asks, why, and how to find what breaks it.
pub(crate) struct Rule {
    name: &'static str,
    reason: &'static str,
    /// Pushes a line for each place that breaks the rule.
    check: fn(&SourceFile, &mut Vec<String>),
}

/// Checks every file that is or would be committed.
///
/// # Errors
/// Names each broken rule with its reason and the places.
pub(crate) fn run() -> Result<()> {
    let files = files(&project::root())?;
    let mut report = String::new();
    let mut broken = 0;
    for rule in RULES {
        let mut places = Vec::new();
        for file in &files {
            (rule.check)(file, &mut places);
        }
        places.dedup();
        if !places.is_empty() {
            broken += places.len();
            report.push_str(&format!("{}: {}\n", rule.name, rule.reason));
            for place in places.iter().take(SHOWN) {
                report.push_str(&format!("  {place}\n"));
            }
            if places.len() > SHOWN {
                report.push_str(&format!("  … and {} more\n", places.len() - SHOWN));
            }
        }
    }
    if broken > 0 {
        bail!("{report}{broken} places break a rule of the tree");
    }
    println!("{} files keep all {} rules of the tree", files.len(), RULES.len());
    Ok(())
}

fn files(root: &Path) -> Result<Vec<SourceFile>> {
    let output = work::tool("git")
        .args(["ls-files", "-z", "--cached", "--others", "--exclude-standard"])
        .output()
        .context("git is needed to list the files of the project")?;
    if !output.status.success() {
        bail!("git cannot list the files: {}", String::from_utf8_lossy(&output.stderr));
    }
    let list = String::from_utf8(output.stdout).context("a file name is not UTF-8")?;
    let mut files = Vec::new();
    for path in list.split('\0').filter(|path| !path.is_empty()) {
        // Listed but already deleted, or not text: nothing to check inside, the path itself still counts.
        let whole = root.join(path);
        if whole.is_file() {
            files.push(SourceFile {
                path: path.to_owned(),
                text: fs::read(&whole)
                    .ok()
                    .and_then(|bytes| String::from_utf8(bytes).ok())
                    .unwrap_or_default(),
            });
        }
    }
    Ok(files)
}
