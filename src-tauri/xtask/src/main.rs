//! Automation of the project: run, test, codegen, tidy, bench.

mod bench;
mod codegen;
mod demo;
#[cfg(feature = "icons")]
mod icons;
mod needs;
mod project;
mod run;
mod suite;
mod tidy;
mod work;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Automation of Hibernacle.
#[derive(Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask")]
struct Arguments {
    #[command(subcommand)]
    task: Task,
}

#[derive(Subcommand)]
enum Task {
    /// Build and open the app with the demo season, installing what is missing.
    Run(run::Options),
    /// Run every check and test, then say how many passed and failed.
    Test(suite::Options),
    /// Write the TypeScript types of the contract into the user interface.
    Codegen {
        /// Change nothing; fail when the committed files are stale.
        #[arg(long)]
        check: bool,
    },
    /// Check the rules of the tree that the compiler does not know.
    Tidy,
    /// Draw the icons of every platform from icons/hibernacle.svg (`cargo run -p xtask --features icons -- icons`).
    #[cfg(feature = "icons")]
    Icons,
    /// Draw the invented climate of the demo site anew from its seed.
    Demo,
    /// Measure the work that has a speed bar and compare.
    Bench,
}

fn main() -> ExitCode {
    let outcome = match Arguments::parse().task {
        Task::Run(options) => run::run(&options),
        Task::Test(options) => suite::run(&options),
        Task::Codegen { check: true } => codegen::check(),
        Task::Codegen { check: false } => codegen::write(),
        Task::Tidy => tidy::run(),
        #[cfg(feature = "icons")]
        Task::Icons => icons::draw(),
        Task::Demo => demo::run(),
        Task::Bench => bench::run(),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::FAILURE
        }
    }
}
