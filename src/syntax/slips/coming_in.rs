//! Slips of money that comes in for an order or goes back to a buyer: `100.00 deposit for family album`, `75.00 for 3 months yarn club`, `50.00 deposit back`,
//! `buyer paid postage 5.50`.

use super::apart::Apart;
use super::no_entry::{NEVER_CAME_HOW, as_text};
use super::slip::{Slip, SlipRule};
use super::spoken::{one_name, party, sum_of};
use super::typed::{Typed, Word};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{DETAIL_FORM, NAME_SPELLING, SMALL_WORD, SUM_WITHOUT_FOR};

pub(super) const RULES: &[SlipRule] = &[
    deposit_of_an_order,
    deposit_for,
    paid_ahead,
    deposit_back,
    refunded_why,
    for_an_invoice,
    refunded_to,
    let_go,
    paid_on_the_way,
    toward_a_bill,
    paid_beside,
    came_beside,
    the_rest_by,
    sum_alone,
    buyer_paid,
];

/// Words that say that money came before the goods.
const AHEAD: [&str; 9] =
    ["deposit", "down", "advance", "prepayment", "down-payment", "prepaid", "upfront", "part-payment", "installment"];

/// The text of some words, for quotes; `None` where it has some itself or says nothing.
fn plain<'t>(typed: &Typed<'t>, words: std::ops::Range<usize>) -> Option<&'t str> {
    let said = typed.slice(words).trim_matches([',', ' ']);
    (!said.is_empty() && !said.contains('"')).then_some(said)
}

/// `150 deposit for fire-set order "ANNA"`, `150 deposit order "ANNA"`
fn deposit_of_an_order(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Received))?;
    let order = (1..typed.words.len().saturating_sub(1)).rfind(|at| typed.word(*at).is("order") && typed.word(at + 1).quoted);
    let order = order.or_else(|| typed.words.len().checked_sub(2).filter(|at| *at > 1 && typed.word(*at).is("order")))?;
    // `150 for order "ANNA" fire-set`
    if order + 2 < typed.words.len() {
        let said = plain(typed, order + 2..typed.words.len()).filter(|_| order == 2 && typed.word(1).is("for"))?;
        let slip = Slip::new(
            NAME_SPELLING,
            typed.range(order + 2..typed.words.len()),
            format!("a remark stands in quotes: `\"{said}\"`"),
        );
        return Some(slip.fix("write quotes", format!("{} \"{said}\"", typed.slice(0..order + 2))));
    }
    let small = |at: usize| {
        let of_it =
            ["for", "on", "towards", "toward", "of", "the", "a", "an", "her", "his", "their", "paid", "as", "her", "with"];
        typed.word(at).is_one_of(&of_it) || typed.word(at).is_one_of(&AHEAD)
    };
    let begins = (1..order).find(|at| !small(*at)).unwrap_or(order);
    let ends = (begins..order).rev().find(|at| !small(*at)).map_or(begins, |last| last + 1);
    let memo = if begins < ends { format!(" \"{}\"", plain(typed, begins..ends)?) } else { String::new() };
    let named = typed.word(order + 1).text;
    let right = format!("{sum} for order {named}");
    let slip = Slip::new(
        SUM_WITHOUT_FOR,
        typed.range(1..typed.words.len()),
        format!("a deposit is money for an order: `{right}`; what it is for may follow as a remark"),
    );
    Some(slip.fix("write it so", format!("{right}{memo}")))
}

/// `100.00 deposit for family album`, `100.00 down on the table`
fn deposit_for(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Received))?;
    let at = 1 + usize::from(typed.word(1).is_one_of(&["as", "for", "a"]));
    let small = |at: usize| {
        typed.word(at).is_one_of(&["for", "on", "towards", "toward", "of", "the", "a", "her", "his", "their", "paid"])
    };
    if !typed.word(at).is_one_of(&AHEAD) || !small(at + 1) {
        return None;
    }
    let begins = (at + 1..typed.words.len()).find(|at| !small(*at))?;
    let what = plain(typed, begins..typed.words.len())?;
    // What was ordered, with its count and price, is no name of an order.
    let counted = (begins..typed.words.len()).any(|at| typed.word(at).is_number());
    let right = if counted { format!("{sum} for order \"NAME\" \"{what}\"") } else { format!("{sum} for order \"{what}\"") };
    let slip = Slip::new(
        SUM_WITHOUT_FOR,
        typed.range(1..typed.words.len()),
        format!("a deposit is money for an order, which has a name: `{right}`"),
    )
    .note("the sale has that order's name in its head later");
    Some(slip.fix("write it so", right))
}

