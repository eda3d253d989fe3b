//! The desk at which a random book is written: the day it is, what is on the shelf, what is open, and the entries so far.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, Days, NaiveDate};

use super::bills::{Bill, Order};
use super::block::Block;
use super::catalogue::{PRODUCTS, Recipe, WORK_STEPS, first_recipe, first_wear};
use super::dice::Dice;
use super::long_batch::LongBatch;
use super::quantity_text::Nano;
use super::settings::Settings;
use super::shelf::{Heap, Shelf};

/// When in a day an entry counts (`grammar/README.md`, "The day").
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Rank {
    Changed,
    Opened,
    Bought,
    Credited,
    Contributed,
    Found,
    BroughtBack,
    Returned,
    Bench,
    Sent,
    SentBack,
    Sold,
    ReturnedOfOrder,
    TookHome,
    Gave,
    Scrapped,
    UsedUp,
    Counted,
    Rest,
}

/// What is known while a book is written.
pub(crate) struct Desk {
    pub(crate) settings: Settings,
    pub(crate) dice: Dice,
    pub(crate) day: NaiveDate,
    last_rank: Option<Rank>,
    pub(crate) blocks: Vec<Block>,
    pub(crate) shelf: Shelf,
    /// Things of which the order of two entries of a day left open which lot went: their lots are named no more.
    unsure: BTreeSet<&'static str>,
    /// Whether an entry of today names a lot: then no other entry of its kind shares the day.
    named_today: bool,
    /// Whether goods were brought back today: what is sent to that place the same day would make that a later move.
    pub(crate) brought_back_today: bool,
    pub(crate) recipes: BTreeMap<&'static str, Recipe>,
    pub(crate) wears: BTreeMap<&'static str, Vec<(&'static str, Nano, i128)>>,
    pub(crate) prices: BTreeMap<&'static str, i128>,
    pub(crate) batches: Vec<LongBatch>,
    pub(crate) bills: Vec<Bill>,
    pub(crate) orders: Vec<Order>,
    /// Orders for which money came before the sale: name, channel, cents.
    pub(crate) deposits: Vec<(String, &'static str, i128)>,
    /// What is surely owed to Sam, for carts' royalty, and collected of sales tax, in cents.
    pub(crate) owed_sam: i128,
    pub(crate) owed_royalty: i128,
    /// Carts that the licences bought so far still permit.
    pub(crate) permitted: i128,
    pub(crate) tax_held: i128,
    /// What suppliers owe: name, cents.
    pub(crate) credits: Vec<(String, i128)>,
    pub(crate) saws: u32,
    counter: u32,
    costing_changed: bool,
}

impl Desk {
    pub(crate) fn new(settings: Settings) -> Self {
        let day = NaiveDate::from_ymd_opt(2026, settings.first_month, 1).unwrap_or_default();
        Self {
            settings,
            dice: Dice::new(0),
            day,
            last_rank: None,
            blocks: Vec::new(),
            shelf: Shelf::default(),
            unsure: BTreeSet::new(),
            named_today: false,
            brought_back_today: false,
            recipes: PRODUCTS.iter().map(|name| (*name, first_recipe(name))).collect(),
            wears: WORK_STEPS.iter().chain(&["general"]).map(|step| (*step, first_wear(step))).collect(),
            prices: PRODUCTS.iter().map(|name| (*name, super::catalogue::spec(name).cents)).collect(),
            batches: Vec::new(),
            bills: Vec::new(),
            orders: Vec::new(),
            deposits: Vec::new(),
            owed_sam: 0,
            owed_royalty: 0,
            permitted: 0,
            tax_held: 0,
            credits: Vec::new(),
            saws: 0,
            counter: 0,
            costing_changed: false,
        }
    }

    /// Lets days go by.
    pub(crate) fn days_go_by(&mut self, days: u64) {
        if days > 0 {
            self.next_day(days);
        }
    }

