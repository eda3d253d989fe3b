//! Why a product has no price, as a maker is told.

use super::piece::Unpriced;
use crate::names::{ResolvedBook, ThingId};

/// Why there is no price report.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PriceFault {
    /// None was finished or is on hand, and no recipe says how one is made.
    NeverMade,
    /// None was finished in the days that were asked about, and none is on hand.
    NotInThoseDays,
    /// None was finished yet, and its recipe needs what has no price.
    Unpriced(Unpriced),
    /// None was finished yet, and its recipe needs itself, by this round.
    Round(Vec<ThingId>),
    /// A figure is too large to be carried.
    TooLarge,
}

impl PriceFault {
    /// What is said of it: what is unknown, and what to do.
    #[must_use]
    pub fn says(&self, book: &ResolvedBook, product: ThingId) -> String {
        let name = |thing: ThingId| format!("`{}`", book.thing(thing).named.name);
        let product = &book.thing(product).named.name;
        match self {
            Self::TooLarge => "a figure of this report is larger than can be carried".to_owned(),
            Self::NeverMade => format!(
                "nothing says what a `{product}` costs: none was finished, none is on hand, and it has no recipe; \
                 say what goes into it with `needs` and `takes` in its definition"
            ),
            Self::NotInThoseDays => format!(
                "nothing says what a `{product}` costs: none was finished in those days, and none is on hand; \
                 without days its price is asked back from all that were finished"
            ),
            Self::Unpriced(unknown) => {
                let things = unknown.things.iter().map(|thing| name(*thing));
                let licences = unknown.licences.iter().map(|one| format!("a licence of `{}`", book.pattern(*one).named.name));
                let all: Vec<String> = things.chain(licences).collect();
                format!(
                    "nothing says what a `{product}` costs: none was finished yet, and nothing says what its recipe needs of {} costs; \
                     enter the first purchase with `bought`, or what is there with `opened`",
                    all.join(", ")
                )
            }
            Self::Round(round) => {
                let names: Vec<String> = round.iter().map(|thing| name(*thing)).collect();
                format!("nothing says what a `{product}` costs: its recipe needs itself: {}", names.join(" needs "))
            }
        }
    }
}
