//! The catalogue of chores: built-in rules and the grower's own, checked against each other.

use std::collections::BTreeMap;

use serde::Deserialize;
use thiserror::Error;

use super::ChoreRule;
use super::graph::{Rules, check_references, dating_order, working_order};
use super::place::{Place, places};
use crate::field::FieldError;
use crate::lines::Lines;

/// Why a chore catalogue cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ChoreCatalogueError {
    /// The text is not a catalogue.
    #[error("{file}, line {line}: {message}")]
    Syntax {
        /// File the text came from.
        file: String,
        /// 1-based line.
        line: usize,
        /// What the reader said.
        message: String,
    },
    /// A rule has a field that cannot be used.
    #[error("{place}, chore “{key}”: {source}")]
    Rule {
        /// File and, where known, line.
        place: String,
        /// Key of the rule.
        key: String,
        /// The field and the mend.
        source: FieldError,
    },
    /// Two rules have one key.
    #[error("{place}: the key “{key}” stands twice (first at {first}); rename one of the two chores")]
    Twice {
        /// File and line of the second.
        place: String,
        /// File and line of the first.
        first: String,
        /// The key.
        key: String,
    },
    /// Rules wait for each other.
    #[error("{place}: the chores {} wait for each other; take one of them out of an `after`, or date it another way", chain(.keys))]
    WaitingCircle {
        /// File and line of the first rule of the circle.
        place: String,
        /// Keys along the circle; the last is the first again.
        keys: Vec<String>,
    },
    /// The dates of rules are counted from each other.
    #[error("{place}: the dates of the chores {} are counted from each other; date one of them another way", chain(.keys))]
    DatingCircle {
        /// File and line of the first rule of the circle.
        place: String,
        /// Keys along the circle; the last is the first again.
        keys: Vec<String>,
    },
}

fn chain(keys: &[String]) -> String {
    keys.iter().map(|key| format!("“{key}”")).collect::<Vec<_>>().join(" → ")
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CatalogueFile {
    #[serde(default)]
    chore: Vec<ChoreRule>,
}

#[derive(Debug, Clone, PartialEq)]
struct Entry {
    rule: ChoreRule,
    place: Place,
}

/// Checked chore rules.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ChoreCatalogue {
    entries: BTreeMap<String, Entry>,
    /// Keys so that each rule comes after those its dates are counted from.
    dating_order: Vec<String>,
    /// Keys so that each rule comes after those that must be done before it.
    working_order: Vec<String>,
}

impl ChoreCatalogue {
    /// Reads a catalogue in TOML: one `[[chore]]` table per rule. The rules may refer to each other only.
    ///
    /// # Errors
    /// [`ChoreCatalogueError`] with the file and line, the rule and its field, or the rules along a circle.
    pub fn parse(file: &str, text: &str) -> Result<Self, ChoreCatalogueError> {
        Self::default().extended_with_text(file, text)
    }

    /// The rules that come with the program.
    ///
    /// # Errors
    /// Never in a released program: a test reads the built-in catalogue.
    pub fn built_in() -> Result<Self, ChoreCatalogueError> {
        Self::parse("catalogue/chores.toml", include_str!("../../catalogue/chores.toml"))
    }

    /// Adds the grower's own rules from a text in the form of [`ChoreCatalogue::parse`]; they may refer to the
    /// rules that are there, and one with a known key takes its place.
    ///
    /// # Errors
    /// As [`ChoreCatalogue::parse`].
    pub fn extended_with_text(self, file: &str, text: &str) -> Result<Self, ChoreCatalogueError> {
        let parsed: CatalogueFile = toml::from_str(text).map_err(|e| ChoreCatalogueError::Syntax {
            file: file.to_owned(),
            line: Lines::of(text).number(e.span().map_or(0, |span| span.start)),
            message: e.message().to_owned(),
        })?;
        let places = places(file, text);
        self.extended(parsed.chore.into_iter().zip(places).map(|(rule, place)| Entry { rule, place }))
    }

    /// Adds the grower's own rules; they may refer to the rules that are there, and one with a known key takes
    /// its place.
    ///
    /// # Errors
    /// As [`ChoreCatalogue::parse`], without lines.
    pub fn extended_with(
        self,
        own: impl IntoIterator<Item = ChoreRule>,
    ) -> Result<Self, ChoreCatalogueError> {
        let place = Place::without_lines("your own chores");
        self.extended(own.into_iter().map(|rule| Entry { rule, place: place.clone() }))
    }

    fn extended(mut self, own: impl Iterator<Item = Entry>) -> Result<Self, ChoreCatalogueError> {
        let mut added: BTreeMap<String, Entry> = BTreeMap::new();
        for entry in own {
            entry.rule.check().map_err(|source| entry.refused(source))?;
            let key = entry.rule.key.clone();
            if let Some(first) = added.get(&key) {
                return Err(ChoreCatalogueError::Twice {
                    place: entry.place.of_field("key"),
                    first: first.place.of_field("key"),
                    key,
                });
            }
            added.insert(key, entry);
        }
        self.entries.extend(added);
        self.connected()
    }

    fn connected(mut self) -> Result<Self, ChoreCatalogueError> {
        let rules: Rules<'_> = self.entries.values().map(|e| (e.rule.key.as_str(), &e.rule)).collect();
        for entry in self.entries.values() {
            check_references(&entry.rule, &rules).map_err(|source| entry.refused(source))?;
        }
        let own = |keys: Vec<&str>| keys.into_iter().map(str::to_owned).collect();
        let dating: Vec<String> = dating_order(&rules)
            .map(own)
            .map_err(|keys| ChoreCatalogueError::DatingCircle { place: self.place_of(&keys), keys })?;
        let working: Vec<String> = working_order(&rules)
            .map(own)
            .map_err(|keys| ChoreCatalogueError::WaitingCircle { place: self.place_of(&keys), keys })?;
        self.dating_order = dating;
        self.working_order = working;
        Ok(self)
    }

    fn place_of(&self, keys: &[String]) -> String {
        let first = keys.first().and_then(|key| self.entries.get(key));
        first.map_or_else(String::new, |entry| entry.place.of_field("key"))
    }

    /// The rule of a key.
    pub fn get(&self, key: &str) -> Option<&ChoreRule> {
        self.entries.get(key).map(|entry| &entry.rule)
    }

    /// All rules in the order of their keys.
    pub fn iter(&self) -> impl Iterator<Item = &ChoreRule> {
        self.entries.values().map(|entry| &entry.rule)
    }

    /// Rules so that each comes after those its dates are counted from.
    pub fn in_dating_order(&self) -> impl Iterator<Item = &ChoreRule> {
        self.dating_order.iter().filter_map(|key| self.get(key))
    }

    /// Rules so that each comes after those that must be done before it.
    pub fn in_working_order(&self) -> impl Iterator<Item = &ChoreRule> {
        self.working_order.iter().filter_map(|key| self.get(key))
    }
}

impl Entry {
    fn refused(&self, source: FieldError) -> ChoreCatalogueError {
        ChoreCatalogueError::Rule {
            place: self.place.of_field(&source.field),
            key: self.rule.key.clone(),
            source,
        }
    }
}

#[cfg(test)]
#[path = "catalogue_test.rs"]
mod tests;
