//! Slips of order: the thing before its quantity, the figure before its word, a quantity of nothing, a thing without one.

use super::slip::{Slip, SlipRule};
use super::typed::{Typed, Word, is_digits, is_name, is_number};
use crate::syntax::Verb;
use crate::syntax::errors::UNIT_OF_WHAT;
use crate::syntax::placement_table::{LINES, LineKind, line_row};
use crate::syntax::slip_errors::{FIGURE_BEFORE_WORD, NAME_SPELLING, QUANTITY_FIRST, SMALL_WORD, SUM_WITHOUT_FOR};
use crate::units::{Unit, canonical_unit};

use super::time::time_at;
use super::unit::joined_word;

pub(super) const RULES: &[SlipRule] = &[
    two_of_it_with_x,
    list_word_second,
    figure_first,
    took_missing,
    time_second,
    quantity_second,
    two_measures,
    of_nothing,
    comma_within,
    quantity_missing,
];

/// Details that are a word and a figure.
const FIGURE_WORDS: [&str; 18] = [
    "shipping",
    "freight",
    "discount",
    "postage",
    "cash",
    "card",
    "check",
    "price",
    "total",
    "fee",
    "settled",
    "sales-tax",
    "over",
    "short",
    "royalty",
    "costs",
    "gross",
    "net",
];

/// `2 x pull-cart`, `2x pull-cart`, `pull-cart x 2`, `pull-cart x2`
fn two_of_it_with_x(typed: &Typed<'_>) -> Option<Slip> {
    let times = |word: Word<'_>| matches!(word.text, "x" | "X" | "×");
    let found = (0..typed.words.len()).find_map(|at| {
        let (word, next, third) = (typed.word(at), typed.word(at + 1), typed.word(at + 2));
        if is_digits(word.text) && times(next) && third.is_name() {
            return Some((at..at + 3, word.text, third.text));
        }
        if word.is_name() && times(next) && is_digits(third.text) && typed.word(at + 3).text != "x" {
            return Some((at..at + 3, third.text, word.text));
        }
        let joined = word.text.strip_suffix(['x', 'X', '×']).filter(|count| is_digits(count));
        if let Some(count) = joined.filter(|_| next.is_name()) {
            return Some((at..at + 2, count, next.text));
        }
        let joined = next.text.strip_prefix(['x', 'X', '×']).filter(|count| is_digits(count));
        joined.filter(|_| word.is_name()).map(|count| (at..at + 2, count, word.text))
    });
    let (words, count, name) = found.filter(|_| typed.is_detail())?;
    let right = format!("{count} {name}");
    let slip =
        Slip::new(QUANTITY_FIRST, typed.range(words.clone()), format!("a count stands before the name, without `x`: `{right}`"));
    Some(slip.fix("write it so", typed.with(words, &right)))
}

/// `40 made cart`, `5.2 bf red-oak used`
pub(super) fn list_word_second(typed: &Typed<'_>) -> Option<Slip> {
    let is_list = |word: Word<'_>| word.is_one_of(&["made", "used", "took", "lost", "kept", "needs", "takes"]);
    let at = (1..typed.words.len()).find(|at| is_list(typed.word(*at)))?;
    let word = typed.word(at);
    if !typed.is_detail() || !typed.word(0).text.starts_with(|letter: char| letter.is_ascii_digit()) {
        return None;
    }
    let line = typed.with_range(typed.word(at - 1).end()..word.end(), "");
    let line = format!("{} {}", word.text, line.trim());
    let slip = Slip::new(FIGURE_BEFORE_WORD, word.start..word.end(), format!("the word comes first: `{line}`"));
    Some(slip.fix("begin with the word", line).sure())
}

/// `9.50 shipping`, `200.00 cash`, `10% discount`
pub(super) fn figure_first(typed: &Typed<'_>) -> Option<Slip> {
    let figure = typed.word(0);
    let is_figure = is_number(figure.text) || figure.text.strip_suffix('%').is_some_and(is_number);
    let (word, words) = match (typed.word(1).is("sales"), typed.word(2).is("tax")) {
        (true, true) => ("sales-tax", 0..3),
        _ => (FIGURE_WORDS.into_iter().find(|word| typed.word(1).is(word))?, 0..2),
    };
    let named = typed.word(1).comma || typed.word(words.end).is_one_of(&["at", "lot", "share"]);
    if !typed.is_detail() || !is_figure || figure.comma || named {
        return None;
    }
    let right = format!("{word} {}", figure.text);
    let slip = Slip::new(FIGURE_BEFORE_WORD, typed.range(words.clone()), format!("the word comes first: `{right}`"));
    Some(slip.fix("begin with the word", typed.with(words, &right)).sure())
}

