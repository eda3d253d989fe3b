//! What is said of an item as a whole: its amount, its unit and its name together.

use crate::diagnostics::{Diagnostic, near_names};
use crate::names::errors::beside_a_name::{people, remark_behind};
use crate::names::errors::offer_one_measure;
use crate::names::errors::roads::road_of;
use crate::names::errors::typed_line::TypedLine;
use crate::names::errors::work_at_a_price::work_on_things;
use crate::names::errors::work_at_a_price::{work_at_a_price, work_on_pieces};
use crate::names::errors::{
    LICENCE, MONEY_WORD_ORDER, OF_WHAT, SIZES_DONT_FIT, SWAPPED, TIME_OR_QUANTITY, UNKNOWN_NAME, UNKNOWN_UNIT, before, looking_up,
};
use crate::names::kinds::{a, any_word_of, kind_of, names_of};
use crate::names::packs::pack_named;
use crate::names::plural::singulars_of;
use crate::names::{Known, Lookup, Thing, ThingKind};
use crate::sources::Span;
use crate::syntax::{Amount, AmountKind, DefinitionWord, Item, SaidWhat, Verb};
use crate::units::{Dimension, Unit, canonical_unit};
use rust_decimal::Decimal;

/// Words of a line that stand before their sum.
const SUM_WORDS: [&str; 15] = [
    "shipping", "freight", "postage", "discount", "total", "cash", "card", "check", "price", "fee", "credit", "over", "short",
    "settled", "net",
];

/// Where money lies, which the book doesn't follow.
const BALANCES: [&str; 8] =
    ["bank", "checking", "savings", "bank-account", "checking-account", "cash-on-hand", "loan", "mortgage"];

/// The name of an item isn't one that may stand there: first the slips that have an answer of their own.
pub(crate) fn unknown_item(lookup: &Lookup<'_>, item: &Item, wanted: &[DefinitionWord], known: Option<Known>) -> Diagnostic {
    let name = lookup.text(item.name);
    match known {
        Some(Known::Expense(_) | Known::Income(_) | Known::Helper(_)) if is_bare(&item.amount) => {
            if let Some(told) = work_at_a_price(lookup, item, known) {
                return told;
            }
            return money_before_for(lookup, item, known);
        }
        Some(Known::Pattern(_)) => return licence_missing(lookup, item),
        Some(known) => {
            let told = looking_up::not_found(lookup, item.name, wanted, Some(known));
            return work_on_pieces(lookup, item, known, told);
        }
        None => {}
    }
    if let AmountKind::Measured { unit } = item.amount.kind {
        let words = lookup.unit_words(unit);
        let both = format!("{words} {name}");
        if let Some(meant) = canonical_unit(&both) {
            let place = unit.to(item.name);
            return Diagnostic::new(UNKNOWN_UNIT, place, format!("the unit `{both}` is written `{meant}`"))
                .fix(format!("the unit is written `{meant}`"), place, meant.as_str())
                .sure();
        }
        if lookup.quiet_find(unit, wanted, Some(item.amount.value)).is_ok() && is_unit_word(lookup, &name) {
            return Diagnostic::new(SWAPPED, unit.to(item.name), format!("the unit stands before the name: `{name} {words}`"))
                .label("a name and then its unit")
                .fix("swap the two", unit.to(item.name), format!("{name} {words}"))
                .sure();
        }
        if let Some(told) = name_of_two_words(lookup, item, wanted, unit) {
            return told;
        }
        if let Some(told) = remark_behind(lookup, item, unit, wanted) {
            return told;
        }
        if let Some(told) = work_on_things(lookup, item, unit) {
            return told;
        }
        if let Some(told) = bill_as_a_thing(lookup, item, unit) {
            return told;
        }
        if let Some(told) = new_name_of_two_words(lookup, item, known.is_none(), unit) {
            return told;
        }
    } else if is_bare(&item.amount) {
        let at_hand = || {
            matches!(name.as_ref(), "cash" | "money" | "petty-cash" | "till")
                && matches!(TypedLine::of(lookup.sources, item.name).verb, Some(Verb::Opened | Verb::Counted))
        };
        if BALANCES.contains(&name.as_ref()) || at_hand() {
            let message =
                format!("money in `{name}` is no goods, and balances of bank, cash and loans are not kept in this book");
            let told = Diagnostic::new(UNKNOWN_NAME, item.amount.span.to(item.name), message);
            let told = told.note("what is bought, sold and paid from now on is all that counts");
            return told.fix("leave it out", item.span, "");
        }
        if SUM_WORDS.contains(&name.as_ref()) {
            return word_first(item.amount.span.to(item.name), &name, &number_text(lookup, &item.amount));
        }
        if item.sizes.is_some() && is_pieces(&name) || is_unit_word(lookup, &name) {
            return unit_without_thing(lookup, item, &name);
        }
    }
    if let Some(told) = price_in_the_name(lookup, item, wanted).or_else(|| people(lookup, item)) {
        return told;
    }
    looking_up::not_found(lookup, item.name, wanted, None)
}

