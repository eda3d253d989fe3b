//! Slips of heads whose first word is known: the date, the words before the parts, the title.

use std::ops::Range;

use super::known_once::{lists_or_sums, title_from};
use super::money::SIGNS;
use super::on_one_line::{change_in_head, item_in_head, sum_before_party, sum_in_head, sum_last, thing_in_head};
use super::slip::{Slip, SlipRule};
use super::typed::{Typed, Word, is_name, is_number};
use crate::diagnostics::edits;
use crate::syntax::errors::STRAY_DETAIL;
use crate::syntax::placement_heads::{head_row, head_words};
use crate::syntax::slip_errors::{HEAD_DATE, HEAD_PART_WORD, TITLE_IN_QUOTES};
use crate::syntax::{DefinitionWord, Verb};

pub(super) const RULES: &[SlipRule] = &[
    title_missing,
    repeating,
    comma_in_head,
    date_later,
    date_missing,
    near_part_word,
    article,
    article_of_a_place,
    sum_before_party,
    sum_in_head,
    sum_last,
    thing_in_head,
    change_in_head,
    item_in_head,
    batch_word_missing,
    via_word,
    party_in_quotes,
    year_not_date,
    text_in_quotes,
    receipt_word,
    text_behind_channel,
];

/// The words that begin a part of a head.
pub(super) const PART_WORDS: [&str; 12] =
    ["from", "to", "by", "with", "via", "at", "receipt", "order", "batch", "on", "as", "for"];

/// `paid 2026-01-01 to landlord every month`, `paid monthly to landlord`
fn repeating(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed)?;
    let words = how_often(typed)?;
    let line = format!("{} {}", typed.slice(0..words.start), typed.slice(words.end..typed.words.len()));
    let message = "no entry repeats itself: each time is an entry of its own, on its day";
    let slip = Slip::new(HEAD_PART_WORD, typed.range(words), message);
    Some(slip.fix("for the first; write one for each that follows", line.trim().to_owned()))
}

/// The words that say how often something comes again: `every month`, `monthly`.
pub(super) fn how_often(typed: &Typed<'_>) -> Option<Range<usize>> {
    const OFTEN: [&str; 6] = ["daily", "weekly", "monthly", "quarterly", "yearly", "annually"];
    const PERIODS: [&str; 6] = ["day", "week", "month", "quarter", "year", "time"];
    (1..typed.words.len()).find_map(|at| {
        let two = typed.word(at).is_one_of(&["every", "each", "per", "a"]) && typed.word(at + 1).is_one_of(&PERIODS);
        match () {
            () if two => Some(at..at + 2),
            () if typed.word(at).is_one_of(&OFTEN) => Some(at..at + 1),
            () => None,
        }
    })
}

/// `sold 2026-09-12 via fair "Lititz harvest fair"`: a text behind a channel
fn text_behind_channel(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed).filter(|verb| matches!(verb, Verb::Sold | Verb::Sent | Verb::BroughtBack))?;
    let last = typed.words.len().checked_sub(1).filter(|last| *last >= 4)?;
    let (text, name, word) = (typed.word(last), typed.word(last - 1), typed.word(last - 2));
    if !text.quoted || !name.is_name() || !word.is_one_of(&["via", "to", "from", "at"]) {
        return None;
    }
    let slip = Slip::new(HEAD_PART_WORD, typed.range(last..last + 1), "a text stands below the head, on a line of its own");
    Some(slip.fix("write it so", format!("{}\nnote {}", typed.slice(0..last), text.text)))
}

/// What else is typed for `receipt`.
const RECEIPT_WORDS: [&str; 5] = ["rcpt", "invoice", "inv", "bill", "slip"];

/// `bought 2026-03-02 from ridgeline-lumber invoice A-1182`
fn receipt_word(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed)?;
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&RECEIPT_WORDS) && *at + 2 == typed.words.len())?;
    let number = typed.word(at + 1).text;
    // A buyer's bill is the shop's own number.
    let own = matches!(typed.verb(), Some(Verb::Sold | Verb::Returned));
    let (word, whose) = if own { ("order", "your own number of a sale") } else { ("receipt", "the supplier's number") };
    let right = if typed.word(at + 1).quoted { format!("{word} {number}") } else { format!("{word} \"{number}\"") };
    let slip = Slip::new(HEAD_PART_WORD, typed.range(at..at + 2), format!("{whose} is said with `{right}`"));
    if typed.verb() == Some(Verb::Returned) && typed.word(2).is("from") && at == 4 {
        return Some(slip.fix("write it so", format!("{} {right}", typed.slice(0..2))));
    }
    Some(slip.fix("write it so", typed.with(at..at + 2, &right)))
}

