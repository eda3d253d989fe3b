//! Payments, money received, returns, and what goes back to suppliers.

use crate::events::tests::{Read, money, number, read};
use crate::events::{EventKind, Paid, PaidFor, ReceivedFor, ReturnFate, errors};

impl Read {
    pub(crate) fn paid(&self) -> &Paid {
        let paid = self.log.events.iter().find_map(|event| match &event.kind {
            EventKind::Paid(paid) => Some(paid.as_ref()),
            _ => None,
        });
        paid.expect("a payment")
    }

    fn last(&self) -> &EventKind {
        &self.log.events.last().expect("an event").kind
    }
}

#[test]
fn a_payment_settles_bills_taxes_helpers_and_royalties() {
    let read = read(
        "paid 2026-04-15 to \"several people\"
    85.00 for booth-fee on craft-fair, meant for 2027-02-14
    600.00 for receipt \"A-1182\"
    150.52 for bought 2026-06-05
    48.90 for sales-tax to ny-state, allowed 0.74
    1.10 for sales-tax
    12.00 for sam
    3.00 for cart-pattern
    total 900.52
",
    );
    read.only(errors::MORE_TAX_THAN_COLLECTED);
    let paid = read.paid();
    assert!(matches!(paid.lines[0].what, PaidFor::Expense { on: Some(_), meant_for: Some(_), .. }));
    assert!(matches!(paid.lines[1].what, PaidFor::Receipt(label) if read.book.label(label) == "A-1182"));
    assert!(matches!(paid.lines[2].what, PaidFor::BoughtOn(day) if day.to_string() == "2026-06-05"));
    let PaidFor::SalesTax { to, allowed } = paid.lines[3].what else { panic!("a tax") };
    assert_eq!((to.map(|label| read.book.label(label)), allowed), (Some("ny-state"), money("0.74")));
    assert!(matches!(paid.lines[4].what, PaidFor::SalesTax { to: other, .. } if other == to));
    assert!(matches!(paid.lines[5].what, PaidFor::Helper { helper: Some(_), .. }));
    assert!(matches!(paid.lines[6].what, PaidFor::Royalty(_)));
}

#[test]
fn somebody_hired_without_a_definition_may_be_owed_to() {
    let read = read("opened 2026-01-01\n    12.00 owed to jamie\npaid 2026-01-09 to jamie\n    12.00 for jamie\n");
    read.is_clean();
    assert!(matches!(read.paid().lines[0].what, PaidFor::Helper { helper: None, .. }));
}

#[test]
fn an_unknown_expense_is_one_mistake_with_the_near_name() {
    let read = read("paid 2026-04-15 to \"a fair\"\n    85.00 for boot-fee\n    total 90.00\n");
    assert_eq!(read.found.len(), 1);
    assert!(format!("{:?}", read.found[0]).contains("booth-fee"));
}

#[test]
fn money_received_is_for_orders_or_an_income() {
    let read = read(
        "received 2026-06-20 from \"a buyer\" via web-page
    412.88 for orders \"M-1\", \"M-2\"
    112.40 for referrals
",
    );
    read.is_clean();
    let EventKind::Received(received) = read.last() else { panic!("money") };
    assert!(received.via.is_some());
    let ReceivedFor::Orders(orders) = &received.lines[0].what else { panic!("orders") };
    assert_eq!(orders.iter().map(|(order, _)| read.book.label(*order)).collect::<Vec<_>>(), ["M-1", "M-2"]);
    assert!(matches!(received.lines[1].what, ReceivedFor::Income(_)));
}

#[test]
fn an_order_is_named_once_in_a_line() {
    read("received 2026-06-20 from \"a buyer\"\n    9.00 for orders \"M-1\", \"M-1\"\n").only(errors::SAID_TWICE);
}

#[test]
fn a_return_says_what_became_of_each_piece() {
    let read = read(
        "returned 2026-06-14 order \"W-0031\"
    1 pull-cart, refunded 42.00, scrapped
    1 village-set, left with buyer
    1 serving-board
    refunded 10.00 \"a scratch\"
    shipping 4.00
    sales-tax 2.52
    fee back 1.26
",
    );
    read.is_clean();
    let EventKind::Returned(returned) = read.last() else { panic!("a return") };
    let fates: Vec<_> = returned.lines.iter().map(|line| (line.fate, line.refunded)).collect();
    assert_eq!(
        fates,
        [(ReturnFate::Scrapped, money("42.00")), (ReturnFate::LeftWithBuyer, money("0")), (ReturnFate::BackToStock, money("0")),]
    );
    assert_eq!(returned.refunds.len(), 1);
    assert_eq!((returned.shipping, returned.sales_tax, returned.fee_back), (money("4.00"), money("2.52"), money("1.26")));
}

