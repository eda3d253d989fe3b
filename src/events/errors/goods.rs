//! Wording: lines of goods, and what a batch made of them.

use chrono::NaiveDate;

use crate::diagnostics::Diagnostic;
use crate::events::errors as code;
use crate::sources::Span;
use crate::syntax::Verb;

pub(crate) fn no_value(span: Span, text: &str, what: &str) -> Diagnostic {
    let message = format!("`{text}` doesn't say {what}: `at` for each, or `for` for all of it");
    Diagnostic::new(code::NO_VALUE, span, message).note("what cost nothing is written `for 0.00`; what was found is `found`")
}

pub(crate) fn no_price(span: Span, text: &str, name: &str, day: NaiveDate) -> Diagnostic {
    let message = format!("`{text}` has no price: `{name}` has none on the list of {day}, and the line says none");
    Diagnostic::new(code::NO_PRICE, span, message).note("write `at` for the price of one, or `for` for the whole line")
}

/// A material without a price in a sale: what the goods were packed in may be meant.
pub(crate) fn or_packing(told: Diagnostic, text: &str, span: Span) -> Diagnostic {
    told.fix("if the goods were packed in it", span, format!("packed with {text}"))
}

pub(crate) fn none_of_it(span: Span, name: &str) -> Diagnostic {
    Diagnostic::new(code::NONE_OF_IT, span, format!("nothing of `{name}`: a line moves more than nothing"))
        .note("only a count may find none")
}

pub(crate) fn more_back(span: Span, carried: Span, name: &str) -> Diagnostic {
    Diagnostic::new(code::MORE_BACK, span, format!("more `{name}` came back than were carried")).also(carried, "carried")
}

pub(crate) fn tool_is_no_stock(span: Span, name: &str, day: NaiveDate, verb: Verb) -> Diagnostic {
    let message = format!("`{name}` is a tool: it is kept with the equipment and never leaves stock");
    let told = Diagnostic::new(code::TOOL_IS_NO_STOCK, span, message);
    match verb {
        // What it was sold for would be a gain or loss of equipment; what went back was never the shop's to recover.
        Verb::SentBack => told.note(format!(
            "a tool that goes back to its seller has no entry of its own: take it out of the `bought` entry; where the year of that is \
             handed in, leave it there, write `noted {day} \"…\"`, and ask a preparer"
        )),
        _ => told.note(format!("a tool that was sold or thrown out is an entry of its own: `retired {day} {name} for 350.00`")),
    }
}

/// What can be written of a tool whose seller took something off its price.
pub(crate) fn tool_credited(day: NaiveDate) -> String {
    format!(
        "what a seller takes off a tool has no entry of its own: write the lower price on the tool's line of the `bought` entry; where \
         the year of that is handed in, leave it, write `noted {day} \"…\"`, and ask a preparer"
    )
}

pub(crate) fn counted_twice(second: Span, first: Span, name: &str) -> Diagnostic {
    Diagnostic::new(code::COUNTED_TWICE, second, format!("`{name}` is counted twice in this entry"))
        .also(first, "counted here")
        .note("a count says all that is there of a thing, or of one of its lots, in one line")
}

pub(crate) fn counted_twice_a_day(second: Span, first: Span, name: &str, place: &str) -> Diagnostic {
    Diagnostic::new(code::COUNTED_TWICE, second, format!("`{name}` is counted twice at {place} on this day"))
        .also(first, "counted here")
        .note("which of two counts of one day came first is not known: keep the one that holds")
}

/// Pieces that came back, and not a word of money.
pub(crate) fn return_without_refund(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(code::RETURN_WITHOUT_REFUND, span, format!("`{text}` doesn't say what was refunded, so nothing was")).fix(
        "say what was refunded, nothing if nothing",
        span,
        format!("{text}, refunded 0.00"),
    )
}

pub(crate) fn counted_whole_and_by_lots(second: Span, first: Span, name: &str) -> Diagnostic {
    Diagnostic::new(code::COUNTED_TWICE, second, format!("`{name}` is counted as a whole and by its lots in this entry"))
        .also(first, "counted here")
        .note("a line without `lot` says all that is there of a thing, those lots too; count either the whole or each lot")
}

pub(crate) fn no_refund(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(code::NO_REFUND, span, format!("`{text}` doesn't say what was refunded")).fix(
        "say what was refunded, nothing if nothing",
        span,
        format!("{text}, refunded 0.00"),
    )
}

pub(crate) fn two_fates(second: Span, first: Span) -> Diagnostic {
    Diagnostic::new(code::SAID_TWICE, second, "a returned piece goes one way: back to stock, scrapped, or left with buyer")
        .also(first, "another way here")
}

