//! A made-up report of the proof: plausible, but of no book.

use std::collections::BTreeMap;

use super::head;
use crate::reports::{ProofComponent, ProofReport};

/// A proof of three components over two years.
pub(crate) fn proof() -> ProofReport {
    let sums = |sums: &[(&str, &str)]| -> BTreeMap<String, String> {
        sums.iter().map(|(name, sum)| ((*name).to_owned(), (*sum).to_owned())).collect()
    };
    let component = |name: &str| ProofComponent {
        name: name.to_owned(),
        came_in: "4180.221900".to_owned(),
        came_from: sums(&[("at_start", "822.100000"), ("bought", "3358.121900")]),
        went_to: sums(&[("at_end", "1843.204411"), ("sold", "2292.817489"), ("scrapped", "44.200000")]),
        difference: "0.000000".to_owned(),
    };
    let components: Vec<ProofComponent> = ["materials", "own_time", "own_minutes"].into_iter().map(component).collect();
    ProofReport {
        head: head("proof"),
        years: BTreeMap::from([("2026".to_owned(), components.clone())]),
        components,
        line: "in 4,180.22 = out 4,180.22, difference 0".to_owned(),
        holds: true,
    }
}
