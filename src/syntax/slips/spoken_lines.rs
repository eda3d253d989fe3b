//! Slips of lines that are written as they are spoken: `12 bf cherry that cost 84`, `1 stool 85 cash`, `60 booth fee`.

use super::apart::Apart;
use super::drives::distance_said;
use super::head::how_often;
use super::how_paid::is_how_paid;
use super::money::SIGNS;
use super::slip::{Slip, SlipRule};
use super::sums::product;
use super::typed::{Typed, Word, is_digits, is_name, is_number};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{DETAIL_FORM, NUMBER_SPELLING, OWN_LINE, PRICE_WORDS, SMALL_WORD, SUM_WITHOUT_FOR};
use crate::units::Currency;

pub(super) const RULES: &[SlipRule] = &[
    repeating_sum,
    part_for_business,
    at_once,
    deposit_line,
    percent_fee,
    channel_keeps,
    due_later,
    that_cost,
    price_and_how_paid,
    price_in_between,
    fee_as_a_thing,
    drive_in_a_sale,
    number_in_words,
    lost_of_made,
];

/// A sum as it may be typed, without the sign of a currency.
fn sum_of<'t>(word: Word<'t>) -> Option<&'t str> {
    let bare = word.text.trim_matches(SIGNS);
    (!word.quoted && is_number(bare)).then_some(bare)
}

/// Whether a line is an item of goods that has a price.
fn is_priced(typed: &Typed<'_>) -> bool {
    let verb = matches!(typed.verb(), Some(Verb::Bought | Verb::Opened | Verb::Sold | Verb::Contributed | Verb::Swapped));
    let first = typed.word(0);
    typed.is_detail() && verb && (first.is_number() || first.is_fraction())
}

/// How many words at the end say what money it is (`dollars`) or that it was all of it.
fn words_behind(typed: &Typed<'_>) -> usize {
    let last = typed.word(typed.words.len().saturating_sub(1));
    let currency = last.is_one_of(&["dollar", "dollars", "euro", "euros", "bucks"]) || Currency::parse(last.text).is_some();
    let all =
        last.is_one_of(&["total", "altogether"]) || last.is("all") && typed.word(typed.words.len().saturating_sub(2)).is("in");
    usize::from(currency || all) + usize::from(all && last.is("all"))
}

/// `12 bf cherry that cost $84`, `12 bf cherry, cost 7 each`, `worth 84` in `opened`
fn that_cost(typed: &Typed<'_>) -> Option<Slip> {
    const COST: [&str; 9] = ["cost", "costs", "costing", "costed", "worth", "valued", "priced", "sold", "paid"];
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&COST))?;
    let small =
        |word: Word<'_>| word.is_one_of(&["that", "which", "it", "they", "was", "were", "has", "had", "have", "each", "I", "me"]);
    let mut start = at;
    while start > 2 && small(typed.word(start - 1)) {
        start -= 1;
    }
    let mut sum = at + 1;
    while typed.word(sum).is_one_of(&["me", "us", "at", "for", "about"]) {
        sum += 1;
    }
    let end = typed.words.len() - words_behind(typed);
    let each = typed.word(sum + 1).is_one_of(&["each", "apiece", "ea"]) && end == sum + 2;
    let figures = sum_of(typed.word(sum)).filter(|_| is_priced(typed) && (end == sum + 1 || each))?;
    // `worth` is said of what is contributed.
    if typed.verb() == Some(Verb::Contributed) && typed.word(at).is("worth") && start == at {
        return None;
    }
    let word = if each || typed.word(sum - 1).is("at") { "at" } else { "for" };
    let right = format!("{word} {figures}");
    let message = format!("the money for the whole line is said with `for`, the price of one with `at`: `{right}`");
    let slip = Slip::new(PRICE_WORDS, typed.range(start..typed.words.len()), message);
    let before = typed.text.get(..typed.word(start - 1).end())?;
    Some(slip.fix("write it so", format!("{before} {right}")))
}

