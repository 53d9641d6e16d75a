//! The grower's data in SQLite: one file per table, with its SQL, its queries and its migrations.
//!
//! What is deliberately absent: rules of the trade (the engine and the service check what is stored here) and
//! the clock (every instant is passed in). Nothing is ever deleted that a grower entered, save entries of the
//! plant catalogue: removed things keep their rows and are marked with the removal that can be undone.

mod column;
mod error;
mod migration;
mod opening;
mod session;
mod table;

pub use error::StoreError;
pub use session::{Reader, Store, Writer};
pub use table::chore_mark::StoredMark;
pub use table::climate_record::StoredRecord;
pub use table::forecast::StoredForecast;
pub use table::log_import::{ImportedSensor, NewImport, StoredImport};
pub use table::night_outcome::{ReadZone, StoredOutcome};
pub use table::night_prediction::{PredictedZone, StoredPrediction};
pub use table::reading::{Bucket, Span, StoredSeries};
pub use table::removal::{NewRemoval, Removal, RemovedKind};
pub use table::season::StoredSeason;
pub use table::typed_climate::StoredTyped;
pub use table::weather_choice::StoredWeatherChoice;
