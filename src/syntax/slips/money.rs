//! Slips of money: currency signs and codes, commas, signs, points, prices in shorthand, sums without `for`, `at` without a sum.

use super::general::is_for_a_line;
use super::slip::{Slip, SlipRule};
use super::typed::{Typed, Word, is_digits, is_name, is_number};
use crate::syntax::placement_said::{SaidKind, said_row};
use crate::syntax::slip_errors::{EXPENSE_BACK, MONEY_SPELLING, NUMBER_SPELLING, PRICE_WORDS, SUM_WITHOUT_FOR};
use crate::syntax::{ListWord, Verb};
use crate::units::{Currency, canonical_unit};

pub(super) const RULES: &[SlipRule] = &[
    at_sign,
    currency_sign,
    commas,
    split_thousands,
    currency_code,
    sign,
    point,
    per_shorthand,
    percent,
    price_without_word,
    deposit,
    sum_without_for,
    price_word_elsewhere,
    money_missing,
];

/// The signs of currencies.
pub(super) const SIGNS: [char; 5] = ['$', '€', '£', '¥', '¢'];

/// `@ 5.90`, `@5.90`, `à 5.90`
fn at_sign(typed: &Typed<'_>) -> Option<Slip> {
    let is_at = |word: &Word<'_>| !word.quoted && (word.text.starts_with('@') || word.is_one_of(&["à", "á"]));
    let at = typed.words.iter().position(is_at)?;
    let word = typed.word(at);
    if !word.text.starts_with('@') {
        let slip = Slip::new(PRICE_WORDS, typed.range(at..at + 1), format!("`{}` is written `at`", word.text));
        return Some(slip.fix("write `at`", typed.with(at..at + 1, "at")).sure());
    }
    let figure = word.text.trim_start_matches('@');
    let line = if figure.is_empty() { typed.with(at..at + 1, "at") } else { typed.with(at..at + 1, &format!("at {figure}")) };
    let slip = Slip::new(PRICE_WORDS, word.start..word.start + 1, "`@` is written `at`");
    Some(slip.note("`at` gives the price of one, `for` the money for the whole line").fix("write `at`", line).sure())
}

/// `$5.90`, `5.90€`, `$ 5.90`
fn currency_sign(typed: &Typed<'_>) -> Option<Slip> {
    let has_sign =
        |text: &str| text.starts_with(SIGNS) || text.ends_with(SIGNS) || text.trim_start_matches(['-', '+']).starts_with(SIGNS);
    let first = typed.words.iter().find(|word| !word.quoted && has_sign(word.text))?;
    let mut line = typed.text.to_owned();
    for (at, word) in typed.words.iter().enumerate().rev().filter(|(_, word)| !word.quoted && has_sign(word.text)) {
        let bare: String = word.text.chars().filter(|letter| !SIGNS.contains(letter)).collect();
        let end = if bare.is_empty() { typed.word(at + 1).start.max(word.end()) } else { word.end() };
        line.replace_range(word.start..end, &bare);
    }
    let bare = first.text.trim_matches(SIGNS);
    let bare = mend_commas(bare).map_or(bare.to_owned(), |(bare, _)| bare);
    let example = if bare.is_empty() { "5.90" } else { &bare };
    let slip = Slip::new(MONEY_SPELLING, first.start..first.end(), format!("money is a bare number: `{example}`"));
    Some(slip.note("the shop's currency is said once, in `shop`").fix("leave the currency sign out", line).sure())
}