/// `1 stool $85 cash`, `2 stool at 85, card`: how it was paid behind the price
fn price_and_how_paid(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 3)?;
    let how = ["cash", "card", "check"].into_iter().find(|how| typed.word(last).is(how));
    let how = how.or_else(|| typed.word(last).is("cheque").then_some("check"))?;
    let dropped = usize::from(typed.word(last - 1).is_one_of(&["in", "by", "with", "as"]));
    let at = last.checked_sub(1 + dropped)?;
    let figures = sum_of(typed.word(at)).filter(|_| is_priced(typed) && typed.verb() == Some(Verb::Sold) && at >= 2)?;
    let word = typed.word(at - 1);
    let said = word.is_one_of(&["at", "for"]);
    let item = typed.slice(0..if said { at - 1 } else { at }).trim_end_matches([',', ' ']);
    let count = typed.word(0).text;
    let whole = |word: &str| match word {
        "at" if count != "1" => product(count, figures),
        _ => Some(figures.to_owned()),
    };
    let slip = Slip::new(
        OWN_LINE,
        typed.range(last - dropped..last + 1),
        format!("how much came as {how} is a line of its own: `{how} {figures}`"),
    );
    let line = |word: &str| Some(format!("{item} {word} {figures}\n{how} {}", whole(word)?));
    match () {
        () if said => Some(slip.fix("begin a line with it", line(if word.is("at") { "at" } else { "for" })?)),
        () if count == "1" => Some(slip.fix("begin a line with it", line("for")?)),
        () => {
            let slip = slip.fix("the money for the whole line", line("for")?);
            Some(match line("at") {
                Some(at) => slip.fix("the price of one", at),
                None => slip,
            })
        }
    }
}

/// `2 bf cherry 25.00, lot CON`, `2 bf cherry 25.00 lot CON`: a sum in the middle, without `at` or `for`
fn price_in_between(typed: &Typed<'_>) -> Option<Slip> {
    let at = (2..typed.words.len().saturating_sub(1)).find(|at| {
        let (before, word) = (typed.word(at - 1), typed.word(*at));
        sum_of(word).is_some()
            && before.is_name()
            && !before.comma
            && typed.word(at + 1).is_one_of(&["lot", "certificate", "counted"])
    })?;
    let word = typed.word(at);
    let figures = sum_of(word).filter(|_| is_priced(typed) && is_name(typed.word(at - 1).text))?;
    if typed.word(0).text == "1" {
        let slip = Slip::new(PRICE_WORDS, word.start..word.end(), format!("a word is missing before the money: `for {figures}`"));
        return Some(slip.fix("write it so", typed.with(at..at + 1, &format!("for {figures}"))));
    }
    let slip = Slip::new(PRICE_WORDS, word.start..word.end(), format!("is {figures} the price of one, or for the whole line?"));
    let slip = slip.fix("the price of one", typed.with(at..at + 1, &format!("at {figures}")));
    Some(slip.fix("the money for the whole line", typed.with(at..at + 1, &format!("for {figures}"))))
}

/// `60 booth fee`, `booth fee 60`: a bill as an item, in a sale or in `paid`
pub(super) fn fee_as_a_thing(typed: &Typed<'_>) -> Option<Slip> {
    const BILLS: [&str; 8] = ["fee", "fees", "rent", "rental", "insurance", "parking", "dues", "subscription"];
    let length = typed.words.len();
    let first = sum_of(typed.word(0));
    let (sum, names) = match first {
        Some(sum) => (sum, 1..length),
        None => (sum_of(typed.word(length.checked_sub(1)?))?, 0..length - 1),
    };
    let plain = |at: usize| typed.word(at).is_name() && !typed.word(at).comma;
    let named = names.len() <= 3 && !names.is_empty() && names.clone().all(plain);
    let name = typed.slice(names.clone()).split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    let last = name.rsplit('-').next().unwrap_or("");
    let of_a_stall = name.contains('-') && BILLS.contains(&last) && !name.starts_with("fee") && !name.starts_with("card");
    if typed.is_detail() && typed.verb() == Some(Verb::Sold) && named && names.len() == 1 && of_a_stall {
        return Some(paid_apart(typed, sum, &name));
    }
    let is_booth = names.len() == 1 && typed.word(names.start).is_one_of(&["booth", "stall", "stand", "table", "pitch"]);
    let is_booth = is_booth && typed.verb() == Some(Verb::Sold) && names.start == 0;
    if !typed.is_detail() || !named || !is_name(&name) || !(is_booth || typed.word(names.end - 1).is_one_of(&BILLS)) {
        return None;
    }
    match typed.verb() {
        Some(Verb::Paid | Verb::Bought) => {
            let right = format!("{sum} for {name}");
            let message = format!("an amount of money stands before `for`: `{right}`");
            Some(Slip::new(SUM_WITHOUT_FOR, 0..typed.text.len(), message).fix("write it so", right))
        }
        // The fee of a sale has a line of its own.
        Some(Verb::Sold) if !name.starts_with("fee") && (names.len() > 1 || is_booth) => {
            let name = if is_booth { format!("{name}-fee") } else { name };
            Some(paid_apart(typed, sum, &name))
        }
        _ => None,
    }
}

