//! Slips of prices that are of many at once, or of less than was asked: `at 8.00 per 100`, `2 hats at 38.00, 20% off`, `1 scarf less 20%`.

use super::slip::{Slip, SlipRule};
use super::spoken::sum_of;
use super::sums::{less_percent, product_per};
use super::typed::{Typed, is_number};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{OWN_LINE, PRICE_WORDS};
use crate::units::Unit;

pub(super) const RULES: &[SlipRule] = &[per_hundred, percent_off];

/// How many a price is of.
fn of_how_many(word: &str) -> Option<u32> {
    match word.to_lowercase().as_str() {
        "10" | "ten" => Some(10),
        "12" => Some(12),
        "50" | "fifty" => Some(50),
        "100" | "hundred" | "c" => Some(100),
        "500" => Some(500),
        "1000" | "thousand" | "m" => Some(1000),
        _ => None,
    }
}

/// `500 labels at 8.00 per 100`, `500 labels 8.00 a hundred`
fn per_hundred(typed: &Typed<'_>) -> Option<Slip> {
    let verb = matches!(typed.verb(), Some(Verb::Bought | Verb::Opened | Verb::Sold)) && typed.is_detail();
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["per", "a", "the", "each", "for", "/"]))?;
    let one = usize::from(typed.word(at + 1).is_one_of(&["1", "one"]) && typed.word(at + 2).is_one_of(&["hundred", "thousand"]));
    let many = of_how_many(typed.word(at + 1 + one).text).filter(|_| verb)?;
    let price = sum_of(typed, at - 1)?;
    let behind = typed.words.get(at + 2 + one..)?;
    let memo = match behind {
        [] => String::new(),
        [memo] if memo.quoted => format!(" {}", memo.text),
        [ea] if ea.is_one_of(&["ea", "pieces", "pcs"]) => String::new(),
        _ => return None,
    };
    let said = usize::from(typed.word(at - 2).is_one_of(&["at", "for", "@"]));
    let name = at.checked_sub(2 + said)?;
    let count = typed.word(0).text;
    // Of packs or of a measure so many are not so many pieces.
    let plain = name == 1 && is_number(count) && typed.word(1).is_name() && Unit::parse(typed.word(1).text).is_none();
    let message = format!("a price is of one, or of the whole line: what is {price} per {many} is said with `for`");
    let slip = Slip::new(PRICE_WORDS, typed.range(at - 1..at + 2 + one), message);
    let item = typed.slice(0..name + 1).trim_end_matches(',').to_owned();
    if name == 0 {
        return None;
    }
    Some(match product_per(count, price, many).filter(|_| plain) {
        Some(sum) => slip.fix("the money for the whole line", format!("{item} for {sum}{memo}")),
        None => match product_per("1", price, many).filter(|_| plain) {
            Some(each) => slip.fix("the price of one", format!("{item} at {each}{memo}")),
            None => slip.fix("the money for the whole line", format!("{item} for SUM{memo}")),
        },
    })
}

/// `1 stool at 20% off`, `2 hats at 38.00, 20% off`, `1 scarf less 20%`, `2 hats with 20% discount`
fn percent_off(typed: &Typed<'_>) -> Option<Slip> {
    const SMALL: [&str; 11] = ["at", "less", "for", "with", "minus", "discount", "a", "discounted", "reduced", "by", "off"];
    let at = (2..typed.words.len()).find(|at| typed.word(*at).text.strip_suffix('%').is_some_and(is_number))?;
    let percent = typed.word(at).text.strip_suffix('%')?;
    let mut start = at;
    while start > 2 && typed.word(start - 1).is_one_of(&SMALL) {
        start -= 1;
    }
    let less = (start..at).any(|at| typed.word(at).is_one_of(&["less", "minus", "discount", "discounted", "reduced", "off"]));
    let off = typed.word(at + 1).is_one_of(&["off", "discount", "less", "reduced"]) && typed.words.len() == at + 2;
    let sale = typed.verb() == Some(Verb::Sold) && typed.is_detail() && typed.word(0).is_number();
    if !sale || !(off || less && typed.words.len() == at + 1) {
        return None;
    }
    let goods = typed.slice(0..start).trim_end_matches(',').to_owned();
    let slip = Slip::new(
        OWN_LINE,
        typed.range(start..typed.words.len()),
        "what is taken off one item stands in its price; `discount` is taken off all goods of the sale, and said once",
    );
    let price = start.checked_sub(2).filter(|word| *word >= 2 && typed.word(*word).is_one_of(&["at", "for"]));
    let lowered = price.and_then(|word| Some((word, sum_of(typed, word + 1)?)));
    let slip = match lowered {
        Some((word, sum)) => match less_percent(sum, percent) {
            Some(less) => {
                let item = typed.slice(0..word).trim_end_matches(',').to_owned();
                slip.fix("for this item, what was paid", format!("{item} {} {less}", typed.word(word).text))
            }
            None => slip.note("for this item alone, give the price that was paid"),
        },
        None => slip
            .note("SUM is the price that was paid for each, after the discount")
            .fix("for this item, the price that was paid", format!("{goods} at SUM")),
    };
    Some(slip.fix("for all goods of the sale", format!("{goods}\ndiscount {percent}%")))
}
