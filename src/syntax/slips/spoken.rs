//! Slips of whole entries that are written as they are spoken: `rent 150`, `refund 2026-03-02 from Mill Lane $8`,
//! `sent … on consignment, keeps 40%`, `lost 1.2 bf maple` outside a batch.

use std::ops::Range;

use super::general::is_for_a_line;
use super::head::{PART_WORDS, verb_of};
use super::money::SIGNS;
use super::slip::{Slip, SlipRule};
use super::time::time_at;
use super::typed::{Typed, Word, is_name, is_number, is_quote};
use super::verb::verb_for;
use crate::diagnostics::edits;
use crate::syntax::Verb;
use crate::syntax::errors::STRAY_DETAIL;
use crate::syntax::placement_table::{HEADS, LINES};
use crate::syntax::slip_errors::{HEAD_PART_WORD, OWN_LINE, SMALL_WORD, UNKNOWN_HEAD};
use crate::syntax::words::is_reserved;

pub(super) const RULES: &[SlipRule] = &[
    batch_on_one_line,
    channel_sold,
    bill_by_name,
    bill_in_head,
    back_from_supplier,
    deposit_in_head,
    on_consignment,
    sale_in_head,
    thing_in_head_alone,
    quoted_name_in_head,
];

/// A sum as it may be typed, without the sign of a currency.
pub(super) fn sum_of<'t>(typed: &Typed<'t>, at: usize) -> Option<&'t str> {
    let word = typed.word(at);
    let bare = word.text.trim_matches(SIGNS);
    (!word.quoted && is_number(bare)).then_some(bare)
}

/// The day of the entry beside a line, or a word that asks for one.
pub(super) fn near_day(typed: &Typed<'_>) -> String {
    typed.near_date.map_or_else(|| "DATE".to_owned(), |near| near.to_string())
}

/// Some words as one name, where they can be one.
pub(super) fn one_name(typed: &Typed<'_>, words: Range<usize>) -> Option<String> {
    let plain = |at: usize| !typed.word(at).quoted && !typed.word(at).comma;
    let name = typed.slice(words.clone()).split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    (!words.is_empty() && words.len() <= 4 && words.clone().all(plain) && is_name(&name) && !is_reserved(&name)).then_some(name)
}

/// Some words as a supplier, a payee or a buyer: a name as it is, several words in quotes.
pub(super) fn party(typed: &Typed<'_>, words: Range<usize>) -> Option<String> {
    let text = typed.slice(words.clone());
    let whole = words.len() == 1 && (typed.word(words.start).quoted || typed.word(words.start).is_name());
    let plain = |at: usize| !typed.word(at).quoted && !typed.word(at).comma && sum_of(typed, at).is_none();
    match () {
        () if words.is_empty() => None,
        () if whole => Some(text.to_owned()),
        () if words.clone().all(plain) => Some(format!("\"{text}\"")),
        () => None,
    }
}

/// `rent 150`, `rent 2026-02-01 $150`, `booth fee 60 2026-02-14`: a bill by its name
fn bill_by_name(typed: &Typed<'_>) -> Option<Slip> {
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 1 && *last <= 5)?;
    let first = typed.word(0);
    let unknown = !HEADS.contains(&first.text) && verb_for(first.text).is_none();
    let date = (1..=last).find(|at| typed.word(*at).is_date());
    let rest: Vec<usize> = (0..=last).filter(|at| Some(*at) != date).collect();
    let (sum, name) = rest.split_last()?;
    let end = name.last()? + 1;
    let near = |word: &str| word == first.text || word.len() > 3 && edits(word, first.text) == 1;
    let begins_line = is_for_a_line(first.text) || LINES.iter().filter_map(|row| row.words.split(' ').next()).any(near);
    let figures = sum_of(typed, *sum)?;
    if !typed.context.column_one || !unknown || begins_line || name.len() != end || !first.is_name() {
        return None;
    }
    // `Mill Lane gave back $8` is no bill.
    let says = |at: usize| {
        let word = typed.word(at);
        HEADS.contains(&word.text) || verb_for(word.text).is_some() || word.text.contains(char::is_uppercase)
    };
    let expense = one_name(typed, 0..end).filter(|_| !(0..end).any(says))?;
    let day = date.map_or_else(|| near_day(typed), |at| typed.word(at).text.to_owned());
    let message = format!("a bill is an entry of its own, with who was paid: `paid {day} to NAME`");
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..end), message)
        .note(format!("`{expense}` is then an expense, which is defined once: `expense {expense} \"…\"`"));
    Some(slip.fix("as an entry", format!("paid {day} to NAME\n{figures} for {expense}")))
}

