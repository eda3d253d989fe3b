//! What the journal says of a movement and of a sum beside its money: on which line of its entry it stands, of how much of what, for which
//! order and batch. Reports and derivations are read from it, and each of them alone would miss a word that it doesn't print.

use std::path::Path;

use kerfbook::costing::{Account, CostOptions, CostedBook, Flow, Movement, Posting, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::events::{BoughtLine, BoughtWhat, Event, EventKind, EventLog, PaidFor, PaidLine};
use kerfbook::names::Target;
use kerfbook::sources::{Span, load_book};
use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::compiled_pages::CompiledPages;
use crate::how_many::books;
use crate::random_book::{any_book, any_short_book};

/// Whether a line is one of the entry's own.
fn stands_in(log: &EventLog, event: u32, line: Span) -> bool {
    let entry = log.events[event as usize].span;
    line.start < line.end && entry.start <= line.start && line.end <= entry.end
}

/// What is missing of what a movement must say.
fn missing_of_movement(log: &EventLog, movement: &Movement) -> Vec<&'static str> {
    let of_a_sale = matches!(log.events[movement.event as usize].kind, EventKind::Sold(_));
    let flow = movement.flow;
    let of_a_batch = matches!(flow, Flow::Time | Flow::Overhead | Flow::Royalty | Flow::AbnormalLoss | Flow::MadeForShop);
    let of_an_order = flow == Flow::Sold;
    // A licence is neither a thing nor a batch; what corrects a cost or is owed by the piece has no quantity of its own.
    let of_neither = flow == Flow::Bought;
    let without_quantity = matches!(flow, Flow::Royalty | Flow::PriceDifference | Flow::Credited);
    let of_pieces = matches!(
        flow,
        Flow::Sold
            | Flow::PackingUsed
            | Flow::UsedInShop
            | Flow::TakenHome
            | Flow::Sample
            | Flow::Gift
            | Flow::Donated
            | Flow::SentBack
    );
    let comes_back = matches!(flow, Flow::Sold | Flow::Missing) && movement.vector.has_negative();
    let wrong = [
        (!stands_in(log, movement.event, movement.line), "a line of its entry"),
        (log.events[movement.event as usize].date != movement.date, "the day of its entry"),
        (of_a_batch && movement.batch.is_none(), "its batch"),
        (of_an_order && movement.order.is_none(), "its order"),
        (flow == Flow::PackingUsed && of_a_sale && movement.order.is_none(), "the order that it was packed for"),
        (!of_neither && movement.thing.is_none() && movement.batch.is_none(), "a thing or a batch"),
        (of_pieces && movement.thing.is_none(), "a thing"),
        (movement.thing.is_some() && !without_quantity && movement.quantity == Decimal::ZERO, "how much"),
        (flow == Flow::MadeForShop && movement.quantity == Decimal::ZERO, "how many were made"),
        (flow == Flow::Missing && movement.quantity > Decimal::ZERO && movement.issue.count == 0, "the pieces that are missing"),
        (flow == Flow::PriceDifference && movement.quantity != Decimal::ZERO, "no quantity beside that of what went back"),
        (of_pieces && movement.issue.count == 0, "its pieces"),
        (comes_back && movement.quantity >= Decimal::ZERO, "a quantity below zero where cost comes back"),
        (!matches!(flow, Flow::Time | Flow::Overhead) && movement.by_employee, "no employee but for time and its overhead"),
    ];
    wrong.into_iter().filter(|(wrong, _)| *wrong).map(|(_, what)| what).collect()
}

/// What is missing of what a sum must say.
fn missing_of_posting(log: &EventLog, costed: &CostedBook, posting: &Posting) -> Vec<&'static str> {
    let of_an_order = matches!(posting.account, Account::Goods | Account::ShippingCharged | Account::Refund);
    let own_money = matches!(posting.account, Account::Postage | Account::Packing | Account::TillOver);
    let via = match &log.events[posting.event as usize].kind {
        EventKind::Received(received) => received.via,
        _ => None,
    };
    let channel = posting.order.map(|order| costed.orders[order as usize].channel);
    let wrong = [
        (!stands_in(log, posting.event, posting.line), "a line of its entry"),
        (log.events[posting.event as usize].date != posting.date, "the day of its entry"),
        (of_an_order && posting.order.is_none(), "its order"),
        (channel.is_some_and(|channel| channel != posting.channel), "its order's channel"),
        (own_money && posting.bill.is_some(), "no bill: the shop paid it on that day"),
        (posting.account == Account::Fee && posting.channel.is_none(), "the channel that took it"),
        (via.is_some() && posting.channel != via, "the channel through which it was received"),
    ];
    wrong.into_iter().filter(|(wrong, _)| *wrong).map(|(_, what)| what).collect()
}

