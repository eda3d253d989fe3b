//! What a plan takes of a pattern's licences where open batches will take of them too, and where no whole number of good pieces is expected; worked by hand.

use kerfbook::names::ThingId;
use kerfbook::reports::{PlanAsked, PlanReport, report_plan};
use kerfbook::year::Books;
use rust_decimal::Decimal;

use crate::compiled::compile_texts;

/// A licence permits ten pieces: the first cost 10.00, the second 20.00. Batch A is open for eight spoons, nothing of it is done.
const SHOP: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
place bench \"Bench\"
    home
step carving \"Carving\"
material ash \"Ash\"
    measured in bf
pattern knot \"Knot\"
    allows 10 ea for sale
product spoon \"Spoon\"
    needs 0.5 bf ash
    takes 20 min carving
    pattern knot
product fork \"Fork\"
    needs 0.5 bf ash
    takes 20 min carving
    pattern knot
product gift \"Gift\"
    needs 1 spoon
    takes 5 min carving
bought 2026-01-02 from yard
    50 bf ash for 100.00
bought 2026-01-02 from designer
    1 licence knot for 10.00
";

const SECOND: &str = "bought 2026-01-03 from designer\n    1 licence knot for 20.00\n";

const OPEN: &str = "started 2026-01-05 batch A\n    aims at 8 spoon\n    used 4 bf ash\n    took 2h carving\n";

fn plan(text: &str, asked: &[(&str, i64)]) -> PlanReport {
    let compiled = compile_texts(&[("book.kerf", text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let thing = |name: &str| {
        let at = compiled.book.things.iter().position(|thing| thing.named.name == name).expect("defined");
        ThingId(u32::try_from(at).expect("few"))
    };
    let builds = asked.iter().map(|(name, count)| (thing(name), Decimal::from(*count))).collect();
    let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
    report_plan(books, &PlanAsked { builds, by: None }).expect("a plan")
}

/// Of the only pattern: needed, left, taken by open batches, short, to buy.
fn licence(report: &PlanReport) -> [&str; 5] {
    let [one] = report.licences.as_slice() else { panic!("one pattern") };
    [&one.needed, &one.left, &one.on_the_bench, &one.short, &one.buy].map(String::as_str)
}

fn royalty(report: &PlanReport) -> &str {
    &report.costs[0].per_unit.royalty
}

#[test]
fn what_open_batches_will_take_is_no_longer_there() {
    // Ten are left and A takes eight of them: two of four spoons have no licence. Two and two cost 1.00 each.
    let report = plan(&format!("{SHOP}{OPEN}"), &[("spoon", 4)]);
    assert_eq!(licence(&report), ["4", "10", "8", "2", "1"]);
    assert_eq!((royalty(&report), report.cash_needed.as_str()), ("1.00", "10.00"));
    let told = "the licences of Knot permit 10 more pieces, open batches that the plan does not take still make 8, and the plan makes 4: 1 licence to buy";
    assert!(report.notes.iter().any(|note| note.contains(told)), "{:#?}", report.notes);
    // Forks are made by the same pattern, and A is in their way too.
    assert_eq!(licence(&plan(&format!("{SHOP}{OPEN}"), &[("fork", 3)])), ["3", "10", "8", "1", "1"]);
    // With the second licence twenty are left. A takes eight of the first, so four spoons take its last two at 1.00 and two at 2.00: 6.00 / 4.
    let report = plan(&format!("{SHOP}{SECOND}{OPEN}"), &[("spoon", 4)]);
    assert_eq!((licence(&report), royalty(&report)), (["4", "20", "8", "0", "0"], "1.50"));
    // Without A the four are all of the first.
    let report = plan(&format!("{SHOP}{SECOND}"), &[("spoon", 4)]);
    assert_eq!((licence(&report), royalty(&report)), (["4", "20", "0", "0", "0"], "1.00"));
}

#[test]
fn pieces_that_the_plan_takes_of_an_open_batch_are_counted_once() {
    // Three gifts take three of A's eight spoons; the other five still take theirs. Ten gifts take all eight and want two more.
    let text = format!("{SHOP}{OPEN}");
    assert_eq!(licence(&plan(&text, &[("gift", 3)])), ["3", "10", "5", "0", "0"]);
    assert_eq!(licence(&plan(&text, &[("gift", 10)])), ["10", "10", "0", "0", "0"]);
    // Two were finished, and took of the licence: six of A are to come, and eight are left.
    let text = format!("{text}finished 2026-01-06 batch A\n    made 2 spoon\n");
    assert_eq!(licence(&plan(&text, &[("fork", 3)])), ["3", "8", "6", "1", "1"]);
}

#[test]
fn what_open_batches_lack_themselves_is_bought_first() {
    // Fourteen are open where ten are permitted: four of them and all three forks lack one, and a licence of ten is enough for these seven. The forks cost
    // 1.00 each.
    let report = plan(&format!("{SHOP}{}", OPEN.replace("aims at 8", "aims at 14")), &[("fork", 3)]);
    assert_eq!((licence(&report), royalty(&report)), (["3", "10", "14", "7", "1"], "1.00"));
}

#[test]
fn each_good_piece_costs_one_piece_of_a_licence_whole_or_not() {
    // Seven of eight came out good, so of fourteen begun 12.25 are expected, each at 1.25 and, by licences of 20.00, 2.00; no thirteenth is paid for.
    // 3 of 10 are left, and whole pieces are held against them: ten are short, and one licence permits these.
    let text = SHOP.replace("for 10.00", "for 20.00").replace("    allows", "    royalty 1.25 per ea\n    allows");
    let text =
        format!("{text}built 2026-01-05 batch B\n    used 4 bf ash\n    took 2h carving\n    made 7 spoon\n    lost 1 spoon\n");
    let report = plan(&text, &[("spoon", 12)]);
    assert_eq!(report.builds[0].expected_good, "12.25");
    assert_eq!((licence(&report), royalty(&report)), (["13", "3", "0", "10", "1"], "3.25"));
    // 20.00 for the licence, and 12.25 · 1.25 = 15.31 for royalties.
    assert_eq!(report.cash_needed, "35.31");
}