/// A number with commas as a number without: the likelier reading, and the other where there are two.
fn mend_commas(text: &str) -> Option<(String, Option<String>)> {
    let letters_ok = text.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b',' | b'.'));
    if !letters_ok || !text.contains(',') || !text.starts_with(|letter: char| letter.is_ascii_digit()) {
        return None;
    }
    let (last_comma, last_point) = (text.rfind(','), text.rfind('.'));
    if last_point.is_some_and(|point| last_comma.is_some_and(|comma| comma > point)) {
        // `1.250,00`
        return Some((text.replace('.', "").replace(',', "."), None)).filter(|(bare, _)| is_number(bare));
    }
    let without = text.replace(',', "");
    let groups: Vec<_> = text.split('.').next().unwrap_or("").split(',').collect();
    let in_threes = groups.iter().skip(1).all(|group| group.len() == 3) && groups.first().is_some_and(|group| group.len() <= 3);
    let as_point = (groups.len() == 2 && last_point.is_none()).then(|| text.replace(',', "."));
    match (in_threes, as_point) {
        (true, as_point) => Some((without, as_point)),
        (false, Some(as_point)) => Some((as_point, None)),
        (false, None) => Some((without, None)),
    }
    .filter(|(bare, _)| is_number(bare))
}

/// `1,250.00`, `5,90`, `1.250,00`
fn commas(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.words.iter().find(|word| !word.quoted && mend_commas(word.text).is_some())?;
    let (bare, other) = mend_commas(first.text)?;
    let mut line = typed.text.to_owned();
    for word in typed.words.iter().rev().filter(|word| !word.quoted) {
        if let Some((bare, _)) = mend_commas(word.text) {
            line.replace_range(word.start..word.end(), &bare);
        }
    }
    let message = format!("a number has no comma: `{bare}`");
    let slip = Slip::new(MONEY_SPELLING, first.start..first.end(), message).note("a comma parts the items of a list");
    // Two digits behind the only comma, or a point beside the commas, leave no doubt.
    let clear = |text: &str| match text.rsplit_once([',', '.']) {
        Some((_, behind)) => behind.len() == 2,
        None => true,
    };
    let commas_clear =
        typed.words.iter().filter(|word| !word.quoted && mend_commas(word.text).is_some()).all(|word| clear(word.text));
    let slip = slip.fix("write it without the comma", line).sure_if(commas_clear);
    Some(match other {
        Some(other) => slip.fix("or with a point, if the comma was one", typed.with_range(first.start..first.end(), &other)),
        None => slip,
    })
}

/// `at 1 250.00`
fn split_thousands(typed: &Typed<'_>) -> Option<Slip> {
    let at = (0..typed.words.len()).find(|at| {
        let (word, next) = (typed.word(*at), typed.word(*at + 1));
        let whole = next.text.split('.').next().unwrap_or("");
        is_digits(word.text) && word.text.len() <= 3 && !word.comma && whole.len() == 3 && is_number(next.text)
    })?;
    let joined = format!("{}{}", typed.word(at).text, typed.word(at + 1).text);
    let slip = Slip::new(MONEY_SPELLING, typed.range(at..at + 2), format!("a number has no blank in it: `{joined}`"));
    Some(slip.fix("write it as one", typed.with(at..at + 2, &joined)))
}

/// `12.00 EUR`, `USD 58`, `12.00EUR`
fn currency_code(typed: &Typed<'_>) -> Option<Slip> {
    let is_code = |text: &str| {
        Currency::parse(text).is_some()
            || matches!(text.to_lowercase().as_str(), "dollar" | "dollars" | "euro" | "euros" | "bucks")
    };
    if typed.word(0).is("currency") || typed.words.iter().any(|word| word.text == "=") {
        return None;
    }
    let found = (0..typed.words.len()).find_map(|at| {
        let (word, next) = (typed.word(at), typed.word(at + 1));
        if is_code(word.text) && is_number(next.text) {
            return Some((word.text, at..at + 2, next.text.to_owned()));
        }
        if is_number(word.text) && is_code(next.text) && !word.comma {
            return Some((next.text, at..at + 2, word.text.to_owned()));
        }
        let digits = word.text.trim_end_matches(|letter: char| letter.is_ascii_uppercase());
        let code = word.text.get(digits.len()..).unwrap_or("");
        (is_number(digits) && is_code(code)).then(|| (code, at..at + 1, digits.to_owned()))
    });
    let (code, words, bare) = found?;
    let slip = Slip::new(MONEY_SPELLING, typed.range(words.clone()), format!("money is a bare number: `{bare}`"));
    let slip = if Currency::parse(code).is_some() {
        slip.note(format!("for foreign money a line of the entry gives the rate: `1 {code} = 1.0842`"))
    } else {
        slip
    };
    Some(slip.fix("leave the currency out", typed.with(words, &bare)).sure())
}

