//! Wording: sums, totals, rates, payments.

use rust_decimal::Decimal;

use crate::diagnostics::Diagnostic;
use crate::events::errors as code;
use crate::sources::Span;
use crate::units::Currency;

pub(crate) fn too_many_digits(span: Span, money: Decimal, currency: Currency) -> Diagnostic {
    let digits = currency.digits();
    let most = match digits {
        0 => "no digits after the point".to_owned(),
        1 => "one digit after the point".to_owned(),
        _ => format!("{digits} digits after the point"),
    };
    let message = format!("`{money}` has more digits than {currency} has: a sum has at most {most}");
    Diagnostic::new(code::TOO_MANY_DIGITS, span, message)
        .note("a price per unit (`at`) may have as many digits as it needs; what the line comes to is rounded")
}

pub(crate) fn too_large(span: Span) -> Diagnostic {
    Diagnostic::new(code::TOO_LARGE, span, "this comes to more than can be kept exactly")
        .note("a figure has at most 28 digits, and none of them may be lost")
}

pub(crate) fn unknown_currency(span: Span, typed: &str) -> Diagnostic {
    Diagnostic::new(code::EXCHANGE_RATE, span, format!("`{typed}` is no currency of ISO 4217: three capital letters, as `EUR`"))
}

pub(crate) fn own_currency(span: Span, currency: Currency) -> Diagnostic {
    Diagnostic::new(code::EXCHANGE_RATE, span, format!("the book is kept in {currency}, so its own money needs no rate"))
}

pub(crate) fn zero_rate(span: Span, typed: &str) -> Diagnostic {
    Diagnostic::new(code::EXCHANGE_RATE, span, format!("1 {typed} is worth nothing at this rate"))
}

pub(crate) fn second_rate(span: Span) -> Diagnostic {
    Diagnostic::new(code::EXCHANGE_RATE, span, "an entry is written in one currency, so it has one rate")
}

/// `texts`: what is stated, what the lines come to, and the difference; `less`: whether less is stated.
pub(crate) fn total_differs(span: Span, texts: &[String; 3], less: bool, made_of: &str) -> Diagnostic {
    let [stated, comes_to, apart] = texts;
    let message = format!("the total says {stated}, and the {made_of} come to {comes_to}");
    let than = if less { "more" } else { "less" };
    Diagnostic::new(code::TOTAL_DIFFERS, span, message).label(format!("{comes_to} by the lines above and below, {apart} {than}"))
}

/// `texts`: what was paid in, the total, over (short is negative). `line` is what makes up for a difference that is small.
pub(crate) fn tender_differs(span: Span, texts: &[String; 3], over: Option<Span>, line: Option<&str>) -> Diagnostic {
    let [paid, total, over_text] = texts;
    let told = match over {
        None => {
            Diagnostic::new(code::TENDER_DIFFERS, span, format!("cash, card and check come to {paid}, and the sale to {total}"))
        }
        Some(over) => Diagnostic::new(
            code::TENDER_DIFFERS,
            span,
            format!("cash, card and check come to {paid}, and the sale to {total}, which `over` or `short` doesn't make up for"),
        )
        .also(over, format!("{over_text} here")),
    };
    told.note(match line {
        Some(line) => format!("where the tin did not agree, a line says so: `{line}`"),
        None => "a line without a price of its own has the list price of that day for each: look at the prices and the counts"
            .to_owned(),
    })
}

/// A total of an order's sale that is less than the sale: the rest of it, after a deposit.
pub(crate) fn of_the_whole_sale(told: Diagnostic) -> Diagnostic {
    told.note("`total` is of the whole sale; what was paid before for the order is taken off by itself, and needs no line here")
}

/// A sale by an order of which less comes in than it is, though no deposit came: it may stand nowhere, or under another name.
pub(crate) fn after_a_deposit(told: Diagnostic, order: &str) -> Diagnostic {
    told.note(format!(
        "no money came for order `{order}` before this sale; what did stands in an entry of its own, `received DATE from NAME` with a line `SUM for order \"{order}\"`"
    ))
}

