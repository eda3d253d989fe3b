//! Large books have the same figures as small ones: sets of sets twelve levels deep, ten thousand batches, one lot drawn down by many
//! sales. Only figures are checked here; how long it takes is `cargo bench --bench speed`, which also has the full sizes.

#[path = "../bench/scale_book.rs"]
mod scale_book;

use kerfbook::costing::{Component, CostVector, CostedBook, Flow};
use kerfbook::diagnostics::Severity;

use crate::compiled::{Compiled, compile_texts};

fn compiled(text: &str) -> Compiled {
    let book = compile_texts(&[("book.kerf", text)]);
    let mistake = book.found.iter().find(|one| one.severity == Severity::Error);
    assert!(mistake.is_none(), "{mistake:?}");
    assert!(book.costed.proof.holds());
    book
}

/// Materials, own time, overhead, and own minutes.
fn figures(vectors: impl Iterator<Item = CostVector>) -> [String; 4] {
    let mut sum = CostVector::default();
    vectors.for_each(|vector| sum.add(&vector).expect("they fit"));
    let money = |component| sum.get(component).to_fixed_text(2, 6);
    let minutes = sum.own_minutes().expect("they fit").to_fixed_text(0, 6);
    [money(Component::Materials), money(Component::OwnTime), money(Component::Overhead), minutes]
}

fn on_hand(costed: &CostedBook) -> [String; 4] {
    figures(costed.stock.iter().map(|lot| lot.vector.clone()))
}

#[test]
fn a_set_of_twelve_levels_knows_the_oak_and_the_minutes_of_all_its_blocks() {
    // 2,048 blocks of 0.40: 819.20. 2,048 minutes of cutting and 2,047 of putting together: 4,095, at 0.50 and 0.10 a minute.
    let book = compiled(&scale_book::sets(1));
    assert_eq!(on_hand(&book.costed), ["819.20", "2047.50", "409.50", "4095"]);
    let many = compiled(&scale_book::sets(100));
    assert_eq!(on_hand(&many.costed), ["81920.00", "204750.00", "40950.00", "409500"]);
    assert_eq!(many.costed.stock.len(), 100);
    assert_eq!(many.costed.batches.len(), 1200);
    // Each of the hundred is the same.
    for lot in &many.costed.stock {
        assert_eq!(figures(std::iter::once(lot.vector.clone())), on_hand(&book.costed));
    }
}

#[test]
fn ten_thousand_batches_of_one_block_each_come_to_their_sum() {
    let book = compiled(&scale_book::batches(10_000));
    assert_eq!(book.costed.batches.len(), 10_000);
    let made = book.costed.batches.iter().flat_map(|batch| &batch.outputs).map(|item| item.vector.clone());
    assert_eq!(figures(made), ["10000.00", "15000.00", "3000.00", "30000"]);
    // 7,500 bf are left: 30,000.00.
    assert_eq!(on_hand(&book.costed), ["40000.00", "15000.00", "3000.00", "30000"]);
}

#[test]
fn a_lot_drawn_down_by_twenty_thousand_sales_leaves_one_piece_at_its_price() {
    let book = compiled(&scale_book::sales(20_000));
    let sold = book.costed.movements.iter().filter(|one| one.flow == Flow::Sold);
    assert_eq!(sold.clone().count(), 20_000);
    assert_eq!(figures(sold.map(|one| one.vector.clone()))[0], "7400.00");
    assert_eq!(on_hand(&book.costed)[0], "0.37");
}

#[test]
fn a_lot_that_no_piece_divides_is_sold_to_its_last_digit() {
    // 7,001 pieces for 1.00: whatever the pieces are rounded to, what was sold and what is left is 1.00.
    let mut text = scale_book::sales(0).replace("1 block for 0.37", "7001 block for 1.00");
    for at in 0..7_000 {
        text.push_str(&format!("sold 2026-03-01 via counter order \"W-{at}\"\n    1 block at 1.00\n"));
    }
    let book = compiled(&text);
    let sold = book.costed.movements.iter().filter(|one| one.flow == Flow::Sold).map(|one| one.vector.clone());
    let all: Vec<CostVector> = sold.chain(book.costed.stock.iter().map(|lot| lot.vector.clone())).collect();
    assert_eq!(all.len(), 7_001);
    assert_eq!(figures(all.iter().cloned())[0], "1.00");
    // A piece is 0.000142836…: each is one of its two neighbours in millionths, and so is the last.
    let odd = all.iter().map(|vector| vector.get(Component::Materials).micros()).find(|micros| !matches!(micros, 142 | 143));
    assert_eq!(odd, None);
}
