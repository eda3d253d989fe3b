//! Lines below a head: their small words, and what is told where no slip fits.

use super::super::*;
use super::Under::{Bought, Built, Channel, Counted, Finished, Material, Nothing, Paid, Product, Received, Shop, Sold, Worked};
use super::{check, told};
use crate::diagnostics::{Code, corrected_lines};
use crate::syntax::parse_lines;
use crate::syntax::slip_errors as code;

#[test]
fn small_words_are_handed_over() {
    check(&[
        (Bought, "freight 18.00 by value", "freight 18.00 shared by value"),
        (Sold, "sales tax 8.40", "sales-tax 8.40"),
        (Sold, "tax 8.40", "sales-tax 8.40"),
        (Sold, "2 pull-cart at 42.00, discount 10%", "2 pull-cart at 37.80 || 2 pull-cart at 42.00 | discount 10%"),
        (Sold, "2 pull-cart batch PC-014", "2 pull-cart lot PC-014"),
        (Sold, "paid cash", "paid || paid \"cash\""),
        (Sold, "paid by card", "paid || paid \"by card\""),
        (Sold, "2 pull-cart and 1 village-set", "2 pull-cart, 1 village-set"),
        (Sold, "packed in 1 box-small", "packed with 1 box-small"),
        (Channel, "fee 3% total", "fee 3% of total"),
        (Channel, "fee 3%", "fee 3% of total || fee 3% of goods || fee 3% of card"),
        (Product, "for children from 3", "for children from 3 years"),
        (Sold, "Total 276.90", "total 276.90"),
        (Sold, "dicsount 5.00", "discount 5.00"),
        (Sold, "repaired a clasp 25.00", "25.00 for NAME \"repaired a clasp\""),
        (Sold, "repair of a clasp for $25 cash", "25 for NAME \"repair of a clasp\" | cash 25"),
        (Sold, "taught a class for 6 people, 180.00", "180.00 for NAME \"taught a class for 6 people\""),
        (Sold, "to 'J. in Dover'", "to \"J. in Dover\""),
        (Sold, "note \"oiled twice", "note \"oiled twice\""),
        (Sold, "- 2 pull-cart", "2 pull-cart"),
    ]);
}

#[test]
fn no_corrected_line_is_one_that_may_not_stand_in_its_block() {
    check(&[
        (Counted, "3 pull-cart and 5 ea", ""),
        // Without its sign it would be a second expense, or a second purchase.
        (Paid, "-50.00 for shop-supplies", ""),
        (Bought, "-50.00 for shop-supplies", ""),
        (Bought, "2 bf walnut for -22.40", ""),
        (Counted, "hours 12.00", ""),
        (Paid, "hours 12.00", "12.00 for hours"),
        (Shop, "hours 12", "hours 12 per week"),
        (Built, "3 pull-cart and 2 serving-board", ""),
        (Material, "1 bag is 50 ea", "1 bag = 50 ea"),
        (Nothing, "    3 pull-cart and 5 ea", ""),
    ]);
}

