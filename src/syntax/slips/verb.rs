//! Slips of first words at column 1: other verbs, other cases, near ones, steps, things that are no entry.

use super::slip::{Slip, SlipRule};
use super::time::time_at;
use super::typed::{Typed, is_name};
use crate::diagnostics::{edits, near_names};
use crate::syntax::placement_table::HEADS;
use crate::syntax::slip_errors::UNKNOWN_HEAD;

pub(super) const RULES: &[SlipRule] = &[other_case, two_words, step_as_verb, other_verb, no_entry, detail_word, near_word];

/// What else is typed for a head word.
const OTHER: [(&str, &[&str]); 29] = [
    ("sold", &["sell", "sells", "sale", "sales", "selling", "invoiced"]),
    ("bought", &["buy", "buys", "purchase", "purchased", "purchases", "buying", "got", "acquired"]),
    (
        "built",
        &[
            "make",
            "made",
            "makes",
            "build",
            "builds",
            "building",
            "produced",
            "assembled",
            "cut",
            "batch",
            "cooked",
            "cook",
            "baked",
            "brewed",
            "canned",
            "bottled",
            "jarred",
            "forged",
            "printed",
            "bound",
            "knitted",
            "wove",
            "woven",
            "sewed",
            "sewn",
            "poured",
            "cast",
        ],
    ),
    ("started", &["start", "starts", "begin", "began", "begun"]),
    ("continued", &["continue", "continues"]),
    ("finished", &["finish", "finishes", "done", "completed", "complete"]),
    ("worked", &["work", "works", "working", "took", "hours", "time"]),
    ("paid", &["pay", "pays", "payment", "spent", "spend", "payed", "expensed", "remitted"]),
    ("received", &["receive", "receives", "receipt", "earned", "got-paid", "deposit", "income-from"]),
    ("sent", &["send", "sends", "move", "moved", "shipped", "ship", "delivered", "consigned", "transferred"]),
    ("brought-back", &["bring-back", "fetched", "collected", "picked-up", "came-back", "come-back", "got-back"]),
    ("returned", &["refund", "refunded", "return", "returns"]),
    ("sent-back", &["send-back", "returned-to"]),
    ("credited", &["credit", "credits"]),
    ("counted", &["count", "counts", "inventory", "stocktake"]),
    ("took-home", &["take-home", "took", "take", "withdrew", "withdrawn"]),
    ("gave", &["give", "gives", "given", "donate", "donated", "gift", "gifted", "donates"]),
    (
        "scrapped",
        &[
            "scrap",
            "scraps",
            "lost",
            "broke",
            "broken",
            "ruined",
            "discarded",
            "burnt",
            "burned",
            "threw",
            "threw-away",
            "threw-out",
            "throw-away",
            "thrown-away",
            "tossed",
            "trashed",
            "binned",
            "stolen",
            "stole",
            "missing",
            "vanished",
        ],
    ),
    ("used-up", &["used", "use", "use-up", "consumed", "wore-out"]),
    ("found", &["find", "finds", "salvaged", "harvested", "harvest", "gathered", "foraged", "reclaimed", "recycled"]),
    ("contributed", &["contribute", "contributes"]),
    ("swapped", &["swap", "swaps", "traded", "trade", "bartered", "barter", "exchanged"]),
    ("drove", &["drive", "drives", "drived", "mileage", "miles", "trip", "travelled", "traveled"]),
    ("retired", &["retire", "retires", "disposed"]),
    ("noted", &["note", "notes", "remember", "memo"]),
    ("changed", &["change", "changes", "raised", "update", "updated", "repriced"]),
    ("opened", &["open", "opening", "opens"]),
    ("closed", &["close", "closing", "closes"]),
    ("answered", &["answer", "answers"]),
];

/// What else is typed for the word of a definition.
const OTHER_DEFINITIONS: [(&str, &[&str]); 9] = [
    ("material", &["materials", "stock", "supply", "lumber", "wood"]),
    ("product", &["products", "item", "items", "good", "goods", "recipe"]),
    ("expense", &["expenses", "cost", "costs"]),
    ("channel", &["channels", "market", "outlet", "platform"]),
    ("place", &["places", "location", "shelf"]),
    ("step", &["steps", "operation", "task"]),
    ("tool", &["tools", "machine", "equipment"]),
    ("helper", &["helpers", "worker", "employee", "contractor"]),
    ("line", &["lines", "category", "group"]),
];

