//! Slips that name a buyer where none stands: `refunded … to "Mrs. Hall"`, `delivered … to "Mrs. Hall"`; and of an order that is paid off.

use super::apart::Apart;
use super::no_entry::{as_text, day_of, left_out};
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::{Typed, is_quote};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{HEAD_PART_WORD, OWN_LINE, SMALL_WORD, UNKNOWN_HEAD};

pub(super) const RULES: &[SlipRule] = &[back_from_a_buyer, delivered, why_refunded, deposit_taken_off, balance, certificate];
/// Those of lines that read and stand where they may not.
pub(super) const MISPLACED: &[SlipRule] = &[why_refunded, deposit_taken_off, balance];

/// Words before the name of a person.
const TITLES: [&str; 12] = ["mr", "mrs", "ms", "miss", "dr", "mr.", "mrs.", "ms.", "dr.", "prof", "my", "a"];

/// What is told where a return names its buyer.
pub(in crate::syntax) const NO_BUYER_IN_RETURNED: &str =
    "the head of `returned` has the sale, by its order or its channel, and no buyer";
/// Where the buyer may stand, and what goes to a supplier.
pub(in crate::syntax) const BUYER_AS_NOTE: &str =
    "who it was may stand in a line `note \"…\"`; goods that go back to a supplier are `sent-back`";

/// Whether a person stands at a place of a head: a text in quotes, or a title and a name.
fn is_person(typed: &Typed<'_>, at: usize) -> bool {
    let word = typed.word(at);
    word.quoted || word.is_one_of(&TITLES) && !typed.word(at + 1).text.is_empty()
}

/// `refunded 2026-06-02 to "Mrs. Hall" 20.00`, `returned 2026-06-02 1 hat from Mr. Pike`
fn back_from_a_buyer(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    let begins = typed.context.column_one && first.is_one_of(&["refunded", "refund", "returned", "return", "returns", "refunds"]);
    let small = (1..typed.words.len()).find(|at| {
        let to = typed.word(*at).is_one_of(&["to", "from", "by"]);
        to && is_person(typed, at + 1)
    })?;
    let begin = 1 + usize::from(typed.word(1).is_date());
    let item = typed.slice(begin..small).trim_end_matches([',', ' ']);
    let counted = item.is_empty() || item.starts_with(|letter: char| letter.is_ascii_digit());
    if !begins || !counted || typed.words.iter().any(|word| word.is_one_of(&["order", "via"])) {
        return None;
    }
    let sum = (small + 2..typed.words.len()).find(|at| sum_of(typed, *at).is_some() && !typed.word(*at).is_date());
    let line = match sum.and_then(|at| Some((at, sum_of(typed, at)?))) {
        _ if !item.is_empty() && sum_of(typed, begin).is_some() && small == begin + 1 => {
            format!("\nrefunded {}", sum_of(typed, begin)?)
        }
        _ if !item.is_empty() => format!("\n{item}"),
        Some((at, sum)) => {
            let why = at + 1 + usize::from(typed.word(at + 1).is_one_of(&["for", "because"]));
            let why = as_text(typed, why..typed.words.len());
            if why.is_empty() { format!("\nrefunded {sum}") } else { format!("\nrefunded {sum} \"{why}\"") }
        }
        None => String::new(),
    };
    let day = day_of(typed);
    let slip = Slip::new(HEAD_PART_WORD, typed.range(small..small + 2), NO_BUYER_IN_RETURNED).note(BUYER_AS_NOTE);
    let slip = slip.fix("by the order", format!("returned {day} order \"NAME\"{line}"));
    Some(slip.fix("by the channel, where it had no order", format!("returned {day} via NAME{line}")))
}

/// `delivered 2026-05-30 to "Mrs. Hall"`
fn delivered(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.context.column_one || !is_delivery(typed.text) {
        return None;
    }
    let to = (1..typed.words.len()).find(|at| typed.word(*at).is("to"))?;
    let buyer = as_text(typed, to + 1..typed.words.len());
    let begin = 1 + usize::from(typed.word(1).is_date());
    let item = typed.slice(begin..to).trim_end_matches([',', ' ']);
    let item = if item.is_empty() { String::new() } else { format!("\n{item}") };
    let day = day_of(typed);
    let message = "goods that go to who bought them are `sold`; `sent` is to a place where they stay yours";
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), message);
    let slip = slip.fix("of an order, by its name", format!("sold {day} via NAME order \"NAME\"\nto \"{buyer}\"{item}"));
    Some(slip.fix("without an order", format!("sold {day} via NAME\nto \"{buyer}\"{item}")))
}

/// Whether a head says that goods went to a buyer: another word for `sent`, and a person.
pub(super) fn is_delivery(text: &str) -> bool {
    let first = text.split_whitespace().next().unwrap_or("").to_lowercase();
    let to = text.split_once(" to ").map_or("", |(_, to)| to.trim_start());
    let title = to.split_whitespace().next().unwrap_or("").to_lowercase();
    let person = to.starts_with(is_quote) || TITLES.contains(&title.as_str()) && title != "my" && title != "a";
    ["delivered", "deliver", "shipped", "mailed", "posted", "handed"].contains(&first.as_str()) && person
}

