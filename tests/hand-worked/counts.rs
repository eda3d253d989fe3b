//! Counts of named lots: each is held against its own lot, and the others stay.

use crate::compiled::{Compiled, compile_texts};

fn counted(costing: &str, count: &str) -> Compiled {
    let text = format!(
        "shop \"Made by hand\"\n    currency USD\n    costing {costing}\nplace bench \"Bench\"\n    home\nmaterial oak \"Oak\"\n    measured in bf\n\
         opened 2026-01-01\n    5 bf oak for 10.00, lot L-1\n    3 bf oak for 30.00, lot L-2\ncounted 2026-01-02\n{count}"
    );
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    assert!(compiled.costed.proof.holds());
    compiled
}

/// Lots as `code quantity cost`, in the order of their age.
fn lots(compiled: &Compiled) -> Vec<String> {
    let lots = compiled.costed.stock.iter().filter(|lot| !lot.quantity.is_zero());
    let shown = lots.map(|lot| {
        let code = lot.origin.code.map_or("-", |code| compiled.book.label(code));
        format!("{code} {} {}", lot.quantity.normalize(), lot.vector.paid().expect("fits"))
    });
    shown.collect()
}

#[test]
fn a_count_of_a_lot_leaves_the_thing_s_other_lots_alone() {
    // Of 3 at 10.00 one is missing; the 5 at 2.00 are not listed.
    assert_eq!(lots(&counted("fifo", "    2 bf oak lot L-2\n")), ["L-1 5 10", "L-2 2 20"]);
    // By the average 8 cost 40.00, so that the missing one costs 5.00: 7 for 35.00, shown on the lots by quantity.
    assert_eq!(lots(&counted("average", "    2 bf oak lot L-2\n")), ["L-1 5 25", "L-2 2 10"]);
}

#[test]
fn both_lots_can_be_counted_and_none_of_a_lot_means_that_it_is_gone() {
    assert_eq!(lots(&counted("fifo", "    4 bf oak lot L-1\n    0 bf oak lot L-2\n")), ["L-1 4 8"]);
}

#[test]
fn nothing_else_takes_the_lots_that_are_not_listed() {
    assert_eq!(lots(&counted("fifo", "    2 bf oak lot L-2\n    nothing else\n")), ["L-2 2 20"]);
    assert_eq!(lots(&counted("fifo", "    6 bf oak\n    nothing else\n")), ["L-1 3 6", "L-2 3 30"]);
}

#[test]
fn what_is_found_of_a_lot_is_of_that_lot() {
    // One more than booked, at the newest lot's cost (10.00); it is named L-1 too.
    assert_eq!(lots(&counted("fifo", "    6 bf oak lot L-1\n    nothing else\n")), ["L-1 5 10", "L-1 1 10"]);
}

#[test]
fn the_lines_of_a_count_by_lots_may_stand_in_any_order() {
    // One more is found of each lot, at the newest lot's cost; which of the two came first is decided by the lots' names.
    let one = lots(&counted("fifo", "    6 bf oak lot L-1\n    4 bf oak lot L-2\n"));
    let other = lots(&counted("fifo", "    4 bf oak lot L-2\n    6 bf oak lot L-1\n"));
    assert_eq!(one, ["L-1 5 10", "L-2 3 30", "L-1 1 10", "L-2 1 10"]);
    assert_eq!(one, other);
}

#[test]
fn a_line_that_names_a_lot_finds_it_whatever_stands_before_it() {
    // Without the lot, 5 would take all of the older L-1, of which the other line wants 2.
    let book = |lines: &str| {
        let text = format!(
            "shop \"Made by hand\"\n    currency USD\nplace bench \"Bench\"\n    home\nmaterial oak \"Oak\"\n    measured in bf\n\
             opened 2026-01-01\n    5 bf oak for 10.00, lot L-1\n    3 bf oak for 30.00, lot L-2\nscrapped 2026-01-02\n{lines}"
        );
        lots(&compile_texts(&[("book.kerf", &text)]))
    };
    assert_eq!(book("    5 bf oak\n    2 bf oak lot L-1\n"), ["L-2 1 10"]);
    assert_eq!(book("    2 bf oak lot L-1\n    5 bf oak\n"), ["L-2 1 10"]);
}

/// Oak bought at two places, found at a third, where none ever was.
fn found_elsewhere(costing: &str, entries: &str) -> Vec<String> {
    let text = format!(
        "shop \"Made by hand\"\n    currency USD\n    costing {costing}\nplace bench \"Bench\"\n    home\nplace barn \"Barn\"\n\
         place attic \"Attic\"\nmaterial oak \"Oak\"\n    measured in bf\n{entries}"
    );
    let compiled = compile_texts(&[("book.kerf", &text)]);
    assert!(!compiled.has_mistakes(), "{:#?}", compiled.found);
    let attic = compiled.costed.stock.iter().filter(|lot| compiled.book.place(lot.place).named.name == "attic");
    attic.map(|lot| format!("{} for {}", lot.quantity.normalize(), lot.vector.paid().expect("fits"))).collect()
}

#[test]
fn what_is_found_where_none_was_costs_as_much_as_the_newest_anywhere_whatever_place_is_first_in_the_book() {
    let lot =
        |day: &str, place: &str, money: &str| format!("bought 2026-01-{day} at {place} from mill\n    4 bf oak for {money}\n");
    let count = "counted 2026-02-01 at attic\n    2 bf oak\n";
    // The newest cost 5.00, the older 2.00.
    let newest_first = format!("{}{}{count}", lot("02", "barn", "8.00"), lot("03", "bench", "20.00"));
    let newest_last = format!("{}{}{count}", lot("02", "bench", "8.00"), lot("03", "barn", "20.00"));
    for entries in [newest_first, newest_last] {
        assert_eq!(found_elsewhere("fifo", &entries), ["2 for 10"]);
    }
    // Of the newest lot a half is at the bench and a half in the barn, where it joined another pool: 2 at 2.00 with 2 at 5.00. The place whose
    // name comes first says what it costs: 3.50.
    let parted = "bought 2026-01-02 from mill\n    4 bf oak for 8.00\nbought 2026-01-01 at barn from mill\n    2 bf oak for 10.00\n\
                  sent 2026-01-03 to barn\n    2 bf oak\ncounted 2026-02-01 at attic\n    2 bf oak\n";
    assert_eq!(found_elsewhere("average", parted), ["2 for 7"]);
}
