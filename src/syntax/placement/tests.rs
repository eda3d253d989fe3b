//! What the placement table lets stand, and what is said of the rest.

use crate::diagnostics::{Diagnostic, Diagnostics, corrected_lines};
use crate::sources::SourceSet;
use crate::syntax::{SyntaxFile, parse_book};

fn read(text: &str) -> (SourceSet, SyntaxFile, Vec<Diagnostic>) {
    let mut sources = SourceSet::default();
    sources.add("book.kerf", text).expect("short");
    let mut found = Diagnostics::default();
    let syntax = parse_book(&sources, &mut found);
    (sources, syntax, found.into_sorted())
}

/// The only finding of a block, with its place and the lines of its corrections.
fn told(text: &str) -> (u16, String, String, Vec<String>) {
    let (sources, _, found) = read(text);
    assert_eq!(found.len(), 1, "{text}: {found:#?}");
    let one = &found[0];
    let lines = one.fixes.iter().map(|fix| corrected_lines(&sources, fix).text).collect();
    (one.code.0, one.message.clone(), sources.text(one.primary.span).to_owned(), lines)
}

#[test]
fn every_form_of_the_language_stands_where_it_may() {
    let (_, _, found) = read(include_str!("../tests/every_form.kerf"));
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn a_misplaced_line_says_where_it_belongs_and_leaves_its_block() {
    let text = "bought 2026-03-02 from ada\n    2 pull-cart for 3.00\n    packed with 1 box-small\n    total 3.00\n";
    let (code, message, place, _) = told(text);
    assert_eq!((code, message.as_str()), (180, "`packed with` belongs in `sold` or `sent`, not in `bought`"));
    assert_eq!(place, "packed with 1 box-small");
    let (_, syntax, _) = read(text);
    assert_eq!((syntax.entries[0].details.len(), syntax.entries[0].unread.len(), syntax.entries[0].damaged), (2, 1, false));
}

#[test]
fn lines_of_other_blocks_are_misplaced() {
    let rows = [
        ("sold 2026-03-20 via fair\n    freight 9.50\n", "`freight` belongs in `bought`, not in `sold`"),
        ("sold 2026-03-20 via fair\n    measured in bf\n", "`measured in` belongs in `material`, not in `sold`"),
        ("sold 2026-03-20 via fair\n    sales-tax to ny-state\n", "`sales-tax to` belongs in `shop`, not in `sold`"),
        ("bought 2026-03-20\n    60.00 for order \"C-1\"\n", "a sum for an order belongs in `received`, not in `bought`"),
        ("bought 2026-03-20\n    sales-tax 6% included\n", "`sales-tax included` belongs in `sold`, not in `bought`"),
        ("paid 2026-03-20 to ada\n    sales-tax 6% included\n", "`sales-tax included` belongs in `sold`, not in `paid`"),
        (
            "worked 2026-03-20\n    used 2 oak\n",
            "`used` belongs in `built`, `started`, `continued` or `finished`, not in `worked`",
        ),
        ("built 2026-03-20\n    aims at 6 cart\n", "`aims at` belongs in `started`, not in `built`"),
        ("built 2026-03-20\n    nothing else\n", "`nothing else` belongs in `finished` or `counted`, not in `built`"),
        ("noted 2026-03-20 \"x\"\n    total 5.00\n", "`total` belongs in `bought`, `paid` or `sold`, not in `noted`"),
        ("product cart \"Cart\"\n    as wear\n", "`as wear` belongs in `material`, not in `product`"),
        ("line toys \"Toys\"\n    price 4.00\n", "`price` belongs in `product`, not in `line`"),
        ("material oak \"Oak\"\n    price 4.00\n", "`price` belongs in `product`, not in `material`"),
        ("changed 2026-03-20 cart\n    total 4.00\n", "`total` belongs in `bought`, `paid` or `sold`, not in `changed`"),
    ];
    for (text, message) in rows {
        let told = told(text);
        assert_eq!((told.0, told.1.as_str()), (180, message));
    }
    assert_eq!(told("sold 2026-03-20 via fair\n    freight 9.50\n").3, ["    shipping 9.50"]);
}

#[test]
fn an_item_of_a_batch_begins_with_its_word() {
    let (code, message, _, lines) = told("built 2026-03-20\n    5.2 bf oak\n    made 2 cart\n");
    assert_eq!((code, message.as_str()), (184, "a batch line begins with used, took, made, lost or kept"));
    assert_eq!(lines, ["    used 5.2 bf oak", "    made 5.2 bf oak", "    lost 5.2 bf oak"]);
    assert_eq!(told("built 2026-03-20\n    45m sanding\n    made 2 cart\n").3, ["    took 45m sanding"]);
    let (code, message, _, lines) = told("built 2026-03-20\n    2 hours sanding\n    made 2 cart\n");
    assert_eq!((code, message.as_str(), lines), (156, "a time is written `2h`", vec!["    took 2h sanding".to_owned()]));
}

#[test]
fn what_may_stand_once_is_told_the_second_time() {
    let (code, message, place, _) = told("bought 2026-03-02\n    2 cart for 3.00\n    total 3.00\n    total 4.00\n");
    assert_eq!((code, message.as_str(), place.as_str()), (182, "`total` stands twice in one `bought`", "total 4.00"));
    let rows = [
        ("shop \"S\"\n    cash basis\n    accrual basis\n", "`cash basis` and `accrual basis` exclude each other in one `shop`"),
        (
            "tool saw \"Saw\"\n    recovered over 7 years\n    expensed at once\n",
            "`recovered over` and `expensed at once` exclude each other in one `tool`",
        ),
        ("bought 2026-03-02\n    unpaid\n    paid 3.00\n", "`unpaid` and `paid` exclude each other in one `bought`"),
        ("built 2026-03-02\n    made 2 cart\n    made nothing\n", "`made` and `made nothing` exclude each other in one `built`"),
        (
            "bought 2026-03-02\n    freight 3.00\n    shipping 3.00\n",
            "`freight` and `shipping` exclude each other in one `bought`",
        ),
        (
            "tool a \"A\"\n    recovered over 7 years\n    expensed under section 179\n",
            "`recovered over` and `expensed under section 179` exclude each other in one `tool`",
        ),
        (
            "tool a \"A\"\n    expensed under section 179 500.00\n    recovered over 7 years\n    expensed at once\n",
            "`expensed under section 179` and `expensed at once` exclude each other in one `tool`",
        ),
        (
            "tool a \"A\"\n    expensed under section 179 500.00\n    recovered over 7 years\n    recovered over 5 years\n",
            "`recovered over` stands twice in one `tool`",
        ),
        ("bought 2026-03-02 receipt \"A\"\n    receipt \"B\"\n", "the receipt stands in the head already"),
        ("bought 2026-03-02 from ada from bea\n", "`from` stands twice in the head of one `bought`"),
    ];
    for (text, message) in rows {
        let told = told(text);
        assert_eq!((told.0, told.1.as_str()), (182, message));
    }
}

#[test]
fn lists_sums_and_part_payments_may_repeat() {
    let text = "bought 2026-03-02\n    2 cart for 3.00\n    1 saw for 2.00\n    3.00 for oil\n    4.00 for oil\n    paid 1.00\n    paid 2.00\n    note \"x\"\n    note \"y\"\n\
                sold 2026-03-02 via fair\n    sales-tax 1.00 to a\n    sales-tax 2.00 to b\n    extra fee 1.00\n    extra fee 2.00\n    packed with 1 box\n    packed with 1 bag\n\
                tool a \"A\"\n    recovered over 7 years\n    expensed under section 179 500.00\n\
                built 2026-03-02\n    used 1 oak\n    used as planned\n    took as planned\n    took 1h cutting\n    made 1 cart\n    made 2 cart\n";
    assert!(read(text).2.is_empty(), "{:#?}", read(text).2);
}

#[test]
fn what_is_said_of_an_item_has_its_places() {
    let rows = [
        ("bought 2026-03-02\n    2 cart for 3.00, share 2\n", "`share` is said in `made`, not in `bought`", "share 2"),
        (
            "sold 2026-03-02 via fair\n    2 cart worth 3.00\n",
            "`worth` is said in `gave`, `contributed` or `kept`, not in `sold`",
            "worth 3.00",
        ),
        ("built 2026-03-02\n    made 2 cart, the rest 35%\n", "`the rest` is said in `finished`, not in `built`", "the rest 35%"),
        ("built 2026-03-02\n    used 2 oak by sam\n", "`by` is said in `worked` or `took`, not in `used`", "by sam"),
        ("bought 2026-03-02\n    2 cart for 3.00, 1 back\n", "`back` is said in `sold`, not in `bought`", "1 back"),
        (
            "sold 2026-03-02 via fair\n    1 licence cart for 3.00\n",
            "`licence` is said in `bought`, not in `sold`",
            "1 licence cart for 3.00",
        ),
        (
            "received 2026-03-02 from ada\n    3.00 for oil on fair\n",
            "`on` is said in `worked`, `bought`, `paid` or `sold`, not in `received`",
            "on fair",
        ),
        (
            "returned 2026-03-02 via fair\n    1 cart, refunded 3.00 as credit\n",
            "`refunded as credit` is said in `sent-back`, not in `returned`",
            "refunded 3.00 as credit",
        ),
        ("worked 2026-03-02\n    1h sanding lot X\n", "`lot` is said in", "lot X"),
    ];
    for (text, message, place) in rows {
        let told = told(text);
        assert!(told.0 == 183 && told.1.starts_with(message), "{told:?}");
        assert_eq!(told.2, place);
    }
}

#[test]
fn a_head_has_the_parts_of_its_verb() {
    let rows = [
        ("bought 2026-03-02 order \"A\"\n", 181, "`order` belongs in the head of `sold` or `returned`, not of `bought`", vec![]),
        (
            "sold 2026-03-02 on fair\n",
            181,
            "`on` belongs in the head of `used-up` or `drove`, not of `sold`",
            vec!["sold 2026-03-02 via fair"],
        ),
        (
            "bought 2026-03-02 via ada\n",
            181,
            "`via` belongs in the head of `sold`, `returned` or `received`, not of `bought`",
            vec!["bought 2026-03-02 from ada"],
        ),
        ("sent 2026-03-02 at gift-shop\n", 181, "`at` belongs in the head of", vec!["sent 2026-03-02 to gift-shop"]),
        ("sold 2026-03-02\n", 185, "`sold` needs `via` in its head", vec![]),
        ("started 2026-03-02\n", 185, "`started` needs `batch` in its head", vec![]),
        ("paid 2026-03-02 receipt \"A\"\n    3.00 for oil\n", 185, "`paid` needs `to` in its head", vec![]),
        ("returned 2026-03-02\n", 185, "`returned` needs `order` or `via` in its head", vec![]),
        ("answered 2026-03-02 \"a\" \"b\" \"c\"\n", 182, "a text in quotes stands twice in the head of one `answered`", vec![]),
    ];
    for (text, code, message, lines) in rows {
        let told = told(text);
        assert!(told.0 == code && told.1.starts_with(message), "{told:?}");
        assert_eq!(told.3, lines, "{text}");
    }
    let told = told("sold 2026-03-02 via fair to \"J.\"\n    2 cart\n");
    assert_eq!((told.0, told.3), (181, vec!["sold 2026-03-02 via fair\n    to \"J.\"".to_owned()]));
}

#[test]
fn an_entry_that_lacks_a_part_moves_nothing() {
    let (_, syntax, _) = read("sold 2026-03-02\n    2 cart\n");
    assert!(syntax.entries[0].damaged && syntax.entries[0].details.len() == 1);
    let (_, syntax, _) = read("bought 2026-03-02 order \"A\"\n");
    assert!(!syntax.entries[0].damaged && syntax.entries[0].parts.is_empty());
}

#[test]
fn what_is_changed_may_be_any_line_of_a_definition() {
    let text = "changed 2026-07-01 cart\n    price 45.00\n    needs 2 oak\n    needs 3 ash\nchanged 2027-01-01 shop\n    owner time 26.00 per h\n";
    assert!(read(text).2.is_empty());
}

#[test]
fn findings_come_in_the_order_of_the_book_however_many_threads_there_are() {
    let text = "noted 2026-03-02 \"x\"\n    total 5.00\n".repeat(5000);
    let (_, _, found) = read(&text);
    assert_eq!(found.len(), 5000);
    assert!(found.is_sorted_by_key(|one| one.primary.span));
}

#[test]
fn an_item_that_was_meant_to_say_something_else_is_told_with_the_line() {
    let rows = [
        ("built 2026-03-02\n    40 made cart\n", 153, "    made 40 cart"),
        ("sold 2026-03-02 via fair\n    8.40 sales tax\n", 153, "    sales-tax 8.40"),
        ("bought 2026-03-02\n    5 board at60.00\n", 157, "    5 board at 60.00"),
        ("swapped 2026-03-02 with ada\n    got 5 board at60.00\n", 157, "    got 5 board at 60.00"),
    ];
    for (text, code, line) in rows {
        let told = told(text);
        assert_eq!((told.0, told.3.first().map(String::as_str)), (code, Some(line)), "{text}");
    }
    // No price is said of what was used, so that this is a name.
    assert!(read("built 2026-03-02\n    used 5 at60\n").2.is_empty());
}

#[test]
fn a_time_in_another_entry_is_told_to_belong_where_times_stand() {
    let (code, message, ..) = told("paid 2026-03-02 to ada\n    45m sanding on PC-014\n");
    assert_eq!((code, message.as_str()), (180, "a time belongs in `worked`, not in `paid`"));
    let (.., lines) = told("product stool \"Stool\"\n    45m sanding\n");
    assert_eq!(lines, ["    takes 45m sanding"]);
}

#[test]
fn how_often_something_is_worn_or_needed_is_said_with_per() {
    for other in ["every 40 min", "each 40 min", "in 40 min", "40 min", "every 1h 20m", "for 40 min", "epr 40 min"] {
        let (code, message, _, lines) = told(&format!("step cutting \"Cutting\"\n    wears 1 blade {other}\n"));
        let right = format!("per {}", other.trim_start_matches(|letter: char| letter.is_alphabetic() || letter == ' '));
        assert_eq!((code, message), (168, format!("how often it is worn is said with `per`: `{right}`")), "{other}");
        assert_eq!(lines, [format!("    wears 1 blade {right}")]);
    }
    let (.., lines) = told("step cutting \"Cutting\"\n    wears 1 blade, 40 min\n");
    assert_eq!(lines, ["    wears 1 blade, per 40 min"]);
    let (.., lines) = told("changed 2026-03-02 cutting\n    wears 1 blade every 40 min\n");
    assert_eq!(lines, ["    wears 1 blade per 40 min"]);
    let (.., lines) = told("product stool \"Stool\"\n    needs 1 sheet baltic-6 every 18 ea, 4 screw\n");
    assert_eq!(lines, ["    needs 1 sheet baltic-6 per 18 ea, 4 screw"]);
    let (.., lines) = told("product stool \"Stool\"\n    needs 1 screw each 2 ea\n");
    assert_eq!(lines, ["    needs 1 screw per 2 ea"]);
}

#[test]
fn a_supplier_after_at_is_told_unless_the_name_is_a_place() {
    let (code, message, _, lines) = told("bought 2026-03-02 at ridgeline-lumber\n    2 oak for 3.00\n");
    assert_eq!(code, 181);
    assert_eq!(message, "`at` is a place of the shop, and `ridgeline-lumber` is none; a supplier stands after `from`");
    assert_eq!(lines, ["bought 2026-03-02 from ridgeline-lumber"]);
    let (code, _, _, lines) = told("sold 2026-03-02 at craft-fair\n    2 cart for 3.00\n");
    assert_eq!((code, lines), (181, vec!["sold 2026-03-02 via craft-fair".to_owned()]));
    let book = "place bench \"Bench\"\nbought 2026-03-02 at bench\n    2 oak for 3.00\nbought 2026-03-02 from ada at shed\n";
    assert!(read(book).2.is_empty());
}

#[test]
fn a_head_within_a_definition_is_told_once_and_not_the_lines_that_it_cuts_off() {
    let (code, _, place, _) =
        told("shop \"A\"\n    currency USD\n    opened 2026-01-02\n    owner time 22.00 per h\n    cash basis\n");
    assert_eq!((code, place.as_str()), (172, "opened 2026-01-02"));
    let (code, message, ..) =
        told("shop \"A\"\n    currency USD\nopened 2026-01-02\n    owner time 22.00 per h\n    cash basis\n");
    assert_eq!((code, message.as_str()), (180, "this line and those below it, 2 in all, belong in `shop`, not in `opened`"));
}
