//! Terms of bills, balances, grades, counts of what is gone, remarks with more behind them, and heads of what is given or left somewhere.

use super::Under::{Bought, Counted, Nothing, Opened, Paid, Received, Returned, Sold};
use super::check;

#[test]
fn what_is_paid_later_is_unpaid_and_balances_are_left_out() {
    check(&[
        (Bought, "net 30 days", "unpaid"),
        (Sold, "terms net 30", "unpaid"),
        (Bought, "pay 2026-03-31", "unpaid || paid 2026-03-31"),
        (Bought, "due 2026-03-31", "unpaid"),
        (Sold, "pays in 30 days", "unpaid"),
        (Bought, "3 block at 19, pay 2026-03-31", "3 block at 19 | unpaid"),
        (Returned, "refunded 60, keep 40", "refunded 60"),
        (Returned, "keep 40", " || note \"keep 40\""),
        (Opened, "2150 in the bank", " || note \"2150 in the bank\""),
        (Opened, "cash on hand 640", " || note \"cash on hand 640\""),
        (Counted, "640 in the cash box", " || note \"640 in the cash box\""),
        (Paid, "216 by cash", "216 for NAME"),
        (Received, "84 by check", "84 for sold DATE || 84 for order \"NAME\" || 84 for NAME"),
    ]);
}

#[test]
fn work_at_a_price_is_its_whole_sum() {
    check(&[
        (Sold, "sharpened 11 knives at 8", "88.00 for NAME \"sharpened 11 knives at 8\""),
        (Sold, "sharpened 11 knives at 8 each", "88.00 for NAME \"sharpened 11 knives at 8\""),
        (Sold, "sharpened 11 knives for 88", "88 for NAME \"sharpened 11 knives\""),
        (Received, "150 deposit for fire-set order \"ANNA\"", "150 for order \"ANNA\" \"fire-set\""),
        (Received, "150 deposit order \"ANNA\"", "150 for order \"ANNA\""),
    ]);
}

#[test]
fn a_grade_or_a_remark_stands_behind_all_that_is_said() {
    check(&[
        (Bought, "6 belts 120 grit at 7.80", "6 belts at 7.80 \"120 grit\""),
        (Bought, "2 sheets copper 22 gauge for 18.00", "2 sheets copper for 18.00 \"22 gauge\""),
        (Returned, "1 stool cracked badly refunded 18, scrapped", "1 stool refunded 18, scrapped \"cracked badly\""),
        (Sold, "1 stool split at the top", "1 stool \"split at the top\""),
        (Bought, "second-hand grinder 650 cash", "1 grinder for 650 \"second-hand\""),
    ]);
}

#[test]
fn what_is_gone_is_no_count() {
    check(&[
        (Counted, "missing 18 brass-pin", "scrapped 2026-12-31 | 18 brass-pin \"missing\""),
        (Counted, "2 hooks, stolen", "scrapped 2026-12-31 | 2 hooks \"stolen\""),
        (
            Counted,
            "missing 18 brass-pin\n    5 block\n    4 box",
            "5 block | 4 box | scrapped 2026-12-31 | 18 brass-pin \"missing\"",
        ),
        (Counted, "4 sheets board, short", "4 sheets board \"short\""),
    ]);
}

#[test]
fn what_is_given_or_left_somewhere_has_its_verb() {
    check(&[
        (Nothing, "donated 2026-05-22 to \"the raffle\"", "gave 2026-05-22 to \"the raffle\" as donation"),
        (Nothing, "gifted 2026-05-22 2 hooks to school", "gave 2026-05-22 to school as gift | 2 hooks"),
        (Nothing, "gave 2026-06-10 to \"Mrs Hall\" as warranty", "used-up 2026-06-10 on NAME | note \"warranty, Mrs Hall\""),
        (Nothing, "left 3 chef-knife with gallery 2026-02-12", "sent 2026-02-12 to gallery | 3 chef-knife"),
        (Nothing, "left 2026-02-12 with the gallery", "sent 2026-02-12 to gallery"),
        (Nothing, "stolen 2026-02-12", "scrapped 2026-02-12 | note \"stolen\""),
    ]);
}