/// `-5.00`, `+5.00`
fn sign(typed: &Typed<'_>) -> Option<Slip> {
    let at = typed.words.iter().position(|word| !word.quoted && word.text.strip_prefix(['-', '+']).is_some_and(is_number))?;
    let word = typed.word(at);
    let bare = word.text.get(1..)?;
    let slip = Slip::new(MONEY_SPELLING, word.start..word.end(), format!("a number has no sign: `{bare}`"));
    // Without its sign a sum that came back would be one more of what it takes off.
    if word.text.starts_with('-') && typed.word(at + 1).is("for") && typed.is_detail() {
        return Some(
            slip.note(EXPENSE_BACK).note("goods that go back are `sent-back`, what is taken off their price is `credited`"),
        );
    }
    let slip =
        slip.note("what goes the other way has a word of its own: `discount`, `refunded`, `fee back`, `sent-back`, `credited`");
    let lowers = typed.word(0).is_one_of(&["discount", "refunded", "fee", "credit", "short"]);
    if word.text.starts_with('-') && !lowers {
        return Some(slip);
    }
    Some(slip.fix("leave the sign out", typed.with(at..at + 1, bare)))
}

/// `.50`, `12.`
fn point(typed: &Typed<'_>) -> Option<Slip> {
    let mended = |text: &str| {
        let whole = text.strip_suffix('.').filter(|whole| is_digits(whole)).map(str::to_owned);
        whole.or_else(|| text.strip_prefix('.').filter(|part| is_digits(part)).map(|part| format!("0.{part}")))
    };
    let (at, word) = typed.words.iter().enumerate().find(|(_, word)| !word.quoted && mended(word.text).is_some())?;
    let bare = mended(word.text)?;
    let slip = Slip::new(NUMBER_SPELLING, word.start..word.end(), format!("a digit stands before and after the point: `{bare}`"));
    Some(slip.fix("write the digit", typed.with(at..at + 1, &bare)).sure())
}

/// `5.90/bf`, `5.90 a bf`, `at 5.90 each`, `5.90 per bf`
fn per_shorthand(typed: &Typed<'_>) -> Option<Slip> {
    let (at, words, price, unit) = (0..typed.words.len()).find_map(|at| {
        let word = typed.word(at);
        if let Some((price, unit)) = word.text.split_once('/').filter(|(price, unit)| is_number(price) && is_name(unit)) {
            return Some((at, at..at + 1, price, unit));
        }
        let (next, third) = (typed.word(at + 1), typed.word(at + 2));
        if !word.is_number() || word.comma || at == 0 {
            return None;
        }
        if next.is_one_of(&["each", "apiece", "ea"]) && (third.text.is_empty() || next.comma) {
            let begins = at - usize::from(typed.word(at - 1).is("for"));
            return Some((begins, begins..at + 2, word.text, ""));
        }
        let joins = next.is_one_of(&["a", "an", "each", "every", "/"]) || next.is("per") && !typed.word(at - 1).is("at");
        let one = third.is_one_of(&["piece", "pieces", "pc", "pcs", "one", "each", "ea", "item"]);
        (joins && is_name(third.text)).then_some((at, at..at + 3, word.text, if one { "" } else { third.text }))
    })?;
    let said = at
        .checked_sub(1)
        .is_some_and(|before| typed.word(before).is_one_of(&["at", "fee", "costs", "royalty", "overhead", "time"]));
    let is_rate = typed.word(0).is_one_of(&["fee", "costs", "royalty", "overhead", "owner", "wears", "hours"]);
    let at_word = if said || is_rate { "" } else { "at " };
    let unit = canonical_unit(unit).map_or(unit, |unit| unit.as_str());
    let per = if unit.is_empty() { String::new() } else { format!(" per {unit}") };
    let right = format!("{at_word}{price}{per}");
    let after_at = at.checked_sub(1).is_some_and(|before| typed.word(before).is("at"));
    let shown = if after_at { format!("at {right}") } else { right.clone() };
    let slip = Slip::new(PRICE_WORDS, typed.range(words.clone()), format!("a price per unit is written `{shown}`"));
    Some(slip.fix("write it so", typed.with(words, &right)))
}

