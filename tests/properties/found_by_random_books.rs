//! What random books and the exact twin have found, each as a small book of its own.

use kerfbook::costing::{Account, BatchState, Component, CostedBook, Flow, StandardPrices, variances_of};

use crate::compiled_pages::CompiledPages;

const SHOP: &str = "\
shop \"Wren & Gable Woodshop\"
    costing fifo
place bench \"Bench\"
    home
place barn \"Barn\"
place loft \"Loft\"
material oak \"Oak\"
    measured in bf
product house \"House\"
    price 6.00
product tree \"Tree\"
    price 2.00
step cutting \"Cutting\"
";

fn costed(entries: &str) -> (CompiledPages, CostedBook) {
    let compiled = CompiledPages::of(&vec![("book.kerf".to_owned(), format!("{SHOP}{entries}"))]);
    let costed = compiled.cost(None).expect("the book has no mistakes");
    assert!(costed.proof.holds());
    (compiled, costed)
}

fn materials(costed: &CostedBook, flow: Flow) -> Vec<String> {
    let of_flow = costed.movements.iter().filter(|one| one.flow == flow && !one.vector.is_zero());
    of_flow.map(|one| one.vector.get(Component::Materials).to_fixed_text(2, 6)).collect()
}

#[test]
fn a_piece_charged_off_beside_which_none_is_good_weighs_its_list_price() {
    // Costing rule 4: w is the list price on the day. D = 6·1 + 2·3 = 12.
    let (_, costed) = costed(
        "opened 2026-01-01
    4 bf oak for 24.00
built 2026-01-02 batch B
    used 4 bf oak
    made 1 house
    lost 3 tree, charged off
    shared by price
",
    );
    assert_eq!(materials(&costed, Flow::AbnormalLoss), ["12.00"]);
}

#[test]
fn a_credit_on_goods_that_lie_in_three_places_is_no_price_difference_while_all_are_there() {
    let (_, costed) = costed(
        "bought 2026-01-01 from yard receipt \"R-1\"
    7 bf oak for 70.00
sent 2026-01-02 to barn
    2 bf oak
sent 2026-01-02 to loft
    3 bf oak
credited 2026-01-03 by yard receipt \"R-1\"
    0.05 off oak
",
    );
    assert_eq!(materials(&costed, Flow::Credited), ["-0.05"]);
    assert_eq!(materials(&costed, Flow::PriceDifference), [""; 0]);
}

#[test]
fn a_batch_without_an_aim_is_done_when_it_is_finished_with_all_pieces_lost() {
    let (compiled, costed) = costed(
        "opened 2026-01-01
    4 bf oak for 24.00
started 2026-01-02 batch B
    used 4 bf oak
finished 2026-01-03 batch B
    lost 2 house \"wet\"
",
    );
    let batch = compiled.book.batch_id("B").expect("the batch is named");
    assert_eq!(costed.batches[batch.index()].state, BatchState::Done);
    assert_eq!(materials(&costed, Flow::AbnormalLoss), ["24.00"]);
}

#[test]
fn goods_of_a_bill_of_that_day_go_back_after_it_though_a_credit_is_used_that_day() {
    let (_, costed) = costed(
        "bought 2026-01-05 from yard receipt \"R-1\"
    20 bf oak for 80.00
sent-back 2026-01-05 to yard receipt \"R-1\"
    10 bf oak, refunded 40.00 as credit
bought 2026-01-06 from yard receipt \"R-2\"
    40 bf oak for 200.00, lot L-2
    credit 40.00
sent-back 2026-01-06 to yard receipt \"R-2\"
    20 bf oak lot L-2, refunded 100.00 as credit
",
    );
    assert_eq!(materials(&costed, Flow::SentBack), ["-40.00", "-100.00"]);
}

#[test]
fn a_discount_is_shared_by_its_own_measure_whatever_the_freight_is_shared_by() {
    let (_, costed) = costed(
        "bought 2026-01-05 from yard
    3 house for 90.00
    1 tree for 10.00
    discount 8.00 shared by quantity
    freight 10.00
",
    );
    assert_eq!(materials(&costed, Flow::Bought), ["84.00", "8.00"]);
}