#[test]
fn what_a_tired_maker_types_is_turned_into_the_line_that_was_meant() {
    check(&[
        (Sold, "1 serving-board at the market", "1 serving-board \"at the market\""),
        (Worked, "2h on SB-003 sanding", "2h sanding on SB-003"),
        (Channel, "consignment, keeps 40%", "consignment 40%"),
        (Nothing, "changed 2026-12-11 serving-board price 42.00", "changed 2026-12-11 serving-board | price 42.00"),
        (
            Nothing,
            "gave 2026-12-08 to \"the school raffle\" as a donation",
            "gave 2026-12-08 to \"the school raffle\" as donation",
        ),
        (
            Nothing,
            "gave 2026-12-08 1 serving-board to the school raffle as a donation",
            "gave 2026-12-08 to \"the school raffle\" as donation | 1 serving-board",
        ),
        (Nothing, "used 2026-12-12", "used-up 2026-12-12 || built 2026-12-12"),
        (Built, "took 45 min sanding extra", "took 45 min sanding-extra"),
        (Bought, "1 serving-board because it cracked", "1 serving-board \"because it cracked\""),
        (Worked, "45m sanding it was hard", "45m sanding \"it was hard\""),
        (Nothing, "paid 2026-12-07 for stall-fee 15.00", "paid 2026-12-07 to NAME | 15.00 for stall-fee"),
        (Nothing, "paid 2026-12-07 to county-fair for stall-fee 15.00", "paid 2026-12-07 to county-fair | 15.00 for stall-fee"),
        (Nothing, "bought 2026-12-13 tool \"Band saw\" for 450.00", "bought 2026-12-13 | 1 band-saw for 450.00"),
        (Nothing, "bought 2026-12-13 from yard bar clamps for 24.00", "bought 2026-12-13 from yard | 1 bar-clamps for 24.00"),
        (Bought, "2 bags of wheel-40 for 23.00", "2 bags wheel-40 for 23.00"),
        (Built, "used 80 ml of clear-oil", "used 80 ml clear-oil"),
        (Built, "cutting 1h 48m", "took 1h 48m cutting"),
        (Built, "sanding 70 min", "took 70 min sanding"),
        (Built, "as planned", "used as planned | took as planned"),
        (Built, "made 12 serving-board, rest 35%", ""),
        (Finished, "made 12 serving-board, rest 35%", "made 12 serving-board, the rest 35%"),
        (Built, "made 2 pull-cart batch PC-014", "made 2 pull-cart"),
        (Sold, "7 pull-cart at 42.00, 3 left", "7 pull-cart at 42.00, 3 back"),
        (Sold, "payed 2026-03-22", "paid 2026-03-22"),
        (Worked, "1h sanding for PC-1", "1h sanding on PC-1"),
        (Worked, "1h 20 min for stool", "1h 20 min on stool"),
        (Sold, "to J. in Dover", "to \"J. in Dover\""),
        (Sold, "1 pull-cart at 20% off", "1 pull-cart at SUM || 1 pull-cart | discount 20%"),
        (Sold, "packed with box-small", "packed with 1 box-small"),
        (Sold, "2 pull-cart, \"red ones\"", "2 pull-cart \"red ones\""),
        (Paid, "600.00 receipt A-1182", "600.00 for receipt A-1182"),
        (Received, "60.00 for order \"W-3\", \"W-4\"", "60.00 for orders \"W-3\", \"W-4\""),
        (Received, "60.00 for order W-3, W-4, W-5 \"May\"", "60.00 for orders W-3, W-4, W-5 \"May\""),
        (Received, "60.00 order W-3, W-4", "60.00 for orders W-3, W-4"),
        (Paid, "60.00 for receipt \"A-1\", \"A-2\"", ""),
        (Nothing, "gave 2026-03-22 1 pull-cart to school raffle", "gave 2026-03-22 to \"school raffle\" | 1 pull-cart"),
        (Nothing, "drove 2026-03-02 38 miles to the fair", "drove 2026-03-02 38 mi \"to the fair\""),
        (
            Nothing,
            "bought 2026-03-02 from Ridgeline Lumber invoice A-1182",
            "bought 2026-03-02 from \"Ridgeline Lumber\" receipt \"A-1182\"",
        ),
        (Nothing, "sanded 2026-03-03 1h", "worked 2026-03-03 | 1h sanding"),
        (Nothing, "glued 2026-03-03 batch PC-014", "worked 2026-03-03 | 1h gluing on PC-014"),
        (Sold, "2 serving-board, pull-cart", ""),
        (Bought, "12 sticks, dowel-6 for 18.60", "12 sticks dowel-6 for 18.60"),
        (Received, "red-oak for order \"G-12\"", ""),
        (Sold, "2, pull-cart at 42.00", "2 pull-cart at 42.00"),
        (Built, "used 9.7 bf red-oak, 12 ft, dowel-6", "used 9.7 bf red-oak, 12 ft dowel-6"),
        (Built, "took 1h 10m, turning", "took 1h 10m turning"),
        (Bought, "9 bf walnut for, 99.00", "9 bf walnut for 99.00"),
        (Bought, "58 m pull-cord pull-cord for 8.70", "58 m pull-cord-pull-cord for 8.70"),
        (Sold, "note\"oiled twice\"", "note \"oiled twice\""),
        (Sold, "paid2026-07-20", "paid 2026-07-20"),
        (Sold, "settled139.20", "settled 139.20"),
        (Bought, "5 bf \"red-oak\" at 5.90", "5 bf red-oak at 5.90"),
        (Bought, "5 bf red oka at 5.90", "5 bf red-oka at 5.90"),
    ]);
}

