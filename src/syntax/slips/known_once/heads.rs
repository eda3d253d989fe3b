//! Slips of a definition's head: its lines behind its title, a name of two words, another word for what is defined.

use super::super::name::corrected_name;
use super::super::slip::{Slip, SlipRule};
use super::super::typed::{Typed, is_name, is_number, is_quote};
use crate::syntax::DefinitionWord;
use crate::syntax::placement_table::definition_word;
use crate::syntax::slip_errors::{OWN_LINE, TITLE_IN_QUOTES, UNKNOWN_HEAD};
use crate::units::{Unit, canonical_unit};

/// Heads of definitions that could not be read.
pub(in crate::syntax::slips) const HEAD_RULES: &[SlipRule] =
    &[several_in_one, line_behind_title, sum_for_title, unit_for_title, name_of_words, another_word, no_definition];

/// What a head that could not be read defines.
fn defined(typed: &Typed<'_>) -> Option<DefinitionWord> {
    let first = typed.word(0).text.trim_end_matches(':').to_lowercase();
    let own = |word: &DefinitionWord| first.trim_end_matches('s') == definition_word(*word).trim_end_matches('s');
    typed.definition().filter(|word| typed.context.column_one && own(word))
}

/// Whether behind the word of a head stand names parted by commas, or a name and a sum: no title is made of these.
pub(in crate::syntax::slips) fn lists_or_sums(typed: &Typed<'_>) -> bool {
    let names = typed.words.iter().skip(1);
    let list = typed.words.len() > 2
        && names.clone().all(|word| word.is_name())
        && names.take(typed.words.len().saturating_sub(2)).all(|word| word.comma);
    list || typed.words.len() == 3 && is_number(typed.word(2).text.trim_start_matches(['$', '€', '£']))
}

