//! Slips of goods as they are spoken of: `1 used board shear 380.00`, `1 pack of 10 sheets board 45.00`; of counts and of presents.

use super::no_entry::as_text;
use super::slip::{Slip, SlipRule};
use super::spoken::{near_day, one_name, sum_of};
use super::sums::product;
use super::typed::{Typed, is_digits};
use crate::syntax::Verb;
use crate::syntax::slip_errors::{HEAD_PART_WORD, NAME_SPELLING, OWN_LINE, SMALL_WORD};

pub(super) const RULES: &[SlipRule] = &[second_hand, pack_of_so_many, got_for_myself, count_of_all, gave_as_what, gave_below];

/// What is said of a thing and is no part of its name.
const CONDITIONS: [&str; 12] = [
    "used",
    "second-hand",
    "secondhand",
    "new",
    "old",
    "vintage",
    "antique",
    "refurbished",
    "broken",
    "pre-owned",
    "reconditioned",
    "cheap",
];

/// `1 used board shear 380.00`, `1 second-hand loom for 850`
fn second_hand(typed: &Typed<'_>) -> Option<Slip> {
    let bought = matches!(typed.verb(), Some(Verb::Bought | Verb::Opened | Verb::Contributed)) && typed.is_detail();
    let count = typed.word(0).text;
    let at = (1..3).find(|at| typed.word(*at).is_one_of(&CONDITIONS)).filter(|_| bought && is_digits(count))?;
    let last = typed.words.len().checked_sub(1)?;
    let sum = sum_of(typed, last).filter(|_| last > at + 1)?;
    let word = typed.word(last - 1);
    let said = word.is_one_of(&["for", "at"]);
    let end = if said { last - 1 } else { last };
    let before = if at == 1 { String::new() } else { format!("{} ", typed.word(1).text) };
    let name = format!("{before}{}", typed.slice(at + 1..end)).split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    let name = super::name::corrected_name(&name).unwrap_or(name);
    if !super::typed::is_name(&name) || typed.words.iter().any(|word| word.comma || word.quoted) {
        return None;
    }
    let condition = typed.word(at).text;
    let money = match () {
        () if said => format!("{} {sum}", word.text.to_lowercase()),
        () if count == "1" => format!("for {sum}"),
        () => return None,
    };
    let slip =
        Slip::new(NAME_SPELLING, typed.range(at..end), format!("`{condition}` is said in quotes behind the item: `1 {name}`"));
    Some(slip.fix_joined("write it so", format!("{count} {name} {money} \"{condition}\""), name))
}

/// `1 pack of 10 sheets board 45.00`, `2 packs of 10 sheets board at 45.00`
fn pack_of_so_many(typed: &Typed<'_>) -> Option<Slip> {
    let (packs, pack, of, held) = (typed.word(0), typed.word(1), typed.word(2), typed.word(3));
    let here = typed.is_detail() && matches!(typed.verb(), Some(Verb::Bought | Verb::Opened | Verb::Contributed));
    if !here || !is_digits(packs.text) || !pack.is_name() || !of.is("of") || !is_digits(held.text) {
        return None;
    }
    let last = typed.words.len().checked_sub(1).filter(|last| *last > 4)?;
    let sum = sum_of(typed, last)?;
    let word = typed.word(last - 1);
    let said = word.is_one_of(&["for", "at"]);
    let end = if said { last - 1 } else { last };
    let thing = typed.words.get(4..end).filter(|words| !words.is_empty() && words.iter().all(|word| word.is_name()))?;
    let count = held.text.parse::<u64>().ok()?.checked_mul(packs.text.parse::<u64>().ok()?)?;
    let money = match () {
        () if packs.text == "1" || word.is("for") => sum.to_owned(),
        () if word.is("at") => product(packs.text, sum)?,
        () => return None,
    };
    let memo = typed.slice(0..4);
    let thing: Vec<&str> = thing.iter().map(|word| word.text).collect();
    let slip = Slip::new(SMALL_WORD, typed.range(0..4), format!("what is counted is what the packs hold: {count}"));
    let slip = slip.note("a pack that always holds as many is said once, below the material: `1 pack = 10 ea`");
    Some(slip.fix("write it so", format!("{count} {} for {money} \"{memo}\"", thing.join(" "))))
}

/// `got mugs worth 45.00 "for my house"`, `got 45.00 for home` below `swapped`; that barter is income at what is got: IRS, Topic no. 420,
/// from memory
fn got_for_myself(typed: &Typed<'_>) -> Option<Slip> {
    const MINE: [&str; 8] = ["home", "house", "myself", "me", "private", "family", "household", "kitchen"];
    let here = typed.is_detail() && typed.verb() == Some(Verb::Swapped) && typed.word(0).is("got");
    let said = typed.words.iter().skip(1).flat_map(|word| word.text.split_whitespace());
    let mut said = said.map(|word| word.trim_matches(|letter: char| !letter.is_alphanumeric()));
    if !here || !said.any(|word| MINE.iter().any(|mine| word.eq_ignore_ascii_case(mine))) {
        return None;
    }
    let sum = (1..typed.words.len()).find_map(|at| sum_of(typed, at).filter(|sum| sum.contains('.'))).unwrap_or("45.00");
    let day = near_day(typed);
    let slip = Slip::new(
        OWN_LINE,
        0..typed.text.len(),
        "what you got for yourself is no stock of the shop: what you gave for it is sold for what that is worth",
    );
    let line = format!("in place of the entry, `sold {day} via NAME`, and below it the goods that you gave `for {sum}`");
    Some(slip.note(line).note("for the tax office goods that are bartered are sold at what they are worth").settled())
}

