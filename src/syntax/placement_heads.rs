//! The heads' part of the placement table: which parts follow the date of each entry, and which of them it needs.

use crate::syntax::placement_table::VERBS;
use crate::syntax::{HeadPart, Verb};

use HeadKind as H;
use Verb as V;

/// A kind of head part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[rustfmt::skip]
pub(crate) enum HeadKind {
    From, To, By, With, Via, At, Receipt, Order, Batch, On, As, Subject, Shop, Amount, For, Text,
}

/// Whether an entry needs a head part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Need {
    /// It must be there.
    Must,
    /// It may be there.
    May,
    /// This one or another that is marked so must be there, not both.
    Either,
    /// It must be there this many times.
    Times(usize),
}

use Need::{Either, May, Must, Times};

/// A row of the table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct HeadRow {
    /// The entry.
    pub(crate) verb: Verb,
    /// An example of its whole head.
    pub(crate) form: &'static str,
    /// Its parts.
    pub(crate) parts: &'static [(HeadKind, Need)],
}

/// The kind of a part.
pub(crate) fn head_kind(part: &HeadPart) -> HeadKind {
    match part {
        HeadPart::From(_) => H::From,
        HeadPart::To(_) => H::To,
        HeadPart::By(_) => H::By,
        HeadPart::With(_) => H::With,
        HeadPart::Via(_) => H::Via,
        HeadPart::At(_) => H::At,
        HeadPart::Receipt(_) => H::Receipt,
        HeadPart::Order(_) => H::Order,
        HeadPart::Batch(_) => H::Batch,
        HeadPart::On(_) => H::On,
        HeadPart::As(_) => H::As,
        HeadPart::Subject(_) => H::Subject,
        HeadPart::Shop => H::Shop,
        HeadPart::Amount(_) => H::Amount,
        HeadPart::For(..) => H::For,
        HeadPart::Text(_) => H::Text,
    }
}

/// The words of a kind, and an example.
pub(crate) const fn head_words(kind: HeadKind) -> (&'static str, &'static str) {
    match kind {
        H::From => ("from", "from ridgeline-lumber"),
        H::To => ("to", "to county-fair"),
        H::By => ("by", "by wheel-shop"),
        H::With => ("with", "with \"a neighbour\""),
        H::Via => ("via", "via web-page"),
        H::At => ("at", "at bench"),
        H::Receipt => ("receipt", "receipt \"A-1182\""),
        H::Order => ("order", "order \"W-0031\""),
        H::Batch => ("batch", "batch PC-014"),
        H::On => ("on", "on craft-fair"),
        H::As => ("as", "as donation"),
        H::Subject => ("a name", "pull-cart"),
        H::Shop => ("shop", "shop"),
        H::Amount => ("a distance", "38 mi"),
        H::For => ("for", "for 350.00"),
        H::Text => ("a text in quotes", "\"…\""),
    }
}

/// The row of a verb.
pub(crate) fn head_row(verb: Verb) -> &'static HeadRow {
    // A test holds a row for every verb.
    HEAD_ROWS.iter().find(|row| row.verb == verb).unwrap_or(&HEAD_ROWS[0])
}

