//! Slips of what is paid: the rest of a bill, hours and pieces of a helper, fees one behind the other, a tin that is short.

use super::date::month_number;
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::Typed;
use crate::syntax::Verb;
use crate::syntax::slip_errors::{DETAIL_FORM, OWN_LINE, SMALL_WORD, SUM_WITHOUT_FOR};

pub(super) const RULES: &[SlipRule] =
    &[rest_of_a_bill, paid_down, rest_later, of_so_much_work, bill_on, bill_and_remark, bill_of_words, fees_in_a_row, tin];

/// What begins a line of its own there.
const LINE_WORDS: [&str; 15] = [
    "freight",
    "shipping",
    "postage",
    "discount",
    "sales-tax",
    "tax",
    "credit",
    "total",
    "paid",
    "unpaid",
    "note",
    "file",
    "receipt",
    "expected",
    "fee",
];

/// Whether a word begins a line of a sale or a bill.
pub(super) fn is_line_word(word: &str) -> bool {
    LINE_WORDS.contains(&word)
}

/// `450.00 rest of the press`, `400.00 balance` below `paid`
fn rest_of_a_bill(typed: &Typed<'_>) -> Option<Slip> {
    const REST: [&str; 6] = ["rest", "balance", "remainder", "remaining", "installment", "instalment"];
    let here = typed.is_detail() && typed.verb() == Some(Verb::Paid) && sum_of(typed, 0).is_some();
    let at = 1 + usize::from(typed.word(1).is("for"));
    let at = at + usize::from(typed.word(at).is_one_of(&["the", "a", "last", "first", "second"]));
    if !here || !typed.word(at).is_one_of(&REST) {
        return None;
    }
    let sum = sum_of(typed, 0)?;
    let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(1..typed.words.len()), format!("a bill is paid by the day on which it was entered: `{sum} for bought DATE`"))
        .note("or by its number, `for receipt \"118\"`; its `bought` entry says what was paid at once, and `unpaid` or nothing of the rest");
    Some(slip.fix("by its day", format!("{sum} for bought DATE")).fix("by its number", format!("{sum} for receipt \"NAME\"")))
}

/// `paid 400.00 down`, `paid 400.00 now, rest in February` below `bought` or `sold`
fn paid_down(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Bought | Verb::Sold));
    let sum = sum_of(typed, 1).filter(|_| here && typed.word(0).is("paid"))?;
    let small =
        ["down", "now", "at", "once", "today", "first", "deposit", "as", "a", "the", "rest", "in", "later", "to", "be", "paid"];
    let behind = typed.words.get(2..).filter(|behind| !behind.is_empty())?;
    if !behind.iter().all(|word| word.is_one_of(&small) || month_number(word.text).is_some())
        || !typed.word(2).is_one_of(&small[..9])
    {
        return None;
    }
    let slip = Slip::new(
        DETAIL_FORM,
        typed.range(2..typed.words.len()),
        format!("a part that was paid at once is said with its day: `paid {sum} on DATE`"),
    )
    .note("the rest is owed until a `paid` entry settles it");
    let day = typed.near_date.map_or_else(|| "DATE".to_owned(), |day| day.to_string());
    Some(slip.fix("the rest stays owed", format!("paid {sum} on {day}")))
}

/// `rest in February`, `rest later`, `balance due in March` below `bought` or `sold`
fn rest_later(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Bought | Verb::Sold));
    let first = typed.word(0).is_one_of(&["rest", "balance", "remainder"]);
    let is_when = typed.word(1).is_one_of(&["in", "later", "due", "next", "on", "by", "to", "after", "unpaid", "open"]);
    (here && first && is_when && (0..typed.words.len()).all(|at| sum_of(typed, at).is_none())).then(|| {
        Slip::new(DETAIL_FORM, typed.range(0..typed.words.len()), "what is not paid yet needs no line where another says what was paid at once: `paid 400.00 on DATE`")
            .note("the rest is owed until a `paid` or `received` entry settles it, on its day; where nothing was paid at once, the line is `unpaid`")
            .fix("leave it out", String::new())
            .fix("or, where nothing was paid at once", "unpaid".to_owned())
    })
}

/// `45.00 for 3 hours`, `20.00 for 8 book blocks` below `paid`: what a helper gets
fn of_so_much_work(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Paid);
    let sum = sum_of(typed, 0).filter(|_| here && typed.word(1).is("for"))?;
    let length = typed.words.len();
    let counted = typed.word(2).is_number() || super::time::time_at(typed, 2) > 0;
    if !counted || length < 4 || (2..length).any(|at| typed.word(at).quoted || typed.word(at).is_date()) {
        return None;
    }
    let said = typed.slice(2..length);
    let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(2..length), "behind `for` stands who or what is paid, and how much work it was is a remark")
        .note("what a helper earned stands in the batch or in `worked`, `took 3h sanding by NAME`; `for NAME` here pays what is owed for it, where the helper is `paid later`");
    Some(slip.fix("to a helper, or for an expense", format!("{sum} for NAME \"{said}\"")))
}

