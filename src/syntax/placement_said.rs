//! The items' part of the placement table: what may be said of an item or a sum, and on which lists.

use crate::syntax::placement_table::verb_word;
use crate::syntax::{ListWord, SaidWhat, Verb};

use ListWord as W;
use SaidKind as S;
use Verb as V;

/// A kind of what is said of an item.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[rustfmt::skip]
pub(crate) enum SaidKind {
    At, For, Lot, Sizes, Licence, Counted, Certificate, Hours, AlreadyRecovered, Back, Refunded, AsCredit, BackToStock, Scrapped,
    LeftWithBuyer, Worth, Share, AsPlanned, TheRest, ChargedOff, By, On, MeantFor, Per,
}

/// A row of the table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SaidRow {
    /// The kind.
    pub(crate) kind: SaidKind,
    /// Its words.
    pub(crate) words: &'static str,
    /// An example.
    pub(crate) form: &'static str,
    /// The lists with a word on which it may be said.
    pub(crate) lists: &'static [ListWord],
    /// The entries whose items it may be said of.
    pub(crate) items: &'static [Verb],
    /// The entries whose sums (`18.40 for …`) it may be said of.
    pub(crate) sums: &'static [Verb],
}

/// The kind of what is said. `refunded … as credit` is its own.
pub(crate) fn said_kind(what: &SaidWhat) -> SaidKind {
    match what {
        SaidWhat::At(_) | SaidWhat::AtPer(..) => S::At,
        SaidWhat::For(_) => S::For,
        SaidWhat::Lot(_) => S::Lot,
        SaidWhat::Share(_) => S::Share,
        SaidWhat::Worth(_) => S::Worth,
        SaidWhat::Refunded { as_credit: false, .. } => S::Refunded,
        SaidWhat::Refunded { as_credit: true, .. } => S::AsCredit,
        SaidWhat::By(_) => S::By,
        SaidWhat::On(_) => S::On,
        SaidWhat::Per(_) => S::Per,
        SaidWhat::Certificate(_) => S::Certificate,
        SaidWhat::Counted(_) => S::Counted,
        SaidWhat::MeantFor(_) => S::MeantFor,
        SaidWhat::Hours(_) => S::Hours,
        SaidWhat::Back(_) => S::Back,
        SaidWhat::ChargedOff => S::ChargedOff,
        SaidWhat::BackToStock => S::BackToStock,
        SaidWhat::Scrapped => S::Scrapped,
        SaidWhat::LeftWithBuyer => S::LeftWithBuyer,
        SaidWhat::AlreadyRecovered(_) => S::AlreadyRecovered,
        SaidWhat::TheRest(_) => S::TheRest,
        SaidWhat::AsPlanned => S::AsPlanned,
    }
}

/// The row of a kind.
pub(crate) fn said_row(kind: SaidKind) -> &'static SaidRow {
    // A test holds the rows and the kinds in the same order.
    &SAID[kind as usize]
}

impl SaidRow {
    /// Whether it may be said on a list of an entry or definition.
    pub(crate) fn allows(&self, list: ListWord, verb: Option<Verb>) -> bool {
        match list {
            ListWord::Bare => verb.is_some_and(|verb| self.items.contains(&verb)),
            list => self.lists.contains(&list) && (self.kind != S::TheRest || verb == Some(V::Finished)),
        }
    }

    /// Where it may be said, in words.
    pub(crate) fn places(&self) -> Vec<&'static str> {
        if self.kind == S::TheRest {
            return vec![verb_word(V::Finished)];
        }
        let mut places: Vec<&'static str> = self.items.iter().chain(self.sums).map(|verb| verb_word(*verb)).collect();
        places.extend(self.lists.iter().map(|list| list_words(*list)));
        places.dedup();
        places
    }
}

/// The words of a list.
pub(crate) const fn list_words(list: ListWord) -> &'static str {
    match list {
        W::Bare => "an item",
        W::Used => "used",
        W::Took => "took",
        W::Made => "made",
        W::Lost => "lost",
        W::Kept => "kept",
        W::AimsAt => "aims at",
        W::PackedWith => "packed with",
        W::Gave => "gave",
        W::Got => "got",
        W::Needs => "needs",
        W::Takes => "takes",
        W::Wears => "wears",
    }
}

