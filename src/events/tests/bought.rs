//! Purchases, and what was there.

use crate::events::tests::{Read, money, number, read};
use crate::events::{Bought, BoughtWhat, EventKind, Opened, Payment, Sharing, errors};

impl Read {
    fn bought(&self, at: usize) -> &Bought {
        match &self.log.events.get(at).expect("an event").kind {
            EventKind::Bought(bought) => bought,
            other => panic!("no purchase: {other:?}"),
        }
    }

    fn opened(&self) -> &Opened {
        match &self.log.events.first().expect("an event").kind {
            EventKind::Opened(opened) => opened,
            other => panic!("not opened: {other:?}"),
        }
    }
}

#[test]
fn a_purchase_of_every_kind_of_line_is_read() {
    let read = read(
        "bought 2026-03-02 from ridgeline-lumber receipt \"A-1182\"
    31.5 bf red-oak at 5.90
    31 bf poplar, counted 29 bf, for 197.20
    4 boards walnut, 4/4 x 6 1/2 x 48 in, at 11.20 per bf
    2 bags wheel-40 for 23.00
    3 packs blade-no7 at 5.99, lot BL-7
    1 can clear-oil for 19.50, lot 23-0417
    1 band-saw for 899.00
    1 licence cart-pattern for 12.00
    18.40 for shop-supplies \"masking paper\"
    85.00 for booth-fee on craft-fair, meant for 2027-02-14
    6.49 for home \"light bulb\"
    3.50 on batch JIG-1 \"hinge\"
    freight 18.00 shared by value
    sales-tax 9.31
    discount 5.00
    total 1587.29
    paid 600.00 on 2026-03-02
built 2026-03-09 batch JIG-1
    used 2 bf poplar
    made 1 axle-jig
",
    );
    read.is_clean();
    let bought = read.bought(0);
    let values: Vec<String> = bought.lines.iter().map(|line| line.value.to_fixed_text(2, 6)).collect();
    assert_eq!(
        values,
        // Stock, tools, licences, expenses, batches and the house, each by name, however they were written.
        ["17.97", "19.50", "197.20", "185.85", "97.07", "23.00", "899.00", "12.00", "85.00", "18.40", "3.50", "6.49"]
    );
    let BoughtWhat::Stock { quantity, billed, .. } = &bought.lines[2].what else { panic!("goods") };
    assert_eq!((*quantity, *billed), (number("29"), Some(number("31"))));
    let BoughtWhat::Stock { quantity, .. } = &bought.lines[5].what else { panic!("goods") };
    assert_eq!(*quantity, number("100"));
    assert!(matches!(bought.lines[1].what, BoughtWhat::Stock { lot: Some(lot), .. } if read.book.label(lot) == "23-0417"));
    assert!(matches!(bought.lines[8].what, BoughtWhat::Expense { on: Some(_), meant_for: Some(_), .. }));
    assert!(matches!(bought.lines[11].what, BoughtWhat::Home));
    assert!(matches!(bought.lines[10].what, BoughtWhat::Batch(_)));
    assert_eq!(bought.total(), Some(money("1587.29")));
    // A part is paid, so the rest is owed.
    assert_eq!(bought.settlement.payments.len(), 1);
    assert_eq!(bought.settlement.payments[0].money, Some(money("600.00")));
}

#[test]
fn a_total_that_the_lines_dont_come_to_is_told_with_both_sums() {
    let read = read("bought 2026-03-02 from \"a yard\"\n    2 bf walnut at 11.205\n    sales-tax 1.34\n    total 23.74\n");
    let told = read.only(errors::TOTAL_DIFFERS);
    assert!(told.message.contains("23.74") && told.message.contains("23.75"), "{}", told.message);
    assert_eq!(read.log.events.len(), 1);
}

#[test]
fn where_a_line_is_wrong_the_total_is_not_told_too() {
    let read = read("bought 2026-03-02 from \"a yard\"\n    2 bf walnut\n    3 bf poplar for 9.00\n    total 30.00\n");
    read.only(errors::NO_VALUE);
    assert_eq!(read.bought(0).lines.len(), 1);
    assert_eq!(read.log.uncertain.len(), 1);
}