#[test]
fn an_unfinished_merge_is_told_once_with_both_sides() {
    let text = "noted 2026-03-01 \"x\"\n<<<<<<< ours\nnoted 2026-03-02 \"y\"\n=======\nnoted 2026-03-02 \"z\"\n>>>>>>> theirs\nnoted 2026-03-03 \"w\"\n";
    let mut sources = SourceSet::default();
    sources.add("book.kerf", text).expect("short");
    let mut found = crate::diagnostics::Diagnostics::default();
    let syntax = parse_lines(&sources, &mut found);
    let found = found.into_sorted();
    assert_eq!(found.iter().map(|one| (one.code, one.secondary.len())).collect::<Vec<_>>(), [(code::MERGE_MARKS, 2)]);
    assert_eq!(syntax.entries.iter().filter(|entry| !entry.damaged).count(), 4);
}

#[test]
fn what_fits_nothing_is_told_with_what_belongs_there() {
    let (found, _) = told(Sold, "the red one for my neighbour");
    assert_eq!(found.iter().map(|one| one.code).collect::<Vec<_>>(), [code::UNREAD_LINE]);
    assert!(found[0].notes.iter().any(|note| note.contains("`packed with 1 box-small`")), "{found:?}");
    let (found, _) = told(Sold, "discount by ten");
    assert_eq!(found[0].code, code::DETAIL_FORM);
    assert_eq!(found[0].message, "`discount` is written like `discount 5.00`");
    let (found, _) = told(Worked, "a while at the bench");
    assert!(found[0].notes.iter().any(|note| note.contains("`worked`: `45m sanding on PC-014`")), "{found:?}");
    let (found, _) = told(Received, "29.40");
    assert_eq!((found[0].code, found[0].message.as_str()), (code::SUM_WITHOUT_FOR, "29.40 for what?"));
    let (found, _) = told(Nothing, "xyzzy 2026-03-02");
    assert_eq!(found[0].code, code::UNREAD_LINE);
}

#[test]
fn no_line_is_a_panic_and_no_line_is_told_without_a_place() {
    let words = [
        "1",
        "½",
        "$5",
        "\"",
        "x",
        "4/4",
        "in",
        "red",
        "#",
        ",",
        "@",
        "1h",
        "–",
        "2026-02-30",
        "at",
        "é",
        "<<<<<<<",
        "made",
        "'",
        "%",
        "Mar",
        "EUR",
    ];
    let mut state = 7_usize;
    for _ in 0..200 {
        let mut line = String::new();
        for _ in 0..(state % 7 + 1) {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            line.push_str(words[(state >> 33) % words.len()]);
            line.push_str(if state.is_multiple_of(3) { "" } else { " " });
        }
        for context in [
            None,
            Some(BlockWord::Entry(crate::syntax::Verb::Sold)),
            Some(BlockWord::Definition(crate::syntax::DefinitionWord::Step)),
        ] {
            for column_one in [false, true] {
                let mut sources = SourceSet::default();
                sources.add("a.kerf", &line).expect("short");
                let span = Span::new(0, u32::try_from(line.len()).expect("short"));
                let found = explain_bad_line(&sources, span, LineContext { column_one, block: context });
                assert!(found.code >= Code(100) && !found.message.is_empty() && found.primary.span.end <= span.end + 1, "{line}");
                for fix in &found.fixes {
                    let _ = corrected_lines(&sources, fix);
                }
            }
        }
    }
}

#[test]
fn of_very_many_unread_lines_only_the_first_are_looked_at_closely() {
    let mut sources = SourceSet::default();
    sources.add("book.kerf", &format!("sold 2026-03-20 via web-page\n{}", "    sales tax 8.40\n".repeat(300))).expect("short");
    let mut found = crate::diagnostics::Diagnostics::default();
    let _ = parse_lines(&sources, &mut found);
    let found = found.into_sorted();
    assert_eq!(found.len(), 300);
    assert_eq!(found.iter().filter(|one| !one.fixes.is_empty()).count(), 100);
}

#[test]
fn what_may_stand_in_a_block_is_listed_once() {
    let (found, _) = told(Sold, "blah blub bli\n    hm ho hu");
    let notes: Vec<&str> = found.iter().filter_map(|one| one.notes.first()).map(String::as_str).collect();
    assert!(notes.first().is_some_and(|note| note.starts_with("what may stand in `sold`: ")), "{notes:?}");
    assert_eq!(notes.get(1), Some(&"what may stand in `sold` is told above"));
}