/// A title made from a name: `red-oak` as `Red oak`.
pub(in crate::syntax::slips) fn title_from(name: &str) -> String {
    let words = name.replace('-', " ");
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// `step cutting, sanding`
fn several_in_one(typed: &Typed<'_>) -> Option<Slip> {
    let word = definition_word(defined(typed)?);
    (lists_or_sums(typed) && typed.word(2).is_name()).then(|| {
        let names = typed.words.iter().skip(1);
        let lines: Vec<String> = names.map(|name| format!("`{word} {} \"{}\"`", name.text, title_from(name.text))).collect();
        let slip = Slip::new(OWN_LINE, typed.range(1..typed.words.len()), format!("each `{word}` has a head of its own"));
        slip.note(format!("at column 1: {}", lines.join(", "))).settled()
    })
}

/// `material maple "Maple" measured in bf`, `product stool "Step stool" 85.00`
fn line_behind_title(typed: &Typed<'_>) -> Option<Slip> {
    let word = defined(typed).filter(|word| *word != DefinitionWord::Choices)?;
    let title = if word == DefinitionWord::Shop { 1 } else { 2 };
    let named = title == 1 || typed.word(1).is_name();
    let behind = title + 1..typed.words.len();
    let quoted = typed.words.iter().filter(|word| word.quoted).count() == 1 && !typed.open_quote;
    (named && typed.word(title).quoted && quoted && !behind.is_empty()).then(|| {
        let line = format!("{}\n{}", typed.slice(0..title + 1), typed.slice(behind.clone()));
        let message = format!("what else is known of it stands below `{}`, a line each", typed.word(0).text);
        Slip::new(OWN_LINE, typed.range(behind), message).fix("on a line of its own", line)
    })
}

/// `product stool 85.00`, `tool band-saw 900`
fn sum_for_title(typed: &Typed<'_>) -> Option<Slip> {
    let word = defined(typed)?;
    let (name, figure) = (typed.word(1), typed.word(2).text.trim_start_matches(['$', '€', '£']));
    if typed.words.len() != 3 || !name.is_name() || !is_number(figure) {
        return None;
    }
    let slip = Slip::new(TITLE_IN_QUOTES, typed.range(2..3), "behind the name stands a title in quotes, and no sum");
    let head = format!("{} {} \"{}\"", typed.word(0).text, name.text, title_from(name.text));
    Some(match word {
        DefinitionWord::Product => slip.fix("if that is its price", format!("{head}\nprice {figure}")),
        DefinitionWord::Helper => slip.fix("if that is for an hour", format!("{head}\ncosts {figure} per h")),
        _ => slip.note(format!("as in `{head}`; what was paid is an entry, `bought 2026-03-02` and below it the sum")).settled(),
    })
}

/// `material maple bf`
fn unit_for_title(typed: &Typed<'_>) -> Option<Slip> {
    let name = typed.word(1);
    let words = typed.slice(2..typed.words.len());
    let unit = Unit::parse(words).or_else(|| canonical_unit(words))?;
    (defined(typed) == Some(DefinitionWord::Material) && name.is_name()).then(|| {
        let message = "behind the name stands a title in quotes; the unit has a line of its own";
        let line = format!("{} {} \"{}\"\nmeasured in {unit}", typed.word(0).text, name.text, title_from(name.text));
        Slip::new(TITLE_IN_QUOTES, typed.range(2..typed.words.len()), message).fix("with its title and its unit", line)
    })
}

/// `material red oak`, `product Step Stool`
fn name_of_words(typed: &Typed<'_>) -> Option<Slip> {
    let word = defined(typed).filter(|word| !matches!(word, DefinitionWord::Shop | DefinitionWord::Choices))?;
    let words = typed.slice(1..typed.words.len());
    let plain = typed.words.iter().skip(1).all(|word| !word.quoted && !word.comma && word.text.chars().all(char::is_alphabetic));
    let (one, rest) = (typed.word(1).text, typed.word(2).text);
    // A title behind a name begins with a capital letter, and the name with a small one.
    let titled = one.starts_with(char::is_lowercase) && rest.starts_with(char::is_uppercase);
    if typed.words.len() < 3 || !plain || titled || word == DefinitionWord::Line && typed.word(0).text != "line" {
        return None;
    }
    let name = corrected_name(&words.to_lowercase()).filter(|name| is_name(name))?;
    let first = typed.word(0).text;
    let slip = Slip::new(TITLE_IN_QUOTES, typed.range(1..typed.words.len()), "a name is one word, and a title in quotes follows");
    let slip = slip.fix("all of it is its name", format!("{first} {name} \"{}\"", title_from(&words.to_lowercase())));
    Some(slip.fix("the first word is its name", format!("{first} {one} \"{}\"", typed.slice(2..typed.words.len()))))
}

/// What else is typed for a definition's word, with the line that says the rest of it.
const OTHERS: [(&str, &str, &str); 21] = [
    ("lumber", "material", ""),
    ("timber", "material", ""),
    ("wood", "material", ""),
    ("supply", "material", ""),
    ("wear", "material", "as wear"),
    ("consumable", "material", "as wear"),
    ("packaging", "material", "as packing"),
    ("packing", "material", "as packing"),
    ("recipe", "product", ""),
    ("item", "product", ""),
    ("machine", "tool", ""),
    ("equipment", "tool", ""),
    ("location", "place", ""),
    ("shelf", "place", ""),
    ("collection", "line", ""),
    ("category", "line", ""),
    ("employee", "helper", "employee"),
    ("apprentice", "helper", "employee"),
    ("contractor", "helper", "contractor"),
    ("design", "pattern", ""),
    ("account", "expense", ""),
];

/// `wear disc "Disc"`, `machine band-saw`, `employee sam`
fn another_word(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    let (_, right, below) = OTHERS.iter().find(|(other, ..)| first.is(other)).filter(|_| typed.context.column_one)?;
    let (name, title) = (typed.word(1), typed.word(2));
    let message = format!("no entry or definition begins with `{}`", first.text);
    let slip = Slip::new(UNKNOWN_HEAD, typed.range(0..1), message);
    let title = match typed.words.len() {
        2 => title_from(name.text),
        3 if title.quoted => title.text.trim_matches(is_quote).to_owned(),
        _ if title.quoted && name.is_name() => {
            let line = format!("{right} {}\n{}", typed.slice(1..3), typed.slice(3..typed.words.len()));
            let slip = slip.fix(format!("write `{right}`"), line);
            return Some(if below.is_empty() { slip } else { slip.note(format!("and below it also `{below}`")) });
        }
        _ => return None,
    };
    let below = if below.is_empty() { String::new() } else { format!("\n{below}") };
    let line = format!("{right} {} \"{title}\"{below}", name.text);
    name.is_name().then(|| slip.fix(format!("write `{right}`"), line))
}

/// `supplier mill "Mill Lane"`, `customer dell`, `price stool 85`
fn no_definition(typed: &Typed<'_>) -> Option<Slip> {
    let first = typed.word(0);
    let told = |message: &str, note: &str| Some(Slip::new(UNKNOWN_HEAD, typed.range(0..1), message).note(note).settled());
    if !typed.context.column_one || typed.words.len() < 2 {
        return None;
    }
    if first.is_one_of(&["supplier", "suppliers", "vendor", "seller"]) {
        return told(
            "a supplier needs no definition",
            "who sold is said where something is bought, as in `bought 2026-03-02 from \"Hall Hardwoods\"`",
        );
    }
    if first.is_one_of(&["customer", "customers", "buyer", "client"]) {
        return told(
            "a buyer needs no definition",
            "who ordered is said with the order's name, as in `sold 2026-03-20 via web-page order \"E-1041\"`",
        );
    }
    if first.is_one_of(&["price", "prices"]) && typed.word(1).is_name() {
        return told(
            "a price is a line below its product",
            "as in `price 42.00`; from a day on it changes with `changed 2026-04-01 pull-cart`, and below it `price 45.00`",
        );
    }
    None
}
