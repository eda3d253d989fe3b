//! Slips of the lines below `material` and `pattern`.

use super::super::slip::Slip;
use super::super::typed::Typed;
use super::said::Said;
use crate::syntax::DefinitionWord;
use crate::units::{Unit, canonical_unit};

/// `counted in bf`, `sheet = 25 sq ft`, `reorder below 20 bf`, `cost 6.50`
pub(super) fn line_of_material(typed: &Typed<'_>) -> Option<Slip> {
    let said = Said::of(typed, DefinitionWord::Material)?;
    let class = ["wear", "consumable", "consumables", "packing", "packaging", "supply", "supplies"];
    if said.is("used up") || said.is("gets used up") || said.is("used up in making") {
        return said.meant("what gets used up in making is `as wear`", "as wear");
    }
    if said.len() == 1 && said.begins(&class) {
        let told = said.told(format!("what `{}` is for is said by its class", typed.text));
        let fixes = [("used up in making", "as wear"), ("used up in selling", "as packing")];
        return Some(fixes.iter().fold(told, |told, (what, line)| told.fix(*what, *line)));
    }
    if let Some(told) = waste_of(&said) {
        return Some(told);
    }
    if said.begins(&["reorder", "minimum", "min", "low", "restock", "keep"]) {
        let at = said.figure_at()?;
        let rest = typed.slice(at..typed.words.len());
        return said.meant("when to order again is said with `reorder at`", format!("reorder at {rest}"));
    }
    if said.begins(&["cost", "costs", "price", "at"]) && said.figure().is_some() || is_price_per_unit(&said) {
        return Some(said.said_elsewhere(
            "what a material costs is no part of its definition: it is learnt from what you buy",
            "as in `bought 2026-03-02 from \"Hall Hardwoods\"`, and below it `31.5 bf red-oak at 5.90`",
        ));
    }
    if said.begins(&["supplier", "from", "vendor", "seller"]) && typed.words.get(1).is_some_and(|word| word.quoted) {
        return Some(said.said_elsewhere(
            "from whom a material comes is learnt from what you buy",
            "as in `bought 2026-03-02 from \"Hall Hardwoods\"`",
        ));
    }
    pack(typed, &said).or_else(|| measured_in(typed, &said))
}

/// `waste 20%`, `25% scrap`
pub(super) fn waste_of(said: &Said<'_, '_>) -> Option<Slip> {
    let told = !said.begins(&["needs", "note"])
        && said.has(&["waste", "wastage", "scrap", "loss", "offcuts", "yield"])
        && (said.percent().is_some() || said.figure().is_some());
    told.then(|| {
        said.said_elsewhere(
            "waste stands in what a recipe needs: with a quarter wasted, a piece that holds 3.5 bf needs 3.5 / 0.75 = 4.67 bf",
            "as in `needs 4.67 bf red-oak` below the product; a plan learns the true waste from your batches",
        )
    })
}

/// `6.50 per bf`
fn is_price_per_unit(said: &Said<'_, '_>) -> bool {
    said.len() == 3 && said.figure_at() == Some(0) && ["per", "a"].contains(&said.word(1)) && said.word(0).contains('.')
}

