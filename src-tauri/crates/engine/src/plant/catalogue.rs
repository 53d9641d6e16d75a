//! The catalogue of plants: built-in entries and the grower's own.

use std::collections::BTreeMap;

use serde::Deserialize;
use thiserror::Error;
use toml::Spanned;

use super::Plant;
use crate::field::FieldError;
use crate::lines::Lines;

/// Why a plant catalogue could not be read.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CatalogueError {
    /// The text is not a catalogue.
    #[error("{file}: {message}")]
    Syntax {
        /// File the text came from.
        file: String,
        /// What the reader said, with line and column.
        message: String,
    },
    /// An entry has a field that cannot be used.
    #[error("{file}, line {line}, plant “{key}”: {source}")]
    Entry {
        /// File the text came from.
        file: String,
        /// 1-based line on which the entry begins.
        line: usize,
        /// Key of the entry.
        key: String,
        /// The field and the mend.
        source: Box<FieldError>,
    },
    /// Two entries have one key.
    #[error("{file}, line {line}: the key “{key}” stands twice; rename one of the two plants")]
    Twice {
        /// File the text came from.
        file: String,
        /// 1-based line on which the second entry begins.
        line: usize,
        /// The key.
        key: String,
    },
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CatalogueFile {
    #[serde(default)]
    plant: Vec<Spanned<Plant>>,
}

/// Plants by key.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PlantCatalogue {
    plants: BTreeMap<String, Plant>,
}

impl PlantCatalogue {
    /// Reads a catalogue in TOML: one `[[plant]]` table per entry.
    ///
    /// # Errors
    /// [`CatalogueError`] with the file and line, or the entry and field.
    pub fn parse(file: &str, text: &str) -> Result<Self, CatalogueError> {
        let parsed: CatalogueFile = toml::from_str(text)
            .map_err(|e| CatalogueError::Syntax { file: file.to_owned(), message: e.to_string() })?;
        let lines = Lines::of(text);
        let mut plants = BTreeMap::new();
        for entry in parsed.plant {
            let line = lines.number(entry.span().start);
            let plant = entry.into_inner();
            plant.check().map_err(|source| CatalogueError::Entry {
                file: file.to_owned(),
                line,
                key: plant.key.clone(),
                source: Box::new(source),
            })?;
            let key = plant.key.clone();
            if plants.insert(key.clone(), plant).is_some() {
                return Err(CatalogueError::Twice { file: file.to_owned(), line, key });
            }
        }
        Ok(Self { plants })
    }

    /// The entries that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in catalogue.
    pub fn built_in() -> Result<Self, CatalogueError> {
        Self::parse("catalogue/plants.toml", include_str!("../../catalogue/plants.toml"))
    }

    /// Adds the grower's own entries; an entry with a known key takes its place.
    #[must_use]
    pub fn extended_with(mut self, own: impl IntoIterator<Item = Plant>) -> Self {
        self.plants.extend(own.into_iter().map(|plant| (plant.key.clone(), plant)));
        self
    }

    /// The entry of a key.
    pub fn get(&self, key: &str) -> Option<&Plant> {
        self.plants.get(key)
    }

    /// All entries in the order of their keys.
    pub fn iter(&self) -> impl Iterator<Item = &Plant> {
        self.plants.values()
    }
}

#[cfg(test)]
#[path = "catalogue_test.rs"]
mod tests;
