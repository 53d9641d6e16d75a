//! What every command needs: the data, the time and new identifiers.

use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use chrono::{DateTime, Utc};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_engine::plant::PlantCatalogue;
use hibernacle_engine::season::ChoreCatalogue;
use hibernacle_engine::shelter::Materials;
use hibernacle_store::{Reader, Store, Writer};

use crate::climate::Climates;
use crate::planned::Plans;
use crate::problem::Problem;
use crate::weather::{Services, WeatherServices};
use crate::winter::Winters;
use crate::{Clock, IdSource, RandomIds};

/// The grower's data with the time and the source of identifiers. One per process, shared by all its threads.
pub struct Context {
    store: Store,
    plants: OnceLock<PlantCatalogue>,
    rules: OnceLock<ChoreCatalogue>,
    materials: OnceLock<Materials>,
    climates: Climates,
    plans: Plans,
    weather: Services,
    winters: Winters,
    clock: Box<dyn Clock>,
    ids: Box<dyn IdSource>,
}

/// Name of the variable that puts the data somewhere else than in the platform's folder.
const DATA_DIR_VARIABLE: &str = "HIBERNACLE_DATA_DIR";

/// Name of the data file in that folder.
pub const DATA_FILE: &str = "hibernacle.sqlite";

/// The folder of the grower's data: what `HIBERNACLE_DATA_DIR` names, else the platform's folder for it.
///
/// # Errors
/// [`ErrorCode::Storage`] where the variable is unset and the platform knows no home folder.
pub fn data_dir() -> Result<PathBuf, Failure> {
    match std::env::var_os(DATA_DIR_VARIABLE) {
        Some(folder) if !folder.is_empty() => Ok(PathBuf::from(folder)),
        _ => directories::ProjectDirs::from("", "", "Hibernacle")
            .map(|folders| folders.data_dir().to_owned())
            .ok_or_else(|| {
                Failure::new(
                    ErrorCode::Storage,
                    format!("no home folder is known; set {DATA_DIR_VARIABLE} to a folder for the data"),
                )
            }),
    }
}

impl Context {
    /// Opens the data in a folder, which is made where it is missing.
    ///
    /// # Errors
    /// [`ErrorCode::TooNew`] where a newer program wrote it, [`ErrorCode::Storage`] where it cannot be used;
    /// the file is left as it was.
    pub fn open(data_dir: &Path, clock: impl Clock + 'static) -> Result<Self, Failure> {
        std::fs::create_dir_all(data_dir).map_err(|error| {
            Failure::new(ErrorCode::Storage, format!("the data folder cannot be made: {error}"))
                .at(data_dir.display().to_string(), None)
        })?;
        let store = Store::open(&data_dir.join(DATA_FILE)).map_err(Problem::from)?;
        Ok(Self::on(store, clock))
    }

    /// Data that is gone when the context is.
    ///
    /// # Errors
    /// [`ErrorCode::Storage`] where memory does not suffice.
    pub fn in_memory(clock: impl Clock + 'static) -> Result<Self, Failure> {
        Ok(Self::on(Store::in_memory().map_err(Problem::from)?, clock))
    }

    fn on(store: Store, clock: impl Clock + 'static) -> Self {
        Self {
            store,
            plants: OnceLock::new(),
            rules: OnceLock::new(),
            materials: OnceLock::new(),
            climates: Climates::default(),
            plans: Plans::default(),
            weather: Services::default(),
            winters: Winters::default(),
            clock: Box::new(clock),
            ids: Box::new(RandomIds::default()),
        }
    }

    /// Takes identifiers from another source.
    #[must_use]
    pub fn with_ids(mut self, ids: impl IdSource + 'static) -> Self {
        self.ids = Box::new(ids);
        self
    }

    /// Asks for the weather elsewhere.
    #[must_use]
    pub fn with_weather(mut self, services: WeatherServices) -> Self {
        self.weather = Services::at(services);
        self
    }

    /// The present instant.
    pub fn now_utc(&self) -> DateTime<Utc> {
        self.clock.now_utc()
    }

    /// An identifier that was never given before.
    pub fn next_id(&self) -> String {
        self.ids.next_id(self.now_utc())
    }

    /// The plants that come with the program.
    pub(crate) fn built_in_plants(&self) -> Result<&PlantCatalogue, Problem> {
        built_in(&self.plants, PlantCatalogue::built_in)
    }

    /// The chores that come with the program.
    pub(crate) fn rules(&self) -> Result<&ChoreCatalogue, Problem> {
        built_in(&self.rules, ChoreCatalogue::built_in)
    }

    /// Glazing, walls, covers and heaters that come with the program.
    pub(crate) fn materials(&self) -> Result<&Materials, Problem> {
        built_in(&self.materials, Materials::built_in)
    }

    pub(crate) fn climates(&self) -> &Climates {
        &self.climates
    }

    /// Where the weather is asked for.
    pub(crate) fn weather(&self) -> &Services {
        &self.weather
    }

    pub(crate) fn plans(&self) -> &Plans {
        &self.plans
    }

    pub(crate) fn winters(&self) -> &Winters {
        &self.winters
    }

    /// Reads the data of one moment.
    pub(crate) fn read<T>(&self, work: impl FnOnce(&Reader<'_>) -> Result<T, Problem>) -> Result<T, Failure> {
        Ok(self.store.read(work)?)
    }

    /// Changes the data, all or nothing.
    pub(crate) fn write<T>(
        &self,
        work: impl FnOnce(&Writer<'_>) -> Result<T, Problem>,
    ) -> Result<T, Failure> {
        Ok(self.store.write(work)?)
    }
}

/// A built-in catalogue, read once.
fn built_in<T, E: std::fmt::Display>(
    kept: &OnceLock<T>,
    read: impl FnOnce() -> Result<T, E>,
) -> Result<&T, Problem> {
    if let Some(catalogue) = kept.get() {
        return Ok(catalogue);
    }
    let catalogue = read().map_err(|error| Problem::new(ErrorCode::Internal, error.to_string()))?;
    Ok(kept.get_or_init(|| catalogue))
}
