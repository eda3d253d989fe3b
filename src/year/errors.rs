//! Mistakes of the tax year, K500 to K599, with their wording.
//!
//! Each says what the book or a form's data says, what was expected, and, where one change puts it right, the line as it should stand. The check
//! stands in the file that calls it.

use std::ops::RangeInclusive;

use crate::diagnostics::{Code, Diagnostic, near_names};
use crate::events::NO_EFFECT_HERE;
use crate::names::singular_of;
use crate::names::{Category, Tool};
use crate::sources::Span;
use crate::year::Feed;
use crate::year::forms::form::{Form, Takes};
use crate::year::forms::form_set::{FormFault, Forms};

/// The shop names no tax form.
pub const NO_FORM_NAMED: Code = Code(500);
/// There is no data for the form and year.
pub const NO_FORM_DATA: Code = Code(501);
/// The form's figures lack one of a year.
pub const NO_FIGURE: Code = Code(502);
/// A file of the book's `forms/` can't be used.
pub const FORM_FILE: Code = Code(503);
/// A `form line` that the form does not have.
pub const UNKNOWN_LINE: Code = Code(504);
/// A `form line` into which the program itself puts figures.
pub const FED_LINE: Code = Code(505);
/// An expense on a line for income, or an income on one for expenses.
pub const WRONG_SIDE: Code = Code(506);
/// House costs on a line of their own.
pub const HOUSE_COST_LINE: Code = Code(507);
/// A tool that may not be expensed at once.
pub const NOT_AT_ONCE: Code = Code(508);
/// A tool recovered over years for which there is no table.
pub const NO_TABLE: Code = Code(509);
/// A tool to which section 179 does not apply.
pub const NO_SECTION_179: Code = Code(510);
/// Figures beyond what can be kept.
pub const TOO_LARGE: Code = Code(598);
/// Part III and the engine disagree.
pub const DOES_NOT_TIE: Code = Code(599);

/// `near` names a question that is asked, in a sentence.
/// `asking` are the years of the answer that are figured: its own, the one before, or both.
pub(crate) fn answers_nothing(question: Span, name: &str, asking: &[i32], near: Option<String>) -> Diagnostic {
    let years: Vec<_> = asking.iter().map(i32::to_string).collect();
    let why = format!("no question of {} is named `{name}`", years.join(" or "));
    let told = Diagnostic::new(NO_EFFECT_HERE, question, format!("this answer has no effect: {why}"));
    let told = near.into_iter().fold(told, Diagnostic::note);
    let lists: Vec<_> = asking.last().map(|year| format!("`kerfbook year {year}` lists")).into_iter().collect();
    told.note(format!("{} the questions by their names; one that an entry has settled is asked no more", lists.concat()))
}

/// Words of a year in which nothing of the book counts. `what` is `this statement has`.
pub(crate) fn of_a_year_outside(place: Span, what: &str, year: i32, years: &RangeInclusive<i32>) -> Diagnostic {
    let (first, last) = (years.start(), years.end());
    let known = if first == last { first.to_string() } else { format!("{first} to {last}") };
    Diagnostic::new(NO_EFFECT_HERE, place, format!("{what} no effect: the book says nothing of {year}"))
        .note(format!("what the book holds counts in {known}"))
}

pub(crate) fn answered_twice(second: Span, first: Span, name: &str) -> Diagnostic {
    let message = format!("this answer to `{name}` has no effect: a later one of the same year says otherwise");
    Diagnostic::new(NO_EFFECT_HERE, first, message).also(second, "the answer that counts")
}

/// An answer of a year that doesn't ask or is not `figured`, where the year before, which asks, has the answer `first` of its own.
pub(crate) fn answered_the_year_before(second: Span, first: Span, name: &str, year: i32, figured: bool) -> Diagnostic {
    let before = year.saturating_sub(1);
    let own = if figured { "has no such question" } else { "is not figured yet" };
    let message = format!("this answer to `{name}` has no effect: {year} {own}, and {before} has an answer of its own");
    Diagnostic::new(NO_EFFECT_HERE, second, message)
        .also(first, format!("the answer that counts for {before}"))
        .note(format!("to change the answer of {before}, change that entry"))
}

