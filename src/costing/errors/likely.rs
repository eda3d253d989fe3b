//! What is told of what is likely a mistake and yet none: what was found, what was expected, and that `expected` answers it.

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors::{money, with_unit};
use crate::costing::likely_slips::{OldGoods, round2};
use crate::diagnostics::{Code, Diagnostic};
use crate::names::{LabelId, PlaceId, ThingId};
use crate::sources::Span;
use crate::units::Fixed6;

const BELOW_COST: Code = Code(966);
const OLD_GOODS: Code = Code(968);
const PLACE_NOT_SETTLED: Code = Code(969);
const COUNTED_MORE: Code = Code(971);
const COUNTED_LESS: Code = Code(974);
const WHICH_DELIVERY: Code = Code(975);
const NOTHING_ELSE: Code = Code(979);

/// How many things are named of an entry.
pub(crate) const NAMED: usize = 3;

pub(crate) fn below_cost(
    engine: &Engine<'_>,
    (thing, quantity): (ThingId, Decimal),
    net: Fixed6,
    paid: Fixed6,
    line: Span,
) -> Diagnostic {
    let digits = engine.book.shop.currency.digits();
    let (net, paid) = (money(engine, net.round_to(digits)), money(engine, paid.round_to(digits)));
    let (pieces, one) = (with_unit(engine, thing, quantity), engine.thing_name(thing));
    let message = format!("{pieces} of `{one}` fetched {net}, and what is in them was bought for {paid}");
    let told =
        Diagnostic::new(BELOW_COST, line, message).note("the price after discount and sales tax, before fees, share and postage");
    meant(told)
}

/// `nothing else` in a count that lists some things: what it takes off of the others, each with its paid cost, the dearest first.
pub(crate) fn nothing_else_takes(engine: &Engine<'_>, missing: &[(ThingId, Decimal, Fixed6)], paid: Fixed6) -> Diagnostic {
    let say = |(thing, quantity, _): &(ThingId, Decimal, Fixed6)| {
        format!("{} of `{}`", with_unit(engine, *thing, round2(*quantity).normalize()), engine.thing_name(*thing))
    };
    let mut named: Vec<String> = missing.iter().take(NAMED).map(say).collect();
    match missing.len().saturating_sub(NAMED) {
        0 => {}
        1 => named.push("one thing more".to_owned()),
        more => named.push(format!("{more} things more")),
    }
    let sum = money(engine, paid.round_to(engine.book.shop.currency.digits()));
    let message =
        format!("`nothing else` takes off the books what this count doesn't list, {sum} of paid cost: {}", named.join(", "));
    meant(
        Diagnostic::new(NOTHING_ELSE, engine.now.head, message)
            .note("it says that of all other things none is there; where they were only not counted, leave the line out"),
    )
}

pub(crate) fn old_goods(engine: &Engine<'_>, old: &OldGoods) -> Diagnostic {
    let say =
        |(thing, left): (&ThingId, &Decimal)| format!("{} of `{}`", with_unit(engine, *thing, *left), engine.thing_name(*thing));
    let mut named: Vec<String> = old.left.iter().take(NAMED).map(say).collect();
    match old.left.len().saturating_sub(NAMED) {
        0 => {}
        1 => named.push("one thing more".to_owned()),
        more => named.push(format!("{more} things more")),
    }
    let list = match named.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    };
    let head =
        usize::try_from(old.event).ok().and_then(|at| engine.log.events.get(at)).map_or(engine.now.head, |event| event.head);
    let message = format!("{list} of {} lie there still on {}, more than two years later", old.date, engine.last_day());
    meant(
        Diagnostic::new(OLD_GOODS, head, message)
            .note("is it there? a count says so; what is of no use any more is `scrapped` or `gave`"),
    )
}

pub(crate) fn place_not_settled(engine: &Engine<'_>, place: PlaceId, last: NaiveDate, entry: Span, things: usize) -> Diagnostic {
    let name = &engine.book.place(place).named.name;
    let goods = if things == 1 { "goods of one kind".to_owned() } else { format!("goods of {things} kinds") };
    let message = format!("{goods} lie at `{name}`, where nothing was sold, sent, brought back or counted since {last}");
    meant(
        Diagnostic::new(PLACE_NOT_SETTLED, entry, message)
            .note(format!("more than half a year before {}: ask what was sold and is left there", engine.last_day())),
    )
}

/// A count that finds more than the book has.
pub(crate) fn counted_more(engine: &Engine<'_>, thing: ThingId, (there, booked): (Decimal, Decimal), line: Span) -> Diagnostic {
    let (there, name) = (with_unit(engine, thing, there), engine.thing_name(thing));
    let message = format!("{there} of `{name}` are counted, and by the book {} are there", with_unit(engine, thing, booked));
    meant(Diagnostic::new(COUNTED_MORE, line, message).note(
        "what is there more comes in as found, at the last cost: was something bought, built or brought back that no entry says?",
    ))
}

/// A count that finds less than a fifth of what the book has.
pub(crate) fn counted_less(engine: &Engine<'_>, thing: ThingId, (there, booked): (Decimal, Decimal), line: Span) -> Diagnostic {
    let (there, name) = (with_unit(engine, thing, there), engine.thing_name(thing));
    let message = format!("{there} of `{name}` are counted, and by the book {} are there", with_unit(engine, thing, booked));
    meant(Diagnostic::new(COUNTED_LESS, line, message).note(
        "what is missing is a loss: did a point slip, or was something used, sold, thrown away or taken home that no entry says?",
    ))
}

/// A credit for a thing that its supplier delivered more than once.
pub(crate) fn which_delivery(
    engine: &Engine<'_>,
    thing: ThingId,
    supplier: LabelId,
    [(last, last_head), (before, before_head)]: [(NaiveDate, Span); 2],
    line: Span,
) -> Diagnostic {
    let (name, supplier) = (engine.thing_name(thing), engine.book.label(supplier));
    let message = format!("`{supplier}` delivered `{name}` on {before} and on {last}; this lowers what came on {last}");
    let told = Diagnostic::new(WHICH_DELIVERY, line, message).also(last_head, "credited").also(before_head, "not credited");
    meant(told.note("where it is for the other, say its number in the head, `receipt \"…\"`, as the bill has it"))
}

/// How it is answered where it is right.
pub(crate) fn meant(told: Diagnostic) -> Diagnostic {
    told.note("if it is right, a line `expected \"why\"` in the entry says so")
}
