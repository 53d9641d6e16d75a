//! The one list of commands.

use std::path::Path;

use ts_rs::{Config, ExportError, TS};

/// Applies a macro to the list of commands, each as `feature::name(Request) -> Reply`.
///
/// To add a command: write its types in the feature's module here, add its line below, and write the function
/// of that name in the feature's module of the service. A service without it does not compile.
#[macro_export]
macro_rules! commands {
    ($apply:ident) => {
        $apply! {
            setup::overview($crate::setup::OverviewRequest) -> $crate::setup::Overview;
            setup::site_save(hibernacle_engine::site::Site) -> hibernacle_engine::site::Site;
            setup::shelter_save(hibernacle_engine::shelter::Shelter) -> hibernacle_engine::shelter::Shelter;
            setup::zone_save(hibernacle_engine::shelter::Zone) -> hibernacle_engine::shelter::Zone;
            setup::planting_save(hibernacle_engine::plant::Planting) -> hibernacle_engine::plant::Planting;
            setup::remove($crate::setup::Item) -> $crate::setup::Removed;
            setup::restore($crate::setup::Removed) -> $crate::setup::Item;
            setup::demo_load($crate::setup::DemoRequest) -> hibernacle_engine::site::Site;
            climate::climate_preview($crate::climate::ClimateFile) -> $crate::climate::ClimatePreview;
            climate::climate_import($crate::climate::ClimateFile) -> $crate::climate::ClimateSummary;
            climate::climate_type($crate::climate::TypedClimateRequest) -> $crate::climate::ClimateSummary;
            climate::climate_freeze($crate::climate::FreezeRequest) -> $crate::climate::SiteFreezes;
            plants::plant_list($crate::plants::PlantListRequest) -> $crate::plants::PlantList;
            plants::plant_save(hibernacle_engine::plant::Plant) -> hibernacle_engine::plant::Plant;
            plants::plant_remove($crate::plants::PlantKey) -> $crate::plants::PlantKey;
            season::season_plan($crate::season::SeasonRequest) -> $crate::season::SeasonView;
            season::close_up($crate::season::SeasonRequest) -> $crate::season::CloseUp;
            today::today($crate::today::TodayRequest) -> $crate::today::Today;
            chores::chore_done($crate::chores::ChoreDone) -> $crate::chores::ChoreChanged;
            chores::chore_skip($crate::chores::ChoreSkip) -> $crate::chores::ChoreChanged;
            chores::chore_move($crate::chores::ChoreMove) -> $crate::chores::ChoreChanged;
            chores::chore_undo($crate::chores::ChoreRef) -> $crate::chores::ChoreChanged;
            chores::chore_history($crate::chores::ChoreRef) -> $crate::chores::ChoreHistory;
            night::tonight($crate::night::TonightRequest) -> $crate::night::TonightCall;
            night::hold_ahead($crate::night::HoldRequest) -> $crate::night::HoldAhead;
            night::night_outcome($crate::night::NightOutcome) -> $crate::night::NightRecord;
            night::night_record($crate::night::NightRecordsRequest) -> $crate::night::NightRecords;
            weather::weather_settings($crate::setup::SiteRef) -> $crate::weather::WeatherSettings;
            weather::weather_choose($crate::weather::WeatherSettings) -> $crate::weather::ForecastView;
            weather::forecast($crate::setup::SiteRef) -> $crate::weather::ForecastView;
            weather::forecast_file($crate::weather::ForecastFile) -> $crate::weather::ForecastView;
            shelter::shelter_detail($crate::shelter::ShelterRef) -> $crate::shelter::ShelterDetail;
            shelter::shelter_build(hibernacle_engine::shelter::ShelterBuild) -> $crate::shelter::ShelterDetail;
            shelter::build_usual($crate::shelter::ShelterRef) -> $crate::shelter::ShelterDetail;
            shelter::heater_save(hibernacle_engine::shelter::Heater) -> hibernacle_engine::shelter::Heater;
            shelter::sensor_save(hibernacle_engine::shelter::Sensor) -> hibernacle_engine::shelter::Sensor;
            shelter::materials_list($crate::shelter::MaterialsRequest) -> $crate::shelter::MaterialsList;
            shelter::heat_loss($crate::shelter::HeatLossRequest) -> $crate::shelter::HeatLossView;
            setup::prices($crate::setup::SiteRef) -> $crate::shelter::SitePrices;
            setup::prices_save($crate::shelter::SitePrices) -> $crate::shelter::SitePrices;
            winter::winter_start($crate::winter::WinterRequest) -> $crate::winter::WinterRun;
            winter::winter_look($crate::winter::WinterRun) -> $crate::winter::WinterProgress;
            winter::winter_cancel($crate::winter::WinterRun) -> $crate::winter::WinterProgress;
            readings::readings_preview($crate::readings::ReadingsFile) -> $crate::readings::ReadingsReport;
            readings::readings_import($crate::readings::ReadingsFile) -> $crate::readings::ReadingsReport;
            readings::readings_undo($crate::readings::ReadingsUndo) -> $crate::readings::ReadingsUndone;
            readings::readings_list($crate::setup::SiteRef) -> $crate::readings::ReadingsList;
            readings::readings_series($crate::readings::SeriesRequest) -> $crate::readings::SeriesView;
            calendar::calendar_export($crate::calendar::CalendarRequest) -> $crate::calendar::CalendarFile;
        }
    };
}

macro_rules! list {
    ($($feature:ident :: $name:ident ($request:ty) -> $reply:ty;)*) => {
        /// Names of all commands in the order of the list.
        pub const COMMAND_NAMES: &[&str] = &[$(stringify!($name)),*];

        /// Writes the TypeScript of every type and of the command list into a folder.
        ///
        /// # Errors
        /// When a file cannot be written.
        pub fn export(folder: &Path) -> Result<(), ExportError> {
            // Identifiers are text and counts are small: no number crosses that JSON cannot hold.
            let config = Config::new().with_out_dir(folder).with_large_int("number");
            let mut lines = Vec::new();
            let mut names = std::collections::BTreeSet::new();
            $(
                <$request as TS>::export_all(&config)?;
                <$reply as TS>::export_all(&config)?;
                names.insert(<$request as TS>::name(&config));
                names.insert(<$reply as TS>::name(&config));
                lines.push(format!(
                    "  {}: {{ request: {}; reply: {} }};",
                    stringify!($name), <$request as TS>::name(&config), <$reply as TS>::name(&config),
                ));
            )*
            <$crate::Failure as TS>::export_all(&config)?;
            let imports: Vec<String> =
                names.iter().map(|name| format!("import type {{ {name} }} from \"./{name}\";")).collect();
            let text = format!(
                "{}\n\n/** Every command a host understands. */\nexport interface Commands {{\n{}\n}}\n",
                imports.join("\n"), lines.join("\n"),
            );
            std::fs::write(folder.join("Commands.ts"), text)?;
            Ok(())
        }
    };
}
commands!(list);
