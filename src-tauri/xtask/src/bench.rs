//! Measures the work that has a speed bar.

use std::process::Stdio;

use anyhow::{Result, bail};

use crate::work;

/// Packages with benchmarks. Each benchmark prints a line `what: time (bar time)` for each thing it measures and
/// fails when one takes longer than its bar.
const PACKAGES: &[&str] = &["hibernacle-engine", "hibernacle-service"];

/// Runs all benchmarks in a release build and prints their lines as one table.
///
/// # Errors
/// When a benchmark does not build, or something takes longer than its bar.
pub(crate) fn run() -> Result<()> {
    let mut command = work::cargo();
    command.args(["bench", "--quiet", "--no-fail-fast", "--bench", "*"]);
    for package in PACKAGES {
        command.args(["--package", package]);
    }
    println!("▸ build and run the benchmarks");
    let output = command.stderr(Stdio::inherit()).output()?;
    let printed = String::from_utf8_lossy(&output.stdout);
    let rows: Vec<Row<'_>> = printed.lines().filter_map(row).collect();
    print!("{}", table(&rows));
    if !output.status.success() {
        bail!("a benchmark failed or takes longer than its bar; it printed:\n{printed}");
    }
    Ok(())
}

/// What was measured, its time and its bar.
type Row<'a> = [&'a str; 3];

fn row(line: &str) -> Option<Row<'_>> {
    let (what, times) = line.rsplit_once(": ")?;
    let (time, bar) = times.split_once(" (bar ")?;
    Some([what, time, bar.strip_suffix(')')?])
}

fn table(rows: &[Row<'_>]) -> String {
    let heading = ["work", "time", "bar"];
    let width = |column: usize| {
        rows.iter()
            .map(|row| row[column].chars().count())
            .chain([heading[column].len()])
            .max()
            .unwrap_or_default()
    };
    let (what, time, bar) = (width(0), width(1), width(2));
    [heading]
        .iter()
        .chain(rows)
        .map(|row| format!("{:what$}  {:>time$}  {:>bar$}\n", row[0], row[1], row[2]))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn measured_lines_become_a_table() {
        let rows: Vec<_> = ["noise", "plan of 2,000 plantings: 41.0ms (bar 100ms)", "today: 3ms (bar 100ms)"]
            .into_iter()
            .filter_map(row)
            .collect();
        assert_eq!(
            table(&rows),
            "work                       time    bar\n\
             plan of 2,000 plantings  41.0ms  100ms\n\
             today                       3ms  100ms\n"
        );
    }
}
