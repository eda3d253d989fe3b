//! Sales: prices of the day, channels, tax, tender, totals.

use crate::diagnostics::Code;
use crate::events::tests::{Read, money, number, read, read_files};
use crate::events::{EventKind, Sold, errors};

impl Read {
    pub(crate) fn sold(&self, at: usize) -> &Sold {
        let sales = self.log.events.iter().filter_map(|event| match &event.kind {
            EventKind::Sold(sold) => Some(sold.as_ref()),
            _ => None,
        });
        sales.into_iter().nth(at).expect("a sale")
    }
}

#[test]
fn an_order_of_every_kind_of_line_is_read() {
    let read = read(
        "sold 2026-03-20 via web-page order \"W-0031\"
    to \"J. in Dover\"
    2 pull-cart
    1 village-set for 60.00
    120.00 for engraving
    discount 5.00
    shipping 9.50
    sales-tax 8.40
    postage 7.85
    packed with 1 box-small
    fee 8.56
    extra fee 3.00 \"tags\"
    total 276.90
    available 2026-03-21
    paid 2026-03-22
",
    );
    read.is_clean();
    let sold = read.sold(0);
    assert_eq!(sold.lines[0].value, money("84.00"));
    assert_eq!(sold.lines[1].value, money("60.00"));
    assert_eq!(sold.lines[1].list_value, Some(money("68.00")));
    assert_eq!((sold.fee, sold.extra_fees), (Some(money("8.56")), money("3.00")));
    assert_eq!(sold.taxes.len(), 1);
    assert_eq!(sold.taxes[0].to.map(|label| read.book.label(label)), Some("ny-state"));
    assert!(!sold.taxes[0].included && !sold.taxes[0].by_channel);
    assert_eq!(sold.settlement.available.map(|day| day.to_string()).as_deref(), Some("2026-03-21"));
    assert_eq!(sold.settlement.payments[0].date.to_string(), "2026-03-22");
    assert_eq!(sold.buyer.map(|label| read.book.label(label)), Some("J. in Dover"));
    assert_eq!(sold.packing.len(), 1);
}

#[test]
fn the_price_is_that_of_the_day() {
    let read = read(
        "changed 2026-07-01 pull-cart
    price 45.00
sold 2026-06-30 via web-page
    1 pull-cart
sold 2026-07-01 via web-page
    3 pull-cart
",
    );
    assert_eq!(read.sold(0).lines[0].value, money("42.00"));
    assert_eq!(read.sold(1).lines[0].value, money("135.00"));
}

#[test]
fn wholesale_pays_its_part_of_the_list_and_a_written_price_is_never_cut_again() {
    let read = read(
        "sold 2026-05-31 via corner-store
    2 pull-cart
    1 serving-board at 30.00
sold 2026-05-31 via gift-shop
    6 pull-cart
    1 serving-board at 60.00
    settled 187.20
",
    );
    read.is_clean();
    let (wholesale, consigned) = (read.sold(0), read.sold(1));
    assert_eq!((wholesale.lines[0].value, wholesale.lines[0].list_value), (money("42.00"), Some(money("84.00"))));
    assert_eq!(wholesale.lines[1].value, money("30.00"));
    assert_eq!((consigned.lines[0].value, consigned.lines[1].value), (money("252.00"), money("60.00")));
    assert!(wholesale.settlement.payments.is_empty() && consigned.settlement.payments.is_empty());
    // Goods leave the place of the same name.
    assert_eq!(read.book.place(consigned.place).named.name, "gift-shop");
    assert_eq!(read.book.place(wholesale.place).named.name, "bench");
    assert_eq!(consigned.settled.map(|(sum, _)| sum), Some(money("187.20")));
}

#[test]
fn a_fair_is_one_entry_with_what_came_back_and_what_was_in_the_tin() {
    let read = read(
        "sold 2026-06-14 via craft-fair
    12 serving-board, 5 back
    5 pull-cart at 29.00
    3 village-set, 3 back
    cash 200.00
    card 397.00
    over 4.00
",
    );
    read.is_clean();
    let sold = read.sold(0);
    assert_eq!(sold.lines.len(), 2);
    assert_eq!((sold.lines[1].quantity, sold.lines[1].value), (number("7"), money("448.00")));
    assert_eq!(sold.tender.over, money("4.00"));
    // 6 % within 593.00
    assert_eq!(sold.taxes[0].money, money("33.57"));
    assert!(sold.taxes[0].included);
    assert_eq!(sold.settlement.payments.len(), 1);
}

#[test]
fn a_tin_that_does_not_agree_is_told_with_the_line_that_says_so() {
    let read = read("sold 2026-06-14 via craft-fair\n    5 pull-cart at 29.00\n    cash 100.00\n    card 41.00\n");
    let told = read.only(errors::TENDER_DIFFERS);
    assert!(told.message.contains("141.00") && told.message.contains("145.00"), "{}", told.message);
    assert!(told.notes.iter().any(|note| note.contains("`short 4.00`")), "{:?}", told.notes);
}

#[test]
fn tax_within_prices_is_of_goods_and_work_less_discount() {
    let read = read(
        "sold 2026-06-14 via web-page
    1 pull-cart at 106.00
    discount 10%
    shipping 9.00
    sales-tax 6% included
    total 104.40
",
    );
    read.is_clean();
    let sold = read.sold(0);
    assert_eq!(sold.discount, money("10.60"));
    assert_eq!(sold.taxes[0].money, money("5.40"));
}