/// `10 %`, `10 percent`, `consignment 40`
fn percent(typed: &Typed<'_>) -> Option<Slip> {
    let found = (0..typed.words.len()).find_map(|at| {
        let (word, next) = (typed.word(at), typed.word(at + 1));
        if word.is_number() && next.is_one_of(&["%", "percent", "pct", "pc."]) {
            return Some((at..at + 2, word.text));
        }
        let wants_percent = typed.word(0).is_one_of(&["consignment", "wholesale"]) && at == 1
            || typed.word(0).is("business") && typed.word(1).is("use") && at == 2;
        (wants_percent && word.is_number() && typed.words.len() == at + 1).then_some((at..at + 1, word.text))
    });
    let (words, figure) = found?;
    let right = format!("{figure}%");
    let slip = Slip::new(NUMBER_SPELLING, typed.range(words.clone()), format!("a part of a hundred is written `{right}`"));
    Some(slip.fix("join the sign to the number", typed.with(words, &right)).sure())
}

/// `31.5 bf red-oak 5.90`
fn price_without_word(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1)?;
    let stock = matches!(typed.verb(), Some(Verb::Bought | Verb::Opened | Verb::Sold | Verb::Contributed | Verb::Swapped));
    let begins = (0..last).rfind(|at| typed.word(*at).comma).map_or(0, |comma| comma + 1);
    let (first, figure, name) = (typed.word(begins), typed.word(last), typed.word(last.checked_sub(1)?));
    if !typed.is_detail() || !stock || last < 2 || !first.is_number() || !figure.is_number() || !name.is_name() || name.comma {
        return None;
    }
    let price = figure.text;
    if first.text == "1" {
        // Of one both mean the same.
        let right = format!("for {price}");
        let slip = Slip::new(PRICE_WORDS, figure.start..figure.end(), format!("a word is missing before the money: `{right}`"));
        return Some(slip.fix("write it so", typed.with(last..last + 1, &right)));
    }
    let slip = Slip::new(PRICE_WORDS, figure.start..figure.end(), format!("is {price} the price of one, or for the whole line?"));
    let slip = slip.fix("the price of one", typed.with(last..last + 1, &format!("at {price}")));
    Some(slip.fix("the money for the whole line", typed.with(last..last + 1, &format!("for {price}"))))
}

/// `shop-supplies 18.40`, `18.40 to booth-fee`
fn sum_without_for(typed: &Typed<'_>) -> Option<Slip> {
    let [first, second, rest @ ..] = typed.words.as_slice() else { return None };
    // In an entry of money alone a whole number is a sum too.
    let of_money = matches!(typed.verb(), Some(Verb::Paid | Verb::Received));
    let is_sum = |text: &str| is_number(text) && (of_money || text.split_once('.').is_some_and(|(_, part)| part.len() == 2));
    let of_a_line = matches!(typed.verb(), Some(Verb::Sold | Verb::Bought)) && is_for_a_line(first.text);
    if of_a_line || first.is_one_of(&["owe", "owes", "owed", "owing", "due"]) && typed.verb() != Some(Verb::Paid) {
        return None;
    }
    let only_memo = rest.iter().all(|word| word.quoted);
    let money_first = is_sum(first.text)
        && second.is_one_of(&["to", "on", "of", "as", "in"])
        && rest.first().is_some_and(|word| word.is_name());
    let (sum, name, words) = if typed.is_detail() && first.is_name() && is_sum(second.text) && only_memo {
        (second.text, first.text, 0..2)
    } else if typed.is_detail() && money_first {
        (first.text, rest.first()?.text, 0..3)
    } else {
        return None;
    };
    let right = format!("{sum} for {name}");
    let slip =
        Slip::new(SUM_WITHOUT_FOR, typed.range(words.clone()), format!("an amount of money stands before `for`: `{right}`"));
    let kind = if matches!(typed.verb(), Some(Verb::Sold | Verb::Received)) { "income" } else { "expense" };
    let slip = slip.note(format!("where it has no name yet, one line in any file gives it one: `{kind} {name} \"…\"`"));
    Some(slip.fix("write it so", typed.with(words, &right)))
}