/// `paid 2026-02-01 rent 150`, `paid rent 150`: who was paid is missing, or what for
fn bill_in_head(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| *verb == Verb::Paid)?;
    let dated = typed.word(1).is_date();
    let start = if dated { 2 } else { 1 };
    // `paid by card` is a line of the entry above.
    let how = |word: &Word<'_>| word.is_one_of(&["by", "in", "with", "cash", "card", "check", "cheque", "full", "already"]);
    if !dated && typed.words.len() > 1 && typed.words.iter().skip(1).all(how) {
        let slip =
            Slip::new(STRAY_DETAIL, 0..typed.text.len(), "`paid` alone says that all of it was paid that day, below the goods");
        return Some(slip.fix("a line of the entry above is indented", "    paid"));
    }
    let memo = typed.words.last().filter(|word| word.quoted && typed.words.len() > start + 2);
    let last = typed.words.len().checked_sub(1 + usize::from(memo.is_some())).filter(|last| *last > start)?;
    let memo = memo.map_or_else(String::new, |memo| format!(" {}", memo.text));
    let sum = sum_of(typed, last)?;
    let is_part = |at: usize| PART_WORDS.iter().any(|part| typed.word(at).is(part)) || sum_of(typed, at).is_some();
    let words = start..last;
    if !dated && words.clone().any(|at| typed.word(at).is_date()) || words.clone().any(is_part) {
        return None;
    }
    let (name, payee) = (one_name(typed, words.clone()), party(typed, words.clone())?);
    let day = if dated { typed.word(1).text.to_owned() } else { near_day(typed) };
    let slip = Slip::new(OWN_LINE, typed.range(start..last + 1), "the sum goes on a line of its own, indented");
    let slip = slip.note("who was paid follows `to`, and what the sum was for follows `for`: the name of an expense or a tool");
    let slip = match name {
        Some(name) => slip.fix(format!("if `{name}` is what it was for"), format!("paid {day} to NAME\n{sum} for {name}{memo}")),
        None => slip,
    };
    Some(slip.fix(format!("if `{}` was paid", typed.slice(words)), format!("paid {day} to {payee}\n{sum} for NAME{memo}")))
}

/// `refund 2026-03-02 from Mill Lane $8`, `refund 2026-03-02 Mill Lane 8`: money that a supplier gives back
fn back_from_supplier(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    if !typed.context.column_one || !first.is_one_of(&["refund", "refunded", "rebate", "credit", "returned"]) {
        return None;
    }
    // What it was for is said again by `off`.
    let end = (2..typed.words.len()).find(|at| typed.word(*at).is("for")).unwrap_or(typed.words.len());
    let rest: Vec<usize> = (1..end).filter(|at| !typed.word(*at).is_date()).collect();
    let sums: Vec<usize> = rest.iter().copied().filter(|at| sum_of(typed, *at).is_some()).collect();
    let [sum] = sums.as_slice() else { return None };
    let mut words: Vec<usize> = rest.into_iter().filter(|at| at != sum && !typed.word(*at).is_one_of(&["on", "of"])).collect();
    // `refunded Jane 28.00 one mug broke`: what stands behind the sum says why.
    let why: Vec<&str> = words.iter().filter(|at| *at > sum).map(|at| typed.word(*at).text).collect();
    let why = if words.first().is_some_and(|first| first < sum) && !why.iter().any(|word| word.starts_with(is_quote)) {
        words.retain(|at| at < sum);
        why.join(" ")
    } else {
        String::new()
    };
    let why = if why.is_empty() { why } else { format!(" \"{why}\"") };
    let (small, named) = words.split_first()?;
    let by = typed.word(*small).is_one_of(&["from", "by"]);
    let named = if by { named } else { &words };
    let (begin, end) = (*named.first()?, *named.last()? + 1);
    // Money of one is a refund; `returned … 2 pull-cart` is pieces.
    let is_money = typed.word(*sum).text.contains(SIGNS) || typed.word(*sum).text.contains('.') || *sum + 1 == end;
    if !is_money || named.len() != end - begin || first.is("returned") && !by || typed.word(begin).is_one_of(&["to", "order"]) {
        return None;
    }
    let party = party(typed, begin..end)?;
    let day = typed.words.iter().find(|word| word.is_date()).map_or_else(|| near_day(typed), |word| word.text.to_owned());
    let figures = sum_of(typed, *sum)?;
    let message = "what a supplier gives back is `credited`, with the thing whose price it lowers";
    let slip = Slip::new(UNKNOWN_HEAD, first.start..first.end(), message);
    let slip = slip.note(
        "`off` stands before the thing: of a delivery that was billed too high, a thing that came with it, whose cost it was part of",
    );
    let slip = slip.fix("from a supplier", format!("credited {day} by {party}\n{figures} off NAME{why}"));
    Some(slip.fix("to a buyer, by the order", format!("returned {day} order \"NAME\"\nrefunded {figures}{why}")))
}