pub(crate) fn no_form_named(shop: Span, forms: &Forms) -> Diagnostic {
    let known = forms.names().map(|name| format!("`tax form {name}`")).collect::<Vec<_>>().join(", ");
    Diagnostic::new(NO_FORM_NAMED, shop, "the shop names no tax form, so a tax year has no lines to stand on")
        .label("no `tax form` here")
        .note(format!("there is data for {known}"))
}

pub(crate) fn no_form_data(shop: Span, form: &str, year: i32, forms: &Forms) -> Diagnostic {
    let told = Diagnostic::new(
        NO_FORM_DATA,
        shop,
        format!("there is no data for the form `{form}` of {year}: the file `forms/{form}/{year}.toml` is missing"),
    )
    .label(format!("`tax form {form}` is said here"));
    let years: Vec<_> = forms.years(form).map(|year| year.to_string()).collect();
    let told = if years.is_empty() {
        let known: Vec<_> = near_names(form, forms.names()).into_iter().map(|name| format!("`{name}`")).collect();
        match known.is_empty() {
            true => told.note(format!(
                "the forms with data are {}",
                forms.names().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
            )),
            false => told.note(format!("near it is {}", known.join(", "))),
        }
    } else {
        told.note(format!("there is data for {}", years.join(", ")))
    };
    told.note("a book's own `forms/` folder may hold the file; copy the latest year's and check each line against the form")
}

pub(crate) fn no_figures_file(shop: Span, form: &str) -> Diagnostic {
    Diagnostic::new(NO_FIGURE, shop, format!("the file `forms/{form}/figures.toml` with the form's rates and limits is missing"))
}

/// `what` is the table's name in the file.
pub(crate) fn no_figure(place: Span, form: &Form, what: &str, why: &str) -> Diagnostic {
    no_figure_of(place, form, what, form.year, why)
}

/// The same, of a year that is not the form's.
pub(crate) fn no_figure_of(place: Span, form: &Form, what: &str, year: i32, why: &str) -> Diagnostic {
    lacks(place, form, &format!("`[[{what}]]` for {year}"), why)
}

/// The same, of a figure that is no year's own.
pub(crate) fn no_lasting_figure(place: Span, form: &Form, what: &str, why: &str) -> Diagnostic {
    lacks(place, form, &format!("`[{what}]`"), why)
}

fn lacks(place: Span, form: &Form, table: &str, why: &str) -> Diagnostic {
    Diagnostic::new(NO_FIGURE, place, format!("`forms/{}/figures.toml` has no {table}, and {why}", form.name))
        .note("a book's own `forms/` folder may hold the file; give each figure its source")
}

pub(crate) fn form_file(shop: Span, fault: &FormFault) -> Diagnostic {
    let mut lines = fault.message.lines();
    let told = Diagnostic::new(FORM_FILE, shop, format!("`{}` can't be used: {}", fault.path, lines.next().unwrap_or("")));
    lines.filter(|line| !line.trim().is_empty()).fold(told, |told, line| told.note(line))
}

/// How a line is called in a message: `line 27b (Other expenses)`.
fn called(form: &Form, at: usize) -> String {
    form.lines.get(at).map_or_else(String::new, |line| format!("line {} ({})", line.number, line.label))
}

fn kind_of(takes: Takes) -> &'static str {
    match takes {
        Takes::Expense | Takes::House => "expenses",
        Takes::Income => "incomes",
    }
}

/// The numbers that have the same digits with another letter or without, as `24a` and `24b` for `24`; and those to which something was
/// typed too much, as `25` for `250`.
fn numbers_like<'f>(written: &str, open: &[&'f str]) -> Vec<&'f str> {
    let digits = |number: &str| number.trim_end_matches(|letter: char| letter.is_ascii_alphabetic()).to_owned();
    let like = |number: &str| digits(number) == digits(written) || number.len() > 1 && written.starts_with(number);
    open.iter().copied().filter(|number| number.starts_with(|first: char| first.is_ascii_digit()) && like(number)).collect()
}