/// A sale of an order that had deposits, of which neither the rest nor the whole comes in. `sums`: the deposits, the rest, the whole.
pub(crate) fn beside_a_deposit(told: Diagnostic, order: &str, sums: &[String; 3]) -> Diagnostic {
    let [before, rest, whole] = sums;
    told.note(format!(
        "{before} came before for order `{order}` and is taken off by itself, so {rest} is still to pay of {whole}: `cash`, `card` and `check` come to the one or the other"
    ))
}

/// `before` is what the bill or sale comes to before its discount.
pub(crate) fn below_nothing(span: Span, what: &str, discount: &str, before: &str) -> Diagnostic {
    let message = format!("the discount of {discount} is more than the {before} that the {what} comes to");
    Diagnostic::new(code::BELOW_NOTHING, span, message)
}

pub(crate) fn two_prices(second: Span, first: Span) -> Diagnostic {
    Diagnostic::new(code::TWO_PRICES, second, "a line has one price: `at` for each, or `for` for all of it")
        .also(first, "the first price")
}

pub(crate) fn rest_paid_twice(second: Span, first: Option<Span>) -> Diagnostic {
    let told = Diagnostic::new(code::REST_PAID_TWICE, second, "`paid` without a sum pays all the rest, so it can stand once");
    first.into_iter().fold(told, |told, first| told.also(first, "all the rest, here"))
}

pub(crate) fn no_measure(span: Span, line: Span, text: &str, weight: bool) -> Diagnostic {
    let message = if weight {
        format!("this can't be shared by weight: nothing says what `{text}` weighs")
    } else {
        format!("this can't be shared by quantity: `{text}` is not counted in the same dimension as the other lines")
    };
    let told = Diagnostic::new(code::NO_MEASURE, span, message).also(line, "this line");
    if weight {
        told.note("a weight is given with the material, as `1 bf = 3.6 lb`; otherwise say `shared by value`")
    } else {
        told.note("lines that are expenses, or measured in another way, can be shared by value")
    }
}

pub(crate) fn pay_needs_per_hour(span: Span, text: &str, money: Decimal) -> Diagnostic {
    Diagnostic::new(code::PAY_NOT_KNOWN, span, format!("`{text}` is no pay: it is `at {money} per h` or `for` all of the time"))
        .fix("say for each hour", span, format!("at {money} per h"))
}

/// `at 2.50 per ea` of hired time: piecework is a sum.
pub(crate) fn pay_by_the_piece(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(
        code::PAY_NOT_KNOWN,
        span,
        format!("`{text}` is pay by the piece, and a time is paid by the hour or with a sum"),
    )
    .note("write the sum for all pieces in its place: for 12 at 2.50, `for 30.00`")
}

pub(crate) fn pay_without_helper(span: Span, text: &str) -> Diagnostic {
    Diagnostic::new(code::PAY_NOT_KNOWN, span, format!("`{text}` is pay, and nobody is named who gets it"))
        .note("the owner's hour has its rate in `shop`; hired time says `by NAME`")
}

pub(crate) fn pay_not_known(span: Span, name: &str, helpers: &[&str]) -> Diagnostic {
    let message = format!("what `{name}` gets is not known: `{name}` is no defined helper, and the line says no pay");
    let told = Diagnostic::new(code::PAY_NOT_KNOWN, span, message);
    let told = match crate::diagnostics::did_you_mean(name, helpers.iter().copied()) {
        Some(near) => told.note(near),
        None => told,
    };
    told.note("write `at 18.00 per h` or `for 45.00` behind the name, or define the helper with `costs`")
}

pub(crate) fn helper_without_rate(span: Span, name: &str, day: chrono::NaiveDate) -> Diagnostic {
    Diagnostic::new(code::PAY_NOT_KNOWN, span, format!("what `{name}` gets on {day} is not known: no `costs` is in force"))
}

pub(crate) fn recovered_more(span: Span, cost: &str) -> Diagnostic {
    Diagnostic::new(code::RECOVERED_MORE, span, format!("more was recovered than the {cost} that it cost"))
}

pub(crate) fn more_than_all(span: Span, why: &str) -> Diagnostic {
    Diagnostic::new(code::MORE_THAN_ALL, span, format!("more than a hundred parts of a hundred: {why}"))
}
