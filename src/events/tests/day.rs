//! The order of a day.

use crate::events::tests::{Read, SHOP, read, read_files};

impl Read {
    /// The heads of all events in order, without their day.
    fn heads(&self) -> Vec<String> {
        let head = |words: &str| {
            words.split(' ').enumerate().filter(|(at, _)| *at != 1).map(|(_, word)| word).collect::<Vec<_>>().join(" ")
        };
        self.log.events.iter().map(|event| head(self.sources.text(event.head))).collect()
    }
}

const A_DAY: [&str; 22] = [
    "paid 2026-06-01 to county-fair\n    85.00 for booth-fee on craft-fair\n",
    "counted 2026-06-01\n    3 pull-cart\n",
    "used-up 2026-06-01\n    1 blade-no7\n",
    "scrapped 2026-06-01\n    1 bf poplar\n",
    "gave 2026-06-01 to \"a raffle\" as donation\n    1 pull-cart\n",
    "took-home 2026-06-01\n    1 pull-cart\n",
    "sold 2026-06-01 via web-page order \"W-1\"\n    1 pull-cart\n",
    "sent-back 2026-06-01 to \"a yard\"\n    1 bf poplar, refunded 3.00\n",
    "sent 2026-06-01 to shed\n    1 pull-cart\n",
    "worked 2026-06-01\n    1h general\n",
    "built 2026-06-01 batch PC-1\n    used 1 bf red-oak\n    made 1 pull-cart\n",
    "returned 2026-06-01 order \"W-0\"\n    1 pull-cart, refunded 42.00, back to stock\n",
    "returned 2026-06-01 order \"W-1\"\n    refunded 1.00\n",
    "brought-back 2026-06-01 from gift-shop\n    1 pull-cart\n",
    "brought-back 2026-06-01 from shed\n    1 pull-cart\n",
    "found 2026-06-01\n    1 bf walnut\n",
    "contributed 2026-06-01\n    1 bf walnut for 4.00\n",
    "credited 2026-06-01 by \"a yard\"\n    1.00 off poplar\n",
    "bought 2026-06-01 from \"a yard\"\n    3 bf poplar for 9.00\n",
    "opened 2026-06-01\n    9 bf red-oak for 53.10\n",
    "drove 2026-06-01 38 mi on craft-fair\n",
    "received 2026-06-01 from \"a scheme\"\n    9.00 for referrals\n",
];

const ITS_ORDER: [&str; 22] = [
    "opened",
    "bought from \"a yard\"",
    "credited by \"a yard\"",
    "contributed",
    "found",
    "brought-back from gift-shop",
    "returned order \"W-0\"",
    "built batch PC-1",
    "worked",
    "sent to shed",
    "sent-back to \"a yard\"",
    "sold via web-page order \"W-1\"",
    "brought-back from shed",
    "returned order \"W-1\"",
    "took-home",
    "gave to \"a raffle\" as donation",
    "scrapped",
    "used-up",
    "counted",
    "drove 38 mi on craft-fair",
    "paid to county-fair",
    "received from \"a scheme\"",
];

#[test]
fn a_day_runs_as_it_does_in_the_shop() {
    let read = read(&A_DAY.concat());
    assert_eq!(read.heads(), ITS_ORDER, "{:#?}", read.told());
}

#[test]
fn another_order_and_other_files_are_the_same_day() {
    for turn in 1..A_DAY.len() {
        let mut day = A_DAY;
        day.rotate_left(turn);
        if turn % 2 == 0 {
            day.reverse();
        }
        let (first, second) = day.split_at(turn);
        let (first, second) = (first.concat(), second.concat());
        let read = read_files(&[("a.kerf", &first), ("shop.kerf", SHOP), ("b.kerf", &second)], None);
        assert_eq!(read.heads(), ITS_ORDER, "{turn}");
    }
}

