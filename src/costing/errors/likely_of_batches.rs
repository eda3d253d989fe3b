//! What is told of a batch that is likely not as it was meant, and how `expected` answers it.

use rust_decimal::Decimal;

use crate::costing::engine::Engine;
use crate::costing::errors::likely::{NAMED, meant};
use crate::costing::errors::with_unit;
use crate::costing::likely_of_batches::FarFromRecipe;
use crate::costing::likely_slips::round2;
use crate::diagnostics::{Code, Diagnostic};
use crate::events::{Output, StockLine};
use crate::names::{BatchId, ThingId};
use crate::sources::Span;

const FAR_FROM_RECIPE: Code = Code(967);
const USED_TWICE: Code = Code(972);
const LOST_NOT_MADE: Code = Code(978);
const OFFCUT_OF_UNKNOWN_SOURCE: Code = Code(970);
const GAVE_MORE: Code = Code(980);

pub(crate) fn far_from_recipe(engine: &Engine<'_>, batch: BatchId, far: &[FarFromRecipe]) -> Diagnostic {
    let name = &engine.book.batch(batch).name;
    let say = |one: &FarFromRecipe| format!("{} {}, and the recipe says {}", one.took, one.what, one.recipe);
    let mut lines = far.iter().map(say);
    let message = format!("batch `{name}` took {}", lines.next().unwrap_or_default());
    let told = Diagnostic::new(FAR_FROM_RECIPE, engine.now.head, message);
    let told = lines.fold(told, |told, line| told.note(format!("it took {line}")));
    meant(
        told.note("more than three times its recipe for what it made and lost, less than a third, or fewer parts than its good pieces hold: a point that slipped, a line that lacks, or a recipe to be mended?"),
    )
}

/// Pieces that a batch says were lost, and that it doesn't make.
pub(crate) fn lost_not_made(engine: &Engine<'_>, batch: BatchId, lost: Output, made: Option<Output>) -> Diagnostic {
    let (name, lost) = (&engine.book.batch(batch).name, engine.output_name(lost));
    let makes = made.map_or(String::new(), |made| format!(", which makes `{}`", engine.output_name(made)));
    let message =
        format!("`{lost}` is said to be lost in batch `{name}`{makes}: it is taken from nowhere, and costs the batch nothing");
    let line = engine.batches.account(batch).last_lost.unwrap_or(engine.now.head);
    meant(Diagnostic::new(LOST_NOT_MADE, line, message).note(
        "`lost` is of pieces that the batch would have made; material that was spoiled in it is part of what it `used`, and what shrinks or falls off in the making needs no line",
    ))
}

/// A batch that used no goods at all, and what its recipe needs for what it made and lost.
pub(crate) fn used_nothing(engine: &Engine<'_>, batch: BatchId, needs: &[(ThingId, Decimal)]) -> Diagnostic {
    let name = &engine.book.batch(batch).name;
    let say = |(thing, quantity): &(ThingId, Decimal)| {
        format!("{} of `{}`", with_unit(engine, *thing, round2(*quantity).normalize()), engine.thing_name(*thing))
    };
    let mut listed: Vec<String> = needs.iter().take(NAMED).map(say).collect();
    if needs.len() > NAMED {
        listed.push("more".to_owned());
    }
    let listed = listed.join(", ");
    let message = format!("batch `{name}` used nothing, and its recipe needs {listed}");
    let told = Diagnostic::new(FAR_FROM_RECIPE, engine.now.head, message);
    meant(told.note("a line `used as planned` takes what the recipe needs; until it is written, nothing of that leaves the shelf and none of it is in the cost of what was made"))
}

/// What is used as planned and by a line too.
pub(crate) fn used_twice(engine: &Engine<'_>, line: &StockLine, recipe: Decimal) -> Diagnostic {
    let (name, here) = (engine.thing_name(line.thing), with_unit(engine, line.thing, line.quantity));
    let by_plan = with_unit(engine, line.thing, round2(recipe).normalize());
    let message = format!("`as planned` takes {by_plan} of `{name}`, and this line another {here}");
    meant(Diagnostic::new(USED_TWICE, line.span, message).note(
        "lines beside `as planned` add to it; where less or more was used than planned, write all that was used, without `as planned`",
    ))
}

/// Parts that each good piece holds, and of which the batch used none.
pub(crate) fn parts_left_out(engine: &Engine<'_>, batch: BatchId, left_out: &[(ThingId, Decimal)]) -> Diagnostic {
    let name = &engine.book.batch(batch).name;
    let say = |(thing, quantity): &(ThingId, Decimal)| {
        format!("{} of `{}`", with_unit(engine, *thing, round2(*quantity).normalize()), engine.thing_name(*thing))
    };
    let listed: Vec<String> = left_out.iter().map(say).collect();
    let message = format!("batch `{name}` used none of what its recipe needs besides: {}", listed.join(", "));
    let told = Diagnostic::new(FAR_FROM_RECIPE, engine.now.head, message);
    meant(told.note("until it is written, nothing of that leaves the shelf and none of it is in the cost of what was made; told once for each part"))
}

/// Material that a batch made or kept beside what went in of its kind, both in the unit of one of them.
pub(crate) fn gave_more(
    engine: &Engine<'_>,
    batch: BatchId,
    thing: ThingId,
    (came_out, went_in): (Decimal, Decimal),
) -> Diagnostic {
    let name = &engine.book.batch(batch).name;
    let unit = engine.book.thing(thing).unit.as_str();
    let text = |quantity: Decimal| format!("{} {unit}", round2(quantity).normalize());
    let message = format!("batch `{name}` gave {}, and {} went in", text(came_out), text(went_in));
    meant(Diagnostic::new(GAVE_MORE, engine.now.head, message).note(
        "more can't come out than goes in, save water and air: a point that slipped, a line of what was used that lacks, or another unit?",
    ))
}

pub(crate) fn offcut_of_unknown_source(
    engine: &Engine<'_>,
    offcut: ThingId,
    (batch, toy): (BatchId, ThingId),
    line: Span,
) -> Diagnostic {
    let (offcut, toy) = (engine.thing_name(offcut), engine.thing_name(toy));
    let batch = &engine.book.batch(batch).name;
    let message = format!("this `{offcut}` came from no purchase and no batch, and `{toy}` is for children");
    meant(Diagnostic::new(OFFCUT_OF_UNKNOWN_SOURCE, line, message).note(format!(
        "nobody can say what wood it is or what was on it; `kerfbook trace {batch}` lists what the batch's record lacks"
    )))
}