/// `75.00 for 3 months yarn club paid ahead` below `received`
fn paid_ahead(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Received))?;
    let length = typed.words.len();
    if !typed.word(1).is("for") || length < 4 || typed.word(2).is_one_of(&["order", "orders", "sold", "receipt", "bought"]) {
        return None;
    }
    let what = plain(typed, 2..length)?;
    if (2..length).any(|at| typed.word(at).is_one_of(&["sales", "sale", "sold"])) {
        let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(2..length), "money for sales names their days, or their orders");
        let slip = slip.note("several days may stand one behind the other: `for sold 2026-04-10, 2026-04-30`");
        return Some(slip.fix("by the day of the sale", format!("{sum} for sold DATE")));
    }
    let slip = Slip::new(
        SUM_WITHOUT_FOR,
        typed.range(2..length),
        "behind `for` stands an income by its name, or an order, a sale or a bill",
    )
    .note("what is paid ahead for several deliveries is an order for each: the sale that delivers takes off what its order got");
    let order = format!("{sum} for order \"{what}\"");
    let income = format!("{sum} for NAME \"{what}\"");
    let ahead = (2..length)
        .any(|at| typed.word(at).is_one_of(&AHEAD) || typed.word(at).is_one_of(&["ahead", "club", "subscription", "commission"]));
    // So many goods were sold before, or are ordered; anything else is for no goods.
    Some(match () {
        () if ahead => slip.fix("paid ahead for an order", order).fix("or an income, without goods", income),
        () if typed.word(2).is_number() => slip
            .fix("for goods that are sold already, by the day of their sale", format!("{sum} for sold DATE"))
            .fix("or paid ahead for an order", format!("{sum} for order \"NAME\" \"{what}\"")),
        () => slip.fix("an income, without goods", income).fix("or paid ahead for an order", order),
    })
}

/// `50.00 deposit back, he changed his mind`, `20.00 back` below `returned`
fn deposit_back(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Returned))?;
    let deposit = usize::from(typed.word(1).is_one_of(&AHEAD) || typed.word(1).is_one_of(&["money", "cash", "paid", "given"]));
    let at = 1 + deposit;
    if !typed.word(at).is_one_of(&["back", "returned", "refunded", "refund"]) {
        return None;
    }
    let why = plain(typed, at + 1..typed.words.len()).map_or_else(String::new, |why| format!(" \"{why}\""));
    let right = format!("refunded {sum}{why}");
    let slip =
        Slip::new(SMALL_WORD, typed.range(0..typed.words.len()), format!("money back without goods is a line `refunded {sum}`"))
            .note("a deposit that goes back has its order in the head: `returned DATE order \"NAME\"`");
    Some(slip.fix("write it so", right))
}

/// `42.00 "bounced check"` below `returned`: money back, and why
pub(super) fn refunded_why(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|sum| typed.is_detail() && typed.verb() == Some(Verb::Returned) && sum.contains('.'))?;
    let why = typed.word(1);
    (why.quoted && typed.words.len() == 2).then(|| {
        let right = format!("refunded {sum} {}", why.text);
        let slip = Slip::new(SMALL_WORD, 0..typed.text.len(), format!("money back without goods is a line `refunded {sum}`"));
        let slip = if why.text.to_lowercase().contains("bounce") { slip.note(NEVER_CAME_HOW) } else { slip };
        slip.fix("write it so", right)
    })
}

/// `270.00 for invoice "GG-1" by check` below `received` or `paid`
fn for_an_invoice(typed: &Typed<'_>) -> Option<Slip> {
    let verb = typed.verb().filter(|verb| typed.is_detail() && matches!(verb, Verb::Received | Verb::Paid))?;
    let at = 1 + usize::from(typed.word(1).is("for"));
    let invoice = typed.word(at).is_one_of(&["invoice", "inv", "bill"]);
    let number = typed.word(at + 1);
    let sum = sum_of(typed, 0).filter(|_| invoice && !number.text.is_empty() && typed.words.len() <= at + 4)?;
    if !number.quoted && !number.text.contains(|letter: char| letter.is_ascii_digit()) {
        return None;
    }
    let word = if verb == Verb::Received { "order" } else { "receipt" };
    let number = number.text.trim_matches(super::typed::is_quote);
    let right = format!("{sum} for {word} \"{number}\"");
    let message = format!(
        "a bill is named by its number, the one in the head of its {}: `{right}`",
        if word == "order" { "sale" } else { "purchase" }
    );
    Some(Slip::new(SUM_WITHOUT_FOR, typed.range(1..typed.words.len()), message).fix("write it so", right))
}

