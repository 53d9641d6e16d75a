//! What can be typed on the command line.

use std::path::PathBuf;

use chrono::NaiveDate;
use clap::{Args, Parser, Subcommand};

/// What `--json` gives, for scripts.
const JSON_HELP: &str = "\
JSON OUTPUT (--json)
  Each command prints one JSON value: the reply of the command of the same name, as the program's own screens get
  it. The shape is stable: fields may be added, none is renamed or changes its meaning.
  - Units stand in the field names and never follow the site's units: _c degrees Celsius, _k kelvin (differences),
    _m metres, _m2 square metres, _l litres, _h hours, _kwh kilowatt-hours, _w watts, _w_per_k watts per kelvin, _days days, _utc an instant in UTC.
  - Dates are YYYY-MM-DD at the site. Shares and chances are 0 to 1. What is unknown is null.
  - Words of a list are in lower case with underscores (late_summer).
  - A figure of a reason is {\"quantity\": \"temp_c\", \"value\": -2.2}; its quantity names its unit as above.
  A failure is printed to the error output as {\"code\", \"message\", \"field\", \"file\", \"line\"}.

EXIT CODES
  0 done   1 a problem with the data, named on the error output   2 wrong usage

ENVIRONMENT
  HIBERNACLE_DATA_DIR  folder of the data, where --data-dir is not given
  NO_COLOR             help without colours; all other output has none anyway";

/// Plans the winter of cold-tender plants in small shelters.
#[derive(Debug, Parser)]
#[command(name = "hibernacle", version, after_long_help = JSON_HELP, arg_required_else_help = true)]
pub(crate) struct Arguments {
    /// Name of the place; without it the one used last.
    #[arg(long, global = true, value_name = "NAME")]
    pub(crate) site: Option<String>,
    /// Folder of the data.
    #[arg(long, global = true, value_name = "FOLDER")]
    pub(crate) data_dir: Option<PathBuf>,
    /// Print JSON with units in the field names (see --help).
    #[arg(long, global = true)]
    pub(crate) json: bool,
    #[command(subcommand)]
    pub(crate) command: Command,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// The season's plan: a picture of it, or with --list every chore.
    Season(SeasonArgs),
    /// What is due.
    Today {
        /// Another day than today (YYYY-MM-DD).
        #[arg(long, value_name = "DATE")]
        on: Option<NaiveDate>,
    },
    /// Whether to heat tonight, and why: how cold each zone gets, and what heat takes.
    Tonight(TonightArgs),
    /// What a night turned out to be: enters the lows read in the morning; without any, shows the nights on record.
    NightResult(NightResultArgs),
    /// How the hold of a shelter fades over the nights ahead, without heat.
    Hold(HoldArgs),
    /// The forecast; nothing is fetched before a source is chosen with --source.
    Forecast(ForecastArgs),
    /// What a shelter loses on its coldest night, and the heater it calls for.
    HeatLoss(HeatLossArgs),
    /// What a whole winter takes: nights, heat and risk of several set-ups side by side.
    Winter(WinterArgs),
    /// The climate record and its freeze dates.
    #[command(subcommand)]
    Climate(ClimateCommand),
    /// Readings of thermometers: import of loggers’ files, and what is stored.
    #[command(subcommand)]
    Readings(ReadingsCommand),
    /// The calendar file.
    #[command(subcommand)]
    Calendar(CalendarCommand),
    /// Tick, skip or move a chore, or take that back.
    #[command(subcommand)]
    Chore(ChoreCommand),
    /// The close-up checklist of each zone, in the order of the work.
    CloseUp {
        /// Year in which the season starts.
        #[arg(long)]
        year: Option<i32>,
    },
    /// What is set up.
    #[command(subcommand)]
    Setup(SetupCommand),
    /// The invented season of Larch Bank.
    #[command(subcommand)]
    Demo(DemoCommand),
    /// Serves the screens to a browser on this machine.
    Serve {
        /// Port on the loopback address; 0 for any free one.
        #[arg(long, default_value_t = 8970)]
        port: u16,
        /// Folder of the built screens.
        #[arg(long, value_name = "FOLDER", required = !cfg!(feature = "embedded-ui"))]
        ui: Option<PathBuf>,
    },
}

#[derive(Debug, Args)]
pub(crate) struct SeasonArgs {
    /// Every chore with its day and name, in the order of the days.
    #[arg(long)]
    pub(crate) list: bool,
    /// Year in which the season starts.
    #[arg(long)]
    pub(crate) year: Option<i32>,
}

#[derive(Debug, Args)]
pub(crate) struct TonightArgs {
    /// Outdoor low that is expected, in the site's unit, or with its unit: `-12`, `-12C`, `10F`; without it the
    /// forecast's, else the usual one of the date.
    #[arg(long, value_name = "LOW", allow_hyphen_values = true)]
    pub(crate) low: Option<String>,
    /// Clouds of the night; without it the forecast's, else a clear sky, the coldest case.
    #[arg(long, value_enum)]
    pub(crate) cloud: Option<Clouds>,
    /// Wind of the night in m/s; without it the forecast's, else nearly still air.
    #[arg(long, value_name = "M_PER_S")]
    pub(crate) wind: Option<f64>,
    /// Days from today to a later night, at most 10.
    #[arg(long, value_name = "DAYS")]
    pub(crate) in_days: Option<u32>,
    /// The winter covers are on, whatever is ticked.
    #[arg(long, conflicts_with = "bare")]
    pub(crate) covered: bool,
    /// The winter covers are off, whatever is ticked.
    #[arg(long)]
    pub(crate) bare: bool,
    /// Price of a kWh of electricity in the site's currency.
    #[arg(long, value_name = "PRICE")]
    pub(crate) price: Option<f64>,
}

#[derive(Debug, Args)]
pub(crate) struct NightResultArgs {
    /// The date on which the night began (YYYY-MM-DD); without it last night.
    #[arg(long, value_name = "DATE")]
    pub(crate) night: Option<NaiveDate>,
    /// Lowest temperature outdoors, in the site's unit or with its unit.
    #[arg(long, value_name = "LOW", allow_hyphen_values = true)]
    pub(crate) outside: Option<String>,
    /// Lowest temperature of a zone: `"north corner=-3"`, or with its shelter `"greenhouse, north corner=-3"`. May be
    /// repeated.
    #[arg(long, value_name = "ZONE=LOW")]
    pub(crate) zone: Vec<String>,
    /// A shelter in which a heater ran. May be repeated.
    #[arg(long, value_name = "SHELTER")]
    pub(crate) heated: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct HoldArgs {
    /// Name of the shelter; without it the first.
    pub(crate) shelter: Option<String>,
    /// Outdoor low of every night, in the site's unit or with its unit; without it the forecast's, else the usual ones.
    #[arg(long, value_name = "LOW", allow_hyphen_values = true)]
    pub(crate) low: Option<String>,
    /// Nights from tonight on, 1 to 14.
    #[arg(long)]
    pub(crate) nights: Option<u32>,
    /// The winter covers are on, whatever is ticked.
    #[arg(long, conflicts_with = "bare")]
    pub(crate) covered: bool,
    /// The winter covers are off, whatever is ticked.
    #[arg(long)]
    pub(crate) bare: bool,
}

#[derive(Debug, Args)]
pub(crate) struct ForecastArgs {
    /// Where forecasts come from from now on. A service is told the site's coordinates.
    #[arg(long, value_enum, conflicts_with = "file")]
    pub(crate) source: Option<Source>,
    /// Address by which the service may reach you (e-mail or web page), sent with every request; `-` for none.
    #[arg(long, value_name = "ADDRESS", allow_hyphen_values = true, requires = "source")]
    pub(crate) contact: Option<String>,
    /// A forecast that you saved: compact Locationforecast of MET Norway, or hourly forecast of the US National Weather
    /// Service, as JSON.
    #[arg(long, value_name = "FILE")]
    pub(crate) file: Option<PathBuf>,
}

/// A source of forecasts.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub(crate) enum Source {
    /// None; nothing is fetched.
    Off,
    /// Documents that you save (see --file).
    File,
    /// MET Norway, for the whole world.
    MetNorway,
    /// US National Weather Service, for the United States.
    UsNws,
}

/// The sky in a word.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub(crate) enum Clouds {
    /// No clouds.
    Clear,
    /// Half of the sky under clouds.
    Half,
    /// All of it under clouds.
    Overcast,
}

#[derive(Debug, Args)]
pub(crate) struct HeatLossArgs {
    /// Name of the shelter; without it the first with a heater, else the first.
    pub(crate) shelter: Option<String>,
    /// Outdoor low to reckon with, in the site's unit or with its unit; without it the climate's once in ten years.
    #[arg(long, value_name = "LOW", allow_hyphen_values = true)]
    pub(crate) low: Option<String>,
    /// Temperature to hold inside; without it what its plants need.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub(crate) inside: Option<String>,
    /// Watts on the plate of the electric heater, for a check of its circuit.
    #[arg(long, value_name = "WATTS")]
    pub(crate) heater: Option<f64>,
}

#[derive(Debug, Args)]
pub(crate) struct WinterArgs {
    /// Name of the shelter; without it the first with a heater, else the first.
    #[arg(long, value_name = "NAME")]
    pub(crate) shelter: Option<String>,
    /// Hourly weather of a winter: a table with a first line such as `time_utc,temp_c,humidity_pct,wind_m_per_s`.
    #[arg(long, value_name = "FILE")]
    pub(crate) weather: Option<PathBuf>,
    /// Winters to run, the latest first, at most 60; without it all that the climate has.
    #[arg(long, value_name = "COUNT")]
    pub(crate) winters: Option<u32>,
    /// Draws of how much warmer or colder the garden is than its station, at most 200; without it 20.
    #[arg(long, value_name = "COUNT")]
    pub(crate) draws: Option<u32>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum ClimateCommand {
    /// Takes in the daily record of a station: GHCN-Daily (.dly or per-station .csv) or a table `date,tmin,tmax`.
    Import(ImportArgs),
    /// Dates of the first autumn and last spring freeze, with how sure they are.
    Freeze {
        /// A night low to look at, in the site's unit, or with its unit: `-2.2C`, `28F`. May be repeated.
        #[arg(long, value_name = "LOW", allow_hyphen_values = true)]
        threshold: Vec<String>,
    },
}

#[derive(Debug, Args)]
pub(crate) struct ImportArgs {
    /// The file.
    pub(crate) file: PathBuf,
    /// Temperatures of a plain table are in °F.
    #[arg(long, conflicts_with = "celsius")]
    pub(crate) fahrenheit: bool,
    /// Temperatures of a plain table are in °C.
    #[arg(long)]
    pub(crate) celsius: bool,
    /// Makes a new place of this name, at the station's coordinates where the file has them.
    #[arg(long, value_name = "NAME", conflicts_with = "site")]
    pub(crate) new_site: Option<String>,
    /// Degrees north of the new place.
    #[arg(long, allow_negative_numbers = true, requires = "new_site")]
    pub(crate) lat: Option<f64>,
    /// Degrees east of the new place.
    #[arg(long, allow_negative_numbers = true, requires = "new_site")]
    pub(crate) lon: Option<f64>,
    /// Height of the new place above sea level in metres.
    #[arg(long, allow_negative_numbers = true, requires = "new_site", value_name = "METRES")]
    pub(crate) elevation: Option<f64>,
    /// Time zone of the new place (Europe/Vienna); without it that of this computer.
    #[arg(long, requires = "new_site", value_name = "ZONE")]
    pub(crate) time_zone: Option<String>,
    /// Show °F, feet and US gallons at the new place.
    #[arg(long, requires = "new_site")]
    pub(crate) us_units: bool,
}

#[derive(Debug, Subcommand)]
pub(crate) enum ReadingsCommand {
    /// Takes in files of loggers, each whole or not at all; importing again adds nothing twice.
    Import(ReadingsImportArgs),
    /// Sensors with what is stored of them.
    List,
    /// Takes the last import back.
    Undo {
        /// Another import than the last, by its identifier in `readings list --json`.
        #[arg(long, value_name = "ID")]
        import: Option<String>,
    },
}

#[derive(Debug, Args)]
pub(crate) struct ReadingsImportArgs {
    /// The files.
    #[arg(required = true)]
    pub(crate) files: Vec<PathBuf>,
    /// Shows what is understood; nothing is imported.
    #[arg(long)]
    pub(crate) preview: bool,
    /// Unit of all temperatures.
    #[arg(long, value_enum)]
    pub(crate) unit: Option<LogUnitArg>,
    /// What the logger’s clock shows: Europe/Vienna, UTC, or +01:00 for one that is never changed.
    #[arg(long, value_name = "ZONE", allow_hyphen_values = true)]
    pub(crate) zone: Option<String>,
    /// Order of day, month and year.
    #[arg(long, value_enum)]
    pub(crate) order: Option<OrderArg>,
    /// Mark between whole and part of numbers.
    #[arg(long, value_enum)]
    pub(crate) decimal: Option<DecimalArg>,
    /// What stands between cells.
    #[arg(long, value_enum)]
    pub(crate) delimiter: Option<DelimiterArg>,
    /// How the characters are written.
    #[arg(long, value_enum)]
    pub(crate) encoding: Option<EncodingArg>,
    /// Line with the headings.
    #[arg(long, value_name = "LINE")]
    pub(crate) header_line: Option<u32>,
    /// Name of the sensor where the file does not give one.
    #[arg(long, value_name = "NAME")]
    pub(crate) sensor: Option<String>,
    /// Where a sensor of the file belongs: `NAME=SENSOR` or `NAME=ZONE`. May be repeated.
    #[arg(long, value_name = "NAME=PLACE")]
    pub(crate) at: Vec<String>,
    /// A sensor of the file that hangs outdoors. May be repeated.
    #[arg(long, value_name = "NAME")]
    pub(crate) outdoors: Vec<String>,
    /// A sensor of the file that is not wanted. May be repeated.
    #[arg(long, value_name = "NAME")]
    pub(crate) skip: Vec<String>,
    /// What a column holds: `COLUMN=temperature`, `humidity`, `power` or `none`. May be repeated.
    #[arg(long, value_name = "COLUMN=WHAT")]
    pub(crate) column: Vec<String>,
}

/// Units of temperatures.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub(crate) enum LogUnitArg {
    /// Degrees Celsius.
    C,
    /// Degrees Fahrenheit.
    F,
    /// Kelvin.
    K,
}

/// Orders of dates.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub(crate) enum OrderArg {
    /// Day, month, year.
    Dmy,
    /// Month, day, year.
    Mdy,
    /// Year, month, day.
    Ymd,
}

