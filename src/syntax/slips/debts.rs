//! Slips of debts: what is paid back of a loan or to a credit card, and what a loan brings, none of which is a cost or an income.

use super::no_entry::{as_text, left_out};
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::Typed;
use crate::syntax::Verb;
use crate::syntax::slip_errors::DETAIL_FORM;

pub(super) const RULES: &[SlipRule] = &[paid_back, lent];

pub(crate) const LOAN_IS_NO_COST: &str = "what is paid back of a loan is no cost: only its interest is";
pub(crate) const CARD_IS_NO_COST: &str =
    "what is paid to a credit card is no cost: what was bought with it stands in the book already, on its day";
pub(crate) const LOAN_IS_NO_INCOME: &str =
    "a loan is no income: what is lent to the shop is not kept, and what is bought with it is";

/// Whether a line is about a loan.
fn of_a_loan(typed: &Typed<'_>) -> bool {
    typed
        .words
        .iter()
        .any(|word| word.is_one_of(&["loan", "loans", "loan-payment", "loan-repayment", "loan-principal", "principal"]))
}

/// Whether behind `for` stands something else than a debt, which then is what was paid for.
fn for_something(typed: &Typed<'_>) -> bool {
    const DEBTS: [&str; 14] = [
        "loan",
        "loans",
        "loan-payment",
        "loan-repayment",
        "loan-principal",
        "principal",
        "credit",
        "credit-card",
        "credit-cards",
        "card",
        "card-bill",
        "card-payment",
        "the",
        "my",
    ];
    typed.word(1).is("for") && !typed.word(2).is_one_of(&DEBTS)
}

/// Whether a line is about a credit card.
fn of_a_card(typed: &Typed<'_>) -> bool {
    (1..typed.words.len()).any(|at| {
        let (word, next) = (typed.word(at), typed.word(at + 1));
        let two = word.is("credit") && next.is_one_of(&["card", "cards"])
            || word.is("card") && next.is_one_of(&["bill", "balance", "payment"]);
        let off = word.is("off") && typed.word(typed.words.len() - 1).is_one_of(&["balance", "debt", "card"]);
        two || off || word.is_one_of(&["credit-card", "credit-cards", "card-bill", "card-payment"])
    })
}

/// The sum that stands beside the word for interest: `8 of it interest`, `interest 10.00`.
fn interest<'t>(typed: &Typed<'t>) -> Option<&'t str> {
    let at = (1..typed.words.len()).find(|at| typed.word(*at).is("interest"))?;
    let behind = at + 1 + usize::from(typed.word(at + 1).is_one_of(&["is", "of", "was"]));
    if let Some(sum) = sum_of(typed, behind) {
        return Some(sum);
    }
    let small = |at: usize| typed.word(at).is_one_of(&["of", "it", "which", "that", "is", "was", "are", "for"]);
    let mut before = at.checked_sub(1)?;
    while before > 1 && small(before) {
        before -= 1;
    }
    sum_of(typed, before).filter(|_| before > 0)
}

/// `300 on the credit card`, `90 for loan, 8 of it interest` below `paid`
fn paid_back(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Paid))?;
    let bill = typed.words.iter().any(|word| word.is_one_of(&["bought", "receipt", "order", "sold"]));
    // `12.40 for credit card fees` is a cost.
    let charged = typed.words.iter().any(|word| word.is_one_of(&["fee", "fees", "charge", "charges", "loan-interest"]));
    let alone = interest(typed).is_none() && typed.words.iter().any(|word| word.is("interest"));
    let of_interest = charged || alone || for_something(typed);
    let message = match (of_a_loan(typed), of_a_card(typed)) {
        _ if bill || of_interest => return None,
        (true, _) => LOAN_IS_NO_COST,
        (_, true) => CARD_IS_NO_COST,
        _ => return None,
    };
    let text = as_text(typed, 0..typed.words.len());
    if let Some(part) = interest(typed).filter(|part| *part != sum || sum_of(typed, 1).is_none()) {
        let slip = Slip::new(DETAIL_FORM, 0..typed.text.len(), message);
        return Some(slip.fix("the interest of it", format!("{part} for interest \"{text}\"")));
    }
    let slip = left_out(typed, 0..typed.text.len(), message);
    Some(slip.note("its interest or fee alone is a line, `8.00 for interest`; where nothing of it is a cost, the entry is not needed, or is `noted`"))
}

/// `600.00 loan`, `600 for loan` below `received`
fn lent(typed: &Typed<'_>) -> Option<Slip> {
    sum_of(typed, 0).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Received) && of_a_loan(typed))?;
    let named = for_something(typed) || typed.words.iter().any(|word| word.is_one_of(&["order", "sold", "interest"]));
    (!named).then(|| left_out(typed, 0..typed.text.len(), LOAN_IS_NO_INCOME))
}