/// For what each line of an entry is, where it may say so (`on kitchen-and-garden`).
fn said_on(event: &Event) -> Vec<(Span, Option<Target>)> {
    match &event.kind {
        EventKind::Sold(sold) => sold.incomes.iter().map(|line| (line.span, line.on)).collect(),
        EventKind::Worked(lines) => lines.iter().map(|line| (line.span, line.on)).collect(),
        EventKind::Left(left) => left.lines.iter().map(|line| (line.goods.span, left.on)).collect(),
        EventKind::Paid(paid) => {
            let of_expense = |line: &PaidLine| match line.what {
                PaidFor::Expense { on, .. } => Some((line.span, on)),
                _ => None,
            };
            paid.lines.iter().filter_map(of_expense).collect()
        }
        EventKind::Bought(bought) => {
            let of_expense = |line: &BoughtLine| match line.what {
                BoughtWhat::Expense { on, .. } => Some((line.span, on)),
                _ => None,
            };
            bought.lines.iter().filter_map(of_expense).collect()
        }
        _ => Vec::new(),
    }
}

/// What is for something else than its line says.
fn not_on_what_is_said(log: &EventLog, costed: &CostedBook) -> Vec<String> {
    let said: Vec<Vec<(Span, Option<Target>)>> = log.events.iter().map(said_on).collect();
    let said_of = |event: u32, line: Span| said[event as usize].iter().find(|(one, _)| *one == line).map(|(_, on)| *on);
    let is_for_something =
        |account: Account| matches!(account, Account::Income(_) | Account::Expense(_) | Account::HiredTime { .. });
    let postings = costed.postings.iter().filter(|one| is_for_something(one.account));
    let wrong_postings = postings.filter(|one| said_of(one.event, one.line).is_some_and(|on| on != one.on));
    let used = costed.movements.iter().filter(|one| one.flow == Flow::UsedInShop);
    let wrong_movements = used.filter(|one| said_of(one.event, one.line).is_some_and(|on| on != one.on));
    let postings = wrong_postings.map(|one| format!("{one:?} is for something else than its line"));
    postings.chain(wrong_movements.map(|one| format!("{one:?} is for something else than its line"))).collect()
}

/// Every movement and sum that doesn't say what it must.
fn wrong_in(compiled: &CompiledPages) -> Vec<String> {
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let log = &compiled.log;
    let movements = costed.movements.iter().map(|one| (format!("{one:?}"), missing_of_movement(log, one)));
    let postings = costed.postings.iter().map(|one| (format!("{one:?}"), missing_of_posting(log, &costed, one)));
    let wrong = movements.chain(postings).filter(|(_, missing)| !missing.is_empty());
    let wrong = wrong.map(|(what, missing)| format!("{what} must say {}", missing.join(", ")));
    wrong.chain(not_on_what_is_said(log, &costed)).collect()
}

/// A book of this project.
fn book_in(folder: &str) -> CompiledPages {
    let sources = load_book(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)).expect("a book").sources;
    let pages = sources.files().iter().map(|file| (file.path.clone(), sources.text(file.span).to_owned())).collect();
    CompiledPages::of(&pages)
}