/// `received 2026-02-02 deposit 100 from Mrs. Dell`, `received 2026-02-02 100 down from Mrs. Dell`
fn deposit_in_head(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| *verb == Verb::Received)?;
    let is_deposit = |at: usize| {
        typed.word(at).is_one_of(&["deposit", "deposits", "prepayment", "advance", "down", "down-payment", "prepaid", "payment"])
    };
    let at = (1..typed.words.len()).find(|at| is_deposit(*at))?;
    let sum = (1..typed.words.len()).find(|at| sum_of(typed, *at).is_some())?;
    let from = (1..typed.words.len()).find(|at| typed.word(*at).is("from"))?;
    let end = (from + 1..typed.words.len())
        .find(|at| *at == sum || is_deposit(*at) || PART_WORDS.iter().any(|part| typed.word(*at).is(part)))
        .unwrap_or(typed.words.len());
    let day = typed.words.iter().find(|word| word.is_date()).map_or_else(|| near_day(typed), |word| word.text.to_owned());
    let (party, figures) = (party(typed, from + 1..end)?, sum_of(typed, sum)?);
    let message = format!("a deposit is money for an order, which has a name: `{figures} for order \"C-07\"`");
    let slip = Slip::new(OWN_LINE, typed.range(at..at + 1), message).note("the sale has that order's name in its head later");
    Some(slip.fix("with the order's name", format!("received {day} from {party}\n{figures} for order \"NAME\"")))
}

/// `sent 2026-01-20 to corner-gallery on consignment, keeps 40%`
fn on_consignment(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| matches!(verb, Verb::Sent | Verb::Sold))?;
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["consignment", "commission"]))?;
    let small = typed.word(at - 1).is_one_of(&["on", "for", "as", "in"]);
    let start = if small { at - 1 } else { at };
    let end = (at + 1..typed.words.len())
        .find(|end| PART_WORDS.iter().any(|part| typed.word(*end).is(part) && *part != "for"))
        .unwrap_or(typed.words.len());
    if start < 2 {
        return None;
    }
    let line = format!("{} {}", typed.slice(0..start), typed.slice(end..typed.words.len()));
    let message = "what a place keeps of its sales is said once, where its channel is defined: `consignment 40%`";
    let slip = Slip::new(HEAD_PART_WORD, typed.range(start..end), message);
    Some(slip.fix("leave it out here", line.trim_end_matches([' ', ',']).to_owned()))
}