/// `20.00 for pulled thread` below `returned`
fn why_refunded(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Returned))?;
    let is_money = typed.word(0).text.contains(['.', '$']);
    let small = typed.word(1).is_one_of(&["for", "because", "back", "off"]);
    let why = as_text(typed, 1 + usize::from(small)..typed.words.len());
    (is_money && (small || typed.words.len() == 1)).then(|| {
        let message = format!("money back without goods is a line `refunded {sum}`");
        let line = if why.is_empty() { format!("refunded {sum}") } else { format!("refunded {sum} \"{why}\"") };
        Slip::new(SMALL_WORD, 0..typed.text.len(), message).fix("write it so", line)
    })
}

/// `less deposit 60.00`, `deposit paid` below `sold`
fn deposit_taken_off(typed: &Typed<'_>) -> Option<Slip> {
    let small = usize::from(typed.word(0).is_one_of(&["less", "minus", "-", "his", "her", "their", "the"]));
    let meant = typed.word(small).is_one_of(&["deposit", "prepayment", "down-payment", "prepaid"]);
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold) && typed.words.len() <= small + 4;
    (here && meant && !typed.words.iter().any(|word| word.is("for"))).then(|| {
        let message = "a deposit is taken off by itself where the head of the sale has its order: `order \"C-07\"`";
        left_out(typed, 0..typed.text.len(), message)
            .note("the deposit is an entry of its own, of the day on which it came: `received DATE from \"…\"` with a line `60.00 for order \"C-07\"`")
    })
}

/// `balance 180.00 by check`, `balance due 180.00` below `sold`
fn balance(typed: &Typed<'_>) -> Option<Slip> {
    let named = |at: usize| typed.word(at).is_one_of(&["balance", "rest", "remainder", "remaining"]);
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold) && typed.words.len() <= 6;
    let at = (0..typed.words.len()).find(|at| sum_of(typed, *at).is_some()).filter(|_| here && (0..2).any(named))?;
    let sum = sum_of(typed, at)?;
    let says = |words: &[&str]| typed.words.iter().any(|word| word.is_one_of(words));
    let right = match () {
        () if says(&["due", "owed", "owing", "unpaid", "later"]) => "unpaid".to_owned(),
        () if says(&["check", "cheque"]) => format!("check {sum}"),
        () if says(&["card"]) => format!("card {sum}"),
        () if says(&["cash"]) => format!("cash {sum}"),
        () => format!("paid {sum}"),
    };
    let message =
        format!("what a buyer paid of a sale that day is said with `{right}`; a deposit for its order is taken off by itself");
    Some(Slip::new(OWN_LINE, 0..typed.text.len(), message).fix("write it so", right))
}

/// How many certificates of one sale are written out.
const MOST_CERTIFICATES: usize = 6;

/// `1 gift certificate for 50.00`, `paid with gift certificate 38.00` below `sold`
pub(super) fn certificate(typed: &Typed<'_>) -> Option<Slip> {
    let named = (0..typed.words.len()).any(|at| {
        let gift = typed.word(at).is("gift")
            && typed.word(at + 1).is_one_of(&["certificate", "certificates", "card", "cards", "voucher"]);
        gift || typed.word(at).is_one_of(&["voucher", "vouchers", "gift-certificate", "gift-card"])
    });
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Sold | Verb::Received)) && named;
    let pays = typed.verb() == Some(Verb::Sold)
        && typed.words.iter().any(|word| word.is_one_of(&["paid", "pays", "with", "by", "used"]));
    if here && pays && !typed.word(0).is_number() {
        let message = "what a gift certificate pays is taken off by itself, where the head of the sale names its order";
        let slip = Slip::new(OWN_LINE, 0..typed.text.len(), message);
        return Some(
            slip.note("put `order \"…\"` into the head, with the name under which the certificate's money was received")
                .fix("leave it out", ""),
        );
    }
    if here && typed.verb() == Some(Verb::Sold) && typed.word(0).is_number() {
        let sum = (1..typed.words.len()).rev().find_map(|at| sum_of(typed, at)).unwrap_or("SUM");
        let message = "a gift certificate is money for a later order, and no sale: the sale comes when goods go out for it";
        let slip = Slip::new(OWN_LINE, 0..typed.text.len(), message);
        let slip = slip.note("the sale in which it is used names the same order in its head; where it is spent in parts, each part is an order of its own");
        let each = typed.words.iter().any(|word| word.is("at"));
        let many = typed.word(0).text.parse::<usize>().ok().filter(|many| each && *many <= MOST_CERTIFICATES).unwrap_or(1);
        let line = vec![format!("{sum} for order \"NAME\""); many].join("\n    ");
        let what = "an entry of its own in place of the line";
        return Some(slip.in_an_entry(Apart { what, verb: "received", line, behind: Some(" from NAME".to_owned()) }));
    }
    here.then(|| {
        let sum = (0..typed.words.len()).rev().find_map(|at| sum_of(typed, at).filter(|_| at > 0)).unwrap_or("50.00");
        let message = "a gift certificate is money for a later order, and no sale: the sale comes when goods go out for it";
        let slip = Slip::new(OWN_LINE, 0..typed.text.len(), message);
        let slip = slip.note(format!("the money: `received DATE from \"…\"` with a line `{sum} for order \"certificate 1\"`"));
        slip.note("the goods: `sold DATE via CHANNEL order \"certificate 1\"`, which takes it off; where it is spent in parts, each part is an order of its own")
            .settled()
    })
}