/// Decimal marks.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub(crate) enum DecimalArg {
    /// 12.5
    Point,
    /// 12,5
    Comma,
}

/// Marks between cells.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub(crate) enum DelimiterArg {
    /// ,
    Comma,
    /// ;
    Semicolon,
    /// Tabs.
    Tab,
    /// |
    Bar,
    /// Blanks.
    Blanks,
}

/// Encodings.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
pub(crate) enum EncodingArg {
    /// UTF-8.
    Utf8,
    /// UTF-16, least significant byte first.
    Utf16Le,
    /// UTF-16, most significant byte first.
    Utf16Be,
    /// Windows-1252, of which Latin-1 is a part.
    Windows1252,
}

#[derive(Debug, Subcommand)]
pub(crate) enum CalendarCommand {
    /// Writes the season's chores as a calendar file (RFC 5545); importing it again updates and doubles nothing.
    Export {
        /// File to write, `-` for the standard output; without it a name made of place and season, here.
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
        /// Hour of the day at which chores start, 0 to 23; without it they take the whole day.
        #[arg(long)]
        hour: Option<u32>,
        /// Minutes before that at which the calendar rings; before the day begins, where no hour is given.
        #[arg(long, value_name = "MINUTES")]
        alarm: Option<u32>,
        /// Year in which the season starts.
        #[arg(long)]
        year: Option<i32>,
    },
}

