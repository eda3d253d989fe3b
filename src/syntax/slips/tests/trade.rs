//! What a shop does that is said by other words, or that no entry keeps.

use super::Under::{Bought, Built, Nothing, Paid, Product, Received, Sold, Worked};
use super::{check, told};

#[test]
fn own_money_is_no_entry() {
    check(&[
        (Nothing, "put-in 2026-01-03 2000.00 \"my own money\"", "noted 2026-01-03 \"put-in 2000.00 my own money\""),
        (Nothing, "put in 2026-01-03 $2000", "noted 2026-01-03 \"put in $2000\""),
        (Nothing, "drew out 200.00 on 2026-01-05", "noted 2026-01-05 \"drew out 200.00\""),
        (Nothing, "took-out 2026-08-15 300.00 for myself", "noted 2026-08-15 \"took-out 300.00 for myself\""),
        (Nothing, "owner draw 2026-08-15 300.00", "noted 2026-08-15 \"owner draw 300.00\""),
        (Nothing, "loan 2026-01-05 from bank 2000.00", "noted 2026-01-05 \"loan from bank 2000.00\""),
        (Nothing, "contributed 2026-01-05 1500.00 \"my own money\"", "noted 2026-01-05 \"contributed 1500.00 my own money\""),
        (Nothing, "paid 2026-08-15 200.00 to myself", "noted 2026-08-15 \"paid 200.00 to myself\""),
        (Nothing, "contributed 2026-01-05 20 bf walnut", "contributed 2026-01-05 | 20 bf walnut"),
    ]);
}

#[test]
fn what_is_no_entry_is_said_so_and_its_lines_are_no_mistakes() {
    check(&[
        (Nothing, "bounced 2026-05-09 check from shop 84.00", "noted 2026-05-09 \"bounced check from shop 84.00\""),
        (Nothing, "bounced 2026-05-09 from shop\n    84.00 x y z w", "noted 2026-05-09 \"bounced from shop: 84.00 x y z w\""),
        (Nothing, "float 2026-02-14 100.00", "noted 2026-02-14 \"float 100.00\""),
        (
            Nothing,
            "corrected 2026-08-08 entry of 2026-08-01\n    4 cart moths not 3",
            "noted 2026-08-08 \"corrected entry of 2026-08-01: 4 cart moths not 3\"",
        ),
        (Paid, "change 100.00 in the cash box", " || note \"change 100.00 in the cash box\""),
        (Sold, "float 100.00", " || note \"float 100.00\""),
        (Received, "84.00 of a check bounced", " || note \"84.00 of a check bounced\""),
    ]);
}

#[test]
fn how_it_was_paid_is_left_out() {
    check(&[
        (Bought, "by card", " || note \"by card\""),
        (Bought, "card", " || note \"card\""),
        (Bought, "500 wheel-40 for 40 with my card", "500 wheel-40 for 40"),
        (Nothing, "bought 2026-01-11 from \"Hill Farm\" cash", "bought 2026-01-11 from \"Hill Farm\""),
        (Sold, "by card", "card SUM || "),
        (Sold, "cash", "cash SUM || "),
    ]);
}

#[test]
fn work_that_makes_no_product_is_a_sale_of_an_income() {
    check(&[
        (Nothing, "taught 2026-08-22 class, 3 hours, 120.00", "sold 2026-08-22 via NAME | 120.00 for NAME \"class, 3 hours\""),
        (Nothing, "taught 2026-06-20 6 people at 45.00", "sold 2026-06-20 via NAME | 270.00 for NAME \"6 people at 45.00\""),
        (Nothing, "taught 2026-08-22", "sold 2026-08-22 via NAME"),
        (
            Nothing,
            "repaired 2026-06-10 bible for Mr Voss 85.00",
            "sold 2026-06-10 via NAME | 85.00 for NAME \"bible for Mr Voss\"",
        ),
        (Nothing, "repaired 2026-06-10 a bible", "sold 2026-06-10 via NAME | note \"a bible\""),
        (Nothing, "engraved 2026-06-10 45m", "worked 2026-06-10 | 45m engraving"),
        (Sold, "6 people at 45.00 = 270.00", "270.00 for NAME \"6 people at 45.00 = 270.00\""),
        (Sold, "85.00", "85.00 for NAME"),
    ]);
}

#[test]
fn goods_that_are_made_of_goods_are_a_batch() {
    check(&[
        (
            Nothing,
            "packed 2026-02-05 10 hat-kits",
            "built 2026-02-05 | made 10 hat-kits | used as planned || built 2026-02-05 | made 10 hat-kits | used 1 NAME",
        ),
        (Nothing, "unravelled 2026-08-10 1 hat", "built 2026-08-10 | used 1 hat | made 1 NAME"),
        (Built, "got back 1 skein", "made 1 skein"),
        (
            Nothing,
            "exchanged 2026-06-05 1 hat for 1 scarf in blue",
            "returned 2026-06-05 via NAME | 1 hat, refunded SUM, back to stock || swapped 2026-06-05 with NAME | gave 1 hat | got 1 scarf",
        ),
        (Nothing, "exchanged 2026-06-05 with \"Pete\"", "swapped 2026-06-05 with \"Pete\""),
    ]);
}

