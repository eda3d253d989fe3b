//! What is wrong with packs and conversions.

use crate::diagnostics::{Diagnostic, near_names};
use crate::names::Pack;
use crate::names::errors::quantities::may_convert;
use crate::names::errors::{NUMBER_LIMIT, PACK_SAID_TWICE, UNKNOWN_UNIT, USELESS_PACK, WRONG_DIMENSION, offer_near};
use crate::sources::{SourceSet, Span};
use crate::syntax::Amount;
use crate::units::{NumberError, Unit, canonical_unit};

pub(crate) fn no_pack_name(words: &str, place: Span) -> Diagnostic {
    let told = Diagnostic::new(UNKNOWN_UNIT, place, format!("`{words}` can't be the name of a pack"));
    match canonical_unit(words) {
        Some(meant) => told.fix(format!("the unit is written `{meant}`"), place, meant.as_str()).sure(),
        None => told.note("a pack's name is one word, spelled as a name: `bag`, `can`, `roll`"),
    }
}

pub(crate) fn pack_said_twice(words: &str, line: Span, first: Span) -> Diagnostic {
    Diagnostic::new(PACK_SAID_TWICE, line, format!("what one `{words}` holds is said twice"))
        .label("said again")
        .also(first, "said here first")
        .note("a pack that holds something else from a day on is said by `changed DATE NAME`")
}

pub(crate) fn leads_nowhere(pack: &Pack, own: Unit) -> Diagnostic {
    let (unit, other) = (&pack.name, pack.written.1);
    Diagnostic::new(USELESS_PACK, pack.span, format!("neither `{unit}` nor `{other}` leads to {own}, in which it is measured"))
        .note(format!("one side of a conversion is {}: `1 {own} = … {other}`", own.dimension().with_article()))
}

pub(crate) fn no_unit(sources: &SourceSet, holds: &Amount) -> Diagnostic {
    let text = sources.text(holds.span);
    Diagnostic::new(UNKNOWN_UNIT, holds.span, format!("`{text}` is in no unit of measure"))
        .note("a unit on the left stands for a unit on the right: `1 bf = 3.6 lb`; a pack has a name of its own: `1 bag = 50 ea`")
}

pub(crate) fn no_time(line: Span) -> Diagnostic {
    Diagnostic::new(USELESS_PACK, line, "a quantity can't be converted to a time")
}

pub(crate) fn known_already(unit: Unit, other: Unit, line: Span) -> Diagnostic {
    let what = unit.dimension();
    Diagnostic::new(USELESS_PACK, line, format!("`{unit}` and `{other}` are both a {what}: how they convert is known already"))
        .note("a pack needs a name that is no unit: `1 case = 12 ea`")
}

pub(crate) fn holds_nothing(place: Span) -> Diagnostic {
    Diagnostic::new(USELESS_PACK, place, "it must hold more than nothing")
}

pub(crate) fn number(place: Span, error: NumberError) -> Diagnostic {
    Diagnostic::new(NUMBER_LIMIT, place, format!("what it holds can't be kept: {error}"))
}

pub(crate) fn pack_in_wrong_dimension(name: &str, place: Span, unit: Unit, own: Unit) -> Diagnostic {
    let (from, to) = (unit.dimension().with_article(), own.dimension().with_article());
    let message = format!("a `{name}` holds {from}, `{unit}`, but this is measured in {own}, {to}");
    let told = Diagnostic::new(WRONG_DIMENSION, place, message);
    match may_convert(own, unit) {
        true => told.note(format!("a further line would make it convertible: `1 {own} = … {unit}`")),
        false => told,
    }
}

pub(crate) fn unknown_pack_unit<'n>(words: &str, place: Span, packs: impl Iterator<Item = &'n str>) -> Diagnostic {
    let told = Diagnostic::new(UNKNOWN_UNIT, place, format!("`{words}` is neither a unit nor another pack of this thing"));
    match canonical_unit(words) {
        Some(meant) => told.fix(format!("the unit is written `{meant}`"), place, meant.as_str()).sure(),
        None => {
            let units = Unit::ALL.iter().map(|unit| unit.as_str());
            offer_near(told, place, near_names(words, packs.chain(units)))
        }
    }
}

pub(crate) fn ring_of_packs(name: &str, place: Span) -> Diagnostic {
    Diagnostic::new(USELESS_PACK, place, format!("what one `{name}` holds leads back to itself"))
        .note("one of the packs must be said in a unit of measure")
}
