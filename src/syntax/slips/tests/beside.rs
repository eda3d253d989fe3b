//! Sums, terms and other things said behind goods, and what is paid.

use super::Under::{Bought, Built, Counted, Nothing, Paid, Received, Returned, Sold, Swapped};
use super::check;

#[test]
fn what_comes_beside_the_goods_is_a_line_of_its_own() {
    check(&[
        (Sold, "1 stool 34.00 plus 6.00 shipping", "1 stool for 34.00 | shipping 6.00"),
        (Sold, "1 stool at 34.00 and shipping 6.00", "1 stool at 34.00 | shipping 6.00"),
        (Bought, "2 bf walnut at 5.00 plus 4.00 postage", "2 bf walnut at 5.00 | freight 4.00"),
        (Sold, "2 stool at 18.00, net 30", "2 stool at 18.00 | unpaid"),
        (Sold, "2 stool at 18.00, due in 30 days", "2 stool at 18.00 | unpaid"),
        (Sold, "to \"the library\", pays in 30 days", "to \"the library\" | unpaid"),
        (Returned, "1 stool, refunded 32.00 plus tax 2.56, good", "1 stool, refunded 32.00, back to stock | sales-tax 2.56"),
        (Returned, "1 stool, refunded 32.00, broken", "1 stool, refunded 32.00, scrapped \"broken\""),
        (Swapped, "1 stool for 6 bf walnut worth 60.00", "gave 1 stool | got 6 bf walnut for 60.00"),
        (Sold, "family album 280.00", "1 family-album for 280.00 || 280.00 for family-album"),
        (Bought, "15 lb rhubarb, free from neighbour", "15 lb rhubarb for 0.00 \"from neighbour\""),
        (Bought, "kettle 340, lasts 5 years", "1 kettle for 340"),
        (Bought, "groceries 22 private", "22 for home \"groceries\""),
        (Bought, "loom second-hand 850", "1 loom for 850 \"second-hand\""),
        (Sold, "1 stool second for 30 instead of 75", "1 stool second for 30 \"instead of 75\""),
        (Sold, "2 stool at half price", "2 stool at SUM"),
        (Sold, "2 ea stool free", "2 ea stool for 0.00"),
        (Sold, "6 stool at half price 3", "6 stool at 3 || 6 stool for 3"),
        (Counted, "4 sheets board, short", "4 sheets board \"short\""),
        (Swapped, "1 stool for 6 bf walnut", "gave 1 stool | got 6 bf walnut"),
    ]);
}

#[test]
fn a_word_too_many_or_in_place_of_a_figure_is_mended() {
    check(&[
        (Sold, "packed with a ship-box", "packed with 1 ship-box"),
        (Bought, "10 lb beeswax 95.00 total", "10 lb beeswax for 95.00"),
        (Bought, "10 lb beeswax for 95.00 in all", "10 lb beeswax for 95.00"),
        (Bought, "about 100 lb soy-wax for 90.00", "100 lb soy-wax for 90.00"),
        (Built, "used about 3 bf oak", "used 3 bf oak"),
        (Sold, "less 2.00", "discount 2.00"),
        (Bought, "minus 5%", "discount 5%"),
        (Sold, "640.00 reupholstery for wing chair", "640.00 for reupholstery \"wing chair\""),
    ]);
}

#[test]
fn what_is_paid_says_for_whom_or_which_bill() {
    check(&[
        (Paid, "450.00 rest of the press", "450.00 for bought DATE || 450.00 for receipt \"NAME\""),
        (Paid, "45.00 for 3 hours", "45.00 for NAME \"3 hours\""),
        (Paid, "20.00 for 8 book blocks", "20.00 for NAME \"8 book blocks\""),
        (Paid, "insurance 210.00 for the year", "210.00 for insurance \"for the year\""),
        (Paid, "240.00 insurance for the year", "240.00 for insurance \"for the year\""),
        (Paid, "royalty 30.00 on 20 broadsides", "30.00 for NAME \"royalty on 20 broadsides\""),
        (Bought, "paid 400.00 down", "paid 400.00 on 2026-03-02"),
        (Bought, "rest in February", " || unpaid"),
        (Sold, "webshop fee 2.60, listing 0.20", "fee 2.60 | extra fee 0.20 \"listing\""),
        (Sold, "webshop fee 2.60", "fee 2.60"),
        (Sold, "cash box 2.28 short", "short 2.28"),
        (Sold, "till was over by 4.00", "over 4.00"),
    ]);
}

#[test]
fn what_comes_in_says_for_which_order_or_sale() {
    check(&[
        (Received, "100.00 deposit for family album", "100.00 for order \"family album\""),
        (Received, "100.00 down on the table", "100.00 for order \"table\""),
        (
            Received,
            "75.00 for 3 months yarn club paid ahead",
            "75.00 for order \"3 months yarn club paid ahead\" || 75.00 for NAME \"3 months yarn club paid ahead\"",
        ),
        (Received, "38.40", "38.40 for sold DATE || 38.40 for order \"NAME\" || 38.40 for NAME"),
        (Returned, "50.00 deposit back, he changed his mind", "refunded 50.00 \"he changed his mind\""),
        (Sold, "buyer paid postage 5.50", "shipping 5.50"),
    ]);
}

#[test]
fn heads_of_what_is_kept_of_lower_prices_and_of_who_is_paid() {
    check(&[
        (Nothing, "kept 2026-05-14 1 stool as sample", "took-home 2026-05-14 | 1 stool || used-up 2026-05-14 | 1 stool"),
        (Nothing, "changed 2026-07-15 stool 20% off", "changed 2026-07-15 stool | price SUM"),
        (Nothing, "started 2026-01-24 warp W1", "started 2026-01-24 batch W1"),
        (Nothing, "paid 2026-02-14 for fair", "paid 2026-02-14 to NAME"),
    ]);
}