/// `60 booth fee` among the goods of a sale: a bill, and no thing.
fn bill_as_a_thing(lookup: &Lookup<'_>, item: &Item, unit: Span) -> Option<Diagnostic> {
    const BILLS: [&str; 6] = ["fee", "fees", "rent", "rental", "insurance", "parking"];
    if !BILLS.contains(&lookup.text(item.name).as_ref()) || Unit::parse(&lookup.unit_words(unit)).is_some() {
        return None;
    }
    let name = lookup.text(unit.to(item.name)).split_whitespace().collect::<Vec<_>>().join("-");
    let told = Diagnostic::new(UNKNOWN_NAME, unit.to(item.name), format!("`{name}` is no thing that is counted"));
    Some(told.note(format!(
        "if that is money, `{} for {name}`: {}",
        number_text(lookup, &item.amount),
        looking_up::MONEY_IS_PAID
    )))
}

/// `0.5 sheet plywood-20`: a price that is joined to the name.
fn price_in_the_name(lookup: &Lookup<'_>, item: &Item, wanted: &[DefinitionWord]) -> Option<Diagnostic> {
    let text = lookup.sources.text(item.name);
    let (name, price) = text.rsplit_once('-')?;
    let is_price = price.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.') && !price.is_empty();
    let length = u32::try_from(name.len()).ok()?;
    let span = Span::new(item.name.start, item.name.start.saturating_add(length));
    if !is_price || lookup.quiet_find(span, wanted, Some(item.amount.value)).is_err() {
        return None;
    }
    let told = Diagnostic::new(UNKNOWN_NAME, item.name, format!("`{text}` is not defined; `{name}` is"));
    let told = told.note(format!("where it is a size or a kind of its own, define it, as in `product {text} \"…\"`"));
    let is_priced = item.said.iter().any(|said| matches!(said.what, SaidWhat::At(_) | SaidWhat::AtPer(..) | SaidWhat::For(_)));
    // `ring-6` is a size, and `bread-board-35` may be a price.
    if is_priced || price.len() < 2 {
        return Some(told.fix(format!("if it is `{name}`"), item.name, name));
    }
    let told = told.fix(format!("if {price} is the money for the whole line"), item.name, format!("{name} for {price}"));
    Some(told.fix(format!("if {price} is the price of one"), item.name, format!("{name} at {price}")))
}

/// `40 glass jars`: the first word of a name that nothing defines where its unit stands, and that is no unit.
fn new_name_of_two_words(lookup: &Lookup<'_>, item: &Item, is_new: bool, unit: Span) -> Option<Diagnostic> {
    let first = lookup.unit_words(unit);
    let words: Vec<&str> = first.split_whitespace().collect();
    let holds = Unit::parse(&first).is_some() || canonical_unit(&first).is_some() || is_unit_word(lookup, &first);
    if !is_new || holds || words.len() != 1 || !near_names(&lookup.text(item.name), all_goods(lookup)).is_empty() {
        return None;
    }
    let place = unit.to(item.name);
    let last = lookup.text(item.name);
    let one =
        singulars_of(&last).into_iter().next().filter(|_| item.amount.value > Decimal::ONE).unwrap_or_else(|| last.to_string());
    let joined = format!("{first}-{one}");
    if let Some(road) = road_of(lookup.book, &joined, &TypedLine::of(lookup.sources, place), place) {
        return Some(road.told(Diagnostic::new(UNKNOWN_NAME, place, format!("`{joined}` is not defined"))));
    }
    let told = Diagnostic::new(UNKNOWN_NAME, place, format!("a name is one word, and `{joined}` is not defined"));
    let told = told.note(format!("define it in any file, as in `material {joined} \"…\"`, and under it `measured in ea`"));
    let told = told.note(format!(
        "where `{first}` is a pack, its thing says what it holds: `material {one} \"…\"`, and under it `1 {first} = 12 ea`"
    ));
    Some(told.fix("as one name", place, joined))
}