#[test]
fn a_bill_is_paid_on_its_day_unless_it_says_otherwise() {
    let entry = |lines: &str| format!("bought 2026-03-02 from \"a yard\"\n    3 bf poplar for 9.00\n{lines}");
    let payments = |lines: &str| {
        let read = read(&entry(lines));
        read.is_clean();
        let of = |payment: &Payment| (payment.money.map(|money| money.to_string()), payment.date.to_string());
        read.bought(0).settlement.payments.iter().map(of).collect::<Vec<_>>()
    };
    let on = |money: Option<&str>, day: &str| (money.map(str::to_owned), day.to_owned());
    assert_eq!(payments(""), [on(None, "2026-03-02")]);
    assert_eq!(payments("    unpaid\n"), []);
    assert_eq!(payments("    paid 2026-03-30\n"), [on(None, "2026-03-30")]);
    assert_eq!(payments("    paid 4.00 on 2026-03-30\n"), [on(Some("4"), "2026-03-30")]);
    let two = "    paid 2026-04-30\n    paid 4.00 on 2026-03-30\n";
    assert_eq!(payments(two), [on(Some("4"), "2026-03-30"), on(None, "2026-04-30")]);
}

#[test]
fn freight_by_weight_needs_a_weight_for_every_line() {
    let with = |line: &str| {
        read(&format!(
            "bought 2026-03-02 from \"a yard\"\n    10 bf red-oak for 59.00\n{line}    freight 8.00 shared by weight\n"
        ))
    };
    let weighed = with("");
    weighed.is_clean();
    assert_eq!(weighed.bought(0).freight, (money("8.00"), Sharing::Measure));
    assert_eq!(weighed.bought(0).lines[0].measure, Some(number("16329.32532")));
    with("    2 bf walnut for 22.00\n").only(errors::NO_MEASURE);
    with("    18.40 for shop-supplies\n").only(errors::NO_MEASURE);
}

#[test]
fn freight_by_quantity_needs_one_dimension() {
    let with = |line: &str| {
        read(&format!(
            "bought 2026-03-02 from \"a yard\"\n    10 bf red-oak for 59.00\n{line}    freight 8.00 shared by quantity\n"
        ))
    };
    with("    2 bf walnut for 22.00\n").is_clean();
    with("    20 ea wheel-40 for 9.00\n").only(errors::NO_MEASURE);
}

#[test]
fn a_discount_in_parts_of_a_hundred_is_of_the_lines() {
    let read = read("bought 2026-03-02 from \"a yard\"\n    3 bf poplar for 9.05\n    discount 10%\n    total 8.14\n");
    read.is_clean();
    assert_eq!(read.bought(0).discount.0, money("0.91"));
}

#[test]
fn a_discount_above_the_bill_is_a_mistake() {
    read("bought 2026-03-02 from \"a yard\"\n    3 bf poplar for 9.00\n    discount 10.00\n").only(errors::BELOW_NOTHING);
}

#[test]
fn foreign_money_is_converted_sum_by_sum_and_checked_as_the_paper_has_it() {
    let read = read(
        "bought 2026-05-04 from \"Holzraeder\" receipt \"RE-118\"
    1 EUR = 1.0842
    3 bags wheel-40 for 28.80
    2 packs blade-no7 at 11.005
    freight 16.50
    total 67.31
    paid 60.00 on 2026-05-04
    paid 7.31 on 2026-06-01
",
    );
    read.is_clean();
    let bought = read.bought(0);
    // 2 x 11.005 x 1.0842 = 23.8632…, rounded once
    assert_eq!(bought.lines[0].value, money("23.86"));
    assert_eq!(bought.lines[1].value, money("31.22"));
    assert_eq!(bought.freight.0, money("17.89"));
    // The parts make up the whole, so the last pays what is left, whatever the rounding.
    let payments: Vec<_> = bought.settlement.payments.iter().map(|payment| payment.money).collect();
    assert_eq!(payments, [Some(money("65.05")), None]);
}

