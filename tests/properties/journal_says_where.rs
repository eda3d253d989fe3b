//! What the journal says of a movement and of a sum beside its money: on which line of its entry it stands, of how much of what, for which
//! order and batch. Reports and derivations are read from it, and each of them alone would miss a word that it doesn't print.

use std::path::Path;

use kerfbook::costing::{Account, CostOptions, CostedBook, Flow, Movement, Posting, cost_book};
use kerfbook::diagnostics::Diagnostics;
use kerfbook::events::EventLog;
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
        (!of_neither && movement.thing.is_none() && movement.batch.is_none(), "a thing or a batch"),
        (of_pieces && movement.thing.is_none(), "a thing"),
        (movement.thing.is_some() && !without_quantity && movement.quantity == Decimal::ZERO, "how much"),
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
    let channel = posting.order.map(|order| costed.orders[order as usize].channel);
    let wrong = [
        (!stands_in(log, posting.event, posting.line), "a line of its entry"),
        (log.events[posting.event as usize].date != posting.date, "the day of its entry"),
        (of_an_order && posting.order.is_none(), "its order"),
        (channel.is_some_and(|channel| channel != posting.channel), "its order's channel"),
        (own_money && posting.bill.is_some(), "no bill: the shop paid it on that day"),
    ];
    wrong.into_iter().filter(|(wrong, _)| *wrong).map(|(_, what)| what).collect()
}

/// Every movement and sum that doesn't say what it must.
fn wrong_in(compiled: &CompiledPages) -> Vec<String> {
    let options = CostOptions { keep_trace: true, ..CostOptions::default() };
    let costed = cost_book(&compiled.log, &compiled.book, &options, &mut Diagnostics::default());
    let log = &compiled.log;
    let movements = costed.movements.iter().map(|one| (format!("{one:?}"), missing_of_movement(log, one)));
    let postings = costed.postings.iter().map(|one| (format!("{one:?}"), missing_of_posting(log, &costed, one)));
    let wrong = movements.chain(postings).filter(|(_, missing)| !missing.is_empty());
    wrong.map(|(what, missing)| format!("{what} must say {}", missing.join(", "))).collect()
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
