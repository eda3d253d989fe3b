//! What is said of an amount that gives no quantity of its thing.

use crate::diagnostics::Diagnostic;
use crate::names::errors::beside_a_name::remark_before;
use crate::names::errors::counting::near_units;
use crate::names::errors::{
    NOT_WHOLE, NUMBER_LIMIT, PACK_MISSING, PER, SIZES_DONT_FIT, SIZES_MISSING, TIME_OR_QUANTITY, UNIT_MISSING, UNKNOWN_UNIT,
    WRONG_DIMENSION, behind, offer_near,
};
use crate::names::plural::{plural_of, singulars_of};
use crate::names::{Lookup, Pack, Thing};
use crate::sources::{SourceSet, Span};
use crate::syntax::{Amount, AmountKind, Sizes};
use crate::units::{Dimension, NumberError, Unit, canonical_unit};

/// The unit's place within an amount, else all of it.
const fn unit_place(amount: &Amount) -> Span {
    match amount.kind {
        AmountKind::Measured { unit } => unit,
        AmountKind::Count { .. } | AmountKind::Time => amount.span,
    }
}

/// `2m double-tape`.
pub(crate) fn time_for_a_quantity(lookup: &Lookup<'_>, amount: &Amount, of: &Thing) -> Diagnostic {
    let text = lookup.sources.text(amount.span);
    let name = &of.named.name;
    let told =
        Diagnostic::new(TIME_OR_QUANTITY, amount.span, format!("`{text}` is a time, and `{name}` is measured in {}", of.unit));
    match text.strip_suffix('m').filter(|number| number.ends_with(|one: char| one.is_ascii_digit())) {
        Some(number) if of.unit.dimension() == Dimension::Length => {
            told.fix("metres, with a blank", amount.span, format!("{number} m"))
        }
        _ => told,
    }
}

/// `4 walnut, 4/4 x 6 x 48 in`.
pub(crate) fn boards_missing(amount: &Amount, of: &Thing) -> Diagnostic {
    let name = &of.named.name;
    Diagnostic::new(SIZES_MISSING, amount.span, format!("the sizes are of boards or pieces of `{name}`, which must be said"))
        .fix("boards", behind(amount.span), " boards")
        .fix("pieces", behind(amount.span), " pieces")
}

/// `31.5 red-oak`.
pub(crate) fn unit_missing(lookup: &Lookup<'_>, amount: &Amount, of: &Thing, packs: &[Pack]) -> Diagnostic {
    let (name, unit) = (&of.named.name, of.unit);
    let text = lookup.sources.text(amount.span);
    let told = Diagnostic::new(UNIT_MISSING, amount.span, format!("{name} is measured in {unit}: `{text} {unit} {name}`"))
        .label("a number without its unit")
        .also(of.named.span, format!("measured in {unit}"));
    // How many sheets there are is no area: the number stays only where it was one.
    let (own, note) = match unit.dimension() {
        Dimension::Area => (format!("if {text} is the area, in {unit}"), Some("an area")),
        Dimension::Volume if unit == Unit::BoardFoot => {
            (format!("if {text} is the wood in them, in {unit}"), Some("wood in board feet"))
        }
        _ => ("name the unit".to_owned(), None),
    };
    let told = told.fix(own, behind(amount.span), format!(" {unit}"));
    let told = match note {
        Some(what) if named_packs(packs).next().is_none() => {
            told.note(format!("pieces are not {what}: what one of them has is said below `{name}`, as in `1 sheet = … {unit}`"))
        }
        _ => told,
    };
    offer_packs(told, amount, packs)
}

/// The packs that have a name of their own, not the conversions between units.
fn named_packs(packs: &[Pack]) -> impl Iterator<Item = &Pack> {
    packs.iter().filter(|pack| Unit::parse(&pack.name).is_none())
}

