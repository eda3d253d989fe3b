//! Slips of lines that say when a bill is to be paid, or what is kept of a refund: `net 30`, `pay 2026-01-31`, `keep 40`.

use super::no_entry::left_out;
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::{Typed, is_digits, is_number};
use crate::syntax::Verb;
use crate::syntax::slip_errors::OWN_LINE;

pub(super) const RULES: &[SlipRule] =
    &[unpaid_until, net_days, pay_by, owed, part_off, came_of_it, kept_of_a_refund, kept_beside_a_refund];

/// Whether a line is one of a bill or a sale.
fn is_of_a_bill(typed: &Typed<'_>) -> bool {
    typed.is_detail() && matches!(typed.verb(), Some(Verb::Bought | Verb::Sold))
}

const PAID_LATER: &str = "what is paid later has a line of its own: `unpaid`";
const ON_ITS_DAY: &str = "the days allowed are not kept; the payment is an entry of its own, of the day on which it is made";

/// `unpaid, due in 30 days`, `unpaid until 2026-04-01`
fn unpaid_until(typed: &Typed<'_>) -> Option<Slip> {
    const SMALL: [&str; 12] = ["due", "in", "net", "days", "until", "till", "by", "on", "pays", "next", "month", "week"];
    let small = |at: usize| typed.word(at).is_one_of(&SMALL) || typed.word(at).is_date() || is_digits(typed.word(at).text);
    let length = typed.words.len();
    let unpaid = typed.word(0).is("unpaid") && length > 1 && (1..length).all(small);
    let account = typed.word(0).is("on") && typed.word(1).is_one_of(&["account", "credit", "terms", "tick"]) && length > 2;
    let meant = is_of_a_bill(typed) && (unpaid || account && (2..length).all(small));
    meant.then(|| Slip::new(OWN_LINE, 0..typed.text.len(), PAID_LATER).note(ON_ITS_DAY).fix("without the day", "unpaid"))
}

/// `net 30`, `terms net 30 days`, `30 days net`
fn net_days(typed: &Typed<'_>) -> Option<Slip> {
    let day = |at: usize| is_digits(typed.word(at).text) && typed.word(at).text.len() <= 3;
    let small = |at: usize| typed.word(at).is_one_of(&["net", "terms", "days", "day", "d", "in", "due"]);
    let days = (0..typed.words.len()).filter(|at| day(*at)).count();
    let said = typed.word(0).is_one_of(&["net", "terms"]) || typed.word(1).is_one_of(&["days", "day"]);
    let meant = said && days == 1 && (0..typed.words.len()).all(|at| day(at) || small(at)) && typed.words.len() <= 5;
    (is_of_a_bill(typed) && meant).then(|| {
        let slip = Slip::new(OWN_LINE, 0..typed.text.len(), PAID_LATER).note(ON_ITS_DAY);
        slip.fix("write it so", "unpaid")
    })
}

/// `pay 2026-01-31`, `due 2026-01-31`, `to be paid by 2026-01-31`, `pays in 30 days`
fn pay_by(typed: &Typed<'_>) -> Option<Slip> {
    const FIRST: [&str; 8] = ["pay", "pays", "due", "payable", "payment", "paying", "to", "will"];
    const SMALL: [&str; 13] = ["be", "by", "on", "in", "due", "pay", "paid", "till", "until", "before", "within", "days", "at"];
    let when = |at: usize| typed.word(at).is_date() || is_digits(typed.word(at).text) && typed.word(at).text.len() <= 3;
    let length = typed.words.len();
    let meant = typed.word(0).is_one_of(&FIRST)
        && (1..length).filter(|at| when(*at)).count() == 1
        && (1..length).all(|at| when(at) || typed.word(at).is_one_of(&SMALL));
    if !is_of_a_bill(typed) || !meant {
        return None;
    }
    let slip = Slip::new(OWN_LINE, 0..typed.text.len(), PAID_LATER).note(ON_ITS_DAY);
    let slip = slip.fix("to be paid later", "unpaid");
    let date = typed.words.iter().find(|word| word.is_date() && typed.word(0).is_one_of(&["pay", "payment"]));
    Some(match date {
        Some(date) => slip.fix("or, where all of it was paid that day", format!("paid {}", date.text)),
        None => slip,
    })
}