pub(super) fn verb_of(typed: &Typed<'_>) -> Option<Verb> {
    typed.verb().filter(|_| typed.context.column_one)
}

/// `product pull-cart Pull-along cart`, `material red-oak`, `material "Red oak"`, `shop Wren & Gable`
fn title_missing(typed: &Typed<'_>) -> Option<Slip> {
    let word = typed.definition().filter(|_| typed.context.column_one)?;
    let (first, second) = (typed.word(0), typed.word(1));
    if word == DefinitionWord::Choices || lists_or_sums(typed) {
        return None;
    }
    if word == DefinitionWord::Shop {
        let rest = typed.slice(1..typed.words.len());
        let title = if rest.is_empty() { "Name of the shop" } else { rest };
        return (!second.quoted).then(|| title_slip(typed, 1, title, &format!("{} \"{title}\"", first.text)));
    }
    if second.text.is_empty() {
        let slip = Slip::new(
            TITLE_IN_QUOTES,
            first.start..first.end(),
            format!("`{}` is followed by a name and a title in quotes", first.text),
        );
        return Some(slip.fix("with its name and title", format!("{} NAME \"Title\"", first.text)));
    }
    if second.quoted {
        let title = second.text.trim_matches(super::typed::is_quote);
        let name = super::name::corrected_name(&title.to_lowercase()).unwrap_or_else(|| title.to_lowercase());
        let slip = Slip::new(
            TITLE_IN_QUOTES,
            second.start..second.end(),
            format!("before the title stands a name: `{name} \"{title}\"`"),
        );
        return Some(slip.fix("name it", typed.with(1..2, &format!("{name} \"{title}\""))));
    }
    let texts = typed.words.iter().skip(2).position(|word| word.quoted).map(|at| at + 2);
    if let Some(text) = texts {
        // `material red oak "Red oak"`
        let name = typed.slice(1..text).split_whitespace().collect::<Vec<_>>().join("-");
        let slip = Slip::new(TITLE_IN_QUOTES, typed.range(1..text), format!("a name is one word: `{name}`"));
        return (text > 2 && is_name(&name)).then(|| slip.fix("join the words with hyphens", typed.with(1..text, &name)));
    }
    let rest = typed.slice(2..typed.words.len());
    let lone_detail = matches!(word, DefinitionWord::Line | DefinitionWord::Pattern) && rest.is_empty();
    let title = if rest.is_empty() { title_from(second.text) } else { rest.to_owned() };
    let slip =
        title_slip(typed, if rest.is_empty() { 1 } else { 2 }, &title, &format!("{} {} \"{title}\"", first.text, second.text));
    if !lone_detail {
        return Some(slip);
    }
    let message = format!("`{}` begins a definition with a title in quotes, or is a line of the product above", first.text);
    let both = Slip::new(STRAY_DETAIL, 0..typed.text.len(), message)
        .fix("a line of the product above is indented", format!("    {}", typed.text));
    Some(slip.fixes.into_iter().fold(both, |both, (what, line)| both.fix(what, line)))
}

fn title_slip(typed: &Typed<'_>, from: usize, title: &str, line: &str) -> Slip {
    let at = typed.range(from..typed.words.len());
    Slip::new(TITLE_IN_QUOTES, at, format!("the title stands in quotes: `\"{title}\"`")).fix("write it so", line).sure()
}

/// `bought 2026-03-02, from ridgeline-lumber`
fn comma_in_head(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed)?;
    let word = typed.words.iter().find(|word| word.comma).filter(|_| verb != Verb::Answered && verb != Verb::Noted)?;
    let at = word.end()..word.end() + 1;
    let mut line = typed.text.to_owned();
    for word in typed.words.iter().rev().filter(|word| word.comma) {
        let comma = line.get(word.end()..).and_then(|rest| rest.find(',')).map(|comma| word.end() + comma)?;
        line.replace_range(comma..=comma, "");
    }
    Some(Slip::new(HEAD_PART_WORD, at, "a head has no commas").fix("leave them out", line).sure())
}