/// `5.00 let go`, `5.00 forgiven` below `received`
pub(super) fn let_go(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Received))?;
    let said = as_text(typed, 1..typed.words.len());
    let waived =
        ["let go", "forgiven", "waived", "written off", "knocked off", "let off"].iter().any(|known| said.starts_with(known));
    waived.then(|| {
        let message =
            "what a buyer need not pay is taken off the sale by an entry of its own, `returned`, with a line `refunded`";
        let slip = Slip::new(DETAIL_FORM, 0..typed.text.len(), message);
        let line = format!("refunded {sum} \"{}\"", said);
        let what = "an entry of its own in place of the line";
        slip.note("in place of `via NAME`, `order \"…\"` names the sale").in_an_entry(Apart {
            what,
            verb: "returned",
            line,
            behind: Some(" via NAME".to_owned()),
        })
    })
}

/// `7.00 for parking` below `drove`, `worked` or `sent`
pub(super) fn paid_on_the_way(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Drove | Verb::Worked | Verb::Sent | Verb::BroughtBack));
    let sum =
        sum_of(typed, 0).filter(|_| here && typed.word(1).is("for") && typed.word(2).is_name() && typed.words.len() == 3)?;
    let message = "what you paid is an entry of its own";
    let slip = Slip::new(DETAIL_FORM, 0..typed.text.len(), message);
    let what = "an entry of its own in place of the line";
    let line = format!("{sum} for {}", typed.word(2).text);
    Some(slip.in_an_entry(Apart { what, verb: "paid", line, behind: Some(" to NAME".to_owned()) }))
}

/// `50.00 toward their bill`, `50 on account` below `received`
fn toward_a_bill(typed: &Typed<'_>) -> Option<Slip> {
    const BILL: [&str; 8] = ["bill", "account", "balance", "invoice", "owed", "owe", "owes", "debt"];
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Received))?;
    let toward = typed.word(1).is_one_of(&["toward", "towards", "on", "against", "off", "for", "of"]);
    let length = typed.words.len();
    let plain = (1..length).all(|at| typed.word(at).text.chars().all(|letter| letter.is_alphabetic() || letter == '\''));
    if !toward || !plain || !(2..length).any(|at| typed.word(at).is_one_of(&BILL)) {
        return None;
    }
    let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(1..length), "money for a bill names the sale: its day, or its order");
    let slip = slip.note("a part of what is owed is entered as it comes; the rest stays owed");
    let slip = slip.fix("for the sale of a day", format!("{sum} for sold DATE"));
    Some(slip.fix("for the sale of an order", format!("{sum} for order \"NAME\"")))
}

/// `paid 40.00 for the room` below `received`, `sold` or `worked`: what was paid is an entry of its own
fn paid_beside(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Received | Verb::Sold | Verb::Worked | Verb::Drove));
    let sum = sum_of(typed, 1).filter(|_| here && typed.word(0).is("paid") && typed.word(2).is("for"))?;
    let begins = 3 + usize::from(typed.word(3).is_one_of(&["the", "a", "my", "our"]));
    // What the buyer paid for all of it.
    if typed.word(begins).is_one_of(&["all", "both", "everything", "it", "them", "lot", "goods", "order"]) {
        return None;
    }
    let said = plain(typed, begins..typed.words.len())?;
    let message = format!("what you paid is an entry of its own: `paid DATE to NAME`, and below it `{sum} for NAME`");
    let slip = Slip::new(DETAIL_FORM, 0..typed.text.len(), message);
    let line = match one_name(typed, begins..typed.words.len()) {
        Some(name) => format!("{sum} for {name}"),
        None => format!("{sum} for NAME \"{said}\""),
    };
    let what = "an entry of its own in place of the line";
    Some(slip.in_an_entry(Apart { what, verb: "paid", line, behind: Some(" to NAME".to_owned()) }))
}

/// `received 40.00 from post office insurance` below another entry
fn came_beside(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb().is_some_and(|verb| verb != Verb::Noted) && typed.words.len() >= 4;
    let sum = sum_of(typed, 1).filter(|_| here && typed.word(0).is_one_of(&["received", "got"]) && typed.word(2).is("from"))?;
    let from = party(typed, 3..typed.words.len())?;
    let message = "money that came is an entry of its own";
    let slip = Slip::new(DETAIL_FORM, 0..typed.text.len(), message);
    let what = "an entry of its own in place of the line";
    Some(slip.in_an_entry(Apart {
        what,
        verb: "received",
        line: format!("{sum} for NAME"),
        behind: Some(format!(" from {from}")),
    }))
}