/// Every entry's head.
#[rustfmt::skip]
pub(crate) static HEAD_ROWS: [HeadRow; VERBS.len()] = [
    HeadRow { verb: V::Opened, form: "opened 2026-01-01", parts: &[(H::At, May)] },
    HeadRow { verb: V::Changed, form: "changed 2026-07-01 pull-cart", parts: &[(H::Subject, Either), (H::Shop, Either)] },
    HeadRow { verb: V::Bought, form: "bought 2026-03-02 from ridgeline-lumber receipt \"A-1182\"", parts: &[(H::From, May), (H::Receipt, May), (H::At, May)] },
    HeadRow { verb: V::Paid, form: "paid 2026-03-05 to county-fair", parts: &[(H::To, Must), (H::Receipt, May)] },
    HeadRow { verb: V::Built, form: "built 2026-03-09 batch PC-014", parts: &[(H::Batch, May), (H::At, May)] },
    HeadRow { verb: V::Started, form: "started 2026-12-18 batch VS-020", parts: &[(H::Batch, Must), (H::At, May)] },
    HeadRow { verb: V::Continued, form: "continued 2026-12-29 batch VS-020", parts: &[(H::Batch, Must), (H::At, May)] },
    HeadRow { verb: V::Finished, form: "finished 2027-01-06 batch VS-020", parts: &[(H::Batch, Must), (H::At, May)] },
    HeadRow { verb: V::Worked, form: "worked 2026-03-08", parts: &[] },
    HeadRow { verb: V::Sold, form: "sold 2026-03-20 via web-page order \"W-0031\"", parts: &[(H::Via, Must), (H::Order, May), (H::At, May)] },
    HeadRow { verb: V::Sent, form: "sent 2026-04-01 to gift-shop", parts: &[(H::From, May), (H::To, Must)] },
    HeadRow { verb: V::BroughtBack, form: "brought-back 2026-06-12 from gift-shop", parts: &[(H::From, Must), (H::At, May)] },
    HeadRow { verb: V::Returned, form: "returned 2026-06-14 order \"W-0031\"", parts: &[(H::Order, Either), (H::Via, Either), (H::At, May)] },
    HeadRow { verb: V::SentBack, form: "sent-back 2026-03-25 to ridgeline-lumber receipt \"A-1182\"", parts: &[(H::To, Must), (H::Receipt, May), (H::At, May)] },
    HeadRow { verb: V::Credited, form: "credited 2026-02-15 by wheel-shop", parts: &[(H::By, Must), (H::Receipt, May)] },
    HeadRow { verb: V::Received, form: "received 2026-06-20 from market-site", parts: &[(H::From, Must), (H::Via, May)] },
    HeadRow { verb: V::Counted, form: "counted 2026-12-31 at bench", parts: &[(H::At, May)] },
    HeadRow { verb: V::TookHome, form: "took-home 2026-12-20", parts: &[(H::At, May)] },
    HeadRow { verb: V::Gave, form: "gave 2026-12-21 to \"the library raffle\" as donation", parts: &[(H::To, Must), (H::As, Must), (H::At, May)] },
    HeadRow { verb: V::Scrapped, form: "scrapped 2026-08-02", parts: &[(H::Batch, May), (H::At, May)] },
    HeadRow { verb: V::UsedUp, form: "used-up 2026-05-03", parts: &[(H::On, May), (H::At, May)] },
    HeadRow { verb: V::Found, form: "found 2026-01-24", parts: &[(H::At, May)] },
    HeadRow { verb: V::Contributed, form: "contributed 2026-02-01", parts: &[(H::At, May)] },
    HeadRow { verb: V::Swapped, form: "swapped 2026-05-09 with \"a neighbour\"", parts: &[(H::With, Must)] },
    HeadRow { verb: V::Drove, form: "drove 2026-03-02 38 mi on craft-fair \"to the fair and back\"", parts: &[(H::Amount, Must), (H::On, May), (H::Text, May)] },
    HeadRow { verb: V::Odometer, form: "odometer 2026-01-01 41230 mi", parts: &[(H::Amount, Must)] },
    HeadRow { verb: V::Retired, form: "retired 2026-10-01 band-saw for 350.00", parts: &[(H::Subject, Must), (H::For, May)] },
    HeadRow { verb: V::Statement, form: "statement 2026 from market-site", parts: &[(H::From, Must)] },
    HeadRow { verb: V::Noted, form: "noted 2026-02-10 \"drum sander borrowed\"", parts: &[(H::Text, Must)] },
    HeadRow { verb: V::Answered, form: "answered 2026-12-31 \"gift-shop/agent\" \"no\"", parts: &[(H::Text, Times(2))] },
    HeadRow { verb: V::Closed, form: "closed 2026", parts: &[] },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::syntax::corrected_line::reads;
    use crate::syntax::placement_table::verb_word;

    #[test]
    fn every_verb_has_a_head_that_reads() {
        for (word, verb) in VERBS {
            let row = head_row(verb);
            assert_eq!(row.verb, verb, "{word}");
            assert!(row.form.starts_with(verb_word(verb)) && reads(row.form, true, None), "{}", row.form);
        }
    }
}
