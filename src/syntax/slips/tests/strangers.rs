//! What makers typed at their first try who had never seen the language.

use super::Under::{Bought, Built, Nothing, Paid, Received, Returned, Sold, Swapped, Worked};
use super::{Under, check, told};

/// Whether a message, or what it adds, holds some words.
fn says(under: Under, typed: &str, words: &str) -> bool {
    let (found, lines) = told(under, typed);
    let notes = found.iter().flat_map(|one| std::iter::once(&one.message).chain(&one.notes));
    notes.chain(&lines).any(|text| text.contains(words))
}

#[test]
fn what_is_said_behind_goods_finds_its_place() {
    check(&[
        (Built, "made 20 stool (two bent)", "made 20 stool \"two bent\""),
        (Built, "1 stool lost, frame split", "lost 1 stool \"frame split\""),
        (Built, "2 stool broken in the kiln", "lost 2 stool \"broken in the kiln\""),
        (Built, "lost 1 \"frame split\"", "lost 1 NAME \"frame split\""),
        (Built, "made 2 stool for \"Mrs Hale\"", "made 2 stool \"for Mrs Hale\""),
        (Sold, "10 stool, sold 7", "10 stool, 3 back"),
        (Sold, "7 stool, sold 7", "7 stool"),
        (Sold, "2 stool size 10", "2 stool \"size 10\""),
        (Sold, "1 ring no 6 at 40.00", "1 ring at 40.00 \"no 6\""),
        (Sold, "6 stool at 15.00 a piece", "6 stool at 15.00"),
        (Sold, "2 stool 18.00 each, 1 cart 14.00", "2 stool at 18.00, 1 cart for 14.00"),
        (Sold, "2 stool at 9 dollars 50", "2 stool at 9.50"),
        (Sold, "2 stool at 9 euros and 5 cents", "2 stool at 9.05"),
        (Bought, "48 leg à 3.25", "48 leg at 3.25"),
        (
            Built,
            "used 1 lb wax, 1 sheet clear (customer's own)",
            "used 1 lb wax || used 1 lb wax, 1 sheet clear \"customer's own\"",
        ),
        (Built, "used 6 lb 3 oz beeswax", "used 99 oz beeswax"),
        (Built, "used 3 ft 6 in ribbon", "used 42 in ribbon"),
    ]);
}

