//! What is wrong with the lines of definitions and of their changes.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::diagnostics::{Diagnostic, near_names};
use crate::names::Place;
use crate::names::errors::beside_a_name::is_container;
use crate::names::errors::quantities::unit_of_a_trade;
use crate::names::errors::{
    CANT_CHANGE, CHANGED_TWICE, FIGURE_OUT_OF_RANGE, FORM_LINE_MISSING, HOME_UNCLEAR, INCOME_WITHOUT_LINE, NO_SHOP, NOT_MEASURED,
    ONLY_ON_NEW_YEAR, RING, SECOND_BLOCK, TITLE_MISSING, TOO_MANY_DIGITS, UNKNOWN_CURRENCY, behind, offer_near,
};
use crate::names::kinds::a;
use crate::names::plural::singulars_of;
use crate::sources::Span;
use crate::syntax::{Definition, DefinitionWord};
use crate::units::{Currency, Unit, canonical_unit};

pub(crate) fn never_changes(line: Span) -> Diagnostic {
    Diagnostic::new(CANT_CHANGE, line, "this is said once and for all; it can't change from a day on")
        .note("correct the definition, or define another and use that from this day on")
}

pub(crate) fn not_of_this_kind(line: Span, word: DefinitionWord) -> Diagnostic {
    Diagnostic::new(CANT_CHANGE, line, format!("this line is none of {}'s definition", a(word)))
        .label("`changed` takes lines of the definition of what it names")
}

pub(crate) fn changed_twice_on_one_day(line: Span, first: Span, day: NaiveDate) -> Diagnostic {
    Diagnostic::new(CHANGED_TWICE, line, format!("this is changed twice on {day}"))
        .label("changed again")
        .also(first, "changed here, on the same day")
        .note("the order of entries means nothing, so one day can have one such change only")
}

pub(crate) fn only_on_new_year(line: Span, day: NaiveDate, next: Option<NaiveDate>) -> Diagnostic {
    let told = Diagnostic::new(ONLY_ON_NEW_YEAR, line, format!("this changes with a year only, not on {day}"))
        .note("costing, the basis and how stock is kept hold for whole tax years");
    match next {
        Some(next) => told.note(format!("the next such day is {next}: `changed {next} shop`")),
        None => told,
    }
}

pub(crate) fn second_shop(second: &Definition, first: &Definition) -> Diagnostic {
    Diagnostic::new(SECOND_BLOCK, second.head, "a book has one `shop`")
        .label("a second shop")
        .also(first.head, "the first")
        .note("one of the two may have come with a copied file; several shops are several folders")
}

pub(crate) fn choices_twice(year: i32, second: Span, first: Span) -> Diagnostic {
    Diagnostic::new(SECOND_BLOCK, second, format!("the choices of {year} stand in two places"))
        .label("again")
        .also(first, "here first")
        .note("put all lines of a year under one `choices`")
}

pub(crate) fn shop_without_title(shop: &Definition) -> Diagnostic {
    Diagnostic::new(TITLE_MISSING, shop.head, "the shop has an empty title")
        .note("the title in quotes is what reports call the shop: `shop \"Wren & Gable Woodshop\"`")
}

/// `block` says whether a block stands at the place, or the book is empty.
pub(crate) fn no_shop(place: Span, block: bool) -> Diagnostic {
    Diagnostic::new(NO_SHOP, place, "the book has no `shop`")
        .label(if block { "the book's first block" } else { "no definition and no entry stands in the book yet" })
        .note("assumed until one says otherwise: US dollars, fifo, cash basis, stock kept as inventory, no tax form")
        .note("define it in any file: `shop \"NAME OF THE SHOP\"`, and under it `currency USD`")
}

pub(crate) fn no_currency(shop: &Definition) -> Diagnostic {
    Diagnostic::new(NO_SHOP, shop.head, "the shop doesn't say its currency; US dollars are assumed").fix(
        "say it",
        behind(shop.head),
        "\n    currency USD",
    )
}

pub(crate) fn unknown_currency(code: &str, place: Span) -> Diagnostic {
    let all: Vec<Currency> = Currency::all().collect();
    let told = Diagnostic::new(UNKNOWN_CURRENCY, place, format!("`{code}` is no currency"))
        .note("a currency is its three capital letters in ISO 4217: `USD`, `EUR`, `CAD`");
    let spoken: &[&str] = match code.to_lowercase().as_str() {
        "dollar" | "dollars" | "$" => &["USD", "CAD", "AUD"],
        "euro" | "euros" | "€" => &["EUR"],
        "pound" | "pounds" | "sterling" | "£" => &["GBP"],
        _ => &[],
    };
    if !spoken.is_empty() {
        return spoken.iter().fold(told, |told, code| told.fix(format!("in {code}"), place, *code));
    }
    offer_near(told, place, near_names(code, all.iter().map(|currency| currency.code())))
}

pub(crate) fn percent_out_of_range(percent: Decimal, line: Span) -> Diagnostic {
    Diagnostic::new(FIGURE_OUT_OF_RANGE, line, format!("{percent}% is more than the whole"))
        .label("a part lies between 0% and 100%")
}

pub(crate) fn no_years(line: Span) -> Diagnostic {
    Diagnostic::new(FIGURE_OUT_OF_RANGE, line, "a cost can't be spread over no years")
}