/// `bought from ridgeline-lumber 2026-03-02`, `worked 1h general 2026-03-02`
fn date_later(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed)?;
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_date()).filter(|_| !typed.word(1).is_date())?;
    let (verb, date) = (typed.word(0).text, typed.word(at).text);
    let dropped = if typed.word(at - 1).is_one_of(&["on", "of"]) { at - 1 } else { at };
    let rest = format!("{} {}", typed.slice(1..dropped), typed.slice(at + 1..typed.words.len()));
    let line = format!("{verb} {date} {}", rest.trim()).trim().to_owned();
    let slip = Slip::new(HEAD_DATE, typed.range(at..at + 1), "the date comes right after the verb");
    Some(slip.fix("put it there", line))
}

/// `worked`, `bought from ridgeline-lumber`
fn date_missing(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed).filter(|verb| !matches!(verb, Verb::Statement | Verb::Closed))?;
    let second = typed.word(1);
    let like_a_date = second.text.starts_with(|letter: char| letter.is_ascii_digit()) && second.text.contains('-');
    if typed.words.iter().any(Word::is_date)
        || like_a_date
        || verb == Verb::Gave && second.text.starts_with(|letter: char| letter.is_ascii_digit())
    {
        return None;
    }
    let word = typed.word(0);
    // `DATE` as a correction left it to the reader.
    if second.text == "DATE" {
        let slip = Slip::new(HEAD_DATE, second.start..second.end(), "which day? a date stands in place of `DATE`");
        let slip = slip.note("a date is written year-month-day, like `2026-03-02`");
        return Some(match typed.near_date {
            Some(near) => slip.fix("the day of the entry beside it, if that is it", typed.with(1..2, &near.to_string())),
            None => slip,
        });
    }
    let slip = Slip::new(HEAD_DATE, word.start..word.end(), format!("which day? a date follows `{}`", word.text));
    let rest = typed.slice(1..typed.words.len());
    Some(match typed.near_date {
        Some(near) => {
            slip.fix("the day of the entry beside it, if that is it", format!("{} {near} {rest}", word.text).trim().to_owned())
        }
        None => slip
            .note("a date is written year-month-day, like `2026-03-02`")
            .fix("with its day", format!("{} DATE {rest}", word.text).trim().to_owned()),
    })
}

/// `sold 2026-03-20 vai web-page`, `… odrer "W-1"`, `built 2026-03-09 btach X1`
fn near_part_word(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed)?;
    let words = head_row(verb).parts.iter().map(|(kind, _)| head_words(*kind).0);
    // Of a word with fewer letters almost any other is near.
    let open = |part: &&str| part.len() > 2 && PART_WORDS.contains(part) && !typed.words.iter().any(|word| word.text == *part);
    let open: Vec<&str> = words.filter(open).collect();
    let (at, part) = (2..typed.words.len().saturating_sub(1)).find_map(|at| {
        let word = typed.word(at);
        let free = !word.quoted && !typed.word(at - 1).is_one_of(&PART_WORDS);
        let near = open.iter().find(|part| free && (word.is(part) || edits(word.text, part) == 1))?;
        Some((at, *near))
    })?;
    let word = typed.word(at);
    let message = format!("after `{}` stands `{part}`, not `{}`", typed.word(0).text, word.text);
    let slip = Slip::new(HEAD_PART_WORD, word.start..word.end(), message);
    Some(slip.fix(format!("write `{part}`"), typed.with(at..at + 1, part)))
}

/// `gave 2026-12-08 to "the school raffle" as a donation`
fn article(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed)?;
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["a", "an", "the"]) && typed.word(at - 1).is("as"))?;
    let right = format!("as {}", typed.word(at + 1).text);
    let slip = Slip::new(HEAD_PART_WORD, typed.range(at - 1..at + 2), format!("no article stands here: `{right}`"));
    Some(slip.fix("leave it out", typed.with(at - 1..at + 2, &right)))
}