#[test]
fn lines_of_a_sale_and_a_bill_find_their_words() {
    check(&[
        (Sold, "received 79.30", "settled 79.30 | paid || total 79.30"),
        (Sold, "wholesale 50% off", "discount 50%"),
        (Sold, "commission 42.70", "fee 42.70 || "),
        (Sold, "stamp 1.65", "postage 1.65"),
        (Sold, "owes 20", " || unpaid"),
        (Sold, "shipping 8.00, sales-tax 3.31", "shipping 8.00 | sales-tax 3.31"),
        (Sold, "fee 2.29 and postage 7.80", "fee 2.29 | postage 7.80"),
        (Sold, "reupholstered 2 chairs for 360.00", "360.00 for NAME \"reupholstered 2 chairs\""),
        (Bought, "owe 156.00", "unpaid || "),
        (Paid, "12.00 disposal for commissions", "12.00 for disposal on commissions || 12.00 for disposal \"for commissions\""),
        (Paid, "8.50 cleaning screen wash", "8.50 for cleaning \"screen wash\" || 8.50 for cleaning-screen-wash"),
        (Received, "6 at 55 for classes", "330.00 for classes \"6 at 55\""),
        (Received, "deposit 200 by check", "200 for order \"NAME\""),
        (Received, "100.00 deposit on 2 stool at 180.00", "100.00 for order \"NAME\" \"2 stool at 180.00\""),
        (Received, "150 for order \"ANNA\" stool", "150 for order \"ANNA\" \"stool\""),
        (Returned, "42.00 \"bounced check\"", "refunded 42.00 \"bounced check\""),
        (
            Received,
            "11 \"overcharged flat\"",
            "11 for sold DATE \"overcharged flat\" || 11 for order \"NAME\" \"overcharged flat\" || 11 for NAME \"overcharged flat\"",
        ),
        (Received, "36 for 3 hooks", "36 for sold DATE || 36 for order \"NAME\" \"3 hooks\""),
        (Received, "15 for half of booth", "15 for NAME \"half of booth\" || 15 for order \"half of booth\""),
        (Paid, "5.35 postage for Ann's parcel", "5.35 for postage \"for Ann's parcel\""),
        (Bought, "1 ball of yarn for my own knitting 12.00", "12.00 for home \"1 ball of yarn for my own knitting\""),
        (Bought, "110 GBP = 143.20", "1 GBP = 1.30181818"),
        (Sold, "unpaid, due in 30 days", "unpaid"),
        (Sold, "2 stool for 9.00 each", "2 stool at 9.00"),
        (Returned, "kept 40 \"for the drawing\"", " || note \"kept 40 for the drawing\""),
        (Nothing, "paid 2026-03-06 to the state", "paid 2026-03-06 to \"the state\""),
        (Nothing, "received 2026-03-06 from class at the center", "received 2026-03-06 from \"class at the center\""),
        (Nothing, "sold 2026-03-06 at the studio door", "sold 2026-03-06 via studio-door"),
        (
            Nothing,
            "lost 2026-03-06 in the post to \"Dee\" via web-page",
            "scrapped 2026-03-06 | note \"lost in the post to Dee via web-page\"",
        ),
        (Nothing, "took 2026-03-06 300.00 for myself", "noted 2026-03-06 \"took 300.00 for myself\""),
        (Paid, "250.00 off the balance", " || note \"250.00 off the balance\""),
        (Paid, "222.50", "222.50 for bought DATE || 222.50 for NAME"),
        (Returned, "refunded 60 to \"Bob\"", "refunded 60 \"to Bob\""),
        (Sold, "card the rest", "card SUM"),
        (Sold, "rest by check", "check SUM"),
        (Bought, "on account, 30 days", "unpaid"),
        (Received, "50.00 toward their bill", "50.00 for sold DATE || 50.00 for order \"NAME\""),
        (Nothing, "built 2026-03-06 batch SG-1 for Ruth Keller", "built 2026-03-06 batch SG-1 | note \"for Ruth Keller\""),
        (Received, "270.00 for invoice \"GG-1\" by check", "270.00 for order \"GG-1\""),
        (Sold, "cash 205.00 incl float 40.00", "cash 165.00"),
        (Sold, "5 or 6 lip-balm", "6 lip-balm || 5 lip-balm"),
        (Sold, "less 40%", " || discount 40%"),
        (Sold, "less 10%", "discount 10% || "),
        (Returned, "2 jar, credited 16.00, thrown away \"leaking\"", "2 jar, refunded 16.00, scrapped \"leaking\""),
        (Returned, "1 bowl, cracked, refunded 70.00", "1 bowl, refunded 70.00, scrapped \"cracked\""),
        (Nothing, "sold 2026-03-06 via fair \"the harvest fair\"", "sold 2026-03-06 via fair | note \"the harvest fair\""),
        (Nothing, "sold 2026-03-06 via grocer invoice \"GG-1\"", "sold 2026-03-06 via grocer order \"GG-1\""),
        (Nothing, "ordered 2026-03-06 by \"Mrs. Hale\" order \"H-1\"", "received 2026-03-06 from \"Mrs. Hale\""),
        (Nothing, "ordered 2026-03-06 via custom order \"DANA\"", "received 2026-03-06 from NAME via custom"),
        (Nothing, "settled 2026-03-06 by maple-gifts", "sold 2026-03-06 via maple-gifts"),
        (Nothing, "price 2026-03-06 lip-balm 4.50", "changed 2026-03-06 lip-balm | price 4.50"),
        (
            Nothing,
            "refunded 2026-03-06 to Carla 4.00",
            "returned 2026-03-06 via NAME | refunded 4.00 \"to Carla\" || returned 2026-03-06 order \"NAME\" | refunded 4.00 \"to Carla\"",
        ),
        (
            Nothing,
            "paid 2026-03-06 rent 150.00 \"September\"",
            "paid 2026-03-06 to NAME | 150.00 for rent \"September\" || paid 2026-03-06 to rent | 150.00 for NAME \"September\"",
        ),
        (Nothing, "harvested 2026-03-06", "found 2026-03-06"),
        (Bought, "10 boxes clay at 32.00, discount 10%", "10 boxes clay at 28.80 || 10 boxes clay at 32.00 | discount 10%"),
        (Bought, "3 bags plaster for 61.00, half for home", "1.5 bags plaster for 30.50 | 30.50 for home"),
        (Bought, "refund 2.00", "discount 2.00"),
        (Sold, "1 duck at 17.00 half price", "1 duck at 17.00 \"half price\""),
        (Returned, "1 duck, refunded 32.00, back on the shelf", "1 duck, refunded 32.00, back to stock"),
        (Returned, "1 mug, refunded 28.00, back as mug-second", "1 mug, refunded 28.00, scrapped \"back as mug-second\""),
        (Nothing, "reclaimed 2026-03-06", "found 2026-03-06"),
        (Nothing, "lost 2026-03-06 batch MUG-1", "continued 2026-03-06 batch MUG-1"),
        (Paid, "12.40 for credit card fees", "12.40 for credit-card-fees"),
        (Sold, "2 cart (35.00 each)", "2 cart at 35.00"),
        (Sold, "10 cart (7 back)", "10 cart, 7 back"),
        (Sold, "2 cart (unpaid)", "2 cart | unpaid"),
        (Sold, "2 cart at 80.00 for both", "2 cart for 80.00"),
        (Sold, "cart 2", "2 cart || card 2"),
        (Built, "took 1h cutting (sam)", "took 1h cutting by sam || took 1h cutting \"sam\""),
        (Nothing, "drove 2026-03-06 22 mi to fair each way", "drove 2026-03-06 44 mi \"22 mi to fair each way\""),
        (Nothing, "drove 2026-03-06 11 mi each way to town on fair", "drove 2026-03-06 22 mi on fair \"11 mi each way to town\""),
        (Nothing, "sold 2026-03-06 on web-page order #12", "sold 2026-03-06 via web-page order \"12\""),
    ]);
    assert_eq!(told(Sold, "free shipping").1, [""], "what cost nothing needs no line");
    assert_eq!(told(Sold, "paid with gift card").1, [""], "it is taken off by its order");
    for (typed, words) in [("booth-fee 60.00", "60.00 for booth-fee on web-page"), ("drove 44 miles", "44 mi on web-page")] {
        assert!(says(Sold, typed, words), "{typed}");
    }
    assert!(says(Sold, "booth 80", "an entry of its own"), "a booth is paid");
}