fn tell(typed: &Typed<'_>, words: std::ops::Range<usize>, right: &str) -> Slip {
    let found = typed.slice(words.clone());
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(words.clone()), format!("no entry or definition begins with `{found}`"));
    slip.fix(format!("write `{right}`"), typed.with(words, right))
}

fn unknown_first<'t>(typed: &Typed<'t>) -> Option<&'t str> {
    let first = typed.word(0);
    let is_word = first.text.starts_with(char::is_alphabetic) && !HEADS.contains(&first.text);
    (typed.context.column_one && is_word && !first.quoted).then_some(first.text)
}

/// `Sold 2026-…`, `BOUGHT`
fn other_case(typed: &Typed<'_>) -> Option<Slip> {
    let first = unknown_first(typed)?;
    let lower = first.to_lowercase();
    let right = HEADS.into_iter().find(|head| *head == lower)?;
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), format!("the words of the language are written small: `{right}`"));
    Some(slip.fix("write it small", typed.with(0..1, right)).sure())
}

/// `took home 2026-…`, `sent back`, `brought back`, `used up`
fn two_words(typed: &Typed<'_>) -> Option<Slip> {
    let joined = format!("{}-{}", typed.word(0).text.to_lowercase(), typed.word(1).text.to_lowercase());
    if !typed.context.column_one {
        return None;
    }
    if let Some(right) = HEADS.into_iter().find(|head| *head == joined) {
        let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..2), format!("this is one word: `{right}`"));
        return Some(slip.fix("write it so", typed.with(0..2, right)).sure());
    }
    let (right, _) = OTHER.iter().find(|(_, others)| others.contains(&joined.as_str()))?;
    Some(also_meant(typed, tell(typed, 0..2, right), 0..2, &joined))
}

/// The verb that another word for it stands for, where it stands for one alone.
pub(crate) fn verb_for(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    let mut rights = OTHER.iter().filter(|(_, others)| others.contains(&word.as_str())).map(|(right, _)| *right);
    rights.next().filter(|_| rights.next().is_none())
}

/// A correction with what else its word may be meant for.
fn also_meant(typed: &Typed<'_>, slip: Slip, words: std::ops::Range<usize>, first: &str) -> Slip {
    match first {
        "stolen" | "stole" | "missing" | "vanished" if typed.words.len() == 2 => {
            let line = typed.with(words, "scrapped");
            let fixes = vec![("write it so".to_owned(), format!("{line}\nnote \"{first}\""))];
            Slip { fixes, ..slip }
        }
        "refunded" | "refund" => slip.note("under `returned` a line says what came back, or `refunded 10.00` where nothing did"),
        "used" => slip.fix("or, where something was made of it, `built`", typed.with(words, "built")),
        "came-back" | "come-back" | "got-back" => {
            let slip = slip.note("`brought-back` is what was not sold, `returned` what a buyer gives back");
            slip.fix("or, from a buyer, `returned`", typed.with(words, "returned"))
        }
        _ => slip,
    }
}