#[test]
fn a_buyer_stands_in_no_head() {
    check(&[
        (
            Nothing,
            "refunded 2026-06-02 to \"Mrs Hall\" 20.00 for a pulled thread",
            "returned 2026-06-02 order \"NAME\" | refunded 20.00 \"a pulled thread\" || returned 2026-06-02 via NAME | refunded 20.00 \"a pulled thread\"",
        ),
        (
            Nothing,
            "returned 2026-06-02 1 hat from Mr Pike",
            "returned 2026-06-02 order \"NAME\" | 1 hat || returned 2026-06-02 via NAME | 1 hat",
        ),
        (
            Nothing,
            "delivered 2026-05-30 to \"Mrs Hall\"",
            "sold 2026-05-30 via NAME order \"NAME\" | to \"Mrs Hall\" || sold 2026-05-30 via NAME | to \"Mrs Hall\"",
        ),
        (Nothing, "delivered 2026-05-30 to gift-shop", "sent 2026-05-30 to gift-shop"),
        (Sold, "less deposit 60.00", " || note \"less deposit 60.00\""),
        (Sold, "deposit paid", " || note \"deposit paid\""),
        (Sold, "balance 180.00 by check", "check 180.00"),
        (Sold, "balance due 180.00", "unpaid"),
        (Sold, "rest 180.00", "paid 180.00"),
    ]);
    let (found, lines) = told(Sold, "1 gift certificate for 50.00");
    assert!(found[0].message.contains("a later order") && lines.iter().any(|line| line.contains("50.00 for order")), "{found:?}");
}

#[test]
fn a_royalty_is_paid_for_its_pattern() {
    check(&[
        (Paid, "royalty 8% of carts 20.48", "20.48 for NAME \"royalty 8% of carts\""),
        (Nothing, "paid 2026-07-15 royalty to Ana 12.00", "paid 2026-07-15 to Ana | 12.00 for NAME"),
        (Nothing, "paid 2026-07-15 rent to landlord 150", "paid 2026-07-15 to landlord | 150 for rent"),
        (Nothing, "paid 2026-07-15 rent to landlord", "paid 2026-07-15 to landlord"),
    ]);
}

#[test]
fn a_price_of_many_is_the_money_for_the_line() {
    check(&[
        (Bought, "40 skein at 8.00 per 100", "40 skein for 3.20"),
        (Bought, "500 label 8.00 a hundred \"printed\"", "500 label for 40.00 \"printed\""),
        (Bought, "7 label at 8.00 per 1000", "7 label for SUM"),
        (Bought, "33 label at 8.01 per 100", "33 label for SUM"),
        (Bought, "3 label at 17.00 per 100", "3 label for 0.51"),
        (Bought, "2 bags label at 8.00 per 100", "2 bags label for SUM"),
    ]);
}

#[test]
fn what_is_taken_off_one_item_stands_in_its_price() {
    check(&[
        (Sold, "2 cart at 38.00, 20% off", "2 cart at 30.40 || 2 cart at 38.00 | discount 20%"),
        (Sold, "2 cart for 70.00 less 10%", "2 cart for 63.00 || 2 cart for 70.00 | discount 10%"),
        (Sold, "1 scarf less 20%", "1 scarf at SUM || 1 scarf | discount 20%"),
        (Sold, "2 cart with 20% discount", "2 cart at SUM || 2 cart | discount 20%"),
    ]);
}

#[test]
fn a_percent_of_tax_is_within_the_prices_or_on_top() {
    check(&[
        (Sold, "sales tax 8%", "sales-tax 8% included || sales-tax SUM"),
        (Sold, "8% tax", "sales-tax 8% included || sales-tax SUM"),
        (Sold, "sales-tax 8%", "sales-tax 8% included || sales-tax SUM"),
        (Sold, "tax 8% incl", "sales-tax 8% included"),
        (Sold, "plus 8% sales tax", "sales-tax SUM"),
        (Bought, "sales tax 8%", "sales-tax SUM"),
    ]);
}

