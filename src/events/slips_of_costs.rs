//! A look over what never reaches the cost of a piece: offcuts that are kept at no worth, and bills that recur of which nothing counts as
//! overhead.
//!
//! In: all events in their order. Out: a warning for the first offcut of a thing, and one for the first bill of the book. Must not: move a
//! figure.

use std::collections::BTreeSet;

use chrono::Datelike;
use rustc_hash::{FxHashMap, FxHashSet};

use crate::diagnostics::Diagnostics;
use crate::events::{BoughtWhat, Event, EventKind, PaidFor, errors};
use crate::names::{CountsAs, ExpenseId, OverheadRule, ResolvedBook, Target, ThingId};
use crate::sources::{SourceSet, Span};

/// In how many months a bill is paid before it is taken for one that recurs.
const RECURS: usize = 3;

/// Looks over all events in their order.
pub(crate) fn look_over(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    look_at_kept(events, book, found);
    look_at_batches(events, sources, book, found);
    look_at_bills(events, sources, book, found);
}

fn look_at_kept(events: &[Event], book: &ResolvedBook, found: &mut Diagnostics) {
    let kept = || {
        let batches = events.iter().filter_map(|event| if let EventKind::Batch(work) = &event.kind { Some(work) } else { None });
        batches.flat_map(|work| &work.kept)
    };
    // Who says `worth 0.00` of a thing once has said what it is worth.
    let mut told: FxHashSet<ThingId> =
        kept().filter(|line| line.worth_said && line.worth.is_zero()).map(|line| line.thing).collect();
    for line in kept().filter(|line| !line.worth_said) {
        if told.insert(line.thing) {
            let thing = book.thing(line.thing);
            let source = thing.from.map(|source| book.thing(source).named.name.as_str());
            found.push(errors::slips::kept_at_nothing(line.span, &thing.named.name, source));
        }
    }
}

/// A sum for an expense on a batch: once an expense.
fn look_at_batches(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let mut told: FxHashSet<ExpenseId> = FxHashSet::default();
    let mut look = |expense: ExpenseId, on: Option<Target>, line: Span, found: &mut Diagnostics| {
        let Some(Target::Batch(batch)) = on else { return };
        if told.insert(expense) {
            let sum = sources.text(line).split_whitespace().next().unwrap_or_default();
            let (expense, batch) = (&book.expense(expense).named.name, &book.batch(batch).name);
            found.push(errors::meanings::expense_on_batch(line, sum, expense, batch));
        }
    };
    for event in events {
        match &event.kind {
            EventKind::Paid(paid) => {
                for line in &paid.lines {
                    if let PaidFor::Expense { expense, on, .. } = line.what {
                        look(expense, on, line.span, found);
                    }
                }
            }
            EventKind::Bought(bought) => {
                for line in &bought.lines {
                    if let BoughtWhat::Expense { expense, on, .. } = line.what {
                        look(expense, on, line.span, found);
                    }
                }
            }
            _ => {}
        }
    }
}

fn look_at_bills(events: &[Event], sources: &SourceSet, book: &ResolvedBook, found: &mut Diagnostics) {
    let overhead = &book.shop.overhead;
    let rules = || overhead.changes().iter().map(|(_, rule)| rule).chain([overhead.first()]);
    let counts = book.expenses.iter().any(|expense| {
        let counts_as = &expense.counts_as;
        counts_as
            .changes()
            .iter()
            .map(|(_, counts)| counts)
            .chain([counts_as.first()])
            .any(|counts| *counts == CountsAs::Overhead)
    });
    let by_the_hour = rules().any(|rule| matches!(rule, OverheadRule::PerHour(_)));
    let from_expenses = rules().any(|rule| *rule == OverheadRule::FromExpenses);
    // Who asks for no full cost misses none.
    let hours = &book.shop.owner_time;
    let paid = hours.first().is_some() || hours.changes().iter().any(|(_, hour)| hour.is_some());
    let asks = paid || from_expenses || counts;
    if by_the_hour || from_expenses && counts || !asks {
        return;
    }
    let mut months: FxHashMap<ExpenseId, BTreeSet<(i32, u32)>> = FxHashMap::default();
    for event in events {
        let EventKind::Paid(paid) = &event.kind else { continue };
        for line in &paid.lines {
            let PaidFor::Expense { expense, on, .. } = &line.what else { continue };
            // What is paid for a channel is a cost of its sales.
            if matches!(on, Some(Target::Channel(_))) {
                continue;
            }
            let category = book.expense(*expense);
            let paid_in = months.entry(*expense).or_default();
            paid_in.insert((event.date.year(), event.date.month()));
            if paid_in.len() < RECURS || *category.counts_as.first() == CountsAs::HouseCost {
                continue;
            }
            let behind = |span: Span| sources.lines_of(Span::new(span.start, span.start)).end;
            let definition = if counts { book.shop.span } else { category.named.span };
            let end = behind(definition);
            found.push(errors::slips::not_in_the_full_cost(
                line.span,
                &category.named.name,
                Span::new(end, end),
                counts,
                from_expenses,
            ));
            return;
        }
    }
}
