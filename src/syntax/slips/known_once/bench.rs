//! Slips of the lines below `product`: its recipe, its time, its price, for whom it is.

use super::super::slip::Slip;
use super::super::time::time_at;
use super::super::typed::{Typed, Word};
use super::goods::waste_of;
use super::said::Said;
use crate::syntax::DefinitionWord;
use crate::units::{Unit, canonical_unit};

/// `step cutting 20 min`, `uses 0.5 bf maple`, `sells for 42.00`, `for kids`, `category toys`
pub(super) fn line_of_product(typed: &Typed<'_>) -> Option<Slip> {
    let said = Said::of(typed, DefinitionWord::Product)?;
    if said.begins(&["pattern", "licence", "license", "design"]) && said.figure().is_some() {
        return Some(said.said_elsewhere(
            "what a pattern costs, and how often it may be made, is no part of the product",
            "it is defined at column 1, `pattern NAME \"…\"`, with `allows 50 ea for sale` below it, and bought as `1 licence NAME for 12.00`; \
             here stands only `pattern NAME`",
        ));
    }
    if said.begins(&["cures", "cure", "curing", "dries", "dry", "drying", "rests", "waits", "sets"]) {
        return Some(said.said_elsewhere(
            "time in which nobody works is no time of a product",
            "a batch that waits is `started` on one day and `finished` on another; a note keeps how long: `note \"cures 4 weeks\"`",
        ));
    }
    waste_of(&said)
        .or_else(|| time(typed, &said))
        .or_else(|| price(&said))
        .or_else(|| recipe(typed, &said))
        .or_else(|| for_children(&said))
        .or_else(|| belongs_to(&said))
}

/// `cutting 20 min`, `labor 20 min`, `takes 2 hours`
fn time(typed: &Typed<'_>, said: &Said<'_, '_>) -> Option<Slip> {
    const FILLERS: [&str; 12] =
        ["step", "time", "labor", "labour", "work", "takes", "took", "takes:", "bench", "hours", "minutes", "make"];
    let (at, words) = (0..typed.words.len()).find_map(|at| Some((at, time_at(typed, at))).filter(|(_, words)| *words > 0))?;
    // Several steps in one line are a list, which the language reads.
    if typed.words.iter().any(|word| word.comma) || said.begins(&["needs"]) {
        return None;
    }
    let step = |word: &&Word<'_>| word.is_name() && !word.is_one_of(&FILLERS) && !word.is_one_of(&["of", "for", "per"]);
    let outside = typed.words.iter().take(at).chain(typed.words.iter().skip(at + words));
    let step = outside.clone().find(step).map_or("NAME", |word| word.text);
    let known =
        outside.clone().all(|word| word.is_one_of(&FILLERS) || word.is_one_of(&["of", "for", "per"]) || word.text == step);
    let told = known.then(|| {
        let line = format!("takes {} {step}", typed.slice(at..at + words));
        said.meant("the time that one takes is said by its steps, with `takes`", line)
    })??;
    Some(match step {
        "NAME" => {
            told.note("NAME is a step of yours, which is defined in any file: `step cutting \"Cutting at the scroll saw\"`")
        }
        _ => told,
    })
}

/// `sells for 42.00`, `retail 42`, `42.00`
fn price(said: &Said<'_, '_>) -> Option<Slip> {
    let figure = said.figure()?;
    let alone = said.len() == 1;
    let words = ["sells", "sell", "selling", "sale", "sold", "retail", "list", "msrp", "asking"];
    if said.begins(&["cost", "costs"]) && said.len() <= 3 {
        let told = said.told("what one costs is never typed: it is reckoned from what you build; its list price is `price`");
        return Some(told.fix("if that is what it sells for", format!("price {figure}")));
    }
    (alone || said.begins(&words)).then(|| said.meant("what it sells for is said with `price`", format!("price {figure}")))?
}

/// `uses 0.5 bf maple`, `made of 0.5 bf maple`, `0.5 bf maple`, `maple 0.5 bf`
fn recipe(typed: &Typed<'_>, said: &Said<'_, '_>) -> Option<Slip> {
    const WORDS: [&str; 16] = [
        "uses",
        "use",
        "material",
        "materials",
        "recipe",
        "contains",
        "made",
        "of",
        "wood",
        "parts",
        "part",
        "ingredients",
        "from",
        "with",
        "requires",
        "bom",
    ];
    let message = "what one needs is said with `needs`";
    let from = (0..said.len()).find(|at| !WORDS.contains(&said.word(*at)))?;
    let (first, rest) = (typed.word(from), typed.slice(from..typed.words.len()));
    if first.is_number() || first.is_fraction() {
        return said.meant(message, format!("needs {rest}"));
    }
    let unit = typed.word(from + 2).text;
    let is_unit = Unit::parse(unit).is_some() || canonical_unit(unit).is_some();
    let last_two = typed.words.len() == from + 3 && first.is_name() && typed.word(from + 1).is_number() && is_unit;
    let last_two = last_two && !first.is_one_of(&["weight", "weighs", "size", "price"]);
    last_two.then(|| said.meant(message, format!("needs {} {unit} {}", typed.word(from + 1).text, first.text)))?
}

/// `for children`, `age 3+`, `for kids under 3`
fn for_children(said: &Said<'_, '_>) -> Option<Slip> {
    const CHILDREN: [&str; 13] = [
        "children",
        "kids",
        "child",
        "child's",
        "children's",
        "toddlers",
        "toddler",
        "baby",
        "babies",
        "age",
        "ages",
        "aged",
        "infants",
    ];
    if !said.has(&CHILDREN) || said.has(&["needs"]) {
        return None;
    }
    let figure = said.figure().or_else(|| said.last().strip_suffix('+').filter(|age| super::super::typed::is_digits(age)));
    let message = "for whom it is says from which age";
    match figure.filter(|_| !said.has(&["under", "below", "to", "until"])) {
        Some(age) => {
            let unit = if said.has(&["months", "month", "mo"]) { "months" } else { "years" };
            said.meant(message, format!("for children from {age} {unit}"))
        }
        None => {
            let told = said.told(message).fix("where it is for the little ones", "for children from 18 months");
            Some(told.fix("where it is from three years on", "for children from 3 years"))
        }
    }
}

/// `category toys`, `in line toys`, `design rabbit-pattern`
fn belongs_to(said: &Said<'_, '_>) -> Option<Slip> {
    let name = said.last_name().filter(|_| said.len() <= 3)?;
    if said.begins(&["category", "group", "family", "collection", "type", "class", "in", "product", "kind"]) {
        return said.meant("its product line is said with `line`", format!("line {name}"));
    }
    let design = said.begins(&["design", "plan", "plans", "template", "licence", "license"]);
    design.then(|| said.meant("by whose design it is made is said with `pattern`", format!("pattern {name}")))?
}
