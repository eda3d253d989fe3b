//! The kinds of figures: the word with which a name begins, the question it belongs to, how its names are formed, and what it tells.

/// A kind of figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct FigureKind {
    /// The word before the first `/`.
    pub(super) word: &'static str,
    /// The question of the report that prints such figures.
    pub(super) question: &'static str,
    /// How a name is formed.
    pub(super) form: &'static str,
    /// What it tells, in words.
    pub(super) tells: &'static str,
    /// Why a book has none, in words.
    pub(super) none: &'static str,
}

/// The kinds, in the order of the reports.
pub(super) const KINDS: [FigureKind; 13] = [
    FigureKind {
        word: "cost",
        question: "What does it cost?",
        form: "cost/NAME[/YEAR][/PART]",
        tells: "what one of a thing cost, of all that were finished or of those of a year, or a part of that; minutes at a step and what went into it: `cost/pull-cart/steps/sanding/minutes`, `cost/pull-cart/2026/uses/red-oak/cost`",
        none: "nothing was finished in a batch",
    },
    FigureKind {
        word: "batch",
        question: "What does it cost?",
        form: "batch/NAME[/PART]",
        tells: "what a batch collected, and where that went; how that differs from its recipe: `batch/PC-021/variances/material-price`",
        none: "no batch was begun",
    },
    FigureKind {
        word: "lot",
        question: "What does it cost?",
        form: "lot/NAME/WHICH[/PART]",
        tells: "what a lot cost when it came: by its code, its batch or its day",
        none: "nothing was bought, opened or made",
    },
    FigureKind {
        word: "stock",
        question: "What have I?",
        form: "stock/NAME[/DATE]",
        tells: "what is on hand of a thing, of a kind of things or in all, on any day; a kind whose name a thing has: `stock/totals/materials`",
        none: "no material or product is defined",
    },
    FigureKind {
        word: "pattern",
        question: "What have I?",
        form: "pattern/NAME[/QUARTER]/PART",
        tells: "what was made by a pattern, may still be made and is due for it; a quarter's royalties: `pattern/cart-pattern/2026-Q1/royalty`",
        none: "no licence was bought, and nothing was made by a pattern",
    },
    FigureKind {
        word: "places",
        question: "What lies where?",
        form: "places/PLACE/THING/PART",
        tells: "what of a thing was brought to a place, sold there and is left, handed over and counted last; and what the place owes, in all, by sale and for how long: `places/gift-shop/owed`, `places/gift-shop/owed/G-19/days-late`",
        none: "nothing was at a place away from home",
    },
    FigureKind {
        word: "order",
        question: "What pays?",
        form: "order/NAME[/PART]",
        tells: "what a sale brought in, what it cost, and what is left: by its order's name or its day",
        none: "nothing was sold",
    },
    FigureKind {
        word: "pays",
        question: "What pays?",
        form: "pays/NAME[/YEAR][/COLUMN]",
        tells: "a column of a product line, a channel or a product, or of `all`; what a month brought in: `pays/month/2026-03/income`; hours at a step: `pays/all/2026/hours/sanding/own-minutes`; what is itself called `all`: `pays/groups/all`; what is in no group, or on a channel and of no fair: `pays/rest/line/no-line`, `pays/rest/fair/craft-fair/no-fair`",
        none: "nothing was sold or spent",
    },
    FigureKind {
        word: "slow",
        question: "What pays?",
        form: "slow/NAME/PART",
        tells: "what has lain over 180 days, what it cost and how long it lasts; and what all goods of an age cost: `slow/older`",
        none: "there is no entry yet",
    },
    FigureKind {
        word: "price",
        question: "What must it fetch?",
        form: "price/NAME[/CHANNEL/COLUMN]",
        tells: "what a piece costs, or a part of that; what it must fetch in a channel, and what the list price and the last price leave there; with wishes behind its name: `price/NAME+earn_25+margin_30%+fixed_120+hours_16h/CHANNEL/COLUMN`",
        none: "no product was finished or is on hand",
    },
    FigureKind {
        word: "plan",
        question: "What would it take?",
        form: "plan/PIECES[/PART]",
        tells: "any figure of a plan, with its pieces as in `plan/6_pull-cart+4_village-set`, which alone lists them; whether it fits by a day: `plan/6_pull-cart/by/2027-03-20/needed`",
        none: "say which plan, as in `kerfbook why plan/6_pull-cart+4_village-set`, which lists its figures",
    },
    FigureKind {
        word: "year",
        question: "What goes on the form?",
        form: "year/YEAR/line-NUMBER",
        tells: "a line of the tax year's form, and the schedules behind it: `year/2026/mileage`, `year/2026/equipment/NAME`",
        none: "`shop` names no `tax form`, or there is no form data for its years",
    },
    FigureKind {
        word: "proof",
        question: "Does it come out even?",
        form: "proof/COMPONENT[/YEAR][/FLOW]",
        tells: "a component of cost, or minutes: what was there and came in, and where it went",
        none: "there is no entry yet",
    },
];

/// The kind whose names begin with a word.
pub(super) fn kind_of(word: &str) -> Option<&'static FigureKind> {
    KINDS.iter().find(|kind| kind.word == word)
}

/// Whether a word begins the names of a kind of figures.
pub(crate) fn is_kind(word: &str) -> bool {
    kind_of(word).is_some()
}