#[derive(Debug, Subcommand)]
pub(crate) enum ChoreCommand {
    /// It was done.
    Done {
        #[command(flatten)]
        chore: ChoreArgs,
        /// The day it was done (YYYY-MM-DD); without it today.
        #[arg(long, value_name = "DATE")]
        on: Option<NaiveDate>,
    },
    /// It is left out.
    Skip {
        #[command(flatten)]
        chore: ChoreArgs,
        /// Why.
        #[arg(long)]
        reason: String,
    },
    /// It gets another day.
    Move {
        #[command(flatten)]
        chore: ChoreArgs,
        /// The day (YYYY-MM-DD).
        #[arg(long, value_name = "DATE")]
        to: NaiveDate,
    },
    /// Takes the last of these back.
    Undo {
        #[command(flatten)]
        chore: ChoreArgs,
    },
    /// Everything that was done with it.
    History {
        #[command(flatten)]
        chore: ChoreArgs,
    },
}

#[derive(Debug, Args)]
pub(crate) struct ChoreArgs {
    /// Name of the chore as `season --list` shows it, or as much of its start as no other chore has.
    pub(crate) key: String,
    /// Year in which the season starts.
    #[arg(long)]
    pub(crate) year: Option<i32>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum SetupCommand {
    /// The place, its climate, shelters, zones and plants.
    Show,
}

#[derive(Debug, Subcommand)]
pub(crate) enum DemoCommand {
    /// Loads it beside whatever else is there.
    Load,
}