/// `sold 2026-03-01 0.5 sheet plywood to a neighbour for $20`, `sold 2026-02-14 a stool at the fair for 85`: a sale on one line
fn sale_in_head(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| *verb == Verb::Sold)?;
    let dated = typed.word(1).is_date();
    let start = 1 + usize::from(dated);
    let begins = typed.word(start).text.starts_with(|letter: char| letter.is_ascii_digit())
        || typed.word(start).is_one_of(&["a", "an", "one", "two", "three", "four", "half", "quarter"]);
    let length = typed.words.len();
    let words = |at: usize| typed.word(at).is_one_of(&["to", "via", "at", "for", "on", "through", "order", "with"]);
    if !begins || typed.word(start).is_date() || (start..length).any(|at| typed.word(at).is_date()) {
        return None;
    }
    let mut at = (start + 1..length).find(|at| words(*at)).unwrap_or(length);
    let (mut item, mut head, mut buyer, mut price) =
        (typed.slice(start..at).trim_end_matches(',').to_owned(), String::new(), None, None);
    if at == length && sum_of(typed, at - 1).is_none() {
        return None;
    }
    while at < length {
        let end = (at + 2..length).find(|end| words(*end)).unwrap_or(length);
        let mut rest = at + 1..end;
        // The price may stand at the end without its word.
        if rest.len() > 1 && end == length && price.is_none() && sum_of(typed, end - 1).is_some() {
            rest.end -= 1;
            price = Some(("for", sum_of(typed, end - 1)?));
        }
        let word = typed.word(at);
        match word.text {
            "at" | "for" if rest.len() == 1 && sum_of(typed, at + 1).is_some() => {
                let word = if word.text == "at" { "at" } else { "for" };
                price = Some((word, sum_of(typed, at + 1)?));
            }
            "to" => buyer = Some(party(typed, rest)?),
            "order" if rest.len() == 1 => head.push_str(&format!(" order {}", typed.slice(rest))),
            "via" | "at" | "on" | "through" => {
                let rest = rest.start + usize::from(typed.word(rest.start).is("the"))..rest.end;
                head = format!(" via {}{head}", one_name(typed, rest)?);
            }
            _ => return None,
        }
        at = end;
    }
    if let Some((word, sum)) = price {
        item = format!("{item} {word} {sum}");
    }
    let buyer = buyer.map(|buyer| format!("\nto {buyer}")).unwrap_or_default();
    let day = if dated { typed.word(1).text.to_owned() } else { near_day(typed) };
    let slip = Slip::new(OWN_LINE, typed.range(start..length), "what the entry holds goes on lines of its own, indented");
    if head.contains(" via ") {
        return Some(slip.fix("begin a line with it", format!("sold {day}{head}\n{item}{buyer}")));
    }
    let slip = slip.note("`via` stands before the channel in which it was sold, which is defined once: `channel fair \"Fairs\"`");
    Some(slip.fix("with the channel's name", format!("sold {day} via NAME{head}\n{item}{buyer}")))
}

/// `built 2026-03-09 4 stools, used 9 bf oak, 11 hours cutting`: a whole batch on one line
fn batch_on_one_line(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| matches!(verb, Verb::Built | Verb::Finished))?;
    const LINES_OF_IT: [&str; 5] = ["used", "took", "made", "lost", "kept"];
    let start = if typed.word(2).is("batch") { 4 } else { 2 };
    let begins = |at: usize| typed.word(at).is_one_of(&LINES_OF_IT);
    if !typed.word(1).is_date() || start >= typed.words.len() {
        return None;
    }
    let mut lines: Vec<String> = Vec::new();
    let mut at = start;
    while at < typed.words.len() {
        let from = at + usize::from(typed.word(at).is("and"));
        let end = (from..typed.words.len())
            .find(|at| typed.word(*at).comma || *at + 1 > from && begins(*at + 1) || typed.word(*at + 1).is("and"));
        let end = end.map_or(typed.words.len(), |last| last + 1);
        let said = typed.slice(from..end);
        let first = typed.word(from);
        let is_time = time_at(typed, from) > 0;
        let last = lines.last_mut();
        let continues = |line: &str| line.starts_with("took ") == is_time;
        match last {
            _ if begins(from) => lines.push(said.to_owned()),
            Some(line) if (is_time || first.is_number() || first.is_fraction()) && continues(line) => {
                line.push_str(", ");
                line.push_str(said);
            }
            _ if is_time => lines.push(format!("took {said}")),
            None if first.is_number() => lines.push(format!("made {said}")),
            _ => return None,
        }
        at = end.max(at + 1);
    }
    if lines.len() < 2 {
        return None;
    }
    let slip =
        Slip::new(OWN_LINE, typed.range(start..typed.words.len()), "what the entry holds goes on lines of its own, indented");
    Some(slip.fix("begin a line with each", format!("{}\n{}", typed.slice(0..start), lines.join("\n"))))
}