/// A bill in a sale as an entry of its own.
fn paid_apart(typed: &Typed<'_>, sum: &str, name: &str) -> Slip {
    let message = format!("what was paid for `{name}` is an entry of its own, and no line of the sale");
    let slip = Slip::new(OWN_LINE, 0..typed.text.len(), message);
    let line = format!("{sum} for {name} on CHANNEL");
    let what = "an entry of its own in place of the line";
    slip.in_an_entry(Apart { what, verb: "paid", line, behind: Some(" to NAME".to_owned()) })
}

/// `drove 44 miles`, `44 miles` below `sold`
fn drive_in_a_sale(typed: &Typed<'_>) -> Option<Slip> {
    let begins = usize::from(typed.word(0).is_one_of(&["drove", "drive", "driving", "mileage", "miles", "travel"]));
    let here =
        typed.is_detail() && matches!(typed.verb(), Some(Verb::Sold | Verb::Paid | Verb::Worked | Verb::Sent | Verb::Bought));
    let said =
        distance_said(typed.slice(begins..typed.words.len())).filter(|_| here && (begins == 1 || typed.words.len() == 2))?;
    let unit = said.split_whitespace().nth(1)?;
    if begins == 0 && unit != "mi" {
        return None;
    }
    let mut words = said.splitn(3, ' ');
    let (figure, unit, rest) = (words.next()?, words.next()?, words.next().unwrap_or(""));
    let on = if typed.verb() == Some(Verb::Sold) { " on CHANNEL" } else { "" };
    let text = if rest.starts_with("on ") { format!(" {figure} {unit} {rest}") } else { format!(" {figure} {unit}{on} {rest}") };
    let slip = Slip::new(OWN_LINE, 0..typed.text.len(), "a drive is an entry of its own: `drove DATE 44 mi on NAME`");
    let what = "an entry of its own in place of the line";
    Some(slip.in_an_entry(Apart { what, verb: "drove", line: String::new(), behind: Some(text.trim_end().to_owned()) }))
}

/// `lost one stool`, `a sheet plywood for 62`, `made four step-stool`
fn number_in_words(typed: &Typed<'_>) -> Option<Slip> {
    const NUMBERS: [&str; 12] =
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    let listed = typed.word(0).is_one_of(&["used", "made", "lost", "kept", "needs", "gave", "got"]);
    let begins = usize::from(listed);
    let goods = listed
        || matches!(
            typed.verb(),
            Some(
                Verb::Bought
                    | Verb::Opened
                    | Verb::Sold
                    | Verb::Sent
                    | Verb::BroughtBack
                    | Verb::Returned
                    | Verb::Counted
                    | Verb::TookHome
                    | Verb::Gave
                    | Verb::Scrapped
                    | Verb::UsedUp
                    | Verb::Found
                    | Verb::Contributed
            )
        );
    let begins_item = |at: usize| at == begins || at > begins && typed.word(at - 1).comma;
    let (at, figure) = (begins..typed.words.len()).filter(|at| begins_item(*at)).find_map(|at| {
        let word = typed.word(at);
        let number = NUMBERS.iter().position(|number| word.is(number)).map(|place| place + 1);
        let article = word.is_one_of(&["a", "an"]).then_some(1);
        let next = typed.word(at + 1);
        let part = next.is_one_of(&["half", "quarter", "few", "couple", "dozen", "pair", "bit", "little"]);
        number.or(article).filter(|_| next.is_name() && !part).map(|figure| (at, figure.to_string()))
    })?;
    if !typed.is_detail() || !goods {
        return None;
    }
    let message = format!("a count is written in figures: `{figure} {}`", typed.word(at + 1).text);
    let slip = Slip::new(NUMBER_SPELLING, typed.range(at..at + 1), message);
    Some(slip.fix("write the number", typed.with(at..at + 1, &figure)))
}