/// The names of all that is counted.
fn all_goods<'b>(lookup: &Lookup<'b>) -> impl Iterator<Item = &'b str> {
    lookup.book.things.iter().map(|thing| thing.named.name.as_str())
}

/// `2 pull carts`: the first word of a name where its unit stands.
fn name_of_two_words(lookup: &Lookup<'_>, item: &Item, wanted: &[DefinitionWord], unit: Span) -> Option<Diagnostic> {
    let place = unit.to(item.name);
    let typed = lookup.text(place);
    let joined = typed.split_whitespace().collect::<Vec<_>>().join("-");
    let known: Vec<&str> = wanted.iter().flat_map(|kind| names_of(lookup.book, *kind)).collect();
    let is_known = |name: &str| known.contains(&name);
    let exact = is_known(&joined) || item.amount.value != Decimal::ONE && singulars_of(&joined).iter().any(|one| is_known(one));
    let (first, last) = (lookup.unit_words(unit), lookup.text(item.name));
    // `1 moonstone GH-1042`: which one of them.
    let is_code = last.bytes().any(|byte| byte.is_ascii_digit())
        && lookup.sources.text(item.name).bytes().any(|byte| byte.is_ascii_uppercase());
    if !exact && is_code && is_known(&first) {
        let code = lookup.sources.text(item.name);
        let told =
            Diagnostic::new(UNKNOWN_NAME, place, format!("`{first}` is known, and `{code}` behind it says nothing by itself"));
        let told = told.note(format!(
            "which one of them is said with its lot, where it was bought and where it goes: `for 45.00, lot {code}`"
        ));
        return Some(told.fix("with the lot", place, format!("{first} lot {code}")));
    }
    // `34 jars honey` of `honey-jar`.
    let turned = format!("{last}-{first}");
    let turned = std::iter::once(turned.clone()).chain(singulars_of(&turned)).find(|name| is_known(name)).filter(|_| !exact);
    let near = match (&turned, exact) {
        (Some(turned), _) => vec![turned.as_str()],
        (None, true) => vec![joined.as_str()],
        (None, false) => near_names(&joined, known.iter().copied()),
    };
    if near.is_empty() || Unit::parse(&lookup.unit_words(unit)).is_some() {
        return None;
    }
    let told = Diagnostic::new(UNKNOWN_NAME, place, format!("`{typed}` is not defined: a name is one word"));
    Some(near.into_iter().fold(told, |told, name| told.fix(format!("write `{name}`"), place, name)))
}

fn is_bare(amount: &Amount) -> bool {
    matches!(amount.kind, AmountKind::Count { .. })
}

fn is_pieces(word: &str) -> bool {
    matches!(word, "board" | "boards" | "piece" | "pieces")
}

/// Whether a word is a unit, a count of pieces, or a pack of anything.
fn is_unit_word(lookup: &Lookup<'_>, word: &str) -> bool {
    let known = |word: &str| Unit::parse(word).is_some() || is_pieces(word) || !holders(lookup, word).is_empty();
    known(word) || singulars_of(word).iter().any(|one| known(one))
}

/// The things that come in a pack of this name.
fn holders<'b>(lookup: &Lookup<'b>, pack: &str) -> Vec<&'b str> {
    let has = |packs: &[crate::names::Pack]| pack_named(packs, pack).is_some();
    let things = lookup.book.things.iter();
    let holding = things.filter(|thing| has(thing.packs.first()) || thing.packs.changes().iter().any(|(_, packs)| has(packs)));
    holding.map(|thing| thing.named.name.as_str()).collect()
}

/// The number of an amount, without its unit.
fn number_text(lookup: &Lookup<'_>, amount: &Amount) -> String {
    let span = match amount.kind {
        AmountKind::Measured { unit } => Span::new(amount.span.start, unit.start),
        AmountKind::Count { .. } | AmountKind::Time => amount.span,
    };
    lookup.sources.text(span).trim().to_owned()
}