#[rustfmt::skip]
const GOODS: &[Verb] = &[
    V::Opened, V::Bought, V::Sold, V::Sent, V::BroughtBack, V::Returned, V::SentBack, V::Counted, V::TookHome, V::Gave,
    V::Scrapped, V::UsedUp, V::Found, V::Contributed,
];
const SIZED_LISTS: &[ListWord] = &[W::Used, W::Made, W::Lost, W::Kept, W::AimsAt, W::PackedWith, W::Gave, W::Got, W::Needs];

/// A row.
const fn said(
    kind: SaidKind,
    words: &'static str,
    form: &'static str,
    lists: &'static [ListWord],
    items: &'static [Verb],
    sums: &'static [Verb],
) -> SaidRow {
    SaidRow { kind, words, form, lists, items, sums }
}

/// Everything that may be said of an item or a sum, in the order of [`SaidKind`].
#[rustfmt::skip]
pub(crate) static SAID: [SaidRow; 24] = [
    said(S::At, "at", "at 5.90", &[W::Took, W::Gave, W::Got], &[V::Opened, V::Bought, V::Sold, V::Worked], &[]),
    said(S::For, "for", "for 103.60", &[W::Took, W::Gave, W::Got], &[V::Opened, V::Bought, V::Sold, V::Worked, V::Contributed], &[]),
    said(S::Lot, "lot", "lot RO-1", &[W::Used, W::PackedWith, W::Gave, W::Got], GOODS, &[]),
    said(S::Sizes, "sizes", "4/4 x 6 1/2 x 48 in", SIZED_LISTS, GOODS, &[]),
    said(S::Licence, "licence", "1 licence cart-pattern", &[], &[V::Bought], &[]),
    said(S::Counted, "counted", "counted 29 bf", &[], &[V::Bought], &[]),
    said(S::Certificate, "certificate", "certificate \"certs/oil.pdf\"", &[], &[V::Opened, V::Bought, V::Found, V::Contributed], &[]),
    said(S::Hours, "a time", "6h", &[], &[V::Opened], &[]),
    said(S::AlreadyRecovered, "already recovered", "already recovered 281.35", &[], &[V::Opened], &[]),
    said(S::Back, "back", "7 back", &[], &[V::Sold], &[]),
    said(S::Refunded, "refunded", "refunded 42.00", &[], &[V::Returned, V::SentBack], &[]),
    said(S::AsCredit, "refunded as credit", "refunded 22.90 as credit", &[], &[V::SentBack], &[]),
    said(S::BackToStock, "back to stock", "back to stock", &[], &[V::Returned], &[]),
    said(S::Scrapped, "scrapped", "scrapped", &[], &[V::Returned], &[]),
    said(S::LeftWithBuyer, "left with buyer", "left with buyer", &[], &[V::Returned], &[]),
    said(S::Worth, "worth", "worth 42.00", &[W::Kept], &[V::Gave, V::Contributed], &[]),
    said(S::Share, "share", "share 3", &[W::Made], &[], &[]),
    said(S::AsPlanned, "as planned", "as planned", &[W::Made], &[], &[]),
    said(S::TheRest, "the rest", "the rest 35%", &[W::Made], &[], &[]),
    said(S::ChargedOff, "charged off", "charged off", &[W::Lost], &[], &[]),
    said(S::By, "by", "by sam", &[W::Took], &[V::Worked], &[]),
    said(S::On, "on", "on PC-014", &[], &[V::Worked], &[V::Bought, V::Paid, V::Sold]),
    said(S::MeantFor, "meant for", "meant for 2027-02-14", &[], &[], &[V::Bought, V::Paid]),
    said(S::Per, "per", "per 18 ea", &[W::Needs, W::Takes, W::Wears], &[], &[]),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rows_stand_in_the_order_of_their_kinds() {
        for (at, row) in SAID.iter().enumerate() {
            assert_eq!(row.kind as usize, at, "{}", row.words);
            assert!(!row.places().is_empty(), "{}", row.words);
        }
    }

    #[test]
    fn the_rest_is_said_when_a_batch_is_finished() {
        assert!(said_row(S::TheRest).allows(W::Made, Some(V::Finished)));
        assert!(!said_row(S::TheRest).allows(W::Made, Some(V::Built)));
        assert!(said_row(S::Lot).allows(W::Bare, Some(V::Sent)) && !said_row(S::Lot).allows(W::Bare, Some(V::Worked)));
    }
}