/// `written` is a line of the form, and which.
fn is_one(form: &Form, written: &str) -> String {
    match form.lines.iter().find(|line| line.number == written) {
        Some(line) => format!("`{written}` is \"{}\"", line.label),
        None => format!("`{written}` is one"),
    }
}

/// How many lines are offered that have what was typed for a word of their names.
const MOST_WITH_THE_WORD: usize = 3;

pub(crate) fn unknown_line(place: Span, category: &Category, written: &str, form: &Form, takes: Takes) -> Diagnostic {
    let open: Vec<&str> = (form.lines.iter().filter(|line| line.takes.contains(&takes)))
        .flat_map(|line| [line.number.as_str(), line.name.as_str()].into_iter().chain(line.also.iter().map(String::as_str)))
        .collect();
    let message = format!("the form `{}` of {} has no line `{written}` for `{}`", form.name, form.year, category.named.name);
    let told = Diagnostic::new(UNKNOWN_LINE, place, message).label("no such line");
    // A number is no misspelled word: 14 is not meant by 24, but 24a may be.
    let near = match written.starts_with(|first: char| first.is_ascii_digit()) {
        true => numbers_like(written, &open),
        // `office` is nearly no name, and a word of `office-expense`.
        false => match near_names(written, open.iter().copied()) {
            none if none.is_empty() => {
                let has = |name: &&str| name.split('-').any(|word| word == written || singular_of(written, word));
                open.iter().copied().filter(has).take(MOST_WITH_THE_WORD).collect()
            }
            near => near,
        },
    };
    let told = near.iter().fold(told, |told, name| told.fix(is_one(form, name), place, *name));
    if near.is_empty() {
        let numbers: Vec<_> = (form.lines.iter().filter(|line| line.takes.contains(&takes)))
            .map(|line| format!("{} ({})", line.number, line.name))
            .collect();
        return told.note(format!("lines for {}: {}", kind_of(takes), numbers.join(", ")));
    }
    told
}

pub(crate) fn fed_line(place: Span, category: &Category, form: &Form, at: usize) -> Diagnostic {
    let message = format!("`{}` can't stand on {}: the program figures it", category.named.name, called(form, at));
    let told = Diagnostic::new(FED_LINE, place, message).label("figured from other entries");
    let adds = form.lines.get(at).is_some_and(|line| !line.adds.is_empty());
    match () {
        () if adds => told.note("the line adds other lines of the form"),
        () if form.lines.get(at).is_some_and(|line| line.feeds.is_empty() && line.takes.is_empty()) => {
            told.note("by the form's data nothing of a book stands there")
        }
        () if form.lines.get(at).is_some_and(|line| line.takes == [Takes::House]) => {
            told.note("only an expense that `counts as house cost` may stand there; the home workshop takes its share of it")
        }
        () if form.lines.get(at).is_some_and(|line| line.feeds.contains(&Feed::Depreciation)) => told.note(
            "what is recovered over years comes from the tools: `tool NAME \"…\"` with `recovered over 7 years`, and the `bought` entry \
             that names it",
        ),
        () => told.note("what belongs there comes from purchases, sales, batches, tools and the stock itself"),
    }
}

pub(crate) fn wrong_side(place: Span, category: &Category, form: &Form, at: usize, takes: Takes) -> Diagnostic {
    let other = if takes == Takes::Income { "expenses" } else { "incomes" };
    let message = format!("`{}` is one of the {}, and {} takes {other}", category.named.name, kind_of(takes), called(form, at));
    Diagnostic::new(WRONG_SIDE, place, message).label(format!("a line for {other}"))
}

/// `home` is the home workshop's line; the form may have none, and ask.
pub(crate) fn house_cost_line(place: Span, category: &Category, form: &Form, at: usize, home: Option<usize>) -> Diagnostic {
    let message =
        format!("`{}` counts as house cost and also stands on {}: it would count twice", category.named.name, called(form, at));
    let told = Diagnostic::new(HOUSE_COST_LINE, place, message)
        .label("another line than the home workshop's")
        .note("a house cost counts through the home workshop only, by its share, after all other expenses");
    match home.and_then(|home| form.lines.get(home)) {
        Some(line) => told.fix("the home workshop's line", place, line.number.as_str()),
        None => told
            .note(format!("the form `{}` has no line for the home workshop: leave `form line` out, and it is asked", form.name)),
    }
}

