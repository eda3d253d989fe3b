//! Slips of the lines below `shop` and `choices`.

use super::super::slip::Slip;
use super::super::typed::Typed;
use super::said::Said;
use crate::syntax::DefinitionWord;

/// Words for the owner's own hour.
const OWN_HOUR: [&str; 12] =
    ["owner", "owner's", "owners", "my", "hourly", "labor", "labour", "wage", "wages", "salary", "rate", "pay"];
/// Words that begin what is said of when the book begins.
const BEGINS: [&str; 17] = [
    "book",
    "books",
    "begins",
    "begin",
    "began",
    "begun",
    "starts",
    "start",
    "started",
    "open",
    "opens",
    "opened",
    "opening",
    "since",
    "founded",
    "established",
    "year",
];

/// `owner rate 25.00 per hour`, `basis cash`, `12 hours a week`, `schedule c`
pub(super) fn line_of_shop(typed: &Typed<'_>) -> Option<Slip> {
    let said = Said::of(typed, DefinitionWord::Shop)?;
    own_hour(&said)
        .or_else(|| methods(&said))
        .or_else(|| form(&said))
        .or_else(|| currency(typed, &said))
        .or_else(|| home_workshop(&said))
        .or_else(|| of_the_book(typed, &said))
}

/// `hourly rate 25`, `overhead rate 3.50`, `hours per week 12`
fn own_hour(said: &Said<'_, '_>) -> Option<Slip> {
    let figure = said.figure()?;
    if said.has(&["week", "weekly"]) {
        return said.meant("the hours that you have are said per week", format!("hours {figure} per week"));
    }
    if said.begins(&["overhead"]) {
        return said.meant("overhead is a sum for each hour of making", format!("overhead {figure} per h"));
    }
    let own = said.begins(&OWN_HOUR) && said.percent().is_none();
    own.then(|| said.meant("what an hour of your own counts for is `owner time`", format!("owner time {figure} per h")))?
}

/// `basis cash`, `fifo`, `stock as inventory`
fn methods(said: &Said<'_, '_>) -> Option<Slip> {
    let basis = said.begins(&["basis", "cash", "accrual", "method", "accounting", "books"]);
    if basis && said.has(&["cash", "accrual"]) {
        let which = if said.has(&["cash"]) { "cash basis" } else { "accrual basis" };
        return said.meant(format!("this is written `{which}`"), which).map(Slip::sure);
    }
    if said.begins(&["costing", "cost", "costs", "fifo", "average", "lifo", "stock", "inventory", "method"]) {
        let fifo = said.has(&["fifo"]) || said.has(&["first"]) && said.has(&["out"]) && !said.has(&["last"]);
        if fifo || said.has(&["average", "avg", "mean"]) {
            let which = if fifo { "costing fifo" } else { "costing average" };
            return said.meant(format!("this is written `{which}`"), which).map(Slip::sure);
        }
        if said.has(&["lifo", "last"]) {
            let told = said.told("a book takes the oldest first or the average of what is there, never the newest first");
            return Some(told.fix("the oldest first", "costing fifo").fix("the average", "costing average"));
        }
    }
    if said.begins(&["stock", "inventory", "supplies", "goods", "materials", "keep"]) {
        let which = if said.has(&["supplies"]) { "supplies" } else { "inventory" };
        let kept = said.has(&["inventory", "supplies"]);
        return kept.then(|| said.meant("how the tax year sees the goods", format!("stock kept as {which}")))?;
    }
    None
}

/// `schedule c`, `form us-schedule-c`
fn form(said: &Said<'_, '_>) -> Option<Slip> {
    if !said.begins(&["tax", "form", "schedule", "taxes", "us-schedule-c", "uk-sa103f", "ca-t2125", "t2125", "sa103f"]) {
        return None;
    }
    let (us, uk, ca) = (["us-schedule-c", "schedule-c", "c"], ["uk-sa103f", "sa103f", "sa103"], ["ca-t2125", "t2125"]);
    let form = if said.has(&us) {
        "us-schedule-c"
    } else if said.has(&uk) {
        "uk-sa103f"
    } else if said.has(&ca) {
        "ca-t2125"
    } else {
        return None;
    };
    said.meant(format!("this form is called `{form}`"), format!("tax form {form}"))
}

/// `dollars`, `currency US dollars`, `USD`
fn currency(typed: &Typed<'_>, said: &Said<'_, '_>) -> Option<Slip> {
    let code = |word: &str| word.len() == 3 && word.bytes().all(|letter| letter.is_ascii_uppercase());
    if said.len() == 1 && code(typed.text) {
        return said.meant("the currency of the books is said with its word", format!("currency {}", typed.text));
    }
    let message = "a currency is its three capital letters in ISO 4217";
    let meant = |code: &str| said.meant(message, format!("currency {code}"));
    if !said.begins(&["currency", "money", "dollars", "dollar", "euros", "euro", "pounds", "us", "$", "€", "£"]) {
        None
    } else if said.has(&["euro", "euros", "€"]) {
        meant("EUR")
    } else if said.has(&["pound", "pounds", "sterling", "£"]) {
        meant("GBP")
    } else if said.has(&["us", "u.s.", "us$", "american"]) {
        meant("USD")
    } else if said.has(&["canadian"]) {
        meant("CAD")
    } else if said.has(&["dollar", "dollars", "$"]) {
        let dollars = ["USD", "CAD", "AUD"];
        Some(dollars.iter().fold(said.told(message), |told, code| told.fix(format!("in {code}"), format!("currency {code}"))))
    } else {
        None
    }
}

/// `home office 200 square feet`, `workshop 12% of the house`
fn home_workshop(said: &Said<'_, '_>) -> Option<Slip> {
    if !said.begins(&["home", "workshop", "garage", "house"]) {
        return None;
    }
    if let Some(percent) = said.percent() {
        return said.meant("the part of the house that is the workshop", format!("home workshop {percent} of house costs"));
    }
    let figure = said.figure().filter(|_| said.has(&["sq", "square", "sqft", "feet", "ft"]))?;
    let message = "a workshop at home by its floor says that the simplified way is taken";
    said.meant(message, format!("home workshop {figure} sq ft, simplified"))
}

/// `begins 2026-01-01`, `sales-tax ny-state`, `whole dollar`, `owner "Ann"`
fn of_the_book(typed: &Typed<'_>, said: &Said<'_, '_>) -> Option<Slip> {
    if said.begins(&BEGINS) && typed.words.iter().any(|word| word.is_date() || word.is_number()) {
        return Some(said.said_elsewhere(
            "the shop says no day on which its book begins: it begins with its first entry",
            "what was there by then stands at column 1 in `opened 2026-01-01`; where nothing was, it needs no entry",
        ));
    }
    if said.begins(&["sales-tax", "sales", "tax"]) {
        let to = said.last_name().filter(|_| said.has(&["sales-tax", "sales"]))?;
        return said.meant("to whom the sales tax goes is said with `to`", format!("sales-tax to {to}"));
    }
    if said.has(&["whole"]) && said.has(&["dollar", "dollars", "rounding", "round", "numbers"]) {
        return said.meant("the sheet in whole dollars is written `whole dollars`", "whole dollars");
    }
    let text = typed.words.get(1).filter(|word| word.quoted && typed.words.len() == 2)?;
    let kept = said.begins(&["owner", "address", "town", "city", "state", "phone", "email", "name", "website", "web"]);
    kept.then(|| said.meant("what else is to be kept of the shop is a note", format!("note {}", text.text)))?
}