/// `2h cutting` in a batch
fn took_missing(typed: &Typed<'_>) -> Option<Slip> {
    let length = time_at(typed, 0);
    if !typed.verb().is_some_and(Verb::is_of_a_batch) || !typed.is_detail() || length == 0 || !typed.word(length).is_name() {
        return None;
    }
    let right = format!("took {}", typed.text);
    let slip = Slip::new(SMALL_WORD, typed.range(0..length + 1), "the time that a batch took begins with `took`");
    Some(slip.fix("write it so", right))
}

/// `sanding 45m on PC-014`, `took cutting 1h 48m`
fn time_second(typed: &Typed<'_>) -> Option<Slip> {
    let at = usize::from(typed.word(0).is_one_of(&["took", "takes"]));
    let in_batch = typed.verb().is_some_and(Verb::is_of_a_batch);
    let bare = at == 0 && typed.verb() != Some(Verb::Worked) && !in_batch;
    if bare || !typed.is_detail() || !typed.word(at).is_name() {
        return None;
    }
    let length = time_at(typed, at + 1);
    if length == 0 {
        return None;
    }
    let words = at..at + 1 + length;
    let took = if at == 0 && in_batch { "took " } else { "" };
    let right = format!("{took}{} {}", typed.slice(at + 1..at + 1 + length), typed.word(at).text);
    let slip = Slip::new(QUANTITY_FIRST, typed.range(words.clone()), format!("the time comes first: `{right}`"));
    Some(slip.fix("write it so", typed.with(words, &right)).sure())
}

/// `red-oak 31.5 bf at 5.90`, `used red-oak 5.2 bf`, `pull-cart 2`
fn quantity_second(typed: &Typed<'_>) -> Option<Slip> {
    let at = usize::from(typed.word(0).is_one_of(&["used", "made", "lost", "kept", "needs", "gave", "got"]));
    let name = typed.word(at);
    let starts_block_line = FIGURE_WORDS.iter().any(|word| name.is(word))
        || name.is_one_of(&["paid", "credit", "refunded", "hours", "lasts", "allows", "took", "takes"]);
    if !typed.is_detail() || !name.is_name() || starts_block_line || name.comma {
        return None;
    }
    let mut end = at + 1;
    while is_number(typed.word(end).text) || typed.word(end).is_fraction() {
        end += 1;
    }
    if end == at + 1 || typed.word(at + 1).text.starts_with('0') && end == at + 2 && typed.words.len() > 6 {
        return None;
    }
    let after = typed.word(end);
    let two = matches!(after.text, "sq" | "cu" | "fl") && Unit::parse(typed.slice(end..end + 2)).is_some();
    if two {
        end += 2;
    } else if !typed.word(end - 1).comma && (Unit::parse(after.text).is_some() || after.is_name() && typed.words.len() > end) {
        end += 1;
    }
    // What stands behind the figure may be no unit: `supplies 22.40 thermometers`.
    let known = two || typed.word(end - 1).is_number() || Unit::parse(typed.word(end - 1).text).is_some();
    let words = at..end;
    let right = format!("{} {}", typed.slice(at + 1..end), name.text);
    let slip = Slip::new(QUANTITY_FIRST, typed.range(words.clone()), format!("the quantity comes first: `{right}`"));
    // `kept offcut 2 bf oak`
    let of = typed.word(end);
    let piece =
        matches!(name.text, "offcut" | "offcuts" | "scrap" | "scraps" | "leftover" | "leftovers" | "remnant" | "remnants");
    if piece && of.is_name() && !typed.word(end - 1).comma {
        let joined = format!("{}-{}", of.text, name.text.trim_end_matches('s'));
        let line = typed.with(at..end + 1, &format!("{} {joined}", typed.slice(at + 1..end)));
        let slip = Slip::new(NAME_SPELLING, typed.range(at..end + 1), format!("a name is one word: `{joined}`"));
        return Some(slip.fix_joined("as one name", line, joined));
    }
    // A bare figure behind a name may be its money as well, and the name nothing that is counted: the names' stage looks.
    let bare = at == 0 && end == 2 && typed.words.len() == 2 && typed.word(1).is_number();
    if bare {
        return Some(slip.fix_joined("write it so", typed.with(words, &right), name.text));
    }
    Some(slip.fix("write it so", typed.with(words, &right)).sure_if(known))
}