/// `owe 605.00`, `still owed 60` below `bought` or `sold`
fn owed(typed: &Typed<'_>) -> Option<Slip> {
    const SMALL: [&str; 12] = ["i", "we", "they", "he", "she", "still", "owe", "owes", "owed", "owing", "him", "them"];
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 1 && is_of_a_bill(typed))?;
    let said = (0..last).any(|at| typed.word(at).is_one_of(&SMALL[6..10]));
    if !said || !(0..last).all(|at| typed.word(at).is_one_of(&SMALL)) {
        return None;
    }
    let sum = sum_of(typed, last)?;
    let slip = Slip::new(OWN_LINE, 0..typed.text.len(), PAID_LATER);
    let slip = slip.note(format!("where a part was paid at once, `paid SUM on DATE` says it, and the rest, {sum}, is owed; beside that no line `cash`, `card` or `check` stands, which say how all of it came"));
    let (all, rest) =
        (("where all of it is owed", "unpaid"), ("where a line `paid` says what was paid at once, leave it out", ""));
    let (first, second) = if typed.verb() == Some(Verb::Sold) { (rest, all) } else { (all, rest) };
    Some(slip.fix(first.0, first.1).fix(second.0, second.1))
}

/// `wholesale 50% off`, `minus 10%` below `sold` or `bought`: a part that is taken off all goods
fn part_off(typed: &Typed<'_>) -> Option<Slip> {
    const SMALL: [&str; 9] = ["wholesale", "trade", "minus", "less", "off", "price", "discounted", "reduced", "friends"];
    let percents = || typed.words.iter().filter(|word| word.text.strip_suffix('%').is_some_and(is_number));
    let plain = typed.words.iter().all(|word| word.is_one_of(&SMALL) || word.text.strip_suffix('%').is_some_and(is_number));
    let percent = percents().next().filter(|_| is_of_a_bill(typed) && plain && percents().count() == 1)?;
    let right = format!("discount {}", percent.text);
    let slip = Slip::new(OWN_LINE, 0..typed.text.len(), format!("what is taken off all goods is a line `{right}`"));
    let slip = if typed.verb() == Some(Verb::Sold) && typed.word(0).is("wholesale") {
        slip.note(format!(
            "a channel that always pays so much of the price has it said once, below it: `wholesale {}`",
            percent.text
        ))
    } else {
        slip
    };
    Some(slip.fix("write it so", right))
}

/// `received 79.30`, `got 79.30` below `sold`: what came of it
fn came_of_it(typed: &Typed<'_>) -> Option<Slip> {
    const CAME: [&str; 6] = ["received", "got", "came", "gave", "payout", "paid-out"];
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold);
    let in_two = typed.word(0).is("came") && typed.word(1).is_one_of(&["in", "out"]);
    let at = 1 + usize::from(in_two);
    let sum = sum_of(typed, at).filter(|_| here && typed.words.len() == at + 1 && typed.word(0).is_one_of(&CAME))?;
    let slip = Slip::new(
        OWN_LINE,
        0..typed.text.len(),
        format!("what a channel paid you for the sale, its part taken off, is a line `settled {sum}`"),
    );
    let slip = slip.note("it is checked against what the channel's terms leave; what the buyer paid in all is `total`");
    let slip = slip.fix("what the channel paid you that day", format!("settled {sum}\npaid"));
    Some(slip.fix("or what the buyer paid in all", format!("total {sum}")))
}

/// `keep 40`, `kept 40 of the deposit` below `returned`
fn kept_of_a_refund(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0).is_one_of(&["keep", "keeps", "kept", "keeping", "retained", "withheld"]);
    let sum = sum_of(typed, 1).filter(|_| typed.is_detail() && typed.verb() == Some(Verb::Returned) && first)?;
    let of_money = typed.words.iter().skip(2).all(|word| {
        word.quoted
            || word.is_one_of(&[
                "of",
                "the",
                "deposit",
                "money",
                "back",
                "for",
                "my",
                "me",
                "time",
                "restocking",
                "fee",
                "sum",
                "price",
            ])
    });
    of_money.then(|| {
        let message = format!("what is not refunded stays yours: {sum} that you keep needs no line");
        left_out(typed, 0..typed.text.len(), &message)
            .note("`refunded` says what goes back, and the rest is what the sale or the order brought")
            .note(format!("what is kept of a deposit whose order is given up becomes income by a sale of that order: `sold DATE via NAME order \"…\"` with a line `{sum} for NAME`, an income"))
    })
}

/// `refunded 60, keep 40` below `returned`
fn kept_beside_a_refund(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Returned) && typed.word(0).is("refunded");
    let at = 2 + usize::from(typed.word(2).is("and"));
    let kept = typed.word(at).is_one_of(&["keep", "kept", "keeping"]) && typed.words.len() == at + 2;
    let refunded = sum_of(typed, 1).filter(|_| here && kept)?;
    sum_of(typed, at + 1)?;
    let slip = Slip::new(OWN_LINE, typed.range(at..at + 2), "what is not refunded stays yours, and needs no word");
    Some(slip.fix("leave it out", format!("refunded {refunded}")))
}