#[test]
fn who_worked_and_on_what_is_said_by_names() {
    check(&[
        (
            Worked,
            "1h packing on web-page with lena",
            "1h packing on web-page | 1h packing on web-page by lena || 1h packing on web-page by lena || 1h packing on web-page \"with lena\"",
        ),
        (Worked, "2h sewing and theo", "2h sewing | 2h sewing by theo || 2h sewing by theo"),
        (Worked, "1h quoting on to order", "1h quoting on to-order || 1h quoting on NAME \"to order\""),
        (Worked, "3h stripping on Mrs. Lund's chair", "3h stripping on NAME \"Mrs. Lund's chair\""),
        (Worked, "amy helped 1h", "1h NAME by amy"),
        (Built, "ana worked 2h sewing", "took 2h sewing by ana"),
        (Built, "took 3h turning on 2026-03-05", "took 3h turning"),
        (Built, "took 2h sewing and theo", "took 2h sewing | took 2h sewing by theo || took 2h sewing by theo"),
        (Nothing, "drove 2026-03-06 11 mi each way to the fair", "drove 2026-03-06 22 mi \"11 mi each way to the fair\""),
    ]);
}

#[test]
fn debts_are_no_cost_and_no_income() {
    check(&[
        (Paid, "300 on the credit card", " || note \"300 on the credit card\""),
        (Paid, "90 for loan, 8 of it interest", "8 for interest \"90 for loan, 8 of it interest\""),
        (Paid, "110.00 for loan, interest 10.00", "10.00 for interest \"110.00 for loan, interest 10.00\""),
        (Paid, "110.00 for loan payment", " || note \"110.00 for loan payment\""),
        (Received, "600.00 loan from the bank", " || note \"600.00 loan from the bank\""),
        (Nothing, "borrowed 2026-01-05 from \"the bank\"\n    1000", "noted 2026-01-05 \"borrowed from the bank: 1000\""),
        (Nothing, "took-out 2026-01-05\n    400 for myself", "noted 2026-01-05 \"took-out: 400 for myself\""),
    ]);
    assert!(says(Swapped, "got 45.00 for home", "for yourself"), "barter for oneself is a sale");
}