/// `3 hides leather, 66 sq ft, at 9.20 per sq ft`: one quantity by the pack and by its measure
fn two_measures(typed: &Typed<'_>) -> Option<Slip> {
    let comma = typed.words.iter().position(|word| word.comma).filter(|_| typed.is_detail())?;
    let (pack, name) = (typed.word(comma.checked_sub(1)?), typed.word(comma));
    let figures = [typed.word(0), typed.word(comma + 1)];
    let unit_words = 1 + usize::from(typed.word(comma + 2).is_one_of(&["sq", "cu", "fl", "board"]));
    let end = comma + 2 + unit_words;
    let unit = typed.slice(comma + 2..end);
    let ends = typed.word(end - 1).comma || typed.word(end).text.is_empty() || typed.word(end).is_one_of(&["at", "for"]);
    let is_measure = Unit::parse(unit).is_some() || canonical_unit(unit).is_some();
    if comma != 2 || !figures.iter().all(Word::is_number) || !pack.is_name() || !name.is_name() || !is_measure || !ends {
        return None;
    }
    let slip = Slip::new(UNIT_OF_WHAT, typed.range(comma + 1..end), "one quantity is said by two measures: one is enough");
    let rest = typed.text.get(typed.word(end - 1).end()..)?.trim_start_matches([',', ' ']);
    let line = format!("{} {unit} {} {rest}", typed.word(comma + 1).text, name.text);
    let memo = if typed.words.iter().any(|word| word.quoted) { String::new() } else { format!(" \"{}\"", typed.slice(0..comma)) };
    Some(slip.fix("with the other as a text behind it", format!("{}{memo}", line.trim_end())))
}

/// `made 10`, `5 bf`, `used 2 bags, 80 ml`, `5 boards, 4/4 x 6 x 48 in`
fn of_nothing(typed: &Typed<'_>) -> Option<Slip> {
    let lists = ["used", "made", "lost", "kept", "needs", "gave", "got"];
    let at = usize::from(typed.word(0).is_one_of(&lists));
    let (figure, unit) = (typed.word(at), typed.word(at + 1));
    if !typed.is_detail() || !(figure.is_number() || figure.is_fraction()) {
        return None;
    }
    let ends = |word: usize| {
        typed.word(word).comma || typed.word(word + 1).text.is_empty() || typed.word(word + 1).is_one_of(&["at", "for", "lot"])
    };
    let words = match unit.text {
        _ if figure.comma || unit.text.is_empty() => at..at + 1,
        "sq" | "cu" | "fl" if ends(at + 2) => at..at + 3,
        text if ends(at + 1) && (Unit::parse(text).is_some() || matches!(text, "board" | "boards" | "piece" | "pieces")) => {
            at..at + 2
        }
        _ => return None,
    };
    if at == 0 && words.len() == 1 && typed.verb() == Some(Verb::Paid) && typed.words.len() == 1 {
        let sum = figure.text;
        let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(0..1), format!("{sum} for what?"));
        let slip = slip.fix("for a bill that is open, by its day", format!("{sum} for bought DATE"));
        return Some(slip.fix("or for an expense", format!("{sum} for NAME")));
    }
    if at == 0 && words.len() == 1 {
        let (asked, example) = match typed.verb() {
            Some(Verb::Paid) => ("the name of an expense follows `for`, or the bill: `for receipt \"…\"`", "85.00 for booth-fee"),
            Some(Verb::Received) => (
                "the sale follows `for`, `for sold 2026-03-20` or `for order \"…\"`, or the name of an income",
                "60.00 for order \"C-07\"",
            ),
            _ => return None,
        };
        let slip = Slip::new(SUM_WITHOUT_FOR, typed.range(words), format!("{} for what?", figure.text));
        return Some(slip.note(asked).note(format!("as in `{example}`")));
    }
    let (first, last) = (words.start, words.end);
    let found = typed.slice(words.clone());
    let slip = Slip::new(UNIT_OF_WHAT, typed.range(words), format!("{found} of what? the name follows"));
    let example = if is_name(unit.text) { "5 boards walnut" } else { "10 pull-cart" };
    let right = format!("{} NAME", typed.slice(first..last));
    Some(slip.note(format!("as in `{example}`")).fix("with the thing's name", typed.with(first..last, &right)))
}

