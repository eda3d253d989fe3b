//! Lines and heads that are written as they are spoken.

use super::Under::{Bought, Built, Channel, Material, Nothing, Opened, Paid, Product, Received, Sold, Worked};
use super::{check, told};
use crate::syntax::slip_errors as code;

#[test]
fn a_bill_by_its_name_is_an_entry_of_its_own() {
    check(&[
        (Nothing, "rent 150", "paid 2026-03-01 to NAME | 150 for rent"),
        (Nothing, "rent 2026-02-01 $150", "paid 2026-02-01 to NAME | 150 for rent"),
        (Nothing, "rent $150 2026-02-01", "paid 2026-02-01 to NAME | 150 for rent"),
        (Nothing, "booth fee 60", "paid 2026-03-01 to NAME | 60 for booth-fee"),
        (Nothing, "paid 150", "paid 2026-03-01 to NAME | 150 for NAME"),
        (Nothing, "paid 2026-02-01 rent 150", "paid 2026-02-01 to NAME | 150 for rent || paid 2026-02-01 to rent | 150 for NAME"),
        (Nothing, "paid rent 150", "paid 2026-03-01 to NAME | 150 for rent || paid 2026-03-01 to rent | 150 for NAME"),
        (
            Nothing,
            "spent 2026-02-01 shop rent 150",
            "paid 2026-02-01 to NAME | 150 for shop-rent || paid 2026-02-01 to \"shop rent\" | 150 for NAME",
        ),
        (
            Nothing,
            "paid 2026-02-28 to electricity 48.20",
            "paid 2026-02-28 to electricity | 48.20 for NAME || paid 2026-02-28 to NAME | 48.20 for electricity",
        ),
        (Paid, "booth fee 60", "60 for booth-fee"),
        (Nothing, "Mill Lane gave back $8 2026-03-02", ""),
    ]);
}

#[test]
fn what_happened_outside_a_batch_is_no_line_of_one() {
    check(&[
        (Nothing, "lost 1.2 bf maple mold", "scrapped 2026-03-01 | 1.2 bf maple \"mold\""),
        (Nothing, "lost 2026-03-04 1.2 bf maple", "scrapped 2026-03-04 | 1.2 bf maple"),
        (Nothing, "kept 2 bf maple offcut", "found 2026-03-01 | 2 bf maple-offcut"),
        (Nothing, "made 3 step-stool", "built 2026-03-01 | made 3 step-stool"),
        (Nothing, "used 3 bf maple", "built 2026-03-01 | used 3 bf maple || used-up 2026-03-01 | 3 bf maple"),
        (Nothing, "took 3h sanding", "worked 2026-03-01 | 3h sanding"),
        (Nothing, "threw away 1.2 bf maple mold on 2026-03-04", "scrapped 2026-03-04 | 1.2 bf maple \"mold\""),
        (Built, "lost one stool", "lost 1 stool"),
        (Built, "lost 1 stool, split", "lost 1 stool \"split\""),
    ]);
}

#[test]
fn a_bad_line_at_column_one_is_told_once_with_its_line_indented() {
    let (found, lines) = told(Bought, "x\n1 pull-cart at 20% off");
    assert_eq!((found.len(), lines), (2, Vec::<String>::new()), "{found:?}");
    let (found, lines) = told(Sold, "2 pull-cart\npaid by card");
    let notes: Vec<_> = found.iter().flat_map(|one| &one.notes).filter(|note| note.contains("indented")).collect();
    assert_eq!((found.len(), notes.len()), (1, 0), "{found:?}");
    assert_eq!(lines, ["paid"]);
    let (found, lines) = told(Bought, "2 pull-cart at 42.00\n12 board feet red-oak @ 5.90");
    assert_eq!((found.len(), lines.as_slice()), (1, ["12 bf red-oak at 5.90".to_owned()].as_slice()), "{found:?}");
}

#[test]
fn money_of_an_item_is_said_as_people_say_it() {
    check(&[
        (Opened, "12 board feet cherry that cost $84", "12 bf cherry for 84"),
        (Opened, "12 bf cherry cost 7 each", "12 bf cherry at 7"),
        (Sold, "1 stool $85 cash", "1 stool for 85 | cash 85"),
        (Sold, "2 stool at 85, card", "2 stool at 85 | card 170.00"),
        (Sold, "2 stool 85 cash", "2 stool for 85 | cash 85 || 2 stool at 85 | cash 170.00"),
        (Bought, "2 bf cherry 25.00, lot CON", "2 bf cherry at 25.00, lot CON || 2 bf cherry for 25.00, lot CON"),
        (Bought, "2 bf cherry for 25.00, lot \"CON\"", "2 bf cherry for 25.00, lot CON"),
    ]);
}