#[test]
fn a_rate_of_the_books_own_money_or_of_no_currency_is_a_mistake() {
    let rate = |line: &str| read(&format!("bought 2026-05-04 from \"a yard\"\n    {line}\n    3 bf poplar for 9.00\n"));
    rate("1 USD = 1.1").only(errors::EXCHANGE_RATE);
    rate("1 QQQ = 1.1").only(errors::EXCHANGE_RATE);
    rate("1 EUR = 0").only(errors::EXCHANGE_RATE);
}

#[test]
fn a_sum_has_the_currencys_digits_and_a_price_as_many_as_wanted() {
    read("bought 2026-03-02 from \"a yard\"\n    3 bf poplar for 9.005\n").only(errors::TOO_MANY_DIGITS);
    read("bought 2026-03-02 from \"a yard\"\n    3 bf poplar at 3.00555\n").is_clean();
}

#[test]
fn nothing_of_a_thing_cant_cost() {
    read("bought 2026-03-02 from \"a yard\"\n    0 bf poplar for 9.00\n").only(errors::NONE_OF_IT);
    read("bought 2026-03-02 from \"a yard\"\n    2 bf poplar at 3.00, for 6.00\n").only(errors::TWO_PRICES);
}

#[test]
fn figures_at_the_limit_are_mistakes_at_their_entry() {
    let most = "9999999999999999999999999999";
    read(&format!("bought 2026-03-02 from \"a yard\"\n    {most} bf poplar at {most}\n")).only(errors::TOO_LARGE);
    read(&format!("bought 2026-03-02 from \"a yard\"\n    1 EUR = {most}\n    2 bf poplar for {most}\n")).only(errors::TOO_LARGE);
}

#[test]
fn what_was_there_has_a_value_hours_and_debts() {
    let read = read(
        "opened 2026-01-01
    18.5 bf red-oak for 103.60
    5 serving-board for 71.25, 6h
    61.50 on batch VS-019
    1 band-saw for 500.00, already recovered 281.35
    88.20 owed by gift-shop for order \"G-11\"
    40.00 owed to ridgeline-lumber for receipt \"A-1100\"
    12.00 owed to sam
    3.00 owed to cart-pattern
started 2026-01-02 batch VS-019
    aims at 2 village-set
",
    );
    read.is_clean();
    let opened = read.opened();
    assert_eq!(opened.lines[1].minutes, Some(money("360")));
    assert_eq!(opened.lines[0].minutes, None);
    assert_eq!(opened.tools[0].already_recovered, money("281.35"));
    assert_eq!(opened.on_batches.len(), 1);
    assert_eq!(opened.owed_by[0].reference.map(|label| read.book.label(label)), Some("G-11"));
    assert!(opened.owed_to[1].helper.is_some() && opened.owed_to[2].pattern.is_some());
    assert_eq!(read.log.first_day.map(|day| day.to_string()).as_deref(), Some("2026-01-01"));
}

#[test]
fn what_was_there_without_a_value_is_a_mistake_and_what_was_found_has_none() {
    read("opened 2026-01-01\n    18.5 bf red-oak\n").only(errors::NO_VALUE);
    read("contributed 2026-02-01\n    20 bf walnut\n").only(errors::NO_VALUE);
    let worth =
        |said: &str| read(&format!("contributed 2026-02-01\n    20 bf walnut {said}\n")).is_clean().opened().lines[0].value;
    assert_eq!(worth("worth 80.00"), money("80.00"));
    assert_eq!(worth("for 90.00, worth 80.00"), money("80.00"));
    assert_eq!(worth("for 70.00, worth 80.00"), money("70.00"));
    read("found 2026-01-24\n    1.5 bf walnut\n").is_clean();
    read(
        "bought 2026-03-02 from \"a yard\"
    3 bf poplar for 9.00
    sales-tax 0.50 to ny-state
",
    )
    .only(errors::NO_EFFECT_HERE);
}

#[test]
fn a_thing_with_packs_names_its_unit_when_it_comes_in() {
    for entry in ["opened 2026-01-01\n    2 wheel-40 for 23.00\n", "bought 2026-01-01 from \"a\"\n    2 wheel-40 for 23.00\n"] {
        assert_eq!(read(entry).found.len(), 1);
    }
}
