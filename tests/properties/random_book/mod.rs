//! Random books, whole and as text in the language, that never run short of stock.
//!
//! A book is drawn as settings and a row of turns; each turn names a kind of entry and throws dice for what stands in it. A simple
//! model of quantities (`shelf.rs`) is kept while the book is written; what is missing is bought or built first. So any row of turns is
//! a book that must compile, and a failing book shrinks to a few turns.

mod batch_lines;
mod bills;
mod block;
mod catalogue;
mod definitions;
mod desk;
mod dice;
mod long_batch;
mod other_entry;
mod pages;
mod purchase;
mod quantity_text;
mod sale;
mod settings;
mod shelf;
mod short_batch;
mod stocking;

use proptest::prelude::*;

pub(crate) use block::Block;
use desk::Desk;
pub(crate) use dice::Dice;
pub(crate) use pages::{Pages, by_month, shuffled};
use settings::{Settings, any_settings};

/// A turn: which kind of entry, how many days pass before it, and the dice.
#[derive(Clone, Copy, Debug)]
struct Turn {
    kind: u8,
    days: u8,
    dice: u64,
}

/// A random book.
#[derive(Clone)]
pub(crate) struct RandomBook {
    pub(crate) definitions: Vec<Block>,
    pub(crate) entries: Vec<Block>,
}

impl RandomBook {
    /// Its files, a file a month.
    pub(crate) fn pages(&self) -> Pages {
        by_month(&self.definitions, &self.entries)
    }

    /// The book without what is dated after a day.
    pub(crate) fn until(&self, day: &str) -> Self {
        let entries = self.entries.iter().filter(|entry| entry.day.as_deref().is_none_or(|of| of <= day));
        Self { definitions: self.definitions.clone(), entries: entries.cloned().collect() }
    }

    /// The days of its entries, in order.
    pub(crate) fn days(&self) -> Vec<String> {
        let mut days: Vec<String> = self.entries.iter().filter_map(|entry| entry.day.clone()).collect();
        days.sort();
        days.dedup();
        days
    }
}

impl std::fmt::Debug for RandomBook {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // The other definitions are those of every random book.
        let shop = self.definitions.first().map(Block::text).unwrap_or_default();
        let entries: String = self.entries.iter().map(Block::text).collect();
        write!(out, "\n{shop}{entries}")
    }
}

/// Any book of so many turns; an entry may bring others that it needs.
pub(crate) fn any_book(turns: std::ops::Range<usize>) -> impl Strategy<Value = RandomBook> {
    let turn = (0..100u8, 0..9u8, any::<u64>()).prop_map(|(kind, days, dice)| Turn { kind, days, dice });
    (any_settings(), any::<u64>(), prop::collection::vec(turn, turns))
        .prop_map(|(settings, first, turns)| write_book(settings, first, &turns))
}

/// Any book of a shop whose short stock is a warning, and that uses, sells and sends more than it has.
pub(crate) fn any_short_book(turns: std::ops::Range<usize>) -> impl Strategy<Value = RandomBook> {
    let turn = (0..100u8, 0..9u8, any::<u64>()).prop_map(|(kind, days, dice)| Turn { kind, days, dice });
    (any_settings(), any::<u64>(), prop::collection::vec(turn, turns))
        .prop_map(|(settings, first, turns)| write_book(Settings { short_is_a_warning: true, ..settings }, first, &turns))
}

/// Any book of a shop that spreads its actual overhead: what is dated later in a year moves its earlier figures.
pub(crate) fn any_book_of_actual_overhead(turns: std::ops::Range<usize>) -> impl Strategy<Value = RandomBook> {
    let turn = (0..100u8, 0..9u8, any::<u64>()).prop_map(|(kind, days, dice)| Turn { kind, days, dice });
    (any_settings(), any::<u64>(), prop::collection::vec(turn, turns))
        .prop_map(|(settings, first, turns)| write_book(Settings { overhead_from_expenses: true, ..settings }, first, &turns))
}

fn write_book(settings: Settings, first: u64, turns: &[Turn]) -> RandomBook {
    let definitions = definitions::definitions(&settings);
    let mut desk = Desk::new(settings);
    desk.dice = Dice::new(first);
    desk.opened();
    for turn in turns {
        desk.dice = Dice::new(turn.dice);
        // Most entries of a real week share days or follow closely.
        let days = if turn.days == 8 { 16 } else { turn.days.saturating_sub(3) };
        desk.days_go_by(u64::from(days));
        write_turn(&mut desk, turn.kind);
    }
    RandomBook { definitions, entries: desk.blocks }
}

fn write_turn(desk: &mut Desk, kind: u8) {
    let written = match kind {
        0..=9 => desk.bought(),
        10..=18 => desk.built(),
        19..=22 => desk.built_jointly(),
        23..=27 => desk.started(),
        28..=31 => desk.went_on(),
        32..=41 => desk.finished(),
        42..=44 => desk.worked_otherwise(),
        45..=57 => desk.sold(),
        58..=60 => desk.received(),
        61..=66 => desk.returned(),
        67..=72 => desk.moved(),
        73..=76 => desk.sent_back(),
        77..=79 => desk.credited(),
        80..=83 => desk.counted(),
        84..=88 => desk.left(),
        89..=90 => desk.came_free(),
        91 => desk.swapped(),
        92..=94 => desk.paid(),
        95..=96 => desk.changed(),
        97 => desk.noted(),
        98 => desk.gave_up(),
        _ => desk.built_otherwise(),
    };
    // What can't be done today (nothing to sell, no batch to finish) is left out, or a sale's goods are made for another day.
    if !written && kind.is_multiple_of(3) {
        desk.built();
    }
}