/// `buy`, `made 2026-…`, `sanded 2026-…`
fn other_verb(typed: &Typed<'_>) -> Option<Slip> {
    let first = unknown_first(typed)?.to_lowercase();
    let find = |table: &[(&'static str, &[&str])]| {
        table.iter().find(|(_, others)| others.contains(&first.as_str())).map(|(right, _)| *right)
    };
    let dated = typed.words.iter().skip(1).any(|word| word.text.starts_with(|letter: char| letter.is_ascii_digit()));
    // Money that one got was received, goods were bought.
    let got_money = first == "got" && typed.words.iter().any(|word| word.text.starts_with('$'));
    if got_money {
        let message = "money that came is an entry of its own: `received DATE from \"NAME\"`";
        let note = "below it stands what it was for: `100.00 for order \"D-1\"`, or `35.00 for commission`, which is an `income`";
        return Some(Slip::new(UNKNOWN_HEAD, typed.range(0..1), message).note(note).settled());
    }
    // `took 6 mugs to the cafe 2026-03-09`: goods with a place.
    if let Some(line) = carried_to(typed, &first) {
        let message = "goods that go to another place are `sent`; what is taken home for yourself is `took-home`";
        return Some(Slip::new(UNKNOWN_HEAD, typed.range(0..1), message).fix("write `sent`", line));
    }
    let right = if dated { find(&OTHER) } else { find(&OTHER_DEFINITIONS).or_else(|| find(&OTHER)) }?;
    // `threw 2026-03-01 away`
    let away = typed.word(2).is_one_of(&["away", "out"]) && matches!(first.as_str(), "threw" | "tossed");
    if away {
        let line = format!("{right} {} {}", typed.word(1).text, typed.slice(3..typed.words.len()));
        let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), format!("no entry or definition begins with `{first}`"));
        return Some(slip.fix(format!("write `{right}`"), line.trim_end().to_owned()));
    }
    // Without a time it is no work.
    let timed = (1..typed.words.len()).any(|at| time_at(typed, at) > 0);
    if matches!(first.as_str(), "took" | "take") && !timed {
        let home = (2..typed.words.len()).rfind(|at| typed.word(*at).is("home"));
        let line = typed.with(0..1, "took-home");
        let line = if home.is_some_and(|home| home + 1 == typed.words.len()) {
            line.strip_suffix("home").map_or(line.clone(), |rest| rest.trim_end().to_owned())
        } else {
            line
        };
        let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), "what is taken home is an entry of its own: `took-home`");
        let slip = slip.fix("write `took-home`", line);
        return Some(if home.is_none() { slip.fix("or, of work, `worked`", typed.with(0..1, "worked")) } else { slip });
    }
    if let Some((reason, line)) = reason_of_a_present(typed, &first) {
        let message = format!("what is given away is `gave`, and its head says as what: `as {reason}`");
        let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), message);
        return Some(slip.note("the reasons are `donation`, `gift`, `sample` and `thanks`").fix("write it so", line));
    }
    Some(also_meant(typed, tell(typed, 0..1, right), 0..1, &first))
}

/// As what something was given, where the verb says it and the head does not: `donated 2026-05-22 to "x"`.
fn reason_of_a_present(typed: &Typed<'_>, first: &str) -> Option<(&'static str, String)> {
    let reason = match first {
        "donate" | "donated" | "donates" => "donation",
        "gift" | "gifted" => "gift",
        _ => return None,
    };
    let length = typed.words.len();
    if !typed.word(1).is_date() || typed.words.iter().skip(2).any(|word| word.is("as")) {
        return None;
    }
    let day = typed.word(1).text;
    if !typed.words.iter().skip(2).any(|word| word.is_number()) {
        return Some((reason, format!("{} as {reason}", typed.with(0..1, "gave"))));
    }
    // `donated 2026-05-22 2 hooks to school`
    let to = (4..length).find(|at| typed.word(*at).is("to") && typed.word(2).is_number())?;
    Some((reason, format!("gave {day} {} as {reason}\n{}", typed.slice(to..length), typed.slice(2..to))))
}

/// The line with `sent`, where goods were carried to a place: `took`, `brought`, `dropped`, with a count and a place behind `to`, each of one word.
fn carried_to(typed: &Typed<'_>, first: &str) -> Option<String> {
    let carried = ["took", "take", "brought", "bring", "carried", "dropped", "delivered", "left"].contains(&first);
    let begins = 1 + usize::from(typed.word(1).is_date());
    let counted = typed.word(begins).text.starts_with(|letter: char| letter.is_ascii_digit()) && time_at(typed, begins) == 0;
    let to = (begins + 2..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["to", "at"]))?;
    let article = usize::from(typed.word(to + 1).is_one_of(&["the", "my", "our"]));
    let place = typed.word(to + 1 + article);
    let rest = to + 2 + article;
    let ends = rest == typed.words.len() || rest + 1 == typed.words.len() && typed.word(rest).is_date();
    if !carried || !counted || !ends || !place.is_name() || place.is("home") {
        return None;
    }
    Some(format!("sent {} to {} {}", typed.slice(1..to), place.text, typed.slice(rest..typed.words.len())).trim_end().to_owned())
}

