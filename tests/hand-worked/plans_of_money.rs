//! What a plan takes of money, and what it says where something has no price, no hours, a size or a rate; worked by hand.

use kerfbook::names::ThingId;
use kerfbook::reports::{PlanAsked, PlanReport, report_plan};
use kerfbook::year::Books;
use rust_decimal::Decimal;

use crate::compiled::compile_texts;

const SHOP: &str = "\
shop \"Wren & Gable Woodshop\"
    currency USD
    owner time 20.00 per h
place bench \"Bench\"
    home
step cutting \"Cutting\"
step sanding \"Sanding\"
material oak \"Oak\"
    measured in bf
product cart \"Cart\"
    needs 1 bf oak
    takes 20 min cutting
    pattern cp
pattern cp \"Cart pattern\"
    royalty 0.50 per ea
helper sam \"Sam\"
    contractor
    costs 18.00 per h
bought 2026-01-05 from yard
    2 boards oak, 4/4 x 6 x 96 in, for 80.00
built 2026-01-10 batch C1
    used 4 bf oak
    took 1h cutting, 20m sanding by sam
    made 4 cart
built 2026-02-10 batch C2
    used 4 bf oak
    took 1h 40m cutting, 20m sanding by sam
    made 5 cart
";

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

fn is_told(report: &PlanReport, words: &str) -> bool {
    report.notes.iter().any(|note| note.contains(words))
}

/// At once: for helpers, for royalties, in all; and later.
fn money(report: &PlanReport) -> [&str; 4] {
    [&report.helper_pay, &report.royalties, &report.cash_needed, &report.due_later].map(String::as_str)
}

#[test]
fn helpers_and_royalties_are_paid_at_once_or_due_later() {
    // Nine carts took 8 bf and 40 min of Sam's, 12.00. Twenty take 20 · 8/9 = 17.777778 bf, and none is on hand: a board held 4 bf and cost 40.00,
    // so five boards for 200.00. Sam: 12.00 · 20/9 = 26.67. Royalties: 20 · 0.50 = 10.00.
    assert_eq!(money(&plan(SHOP, &[("cart", 20)])), ["26.67", "10.00", "236.67", "0.00"]);
    let sam_later = SHOP.replace("    costs 18.00 per h\n", "    costs 18.00 per h\n    paid later\n");
    let report = plan(&sam_later, &[("cart", 20)]);
    assert_eq!(money(&report), ["0.00", "10.00", "210.00", "26.67"]);
    assert!(is_told(&report, "26.67 more is due later"), "{:#?}", report.notes);
    let both_later = sam_later.replace("    royalty 0.50 per ea\n", "    royalty 0.50 per ea\n    paid later\n");
    assert_eq!(money(&plan(&both_later, &[("cart", 20)])), ["0.00", "0.00", "200.00", "36.67"]);
}

#[test]
fn boards_to_buy_are_told_with_their_size_and_more_than_one_as_more_than_one() {
    let many = plan(SHOP, &[("cart", 20)]);
    let told = |report: &PlanReport| {
        let buy = &report.buys[0];
        (buy.packs.clone(), buy.pack.clone(), buy.size.clone().expect("a size"), buy.pack_words.clone())
    };
    let size = "4/4 x 6 x 96 in";
    assert_eq!(told(&many), ("5".into(), "board".into(), size.into(), format!("boards {size}")));
    // Written with the sign, it is said as the book has it.
    let signed = plan(&SHOP.replace("4/4 x 6 x 96 in", "4/4 × 6 × 96 in"), &[("cart", 20)]);
    assert_eq!(told(&signed).3, "boards 4/4 × 6 × 96 in");
    // One cart takes 8/9 bf.
    assert_eq!(told(&plan(SHOP, &[("cart", 1)])), ("1".into(), "board".into(), size.into(), format!("board {size}")));
}

#[test]
fn what_has_no_price_or_no_hours_is_not_told_as_nothing() {
    // One foot was found, which costs nothing; two more were never bought. No licence was bought either, and nothing says how long a mug takes.
    let text = "shop \"Eff\"\n    currency USD\n    owner time 20.00 per h\nplace bench \"Bench\"\n    home\nstep cutting \"Cutting\"\n\
        material oak \"Oak\"\n    measured in bf\nproduct cart \"Cart\"\n    needs 1 bf oak\n    takes 30 min cutting\n    pattern p1\n\
        product mug \"Mug\"\n    needs 1 bf oak\npattern p1 \"P\"\n    allows 5 ea for sale\nfound 2026-01-01\n    1 bf oak\n";
    let report = plan(text, &[("cart", 3)]);
    assert_eq!(report.costs[0].at_least, ["materials", "royalty", "paid", "full"]);
    // Two things to buy without a price; half an hour of cutting is known.
    assert_eq!((report.unpriced, report.costs[0].per_unit.own_time.as_str()), (2, "10.00"));
    let mugs = plan(text, &[("mug", 3)]);
    assert_eq!(mugs.costs[0].at_least, ["materials", "paid", "own_time", "full", "minutes_per_unit"]);
    assert_eq!(mugs.without_hours, ["mug"]);
    assert!(is_told(&mugs, "nothing says how long it takes to make Mug"), "{:#?}", mugs.notes);
    assert!(report.without_hours.is_empty() && plan(SHOP, &[("cart", 1)]).costs[0].at_least.is_empty());
}

#[test]
fn the_rate_of_overhead_is_told_with_its_days() {
    // 80.00 of rent in the year up to 2026-03-01, over 160 min of yours and 40 of Sam's: 24.00 an hour.
    let rent =
        "expense rent \"Rent\"\n    form line 20b\n    counts as overhead\npaid 2026-03-01 to landlord\n    80.00 for rent\n";
    let text = SHOP.replace("    owner time", "    overhead from expenses\n    tax form us-schedule-c\n    owner time");
    let report = plan(&format!("{text}{rent}"), &[("cart", 1)]);
    let told = "overhead counts at 24.00 an hour of work: what counted as overhead from 2025-03-02 to 2026-03-01";
    assert!(is_told(&report, told), "{:#?}", report.notes);
    assert!(!is_told(&plan(SHOP, &[("cart", 1)]), "overhead"));
}