#[test]
fn every_movement_and_sum_of_the_example_says_where_it_stands_and_of_what_it_is() {
    let wrong = wrong_in(&book_in("ledger-examples/wren-and-gable"));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_movement_and_sum_of_the_golden_books_says_where_it_stands_and_of_what_it_is() {
    let all = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden");
    let folders = [
        "costing/wear-hours-and-overhead",
        "selling/tax-and-what-is-for-a-line",
        "stock/counts-and-what-leaves",
        "stock/short-stock-settled-by-two-receipts",
    ];
    for folder in folders {
        assert!(all.join(folder).is_dir(), "{folder}");
        let wrong = wrong_in(&book_in(&format!("tests/golden/{folder}")));
        assert!(wrong.is_empty(), "{folder}: {}", wrong.join("\n"));
    }
}

#[test]
fn a_tool_s_own_batch_and_a_deposit_s_fee_say_how_many_and_through_whom() {
    let text = "shop \"S\"\n    currency USD\nplace bench \"Bench\"\n    home\nmaterial oak \"Oak\"\n    measured in bf\n\
                tool jig \"Jig\"\nmaterial belt \"Belt\"\n    measured in ea\n    as wear\nstep sanding \"Sanding\"\n    \
                wears 1 belt per 60 min\nmaterial box \"Box\"\n    measured in ea\n    as packing\nline seats \"Seats\"\nproduct stool \"Stool\"\nchannel web \"Web\"\n    fee 3% of total\n\
                income engraving \"Engraving\"\nopened 2026-01-01\n    8 bf oak for 40.00\n    4 belt for 8.00\n    1 box for 0.50\n\
                received 2026-01-10 from ada via web\n    50.00 for order \"W-1\"\nbuilt 2026-01-12 batch J\n    used 2 bf oak\n    \
                made 2 jig\nworked 2026-01-13\n    60m sanding on seats\nstarted 2026-01-14 batch S\n    aims at 3 stool\n    \
                used 6 bf oak\nfinished 2026-01-15 batch S\n    made 2 stool\n    lost 1 stool, charged off\n\
                sold 2026-01-20 via web order \"W-1\"\n    1 stool at 60.00\n    20.00 for engraving on seats\n    \
                packed with 1 box\nreceived 2026-01-21 from bert via web\n    5.00 for engraving\n\
                counted 2026-01-31 at bench\n    3 belt\n    nothing else\n";
    let compiled = CompiledPages::of(&vec![("book.kerf".to_owned(), text.to_owned())]);
    compiled.cost(None).expect("a book without mistakes");
    let wrong = wrong_in(&compiled);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let costed = cost_book(&compiled.log, &compiled.book, &CostOptions::default(), &mut Diagnostics::default());
    let of = |flow| costed.movements.iter().filter(move |one| one.flow == flow);
    // Of the three stools one was charged off; the one that was neither sold nor counted is missing.
    assert_eq!(of(Flow::MadeForShop).map(|one| one.quantity).collect::<Vec<_>>(), [Decimal::TWO]);
    for flow in [Flow::AbnormalLoss, Flow::Missing] {
        let stool = of(flow).map(|one| (one.thing.map(|thing| compiled.book.thing(thing).named.name.as_str()), one.quantity));
        assert_eq!(stool.collect::<Vec<_>>(), [(Some("stool"), Decimal::ONE)], "{flow:?}");
    }
}

#[test]
fn overhead_from_expenses_is_the_same_whether_the_journal_is_kept_or_not() {
    let compiled = book_in("tests/golden/costing/overhead-from-expenses");
    let costed = |keep_journal| {
        let options = CostOptions { keep_journal, ..CostOptions::default() };
        cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default())
    };
    let (kept, not_kept) = (costed(true), costed(false));
    assert!(!kept.movements.is_empty() && not_kept.movements.is_empty());
    assert_eq!(kept.stock, not_kept.stock);
    assert_eq!(kept.proof, not_kept.proof);
}

#[test]
fn a_book_costed_until_its_last_day_is_the_book_with_overhead_from_expenses_too() {
    let compiled = book_in("tests/golden/costing/overhead-from-expenses");
    let costed = |until| {
        let options = CostOptions { until, ..CostOptions::default() };
        cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default())
    };
    let (whole, until) = (costed(None), costed(compiled.log.events.last().map(|event| event.date)));
    assert_eq!(whole.movements, until.movements);
    assert_eq!(whole.stock, until.stock);
}

#[test]
fn who_asks_for_no_stock_is_handed_none_neither_of_the_last_day_nor_of_a_year_s_end() {
    let compiled = book_in("tests/golden/year/two-years-on-the-cash-basis");
    let costed = |keep_stock| {
        let options = CostOptions { keep_stock, ..CostOptions::default() };
        cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default())
    };
    let (kept, not_kept) = (costed(true), costed(false));
    let years: Vec<i32> = kept.year_ends.iter().map(|end| end.year).collect();
    assert!(years.len() > 1 && years.iter().any(|year| !kept.stock_at_end_of(*year).is_empty()));
    assert!(years.iter().all(|year| not_kept.stock_at_end_of(*year).is_empty()));
    assert_eq!(kept.proof, not_kept.proof);
}

proptest! {
    #![proptest_config(books(60))]

    #[test]
    fn every_movement_and_sum_of_a_random_book_says_where_it_stands_and_of_what_it_is(
        book in prop_oneof![any_book(1..120), any_short_book(1..90)],
    ) {
        let compiled = CompiledPages::of(&book.pages());
        let wrong = wrong_in(&compiled);
        prop_assert!(wrong.is_empty(), "{}", compiled.named(&wrong.join("\n")));
    }
}