/// `insurance 210.00 for the year`, `240.00 insurance for the year`, `rent 120.00 for March` below `paid` or `bought`
fn bill_and_remark(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Paid | Verb::Bought));
    let length = typed.words.len();
    let money_first = typed.verb() == Some(Verb::Paid) && sum_of(typed, 0).is_some();
    let (name, at) = if money_first { (1, 0) } else { (0, 1) };
    let sum = sum_of(typed, at).filter(|_| here && length > 2 && typed.word(name).is_name())?;
    let carried = typed.word(name).is_one_of(&["postage", "shipping"]) && typed.verb() == Some(Verb::Paid);
    let known = is_line_word(typed.word(name).text) && !carried;
    let behind = typed.word(2).is_one_of(&["for", "until", "till", "this"]);
    if known || !behind || sum_of(typed, 3).is_some() || (2..length).any(|at| typed.word(at).quoted) {
        return None;
    }
    let (name, said) = (typed.word(name).text, typed.slice(2..length));
    let slip =
        Slip::new(SUM_WITHOUT_FOR, typed.range(0..length), format!("an amount of money stands before `for`: `{sum} for {name}`"));
    Some(slip.fix("write it so", format!("{sum} for {name} \"{said}\"")))
}

/// `12.00 disposal for to-order`: an expense, and for what
fn bill_on(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Paid) && typed.words.len() == 4;
    let sum =
        sum_of(typed, 0).filter(|_| here && typed.word(1).is_name() && typed.word(2).is("for") && typed.word(3).is_name())?;
    let (name, what) = (typed.word(1).text, typed.word(3).text);
    if is_line_word(name) || month_number(what).is_some() {
        return None;
    }
    let message =
        format!("an amount of money stands before `for`, and what it was for behind `on`: `{sum} for {name} on {what}`");
    let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(1..4), message);
    let slip = slip.fix("for a line, a channel or a product", format!("{sum} for {name} on {what}"));
    Some(slip.fix("or with a remark", format!("{sum} for {name} \"for {what}\"")))
}

/// `8.50 cleaning screen wash` below `paid`
fn bill_of_words(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let here = typed.is_detail() && typed.verb() == Some(Verb::Paid) && (3..=5).contains(&length);
    let sum = sum_of(typed, 0).filter(|_| here && typed.word(0).text.contains('.'))?;
    if !(1..length).all(|at| typed.word(at).is_name() && !typed.word(at).comma) || is_line_word(typed.word(1).text) {
        return None;
    }
    let (name, said) = (typed.word(1).text, typed.slice(2..length));
    let joined = typed.slice(1..length).split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    let message = format!("an amount of money stands before `for`, and behind it one name: `{sum} for {name}`");
    let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(1..length), message);
    let slip = slip.fix("with a remark", format!("{sum} for {name} \"{said}\""));
    Some(slip.fix("or as one name", format!("{sum} for {joined}")))
}

/// `listing-site fee 2.60, listing 0.20`, `fee 2.60 and 0.20 listing` below `sold`
fn fees_in_a_row(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.is_detail() || typed.verb() != Some(Verb::Sold) {
        return None;
    }
    let fee = (0..3).find(|at| typed.word(*at).is_one_of(&["fee", "fees"]))?;
    // A stall is no charge of a channel's sale: it is paid in an entry of its own.
    const STALL: [&str; 10] = ["stall", "booth", "table", "pitch", "market", "parking", "entry", "site", "fair", "show"];
    let named = (0..fee).all(|at| typed.word(at).is_name() && !typed.word(at).is_one_of(&STALL));
    let sum = sum_of(typed, fee + 1).filter(|_| named)?;
    let rest = fee + 2;
    let joined = usize::from(typed.word(rest).is_one_of(&["plus", "and", "+"]));
    let (one, two) = (rest + joined, rest + joined + 1);
    // `fee 2.29 and postage 7.80` are two lines.
    if is_line_word(typed.word(one).text) && !typed.word(one).is("fee") || is_line_word(typed.word(two).text) {
        return None;
    }
    if two + 1 != typed.words.len() && rest != typed.words.len() || fee == 0 && rest == typed.words.len() {
        return None;
    }
    let message = "what the channel took of this sale is a line `fee`, and another charge of it `extra fee`";
    let slip = Slip::new(OWN_LINE, typed.range(0..typed.words.len()), message);
    if rest == typed.words.len() {
        return Some(slip.fix("write it so", format!("fee {sum}")));
    }
    let (more, word) = match (sum_of(typed, one), sum_of(typed, two)) {
        (Some(more), None) => (more, typed.word(two)),
        (None, Some(more)) => (more, typed.word(one)),
        _ => return None,
    };
    Some(slip.fix("write it so", format!("fee {sum}\nextra fee {more} \"{}\"", word.text)))
}

/// `cash box 2.28 short`, `till over 4.00`, `2.28 short in the tin`
fn tin(typed: &Typed<'_>) -> Option<Slip> {
    const TIN: [&str; 9] = ["cash", "box", "cashbox", "cash-box", "till", "tin", "drawer", "register", "float"];
    const SMALL: [&str; 9] = ["was", "is", "the", "in", "by", "my", "came", "up", "a"];
    if !typed.is_detail() || typed.verb() != Some(Verb::Sold) {
        return None;
    }
    let which = |at: &usize| typed.word(*at).is_one_of(&["short", "under", "missing", "over", "more"]);
    let all = || 0..typed.words.len();
    let (said, sum) = (all().find(which)?, all().find(|at| sum_of(typed, *at).is_some())?);
    let others = || all().filter(|at| *at != said && *at != sum);
    let in_tin = others().any(|at| typed.word(at).is_one_of(&TIN));
    if !in_tin || !others().all(|at| typed.word(at).is_one_of(&TIN) || typed.word(at).is_one_of(&SMALL)) {
        return None;
    }
    let word = if typed.word(said).is_one_of(&["over", "more"]) { "over" } else { "short" };
    let right = format!("{word} {}", sum_of(typed, sum)?);
    let slip = Slip::new(SMALL_WORD, typed.range(all()), format!("a tin that did not agree is a line of its own: `{right}`"));
    Some(slip.fix("write it so", right))
}
