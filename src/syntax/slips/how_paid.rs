//! Slips that say how something was paid, which the book keeps of sales alone: `card` below `bought`, `by check` in a head.

use super::no_entry::left_out;
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::Typed;
use crate::syntax::Verb;
use crate::syntax::placement_table::verb_word;
use crate::syntax::slip_errors::{HEAD_PART_WORD, SMALL_WORD, SUM_WITHOUT_FOR};

pub(super) const RULES: &[SlipRule] = &[in_head, refund_how, line_of_it, sum_and_how, behind, alone_in_sale];
/// Those of lines that read and stand where they may not.
pub(super) const MISPLACED: &[SlipRule] = &[line_of_it, sum_and_how, behind];

/// How people pay.
const HOW: [&str; 11] =
    ["cash", "card", "check", "cheque", "transfer", "debit", "credit-card", "debit-card", "money-order", "wire", "bank-transfer"];

/// What is told where it stands in a head or below what was bought.
pub(in crate::syntax) const HOW_IT_WAS_PAID: &str =
    "how it was paid is not kept, save below a sale, where a channel's fee may be of what came by card";

/// Whether a word is a way to pay.
pub(in crate::syntax) fn is_how_paid(word: &str) -> bool {
    HOW.iter().any(|how| word.eq_ignore_ascii_case(how))
}

/// Whether words from a place on say how it was paid and nothing else: `by card`, `cash`, `with a check`.
fn says_how(typed: &Typed<'_>, from: usize) -> bool {
    let small = |at: usize| typed.word(at).is_one_of(&["by", "in", "with", "via", "a", "my", "the", "bank", "credit", "shop"]);
    let mut at = from;
    while at + 1 < typed.words.len() && small(at) {
        at += 1;
    }
    typed.word(at).is_one_of(&HOW) && at + 1 == typed.words.len()
}

/// `bought 2026-01-11 from "Hill Farm" cash`, `paid 2026-05-04 to bank by check`
fn in_head(typed: &Typed<'_>) -> Option<Slip> {
    let verb = typed.verb().filter(|verb| {
        let of_money = matches!(verb, Verb::Bought | Verb::Paid | Verb::Received | Verb::Sold | Verb::Returned);
        of_money && typed.context.column_one && typed.word(0).is(verb_word(*verb))
    })?;
    let named = |at: usize| typed.word(at).is_one_of(&["from", "to", "via", "at", "on", "order", "receipt"]);
    // `received 2026-11-05 from "Dale" by phone`: who was paid, or paid, is said already.
    let said =
        matches!(verb, Verb::Paid | Verb::Received) && (2..typed.words.len()).any(|at| typed.word(at).is_one_of(&["from", "to"]));
    let by = (4..typed.words.len())
        .find(|at| said && typed.word(*at).is("by") && at + 3 >= typed.words.len() && at + 1 < typed.words.len());
    if let Some(at) = by.filter(|at| !(*at..typed.words.len()).any(|at| typed.word(at).quoted)) {
        let slip = Slip::new(HEAD_PART_WORD, typed.range(at..typed.words.len()), HOW_IT_WAS_PAID);
        return Some(slip.fix("leave it out", typed.slice(0..at).trim_end_matches([',', ' ']).to_owned()));
    }
    let at = (2..typed.words.len()).find(|at| says_how(typed, *at) && !named(*at) && !named(*at - 1))?;
    let slip = Slip::new(HEAD_PART_WORD, typed.range(at..typed.words.len()), HOW_IT_WAS_PAID);
    let slip =
        if verb == Verb::Sold { slip.note("in a sale a line says it: `card 32.00`, `cash 20.00`, `check 50.00`") } else { slip };
    Some(slip.fix("leave it out", typed.slice(0..at).trim_end_matches([',', ' ']).to_owned()))
}

