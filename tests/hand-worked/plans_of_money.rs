//! What a plan takes of money, and what it says where something has no price, no hours, a size or a rate; worked by hand.

use kerfbook::names::ThingId;
use kerfbook::render::text::{Look, text_plan};
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

#[test]
fn what_is_short_is_bought_from_whom_the_shop_buys_it_and_not_from_whom_it_was_swapped() {
    let swap = "swapped 2026-03-01 with neighbour\n    gave 1 cart at 30.00\n    got 1 bf oak\n";
    let text = format!("{SHOP}{swap}");
    let report = plan(&text, &[("cart", 2)]);
    let buy = |report: &PlanReport| {
        let buy = &report.buys[0];
        let cost = (buy.pack_cost.clone(), buy.cost.clone());
        (buy.supplier.clone(), buy.last_bought.clone(), buy.pack_words.clone(), cost, buy.swapped)
    };
    let some = |text: &str| Some(text.to_owned());
    // Eight feet were bought and used, and one was got. Nine carts took eight feet, so two take 1.78: a board more, 40.00 as the yard sold it.
    let bought = (some("yard"), some("2026-01-05"), "board 4/4 x 6 x 96 in".to_owned(), (some("40.00"), some("40.00")), false);
    assert_eq!(buy(&report), bought);
    assert!(!is_told(&report, "swap"), "{:#?}", report.notes);
    // Felt was never bought: the last swap says what it is worth, and that it was one.
    let text = text
        .replace("product cart", "material felt \"Felt\"\n    measured in sq ft\nproduct cart")
        .replace("needs 1 bf", "needs 1 sq ft felt, 1 bf");
    let text = text.replace("    got 1 bf oak\n", "    got 3 sq ft felt\n");
    let report = plan(&text, &[("cart", 5)]);
    let felt = (some("neighbour"), some("2026-03-01"), "sq ft".to_owned(), (some("10.00"), some("20.00")), true);
    assert_eq!(buy(&report), felt);
    assert!(
        is_told(&report, "never bought, so at what it was worth in the last swap that brought some: Felt"),
        "{:#?}",
        report.notes
    );
}

#[test]
fn a_helper_whose_rate_changed_is_told_to_cost_by_the_rate_of_the_plans_day() {
    // C1 and C2 had 40 minutes of Sam's for nine carts: nine more have as many, 12.00 at 18.00 an hour and 16.00 at 24.00.
    let report = plan(SHOP, &[("cart", 9)]);
    assert_eq!(money(&report)[0], "12.00");
    assert!(is_told(&report, "they cost what they did then, as bought-in time"), "{:#?}", report.notes);
    let report =
        plan(&format!("{SHOP}changed 2026-02-20 sam\n    costs 24.00 per h\nnoted 2026-02-21 \"end\"\n"), &[("cart", 9)]);
    assert_eq!(money(&report)[0], "16.00");
    let told = "they cost what they did then, but by the rate on 2026-02-21 where it has changed since (Sam 24.00 an hour), as bought-in time";
    assert!(is_told(&report, told), "{:#?}", report.notes);
}

#[test]
fn nothing_fits_whose_hours_are_not_known() {
    // Nothing says how long a crate takes; the mug in it takes 40 minutes. From 2026-03-01 to 2026-03-07 is a week: of 6 h, or of one.
    let text = "shop \"Eff\"\n    currency USD\n    hours 6 per week\nplace bench \"Bench\"\n    home\nstep cutting \"Cutting\"\n\
        material oak \"Oak\"\n    measured in bf\nproduct mug \"Mug\"\n    needs 1 bf oak\n    takes 40 min cutting\n\
        product crate \"Crate\"\n    needs 1 mug\nbought 2026-01-01 from yard\n    9 bf oak for 9.00\n";
    let by = |text: &str, what: &str| {
        let compiled = compile_texts(&[("book.kerf", text)]);
        let at = compiled.book.things.iter().position(|thing| thing.named.name == what).expect("defined");
        let builds = vec![(ThingId(u32::try_from(at).expect("few")), Decimal::TWO)];
        let books = Books { sources: &compiled.sources, book: &compiled.book, log: &compiled.log, costed: &compiled.costed };
        let day = |day| chrono::NaiveDate::from_ymd_opt(2026, 3, day).expect("a day");
        let report = report_plan(books, &PlanAsked { builds, by: Some((day(1), day(7))) }).expect("a plan");
        (report.by.as_ref().map(|by| by.fits), text_plan(&report, Look { width: 1000, ..Look::default() }))
    };
    assert_eq!(by(text, "mug").0, Some(Some(true)));
    let (fits, said) = by(text, "crate");
    assert_eq!(fits, Some(None));
    assert!(said.contains("As far as hours are known it fits by 2026-03-07: there are 6 h"), "{said}");
    // What is known is too much already.
    let (fits, said) = by(&text.replace("hours 6", "hours 1"), "crate");
    assert_eq!(fits, Some(Some(false)));
    assert!(said.contains("and at least 1 h 20 min are needed"), "{said}");
}