fn offer_packs(told: Diagnostic, amount: &Amount, packs: &[Pack]) -> Diagnostic {
    named_packs(packs).take(2).fold(told, |told, pack| {
        let word = if amount.value == rust_decimal::Decimal::ONE { pack.name.clone() } else { plural_of(&pack.name) };
        let holds = format!("{} {}", pack.written.0.normalize(), pack.written.1);
        told.fix(format!("a {} is {holds}", pack.name), behind(amount.span), format!(" {word}"))
    })
}

/// `1.5 pull-cart`.
pub(crate) fn count_not_whole(lookup: &Lookup<'_>, amount: &Amount, of: &Thing) -> Diagnostic {
    let text = lookup.sources.text(amount.span);
    let name = &of.named.name;
    let told = Diagnostic::new(
        NOT_WHOLE,
        amount.span,
        format!("without a unit, `{name}` is counted in whole numbers, and `{text}` is none"),
    );
    // `320.00 card`: two figures behind the point are money.
    if amount.value.is_integer() && text.split_once('.').is_some_and(|(_, part)| part.len() == 2) {
        let told = told.note("a sum of money has `for` or `at` beside it; how much came as cash, card or check is `card 320.00`");
        return told.fix("if so many pieces are meant", amount.span, amount.value.trunc().normalize().to_string());
    }
    if amount.value.is_integer() {
        return told.fix("without the point", amount.span, amount.value.trunc().normalize().to_string()).sure();
    }
    told.note(format!("a part of one names its unit, `{text} ea {name}`; a sum of money has `for` or `at` beside it"))
}

/// `2 wheel-40 for 23.00` in `bought`.
pub(crate) fn pack_missing(lookup: &Lookup<'_>, amount: &Amount, of: &Thing, packs: &[Pack]) -> Diagnostic {
    let name = &of.named.name;
    let text = lookup.sources.text(amount.span);
    let named: Vec<String> = named_packs(packs).map(|pack| plural_of(&pack.name)).collect();
    let list = crate::names::kinds::any_word_of(&named);
    let told =
        Diagnostic::new(PACK_MISSING, amount.span, format!("{name} comes in {list}: is this `{text} ea` or so many {list}?"))
            .label("of a thing that has packs the unit is named when it comes in")
            .fix("single pieces", behind(amount.span), " ea");
    offer_packs(told, amount, packs)
}

/// Sizes beside a quantity that is measured already.
pub(crate) fn sizes_beside_a_measure(lookup: &Lookup<'_>, amount: &Amount, sizes: &Sizes) -> Diagnostic {
    let text = lookup.sources.text(amount.span);
    Diagnostic::new(SIZES_DONT_FIT, sizes.span, format!("`{text}` says already how much it is"))
        .label("sizes belong to boards or pieces")
        .also(amount.span, "measured here")
        .fix("boards of these sizes", unit_place(amount), "boards")
}

/// `5 boards walnut` without sizes.
pub(crate) fn sizes_missing(lookup: &Lookup<'_>, amount: &Amount, of: &Thing) -> Diagnostic {
    let text = lookup.sources.text(amount.span);
    let name = &of.named.name;
    let example = match of.unit.dimension() {
        Dimension::Area => "12 x 24 in",
        _ => "4/4 x 6 1/2 x 48 in",
    };
    Diagnostic::new(SIZES_MISSING, amount.span, format!("`{text}` of what size?"))
        .label("boards and pieces need their sizes")
        .note(format!("`{text} {name}, {example}`; or say how much it is: `10 {} {name}`", of.unit))
}

/// `2.5 boards walnut`.
pub(crate) fn pieces_not_whole(lookup: &Lookup<'_>, amount: &Amount) -> Diagnostic {
    let text = lookup.sources.text(amount.span);
    Diagnostic::new(NOT_WHOLE, amount.span, format!("boards and pieces are whole, and `{text}` are not"))
        .note("a part of a board is a piece with its own sizes")
}