    fn next_day(&mut self, days: u64) {
        let before = self.day.year();
        self.day = self.day.checked_add_days(Days::new(days)).unwrap_or(self.day);
        self.last_rank = None;
        self.named_today = false;
        self.brought_back_today = false;
        let first_year = 2026;
        if let Some(after) = self.settings.costing_changes_after
            && !self.costing_changed
            && before < first_year + after
            && self.day.year() >= first_year + after
        {
            self.costing_changed = true;
            let costing = if self.settings.average { "fifo" } else { "average" };
            let day = format!("{}-01-01", first_year + after);
            self.blocks.push(Block {
                head: format!("changed {day} shop"),
                day: Some(day),
                lines: vec![format!("costing {costing}")],
            });
        }
    }

    /// Goes on to a day on which an entry of this rank may stand after all that is written. Entries of one rank may share a day where
    /// `ties`; then it is left open which of them comes first. Says whether that is so.
    pub(crate) fn turn_to(&mut self, rank: Rank, ties: bool) -> bool {
        let tied = match self.last_rank {
            Some(last) if rank < last || (rank == last && (!ties || self.named_today)) => {
                self.next_day(1);
                false
            }
            Some(last) => rank == last,
            None => false,
        };
        self.last_rank = Some(rank);
        tied
    }

    /// Whether the day has come to this rank or beyond.
    pub(crate) fn past(&self, rank: Rank) -> bool {
        self.last_rank.is_some_and(|last| last >= rank)
    }

    /// The day as written.
    pub(crate) fn today(&self) -> String {
        self.day.to_string()
    }

    /// Some days on, as written.
    pub(crate) fn in_days(&self, days: u64) -> String {
        self.day.checked_add_days(Days::new(days)).unwrap_or(self.day).to_string()
    }

    /// Writes an entry of today.
    pub(crate) fn write(&mut self, verb: &str, rest: &str, lines: Vec<String>) {
        let blank = if rest.is_empty() { "" } else { " " };
        let head = format!("{verb} {}{blank}{rest}", self.today());
        self.blocks.push(Block { day: Some(self.today()), head, lines });
    }

    /// A code that no other has.
    pub(crate) fn code(&mut self, stem: &str) -> String {
        self.counter += 1;
        format!("{stem}-{:03}", self.counter)
    }

    /// Says that it is left open which lots of a thing are where.
    pub(crate) fn doubt(&mut self, thing: &'static str) {
        self.unsure.insert(thing);
    }

    /// Whether it is left open which lots of a thing are where.
    pub(crate) fn is_doubtful(&self, thing: &str) -> bool {
        self.unsure.contains(thing)
    }

    /// Says that an entry of today depends on a lot.
    pub(crate) fn name_today(&mut self) {
        self.named_today = true;
    }

    /// Takes goods off the shelf; named is a lot that has enough, now and then. Gives what to write behind the goods, and the pieces.
    pub(crate) fn take(&mut self, thing: &'static str, place: &'static str, quantity: Nano, tied: bool) -> (String, Vec<Heap>) {
        if tied {
            self.doubt(thing);
        }
        let mut code = None;
        if !self.unsure.contains(thing) && self.dice.chance(30) {
            let heaps = self.shelf.heaps(thing, place);
            let codes: BTreeSet<&String> = heaps.iter().filter_map(|heap| heap.code.as_ref()).collect();
            let enough = |code: &&String| {
                heaps.iter().filter(|heap| heap.code.as_ref() == Some(*code)).map(|heap| heap.quantity).sum::<Nano>() >= quantity
            };
            let codes: Vec<String> = codes.into_iter().filter(enough).cloned().collect();
            code = self.dice.pick(&codes).cloned();
            self.named_today |= code.is_some();
        }
        let said = code.as_ref().map_or_else(String::new, |code| format!(" lot {code}"));
        (said, self.shelf.take(thing, place, quantity, code.as_deref()))
    }
}
