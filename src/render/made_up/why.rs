//! A made-up report of a derivation: plausible, but of no book.

use super::head;
use crate::reports::{WhyMeasure, WhyPlace, WhyReport, WhyRule, WhyStep};

/// A derivation with long words, a long name and a long line of the book.
pub(crate) fn why() -> WhyReport {
    let step = |says: &str, paid: &str, figure: Option<&str>, steps: Vec<WhyStep>| WhyStep {
        measure: None,
        unit: None,
        month: None,
        says: says.to_owned(),
        paid: paid.to_owned(),
        full: paid.to_owned(),
        rule: if steps.is_empty() && figure.is_some() { WhyRule::Deeper } else { WhyRule::SumOf },
        figure: figure.map(str::to_owned),
        at: Some(WhyPlace {
            file: "2026-03.kerf".to_owned(),
            line: 54,
            text: "used 8.2 bf red-oak lot RO-0, 40 wheel-40                 # the old oak first, and said so".to_owned(),
        }),
        steps,
    };
    let deeper = step(
        "9 pull-cart, which were made in batch PC-022 on 2026-03-09 and in no other",
        "118.77222",
        Some("batch/PC-022"),
        vec![],
    );
    let lot = step("10 pull-cart, which were made in batch PC-021 on 2026-01-11", "111.498902", None, vec![deeper]);
    WhyReport {
        head: head("why"),
        figure: "cost/pull-cart".to_owned(),
        measure: WhyMeasure::PaidAndFull,
        answer: "What was finished cost 12.341516 paid and 27.106029 full each.".to_owned(),
        steps: vec![step("one pull-cart, of all that were finished, the whole over the units", "12.341516", None, vec![lot])],
    }
}
