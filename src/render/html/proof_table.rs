//! The proof as a table: a column a component, a row a source or way out.

use std::collections::BTreeMap;

use minijinja::context;
use minijinja::value::Value;

use crate::render::spoken::spoken;
use crate::reports::ProofComponent;

/// A table of one period: a column a component, a row a source or way out.
pub(super) fn proof_part(id: &str, heading: &str, components: &[ProofComponent]) -> Value {
    let side = |heading: &str, sums: fn(&ProofComponent) -> &BTreeMap<String, String>| {
        let mut names: Vec<&str> = components.iter().flat_map(|one| sums(one).keys().map(String::as_str)).collect();
        names.sort_unstable();
        names.dedup();
        let rows: Vec<Value> = names
            .into_iter()
            .map(|name| {
                let amounts: Vec<Option<String>> = components.iter().map(|one| sums(one).get(name).cloned()).collect();
                context! { name => spoken(name), key => name.replace('_', "-"), amounts }
            })
            .collect();
        context! { heading, rows }
    };
    let columns: Vec<String> = components.iter().map(|one| spoken(&one.name)).collect();
    let differences: Vec<String> = components.iter().map(|one| one.difference.clone()).collect();
    let sides = vec![side("Came in", |one| &one.came_from), side("Went to", |one| &one.went_to)];
    // As figures name them: `proof/own-time/2026/sold`.
    let names: Vec<String> = components.iter().map(|one| one.name.replace('_', "-")).collect();
    let when = if id.bytes().all(|byte| byte.is_ascii_digit()) { format!("/{id}") } else { String::new() };
    context! { id => format!("proof-{id}"), heading, columns, names, when, sides, differences }
}
