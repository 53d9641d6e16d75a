//! Short names of chores: what a grower types in place of the key with its identifiers.

use std::collections::HashMap;

use hibernacle_contract::records::PlannedChore;
use hibernacle_contract::wording::{FluentArgs, Wording};
use hibernacle_contract::{ErrorCode, Failure};

/// Short names of a plan's chores by their keys: rule, target and round (`winter-water/north-corner#3`). Chores that
/// would share a name keep their keys.
pub(crate) fn short_names(chores: &[PlannedChore]) -> HashMap<&str, String> {
    let mut count: HashMap<String, u32> = HashMap::new();
    for chore in chores {
        *count.entry(short_name(chore)).or_default() += 1;
    }
    chores
        .iter()
        .map(|chore| {
            let name = short_name(chore);
            let name = if count.get(&name) == Some(&1) { name } else { chore.key.clone() };
            (chore.key.as_str(), name)
        })
        .collect()
}

fn short_name(chore: &PlannedChore) -> String {
    let mut target = String::new();
    for letter in chore.target.name.to_lowercase().chars() {
        if letter.is_alphanumeric() {
            target.push(letter);
        } else if !target.is_empty() && !target.ends_with('-') {
            target.push('-');
        }
    }
    let round = chore.key.split_once('#').map_or(String::new(), |(_, round)| format!("#{round}"));
    format!("{}/{}{round}", chore.rule, target.trim_end_matches('-'))
}

/// The chore that a text names: by its key, its short name, or the only one whose short name starts so.
pub(crate) fn find<'a>(
    chores: &'a [PlannedChore],
    asked: &str,
    wording: &Wording,
) -> Result<&'a PlannedChore, Failure> {
    let names = short_names(chores);
    let name_of = |chore: &PlannedChore| names.get(chore.key.as_str()).cloned().unwrap_or_default();
    if let Some(exact) = chores.iter().find(|chore| chore.key == asked || name_of(chore) == asked) {
        return Ok(exact);
    }
    let begun: Vec<&PlannedChore> = chores.iter().filter(|chore| name_of(chore).starts_with(asked)).collect();
    let mut figures = FluentArgs::new();
    figures.set("asked", asked);
    match begun.as_slice() {
        [only] => Ok(only),
        [] => Err(Failure::new(ErrorCode::NotFound, wording.message("cli-chore-unknown", &figures))),
        several => {
            let names: Vec<String> = several.iter().take(10).map(|chore| name_of(chore)).collect();
            figures.set("names", names.join(", "));
            Err(Failure::new(ErrorCode::Conflict, wording.message("cli-chore-several", &figures)))
        }
    }
}