/// `1 can`, `6 piece`, `5 boards, 4/4 x 6 x 48 in`: a unit and no thing.
fn unit_without_thing(lookup: &Lookup<'_>, item: &Item, word: &str) -> Diagnostic {
    let amount = number_text(lookup, &item.amount);
    let told = Diagnostic::new(OF_WHAT, item.amount.span.to(item.name), format!("`{amount} {word}` of what?"))
        .label(format!("`{word}` is a unit; the thing's name follows it"));
    let mut things = holders(lookup, word);
    for one in singulars_of(word) {
        things.extend(holders(lookup, &one));
    }
    things.sort_unstable();
    things.dedup();
    let at = Span::new(item.name.end, item.name.end);
    let behind = told.fixes.len();
    let told = match item.sizes {
        None if !is_pieces(word) => offer_one_measure(lookup.sources, told, item.amount.span.to(item.name)),
        _ => told,
    };
    if told.fixes.len() > behind {
        return told;
    }
    let told = things.iter().take(3).fold(told, |told, thing| told.fix(format!("of `{thing}`"), at, format!(" {thing}")));
    if things.is_empty() && is_pieces(word) { of_which_wood(lookup, item, told, at) } else { told }
}

/// `5 boards, 4/4 x 6 in x 8 ft`: offers what is measured as such pieces are, where that is little, else says how it is written.
fn of_which_wood(lookup: &Lookup<'_>, item: &Item, told: Diagnostic, at: Span) -> Diagnostic {
    let wanted = match item.sizes.as_ref().map(|sizes| sizes.sides.len()) {
        Some(2) => Dimension::Area,
        _ => Dimension::Volume,
    };
    let wood = |thing: &&Thing| thing.kind == ThingKind::Material && thing.unit.dimension() == wanted;
    // Oil has a volume too and is no board.
    let solid = |thing: &&Thing| wanted == Dimension::Area || thing.unit == Unit::BoardFoot;
    let names: Vec<&str> = lookup.book.things.iter().filter(wood).filter(solid).map(|thing| thing.named.name.as_str()).collect();
    match names.as_slice() {
        [] => told.note("`5 boards walnut, 4/4 x 6 x 48 in`"),
        few if few.len() <= 3 => few.iter().fold(told, |told, name| told.fix(format!("of `{name}`"), at, format!(" {name}"))),
        many => {
            let listed: Vec<String> = many.iter().map(|name| format!("`{name}`")).collect();
            told.note(format!("the name follows: {}", any_word_of(&listed)))
        }
    }
}

/// `used 2h`, `used 45m sanding`: a time where goods belong.
pub(crate) fn time_elsewhere(lookup: &Lookup<'_>, item: &Item) -> Diagnostic {
    let text = lookup.sources.text(item.amount.span);
    Diagnostic::new(TIME_OR_QUANTITY, item.amount.span, format!("`{text}` is a time, and goods belong here"))
        .note("time is said in a batch by `took 1h 48m cutting`, else in `worked`")
}

/// A time without its step: the steps are listed.
pub(crate) fn step_missing(lookup: &Lookup<'_>, item: &Item) -> Diagnostic {
    let text = lookup.sources.text(item.amount.span);
    let steps: Vec<String> = names_of(lookup.book, DefinitionWord::Step).into_iter().map(|step| format!("`{step}`")).collect();
    let told = Diagnostic::new(OF_WHAT, item.amount.span, format!("`{text}` of what?")).label("a time without its step");
    if steps.is_empty() {
        return told.note("a step is defined in any file: `step cutting \"Cutting at the scroll saw\"`");
    }
    told.note(format!("the step's name follows the time: {}", any_word_of(&steps)))
}

/// `2 hours` as it is written, `2h`; `None` where the amount is no time in other words.
pub(crate) fn time_in_words(lookup: &Lookup<'_>, amount: &Amount) -> Option<String> {
    let AmountKind::Measured { unit } = amount.kind else { return None };
    let number = number_text(lookup, amount);
    match canonical_unit(&lookup.unit_words(unit))? {
        Unit::Hour => Some(format!("{number}h")),
        Unit::Minute => Some(format!("{number} min")),
        _ => None,
    }
}

