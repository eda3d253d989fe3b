//! Patterns and their licences, worked by hand: two licences permit 20 whales. 4, 5 and 8 were made: 17, so 3 are left, and a usual batch is the mean of
//! these, 5.67, rounded up to 6: another would go over. Royalties of 0.50 a piece: in the first quarter 9 pieces, 4.50, in the second 8, 4.00. 3.00
//! were paid, the oldest first: all of January's 2.00 and 1.00 of February's 2.50, so 1.50 and 4.00 are due.

use kerfbook::diagnostics::Severity;
use kerfbook::reports::{PatternUse, report_stock};

use crate::compiled::{Compiled, compile_texts};

const BOOK: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
place bench \"Bench\"
    home
material wood \"Wood\"
    measured in bf
pattern whale-pattern \"Whale pattern\"
    allows 10 ea for sale
    royalty 0.50 per ea
    paid later
product whale \"Whale\"
    pattern whale-pattern
opened 2026-01-01
    100 bf wood for 100.00
bought 2026-01-02 from \"the drawer\"
    2 licences whale-pattern for 24.00
built 2026-01-10 batch W-1
    used 4 bf wood
    made 4 whale
built 2026-02-10 batch W-2
    used 5 bf wood
    made 5 whale
built 2026-04-10 batch W-3
    used 8 bf wood
    made 8 whale
paid 2026-04-15 to \"Drawer and Daughter\"
    3.00 for whale-pattern
";

fn compiled(more: &str) -> Compiled {
    let text = format!("{BOOK}{more}");
    compile_texts(&[("book.kerf", &text)])
}

fn whales(compiled: &Compiled) -> PatternUse {
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let report = report_stock(&compiled.book, &compiled.log, &compiled.costed, None).expect("small figures");
    let [pattern] = report.patterns.as_slice() else { panic!("{:#?}", report.patterns) };
    pattern.clone()
}

/// The messages of a kind of finding.
fn told(compiled: &Compiled, severity: Severity) -> Vec<String> {
    compiled.found.iter().filter(|one| one.severity == severity).map(|one| one.message.clone()).collect()
}

#[test]
fn pieces_made_and_left_and_royalties_by_quarter_are_told() {
    let compiled = compiled("");
    let pattern = whales(&compiled);
    assert_eq!(pattern.products, ["whale"]);
    assert_eq!(
        (pattern.made.as_str(), pattern.permitted.as_deref(), pattern.left.as_deref(), pattern.usual_batch.as_deref()),
        ("17", Some("20"), Some("3"), Some("6"))
    );
    let quarters: Vec<_> = pattern
        .royalties
        .iter()
        .map(|row| (row.quarter.as_str(), row.pieces.as_str(), row.royalty.as_str(), row.due.as_str()))
        .collect();
    assert_eq!(quarters, [("2026-Q1", "9", "4.50", "1.50"), ("2026-Q2", "8", "4.00", "4.00")]);
    assert_eq!((pattern.due.as_str(), pattern.payee.as_deref()), ("5.50", Some("Drawer and Daughter")));
    assert_eq!(
        pattern.says,
        "17 made, 3 of 20 permitted left; another batch of the usual 6 would go over: buy a licence first; $5.50 of royalties are due to \
         Drawer and Daughter"
    );
    assert!(pattern.near);
    assert_eq!(
        told(&compiled, Severity::Warning),
        ["the licences of `whale-pattern` permit 3 more, and another batch of the usual 6 would go over"]
    );
}

#[test]
fn a_licence_bought_in_time_is_neither_near_nor_over() {
    let compiled = compiled("bought 2026-05-01 from \"the drawer\"\n    1 licence whale-pattern for 12.00\n");
    let pattern = whales(&compiled);
    assert_eq!((pattern.left.as_deref(), pattern.near), (Some("13"), false));
    assert_eq!(told(&compiled, Severity::Warning), Vec::<String>::new());
}

#[test]
fn over_the_limit_is_a_mistake_though_a_licence_is_bought_later() {
    let compiled = compiled(
        "built 2026-05-01 batch W-4\n    used 4 bf wood\n    made 4 whale\nbought 2026-05-02 from \"the drawer\"\n    1 licence whale-pattern for 12.00\n",
    );
    assert_eq!(
        told(&compiled, Severity::Error),
        ["1 of these pieces is over what the licences of `whale-pattern` permit by 2026-05-01"]
    );
}

#[test]
fn a_pattern_by_which_nothing_was_made_for_a_year_is_out_of_use() {
    let compiled = compiled("noted 2027-05-01 \"the drawer has closed\"\n");
    assert_eq!(told(&compiled, Severity::Warning), Vec::<String>::new());
    assert!(whales(&compiled).near);
}

#[test]
fn where_no_royalty_was_paid_yet_who_sold_the_licence_is_likely_its_payee() {
    // Two whales at 0.25 are owed; the licence came from the drawer, and nobody was paid a royalty.
    let text = "shop \"Wren & Gable Woodshop\"\n    currency USD\nplace bench \"Bench\"\n    home\nmaterial wood \"Wood\"\n    measured in bf\n\
                pattern whale-pattern \"Whale\"\n    allows 20 ea for sale\n    royalty 0.25 per ea\n    paid later\nproduct whale \"Whale toy\"\n    pattern whale-pattern\n\
                bought 2026-01-02 from yard\n    4 bf wood for 20.00\nbought 2026-01-02 from drawer\n    1 licence whale-pattern for 12.00\n\
                built 2026-01-03 batch W-1\n    used 1 bf wood\n    made 2 whale\n";
    let compiled = crate::compiled::compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    assert_eq!(
        whales(&compiled).says,
        "2 made, 18 of 20 permitted left; $0.50 of royalties are due, likely to drawer, of whom a licence was bought"
    );
}
