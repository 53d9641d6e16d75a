//! How chore rules hang together: which must exist, whose scope fits, and that none waits for itself.

use std::collections::BTreeMap;

use petgraph::Direction;
use petgraph::algo::{astar, tarjan_scc, toposort};
use petgraph::graphmap::DiGraphMap;

use super::{Anchor, ChoreRule, Scope, Trigger};
use crate::field::FieldError;

/// Rules by key.
pub(super) type Rules<'r> = BTreeMap<&'r str, &'r ChoreRule>;

impl ChoreRule {
    /// Other rules whose dates this one's dates are counted from, with the path of the field that says so.
    pub(super) fn dated_from(&self) -> impl Iterator<Item = (String, &str)> {
        let until = self.repeat.as_ref().map(|repeat| ("repeat.until".to_owned(), &repeat.until));
        self.when.triggers().chain(until).filter_map(|(field, trigger)| match trigger {
            Trigger::Chore { chore, .. } => Some((format!("{field}.chore"), chore.as_str())),
            _ => None,
        })
    }
}

/// Checks what one rule says about others.
///
/// # Errors
/// The first field that names a rule which does not exist or cannot give a date.
pub(super) fn check_references(rule: &ChoreRule, rules: &Rules<'_>) -> Result<(), FieldError> {
    for (index, other) in rule.after.iter().enumerate() {
        let field = format!("after[{index}]");
        known(&field, other, rules)?;
        if rule.after[..index].contains(other) {
            return Err(FieldError::new(field, format!("names “{other}” a second time"), "leave it out"));
        }
    }
    for (field, other) in rule.dated_from() {
        let other = known(&field, other, rules)?;
        if width(other.scope) < width(rule.scope) {
            return Err(FieldError::new(
                field,
                format!("counts from “{}”, which has many dates for one of this chore", other.key),
                "count from a chore with the same or a wider scope, or name it in `after` instead",
            ));
        }
    }
    Ok(())
}

fn known<'r>(field: &str, key: &str, rules: &Rules<'r>) -> Result<&'r ChoreRule, FieldError> {
    rules.get(key).copied().ok_or_else(|| {
        FieldError::new(
            field,
            format!("names “{key}”, which is no chore"),
            "correct the key or add the chore",
        )
    })
}

fn width(scope: Scope) -> u8 {
    match scope {
        Scope::Planting => 0,
        Scope::Zone => 1,
        Scope::Shelter => 2,
        Scope::Site => 3,
    }
}

/// Keys of rules in an order in which each comes after all rules that its dates are counted from.
///
/// # Errors
/// The keys along a circle of rules whose dates are counted from each other.
pub(super) fn dating_order<'r>(rules: &Rules<'r>) -> Result<Vec<&'r str>, Vec<String>> {
    let mut graph = nodes(rules);
    for rule in rules.values() {
        for (_, other) in rule.dated_from() {
            graph.add_edge(other, rule.key.as_str(), ());
        }
    }
    sorted(rules, &graph)
}

/// Keys of rules in an order in which each comes after all that must be done before it.
///
/// A best date counted from another chore orders the two as `after` does: a chore dated some days after
/// another comes later, one dated before another comes earlier. So a rule that is dated before another and
/// must wait for it is found out here.
///
/// # Errors
/// The keys along a circle of rules that wait for each other.
pub(super) fn working_order<'r>(rules: &Rules<'r>) -> Result<Vec<&'r str>, Vec<String>> {
    let mut graph = nodes(rules);
    for rule in rules.values() {
        for other in &rule.after {
            graph.add_edge(other.as_str(), rule.key.as_str(), ());
        }
        for trigger in &rule.when.best {
            if let Trigger::Chore { chore, anchor: Anchor::Best, days } = trigger {
                if *days >= 0 {
                    graph.add_edge(chore.as_str(), rule.key.as_str(), ());
                } else {
                    graph.add_edge(rule.key.as_str(), chore.as_str(), ());
                }
            }
        }
    }
    sorted(rules, &graph)
}

fn nodes<'r>(rules: &Rules<'r>) -> DiGraphMap<&'r str, ()> {
    let mut graph = DiGraphMap::new();
    for key in rules.keys() {
        graph.add_node(*key);
    }
    graph
}

/// Keys by the length of the longest chain before them, then by phase and alphabet, so that an unrelated rule does
/// not change the order of others.
fn sorted<'r>(rules: &Rules<'r>, graph: &DiGraphMap<&'r str, ()>) -> Result<Vec<&'r str>, Vec<String>> {
    let mut order = toposort(graph, None).map_err(|_| circle(graph))?;
    let mut depths: BTreeMap<&str, usize> = BTreeMap::new();
    for &key in &order {
        let before = graph.neighbors_directed(key, Direction::Incoming);
        let depth = before.filter_map(|other| depths.get(other).map(|depth| depth + 1)).max().unwrap_or(0);
        depths.insert(key, depth);
    }
    order.sort_by_key(|&key| (depths.get(key), rules.get(key).map(|rule| rule.phase), key));
    Ok(order)
}

/// The keys along one circle, from its first key in the alphabet back to it.
fn circle(graph: &DiGraphMap<&str, ()>) -> Vec<String> {
    let on_circles = tarjan_scc(graph)
        .into_iter()
        .filter(|members| members.len() > 1 || members.iter().any(|&key| graph.contains_edge(key, key)));
    let start = on_circles.flatten().min().unwrap_or_default();
    let back = graph
        .neighbors(start)
        .filter_map(|next| astar(graph, next, |key| key == start, |_| 1u32, |_| 0))
        .min();
    let path = back.map_or_else(Vec::new, |(_, path)| path);
    std::iter::once(start).chain(path).map(str::to_owned).collect()
}
