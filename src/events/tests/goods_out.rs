//! Goods that move, leave without a sale, or are counted.

use crate::events::tests::{money, number, read};
use crate::events::{EventKind, LeftHow, errors};
use crate::syntax::GaveAs;

#[test]
fn goods_move_from_home_to_a_place_and_back() {
    let read = read(
        "sent 2026-04-01 to gift-shop
    10 pull-cart
    postage 7.20
    packed with 1 box-small
sent 2026-04-02 from shed to gift-shop
    1 pull-cart lot PC-1
brought-back 2026-06-12 from gift-shop
    3 pull-cart
brought-back 2026-06-13 from gift-shop at shed
    1 pull-cart
",
    );
    read.is_clean();
    let ways = read.log.events.iter().map(|event| match &event.kind {
        EventKind::Moved(moved) => {
            (read.book.place(moved.from).named.name.as_str(), read.book.place(moved.to).named.name.as_str())
        }
        other => panic!("{other:?}"),
    });
    let ways: Vec<_> = ways.collect();
    assert_eq!(ways, [("bench", "gift-shop"), ("shed", "gift-shop"), ("gift-shop", "bench"), ("gift-shop", "shed")]);
}

#[test]
fn goods_arent_sent_to_where_they_are() {
    read("sent 2026-04-01 to bench\n    10 pull-cart\n").only(errors::SAME_PLACE);
}

#[test]
fn what_leaves_without_a_sale_says_how() {
    let read = read(
        "took-home 2026-12-20
    1 serving-board
gave 2026-12-21 to \"the library raffle\" as donation
    1 pull-cart worth 42.00
gave 2026-12-22 to \"a helper\" as thanks
    1 pull-cart
used-up 2026-05-03 on rolling-toys
    2 blade-no7 \"cutting shelf brackets\"
scrapped 2026-08-02 at shed
    2.0 bf poplar \"worm\"
",
    );
    read.is_clean();
    let lefts = read.log.events.iter().map(|event| match &event.kind {
        EventKind::Left(left) => left.as_ref(),
        other => panic!("{other:?}"),
    });
    let lefts: Vec<_> = lefts.collect();
    let hows: Vec<_> = lefts.iter().map(|left| left.how).collect();
    assert_eq!(
        hows,
        [LeftHow::UsedUp, LeftHow::Scrapped, LeftHow::TookHome, LeftHow::Gave(GaveAs::Donation), LeftHow::Gave(GaveAs::Thanks),]
    );
    assert_eq!(lefts[3].lines[0].worth, Some(money("42.00")));
    assert!(lefts[0].on.is_some() && lefts[3].to.is_some());
    assert_eq!(read.sources.text(lefts[1].lines[0].goods.memo), "worm");
}

#[test]
fn a_batch_is_given_up() {
    let read = read("started 2026-08-01 batch X-1\n    used 1 bf poplar\nscrapped 2026-08-02 batch X-1\n");
    read.is_clean();
    assert!(matches!(read.log.events[1].kind, EventKind::GaveUp(batch) if read.book.batch(batch).name == "X-1"));
}

#[test]
fn a_count_may_find_none_but_not_the_same_twice() {
    let clean = read("counted 2026-12-31 at shed\n    22.4 bf red-oak\n    0 pull-cart\n    nothing else\n");
    clean.is_clean();
    let EventKind::Counted(counted) = &clean.log.events[0].kind else { panic!("a count") };
    assert!(counted.nothing_else);
    assert!(counted.lines.iter().any(|line| line.quantity == number("0")));
    read("counted 2026-12-31\n    7 pull-cart\n    7 pull-cart\n").only(errors::COUNTED_TWICE);
    read("counted 2026-12-31\n    1 band-saw\n").only(errors::TOOL_IS_NO_STOCK);
}

#[test]
fn a_count_that_was_read_in_part_doesnt_say_that_the_rest_is_gone() {
    let read = read("counted 2026-12-31\n    7 pull-crat\n    3 village-set\n    nothing else\n");
    assert_eq!(read.found.len(), 1);
    let EventKind::Counted(counted) = &read.log.events[0].kind else { panic!("a count") };
    assert!(!counted.nothing_else && counted.lines.len() == 1);
}

#[test]
fn nothing_leaves_in_a_line_of_nothing() {
    read("took-home 2026-12-20\n    0 serving-board\n").only(errors::NONE_OF_IT);
}