/// Steps whose past is not made with `-ed`.
const OTHER_PASTS: [(&str, &str); 11] = [
    ("cut", "cutting"),
    ("sawn", "sawing"),
    ("ground", "grinding"),
    ("bent", "bending"),
    ("swept", "sweeping"),
    ("threw", "throwing"),
    ("spun", "spinning"),
    ("wove", "weaving"),
    ("knit", "knitting"),
    ("wound", "winding"),
    ("poured", "pouring"),
];
/// Verbs of steps that are known even where no time stands with them.
const STEP_VERBS: [&str; 14] = [
    "glued",
    "sanded",
    "oiled",
    "painted",
    "sawed",
    "drilled",
    "planed",
    "carved",
    "routed",
    "stained",
    "varnished",
    "waxed",
    "clamped",
    "sharpened",
];

/// The step that somebody did: `sanding` for `sanded`.
pub(super) fn step_of(verb: &str) -> Option<String> {
    let other = OTHER_PASTS.iter().find(|(past, _)| *past == verb).map(|(_, step)| (*step).to_owned());
    other.or_else(|| verb.strip_suffix("ed").filter(|stem| stem.len() > 2).map(|stem| format!("{stem}ing")))
}

/// `sanded 2026-03-03 1h on PC-014`, `sanding 2026-03-03 1h`, `cutting 45m`
fn step_as_verb(typed: &Typed<'_>) -> Option<Slip> {
    let first = unknown_first(typed)?;
    let lower = first.to_lowercase();
    let step = if lower.ends_with("ing") && lower.len() > 5 { Some(lower.clone()) } else { step_of(&lower) }?;
    let dated = (1..typed.words.len()).find(|at| typed.word(*at).is_date());
    let timed = (1..typed.words.len()).find(|at| time_at(typed, *at) > 0);
    let known = STEP_VERBS.contains(&lower.as_str());
    if timed.is_none() && !(known && dated.is_some()) && !lower.ends_with("ing") {
        return None;
    }
    let day = dated.map(|at| typed.word(at).text.to_owned()).or(typed.near_date.map(|near| near.to_string()));
    let day = day.unwrap_or_else(|| "DATE".to_owned());
    let time_words = timed.map_or(0..0, |at| at..at + time_at(typed, at));
    let time = if time_words.is_empty() { "1h".to_owned() } else { typed.slice(time_words.clone()).replace(" m", "m") };
    let rest: Vec<&str> = (1..typed.words.len())
        .filter(|at| Some(*at) != dated && !time_words.contains(at))
        .map(|at| typed.word(at).text)
        .filter(|word| !matches!(*word, "batch" | "on" | "for" | "the"))
        .collect();
    let on = match rest.as_slice() {
        [] if time_words.is_empty() => " on BATCH".to_owned(),
        [name] if is_name(name) => format!(" on {name}"),
        [] => String::new(),
        _ => " on BATCH".to_owned(),
    };
    let it = if step == first { "it".to_owned() } else { format!("`{step}`") };
    let message = format!("`{first}` looks like a step: {it} stands under `worked`, with its time");
    Some(Slip::new(UNKNOWN_HEAD, typed.range(0..1), message).fix("as an entry", format!("worked {day}\n{time} {step}{on}")))
}

/// Whether a word stands before the name of who ordered: `by "Mrs. Dell"`, `order … from "Mrs. Dell"`.
fn is_buyer(typed: &Typed<'_>, at: usize) -> bool {
    let word = typed.word(at);
    // `order 2026-03-05 12 bf cherry from yard` is no buyer's.
    let first = at == 2 && word.is("from") && typed.word(0).is("order");
    (word.is("by") || first) && !typed.word(at + 1).text.is_empty()
}