/// `sold 2026-03-07 at the fair`, `sent 2026-03-09 to the cafe`: a channel or a place with its article
fn article_of_a_place(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed)?;
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["the", "my", "our"]))?;
    let (before, name) = (typed.word(at - 1), typed.word(at + 1));
    let place = before.is_one_of(&["at", "via", "on"]) && !matches!(verb, Verb::Paid | Verb::Received)
        || before.is("to") && verb == Verb::Sent
        || before.is("from") && matches!(verb, Verb::Sent | Verb::BroughtBack);
    let ends = at + 2 == typed.words.len() || PART_WORDS.iter().any(|part| typed.word(at + 2).is(part));
    if !place || !ends || !name.is_name() {
        return None;
    }
    let has_channel = typed.words.iter().any(|word| word.is("via"));
    let word = if verb == Verb::Sold && !has_channel { "via" } else { before.text };
    let right = format!("{word} {}", name.text);
    let slip = Slip::new(HEAD_PART_WORD, typed.range(at - 1..at + 2), format!("a name of the book has no article: `{right}`"));
    Some(slip.fix("leave it out", typed.with(at - 1..at + 2, &right)))
}

/// `built 2026-03-09 PC-014`, `sold 2026-03-20 web-page`
fn batch_word_missing(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed)?;
    let part = match verb {
        verb if verb.is_of_a_batch() || verb == Verb::Scrapped => "batch",
        Verb::Sold => "via",
        Verb::Bought | Verb::Received => "from",
        Verb::Sent | Verb::Gave | Verb::Paid | Verb::SentBack => "to",
        Verb::BroughtBack => "from",
        Verb::Credited => "by",
        Verb::Swapped => "with",
        Verb::Counted | Verb::Opened => "at",
        Verb::Returned => "order",
        _ => return None,
    };
    let word = typed.word(2);
    let bare = !word.text.is_empty() && !word.quoted && !PART_WORDS.iter().any(|part| word.is(part)) && typed.word(1).is_date();
    let item = word.is_number() && !matches!(part, "batch" | "order");
    let small = item || word.is_one_of(&["in", "on", "through", "into", "of", "for", "the"]);
    if !bare
        || small
        || is_name(word.text) && is_name(typed.word(3).text) && !PART_WORDS.iter().any(|part| typed.word(3).is(part))
    {
        return None;
    }
    let right = format!("{part} {}", word.text);
    let slip = Slip::new(HEAD_PART_WORD, word.start..word.end(), format!("a word is missing before `{}`: `{right}`", word.text));
    Some(slip.fix("write it so", typed.with(2..3, &right)))
}

/// `sold 2026-03-20 on craft-fair`, `through`, `in`
fn via_word(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed).filter(|verb| matches!(verb, Verb::Sold | Verb::Bought | Verb::Received | Verb::Sent))?;
    let right = match verb {
        Verb::Sold => "via",
        Verb::Bought | Verb::Received => "from",
        _ => "to",
    };
    let at = (2..typed.words.len()).find(|at| {
        let word = typed.word(*at);
        word.is_one_of(&["on", "through", "in", "into", "thru", "using", "of", "for", "off"]) && typed.word(at + 1).is_name()
    })?;
    let word = typed.word(at);
    let slip = Slip::new(
        HEAD_PART_WORD,
        word.start..word.end(),
        format!("after `{}` stands `{right}`, not `{}`", typed.word(0).text, word.text),
    );
    Some(slip.fix(format!("write `{right}`"), typed.with(at..at + 1, right)))
}