#[test]
fn a_rate_stated_for_later_days_says_nothing_of_the_figures_before() {
    let compiled = CompiledPages::of(&vec![(
        "book.kerf".to_owned(),
        format!(
            "{SHOP}opened 2026-01-01\n    4 bf oak for 24.00\nchanged 2026-02-01 shop\n    owner time 24.00 per h\nnoted 2026-02-01 \"rain\"\n"
        ),
    )]);
    let until = |day: &str| {
        let costed = compiled.cost(Some(day.parse().expect("a day"))).expect("no mistakes");
        compiled.reports(&costed).into_iter().find(|(name, _)| name == "cost").map(|(_, text)| text).expect("a cost report")
    };
    assert!(until("2026-01-31").contains("states no `owner time`"));
    assert!(!until("2026-02-01").contains("states no `owner time`"));
}

/// The variances of a batch by name.
fn variances(compiled: &CompiledPages, costed: &CostedBook, batch: &str) -> Vec<(String, String)> {
    let batch = compiled.book.batch_id(batch).expect("the batch is named");
    let prices = StandardPrices::of(costed).expect("small figures");
    let found = variances_of(&compiled.book, &costed.batches[batch.index()], &prices).expect("small figures").expect("a recipe");
    found.variances.into_iter().map(|row| (row.name, row.amount.to_fixed_text(2, 6))).collect()
}

#[test]
fn a_royalty_in_pieces_that_were_charged_off_did_not_go_straight_to_the_batch() {
    // Two houses with a royalty of 0.50 each go into two trees, one of them charged off: 3.50 a tree is allowed, and one is lost.
    let (compiled, costed) = costed(
        "pattern plan \"Plan\"
    royalty 0.50 per ea
product gate \"Gate\"
    pattern plan
product fence \"Fence\"
    needs 1 gate
opened 2026-01-01
    2 bf oak for 6.00
built 2026-01-02 batch G
    used 2 bf oak
    made 2 gate
built 2026-01-03 batch F
    used 2 gate
    made 1 fence
    lost 1 fence, charged off
",
    );
    let named = |name: &str, amount: &str| (name.to_owned(), amount.to_owned());
    assert_eq!(variances(&compiled, &costed, "F"), [named("material quantity", "3.50"), named("abnormal loss", "-3.50")]);
}

#[test]
fn of_two_batches_of_a_day_the_later_by_need_says_what_its_product_should_cost() {
    // A needs what Z makes, so Z is first; both make houses, at 4.00 and at 10.00. The oldest are used.
    let (compiled, costed) = costed(
        "product wall \"Wall\"
    needs 1 house
opened 2026-01-01
    2 bf oak for 14.00
built 2026-01-02 batch A
    used 1 bf oak
    used 1 tree
    made 1 house
built 2026-01-02 batch Z
    used 1 bf oak
    made 1 house, share 4
    made 1 tree, share 3
built 2026-01-03 batch W
    used 1 house
    made 1 wall
",
    );
    assert_eq!(variances(&compiled, &costed, "W"), [("part price".to_owned(), "-6.00".to_owned())]);
}

/// What a sale of a house of 6.00 and work of 6.00 at a fair with tax within its prices brings, less a discount: goods, then work.
fn revenue_less(discount: &str) -> [Vec<String>; 2] {
    let (_, costed) = costed(&format!(
        "income engraving \"Engraving\"
channel craft-fair \"Fair\"
    prices include sales-tax 6%
opened 2026-01-01
    1 house for 2.00
sold 2026-01-02 via craft-fair
    1 house
    6.00 for engraving
    discount {discount}
"
    ));
    [true, false].map(|goods| {
        let of = costed.postings.iter().filter(|one| !one.money.is_zero() && (one.account == Account::Goods) == goods);
        of.map(|one| one.money.to_fixed_text(2, 6)).collect()
    })
}

#[test]
fn tax_within_prices_lies_in_what_was_charged_for_goods_and_for_work() {
    // 12.00 less 3.00 of goods: 0.51 of tax in 9.00, of it a third in the goods' 3.00.
    assert_eq!(revenue_less("3.00"), [vec!["2.83".to_owned()], vec!["5.66".to_owned()]]);
    // The house is free: the work alone bears the 0.34 of tax.
    assert_eq!(revenue_less("6.00"), [vec![], vec!["5.66".to_owned()]]);
}

#[test]
fn a_discount_beyond_what_the_goods_are_worth_is_of_the_work() {
    // 4.00 charged, with 0.23 of tax.
    assert_eq!(revenue_less("8.00"), [vec![], vec!["3.77".to_owned()]]);
}