/// A quantity where a time belongs.
pub(crate) fn not_a_time(lookup: &Lookup<'_>, item: &Item) -> Diagnostic {
    let text = lookup.sources.text(item.amount.span);
    if let AmountKind::Measured { unit } = item.amount.kind
        && lookup.sources.text(unit) == "m"
    {
        let number = number_text(lookup, &item.amount);
        let message = format!("`m` with a blank before it is metres; a time is written `{number}m`");
        return Diagnostic::new(TIME_OR_QUANTITY, item.amount.span, message).fix(
            "join it",
            item.amount.span,
            format!("{number}m"),
        );
    }
    if let Some(time) = time_in_words(lookup, &item.amount) {
        let told = Diagnostic::new(TIME_OR_QUANTITY, item.amount.span, format!("a time is written `{time}`"));
        return told.fix("write it so", item.amount.span, time);
    }
    // `takes 2 hours`: the unit stands where the step's name does.
    let short = match canonical_unit(&lookup.text(item.name)) {
        Some(Unit::Hour) => Some("h"),
        Some(Unit::Minute) => Some("m"),
        _ => None,
    };
    if let Some(short) = short.filter(|_| matches!(item.amount.kind, AmountKind::Count { .. })) {
        let message = format!("a time is written `{text}{short}`, and its step follows: `{text}{short} cutting`");
        return Diagnostic::new(TIME_OR_QUANTITY, item.amount.span.to(item.name), message)
            .note("a step is defined in any file: `step cutting \"Cutting\"`")
            .fix("with the step's name", item.amount.span.to(item.name), format!("{text}{short} NAME"));
    }
    let told = Diagnostic::new(TIME_OR_QUANTITY, item.amount.span, format!("a time belongs here, and `{text}` is none"))
        .note("a time is written `1h 48m`, `48 min` or `1.5h`");
    match item.amount.kind {
        AmountKind::Measured { .. } => told,
        AmountKind::Count { whole: true } => told.fix("if these are minutes", item.amount.span, format!("{text}m")),
        AmountKind::Count { .. } | AmountKind::Time => told,
    }
}

/// `18.40 shop-supplies`, `12 sam`.
fn money_before_for(lookup: &Lookup<'_>, item: &Item, known: Option<Known>) -> Diagnostic {
    let name = lookup.text(item.name);
    let kind = known.and_then(|known| kind_of(lookup.book, known)).map_or_else(String::new, a);
    Diagnostic::new(MONEY_WORD_ORDER, item.amount.span.to(item.name), "a sum of money stands before `for`")
        .label(format!("`{name}` is {kind}, which isn't counted"))
        .fix("what the money is for", before(item.name), "for ")
}

/// `9.50 shipping`: the word stands before its sum.
fn word_first(place: Span, word: &str, number: &str) -> Diagnostic {
    Diagnostic::new(MONEY_WORD_ORDER, place, format!("the word `{word}` comes first")).fix(
        "the word first",
        place,
        format!("{word} {number}"),
    )
}

/// `1 cart-pattern for 12.00`.
pub(crate) fn licence_missing(lookup: &Lookup<'_>, item: &Item) -> Diagnostic {
    let name = lookup.text(item.name);
    let count = number_text(lookup, &item.amount);
    let place = item.amount.span.to(item.name);
    Diagnostic::new(LICENCE, place, format!("the pattern `{name}` is bought by licence")).fix(
        "name the licence",
        place,
        format!("{count} licence {name}"),
    )
}

/// Sizes of a tool or licence.
pub(crate) fn sizes_of_no_wood(item: &Item, name: &str) -> Diagnostic {
    let place = item.sizes.as_ref().map_or(item.span, |sizes| sizes.span);
    Diagnostic::new(SIZES_DONT_FIT, place, format!("`{name}` is counted, it has no sizes"))
}

/// The near names of a unit.
pub(crate) fn near_units<'p>(words: &str, packs: impl Iterator<Item = &'p str>) -> Vec<String> {
    // A pot is no pint: what holds things is measured by nobody else's units.
    let vessel = ["pot", "pots", "tub", "can", "cup", "cups", "bin", "vat", "pan", "tin"].contains(&words);
    let units = Unit::ALL.iter().map(|unit| unit.as_str()).filter(|_| !vessel);
    near_names(words, packs.chain(units).chain(["board", "piece"])).into_iter().map(str::to_owned).collect()
}