/// Units of mass of other trades, each in grams: NIST Handbook 44, appendix C (troy ounce, pennyweight, carat).
pub(crate) fn unit_of_a_trade(words: &str) -> Option<(&'static str, &'static str)> {
    match words.to_lowercase().as_str() {
        "ozt" | "toz" | "ozts" | "tozs" | "troy oz" | "oz troy" | "troy ounce" | "troy ounces" => Some(("ozt", "31.1034768")),
        "dwt" | "dwts" | "pennyweight" | "pennyweights" => Some(("dwt", "1.55517384")),
        "ct" | "cts" | "carat" | "carats" => Some(("ct", "0.2")),
        _ => None,
    }
}

/// A unit that neither the language nor the thing knows.
pub(crate) fn unknown_unit(lookup: &Lookup<'_>, amount: &Amount, unit: Span, of: &Thing, packs: &[Pack]) -> Diagnostic {
    let words = lookup.unit_words(unit);
    let name = &of.named.name;
    if let Some(meant) = canonical_unit(&words) {
        return Diagnostic::new(UNKNOWN_UNIT, unit, format!("the unit `{words}` is written `{meant}`"))
            .fix(format!("the unit is written `{meant}`"), unit, meant.as_str())
            .sure();
    }
    if let Some((one, grams)) = unit_of_a_trade(&words) {
        let message = format!("`{words}` is no unit of the language; what one weighs is said once, below `{name}`");
        return Diagnostic::new(UNKNOWN_UNIT, unit, message)
            .label(format!("{name} is measured in {}", of.unit))
            .also(of.named.span, "defined here")
            .note(format!("as a pack: `1 {one} = {grams} g`; `oz` is another ounce, of 28.349523125 g"));
    }
    let told = Diagnostic::new(UNKNOWN_UNIT, unit, format!("`{words}` is no unit, and `{name}` has no pack of this name"))
        .label(format!("{name} is measured in {}", of.unit))
        .also(of.named.span, "defined here");
    let near = near_units(&words, packs.iter().map(|pack| pack.name.as_str()));
    let several = amount.value != rust_decimal::Decimal::ONE;
    if near.is_empty() {
        let known: Vec<String> = named_packs(packs).map(|pack| format!("`{}`", pack.name)).collect();
        let told = if known.is_empty() { told } else { told.note(format!("`{name}` comes in {}", known.join(", "))) };
        let one = singulars_of(&words).into_iter().next().filter(|_| several).unwrap_or_else(|| words.into_owned());
        let mut told = told.note(match one.as_str() {
            "sheet" if of.unit == Unit::SquareFoot => {
                "a pack is named in its definition: for sheets of 4 by 8 ft `1 sheet = 32 sq ft`".to_owned()
            }
            _ => format!("a pack is named in its definition, with what it holds: `1 {one} = … {}`", of.unit),
        });
        told.fixes.extend(remark_before(lookup, unit, of));
        return told;
    }
    let pack = |name: &str| several && packs.iter().any(|pack| pack.name == name && Unit::parse(name).is_none());
    let near: Vec<String> = near.into_iter().map(|name| if pack(&name) { plural_of(&name) } else { name }).collect();
    offer_near(told, unit, near.iter().map(String::as_str))
}

/// A number that the quantity type can't hold.
pub(crate) fn number(lookup: &Lookup<'_>, amount: &Amount, of: &Thing, error: NumberError) -> Diagnostic {
    let text = lookup.sources.text(amount.span);
    Diagnostic::new(NUMBER_LIMIT, amount.span, format!("`{text}` in {}: {error}", of.unit))
        .note("at most 28 digits are kept, and none is ever dropped in silence")
}