/// `ordered`, `borrowed`, `lent`
fn no_entry(typed: &Typed<'_>) -> Option<Slip> {
    let first = unknown_first(typed)?;
    let rest = typed.slice(2..typed.words.len());
    let date =
        if typed.word(1).is_date() { Some(typed.word(1).text.to_owned()) } else { typed.near_date.map(|near| near.to_string()) };
    match first.to_lowercase().as_str() {
        "ordered" | "order" if (2..typed.words.len()).any(|at| is_buyer(typed, at)) => {
            let buyer = (2..typed.words.len()).find(|at| is_buyer(typed, *at))?;
            let end = (buyer + 1..typed.words.len()).find(|at| typed.word(*at).is_one_of(&["order", "via", "for"]));
            let name = typed.slice(buyer + 1..end.unwrap_or(typed.words.len()));
            let quoted = if name.starts_with(super::typed::is_quote) { name.to_owned() } else { format!("\"{name}\"") };
            let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), "an order is no entry yet; the money for it is, and the sale");
            let slip = slip.note("below it stands what was paid before, with the order's name: `100.00 for order \"D-1\"`; what was ordered needs no line, and stands in the sale later");
            let day = date.unwrap_or_else(|| "DATE".to_owned());
            Some(slip.fix("if money came for it", format!("received {day} from {quoted}")))
        }
        "ordered" | "order" if typed.words.iter().skip(2).any(|word| word.is_one_of(&["via", "order"])) => {
            let via = typed.words.iter().position(|word| word.is("via")).map(|at| format!(" {}", typed.slice(at..at + 2)));
            let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), "an order is no entry yet; the money for it is, and the sale");
            let slip = slip.note("below it stands what was paid before, with the order's name: `100.00 for order \"D-1\"`; what was ordered, and when it is due, needs no line, and stands in the sale later");
            let day = date.unwrap_or_else(|| "DATE".to_owned());
            Some(slip.fix("if money came for it", format!("received {day} from NAME{}", via.unwrap_or_default())))
        }
        "ordered" | "order" => {
            let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), "what is ordered is entered when it comes");
            let slip = slip.note("if it was paid before, `paid` says so");
            Some(slip.fix("when it has come, write `bought`", typed.with(0..1, "bought")))
        }
        "borrowed" | "lent" | "loaned" | "planned" | "reminder" => {
            let slip = Slip::new(
                UNKNOWN_HEAD,
                typed.range(0..1),
                format!("nothing is bought or sold by what is {}", first.to_lowercase()),
            );
            let what: String = rest.chars().filter(|letter| !super::typed::is_quote(*letter)).collect();
            let text = if what.is_empty() { first.to_owned() } else { format!("{first} {what}") };
            Some(match date {
                Some(date) => slip.fix("keep it as a note", format!("noted {date} \"{text}\"")),
                None => slip.note("`noted`, a date and a text in quotes keep it"),
            })
        }
        _ => None,
    }
}

/// `total 276.90`, `note "…"` or `2 pull-cart` that could not be read, at column 1
fn detail_word(typed: &Typed<'_>) -> Option<Slip> {
    let number = typed.context.column_one && typed.word(0).text.starts_with(|letter: char| letter.is_ascii_digit());
    if !number || typed.word(0).is_date() {
        return None;
    }
    let slip = Slip::new(
        crate::syntax::errors::STRAY_DETAIL,
        typed.range(0..1),
        "an entry begins with its verb; a line of an entry is indented",
    );
    Some(slip.fix("indent it, if it belongs to the entry above", format!("    {}", typed.text)))
}

/// `sodl 2026-…`, `boguht`
fn near_word(typed: &Typed<'_>) -> Option<Slip> {
    let first = unknown_first(typed)?;
    let near = near_names(first, HEADS);
    let nearest = near.first()?;
    let slip = tell(typed, 0..1, nearest);
    let rest = near.iter().skip(1).filter(|head| edits(first, head) <= edits(first, nearest) + 1);
    Some(rest.fold(slip, |slip, head| slip.fix(format!("or `{head}`"), typed.with(0..1, head))))
}