pub(crate) fn not_at_once(
    tool: &Tool,
    unit_cost: &str,
    (supply, months, item): (&str, &str, &str),
    form: &Form,
    year: i32,
    elected: bool,
) -> Diagnostic {
    let message = format!("`{}` cost {unit_cost} an item and can't be expensed at once", tool.named.name);
    let told = Diagnostic::new(NOT_AT_ONCE, tool.named.span, message).label("expensed at once");
    let told = told.note(format!("at once is allowed up to {supply} an item, up to {item} in a year that elects de minimis, and for what `lasts` at most {months} months"));
    match elected {
        true if form.line_of(Feed::Section179).is_none() => told.note("`recovered over 7 years` spreads it"),
        true => told.note("`recovered over 7 years` spreads it; `expensed under section 179` takes it in one year"),
        false => told
            .note(format!("`choices {year}` with `de minimis elected`, where the election is made; or `recovered over 7 years`")),
    }
}

/// The same, of a tool of the owner's, to which no election applies.
pub(crate) fn own_not_at_once(tool: &Tool, unit_cost: &str, supply: &str) -> Diagnostic {
    let message = format!("`{}` cost {unit_cost} an item and can't be expensed at once", tool.named.name);
    Diagnostic::new(NOT_AT_ONCE, tool.named.span, message)
        .label("expensed at once")
        .note(format!("it was the owner's own before, and no invoice to the business: at once is allowed up to {supply} an item"))
        .note("`recovered over 7 years` spreads it")
}

pub(crate) fn no_table(tool: &Tool, years: &str, known: &[u32], form: &Form) -> Diagnostic {
    let known: Vec<_> = known.iter().map(u32::to_string).collect();
    Diagnostic::new(
        NO_TABLE,
        tool.named.span,
        format!("there is no depreciation table for {years} years, over which `{}` is recovered", tool.named.name),
    )
    .label("recovered over years")
    .note(format!("`forms/{}/figures.toml` has tables for {} years", form.name, known.join(", ")))
}

pub(crate) fn no_section_179(tool: &Tool, why: &str) -> Diagnostic {
    Diagnostic::new(NO_SECTION_179, tool.named.span, format!("`{}` can't be expensed under section 179: {why}", tool.named.name))
        .label("expensed under section 179")
        .note("`recovered over 7 years` spreads its cost")
}

pub(crate) fn too_large(shop: Span, year: i32) -> Diagnostic {
    Diagnostic::new(TOO_LARGE, shop, format!("the figures of the tax year {year} are too large to be kept exactly"))
}

pub(crate) fn does_not_tie(shop: Span, year: i32, form_figure: &str, engine_figure: &str) -> Diagnostic {
    Diagnostic::new(
        DOES_NOT_TIE,
        shop,
        format!("the cost of goods of {year} comes to {form_figure} by the form's lines and to {engine_figure} by where the goods went"),
    )
    .note("this is a mistake of the program, not of the book: no tax year is printed")
}

/// `net` is the form's, `sum` what the margins come to by every step of the bridge, the rounding of lines among them.
pub(crate) fn bridge_is_broken(shop: Span, year: i32, net: &str, sum: &str) -> Diagnostic {
    let message =
        format!("the net profit of {year} is {net} by the form's lines, and {sum} by the margins and what leads from them");
    Diagnostic::new(DOES_NOT_TIE, shop, message).note("this is a mistake of the program, not of the book: no tax year is printed")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_broken_bridge_and_a_cost_of_goods_that_does_not_tie_are_told_in_words_of_their_own() {
        let bridge = bridge_is_broken(Span::default(), 2026, "16.67", "16.66");
        assert_eq!(
            (bridge.code, bridge.message.as_str()),
            (
                DOES_NOT_TIE,
                "the net profit of 2026 is 16.67 by the form's lines, and 16.66 by the margins and what leads from them"
            )
        );
        let goods = does_not_tie(Span::default(), 2026, "3.33", "3.34");
        assert!(goods.message.starts_with("the cost of goods of 2026 comes to 3.33"), "{}", goods.message);
    }
}