/// `deposit 100` in `received`
fn deposit(typed: &Typed<'_>) -> Option<Slip> {
    let received = typed.is_detail() && typed.verb() == Some(Verb::Received) && typed.words.len() == 2;
    let word = typed.word(0).is_one_of(&["deposit", "deposits", "prepayment", "advance", "down-payment"]);
    let sum = typed.word(1).text;
    (received && word && is_number(sum)).then(|| {
        let message = format!("a deposit is money for an order, which has a name: `{sum} for order \"C-07\"`");
        let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(0..2), message);
        slip.fix("with the order's name", format!("{sum} for order \"NAME\""))
    })
}

/// `60 cotton-bag 1.10 at`, `24 bf for cedar 60.00`
fn price_word_elsewhere(typed: &Typed<'_>) -> Option<Slip> {
    let at = (1..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["at", "for"]))?;
    let (word, before, next, third) = (typed.word(at), typed.word(at - 1), typed.word(at + 1), typed.word(at + 2));
    let begins = typed.word(0).text.starts_with(|letter: char| letter.is_ascii_digit());
    if !typed.is_detail() || !begins {
        return None;
    }
    let (words, right, message) = if at > 2 && before.is_number() && (word.comma || next.text.is_empty() || next.quoted) {
        let right = format!("{} {}", word.text, before.text);
        (at - 1..at + 1, right.clone(), format!("`{}` stands before the money: `{right}`", word.text))
    } else if next.is_name() && third.is_number() && !next.comma {
        let right = format!("{} {} {}", next.text, word.text, third.text);
        (at..at + 3, right.clone(), format!("the name comes before the money: `{right}`"))
    } else {
        return None;
    };
    let slip = Slip::new(PRICE_WORDS, typed.range(words.clone()), message);
    Some(slip.fix("write it so", typed.with(words, &right)))
}

/// `20 bf red-oak at`, `2 pull-cart for "the fair"`; `85.00 for`
fn money_missing(typed: &Typed<'_>) -> Option<Slip> {
    let list = match typed.word(0).text {
        "gave" => ListWord::Gave,
        "got" => ListWord::Got,
        "took" => ListWord::Took,
        text if text.starts_with(|letter: char| letter.is_ascii_digit()) => ListWord::Bare,
        _ => return None,
    };
    let at = (1..typed.words.len()).find(|at| {
        let (word, next) = (typed.word(*at), typed.word(at + 1));
        word.is_one_of(&["at", "for"]) && (word.comma || next.text.is_empty() || next.quoted)
    })?;
    let word = typed.word(at);
    let row = said_row(if word.is("at") { SaidKind::At } else { SaidKind::For });
    if typed.is_detail() && at == 1 && is_number(typed.word(0).text) && word.is("for") && typed.words.len() == 2 {
        let slip = Slip::new(SUM_WITHOUT_FOR, word.start..word.end(), format!("{} for what?", typed.word(0).text));
        let slip = slip.note("the name of an expense, an income or a tool follows `for`");
        return Some(slip.fix("with what it was for", format!("{} NAME", typed.text)));
    }
    if !typed.is_detail() || at < 2 || !row.allows(list, typed.verb()) {
        return None;
    }
    let what = if word.is("at") { "the price of one" } else { "the money for the whole line" };
    let slip = Slip::new(PRICE_WORDS, word.start..word.end(), format!("the money is missing after `{}`", word.text));
    Some(slip.note(format!("{what} follows it: `{} 5.90`", word.text)))
}