/// Whether a line stands where how it was paid is not kept.
fn not_kept_here(typed: &Typed<'_>) -> bool {
    typed.is_detail() && matches!(typed.verb(), Some(Verb::Bought | Verb::Paid | Verb::Received | Verb::Returned | Verb::Worked))
}

/// `card`, `cash 20.00`, `by card` below `bought` or `paid`
fn line_of_it(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1)?;
    let whole = says_how(typed, 0);
    let with_sum = typed.word(0).is_one_of(&HOW) && last == 1 && sum_of(typed, 1).is_some();
    (not_kept_here(typed) && (whole || with_sum)).then(|| left_out(typed, 0..typed.text.len(), HOW_IT_WAS_PAID))
}

/// `20.00 card`, `card 20.00` below `returned`: money back, and how
pub(super) fn refund_how(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Returned) && typed.words.len() == 2;
    let how = [0, 1].into_iter().find(|at| typed.word(*at).is_one_of(&HOW)).filter(|_| here)?;
    let sum = sum_of(typed, 1 - how)?;
    let slip = Slip::new(SMALL_WORD, 0..typed.text.len(), format!("money back without goods is a line `refunded {sum}`"));
    Some(slip.fix("write it so", format!("refunded {sum} \"{}\"", typed.word(how).text)))
}

/// `216 cash`, `216 by check` below `paid` or `received`
fn sum_and_how(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.words.len() > 1 && says_how(typed, 1))?;
    let verb = typed.verb().filter(|verb| matches!(verb, Verb::Paid | Verb::Received))?;
    let message = "how it was paid is not kept, and what the sum is for lacks";
    let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(1..typed.words.len()), message);
    Some(match verb {
        Verb::Paid => slip
            .note("behind `for` stands an expense, or a helper to whom it is owed; a bill is paid by its day, `for bought DATE`")
            .fix("with what it is for", format!("{sum} for NAME")),
        _ => slip
            .fix("for the sale of a day", format!("{sum} for sold DATE"))
            .fix("for an order, or before its sale as a deposit", format!("{sum} for order \"NAME\""))
            .fix("for work, without goods", format!("{sum} for NAME")),
    })
}

/// `500 labels for 40 by card`, `12.00 for bank by check`
fn behind(typed: &Typed<'_>) -> Option<Slip> {
    let at =
        (2..typed.words.len()).find(|at| says_how(typed, *at) && typed.word(*at).is_one_of(&["by", "with", "in", "cash"]))?;
    // `270.00 for invoice "GG-1" by check` is told as a bill.
    let billed = typed.words.iter().any(|word| word.is_one_of(&["invoice", "inv", "bill"]));
    let begins = sum_of(typed, 0).is_some() && not_kept_here(typed) && !billed;
    let said = typed.slice(0..at).trim_end_matches([',', ' ']).to_owned();
    begins.then(|| Slip::new(SMALL_WORD, typed.range(at..typed.words.len()), HOW_IT_WAS_PAID).fix("leave it out", said))
}

/// `cash`, `by card` below `sold`
fn alone_in_sale(typed: &Typed<'_>) -> Option<Slip> {
    if !typed.is_detail() || typed.verb() != Some(Verb::Sold) || !says_how(typed, 0) {
        return None;
    }
    let last = typed.word(typed.words.len().checked_sub(1)?).text.to_lowercase();
    let (how, known) = match last.as_str() {
        "cash" => ("cash", true),
        "check" | "cheque" => ("check", true),
        "card" | "debit" | "credit-card" | "debit-card" => ("card", true),
        _ => ("paid", false),
    };
    Some(match known {
        true => {
            let slip =
                Slip::new(SMALL_WORD, 0..typed.text.len(), format!("how much came as {how} follows the word: `{how} 38.00`"));
            slip.note("only a fee that is charged of cards needs it; without it all was paid that day")
                .fix("with the sum", format!("{how} SUM"))
                .fix("or, where no fee is of cards, leave it out", "")
        }
        false => left_out(typed, 0..typed.text.len(), HOW_IT_WAS_PAID),
    })
}