pub(crate) fn nothing_made(span: Span, built: bool) -> Diagnostic {
    let message = if built {
        "nothing is said to be made: a built batch says what came of it"
    } else {
        "nothing is said to be made: a finished batch says what came of it, or `nothing else`"
    };
    Diagnostic::new(code::NOTHING_MADE, span, message).note("where nothing good came of it, a line says so: `made nothing`")
}

pub(crate) fn made_before_finished(span: Span, verb: &str, day: &str) -> Diagnostic {
    let message = format!("pieces are made when a batch is finished, not when it is {verb}");
    let told = Diagnostic::new(code::MADE_BEFORE_FINISHED, span, message).note(format!(
        "write them in an entry of their own, `finished {day} batch …`; a batch that aims at more stays on the bench"
    ));
    let word = Span::new(span.start, span.start.saturating_add(4));
    if verb == "started" { told.fix("how many the batch is to make", word, "aims at") } else { told }
}

/// `behind`: the end of the last line that says what was made; `priced`: whether each product has a price on that day.
pub(crate) fn needs_share(span: Span, text: &str, (behind, priced): (Span, bool)) -> Diagnostic {
    let message = "a batch of several products needs to know how they share its cost";
    let told = Diagnostic::new(code::NEEDS_SHARE, span, message);
    let told = if priced {
        told.fix("by what they sell for", behind, "\n    shared by price")
    } else {
        told.note("`shared by price` wants a `price` of each")
    };
    told.fix("each piece alike", behind, "\n    shared by count")
        .note(format!("or each line has its share, in parts: `{text}, share 1`, and the others theirs"))
}

pub(crate) fn share_without_price(span: Span, name: &str, day: NaiveDate) -> Diagnostic {
    let message = format!("this batch is shared by price, and `{name}` has no price on {day}");
    Diagnostic::new(code::NEEDS_SHARE, span, message).note("give it a `price`, or share by count or with `share`")
}

pub(crate) fn no_recipe(span: Span, name: &str, word: &str, day: NaiveDate) -> Diagnostic {
    let message = format!("`{name}` has no recipe on {day} to go by: its definition has no `{word}`");
    Diagnostic::new(code::NO_RECIPE, span, message)
        .note(format!("write what this batch took, or give `{name}` a line `{word} …`"))
}

pub(crate) fn continued_too_early(
    span: Span,
    verb: &str,
    batch: &str,
    started: NaiveDate,
    later: Option<NaiveDate>,
) -> Diagnostic {
    let message = format!("`{batch}` is {verb} here before it was started on {started}");
    let told = Diagnostic::new(code::BATCH_COURSE, span, message);
    match later {
        Some(day) => told.fix("take the year that is meant", span, day.to_string()),
        None => told,
    }
}

pub(crate) fn given_up_too_early(span: Span, batch: &str, first: Span, begins: NaiveDate) -> Diagnostic {
    Diagnostic::new(code::BATCH_COURSE, span, format!("`{batch}` is given up here before it begins on {begins}"))
        .also(first, "it begins here")
}

pub(crate) fn started_twice(span: Span, batch: &str, first: Span, day: NaiveDate) -> Diagnostic {
    Diagnostic::new(code::BATCH_COURSE, span, format!("`{batch}` was started on {day} already"))
        .also(first, "started here")
        .note("what goes on with a batch is `continued`, and what ends it `finished`")
}

pub(crate) fn built_twice(span: Span, batch: &str, first: Span, day: NaiveDate, free: Option<String>) -> Diagnostic {
    let told = Diagnostic::new(code::BUILT_TWICE, span, format!("`{batch}` was built on {day}")).also(first, "built here");
    match free {
        Some(free) => told.fix("take the next free name", span, free),
        None => told,
    }
}

pub(crate) fn swap_has_two_sides(span: Span, gave: bool) -> Diagnostic {
    let (lacks, line) = if gave { ("given", "gave 2 bird-house at 38.00") } else { ("got", "got 9 bf walnut") };
    Diagnostic::new(code::SWAP_DIFFERS, span, format!("a swap has two sides, and nothing is {lacks}"))
        .note(format!("add the other side, as `{line}`"))
}

pub(crate) fn two_open_sides(second: Span, first: Span) -> Diagnostic {
    Diagnostic::new(code::SWAP_DIFFERS, second, "only one line of a swap can take its worth from the others")
        .also(first, "this one has no price either")
        .note("give one of them `at` or `for`")
}

pub(crate) fn swap_differs(span: Span, here: &str, there: &str) -> Diagnostic {
    let message = format!("both sides of a swap are worth the same: {here} is given and {there} is got");
    Diagnostic::new(code::SWAP_DIFFERS, span, message)
        .note("what is given without a price has its list price of that day: say what it was worth behind it, as `1 pull-cart for 40.00`")
        .note("or leave the price of what is got out, and it takes the other side's worth")
}