/// `sheet = 25 sq ft`, `1 bag of 50 ea`, `25 sq ft per sheet`, `pack of 50`, `comes in boxes of 50 lb`, `50 to a pack`
fn pack(typed: &Typed<'_>, said: &Said<'_, '_>) -> Option<Slip> {
    let message = "what a pack holds is written with `=`";
    let rest = |from: usize| typed.slice(from..typed.words.len());
    let (first, second) = (typed.word(0), typed.word(1));
    if first.is_name() && second.text == "=" && typed.word(2).is_number() {
        return said.meant(message, format!("1 {} = {}", first.text, rest(2)));
    }
    let holds = ["is", "of", "holds", "has", "contains", "are", "equals", "=", "with"];
    if first.text == "1" && second.is_name() && typed.word(2).is_one_of(&holds) && typed.word(3).is_number() {
        return said.meant(message, format!("1 {} = {}", second.text, rest(3)));
    }
    // Where no unit is said, they are counted.
    let held = |words: std::ops::Range<usize>| {
        let unit = if words.len() == 1 { " ea" } else { "" };
        format!("{}{unit}", typed.slice(words))
    };
    let last = typed.words.len().checked_sub(1)?;
    let of = typed.words.iter().position(|word| word.is("of")).filter(|at| *at > 0 && typed.word(at + 1).is_number());
    let comes = |before: usize| said.begins(&["comes", "come", "sold", "packed", "bought", "in", "pack", "packs"]) || before == 1;
    if let Some(of) = of.filter(|of| typed.word(of - 1).is_name() && comes(*of)) {
        let pack = typed.word(of - 1).text;
        return said.meant(message, format!("1 {} = {}", one_pack(pack), held(of + 1..last + 1)));
    }
    let per = typed.words.iter().position(|word| word.is_one_of(&["per", "in", "to"])).filter(|at| *at >= 1 && *at < last)?;
    let pack = typed.word(last);
    let whole = first.is_number() && pack.is_name();
    whole.then(|| said.meant(message, format!("1 {} = {}", pack.text, held(0..per))))?
}

/// One of the packs of a word for them: `boxes`, `packs`.
fn one_pack(packs: &str) -> &str {
    let hissing = ["xes", "ches", "shes", "sses"].iter().any(|end| packs.ends_with(end));
    let end = if hissing { "es" } else { "s" };
    packs.strip_suffix(end).filter(|one| one.len() > 2 && !one.ends_with('s')).unwrap_or(packs)
}

/// `counted in bf`, `by the foot`, `unit: board feet`, `bf`
fn measured_in(typed: &Typed<'_>, said: &Said<'_, '_>) -> Option<Slip> {
    const FILLERS: [&str; 15] = [
        "unit", "units", "counted", "measured", "measure", "in", "by", "sold", "bought", "per", "count", "the", "a", "as", "uom",
    ];
    let from = (0..said.len()).find(|at| !FILLERS.contains(&said.word(*at)))?;
    // How a unit is written is told of by itself.
    if said.word(0) == "measured" && said.word(1) == "in" {
        return None;
    }
    let unit = typed.slice(from..typed.words.len());
    let Some(known) = Unit::parse(unit).or_else(|| canonical_unit(unit)) else {
        // `counted in skeins`: a unit of the maker's own.
        let own = from > 1 && from + 1 == typed.words.len() && typed.word(from).is_name();
        let told = own.then(|| {
            said.meant(
                format!("`{unit}` is no unit of measure: what is counted one by one is `measured in ea`"),
                "measured in ea",
            )
        })??;
        return Some(told.note("a pack that holds a measure is a line of its own: `1 skein = 50 g`, with `measured in g`"));
    };
    said.meant("in what a material is counted is said with `measured in`", format!("measured in {known}"))
}

/// `allows 50`, `may be made 50 times`, `royalty 0.50 each`, `royalty 5%`
pub(super) fn line_of_pattern(typed: &Typed<'_>) -> Option<Slip> {
    let said = Said::of(typed, DefinitionWord::Pattern)?;
    if said.has(&["royalty", "royalties"]) {
        if said.percent().is_some() {
            return Some(said.said_elsewhere(
                "a royalty is a sum for each good piece, not a part of its price",
                "as in `royalty 0.50 per ea`; where the price changes, the royalty changes with it by `changed`",
            ));
        }
        let figure = said.figure()?;
        return said.meant("a royalty is a sum for each good piece", format!("royalty {figure} per ea"));
    }
    if said.begins(&["price", "cost", "costs", "paid", "bought", "licence", "license"]) && said.figure().is_some() {
        return Some(said.said_elsewhere(
            "what a pattern cost is no part of its definition: it is bought",
            "one that may be made a number of times says only how often, `allows 50 ea for sale`, and is bought as `1 licence NAME for 12.00`; any other is an expense, `12.00 for NAME`",
        ));
    }
    let limit = ["allows", "allow", "allowed", "limit", "max", "maximum", "up", "may", "can", "for", "licence", "license"];
    let figure = said.figure().filter(|_| said.begins(&limit) || said.figure_at() == Some(0))?;
    said.meant("how many pieces a licence permits is said with `allows`", format!("allows {figure} ea for sale"))
}