#[test]
fn a_whole_sale_on_one_line_is_taken_apart() {
    check(&[
        (
            Sold,
            "2 broadsides for 30.00, sales tax 2.40, paid by card, fee 1.10",
            "2 broadsides for 30.00 | sales-tax 2.40 | card 32.40 | fee 1.10",
        ),
        (
            Sold,
            "2 broadsides at 15.00, shipping 5.00, discount 1.00, cash",
            "2 broadsides at 15.00 | shipping 5.00 | discount 1.00 | cash 34.00",
        ),
        (Sold, "2 broadsides, shipping 5.00, card", "2 broadsides | shipping 5.00 | card SUM"),
        (Bought, "2 bags glue for 30.00, tax 2.40, by card", "2 bags glue for 30.00 | sales-tax 2.40 | paid"),
        (Sold, "1 hat from the club", "1 hat \"from the club\""),
        (Bought, "2 bottles of PVA glue at 12.00", "2 bottles pva-glue at 12.00"),
    ]);
}

#[test]
fn a_line_of_a_batch_with_its_day_begins_an_entry() {
    let mut sources = crate::sources::SourceSet::default();
    sources.add("book.kerf", "made 2026-01-20 20 stool\n    used 4 bf walnut\n    took 3h cutting\n").expect("short");
    let mut found = crate::diagnostics::Diagnostics::default();
    let _ = crate::syntax::parse_lines(&sources, &mut found);
    assert_eq!(found.into_sorted().len(), 1, "a file that begins with it");
    check(&[
        (Nothing, "made 2026-01-20 20 stool\n    used 4 bf walnut\n    took 3h cutting", "built 2026-01-20 | made 20 stool"),
        (Nothing, "sent back 2026-03-11 to yard\n    4 bf walnut, refunded 16.80", "sent-back 2026-03-11 to yard"),
    ]);
}

#[test]
fn lines_of_a_batch_as_they_are_spoken() {
    check(&[
        (
            Built,
            "made 6 cart, 1 of them spoiled \"split\"",
            "made 5 cart | lost 1 cart \"split\" || made 6 cart | lost 1 cart \"split\"",
        ),
        (
            Built,
            "made 1 cart, 1 of which broken",
            "made nothing | lost 1 cart \"broken\" || made 1 cart | lost 1 cart \"broken\"",
        ),
        (Built, "took another 3 hours covering", "took 3h covering"),
        (Worked, "about 3h covering", "3h covering"),
        (Built, "10 blocks folding by tom at 2.50 each", "took TIME folding by tom for 25.00 \"10 blocks at 2.50\""),
        (Worked, "10 blocks folding by tom at 2.50 each on cart", "TIME folding on cart by tom for 25.00 \"10 blocks at 2.50\""),
        (Built, "made 8 hat by ana at 7 a piece", "made 8 hat | took TIME NAME by ana for 56.00"),
    ]);
}

#[test]
fn goods_as_they_are_spoken_of() {
    check(&[
        (Bought, "1 used board shear 380.00", "1 board-shear for 380.00 \"used\""),
        (Bought, "2 old table saw at 380.00", "2 table-saw at 380.00 \"old\""),
        (Bought, "1 pack of 10 sheets board 45.00", "10 sheets board for 45.00 \"1 pack of 10\""),
        (Bought, "2 packs of 10 screw at 4.50", "20 screw for 9.00 \"2 packs of 10\""),
        (Nothing, "counted 2026-12-31 everything at year's end", "counted 2026-12-31 | note \"everything at year's end\""),
        (
            Nothing,
            "gave 2026-05-14 to \"the library\" as raffle prize",
            "gave 2026-05-14 to \"the library\" as donation | note \"raffle prize\" \
             || gave 2026-05-14 to \"the library\" as gift | note \"raffle prize\" \
             || gave 2026-05-14 to \"the library\" as sample | note \"raffle prize\" \
             || gave 2026-05-14 to \"the library\" as thanks | note \"raffle prize\"",
        ),
    ]);
    for typed in ["they keep 40%", "less their 40%"] {
        assert_eq!(told(Sold, typed).1, [""], "{typed} is left out");
    }
    let (found, lines) = told(Sold, "gave to \"the library\"");
    assert!(found.len() == 1 && lines.is_empty() && !found[0].notes.is_empty(), "{found:?}");
}

#[test]
fn money_of_another_currency_has_its_rate() {
    check(&[
        (Sold, "1 cart for 35 euros", "1 cart for 35 | 1 EUR = RATE || 1 cart for 35"),
        (Sold, "1 cart that cost €35", "1 cart for 35 | 1 EUR = RATE || 1 cart for 35"),
        (Sold, "1 cart for CAD 45.00, which came to 32.85", "1 cart for 32.85 \"CAD 45.00\""),
        (Product, "price 35 EUR", "price 35"),
        (Nothing, "shop \"A\"\n    currency EUR\nsold 2026-03-20 via web-page\n    1 cart for 35 EUR", "1 cart for 35"),
        (
            Nothing,
            "shop \"A\"\n    currency EUR\nsold 2026-03-20 via web-page\n    1 cart for $35",
            "1 cart for 35 | 1 USD = RATE || 1 cart for 35",
        ),
    ]);
}
