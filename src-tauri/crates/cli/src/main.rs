//! `hibernacle`: the season on the command line.
//!
//! Every command goes through the same service as the screens. Output is for people in the site's units; with
//! `--json` it is the reply itself, whose shape is stable (see `hibernacle --help`). Exit codes: 0 done, 1 a problem
//! with the data, 2 wrong usage.

mod args;
mod calendar;
mod chores;
mod climate;
mod close_up;
mod forecast;
mod heat_loss;
mod hold;
mod import;
mod layout;
mod names;
mod night_result;
mod readings;
mod readings_text;
mod season;
mod serve;
mod session;
mod setup;
mod today;
mod tonight;
mod typed;
mod winter;

use std::process::ExitCode;

use clap::Parser;
use hibernacle_contract::Failure;

use args::{Arguments, CalendarCommand, ClimateCommand, Command, DemoCommand, SetupCommand};
use session::Session;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    match run(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            report(&failure, arguments.json);
            ExitCode::FAILURE
        }
    }
}

fn run(arguments: &Arguments) -> Result<(), Failure> {
    let session = Session::open(arguments)?;
    match &arguments.command {
        Command::Season(asked) => season::season(&session, asked),
        Command::Today { on } => today::today(&session, *on),
        Command::Tonight(asked) => tonight::tonight(&session, asked),
        Command::NightResult(asked) => night_result::night_result(&session, asked),
        Command::Hold(asked) => hold::hold(&session, asked),
        Command::Forecast(asked) => forecast::forecast(&session, asked),
        Command::HeatLoss(asked) => heat_loss::heat_loss(&session, asked),
        Command::Winter(asked) => winter::winter(&session, asked),
        Command::Climate(ClimateCommand::Import(asked)) => import::import(&session, asked),
        Command::Climate(ClimateCommand::Freeze { threshold }) => climate::freeze(&session, threshold),
        Command::Readings(asked) => readings::readings(&session, asked),
        Command::Calendar(CalendarCommand::Export { out, hour, alarm, year }) => {
            calendar::export(&session, out.as_deref(), *hour, *alarm, *year)
        }
        Command::Chore(asked) => chores::chore(&session, asked),
        Command::CloseUp { year } => close_up::close_up(&session, *year),
        Command::Setup(SetupCommand::Show) => setup::show(&session),
        Command::Demo(DemoCommand::Load) => setup::demo(&session),
        Command::Serve { port, ui } => serve::serve(session, *port, ui.as_deref()),
    }
}

/// Says on the error output what went wrong and where.
fn report(failure: &Failure, json: bool) {
    if json && let Ok(text) = serde_json::to_string(failure) {
        eprintln!("{text}");
        return;
    }
    match (&failure.file, failure.line) {
        (Some(file), _) if failure.message.contains(file.as_str()) => eprintln!("{}", failure.message),
        (Some(file), Some(line)) => eprintln!("{file}, line {line}: {}", failure.message),
        (Some(file), None) => eprintln!("{file}: {}", failure.message),
        (None, _) => eprintln!("{}", failure.message),
    }
}