/// How people say that a piece is no good.
pub(super) const SPOILED: [&str; 20] = [
    "lost",
    "broken",
    "broke",
    "split",
    "cracked",
    "ruined",
    "spoiled",
    "scrapped",
    "spoilt",
    "burnt",
    "burned",
    "torn",
    "flawed",
    "damaged",
    "warped",
    "chipped",
    "smashed",
    "shattered",
    "defective",
    "unusable",
];

/// Whether a word says that a piece is no good.
pub(in crate::syntax) fn is_spoiled_word(word: &str) -> bool {
    SPOILED.contains(&word)
}

/// `made 4 step-stool, 1 lost`: what was lost has a line of its own
pub(super) fn lost_of_made(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 4)?;
    let (count, word) = (typed.word(last - 1), typed.word(last));
    let thing = typed.word(2);
    if !typed.is_detail() || !typed.word(0).is("made") || !word.is_one_of(&SPOILED) || !is_digits(count.text) || !thing.is_name()
    {
        return None;
    }
    let made = typed.slice(0..last - 1).trim_end_matches([',', ' ']);
    let made = made.strip_suffix(" and").or_else(|| made.strip_suffix(" but")).unwrap_or(made).trim_end_matches(',');
    let lost = format!("lost {} {}", count.text, thing.text);
    let slip = Slip::new(OWN_LINE, typed.range(last - 1..last + 1), format!("what was spoiled is a line of its own: `{lost}`"));
    let slip = slip.note("`made` counts the good ones alone");
    let good =
        typed.word(1).text.parse::<u64>().ok().zip(count.text.parse::<u64>().ok()).and_then(|(all, bad)| all.checked_sub(bad));
    let slip = slip.fix("begin a line with it", format!("{made}\n{lost}"));
    Some(match good.filter(|good| *good > 0 && typed.word(2).comma) {
        Some(good) => slip.fix(format!("or, where {good} of them are good"), format!("made {good} {}\n{lost}", thing.text)),
        None => slip,
    })
}

/// `210.00 for rent every month`, `16 for website monthly`
fn repeating_sum(typed: &Typed<'_>) -> Option<Slip> {
    let words = how_often(typed).filter(|_| typed.is_detail() && typed.word(0).is_number() && typed.word(1).is("for"))?;
    if words.start < 3 || words.end < typed.words.len() && !typed.word(words.end).quoted {
        return None;
    }
    let line = format!("{} {}", typed.slice(0..words.start), typed.slice(words.end..typed.words.len()));
    let message = "nothing repeats by itself: each payment is an entry of its own, on its day";
    let slip = Slip::new(SMALL_WORD, typed.range(words), message);
    Some(slip.fix("for this one; write one for each that follows", line.trim().to_owned()))
}

/// What the whole line says has no place here, and where it is said instead.
fn said_elsewhere(typed: &Typed<'_>, message: &str, note: &str) -> Slip {
    Slip::new(DETAIL_FORM, 0..typed.text.len(), message).note(note).settled()
}

/// `55 for phone, half for business`
fn part_for_business(typed: &Typed<'_>) -> Option<Slip> {
    const PARTS: [&str; 6] = ["half", "partly", "part", "third", "quarter", "percent"];
    let sum = typed.is_detail() && typed.word(0).is_number() && typed.word(1).is("for");
    let is_part = |word: &Word<'_>| word.is_one_of(&PARTS) || word.text.ends_with('%');
    let rest = || typed.words.iter().skip(3);
    let meant =
        sum && rest().any(is_part) && rest().any(|word| word.is_one_of(&["business", "private", "personal", "shop", "work"]));
    meant.then(|| {
        said_elsewhere(
            typed,
            "how much of it is for the business is said once, where the expense is defined",
            "below the expense stands `business use 50%`, and the whole sum stays here",
        )
    })
}

/// `1 wax-melter for 189, written off at once`
fn at_once(typed: &Typed<'_>) -> Option<Slip> {
    let verb = matches!(typed.verb(), Some(Verb::Bought | Verb::Paid)) && typed.is_detail() && typed.word(0).is_number();
    let plain: Vec<_> = typed.words.iter().filter(|word| !word.quoted).collect();
    let off = plain.windows(2).any(|two| matches!(two, [one, other] if one.is_one_of(&["written", "write"]) && other.is("off")));
    let once = plain.windows(2).any(|two| matches!(two, [one, other] if one.is("at") && other.is("once")));
    let meant =
        verb && (off || once || plain.iter().skip(2).any(|word| word.is_one_of(&["expensed", "deducted", "depreciated"])));
    meant.then(|| {
        said_elsewhere(
            typed,
            "how a tool is deducted is said once, where it is defined",
            "`tool NAME \"…\"`, and below it `expensed at once`, or `recovered over 7 years`",
        )
    })
}