/// Ounces of a liquid, feet of a sheet.
pub(crate) fn wrong_dimension(lookup: &Lookup<'_>, amount: &Amount, unit: Unit, of: &Thing) -> Diagnostic {
    let text = lookup.sources.text(amount.span);
    let (name, own) = (&of.named.name, of.unit);
    let (from, to) = (unit.dimension(), own.dimension());
    let told = Diagnostic::new(
        WRONG_DIMENSION,
        amount.span,
        format!("`{text}` is {}, and `{name}` is measured in {own}, {}", from.with_article(), to.with_article()),
    )
    .also(of.named.span, format!("measured in {own}"));
    let place = unit_place(amount);
    let told = match (unit, to) {
        (Unit::Ounce, Dimension::Volume) => told.fix("`oz` is a weight; an ounce of liquid is `fl oz`", place, "fl oz"),
        (Unit::FluidOunce, Dimension::Mass) => told.fix("`fl oz` is a volume; the weight is `oz`", place, "oz"),
        (Unit::Foot, Dimension::Area) => told.fix("square feet", place, "sq ft"),
        (Unit::Inch, Dimension::Area) => told.fix("square inches", place, "sq in"),
        (Unit::Metre, Dimension::Area) => told.fix("square metres", place, "sq m"),
        (Unit::Foot, Dimension::Volume) if own == Unit::BoardFoot => told.fix("board feet", place, "bf"),
        _ => told,
    };
    note_conversion(told, own, unit)
}

/// How a definition would make one unit the other.
fn note_conversion(told: Diagnostic, own: Unit, other: Unit) -> Diagnostic {
    if !may_convert(own, other) {
        return told;
    }
    let (one, many) = if is_larger(other, own) { (other, own) } else { (own, other) };
    told.note(format!("a line of its definition would make it convertible: `1 {one} = … {many}`"))
}

/// Whether a number that leads from one unit to another is likely to be known. Between a length and a weight, an area or a volume
/// there is none for most of what lies in a shop; a counted thing has a length.
pub(crate) fn may_convert(one: Unit, other: Unit) -> bool {
    let both = [one.dimension(), other.dimension()];
    !both.contains(&Dimension::Length) || both.contains(&Dimension::Count)
}

/// Whether one of a unit is more than one of another, where one is a weight and the other a volume, as water weighs: the larger one is
/// said as so many of the smaller.
fn is_larger(one: Unit, other: Unit) -> bool {
    let is_stuff = |unit: Unit| matches!(unit.dimension(), Dimension::Mass | Dimension::Volume);
    let ((a, b), (c, d)) = (one.factor(), other.factor());
    is_stuff(one) && is_stuff(other) && a.saturating_mul(d) > c.saturating_mul(b)
}

/// `at 5.90 per lb` of what is not sold by weight.
pub(crate) fn price_in_wrong_dimension(per: Span, priced: Unit, of: &Thing) -> Diagnostic {
    let (name, own) = (&of.named.name, of.unit);
    let what = priced.dimension().with_article();
    let message = format!("`{priced}` is {what}, and `{name}` is measured in {own}, {}", own.dimension().with_article());
    let told = Diagnostic::new(WRONG_DIMENSION, per, message).also(of.named.span, format!("measured in {own}"));
    note_conversion(told, own, priced).fix("the price of its own unit", per, own.as_str())
}

/// `at 5.90 per bord`.
pub(crate) fn unknown_price_unit(lookup: &Lookup<'_>, per: Span, of: &Thing, packs: &[Pack]) -> Diagnostic {
    let words = lookup.unit_words(per);
    if let Some(meant) = canonical_unit(&words) {
        return Diagnostic::new(UNKNOWN_UNIT, per, format!("the unit `{words}` is written `{meant}`"))
            .fix(format!("the unit is written `{meant}`"), per, meant.as_str())
            .sure();
    }
    let name = &of.named.name;
    let told = Diagnostic::new(UNKNOWN_UNIT, per, format!("`{words}` is no unit of `{name}` in which this can be priced"))
        .label(format!("{name} is measured in {}", of.unit));
    let near = near_units(&words, packs.iter().map(|pack| pack.name.as_str()));
    offer_near(told, per, near.iter().map(String::as_str))
}

/// `per 1.5 ea`, `allows 3 ml for sale`.
pub(crate) fn no_whole_pieces(sources: &SourceSet, amount: &Amount) -> Diagnostic {
    let text = sources.text(amount.span);
    Diagnostic::new(PER, amount.span, format!("a whole number of pieces belongs here, and `{text}` is none"))
        .note("`18 ea`, `2 dozen`")
}