#[test]
fn tax_that_the_channel_collects_is_no_part_of_the_total() {
    let read = read("sold 2026-06-14 via market-site order \"M-1\"\n    1 pull-cart\n    sales-tax 3.36\n    total 42.00\n");
    read.is_clean();
    assert!(read.sold(0).taxes[0].by_channel);
}

#[test]
fn a_total_is_checked_against_goods_discount_shipping_and_tax() {
    read("sold 2026-06-14 via web-page\n    1 pull-cart\n    sales-tax 3.36\n    total 45.46\n").only(errors::TOTAL_DIFFERS);
}

#[test]
fn a_thing_without_a_price_is_a_mistake_that_names_the_day() {
    let told = read("sold 2026-06-14 via web-page\n    2 block-tree\n");
    assert!(told.only(errors::NO_PRICE).message.contains("2026-06-14"));
    assert!(!told.log.uncertain.is_empty());
}

#[test]
fn more_back_than_carried_is_a_mistake() {
    read("sold 2026-06-14 via craft-fair\n    2 pull-cart, 3 back\n").only(errors::MORE_BACK);
}

#[test]
fn a_tool_is_retired_and_not_sold() {
    let read = read("sold 2026-06-14 via web-page\n    1 band-saw for 350.00\n");
    let told = read.only(errors::TOOL_IS_NO_STOCK);
    assert!(told.notes.iter().any(|note| note.contains("retired 2026-06-14 band-saw for")), "{:?}", told.notes);
}

#[test]
fn a_discount_above_the_goods_is_a_mistake() {
    read("sold 2026-06-14 via web-page\n    1 pull-cart\n    discount 43.00\n").only(errors::BELOW_NOTHING);
}

#[test]
fn for_where_at_was_meant_is_told() {
    let told = |line: &str| read(&format!("sold 2026-03-20 via web-page\n    {line}\n"));
    let slip = told("2 pull-cart for 42.00");
    let warning = slip.only(errors::FOR_OR_AT);
    assert_eq!(warning.message, "42.00 for 2 is 21.00 each; the price of `pull-cart` is 42.00");
    assert_eq!(warning.fixes[0].replacement, "at 42.00");
    told("2 pull-cart for 80.00").is_clean();
    told("1 pull-cart for 42.00").is_clean();
    told("2 pull-cart at 42.00").is_clean();
}

#[test]
fn a_small_fee_on_consignment_may_have_been_meant_as_the_share() {
    let sale = |fee: &str| read(&format!("sold 2026-05-31 via gift-shop\n    6 pull-cart\n    fee {fee}\n"));
    sale("3.00").only(errors::FEE_BESIDE_SHARE);
    sale("60.00").is_clean();
}

#[test]
fn a_sale_without_the_tax_of_its_channels_others_is_told() {
    let sale = |day: &str, tax: &str| format!("sold {day} via web-page\n    1 pull-cart\n{tax}");
    let (with, without) = ("    sales-tax 3.36\n", "");
    let one = [sale("2026-03-20", with), sale("2026-03-21", without)].concat();
    read(&one).only(errors::NO_TAX_LINE);
    let many = [sale("2026-03-20", with), sale("2026-03-21", without), sale("2026-03-22", without)].concat();
    read(&many).is_clean();
}

#[test]
fn a_deposit_that_was_booked_as_income_is_told_at_the_sale() {
    let read = read(
        "received 2026-04-18 from \"E. in Troy\"
    60.00 for engraving
sold 2026-05-02 via web-page
    to \"E. in Troy\"
    5 pull-cart
",
    );
    read.only(errors::DEPOSIT_TWICE);
}

#[test]
fn a_bought_income_and_a_sold_expense_are_told_by_their_names() {
    assert_eq!(read("sold 2026-03-20 via web-page\n    9.00 for shop-supplies\n").found.len(), 1);
    assert_eq!(read("bought 2026-03-20 from \"a\"\n    9.00 for engraving\n").found.len(), 1);
}

#[test]
fn an_unknown_channel_is_one_mistake() {
    let read = read("sold 2026-03-20 via web-pgae\n    2 pull-cart\n    total 90.00\n");
    assert_eq!(read.found.len(), 1, "{:#?}", read.told());
    assert_ne!(read.found[0].code, Code(0));
    assert!(read.log.events.is_empty() && !read.log.uncertain.is_empty());
}

#[test]
fn the_same_orders_in_another_file_read_alike() {
    let one = "sold 2026-03-20 via web-page order \"A\"\n    1 pull-cart\n";
    let two = "sold 2026-03-20 via web-page order \"B\"\n    2 pull-cart\n";
    let shop = ("shop.kerf", crate::events::tests::SHOP);
    let orders = |files: &[(&str, &str)]| {
        let read = read_files(files, None);
        (0..2).map(|at| read.book.label(read.sold(at).order.expect("an order")).to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(orders(&[shop, ("a.kerf", one), ("b.kerf", two)]), ["A", "B"]);
    assert_eq!(orders(&[("a.kerf", two), ("b.kerf", one), shop]), ["A", "B"]);
}

#[test]
fn two_taxes_within_the_prices_are_each_of_the_same_goods() {
    let read = read(
        "sold 2026-06-14 via web-page
    1 pull-cart at 106.50
    sales-tax 4% included
    sales-tax 2.5% included to town
",
    );
    read.is_clean();
    let taxes: Vec<_> = read.sold(0).taxes.iter().map(|tax| (tax.money, tax.to.map(|label| read.book.label(label)))).collect();
    assert_eq!(taxes, [(money("4.00"), Some("ny-state")), (money("2.50"), Some("town"))]);
}
