//! Where in a file the fields of a chore rule stand.

use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::lines::Lines;

/// Where a rule was read from.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Place {
    /// File, or another name for the source.
    pub(super) file: String,
    /// 1-based line of each field by its path (`when.best[0].chance`); the rule itself has the empty path.
    lines: BTreeMap<String, usize>,
}

impl Place {
    /// A rule that was not read from a text.
    pub(super) fn without_lines(file: &str) -> Self {
        Self { file: file.to_owned(), lines: BTreeMap::new() }
    }

    /// File and, where known, line of a field, or of the nearest table around it.
    pub(super) fn of_field(&self, field: &str) -> String {
        let mut path = field;
        loop {
            if let Some(line) = self.lines.get(path) {
                return format!("{}, line {line}", self.file);
            }
            match path.rfind(['.', '[']) {
                Some(end) => path = &path[..end],
                None if path.is_empty() => return self.file.clone(),
                None => path = "",
            }
        }
    }
}

/// The places of all `[[chore]]` tables of a text, in its order; nothing where the text is not TOML.
pub(super) fn places(file: &str, text: &str) -> Vec<Place> {
    let Ok(document) = DeTable::parse(text) else { return Vec::new() };
    let in_text = Lines::of(text);
    let chores = document.get_ref().get("chore").and_then(|chores| chores.get_ref().as_array());
    chores.map_or_else(Vec::new, |chores| {
        chores
            .iter()
            .map(|chore| {
                let mut lines = BTreeMap::new();
                collect(&in_text, "", chore, &mut lines);
                Place { file: file.to_owned(), lines }
            })
            .collect()
    })
}

fn collect(in_text: &Lines, path: &str, value: &Spanned<DeValue<'_>>, lines: &mut BTreeMap<String, usize>) {
    lines.entry(path.to_owned()).or_insert_with(|| in_text.number(value.span().start));
    match value.get_ref() {
        DeValue::Table(table) => {
            for (name, field) in table {
                let inner = if path.is_empty() {
                    name.get_ref().to_string()
                } else {
                    format!("{path}.{}", name.get_ref())
                };
                lines.insert(inner.clone(), in_text.number(name.span().start));
                collect(in_text, &inner, field, lines);
            }
        }
        DeValue::Array(items) => {
            for (index, item) in items.iter().enumerate() {
                collect(in_text, &format!("{path}[{index}]"), item, lines);
            }
        }
        _ => {}
    }
}