/// `returned 2026-02-20 puzzle from corner-gallery`, `sold 2026-02-14 stool via winter-fair`: a thing in the head, without its count
fn thing_in_head_alone(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed).filter(|verb| {
        matches!(
            verb,
            Verb::Sold | Verb::Sent | Verb::Returned | Verb::BroughtBack | Verb::Gave | Verb::TookHome | Verb::Scrapped
        )
    })?;
    let start = 2 + usize::from(typed.word(2).is_one_of(&["a", "an", "one", "the"]));
    let is_part = |at: usize| PART_WORDS.iter().any(|part| typed.word(at).is(part));
    let end = (start..typed.words.len()).find(|at| is_part(*at)).unwrap_or(typed.words.len());
    let behind_is_head = end < typed.words.len() || start > 2 || matches!(verb, Verb::TookHome);
    let has_figure = (start..end).any(|at| typed.word(at).text.starts_with(|letter: char| letter.is_ascii_digit()));
    if !typed.word(1).is_date() || !behind_is_head || has_figure {
        return None;
    }
    let name = one_name(typed, start..end).filter(|name| !name.is_empty())?;
    let parts = typed.slice(end..typed.words.len());
    if ["in", "on", "at", "by", "during", "from"].iter().any(|small| name.starts_with(&format!("{small}-"))) {
        return None;
    }
    let message = format!("what the entry holds goes on a line of its own, with its count: `1 {name}`");
    let slip = Slip::new(OWN_LINE, typed.range(2..end), message);
    let line =
        |verb: &str, parts: &str| format!("{verb} {} {parts}", typed.word(1).text).trim_end().to_owned() + &format!("\n1 {name}");
    let slip = slip.note(if verb == Verb::Sold { "a price stands behind it where it is not the list's: `at 42.00`" } else { "" });
    let slip = Slip { notes: slip.notes.into_iter().filter(|note| !note.is_empty()).collect(), ..slip };
    if verb == Verb::Returned && typed.word(end).is("from") {
        let place = typed.slice(end + 1..typed.words.len());
        let slip = slip.fix("goods that were not sold", line("brought-back", parts));
        return Some(slip.fix("what a buyer gives back", line("returned", &format!("via {place}"))));
    }
    let has_channel = typed.words.iter().any(|word| word.is("via"));
    let slip = match verb {
        // A word alone is as likely where it was sold.
        Verb::Sold if !has_channel && end == start + 1 => {
            slip.fix("if it is where it was sold", format!("{} via {name} {parts}", typed.slice(0..2)).trim_end().to_owned())
        }
        _ => slip,
    };
    Some(slip.fix(format!("if it is what was {}", goods_word(verb)), line(typed.word(0).text, parts)))
}

/// What was done with goods, in a word.
const fn goods_word(verb: Verb) -> &'static str {
    match verb {
        Verb::Sold => "sold",
        Verb::Sent => "sent",
        Verb::Gave => "given",
        Verb::TookHome => "taken",
        Verb::Scrapped => "thrown away",
        _ => "brought back",
    }
}

/// `cafe sold 2 mugs 2026-03-20 paid me 39.20`: a channel that tells what it sold
fn channel_sold(typed: &Typed<'_>) -> Option<Slip> {
    let (first, length) = (typed.word(0), typed.words.len());
    let is_channel = typed.context.column_one && first.is_name() && !HEADS.contains(&first.text) && typed.word(1).is("sold");
    let begins = 2 + usize::from(typed.word(2).is_date());
    if !is_channel || !typed.word(begins).text.starts_with(|letter: char| letter.is_ascii_digit()) {
        return None;
    }
    let end = (begins..length)
        .find(|at| typed.word(*at).is_date() || typed.word(*at).is_one_of(&["on", "paid", "and", "for"]))
        .unwrap_or(length);
    let day = typed.words.iter().find(|word| word.is_date()).map_or_else(|| near_day(typed), |word| word.text.to_owned());
    let message = format!("an entry begins with its verb and day; where it was sold stands behind `via`: `via {}`", first.text);
    let slip = Slip::new(UNKNOWN_HEAD, first.start..first.end(), message);
    let paid = (end..length).find(|at| sum_of(typed, *at).is_some() && !typed.word(*at).is_date());
    let slip = match paid.and_then(|at| sum_of(typed, at)) {
        Some(sum) => slip.note(format!(
            "what came to you for it is an entry of its own: `received {day} from {}`, and below it `{sum} for order \"NAME\"`",
            first.text
        )),
        None => slip,
    };
    Some(slip.fix("as an entry", format!("sold {day} via {}\n{}", first.text, typed.slice(begins..end).trim_end_matches(','))))
}