/// `card the rest`, `rest by card` below `sold`
fn the_rest_by(typed: &Typed<'_>) -> Option<Slip> {
    let how = typed.words.iter().find(|word| word.is_one_of(&["cash", "card", "check"]))?;
    let rest = |word: &Word<'_>| word.is_one_of(&["rest", "remainder", "balance"]);
    let small = |word: &Word<'_>| rest(word) || word.is_one_of(&["the", "by", "in", "as", "with", "was", "of", "it", how.text]);
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold);
    let meant = here && typed.words.iter().any(rest) && typed.words.iter().all(small);
    meant.then(|| {
        let message = format!("how much came as {} follows the word: `{} 38.00`", how.text, how.text);
        Slip::new(SMALL_WORD, 0..typed.text.len(), message).fix("with the sum", format!("{} SUM", how.text))
    })
}

/// `refunded 60 to "Bob"`, `refunded 12 for the scratch` below `returned`
fn refunded_to(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Returned) && typed.word(0).is("refunded");
    let sum = sum_of(typed, 1).filter(|_| here && typed.word(2).is_one_of(&["to", "for", "because", "as", "by"]))?;
    let said = as_text(typed, 2..typed.words.len());
    let slip = Slip::new(SMALL_WORD, typed.range(2..typed.words.len()), "to whom and why money goes back is a remark, in quotes");
    Some(slip.fix("write it so", format!("refunded {sum} \"{said}\"")))
}

/// `38.40`, `11 "overcharged flat"` below `received`
fn sum_alone(typed: &Typed<'_>) -> Option<Slip> {
    let length = typed.words.len();
    let said = length == 2 && typed.word(1).quoted;
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && (length == 1 || said))?;
    if typed.verb() != Some(Verb::Received) {
        return None;
    }
    let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(0..1), format!("{sum} for what?"));
    let slip = if said { slip.note(CREDITED) } else { slip };
    if said {
        let memo = typed.word(1).text;
        let slip = slip.fix("for the sale of a day", format!("{sum} for sold DATE {memo}"));
        let slip = slip.fix("for an order, or before its sale as a deposit", format!("{sum} for order \"NAME\" {memo}"));
        return Some(slip.fix("for work, without goods", format!("{sum} for NAME {memo}")));
    }
    let slip = slip
        .note("what a channel pays is for its sales: their days or their orders may stand one behind the other, `for sold 2026-03-20, 2026-03-27`");
    let slip = slip.fix("for the sale of a day", format!("{sum} for sold DATE"));
    let slip = slip.fix("for an order, or before its sale as a deposit", format!("{sum} for order \"NAME\""));
    Some(slip.fix("for work, without goods", format!("{sum} for NAME")))
}

/// What comes back from a supplier.
const CREDITED: &str = "what a supplier gives back is no income: `credited DATE by NAME`, and below it `11.00 off NAME`, the goods that cost too much";

/// `buyer paid postage 5.50`, `she paid 5.50 shipping` below `sold`
fn buyer_paid(typed: &Typed<'_>) -> Option<Slip> {
    const WHO: [&str; 8] = ["buyer", "customer", "client", "they", "she", "he", "shopper", "charged"];
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold) && typed.word(0).is_one_of(&WHO);
    let begins = 1 + usize::from(typed.word(1).is_one_of(&["paid", "pays", "pay", "charged", "was"]));
    let begins = begins + usize::from(typed.word(begins).is_one_of(&["the", "for", "extra"]));
    if !here || begins + 2 != typed.words.len() {
        return None;
    }
    let (word, sum) = match (sum_of(typed, begins), sum_of(typed, begins + 1)) {
        (Some(sum), None) => (typed.word(begins + 1), sum),
        (None, Some(sum)) => (typed.word(begins), sum),
        _ => return None,
    };
    let line = match () {
        () if word.is_one_of(&["postage", "shipping", "freight", "delivery", "mailing"]) => "shipping",
        () if word.is_one_of(&["tax", "sales-tax"]) => "sales-tax",
        () => return None,
    };
    let right = format!("{line} {sum}");
    let slip =
        Slip::new(DETAIL_FORM, typed.range(0..typed.words.len()), format!("what the buyer paid for it is a line `{right}`"));
    let slip = if line == "shipping" { slip.note("`postage` is what you pay the carrier") } else { slip };
    Some(slip.fix("write it so", right))
}