/// `deposit 40`, `40 deposit` below `received`
fn deposit_line(typed: &Typed<'_>) -> Option<Slip> {
    const WORDS: [&str; 5] = ["deposit", "down", "advance", "prepayment", "down-payment"];
    let here = typed.is_detail() && typed.verb() == Some(Verb::Received);
    let length = typed.words.len();
    let how =
        length > 3 && typed.word(length - 2).is_one_of(&["by", "in", "as", "with"]) && is_how_paid(typed.word(length - 1).text);
    let length = if how { length - 2 } else { length };
    let sum = typed.words.iter().find_map(|word| sum_of(*word)).filter(|_| here && length <= 3)?;
    typed.words.iter().any(|word| word.is_one_of(&WORDS)).then(|| {
        let slip = Slip::new(SUM_WITHOUT_FOR, 0..typed.text.len(), "a deposit is money for an order, which has a name");
        let slip = slip.note("the sale has that order's name in its head later");
        slip.fix("with the order's name", format!("{sum} for order \"NAME\""))
    })
}

/// `fee 2.6%`, `card 100, fee 2.6%` below `sold`
fn percent_fee(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.verb() == Some(Verb::Sold);
    let at = typed.words.iter().position(|word| word.is_one_of(&["fee", "fees"])).filter(|_| here)?;
    let percent = typed.words.iter().skip(at).find(|word| word.text.ends_with('%'))?;
    let note = format!(
        "below the channel: `fee {} of total`, or `of card` where only cards cost it; here stands a sum, `fee 8.56`",
        percent.text
    );
    let slip = said_elsewhere(typed, "what part of every sale a channel takes is said once, where it is defined", &note);
    // `booth fee 10%`: what a fair took of that day.
    if at > 0 && (0..at).all(|at| typed.word(at).is_name()) && typed.words.len() == at + 2 {
        return Some(Slip { settled: false, ..slip }.fix("as the sum that it was", "fee SUM"));
    }
    // `card 100, fee 2.6%`: the rest of the line stays.
    if at > 0 {
        return Some(slip);
    }
    Some(Slip { settled: false, ..slip }.fix("where it is said there, leave it out here", ""))
}

/// `they keep 40%`, `commission 40%`, `less their 40%` below `sold`
fn channel_keeps(typed: &Typed<'_>) -> Option<Slip> {
    const KEEPS: [&str; 11] =
        ["keep", "keeps", "kept", "take", "takes", "took", "commission", "consignment", "their", "share", "cut"];
    let sold = typed.verb() == Some(Verb::Sold);
    let here =
        typed.is_detail() && (sold || typed.verb() == Some(Verb::Sent)) && !typed.word(0).text.starts_with(char::is_numeric);
    let percent = typed.words.iter().find(|word| word.text.strip_suffix('%').is_some_and(is_number))?;
    let means = typed.words.iter().any(|word| word.is_one_of(&KEEPS));
    let note = match sold {
        true => format!(
            "below the channel stands `consignment {}`; what it pays out for this sale may stand here as `settled 67.80`, which is checked; \
             `paid` says that it came that day, `unpaid` that it comes later",
            percent.text
        ),
        false => format!("below the channel of that place stands `consignment {}`", percent.text),
    };
    (here && means).then(|| {
        let slip = said_elsewhere(typed, "what a channel keeps of each sale is said once, where it is defined", &note);
        Slip { settled: false, ..slip }.fix("where it is said there, leave it out here", "")
    })
}

/// `paid in 30 days`
fn due_later(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Sold | Verb::Bought | Verb::Paid));
    let days = typed.words.iter().any(|word| word.is_one_of(&["days", "weeks", "month", "months"]));
    let in_days = typed.word(0).is_one_of(&["paid", "pays", "pay", "payable", "due"]) && days;
    (here && in_days).then(|| {
        let slip = Slip::new(
            DETAIL_FORM,
            0..typed.text.len(),
            "what is paid later is `unpaid` now; the day on which it is paid has an entry",
        );
        slip.fix("write it so", "unpaid")
    })
}
