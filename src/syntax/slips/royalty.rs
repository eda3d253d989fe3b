//! Slips of royalties that are paid: to whom and for which pattern.

use super::head::{PART_WORDS, verb_of};
use super::slip::{Slip, SlipRule};
use super::spoken::{one_name, party, sum_of};
use super::typed::{Typed, is_quote};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{HEAD_PART_WORD, SUM_WITHOUT_FOR};

pub(super) const RULES: &[SlipRule] = &[royalty_line, purpose_before_payee];

const FOR_THE_PATTERN: &str =
    "what is owed to a designer is paid for the pattern: its definition says the royalty of each piece, and the book adds it up";

fn is_royalty(word: &str) -> bool {
    ["royalty", "royalties"].iter().any(|known| word.eq_ignore_ascii_case(known))
}

/// `royalty 8% of hat-kits 20.48`, `royalty 30.00 on 20 broadsides` below `paid`
fn royalty_line(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 2)?;
    // The sum stands at the end, or behind the word: `royalty 30.00 on 20 broadsides`.
    let at = if sum_of(typed, last).is_some() { last } else { 1 };
    let sum = sum_of(typed, at).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Paid))?;
    if !is_royalty(typed.word(0).text) || typed.words.iter().any(|word| word.quoted) {
        return None;
    }
    let said = if at == last { typed.slice(0..last).to_owned() } else { typed.with(at..at + 1, "").replace("  ", " ") };
    let text: String = said.chars().filter(|letter| !is_quote(*letter)).collect();
    let text = text.trim_end_matches([',', ' ', '=', ':']);
    let slip =
        Slip::new(SUM_WITHOUT_FOR, 0..typed.text.len(), format!("an amount of money stands before `for`: `{sum} for NAME`"));
    let slip = slip.note("NAME is the pattern whose definition says a `royalty`; a royalty that no pattern says is an `expense`");
    Some(slip.fix("with the pattern's name, or the expense's", format!("{sum} for NAME \"{text}\"")))
}

/// `paid 2026-07-15 royalty to Ana 12.00`, `paid 2026-07-15 rent to landlord`: what it was for stands before who was paid
fn purpose_before_payee(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| *verb == Verb::Paid && typed.word(1).is_date())?;
    let to = (3..typed.words.len()).find(|at| typed.word(*at).is("to"))?;
    let begins = 2 + usize::from(typed.word(2).is_one_of(&["for", "the", "a"]));
    let purpose = one_name(typed, begins..to)?;
    let is_part = |at: usize| PART_WORDS.iter().any(|part| typed.word(at).is(part)) || typed.word(at).is_number();
    if (begins..to).any(is_part) {
        return None;
    }
    let length = typed.words.len();
    let sum = sum_of(typed, length - 1).filter(|_| length > to + 2);
    let end = if sum.is_some() { length - 1 } else { length };
    let payee = party(typed, to + 1..end)?;
    let slip = Slip::new(HEAD_PART_WORD, typed.range(2..to), "what was paid for stands below, behind the sum: `12.00 for NAME`");
    let royal = is_royalty(&purpose) || purpose.ends_with("-royalty");
    let slip = if royal { slip.note(FOR_THE_PATTERN) } else { slip };
    let purpose = if royal { "NAME".to_owned() } else { purpose };
    let head = format!("paid {} to {payee}", typed.word(1).text);
    Some(match sum {
        Some(sum) => slip.fix("begin a line with it", format!("{head}\n{sum} for {purpose}")),
        None => slip.note(format!("and below: `12.00 for {purpose}`")).fix("write who was paid in the head", head),
    })
}