/// `2, spinning-top`, `25 bf, poplar`, `1 can clear-oil for, 20.50`
fn comma_within(typed: &Typed<'_>) -> Option<Slip> {
    let at = (0..typed.words.len()).find(|at| {
        let (word, before) = (typed.word(*at), at.checked_sub(1).map(|before| typed.word(before)));
        let unit = before.is_some_and(|before| before.is_number() && !before.comma) && Unit::parse(word.text).is_some();
        let time = word.text.strip_suffix(['h', 'm']).is_some_and(is_number);
        let small = word.is_one_of(&["at", "for", "lot", "on", "by", "per", "share", "worth"]);
        // What is said of an item may stand behind a comma.
        let said =
            typed.word(at + 1).is_one_of(&["at", "for", "lot", "on", "by", "per", "share", "worth", "certificate", "counted"]);
        word.comma && !said && at + 1 < typed.words.len() && (word.is_number() || unit || time || small)
    })?;
    let word = typed.word(at);
    let gap = word.end()..typed.word(at + 1).start;
    typed.is_detail().then(|| {
        let slip = Slip::new(SMALL_WORD, gap.clone(), format!("no comma stands after `{}` here", word.text));
        slip.fix("leave it out", typed.with_range(gap, " "))
    })
}

/// `red-oak for 10.00`, `used red-oak`, `made 2 stool, pull-cart`, `took cutting`, `sanding on PC-014`; `booth-fee` in `paid`
fn quantity_missing(typed: &Typed<'_>) -> Option<Slip> {
    const LISTS: [&str; 9] = ["used", "made", "lost", "kept", "needs", "gave", "got", "took", "takes"];
    let bare = match typed.verb() {
        Some(Verb::Paid | Verb::Received) => true,
        Some(verb) => line_row(LineKind::Item).blocks.has_verb(verb),
        None => false,
    };
    let first = typed.word(0);
    let list = match () {
        () if first.is_one_of(&LISTS) => 1,
        () if first.is("aims") && typed.word(1).is("at") || first.is("packed") && typed.word(1).is("with") => 2,
        () if bare && !begins_other_line(first.text) => 0,
        () => return None,
    };
    let begins = |at: usize| at == list || at > list && typed.word(at - 1).comma;
    let ends = |word: Word<'_>| {
        word.text.is_empty() || word.quoted || word.is_one_of(&["at", "for", "lot", "on", "by", "per", "share", "worth"])
    };
    let at = (list..typed.words.len()).find(|at| {
        let word = typed.word(*at);
        // `16 bf maple, MP-1` may have lost its `lot` as well.
        let is_code = *at > list && word.text.contains(char::is_uppercase);
        begins(*at) && word.is_name() && !is_code && !word.is("nothing") && (word.comma || ends(typed.word(at + 1)))
    })?;
    let word = typed.word(at);
    // `total122.50` is no name.
    if !typed.is_detail() || joined_word(typed).is_some() {
        return None;
    }
    let name = word.text;
    let (asked, example) = match typed.verb() {
        _ if first.is_one_of(&["took", "takes"]) => (format!("how long? a time stands before `{name}`"), "45m sanding"),
        Some(Verb::Worked) => (format!("how long? a time stands before `{name}`"), "45m sanding on PC-014"),
        Some(Verb::Paid | Verb::Received) if list == 0 && typed.word(at + 1).is("for") => return None,
        Some(Verb::Paid | Verb::Received) if list == 0 => {
            (format!("how much? a sum of money stands before `for {name}`"), "85.00 for booth-fee")
        }
        _ => (format!("how many? a quantity stands before `{name}`"), "31.5 bf red-oak"),
    };
    let slip = Slip::new(QUANTITY_FIRST, word.start..word.end(), asked).note(format!("as in `{example}`"));
    // `12 sticks, dowel-6`: the word before the comma may be a pack.
    let Some(pack) = at.checked_sub(1).map(|before| typed.word(before)).filter(|_| at >= list + 2) else { return Some(slip) };
    if !typed.word(at - 2).is_number() || !pack.is_name() || pack.text.contains('-') {
        return Some(slip);
    }
    Some(slip.fix(format!("if `{name}` comes in {}", pack.text), typed.with_range(pack.end()..word.start, " ")))
}

/// Whether a word begins a line that is no item.
fn begins_other_line(word: &str) -> bool {
    LINES.iter().any(|row| row.form.starts_with(row.words) && row.words.split(' ').next() == Some(word))
}