pub(crate) fn no_area(text: &str, place: Span) -> Diagnostic {
    Diagnostic::new(FIGURE_OUT_OF_RANGE, place, format!("`{text}` is no area"))
        .note("`home workshop 200 sq ft, simplified`, or `home workshop 12% of house costs`")
}

pub(crate) fn percent_per_piece(line: Span) -> Diagnostic {
    Diagnostic::new(FIGURE_OUT_OF_RANGE, line, "a percentage is a part of something, not a sum per sale or item")
        .note("`fee 3% of total`, `of goods` or `of card`; or a sum: `fee 0.25 per sale`")
}

pub(crate) fn money_of_total(line: Span) -> Diagnostic {
    Diagnostic::new(FIGURE_OUT_OF_RANGE, line, "a sum is charged per sale or per item, not of something")
        .note("`fee 0.25 per sale` or `per item`; or a part: `fee 3% of total`")
}

pub(crate) fn too_many_digits(money: Decimal, currency: Currency, place: Span) -> Diagnostic {
    let digits = currency.digits();
    Diagnostic::new(TOO_MANY_DIGITS, place, format!("{money} has more digits than {currency} has"))
        .note(format!("a sum has at most {digits} digits after the point; a price per unit may have more"))
}

pub(crate) fn form_line_missing(definition: &Definition, name: &str, form: &str) -> Diagnostic {
    Diagnostic::new(FORM_LINE_MISSING, definition.name, format!("the expense `{name}` has no `form line`"))
        .label(format!("on which line of {form} does it stand?"))
        .note(format!("`kerfbook help {form}` lists them"))
        .fix("name the line, or `other`", behind(definition.head), "\n    form line other")
}

pub(crate) fn income_without_line(definition: &Definition, name: &str, form: &str) -> Diagnostic {
    Diagnostic::new(INCOME_WITHOUT_LINE, definition.name, format!("the income `{name}` has no `form line`"))
        .label(format!("on which line of {form} does it stand?"))
        .note(format!("`kerfbook help {form}` lists them; below the definition, indented, stands `form line` with its number"))
        .note("until then it is on no line of the form, and `kerfbook year` asks")
}

/// `unit`: the one in which the book counts it elsewhere; `ea` where it is counted in none.
pub(crate) fn measured_in_missing(definition: &Definition, name: &str, unit: Unit) -> Diagnostic {
    Diagnostic::new(NOT_MEASURED, definition.name, format!("the material `{name}` doesn't say in what it is measured"))
        .note("whole things that are counted are measured in `ea`, wood in `bf`, sheets in `sq ft`, liquids in `ml` or `fl oz`, what is weighed in `g`, `oz` or `lb`")
        .fix("say it", behind(definition.head), format!("\n    measured in {unit}"))
}

pub(crate) fn measured_in_time(unit: &str, place: Span) -> Diagnostic {
    Diagnostic::new(NOT_MEASURED, place, format!("a material can't be measured in `{unit}`, which is a time"))
}

pub(crate) fn measured_in_no_unit(unit: &str, place: Span) -> Diagnostic {
    let told = Diagnostic::new(NOT_MEASURED, place, format!("`{unit}` is no unit of measure"));
    if let Some((one, grams)) = unit_of_a_trade(unit) {
        return told.note(format!("a line below says what one weighs: `1 {one} = {grams} g`")).fix("by its weight", place, "g");
    }
    match canonical_unit(unit) {
        Some(meant) => told.fix(format!("the unit is written `{meant}`"), place, meant.as_str()).sure(),
        None if matches!(unit, "sheet" | "sheets") => told
            .note("paper and the like, used sheet by sheet, is counted; where a pack is bought, a line below says what it holds: `1 ream = 500 ea`")
            .note("plywood and the like, cut up by its size, is measured by its area: a whole sheet of 4 by 8 ft is `1 sheet = 32 sq ft`")
            .fix("if sheets of it are counted", place, "ea\n    1 sheet = 1 ea")
            .fix("if pieces are cut from a sheet, by its area", place, "sq ft"),
        None => {
            let told = told.note("a pack is named by a line of its own: `measured in ea` and `1 bag = 50 ea`");
            let one = singulars_of(unit).into_iter().next().unwrap_or_else(|| unit.to_owned());
            let holds = if is_container(&one) { format!("ea\n    1 {one} = 1 ea") } else { "ea".to_owned() };
            told.fix("for whole things that are counted", place, holds)
        }
    }
}

pub(crate) fn from_itself(name: &str, place: Span) -> Diagnostic {
    Diagnostic::new(RING, place, format!("`{name}` can't be an offcut of itself"))
}

pub(crate) fn second_home(second: &Place, first: &Place) -> Diagnostic {
    let (name, other) = (&second.named.name, &first.named.name);
    Diagnostic::new(HOME_UNCLEAR, second.named.span, format!("`{name}` and `{other}` both say `home`"))
        .also(first.named.span, "this one too")
        .note("home is the one place where things come to and leave from unless an entry says otherwise")
}

pub(crate) fn no_home(needed: Span, places: &[&str]) -> Diagnostic {
    let told = Diagnostic::new(HOME_UNCLEAR, needed, "it isn't known which place is home")
        .label("this stands at home, since it names no other place");
    if places.is_empty() {
        return told.note("define it: `place bench \"Home workshop\"`, and under it `home`");
    }
    let list = crate::names::kinds::any_word_of(&places.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>());
    told.note(format!("write `home` under one place ({list}), or `at PLACE` in the entry's first line"))
}