#[test]
fn heads_as_they_are_spoken_are_taken_apart() {
    check(&[
        (
            Nothing,
            "returned 2026-02-20 puzzle from corner-gallery",
            "brought-back 2026-02-20 from corner-gallery | 1 puzzle || returned 2026-02-20 via corner-gallery | 1 puzzle",
        ),
        (Nothing, "sold 2026-02-14 a stool via winter-fair", "sold 2026-02-14 via winter-fair | 1 stool"),
        (Nothing, "sent 2026-01-20 to gallery on consignment, keeps 40%", "sent 2026-01-20 to gallery"),
        (Nothing, "sent 2026-01-20 2 cart to gallery on consignment", "sent 2026-01-20 to gallery | 2 cart"),
        (
            Nothing,
            "refund 2026-03-02 from Mill Lane $8 for delivery",
            "credited 2026-03-02 by \"Mill Lane\" | 8 off NAME || returned 2026-03-02 order \"NAME\" | refunded 8",
        ),
        (
            Nothing,
            "received 2026-02-02 deposit 100 from Mrs. Dell",
            "received 2026-02-02 from \"Mrs. Dell\" | 100 for order \"NAME\"",
        ),
        (
            Nothing,
            "received 2026-02-02 100 down from Mrs. Dell",
            "received 2026-02-02 from \"Mrs. Dell\" | 100 for order \"NAME\"",
        ),
        (Nothing, "sold 2026-02-14 via \"Winter Fair\"", "sold 2026-02-14 via winter-fair"),
        (Nothing, "built 2026-02-14 batch \"SS-2\"", "built 2026-02-14 batch SS-2"),
        (
            Nothing,
            "sold half a sheet of plywood to a neighbour for $20",
            "sold 2026-03-01 via NAME | 0.5 sheet plywood for 20 | to \"a neighbour\"",
        ),
        (Nothing, "sold 2026-02-14 1 stool at the winter fair for 85", "sold 2026-02-14 via winter-fair | 1 stool for 85"),
        (Nothing, "bought Jan 5 2026 from Mill Lane Lumber", "bought 2026-01-05 from \"Mill Lane Lumber\""),
        (Received, "deposit 100", "100 for order \"NAME\""),
    ]);
}

#[test]
fn a_day_that_was_left_to_the_reader_is_asked_for() {
    let (found, lines) = told(Nothing, "scrapped DATE");
    assert_eq!((found[0].code, lines.as_slice()), (code::HEAD_DATE, ["scrapped 2026-03-01".to_owned()].as_slice()));
}

#[test]
fn what_stands_once_in_a_definition_is_told_so() {
    for (under, typed, words) in [
        (Paid, "55 for phone, half for business", "how much of it is for the business is said once"),
        (Bought, "1 wax-melter for 189, written off at once", "how a tool is deducted is said once"),
        (Product, "cures 4 weeks", "time in which nobody works"),
    ] {
        let (found, lines) = told(under, typed);
        assert!(found.len() == 1 && found[0].message.contains(words) && lines.is_empty(), "{typed}: {found:?}");
    }
    assert_eq!(told(Sold, "fee 2.6%").1, [""], "it is left out");
    check(&[
        (Received, "deposit 40", "40 for order \"NAME\""),
        (Sold, "paid in 30 days", "unpaid"),
        (Paid, "210.00 for rent every month", "210.00 for rent"),
        (Paid, "16 for website monthly", "16 for website"),
    ]);
}

#[test]
fn what_is_said_in_cents_is_a_hundredth() {
    check(&[
        (Channel, "fee 20 cents per item", "fee 0.20 per item"),
        (Channel, "fee 20¢ per sale", "fee 0.20 per sale"),
        (Bought, "40 wheel-40 at 2.5 cents", "40 wheel-40 at 0.025"),
        (Bought, "40 wheel-40 at 5 cents each", "40 wheel-40 at 0.05"),
        (Bought, "1 pull-cart for 110 cents", "1 pull-cart for 1.10"),
    ]);
}

#[test]
fn what_a_pack_holds_is_said_of_one() {
    check(&[
        (Material, "pack of 50", "1 pack = 50 ea"),
        (Material, "packs of 50 ea", "1 pack = 50 ea"),
        (Material, "comes in boxes of 50 lb", "1 box = 50 lb"),
        (Material, "50 per pack", "1 pack = 50 ea"),
        (Material, "50 to a pack", "1 pack = 50 ea"),
        (Material, "12 ea in a box", "1 box = 12 ea"),
    ]);
}

#[test]
fn where_it_was_sold_or_went_has_no_article() {
    check(&[
        (Nothing, "sold 2026-03-07 at the fair", "sold 2026-03-07 via fair"),
        (Nothing, "sold 2026-03-07 via the fair order \"A-1\"", "sold 2026-03-07 via fair order \"A-1\""),
        (Nothing, "sent 2026-03-09 to the cafe", "sent 2026-03-09 to cafe"),
        (Nothing, "took 6 mugs to cafe 2026-03-09", "sent 2026-03-09 to cafe | 6 mugs"),
        (Nothing, "brought 2026-03-09 6 mugs to the cafe", "sent 2026-03-09 to cafe | 6 mugs"),
        (Nothing, "took 2 mugs home 2026-03-09", "took-home 2026-03-09 | 2 mugs"),
        (
            Nothing,
            "sold 2026-03-22 online to Jane D. order 1044",
            "sold 2026-03-22 via online order 1044 | to \"Jane D.\" || sold 2026-03-22 via NAME order 1044 | to \"Jane D.\" | 1 online",
        ),
        (Nothing, "cafe sold 2 mugs 2026-03-20 paid me 39.20", "sold 2026-03-20 via cafe | 2 mugs"),
        (
            Nothing,
            "refunded Jane 28.00 one mug broke 2026-03-29",
            "credited 2026-03-29 by Jane | 28.00 off NAME \"one mug broke\" || returned 2026-03-29 order \"NAME\" | refunded 28.00 \"one mug broke\"",
        ),
    ]);
}

#[test]
fn a_time_has_its_step_and_a_spoiled_piece_its_word() {
    check(&[
        (Worked, "6h at fair", "6h NAME on fair"),
        (Worked, "6 hours at the fair", "6h NAME on fair"),
        (Nothing, "worked 2026-03-07 6h at fair", "worked 2026-03-07 | 6h NAME on fair"),
        (Built, "threw for 2.5 hours", "took 2.5h throwing"),
        (Built, "sanded 45m", "took 45m sanding"),
        (Worked, "carved for 1h on PC-014", "1h carving on PC-014"),
    ]);
}