#[test]
fn what_is_refunded_beside_one_line_of_goods_is_for_these() {
    let returned = |lines: &str| {
        let read = read(&format!("returned 2026-06-14 order \"W-1\"\n{lines}"));
        read.is_clean();
        let EventKind::Returned(returned) = read.last() else { panic!("a return") };
        (returned.lines.iter().map(|line| line.refunded).collect::<Vec<_>>(), returned.refunds.len())
    };
    assert_eq!(returned("    2 pull-cart\n    refunded 84.00\n"), (vec![money("84.00")], 0));
    assert_eq!(returned("    refunded 80.00\n    2 pull-cart, scrapped\n"), (vec![money("80.00")], 0));
    // The goods say their own, and of several it isn't said for which it is.
    assert_eq!(returned("    2 pull-cart, refunded 84.00\n    refunded 4.00\n"), (vec![money("84.00")], 1));
    assert_eq!(returned("    2 pull-cart\n    1 village-set\n    refunded 84.00\n"), (vec![money("0"), money("0")], 1));
}

#[test]
fn a_returned_piece_goes_one_way() {
    let line = |line: &str| read(&format!("returned 2026-06-14 order \"W-1\"\n    {line}\n"));
    line("1 pull-cart, scrapped, left with buyer").only(errors::SAID_TWICE);
}

#[test]
fn goods_sent_back_say_what_was_refunded() {
    let entry = |line: &str| read(&format!("sent-back 2026-03-25 to \"a yard\" receipt \"A-1\"\n    {line}\n"));
    entry("3.2 bf red-oak").only(errors::NO_REFUND);
    let read = entry("3.2 bf red-oak, refunded 22.90 as credit");
    read.is_clean();
    let EventKind::SentBack(back) = read.last() else { panic!("goods") };
    assert!(back.lines[0].as_credit && back.receipt.is_some());
}

#[test]
fn a_credit_is_off_a_thing() {
    let read = read("credited 2026-02-15 by wheel-shop\n    5.00 off wheel-40 \"12 cracked\"\n");
    read.is_clean();
    let EventKind::Credited(credited) = read.last() else { panic!("a credit") };
    assert_eq!(credited.lines[0].0, money("5.00"));
}

#[test]
fn a_swap_is_a_sale_and_a_purchase_of_the_same_worth() {
    let read = read(
        "swapped 2026-06-01 with \"a neighbour\"
    gave 2 serving-board at 38.00
    got 9 bf walnut, 1 can clear-oil for 19.50
",
    );
    read.is_clean();
    let sold = read.sold(0);
    assert_eq!((sold.channel, sold.lines[0].value, sold.lines[0].list_value), (None, money("76.00"), Some(money("128.00"))));
    let EventKind::Bought(bought) = &read.log.events[0].kind else { panic!("a purchase") };
    assert!(bought.swapped);
    assert_eq!((bought.lines[1].value, bought.total()), (money("56.50"), Some(money("76.00"))));
}

#[test]
fn the_sides_of_a_swap_agree() {
    let swap = |lines: &str| read(&format!("swapped 2026-06-01 with \"a neighbour\"\n{lines}"));
    swap("    gave 1 serving-board\n    got 9 bf walnut for 60.00\n").only(errors::SWAP_DIFFERS);
    swap("    gave 1 serving-board\n    got 9 bf walnut for 64.00\n").is_clean();
    swap("    gave 1 block-tree\n    got 1 bf walnut\n").only(errors::SWAP_DIFFERS);
    swap("    gave 1 block-tree\n    got 1 bf walnut for 4.00\n").is_clean();
    swap("    gave 1 serving-board\n    got 9 bf walnut for 64.01, 1 bf poplar\n").only(errors::SWAP_DIFFERS);
    swap("    gave 1 serving-board\n").only(errors::SWAP_DIFFERS);
    swap("    gave 1 band-saw\n    got 9 bf walnut for 64.00\n").only(errors::TOOL_IS_NO_STOCK);
}

#[test]
fn miles_are_read_from_any_length() {
    let read = read("drove 2026-03-02 61.155072 km on craft-fair \"to the fair\"\n");
    read.is_clean();
    assert!(matches!(read.last(), EventKind::Drove { miles, on: Some(_), .. } if *miles == number("38")));
    let wrong = crate::events::tests::read("drove 2026-03-02 38 h\n");
    assert_eq!(wrong.found.len(), 1, "{:#?}", wrong.told());
}

#[test]
fn records_of_the_year_are_kept() {
    let read = read(
        "retired 2026-10-01 band-saw for 350.00
noted 2026-02-10 \"drum sander borrowed\"
",
    );
    read.is_clean();
    assert!(matches!(read.last(), EventKind::Retired { proceeds, .. } if *proceeds == money("350.00")));
}

#[test]
fn what_has_no_effect_yet_says_so() {
    let entries = "statement 2026 from market-site\n    gross 4312.40\n
answered 2026-12-31 \"gift-shop/agent\" \"the shop buys\"\n
closed 2025\n    net 8214.33\n
odometer 2026-01-01 41230 mi\n";
    let read = read(entries);
    assert_eq!(read.found.len(), 1, "{:#?}", read.told());
    assert_eq!(read.found[0].code, errors::NO_EFFECT_YET);
    assert_eq!(read.log.events.len(), 4);
    // A year's record counts on its last day.
    assert_eq!(read.log.events[0].date.to_string(), "2025-12-31");
}
