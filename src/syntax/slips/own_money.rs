//! Slips of own money that goes into the shop or out of it, which the book does not keep.

use super::no_entry::{as_text, kept_as_text, left_out, noted};
use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::typed::Typed;
use crate::syntax::Verb;
use crate::syntax::slip_errors::{DETAIL_FORM, OWN_LINE};

/// Names of money, which is no goods.
pub(in crate::syntax) const MONEY: [&str; 3] = ["cash", "money", "dollars"];

pub(super) const RULES: &[SlipRule] = &[own_money, own_money_in_head, own_money_line, to_myself];
/// Those of lines that read and stand where they may not.
pub(super) const MISPLACED: &[SlipRule] = &[own_money_line, to_myself];

/// Words with which own money is said to go in or out, two of them joined.
const IN_AND_OUT: [&str; 32] = [
    "put-in",
    "putin",
    "invested",
    "injected",
    "drew",
    "drew-out",
    "draw",
    "draws",
    "drawn",
    "drawing",
    "drawings",
    "took-out",
    "take-out",
    "taken-out",
    "withdrew",
    "withdraw",
    "withdrawn",
    "withdrawal",
    "paid-in",
    "lent",
    "borrowed",
    "loan",
    "loaned",
    "capital",
    "equity",
    "own-money",
    "owner-draw",
    "owners-draw",
    "owner's-draw",
    "owner-contribution",
    "owner-put",
    "cash-in",
];
/// Words that are said of money and of no goods.
const OF_MONEY: [&str; 29] = [
    "my", "own", "money", "cash", "of", "the", "from", "for", "to", "into", "in", "out", "on", "shop", "bank", "account",
    "myself", "me", "self", "savings", "capital", "loan", "private", "personal", "home", "business", "dollars", "till", "box",
];
const MYSELF: [&str; 5] = ["myself", "me", "owner", "self", "private"];

const NOT_KEPT: &str =
    "own money that goes into the shop or out of it is not kept: the book keeps goods, what they cost and what they bring";
const NEITHER: &str = "it is no income and no expense; things of your own that go into the shop are `contributed`, interest on a loan is an expense";

/// Whether a head of these words says own money: a word for it, and no goods behind.
fn says_own_money<'t>(words: impl Iterator<Item = &'t str> + Clone) -> bool {
    let mut all = words.clone().map(str::to_lowercase);
    let (first, second) = (all.next().unwrap_or_default(), all.next().unwrap_or_default());
    let joined = format!("{first}-{second}");
    let said = match () {
        () if IN_AND_OUT.contains(&joined.as_str()) => 2,
        () if IN_AND_OUT.contains(&first.as_str()) => 1,
        () => return false,
    };
    is_of_money(words.skip(said))
}

/// Whether words are of money alone: one sum, and behind it no name of goods; without a sum no other word.
fn is_of_money<'t>(words: impl Iterator<Item = &'t str>) -> bool {
    let (mut sums, mut others) = (0, 0);
    for word in words {
        if word.starts_with(['"', '\u{201C}']) {
            return true;
        }
        let digits = word.trim_start_matches(super::money::SIGNS).starts_with(|letter: char| letter.is_ascii_digit());
        if digits && crate::units::read_date(word).is_ok() {
            continue;
        }
        sums += usize::from(digits);
        let word = word.trim_end_matches([',', '.']).to_lowercase();
        let other = !digits && !OF_MONEY.contains(&word.as_str());
        if sums > 1 || sums == 1 && other {
            return false;
        }
        others += usize::from(other);
    }
    sums == 1 || others == 0
}

/// Whether a head says own money.
pub(super) fn is_own_money(text: &str) -> bool {
    says_own_money(text.split_whitespace())
}

/// `put-in 2026-01-03 2000.00 "my own money"`, `drew out 200.00 on 2026-01-05`
fn own_money(typed: &Typed<'_>) -> Option<Slip> {
    // `took 2026-08-15 300.00 for myself`
    let took = typed.word(0).is_one_of(&["took", "take"])
        && typed.words.iter().any(|word| word.is_one_of(&MYSELF) || word.is("cash"))
        && typed.words.iter().skip(1).any(|word| word.text.contains('.') && word.is_number())
        && is_of_money(typed.words.iter().skip(1).map(|word| word.text));
    let meant = typed.context.column_one && (took || says_own_money(typed.words.iter().map(|word| word.text)));
    meant.then(|| kept_as_text(typed, NOT_KEPT).note(NEITHER))
}

/// `contributed 2026-01-01 1500.00 "my own money"`, `took-home 2026-08-15 300.00`, `paid 2026-08-15 to myself 200.00`
fn own_money_in_head(typed: &Typed<'_>) -> Option<Slip> {
    let sum = (1..typed.words.len()).find(|at| sum_of(typed, *at).is_some() && !typed.word(*at).is_date())?;
    let of_money = is_of_money(typed.words.iter().skip(1).map(|word| word.text));
    let to_me = (1..typed.words.len()).any(|at| typed.word(at).is("to") && typed.word(at + 1).is_one_of(&MYSELF));
    let meant = match typed.verb() {
        Some(Verb::Contributed | Verb::TookHome) => true,
        Some(Verb::Paid) => to_me,
        _ => false,
    };
    (typed.context.column_one && meant && of_money).then(|| {
        let slip = Slip::new(OWN_LINE, typed.word(sum).start..typed.word(sum).end(), NOT_KEPT).note(NEITHER);
        let text = as_text(typed, 0..typed.words.len());
        slip.fix("to keep it as a text, which counts nothing", noted(typed, &text))
    })
}

/// `2000.00`, `2000.00 my own money` below `contributed`
fn own_money_line(typed: &Typed<'_>) -> Option<Slip> {
    let here = matches!(typed.verb(), Some(Verb::Contributed | Verb::TookHome | Verb::Noted));
    sum_of(typed, 0).filter(|_| here && typed.is_detail())?;
    let rest = typed.words.get(1..)?;
    let text = rest.iter().map(|word| word.text.trim_matches(super::typed::is_quote));
    let quoted_money = rest.iter().all(|word| word.quoted);
    let words = text.flat_map(str::split_whitespace);
    let home_or_in = matches!(typed.verb(), Some(Verb::Contributed | Verb::TookHome));
    // Goods have a name: a figure beside a text, or `for` something, is money.
    let said = home_or_in && (!rest.is_empty() || typed.word(0).text.contains('.'));
    let of_money =
        quoted_money && said || home_or_in && typed.word(1).is("for") || words.clone().all(|word| OF_MONEY.contains(&word));
    of_money.then(|| left_out(typed, 0..typed.text.len(), NOT_KEPT).note(NEITHER))
}

/// `200 to myself` below `paid`
fn to_myself(typed: &Typed<'_>) -> Option<Slip> {
    let sum = sum_of(typed, 0).filter(|_| typed.is_detail() && matches!(typed.verb(), Some(Verb::Paid | Verb::Received)))?;
    let me = typed.word(1).is_one_of(&["to", "from", "for"]) && typed.word(2).is_one_of(&["myself", "me"]);
    (me && typed.words.len() == 3).then(|| {
        let day = typed.near_date.map_or_else(|| "DATE".to_owned(), |near| near.to_string());
        let slip = Slip::new(DETAIL_FORM, 0..typed.text.len(), NOT_KEPT).note(NEITHER);
        let small = typed.word(1).text;
        slip.note(format!("in place of this entry, `noted {day} \"{sum} {small} myself\"` keeps it as a text")).settled()
    })
}