/// `counted 2026-12-31 everything at year's end`
fn count_of_all(typed: &Typed<'_>) -> Option<Slip> {
    const ALL: [&str; 9] = ["everything", "all", "whole", "full", "complete", "entire", "inventory", "year-end", "annual"];
    let here = typed.context.column_one && typed.verb() == Some(Verb::Counted) && typed.word(1).is_date();
    let text = as_text(typed, 2..typed.words.len());
    let named = (2..typed.words.len()).any(|at| typed.word(at).quoted || typed.word(at).is_number());
    (here && typed.word(2).is_one_of(&ALL) && !named).then(|| {
        let message = "a count has its day, and below it what is there, each on a line of its own";
        let slip = Slip::new(HEAD_PART_WORD, typed.range(2..typed.words.len()), message);
        slip.note("what is not listed stays as the book has it; `nothing else` as the last line says that none of it is there")
            .fix("as a text below it", format!("counted {}\nnote \"{text}\"", typed.word(1).text))
    })
}

/// `gave 2026-05-14 to "the library" as raffle prize`
fn gave_as_what(typed: &Typed<'_>) -> Option<Slip> {
    const AS: [&str; 4] = ["donation", "gift", "sample", "thanks"];
    let here = typed.context.column_one && typed.verb() == Some(Verb::Gave);
    let at = (2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["as", "for", "because"])).filter(|_| here)?;
    let article = usize::from(typed.word(at + 1).is_one_of(&["a", "an", "the"]));
    let said = typed.word(at + 1 + article);
    let known = AS.iter().any(|known| said.is(known)) && typed.words.len() == at + 2 + article;
    if known || said.text.is_empty() || (at + 1..typed.words.len()).any(|at| typed.word(at).quoted) {
        return None;
    }
    let text = as_text(typed, at + 1..typed.words.len());
    if (at + 1..typed.words.len()).any(|at| typed.word(at).is_one_of(&REPLACED)) {
        return Some(sent_in_place(typed, at, &text));
    }
    let slip = Slip::new(
        HEAD_PART_WORD,
        typed.range(at..typed.words.len()),
        "`as` says one of four: `donation`, `gift`, `sample` or `thanks`",
    );
    let slip = slip.note("a donation is to what serves the public; a gift is of the business, to somebody it deals with");
    let slip = slip
        .note(format!("what family and friends get is taken home, and no cost of the shop: `took-home {}`", typed.word(1).text));
    let line = |known: &str| format!("{} as {known}\nnote \"{text}\"", typed.slice(0..at));
    Some(AS.into_iter().fold(slip, |slip, known| slip.fix(format!("as {known}"), line(known))))
}

/// How people say that a piece goes out in place of a faulty one.
const REPLACED: [&str; 6] = ["warranty", "replacement", "replacing", "guarantee", "exchange", "goodwill"];

/// `gave 2026-06-10 to "a customer" as warranty`
fn sent_in_place(typed: &Typed<'_>, at: usize, text: &str) -> Slip {
    let message = "a piece that goes out in place of a faulty one is no present: it is `used-up` for the channel by which the other was sold";
    let slip = Slip::new(HEAD_PART_WORD, typed.range(at..typed.words.len()), message);
    let to = (2..at).find(|at| typed.word(*at).is("to"));
    let whom = to.map(|to| as_text(typed, to + 1..at)).filter(|whom| !whom.is_empty());
    let note = whom.map_or_else(|| text.to_owned(), |whom| format!("{text}, {whom}"));
    slip.note("what it cost counts there; a faulty piece that came back for it is `returned`, and `scrapped` on that line")
        .note("what is given away otherwise is `as donation`, `as gift`, `as sample` or `as thanks`")
        .fix("write it so", format!("used-up {} on NAME\nnote \"{note}\"", typed.word(1).text))
}

/// `gave to "library raffle"` below `took-home`
fn gave_below(typed: &Typed<'_>) -> Option<Slip> {
    let here = typed.is_detail() && typed.word(0).is_one_of(&["gave", "given", "donated"]) && typed.word(1).is("to");
    let whom = typed.slice(2..typed.words.len());
    let whom = if typed.word(2).quoted || one_name(typed, 2..typed.words.len()).is_none() {
        whom.to_owned()
    } else {
        format!("\"{whom}\"")
    };
    (here && !whom.is_empty()).then(|| {
        let day = near_day(typed);
        let slip =
            Slip::new(OWN_LINE, 0..typed.text.len(), "what is given away is an entry of its own, with what it was given as");
        slip.note(format!(
            "`gave {day} to {whom} as donation`, and below it the goods; `as gift`, `as sample` and `as thanks` are the others"
        ))
        .settled()
    })
}