#[test]
fn batches_of_a_day_come_in_the_order_of_need() {
    // By their texts the set would come first.
    let entries = "built 2026-06-01 batch A-SET\n    used as planned\n    made 1 village-set\n
built 2026-06-01 batch B-HOUSES\n    used 1 bf poplar\n    made 9 block-house\n
built 2026-06-01 batch C-TREES\n    used 1 bf poplar\n    made 9 block-tree\n
built 2026-06-01 batch AA-OTHER\n    used 1 bf poplar\n    made 9 serving-board\n";
    let heads = read(entries).heads();
    assert_eq!(heads, ["built batch AA-OTHER", "built batch B-HOUSES", "built batch C-TREES", "built batch A-SET"]);
}

#[test]
fn the_entries_of_one_batch_keep_their_course() {
    let entries = "finished 2026-06-01 batch VS-1\n    made 1 village-set\n
worked 2026-06-01\n    10m packing on VS-1\n
continued 2026-06-01 batch VS-1\n    used 4 block-tree\n
started 2026-06-01 batch VS-1\n    aims at 1 village-set\n
built 2026-06-01 batch T-1\n    used 1 bf poplar\n    made 4 block-tree\n";
    let heads = read(entries).heads();
    assert_eq!(heads, ["built batch T-1", "started batch VS-1", "continued batch VS-1", "worked", "finished batch VS-1",]);
}

#[test]
fn batches_that_need_each_other_still_have_one_order() {
    let a = "built 2026-06-01 batch A\n    used 1 block-tree\n    made 1 block-house\n";
    let b = "built 2026-06-01 batch B\n    used 1 block-house\n    made 1 block-tree\n";
    let c = "built 2026-06-01 batch C\n    used 1 block-house\n    made 1 block-house\n";
    assert_eq!(read(&[a, b, c].concat()).heads(), read(&[c, b, a].concat()).heads());
    assert_eq!(read(&[a, b, c].concat()).heads(), ["built batch A", "built batch B", "built batch C"]);
}

#[test]
fn what_is_sent_on_comes_after_it_came() {
    let entries = "sent 2026-06-01 from shed to gift-shop\n    1 pull-cart\nsent 2026-06-01 to shed\n    1 pull-cart\n";
    assert_eq!(read(entries).heads(), ["sent to shed", "sent from shed to gift-shop"]);
    let ring = "sent 2026-06-01 from shed to bench\n    1 pull-cart\nsent 2026-06-01 to shed\n    1 pull-cart\n";
    assert_eq!(read(ring).heads(), ["sent from shed to bench", "sent to shed"]);
}

#[test]
fn the_goods_got_in_a_swap_come_in_and_those_given_go_out() {
    let read = read(
        "swapped 2026-06-01 with \"a neighbour\"
    gave 1 serving-board at 60.00
    got 9 bf walnut
built 2026-06-01 batch SB-1
    used 2 bf walnut
    made 1 serving-board
",
    );
    read.is_clean();
    assert_eq!(read.heads(), ["swapped with \"a neighbour\"", "built batch SB-1", "swapped with \"a neighbour\""]);
}

#[test]
fn a_hundred_thousand_entries_of_one_day_are_put_in_order() {
    let mut text = String::new();
    for at in (0..50_000).rev() {
        text.push_str(&format!("built 2026-06-01 batch B-{at}\n    used 1 block-house\n    made 1 block-tree\n"));
        text.push_str(&format!("sold 2026-06-01 via web-page order \"W-{at}\"\n    1 pull-cart\n"));
    }
    // Each batch needs what all others make: a quadratic order would take hours here.
    let read = read(&text);
    assert_eq!(read.log.events.len(), 100_000);
}

#[test]
fn goods_sent_back_for_a_credit_of_that_day_go_first() {
    let entries = "bought 2026-06-01 from \"a yard\"\n    3 bf poplar for 9.00\n    credit 4.00\n
sent-back 2026-06-01 to \"a yard\"\n    1 bf walnut, refunded 4.00 as credit\n
sent-back 2026-06-01 to \"another\"\n    1 bf walnut, refunded 4.00 as credit\n";
    let heads = read(entries).heads();
    assert_eq!(heads, ["sent-back to \"a yard\"", "bought from \"a yard\"", "sent-back to \"another\""]);
}
