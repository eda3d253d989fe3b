//! The wording of what is wrong with names, definitions and units: a file for each place at which it is found.
//!
//! Codes K200 to K249 are of names and definitions, K250 to K299 of units and quantities, K900 to K909 warn.

pub(crate) mod batches;
pub(crate) mod beside_a_name;
pub(crate) mod counting;
pub(crate) mod declaring;
pub(crate) mod defining;
pub(crate) mod looking_up;
pub(crate) mod packing;
pub(crate) mod quantities;
pub(crate) mod recipes;
pub(crate) mod roads;
pub(crate) mod sizes;
mod two_measures;
pub(crate) mod typed_line;
mod work_at_a_price;

pub(crate) use looking_up::left_to_the_reader;
pub(crate) use two_measures::offer_one_measure;

use crate::diagnostics::{Code, Diagnostic};
use crate::sources::Span;

/// A name that nothing defines.
pub(crate) const UNKNOWN_NAME: Code = Code(200);
/// A name of another kind than belongs there.
pub(crate) const WRONG_KIND: Code = Code(201);
/// A name that is defined twice.
pub(crate) const DEFINED_TWICE: Code = Code(202);
/// Two names that differ only in case.
pub(crate) const DIFFERS_IN_CASE: Code = Code(203);
/// A name that is the plural of another.
pub(crate) const PLURAL_OF_ANOTHER: Code = Code(204);
/// A unit as the code of a batch.
pub(crate) const UNIT_AS_CODE: Code = Code(205);
/// An empty title.
pub(crate) const TITLE_MISSING: Code = Code(206);
/// A second shop, or a second `choices` of one year.
pub(crate) const SECOND_BLOCK: Code = Code(207);
/// A pack whose content is said twice.
pub(crate) const PACK_SAID_TWICE: Code = Code(208);
/// A material without `measured in`, or measured in no unit.
pub(crate) const NOT_MEASURED: Code = Code(209);
/// A currency that the standard doesn't know.
pub(crate) const UNKNOWN_CURRENCY: Code = Code(210);
/// An expense without a line of the form.
pub(crate) const FORM_LINE_MISSING: Code = Code(211);
/// No place, or more than one, that is home.
pub(crate) const HOME_UNCLEAR: Code = Code(212);
/// A recipe that needs itself, or an offcut of itself.
pub(crate) const RING: Code = Code(213);
/// A figure of a definition that can't be: over a hundred percent, no years, no area.
pub(crate) const FIGURE_OUT_OF_RANGE: Code = Code(214);
/// Money with more digits than the currency.
pub(crate) const TOO_MANY_DIGITS: Code = Code(215);
/// A change of what is said once and for all, or of what the definition doesn't have.
pub(crate) const CANT_CHANGE: Code = Code(216);
/// A change that only a new year brings.
pub(crate) const ONLY_ON_NEW_YEAR: Code = Code(217);
/// Two changes of one word on one day.
pub(crate) const CHANGED_TWICE: Code = Code(218);
/// A batch that is named like a line, product or channel.
pub(crate) const BATCH_NAME_TAKEN: Code = Code(219);
/// A `built` entry that needs a batch name.
pub(crate) const BATCH_NEEDS_NAME: Code = Code(220);
/// Money without `for`, or a word behind its sum.
pub(crate) const MONEY_WORD_ORDER: Code = Code(221);
/// A pattern without `licence`, or `licence` elsewhere.
pub(crate) const LICENCE: Code = Code(222);
/// A quantity, time or pack without the name that belongs to it.
pub(crate) const OF_WHAT: Code = Code(223);

/// A quantity in another dimension.
pub(crate) const WRONG_DIMENSION: Code = Code(250);
/// A unit that neither the language nor the thing knows.
pub(crate) const UNKNOWN_UNIT: Code = Code(251);
/// A number without its unit.
pub(crate) const UNIT_MISSING: Code = Code(252);
/// A count that isn't whole.
pub(crate) const NOT_WHOLE: Code = Code(253);
/// A thing with packs that comes in without its unit.
pub(crate) const PACK_MISSING: Code = Code(254);
/// A unit and a name in the wrong order.
pub(crate) const SWAPPED: Code = Code(255);
/// Boards or pieces without sizes, or sizes without boards.
pub(crate) const SIZES_MISSING: Code = Code(256);
/// Sizes that don't fit the thing.
pub(crate) const SIZES_DONT_FIT: Code = Code(257);
/// A time where a quantity stands, or the other way round.
pub(crate) const TIME_OR_QUANTITY: Code = Code(258);
/// A quantity that is too large, or has more digits than can be kept.
pub(crate) const NUMBER_LIMIT: Code = Code(260);
/// A pack or conversion that says nothing.
pub(crate) const USELESS_PACK: Code = Code(262);
/// A `per` that is missing or is no count or time.
pub(crate) const PER: Code = Code(263);

/// A book without `shop`, or a shop without `currency`.
pub(crate) const NO_SHOP: Code = Code(900);
/// A need that falls out of a recipe.
pub(crate) const NEED_FALLS_OUT: Code = Code(901);
/// A wearing thing that no step wears.
pub(crate) const WORN_BY_NO_STEP: Code = Code(902);
/// A step that wears what is no wearing thing.
pub(crate) const WEARS_NO_WEAR: Code = Code(903);
/// A batch that only `worked` entries name.
pub(crate) const ONLY_WORKED: Code = Code(905);
/// A name that is nearly another.
pub(crate) const NEARLY_ANOTHER: Code = Code(906);

/// An income without its line of the form.
pub(crate) const INCOME_WITHOUT_LINE: Code = Code(907);

/// Adds a fix for each near name, the nearest first.
pub(crate) fn offer_near<'n>(mut told: Diagnostic, place: Span, near: impl IntoIterator<Item = &'n str>) -> Diagnostic {
    for name in near {
        told = told.fix(format!("did you mean `{name}`?"), place, name);
    }
    told
}

/// The place right behind another, for what is to be inserted there.
pub(crate) const fn behind(span: Span) -> Span {
    Span::new(span.end, span.end)
}

/// The place right before another, for what is to be inserted there.
pub(crate) const fn before(span: Span) -> Span {
    Span::new(span.start, span.start)
}