/// `sold 2026-02-14 via "Winter Fair"`, `built 2026-03-09 batch "PC-014"`: a name of the book in quotes
fn quoted_name_in_head(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed)?;
    let at = (2..typed.words.len()).find(|at| {
        let (word, before) = (typed.word(*at), typed.word(at - 1));
        let place = before.is("to") && verb == Verb::Sent || before.is("from") && matches!(verb, Verb::Sent | Verb::BroughtBack);
        word.quoted && (before.is_one_of(&["via", "at", "batch", "on"]) || place)
    })?;
    let inner = typed.word(at).text.trim_matches(super::typed::is_quote);
    let joined = inner.split_whitespace().collect::<Vec<_>>().join("-");
    let before = typed.word(at - 1).text;
    let tell = |name: &str| {
        let message = format!("a name of the book stands without quotes and is one word: `{before} {name}`");
        Slip::new(HEAD_PART_WORD, typed.range(at..at + 1), message)
    };
    if typed.word(at - 1).is("batch") {
        return Some(tell(&joined).fix("write it so", typed.with(at..at + 1, &joined)).sure_if(joined == inner));
    }
    let name = if is_name(inner) { joined } else { joined.to_lowercase() };
    let name = if is_name(&name) { name } else { super::name::corrected_name(&name)? };
    Some(tell(&name).fix_joined("write it so", typed.with(at..at + 1, &name), name))
}

/// A line of a batch that stands where no batch is open: `lost 1.2 bf maple mold`, `kept 2 bf maple-offcut`, as an entry of its own.
pub(super) fn batch_line_alone(typed: &Typed<'_>) -> Option<Slip> {
    let (word, rest) = (typed.word(0), typed.slice(1..typed.words.len()));
    // `paid 150`: to whom, and what for?
    if let Some(sum) = sum_of(typed, 1).filter(|_| word.text == "paid" && typed.words.len() == 2) {
        let day = near_day(typed);
        let slip = Slip::new(
            OWN_LINE,
            0..typed.text.len(),
            "a payment is an entry of its own: its day and who was paid, and below what for",
        );
        return Some(slip.fix("as an entry", format!("paid {day} to NAME\n{sum} for NAME")));
    }
    let (date, rest) = match typed.word(1).is_date() {
        true => (typed.word(1).text.to_owned(), typed.slice(2..typed.words.len())),
        false => (near_day(typed), rest),
    };
    let own = |verb: &str, list: &str| format!("{verb} {date}\n{list}{rest}");
    let message = format!("`{}` is a line of a batch, and no batch is open above", word.text);
    let slip = Slip::new(SMALL_WORD, 0..typed.text.len(), message);
    let slip = match word.text {
        "lost" if typed.word(1).is_date() && typed.word(2).is("batch") => slip
            .fix("a day of that batch, with its lines below", typed.with(0..1, "continued"))
            .note("below it stands `lost 2 NAME`; a batch over several days ends by `finished`"),
        "lost" => slip
            .fix("what was lost outside a batch is an entry of its own", own("scrapped", ""))
            .note("what went wrong in a batch stands, indented, below its `built`"),
        "kept" => slip
            .fix("what was found in the bin, at no cost", own("found", ""))
            .note("what is left over of a batch stands, indented, below its `built`, with its worth: `kept 0.6 bf oak-offcut worth 1.20`"),
        "made" => slip.fix("what was made is an entry of its own", own("built", "made ")),
        "used" => {
            slip.fix("where something was made of it", own("built", "used ")).fix("where nothing was made", own("used-up", ""))
        }
        "took" if time_at(typed, 1) > 0 => slip.fix("time that was worked is an entry of its own", own("worked", "")),
        _ => return None,
    };
    Some(slip)
}