/// `from Ridgeline Lumber`
fn party_in_quotes(typed: &Typed<'_>) -> Option<Slip> {
    verb_of(typed)?;
    // Money comes from somebody, and from no place of the shop.
    let of_money = matches!(typed.verb(), Some(Verb::Paid | Verb::Received));
    let ends = |word: Word<'_>| {
        word.quoted || PART_WORDS.iter().chain(&RECEIPT_WORDS).any(|part| word.is(part)) && !(of_money && word.is("at"))
    };
    let (at, end) = (1..typed.words.len()).find_map(|before| {
        let begins = typed.word(before).is_one_of(&["from", "to", "by", "with", "via", "at"]);
        let at = before + 1;
        let end = (at..typed.words.len()).find(|end| ends(typed.word(*end))).unwrap_or(typed.words.len());
        // A number is no part of a name: it is a sum or a count, and a text would swallow it.
        (begins && end >= at + 2 && !(at..end).any(|at| is_number(typed.word(at).text.trim_matches(SIGNS)))).then_some((at, end))
    })?;
    let name = typed.slice(at..end);
    let word = typed.word(at - 1).text;
    let sale = typed.verb() == Some(Verb::Sold);
    let has_channel = typed.words.iter().any(|word| word.is("via"));
    if sale && typed.word(at - 1).is("to") {
        return Some(buyer_in_head(typed, at - 1..end, &format!("\"{name}\""), has_channel));
    }
    if typed.word(at - 1).is_one_of(&["via", "at"]) {
        let bare = ["the", "my", "our"].into_iter().find_map(|article| name.strip_prefix(article)?.strip_prefix(' '));
        let joined = bare.unwrap_or(name).split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
        // Where it was sold is a channel.
        if sale && typed.word(at - 1).is("at") && !has_channel && is_name(&joined) {
            let message = format!("where it was sold is a channel: `via {joined}`");
            let slip = Slip::new(HEAD_PART_WORD, typed.range(at - 1..end), message);
            let line = typed.with(at - 1..end, &format!("via {joined}"));
            return Some(slip.fix_joined("write `via`, and the words joined with hyphens", line, joined));
        }
        if !is_name(&joined) {
            return None;
        }
        let slip = Slip::new(
            HEAD_PART_WORD,
            typed.range(at..end),
            format!("after `{word}` stands a name, which is one word: `{joined}`"),
        );
        return Some(slip.fix_joined("join the words with hyphens", typed.with(at..end, &joined), joined));
    }
    let slip = Slip::new(HEAD_PART_WORD, typed.range(at..end), format!("several words stand in quotes: `{word} \"{name}\"`"));
    Some(slip.fix("write quotes", typed.with(at..end, &format!("\"{name}\""))))
}

/// `sold 2026-03-01 to Mrs. Dell order "D-1"`: the buyer stands on a line of the sale.
fn buyer_in_head(typed: &Typed<'_>, words: std::ops::Range<usize>, buyer: &str, has_channel: bool) -> Slip {
    let via = if has_channel { "" } else { "via NAME " };
    let rest = format!("{via}{}", typed.slice(words.end..typed.words.len()));
    let head = format!("{} {}", typed.slice(0..words.start), rest.trim());
    let message = format!("the buyer stands on a line of its own, below: `to {buyer}`");
    let slip = Slip::new(HEAD_PART_WORD, typed.range(words), message);
    let slip = if has_channel { slip } else { slip.note("the head says through which channel it was sold: `via web-page`") };
    slip.fix("put it there", format!("{}\nto {buyer}", head.trim()))
}

/// `closed 2026-12-31`, `choices` without a year, `statement 2026-12-31 from market-site`
fn year_not_date(typed: &Typed<'_>) -> Option<Slip> {
    let of_year =
        matches!(typed.verb(), Some(Verb::Closed | Verb::Statement)) || typed.definition() == Some(DefinitionWord::Choices);
    let (first, second) = (typed.word(0), typed.word(1));
    if !of_year || !typed.context.column_one {
        return None;
    }
    if second.is_date() {
        let year = second.text.get(..4)?;
        let slip = Slip::new(HEAD_DATE, second.start..second.end(), format!("`{}` is followed by a year: `{year}`", first.text));
        return Some(slip.fix("write the year alone", typed.with(1..2, year)));
    }
    if second.text.len() == 4 && super::typed::is_digits(second.text) {
        return None;
    }
    let slip = Slip::new(HEAD_DATE, first.start..first.end(), format!("which year? it follows `{}`", first.text));
    let near = typed.near_date?.format("%Y").to_string();
    let rest = typed.slice(1..typed.words.len());
    Some(slip.fix("the year of the entry beside it, if that is it", format!("{} {near} {rest}", first.text).trim().to_owned()))
}

/// `noted 2026-02-10 drum sander borrowed`
fn text_in_quotes(typed: &Typed<'_>) -> Option<Slip> {
    let verb = verb_of(typed).filter(|verb| matches!(verb, Verb::Noted | Verb::Answered))?;
    let unquoted = typed.words.iter().skip(2).any(|word| !word.quoted);
    if verb == Verb::Answered || !unquoted || !typed.word(1).is_date() {
        return None;
    }
    let text = typed.slice(2..typed.words.len());
    let bare: String = text.chars().filter(|letter| !super::typed::is_quote(*letter)).collect();
    let slip = Slip::new(HEAD_PART_WORD, typed.range(2..typed.words.len()), "what is noted stands in quotes");
    Some(slip.fix("write quotes", typed.with(2..typed.words.len(), &format!("\"{bare}\""))))
}
